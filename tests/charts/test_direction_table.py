"""The direction table on paper: every cell there, boxes where sources say otherwise, on A4 and Letter, without colour."""

import re

import pytest

from course.charts.direction_table import KEY, cell_words, describe_direction_table, draw_direction_table, table_shapes
from course.charts.shapes import svg
from course.charts.style import new_figure
from course.evidence.direction_table import Cell, direction_table
from course.units import UNIT_SETS
from tests.charts.svg_reading import box, lines, overlapping, texts, words

CARS = ("sedan", "compact", "pickup")
A4, LETTER = (595.3, 841.9), (612.0, 792.0)  # px of 1/72 inch: ISO 216 and ANSI Y14.1
MARGIN = 28.0  # px: 1 cm, which every printer leaves


def cell(mild, severe):
    return Cell("row", "low_side", (mild, severe), (0.0, 0.0), (), (), "silent", "", "")


@pytest.mark.parametrize(
    ("directions", "shown"),
    [
        (("up", "up"), "▲ up"),
        (("same", "same"), "= same"),
        (("same", "down"), "(▼ down)"),
        (("up", "down"), "▲▼"),
        (("up", "same"), "▲="),
        (("same", "none"), "at rest"),
    ],
)
def test_a_cell_says_both_sizes_of_the_fault(directions, shown):
    assert cell_words(cell(*directions)) == shown


@pytest.fixture(params=CARS)
def sheet(request):
    """One car's table with its picture."""
    table = direction_table(request.param)
    shapes, width, height = table_shapes(table, UNIT_SETS["psi_f"])
    return table, svg(shapes, width, height, table.name), width, height


def test_the_sheet_fits_both_papers(sheet):
    _, picture, width, height = sheet
    for paper in (A4, LETTER):
        assert width <= paper[0] - 2.0 * MARGIN + 1.0
        assert height <= paper[1] - 2.0 * MARGIN
    for element in texts(picture):
        left, top, right, bottom = box(element)
        assert left >= -0.5 and right <= width + 0.5 and top >= 0.0 and bottom <= height, element.text
    assert overlapping([picture]) == []


def test_every_cell_and_every_disagreement_is_drawn(sheet):
    table, picture, *_ = sheet
    shown = words(picture)
    for one in table.cells.values():
        assert any(word.rstrip("?") == cell_words(one) for word in shown)
    assert set(table.rows.values()) <= set(shown)
    boxes = [line for line in lines(picture) if len(line) == 4]
    assert len(boxes) == len(table.disagreements())
    assert sum(word.endswith("?") for word in shown) == sum(one.mark == "conflicting" for one in table.cells.values())
    assert all(line in shown for line in KEY)


def test_a_photocopier_loses_nothing(sheet):
    assert set(re.findall(r"#[0-9a-f]{6}", sheet[1])) == {"#1f2328"}


def test_it_is_drawn_on_an_axes_too(sheet):
    table, picture, width, height = sheet
    axes = new_figure(width, height).add_axes((0.0, 0.0, 1.0, 1.0))
    draw_direction_table(axes, table, UNIT_SETS["psi_f"])
    assert [text.get_text() for text in axes.texts] == words(picture)


def test_the_words_count_and_name_what_moves():
    said = describe_direction_table(direction_table("pickup"))
    assert "Sources speak about 91 cells: 75 agree, 16 do not." in said
    assert "Warm air mixed in: vent ▲ up." in said
    assert "Charge short, reserve left: nothing moves." in said


def test_the_least_changes_are_in_the_learners_units():
    for units, wanted in (("psi_f", "low side 2 psi"), ("bar_c", "low side 0.14 bar"), ("kpa_c", "low side 14 kPa")):
        shapes, *_ = table_shapes(direction_table("sedan"), UNIT_SETS[units])
        assert wanted in svg(shapes, 1.0, 1.0, "")
