"""How long an answer takes from the press of the button to the explanation, the record's writing included."""

from course.lessons.lesson import open_lesson
from course.lessons.record import Record
from course.widgets import ask, ask_questions
from course.widgets.question_panel import QuestionPanel

MEDIAN_MS = 150.0  # asked for: marked and explained

ANSWERS = {
    "same_gauges_another_day": 0,
    "superheat_by_hand": "65 °F",
    "first_look": ["repair", "ask", "weather", "goggles", "connect", "judge"],
    "where_superheat_is": "condenser_outlet",
    "which_way_at_low_charge": dict.fromkeys(("low_side", "high_side", "superheat", "vent"), "up"),
}


def test_an_answer_is_marked_and_explained(results):
    record = Record()
    for number in range(2000):  # a record of some years
        record.add(f"old/{number % 300}", "choice", _Old(), number)
    panels = [QuestionPanel(ask(name).question, record=record) for name in ANSWERS]

    def press(panel, answer):
        panel.input.show(answer)
        panel.sure.value = "certain"
        panel.commit()

    jobs = [lambda pair=pair: press(*pair) for _ in range(8) for pair in zip(panels, ANSWERS.values(), strict=True)]
    assert results.measure("an answer marked, explained and recorded", jobs, median_target=MEDIAN_MS) < MEDIAN_MS


def test_a_section_is_ready(results):
    open_lesson("00_start_here")  # the runs of the lesson once
    jobs = [lambda: ask_questions("00_start_here", "check")._repr_mimebundle_() for _ in range(9)]
    results.measure("a section of three questions, made ready and drawn", jobs)


class _Old:
    """An answer of long ago."""

    answer, right, misconception = "some words of an answer", False, ""
