"""The index: choose a symptom, a task or a component, and see the pages that help."""

from html import escape

import ipywidgets

from course.errors import check_choice
from course.tables import read_course, read_index
from course.widgets.controls import NAMED, WIDE
from course.widgets.page_links import START_STYLE, label_of, link_to, minutes_of
from course.widgets.page_style import STYLE

KINDS = {"symptom": "Symptom", "task": "Task", "component": "Component"}


def entries_of(kind):
    """The entries of one kind, in the order of the file: what each says, and its pages."""
    return {entry.says: entry.pages for entry in getattr(read_index(), check_choice("kind", kind, KINDS))}


def pages_html(pages):
    """Pages as a list of links, each with its minutes and what one can do afterwards."""
    lines = []
    for page in pages:
        minutes = f"{minutes_of(page)}: " if minutes_of(page) else ""
        lines.append(f"<li>{link_to(page)}<br>{minutes}{escape(read_course().page[page].afterwards)}</li>")
    return f'<ol class="workbook-found">{"".join(lines)}</ol>'


class IndexPanel:
    """The index with two choices: by what one looks, and for what."""

    def __init__(self, kind="symptom"):
        self.kind = ipywidgets.RadioButtons(
            options=[(words, key) for key, words in KINDS.items()], orientation="horizontal", tooltip="Look by"
        )
        self.kind.value = check_choice("kind", kind, KINDS)
        self.kind.add_class("workbook-choice")
        self.entry = ipywidgets.Dropdown(
            options=list(entries_of(kind)), description=KINDS[kind], style=NAMED, layout=WIDE
        )
        self.found = ipywidgets.HTML()
        self.kind.observe(lambda change: self._kind_changed(), names="value")
        self.entry.observe(lambda change: self.update(), names="value")
        self.update()

    def _kind_changed(self):
        self.entry.description = KINDS[self.kind.value]
        self.entry.options = list(entries_of(self.kind.value))
        self.update()

    def update(self):
        """Show the pages of what is chosen."""
        if self.entry.value is None:  # between two lists of entries nothing is chosen
            return
        pages = entries_of(self.kind.value)[self.entry.value]
        first = "The page that helps:" if len(pages) == 1 else "The pages that help, the first one first:"
        self.found.value = f'<div class="workbook" role="status"><p><b>{escape(self.entry.value)}.</b> {first}</p>{pages_html(pages)}</div>'

    def view(self):
        """The panel as one widget."""
        # a bare arrow key belongs to the notebook and moves to its next cell
        by_key = '<span class="workbook workbook-hint">By keyboard: Alt and ↓ opens the list, Enter chooses.</span>'
        choices = ipywidgets.VBox([self.kind, self.entry, ipywidgets.HTML(by_key)])
        choices.add_class("workbook-seek")
        panel = ipywidgets.VBox([choices, self.found])
        for name in ("workbook-panel", "workbook-start", "workbook"):
            panel.add_class(name)
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE + START_STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def text(self):
        """The whole index in words."""
        lines = []
        for kind, words in KINDS.items():
            lines.append(f"By {words.lower()}")
            lines += [f"{says}: {', '.join(map(label_of, pages))}" for says, pages in entries_of(kind).items()]
        return "\n".join(lines)

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        whole = "".join(
            f"<h3>By {words.lower()}</h3><ul>{''.join(map(_line, entries_of(kind).items()))}</ul>"
            for kind, words in KINDS.items()
        )
        page = f'<div class="workbook workbook-bench"><div class="workbook-start workbook-columns">{whole}</div></div>'
        return bundle | {"text/plain": self.text(), "text/html": f"{STYLE}{START_STYLE}{page}"}


def _line(entry):
    says, pages = entry
    return f"<li>{escape(says)}: {', '.join(map(link_to, pages))}</li>"


def show_index():
    """The index by symptom, task and component."""
    return IndexPanel()
