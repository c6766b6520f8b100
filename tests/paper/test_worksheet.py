"""A worksheet: what is filled in by hand, nothing of the answer, on the paper asked for."""

import re

import nbformat
import pytest

from course.paper.bench_table import bench_tables
from course.paper.notebook_cells import paper_lesson
from course.paper.worksheet import EMPTY_LINES, SIZES, filled_tables, worksheet_html
from course.service.job import STEPS
from course.units import display_units

UNITS = display_units("psi_f")
CELLS = (
    'ask("hot_day_low_charge")',
    '# The bench\nshow_bench(["charge_percent"])',
    "# The walk\nshow_walk()",
    'ask_questions("00_start_here", "check")',
    "show_job_sheet()",
    "show_oil_form()",
)


@pytest.fixture(scope="module")
def lesson():
    cells = [nbformat.v4.new_code_cell(source) for source in CELLS]
    words = "On the next car, read the label.\n\n## Check\n\n<details><summary>Aloud?</summary>Yes.</details>"
    return paper_lesson("00_start_here", [*cells, nbformat.v4.new_markdown_cell(words)])


@pytest.fixture(scope="module")
def tables(lesson):
    return bench_tables(lesson, UNITS)


@pytest.mark.parametrize("size", SIZES)
def test_the_paper_is_the_one_asked_for(lesson, size):
    assert f"@page {{ size: {SIZES[size]};" in worksheet_html(lesson, UNITS, size)


def test_everything_to_fill_in_is_there(lesson, tables):
    html = worksheet_html(lesson, UNITS, "a4", tables)
    for words in (
        "Name",
        "Date",
        "Because:",
        "What it showed:",
        "The walk",
        "Aloud?",
        "On the next car, read the label.",
    ):
        assert words in html
    assert all(step in html for step in STEPS.values())
    assert "six tenths of this sedan" in html
    assert "What is the superheat?" in html


def test_the_bench_table_is_empty_on_the_sheet_and_filled_in_the_key(lesson, tables):
    (table,) = tables
    sheet, key = worksheet_html(lesson, UNITS, "a4", tables), filled_tables(tables)
    empty = "<td></td>" * (len(table.heads) - 1)
    assert sheet.count(f"</th>{empty}</tr>") >= len(table.lines) + EMPTY_LINES
    for line in table.filled:
        assert "".join(f"<td>{cell}</td>" for cell in line) in key
        assert "".join(f"<td>{cell}</td>" for cell in line) not in sheet


def test_faces_and_chart_to_draw_into_are_empty(lesson, tables):
    html = worksheet_html(lesson, UNITS, "a4", tables)
    assert html.count("<figure") == 1
    assert "Draw one line of “The bench”" in html
    assert "LOW SIDE, psi" in html
    (figure,) = re.findall(r"<figure.*?</figure>", html, flags=re.DOTALL)
    assert "boils at" not in figure  # what a needle would tell
    assert "<figure" not in worksheet_html(lesson, UNITS, "a4")


def test_no_answer_is_on_the_sheet(lesson, tables):
    html = worksheet_html(lesson, UNITS, "letter", tables)
    for _, question in lesson.questions:
        for option in getattr(question.table, "options", ()):
            assert question.fill(option.why, UNITS) not in html
    assert "Yes." not in html
    assert "✓" not in html
