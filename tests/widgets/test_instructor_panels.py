"""The instructor's panels: the competency map as its data has it, and a question file with answers and faults as one edits."""

import xml.etree.ElementTree as ElementTree

import ipywidgets
import pytest

from course.errors import UnknownChoice
from course.lessons.competency_map import competency_map, without_a_lesson
from course.lessons.record import Record
from course.physics.bench import run_bench
from course.tables import EXAMPLE, lesson_ids, lesson_text, read_competencies
from course.widgets import show_competencies, show_question_file
from course.widgets.card_layout import page_to_print
from course.widgets.preferences import remembered_units


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def rows_of(panel, title):
    (table,) = [table for table in panel.card.tables if table.title == title]
    return {first: rest for first, *rest in table.rows}


def test_the_map_shows_every_competency_and_every_list():
    panel = show_competencies()
    rows = rows_of(panel, "Competencies and lessons")
    assert list(rows) == [one.says for one in competency_map()]
    served, missing, asked = rows[competency_map()[0].says]
    assert served == "10 practised; 14 taught, practised"
    assert missing == competency_map()[0].missing
    assert asked.startswith("ASE A7: A.1 (read); ")
    assert len(rows_of(panel, "The lists")) == len(read_competencies().list)
    ElementTree.fromstring(panel.shown.value)


def test_what_has_no_lesson_stands_first_and_in_plain_sight():
    for panel in (show_competencies(), show_competencies(lesson="06_charge")):
        assert panel.card.tables[0].title == "Without a lesson"
        assert not panel.card.tables[0].long
        assert [says for says, _ in panel.card.tables[0].rows] == [one.says for one in without_a_lesson()]
        for one in without_a_lesson():
            assert one.missing in panel._repr_mimebundle_()["text/plain"]


def test_a_lesson_can_be_chosen():
    panel = show_competencies()
    panel.lesson.value = "06_charge"
    rows = rows_of(panel, "Competencies and lessons")
    assert 0 < len(rows) < len(competency_map())
    assert all("06 " in served for served, *_ in rows.values())
    assert f"{len(rows)} of {len(competency_map())} competencies" in panel.card.notes[0]
    with pytest.raises(UnknownChoice, match="lesson: '70_nowhere'"):
        show_competencies(lesson="70_nowhere")


def test_the_key_gives_answers_in_the_readers_units_and_remembers_them():
    panel = show_question_file(EXAMPLE)
    panel.units.value = "psi_f"
    fahrenheit = rows_of(panel, "Questions and answers")["example_two"][2]
    panel.units.value = "bar_c"
    kelvin = rows_of(panel, "Questions and answers")["example_two"][2]
    assert "°F; Within 3.6 °F" in fahrenheit
    assert " K; Within 2 K" in kelvin
    assert remembered_units() == "bar_c"
    assert panel.card.notes == ("2 questions, 0 faults found.",)


def test_a_slip_of_the_pen_is_said_and_the_file_stays_as_it_is():
    panel = show_question_file(EXAMPLE)
    panel.draft.value = panel.draft.value.replace("{short_boils}.", "{shrot_boils}.", 1)
    assert panel.card.notes == ("2 questions, 0 faults found.",)  # nothing happens before the button
    panel.check.click()
    rows = rows_of(panel, "Questions and answers")
    assert "1 fault found" in panel.card.notes[0]
    assert "there is no number called shrot_boils" in rows["example_two"][-1]
    assert rows["example_one"][-1] == "nothing found"
    assert "the file itself is as it was" in panel.words.value
    assert "shrot" not in lesson_text(EXAMPLE)
    panel.anew.click()
    assert panel.draft.value == lesson_text(EXAMPLE)
    assert "0 faults" in panel.words.value and "as it was" not in panel.words.value


def test_the_answer_follows_the_run_that_an_instructor_sets_up():
    """What page 90 lets its reader try: a full car in place of the short one is no fault, and another answer."""
    panel = show_question_file(EXAMPLE, units="bar_c")
    short = rows_of(panel, "Questions and answers")["example_two"][2]
    panel.draft.value = panel.draft.value.replace("charge_fraction = 0.45", "charge_fraction = 1.0", 1)
    panel.check.click()
    assert panel.card.notes == ("2 questions, 0 faults found.",)
    full = rows_of(panel, "Questions and answers")["example_two"][2]
    kelvin = [float(words.split()[0]) for words in (short, full)]
    assert kelvin[0] == pytest.approx(run_bench("sedan", charge_fraction=0.45).superheat_k, abs=0.6)
    assert kelvin[1] == pytest.approx(run_bench("sedan").superheat_k, abs=0.6)


def test_a_text_that_is_no_toml_is_said_and_costs_nothing():
    panel = show_question_file(EXAMPLE)
    panel.draft.value = panel.draft.value.replace('title = "', "title = ", 1)
    panel.check.click()
    assert "this is not readable TOML" in panel.shown.value
    assert panel.card.tables == ()


def test_every_lessons_key_can_be_chosen_and_printed():
    panel = show_question_file(EXAMPLE)
    assert list(panel.file.options) == [EXAMPLE, *lesson_ids()]
    panel.file.value = "07_high_side_too_high"
    assert panel.draft.value == lesson_text("07_high_side_too_high")
    rows = rows_of(panel, "Questions and answers")
    assert rows["air_whole_job"][2].startswith("1. ")
    page = page_to_print(panel.card)
    assert all(name in page for name in rows)
    assert "answer_key_07_high_side_too_high.html" in panel.link.value
    with pytest.raises(UnknownChoice, match="question file: '70_nowhere'"):
        show_question_file("70_nowhere")


def test_a_question_can_be_tried_as_a_learner_meets_it_and_nothing_is_kept():
    panel = show_question_file(EXAMPLE)
    assert list(panel.tried.options) == ["none", "example_one", "example_two"]
    assert panel.trial.children == ()
    panel.tried.value = "example_one"
    assert len(panel.trial.children) == 1
    (button,) = [one for one in every_widget(panel.trial) if isinstance(one, ipywidgets.Button)]
    radio, sure = [one for one in every_widget(panel.trial) if isinstance(one, ipywidgets.RadioButtons)]
    radio.index, sure.index = 1, 2
    button.click()
    assert "Right." in " ".join(one.value for one in every_widget(panel.trial) if isinstance(one, ipywidgets.HTML))
    assert Record().answers() == []


def every_widget(box):
    """A widget and everything in it."""
    yield box
    for child in getattr(box, "children", ()):
        yield from every_widget(child)


def test_what_an_instructor_types_is_shown_as_text_and_never_as_markup():
    panel = show_question_file(EXAMPLE)
    panel.draft.value = panel.draft.value.replace("What is the superheat?", "<script>alert(1)</script>")
    panel.check.click()
    assert "<script>" not in panel.shown.value
    assert "<script>" not in panel._repr_mimebundle_()["text/html"]
    assert "&lt;script&gt;" in panel.shown.value
