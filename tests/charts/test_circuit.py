"""The circuit: pipes that carry what the physics says, a level that follows the reserve, thermometers with their readings."""

import pytest

from course.charts import circuit
from course.charts.style import DASHES
from course.physics.bench import run_bench
from course.physics.refrigerant import saturation_at_temperature
from course.units import UNIT_SETS
from tests.charts.svg_reading import lines, parsed, words

KPA = UNIT_SETS["kpa_c"]
STATES = ("liquid", "mixture", "vapour")


def pipes(picture):
    """State and points of every pipe of the loop, the three samples of the key left out."""
    found = []
    for state in STATES:
        found += [(state, line) for line in lines(picture, state) if line[0][0] != 140.0 and len(line) < 5]
    return [(state, line) for state, line in found if not is_closed(picture, line)]


def is_closed(picture, line):
    """Whether the line is the filled level of a vessel rather than a pipe."""
    return any(
        element.get("points").split()[0] == f"{line[0][0]:g},{line[0][1]:g}" and element.get("fill") != "none"
        for element in parsed(picture).iter("{http://www.w3.org/2000/svg}polygon")
    )


def state_between(picture, place):
    """What is drawn in the pipe that passes a place."""
    x, y = place
    found = set()
    for state, line in pipes(picture):
        for (x0, y0), (x1, y1) in zip(line, line[1:], strict=False):
            if min(x0, x1) <= x <= max(x0, x1) and min(y0, y1) <= y <= max(y0, y1):
                found.add(state)
    (only,) = found
    return only


DISCHARGE, AFTER_CONDENSER, BEFORE_DEVICE = (260.0, circuit.TOP), (46.0, 95.0), (46.0, 130.0)
AFTER_DEVICE, COIL_OUT, SUCTION = (70.0, circuit.BOTTOM), (235.0, circuit.BOTTOM), (circuit.RIGHT, 180.0)


def test_a_healthy_car_has_liquid_before_the_device_and_vapour_at_the_compressor(runs):
    picture = circuit.circuit_svg(runs["healthy"], KPA)
    around = (DISCHARGE, AFTER_CONDENSER, BEFORE_DEVICE, AFTER_DEVICE, COIL_OUT, SUCTION)
    assert [state_between(picture, place) for place in around] == [
        "vapour",
        "liquid",
        "liquid",
        "mixture",
        "vapour",
        "vapour",
    ]


def test_a_short_charge_brings_bubbles_into_the_liquid_line(runs):
    run = runs["short sedan"]
    assert run.sight_glass == "bubbles"
    assert state_between(circuit.circuit_svg(run, KPA), BEFORE_DEVICE) == "mixture"


def test_a_blocked_liquid_line_makes_bubbles_after_it_not_before():
    run = run_bench("sedan", faults={"restricted_liquid_line": 0.9})
    picture = circuit.circuit_svg(run, KPA)
    assert state_between(picture, AFTER_CONDENSER) == "liquid"
    assert state_between(picture, BEFORE_DEVICE) == "mixture"


def test_a_flooded_coil_hands_the_accumulator_a_mixture_and_the_compressor_vapour(runs):
    run = runs["cold day"]
    assert run.superheat_k == 0.0
    picture = circuit.circuit_svg(run, KPA)
    assert state_between(picture, COIL_OUT) == "mixture"
    assert state_between(picture, SUCTION) == "vapour"


def test_states_differ_by_pattern_as_well_as_by_colour():
    assert len({DASHES["solid"], DASHES["mixture"], DASHES["vapour"]}) == 3
    picture = circuit.circuit_svg(run_bench("sedan"), KPA)
    patterns = {
        state: {
            element.get("stroke-dasharray")
            for element in parsed(picture).iter("{http://www.w3.org/2000/svg}polyline")
            if f"--workbook-{state}," in element.get("stroke")
        }
        for state in STATES
    }
    assert patterns == {"liquid": {None}, "mixture": {"6 3"}, "vapour": {"2 3"}}


@pytest.mark.parametrize(("car", "share"), [("pickup", 0.8), ("pickup", 1.2), ("sedan", 0.8), ("compact", 1.0)])
def test_the_level_is_the_share_of_the_vessel_that_liquid_fills(car, share):
    run = run_bench(car, charge_fraction=share)
    level = [
        line for line in lines(circuit.circuit_svg(run, KPA), "liquid") if len(line) == 4 and line[0][0] != line[1][0]
    ]
    (corners,) = [line for line in level if line[0][1] == line[1][1] and line[1][0] == line[2][0]]
    storage = run.system.storage
    density = saturation_at_temperature(run.system.refrigerant, 298.15).liquid_density
    filled = min(run.reserve_kg / (storage.volume * storage.usable_share * density), 1.0)
    height = corners[2][1] - corners[1][1]
    assert height == pytest.approx(circuit.VESSEL[1] * filled, abs=0.06)  # one decimal of a pixel is kept


def test_an_empty_buffer_shows_no_level(runs):
    assert runs["short"].reserve_kg == pytest.approx(0.0, abs=1e-6)
    closed = "{http://www.w3.org/2000/svg}polygon"
    picture = circuit.circuit_svg(runs["short"], KPA)
    assert not [one for one in parsed(picture).iter(closed) if "--workbook-liquid," in one.get("fill")]


@pytest.mark.parametrize("units", UNIT_SETS.values(), ids=lambda units: units.key)
def test_every_thermometer_shows_its_reading(units, runs):
    run = runs["subcooled"]
    shown = words(circuit.circuit_svg(run, units))
    for reading in (run.discharge_c, run.liquid_line_c, run.evaporator_inlet_c, run.suction_line_c):
        number = 1.8 * reading + 32.0 if units.temperature == "°F" else reading
        assert f"{number:.0f} {units.temperature}" in shown


def test_parts_are_named_as_the_car_has_them(runs):
    assert {"orifice", "accumulator"} <= set(words(circuit.circuit_svg(runs["short"], KPA)))
    assert {"valve", "receiver"} <= set(words(circuit.circuit_svg(runs["healthy"], KPA)))


def test_the_compressor_says_how_much_it_pumps(runs):
    assert "not pumping" in words(circuit.circuit_svg(runs["at rest"], KPA))
    assert "pumping" in words(circuit.circuit_svg(runs["healthy"], KPA))
    cycling = runs["cold day"]
    assert 0.0 < cycling.clutch_on_fraction < 0.9
    assert f"pumping {100 * cycling.clutch_on_fraction:.0f} %" in words(circuit.circuit_svg(cycling, KPA))
