"""A lesson's worksheet in black and white: predictions, tables to fill in, check questions, the next car."""

from html import escape

from course.charts import gauges, pressure_enthalpy
from course.paper.page_shell import page, sheet_style, table
from course.paper.question_html import question_html, spoken_html
from course.service.job import STEPS
from course.service.job_print import HEADS
from course.widgets.job_cards import FORM

SIZES = {"a4": "A4", "letter": "letter"}
ON_PAPER_ALREADY = ("show_bench", "show_job_sheet", "show_oil_form", "show_record", "show_review", "show_reference")
PREDICTED = (
    '<p class="faint">Because:</p><div class="line"></div><p class="faint">What it showed:</p><div class="line"></div>'
)
EMPTY_LINES = 2  # of a bench's table, for settings of the learner's own


def _line_count(number):
    return '<div class="line"></div>' * number


def _empty_tables(tables):
    """The benches' tables with nothing but their positions."""
    html = ""
    for one in tables:
        blank = ("",) * (len(one.heads) - 1)
        rows = [(line, *blank) for line in one.lines] + [("", *blank)] * EMPTY_LINES
        told = f"{one.title}. Set: {one.setting}. Move only {one.moved.lower()}; the last lines are yours."
        html += f'<div class="keep">{table(one.heads, rows, told, "fill")}<p>What moved most, and what hardly at all?</p>{_line_count(1)}</div>'
    return html


def _drawings(tables, units):
    """Gauge faces without needles and the chart without a loop, to draw one line of the first table into."""
    if not tables:
        return ""
    first = tables[0]
    told = f"Draw one line of “{first.title}”: both needles, and the loop on the chart. Draw another line dashed."
    faces, chart = gauges.gauge_faces_still_svg(units), pressure_enthalpy.still_svg(first.refrigerant, units)
    return f'<figure class="keep draw"><figcaption>{escape(told)}</figcaption><div>{faces}</div><div>{chart}</div></figure>'


def filled_tables(tables):
    """The same tables with what the simulator shows, for the key."""
    html = ""
    for one in tables:
        width = len(one.heads) - 1
        rows = [
            (line, *found, *("",) * (width - len(found))) for line, found in zip(one.lines, one.filled, strict=True)
        ]
        html += table(one.heads, rows, f"{one.title}. Set: {one.setting}.")
    return f"<h2>Tables of the worksheet</h2>{html}" if html else ""


def _panel_notes(lesson):
    """A table for everything else that is tried: what was set, what was read, what it means."""
    titles = [panel.title for panel in lesson.panels if panel.call.name not in ON_PAPER_ALREADY]
    if not titles:
        return ""
    heads = ("Panel", "What I changed", "What I read, with its unit", "What it means")
    return table(heads, [(title, "", "", "") for title in titles], "Fill in as you go.", "fill named")


def _forms(lesson):
    """Forms that a lesson's job is written on."""
    shown, html = {panel.call.name for panel in lesson.panels}, ""
    if "show_oil_form" in shown:
        rows = [(f"{letter}  {line}", "") for line, letter in FORM]
        html += f"<h2>Oil</h2>{table(('line', 'mL'), rows, '', 'fill named')}"
    if "show_job_sheet" in shown:
        step, *rest = HEADS[1], HEADS[0], *HEADS[2:]
        rows = [(words, *("",) * len(rest)) for words in STEPS.values()]
        html += f"<h2>Job sheet</h2>{table((step, *rest), rows, 'Job number, car, refrigerant, label charge:', 'fill named')}"
    return html


def _questions(lesson, section, units, more=""):
    return "".join(question_html(number, one, units, more) for number, one in lesson.of_section(section))


def worksheet_html(lesson, units, size, tables=()):
    """A lesson's worksheet for one size of paper, a key of SIZES; tables are those of its benches."""
    parts = [
        f"<h1>{escape(lesson.title)}</h1>",
        '<div class="head"><div>Name</div><div>Date</div><div>Group</div></div>',
        f'<p class="faint">Question numbers are those of the lesson; numbers in {escape(units.label)}. All cars are invented.</p>',
    ]
    predict, check = (_questions(lesson, *one) for one in (("predict", units, PREDICTED), ("check", units)))
    check += "".join(spoken_html(one.ask) for one in lesson.spoken if one.heading == "Check")
    bench = _empty_tables(tables) + _drawings(tables, units) + _panel_notes(lesson)
    parts += [f"<h2>Predict</h2>{predict}"] if predict else []
    parts += [f"<h2>At the bench</h2>{bench}"] if bench else []
    parts += [f"<h2>Check</h2>{check}"] if check else []
    parts.append(_forms(lesson))
    if lesson.next_car:
        parts.append(f'<div class="keep"><h2>In the shop</h2><p>{escape(lesson.next_car)}</p>{_line_count(3)}</div>')
    return page(f"Worksheet: {lesson.title}", "\n".join(parts), sheet_style(SIZES[size]))
