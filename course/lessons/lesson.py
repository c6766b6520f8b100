"""A lesson's questions made ready: every number worked out, every name checked, every text able to be printed."""

import re
from dataclasses import dataclass

from course.errors import BadDataFile, WorkbookError, check_choice
from course.evidence.direction_table import READINGS, directions_between
from course.lessons.engine_numbers import Numbers, reading_of
from course.lessons.quantities import KINDS
from course.tables import lesson_ids, read_lesson, read_misconceptions, read_tolerances
from course.units import PA_PER_KPA, atmospheric_pressure_pa

SECTIONS = ("recall", "predict", "worked", "faded", "check", "placement")
_PLACE = re.compile(r"\{(\w*)\}")


@dataclass(frozen=True)
class Question:
    """A question ready to be asked and marked."""

    id: str  # lesson/question
    table: object  # as read from the lesson's file
    numbers: dict  # name -> Number: all that its texts and answers need
    runs: dict  # name -> BenchRun: all that it shows
    truth: dict  # reading -> up, same or down, for a row of directions
    air_pressure_kpa: float  # kPa absolute, where the number asked for is read

    def fill(self, text, units):
        """A text with its numbers in the learner's units."""
        return _PLACE.sub(lambda found: self.numbers[found[1]].shown(units), text)


@dataclass(frozen=True)
class Lesson:
    """A lesson's questions in the order of its file; one that cannot be used is the BadDataFile that says why."""

    id: str
    title: str
    questions: dict  # id -> Question or BadDataFile
    sections: dict  # id -> section; another word where it is not readable
    recall: tuple  # of Question or BadDataFile, from earlier lessons

    def section(self, name):
        """The questions of one section; what cannot be placed shows its complaint in every one."""
        check_choice("section", name, SECTIONS)
        own = [
            question
            for key, question in self.questions.items()
            if self.sections[key] == name or self.sections[key] not in SECTIONS
        ]
        return [*(self.recall if name == "recall" else ()), *own]


def _texts(content, where=""):
    """Every text of a question with its place in the file."""
    if isinstance(content, str):
        yield where, content
    elif isinstance(content, dict):
        for key, value in content.items():
            yield from _texts(value, f"{where}.{key}")
    elif isinstance(content, list):
        for number, value in enumerate(content):
            yield from _texts(value, f"{where}.{number}")


def _found(content, wanted):
    """Every value that stands under one of these keys, at any depth, with its place."""
    for where, text in _texts(content):
        if where.rsplit(".", 1)[-1] in wanted:
            yield where, text


def _called_for(ask, where, name):
    try:
        return ask(name)
    except WorkbookError as problem:
        raise BadDataFile(f"{where.strip('.')}: {problem}") from None


def _prepared(numbers, lesson_id, question_id, table):
    content = table.model_dump(exclude_none=True)
    known = {}
    for where, text in _texts(content):
        for name in _PLACE.findall(text):
            known[name] = _called_for(numbers.number, where, name)
    for where, name in _found(content, {"answer"}):
        known[name] = _called_for(numbers.number, where, name)
    runs = {
        name: _called_for(numbers.run, where, name)
        for where, name in _found(content, {"run", "beside", "healthy", "changed"})
    }
    for where, name in _found(content, {"misconception"}):
        _called_for(lambda name: check_choice("misconception", name, read_misconceptions()), where, name)
    air = atmospheric_pressure_pa(numbers.altitude_m(getattr(table, "answer", None))) / PA_PER_KPA
    question = Question(f"{lesson_id}/{question_id}", table, known, runs, _truth(table, runs), air)
    for check in (_shown_readings, CHECKS.get(table.kind)):
        if check:
            check(question)
    return question


def _truth(table, runs):
    if table.kind != "directions":
        return {}
    for reading in table.why:
        check_choice("why: reading", reading, READINGS)
    directions = directions_between(runs[table.healthy], runs[table.changed])
    return {reading: directions[reading] for reading in table.why}


def _shown_readings(question):
    for part in [*getattr(question.table, "options", ()), *getattr(question.table, "slips", ())]:
        if part.shows:
            for reading in part.shows.readings:
                _called_for(lambda name, run=question.runs[part.shows.run]: reading_of(run, name), "shows", reading)


def tolerance_of(question):
    """How far an answer to a number question may lie from the right one.

    Parameters
    ----------
    question : Question
        A number question.

    Returns
    -------
    float
        In the base unit of the number's kind [base unit].

    Raises
    ------
    UnknownChoice
        When data/tolerances.toml has no tolerance of that name.

    Notes
    -----
    The larger of a share of the right answer and the least that the instruments can show.

    Examples
    --------
    >>> round(tolerance_of(find_question("superheat_by_hand")), 1)
    2.0
    """
    tolerances = read_tolerances()
    allowed = tolerances[check_choice("tolerance", question.table.tolerance, tolerances)]
    right = question.numbers[question.table.answer]
    least = {"pressure": allowed.least_kpa, "temperature": allowed.least_k}
    family = next((name for name in least if name in right.kind), None)
    smallest = float(least[family].value) if family and least[family] else 0.0
    return max(abs(right.value) * float(allowed.of_the_answer_share.value), smallest)


