"""Questions as panels: answer, say how sure you are, and read beside it what the answer means."""

import threading
import time
from html import escape

import ipywidgets

from course.errors import BadDataFile, WorkbookError
from course.lessons.lesson import Question, open_lesson
from course.lessons.marking import CONFIDENCE, mark
from course.lessons.record import Record
from course.units import UNIT_SETS, display_units
from course.widgets.page_style import STYLE
from course.widgets.preferences import remembered_units
from course.widgets.question_inputs import INPUTS, chart_of
from course.widgets.question_words import QUESTION_STYLE, feedback_html, kept_html

TITLES = {
    "recall": "Recall",
    "predict": "Predict",
    "worked": "Worked case",
    "faded": "Your case",
    "check": "Check",
    "placement": "Where to begin",
}


class QuestionPanel:
    """One question: what is asked, what to answer with, and beside it what is said to the answer."""

    def __init__(self, question, title="", record=None, again=False):
        self.question, self.title = question, title
        self.record = record or Record()
        self.units = display_units(remembered_units())
        self.lock = threading.RLock()  # callbacks run in a thread of their own, beside the cell that made the panel
        self.predicting = question.table.kind == "predict"
        self.input = INPUTS[question.table.kind](question, self.units)
        self.sure = ipywidgets.RadioButtons(
            options=CONFIDENCE, value=None, orientation="horizontal", tooltip="How sure"
        )
        self.sure.add_class("workbook-choice")
        self.button = ipywidgets.Button(
            description="Commit" if self.predicting else "Check",
            tooltip="Lock this answer in" if self.predicting else "Mark this answer",
        )
        self.feedback, self.kept = ipywidgets.HTML(), ipywidgets.HTML()
        self.marked, self.began = None, time.monotonic()
        self.button.on_click(lambda button: self.commit())
        if not again:
            self._look_back()

    @property
    def right(self):
        """The number of the right answer where one is chosen from several; None elsewhere."""
        options = getattr(self.question.table, "options", ())
        return next((number for number, option in enumerate(options) if option.right), None)

    @property
    def asks_how_sure(self):
        """Whether the learner is asked how sure the answer is."""
        return self.predicting or self.question.table.confidence

    def _look_back(self):
        """A prediction that was made before stays as it was made; other questions only say how they went."""
        earlier = self.record.answers(self.question.id)
        self.kept.value = kept_html(self.record.problem)
        if not earlier:
            return
        if self.predicting:
            chosen = self._option_called(earlier[0].said)
            if chosen is not None:
                self.input.show(chosen)
                self.sure.value = earlier[0].confidence if earlier[0].confidence in CONFIDENCE else None
                self._show(mark(self.question, chosen, self.units), earlier[0].confidence)
            return
        tries = f"{earlier[-1].attempt} {'try' if earlier[-1].attempt == 1 else 'tries'}"
        went = "right" if earlier[-1].is_right else "not right yet"
        self.kept.value += f'<p class="workbook workbook-hint">In your record: {went} after {tries}.</p>'

    def _option_called(self, said):
        """The option an earlier answer meant: by its words, for an instructor may have put the options in another order."""
        for number, option in enumerate(self.question.table.options):
            if any(self.question.fill(option.text, units) == said for units in UNIT_SETS.values()):
                return number
        return None

    def commit(self):
        """Mark the answer, say what it means, and keep it; an answer that cannot be understood costs nothing."""
        with self.lock:
            if self.button.disabled:
                return
            given, confidence = self.input.answer, self.sure.value or ""
            marked = mark(self.question, given, self.units)
            if marked.counted and self.asks_how_sure and not confidence:
                self.feedback.value = '<p class="workbook" role="alert">Say how sure you are, too.</p>'
                return
            self._show(marked, confidence)
            if marked.counted:
                seconds = time.monotonic() - self.began
                self.record.add(self.question.id, self.question.table.kind, marked, given, confidence, seconds)
                problem = self.record.problem
                self.record.stop_at(self.question.id.partition("/")[0], self.question.table.section)
                self.kept.value = kept_html(problem or self.record.problem)

    def _show(self, marked, confidence):
        self.feedback.value = feedback_html(self.question, marked, confidence, self.units)
        if not marked.counted:
            return
        self.marked = marked
        if marked.right or self.predicting:
            for control in [*self.input.controls, self.sure, self.button]:
                control.disabled = True
        elif self.question.table.confidence:
            self.sure.value = None  # another try, another judgement

    def asked(self):
        """The question's words."""
        return self.question.fill(self.question.table.ask, self.units)

    def options(self):
        """What there is to answer with, in words."""
        return self.input.options(self.question, self.units)

    def view(self):
        """The panel as one widget, without the style sheet."""
        title = f"{escape(self.title)} " if self.title else ""
        words = ipywidgets.HTML(f'<p class="workbook"><b>{title}</b>{escape(self.asked())}</p>')
        sure = ipywidgets.VBox([ipywidgets.HTML('<span class="workbook">How sure are you?</span>'), self.sure])
        left = ipywidgets.VBox([self.input.view, *([sure] if self.asks_how_sure else []), self.button])
        right = ipywidgets.VBox([self.feedback, self.kept])
        two = ipywidgets.Box([left, right])
        two.add_class("workbook-two")
        asked = ipywidgets.VBox([words, two])
        asked.add_class("workbook-asked")
        asked.add_class("workbook")
        return asked

    def html(self):
        """The question as it stands on paper."""
        items = "".join(f"<li>{escape(text)}</li>" for text in self.options())
        chart = chart_of(self.question, self.units) if self.question.table.kind == "point" else ""
        chart = f'<div style="max-width:460px">{chart}</div>' if chart else ""
        title = f"<b>{escape(self.title)}</b> " if self.title else ""
        return f"<p>{title}{escape(self.asked())}</p>{chart}<ul>{items}</ul>"

    def text(self):
        """The question in one line; nothing in it depends on who has answered what."""
        return f"{self.title} {self.asked()} ({' / '.join(self.options())})".strip()

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(styled([self.view()])._repr_mimebundle_(**kwargs))
        chart = STYLE if self.question.table.kind == "point" else ""
        return bundle | {"text/plain": self.text(), "text/html": chart + self.html()}


