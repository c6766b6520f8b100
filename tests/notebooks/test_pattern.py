"""Every lesson in the pattern that was agreed: its sections in their order, its size, its sentences, its links, its words."""

import ast
import re
from pathlib import Path

import pytest

from course.tables import lesson_ids, lesson_text, read_glossary, read_lesson
from tests.lessons.books import NOTEBOOKS, book, lesson_books, prose

SECTIONS = ("Recall", "Predict", "Try", "Explain", "Worked case", "Your case", "Check", "In the shop")
FIVE_MINUTES = "00_start_here"  # the one exception: a first taste, with these sections alone
TASTE = ("Predict", "Try", "Explain", "In the shop")
CHECK_ITEMS, RECALL_ITEMS, MOST_CONTROLS = 5, 3, 3
WORDS_OF_A_SENTENCE, MOST_WORDS_OF_A_SENTENCE = 20, 30  # on average over a lesson, and of any one
TABLE = "| Reading | Means | Do |"
GLOSSARY = "80_quick_reference.ipynb"
LINK = re.compile(r"\[([^\]]+)\]\((\w+\.ipynb)\)")

# terms a lesson says in bold with what they mean; everything else of the glossary is one link away
DEFINED = {
    "superheat": "02_the_loop_on_the_p_h_chart",
    "subcooling": "02_the_loop_on_the_p_h_chart",
    "txv": "04_valves_tubes_and_compressors",
    "orifice_tube": "04_valves_tubes_and_compressors",
    "gauge_pressure": "05_measuring_so_that_it_means_something",
    "absolute_pressure": "05_measuring_so_that_it_means_something",
    "critical_charge": "06_charge",
    "accumulator": "06_charge",
}


def headings(text):
    """The headings of a lesson below its title, in their order."""
    return re.findall(r"^## +(.*)$", text, flags=re.MULTILINE)


def out_of_order(text, wanted=SECTIONS):
    """The first sections that are missing, or stand before the one they should follow."""
    found, missing = headings(text), []
    at = 0
    for section in wanted:
        later = [place for place in range(at, len(found)) if found[place].startswith(section)]
        if later:
            at = later[0]
        else:
            missing.append(section)
    return missing


def sentences(text):
    """The sentences of a lesson's text: lines of lists are their own, tables, headings and buttons are none."""
    plain = re.sub(r"<button.*?</button>", "", text, flags=re.DOTALL)
    plain = re.sub(r"<summary>|</summary>|</?details>", "\n", plain)
    plain = LINK.sub(r"\1", plain)
    for line in plain.splitlines():
        if line.strip() and not line.lstrip().startswith(("#", "|")):
            line = re.sub(r"^\s*(\d+\.|-)\s+", "", line)
            yield from (one for one in re.split(r"(?<=[.!?])(?:\*\*)?\s+", line) if one.split())


def live_controls(notebook):
    """How many controls each bench of a lesson begins with."""
    for cell in notebook.cells:
        if cell.cell_type == "code":
            for node in ast.walk(ast.parse(cell.source)):
                if isinstance(node, ast.Call) and node.args and isinstance(node.args[0], ast.List):
                    yield len(node.args[0].elts)


def terms_used(text):
    """The glossary's terms that stand in a text."""
    low = text.lower()
    return {key for key, one in read_glossary().items() if re.search(rf"\b{re.escape(one.term.lower())}s?\b", low)}


def links(text, word):
    """Label and notebook of the link behind a word such as Next."""
    found = re.search(rf"{word}:(?:\*\*)? {LINK.pattern}", text)
    return found.groups() if found else None


def neighbour_faults(name, text):
    """Links of a lesson to the one before and after it that are missing or lead elsewhere."""
    books = lesson_books()
    place = books.index(name)
    wanted = {"Next": books[place + 1] if place + 1 < len(books) else "81_how_far_to_trust_it"}
    if place:
        wanted["before"] = books[place - 1]
    for word, target in wanted.items():
        label, leads = links(text, word) or ("", "")
        title = book(target).cells[0].source.splitlines()[0].removeprefix("# ")
        if leads != f"{target}.ipynb" or not title.startswith(label):
            yield word


