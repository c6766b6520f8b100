"""Many readers at one car, and that the lesson on measuring teaches what the engine shows."""

import pytest

from course.errors import OutOfRange
from course.lessons.engine_numbers import NUMBERS
from course.lessons.lesson import Question, find_question, open_lesson
from course.lessons.quantities import Number
from course.physics.at_rest import rest_pressure
from course.physics.bench import run_bench
from course.physics.readings import Instruments, take_readings
from course.widgets import show_read_often
from course.widgets.read_often_panel import instruments

AIR_AT_2500_M_KPA = 74.7  # ISO 2533:1975, standard atmosphere: 746.9 hPa


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def verdict(panel, reading):
    """What the panel says of one reading."""
    return next(part for part in panel.sentence().split(";") if f" {reading} " in part).split(",")[-1].strip(" .")


def test_each_person_misreads_alike_and_more_of_them_join():
    panel = show_read_often(charge_percent=60, readers=3)
    first = list(panel.of_sound)
    panel.readers.value = 6
    assert panel.of_sound[:3] == first
    assert len(panel.of_sound) == len(panel.of_car) == 6
    assert "read by 6" in panel.words.value


def test_the_two_cars_are_read_by_different_people():
    panel = show_read_often(charge_percent=100, readers=4)
    assert not {one.vent_c for one in panel.of_sound} & {one.vent_c for one in panel.of_car}


def test_better_and_worse_instruments():
    usual, worse = Instruments(), instruments(2.0)
    assert worse.low_gauge_kpa == 2.0 * usual.low_gauge_kpa
    assert worse.vent_thermometer_k == 2.0 * usual.vent_thermometer_k
    panel = show_read_often(charge_percent=45, readers=12)
    assert verdict(panel, "superheat") == "apart"
    narrow = max(one.superheat_k for one in panel.of_sound)
    panel.care.value = 2.0
    assert max(one.superheat_k for one in panel.of_sound) > narrow


def test_one_reader_always_finds_a_difference_and_many_do_not():
    panel = show_read_often(charge_percent=60, readers=1)
    assert verdict(panel, "superheat") == "apart"
    panel.readers.value = 12
    assert verdict(panel, "low side") == verdict(panel, "high side") == verdict(panel, "superheat") == "mixed"
    panel.charge.value = 40
    assert verdict(panel, "superheat") == "apart"
    assert verdict(panel, "low side") == "mixed"


def test_what_is_not_offered_is_a_sentence():
    with pytest.raises(OutOfRange, match="readers: 50 people was given"):
        show_read_often(readers=50)


def test_every_question_of_the_lesson_can_be_asked():
    lesson = open_lesson("05_measuring_so_that_it_means_something")
    assert [
        problem for problem in (*lesson.recall, *lesson.questions.values()) if not isinstance(problem, Question)
    ] == []
    assert (len(lesson.recall), len(lesson.section("check"))) == (3, 5)


def test_zero_on_the_gauge_is_not_empty():
    full_of_vapour = run_bench("sedan", ambient_c=25.0, charge_fraction=0.02245)
    assert full_of_vapour.low_side_kpa_gauge == pytest.approx(0.0, abs=1.0)
    assert full_of_vapour.charge_kg > 0.010
    # or about 3 g of air: 2.535 litres at 1.18 kg/m3
    assert rest_pressure("sedan", temperature_c=25.0, charge_fraction=0.0, air_kg=0.0030) == pytest.approx(0.0, abs=1.0)
    assert run_bench("sedan", ambient_c=25.0, charge_fraction=0.0).low_side_kpa_gauge == pytest.approx(-101.3, abs=0.1)


def test_thirty_is_two_cars():
    psi = run_bench("sedan", relative_humidity=0.55)
    kpa = run_bench("sedan", faults={"txv_stuck_closed": 0.672})
    assert psi.low_side_kpa_gauge / 6.894757 == pytest.approx(30.0, abs=0.5)
    assert kpa.low_side_kpa_gauge == pytest.approx(30.0, abs=1.0)
    assert kpa.superheat_k > 10.0 * psi.superheat_k
    assert kpa.vent_c > psi.vent_c + 5.0


def test_the_needle_climbs_with_the_car_and_the_coil_does_not_warm():
    below, above = (run_bench("sedan", ambient_c=30.0, altitude_m=height) for height in (0.0, 2500.0))
    climbed = above.low_side_kpa_gauge - below.low_side_kpa_gauge
    assert climbed == pytest.approx(101.3 - AIR_AT_2500_M_KPA, abs=1.0)
    assert above.evaporating_c == pytest.approx(below.evaporating_c, abs=0.2)


def test_a_gentle_set_up_makes_a_full_car_look_short():
    book = run_bench("sedan")
    gentle = run_bench("sedan", recirculate=True, cabin_c=25.0, blower_fraction=0.4)
    assert gentle.high_side_kpa_gauge < 0.7 * book.high_side_kpa_gauge
    assert gentle.superheat_k == pytest.approx(book.superheat_k, abs=0.5)
    assert gentle.vent_c < book.vent_c - 8.0
    worn = run_bench("sedan", faults={"worn_compressor": 0.5})
    assert worn.low_side_kpa_gauge > book.low_side_kpa_gauge + 20.0 > gentle.low_side_kpa_gauge


def test_two_degrees_of_superheat_are_no_more_than_the_tools_are_off():
    sound, short = run_bench("sedan"), run_bench("sedan", charge_fraction=0.6)
    assert 1.0 < short.superheat_k - sound.superheat_k < 2.0
    read = [take_readings(sound, seed=person).superheat_k for person in range(20)]
    assert max(read) - min(read) > 2.0


def test_absolute_pressure_and_the_hose_are_worked_out_where_they_stand():
    gauge = Number(203.0, "gauge_pressure")
    absolute, _ = NUMBERS["absolute_pressure"]
    assert absolute(gauge, 2500.0).value == pytest.approx(203.0 + AIR_AT_2500_M_KPA, abs=0.1)
    assert absolute(absolute(gauge)).value == pytest.approx(203.0 + 101.325)
    hose, _ = NUMBERS["hose_content"]
    held = hose(4.8, 2400.0, "R134a", Number(25.0, "temperature"), "liquid")
    assert held.in_unit("g", 0) == "52 g"  # 43 ml at 1,207 kg/m3


def test_the_mountain_bottle_is_marked_with_its_slips():
    question = find_question("bottle_on_the_mountain")
    right, below, wrong_way = (
        question.numbers[name].value for name in ("bottle_high_up", "bottle_at_sea", "bottle_wrong_way")
    )
    assert right - below == pytest.approx(101.3 - AIR_AT_2500_M_KPA, abs=0.1)
    assert below - wrong_way == pytest.approx(right - below)
