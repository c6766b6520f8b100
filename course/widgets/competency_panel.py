"""The competency map as a table: what is asked of a technician, by whom, which lessons serve it, and what none does."""

from course.errors import check_choice
from course.lessons.competency_map import competency_map, without_a_lesson
from course.tables import read_competencies
from course.widgets.card_layout import Card, Table
from course.widgets.card_panel import CardPanel
from course.widgets.service_panel import choice

ALL = "all"


def _served(lessons):
    return "; ".join(f"{lesson[:2]} {', '.join(ways)}" for lesson, ways in lessons.items()) or "no lesson"


def competency_card(lesson_id=ALL):
    """The map as a card, whole or for one lesson; what no lesson serves is always on it."""
    table, shown = read_competencies(), competency_map()
    if lesson_id != ALL:
        shown = tuple(one for one in shown if lesson_id in one.lessons)
    none = without_a_lesson()
    rows = tuple((one.says, _served(one.lessons), one.missing or "–", "; ".join(one.asked_by)) for one in shown)
    heads = ("a technician should", "served by lesson", "what is missing", "who asks for it, and how that is known")
    lists = tuple((one.short, one.name, one.edition, one.known) for one in table.list.values())
    every = len(competency_map())
    which = f"{len(shown)} of {every} competencies are served by lesson {lesson_id}."
    said = f"{every} competencies, {len(none)} without a lesson." if lesson_id == ALL else which
    return Card(
        "Competency map",
        (
            f"{said} Last gone through on {table.as_of.isoformat()}; lists change, so look up the edition you work under.",
            "taught: in the text. practised: a panel or a question to try. checked: a question of the lesson's check.",
            "A list's own number is printed only where its entry was seen; from memory means: look it up.",
        ),
        (
            Table("Without a lesson", ("competency", "why"), tuple((one.says, one.missing) for one in none)),
            Table("Competencies and lessons", heads, rows, long=True),
            Table("The lists", ("called here", "list", "edition", "how much of it is known"), lists, long=True),
        ),
    )


class CompetencyPanel(CardPanel):
    """The map, whole or lesson by lesson."""

    def __init__(self, lesson=ALL):
        super().__init__()
        lessons = sorted({served for one in competency_map() for served in one.lessons})
        start = check_choice("lesson", lesson, [ALL, *lessons])
        self.lesson = choice("Lesson", [("all lessons", ALL), *((one, one) for one in lessons)], start)
        self.lesson.observe(lambda change: self.update(), names="value")
        self.update()

    def update(self):
        """Show the map for the lesson that is chosen."""
        self.put(competency_card(self.lesson.value), "competency_map")

    def choices(self):
        return [self.lesson]


def show_competencies(**start):
    """The competency map, whole or for one lesson."""
    return CompetencyPanel(**start)