def lacks(name, notebook):
    """What a lesson lacks of the pattern, in a few words each."""
    text = prose(notebook)
    first = name == FIVE_MINUTES
    yield from out_of_order(text, TASTE if first else SECTIONS)
    yield from neighbour_faults(name, text)
    lengths = [len(sentence.split()) for sentence in sentences(text)]
    if sum(lengths) / len(lengths) > WORDS_OF_A_SENTENCE or max(lengths) > MOST_WORDS_OF_A_SENTENCE:
        yield "sentences"
    if TABLE not in text:
        yield "summary table"
    if max(live_controls(notebook), default=0) > MOST_CONTROLS:
        yield "controls"
    unknown = {term for term in terms_used(text + lesson_text(name)) if DEFINED.get(term, "99") > name}
    if unknown and GLOSSARY not in text:
        yield "glossary"
    if first:
        return
    file = read_lesson(name)
    kinds = [question.kind for key, question in file.questions.items() if file.sections[key] == "check"]
    if len(kinds) != CHECK_ITEMS or "numeric" not in kinds:
        yield "five items"
    if len(file.recall) + list(file.sections.values()).count("recall") != RECALL_ITEMS:
        yield "three recalled"
    if "predict" not in file.sections.values():
        yield "prediction"


def test_the_lessons_are_the_fifteen_of_the_outline():
    assert [name[:2] for name in lesson_books()] == [f"{number:02d}" for number in range(15)]
    assert set(lesson_books()) <= set(lesson_ids())


@pytest.mark.parametrize("name", lesson_books())
def test_every_lesson_has_all_of_the_pattern(name):
    assert set(lacks(name, book(name))) == set()


@pytest.mark.parametrize("path", sorted(NOTEBOOKS.glob("*.ipynb")), ids=lambda path: path.stem)
def test_every_link_to_a_notebook_leads_to_one(path):
    for label, target in LINK.findall(prose(book(path.stem))):
        assert Path(NOTEBOOKS / target).is_file(), f"{label} leads to {target}"


@pytest.mark.parametrize("term", list(DEFINED))
def test_a_term_is_said_in_bold_where_it_is_defined(term):
    bold = re.findall(r"\*\*([^*\n]{1,40})\*\*", prose(book(DEFINED[term])))
    assert read_glossary()[term].term.lower() in {words.strip(":.").lower() for words in bold}


# the measures themselves, each on what it must find and on what it must let pass

WHOLE = "\n".join(f"## {section}" for section in SECTIONS)


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        (WHOLE, []),
        (WHOLE.replace("## Try", "## Try: a switch that trips\n## Explain\n## Predict again\n## Try: more"), []),
        (WHOLE.replace("## Check\n", ""), ["Check"]),
        (WHOLE.replace("## Try\n## Explain", "## Explain\n## Try"), ["Explain"]),
        (WHOLE.replace("## Recall", "# Recall"), ["Recall"]),
    ],
)
def test_a_section_that_is_missing_or_out_of_order_is_found(text, missing):
    assert out_of_order(text) == missing


def test_sentences_are_counted_as_a_reader_reads_them():
    text = "# Not this\n<button>nor this</button>\n\nOne two three. **Four** five!\n\n1. six seven\n| nor | this |\n[eight nine](00_x.ipynb)"
    assert [len(one.split()) for one in sentences(text)] == [3, 2, 2, 2]
    assert [len(one.split()) for one in sentences("**Describe.** It is warm.")] == [1, 3]


def test_a_term_is_found_as_a_word_and_not_inside_another():
    assert terms_used("Orifice tubes and the clutch") == {"orifice_tube", "clutch"}
    assert terms_used("Declutched, recharged") == set()


def test_a_link_that_leads_elsewhere_is_found():
    text = prose(book("05_measuring_so_that_it_means_something"))
    assert list(neighbour_faults("05_measuring_so_that_it_means_something", text)) == []
    assert list(
        neighbour_faults("05_measuring_so_that_it_means_something", text.replace("06_charge", "free_bench"))
    ) == ["Next"]
    assert list(neighbour_faults("05_measuring_so_that_it_means_something", text.replace("04 ·", "03 ·"))) == ["before"]
