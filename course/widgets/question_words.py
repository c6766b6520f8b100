"""What a question panel says back: the verdict, an explanation for every part, the run that shows it."""

from html import escape

from course.lessons.marking import CERTAIN, run_rows
from course.tables import read_misconceptions

QUESTION_STYLE = """<style>
.workbook-asked { border-top: 1px solid var(--workbook-grid); padding: 6px 0 10px 0; font-size: 14px; }
.workbook-asked .workbook { font-size: 14px; }
.workbook-asked > .workbook-two { display: grid; gap: 6px 24px; grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); align-items: start; }
.workbook-asked p { margin: 4px 0; line-height: 1.45; }
.workbook-asked .workbook-hint, .workbook-asked .workbook-hint p { color: var(--workbook-faint); font-size: 13px; }
.workbook-asked .widget-label, .workbook-asked .widget-html-content { line-height: 1.4; height: auto; white-space: normal; }
.workbook-asked button, .workbook-asked select, .workbook-asked input[type="text"] { min-height: 44px; font-size: 14px; height: 44px; }
.workbook-asked .widget-button { width: auto; min-width: 120px; padding: 0 16px; align-self: flex-start; }
.workbook-asked .workbook-choice { width: auto; margin: 2px; }
.workbook-asked .workbook-choice .widget-radio-box { margin: 0; }
.workbook-asked .widget-dropdown, .workbook-asked .widget-text { height: auto; align-items: center; }
.workbook-asked .workbook-choice label { min-height: 44px; font-size: 14px; }
.workbook-asked .workbook-choice input { width: 18px; height: 18px; }
.workbook-asked .widget-radio-box { gap: 0; }
.workbook-asked .widget-radio-box-horizontal { flex-flow: row wrap; gap: 0 18px; margin: 0; }
.workbook-line { display: grid; grid-template-columns: minmax(0, 2fr) minmax(0, 3fr); align-items: center; gap: 0 10px; }
.workbook-line.workbook-place { grid-template-columns: minmax(0, 1fr) 110px; }
.workbook-line .widget-inline-hbox { width: auto; margin: 2px; }
.workbook-asked .widget-text .widget-label, .workbook-asked .widget-dropdown .widget-label { width: auto; }
.workbook-pick { position: relative; max-width: 460px; margin: 0; overflow: visible; }
.workbook-pick > .widget-html { width: 100%; margin: 0; }
.workbook-asked .workbook-point { position: absolute; width: 44px; min-width: 44px; height: 44px; margin: -22px 0 0 -22px; padding: 0;
  background: transparent; border: 2px solid transparent; border-radius: 50%; box-shadow: none; cursor: pointer; }
.workbook-asked .workbook-point:hover, .workbook-asked .workbook-point:focus-visible { border: 2px dashed var(--workbook-ink); outline: none; }
.workbook-asked .workbook-picked { border: 3px solid var(--workbook-ink); }
.workbook-asked a { text-decoration: underline; color: var(--workbook-low); display: inline-block; padding: 12px 0; }
.workbook-verdict { font-weight: bold; font-size: 15px; }
.workbook-told { margin: 4px 0; padding-left: 20px; }
.workbook-told li { margin: 4px 0; line-height: 1.45; }
.workbook-refuted { border-left: 4px solid var(--workbook-warning); padding: 2px 0 2px 10px; margin: 6px 0; }
.workbook-asked table { border-collapse: collapse; margin: 6px 0; font-size: 13px; }
.workbook-asked th, .workbook-asked td { border-bottom: 1px solid var(--workbook-grid); padding: 3px 10px 3px 0; }
.workbook-asked th, .workbook-asked td { text-align: left; vertical-align: top; }
.workbook-complaint { border-left: 4px solid var(--workbook-warning); padding-left: 10px; color: var(--workbook-warning); font-weight: bold; }
@container (max-width: 680px) { .workbook-asked > .workbook-two { grid-template-columns: minmax(0, 1fr); } }
@container (max-width: 420px) { .workbook-line.workbook-pair { grid-template-columns: minmax(0, 1fr); } }
@container (max-width: 420px) { .workbook-asked .widget-radio-box-horizontal { gap: 0 12px; } }
</style>"""


def table_html(rows):
    """The run that shows it, as a small table."""
    head, *body = rows
    heads = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in head)
    lines = "".join(
        f'<tr><th scope="row">{escape(name)}</th>{"".join(f"<td>{escape(cell)}</td>" for cell in cells)}</tr>'
        for name, *cells in body
    )
    return f"<table><thead><tr>{heads}</tr></thead><tbody>{lines}</tbody></table>"


def _verdict(question, marked, confidence):
    if marked.right:
        return "Right, though you called it a guess." if confidence == "a guess" else "Right."
    if question.table.kind == "predict":
        sure = "You were certain, and it is not so" if confidence == CERTAIN else "Not this time"
        return f"{sure}: now run it below and see."
    return "You were certain, and it is not so." if confidence == CERTAIN else "Not yet: read why, then try again."


def _refutation(question, marked, confidence, units):
    """What most of us learned, why it is not so, and the run that breaks it."""
    if marked.right or not (marked.misconception or marked.shows):
        return ""
    said = ""
    if marked.misconception:
        belief = read_misconceptions()[marked.misconception].says.rstrip(".")
        said = f"<p>Most of us learned: “{escape(belief)}”. That does not hold here.</p>"
    shown = table_html(run_rows(question, marked.shows, units)) if marked.shows else ""
    if shown:
        sure = "You were certain, so look at the run that breaks it:" if confidence == CERTAIN else "The run shows it:"
        shown = f"<p>{sure}</p>{shown}"
    return f'<div class="workbook-refuted">{said}{shown}</div>'


def feedback_html(question, marked, confidence, units):
    """Everything that is said to an answer."""
    if not marked.counted:
        return f'<p class="workbook" role="alert">{escape(marked.problem)}</p>'
    signs = {True: "✓ ", False: "✗ ", None: ""}
    several = question.table.kind in ("match", "directions", "numeric", "order")
    items = "".join(
        f"<li><b>{signs[part.right]}{escape(question.fill(part.label, units))}</b>"
        f"{' (your answer)' if part.chosen and not several else ''}: {escape(question.fill(part.why, units))}</li>"
        for part in marked.parts
    )
    return (
        f'<div class="workbook" role="status"><p class="workbook-verdict">{_verdict(question, marked, confidence)}</p>'
        f'{_refutation(question, marked, confidence, units)}<ul class="workbook-told">{items}</ul></div>'
    )


def kept_html(problem):
    """A sentence about the record, beside the feedback; empty where nothing is to be said."""
    return f'<p class="workbook workbook-hint" role="alert">{escape(problem)}</p>' if problem else ""
