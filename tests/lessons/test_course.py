"""The course as a whole: every misconception is asked about and broken with a run, every wrong answer is explained."""

import re
from collections import Counter

import pytest

from course.lessons.answer_key import wrong_answers
from course.lessons.engine_numbers import NUMBERS
from course.tables import lesson_ids, read_lesson, read_misconceptions
from tests.lessons.books import asked_by, asked_in, book, calls, lesson_books
from tests.lessons.lesson_files import GOOD, HEAD

# no machine runs behind these: they repeat what the question gave, read a label, or add up
NO_RUN = {"given", "charge_weight", "sum", "difference", "percent_of", "leak_per_year", "time_to_lose"}
FEWEST_WORDS = 4  # of an explanation


def comes_from_a_run(file, name):
    """Whether a number of a lesson's file stands on a run of the engine and not on what was given alone."""
    table = file.numbers[name]
    if table.of not in NO_RUN:
        return True
    wanted = NUMBERS[table.of][1] if table.of in NUMBERS else ()
    return any(comes_from_a_run(file, table.model_extra[key]) for key in wanted)


def asked_about(file, name, keys):
    """The wrong answers to some questions of a lesson that name a misconception."""
    questions = [question for key, question in file.questions.items() if key in keys]
    return [part for question in questions for part in wrong_answers(question) if part.misconception == name]


def broken_by_a_run(file, part):
    """Whether a wrong answer shows a run, or prints a number that a run gives."""
    if getattr(part, "shows", None):
        return True
    return any(comes_from_a_run(file, number) for number in re.findall(r"\{(\w+)\}", part.why))


def not_broken(misconceptions):
    """What is missing for each misconception in the lesson that is to break it."""
    for name, table in misconceptions.items():
        if table.lesson not in lesson_books() or table.lesson not in lesson_ids():
            yield f"{name}: there is no lesson {table.lesson} with questions"
            continue
        file = read_lesson(table.lesson)
        keys = {asked.rpartition("/")[2] for asked in asked_in(book(table.lesson), {table.lesson: file})}
        asked = asked_about(file, name, keys)
        panels = {function for function, _ in calls(book(table.lesson)) if function.startswith("show_")}
        if not asked:
            yield f"{name}: {table.lesson} does not ask about it"
        if table.shown_by and table.shown_by not in panels:
            yield f"{name}: {table.lesson} has no {table.shown_by}"
        if not table.shown_by and not any(broken_by_a_run(file, part) for part in asked):
            yield f"{name}: {table.lesson} breaks it without a run"


def test_every_misconception_is_asked_about_and_broken_with_a_run():
    assert list(not_broken(read_misconceptions())) == []


@pytest.mark.parametrize("name", lesson_books())
def test_a_notebook_asks_nothing_that_is_not_there(name):
    files = {lesson_id: read_lesson(lesson_id) for lesson_id in lesson_ids()}
    asking = [call for call in calls(book(name)) if call[0] in ("ask", "ask_questions")]
    assert [call for call in asking if not list(asked_by(call, files))] == []


def test_every_wrong_answer_has_an_explanation_of_its_own():
    """Whoever answers wrong is told what is wrong about that answer: no words of another one, and no bare verdict."""
    whys = Counter()
    for lesson_id in lesson_ids():
        for question in read_lesson(lesson_id).questions.values():
            own = [part.why for part in wrong_answers(question)]
            if question.kind == "numeric":
                own += [question.high, question.low]
            for why in own:
                assert len(why.split()) >= FEWEST_WORDS, f"{lesson_id}: {why}"
            whys.update(own)
    assert [why for why, count in whys.items() if count > 1] == []


# each check on an example it must refuse, and on its nearest neighbour that it must let pass

GIVEN = (
    '[number.day]\nof = "given"\ntemperature_c = 35\n[number.twice]\nof = "sum"\nfirst = "day"\nsecond = "{second}"\n'
)
BOILS = '[number.boils]\nof = "boiling_temperature"\nrefrigerant = "R134a"\npressure = "low"\n'


@pytest.mark.parametrize(
    ("option", "broken"),
    [
        ('why = "no, not so"', False),
        ('why = "no: {day} is given"', False),
        ('why = "no: {twice} is a sum of what was given"', False),
        ('why = "no: it boils at {boils}"', True),
        ('why = "no, not so", shows = {{ run = "short", readings = ["vent_c"] }}', True),
    ],
)
def test_a_run_is_told_from_a_number_that_was_given(write_lesson, option, broken):
    option = option.replace("{{", "{").replace("}}", "}")
    text = GOOD.replace('why = "it is not"', f'{option}, misconception = "superheat_means_hot"')
    twice = GIVEN.replace("{second}", "day").partition("[number.twice]")
    file = read_lesson(write_lesson(HEAD + BOILS + twice[1] + twice[2] + text))
    (part,) = asked_about(file, "superheat_means_hot", ["good"])
    assert broken_by_a_run(file, part) == broken


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"lesson": "70_nowhere"}, "there is no lesson 70_nowhere"),
        ({"lesson": "14_the_whole_job"}, "14_the_whole_job does not ask about it"),
        ({"shown_by": "show_bottle"}, "07_high_side_too_high has no show_bottle"),
    ],
)
def test_a_misconception_left_standing_is_found(change, sentence):
    name = "high_side_high_means_overcharge"
    whole = read_misconceptions()[name]
    assert list(not_broken({name: whole})) == []
    assert sentence in " ".join(not_broken({name: whole.model_copy(update=change)}))
