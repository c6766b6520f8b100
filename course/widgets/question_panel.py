"""A section's questions as panels."""

from html import escape

from course.lessons.lesson import Question, open_lesson
from course.units import display_units
from course.widgets.preferences import remembered_units

TITLES = {"recall": "Recall", "predict": "Predict", "worked": "Worked case", "faded": "Your case", "check": "Check"}


class QuestionSection:
    """The questions of one section of a lesson."""

    def __init__(self, lesson_id, section):
        self.lesson, self.name = open_lesson(lesson_id, only=section), section
        self.questions = self.lesson.section(section)

    def sentence(self):
        """Every question in one line each; nothing in it depends on who has answered what."""
        units = display_units(remembered_units())
        asked = [
            question.fill(question.table.ask, units) if isinstance(question, Question) else str(question)
            for question in self.questions
        ]
        return " ".join([f"{TITLES[self.name]}:", *(f"{number}. {text}" for number, text in enumerate(asked, start=1))])

    def _repr_mimebundle_(self, **kwargs):
        return {"text/plain": self.sentence(), "text/html": f"<p>{escape(self.sentence())}</p>"}


def ask_questions(lesson_id, section):
    """The questions of one section: recall, predict, worked, faded or check."""
    return QuestionSection(lesson_id, section)
