"""The gauge faces: a learner reading the needle off the printed numbers must find the pressure of the run."""

import math

import numpy as np
import pytest

from course.charts import gauges
from course.units import UNIT_SETS
from tests.charts.conftest import SETTINGS
from tests.charts.svg_reading import lines, texts, words

UNITS = list(UNIT_SETS.values())
STANDARD_TABLE = 601.5, 26.85  # kPa gauge and °C: R-134a at 300 K, 0.70282 MPa (Tillner-Roth and Baehr 1994, table 8)


def turn(side, x, y):
    """Degrees clockwise from straight up, as seen from the middle of a face."""
    centre_x, centre_y = gauges.CENTRES[side]
    return math.degrees(math.atan2(x - centre_x, centre_y - y))


def printed_scale(side, units):
    """Numbers printed on a face with the angle each stands at, lowest first."""
    centre_x, centre_y = gauges.CENTRES[side]
    numbers = []
    for element in texts(gauges.gauge_faces_still_svg(units)):
        x, y = float(element.get("x")), float(element.get("y")) - 4.0
        if math.hypot(x - centre_x, y - centre_y) < gauges.RADIUS - 10.0:
            numbers.append((float(element.text), turn(side, x, y)))
    return sorted(numbers)


@pytest.mark.parametrize("units", UNITS, ids=lambda units: units.key)
@pytest.mark.parametrize("side", ["low", "high"])
def test_numbers_stand_evenly_and_zero_is_among_them(side, units):
    numbers, angles = zip(*printed_scale(side, units), strict=True)
    assert 0.0 in numbers
    slope, start = np.polyfit(numbers, angles, 1)
    assert (
        np.abs(np.array(angles) - slope * np.array(numbers) - start).max() < 0.5
    )  # a tenth of a pixel is 0.13 degrees


@pytest.mark.parametrize("name", [name for name in SETTINGS if name not in ("empty",)])
@pytest.mark.parametrize("units", UNITS, ids=lambda units: units.key)
@pytest.mark.parametrize("side", ["low", "high"])
def test_a_needle_read_off_the_printed_numbers_gives_the_pressure(name, units, side, runs):
    run = runs[name]
    gauge_pa = (run.low_side_kpa_gauge if side == "low" else run.high_side_kpa_gauge) * 1e3
    numbers, angles = zip(*printed_scale(side, units), strict=True)
    slope, start = np.polyfit(angles, numbers, 1)
    needle = lines(gauges.gauge_needles_svg(run, units), side)[0]
    tail, tip = (turn(side, *point) for point in needle)
    assert (
        abs((tip - tail) % 360.0 - 180.0) < 0.5 * 12.0
    )  # the tail is short: a tenth of a pixel turns it half a degree
    # half a degree of reading, as above
    assert slope * tip + start == pytest.approx(gauge_pa / units.pa_per_pressure, abs=0.5 * slope)


def test_at_rest_both_gauges_agree_with_each_other_and_with_the_number(runs):
    picture = gauges.gauge_needles_svg(runs["at rest"], UNIT_SETS["kpa_c"])
    numbers = [text for text in words(picture) if text.isdigit()]
    assert len(numbers) == 2 and len(set(numbers)) == 1
    assert int(numbers[0]) == round(runs["at rest"].low_side_kpa_gauge)


def test_the_temperature_beside_a_gauge_is_the_tables(runs):
    from dataclasses import replace

    pressure, temperature = STANDARD_TABLE
    run = replace(runs["healthy"], low_side_kpa_gauge=pressure)
    assert gauges.boiling_point_c(run, "low") == pytest.approx(temperature, abs=0.05)  # the table has five figures
    assert "boils at 27 °C" in words(gauges.gauge_needles_svg(run, UNIT_SETS["bar_c"]))


def test_a_gauge_high_up_adds_the_thinner_air(runs):
    from dataclasses import replace

    pressure, temperature = STANDARD_TABLE
    air_pa = 101325.0 * (1.0 - 2.25577e-5 * 2500.0) ** 5.25588  # ISO 2533 in closed form, at 2,500 m
    run = replace(runs["high up"], low_side_kpa_gauge=702.82 - air_pa / 1e3)
    assert gauges.boiling_point_c(run, "low") == pytest.approx(temperature, abs=0.05)
    assert run.low_side_kpa_gauge > pressure


def test_an_empty_car_pins_the_needles_below_the_scale_and_has_no_boiling_point(runs):
    run = runs["empty"]
    picture = gauges.gauge_needles_svg(run, UNIT_SETS["kpa_c"])
    assert words(picture).count("below the scale") == 2
    assert gauges.boiling_point_c(run, "low") is None
    for side in ("low", "high"):
        tip = lines(picture, side)[0][1]
        assert turn(side, *tip) == pytest.approx(-135.0, abs=0.5)


def test_a_vacuum_is_said_and_the_needle_lies_on_its_band(runs):
    run, units = runs["starved"], UNIT_SETS["psi_f"]
    assert -100.0 < run.low_side_kpa_gauge < 0.0
    assert "psi gauge (a vacuum), high side" in gauges.describe_gauges(run, units)
    band = [turn("low", *point) for point in lines(gauges.gauge_faces_still_svg(units), "faint")[0]]
    tip = turn("low", *lines(gauges.gauge_needles_svg(run, units), "low")[0][1])
    assert min(band) < tip < max(band)
