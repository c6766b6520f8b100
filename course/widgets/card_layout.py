"""A card of the quick reference as HTML for screen and paper, as words, and as a page of its own to print."""

import base64
from dataclasses import dataclass
from html import escape

from course.charts.style import COLOURS, GRID, theme_css

PAPER = "".join(f"--workbook-{name}:{'#fff' if name == 'paper' else '#000'} !important;" for name in [*COLOURS, "grid"])
# nothing says A4 or Letter: the printer's own paper is kept, and the text is as wide as either
CARD_STYLE = f"""<style>
{theme_css()}
.workbook-card {{ font-size: 13px; line-height: 1.35; color: var(--workbook-ink); container-type: inline-size; max-width: 1000px; }}
.workbook-panel.workbook-reference {{ grid-template-columns: minmax(0, 1fr); }}
.workbook-card-choices {{ max-width: 620px; }}
.workbook-card h3 {{ font-size: 18px; margin: 6px 0; color: var(--workbook-ink); }}
.workbook-card p {{ margin: 3px 0; font-size: 13px; }}
.workbook-card svg {{ display: block; width: 100%; max-width: 520px; height: auto; }}
.workbook-tables {{ display: grid; gap: 10px 24px; grid-template-columns: minmax(0, 1fr); align-items: start; }}
.workbook-card .workbook-tables table {{ border-collapse: collapse; table-layout: auto; width: 100%; font-size: 13px; margin: 0; }}
.workbook-card .workbook-tables caption {{ text-align: left; font-weight: bold; font-size: 13px; padding: 8px 0 3px 0; color: var(--workbook-ink); }}
.workbook-card .workbook-tables :is(th, td) {{ text-align: left; vertical-align: top; padding: 3px 6px; white-space: normal; }}
.workbook-card .workbook-tables :is(th, td) {{ color: var(--workbook-ink); background: none; overflow-wrap: break-word; max-width: none; }}
.workbook-card .workbook-tables thead th {{ border-bottom: 2px solid var(--workbook-ink); vertical-align: bottom; overflow-wrap: break-word; }}
.workbook-card .workbook-tables tbody tr {{ border-top: 1px solid var(--workbook-grid, {GRID[0]}); background: none; }}
.workbook-card .workbook-tables tbody th {{ font-weight: normal; }}
.workbook-card .workbook-tables .workbook-numbers :is(td, thead th + th) {{ text-align: right; }}
.workbook-card .workbook-tables .workbook-numbers :is(td, tbody th) {{ white-space: nowrap; }}
.workbook-long {{ max-height: 520px; overflow-y: auto; border-bottom: 1px solid var(--workbook-grid, {GRID[0]}); }}
.workbook-long:focus-visible {{ outline: 3px solid var(--jp-brand-color1, #1976d2); }}
.workbook-print-link {{ display: inline-block; padding: 12px 0; font-size: 14px; color: var(--workbook-low); text-decoration: underline; }}
@container (min-width: 620px) {{ .workbook-tables.workbook-pair {{ grid-template-columns: repeat(2, minmax(0, 1fr)); }} }}
@container (max-width: 519px) {{
  .workbook-card .workbook-tables .workbook-numbers :is(th, td) {{ font-size: 12px; padding: 3px 0 3px 4px; font-weight: normal; }}
  .workbook-card .workbook-tables .workbook-numbers :is(td, tbody th) {{ white-space: normal; }}
  .workbook-card .workbook-tables table.workbook-words-table thead {{ display: none; }}
  .workbook-card .workbook-tables table.workbook-words-table :is(tr, th, td) {{ display: block; padding: 2px 0; }}
  .workbook-card .workbook-tables table.workbook-words-table tbody tr {{ padding: 6px 0; }}
  .workbook-card .workbook-tables table.workbook-words-table tbody th {{ font-weight: bold; }}
  .workbook-card .workbook-tables table.workbook-words-table td::before {{ content: attr(data-head) ": "; color: var(--workbook-faint); }}
}}
@media print {{
  .workbook-card, .workbook-card .workbook {{ {PAPER} }}
  .workbook-card, .workbook-card * {{ color: #000 !important; background: #fff !important; }}
  .workbook-card {{ font-size: 8.5pt; max-width: none; break-inside: avoid; container-type: normal; }}
  .workbook-card h3 {{ font-size: 12pt; break-after: avoid; }}
  .workbook-card p, .workbook-card .workbook-tables table, .workbook-card .workbook-tables caption {{ font-size: 8.5pt; }}
  .workbook-card .workbook-tables :is(th, td) {{ padding: 0.6pt 4pt; }}
  .workbook-card .workbook-tables tbody tr {{ border-top: 0.4pt solid #000; break-inside: avoid; }}
  .workbook-tables.workbook-pair {{ grid-template-columns: repeat(2, minmax(0, 1fr)); }}
  .workbook-card .workbook-tables table.workbook-words-table thead {{ display: table-header-group; }}
  .workbook-long {{ max-height: none; overflow: visible; }}
  .workbook-card svg {{ max-width: 230pt; }}
  .workbook-print-link, .jp-CodeCell:has(.workbook-card) .jp-Cell-inputWrapper {{ display: none; }}
  .jp-CodeCell:has(.workbook-card) .jp-OutputPrompt {{ display: none; }}
  .jp-MarkdownCell:has(+ .jp-CodeCell .workbook-card) {{ break-after: avoid; }}
  @page {{ margin: 12mm; }}
}}
</style>"""


