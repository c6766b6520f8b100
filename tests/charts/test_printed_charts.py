"""P-T chart, charge curve and moist-air chart: what is drawn, read back and worked out a second way."""

import math

import pytest

from course.charts import charge_curve, moist_air_process, pressure_temperature
from course.charts.style import COLOURS, new_figure
from course.errors import OutOfRange, UnknownChoice, WorkbookError
from course.physics.bench import charge_curve as run_charge_curve
from course.physics.bench import run_bench
from course.units import UNIT_SETS

KPA, PSI, BAR = UNIT_SETS["kpa_c"], UNIT_SETS["psi_f"], UNIT_SETS["bar_c"]
TABLE = 601.495, 26.85  # kPa gauge and °C: R-134a at 300 K, 0.70282 MPa (Tillner-Roth and Baehr 1994, table 8)


def by_colour(axes, name):
    """Lines of a colour on an axes."""
    return [line for line in axes.get_lines() if line.get_color() == COLOURS[name][0]]


def notes(axes):
    """Everything written beside the lines."""
    return [text.get_text() for text in axes.texts]


@pytest.mark.parametrize("units", [KPA, PSI, BAR], ids=lambda units: units.key)
def test_a_reading_goes_along_to_the_curve_and_down_to_the_tables_temperature(units):
    axes = new_figure().add_subplot()
    gauge, temperature = TABLE
    pressure_temperature.draw_pressure_temperature(axes, ["R134a"], units=units, readings=[("low side", gauge)])
    across = by_colour(axes, "low")[0]
    shown_t = 1.8 * temperature + 32.0 if units is PSI else temperature
    shown_p = gauge * 1e3 / units.pa_per_pressure
    left, bottom = axes.get_xlim()[0], axes.get_ylim()[0]
    assert list(across.get_xdata()) == pytest.approx([left, shown_t, shown_t], abs=0.05)
    assert list(across.get_ydata()) == pytest.approx([shown_p, shown_p, bottom], rel=1e-9)
    digits = 2 if units is BAR else 0
    assert notes(axes) == [f"low side: {shown_p:.{digits}f} {units.pressure}\n= {shown_t:.0f} {units.temperature}"]


@pytest.mark.parametrize(("units", "shown", "pressure"), [(KPA, 30.0, 326.0), (PSI, 86.0, 47.28)], ids=["kPa", "psi"])
def test_a_car_without_liquid_stands_below_the_curve_at_its_own_temperature(units, shown, pressure):
    axes = new_figure().add_subplot()
    readings = [("gauges", 326.0)]
    pressure_temperature.draw_pressure_temperature(axes, ["R134a"], units=units, readings=readings, soak_c=30.0)
    upright, ring = by_colour(axes, "warning")
    assert list(upright.get_xdata()) == pytest.approx([shown, shown])
    assert (ring.get_xdata()[0], ring.get_ydata()[0]) == pytest.approx((shown, pressure), abs=0.01)
    assert notes(axes)[-1] == f"the car: {shown:.0f} {units.temperature}"


def test_the_limits_do_not_move_with_the_readings():
    limits = set()
    for readings in ([], [("gauges", -50.0)], [("low side", 200.0), ("high side", 2300.0)]):
        axes = new_figure().add_subplot()
        pressure_temperature.draw_pressure_temperature(axes, ["R134a"], units=KPA, readings=readings)
        limits.add((axes.get_xlim(), axes.get_ylim()))
    assert limits == {((-30.0, 75.0), (-100.0, 2400.0))}


def test_high_up_the_same_gauge_reading_is_a_lower_temperature():
    low, high = (
        pressure_temperature.describe_pressure_temperature("R134a", [("low side", 200.0)], PSI, altitude)
        for altitude in (0.0, 2500.0)
    )
    assert low == "P-T chart of R-134a: low side 29 psi gauge is 33 °F."
    assert int(high.split(" is ")[1].split()[0]) < 33


def test_a_second_refrigerant_has_its_own_pattern_and_name():
    axes = new_figure().add_subplot()
    first, second = pressure_temperature.draw_pressure_temperature(axes, ["R134a", "R1234yf"], units=KPA)
    assert first.get_linestyle() != second.get_linestyle()
    assert [text.get_text() for text in axes.get_legend().get_texts()] == ["R-134a", "R-1234yf"]


def test_a_fourth_reading_is_drawn_too():
    axes = new_figure().add_subplot()
    readings = [(f"reading {number}", 100.0 * number) for number in range(1, 5)]
    pressure_temperature.draw_pressure_temperature(axes, ["R134a"], units=KPA, readings=readings)
    assert [text.split(":")[0] for text in notes(axes)] == [name for name, _ in readings]


@pytest.mark.parametrize(
    ("refrigerants", "readings", "kind", "words"),
    [
        (["R22"], [], UnknownChoice, "choose one of R134a, R1234yf"),
        ([], [], UnknownChoice, "choose one of R134a, R1234yf"),
        (["R134a"], [("high side", 5000.0)], OutOfRange, "choose a pressure on the chart"),
    ],
)
def test_what_has_no_boiling_temperature_is_refused(refrigerants, readings, kind, words):
    with pytest.raises(kind, match=words):
        pressure_temperature.draw_pressure_temperature(
            new_figure().add_subplot(), refrigerants, units=KPA, readings=readings
        )


@pytest.fixture(scope="module")
def curve():
    """The pickup over its charge."""
    return run_charge_curve("pickup", (0.2, 0.4, 0.6, 0.7, 0.8, 1.0, 1.2, 1.4))


