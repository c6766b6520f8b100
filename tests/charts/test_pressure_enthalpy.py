"""The P-h chart against the tables, and its moving layer against the axes it lies on."""

import math

import pytest

from course.charts import pressure_enthalpy
from course.charts.style import COLOURS, ENTHALPY_LIMITS_KJ_KG, PRESSURE_LIMITS_KPA, WIDTH, new_figure
from course.errors import UnknownChoice
from course.physics.bench import run_bench
from course.units import UNIT_SETS
from tests.charts.conftest import SETTINGS
from tests.charts.svg_reading import lines, parsed, words

KPA = UNIT_SETS["kpa_c"]
# R-134a at 300 K: kPa, kJ/kg of liquid and of vapour (Tillner-Roth and Baehr 1994, table 8)
TABLE_300_K = 702.82, 237.19, 413.27


def drawn(units, refrigerant="R134a", **more):
    """The chart on its own axes, in the frame of the screen."""
    figure = new_figure(WIDTH, pressure_enthalpy.HEIGHT)
    axes = figure.add_axes(pressure_enthalpy.FRAME)
    artists = pressure_enthalpy.draw_pressure_enthalpy(axes, refrigerant, units=units, **more)
    figure.canvas.draw()
    return axes, artists


def by_colour(axes, name):
    """Lines of a colour on an axes."""
    return [line for line in axes.get_lines() if line.get_color() == COLOURS[name][0]]


def places(run, units):
    """Where matplotlib itself puts the corners of a cycle [px, y down]."""
    axes, _ = drawn(units, run.system.refrigerant)
    found = []
    for point in run.cycle_points:
        shown = point.pressure_kpa_absolute * 1e3 / units.pa_per_pressure
        x, y = axes.transData.transform((point.enthalpy_kj_kg, shown))
        found.append((x, pressure_enthalpy.HEIGHT - y))
    return found


def frame(units, refrigerant):
    """Left, top, right, bottom of the axes [px, y down]."""
    box = drawn(units, refrigerant)[0].get_window_extent()
    return box.x0, pressure_enthalpy.HEIGHT - box.y1, box.x1, pressure_enthalpy.HEIGHT - box.y0


@pytest.mark.parametrize("units", UNIT_SETS.values(), ids=lambda units: units.key)
def test_the_dome_goes_through_the_table(units):
    axes, _ = drawn(units)
    dome = max(by_colour(axes, "ink"), key=lambda line: len(line.get_xdata()))
    pressure, liquid, vapour = TABLE_300_K
    y = pressure * 1e3 / units.pa_per_pressure
    crossings = []
    points = list(zip(dome.get_xdata(), dome.get_ydata(), strict=True))
    for (x0, y0), (x1, y1) in zip(points, points[1:], strict=False):
        if (y0 - y) * (y1 - y) < 0.0:
            crossings.append(x0 + (x1 - x0) * math.log(y / y0) / math.log(y1 / y0))
    # straight pieces between 120 points of the dome: a tenth of a kJ/kg, a fiftieth of a line's width
    assert crossings == pytest.approx([liquid, vapour], abs=0.1)


def test_the_isotherm_is_flat_in_the_dome_at_the_tables_pressure():
    axes, _ = drawn(KPA)
    pressure_20 = 571.7  # kPa, R-134a at 20 °C, saturation tables (from memory)
    flat = [
        line
        for line in by_colour(axes, "faint")
        for y0, y1 in zip(line.get_ydata(), line.get_ydata()[1:], strict=False)
        if y0 == y1 and y0 == pytest.approx(pressure_20, rel=1e-3)
    ]
    assert len(flat) == 1


@pytest.mark.parametrize("name", ["healthy", "subcooled", "too full", "cold day"])
@pytest.mark.parametrize("units", UNIT_SETS.values(), ids=lambda units: units.key)
def test_corners_lie_where_matplotlib_puts_them(name, units, runs):
    run = runs[name]
    expected = places(run, units)
    loop = lines(pressure_enthalpy.moving_svg(run, None, units), "ink")[0]
    assert len(loop) == len(expected) + 1
    for (x, y), (wanted_x, wanted_y) in zip(loop, expected, strict=False):
        assert (x, y) == (pytest.approx(wanted_x, abs=0.06), pytest.approx(wanted_y, abs=0.06))  # one decimal is kept
    assert loop[-1] == loop[0]


