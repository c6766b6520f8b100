"""The lessons as shipped, read for the tests that hold them to what was agreed."""

import ast
import re
from functools import lru_cache
from pathlib import Path

import nbformat

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"
LESSON_NAME = re.compile(r"[01]\d_\w+")  # 80, 81, 90, the free bench and a start page are no lessons


def lesson_books():
    """The lessons' notebooks by name, in their order."""
    return [path.stem for path in sorted(NOTEBOOKS.glob("*.ipynb")) if LESSON_NAME.fullmatch(path.stem)]


@lru_cache(maxsize=32)
def book(name):
    """One notebook."""
    return nbformat.read(NOTEBOOKS / f"{name}.ipynb", as_version=4)


def prose(notebook):
    """All its text that a reader sees, without its code."""
    return "\n\n".join(cell.source for cell in notebook.cells if cell.cell_type == "markdown")


def calls(notebook):
    """Every call in its cells, in order: the function's name and the plain values given without a name."""
    for cell in notebook.cells:
        if cell.cell_type == "code":
            for node in ast.walk(ast.parse(cell.source)):
                if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                    yield (
                        node.func.id,
                        tuple(value.value for value in node.args if isinstance(value, ast.Constant)),
                    )


def asked_by(call, files):
    """The questions one call in a notebook asks, as lesson/question: alone, by section, or again from an earlier lesson."""
    function, given = call
    if function == "ask":
        lesson, _, key = given[0].rpartition("/")
        yield from (f"{name}/{key}" for name in files if key in files[name].questions and lesson in ("", name))
    if function == "ask_questions":
        name, section = given
        yield from (f"{name}/{key}" for key, stands in files[name].sections.items() if stands == section)
        yield from files[name].recall if section == "recall" else ()


def asked_in(notebook, files):
    """The questions a notebook asks."""
    return [question for call in calls(notebook) for question in asked_by(call, files)]
