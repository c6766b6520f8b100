"""The lessons' own panels: the sealed bottle, the walk round the loop, and predictions that the engine bears out."""

import pytest

from course.charts.pressure_enthalpy import to_pixels
from course.errors import UnknownChoice, WorkbookError
from course.physics.at_rest import rest_pressure
from course.physics.bench import run_bench
from course.units import display_units
from course.widgets import ask, show_bottle, show_walk


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def test_a_sealed_bottle_follows_temperature():
    bottle = show_bottle(units="kpa_c", temperature_c=25.0)
    assert "both gauges show 564 kPa gauge" in bottle.sentence()  # P-T table, R-134a at 25 °C: 564
    bottle.charge.value = 50.0
    assert "564 kPa" in bottle.sentence()
    bottle.temperature.value = 35.0
    assert "786 kPa" in bottle.sentence()  # same table at 35 °C


def test_a_prediction_is_asked_by_its_id_alone():
    assert ask("hot_day_low_charge").question.id == "00_start_here/hot_day_low_charge"
    with pytest.raises(UnknownChoice, match="question: 'nothing' is not known here; choose one of hot_day_low_charge"):
        ask("nothing")


def test_a_bottle_says_when_its_last_drop_has_boiled():
    bottle = show_bottle(units="kpa_c", temperature_c=30.0, charge_percent=60)
    assert "liquid is left" in bottle.sentence()
    assert ">liquid<" in bottle.picture.value
    bottle.charge.value = 10.0
    assert "no liquid is left" in bottle.sentence()
    assert ">no liquid<" in bottle.picture.value


def test_a_bottle_changes_units_and_not_its_temperature():
    bottle = show_bottle(temperature_c=30.0)
    bottle.units.value = "psi_f"
    assert bottle.temperature.slider.value == 86.0
    assert "86 °F" in bottle.sentence()
    bottle.temperature.slider.value = 86.00000000000001  # as a browser sends it back
    assert bottle.temperature.box.value == 86.0
    assert show_bottle().units.value == "psi_f"


def test_a_walk_marks_where_it_stands_and_comes_round():
    walk = show_walk(car="compact", units="kpa_c")
    assert len(walk.stations) == 8
    for name in (*walk.stations, walk.stations[0]):
        assert walk.station.value == name
        point = walk.points[name]
        x, y = to_pixels("R1234yf", display_units("kpa_c"), point.enthalpy_kj_kg, point.pressure_kpa_absolute)
        assert f'<circle cx="{x:.1f}'.rstrip("0").rstrip(".") in walk.moving.value
        assert f"heat content {point.enthalpy_kj_kg:.0f} kJ/kg" in walk.words.value
        walk.go_on()


def test_a_walk_needs_a_running_car():
    with pytest.raises(WorkbookError, match="at rest in this setting, so there is no loop to walk; give the car"):
        show_walk(charge_fraction=0.0)
    with pytest.raises(UnknownChoice, match="car: 'coupe' is not known here"):
        show_walk(car="coupe")


def test_low_charge_lowers_both_needles_less_than_in_step_and_superheat_shows_it_more():
    assert ask("hot_day_low_charge").right == 1
    full, short = (run_bench("sedan", charge_fraction=share) for share in (1.0, 0.4))
    for side in ("low_side_kpa_gauge", "high_side_kpa_gauge"):
        assert 0.6 < getattr(short, side) / getattr(full, side) < 1.0
    assert short.superheat_k > 2.0 * full.superheat_k
    assert short.discharge_c > full.discharge_c


def test_half_the_charge_stands_at_the_same_pressure_and_ten_degrees_more_at_four_tenths_more():
    assert ask("bottle_half_empty").right == 2
    assert ask("bottle_hotter").right == 0
    standing = {
        (charge, temperature): rest_pressure("sedan", temperature_c=temperature, charge_fraction=charge)
        for charge in (0.5, 1.0)
        for temperature in (25.0, 35.0)
    }
    assert standing[0.5, 25.0] == pytest.approx(standing[1.0, 25.0])
    assert standing[1.0, 35.0] / standing[1.0, 25.0] == pytest.approx(1.4, abs=0.05)


def test_a_hotter_day_lifts_the_top_line_most_and_each_kilogram_carries_less():
    assert ask("hotter_outside").right == 2
    mild, hot = (run_bench("sedan", ambient_c=ambient) for ambient in (25.0, 45.0))
    assert (
        hot.high_side_kpa_gauge - mild.high_side_kpa_gauge > 3 * (hot.low_side_kpa_gauge - mild.low_side_kpa_gauge) > 0
    )

    def carried(run):
        points = {point.name: point.enthalpy_kj_kg for point in run.cycle_points}
        return points["evaporator_outlet"] - points["evaporator_inlet"]

    assert carried(hot) < carried(mild)


def test_the_lessons_cases_can_be_found_on_the_bench():
    # 00: some hotter day gives the short sedan the full one's high side
    full = run_bench("sedan").high_side_kpa_gauge
    short = [run_bench("sedan", ambient_c=ambient, charge_fraction=0.4).high_side_kpa_gauge for ambient in (35.0, 50.0)]
    assert short[0] < full < short[1]
    # 02: some charge gives the healthy pickup the blocked one's low side, and subcooling tells them apart
    blocked = run_bench("pickup", faults={"restricted_metering_device": 0.6})
    low, high = (run_bench("pickup", charge_fraction=charge) for charge in (0.4, 0.7))
    assert low.low_side_kpa_gauge < blocked.low_side_kpa_gauge < high.low_side_kpa_gauge
    assert low.superheat_k > 10.0 < blocked.superheat_k
    assert low.subcooling_k < 5.0
    assert blocked.subcooling_k > 15.0


def test_a_bottle_beside_another_refrigerant_shows_how_near_they_read():
    bottle = show_bottle(units="kpa_c", temperature_c=25.0, beside="R1234yf")
    # P-T tables at 25 °C: R-134a 564, R-1234yf 581
    assert bottle.sentence().endswith(
        "both gauges show 564 kPa gauge, liquid is left. R-1234yf in the same warmth: 581 kPa gauge."
    )
    assert "R-1234yf" not in show_bottle(units="kpa_c").sentence()
    with pytest.raises(UnknownChoice, match="refrigerant beside it: 'R12' is not known here"):
        show_bottle(beside="R12")
