"""A thermometer along the pipes: what it reads where, lines told apart without colour, letters that do not collide."""

import pytest

from course.charts.thermometer_walk import LINES, PLACES, describe_walk, place_temperatures, walk_svg
from course.physics.bench import run_bench
from course.units import UNIT_SETS
from tests.charts.svg_reading import box, overlapping, parsed, texts

NARROW_TEXT = 16.4  # px: what a phone prints so that it stays 12 px on the glass
STARVED = {"restricted_liquid_line": 0.9}
SETTINGS = [{}, {"faults": STARVED}, {"charge_fraction": 0.35}, {"faults": {"txv_stuck_open": 1.0}}]


@pytest.fixture(scope="module")
def cars():
    return [run_bench("sedan", **setting) for setting in SETTINGS]


def lines(svg):
    return [line for line in parsed(svg).iter() if line.tag.endswith("polyline") and line.get("stroke-width") == "2.5"]


def heights(svg):
    return [[float(point.split(",")[1]) for point in line.get("points").split()] for line in lines(svg)]


def test_the_places_are_read_off_the_run(cars):
    blocked = place_temperatures(cars[1])
    points = {point.name: point.temperature_c for point in cars[1].cycle_points}
    assert list(blocked) == list(PLACES)
    assert blocked["before_metering"] == cars[1].liquid_line_c
    assert blocked["suction_line"] == cars[1].suction_line_c
    assert [blocked[name] for name in ("condenser_outlet", "evaporator_inlet", "evaporator_outlet")] == [
        points[name] for name in ("condenser_outlet", "evaporator_inlet", "evaporator_outlet")
    ]


def test_only_the_blocked_line_has_a_step_before_the_metering_device(cars):
    steps = [one["condenser_outlet"] - one["before_metering"] for one in map(place_temperatures, cars)]
    assert steps[1] > 15.0
    assert max(steps[0], steps[2], steps[3]) < 4.0
    drawn = heights(walk_svg(cars, UNIT_SETS["kpa_c"]))
    assert max(range(4), key=lambda car: drawn[car][1] - drawn[car][0]) == 1  # y grows downwards


def test_a_car_at_rest_has_no_line_and_says_so(cars):
    standing = run_bench("sedan", faults={"clutch_not_engaged": 1.0})
    assert place_temperatures(standing) is None
    assert len(lines(walk_svg([standing, cars[0]], UNIT_SETS["kpa_c"]))) == 1
    assert describe_walk([standing, cars[0]], UNIT_SETS["kpa_c"]).startswith("Car A: at rest. Car B: condenser outlet ")


def test_lines_differ_without_colour(cars):
    drawn = lines(walk_svg(cars, UNIT_SETS["psi_f"]))
    assert len({line.get("stroke-dasharray") for line in drawn}) == len(drawn) == len(LINES)


@pytest.mark.parametrize("units", UNIT_SETS.values(), ids=lambda units: units.key)
def test_words_are_large_enough_inside_and_apart(units, cars):
    for runs in (cars, [cars[0]] * 4):
        svg = walk_svg(runs, units)
        _, _, width, height = map(float, parsed(svg).get("viewBox").split())
        for element in texts(svg):
            left, top, right, bottom = box(element)
            assert float(element.get("font-size")) >= 12.0
            assert left >= 0.0 and top >= 0.0 and right <= width and bottom <= height, element.text
        assert overlapping([svg], 12.0) == []
        assert overlapping([svg], NARROW_TEXT) == []


def test_a_pipe_colder_than_the_axis_stops_at_the_frame():
    vacuum = run_bench("sedan", ambient_c=15.0, faults={"txv_stuck_closed": 1.0})
    assert place_temperatures(vacuum)["evaporator_inlet"] < -35.0
    assert max(heights(walk_svg([vacuum], UNIT_SETS["kpa_c"]))[0]) == 222.0


def test_the_sentence_has_every_number_with_its_unit(cars):
    words = describe_walk(cars, UNIT_SETS["psi_f"])
    assert words.count("°F") == len(cars) * len(PLACES)
    assert parsed(walk_svg(cars, UNIT_SETS["psi_f"])).get("aria-label") == words
