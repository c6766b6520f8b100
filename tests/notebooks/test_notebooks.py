"""Notebooks as shipped: run, frozen, thin, and nothing in them that the strict comparison would pass over."""

import ast
import re
from pathlib import Path

import nbformat
import pytest

from course.commands.freeze import LIVE

BOOKS = sorted((Path(__file__).resolve().parents[2] / "notebooks").glob("*.ipynb"))
MOST_CELLS, MOST_LINES, MOST_WORDS = 25, 3, 1000


# what makes the strict comparison look away, as a tag of a cell or as a comment in it
LOOK_AWAY = {"nbval-ignore-output", "nbval-skip", "nbval-test-listed"}
PASSES_ALWAYS = {"raises-exception", "nbval-raises-exception"}
LOOK_AWAY_COMMENT = re.compile(r"#\s*(?:NBVAL|PYTEST_VALIDATE)_", re.IGNORECASE)


def compared_words(cell):
    """The text of a cell's outputs that the strict comparison reads."""
    for output in cell.outputs:
        yield output.get("text") or output.get("data", {}).get("text/plain", "")


def uncompared(cell):
    """Why the strict comparison would not really compare a cell."""
    tags = set(cell.metadata.get("tags", []))
    reasoned = bool(tags & LOOK_AWAY) and len(str(cell.metadata.get("reason", ""))) > 10
    if cell.execution_count is None:
        yield "was never run"
    if tags & LOOK_AWAY and not reasoned:
        yield "is left out of the comparison without a reason"
    if not any(words.strip() for words in compared_words(cell)) and not reasoned:
        yield "has no compared text"
    if tags & PASSES_ALWAYS:
        yield "passes also when nothing is raised"
    if LOOK_AWAY_COMMENT.search(cell.source):
        yield "is left out of the comparison by a comment"
    if any(output.output_type == "error" or output.get("name") == "stderr" for output in cell.outputs):
        yield "is stored with an error"
    if any(LIVE in output.get("data", {}) for output in cell.outputs):
        yield "carries a dead widget"


def overgrown(cell):
    """What a cell holds that belongs into the package."""
    if sum(bool(line.strip()) and line[0] != "#" for line in cell.source.splitlines()) > MOST_LINES:
        yield f"has more than {MOST_LINES} lines"
    if not cell.source.startswith("# ") or not cell.metadata.get("jupyter", {}).get("source_hidden"):
        yield "is not hidden behind a plain first line"
    for node in ast.walk(ast.parse(cell.source)):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef, ast.Lambda)):
            yield "defines something"
        if isinstance(node, ast.ImportFrom) and any(alias.name == "*" for alias in node.names):
            yield "imports everything"


def weak_cells(notebook):
    """What is wrong with the code cells of a notebook."""
    cells = [(number, cell) for number, cell in enumerate(notebook.cells) if cell.cell_type == "code"]
    return [f"cell {number} {fault}" for number, cell in cells for fault in [*uncompared(cell), *overgrown(cell)]]


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
    button = re.search(r"<button [^>]*data-commandlinker-command=[^>]*>", notebook.cells[0].source)
    assert button
    if len(notebook.cells) == 2:  # a panel alone: running it may go to its foot
        assert "notebook:run-all-cells" in button[0]
        return
    # running everything below the one heading leaves the reader where he is, before the first question
    assert "toc:run-cells" in button[0]
    text = "\n".join(cell.source for cell in notebook.cells if cell.cell_type == "markdown")
    assert len(re.findall(r"^# ", text, flags=re.MULTILINE)) == 1
    assert notebook.cells[0].source.startswith("# ")


def test_a_lesson_with_a_car_warns_before_the_shop(notebook):
    text = " ".join(cell.source for cell in notebook.cells)
    if "In the shop" in text:
        assert "goggles and gloves" in text
        assert "Local codes" in text


def good_cell(**changes):
    """A cell as it should be, but for the changes."""
    output = nbformat.v4.new_output("execute_result", data={"text/plain": "low side 30 psi"}, execution_count=1)
    whole = {"source": "# The bench\nshow_bench()", "execution_count": 1, "outputs": [output]}
    metadata = {"jupyter": {"source_hidden": True}} | changes.pop("metadata", {})
    return nbformat.v4.new_code_cell(metadata=metadata, **(whole | changes))


def test_a_good_cell_is_let_pass():
    left_out = {"tags": ["nbval-ignore-output"], "reason": "shows the date of today"}
    cells = [good_cell(), good_cell(metadata=left_out, outputs=[])]
    assert weak_cells(nbformat.v4.new_notebook(cells=cells)) == []


DEAD = nbformat.v4.new_output("display_data", data={LIVE: {"model_id": "x"}, "text/plain": "bench"})
SPOILT = nbformat.v4.new_output("error", ename="OutOfRange", evalue="charge", traceback=[])
BLANK = nbformat.v4.new_output("display_data", data={"text/plain": " ", "text/html": "<p>30 psi</p>"})


@pytest.mark.parametrize(
    ("changes", "fault"),
    [
        ({"execution_count": None}, "was never run"),
        ({"outputs": []}, "has no compared text"),
        ({"outputs": [BLANK]}, "has no compared text"),
        ({"outputs": [DEAD]}, "carries a dead widget"),
        ({"outputs": [SPOILT]}, "is stored with an error"),
        ({"metadata": {"tags": ["nbval-skip"]}}, "without a reason"),
        ({"metadata": {"tags": ["nbval-ignore-output"], "reason": "because"}}, "without a reason"),
        ({"metadata": {"tags": ["raises-exception"]}}, "passes also when nothing is raised"),
        ({"source": "# The bench\n# NBVAL_IGNORE_OUTPUT\nshow_bench()"}, "by a comment"),
        ({"source": "# The bench\na = 1\nb = 2\nc = 3\nd = 4"}, "has more than 3 lines"),
        ({"source": "show_bench()"}, "is not hidden"),
        ({"metadata": {"jupyter": {}}}, "is not hidden"),
        ({"source": "# The bench\nf = lambda: 1"}, "defines something"),
        ({"source": "# The bench\nfrom course.widgets import *"}, "imports everything"),
    ],
)
def test_a_weak_cell_is_found(changes, fault):
    assert any(fault in found for found in weak_cells(nbformat.v4.new_notebook(cells=[good_cell(**changes)])))
