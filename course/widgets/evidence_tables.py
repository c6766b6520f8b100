"""The tables of the evidence panels as HTML that a screen reader can walk and a phone can show."""

from html import escape

from course.charts.direction_table import SIGNS, cell_words, least_words
from course.charts.printed_readings import ours_words, published_words, strip_svg
from course.charts.style import GRID
from course.evidence.direction_table import READINGS

EVIDENCE_STYLE = f"""<style>
.workbook-panel.workbook-evidence {{ grid-template-columns: minmax(0, 1fr); }}
.workbook-evidence-choices {{ max-width: 700px; }}
.workbook-evidence > *, .workbook-evidence .widget-html-content {{ min-width: 0; }}
.workbook-evidence-words {{ margin: 4px 0; font-size: 14px; }}
.workbook-evidence table, figure.workbook-bench table.workbook {{ border-collapse: collapse; width: 100%; font-size: 13px; }}
table.workbook caption {{ text-align: left; font-size: 13px; padding: 4px 0; color: var(--workbook-ink); }}
table.workbook th, table.workbook td {{ text-align: left; vertical-align: top; padding: 5px 6px; }}
table.workbook th, table.workbook td {{ color: var(--workbook-ink); background: none; white-space: normal; }}
table.workbook tbody tr {{ border-top: 1px solid var(--workbook-grid, {GRID[0]}); background: none; }}
table.workbook tbody th {{ font-weight: normal; }}
table.workbook-directions {{ max-width: 900px; }}
table.workbook-directions thead th {{ vertical-align: bottom; text-align: center; }}
table.workbook-directions thead th:first-child {{ text-align: left; }}
table.workbook-directions td {{ text-align: center; white-space: nowrap; }}
table.workbook-directions td.workbook-otherwise {{ outline: 2px solid var(--workbook-ink); outline-offset: -4px; }}
.workbook-heard {{ position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }}
table.workbook-directions td {{ position: relative; }}
.workbook-scroll {{ max-height: 560px; overflow-y: auto; border-bottom: 1px solid var(--workbook-grid, {GRID[0]}); }}
.workbook-scroll:focus-visible {{ outline: 3px solid var(--jp-brand-color1, #1976d2); }}
table.workbook-printed {{ max-width: 1000px; }}
table.workbook-printed svg {{ width: 150px; height: 22px; display: block; }}
table.workbook-printed td:nth-child(3) {{ min-width: 210px; }}
table.workbook-printed td:last-child {{ white-space: nowrap; }}
table.workbook-printed .workbook-why {{ font-weight: bold; display: block; margin-top: 3px; }}
table.workbook-printed small {{ display: block; font-size: 12px; color: var(--workbook-faint); }}
.workbook-sheet {{ max-width: 760px; overflow-x: auto; }}
.workbook-sheet svg {{ break-inside: avoid; width: 100%; min-width: 660px; height: auto; }}
details.workbook summary {{ cursor: pointer; padding: 10px 0; font-size: 13px; }}
details.workbook li {{ margin: 4px 0; }}
details.workbook small {{ font-size: 12px; color: var(--workbook-faint); }}
@container (max-width: 640px) {{
  table.workbook-directions .workbook-sign-word {{ position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }}
  table.workbook-directions th, table.workbook-directions td {{ padding: 5px 1px; font-size: 12px; }}
  table.workbook-directions thead th + th {{ writing-mode: vertical-rl; transform: rotate(180deg); text-align: left; }}
  table.workbook-printed thead {{ display: none; }}
  table.workbook-printed td:nth-child(3) {{ min-width: 0; }}
  table.workbook-printed tr, table.workbook-printed td, table.workbook-printed tbody th {{ display: block; padding: 3px 0; }}
  table.workbook-printed tbody tr {{ padding: 6px 0; }}
}}
@media print {{ .workbook-scroll {{ max-height: none; overflow: visible; }} }}
</style>"""


def _cell_html(cell):
    """One direction: its sign, its word, and what the sources say where they say otherwise."""
    words = escape(cell_words(cell))
    severe = cell.directions[1]
    if severe in words and severe != "none":
        words = words.replace(f" {severe}", f'<span class="workbook-sign-word"> {severe}</span>')
    words = words.replace("at rest", '–<span class="workbook-heard"> at rest</span>')
    doubt = "?" if cell.mark == "conflicting" else ""
    if cell.agrees is False:
        said = f'<span class="workbook-heard">, sources say {escape(" or ".join(cell.expect))}</span>'
        return f'<td class="workbook-otherwise">{words}{doubt}{said}</td>'
    return f"<td>{words}{doubt}</td>"


