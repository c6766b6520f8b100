"""How far a learner has come, out of the record: lesson by lesson, and which of them to go on with."""

from dataclasses import dataclass
from datetime import date

from course.errors import BadDataFile
from course.tables import lesson_ids, read_course, read_lesson

OPTIONAL = "placement"  # a section that nobody needs to answer
LAST = "check"  # the section at a lesson's end: who has answered it has been through the lesson


@dataclass(frozen=True)
class Progress:
    """One lesson as the learner's record has it."""

    lesson: str
    asked: int  # questions the lesson asks
    answered: int  # of them, answered at least once
    right: int  # of them, right at the last try
    last_day: date | None  # None: not begun
    been_through: bool  # every question at its end is answered

    @property
    def words(self):
        """The same in words."""
        if not self.asked:
            return ""
        if not self.answered:
            return "not begun"
        return (
            f"{self.answered} of {self.asked} answered, {self.right} right; last on {self.last_day:%d %b %Y}".replace(
                " 0", " "
            )
        )


@dataclass(frozen=True)
class GoOn:
    """Where to go on, and why there."""

    page: str
    why: str


def _questions(lesson_id):
    """The lesson's own questions with their sections; none where the file cannot be read, for its page says so itself."""
    try:
        file = read_lesson(lesson_id) if lesson_id in lesson_ids() else None
    except BadDataFile:
        file = None
    sections = file.sections.items() if file else ()
    return {f"{lesson_id}/{key}": section for key, section in sections if section != OPTIONAL}


def lesson_progress(answers):
    """How far each lesson has been worked through.

    Parameters
    ----------
    answers : iterable of Answered
        The record, oldest first.

    Returns
    -------
    dict of str to Progress
        By page, in the order of the workbook; a page that asks nothing has asked = 0.

    Raises
    ------
    BadDataFile
        When the list of pages cannot be read.

    Notes
    -----
    Answers to questions that are no longer asked do not count. The placement questions are nobody's duty and do not count
    either. A lesson's own recall questions count for the lesson they come from, wherever they were answered.

    Examples
    --------
    >>> lesson_progress([])["00_start_here"].words
    'not begun'
    """
    answers = list(answers)
    return {page: _progress(page, answers) for page in read_course().page}


def _progress(page, answers):
    questions = _questions(page)
    latest = {answer.question: answer for answer in answers if answer.question in questions}
    at_the_end = {name for name, section in questions.items() if section == LAST} or set(questions)
    return Progress(
        lesson=page,
        asked=len(questions),
        answered=len(latest),
        right=sum(answer.is_right for answer in latest.values()),
        last_day=max((answer.day for answer in latest.values()), default=None),
        been_through=bool(latest) and at_the_end <= set(latest),
    )


def where_to_go_on(progress, stopped, advised=()):
    """The lesson to go on with, and why.

    Parameters
    ----------
    progress : dict of str to Progress
        As lesson_progress gives it.
    stopped : tuple of str or None
        Lesson and section last answered in.
    advised : iterable of str
        Lessons the placement questions speak for, in their order; empty where they were not answered.

    Returns
    -------
    GoOn
        The page and the reason, a sentence.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    First the lesson one has stopped in; after its end the next one of the way chosen: the placement's, else the workbook's
    own order. A question left out on the way holds nobody back; the bars show it.

    Examples
    --------
    >>> where_to_go_on(lesson_progress([]), None).page
    '00_start_here'
    """
    lessons = [page for page, one in progress.items() if one.asked]
    at = stopped[0] if stopped and stopped[0] in lessons else None
    optional = bool(stopped) and stopped[1] == OPTIONAL
    if at and not optional and not progress[at].been_through:
        return GoOn(at, "You stopped here, and it is not finished.")
    way = [page for page in advised if page in lessons and not progress[page].been_through]
    if way:
        return GoOn(way[0], "The placement questions speak for it.")
    later = lessons[lessons.index(at) + 1 :] if at else lessons
    open_ones = [page for page in [*later, *lessons] if not progress[page].been_through]
    if not open_ones:
        return GoOn(lessons[-1], "You have been through every lesson; read any of them again.")
    if not at:
        return GoOn(open_ones[0], "Everything begins here.")
    return GoOn(open_ones[0], f"You have been through {at[:2]}, and this one is open.")
