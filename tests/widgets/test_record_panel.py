"""The record's panel: what it says, the table it gives, what it deletes; and the review of what was missed."""

import csv
import io
import re
from base64 import b64decode
from datetime import date, timedelta
from types import SimpleNamespace

import pytest

from course.lessons.record import Record
from course.widgets import ask, show_record, show_review
from course.widgets.record_panel import MOST_AT_ONCE, ReviewPanel

WRONG = SimpleNamespace(answer="no", right=False, misconception="superheat_means_hot")
RIGHT = SimpleNamespace(answer="yes", right=True, misconception="")


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def missed(*names):
    for name in names:
        Record().add(f"00_start_here/{name}", "choice", WRONG, 0)


def test_it_says_what_is_kept_and_where(tmp_path):
    assert "Nothing is recorded yet." in show_record().words.value
    missed("superheat_by_hand")
    Record().add("00_start_here/first_look", "order", RIGHT, [])
    Record().stop_at("00_start_here", "faded")
    words = show_record().words.value
    assert "2 questions answered; 1 right at the first try." in words
    assert "0 due for review, 1 waiting in all." in words
    assert "Last at: lesson 00_start_here, Your case." in words
    assert "Met 1 ×: “Superheat means hot, subcooling means cold.”" in words
    assert f"Kept on this machine alone, in {tmp_path / 'record.sqlite'}" in words


def test_one_button_gives_the_table():
    missed("superheat_by_hand")
    panel = show_record()
    panel.export.click()
    data = re.search(r"base64,([^\"]+)", panel.file.value)[1]
    rows = list(csv.DictReader(io.StringIO(b64decode(data).decode("utf-8-sig"))))
    assert rows[0]["question"] == "00_start_here/superheat_by_hand"
    assert "answers in it: 1" in panel.file.value


def test_one_button_deletes_after_asking_back():
    missed("superheat_by_hand")
    panel = show_record()
    panel.delete.click()
    assert len(Record().answers()) == 1
    assert panel.sure.layout.display == ""
    panel.sure.click()
    assert Record().answers() == []
    assert "Your record is deleted." in panel.words.value


def test_what_was_missed_comes_back_tomorrow_and_is_not_given_away():
    assert "Nothing is due for review today." in show_review().view().children[0].value
    predicted = SimpleNamespace(answer="Both needles drop in step with what is missing", right=False, misconception="")
    Record().add("00_start_here/hot_day_low_charge", "predict", predicted, 0, "certain")
    assert ask("hot_day_low_charge").button.disabled
    missed("superheat_by_hand", "none_such")
    review = ReviewPanel(today=date.today() + timedelta(days=1))
    questions = {getattr(panel, "question", None) and panel.question.id for panel in review.panels}
    assert questions == {None, "00_start_here/hot_day_low_charge", "00_start_here/superheat_by_hand"}
    prediction = next(one for one in review.panels if getattr(one, "predicting", False))
    assert not prediction.button.disabled  # asked anew, whatever was predicted at the time
    complaint = next(one for one in review.panels if not hasattr(one, "question"))
    assert "none_such" in complaint.view().value


def test_no_more_than_a_few_at_once(write_lesson):
    missed(*(f"q{number}" for number in range(8)))
    review = ReviewPanel(today=date.today() + timedelta(days=1))
    assert len(review.panels) == MOST_AT_ONCE
    assert "3 more are due" in review.view().children[0].value


def test_what_stands_on_paper_does_not_depend_on_the_record():
    before = [panel()._repr_mimebundle_()["text/plain"] for panel in (show_record, show_review)]
    missed("superheat_by_hand")
    assert before == [panel()._repr_mimebundle_()["text/plain"] for panel in (show_record, show_review)]
    assert "1, 3, 7 and 21 days" in before[0]
