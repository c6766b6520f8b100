"""A question and its key as HTML, with boxes and lines to fill in by hand."""

from html import escape

from course.errors import BadDataFile
from course.lessons.marking import CONFIDENCE
from course.lessons.on_paper import key_of, printed_question
from course.paper.page_shell import table
from course.widgets.question_inputs import chart_of

BOX = '<span class="box"></span>'
TELL = {
    "choice": "Tick one.",
    "predict": "Tick one before you look.",
    "order": "Write the place of each step into its box: 1 comes first.",
    "match": "Write one letter into each box.",
    "point": "Tick one point of the chart.",
    "directions": "Tick one in each line.",
    "numeric": "",
}


def _ticked(rows):
    return "<ul>" + "".join(f"<li>{BOX}<span>{escape(row)}</span></li>" for row in rows) + "</ul>"


def _placed(rows):
    items = "".join(f'<li><span class="place"></span><span>{escape(row)}</span></li>' for row in rows)
    return f"<ol>{items}</ol>"


def _matched(printed):
    rights = "".join(f"<li><span>{escape(choice)}</span></li>" for choice in printed.choices)
    return f'<div class="two">{_placed(printed.rows)}<ul>{rights}</ul></div>'


def _directed(printed):
    heads = "".join(f'<th scope="col">{escape(one)}</th>' for one in ("Reading", *printed.choices))
    boxes = f"<td>{BOX}</td>" * len(printed.choices)
    rows = "".join(f'<tr><th scope="row">{escape(row)}</th>{boxes}</tr>' for row in printed.rows)
    return f'<div class="plain"><table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></div>'


def _filled_in(question, printed, units):
    """The part of a question that is filled in by hand."""
    if printed.kind == "numeric":
        return f'<p>Answer: <span class="blank"></span> {escape(printed.unit)} <span class="faint">({escape(printed.hint)})</span></p>'
    if printed.kind == "match":
        return _matched(printed)
    if printed.kind == "directions":
        return _directed(printed)
    if printed.kind == "order":
        return _placed(printed.rows)
    chart = f'<div class="chart">{chart_of(question, units)}</div>' if printed.kind == "point" else ""
    return chart + _ticked(printed.rows)


def _ask(number, text):
    return f"<p><b>{number}.</b> {escape(text)}</p>"


def question_html(number, question, units, more=""):
    """One question to answer by hand; one that cannot be used shows its complaint."""
    if isinstance(question, BadDataFile):
        return f'<section class="asked">{_ask(number, str(question))}</section>'
    printed = printed_question(question, units)
    tell = f'<p class="faint">{TELL[printed.kind]}</p>' if TELL[printed.kind] else ""
    sure = ""
    if printed.confidence:
        boxes = "".join(f"<span>{BOX} {word}</span>" for word in CONFIDENCE)
        sure = f'<p class="sure">How sure are you? {boxes}</p>'
    filled = _filled_in(question, printed, units)
    return f'<section class="asked">{_ask(number, printed.ask)}{tell}{filled}{sure}{more}</section>'


def spoken_html(ask):
    """A question that the lesson's text answers when it is opened, with a line for the answer."""
    return f'<section class="asked"><p>{ask}</p><div class="line"></div></section>'


def _part(part):
    sign = "✓" if part.right else "✗"
    belief = (
        f' <span class="faint">The belief behind it: “{escape(part.belief.rstrip("."))}”.</span>' if part.belief else ""
    )
    shown = table(part.shown[0], part.shown[1:], "The run shows it:") if part.shown else ""
    mark = f"{part.mark}. " if part.mark else ""
    good = ' class="good"' if part.right else ""
    return f"<li><span{good}>{sign} {escape(mark + part.label)}</span>: {escape(part.why)}{belief}{shown}</li>"


def key_html(number, question, units):
    """One question with its answer and the explanation of every answer there was."""
    if isinstance(question, BadDataFile):
        return f'<section class="key">{_ask(number, str(question))}</section>'
    key = key_of(question, units)
    parts = "".join(_part(part) for part in key.parts)
    note = f'<p class="faint">{escape(key.note)}</p>' if key.note else ""
    chart = f'<div class="chart">{chart_of(question, units)}</div>' if key.kind == "point" else ""
    return (
        f'<section class="key">{_ask(number, key.ask)}<p class="good">{escape(key.answer)}</p>{note}{chart}'
        f"<ul>{parts}</ul></section>"
    )
