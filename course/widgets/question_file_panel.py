"""A question file for whoever writes it: each question with the engine's answer, each fault in a sentence, and a trial of each."""

import threading
from html import escape

import ipywidgets

from course.lessons.answer_key import look_through
from course.tables import EXAMPLE, lesson_ids, lesson_text
from course.units import UNIT_SETS, display_units
from course.widgets.card_layout import CARD_STYLE, Card, Table, card_html, card_text, print_link
from course.widgets.page_style import STYLE
from course.widgets.preferences import remember_units, remembered_units
from course.widgets.question_panel import QuestionPanel
from course.widgets.question_words import QUESTION_STYLE
from course.widgets.service_panel import answered, button, choice

KEY_STYLE = """<style>
.workbook-draft textarea { font-family: var(--jp-code-font-family, monospace); font-size: 13px; line-height: 1.4; }
.workbook-draft textarea { height: 330px; width: 100%; flex: none; }
.workbook-panel .workbook-draft { width: auto; height: auto; margin: 2px; flex-flow: column; align-items: stretch; }
.workbook-panel .workbook-draft .widget-label { width: auto; text-align: left; }
.workbook-key-words .workbook-hunt-words { min-height: 0; }
</style>"""
UNUSABLE = "cannot be used"
NONE = "none"


def _counted(number, word):
    return f"{number} {word}{'s' * (number != 1)}"


def key_card(name, look):
    """A file that was looked through, as a card: what is wrong first, then every question with its answer."""
    faults = len(look.faults) + sum(bool(one.fault) for one in look.questions)
    found = f"{_counted(len(look.questions), 'question')}, {_counted(faults, 'fault')} found."
    rows = tuple(
        (
            one.id,
            f"{one.section}, {one.kind or UNUSABLE}",
            one.ask or "–",
            "; ".join(one.answer) or "–",
            one.fault or "nothing found",
        )
        for one in look.questions
    )
    heads = ("question", "section, kind", "it asks", "right answer, by the engine", "what is wrong")
    tables = (Table("Questions and answers", heads, rows),) if rows else ()
    return Card(f"{name}.toml", (found, *look.faults), tables, below=look.advice)


class NothingKept:
    """In place of the learner's record while an instructor tries a question."""

    problem = ""

    def answers(self, question_id):
        """Nobody has answered it."""
        return []

    def add(self, *answer):
        """Keeps nothing."""

    def stop_at(self, lesson_id, section):
        """Keeps nothing."""


class QuestionFilePanel:
    """One question file, its text to try changes in, and what the engine makes of it."""

    def __init__(self, lesson_id, units=None):
        text = lesson_text(lesson_id)
        self.lock, self.keep_units = threading.RLock(), units is None
        self.file = choice("File", (EXAMPLE, *lesson_ids()), lesson_id)
        self.units = choice("Units", [(one.label, key) for key, one in UNIT_SETS.items()], units or remembered_units())
        self.draft = ipywidgets.Textarea(value=text, description="Its text")
        self.draft.add_class("workbook-draft")
        self.check = button("Check this text", self.update)
        self.anew = button("Read the file anew", self._read)
        self.words, self.shown, self.link = ipywidgets.HTML(), ipywidgets.HTML(), ipywidgets.HTML()
        self.tried, self.trial = choice("Try one", [NONE]), ipywidgets.VBox()
        self.tried.observe(lambda change: self._try(change["new"]), names="value")
        self.file.observe(lambda change: self._read(), names="value")
        self.units.observe(lambda change: self._units_changed(), names="value")
        self.update()

    def _read(self):
        self.draft.value = lesson_text(self.file.value)
        self.update()

    def _units_changed(self):
        if self.keep_units:
            remember_units(self.units.value)
        self.update()

    def _try(self, question_id):
        """One question as a learner meets it; nothing is kept."""
        ready = [one for one in self.look.usable if one.id.rpartition("/")[2] == question_id]
        self.trial.children = [QuestionPanel(one, "", NothingKept()).view() for one in ready]

    def update(self):
        """Look the text through and show what was found."""
        with self.lock:
            self.words.value = answered("Working it out.")
            name = self.file.value
            self.look = look_through(name, self.draft.value, display_units(self.units.value))
            self.card = key_card(name, self.look)
            changed = self.draft.value != lesson_text(name)
            said = "This is your changed text; the file itself is as it was." if changed else ""
            self.words.value = answered(self.card.notes[0], said)
            self.shown.value = card_html(self.card)
            saved = f"answer_key_{name.rpartition('/')[2]}"
            self.link.value = f'<div class="workbook">{print_link(self.card, saved)}</div>'
            self.tried.options = [NONE, *(one.id.rpartition("/")[2] for one in self.look.usable)]
            self._try(self.tried.value)

    def view(self):
        """The panel as one widget."""
        buttons = ipywidgets.HBox([self.check, self.anew], layout=ipywidgets.Layout(flex_flow="row wrap"))
        controls = ipywidgets.VBox([self.file, self.units, self.draft, buttons, self.words])
        controls.add_class("workbook-key-words")
        panel = ipywidgets.VBox([controls, self.shown, self.link, self.tried, self.trial])
        panel.add_class("workbook-panel")
        panel.add_class("workbook-reference")
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE + CARD_STYLE + QUESTION_STYLE + KEY_STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = card_text(self.card)
        text = f"<details><summary>The text of the file</summary><pre>{escape(self.draft.value)}</pre></details>"
        bundle["text/html"] = (
            f'{STYLE}{CARD_STYLE}<div class="workbook workbook-bench" style="margin:0">{card_html(self.card)}{text}</div>'
        )
        return bundle


def show_question_file(lesson_id, **start):
    """A lesson's question file: its questions, the engine's answers, and every fault."""
    return QuestionFilePanel(lesson_id, **start)
