"""A stored lesson as one page: its text, its still pictures, and its questions where it asks them."""

import re
from html import escape, unescape
from pathlib import Path

from nbconvert.filters.markdown_mistune import IPythonRenderer, MarkdownWithMath

from course.paper.notebook_cells import FOLDED
from course.paper.page_shell import SCREEN, page
from course.paper.question_html import key_html, question_html, spoken_html
from course.paper.worksheet import filled_tables
from course.units import display_units
from course.widgets.preferences import FIRST_UNITS

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"
_STYLE = re.compile(r"<style\b.*?</style>", flags=re.DOTALL)
_ONLY_LIVE = re.compile(r"<(button|script|iframe)\b.*?</\1>", flags=re.DOTALL)
_LINK = re.compile(r'<a\b[^>]*?\bhref="([^"]*)"[^>]*>(.*?)</a>', flags=re.DOTALL)
_PARTED = re.compile(r"(<table>.*?</table>)", flags=re.DOTALL)


def _relinked(html, there):
    """Links go to exported pages; a lesson without one, and a place on the network, become words."""

    def changed(found):
        target, words = unescape(found[1]), found[2]
        if target.startswith("#"):
            return found[0]
        name, ending, place = target.partition(".ipynb")
        if ending and name in there:
            return f'<a href="{escape(name)}.html{escape(place)}">{words}</a>'
        if re.match(r"(https?|mailto):", target) and target not in words:
            return f"{words} ({escape(target)})"
        return words

    return _LINK.sub(changed, html)


def _text_cell(cell, there):
    renderer = IPythonRenderer(
        escape=False,
        exclude_anchor_links=True,
        embed_images=True,
        path=str(NOTEBOOKS),
        attachments=cell.get("attachments"),
    )
    source = FOLDED.sub(lambda found: spoken_html(found[1]), _ONLY_LIVE.sub("", cell.source))
    html = MarkdownWithMath(renderer=renderer).render(source)
    html = _PARTED.sub(r'<div class="wide plain">\1</div>', html.replace("<p></p>", ""))
    return _relinked(html, there)


def _shown(output):
    """One stored output: its picture or table, else its words."""
    data = output.get("data", {})
    words = "".join(data.get("text/plain", "")) or "".join(output.get("text", ""))
    if "text/html" in data:
        # what is folded on a screen lies open on paper
        return _ONLY_LIVE.sub("", "".join(data["text/html"])).replace("<details", "<details open")
    if "image/png" in data:
        picture = "".join(data["image/png"]).replace("\n", "")
        return f'<figure><img alt="{escape(words, quote=True)}" src="data:image/png;base64,{picture}"></figure>'
    return f"<p>{escape(words)}</p>" if words else ""


def _code(cell):
    """A cell's code where the lesson shows it; behind a panel it is hidden."""
    hidden = cell.metadata.get("jupyter", {}).get("source_hidden")
    return "" if hidden or not cell.source.strip() else f"<pre>{escape(cell.source)}</pre>"


def _body(lesson, units, there):
    """The cells in their order, and the style sheets that came with the pictures, each once."""
    parts, styles = [], {}
    for place, cell in enumerate(lesson.cells):
        if cell.cell_type == "markdown":
            parts.append(_text_cell(cell, there))
        elif place in lesson.asked:
            parts += [question_html(number, question, units) for number, question in lesson.asked[place]]
        elif cell.cell_type == "code":
            html = _code(cell) + "".join(_shown(output) for output in cell.outputs)
            styles |= dict.fromkeys(_STYLE.findall(html))
            parts.append(f'<div class="wide still">{_relinked(_STYLE.sub("", html), there)}</div>')
    if lesson.rest:
        parts.append("<h2>More questions</h2>")
        parts += [question_html(number, question, units) for number, question in lesson.rest]
    return "\n".join(parts), tuple(styles)


def _note(lesson, units):
    stored = display_units(FIRST_UNITS)
    asks = f" Questions are in {units.label}." if lesson.questions and units.key != stored.key else ""
    return (
        f'<p class="note">This lesson on paper: its pictures are stills, as stored, in {stored.label}.{asks} Where the text '
        "says press, drag, choose or open, do it in the workbook.</p>"
    )


def lesson_html(lesson, units, there=()):
    """The lesson's page; there names the lessons that have one too, for its links."""
    body, styles = _body(lesson, units, there)
    return page(lesson.title, _note(lesson, units) + body, SCREEN, styles)


def key_page_html(lesson, units, tables=()):
    """The answer key, to keep apart from the page; tables are those of the lesson's benches."""
    intro = (
        f"<h1>Key to {escape(lesson.title)}</h1>"
        f'<p class="note">For instructors. Numbers come from the simulator and are in {units.label}. Question numbers are those of '
        "the lesson's page and of its worksheet. ✓ is right; ✗ has what to say to whoever chose it.</p>"
    )
    keys = "".join(key_html(number, question, units) for number, question in lesson.questions)
    said = "".join(f"<li><b>{one.ask}</b> {one.answer}</li>" for one in lesson.spoken)
    keys += f"<h2>Asked in the text</h2><ul>{said}</ul>" if said else ""
    return page(f"Key: {lesson.title}", intro + keys + filled_tables(tables), SCREEN)


def index_html(entries):
    """The list of exported lessons: entries are name, title, and the endings of what there is of each."""
    words = {"": None, "_worksheet_a4": "worksheet A4", "_worksheet_letter": "worksheet Letter", "_key": "key"}
    items = ""
    for name, title, endings in entries:
        more = " · ".join(
            f'<a href="{escape(name + ending)}.html">{words[ending]}</a>'
            for ending in words
            if ending and ending in endings
        )
        items += f'<li><a href="{escape(name)}.html">{escape(title)}</a>{"<br>" + more if more else ""}</li>'
    body = (
        "<h1>The lessons on paper</h1>"
        '<p class="note">Each page is one file and needs no network. Worksheets print in black and white. Before you hand the folder '
        "on, take out this list and the files whose names end in _key.</p>"
        f'<ul class="lessons">{items}</ul>'
    )
    return page("The lessons on paper", body, SCREEN)