@pytest.mark.parametrize("name", SETTINGS)
def test_nothing_is_drawn_outside_the_frame(name, runs, healthy):
    run = runs[name]
    left, top, right, bottom = frame(KPA, run.system.refrigerant)
    drawn_lines = lines(pressure_enthalpy.moving_svg(run, healthy[run.system.key], KPA))
    for x, y in (point for line in drawn_lines for point in line):
        assert left - 0.1 <= x <= right + 0.1 and top - 0.1 <= y <= bottom + 0.1


def test_a_cycle_too_hot_for_the_chart_is_cut_and_says_how_hot(runs):
    run = runs["starved"]
    hottest = max(run.cycle_points, key=lambda point: point.enthalpy_kj_kg)
    assert hottest.enthalpy_kj_kg > ENTHALPY_LIMITS_KJ_KG["R134a"][1]
    picture = pressure_enthalpy.moving_svg(run, None, KPA)
    assert f"on to {hottest.temperature_c:.0f} °C" in words(picture)
    assert "lies right of the chart" in parsed(picture).get("aria-label")
    right = frame(KPA, "R134a")[2]
    assert max(x for line in lines(picture, "ink") for x, _ in line) == pytest.approx(right, abs=0.06)


def test_a_car_at_rest_shows_the_pressure_both_sides_stand_at(runs, healthy):
    run = runs["at rest"]
    picture = pressure_enthalpy.moving_svg(run, healthy["pickup"], KPA)
    ((start, end),) = lines(picture, "ink")
    left, top, right, bottom = frame(KPA, "R134a")
    absolute = run.low_side_kpa_gauge + 101.325
    low, high = PRESSURE_LIMITS_KPA["R134a"]
    share = math.log(absolute / low) / math.log(high / low)
    assert start[1] == end[1] == pytest.approx(bottom - share * (bottom - top), abs=0.1)
    assert (start[0], end[0]) == (pytest.approx(left, abs=0.1), pytest.approx(right, abs=0.1))
    assert "at rest, both sides equal: no cycle" in words(picture)


def test_an_empty_car_has_no_pressure_line_but_still_its_words(runs):
    picture = pressure_enthalpy.moving_svg(runs["empty"], None, KPA)
    assert lines(picture) == []
    assert words(picture) == ["at rest, both sides equal: no cycle"]


def test_grey_lies_behind_on_paper_too_and_the_limits_never_move(runs, healthy):
    plain, _ = drawn(KPA)
    for name in ("healthy", "short sedan", "starved", "too full"):
        axes, artists = drawn(KPA, run=runs[name], healthy=healthy["sedan"])
        assert (axes.get_xlim(), axes.get_ylim()) == (plain.get_xlim(), plain.get_ylim())
        drawn_lines = axes.get_lines()
        (grey,) = by_colour(axes, "healthy")
        assert len(grey.get_xdata()) == len(healthy["sedan"].cycle_points) + 1
        cycle = [line for line in by_colour(axes, "ink") if line.get_linewidth() == 2.4]
        assert drawn_lines.index(grey) < drawn_lines.index(cycle[0])
        assert set(drawn_lines) <= set(artists)


def test_the_marked_stretches_are_as_wide_as_the_heat_they_stand_for():
    run = run_bench("compact")
    named = {point.name: point for point in run.cycle_points}
    axes, _ = drawn(KPA, "R1234yf", run=run)
    for colour, first, last in (
        ("low", "evaporation_ends", "evaporator_outlet"),
        ("high", "condensing_ends", "condenser_outlet"),
    ):
        (stretch,) = by_colour(axes, colour)
        assert list(stretch.get_xdata()) == [named[first].enthalpy_kj_kg, named[last].enthalpy_kj_kg]
    warm = named["evaporator_outlet"].temperature_c - named["evaporation_ends"].temperature_c
    assert warm == pytest.approx(run.superheat_k, abs=0.01)


@pytest.mark.parametrize("draw", [pressure_enthalpy.still_svg, lambda name, units: drawn(units, name)])
def test_an_unknown_refrigerant_is_refused_with_the_list(draw):
    with pytest.raises(UnknownChoice) as refusal:
        draw("R22", KPA)
    assert str(refusal.value) == "refrigerant: 'R22' is not known here; choose one of R134a, R1234yf."
