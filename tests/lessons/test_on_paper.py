"""Questions in plain text for paper: all that is asked, none of the answer, and a key that explains every answer."""

import pytest

from course.lessons.lesson import Question, find_question, open_lesson, tolerance_of
from course.lessons.on_paper import Key, Printed, key_of, mixed, printed_question
from course.tables import lesson_ids
from course.units import UNIT_SETS, display_units

UNITS = display_units("kpa_c")
ALL = [f"{lesson}/{key}" for lesson in lesson_ids() for key in open_lesson(lesson).questions]


def texts(thing):
    """Every text in a printed question or a key."""
    if isinstance(thing, str):
        return [thing]
    if isinstance(thing, (tuple, list)):
        return [text for one in thing for text in texts(one)]
    if isinstance(thing, (Printed, Key)) or hasattr(thing, "why"):
        return [text for value in vars(thing).values() for text in texts(value)]
    return []


def whys(table):
    """Every explanation a question has, as written in its file."""
    content = table.model_dump(exclude_none=True)
    found = []

    def walk(value, key=""):
        if isinstance(value, dict):
            for name, one in value.items():
                walk(one, "why" if key == "why" else name)
        elif isinstance(value, list):
            for one in value:
                walk(one, key)
        elif key in ("why", "high", "low"):
            found.append(value)

    walk(content)
    return found


@pytest.mark.parametrize("question_id", ALL)
def test_the_sheet_asks_everything_and_tells_nothing(question_id):
    question = find_question(question_id)
    said = " ".join(texts(printed_question(question, UNITS)))
    assert question.fill(question.table.ask, UNITS) in said
    assert "{" not in said
    explained = [question.fill(why, UNITS) for why in whys(question.table)]
    assert explained
    assert [why for why in explained if why in said] == []


@pytest.mark.parametrize("question_id", ALL)
def test_the_key_has_every_explanation(question_id):
    question = find_question(question_id)
    key = key_of(question, UNITS)
    said = [part.why for part in key.parts]
    assert [why for why in whys(question.table) if question.fill(why, UNITS) not in said] == []
    assert key.answer
    assert "{" not in " ".join(texts(key))


def test_every_wrong_option_keeps_its_own_why_belief_and_run():
    key = key_of(find_question("hot_day_low_charge"), UNITS)
    assert [part.right for part in key.parts] == [False, True, False]
    first, _, third = key.parts
    assert "receiver is a buffer" in first.why
    assert "low side" in first.belief.lower() or "pressure" in first.belief.lower()
    assert [row[0] for row in first.shown] == ["Reading", "Low side", "High side"]
    assert third.belief == ""
    assert third.shown[2][0] == "Discharge line"


def test_a_number_is_asked_in_the_units_of_the_sheet():
    question = find_question("superheat_by_hand")
    shown = {key: printed_question(question, units).unit for key, units in UNIT_SETS.items()}
    assert shown == {"psi_f": "°F", "kpa_c": "K", "bar_c": "K"}
    key = key_of(question, UNITS)
    right, allowed = question.numbers["short_superheat"], tolerance_of(question)
    assert key.answer == right.shown(UNITS)
    assert key.parts[-2].label == f"more than {right.value + allowed:.0f} K"
    assert key.parts[-1].label == f"less than {right.value - allowed:.0f} K"


def test_gauge_and_absolute_stand_behind_the_line():
    asked = (find_question(one) for one in ALL)
    pressures = [
        one for one in asked if one.table.kind == "numeric" and "pressure" in one.numbers[one.table.answer].kind
    ]
    units = {printed_question(one, UNITS).unit for one in pressures}
    assert units <= {"kPa gauge", "kPa absolute", "kPa"}
    assert units & {"kPa gauge", "kPa absolute"}


def test_the_places_of_an_order_lead_back_to_the_right_order():
    question = find_question("first_look")
    rows = printed_question(question, UNITS).rows
    places = [int(place) for place in key_of(question, UNITS).answer.removeprefix("From the top: ").split(", ")]
    assert [text for _, text in sorted(zip(places, rows, strict=True))] == [step.text for step in question.table.steps]
    assert list(rows) != [step.text for step in question.table.steps]
    assert "Put on goggles and gloves” before “Connect the gauges" in key_of(question, UNITS).note


def test_the_letters_of_a_match_lead_to_the_right_sides():
    question = find_question("what_each_reading_means")
    printed, key = printed_question(question, UNITS), key_of(question, UNITS)
    choices = dict(one.split(". ", 1) for one in printed.choices)
    letters = key.answer.removeprefix("From the top: ").split(", ")
    assert [choices[letter] for letter in letters] == [pair.right for pair in question.table.pairs]
    spare = key.parts[-1]
    assert not spare.right
    assert spare.why == question.table.spare[0].why


def test_the_letter_of_a_point_is_that_of_the_right_one():
    question = find_question("where_superheat_is")
    rows = printed_question(question, UNITS).rows
    assert key_of(question, UNITS).answer in rows
    assert key_of(question, UNITS).answer.endswith("Evaporator outlet")


def test_directions_come_from_the_two_runs():
    question = find_question("which_way_at_low_charge")
    assert isinstance(question, Question)
    assert question.runs["short"].superheat_k > question.runs["full"].superheat_k
    assert "Superheat goes up" in key_of(question, UNITS).answer


@pytest.mark.parametrize("question_id", ALL)
def test_mixing_keeps_everything_and_is_the_same_every_time(question_id):
    question, things = find_question(question_id), list("abcd")
    assert sorted(mixed(question, things)) == things
    assert mixed(question, things) == mixed(question, things) != things
