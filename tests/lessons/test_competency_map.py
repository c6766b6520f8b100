"""The competency map: every pointer of it leads somewhere, every lesson serves something, and nothing missing is hidden."""

import re

import pytest

from course import tables
from course.errors import BadDataFile
from course.lessons.competency_map import WAYS, competency_map, without_a_lesson
from course.tables import lesson_ids, read_competencies, read_lesson
from tests.lessons.books import asked_in, book, calls, lesson_books, prose

COMPETENCIES = read_competencies().competency


def lost_pointers(competencies):
    """What a competency says of a lesson and is not there: words, panels, questions."""
    files = {lesson_id: read_lesson(lesson_id) for lesson_id in lesson_ids()}
    for name, competency in competencies.items():
        for served in competency.served_by:
            if served.lesson not in lesson_books():
                yield f"{name}: no lesson {served.lesson}"
                continue
            notebook = book(served.lesson)
            asked = {question.rpartition("/")[2]: question for question in asked_in(notebook, files)}
            panels = {function for function, _ in calls(notebook)} - {"ask", "ask_questions"}
            tests = {
                key
                for key, question in asked.items()
                if question.startswith(served.lesson) and files[served.lesson].sections[key] == "check"
            }
            for words in served.taught:
                if words.lower() not in " ".join(prose(notebook).lower().split()):
                    yield f"{name}: {served.lesson} does not say {words}"
            for what in served.practised:
                if what not in panels | set(asked) - tests:
                    yield f"{name}: {served.lesson} has no {what} to practise"
            for what in served.checked:
                if what not in tests:
                    yield f"{name}: {served.lesson} does not check with {what}"


def test_every_pointer_of_the_map_leads_somewhere():
    assert list(lost_pointers(COMPETENCIES)) == []


@pytest.mark.parametrize("lesson_id", lesson_books())
def test_every_lesson_serves_a_competency(lesson_id):
    assert any(lesson_id in one.lessons for one in competency_map())


def test_what_no_lesson_serves_says_why():
    assert without_a_lesson()
    assert [one.id for one in without_a_lesson() if not one.missing.endswith(".")] == []


def test_a_lesson_that_is_named_does_something():
    assert [one.id for one in competency_map() if () in one.lessons.values()] == []
    assert {way for one in competency_map() for ways in one.lessons.values() for way in ways} == set(WAYS)


def test_every_list_is_there_and_asks_for_something():
    named = {asked.list for one in COMPETENCIES.values() for asked in one.asked_by}
    assert named == set(read_competencies().list)


def test_a_number_from_memory_is_not_printed():
    memory = [asked.entry for one in COMPETENCIES.values() for asked in one.asked_by if asked.mark == "from memory"]
    printed = " ".join(words for one in competency_map() for words in one.asked_by)
    numbers = {number for entry in memory for number in re.findall(r"\b[A-E]\.\d+", entry)}
    assert len(numbers) > 10
    # the head of A.3 was read for one competency and is from memory for another
    assert {number for number in numbers if re.search(rf"{re.escape(number)}\b", printed)} == {"A.3"}


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        ({"lesson": "70_nowhere"}, "no lesson 70_nowhere"),
        ({"taught": ["flux capacitor"]}, "does not say flux capacitor"),
        ({"practised": ["show_bottle"]}, "has no show_bottle to practise"),
        ({"practised": ["step_by_hand"]}, "has no step_by_hand to practise"),  # it stands in the check
        ({"checked": ["low_side_down"]}, "does not check with low_side_down"),  # it stands in predict
    ],
)
def test_a_lost_pointer_is_found(change, sentence):
    whole = COMPETENCIES["restrictions_and_valves"]
    assert list(lost_pointers({"it": whole})) == []
    served = whole.served_by[0].model_copy(update=change)
    assert sentence in " ".join(lost_pointers({"it": whole.model_copy(update={"served_by": [served]})}))


def test_a_mark_that_is_none_is_refused(monkeypatch, tmp_path):
    text = (tables.DATA / "competencies.toml").read_text(encoding="utf-8")
    (tmp_path / "competencies.toml").write_text(text.replace('mark = "read"', 'mark = "sure"', 1), encoding="utf-8")
    monkeypatch.setattr(tables, "DATA", tmp_path)
    tables.read_competencies.cache_clear()
    with pytest.raises(
        BadDataFile, match="competencies.toml: competency.complaint_and_history.asked_by.0.mark is 'sure'"
    ):
        tables.read_competencies()
    tables.read_competencies.cache_clear()
