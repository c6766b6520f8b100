"""Marking, kind by kind: what counts, what is right, and that every wrong answer is explained in its own words."""

import pytest

from course.lessons.lesson import Question, find_question, open_lesson, tolerance_of
from course.lessons.marking import mark, run_rows, tolerance_words
from course.physics.bench import run_bench
from course.tables import lesson_ids
from course.units import display_units
from tests.lessons.lesson_files import HEAD

PSI, BAR = display_units("psi_f"), display_units("bar_c")


def asked(lesson_id="00_start_here"):
    """Every question of a lesson that can be used; the first lesson has one of every kind."""
    return [question for question in open_lesson(lesson_id).questions.values() if isinstance(question, Question)]


def right_answer(question):
    """What a learner who knows it gives."""
    table = question.table
    if table.kind in ("choice", "predict"):
        return next(number for number, option in enumerate(table.options) if option.right)
    return {
        "numeric": lambda: question.numbers[table.answer].shown(PSI),
        "order": lambda: [step.id for step in table.steps],
        "match": lambda: [pair.right for pair in table.pairs],
        "point": lambda: next(place.point for place in table.points if place.right),
        "directions": lambda: dict(question.truth),
    }[table.kind]()


@pytest.mark.parametrize("lesson_id", lesson_ids())
def test_the_right_answer_is_right_and_every_word_can_be_printed(lesson_id):
    for question in asked(lesson_id):
        for units in (PSI, BAR):
            marked = mark(question, right_answer(question), units)
            assert (marked.counted, marked.right) == (True, True), question.id
            assert marked.parts, question.id
            assert all(question.fill(part.why, units) for part in marked.parts), question.id


@pytest.mark.parametrize("lesson_id", lesson_ids())
def test_every_wrong_option_has_words_of_its_own(lesson_id):
    for question in [one for one in asked(lesson_id) if hasattr(one.table, "options")]:
        told = []
        for number, option in enumerate(question.table.options):
            marked = mark(question, number, PSI)
            assert marked.right == option.right
            told.append(next(part.why for part in marked.parts if part.chosen))
            assert marked.misconception == ("" if option.right else option.misconception or "")
        assert len(set(told)) == len(told), question.id


def test_nothing_chosen_costs_nothing():
    empty = {"numeric": "", "directions": {}, "order": None, "match": [None, None, None]}
    for question in asked():
        marked = mark(question, empty.get(question.table.kind), PSI)
        assert not marked.counted
        assert marked.problem.endswith(".")
        assert marked.answer == ""


def test_a_prediction_shows_every_option_and_a_choice_keeps_the_right_one_back():
    prediction, choice = find_question("hot_day_low_charge"), find_question("same_gauges_another_day")
    assert [part.right for part in mark(prediction, 0, PSI).parts] == [False, True, None]
    assert [part.label for part in mark(choice, 0, PSI).parts] == ["It has lost refrigerant"]
    assert len(mark(choice, 1, PSI).parts) == 3


def test_a_number_is_taken_in_any_unit_with_its_tolerance():
    question = find_question("superheat_by_hand")
    right = run_bench("sedan", charge_fraction=0.4).superheat_k
    assert question.numbers["short_superheat"].value == pytest.approx(right, abs=1e-6)
    assert tolerance_of(question) == pytest.approx(2.0)  # least_k of "difference"; a twentieth of 20 K is less
    for kelvin, expected in ((right + 1.9, True), (right - 1.9, True), (right + 2.2, False), (right - 2.2, False)):
        assert mark(question, f"{kelvin:.3f} K", PSI).right == expected
        assert mark(question, f"{kelvin * 1.8:.3f} °F", PSI).right == expected
    said = mark(question, f"{right * 1.8:.1f} °F".replace(".", ","), BAR)
    assert "°F" in said.answer  # the learner's own unit, not that of the panel
    assert "°F" in said.parts[0].label
    assert tolerance_words(question, BAR) == "within 2 K counts as right"


def test_too_high_too_low_and_the_usual_slip_are_told_apart():
    question = find_question("superheat_by_hand")
    table = question.table
    assert mark(question, "60 K", PSI).parts[0].why == table.high
    assert mark(question, "1 K", PSI).parts[0].why == table.low
    outlet = question.numbers["short_outlet"].shown(PSI)
    for written in (outlet, outlet.replace("°F", "F"), question.numbers["short_outlet"].shown(BAR)):
        marked = mark(question, written, PSI)
        if written.endswith("F"):
            assert marked.misconception == "superheat_means_hot", written
    # in degrees Celsius the pipe's own temperature happens to lie within the tolerance of the superheat in kelvin
    assert question.numbers["short_outlet"].value == pytest.approx(question.numbers["short_superheat"].value, abs=2.0)


ORDER = """
[question.order]
section = "check"
kind = "order"
ask = "In which order?"
{before}
steps = [{{ id = "a", text = "aa", why = "wa" }}, {{ id = "b", text = "bb", why = "wb" }}, {{ id = "c", text = "cc", why = "wc" }}]
"""


