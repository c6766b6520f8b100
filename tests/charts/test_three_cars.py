"""Several cars on one chart: each curve is its own car's, in the learner's units, and the line stands where it is told."""

import pytest

from course.charts.style import new_figure
from course.charts.three_cars import (
    LINES,
    READINGS,
    SWEEPS,
    describe_three_cars,
    draw_three_cars,
    shown_reading,
)
from course.errors import UnknownChoice
from course.physics.bench import charge_curve, run_bench
from course.units import display_units

KPA, PSI, BAR = (display_units(key) for key in ("kpa_c", "psi_f", "bar_c"))
CURVES = [charge_curve(car, (0.4, 0.7, 1.0)) for car in ("compact", "pickup")]


def test_each_curve_is_its_own_car():
    axes = new_figure().add_subplot()
    compact, pickup, line = draw_three_cars(axes, CURVES, "charge_percent", "high_side_kpa_gauge", PSI, now=55.0)
    for curve, runs in ((compact, CURVES[0]), (pickup, CURVES[1])):
        assert curve.get_xdata() == pytest.approx([40.0, 70.0, 100.0])
        assert curve.get_ydata() == pytest.approx([run.high_side_kpa_gauge / 6.894757 for run in runs])
    assert compact.get_linestyle() != pickup.get_linestyle()
    assert list(line.get_xdata()) == [55.0, 55.0]
    assert axes.get_title(loc="left") == "high side, psi gauge"
    assert axes.get_xlabel() == "charge, % of label"


def test_speed_is_read_off_the_run():
    runs = [[run_bench("sedan", compressor_rpm=speed) for speed in (700.0, 3000.0)]]
    (curve,) = draw_three_cars(new_figure().add_subplot(), runs, "compressor_rpm", "clutch_on_fraction", KPA)
    assert list(curve.get_xdata()) == [700.0, 3000.0]
    assert curve.get_ydata()[0] == 100.0 > curve.get_ydata()[1]


@pytest.mark.parametrize(
    ("reading", "units", "expected"),
    [
        ("low_side_kpa_gauge", BAR, lambda run: (run.low_side_kpa_gauge / 100.0, "bar gauge")),
        ("superheat_k", PSI, lambda run: (run.superheat_k * 1.8, "°F")),
        ("vent_c", PSI, lambda run: (run.vent_c * 1.8 + 32.0, "°F")),
        ("capacity_w", KPA, lambda run: (run.capacity_w / 1000.0, "kW")),
        ("reserve_kg", KPA, lambda run: (run.reserve_kg * 1000.0, "g")),
    ],
)
def test_a_reading_comes_in_the_learners_unit(reading, units, expected):
    value, unit = shown_reading(CURVES[1][2], reading, units)
    assert (pytest.approx(value), unit) == expected(CURVES[1][2])


def test_a_car_is_told_apart_without_colour():
    assert len({dash for _, dash in LINES}) == len(LINES) == 3


@pytest.mark.parametrize("reading", READINGS)
def test_every_reading_can_be_said(reading):
    words = describe_three_cars(CURVES, "charge_percent", reading, KPA)
    assert words.startswith(READINGS[reading][0].capitalize())
    assert "invented compact" in words
    assert "invented pickup" in words


def test_words_hold_first_last_least_and_most():
    words = describe_three_cars([charge_curve("sedan", (0.3, 0.5, 1.0))], "charge_percent", "low_side_kpa_gauge", KPA)
    low = [round(run.low_side_kpa_gauge) for run in charge_curve("sedan", (0.3, 0.5, 1.0))]
    assert f"{low[0]} to {low[2]} kPa gauge, between {low[0]} and {low[1]}" in words


def test_unknown_names_are_sentences():
    axes = new_figure().add_subplot()
    with pytest.raises(UnknownChoice, match="over: 'price' is not known here"):
        draw_three_cars(axes, CURVES, "price", "vent_c", KPA)
    with pytest.raises(UnknownChoice, match="reading: 'noise' is not known here"):
        draw_three_cars(axes, CURVES, "charge_percent", "noise", KPA)
    assert set(SWEEPS) == {"charge_percent", "compressor_rpm"}