@dataclass(frozen=True)
class Table:
    """Rows under heads, all in words; the first cell of a row names it."""

    title: str
    heads: tuple
    rows: tuple
    numbers: bool = False  # numbers stand to the right; words wrap
    long: bool = False  # on a screen in a window of its own


@dataclass(frozen=True)
class Card:
    """What one card says."""

    title: str
    notes: tuple  # sentences above the tables
    tables: tuple
    picture: str = ""
    pair: bool = False  # tables side by side where there is room
    below: tuple = ()  # sentences under the tables


def table_html(table):
    """One table, every head and row named for a screen reader."""
    heads = "".join(f'<th scope="col">{escape(head)}</th>' for head in table.heads)
    named = [escape(head, quote=True) for head in table.heads[1:]]  # on a phone each cell carries its own head
    rows = "".join(
        f'<tr><th scope="row">{escape(first)}</th>'
        + "".join(f'<td data-head="{head}">{escape(cell)}</td>' for head, cell in zip(named, rest, strict=True))
        + "</tr>"
        for first, *rest in table.rows
    )
    kind = "workbook-numbers" if table.numbers else "workbook-words-table"
    body = (
        f'<table class="{kind}"><caption>{escape(table.title)}</caption><thead><tr>{heads}</tr></thead>'
        f"<tbody>{rows}</tbody></table>"
    )
    if not table.long:
        return body
    return f'<div class="workbook-long" tabindex="0" role="region" aria-label="{escape(table.title, quote=True)}">{body}</div>'


def _paragraphs(sentences):
    return "".join(f"<p>{escape(one)}</p>" for one in sentences)


def card_html(card):
    """A whole card."""
    pair = " workbook-pair" if card.pair else ""
    tables = "".join(table_html(table) for table in card.tables)
    return (
        f'<section class="workbook workbook-card"><h3>{escape(card.title)}</h3>{_paragraphs(card.notes)}{card.picture}'
        f'<div class="workbook-tables{pair}">{tables}</div>{_paragraphs(card.below)}</section>'
    )


def card_text(card):
    """A whole card in words, a line for each row."""
    lines = [card.title, *card.notes]
    for table in card.tables:
        lines += [table.title, " | ".join(table.heads), *(" | ".join(row) for row in table.rows)]
    return "\n".join([*lines, *card.below])


def page_to_print(card):
    """The card as a page of its own, in black and white."""
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{escape(card.title)}</title>{CARD_STYLE}</head>'
        f"<body>{card_html(card)}</body></html>"
    )


def print_link(card, name):
    """A link that saves the card as a page; opened in a browser it prints on whatever paper is in the printer."""
    page = base64.b64encode(page_to_print(card).encode("utf-8")).decode("ascii")
    return (
        f'<a class="workbook-print-link" download="{escape(name, quote=True)}.html" '
        f'href="data:text/html;charset=utf-8;base64,{page}">Print this card: save the page, open it, print it</a>'
    )