def test_an_order_is_held_to_all_steps_or_to_the_named_pairs_alone(write_lesson):
    strict = open_lesson(write_lesson(HEAD + ORDER.format(before=""))).questions["order"]
    assert mark(strict, ["a", "b", "c"], PSI).right
    wrong = mark(strict, ["b", "a", "c"], PSI)
    assert [(part.label, part.why) for part in wrong.parts] == [("“bb” is not yet due as number 1", "wb")]
    loose = open_lesson(write_lesson(HEAD + ORDER.format(before='before = [["a", "c"]]'))).questions["order"]
    assert mark(loose, ["b", "a", "c"], PSI).right
    assert mark(loose, ["a", "c", "b"], PSI).right
    wrong = mark(loose, ["c", "b", "a"], PSI)
    assert [(part.label, part.why) for part in wrong.parts] == [("“aa” comes before “cc”", "wa")]
    assert not mark(loose, ["a", "b"], PSI).counted
    assert not mark(loose, ["a", "b", "b"], PSI).counted


def test_a_wrong_match_is_explained_by_where_it_belongs():
    question = find_question("what_each_reading_means")
    first, second, third = question.table.pairs
    spare = question.table.spare[0]
    marked = mark(question, [second.right, spare.text, third.right], PSI)
    assert [part.right for part in marked.parts] == [False, False, True]
    assert marked.parts[0].why == f"That belongs to “{second.left}”. {second.why}"
    assert marked.parts[1].why == spare.why


def test_a_wrong_point_is_explained_by_what_is_found_there():
    question = find_question("where_superheat_is")
    marked = mark(question, "condenser_outlet", PSI)
    assert [part.why for part in marked.parts] == [
        place.why for place in question.table.points if place.point == "condenser_outlet"
    ]
    assert mark(question, "evaporator_outlet", PSI).right


def test_directions_are_the_engines_own():
    question = find_question("which_way_at_low_charge")
    full, short = run_bench("sedan", ambient_c=35), run_bench("sedan", ambient_c=35, charge_fraction=0.4)
    assert short.high_side_kpa_gauge < full.high_side_kpa_gauge - 50.0
    assert abs(short.low_side_kpa_gauge - full.low_side_kpa_gauge) < 14.0  # root 2 of the gauge's 10 kPa
    assert question.truth == {"low_side": "same", "high_side": "down", "superheat": "up", "vent": "up"}
    marked = mark(question, question.truth | {"vent": "down"}, PSI)
    assert [part.right for part in marked.parts] == [True, True, True, False]
    assert marked.parts[3].label == "Vent goes up; you said it goes down"


def test_the_run_that_shows_it_prints_both_runs_and_says_at_rest(write_lesson):
    shows = 'shows = { run = "still", beside = "full", readings = ["superheat_k", "low_side_kpa_gauge"] }'
    text = f"""
[question.it]
section = "check"
kind = "choice"
ask = "?"
options = [{{ text = "a", why = "so", right = true }}, {{ text = "b", why = "no", {shows} }}]
"""
    question = open_lesson(write_lesson(HEAD + text)).questions["it"]
    head, superheat, low = run_rows(question, mark(question, 1, PSI).shows, PSI)
    assert head[2] == "100 % charge, 95 °F outside, clutch not engaged"
    assert superheat[2] == "at rest"
    assert low[1].endswith("psi gauge")
    assert mark(question, 0, PSI).shows is None


def test_a_wide_band_is_told_without_powers_of_ten(write_lesson):
    text = """
[number.heat]
of = "given"
heat_w = 7000
[question.it]
section = "check"
kind = "numeric"
ask = "?"
answer = "heat"
tolerance = "arithmetic"
why = "so"
high = "too much"
low = "too little"
"""
    question = open_lesson(write_lesson(HEAD + text)).questions["it"]
    assert tolerance_words(question, PSI) == "within 140 W counts as right"


@pytest.mark.parametrize(
    ("differs", "words"),
    [
        ('refrigerant = "R1234yf"', ("R-134a", "R-1234yf")),
        ("compressor_rpm = 3500", ("1500 rpm", "3500 rpm")),
        ("road_speed_km_h = 60", ("0 km/h", "60 km/h")),
    ],
)
def test_two_runs_say_what_sets_them_apart(write_lesson, differs, words):
    shows = 'shows = { run = "wrong", beside = "full", readings = ["vent_c"] }'
    text = f"""
[run.wrong]
car = "sedan"
{differs}
[question.it]
section = "check"
kind = "choice"
ask = "?"
options = [{{ text = "a", why = "so", right = true }}, {{ text = "b", why = "no", {shows} }}]
"""
    question = open_lesson(write_lesson(HEAD + text)).questions["it"]
    head, _ = run_rows(question, mark(question, 1, PSI).shows, PSI)
    assert head[1:] == tuple(f"{word}, 100 % charge, 95 °F outside" for word in words)
