"""Questions with boxes and lines: one place to fill in for everything asked, and a key that says why."""

import pytest

from course.errors import BadDataFile
from course.lessons.lesson import find_question
from course.paper.question_html import key_html, question_html, spoken_html
from course.units import display_units

UNITS = display_units("kpa_c")


@pytest.mark.parametrize(
    ("question_id", "place", "places"),
    [
        ("hot_day_low_charge", 'class="box"', 3 + 3),  # and how sure one is
        ("same_gauges_another_day", 'class="box"', 3 + 3),
        ("superheat_by_hand", 'class="blank"', 1),
        ("first_look", 'class="place"', 6),
        ("what_each_reading_means", 'class="place"', 3),
        ("where_superheat_is", 'class="box"', 4),
        ("which_way_at_low_charge", 'class="box"', 4 * 3),
    ],
)
def test_everything_asked_has_its_place(question_id, place, places):
    html = question_html(3, find_question(question_id), UNITS)
    assert html.count(place) == places
    assert "<b>3.</b>" in html
    assert "✓" not in html


def test_a_number_has_its_unit_behind_the_line():
    assert '<span class="blank"></span> K <span' in question_html(1, find_question("superheat_by_hand"), UNITS)


def test_a_point_is_asked_on_its_chart():
    question = find_question("where_superheat_is")
    assert 'aria-label="The cycle on the P-h chart: ' in question_html(1, question, UNITS)
    assert 'aria-label="The cycle on the P-h chart: ' in key_html(1, question, UNITS)


def test_the_key_marks_one_right_and_shows_the_runs_of_the_wrong():
    html = key_html(1, find_question("hot_day_low_charge"), UNITS)
    assert (html.count("✓"), html.count("✗")) == (1, 2)
    assert html.count("The run shows it:") == 2
    assert "The belief behind it: “" in html


def test_what_an_instructor_writes_is_text():
    complaint = BadDataFile("a.toml: 2 < 3")
    assert "2 &lt; 3" in question_html(1, complaint, UNITS)
    assert "2 &lt; 3" in key_html(1, complaint, UNITS)
    assert 'class="line"' in spoken_html("Why?")
