"""The bar of a lesson: as long as what was answered of what is asked."""

import pytest

from course.charts.progress_bar import WIDTH, progress_bar_svg
from tests.charts.svg_reading import parsed


def filled(answered, asked):
    """Width of the filled part [px]."""
    boxes = [one for one in parsed(progress_bar_svg(answered, asked)).iter() if one.tag.endswith("polygon")]
    full = [one for one in boxes if one.get("fill") != "none"]
    xs = [float(point.split(",")[0]) for one in full for point in one.get("points").split()]
    return max(xs) - min(xs) if xs else 0.0


@pytest.mark.parametrize(("answered", "asked"), [(0, 7), (1, 7), (7, 7), (6, 12)])
def test_it_is_as_long_as_what_was_answered(answered, asked):
    assert filled(answered, asked) == pytest.approx((WIDTH - 2.0) * answered / asked, abs=0.1)


def test_a_screen_reader_passes_over_it():
    assert parsed(progress_bar_svg(1, 2)).get("aria-hidden") == "true"
