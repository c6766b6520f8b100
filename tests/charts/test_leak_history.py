"""The saw of a leaking car: corners where they belong, lines told apart without colour, words inside the frame."""

import datetime

import pytest

from course.charts.leak_history import describe_leak_history, draw_leak_history
from course.charts.style import new_figure

DAY = datetime.date(2026, 3, 1)
SAW = [(0, 480.0), (30, 240.0), (30, 480.0), (60, 240.0)]
SOUND = [(0, 480.0), (60, 473.0)]


def drawn(saw=SAW, sound=SOUND):
    axes = new_figure().add_subplot()
    return axes, draw_leak_history(axes, saw, sound, first=DAY, label_g=480.0, critical_g=214.0)


def test_the_corners_are_the_ones_given():
    _, artists = drawn()
    assert [tuple(point) for point in artists[1].get_xydata()] == SAW
    assert [tuple(point) for point in artists[0].get_xydata()] == SOUND
    assert set(artists[2].get_ydata()) == {480.0}
    assert set(artists[3].get_ydata()) == {214.0}


def test_the_lines_differ_in_pattern_and_the_frame_holds_an_overfilled_car():
    axes, artists = drawn()
    patterns = {str(line._unscaled_dash_pattern) for line in artists[:4]}
    assert len(patterns) == 3  # dotted, dashed and two solid ones of different width
    assert artists[1].get_linewidth() > artists[2].get_linewidth()
    assert axes.get_ylim() == (0.0, pytest.approx(1.4 * 480.0))
    assert axes.get_xlim() == (0.0, 60.0)


def test_the_dates_at_the_foot_are_those_of_the_record():
    axes, _ = drawn()
    assert [label.get_text() for label in axes.get_xticklabels()] == ["2026-03", "2026-03", "2026-04"]


def test_the_words_fit_inside_the_frame():
    axes, artists = drawn()
    axes.figure.canvas.draw()
    frame = axes.get_window_extent()
    for words in artists[4:]:
        box = words.get_window_extent()
        assert frame.x0 <= box.x0 and box.x1 <= frame.x1 and frame.y0 <= box.y0 and box.y1 <= frame.y1


def test_one_day_alone_still_has_an_axis():
    axes, _ = drawn([(0, 480.0)], [(0, 480.0)])
    assert axes.get_xlim() == (0.0, 1.0)


def test_the_sentence_counts_fillings():
    words = describe_leak_history(SAW, first=DAY, critical_g=214.0)
    assert words == "Since 2026-03-01 filled up 1 time; by 2026-04-30 about 240 g are left, cooling is gone at 214 g."
    assert "filled up 0 times" in describe_leak_history(SOUND, first=DAY, critical_g=214.0)