class Complaint:
    """A question that cannot be used: its sentence stands in its place."""

    def __init__(self, title, sentence):
        self.title, self.sentence = title, str(sentence)

    def text(self):
        """The sentence with the number of the question."""
        return f"{self.title} {self.sentence}"

    def html(self):
        """The sentence on paper."""
        return f"<p><b>{escape(self.title)}</b> {escape(self.sentence)}</p>"

    def view(self):
        """The sentence as a widget."""
        return ipywidgets.HTML(
            f'<p class="workbook workbook-complaint" role="alert">{escape(self.title)} {escape(self.sentence)}</p>'
        )


def styled(views):
    """Question panels with the style sheet they need, as one widget."""
    whole = ipywidgets.VBox([ipywidgets.HTML(STYLE + QUESTION_STYLE), *views])
    whole.add_class("workbook-bench")
    return whole


class QuestionSection:
    """The questions of one section of a lesson, one under the other."""

    def __init__(self, lesson_id, section):
        self.lesson, self.name, self.record = lesson_id, section, Record()
        try:
            questions = open_lesson(lesson_id, only=section).section(section)
            if not questions:
                raise BadDataFile(f'{lesson_id}.toml: no question has section = "{section}" yet; add one to the file.')
        except WorkbookError as complaint:
            questions = [complaint]
        self.panels = [self._panel(number, question) for number, question in enumerate(questions, start=1)]

    def _panel(self, number, question):
        title = f"{number}."
        if not isinstance(question, Question):
            return Complaint(title, question)
        return QuestionPanel(question, title, self.record)

    def text(self):
        """Every question in a line; nothing in it depends on who has answered what."""
        return " ".join([f"{TITLES[self.name]}:", *(panel.text() for panel in self.panels)])

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(styled([panel.view() for panel in self.panels])._repr_mimebundle_(**kwargs))
        return bundle | {"text/plain": self.text(), "text/html": STYLE + "".join(panel.html() for panel in self.panels)}


def ask_questions(lesson_id, section):
    """The questions of one section: recall, predict, worked, faded or check."""
    return QuestionSection(lesson_id, section)
