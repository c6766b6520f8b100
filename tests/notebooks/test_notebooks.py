"""Notebooks as shipped: run, frozen, thin, and nothing in them that the strict comparison would pass over."""

import ast
from pathlib import Path

import nbformat
import pytest

from course.commands.freeze import LIVE, settle

BOOKS = sorted((Path(__file__).resolve().parents[2] / "notebooks").glob("*.ipynb"))
MOST_CELLS, MOST_LINES, MOST_WORDS = 25, 3, 1000


def weak_cells(notebook):
    """Code cells the strict comparison would not really compare, or that are more than a lesson should hold."""
    faults = []
    for number, cell in enumerate(notebook.cells):
        if cell.cell_type != "code":
            continue
        texts = [
            output.data["text/plain"] for output in cell.outputs if "data" in output and "text/plain" in output.data
        ]
        ignored = {"nbval-ignore-output", "nbval-skip", "raises-exception"} & set(cell.metadata.get("tags", []))
        if cell.execution_count is None:
            faults.append(f"cell {number} was never run")
        if not any(texts) and not (ignored and cell.metadata.get("reason")):
            faults.append(f"cell {number} has no compared text")
        if "raises-exception" in ignored:
            faults.append(f"cell {number} passes also when nothing is raised")
        if any(LIVE in output.get("data", {}) for output in cell.outputs):
            faults.append(f"cell {number} carries a dead widget")
        if sum(bool(line.strip()) and line[0] != "#" for line in cell.source.splitlines()) > MOST_LINES:
            faults.append(f"cell {number} has more than {MOST_LINES} lines")
        if not cell.source.startswith("# ") or not cell.metadata.get("jupyter", {}).get("source_hidden"):
            faults.append(f"cell {number} is not hidden behind a plain first line")
        for node in ast.walk(ast.parse(cell.source)):
            if isinstance(node, (ast.FunctionDef, ast.ClassDef, ast.Lambda)):
                faults.append(f"cell {number} defines something")
            if isinstance(node, ast.ImportFrom) and any(alias.name == "*" for alias in node.names):
                faults.append(f"cell {number} imports everything")
    return faults


@pytest.fixture(params=BOOKS, ids=lambda book: book.stem)
def notebook(request):
    return nbformat.read(request.param, as_version=4)


def test_there_are_notebooks():
    assert {book.stem for book in BOOKS} >= {
        "00_start_here",
        "01_pressure_tells_temperature",
        "02_the_loop_on_the_p_h_chart",
        "free_bench",
    }


def test_every_cell_is_really_compared(notebook):
    assert weak_cells(notebook) == []


def test_a_lesson_is_short(notebook):
    words = sum(len(cell.source.split()) for cell in notebook.cells if cell.cell_type == "markdown")
    assert len(notebook.cells) <= MOST_CELLS
    assert words <= MOST_WORDS


def test_the_first_cell_has_the_button_that_runs_the_lesson(notebook):
    assert 'data-commandlinker-command="notebook:run-all-cells"' in notebook.cells[0].source


def test_a_lesson_with_a_car_warns_before_the_shop(notebook):
    text = " ".join(cell.source for cell in notebook.cells)
    if "In the shop" in text:
        assert "goggles and gloves" in text
        assert "Local codes" in text


def test_the_guard_would_notice():
    cell = nbformat.v4.new_code_cell("def f(): pass\n1\n2\n3\n4")
    found = weak_cells(nbformat.v4.new_notebook(cells=[cell]))
    assert any("never run" in fault for fault in found)
    assert any("no compared text" in fault for fault in found)
    assert any("defines something" in fault for fault in found)
    assert any("more than" in fault for fault in found)


def test_settling_drops_what_is_dead_and_keeps_the_words():
    data = {LIVE: {"model_id": "x"}, "text/plain": "low side 30 psi"}
    output = nbformat.v4.new_output("execute_result", data=data, execution_count=1)
    cell = nbformat.v4.new_code_cell("1", outputs=[output], metadata={"execution": {"iopub": "now"}})
    book = settle(nbformat.v4.new_notebook(cells=[cell], metadata={"widgets": {"state": {}}}))
    assert "widgets" not in book.metadata
    assert "execution" not in book.cells[0].metadata
    assert book.cells[0].outputs[0].data == {"text/plain": "low side 30 psi"}
