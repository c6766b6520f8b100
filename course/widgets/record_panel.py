"""The learner's own record: what was answered, what comes back for review, take it along, delete it."""

from base64 import b64encode
from collections import Counter
from datetime import date
from html import escape

import ipywidgets

from course.errors import WorkbookError
from course.lessons.lesson import find_question
from course.lessons.record import Record
from course.lessons.review import REVIEW_AFTER_DAYS, due_today, review_queue
from course.tables import read_misconceptions
from course.widgets.question_panel import TITLES, Complaint, QuestionPanel, styled

DAYS = f"{', '.join(str(days) for days in REVIEW_AFTER_DAYS[:-1])} and {REVIEW_AFTER_DAYS[-1]} days"
MOST_AT_ONCE = 5  # questions of one review: about ten minutes


class RecordPanel:
    """What the record holds, with one button to take it along and one to delete it."""

    def __init__(self, record=None):
        self.record = record or Record()
        self.words, self.file = ipywidgets.HTML(), ipywidgets.HTML()
        self.export = ipywidgets.Button(description="Export as table", tooltip="Make a CSV file of every answer")
        self.delete = ipywidgets.Button(description="Delete my record", tooltip="Delete every answer from this machine")
        self.sure = ipywidgets.Button(description="Yes, delete all of it", tooltip="Delete for good")
        self.sure.layout.display = "none"
        self.export.on_click(lambda button: self.take_along())
        self.delete.on_click(lambda button: self._ask_back(True))
        self.sure.on_click(lambda button: self.forget())
        self.update()

    def _ask_back(self, asked):
        self.sure.layout.display = "" if asked else "none"

    def update(self):
        """Say what the record holds now."""
        answers = self.record.answers()
        self.words.value = f'<div class="workbook" role="status">{self._summary(answers)}</div>'

    def _summary(self, answers):
        problem = f"<p><b>{escape(self.record.problem)}</b></p>" if self.record.problem else ""
        where = f"<p>Kept on this machine alone, in {escape(str(self.record.path))}.</p>"
        if not answers:
            return f"{problem}<p>Nothing is recorded yet.</p>{where}"
        first = [answer for answer in answers if answer.attempt == 1]
        right = sum(answer.is_right for answer in first)
        stopped = self.record.stopped()
        lines = [
            f"{len(first)} questions answered; {right} right at the first try.",
            f"{len(due_today(answers, date.today()))} due for review, {len(review_queue(answers))} waiting in all.",
            f"Last at: lesson {stopped[0]}, {TITLES.get(stopped[1], stopped[1])}." if stopped else "",
        ]
        believed = read_misconceptions()
        hit = Counter(answer.misconception for answer in answers if answer.misconception in believed)
        lines += [
            f"Met {count} ×: “{believed[name].says}” See lesson {believed[name].lesson}."
            for name, count in hit.most_common(5)
        ]
        return problem + "".join(f"<p>{escape(line)}</p>" for line in lines if line) + where

    def take_along(self):
        """Offer every answer as a table to save; it is made in the page and sent nowhere."""
        table = self.record.as_csv()
        data = b64encode(table.encode("utf-8-sig")).decode("ascii")
        rows = table.count("\n") - 1
        self.file.value = (
            f'<p class="workbook" role="status"><a download="my_answers.csv" href="data:text/csv;base64,{data}">'
            f"Save my_answers.csv</a>, answers in it: {rows}</p>"
        )

    def forget(self):
        """Delete every answer."""
        self._ask_back(False)
        self.file.value = ""
        if self.record.delete():
            self.update()
            self.words.value = f'<p class="workbook" role="status">Your record is deleted.</p>{self.words.value}'
        else:
            self.update()

    def view(self):
        """The panel as one widget."""
        buttons = ipywidgets.HBox([self.export, self.delete, self.sure], layout=ipywidgets.Layout(flex_flow="row wrap"))
        panel = ipywidgets.VBox([self.words, buttons, self.file])
        panel.add_class("workbook-asked")
        panel.add_class("workbook")
        return panel

    def text(self):
        """What the panel is for; nothing in it depends on what is recorded."""
        return (
            f"Your record: what you answered, how sure you were, and what comes back after {DAYS}. "
            "It stays on this machine; export it or delete it with one button each."
        )

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(styled([self.view()])._repr_mimebundle_(**kwargs))
        return bundle | {"text/plain": self.text(), "text/html": f"<p>{escape(self.text())}</p>"}


class ReviewPanel:
    """What was missed and is due today, asked again."""

    def __init__(self, record=None, today=None):
        self.record = record or Record()
        due = due_today(self.record.answers(), today or date.today())
        self.panels = [self._panel(number, one.question) for number, one in enumerate(due[:MOST_AT_ONCE], start=1)]
        self.left = len(due) - len(self.panels)

    def _panel(self, number, question_id):
        try:
            return QuestionPanel(find_question(question_id), f"{number}.", self.record, again=True)
        except WorkbookError as complaint:
            return Complaint(f"{number}.", complaint)

    def view(self):
        """The questions, or the sentence that none is due."""
        said = "" if self.panels else "Nothing is due for review today."
        if self.left:
            said = f"{self.left} more are due; run this page again when these are done."
        words = ipywidgets.HTML(
            f'<p class="workbook" role="status">{said or "Answer before you look anything up."}</p>'
        )
        return ipywidgets.VBox([words, *(panel.view() for panel in self.panels)])

    def text(self):
        """What the panel is for; nothing in it depends on what is recorded."""
        return f"Your review: what you missed comes back after {DAYS}, at most {MOST_AT_ONCE} questions at a time."

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(styled([self.view()])._repr_mimebundle_(**kwargs))
        return bundle | {"text/plain": self.text(), "text/html": f"<p>{escape(self.text())}</p>"}


def show_record():
    """The learner's own record, with export and delete."""
    return RecordPanel()


def show_review():
    """What is due for review today, at most five questions."""
    return ReviewPanel()
