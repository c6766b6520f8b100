"""Freezing: what is dropped, what is kept, the same bytes every time, and nothing lost when a cell fails."""

import nbformat
import pytest

from course.commands import freeze
from course.commands.freeze import LIVE, settle


@pytest.fixture
def book(tmp_path):
    """Write a notebook of one code cell into a folder with a space in its name; gives its path."""

    def written(source):
        place = tmp_path / "my lessons"
        place.mkdir(exist_ok=True)
        path = place / "a lesson.ipynb"
        nbformat.write(nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(source)]), path)
        return path

    return written


def test_settling_drops_what_is_dead_and_keeps_the_words():
    data = {LIVE: {"model_id": "x"}, "text/plain": "low side 30 psi"}
    output = nbformat.v4.new_output("execute_result", data=data, execution_count=1)
    cell = nbformat.v4.new_code_cell("1", outputs=[output], metadata={"execution": {"iopub": "now"}})
    book = settle(nbformat.v4.new_notebook(cells=[cell], metadata={"widgets": {"state": {}}}))
    assert "widgets" not in book.metadata
    assert "execution" not in book.cells[0].metadata
    assert book.cells[0].outputs[0].data == {"text/plain": "low side 30 psi"}


def test_an_output_that_was_nothing_but_alive_is_dropped():
    live = nbformat.v4.new_output("display_data", data={LIVE: {"model_id": "x"}})
    words = nbformat.v4.new_output("stream", name="stdout", text="30 psi")
    cell = nbformat.v4.new_code_cell("1", outputs=[live, words])
    assert settle(nbformat.v4.new_notebook(cells=[cell])).cells[0].outputs == [words]


def test_freezing_runs_and_twice_gives_the_same_bytes(book, capsys):
    path = book("import ipywidgets\nipywidgets.IntSlider(description='Charge')")
    assert freeze.main([path]) == 0
    first = path.read_bytes()
    assert freeze.main([path]) == 0
    assert path.read_bytes() == first
    assert capsys.readouterr().out == "a lesson.ipynb: frozen anew\na lesson.ipynb: unchanged\n"
    stored = nbformat.reads(first.decode("utf-8"), as_version=4)
    nbformat.validate(stored)
    assert stored.cells[0].execution_count == 1
    assert "IntSlider" in stored.cells[0].outputs[0].data["text/plain"]
    assert LIVE not in first.decode("utf-8")
    assert first.endswith(b"}\n")
    assert b"\r" not in first


def test_the_taste_of_whoever_freezes_is_not_stored(book, monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "mine.json"))
    path = book(
        "import os\nos.path.exists(os.environ['WORKBOOK_PREFERENCES']), 'mine' in os.environ['WORKBOOK_PREFERENCES']"
    )
    assert freeze.main([path]) == 0
    (output,) = nbformat.read(path, as_version=4).cells[0].outputs
    assert output.data["text/plain"] == "(False, False)"


def test_a_failing_cell_leaves_the_notebook_as_it_was(book, capsys):
    path = book("from course.units import display_units\ndisplay_units('furlongs')")
    before = path.read_bytes()
    assert freeze.main([path]) == 1
    assert path.read_bytes() == before
    said = capsys.readouterr().out
    assert "a lesson.ipynb: left as it was, because a cell failed: UnknownChoice" in said
    assert said.count("\n") == 1


def test_what_is_not_a_notebook_is_said(tmp_path, capsys):
    other = tmp_path / "notes.txt"
    other.write_text("no notebook", encoding="utf-8")
    assert freeze.main([tmp_path / "missing.ipynb", other]) == 1
    said = capsys.readouterr().out.splitlines()
    assert "there is no such notebook; give the path of one" in said[0]
    assert "this is not a notebook" in said[1]
