"""Question panels: marked beside the question, locked where predicted, remembered, and the same on paper for everybody."""

import pytest

from course.lessons.record import Record
from course.widgets import QuestionPanel, ask, ask_questions
from tests.lessons.lesson_files import GOOD, HEAD


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def panel(question_id):
    return ask(question_id)


def commit(question, answer, confidence=None):
    question.input.show(answer)
    question.sure.value = confidence
    question.commit()


def test_a_prediction_wants_an_answer_and_how_sure_before_it_shows_anything():
    question = panel("hot_day_low_charge")
    question.commit()
    assert "Choose an answer first." in question.feedback.value
    commit(question, 0)
    assert "Say how sure you are, too." in question.feedback.value
    assert not any(option.why in question.feedback.value for option in question.question.table.options)
    assert Record().answers() == []
    commit(question, 0, "certain")
    assert question.input.radio.disabled
    assert question.button.disabled
    for option in question.question.table.options:
        assert option.why in question.feedback.value.replace("&#x27;", "'")
    assert "You were certain, and it is not so" in question.feedback.value
    assert "Most of us learned" in question.feedback.value
    assert "<td>26 psi gauge</td><td>25 psi gauge</td>" in question.feedback.value
    question.commit()  # a second press of a key that was still down
    assert len(Record().answers()) == 1


def test_a_prediction_stays_as_it_was_made_after_a_restart():
    commit(panel("hot_day_low_charge"), 0, "fairly sure")
    again = panel("hot_day_low_charge")
    assert again.input.radio.value == 0
    assert again.sure.value == "fairly sure"
    assert again.button.disabled
    assert "(your answer)" in again.feedback.value


def test_what_stands_on_paper_does_not_depend_on_the_record():
    before = ask_questions("00_start_here", "predict")._repr_mimebundle_()
    alone = ask("hot_day_low_charge")._repr_mimebundle_()
    commit(ask_questions("00_start_here", "predict").panels[0], 2, "a guess")
    after = ask_questions("00_start_here", "predict")._repr_mimebundle_()
    for kind in ("text/plain", "text/html"):
        assert before[kind] == after[kind]
        assert alone[kind] == ask("hot_day_low_charge")._repr_mimebundle_()[kind]
    assert before["text/plain"].startswith("Predict: 1. A hot day")
    assert alone["text/plain"].startswith("Predict: A hot day")


def test_a_lost_try_is_only_one_that_counts():
    question = panel("superheat_by_hand")
    for text in ("", "35", "35 psi", "lots"):
        commit(question, text)
        assert 'role="alert"' in question.feedback.value
    assert Record().answers() == []
    commit(question, "5 °F")
    assert "Too little" in question.feedback.value
    assert not question.button.disabled
    right = question.question.numbers["short_superheat"].in_unit("°F", 1).replace(".", ",")
    commit(question, right)
    assert "Right." in question.feedback.value
    assert question.button.disabled
    assert [(answer.attempt, answer.is_right) for answer in Record().answers()] == [(1, False), (2, True)]
    assert "In your record: right after 2 tries." in panel("superheat_by_hand").kept.value


@pytest.mark.parametrize(
    ("question_id", "wrong"),
    [
        ("same_gauges_another_day", 0),
        ("first_look", ["repair", "ask", "weather", "goggles", "connect", "judge"]),
        ("where_superheat_is", "condenser_outlet"),
        ("which_way_at_low_charge", dict.fromkeys(("low_side", "high_side", "superheat", "vent"), "up")),
    ],
)
def test_every_kind_is_answered_through_its_controls(question_id, wrong):
    question = panel(question_id)
    table = question.question.table
    right = {
        "choice": lambda: question.right,
        "order": lambda: [step.id for step in table.steps],
        "point": lambda: next(place.point for place in table.points if place.right),
        "directions": lambda: question.question.truth,
    }[table.kind]()
    commit(question, wrong, "a guess" if table.confidence else None)
    assert "Not yet: read why, then try again." in question.feedback.value
    assert question.input.answer == wrong
    assert question.sure.value is None or not table.confidence
    commit(question, right, "a guess" if table.confidence else None)
    assert "Right" in question.feedback.value
    assert all(control.disabled for control in question.input.controls)


def test_a_match_and_a_point_are_chosen_from_lists_and_by_click():
    match = panel("what_each_reading_means")
    match.commit()
    assert "Choose something for every line first." in match.feedback.value
    commit(match, [pair.right for pair in match.question.table.pairs])
    assert "Right." in match.feedback.value
    point = panel("where_superheat_is")
    for name, button in zip(point.input.names, point.input.buttons, strict=True):
        button.click()
        assert point.input.answer == name
        assert [("workbook-picked" in one._dom_classes) for one in point.input.buttons].count(True) == 1
    assert "superheat" not in point.input.chart.value  # the chart gives nothing away


def test_two_steps_on_one_place_are_asked_back():
    order = panel("first_look")
    for control in order.input.controls:
        control.value = 1
    order.commit()
    assert "Put every step in its place first." in order.feedback.value


def test_a_bad_question_shows_its_sentence_and_the_others_work(write_lesson):
    bad = GOOD.replace("question.good", "question.bad").replace(', why = "it is not"', "")
    section = ask_questions(write_lesson(HEAD + bad + GOOD), "check")
    assert "question.bad.options.1.why is missing" in section.panels[0].view().value
    assert isinstance(section.panels[1], QuestionPanel)
    bundle = section._repr_mimebundle_()
    assert "question.bad.options.1.why is missing" in bundle["text/plain"]
    assert "2. At 95 °F? (yes / no)" in bundle["text/plain"]


def test_a_lesson_or_a_section_that_is_not_there_is_a_sentence_in_its_place(write_lesson):
    write_lesson(HEAD + GOOD)
    assert "lesson: '91' is not known here" in ask_questions("91", "check").text()
    assert 'no question has section = "faded" yet' in ask_questions("90_test", "faded").text()


def test_options_in_another_order_keep_the_answer_that_was_given(write_lesson):
    text = HEAD + GOOD.replace('"choice"', '"predict"')
    write_lesson(text)
    commit(ask("good"), 1, "certain")
    write_lesson(text.replace('{ text = "yes"', '{ text = "perhaps", why = "who knows" }, { text = "yes"'))
    assert ask("good").input.radio.value == 2
    write_lesson(text.replace('text = "no"', 'text = "never"'))
    assert ask("good").input.radio.value is None  # what was said is no longer there
    assert not ask("good").button.disabled


def test_a_record_that_cannot_be_kept_is_said_and_the_answer_is_marked(monkeypatch, tmp_path):
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("WORKBOOK_RECORD", str(tmp_path / "file" / "record.sqlite"))
    question = panel("hot_day_low_charge")
    commit(question, 1, "a guess")
    assert "Right, though you called it a guess." in question.feedback.value
    assert "The lesson goes on without it." in question.kept.value
