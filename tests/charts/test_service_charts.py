"""Pictures of recovery, charge and nitrogen hold: they show what was worked out, in black and white too."""

import pytest

from course.charts.charge_weight import describe_charge_weight, draw_charge_weight
from course.charts.nitrogen_hold import describe_hold, draw_hold
from course.charts.recovery_curve import cylinder_svg, describe_recovery, draw_recovery
from course.charts.style import new_figure, svg_of
from course.errors import OutOfRange, WorkbookError
from course.service.charging import check_charge
from course.service.hold_case import read_hold
from course.service.pressure_test import judge_hold
from course.service.recovery import load_machine, recover, usual_car, wait
from course.units import display_units
from tests.charts.svg_reading import box, overlapping, parsed, texts

PSI, KPA = display_units("psi_f"), display_units("kpa_c")


@pytest.fixture(scope="module")
def stretches():
    first = recover(usual_car(), load_machine("machine_old"))
    rest = wait(first, 5.0)
    return [
        ("recover", first),
        ("wait", rest),
        ("recover", recover(first.car, load_machine("machine_old"), before=rest)),
    ]


def test_mass_and_pressure_follow_one_another_in_time(stretches):
    figure = new_figure()
    draw_recovery(figure, stretches, KPA, show_left=True)
    upper, lower = figure.axes
    gauges = [line for line in lower.lines if len(line.get_xdata()) > 2]
    ends = [line.get_xdata()[-1] for line in gauges]
    begins = [line.get_xdata()[0] for line in gauges]
    assert begins[0] == 0.0 and begins[1:] == ends[:-1]
    assert gauges[1].get_ydata()[-1] == pytest.approx(stretches[1][1].pressure_pa[-1] / 1e3 - 101.325)
    solid = [line for line in upper.lines if line.get_linestyle() == "-"]
    assert solid[-1].get_ydata()[-1] == pytest.approx(1e3 * stretches[2][1].recovered_kg[-1])
    dashed = [line for line in upper.lines if line.get_linestyle() != "-"]
    assert len(solid) == len(dashed) == 3
    assert solid[-1].get_ydata()[-1] + dashed[-1].get_ydata()[-1] == pytest.approx(1400.0, abs=0.5)


def test_what_stayed_is_drawn_and_told_only_when_asked(stretches):
    figure = new_figure()
    draw_recovery(figure, stretches, PSI)
    assert all(line.get_linestyle() == "-" for line in figure.axes[0].lines)
    assert "Still" not in describe_recovery(stretches, PSI)
    assert "Still in the car: 184 g" in describe_recovery(stretches, PSI, show_left=True)
    assert "above 0" in describe_recovery(stretches, PSI)


def test_the_gauges_scale_is_fixed_in_every_unit(stretches):
    for units, limits in ((KPA, (-100.0, 150.0)), (PSI, (-100.0 / 6.894757, 150.0 / 6.894757))):
        figure = new_figure()
        draw_recovery(figure, stretches[:1], units)
        assert figure.axes[1].get_ylim() == pytest.approx(limits, rel=1e-6)


def test_the_cylinder_shows_its_line_and_keeps_its_words_inside():
    picture = cylinder_svg(0.2, 0.5, "half full")
    assert parsed(picture).get("aria-label") == "half full"
    assert {"80 %", "hottest day"} == {one.text for one in texts(picture)}
    assert overlapping([picture], 12.0) == []
    for one in texts(picture):
        left, top, right, bottom = box(one)
        assert left >= 0.0 and right <= 146.0 and top >= 0.0 and bottom <= 215.0
    assert cylinder_svg(0.2, 0.5, "a") != cylinder_svg(0.2, 0.6, "a")
    with pytest.raises(OutOfRange, match="liquid in the cylinder: 1.2"):
        cylinder_svg(0.2, 1.2, "too full")


def test_the_charge_stands_beside_its_label():
    check, axes = check_charge(9000.0, 8350.0, 600.0, hose_g=52.0), new_figure().add_subplot()
    draw_charge_weight(axes, check, 52.0)
    places = {round(float(line.get_xdata()[0])) for line in axes.lines if line.get_marker() == "o"}
    assert places == {650, 598}
    assert "hatched" in axes.get_xlabel() and [tick.get_text() for tick in axes.get_yticklabels()][0] == "in the car"
    assert "650 g left the cylinder, 52 g of it for the hose: 598 g in the car" in describe_charge_weight(check, 52.0)


@pytest.mark.parametrize("units", [PSI, KPA], ids=["psi", "kpa"])
def test_a_tight_hold_lies_on_its_line_and_all_cases_inside_the_frame(units):
    for number in range(40):
        for warm in (-10.0, 15.0, 50.0):
            seen = read_hold(number, 1440.0, warm)
            verdict = judge_hold(seen.first_kpa_gauge, seen.first_c, seen.second_kpa_gauge, seen.second_c, 1440.0)
            axes = new_figure().add_subplot()
            draw_hold(axes, seen, verdict, units)
            line, second = axes.lines[0], axes.lines[2]
            assert axes.get_ylim()[0] < second.get_ydata()[0] < axes.get_ylim()[1], number
            assert axes.get_xlim()[0] < second.get_xdata()[0] < axes.get_xlim()[1], number
            rising = line.get_ydata()
            assert rising[0] < rising[-1]
    assert units.pressure in describe_hold(seen, units)


def test_every_picture_parses_and_follows_the_theme(stretches):
    figure = new_figure()
    draw_recovery(figure, stretches, PSI, True)
    picture = svg_of(figure, "a recovery")
    assert parsed(picture).get("aria-label") == "a recovery"
    assert "var(--workbook-warning" in picture


def test_nothing_to_draw_is_said():
    for call in (lambda: draw_recovery(new_figure(), [], PSI), lambda: describe_recovery([], PSI)):
        with pytest.raises(WorkbookError, match="recover first"):
            call()
