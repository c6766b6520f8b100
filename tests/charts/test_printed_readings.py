"""Published bands drawn: the dot is in the box exactly when the verdict says so, and the sheets fit the paper."""

import re

import pytest

from course.charts.printed_readings import (
    BAND_LEFT,
    BAND_RIGHT,
    ROWS_A_PAGE,
    draw_printed_readings,
    number_words,
    ours_words,
    published_words,
    sheet_shapes,
    strip_shapes,
    strip_svg,
    unit_words,
)
from course.charts.shapes import Disc, svg
from course.charts.style import new_figure
from course.errors import WorkbookError
from course.evidence.printed_readings import UNITS, printed_readings
from course.units import UNIT_SETS
from tests.charts.svg_reading import box, overlapping, texts, words

KPA, PSI, BAR = UNIT_SETS["kpa_c"], UNIT_SETS["psi_f"], UNIT_SETS["bar_c"]
FOUND = printed_readings()
PAGES = [FOUND[start : start + ROWS_A_PAGE] for start in range(0, len(FOUND), ROWS_A_PAGE)]


def test_a_dot_lies_in_the_box_exactly_when_the_verdict_says_so():
    for one in FOUND:
        left = 0.0 if one.published_from is None else BAND_LEFT
        right = 150.0 if one.published_to is None else BAND_RIGHT
        dots = [shape for shape in strip_shapes(one) if isinstance(shape, Disc)]
        assert 1 <= len(dots) <= 2
        assert all(left - 1e-6 <= dot.x <= right + 1e-6 for dot in dots) == one.inside, one.key
        assert {dot.fill for dot in dots} == {"ink" if one.inside else "paper"}
        assert all(4.0 <= dot.x <= 146.0 for dot in dots)


def test_a_strip_says_what_it_shows_or_leaves_it_to_the_words_beside():
    assert 'aria-label="low side inside"' in strip_svg(FOUND[0], "low side inside")
    assert 'aria-hidden="true"' in strip_svg(FOUND[0], "")


@pytest.mark.parametrize("units", [KPA, PSI, BAR], ids=lambda units: units.key)
@pytest.mark.parametrize("page", range(len(PAGES)))
def test_every_sheet_fits_a4_and_letter(units, page):
    shapes, width, height = sheet_shapes(PAGES[page], "Published readings and ours", units)
    picture = svg(shapes, width, height, "sheet")
    assert height <= 792.0 - 56.0  # Letter less a margin of 1 cm above and below; A4 is taller
    for element in texts(picture):
        left, _, right, bottom = box(element)
        assert left >= -0.5 and right <= width + 0.5 and bottom <= height, element.text
    assert overlapping([picture]) == []
    assert set(re.findall(r"#[0-9a-f]{6}", picture)) <= {"#1f2328", "#ffffff", "#5b6470"}


def test_a_sheet_carries_every_number_and_verdict():
    shapes, width, height = sheet_shapes(PAGES[0], "First", KPA)
    axes = new_figure(width, height).add_axes((0.0, 0.0, 1.0, 1.0))
    draw_printed_readings(axes, PAGES[0], "First", KPA)
    shown = [text.get_text() for text in axes.texts]
    assert shown == words(svg(shapes, width, height, ""))
    assert "published 229 to 280 kPa gauge; ours 244 to 281 kPa gauge" in shown
    assert shown.count("outside") == sum(not one.inside for one in PAGES[0])


def test_numbers_follow_the_learners_units():
    band = next(one for one in FOUND if one.key == "factory_25_low")
    # 171 and 209 kPa over 6.894757
    assert published_words(band, PSI) == "24.8 to 30.3 psi gauge"
    assert published_words(band, BAR) == "1.71 to 2.09 bar gauge"
    vent = next(one for one in FOUND if one.key == "vent_30_humid")
    assert published_words(vent, PSI) == "63.5 to 68.9 °F"
    drop = next(one for one in FOUND if one.key == "army_air_drop")
    assert published_words(drop, KPA) == "from 8.3 K"
    assert published_words(drop, PSI) == "from 14.9 °F"
    single = next(one for one in FOUND if one.key == "over_20_power")
    assert published_words(single, KPA) == "3.5 %, give or take 5.0"
    assert ours_words(vent, KPA).endswith(" °C")


def test_a_near_miss_is_seen_as_one_in_every_unit():
    """281 kPa against 280 must not be rounded to the same number."""
    for units in (KPA, PSI, BAR):
        assert number_words(281.0, "kpa_gauge", units) != number_words(280.0, "kpa_gauge", units)


def test_every_unit_has_its_words():
    assert all(unit_words(unit, PSI) or unit == "factor" for unit in UNITS)


@pytest.mark.parametrize("count", [0, ROWS_A_PAGE + 1])
def test_an_empty_or_overfull_sheet_is_refused(count):
    with pytest.raises(WorkbookError, match=f"{count} were given; allowed are 1 to {ROWS_A_PAGE}"):
        sheet_shapes(FOUND[:count], "Sheet", KPA)
