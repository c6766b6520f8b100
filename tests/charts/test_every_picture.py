"""What holds for every picture: readable, described, the same each time, and without a trace on the run it shows."""

import copy

import pytest

from course.charts import charge_curve, circuit, gauges, moist_air_process, pressure_enthalpy, pressure_temperature
from course.charts.style import COLOURS, TEXT, new_figure, svg_of
from course.units import UNIT_SETS
from tests.charts.conftest import SETTINGS
from tests.charts.svg_reading import box, overlapping, parsed, texts

UNITS = list(UNIT_SETS.values())
RUN_NAMES = list(SETTINGS)
NARROW_TEXT = 16.4  # px in the picture's own measure: what a phone prints so that it stays 12 px on the glass


def screen_layers(run, well, units):
    """Gauges, circuit and chart as (still, moving) pairs, and the sentence each must carry."""
    refrigerant = run.system.refrigerant
    return {
        "gauges": ([gauges.gauge_faces_still_svg(units), gauges.gauge_needles_svg(run, units)], gauges.describe_gauges),
        "circuit": ([circuit.circuit_svg(run, units)], circuit.describe_circuit),
        "chart": (
            [pressure_enthalpy.still_svg(refrigerant, units), pressure_enthalpy.moving_svg(run, well, units)],
            pressure_enthalpy.describe_pressure_enthalpy,
        ),
    }


def paper(run, well, units):
    """Every chart of a run drawn on paper, as SVG by name."""
    readings = [("low side", run.low_side_kpa_gauge), ("high side", run.high_side_kpa_gauge)]
    readings = readings if run.low_side_kpa_gauge > -60.0 else []
    refrigerant = run.system.refrigerant
    drawings = {
        "chart": lambda axes: pressure_enthalpy.draw_pressure_enthalpy(
            axes, refrigerant, units=units, run=run, healthy=well
        ),
        "gauges": lambda axes: gauges.draw_gauges(axes, run, units),
        "circuit": lambda axes: circuit.draw_circuit(axes, run, units),
        "P-T": lambda axes: pressure_temperature.draw_pressure_temperature(
            axes, [refrigerant], units=units, readings=readings, altitude_m=run.conditions.altitude
        ),
        "air": lambda axes: moist_air_process.draw_moist_air(axes, run, units),
    }
    pictures = {}
    for name, draw in drawings.items():
        figure = new_figure()
        assert draw(figure.add_subplot())
        pictures[name] = svg_of(figure, name)
    figure = new_figure(340.0, 460.0)
    assert charge_curve.draw_charge_curve(figure, (run, well), units, now=run)
    return pictures | {"charge": svg_of(figure, "charge")}


@pytest.mark.parametrize("name", RUN_NAMES)
@pytest.mark.parametrize("units", UNITS, ids=lambda units: units.key)
def test_layers_parse_carry_their_sentence_and_lie_over_one_another(name, units, runs, healthy):
    run = runs[name]
    for layers, describe in screen_layers(run, healthy[run.system.key], units).values():
        roots = [parsed(svg) for svg in layers]
        assert len({root.get("viewBox") for root in roots}) == 1
        assert roots[-1].get("role") == "img"
        assert roots[-1].get("aria-label") == describe(run, units)


@pytest.mark.parametrize("name", RUN_NAMES)
@pytest.mark.parametrize("units", UNITS, ids=lambda units: units.key)
@pytest.mark.parametrize("size", [TEXT, NARROW_TEXT], ids=["wide", "narrow"])
def test_no_words_of_gauges_and_circuit_lie_over_one_another(name, units, size, runs, healthy):
    run = runs[name]
    pictures = screen_layers(run, healthy[run.system.key], units)
    for which in ("gauges", "circuit"):
        assert overlapping(pictures[which][0], size) == []


@pytest.mark.parametrize("name", RUN_NAMES)
@pytest.mark.parametrize("units", UNITS, ids=lambda units: units.key)
def test_moving_words_are_large_enough_and_inside_the_picture(name, units, runs, healthy):
    run = runs[name]
    for layers, _ in screen_layers(run, healthy[run.system.key], units).values():
        _, _, width, height = map(float, parsed(layers[-1]).get("viewBox").split())
        for element in texts(layers[-1]):
            assert float(element.get("font-size")) >= 12.0
            left, top, right, bottom = box(element)
            assert left >= 0.0 and top >= 0.0 and right <= width and bottom <= height, element.text


@pytest.mark.parametrize("name", RUN_NAMES)
def test_paper_charts_parse_keep_text_as_text_and_follow_the_theme(name, runs, healthy):
    run = runs[name]
    for picture, svg in paper(run, healthy[run.system.key], UNIT_SETS["psi_f"]).items():
        assert parsed(svg).get("aria-label") == picture
        assert "<style" not in svg and "<metadata" not in svg
        assert "font-size: 12px" in svg or picture in ("circuit", "gauges")
        for light, _ in COLOURS.values():
            assert svg.count(light) == svg.count(f", {light})")


@pytest.mark.parametrize("name", ["healthy", "at rest", "starved"])
def test_the_same_run_gives_the_same_picture_and_is_left_as_it_was(name, runs, healthy):
    run, well = runs[name], healthy[runs[name].system.key]
    before = copy.deepcopy((run, well))
    units = UNIT_SETS["bar_c"]
    first = paper(run, well, units), screen_layers(run, well, units)
    pressure_enthalpy._still.cache_clear()
    assert (paper(run, well, units), screen_layers(run, well, units)) == first
    assert (run, well) == before


@pytest.mark.parametrize("name", RUN_NAMES)
def test_sentences_name_their_units(name, runs):
    run, units = runs[name], UNIT_SETS["psi_f"]
    assert "psi gauge" in gauges.describe_gauges(run, units)
    assert "psi absolute" in pressure_enthalpy.describe_pressure_enthalpy(run, units) or "°F" in (
        pressure_enthalpy.describe_pressure_enthalpy(run, units)
    )
    assert circuit.describe_circuit(run, units).count("°F") == 5
    assert "psi gauge" in charge_curve.describe_charge_curve((run,), units)
    assert moist_air_process.describe_moist_air(run, units).count("°F") == 2
