"""Cutting lines at a frame, and numbers as they are printed."""

import math

from hypothesis import given
from hypothesis import strategies as st

from course.charts.shapes import Disc, Path, Words, clipped, draw, svg
from course.charts.style import COLOURS, new_figure
from course.charts.words import rounded
from tests.charts.svg_reading import lines, words

BOX = (0.0, 0.0, 10.0, 10.0)
PLACES = st.floats(-30.0, 30.0, allow_nan=False).map(lambda value: round(value, 3))
POINTS = st.lists(st.tuples(PLACES, PLACES), min_size=2, max_size=6)


def distance(point, start, end):
    """From a point to a straight piece."""
    (x, y), (x0, y0), (x1, y1) = point, start, end
    length = (x1 - x0) ** 2 + (y1 - y0) ** 2
    share = 0.0 if length == 0.0 else min(max(((x - x0) * (x1 - x0) + (y - y0) * (y1 - y0)) / length, 0.0), 1.0)
    return math.hypot(x - x0 - share * (x1 - x0), y - y0 - share * (y1 - y0))


@given(POINTS)
def test_what_is_cut_stays_in_the_frame_and_on_the_line(points):
    for part in clipped(points, BOX):
        for x, y in part:
            assert -1e-9 <= x <= 10.0 + 1e-9 and -1e-9 <= y <= 10.0 + 1e-9
            assert min(distance((x, y), *piece) for piece in zip(points, points[1:], strict=False)) < 1e-9


@given(POINTS, st.floats(0.0, 1.0))
def test_nothing_inside_the_frame_is_lost(points, share):
    parts = clipped(points, BOX)
    for (x0, y0), (x1, y1) in zip(points, points[1:], strict=False):
        x, y = x0 + share * (x1 - x0), y0 + share * (y1 - y0)
        if 1e-6 < x < 10.0 - 1e-6 and 1e-6 < y < 10.0 - 1e-6:
            pieces = [piece for part in parts for piece in zip(part, part[1:], strict=False)]
            assert min(distance((x, y), *piece) for piece in pieces) < 1e-9


def test_a_line_inside_stays_one_line():
    loop = [(1.0, 1.0), (9.0, 1.0), (9.0, 9.0), (1.0, 1.0)]
    assert clipped(loop, BOX) == [tuple(loop)]


def test_screen_and_paper_show_the_same_shapes():
    shapes = [Path(((1, 2), (3, 4)), dash=(6, 3), width=2.0), Disc(5, 5, 2), Words(1, 9, "vent < 10 °C", halo=True)]
    picture = svg(shapes, 10, 10, "test")
    assert lines(picture) == [[(1.0, 2.0), (3.0, 4.0)]]
    assert words(picture) == ["vent < 10 °C"]
    line, disc, text = draw(new_figure().add_subplot(), shapes, 10, 10)
    assert list(line.get_xdata()) == [1, 3] and line.get_color() == COLOURS["ink"][0]
    assert disc.center == (5, 5) and text.get_text() == "vent < 10 °C"
    assert line.get_zorder() < disc.get_zorder() < text.get_zorder()


@given(st.floats(-1e6, 1e6), st.integers(0, 2))
def test_printed_numbers_are_near_and_never_minus_zero(value, digits):
    text = rounded(value, digits)
    assert abs(float(text) - value) <= 0.5001 * 10.0**-digits
    assert not (text.startswith("-") and float(text) == 0.0)
