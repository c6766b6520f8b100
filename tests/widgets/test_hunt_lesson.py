"""Lesson 11 by the engine: what its predictions say, and what its cases show to whoever follows the words."""

import pytest

from course.lessons.lesson import find_question, open_lesson
from course.service.belief import place_chances
from course.service.hunt import Step, after_earlier_shop, begin_hunt, finds, take_look, the_look
from course.service.hunt_plan import follow_best_plan
from course.service.pressure_test import judge_hold
from course.tables import read_leak_places
from course.widgets import ask, show_hunt


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def followed(panel, *looks):
    """The lesson's looks made on its panel, each a dict of control and value."""
    for look in looks:
        for control, value in look.items():
            getattr(panel, control).value = value
        panel.look.click()
    return [seen.signal for seen in panel.hunt.log[len(panel.start.log) :]]


def test_a_clean_search_outside_moves_the_chance_to_where_it_could_not_see():
    assert ask("detector_found_nothing").right == 1
    panel = show_hunt(number=68, earlier_shop=True)
    assert "An earlier shop went round outside, engine off, and found nothing." in panel.sentence()
    before, after = place_chances(begin_hunt(68).belief), place_chances(panel.start.belief)
    unseen = ("evaporator_core", "evaporator_pipes", "elsewhere")
    assert sum(after[place] for place in unseen) > 2.0 * sum(before[place] for place in unseen)
    assert max(after, key=after.get) == "evaporator_core"
    assert panel.start.minutes == 0.0


def test_the_first_case_is_found_in_the_evaporator_after_the_wait():
    panel = show_hunt(number=68, earlier_shop=True)
    assert followed(panel, {"place": "evaporator_core", "wait": 0.0}, {"wait": 13.0}) == [False, True]
    assert 0.5 < place_chances(panel.hunt.belief)["evaporator_core"] < 0.9, "one alarm is not proof"
    assert followed(panel, {})[-1]
    assert place_chances(panel.hunt.belief)["evaporator_core"] >= 0.9
    panel.named.value = "evaporator_core"
    panel.found.click()
    assert panel.verdict.right


def test_dye_shows_nothing_on_the_first_day_and_glows_after_five():
    assert ask("dye_first_day").right == 2
    panel = show_hunt(number=119)
    looks = {"place": "suction_line_joint", "method": "uv_dye", "ride": 0.0}, {"ride": 5.0}
    assert followed(panel, *looks) == [False, True]
    hunt = begin_hunt(119)
    at_once, later = (
        finds(hunt, the_look(hunt, Step("suction_line_joint", "uv_dye", ride_days=days)), "suction_line_joint")
        for days in (0.0, 5.0)
    )
    assert max(at_once) < 0.01
    assert later[2] > 0.5


def test_a_dry_leak_never_glows_and_the_detector_finds_it():
    assert ask("dry_joint").right == 0
    assert not read_leak_places()["liquid_line_clamp"].oil_wetted
    panel = show_hunt(number=88)
    looks = {"place": "liquid_line_clamp", "method": "uv_dye", "ride": 14.0}, {"method": "electronic"}
    assert followed(panel, *looks) == [False, True]
    hunt = begin_hunt(88)
    assert (
        max(finds(hunt, the_look(hunt, Step("liquid_line_clamp", "uv_dye", ride_days=14.0)), "liquid_line_clamp"))
        == 0.0
    )


def test_the_worked_case_alarms_twice_while_running_and_is_then_sure():
    panel = show_hunt(number=26, earlier_shop=True)
    assert "found nothing" in panel.car_sentence()
    assert panel.start.car.temperature_c < 15.0
    inside = {"place": "evaporator_core", "wait": 13.0}
    running = {"place": "discharge_crimp_condenser", "wait": 0.0, "state": "running"}
    signals = followed(panel, inside, running, {}, {})
    assert signals[0] is False
    assert sum(signals[1:]) >= 2
    assert place_chances(panel.hunt.belief)["discharge_crimp_condenser"] >= 0.9


def test_your_case_has_two_leaks_that_can_be_found():
    hunt = begin_hunt(11, leaks="one_or_two")
    assert len(hunt.car.leaks) == 2
    _, named = follow_best_plan(hunt)
    assert set(named) == {leak.place for leak in hunt.car.leaks}


def test_the_sum_of_your_case_is_the_map_s_and_bubbles_see_nothing_in_the_case():
    question = open_lesson("11_leaks_by_hunting", only="faded").questions["what_the_clean_look_leaves"]
    before, found, left = (question.numbers[name].value / 100.0 for name in ("core_after", "waited", "core_left"))
    assert left == pytest.approx(before * (1.0 - found) / (1.0 - before * found))
    # the map itself, after such a look that found nothing there, has moved nearly as far
    hunt = after_earlier_shop(begin_hunt(11))
    looked = take_look(hunt, Step("evaporator_core", "electronic", wait_minutes=13.0))
    assert not looked.log[-1].signal
    assert 0.1 < place_chances(looked.belief)["evaporator_core"] / place_chances(hunt.belief)["evaporator_core"] < 0.5
    hunt = begin_hunt(1)
    assert max(finds(hunt, the_look(hunt, Step("evaporator_core", "bubbles")), "evaporator_core")) == 0.0
    assert not take_look(hunt, Step("evaporator_core", "bubbles")).log[-1].signal


def test_a_tight_circuit_reads_less_nitrogen_on_a_colder_morning():
    assert ask("nitrogen_in_the_morning").right == 1
    numbers = find_question("nitrogen_in_the_morning").numbers
    held = judge_hold(
        numbers["filled"].value,
        numbers["evening"].value,
        numbers["in_the_morning"].value,
        numbers["morning"].value,
        720.0,
    )
    assert held.verdict == "no leak seen"
    assert numbers["overnight_drop"].value > 30.0
