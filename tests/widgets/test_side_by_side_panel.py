"""Cars side by side: one row a reading, faults hidden until asked for, one weather for all."""

import pytest

from course.errors import OutOfRange, UnknownChoice
from course.lessons.lesson import find_question, open_lesson
from course.physics.bench import run_bench
from course.physics.car_file import load_system
from course.physics.readings import Instruments
from course.physics.report import HEATER_CORE_AIR
from course.tables import read_faults
from course.units import display_units
from course.widgets.preferences import remembered_units
from course.widgets.side_by_side_panel import STEP_NAME, car_readings, show_side_by_side, what_is_wrong

LESSON, CONTROLS = "08_low_side_wrong", "09_controls_sensors_doors_high_voltage"
UNITS = display_units("kpa_c")
THREE = ["short", "blocked_line", "blocked_valve"]


@pytest.fixture(autouse=True)
def nobodys_taste(tmp_path, monkeypatch):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def test_every_car_has_a_column_and_every_reading_a_row():
    panel = show_side_by_side(LESSON, THREE, units="kpa_c")
    table = panel.page.value
    assert table.count('scope="col"') == 1 + len(THREE)
    assert table.count('scope="row"') == len(car_readings(panel.runs[0], panel.units))
    for run in panel.runs:
        for name, value in car_readings(run, panel.units):
            assert f">{name}</th>" in table and f"<td>{value}</td>" in table


def test_the_step_is_condenser_outlet_less_liquid_line():
    run = run_bench("sedan", faults={"restricted_liquid_line": 0.9})
    outlet = next(point.temperature_c for point in run.cycle_points if point.name == "condenser_outlet")
    shown = dict(car_readings(run, display_units("kpa_c")))[STEP_NAME]
    assert shown == f"{outlet - run.liquid_line_c:.0f} K"
    standing = run_bench("sedan", faults={"clutch_not_engaged": 1.0})
    assert dict(car_readings(standing, display_units("kpa_c")))[STEP_NAME] == "at rest"


def test_what_is_wrong_is_hidden_until_asked_for():
    panel = show_side_by_side(LESSON, THREE, named=False)
    words = ("charge 35 %", "liquid line restricted 90 %", "metering device restricted 50 %")
    assert not any(one in panel.page.value + panel.sentence() + str(panel._repr_mimebundle_()) for one in words)
    panel.reveal.value = True
    assert all(one in panel.page.value and one in panel.sentence() for one in words)
    assert what_is_wrong(run_bench("sedan")) == "nothing wrong"


def test_the_weather_moves_every_car_and_the_ice_thaws_while_the_dirt_stays():
    panel = show_side_by_side(LESSON, ["cool_ice", "cool_valve"], weather=True, units="kpa_c")
    assert panel.ambient.value == 20.0
    cool = [run.low_side_kpa_gauge for run in panel.runs]
    panel.ambient.value = 35.0
    hot, sound = [run.low_side_kpa_gauge for run in panel.runs], run_bench("sedan", ambient_c=35.0)
    assert cool[0] < cool[1] and hot[0] > hot[1]
    assert hot[0] == pytest.approx(sound.low_side_kpa_gauge)
    assert {run.conditions.ambient for run in panel.runs} == {308.15}


def test_without_weather_every_car_keeps_its_own_day():
    panel = show_side_by_side(LESSON, ["cool", "healthy"])
    assert [run.conditions.ambient for run in panel.runs] == [293.15, 308.15]


def test_a_refused_run_is_a_sentence_and_the_last_picture_stays(monkeypatch):
    panel = show_side_by_side(LESSON, ["cool", "cool_valve"], weather=True)
    before = panel.page.value

    def refuse(table):
        raise OutOfRange("no steady state was found")

    monkeypatch.setattr("course.widgets.side_by_side_panel.bench_run", refuse)
    panel.ambient.value = 30.0
    assert 'role="alert"' in panel.words.value and "no steady state" in panel.words.value
    assert panel.page.value == before


def test_units_change_everything_and_are_remembered():
    panel = show_side_by_side(LESSON, THREE)
    assert "psi" in panel.page.value and "°F" in panel.page.value
    panel.units_box.value = "bar_c"
    assert "bar" in panel.page.value and "°F" not in panel.page.value
    assert remembered_units() == "bar_c"


def test_a_stored_notebook_carries_words_and_picture():
    bundle = show_side_by_side(LESSON, THREE)._repr_mimebundle_()
    assert "Car B, invented sedan: liquid line restricted 90 %: low side" in bundle["text/plain"]
    assert "<svg" in bundle["text/html"] and "<table" in bundle["text/html"]


