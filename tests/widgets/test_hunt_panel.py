"""The leak hunt's panel: a look is logged and moves the chances, a hint is noted, naming ends it, and nothing is lost."""

import re

import pytest

from course.service.belief import place_chances
from course.service.hunt import HUNT_METHODS, Leak, begin_hunt, take_look
from course.tables import read_leak_places
from course.widgets import show_hunt

HERE = {"hidden": [Leak("evaporator_core", "steady", 500.0)], "temperature_c": 25.0, "residue_g_per_year": 0.0}


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def test_a_look_is_the_look_that_was_chosen_and_is_logged_with_its_time():
    panel = show_hunt(number=4, **HERE)
    panel.place.value, panel.wait.value = "evaporator_core", 13.0
    step = panel.step()
    panel.look.click()
    alone = take_look(panel.start, step)
    assert (panel.hunt.log, panel.hunt.minutes) == (alone.log, alone.minutes)
    assert place_chances(panel.hunt.belief) == place_chances(alone.belief)
    assert "At 23 Evaporator core the detector" in panel.log.value
    assert f"1 look, {panel.hunt.minutes:.0f} min of work" in panel.log.value
    assert panel.hunt.minutes > 13.0


def test_the_drawing_shows_the_chances_that_are_left():
    panel = show_hunt(number=4, **HERE)
    before = panel.picture.value
    panel.place.value = "shaft_seal"
    panel.look.click()
    assert panel.picture.value != before
    left = place_chances(panel.hunt.belief)["shaft_seal"]
    assert f">{100 * left:.0f}%<" in panel.picture.value


def test_the_states_follow_the_method_and_a_ride_needs_dye():
    panel = show_hunt(number=4)
    assert panel.ride.disabled
    for method, states in HUNT_METHODS.items():
        panel.method.value = method
        assert tuple(key for _, key in panel.state.options) == states
        assert panel.ride.disabled == (method != "uv_dye")
        assert "alert" not in panel.words.value
    panel.method.value = "uv_dye"
    panel.ride.value = 5.0
    panel.method.value = "electronic"
    assert panel.ride.value == 0.0


def test_dye_shows_nothing_on_the_first_day_and_the_leak_a_few_days_later():
    shown = {}
    for number in range(20):
        for days in (0.0, 14.0):
            panel = show_hunt(number=number, hidden=[Leak("suction_line_joint", "steady", 50.0)])
            panel.place.value, panel.method.value, panel.ride.value = "suction_line_joint", "uv_dye", days
            panel.look.click()
            shown[number, days] = panel.hunt.log[-1].signal
    assert sum(shown[number, 0.0] for number in range(20)) <= 3, "what glows on the first day is something else"
    assert sum(shown[number, 14.0] for number in range(20)) >= 10


def test_a_hint_costs_nothing_and_is_noted():
    panel = show_hunt(number=4, **HERE)
    panel.hint.click()
    assert "Best next look: electronic detector at" in panel.words.value
    assert (panel.hunt.minutes, panel.hunt.hints, panel.hunt.log) == (0.0, 1, ())
    other = show_hunt(number=4, **HERE)
    other.hint.click()
    other.hint.click()
    panel.found.click()
    other.found.click()
    assert "You asked for the best next look once." in panel.words.value
    assert "You asked for the best next look 2 times." in other.words.value


def test_naming_reveals_marks_and_stops_the_hunt_and_the_next_is_another():
    panel = show_hunt(number=4, **HERE)
    assert panel.again.disabled
    panel.named.value = "shaft_seal"
    panel.found.click()
    assert "You named Compressor shaft seal. It was: Evaporator core, 500 g a year" in panel.words.value
    assert re.search(r"<b>\d+ of 100</b>", panel.words.value)
    assert all(button.disabled for button in (panel.look, panel.washing, panel.hint, panel.found))
    panel.again.click()
    assert panel.start.car == begin_hunt(5).car
    assert not panel.look.disabled
    assert panel.hunt.log == ()


def test_a_second_leak_can_be_named():
    pair = [Leak("shaft_seal", "steady", 500.0), Leak("condenser_front", "steady", 500.0)]
    panel = show_hunt(number=4, leaks="one_or_two", hidden=pair)
    panel.named.value, panel.second.value = "condenser_front", "shaft_seal"
    panel.found.click()
    assert panel.verdict.right
    assert "Right. It was: Compressor shaft seal, 500 g a year" in panel.words.value


def test_a_refusal_is_a_sentence_and_nothing_is_lost():
    panel = show_hunt(number=4)
    panel.look.click()
    hunt, log = panel.hunt, panel.log.value
    panel.care.options = [*panel.care.options, ("Ever so careful", 2.0)]
    panel.settling = True  # as a browser that sends a choice the panel does not offer
    panel.care.value = 2.0
    panel.settling = False
    panel.look.click()
    assert "care: 2 of doing it by the book was given; allowed are 0 to 1" in panel.words.value
    assert 'role="alert"' in panel.words.value
    assert panel.hunt is hunt
    assert panel.log.value == log


def test_what_is_stored_says_where_the_hunt_stands():
    bundle = show_hunt(number=4)._repr_mimebundle_()
    assert bundle["text/plain"].startswith("Hunt 4, an invented car: R-134a")
    assert "Where the leak can still be: 14 Compressor shaft seal" in bundle["text/plain"]
    assert 'role="img"' in bundle["text/html"]
    assert bundle["text/plain"] == show_hunt(number=4)._repr_mimebundle_()["text/plain"]


def test_every_place_can_be_picked_by_number_and_name():
    panel = show_hunt(number=4)
    assert [label for label, _ in panel.place.options][13] == "14 Compressor shaft seal"
    assert [key for _, key in panel.place.options] == list(read_leak_places())
    assert panel.named.options[-1] == ("A place not on the list", "elsewhere")
