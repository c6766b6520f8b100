"""What every exported page has: one file without script or network, light on paper, as the reader likes it on a screen."""

import re
from html import escape

from course.charts.style import COLOURS, GRID
from course.errors import WorkbookError

LIGHT = "".join(f"--workbook-{name}:{pair[0]};" for name, pair in COLOURS.items()) + f"--workbook-grid:{GRID[0]};"
DARK = "".join(f"--workbook-{name}:{pair[1]};" for name, pair in COLOURS.items()) + f"--workbook-grid:{GRID[1]};"
# a photocopier knows no colour: what is drawn is black, what stands back is grey
INK = "".join(f"--workbook-{name}:#000;" for name in COLOURS if name not in ("paper", "faint", "healthy"))
INK += "--workbook-faint:#444;--workbook-healthy:#777;--workbook-paper:#fff;--workbook-grid:#bbb;"
# whatever makes a browser fetch something, or run it
LOADED = re.compile(
    r"<(?:script|link|iframe|object|embed)\b[^>]*>|\b(?:src|srcset|poster)\s*=\s*+[\"']?+(?!data:)[^\s\"'>]*"
    r"|xlink:href\s*=\s*[\"'](?![#]|data:)[^\"']*|url\(\s*+[\"']?+(?!#|data:)[^)]*|@import[^;]*",
    flags=re.IGNORECASE,
)

QUESTIONS = """
.asked, .key { break-inside: avoid; border-top: 1px solid var(--workbook-grid); padding: 6px 0 10px; }
.asked p, .key p { margin: 4px 0; }
.asked ul, .asked ol, .key ul { list-style: none; margin: 6px 0; padding: 0; }
.asked li { display: flex; gap: 8px; align-items: baseline; margin: 5px 0; break-inside: avoid; }
.box { flex: none; display: inline-block; width: 0.8em; height: 0.8em; border: 1px solid currentColor; }
.place { flex: none; display: inline-block; width: 1.9em; height: 1.4em; border: 1px solid currentColor; align-self: center; }
.sure { font-size: 0.92em; }
.sure > span { display: inline-flex; gap: 6px; align-items: baseline; margin-left: 1em; }
.blank { display: inline-block; border-bottom: 1px solid currentColor; width: 9em; max-width: 50%; height: 1.4em; }
.line { border-bottom: 1px solid currentColor; height: 1.9em; }
.faint { color: var(--workbook-faint); font-size: 0.92em; }
.two { display: grid; gap: 4px 24px; grid-template-columns: repeat(auto-fit, minmax(min(100%, 260px), 1fr)); align-items: start; }
.key li { margin: 5px 0; break-inside: avoid; }
.chart { max-width: 460px; }
.chart .workbook-stack { display: grid; }
.chart .workbook-stack > * { grid-area: 1 / 1; min-width: 0; }
.chart svg { width: 100%; height: auto; display: block; overflow: visible; }
"""

TABLES = """
.plain table { border-collapse: collapse; margin: 6px 0; max-width: 100%; }
.plain :is(th, td) { border: 1px solid var(--workbook-grid); padding: 4px 8px; text-align: left; vertical-align: top; }
.plain caption { text-align: left; padding: 2px 0 4px; }
.plain, tr { break-inside: avoid; }
thead { display: table-header-group; }
h1, h2, h3 { break-after: avoid; line-height: 1.25; }
"""

