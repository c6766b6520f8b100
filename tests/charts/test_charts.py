"""Charts: geometry re-derived, layers that agree, colours that can be read, pictures that do not touch their run."""

import math
import xml.etree.ElementTree as ElementTree

import pytest

from course.charts import (
    charge_curve,
    circuit,
    gauges,
    moist_air_process,
    pressure_enthalpy,
    pressure_temperature,
    style,
)
from course.errors import UnknownChoice, WorkbookError
from course.physics.bench import charge_curve as run_charge_curve
from course.physics.bench import run_bench
from course.physics.refrigerant import saturation_at_temperature
from course.units import UNIT_SETS, display_units

PSI, KPA = display_units("psi_f"), display_units("kpa_c")
RUN = run_bench("sedan", charge_fraction=0.5)
WELL = run_bench("sedan")
RESTING = run_bench("pickup", charge_fraction=0.0)


@pytest.mark.parametrize("units", UNIT_SETS.values(), ids=lambda units: units.key)
@pytest.mark.parametrize("run", [RUN, RESTING], ids=["running", "resting"])
def test_every_moving_picture_is_sound_svg_and_says_what_it_shows(run, units):
    for picture in (
        gauges.gauge_needles_svg(run, units),
        circuit.circuit_svg(run, units),
        pressure_enthalpy.moving_svg(run, WELL if run is RUN else None, units),
    ):
        root = ElementTree.fromstring(picture)
        assert root.get("role") == "img"
        assert len(root.get("aria-label")) > 20
        sizes = [float(text.get("font-size")) for text in root.iter("{http://www.w3.org/2000/svg}text")]
        assert sizes
        assert min(sizes) >= 12.0


def test_needle_points_where_the_scale_says():
    """250 of 0..500 psi is half way round: straight up; a quarter of 270 degrees further is 375 psi."""
    assert gauges.needle_angle(250.0, "high", PSI) == 0.0
    assert gauges.needle_angle(375.0, "high", PSI) == pytest.approx(67.5)
    assert gauges.needle_angle(9999.0, "high", PSI) == 135.0


def test_a_needle_off_the_scale_says_so():
    hot = run_bench("pickup", ambient_c=50.0, faults={"clutch_not_engaged": 1.0})
    assert ">above the scale<" in gauges.gauge_needles_svg(hot, PSI)
    assert gauges.describe_gauges(hot, PSI).startswith(
        "Low side 176 psi gauge (needle at its pin, above the scale), high"
    )


def test_the_needle_is_drawn_at_its_angle():
    root = ElementTree.fromstring(gauges.gauge_needles_svg(RUN, KPA))
    needle = root.find("{http://www.w3.org/2000/svg}polyline").get("points").split()
    (x0, y0), (x1, y1) = (tuple(map(float, point.split(","))) for point in needle)
    drawn = math.degrees(math.atan2(x1 - x0, y0 - y1))
    assert drawn == pytest.approx(gauges.needle_angle(RUN.low_side_kpa_gauge, "low", KPA), abs=0.5)


def test_both_layers_of_the_p_h_chart_agree():
    """A corner of the cycle lies where matplotlib's own axes put it."""
    figure = style.new_figure(style.WIDTH, pressure_enthalpy.HEIGHT)
    axes = figure.add_axes(pressure_enthalpy.FRAME)
    pressure_enthalpy.draw_pressure_enthalpy(axes, "R134a", units=KPA)
    figure.canvas.draw()
    x, y = axes.transData.transform((300.0, 800.0))
    assert pressure_enthalpy.to_pixels("R134a", KPA, 300.0, 800.0) == pytest.approx(
        (x, pressure_enthalpy.HEIGHT - y), abs=0.01
    )


def test_still_layers_are_the_same_every_time():
    first = pressure_enthalpy.still_svg("R134a", KPA)
    pressure_enthalpy._still.cache_clear()
    assert pressure_enthalpy.still_svg("R134a", KPA) == first


def test_the_healthy_cycle_lies_in_grey_behind():
    with_grey = pressure_enthalpy.moving_svg(RUN, WELL, KPA)
    assert style.variable("healthy") in with_grey
    assert style.variable("healthy") not in pressure_enthalpy.moving_svg(RUN, None, KPA)
    assert with_grey.index(style.variable("healthy")) < with_grey.index(style.variable("ink"))


def test_superheat_and_subcooling_are_marked_where_they_are():
    over = run_bench("sedan", charge_fraction=1.3)
    picture = pressure_enthalpy.moving_svg(over, None, KPA)
    assert "superheat" in picture
    assert "subcooling" in picture
    assert "subcooling" not in pressure_enthalpy.moving_svg(RUN, None, KPA)


def test_the_p_t_curve_goes_through_the_table():
    """R-134a at 0 °C is 292.8 kPa absolute, 191 kPa gauge (P-T table, computed with CoolProp)."""
    axes = style.new_figure().add_subplot()
    (curve,) = pressure_temperature.draw_pressure_temperature(axes, ["R134a"], units=KPA)
    at = dict(zip(curve.get_xdata().round(6), curve.get_ydata(), strict=True))
    expected = saturation_at_temperature("R134a", 273.15).pressure / 1e3 - 101.325
    assert at[0.0] == pytest.approx(expected, abs=0.01)
    assert at[0.0] == pytest.approx(191.0, abs=1.0)


def test_the_charge_curve_marks_the_empty_receiver():
    runs = run_charge_curve("sedan", (0.4, 0.6, 0.8, 1.0), ambient_c=32.0)
    assert charge_curve.empty_below(runs) == 0.6
    figure = style.new_figure(480, 560)
    charge_curve.draw_charge_curve(figure, runs, PSI, now=WELL)
    assert "grey: receiver empty" in figure.axes[-1].get_xlabel()


def test_air_leaves_cooler_and_drier():
    (warm, wet), (cold, drier) = moist_air_process.air_states(run_bench("sedan", relative_humidity=0.7))
    assert cold < warm
    assert drier < wet


def test_a_chart_can_be_stored_as_svg_and_png(tmp_path):
    figure = style.new_figure()
    circuit.draw_circuit(figure.add_subplot(), RUN, PSI)
    for ending in (".svg", ".png"):
        assert style.save_figure(figure, tmp_path / f"circuit{ending}").stat().st_size > 1000
    with pytest.raises(WorkbookError, match=r"stored as \.svg or \.png"):
        style.save_figure(figure, tmp_path / "circuit.gif")


def test_an_unknown_refrigerant_is_a_sentence():
    with pytest.raises(UnknownChoice, match="R134a, R1234yf"):
        pressure_enthalpy.draw_pressure_enthalpy(style.new_figure().add_subplot(), "R22", units=KPA)


def test_drawing_leaves_the_run_as_it_was():
    before = repr(RUN)
    gauges.gauge_needles_svg(RUN, PSI), circuit.circuit_svg(RUN, PSI), pressure_enthalpy.moving_svg(RUN, WELL, PSI)
    assert repr(RUN) == before
