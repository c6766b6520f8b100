"""The look-alikes by their values: nothing is shown before it is tested, and the minutes add up."""

import re

import pytest

from course.errors import OutOfRange, UnknownChoice
from course.widgets.look_alike_panel import show_look_alikes

LESSON, CARS = "07_high_side_too_high", ["hot_air", "too_much", "fins", "air", "fan"]


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def cells(panel):
    """The rows of the table as text, the names of the rows apart."""
    rows = re.findall(r'<th scope="rowgroup"[^>]*>([^<]*)</th></tr><tr>(.*?)</tr>', panel.picture.value)
    return {name: re.findall(r"<td[^>]*>(.*?)</td>", values) for name, values in rows}


def test_at_first_there_is_one_head_and_five_look_alikes():
    panel = show_look_alikes(LESSON, "well", CARS)
    assert panel.sentence() == "Tests done: none; 0 min. All 5 cars look alike."
    rows = cells(panel)
    assert list(rows) == ["High side, standing, psi gauge"]
    heads = [int(value.split()[0]) for value in rows["High side, standing, psi gauge"]]
    assert max(heads[1:]) - min(heads[1:]) <= 2  # psi: less than anyone reads off a gauge
    assert min(heads[1:]) - heads[0] > 35
    assert "140 %" not in panel.words.value


def test_two_cheap_tests_leave_fan_and_fins():
    panel = show_look_alikes(LESSON, "well", CARS, tests=("above_entering_air_k",))
    panel.tests["subcooling_k"].value = True
    assert panel.sentence().endswith("8 min. Not told apart yet, 1 of 10 pairs: C and E.")
    rows = cells(panel)
    assert [value for value in rows["Subcooling, °F"] if "▲" in value] == ["33 ▲", "10 ▲"]
    assert "▲" not in "".join(rows["Chart temperature less entering air, °F"][:2])
    panel.tests["head_driving_kpa_gauge"].value = True
    assert panel.sentence().endswith("23 min. All 5 cars are told apart.")
    panel.tests["subcooling_k"].value = False
    assert "Subcooling, °F" not in cells(panel)


def test_what_is_wrong_is_said_when_asked_and_in_the_learners_units():
    panel = show_look_alikes(LESSON, "well", CARS)
    panel.reveal.value = True
    assert "A: nothing wrong; air entering the condenser 114 °F." in panel.words.value
    assert "B: charge 140 %" in panel.words.value
    panel.units.value = "kpa_c"
    assert "air entering the condenser 46 °C" in panel.words.value
    assert "High side, standing, kPa gauge" in cells(panel)


def test_wrong_names_and_too_many_cars_are_refused():
    with pytest.raises(UnknownChoice, match="run: 'elephant'"):
        show_look_alikes(LESSON, "well", ["fins", "elephant"])
    with pytest.raises(UnknownChoice, match="test: 'smell'"):
        show_look_alikes(LESSON, "well", CARS, tests=("smell",))
    with pytest.raises(OutOfRange, match="look-alikes: 6 cars were given; allowed are 2 to 5"):
        show_look_alikes(LESSON, "well", [*CARS, "well"])
