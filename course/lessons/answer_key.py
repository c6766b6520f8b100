"""A question file looked through: every question with its right answer as the engine has it, and every fault in a sentence."""

from collections import Counter
from dataclasses import dataclass

from course.errors import WorkbookError
from course.lessons.engine_numbers import Numbers
from course.lessons.lesson import Question, prepare_lesson
from course.lessons.on_paper import key_of
from course.tables import read_lesson_text

CHECK_ITEMS = 5  # of a lesson's last section, one of them a number


@dataclass(frozen=True)
class Looked:
    """One question of a file as it was found."""

    id: str
    section: str
    kind: str  # empty where the question cannot be used
    ask: str
    answer: tuple  # of str: the right answer, a line for each thing in it
    fault: str  # the sentence that says what is wrong; empty where nothing is


@dataclass(frozen=True)
class FileLook:
    """A whole file as it was found."""

    title: str  # empty where the file cannot be read
    questions: tuple  # of Looked
    faults: tuple  # of str: what is wrong with the file as a whole
    advice: tuple  # of str: what would make it better
    usable: tuple  # of Question: ready to be asked


def right_answer(question, units):
    """The right answer to a question in words, as the engine works it out.

    Parameters
    ----------
    question : Question
        As open_lesson makes it ready.
    units : DisplayUnits
        The reader's units.

    Returns
    -------
    tuple of str
        A line for each thing in the answer.

    Raises
    ------
    UnknownChoice
        When data/tolerances.toml has no tolerance of the name a number question gives.

    Notes
    -----
    As in the printed key, without the explanations. Numbers and directions are the engine's; nothing is run here.

    Examples
    --------
    >>> from course.lessons.lesson import find_question
    >>> from course.units import display_units
    >>> right_answer(find_question("superheat_by_hand"), display_units("bar_c"))
    ('20 K', 'Within 2 K counts as right; so does the same in another unit.')
    """
    key = key_of(question, units)
    marked = question.table.kind in ("choice", "predict", "point", "order")
    lines = [f"{part.mark}. {part.label}" if marked else part.label for part in key.parts if part.right]
    return (*lines, key.note) if key.note else tuple(lines)


def wrong_answers(table):
    """Every answer of a question that is not right and carries an explanation of its own.

    Parameters
    ----------
    table : object
        A question as course.tables reads it.

    Returns
    -------
    list
        Options, slips and points, as they stand in the file.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    What is too high or too low for a number has its words in the question itself.

    Examples
    --------
    >>> from course.lessons.lesson import find_question
    >>> len(wrong_answers(find_question("hot_day_low_charge").table))
    2
    """
    parts = [*getattr(table, "options", ()), *getattr(table, "slips", ()), *getattr(table, "points", ())]
    return [part for part in parts if not getattr(part, "right", False)]


def _looked(file, name, question, units):
    section = file.sections.get(name) or "no section"
    if not isinstance(question, Question):
        return Looked(name, section, "", "", (), str(question))
    table = question.table
    return Looked(name, section, table.kind, question.fill(table.ask, units), right_answer(question, units), "")


def _unusable(file):
    """Runs and numbers that cannot be worked out, whether a question asks for them or not; what rests on them is left out."""
    numbers, found = Numbers(file), []
    for table, work in (("run", numbers.run), ("number", numbers.number)):
        for name in getattr(file, f"{table}s"):
            try:
                work(name)
            except WorkbookError as problem:
                found.append(f"{table}.{name}: {str(problem).removeprefix(f'{table}.{name}: ')}")
    return [one for one in found if not any(one != other and one.endswith(other) for other in found)]


def _repeated(file, tables):
    whys = Counter(part.why for table in tables for part in wrong_answers(table))
    for why, count in whys.items():
        if count > 1:
            yield f"{file.id}.toml: {count} wrong answers have the same explanation: “{why}” Give each its own."


def _advice(tables):
    check = [table.kind for table in tables if table.section == "check"]
    if check and (len(check) < CHECK_ITEMS or "numeric" not in check):
        numbers = check.count("numeric")
        yield (
            f"Questions in section check: {len(check)}, of them numbers: {numbers}; "
            f"a lesson has {CHECK_ITEMS}, at least one a number."
        )
    wrong = [part for table in tables for part in wrong_answers(table)]
    shown = sum(bool(getattr(part, "shows", None)) for part in wrong)
    if shown < len(wrong):
        yield f"{shown} of {len(wrong)} wrong answers show a run; where a run can break an answer, let it."


def look_through(lesson_id, text, units):
    """A question file looked through.

    Parameters
    ----------
    lesson_id : str
        The file's name without its ending.
    text : str
        What stands in it.
    units : DisplayUnits
        The reader's units.

    Returns
    -------
    FileLook
        Every question with its answer or its fault, the faults of the whole, and advice.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Everything the file names is run, so a text with many runs takes some seconds.

    Examples
    --------
    >>> from course.units import display_units
    >>> look_through("91_mine", "title = ", display_units("bar_c")).faults
    ('91_mine.toml: this is not readable TOML (Invalid value (at end of document)); mend that line.',)
    """
    try:
        file = read_lesson_text(lesson_id, text)
    except WorkbookError as complaint:
        return FileLook("", (), (str(complaint),), (), ())
    lesson = prepare_lesson(file)
    usable = tuple(question for question in lesson.questions.values() if isinstance(question, Question))
    tables = [question.table for question in usable]
    questions = tuple(_looked(file, name, question, units) for name, question in lesson.questions.items())
    lost = [str(one) for one in lesson.recall if not isinstance(one, Question)]
    told = " ".join(one.fault for one in questions)
    unusable = [f"{file.id}.toml: {one}" for one in _unusable(file) if one not in told]
    faults = [*lost, *unusable, *_repeated(file, tables)]
    return FileLook(file.title, questions, tuple(faults), tuple(_advice(tables)), usable)
