"""The bars of one hole: as long as what leaks, numbered, named, and without words over one another."""

import pytest

from course.charts.leak_by_state import LEFT, LONGEST, SIDES, STATE_NAMES, describe_leak_by_state, leak_by_state_svg
from course.service.leak_flow import leak_by_state
from tests.charts.svg_reading import box, lines, overlapping, parsed, texts, words

LEAKS = leak_by_state("R134a", 100.0, 25.0)


def test_every_bar_is_as_long_as_its_leak():
    bars = [max(x for x, _ in points) - LEFT for points in lines(leak_by_state_svg(LEAKS))]
    wanted = [LONGEST * LEAKS[state, side] / max(LEAKS.values()) for side in SIDES for state in STATE_NAMES]
    assert bars == pytest.approx(wanted, abs=0.1)


def test_every_bar_has_its_number_and_the_picture_its_sentence():
    picture = leak_by_state_svg(LEAKS)
    for leak in LEAKS.values():
        assert f"{leak:.0f} g/yr" in words(picture)
    assert parsed(picture).get("aria-label") == describe_leak_by_state(LEAKS)
    assert describe_leak_by_state(LEAKS).startswith("Low side: at rest 100 g/yr, just stopped")


@pytest.mark.parametrize("leak", [0.0, 100.0, 3000.0])
def test_words_stay_apart_and_inside(leak):
    picture = leak_by_state_svg(leak_by_state("R1234yf", leak, 50.0, 1.4))
    assert overlapping([picture], 16.4) == []
    _, _, width, height = map(float, parsed(picture).get("viewBox").split())
    for element in texts(picture):
        left, top, right, bottom = box(element, 16.4)
        assert left >= 0.0 and top >= 0.0 and right <= width and bottom <= height, element.text
