"""A question file looked through: the engine's own answers, every fault in a sentence, and the good not blamed for the bad."""

import pytest

from course.lessons.answer_key import look_through, right_answer
from course.lessons.lesson import find_question
from course.lessons.marking import mark
from course.physics.bench import run_bench
from course.tables import EXAMPLE, lesson_ids, lesson_text
from course.units import display_units
from tests.lessons.lesson_files import GOOD, HEAD

UNITS = display_units("bar_c")
NUMERIC = """
[question.number]
section = "check"
kind = "numeric"
ask = "How much?"
answer = "low"
tolerance = "gauge"
why = "so it reads"
high = "less of it"
low = "more of it"
"""


@pytest.mark.parametrize("lesson_id", lesson_ids())
def test_the_shipped_files_have_no_fault_and_an_answer_to_everything(lesson_id):
    look = look_through(lesson_id, lesson_text(lesson_id), UNITS)
    assert look.faults == ()
    assert [one.fault for one in look.questions if one.fault] == []
    assert [one.id for one in look.questions if not all(one.answer)] == []


@pytest.mark.parametrize(
    ("question_id", "answer"),
    [
        ("hot_day_low_charge", lambda table: next(i for i, one in enumerate(table.options) if one.right)),
        ("first_look", lambda table: [step.id for step in table.steps]),
        ("what_each_reading_means", lambda table: [pair.right for pair in table.pairs]),
        ("where_superheat_is", lambda table: next(one.point for one in table.points if one.right)),
    ],
)
def test_the_answer_it_gives_is_the_one_that_is_marked_right(question_id, answer):
    question = find_question(question_id)
    marked = mark(question, answer(question.table), UNITS)
    assert marked.right
    lines = right_answer(question, UNITS)
    for line in lines[:-1] if lines[-1].startswith("Another order is right too") else lines:
        assert line.split(". ", 1)[-1].rpartition(": ")[2] in marked.answer


def test_a_number_and_a_direction_are_the_engines():
    short = run_bench("sedan", charge_fraction=0.4)
    number, within = right_answer(find_question("superheat_by_hand"), UNITS)
    assert number == f"{short.superheat_k:.0f} K"
    assert within.startswith("Within 2 K counts as right")
    lines = right_answer(find_question("which_way_at_low_charge"), UNITS)
    full = run_bench("sedan")
    assert short.superheat_k > full.superheat_k + 5.0
    assert "Superheat goes up" in lines


def test_one_fault_spoils_no_other():
    look = look_through("91_mine", HEAD + GOOD + NUMERIC.replace('"low"', '"hihg"', 1), UNITS)
    good, bad = look.questions
    assert (good.id, good.kind, good.answer, good.fault) == ("good", "choice", ("A. yes",), "")
    assert good.ask == "At 35 °C?"
    assert (bad.id, bad.section, bad.kind, bad.answer) == ("number", "check", "", ())
    assert "there is no number called hihg" in bad.fault
    assert look.faults == ()


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("title = ", "91_mine.toml: this is not readable TOML"),
        (HEAD, "91_mine.toml: question is missing"),
        ('recall = ["00_start_here/none"]\n' + HEAD + GOOD, "recall: 00_start_here/none"),
        # nothing asks for these, and the next edit may
        (HEAD + '[run.lost]\ncar = "coupe"\n' + GOOD, "91_mine.toml: run.lost: car: 'coupe' is not known here"),
        (HEAD + '[number.lost]\nof = "bnech"\n' + GOOD, "91_mine.toml: number.lost: of: 'bnech' is not known here"),
        (
            HEAD + GOOD.replace("}]", '}, { text = "perhaps", why = "it is not" }]'),
            "2 wrong answers have the same explanation: “it is not”",
        ),
    ],
)
def test_what_is_wrong_with_the_whole_is_said(text, sentence):
    assert sentence in " ".join(look_through("91_mine", text, UNITS).faults)


def test_what_rests_on_a_broken_number_is_not_blamed_too():
    lost = '[number.lost]\nof = "bnech"\n[number.twice]\nof = "sum"\nfirst = "lost"\nsecond = "lost"\n'
    assert len(look_through("91_mine", HEAD + lost + GOOD, UNITS).faults) == 1


@pytest.mark.parametrize(
    ("text", "advice"),
    [
        (GOOD, ("Questions in section check: 1, of them numbers: 0", "0 of 1 wrong answers show a run")),
        (GOOD.replace('"check"', '"faded"'), ("0 of 1 wrong answers show a run",)),
        (NUMERIC + "".join(NUMERIC.replace("question.number", f"question.n{n}") for n in range(4)), ()),
    ],
)
def test_advice_is_given_where_it_is_due(text, advice):
    given = look_through("91_mine", HEAD + text, UNITS).advice
    assert len(given) == len(advice)
    assert all(said.startswith(start) for said, start in zip(given, advice, strict=True))


def test_the_example_for_instructors_is_a_whole_one():
    look = look_through(EXAMPLE, lesson_text(EXAMPLE), UNITS)
    assert look.faults == () and not any(one.fault for one in look.questions)
    assert {one.kind for one in look.questions} == {"predict", "numeric"}
    assert EXAMPLE not in lesson_ids()