def _check_numeric(question):
    right, allowed = question.numbers[question.table.answer], tolerance_of(question)
    if allowed == 0.0:
        raise BadDataFile(f"tolerance: {question.table.tolerance} leaves no room for a {KINDS[right.kind].name}")
    for slip in question.table.slips:
        wrong = question.numbers[slip.answer]
        if wrong.kind == right.kind and abs(wrong.value - right.value) <= allowed:
            raise BadDataFile(f"slips: {slip.answer} lies within the tolerance of the right answer")


def _check_point(question):
    run = question.runs[question.table.run]
    for place in question.table.points:
        check_choice("point", place.point, [point.name for point in run.cycle_points])


def _check_match(question):
    for side in ("left", "right"):
        words = [getattr(pair, side) for pair in question.table.pairs]
        words += [spare.text for spare in question.table.spare if side == "right"]
        if len(set(words)) < len(words):
            raise BadDataFile(f"pairs: the same words stand twice on the {side}")


def _check_directions(question):
    still = [reading for reading, direction in question.truth.items() if direction == "none"]
    if still:
        raise BadDataFile(f"why: a compressor at rest has no {', '.join(still)}; leave that reading out")


CHECKS = {
    "numeric": _check_numeric,
    "point": _check_point,
    "match": _check_match,
    "directions": _check_directions,
}


def _ready(file, numbers, question_id, table):
    if isinstance(table, BadDataFile):
        return table
    try:
        return _prepared(numbers, file.id, question_id, table)
    except WorkbookError as problem:
        return BadDataFile(f"{file.id}.toml: question.{question_id}: {problem}")


def _asked_again(file, name):
    lesson_id, _, question_id = name.partition("/")
    try:
        earlier = read_lesson(lesson_id)
        check_choice(f"question of {lesson_id}", question_id, earlier.questions)
        return _ready(earlier, Numbers(earlier), question_id, earlier.questions[question_id])
    except WorkbookError as problem:
        return BadDataFile(f"{file.id}.toml: recall: {name}: {problem}")


def open_lesson(lesson_id, only=None):
    """The questions of a lesson, ready to be asked.

    Parameters
    ----------
    lesson_id : str
        The notebook's name without its ending.
    only : str or None
        Make ready this section alone, which is quicker.

    Returns
    -------
    Lesson
        Each question ready, or the complaint that names file, question and field.

    Raises
    ------
    UnknownChoice
        When there is no such lesson.
    BadDataFile
        When the file as a whole cannot be read.

    Notes
    -----
    Every number is worked out here, so that marking takes no time.

    Examples
    --------
    >>> [question.id for question in open_lesson("00_start_here").section("predict")]
    ['00_start_here/hot_day_low_charge']
    """
    return prepare_lesson(read_lesson(lesson_id), only)


def prepare_lesson(file, only=None):
    """The questions of a lesson that has been read, ready to be asked.

    Parameters
    ----------
    file : LessonFile
        As course.tables reads it from a file or a text.
    only : str or None
        Make ready this section alone, which is quicker.

    Returns
    -------
    Lesson
        Each question ready, or the complaint that names file, question and field.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    See open_lesson.

    Examples
    --------
    >>> len(prepare_lesson(read_lesson("00_start_here"), "predict").questions)
    1
    """
    numbers = Numbers(file)
    wanted = {
        key: table
        for key, table in file.questions.items()
        if only is None or file.sections[key] == only or file.sections[key] not in SECTIONS
    }
    questions = {key: _ready(file, numbers, key, table) for key, table in wanted.items()}
    recall = tuple(_asked_again(file, name) for name in file.recall) if only in (None, "recall") else ()
    return Lesson(file.id, file.title, questions, file.sections, recall)


def find_question(question_id):
    """One question by its id alone, whichever lesson it stands in.

    Parameters
    ----------
    question_id : str
        The question's id, alone or as lesson/question.

    Returns
    -------
    Question
        Ready to be asked.

    Raises
    ------
    UnknownChoice
        When no lesson has it.
    BadDataFile
        When it cannot be used.

    Notes
    -----
    Ids are unique over all lessons; tests hold them to it. A lesson's file that cannot be read is passed over here.

    Examples
    --------
    >>> find_question("hot_day_low_charge").table.kind
    'predict'
    """
    known = []
    for lesson_id in lesson_ids():
        try:
            file = read_lesson(lesson_id)
        except BadDataFile:
            continue
        for key, table in file.questions.items():
            if question_id in (key, f"{lesson_id}/{key}"):
                ready = _ready(file, Numbers(file), key, table)
                if isinstance(ready, BadDataFile):
                    raise ready
                return ready
            known.append(key)
    return check_choice("question", question_id, known)
