"""What stands in a stored lesson: which questions each cell asks, which panels it shows; nothing is run."""

import ast
import re
from dataclasses import dataclass

from course.errors import BadDataFile, WorkbookError
from course.lessons import placement
from course.lessons.lesson import Question, find_question, open_lesson
from course.tables import lesson_ids

_HEADING = re.compile(r"^# (.+)$", flags=re.MULTILINE)
_SECTION = re.compile(r"^## (.+)$", flags=re.MULTILINE)
FOLDED = re.compile(r"<details>\s*<summary>(.*?)</summary>(.*?)</details>", flags=re.DOTALL)
_NEXT_CAR = re.compile(r"^On the next car.*$", flags=re.MULTILINE)
_FIRST_COMMENT = re.compile(r"^#\s*(.+)$", flags=re.MULTILINE)


@dataclass(frozen=True)
class Call:
    """One call in a cell, as it is written there."""

    name: str
    given: tuple
    named: dict


@dataclass(frozen=True)
class Panel:
    """One panel of a lesson: what its cell calls itself, and how it is opened."""

    title: str
    call: Call


@dataclass(frozen=True)
class Spoken:
    """A question in the lesson's text, answered aloud before its answer is folded open; both as the text has them."""

    heading: str  # of its section
    ask: str
    answer: str


@dataclass(frozen=True)
class PaperLesson:
    """A stored lesson with its questions, numbered in the order in which they are asked."""

    name: str  # the notebook's, without its ending
    title: str
    cells: tuple  # of the notebook
    asked: dict  # number of a cell -> tuple of (number, Question or BadDataFile)
    rest: tuple  # of (number, Question or BadDataFile): those of the lesson's file that no cell asks
    spoken: tuple  # of Spoken
    panels: tuple  # of Panel
    next_car: str  # what to measure on the next car; empty where the lesson names nothing

    @property
    def questions(self):
        """Every question once, by number."""
        every = [*(one for several in self.asked.values() for one in several), *self.rest]
        return sorted(dict(every).items())

    def of_section(self, section):
        """The lesson's own questions of one section, by number."""
        return [
            (number, question)
            for number, question in self.questions
            if isinstance(question, Question)
            and question.table.section == section
            and question.id.partition("/")[0] == self.name
        ]

    @property
    def complaints(self):
        """Sentences about questions that cannot be used."""
        return [str(question) for _, question in self.questions if isinstance(question, BadDataFile)]


def calls_of(source):
    """The calls that stand as lines of their own in a cell, with what they are given where that is written out."""
    try:
        lines = ast.parse(source).body
    except SyntaxError:
        return ()
    known, found = {}, []
    for line in lines:
        if isinstance(line, ast.Assign) and isinstance(line.targets[0], ast.Name):
            known[line.targets[0].id] = _written(line.value, known)
        elif isinstance(line, ast.Expr) and isinstance(line.value, ast.Call) and isinstance(line.value.func, ast.Name):
            found.append(_call(line.value, known))
    return tuple(found)


def _call(node, known):
    named = {}
    for keyword in node.keywords:
        value = _written(keyword.value, known)
        named |= (value or {}) if keyword.arg is None else {keyword.arg: value}
    return Call(node.func.id, tuple(_written(one, known) for one in node.args), named)


def _written(node, known):
    """A value that is written out, or the name of one; None for what would have to be worked out."""
    if isinstance(node, ast.Name):
        return known.get(node.id)
    try:
        return ast.literal_eval(node)
    except ValueError:
        return None


def _asked_by(call, own):
    """The questions one call asks."""
    if call.name == "show_placement":
        call = Call("ask_questions", (placement.LESSON, placement.SECTION), {})
    given = (*call.given, *call.named.values())
    if not all(isinstance(one, str) for one in given):
        return []
    try:
        if call.name == "ask":
            question_id = given[0].rpartition("/")[2]
            known = own.questions if own else {}
            return [known[question_id] if question_id in known else find_question(given[0])]
        if call.name == "ask_questions":
            lesson_id, section = given
            return (own if own and own.id == lesson_id else open_lesson(lesson_id)).section(section)
    except WorkbookError as complaint:
        return [BadDataFile(str(complaint))]
    return []


def _spoken(cells):
    """Every question folded into the text, with the heading it stands under."""
    heading, found = "", []
    for cell in cells:
        if cell.cell_type == "markdown":
            for part in re.split(r"^(?=## )", cell.source, flags=re.MULTILINE):
                named = _SECTION.match(part)
                heading = named[1].strip() if named else heading
                found += [Spoken(heading, ask.strip(), answer.strip()) for ask, answer in FOLDED.findall(part)]
    return tuple(found)


class _Counter:
    """A number for every question; one asked again keeps its own."""

    def __init__(self):
        self.numbers = {}

    def numbered(self, question):
        key = question.id if isinstance(question, Question) else str(question)
        return self.numbers.setdefault(key, len(self.numbers) + 1), question


def paper_lesson(name, cells):
    """A stored lesson made ready for paper; every number its questions need is worked out here, once."""
    own = open_lesson(name) if name in lesson_ids() else None
    counter, asked, panels = _Counter(), {}, []
    for place, cell in enumerate(cells):
        if cell.cell_type != "code":
            continue
        for call in calls_of(cell.source):
            questions = _asked_by(call, own)
            asked[place] = asked.get(place, ()) + tuple(counter.numbered(one) for one in questions)
            if call.name.startswith("show_"):
                title = _FIRST_COMMENT.search(cell.source)
                panels.append(Panel(title[1] if title else call.name, call))
    asked = {place: several for place, several in asked.items() if several}
    known = set(counter.numbers)
    left = [one for one in own.questions.values() if getattr(one, "id", str(one)) not in known] if own else []
    words = "\n".join(cell.source for cell in cells if cell.cell_type == "markdown")
    heading, next_car = _HEADING.search(words), _NEXT_CAR.search(words)
    return PaperLesson(
        name,
        heading[1].strip() if heading else name.replace("_", " "),
        tuple(cells),
        asked,
        tuple(counter.numbered(one) for one in left),
        _spoken(cells),
        tuple(panels),
        next_car[0] if next_car else "",
    )
