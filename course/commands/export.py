"""Writing lessons as pages to print and to read without a network: the stored notebooks are read, nothing is run in them."""

import argparse
import os
import sys
import tempfile
from pathlib import Path

import nbformat

from course.errors import WorkbookError
from course.paper.bench_table import bench_tables
from course.paper.lesson_page import NOTEBOOKS, index_html, key_page_html, lesson_html
from course.paper.notebook_cells import paper_lesson
from course.paper.worksheet import SIZES, worksheet_html
from course.units import display_units
from course.widgets.preferences import remembered_units

ENDINGS = ("", "_key", *(f"_worksheet_{size}" for size in SIZES))


def numbered_notebooks():
    """The lessons by name; the free bench, which has no number, is nothing on paper."""
    return {path.stem: path for path in sorted(NOTEBOOKS.glob("[0-9][0-9]_*.ipynb"))}


def chosen(asked, known):
    """The names of the lessons asked for, by number, name or file; all of them when none is."""
    names = []
    for word in asked:
        stem = Path(word).name.removesuffix(".ipynb")
        found = [name for name in known if stem == name or stem.zfill(2) == name.partition("_")[0]]
        if not found:
            raise WorkbookError(
                f"lesson: {word} was given; allowed are {', '.join(known)}, or the number alone: give one of these, or none for all."
            )
        names += found
    return list(dict.fromkeys(names)) or list(known)


def read_book(path):
    """The cells of a stored notebook."""
    try:
        return nbformat.read(path, as_version=4).cells
    except (nbformat.reader.NotJSONError, UnicodeDecodeError) as problem:
        raise WorkbookError(
            "its notebook cannot be read as one; fetch it anew, or open it in JupyterLab and save it."
        ) from problem
    except OSError as problem:
        raise WorkbookError(
            f"its notebook cannot be opened ({problem.strerror}); ask for the right to read it."
        ) from problem


def write_whole(path, text):
    """Write a page so that it is there whole or not at all."""
    handle, rough = tempfile.mkstemp(prefix=f".{path.stem}-", dir=path.parent)
    try:
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
        os.chmod(rough, 0o644)  # a temporary file is its owner's alone, a page is for everybody
        os.replace(rough, path)
    except BaseException:
        Path(rough).unlink(missing_ok=True)
        raise


def pages_of(lesson, units, there):
    """Every page of one lesson by the ending of its name; a notebook that asks nothing has the page alone."""
    pages = {"": lesson_html(lesson, units, there)}
    tables = bench_tables(lesson, units)
    if lesson.questions or lesson.spoken:
        pages["_key"] = key_page_html(lesson, units, tables)
        pages |= {f"_worksheet_{size}": worksheet_html(lesson, units, size, tables) for size in SIZES}
    return pages


def write_index(folder, known, titles):
    """The list of every lesson that has a page in the folder, those of earlier exports too."""
    entries = []
    for name in known:
        if (folder / f"{name}.html").exists():
            there = [ending for ending in ENDINGS if (folder / f"{name}{ending}.html").exists()]
            entries.append((name, titles.get(name) or name.replace("_", " "), there))
    write_whole(folder / "index.html", index_html(entries))


def export(names, folder, units, say=print):
    """Write the pages of some lessons into a folder; returns how many lessons have something amiss."""
    known, titles, amiss = numbered_notebooks(), {}, 0
    folder.mkdir(parents=True, exist_ok=True)
    there = {name for name in known if name in names or (folder / f"{name}.html").exists()}
    for name in names:
        try:
            lesson = paper_lesson(name, read_book(known[name]))
            pages = pages_of(lesson, units, there)
        except WorkbookError as problem:
            amiss += 1
            say(f"{name}: no page was written: {problem}", flush=True)
            continue
        for ending, text in pages.items():
            write_whole(folder / f"{name}{ending}.html", text)
        titles[name] = lesson.title
        amiss += bool(lesson.complaints)
        for complaint in lesson.complaints:
            say(f"{name}: a sentence stands in place of a question: {complaint}", flush=True)
        say(f"{name}: {len(pages)} {'page' if len(pages) == 1 else 'pages'}", flush=True)
    write_index(folder, known, titles)
    return amiss


def main(arguments):
    """Export what the command line asks for; returns an exit code."""
    parser = argparse.ArgumentParser(prog="python3 -m course export")
    parser.add_argument("lessons", nargs="*")
    parser.add_argument("--to", required=True)
    parser.add_argument("--units", default=None)
    options = parser.parse_args(arguments)
    folder = Path(options.to)
    try:
        units = display_units(options.units or remembered_units())
        amiss = export(chosen(options.lessons, numbered_notebooks()), folder, units)
    except WorkbookError as problem:
        print(problem, file=sys.stderr)
        return 1
    except OSError as problem:
        print(
            f"{folder}: nothing more can be written there ({problem.strerror or problem}); make room, or give another folder with --to.",
            file=sys.stderr,
        )
        return 1
    print(f"Open {folder / 'index.html'} in a browser; the answer keys end in _key.html.", flush=True)
    return 1 if amiss else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
