"""The air side of the bench, and that the lesson on it teaches what the engine shows."""

import re

import pytest

from course.charts.moist_air_process import air_states
from course.errors import UnknownChoice
from course.lessons.lesson import Question, open_lesson
from course.physics.bench import run_bench
from course.physics.moist_air import enthalpy
from course.units import celsius_to_kelvin
from course.widgets import show_air
from course.widgets.air_panel import drying_w

DRY, SULTRY = {"relative_humidity": 0.15}, {"relative_humidity": 0.75}
DAY_33 = {"ambient_c": 33.0, "relative_humidity": 0.65}


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def cell(panel, name):
    """What stands under a name on the panel."""
    return re.search(rf"<span>{name}</span><b>([^<]*)</b>", panel.layers.page.value)[1]


def test_a_slider_moves_chart_readings_and_words_together():
    panel = show_air(["humidity_percent"], units="kpa_c", humidity_percent=15)
    dry = cell(panel, "Vent"), cell(panel, "Cooling"), cell(panel, "of that, drying")
    panel.controls.numbers["humidity_percent"].value = 75
    run = run_bench("sedan", **SULTRY)
    assert (cell(panel, "Vent"), cell(panel, "Cooling")) == (f"{run.vent_c:.0f} °C", f"{run.capacity_w / 1000:.1f} kW")
    assert dry != (cell(panel, "Vent"), cell(panel, "Cooling"), cell(panel, "of that, drying"))
    assert f"{run.condensate_kg_h:.1f} kg/h drains off" in panel.words.value
    assert f"vent {run.vent_c:.0f} °C" in panel.layers.page.value


def test_drying_is_what_the_air_lost_with_its_water():
    """Worked out a second way: enthalpy of the vent's air with the water it came with, less as it is."""
    run = run_bench("sedan", **SULTRY)
    (_, wet), (cold, drier) = air_states(run)
    dry_air_kg_s = run.condensate_kg_h / 3600.0 / (wet - drier) * 1000.0
    lost = enthalpy(celsius_to_kelvin(cold), wet / 1000.0) - enthalpy(celsius_to_kelvin(cold), drier / 1000.0)
    assert drying_w(run) == pytest.approx(dry_air_kg_s * lost, rel=0.03)
    assert drying_w(run_bench("sedan", relative_humidity=0.1)) == pytest.approx(0.0, abs=1e-6)


def test_the_full_car_stands_in_grey_until_it_is_switched_off():
    panel = show_air(["charge_percent"], units="kpa_c", charge_percent=45)
    assert "--workbook-healthy" in panel.layers.page.value
    panel.controls.compare.value = False
    assert "--workbook-healthy" not in panel.layers.page.value


def test_a_car_at_rest_has_no_hot_condenser():
    assert cell(show_air(["charge_percent"], charge_percent=0), "Condenser above outside") == "at rest"


def test_a_wrong_control_is_a_sentence_and_a_refusal_keeps_the_picture():
    with pytest.raises(UnknownChoice, match="bench control: 'damp' is not known here"):
        show_air(["damp"])
    panel = show_air(["fault", "severity_percent"], ambient_c=50, humidity_percent=90)
    before = panel.layers.page.value
    panel.controls.numbers["altitude_m"].slider.max = 9000
    panel.controls.numbers["altitude_m"].slider.value = 8000
    assert "altitude: 8000 m was given" in panel.words.value
    assert panel.layers.page.value == before


def test_every_question_of_the_lesson_can_be_asked():
    lesson = open_lesson("03_the_air_decides")
    assert [
        problem for problem in (*lesson.recall, *lesson.questions.values()) if not isinstance(problem, Question)
    ] == []
    assert (len(lesson.recall), len(lesson.section("check"))) == (3, 5)


def test_sultry_air_makes_a_car_cool_more_and_blow_warmer():
    dry, sultry = run_bench("sedan", **DRY), run_bench("sedan", **SULTRY)
    assert sultry.vent_c > dry.vent_c + 5.0
    assert sultry.capacity_w > 1.3 * dry.capacity_w
    assert drying_w(sultry) > 0.5 * sultry.capacity_w
    assert sultry.condensing_c > dry.condensing_c + 5.0


def test_a_mild_day_hides_half_a_charge_at_the_vent_and_not_in_the_superheat():
    full, short = (run_bench("sedan", ambient_c=28.0, relative_humidity=0.3, charge_fraction=c) for c in (1.0, 0.45))
    assert 0.0 < short.vent_c - full.vent_c < 1.0  # a vent thermometer in the shop tells no less apart
    assert short.superheat_k > full.superheat_k + 2.0
    assert (full.sight_glass, short.sight_glass) == ("clear", "bubbles")
    assert short.clutch_on_fraction > full.clutch_on_fraction


def test_the_colder_of_two_vents_belongs_to_the_short_car():
    short = run_bench("sedan", ambient_c=30.0, relative_humidity=0.15, charge_fraction=0.45)
    full = run_bench("sedan", ambient_c=30.0, relative_humidity=0.7)
    assert short.vent_c < full.vent_c - 3.0


def test_each_cause_of_a_warm_vent_leaves_its_own_mark():
    sound = run_bench("sedan", **DAY_33)
    mixed, short, dirty = (
        run_bench("sedan", **DAY_33, **cause)
        for cause in (
            {"faults": {"warm_air_mixing": 0.2}},
            {"charge_fraction": 0.45},
            {"faults": {"condenser_airflow_low": 0.4}},
        )
    )
    assert min(mixed.vent_c, short.vent_c, dirty.vent_c) > sound.vent_c + 1.0
    for reading in ("low_side_kpa_gauge", "high_side_kpa_gauge", "superheat_k", "condensate_kg_h"):
        assert getattr(mixed, reading) == pytest.approx(getattr(sound, reading))
    assert short.superheat_k > sound.superheat_k + 5.0 > dirty.superheat_k
    assert dirty.condensing_c > sound.condensing_c + 8.0 > short.condensing_c


def test_drier_and_cooler_cabin_air_asks_less_and_comes_out_colder():
    fresh, again = run_bench("sedan"), run_bench("sedan", recirculate=True, cabin_c=26.0)
    assert again.vent_c < fresh.vent_c - 4.0
    assert again.capacity_w < fresh.capacity_w
    assert again.compressor_power_w < fresh.compressor_power_w
    assert again.vent_c > again.evaporating_c


def test_a_slower_blower_blows_colder_and_cools_less():
    slow, fast = (run_bench("sedan", blower_fraction=share) for share in (0.5, 1.0))
    assert slow.vent_c < fast.vent_c
    assert slow.capacity_w < fast.capacity_w