def directions_html(table, units):
    """The direction table of a car."""
    heads = "".join(f'<th scope="col">{escape(name)}</th>' for name, *_ in READINGS.values())
    rows = "".join(
        f'<tr><th scope="row">{escape(name)}</th>'
        f"{''.join(_cell_html(table.cells[row, reading]) for reading in READINGS)}</tr>"
        for row, name in table.rows.items()
    )
    key = (
        f"{SIGNS['up']} up, {SIGNS['down']} down, {SIGNS['same']} no change. In brackets: only when the fault is severe. "
        f"Two signs: first the mild fault, then the severe one. Box: papers and trade say otherwise. "
        f"Question mark: they disagree among themselves. Dash: the compressor is at rest. "
        f"A change counts from: {least_words(table, units)}."
    )
    return (
        f'<table class="workbook workbook-directions"><caption>{escape(key)}</caption>'
        f'<thead><tr><th scope="col">Fault</th>{heads}</tr></thead><tbody>{rows}</tbody></table>'
    )


def disagreements_html(table):
    """Every cell that goes another way than its sources, with the physics of it."""
    items = ""
    for cell in table.disagreements():
        others = f"; others say {' or '.join(cell.others)}" if cell.others else ""
        mark = " (marked weak)" if cell.mark == "weak" else ""
        said = f"sources say {' or '.join(cell.expect)}{mark}{others}"
        items += (
            f"<li><b>{escape(table.rows[cell.row])}, {escape(READINGS[cell.reading][0])}</b>: ours "
            f"{escape(cell_words(cell))}, {escape(said)}. {escape(cell.why)} "
            f"<small>Source: {escape(cell.source)}.</small></li>"
        )
    count = len(table.disagreements())
    return (
        f'<details class="workbook"><summary>The {count} boxes, and the physics of each</summary>'
        f"<ul>{items}</ul></details>"
    )


def readings_html(found, topics, units):
    """Published readings with ours and the verdict, topic by topic, in a window of their own."""
    rows, topic = "", None
    for one in found:
        if one.topic != topic:
            topic = one.topic
            rows += f'<tr><th colspan="4" scope="rowgroup"><b>{escape(topics[topic])}</b></th></tr>'
        why = f'<span class="workbook-why">{escape(one.why_outside)}</span>' if one.why_outside else ""
        rows += (
            f'<tr><th scope="row">{escape(one.reading)}: {escape(one.conditions)}{why}'
            f"<small>{escape(one.source)}. Ours: the {escape(one.car)} ({escape(one.stands_in)}).</small></th>"
            f"<td>{strip_svg(one, '')}</td>"
            f"<td>published {escape(published_words(one, units))}<br>ours {escape(ours_words(one, units))}</td>"
            f"<td><b>{one.verdict}</b></td></tr>"
        )
    rows = rows or '<tr><th colspan="4" scope="row">Nothing here.</th></tr>'
    heads = "".join(f'<th scope="col">{head}</th>' for head in ("What was published", "Picture", "Numbers", "Verdict"))
    key = "Box: what was published, with what is allowed on it. Filled dot: ours, inside. Open dot: ours, outside."
    return (
        '<div class="workbook-scroll" tabindex="0" role="region" aria-label="Published readings and ours">'
        f'<table class="workbook workbook-printed"><caption>{key}</caption>'
        f"<thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></div>"
    )


def left_out_html(title, entries):
    """What the sources have and we do not, each with its reason."""
    items = "".join(f"<li>{escape(one.what)}. {escape(one.why)}</li>" for one in entries.values())
    return f'<details class="workbook"><summary>{escape(title)}</summary><ul>{items}</ul></details>'


def row_words(one, units):
    """One published reading in a line of words."""
    why = f" ({one.why_outside})" if one.why_outside else ""
    return (
        f"{one.reading}, {one.conditions}, {one.car}: published {published_words(one, units)}, "
        f"ours {ours_words(one, units)}, {one.verdict}{why}"
    )
