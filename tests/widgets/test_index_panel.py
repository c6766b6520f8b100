"""The index: every pointer exists, every lesson is pointed at, only trade words; and its panel shows what is chosen."""

import html
import re

import pytest

from course.tables import lesson_ids, read_course, read_glossary, read_index
from course.widgets import show_index
from course.widgets.index_panel import KINDS, entries_of
from course.widgets.page_links import label_of, link_to

ENTRIES = [(kind, entry) for kind in KINDS for entry in getattr(read_index(), kind)]
# words of the workbook's making, of programs and of trade marks; whoever looks something up uses none of them
NOT_OF_THE_TRADE = re.compile(
    r"slider|panel|notebook|bench|click|cell|python|lesson|module|page|simulat|model|freon|_|[{}<>]", re.IGNORECASE
)


def plain(markup):
    return html.unescape(re.sub(r"<[^>]+>", " ", markup))


def test_every_pointer_exists_and_no_entry_points_twice_to_the_same_page():
    pages = read_course().page
    assert [(entry.says, page) for _, entry in ENTRIES for page in entry.pages if page not in pages] == []
    assert [entry.says for _, entry in ENTRIES if len(set(entry.pages)) < len(entry.pages)] == []


def test_every_page_is_pointed_at():
    pointed = {page for _, entry in ENTRIES for page in entry.pages}
    assert pointed == set(read_course().page)
    first = {entry.pages[0] for _, entry in ENTRIES}
    assert set(lesson_ids()) <= first  # and every lesson is for something the best place


def test_no_entry_stands_twice():
    for kind in KINDS:
        assert len(entries_of(kind)) == len(getattr(read_index(), kind))


def test_entries_use_trade_words_only():
    assert [entry.says for _, entry in ENTRIES if NOT_OF_THE_TRADE.search(entry.says)] == []
    assert [entry.says for _, entry in ENTRIES if entry.says[-1] in ".!" or not entry.says[0].isupper()] == []


@pytest.mark.parametrize("part", ["Compressor", "Variable compressor", "Clutch", "Condenser", "Receiver-drier", "Accumulator",
    "Expansion valve", "Orifice tube", "Evaporator", "Service port", "Sight glass", "Electronic detector"])  # fmt: skip
def test_a_part_has_the_name_the_glossary_gives_it(part):
    assert part in entries_of("component")
    assert part in {term.term for term in read_glossary().values()}


@pytest.mark.parametrize("word", ["page", "Slider", "the bench", "06_charge"])
def test_a_word_that_is_not_of_the_trade_is_found(word):
    assert NOT_OF_THE_TRADE.search(word)


def test_it_shows_the_pages_of_what_is_chosen():
    panel = show_index()
    assert panel.kind.value == "symptom"
    assert plain(panel.found.value).strip().startswith("It cools less than last year.")
    panel.entry.value = "Bubbles in the sight glass"
    assert link_to("06_charge") in panel.found.value
    assert "The page that helps:" in plain(panel.found.value)
    panel.kind.value = "component"
    assert panel.entry.description == "Component"
    assert panel.entry.value == panel.entry.options[0] == "Compressor"
    panel.entry.value = "Orifice tube"
    for page in entries_of("component")["Orifice tube"]:
        assert link_to(page) in panel.found.value
    assert "06 · Charge" not in plain(panel.found.value)


@pytest.mark.parametrize("kind", KINDS)
def test_every_entry_can_be_chosen(kind):
    panel = show_index()
    panel.kind.value = kind
    for says in panel.entry.options:
        panel.entry.value = says
        assert f"{says}." in plain(panel.found.value)


def test_paper_carries_the_whole_index():
    bundle = show_index()._repr_mimebundle_()
    for _, entry in ENTRIES:
        assert f"{entry.says}: {label_of(entry.pages[0])}" in bundle["text/plain"]
        assert f'<li>{html.escape(entry.says)}: <a class="" href="{entry.pages[0]}.ipynb"' in bundle["text/html"]
