"""What comes back for review: after one day, three, seven and twenty-one, by hand on a calendar."""

from datetime import date, timedelta
from types import SimpleNamespace

from course.lessons.review import due_today, review_queue

MAY = date(2030, 5, 1)


def answers(*given):
    """Answers to one question: day after the first of May, right or not."""
    return [SimpleNamespace(question="a/b", day=MAY + timedelta(days=day), is_right=right) for day, right in given]


def days(queue):
    return [(due.day - MAY).days for due in queue]


def test_what_was_never_missed_never_comes_back():
    assert review_queue(answers((0, True), (5, True))) == []


def test_the_waits_grow_and_end():
    assert days(review_queue(answers((0, False)))) == [1]
    assert days(review_queue(answers((0, False), (1, True)))) == [4]
    assert days(review_queue(answers((0, False), (1, True), (4, True)))) == [11]
    assert days(review_queue(answers((0, False), (1, True), (4, True), (11, True)))) == [32]
    assert review_queue(answers((0, False), (1, True), (4, True), (11, True), (32, True))) == []


def test_missed_again_begins_again():
    assert days(review_queue(answers((0, False), (1, True), (4, False)))) == [5]


def test_only_the_first_try_of_a_day_counts_and_an_early_one_changes_nothing():
    assert days(review_queue(answers((0, False), (0, True)))) == [1]
    assert days(review_queue(answers((0, False), (1, True), (2, True)))) == [4]


def test_due_is_due_until_it_is_answered():
    missed = answers((0, False))
    assert due_today(missed, MAY) == []
    assert len(due_today(missed, MAY + timedelta(days=1))) == 1
    assert len(due_today(missed, MAY + timedelta(days=40))) == 1
