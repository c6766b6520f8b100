"""The vacuum's pictures: curve, levels, both scales and words agree with what was worked out."""

import pytest

from course.charts.pump_down import describe_pump_down, describe_rise, draw_pump_down, draw_rise, micron
from course.charts.style import new_figure, svg_of
from course.errors import WorkbookError
from course.service.evacuation import minutes_to_reach, pump_down, usual_circuit
from course.service.rise_case import RiseReadings, read_rise, rise_case
from course.service.vacuum_flow import load_pump, load_tube
from course.service.water import boiling_pressure_pa
from course.units import PA_PER_MICRON, display_units

KPA, PSI = display_units("kpa_c"), display_units("psi_f")


def curve(water_g=0.0, minutes=30.0, hose="hose_wide", **settings):
    tubes = [load_tube(hose), load_tube("port_with_core")]
    return pump_down(usual_circuit(water_g=water_g, **settings), load_pump("pump_small"), tubes, minutes)


def test_the_curve_is_drawn_in_micron_and_both_scales_say_the_same():
    figure, wet = new_figure(), curve(3.0)
    draw_pump_down(figure, wet, curve(3.0, hose="hose_thin"))
    upper, lower, right = figure.axes
    assert upper.get_yscale() == right.get_yscale() == "log"
    assert [end * PA_PER_MICRON for end in upper.get_ylim()] == pytest.approx(right.get_ylim())
    solid = next(line for line in upper.lines if line.get_linewidth() == 2.4)
    assert list(solid.get_ydata()) == pytest.approx([pressure / PA_PER_MICRON for pressure in wet.pressure_pa])
    levels = {round(line.get_ydata()[0]) for line in upper.lines if len(set(line.get_ydata())) == 1}
    assert levels == {500, round(boiling_pressure_pa(20.0) / PA_PER_MICRON)}
    assert "dashed: before" in lower.get_xlabel()


def test_the_limits_stay_while_the_hose_changes():
    limits = set()
    for hose in ("hose_thin", "hose_wide"):
        figure = new_figure()
        draw_pump_down(figure, curve(hose=hose))
        limits.add((figure.axes[0].get_ylim(), figure.axes[0].get_xlim()))
    assert len(limits) == 1


def test_the_words_say_when_and_what_became_of_the_water():
    wet = curve(3.0)
    words = describe_pump_down(wet, KPA)
    assert words.startswith(f"500 micron after {minutes_to_reach(wet, 500 * PA_PER_MICRON):.1f} min")
    assert words.endswith("The water chilled to 10 °C; it is gone at the end.")
    assert "The water chilled to 50 °F" in describe_pump_down(wet, PSI)
    assert "500 micron is not reached" in describe_pump_down(curve(10.0), KPA)
    assert "g of it are left" in describe_pump_down(curve(10.0), KPA)
    assert "and froze" in describe_pump_down(curve(10.0, heat_w_k=0.05, minutes=60.0), KPA)
    assert "water" not in describe_pump_down(curve(), KPA)


def test_the_rise_shows_every_reading_and_the_truth_only_when_asked():
    readings = read_rise(rise_case(5), "micron_gauge", 30.0)
    for show in (False, True):
        figure = new_figure()
        draw_rise(figure, readings, boiling_pressure_pa(20.0), show)
        axes = figure.axes[0]
        assert any(len(line.get_xdata()) == 11 and line.get_marker() == "o" for line in axes.lines)
        assert any(len(line.get_xdata()) == len(readings.truth.minutes) for line in axes.lines) == show
        assert ("what really happened" in svg_of(figure, "rise")) == show
    assert describe_rise(readings).startswith("11 readings in 30 min: ")


def test_nothing_to_draw_is_said():
    empty = RiseReadings((), (), 1.0, curve())
    for call in (lambda: draw_rise(new_figure(), empty, 2339.0), lambda: describe_rise(empty)):
        with pytest.raises(WorkbookError, match="there are no readings to draw; hold the vacuum first"):
            call()
    with pytest.raises(WorkbookError, match="there is no curve to draw; run a pump-down first"):
        draw_pump_down(new_figure(), None)


def test_micron_is_printed_as_it_is_read():
    assert [micron(value * PA_PER_MICRON) for value in (89.4, 1234.0, 17546.0)] == [
        "89 micron",
        "1,230 micron",
        "17,550 micron",
    ]
