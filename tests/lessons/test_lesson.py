"""Lessons made ready: what an instructor can get wrong is said with file, question and field, and spoils no other."""

from collections import Counter

import pytest

from course.errors import BadDataFile, UnknownChoice
from course.lessons.lesson import Question, find_question, open_lesson
from course.tables import lesson_ids, read_misconceptions
from course.units import display_units
from tests.lessons.lesson_files import GOOD, HEAD

CHOICE = """
[question.bad]
section = "check"
kind = "choice"
ask = "What?"
options = [{ text = "a", why = "a is so", right = true }, { text = "b", why = "b is not" }]
"""
NUMERIC = """
[question.bad]
section = "check"
kind = "numeric"
ask = "How much?"
answer = "low"
tolerance = "gauge"
why = "so"
high = "less"
low = "more"
"""
ORDER = """
[question.bad]
section = "check"
kind = "order"
ask = "In which order?"
before = [["a", "b"]]
steps = [{ id = "a", text = "aa", why = "wa" }, { id = "b", text = "bb", why = "wb" }, { id = "c", text = "cc", why = "wc" }]
"""
POINT = """
[question.bad]
section = "check"
kind = "point"
ask = "Where?"
run = "full"
points = [{ point = "compressor_outlet", why = "hot", right = true }, { point = "condenser_outlet", why = "no" },
  { point = "evaporator_inlet", why = "no" }]
"""
MOVES = """
[question.bad]
section = "check"
kind = "directions"
ask = "Which way?"
healthy = "full"
changed = "short"
why = { high_side = "less heat" }
"""
MATCH = """
[question.bad]
section = "check"
kind = "match"
ask = "What?"
pairs = [{ left = "l1", right = "r1", why = "w1" }, { left = "l2", right = "r2", why = "w2" }]
"""


@pytest.mark.parametrize("lesson_id", lesson_ids())
def test_every_question_of_the_workbook_can_be_used(lesson_id):
    lesson = open_lesson(lesson_id)
    asked = [*lesson.questions.values(), *lesson.recall]
    assert [str(question) for question in asked if not isinstance(question, Question)] == []


def test_ids_are_unique_over_all_lessons():
    ids = Counter(question for lesson_id in lesson_ids() for question in open_lesson(lesson_id, only="none").sections)
    assert [question for question, count in ids.items() if count > 1] == []


def test_every_misconception_has_one_plain_sentence():
    assert len(read_misconceptions()) == 27  # the agreed twenty-six, and that units are decoration
    for misconception in read_misconceptions().values():
        assert misconception.says.endswith(".")
        assert misconception.says.count(".") == 1 + misconception.says.count("-134a.")


@pytest.mark.parametrize("text", [CHOICE, NUMERIC, ORDER, POINT, MOVES, MATCH])
def test_the_examples_are_good_before_they_are_broken(write_lesson, text):
    lesson = open_lesson(write_lesson(HEAD + text))
    assert isinstance(lesson.questions["bad"], Question), lesson.questions["bad"]


