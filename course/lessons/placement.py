"""What the placement questions say about where to begin."""

from dataclasses import dataclass

from course.errors import BadDataFile
from course.lessons.marking import CONFIDENCE
from course.tables import read_course, read_lesson

LESSON, SECTION = "00_start_here", "placement"
GUESS = CONFIDENCE[0]


@dataclass(frozen=True)
class Pointer:
    """A lesson to look at, and why."""

    page: str
    why: str


@dataclass(frozen=True)
class Advice:
    """Where to begin, as far as the placement questions were answered."""

    asked: int
    answered: int
    first: tuple  # of Pointer: to look at before the fast track begins
    slowly: tuple  # of Pointer: on the fast track, and worth their time
    between: tuple  # of Pointer: to look at on the way, beside the fast track
    straight: tuple  # of page: on the fast track, and nothing speaks for going slowly

    @property
    def complete(self):
        """Whether every question was answered."""
        return self.asked > 0 and self.answered == self.asked

    @property
    def way(self):
        """The pages advised, in their order; empty until every question was answered."""
        if not self.complete:
            return ()
        course = read_course()
        wanted = {*course.fast_track, *(pointer.page for pointer in (*self.first, *self.between))}
        return tuple(page for page in course.page if page in wanted)


def _tables():
    try:
        questions = read_lesson(LESSON).questions.items()
    except BadDataFile:  # the page itself says what is wrong with its file
        return {}
    usable = {key: table for key, table in questions if not isinstance(table, BadDataFile)}
    return {f"{LESSON}/{key}": table for key, table in usable.items() if table.section == SECTION}


def _trouble(tries):
    """What speaks for looking at it: the first try of the last day counts, for after it the explanation was read."""
    first = next(one for one in tries if one.day == tries[-1].day)
    if not first.is_right:
        return "was not right"
    return "was a guess" if first.confidence == GUESS else ""


def placement_advice(answers):
    """Where to begin, out of the answers to the placement questions.

    Parameters
    ----------
    answers : iterable of Answered
        The record, oldest first.

    Returns
    -------
    Advice
        Which lessons first, which slowly, and which one can go straight to.

    Raises
    ------
    BadDataFile
        When the list of pages cannot be read.

    Notes
    -----
    Right by a guess counts as something to look at. One question a part is a rough measure, agreed and not validated with
    learners; it opens and closes no lesson.

    Examples
    --------
    >>> placement_advice([]).answered
    0
    """
    tries = {}
    for answer in answers:
        tries.setdefault(answer.question, []).append(answer)
    tables = _tables()
    answered = {name: table for name, table in tables.items() if name in tries}
    reasons = {}
    for name, table in answered.items():
        trouble = _trouble(tries[name])
        for page in table.leads_to if trouble else ():
            reasons.setdefault(page, f"{table.about} {trouble}")
    order, track = list(read_course().page), read_course().fast_track
    pointers = [Pointer(page, reasons[page]) for page in order if page in reasons]
    beside = [pointer for pointer in pointers if pointer.page not in track]
    begins = order.index(track[0])
    return Advice(
        asked=len(tables),
        answered=len(answered),
        first=tuple(pointer for pointer in beside if order.index(pointer.page) < begins),
        slowly=tuple(pointer for pointer in pointers if pointer.page in track),
        between=tuple(pointer for pointer in beside if order.index(pointer.page) > begins),
        straight=tuple(page for page in track if page not in reasons),
    )