def test_the_charge_curve_draws_every_reading_of_every_run(curve):
    figure = new_figure(340.0, 460.0)
    charge_curve.draw_charge_curve(figure, curve, PSI, now=curve[2])
    high, low, heat, power = figure.axes
    wanted = {
        (high, "high"): [run.high_side_kpa_gauge / 6.894757 for run in curve],
        (low, "low"): [run.low_side_kpa_gauge / 6.894757 for run in curve],
        (heat, "low"): [1.8 * run.superheat_k for run in curve],
        (heat, "high"): [1.8 * run.subcooling_k for run in curve],
        (power, "ink"): [run.capacity_w / 1e3 for run in curve],
        (power, "warning"): [run.compressor_power_w / 1e3 for run in curve],
    }
    for (axes, colour), values in wanted.items():
        assert list(by_colour(axes, colour)[0].get_xdata()) == pytest.approx([20, 40, 60, 70, 80, 100, 120, 140])
        assert list(by_colour(axes, colour)[0].get_ydata()) == pytest.approx(values, rel=1e-6)
    for axes in figure.axes:
        assert [line.get_xdata()[0] for line in by_colour(axes, "ink")[-1:]] == [60.0]
        low_end, high_end = axes.get_ylim()
        assert all(
            low_end <= y <= high_end for line in axes.get_lines() for y in line.get_ydata() if len(line.get_ydata()) > 2
        )


def test_the_grey_ends_where_the_buffer_last_was_empty(curve):
    edge = charge_curve.empty_below(curve)
    empty = [run.charge_fraction for run in curve if run.running and run.reserve_kg < charge_curve.EMPTY_RESERVE_KG]
    assert edge == max(empty)
    figure = new_figure(340.0, 460.0)
    charge_curve.draw_charge_curve(figure, curve, KPA)
    for axes in figure.axes:
        (grey,) = axes.patches
        assert (grey.get_x(), grey.get_width()) == pytest.approx((0.0, 100.0 * edge))
    assert figure.axes[-1].get_xlabel() == "charge, % of the label\ngrey: accumulator empty"
    assert f"the accumulator is empty at {100 * edge:.0f} % and below" in charge_curve.describe_charge_curve(curve, KPA)


def test_a_buffer_that_never_empties_is_not_marked(curve):
    full = curve[-3:]
    figure = new_figure(340.0, 460.0)
    charge_curve.draw_charge_curve(figure, full, KPA)
    assert all(not axes.patches for axes in figure.axes)
    assert charge_curve.describe_charge_curve(full, KPA).endswith("the accumulator never empties.")


@pytest.mark.parametrize("use", [lambda: charge_curve.draw_charge_curve(new_figure(), (), KPA),
                                 lambda: charge_curve.describe_charge_curve((), KPA)])  # fmt: skip
def test_a_charge_curve_of_nothing_is_refused(use):
    with pytest.raises(WorkbookError, match="no run was given; give at least one"):
        use()


def magnus_g_kg(temperature_c, humidity, pressure_pa):
    """Water content by the Magnus formula (Sonntag 1990, from memory), apart from the workbook's own correlation."""
    vapour = humidity * 611.2 * math.exp(17.62 * temperature_c / (243.12 + temperature_c))
    return 1000.0 * 0.622 * vapour / (pressure_pa - vapour)


@pytest.mark.parametrize("settings", [{}, {"altitude_m": 2500.0}, {"faults": {"evaporator_airflow_low": 0.7}}])
def test_air_goes_in_as_the_weather_says_and_loses_what_drains_off(settings):
    run = run_bench("sedan", ambient_c=32.0, relative_humidity=0.7, **settings)
    (warm, wet), (cold, drier) = moist_air_process.air_states(run)
    pressure = run.conditions.air_pressure
    # Magnus lies within 0.6 % of the tables here
    assert (warm, wet) == (pytest.approx(32.0), pytest.approx(magnus_g_kg(32.0, 0.7, pressure), rel=0.01))
    assert cold == run.vent_c and drier < wet
    # heat the refrigerant takes up = cooling of the air + condensing of the drained water, in round numbers
    flow = run.condensate_kg_h / 3.6 / (wet - drier)
    heat = flow * (1006.0 * (warm - cold) + 1860.0 * wet / 1e3 * (warm - cold) + 2.501e6 * (wet - drier) / 1e3)
    assert heat == pytest.approx(run.capacity_w, rel=0.03)


def test_the_saturation_line_is_that_of_the_altitude():
    run = run_bench("sedan", altitude_m=2500.0)
    axes = new_figure().add_subplot()
    saturated = moist_air_process.draw_moist_air(axes, run, KPA)[0]
    near_25 = min(range(80), key=lambda place: abs(saturated.get_xdata()[place] - 25.0))
    expected = magnus_g_kg(saturated.get_xdata()[near_25], 1.0, run.conditions.air_pressure)
    assert saturated.get_ydata()[near_25] == pytest.approx(expected, rel=0.01)


def test_air_that_only_passes_through_is_one_point_with_one_name():
    axes = new_figure().add_subplot()
    moist_air_process.draw_moist_air(axes, run_bench("sedan", charge_fraction=0.0), KPA)
    assert "air in and vent 35 °C" in notes(axes)
    assert axes.get_title(loc="right") == "drain 0.0 kg/h"


def test_high_up_the_whole_curve_reads_higher_by_the_missing_air():
    sea, high = (
        pressure_temperature.draw_pressure_temperature(
            new_figure().add_subplot(), ["R134a"], units=KPA, altitude_m=altitude
        )[0]
        for altitude in (0.0, 2500.0)
    )
    missing = 101.325 * (1.0 - (1.0 - 2.25577e-5 * 2500.0) ** 5.25588)  # kPa, ISO 2533 in closed form
    assert list(high.get_ydata() - sea.get_ydata()) == pytest.approx([missing] * len(sea.get_ydata()), abs=0.05)