@pytest.mark.parametrize(
    ("text", "old", "new", "sentence"),
    [
        (CHOICE, ', why = "b is not"', "", "question.bad.options.1.why is missing; every answer needs its own explanation"),
        (CHOICE, '"b is not"', '""', "question.bad.options.1.why is empty; every answer needs its own explanation"),
        (CHOICE, ", right = true", "", "question.bad.options: 0 answers are marked right = true, and exactly one should be"),
        (CHOICE, 'kind = "choice"', 'kind = "chioce"', "question.bad.kind is 'chioce'; choose one of choice, predict, numeric"),
        (CHOICE, 'ask = "What?"', "", "question.bad.ask is missing"),
        (CHOICE, 'ask = "What?"', 'aks = "What?"', "ask is missing; add it, or mend aks, which is no key known here"),
        (CHOICE, "b is not", "b is {lwo}", "options.1.why: there is no number called lwo; those of this lesson are: day, low"),
        (CHOICE, 'text = "b"', 'text = "b", misconception = "x"', "options.1.misconception: misconception: 'x' is not known"),
        (CHOICE, 'text = "b"', 'text = "b", shows = { run = "x", readings = ["vent_c"] }', "there is no run called x"),
        (CHOICE, 'text = "b"', 'text = "b", shows = { run = "full", readings = ["vent"] }', "reading: 'vent' is not known here"),
        (NUMERIC, 'high = "less"', "", "question.bad.high is missing; every answer needs its own explanation"),
        (NUMERIC, 'answer = "low"', 'answer = "high"', "answer: there is no number called high"),
        (NUMERIC, '"gauge"', '"guess"', "tolerance: 'guess' is not known here"),
        (NUMERIC, 'why = "so"', 'why = "so"\nslips = [{ answer = "low", why = "w1" }]', "low lies within the tolerance"),
        (ORDER, '["a", "b"]', '["b", "a"]', "before says b comes before a, but the steps are written the other way"),
        (ORDER, '["a", "b"]', '["a", "x"]', "the steps are a, b, c"),
        (ORDER, 'id = "b"', 'id = "a"', "two steps have the same id"),
        (POINT, '"condenser_outlet"', '"evaporator"', "point: 'evaporator' is not known here"),
        (POINT, '"full"', '"still"', "point: 'compressor_outlet' is not known here"),
        (MOVES, "high_side", "highside", "reading: 'highside' is not known here"),
        (MOVES, 'changed = "short"', 'changed = "still"\n', None),
        (MOVES, '"short"\nwhy = { high_side', '"still"\nwhy = { superheat', "a compressor at rest has no superheat"),
        (MATCH, '"r2"', '"r1"', "the same words stand twice on the right"),
    ],
)  # fmt: skip
def test_a_mistake_is_said_and_spoils_no_other(write_lesson, text, old, new, sentence):
    assert old in text
    lesson = open_lesson(write_lesson(HEAD + GOOD + text.replace(old, new, 1)))
    assert isinstance(lesson.questions["good"], Question)
    assert lesson.questions["good"] in lesson.section("check")
    if sentence is None:
        assert isinstance(lesson.questions["bad"], Question)
        return
    assert isinstance(lesson.questions["bad"], BadDataFile)
    assert str(lesson.questions["bad"]).startswith("90_test.toml: question.bad")
    assert sentence in str(lesson.questions["bad"])
    assert lesson.questions["bad"] in lesson.section("check")


def test_a_question_in_no_known_section_is_shown_in_each(write_lesson):
    lesson = open_lesson(write_lesson(HEAD + GOOD.replace('"check"', '"chekc"')), only="faded")
    assert "question.good.section is 'chekc'" in str(lesson.section("faded")[0])


def test_a_broken_number_spoils_only_what_asks_for_it(write_lesson):
    numbers = '[number.round]\nof = "sum"\nfirst = "round"\nsecond = "low"\n[number.odd]\nof = "bnech"\n'
    asks = CHOICE.replace("b is not", "{round}") + CHOICE.replace("question.bad", "question.odd").replace(
        "b is not", "{odd}"
    )
    lesson = open_lesson(write_lesson(HEAD + numbers + GOOD + asks))
    assert isinstance(lesson.questions["good"], Question)
    assert "the number round is worked out from itself: round from round" in str(lesson.questions["bad"])
    assert "of: 'bnech' is not known here" in str(lesson.questions["odd"])


def test_a_file_that_is_no_toml_and_a_lesson_that_is_not_there_are_said(write_lesson):
    with pytest.raises(BadDataFile, match="90_test.toml: this is not readable TOML"):
        open_lesson(write_lesson("title = \n"))
    with pytest.raises(UnknownChoice, match="lesson: '91' is not known here; choose one of 90_test"):
        open_lesson("91")
    write_lesson(HEAD + GOOD, "91_other")
    assert find_question("good").id == "91_other/good"  # the broken file is passed over


def test_an_edited_text_shows_at_the_next_run(write_lesson):
    lesson_id = write_lesson(HEAD + GOOD)
    question = open_lesson(lesson_id).questions["good"]
    assert question.fill(question.table.ask, display_units("psi_f")) == "At 95 °F?"
    assert question.fill(question.table.ask, display_units("bar_c")) == "At 35 °C?"
    write_lesson((HEAD + GOOD).replace("temperature_c = 35", "temperature_c = 30"))
    question = open_lesson(lesson_id).questions["good"]
    assert question.fill(question.table.ask, display_units("bar_c")) == "At 30 °C?"


def test_recall_asks_an_earlier_lesson_again_and_says_what_is_not_there(write_lesson):
    write_lesson(HEAD + GOOD, "01_earlier")
    lesson = open_lesson(
        write_lesson('recall = ["01_earlier/good", "01_earlier/none"]\n' + HEAD + CHOICE), only="recall"
    )
    first, second = lesson.section("recall")
    assert first.id == "01_earlier/good"
    assert "90_test.toml: recall: 01_earlier/none" in str(second)
