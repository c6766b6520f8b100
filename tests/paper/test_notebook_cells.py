"""What is read out of a stored lesson without running it."""

import nbformat
import pytest

from course.lessons.lesson import Question
from course.paper.notebook_cells import calls_of, paper_lesson

code, text = nbformat.v4.new_code_cell, nbformat.v4.new_markdown_cell


def test_calls_are_read_with_what_they_are_given():
    source = '# Try\nfrom course.widgets import show_bench\nstart = {"car": "pickup"}\nshow_bench(["charge_percent"], **start, ambient_c=25)'
    (call,) = calls_of(source)
    assert (call.name, call.given, call.named) == (
        "show_bench",
        (["charge_percent"],),
        {"car": "pickup", "ambient_c": 25},
    )


@pytest.mark.parametrize("source", ["%matplotlib inline", "x = 1", "print", "a.b('c')", "ask("])
def test_other_cells_call_nothing(source):
    assert calls_of(source) == ()


def test_what_would_have_to_be_run_is_not_guessed():
    (call,) = calls_of("ask(chr(65))")
    assert call.given == (None,)
    assert paper_lesson("90_none", [code("ask(chr(65))")]).questions == []


def test_questions_are_numbered_as_they_are_asked_and_none_is_left_out():
    cells = [
        code('ask("hot_day_low_charge")'),
        code('ask_questions("00_start_here", "check")'),
        code('ask("hot_day_low_charge")'),
        code("show_placement()"),
    ]
    lesson = paper_lesson("00_start_here", cells)
    assert [number for number, _ in lesson.asked[0]] == [1]
    assert [number for number, _ in lesson.asked[1]] == [2, 3, 4]
    assert [number for number, _ in lesson.asked[2]] == [1]
    assert [question.table.section for _, question in lesson.rest] == ["worked", "faded", "faded"]
    assert [number for number, _ in lesson.asked[3]] == [5, 6, 7, 8, 9, 10, 11, 12, 13]
    assert {question.table.section for _, question in lesson.asked[3]} == {"placement"}
    assert [number for number, _ in lesson.questions] == list(range(1, 17))
    assert all(isinstance(question, Question) for _, question in lesson.questions)


def test_recall_of_an_earlier_lesson_belongs_to_no_section_of_this_one():
    lesson = paper_lesson("03_the_air_decides", [code('ask_questions("03_the_air_decides", "recall")')])
    assert [question.id.split("/")[0] for _, question in lesson.asked[0]] == ["00_start_here"] * 3
    assert all(question.id.startswith("03_") for _, question in lesson.of_section("check"))
    assert len(lesson.of_section("check")) == 5


def test_a_question_that_is_not_there_is_a_complaint_in_its_place():
    lesson = paper_lesson("00_start_here", [code('ask("no_such_question")')])
    (complaint,) = lesson.complaints
    assert "no_such_question" in complaint


def test_questions_folded_into_the_text_keep_their_heading_and_answer():
    folded = "<details><summary>Why?</summary>Because.</details>"
    lesson = paper_lesson("90_none", [text(f"## Recall\n\n{folded}"), text(f"More\n\n## Check\n\n{folded}")])
    assert [(one.heading, one.ask, one.answer) for one in lesson.spoken] == [
        ("Recall", "Why?", "Because."),
        ("Check", "Why?", "Because."),
    ]


def test_title_panels_and_next_car():
    cells = [text("# 90 · A title"), code("# The bench\nshow_bench()"), text("On the next car, read the label.")]
    lesson = paper_lesson("90_none", cells)
    assert (lesson.title, lesson.next_car) == ("90 · A title", "On the next car, read the label.")
    assert [(panel.title, panel.call.name) for panel in lesson.panels] == [("The bench", "show_bench")]
