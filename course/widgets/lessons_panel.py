"""The list of lessons: minutes, what one can do afterwards, how far one has come, and where to go on."""

from html import escape

import ipywidgets

from course.charts.progress_bar import progress_bar_svg
from course.lessons.placement import placement_advice
from course.lessons.progress import lesson_progress, where_to_go_on
from course.lessons.record import Record
from course.tables import read_course
from course.widgets.page_links import START_STYLE, label_of, link_to, minutes_of
from course.widgets.page_style import STYLE

REFERENCE = "80_quick_reference"
CAPTION = "All cars are invented. Minutes are a plan, not a measurement."


def lessons_table(progress=None):
    """Every page with its link; without a learner's progress, the same for everybody."""
    heads = ["Page", "Minutes", "What you can do afterwards", *(["Your progress"] if progress else [])]
    rows, part = [], None
    for page, entry in read_course().page.items():
        if entry.part != part:
            part = entry.part
            rows.append(f'<tr><th scope="rowgroup" colspan="{len(heads)}">{escape(part)}</th></tr>')
        cells = [
            f'<td class="workbook-minutes">{minutes_of(page)}</td>',
            f"<td>{escape(entry.afterwards[0].upper() + entry.afterwards[1:])}</td>",
        ]
        if progress:
            cells.append(f'<td class="workbook-progress">{_progress_html(progress[page])}</td>')
        rows.append(f'<tr><th scope="row">{link_to(page)}</th>{"".join(cells)}</tr>')
    columns = "".join(f'<th scope="col">{head}</th>' for head in heads)
    return (
        f'<table class="workbook-pages"><caption>{CAPTION}</caption><thead><tr>{columns}</tr></thead>'
        f"<tbody>{''.join(rows)}</tbody></table>"
    )


def _progress_html(one):
    return f"{progress_bar_svg(one.answered, one.asked)}{escape(one.words)}" if one.asked else ""


class LessonsPanel:
    """The list of lessons with the learner's own progress, read anew at the press of a button."""

    def __init__(self, record=None):
        self.record = record or Record()
        self.head, self.table = ipywidgets.HTML(), ipywidgets.HTML()
        self.again = ipywidgets.Button(description="Update my progress", tooltip="Read my record anew")
        self.again.on_click(lambda button: self.update())
        self.update()

    def update(self):
        """Read the record and show how far one has come; a record that cannot be read costs the bars, not the list."""
        answers, problem = self.record.answers(), self.record.problem
        progress = lesson_progress(answers)
        go_on = where_to_go_on(progress, self.record.stopped(), placement_advice(answers).way)
        to_go_on = link_to(go_on.page, f"Continue: {label_of(go_on.page)}", "workbook-go workbook-first")
        said = f'<p role="alert"><b>{escape(problem)}</b></p>' if problem else ""
        self.head.value = (
            f'<div class="workbook" role="status"><p>{to_go_on}{link_to(REFERENCE, kind="workbook-go")}</p>'
            f"<p>{escape(go_on.why)}</p>{said}</div>"
        )
        self.table.value = f'<div class="workbook">{lessons_table(progress)}</div>'

    def view(self):
        """The panel as one widget."""
        panel = ipywidgets.VBox([self.head, self.table, self.again])
        for name in ("workbook-panel", "workbook-start", "workbook"):
            panel.add_class(name)
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE + START_STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def text(self):
        """The list in words; nothing in it depends on what is recorded."""
        pages = read_course().page.items()
        lines = [f"{label_of(page)} | {minutes_of(page) or 'any time'} | {entry.afterwards}" for page, entry in pages]
        return "\n".join(["The pages of the workbook", *lines])

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        whole = f'<div class="workbook workbook-bench"><div class="workbook-start">{lessons_table()}</div></div>'
        return bundle | {"text/plain": self.text(), "text/html": f"{STYLE}{START_STYLE}{whole}"}


def show_lessons():
    """The list of lessons with your own progress."""
    return LessonsPanel()
