"""The list of pages: data/course.toml, the table of README.md, the first page and the notebooks themselves say the same."""

import re
import tomllib

import nbformat
import pytest

from course.tables import DATA, lesson_ids, read_course, read_lesson
from course.widgets.page_links import label_of
from tests.notebooks.test_notebooks import BOOKS

README = BOOKS[0].parents[1] / "README.md"
FIRST = "the_workbook"
PAGES = read_course().page
ASKED = re.compile(
    r'\bask\("(?P<alone>\w+)"\)|ask_questions\("(?P<lesson>\w+)", "(?P<section>\w+)"\)|(?P<placement>show_placement)\('
)
PLAIN_LINK = re.compile(r"\[([^\]]+)\]\((?:notebooks/)?(\w+)\.ipynb\)")


def cells_of(name, kind):
    book = nbformat.read(BOOKS[0].parent / f"{name}.ipynb", as_version=4)
    return [cell.source for cell in book.cells if cell.cell_type == kind]


def test_every_notebook_has_its_entry_in_order():
    assert list(PAGES) == sorted(PAGES)
    assert {book.stem for book in BOOKS} == {*PAGES, FIRST}


def test_the_table_in_the_readme_says_the_same():
    rows = re.findall(
        r"^\| \[(.+)\]\(notebooks/(\w+)\.ipynb\) \| (.+) \|$", README.read_text(encoding="utf-8"), re.MULTILINE
    )
    expected = []
    for page, entry in PAGES.items():
        minutes = f" ({entry.length_minutes.value} minutes)" if entry.length_minutes else ""
        expected.append((label_of(page), page, f"{entry.afterwards}{minutes}"))
    assert rows == expected


@pytest.mark.parametrize("page", PAGES)
def test_a_notebook_calls_itself_so_and_gives_the_same_minutes(page):
    head = cells_of(page, "markdown")[0]
    heading = re.match(r"(?:# |\*\*)([^*\n]+)", head)[1]
    assert re.sub(r": .*", "", heading) == label_of(page)
    minutes = [int(number) for number in re.findall(r"^\*\*(\d+) minutes\b", head, re.MULTILINE)]
    length = PAGES[page].length_minutes
    assert minutes == ([length.value] if length else [])


@pytest.mark.parametrize("page", lesson_ids())
def test_every_question_of_a_lesson_is_asked_on_its_page(page):
    """The bar of the first page counts them all, so each must be there to be answered."""
    found = [match for source in cells_of(page, "code") for match in ASKED.finditer(source)]
    alone = {match["alone"] for match in found}
    sections = {match["section"] for match in found if match["lesson"] == page} | {
        "placement" for match in found if match["placement"]
    }
    questions = read_lesson(page).sections.items()
    assert [key for key, section in questions if key not in alone and section not in sections] == []


def test_the_first_page_links_every_page_in_plain_markdown():
    text = "\n".join(cells_of(FIRST, "markdown"))
    assert text.startswith("# ")
    listed = [(words, page) for words, page in PLAIN_LINK.findall(text.rsplit("\n\n", 1)[-1])]
    assert listed == [(label_of(page), page) for page in PAGES]


def test_the_first_page_can_be_read_before_anything_runs():
    book = nbformat.read(BOOKS[0].parent / f"{FIRST}.ipynb", as_version=4)
    stored = next(cell for cell in book.cells if "show_lessons()" in cell.source).outputs[0].data
    for page, entry in PAGES.items():
        assert f'href="{page}.ipynb"' in stored["text/html"]
        assert entry.afterwards in stored["text/plain"]
    assert "not begun" not in stored["text/html"]


def test_the_workbook_opens_on_its_first_page():
    assert f"notebooks/{FIRST}.ipynb" in README.read_text(encoding="utf-8")
    settings = BOOKS[0].parents[1] / "course/commands/settings/jupyter_server_config.json"
    assert f'"/lab/tree/{FIRST}.ipynb"' in settings.read_text(encoding="utf-8")


def test_the_fast_track_goes_over_pages_there_are():
    assert set(read_course().fast_track) <= set(PAGES)
    assert tomllib.loads((DATA / "course.toml").read_text(encoding="utf-8"))["fast_track"] == sorted(
        read_course().fast_track
    )
