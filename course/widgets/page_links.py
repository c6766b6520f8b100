"""Pages of the workbook as links: in JupyterLab they open beside what is open, elsewhere they are plain relative links."""

import json
from html import escape

from course.tables import read_course

START_STYLE = """<style>
.workbook-panel.workbook-start { display: block; }
.workbook-start, .workbook-start .workbook { font-size: 14px; }
.workbook-start a { color: var(--workbook-low); text-decoration: underline; display: inline-block; padding: 12px 0; line-height: 20px; }
.workbook-start a:hover { color: var(--workbook-low); text-decoration: underline; text-decoration-thickness: 2px; }
.workbook-start a.workbook-first:is(a, :hover) { background: var(--workbook-low); color: var(--workbook-paper, #ffffff); }
.workbook-start a:focus-visible { outline: 3px solid var(--jp-brand-color1, #1976d2); outline-offset: 2px; }
.workbook-start a.workbook-go { border: 2px solid var(--workbook-low); border-radius: 4px; padding: 10px 18px; margin: 4px 12px 4px 0;
  text-decoration: none; font-weight: bold; }
.workbook-start p { margin: 4px 0; line-height: 1.45; }
.workbook-start .widget-html-content { line-height: 1.4; height: auto; white-space: normal; }
.workbook-start .widget-button { min-height: 44px; height: auto; width: auto; padding: 0 16px; font-size: 14px; }
/* said twice, so that it goes before the page's own style of tables */
table.workbook-pages.workbook-pages { display: table; table-layout: auto; border: 0; border-collapse: collapse; width: 100%;
  max-width: 1200px; margin: 0; font-size: 14px; color: var(--workbook-ink); }
.workbook-pages.workbook-pages caption { text-align: left; padding: 6px 0; color: var(--workbook-faint); white-space: normal; }
.workbook-pages.workbook-pages tr { background: none; border: 0; }
.workbook-pages.workbook-pages :is(th, td) { text-align: left; vertical-align: middle; max-width: none; padding: 2px 16px 2px 0;
  border: 0; border-bottom: 1px solid var(--workbook-grid); line-height: 1.4; white-space: normal; font-size: 14px; }
.workbook-pages.workbook-pages th[scope="rowgroup"] { padding-top: 12px; color: var(--workbook-faint); border-bottom-width: 2px; }
.workbook-pages.workbook-pages th[scope="row"] { width: 300px; }
.workbook-pages.workbook-pages .workbook-minutes { width: 80px; white-space: nowrap; }
.workbook-pages.workbook-pages .workbook-progress { width: 215px; font-size: 13px; color: var(--workbook-faint); }
.workbook-pages svg { width: 120px; height: 12px; display: block; margin-bottom: 2px; }
.workbook-seek { max-width: 620px; overflow: visible; }
.workbook-seek .workbook-choice .widget-radio-box { flex-flow: row wrap; gap: 0 18px; margin: 0; }
.workbook-seek .workbook-choice { width: auto; margin: 0; }
.workbook-seek .workbook-choice label { min-height: 44px; font-size: 14px; }
.workbook-seek .workbook-choice input { width: 18px; height: 18px; }
.workbook-seek .widget-dropdown { height: auto; align-items: center; }
.workbook-seek .widget-dropdown .widget-label { width: 96px !important; font-size: 14px; }
.workbook-seek select { min-height: 44px; height: 44px; font-size: 14px; }
.workbook-seek .workbook-hint { color: var(--workbook-faint); font-size: 13px; }
.workbook-found { margin: 4px 0; padding-left: 22px; min-height: 220px; }
.workbook-found li { margin: 0 0 4px 0; line-height: 1.4; }
.workbook-columns { columns: 300px 3; column-gap: 24px; }
.workbook-columns h3 { font-size: 15px; margin: 0 0 4px 0; break-after: avoid; }
.workbook-columns ul { margin: 0 0 12px 0; padding-left: 18px; }
.workbook-columns li { margin: 2px 0; line-height: 1.4; break-inside: avoid; }
.workbook-columns.workbook-start li a { padding: 0; display: inline; }
@container (max-width: 680px) {
  .workbook-seek .widget-dropdown { flex-flow: row wrap; }
  .workbook-seek .widget-dropdown :is(.widget-label, select) { width: 100% !important; flex: 1 1 100%; text-align: left; }
  .workbook-columns { columns: auto 1; }
  .workbook-columns.workbook-start li a { padding: 12px 0; display: inline-block; }
  .workbook-pages.workbook-pages thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  .workbook-pages.workbook-pages :is(tbody, tr, th, td, caption), table.workbook-pages.workbook-pages {
    display: block; width: auto !important; }
  .workbook-pages.workbook-pages :is(th, td) { border-bottom: 0; padding: 0 0 2px 0; }
  .workbook-pages.workbook-pages tr { border-bottom: 1px solid var(--workbook-grid); padding-bottom: 8px; }
  .workbook-start a.workbook-go { display: block; margin-right: 0; }
}
</style>"""


def label_of(page):
    """What a page is called, with its number."""
    number = f"{page[:2]} · " if page[:2].isdigit() else ""
    return f"{number}{read_course().page[page].title}"


def minutes_of(page):
    """How long a page takes, in words; empty for a page to look things up on."""
    length = read_course().page[page].length_minutes
    return f"{length.value} minutes" if length else ""


def link_to(page, words=None, kind=""):
    """A link that opens a page, by click and by keyboard."""
    file = f"{page}.ipynb"
    opens = escape(json.dumps({"path": file}), quote=True)
    return (
        f'<a class="{kind}" href="{file}" data-commandlinker-command="docmanager:open" '
        f'data-commandlinker-args="{opens}">{escape(words or label_of(page))}</a>'
    )
