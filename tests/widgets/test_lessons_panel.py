"""The list of lessons: links that open, progress in words and as a bar, and a record that cannot be read."""

import html
import json
import re
import sqlite3
from types import SimpleNamespace

from course.lessons.record import Record
from course.tables import read_course
from course.widgets import show_lessons
from course.widgets.page_links import link_to

RIGHT = SimpleNamespace(answer="yes", right=True, misconception="")


def plain(markup):
    return html.unescape(re.sub(r"<[^>]+>", " ", markup))


def test_a_link_opens_its_page_in_jupyterlab_and_elsewhere():
    link = link_to("06_charge")
    assert 'href="06_charge.ipynb"' in link
    assert 'data-commandlinker-command="docmanager:open"' in link
    arguments = re.search(r'data-commandlinker-args="([^"]+)"', link)[1]
    assert json.loads(html.unescape(arguments)) == {"path": "06_charge.ipynb"}
    assert plain(link).strip() == "06 · Charge"


def test_it_lists_every_page_with_minutes_and_what_one_can_do():
    panel = show_lessons()
    words = plain(panel.table.value)
    for page, entry in read_course().page.items():
        assert link_to(page) in panel.table.value
        assert entry.afterwards[1:] in words
        assert not entry.length_minutes or f"{entry.length_minutes.value:g} minutes" in words
    assert words.count("not begun") == panel.table.value.count("<svg") == 15
    assert "Continue: 00 · Start here" in plain(panel.head.value)
    assert "Quick reference" in plain(panel.head.value)
    assert not Record().path.exists()  # looking makes no file


def test_it_follows_the_record_at_the_press_of_its_button():
    panel = show_lessons()
    Record().add("08_low_side_wrong/both_at_rest", "choice", RIGHT, 0)
    Record().stop_at("08_low_side_wrong", "check")
    panel.again.click()
    assert "1 of 11 answered, 1 right; last on" in plain(panel.table.value)
    assert "Continue: 08 · Low side wrong" in plain(panel.head.value)
    assert "You stopped here, and it is not finished." in plain(panel.head.value)


def test_a_record_that_cannot_be_read_costs_the_bars_and_not_the_list():
    record = Record()
    record.add("08_low_side_wrong/both_at_rest", "choice", RIGHT, 0)
    connection = sqlite3.connect(record.path)
    connection.execute("PRAGMA user_version=99")
    connection.commit()
    connection.close()
    panel = show_lessons()
    assert "Your record (record.sqlite) cannot be read, because a newer workbook wrote it" in plain(panel.head.value)
    assert 'role="alert"' in panel.head.value
    assert "not begun" in panel.table.value


def test_what_stands_on_paper_does_not_depend_on_the_record():
    before = show_lessons()._repr_mimebundle_()
    Record().add("08_low_side_wrong/both_at_rest", "choice", RIGHT, 0)
    after = show_lessons()._repr_mimebundle_()
    for kind in ("text/plain", "text/html"):
        assert before[kind] == after[kind]
    assert "progress" not in plain(before["text/html"].rsplit("</style>", 1)[-1])
