"""The placement questions, and what the answers say about where to begin."""

from html import escape

import ipywidgets

from course.lessons.placement import LESSON, SECTION, placement_advice
from course.widgets.page_links import START_STYLE, link_to
from course.widgets.question_panel import QuestionSection, styled

AFTERWARDS = "After them it says which lessons to look at first, and which you can go straight to."


def _listed(words):
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)


def advice_html(advice):
    """The advice in sentences, each lesson a link."""
    if not advice.answered:
        return f"<p>Nothing is answered yet. {AFTERWARDS}</p>"
    if not advice.complete:
        left = advice.asked - advice.answered
        return f"<p>{advice.answered} of {advice.asked} answered; {left} more, and it says where to begin.</p>"
    lines = [f"Look at {link_to(one.page)} first: {escape(one.why)}." for one in advice.first]
    if advice.straight:
        lines.append(f"You can go straight to {_listed([link_to(page) for page in advice.straight])}.")
    lines += [f"Take your time with {link_to(one.page)}: {escape(one.why)}." for one in advice.slowly]
    lines += [f"Look at {link_to(one.page)} on the way: {escape(one.why)}." for one in advice.between]
    lines.append("One question a part is a rough measure: every lesson stays open to you.")
    return "".join(f"<p>{line}</p>" for line in lines)


class PlacementPanel(QuestionSection):
    """The placement questions with the advice below, which follows every answer."""

    def __init__(self):
        super().__init__(LESSON, SECTION)
        self.advice = ipywidgets.HTML()
        for panel in self.panels:
            if hasattr(panel, "button"):
                # after the panel's own: the answer is then in the record
                panel.button.on_click(lambda button: self.update())
        self.update()

    def update(self):
        """Read the record and say where to begin."""
        advice = placement_advice(self.record.answers())
        problem = f'<p role="alert"><b>{escape(self.record.problem)}</b></p>' if self.record.problem else ""
        self.advice.value = (
            f'<div class="workbook" role="status"><p><b>Where to begin</b></p>{advice_html(advice)}{problem}</div>'
        )

    def text(self):
        """Every question in a line and what comes of them; nothing in it depends on who has answered what."""
        return f"{super().text()} {AFTERWARDS}"

    def _repr_mimebundle_(self, **kwargs):
        bundle = super()._repr_mimebundle_(**kwargs)
        below = ipywidgets.VBox([ipywidgets.HTML(START_STYLE), self.advice])
        below.add_class("workbook-start")
        below.add_class("workbook")
        live = styled([*(panel.view() for panel in self.panels), below])
        written = f"{bundle['text/html']}<p>{AFTERWARDS}</p>"
        return bundle | dict(live._repr_mimebundle_(**kwargs)) | {"text/plain": self.text(), "text/html": written}


def show_placement():
    """The placement questions and where to begin."""
    return PlacementPanel()
