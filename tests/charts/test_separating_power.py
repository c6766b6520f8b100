"""The pictures of what separates what: bars as long as the shares, told apart without colour, readable on a phone."""

import re

import pytest

from course.charts import separating_power as chart
from course.charts.style import COLOURS, new_figure, svg_of
from course.evidence.separating_power import ONE_MORE, READING_SETS, result_for
from course.tables import read_separating_power
from tests.charts.svg_reading import parsed

STUDY = read_separating_power()
PICTURES = {
    "sets": lambda axes: chart.draw_separating_power(axes, STUDY, chosen="temperatures"),
    "one more": lambda axes: chart.draw_one_more(axes, STUDY),
}


def drawn(name):
    figure = new_figure(340.0, chart.HEIGHT)
    axes = figure.add_axes(chart.FRAME)
    PICTURES[name](axes)
    return figure, axes


def test_bars_are_as_long_as_the_shares():
    _, axes = drawn("sets")
    wanted = [
        100.0 * result_for(STUDY, key, model).right_share for key in READING_SETS for model in ("exact", "car_to_car")
    ]
    assert [bar.get_width() for bar in axes.patches] == pytest.approx(wanted)
    # told apart on a photocopy: one is filled, the other hatched
    assert [bar.get_hatch() for bar in axes.patches] == [None, "////"] * len(READING_SETS)


def test_one_more_reading_stands_in_the_order_of_what_it_buys():
    _, axes = drawn("one more")
    widths = [bar.get_width() for bar in axes.patches]
    assert len(widths) == len(ONE_MORE)
    assert widths == sorted(widths, reverse=True)


@pytest.mark.parametrize("name", PICTURES)
def test_words_stay_words_large_enough_and_follow_the_theme(name):
    figure, _ = drawn(name)
    picture = svg_of(figure, name)
    assert parsed(picture).get("aria-label") == name
    sizes = [float(size) for size in re.findall(r"font-size: (?:bold )?([\d.]+)px", picture)]
    sizes += [float(size) for size in re.findall(r"font: (?:bold |700 )?([\d.]+)px", picture)]
    assert sizes and min(sizes) >= 12.0
    for light, _ in COLOURS.values():
        assert picture.count(light) == picture.count(f", {light})")


@pytest.mark.parametrize("name", PICTURES)
def test_no_words_leave_the_picture_or_lie_over_one_another(name):
    figure, axes = drawn(name)
    figure.canvas.draw()
    boxes = [text.get_window_extent() for text in axes.texts]
    assert all(box.x0 >= 0.0 and box.x1 <= 340.0 for box in boxes)
    lying_over = [(a, b) for number, a in enumerate(boxes) for b in boxes[number + 1 :] if a.overlaps(b)]
    assert lying_over == []


def test_the_sentence_carries_the_numbers_of_the_bars():
    said = chart.describe_separating_power(STUDY)
    for key in READING_SETS:
        for model in ("exact", "car_to_car"):
            assert f" {chart.percent(result_for(STUDY, key, model).right_share)} " in said
    assert chart.describe_one_more(STUDY).count(",") == len(ONE_MORE) - 1
    assert "50 % nothing tells two apart" in chart.describe_confusion(STUDY, STUDY.results[0])