SCREEN = f"""
:root {{ color-scheme: light dark; }}
body, .workbook {{ {LIGHT} }}
body {{ margin: 0; font: 16px/1.5 system-ui, sans-serif; color: var(--workbook-ink); background: var(--workbook-paper); }}
main {{ max-width: 900px; margin: 0 auto; padding: 10px 16px 48px; overflow-wrap: break-word; }}
a {{ color: var(--workbook-low); display: inline-block; padding: 0.35em 0; }}
figure {{ margin: 8px 0; }}
figcaption {{ color: var(--workbook-faint); font-size: 13px; }}
.wide {{ overflow-x: auto; max-width: 100%; }}
.still {{ overflow-wrap: normal; margin: 10px 0; }}
pre {{ overflow-x: auto; padding: 8px; border: 1px solid var(--workbook-grid); font-size: 0.88em; }}
.still figure.workbook-bench .workbook-single {{ max-width: 560px; }}
.note {{ border-left: 4px solid var(--workbook-grid); padding-left: 10px; color: var(--workbook-faint); }}
.good {{ font-weight: bold; }}
.lessons {{ list-style: none; padding: 0; }}
.lessons li {{ margin: 6px 0; }}
@media screen and (prefers-color-scheme: dark) {{ body, .workbook {{ {DARK} }} }}
@page {{ margin: 14mm; }}
@media print {{
  :root {{ color-scheme: light; }}
  body {{ font-size: 10.5pt; line-height: 1.35; }}
  main {{ max-width: none; padding: 0; }}
  a {{ color: inherit; padding: 0; }}
  figure, .workbook-stack {{ break-inside: avoid; }}
  .wide {{ overflow: visible; }}
  .still * {{ print-color-adjust: exact; }}
  pre {{ white-space: pre-wrap; break-inside: avoid; }}
  h2 + p {{ break-after: avoid; }}
}}
"""


def sheet_style(size):
    """The style of a black-and-white sheet for one size of paper."""
    return f"""
@page {{ size: {size}; margin: 13mm; }}
body, .workbook {{ {INK} }}
body {{ margin: 0 auto; padding: 8px; max-width: 184mm; font: 10.5pt/1.35 sans-serif; color: #000; background: #fff; }}
h1 {{ font-size: 15pt; margin: 0 0 6pt; }}
h2 {{ font-size: 12pt; margin: 12pt 0 4pt; }}
.plain :is(th, td) {{ border-color: #000; }}
.asked {{ border: 0; padding: 3px 0 9px; }}
.fill {{ width: 100%; table-layout: fixed; }}
.fill td {{ height: 15pt; }}
.fill :is(th, td) {{ overflow-wrap: break-word; }}
.named th:first-child {{ width: 30%; }}
.chart {{ max-width: 105mm; }}
.keep {{ break-inside: avoid; }}
.draw {{ margin: 8pt 0; display: grid; grid-template-columns: 1fr 1fr; gap: 2pt 6mm; align-items: center; }}
.draw figcaption {{ grid-column: 1 / -1; }}
.draw svg {{ width: 100%; height: auto; display: block; }}
.head {{ display: grid; grid-template-columns: 2fr 1fr 1fr; gap: 0 6mm; margin-bottom: 6pt; }}
.head div {{ border-bottom: 1px solid #000; height: 22pt; display: flex; align-items: flex-end; }}
@media print {{ body {{ padding: 0; max-width: none; }} }}
"""


def page(title, body, style, styles=()):
    """A whole page: its own style after those that came with its pictures; one that would fetch anything is refused."""
    brought = "".join(styles)
    whole = (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(title)}</title>\n{brought}<style>{TABLES}{QUESTIONS}{style}</style></head>\n"
        f"<body><main>\n{body}\n</main></body></html>\n"
    )
    loaded = LOADED.search(whole)
    if loaded:
        raise WorkbookError(
            f"{title}: the page would fetch {loaded[0][:80]!r} when it is opened; keep pictures beside the notebook and "
            "leave scripts out."
        )
    return whole


def table(heads, rows, caption="", kind=""):
    """A table of plain text; the first cell of a row names it."""
    said = f"<caption>{escape(caption)}</caption>" if caption else ""
    top = "".join(f'<th scope="col">{escape(head)}</th>' for head in heads)
    lines = "".join(
        f'<tr><th scope="row">{escape(first)}</th>{"".join(f"<td>{escape(cell)}</td>" for cell in rest)}</tr>'
        for first, *rest in rows
    )
    return f'<div class="wide plain"><table class="{kind}">{said}<thead><tr>{top}</tr></thead><tbody>{lines}</tbody></table></div>'
