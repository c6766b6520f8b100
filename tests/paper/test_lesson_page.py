"""A lesson's page: the text as it stands, links to exported pages alone, buttons gone, pictures kept, folded answers left out."""

import base64
import re

import nbformat
import pytest

from course.errors import WorkbookError
from course.paper.lesson_page import index_html, key_page_html, lesson_html
from course.paper.notebook_cells import paper_lesson
from course.units import display_units

UNITS = display_units("psi_f")


def lesson(*cells, name="90_none"):
    return paper_lesson(name, cells)


def text(source):
    return nbformat.v4.new_markdown_cell(source)


def code(source, **data):
    output = nbformat.v4.new_output(
        "execute_result", data={key.replace("_", "/"): value for key, value in data.items()}
    )
    return nbformat.v4.new_code_cell(source, outputs=[output])


def test_links_go_to_pages_that_are_there():
    cells = [text("[06 · Charge](06_charge.ipynb#check) or [07](07_high.ipynb), see [a paper](https://example.org/p)")]
    html = lesson_html(lesson(*cells), UNITS, there={"06_charge"})
    assert '<a href="06_charge.html#check">06 · Charge</a> or 07, see a paper (https://example.org/p)' in html
    assert ".ipynb" not in html


def test_links_of_a_stored_panel_are_words_too():
    html = lesson_html(
        lesson(code("1", text_html='<a download="a.csv" href="data:text/csv;base64,AA">Export as table</a>')), UNITS
    )
    assert "Export as table" in html
    assert "data:text/csv" not in html


def test_buttons_of_the_notebook_are_left_out_and_its_words_kept():
    html = lesson_html(
        lesson(text("# 90\n\n<button data-x='{\"a\": 1}'>Start this lesson</button>\n\n**Five** minutes.")), UNITS
    )
    assert "<button" not in html
    assert "Start this lesson" not in html
    assert "<strong>Five</strong> minutes." in html


def test_pictures_stay_where_they_lie_and_a_style_stands_once():
    picture = '<style>.x{color:red}</style><figure><svg role="img" aria-label="gauges"></svg></figure><details><p>more</p></details>'
    html = lesson_html(
        lesson(text("before"), code("1", text_html=picture), code("2", text_html=picture), text("afterwards")), UNITS
    )
    assert html.count("<style>.x{color:red}</style>") == 1
    assert html.index("before") < html.index('aria-label="gauges"') < html.index("afterwards")
    assert html.count("<details open>") == 2


def test_a_stored_image_has_its_words_beside_it():
    png = base64.b64encode(b"picture").decode()
    html = lesson_html(lesson(code("1", image_png=png, text_plain='both "needles"')), UNITS)
    assert f'<img alt="both &quot;needles&quot;" src="data:image/png;base64,{png}">' in html


def test_code_is_printed_where_the_lesson_shows_it():
    hidden = code("show_bench()  # hidden", text_plain="low side")
    hidden.metadata["jupyter"] = {"source_hidden": True}
    html = lesson_html(lesson(code("1 < 2  # to copy", text_plain="True"), hidden), UNITS)
    assert "<pre>1 &lt; 2  # to copy</pre>" in html
    assert "show_bench" not in html


def test_an_output_of_words_alone_is_printed():
    assert "<p>low side 2 &lt; 3</p>" in lesson_html(lesson(code("1", text_plain="low side 2 < 3")), UNITS)


def test_questions_stand_where_they_are_asked_in_place_of_what_was_stored():
    cells = [text("before"), code('ask("hot_day_low_charge")', text_html="<p>stored</p>"), text("afterwards")]
    html = lesson_html(lesson(*cells, name="00_start_here"), UNITS)
    assert "stored</p>" not in html
    assert (
        html.index("before")
        < html.index("six tenths of this sedan")
        < html.index("afterwards")
        < html.index("More questions")
    )
    assert re.search(r'<span class="box"></span><span>A\. Both needles drop in step', html)


def test_folded_answers_go_to_the_key():
    made = lesson(text("## Check\n\n<details><summary>Why?</summary>The receiver.</details>"))
    page, key = lesson_html(made, UNITS), key_page_html(made, UNITS)
    assert "Why?" in page
    assert "The receiver." not in page
    assert "<b>Why?</b> The receiver." in key


def test_other_units_are_said():
    made = lesson(code('ask("hot_day_low_charge")'))
    assert "Questions are in" not in lesson_html(made, UNITS)
    assert "in psi and °F. Questions are in bar and °C." in lesson_html(made, display_units("bar_c"))


def test_a_picture_of_the_network_is_refused():
    with pytest.raises(WorkbookError, match=r"would fetch 'src=\"https://example.org/a.png"):
        lesson_html(lesson(text("# 90 · Own\n\n![gauges](https://example.org/a.png)")), UNITS)


def test_the_list_names_what_there_is():
    html = index_html([("06_charge", "06 · Charge", ["", "_key"]), ("80_quick", "80 · Quick", [""])])
    assert '<a href="06_charge_key.html">key</a>' in html
    assert "worksheet" not in html.partition("<ul")[2]
