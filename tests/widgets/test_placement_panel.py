"""The placement questions as a panel: the advice follows the answers, with links, and paper says the same to everybody."""

import html
import re

from course.lessons.record import Record
from course.widgets import show_lessons, show_placement
from course.widgets.page_links import link_to


def plain(markup):
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", markup)).split())


def answer(panel, right=True, confidence="certain"):
    """Answer one question and press its button, as a learner does."""
    number = panel.right
    if number is None:
        shown = panel.question.numbers[panel.question.table.answer].shown(panel.units)
        panel.input.show(shown if right else "1 °F")
    else:
        panel.input.show(number if right else (number + 1) % len(panel.question.table.options))
    panel.sure.value = confidence
    panel.button.click()


def test_it_says_how_many_are_left_and_then_where_to_begin():
    placement = show_placement()
    assert "Nothing is answered yet." in plain(placement.advice.value)
    for panel in placement.panels[:-1]:
        answer(panel, right="humid" not in panel.question.id)
    assert "8 of 9 answered; 1 more" in plain(placement.advice.value)
    answer(placement.panels[-1], confidence="a guess")
    said = plain(placement.advice.value)
    assert "Look at 03 · The air decides first: what humid air does to the vent was not right." in said
    assert "Look at 12 · Recover, evacuate, recharge on the way: what a recovered weight tells was a guess." in said
    assert "You can go straight to 06 · Charge , 07 · High side too high , 08 · Low side wrong" in said
    assert "and 13 · Thinking like a diagnostician ." in said
    assert link_to("03_the_air_decides") in placement.advice.value
    # a new kernel finds the same, and the first page goes on there
    assert plain(show_placement().advice.value) == said
    assert "Continue: 03 · The air decides" in plain(show_lessons().head.value)
    assert "not begun" in plain(show_lessons().table.value).split("01 ·")[0]  # nobody's duty, so no progress


def test_a_fast_lesson_that_was_missed_wants_its_time():
    placement = show_placement()
    for panel in placement.panels:
        answer(panel, right="head" not in panel.question.id)
    said = plain(placement.advice.value)
    assert "Take your time with 07 · High side too high : what raises a head was not right." in said
    assert "Look at" not in said


def test_an_answer_that_does_not_count_changes_nothing():
    placement = show_placement()
    before = placement.advice.value
    placement.panels[0].button.click()
    assert placement.advice.value == before
    assert Record().answers() == []


def test_what_stands_on_paper_does_not_depend_on_the_record():
    before = show_placement()._repr_mimebundle_()
    answer(show_placement().panels[0], right=False)
    after = show_placement()._repr_mimebundle_()
    for kind in ("text/plain", "text/html"):
        assert before[kind] == after[kind]
    assert before["text/plain"].startswith("Where to begin: 1. A sedan with R-134a stood overnight")
