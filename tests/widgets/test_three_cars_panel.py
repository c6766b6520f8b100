"""The three cars side by side, and that the lesson on them teaches what the engine shows."""

import pytest

from course.errors import OutOfRange, UnknownChoice
from course.lessons.lesson import Question, open_lesson
from course.physics.bench import run_bench
from course.widgets import show_three_cars
from course.widgets.three_cars_panel import car_curves

CARS = ("compact", "pickup", "sedan")
GAUGE_KPA = 35.0  # the error assumed for a high-side gauge; the low side's is smaller


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


@pytest.fixture(scope="module")
def short():
    """Each car with full charge and with two fifths of it."""
    return {car: (run_bench(car), run_bench(car, charge_fraction=0.4)) for car in CARS}


def test_the_table_shows_every_car_at_the_line():
    panel = show_three_cars()
    panel.units.value = "kpa_c"
    panel.place.value = 40
    rows = dict(panel.rows())
    for number, car in enumerate(CARS):
        run = run_bench(car, charge_fraction=0.4)
        assert rows["low side"][number] == f"{run.low_side_kpa_gauge:.0f} kPa"
        assert rows["superheat"][number] == f"{run.superheat_k:.0f} K"
        assert rows["pumping"][number] == f"{100 * run.clutch_on_fraction:.0f} %"
        assert f"<td>{run.vent_c:.0f} °C</td>" in panel.picture.value
    assert "At 40 % of label: Invented compact:" in panel.sentence()


def test_another_reading_draws_another_curve():
    panel = show_three_cars()
    before = panel.picture.value, panel.words.value
    panel.reading.value = "superheat_k"
    assert panel.picture.value != before[0]
    assert "Superheat over 30 to 140 % of label charge" in panel.words.value


def test_speed_curves_are_of_the_same_cars():
    curves = car_curves("compressor_rpm", 35.0)
    assert [runs[0].system.key for runs in curves] == list(CARS)
    assert {run.charge_fraction for runs in curves for run in runs} == {1.0}
    panel = show_three_cars(over="compressor_rpm", reading="clutch_on_fraction", at=3000)
    assert "At 3000 rpm:" in panel.sentence()


def test_what_is_not_offered_is_a_sentence():
    with pytest.raises(UnknownChoice, match="over: 'price' is not known here"):
        show_three_cars(over="price")
    with pytest.raises(UnknownChoice, match="reading: 'noise' is not known here"):
        show_three_cars(reading="noise")
    with pytest.raises(OutOfRange, match="charge: 10 % of label was given"):
        show_three_cars(at=10)


def test_every_question_of_the_lesson_can_be_asked():
    lesson = open_lesson("04_valves_tubes_and_compressors")
    assert [
        problem for problem in (*lesson.recall, *lesson.questions.values()) if not isinstance(problem, Question)
    ] == []
    assert (len(lesson.recall), len(lesson.section("check"))) == (3, 5)


def test_no_low_side_falls_far_and_the_compacts_stands_still(short):
    for full, less in short.values():
        assert less.low_side_kpa_gauge > 0.8 * full.low_side_kpa_gauge
    assert short["compact"][1].low_side_kpa_gauge == pytest.approx(short["compact"][0].low_side_kpa_gauge, abs=5.0)


def test_each_car_tells_its_loss_in_its_own_way(short):
    rise = {car: less.superheat_k - full.superheat_k for car, (full, less) in short.items()}
    assert rise["pickup"] > 2.0 * max(rise["sedan"], rise["compact"]) > 20.0
    assert short["pickup"][0].clutch_on_fraction == 1.0 > short["pickup"][1].clutch_on_fraction
    assert short["compact"][0].subcooling_k > 8.0 > 0.5 > short["compact"][1].subcooling_k
    assert max(run.subcooling_k for run in short["sedan"]) < 0.01
    assert (short["sedan"][0].sight_glass, short["sedan"][1].sight_glass) == ("clear", "bubbles")


@pytest.mark.parametrize("car", CARS)
def test_a_small_loss_moves_nothing_while_the_store_holds(car):
    full, less = run_bench(car), run_bench(car, charge_fraction=0.85)
    assert less.reserve_kg > 0.01
    assert less.high_side_kpa_gauge == pytest.approx(full.high_side_kpa_gauge, abs=1.0)
    for reading in ("low_side_kpa_gauge", "superheat_k", "subcooling_k", "vent_c"):
        assert getattr(less, reading) == pytest.approx(getattr(full, reading), abs=0.2)


def test_a_sound_clutch_cycles_on_a_mild_day_and_the_pipes_tell():
    sound, less = (run_bench("pickup", ambient_c=25.0, charge_fraction=share) for share in (1.0, 0.5))
    assert less.clutch_on_fraction < sound.clutch_on_fraction < 0.9
    assert less.low_side_kpa_gauge == pytest.approx(sound.low_side_kpa_gauge, abs=10.0)
    assert sound.superheat_k < 1.0
    assert less.superheat_k > 10.0


def test_subcooling_tells_the_short_compact_from_the_worn_one():
    less, worn = run_bench("compact", charge_fraction=0.5), run_bench("compact", faults={"worn_compressor": 0.5})
    sound = run_bench("compact")
    assert worn.high_side_kpa_gauge == pytest.approx(less.high_side_kpa_gauge, abs=GAUGE_KPA)
    assert min(worn.low_side_kpa_gauge, less.low_side_kpa_gauge) > sound.low_side_kpa_gauge + 10.0
    assert less.subcooling_k == 0.0 < 8.0 < worn.subcooling_k


def test_too_much_goes_to_the_compressor_in_one_car_and_backs_up_in_the_other():
    over, pickup = run_bench("pickup", charge_fraction=1.3), run_bench("pickup")
    assert over.high_side_kpa_gauge == pytest.approx(pickup.high_side_kpa_gauge, abs=GAUGE_KPA)
    assert over.discharge_c < pickup.discharge_c - 10.0
    assert over.compressor_suction_superheat_k < 1.0 < 5.0 < pickup.compressor_suction_superheat_k
    back, sedan = run_bench("sedan", charge_fraction=1.3), run_bench("sedan")
    assert back.subcooling_k > sedan.subcooling_k + 8.0
    assert back.discharge_c > sedan.discharge_c


@pytest.mark.parametrize("car", CARS)
def test_with_speed_the_low_side_falls_until_control_begins(car):
    idle, brisk, fast = (run_bench(car, compressor_rpm=speed) for speed in (700.0, 2000.0, 3000.0))
    assert idle.low_side_kpa_gauge > brisk.low_side_kpa_gauge + 80.0
    assert fast.low_side_kpa_gauge == pytest.approx(brisk.low_side_kpa_gauge, abs=5.0)
    assert fast.clutch_on_fraction < brisk.clutch_on_fraction < idle.clutch_on_fraction == 1.0
    assert fast.capacity_w == pytest.approx(brisk.capacity_w, rel=0.02)
    assert fast.compressor_power_w > 1.1 * brisk.compressor_power_w
    assert idle.vent_c > fast.vent_c + 2.0