def test_wrong_starts_are_sentences():
    with pytest.raises(UnknownChoice, match="run: 'nonsense' is not known here"):
        show_side_by_side(LESSON, ["nonsense"])
    with pytest.raises(UnknownChoice, match="lesson: 'nonsense' is not known here"):
        show_side_by_side("nonsense", ["short"])
    with pytest.raises(OutOfRange, match="cars side by side: 5 were given; allowed are 1 to 4"):
        show_side_by_side(LESSON, [*THREE, "worn", "cool"])


def test_the_lessons_look_alikes_look_alike_and_are_told_apart_as_it_says():
    """Same needles and superheat; subcooling, step and discharge line differ by more than a thermometer can be off."""
    first = show_side_by_side(LESSON, THREE).runs
    assert max(run.low_side_kpa_gauge for run in first) - min(run.low_side_kpa_gauge for run in first) < 10.0
    assert max(run.high_side_kpa_gauge for run in first) - min(run.high_side_kpa_gauge for run in first) < 100.0
    assert max(run.superheat_k for run in first) - min(run.superheat_k for run in first) < 2.0
    short, line, valve = first
    assert line.subcooling_k > 5.0 > short.subcooling_k and (short.sight_glass, valve.sight_glass) == (
        "bubbles",
        "clear",
    )
    worn, slipping, flooded = show_side_by_side(LESSON, ["worn", "slipping", "flooded"]).runs
    assert abs(worn.low_side_kpa_gauge - slipping.low_side_kpa_gauge) < 20.0
    assert abs(worn.high_side_kpa_gauge - slipping.high_side_kpa_gauge) < 70.0
    assert worn.discharge_c - slipping.discharge_c > 15.0 and flooded.superheat_k == 0.0
    cars = show_side_by_side(LESSON, ["compact_valve", "compact_short", "compact_air", "compact_line"]).runs
    sound = run_bench("compact", ambient_c=35.0)
    assert all(abs(run.low_side_kpa_gauge - sound.low_side_kpa_gauge) < 10.0 for run in cars)


def test_held_needles_stand_still_where_the_lesson_says_so_and_superheat_tells():
    runs = show_side_by_side(CONTROLS, ["pickup_mild", "pickup_short", "compact_mild", "compact_short"]).runs
    for sound, short in (runs[:2], runs[2:]):
        assert abs(sound.low_side_kpa_gauge - short.low_side_kpa_gauge) < 5.0
        assert short.superheat_k - sound.superheat_k > 8.0 and short.subcooling_k < 1.0 < sound.subcooling_k
    assert runs[1].clutch_on_fraction < runs[0].clutch_on_fraction - 0.2


def test_a_door_moves_the_vent_alone_and_a_fan_the_head_alone_until_the_wind_helps():
    sound, door, idle, road = show_side_by_side(CONTROLS, ["healthy", "door", "fan_idle", "fan_road"]).runs
    pairs = zip(car_readings(sound, UNITS), car_readings(door, UNITS), strict=True)
    assert [name for (name, one), (_, other) in pairs if one != other] == ["Vent"]
    assert idle.high_side_kpa_gauge > 1.5 * sound.high_side_kpa_gauge > 1.5 * road.high_side_kpa_gauge
    assert "high-pressure cut-out" in idle.notes[0] and idle.clutch_on_fraction < 0.5


def test_the_sensor_of_the_lesson_lies_by_far_more_than_a_gauge_and_holds_the_compressor_off():
    numbers = find_question("code_low_pressure").numbers
    assert numbers["true_standing"].value - numbers["told_by_sensor"].value > 10.0 * Instruments().low_gauge_kpa
    lockout = load_system("pickup").controls.low_pressure_lockout / 1000.0
    assert numbers["told_by_sensor"].value < lockout < numbers["true_standing"].value
    assert numbers["empty_standing"].value < lockout


def test_the_heater_air_of_the_question_is_the_simulators():
    numbers = find_question("share_past_the_heater").numbers
    assert numbers["heater_air"].value == pytest.approx(HEATER_CORE_AIR - 273.15)
    severity = show_side_by_side(CONTROLS, ["door"]).runs[0].faults["warm_air_mixing"]
    full = read_faults()["warm_air_mixing"].at_full_share.value
    assert numbers["share_past_heater"].value == pytest.approx(100.0 * severity * full)


@pytest.mark.parametrize("lesson_id", [LESSON, CONTROLS])
def test_every_question_of_the_lesson_can_be_asked(lesson_id):
    lesson = open_lesson(lesson_id)
    assert [str(one) for one in [*lesson.questions.values(), *lesson.recall] if isinstance(one, Exception)] == []
