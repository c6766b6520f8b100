"""Page 90: what it plans agrees with the lessons, and what it lets an instructor try is there to try."""

import re

from course.tables import EXAMPLE, lesson_text
from tests.lessons.books import book, calls, lesson_books, prose

PAGE = book("90_for_instructors")
MINUTES = re.compile(r"(\d+) minutes")
IN_WORDS = {"Five": 5}  # lesson 00


def minutes_of(name):
    """What a lesson says it takes."""
    head = prose(book(name))
    head = head[: head.index("You will be able to")]
    words = next((word for word in IN_WORDS if f"{word} minutes" in head), None)
    return IN_WORDS[words] if words else int(MINUTES.search(head)[1])


def test_the_plan_has_every_lesson_once_in_order_and_its_minutes():
    rows = re.findall(r"^\| ([\d, ]+) \| (\d+) \|", prose(PAGE), flags=re.MULTILINE)
    planned = [number for lessons, _ in rows for number in lessons.split(", ")]
    assert planned == [name[:2] for name in lesson_books()]
    names = {name[:2]: name for name in lesson_books()}
    for lessons, minutes in rows:
        assert int(minutes) == sum(minutes_of(names[number]) for number in lessons.split(", ")), lessons


def test_what_it_shows_is_the_example_it_speaks_of():
    found = list(calls(PAGE))
    assert ("show_question_file", (EXAMPLE,)) in found
    text = lesson_text(EXAMPLE)
    for named in re.findall(r"`(\[[\w.]+\]|\{\w+\})`", prose(PAGE)):
        assert named in text or named == "{shrot_low}"


def test_every_effect_it_quotes_says_how_it_is_known():
    rows = [line for line in prose(PAGE).splitlines() if re.search(r"\| .*\d{4}", line)]
    assert len(rows) == 4
    assert all(re.search(r"(read|second-hand|from memory) \|$", row) for row in rows)
