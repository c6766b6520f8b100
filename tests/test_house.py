"""The house: who may import whom, which library stands where, how long a file may be, what the top level holds."""

import ast
import re
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]

# left to right only: a module may import what stands in an earlier line, and inside charts, widgets, paper and commands
# its own neighbours
ORDER = [
    ["course.errors"],
    ["course.units"],
    ["course.data_shapes"],
    ["course.competency_shapes", "course.evidence_shapes", "course.page_shapes"],
    ["course.tables"],
    ["course.physics.refrigerant", "course.physics.lines"],
    ["course.physics.moist_air"],
    ["course.physics.system", "course.physics.controls"],
    ["course.physics.car_file"],
    [
        "course.physics.compressor",
        "course.physics.condenser",
        "course.physics.expansion_device",
        "course.physics.evaporator",
        "course.physics.charge_inventory",
    ],
    ["course.physics.faults"],
    ["course.physics.circuit"],
    ["course.physics.first_guesses"],
    ["course.physics.cycle"],
    ["course.physics.solver", "course.physics.at_rest", "course.physics.notes"],
    ["course.physics.report"],
    ["course.physics.readings"],
    ["course.physics.bench"],
    ["course.service"],
    ["course.evidence"],
    ["course.lessons"],
    ["course.charts"],
    ["course.widgets"],
    ["course.paper"],
    ["course.commands"],
    ["course.__main__"],
]
NEIGHBOURS = (
    "course.service",
    "course.evidence",
    "course.lessons",
    "course.charts",
    "course.widgets",
    "course.paper",
    "course.commands",
)

# the only places where a library that is not Python's own may be imported
LIBRARIES = {
    "CoolProp": ("course/physics/refrigerant.py",),
    "numpy": ("course/physics/", "course/service/", "course/evidence/", "course/charts/"),
    "scipy": ("course/physics/", "course/service/", "course/evidence/"),
    "pydantic": (
        "course/tables.py",
        "course/data_shapes.py",
        "course/competency_shapes.py",
        "course/evidence_shapes.py",
        "course/page_shapes.py",
    ),
    "matplotlib": ("course/charts/",),
    "ipywidgets": ("course/widgets/",),
    "IPython": ("course/widgets/",),
    "platformdirs": ("course/widgets/preferences.py", "course/lessons/record.py"),
    "nbclient": ("course/commands/freeze.py",),
    "nbconvert": ("course/paper/lesson_page.py",),
    "nbformat": ("course/commands/freeze.py", "course/commands/export.py"),
    "traitlets": ("course/commands/freeze.py",),
}
STARTED_NOT_IMPORTED = {"jupyterlab", "ipykernel"}
NO_LIBRARY_AT_ALL = (
    "course/__init__.py",
    "course/__main__.py",
    "course/commands/",
)  # they run before anything is installed
INSIDE_THE_ENVIRONMENT = ("course/commands/freeze.py", "course/commands/export.py")  # started there by dispatch.py

ALLOWED_TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE", "notebooks", "course", "tests", "data"}
MADE_BY_TOOLS = ("__pycache__", "build", "printed", ".egg-info")
MOST_LINES_OF_A_FILE, MOST_LINES_OF_A_FUNCTION = 320, 40  # code alone: no docstrings, comments and empty lines
ASKING_TO_BE_SPLIT = {"march", "core_pass", "running_run", "at_rest_run", "system_from_table", "run_bench"}


def modules():
    """Every module of the package with its path and text."""
    for path in sorted((ROOT / "course").rglob("*.py")):
        yield path.relative_to(ROOT).as_posix(), path.read_text(encoding="utf-8")


def name_of(path):
    return path.removesuffix(".py").replace("/", ".").removesuffix(".__init__")


def imports(path, text):
    """Full names of everything a module imports, wherever the import stands in it and however it is written."""
    package = name_of(path).split(".")
    if not path.endswith("__init__.py"):
        package = package[:-1]
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            near = package[: len(package) - node.level + 1] if node.level else []
            head = ".".join([*near, *([node.module] if node.module else [])])
            if head.startswith("course"):
                # "from course.physics import notes" means the module as much as the package
                yield from (f"{head}.{alias.name}" for alias in node.names)
            else:
                yield head


def place(name):
    """Line of ORDER a module belongs to, with the entry that says so; None for the bare packages."""
    for number, group in enumerate(ORDER):
        for entry in group:
            if name == entry or name.startswith(entry + "."):
                return number, entry
    return None


def wrong_directions(path, text):
    """Imports of a module that do not point to the left."""
    name = name_of(path)
    here = place(name)
    for target in imports(path, text):
        there = place(target)
        if not target.startswith("course") or here is None:
            continue
        if there is None:
            yield f"{name} imports {target}, which has no place in ORDER"
        elif there[0] > here[0] or (there[0] == here[0] and (there[1] != here[1] or here[1] not in NEIGHBOURS)):
            yield f"{name} imports {target}"


def misplaced_libraries(path, text):
    """Imports of a library outside the places it is kept to, or of one that has no place."""
    for target in imports(path, text):
        head = target.split(".")[0]
        if head == "course" or head in sys.stdlib_module_names:
            continue
        if not path.startswith(LIBRARIES.get(head, ("no place at all",))):
            yield f"{path} imports {target}"


def imports_at_start(path, text):
    """Imports of a module that needs to run before anything is installed, other than Python's own and the course's."""
    if path.startswith(NO_LIBRARY_AT_ALL) and path not in INSIDE_THE_ENVIRONMENT:
        for target in imports(path, text):
            head = target.split(".")[0]
            inside = head == "course" and target.startswith(("course.commands", "course.__"))
            if not inside and head not in sys.stdlib_module_names:
                yield f"{path} imports {target}"


def code_lines(text):
    """Numbers of the lines that hold code."""
    words = set()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str):
            words |= set(range(node.lineno, node.end_lineno + 1))
    lines = enumerate(text.splitlines(), 1)
    return {number for number, line in lines if line.strip() and line.strip()[0] != "#"} - words


def long_functions(text, most=MOST_LINES_OF_A_FUNCTION):
    """Names of functions with more lines of code than that."""
    code = code_lines(text)
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            size = len(code & set(range(node.lineno, node.end_lineno + 1)))
            if size > most:
                yield node.name


def faults_of(check):
    return [fault for path, text in modules() for fault in check(path, text)]


@pytest.mark.parametrize("check", [wrong_directions, misplaced_libraries, imports_at_start])
def test_imports(check):
    assert faults_of(check) == []


def test_every_module_has_its_place():
    bare = {"course", "course.physics"}
    assert [path for path, _ in modules() if place(name_of(path)) is None and name_of(path) not in bare] == []


def test_every_place_has_its_module():
    names = {name_of(path) for path, _ in modules()}
    assert [entry for group in ORDER for entry in group if entry not in names] == []


def test_the_package_itself_is_light():
    for path in ("course/__init__.py", "course/physics/__init__.py"):
        assert list(imports(path, (ROOT / path).read_text(encoding="utf-8"))) == []


def test_what_is_installed_is_what_is_used():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    installed = {re.match(r"[\w-]+", line)[0] for line in project["dependencies"]}
    used = {target.split(".")[0] for path, text in modules() for target in imports(path, text)} & set(LIBRARIES)
    assert installed == used - {"IPython"} | STARTED_NOT_IMPORTED


def test_files_are_short_enough_to_read():
    sizes = {path: len(code_lines(text)) for path, text in modules()}
    assert {path: size for path, size in sizes.items() if size > MOST_LINES_OF_A_FILE} == {}


def test_functions_are_short_enough_to_read():
    """Those that ask to be split are named; none may join them, and one that was split leaves the list."""
    assert {name for _, text in modules() for name in long_functions(text)} == ASKING_TO_BE_SPLIT


def test_the_top_level_holds_what_was_agreed():
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert {name for name in found if not name.endswith(MADE_BY_TOOLS)} == ALLOWED_TOP


LEFT_FOR_LATER = re.compile(r"\b(?:TO" + r"DO|FIX" + r"ME|X" + r"XX)\b")
SOMEBODYS_MACHINE = re.compile(r"(?<![\w.:/])/(?:tmp|work|root|home|Users)/\w")
EMBEDDED_PICTURE = re.compile(r"data:image/[^\"')\\]*")


def stray_words(text):
    """Notes to oneself and paths of somebody's machine."""
    plain = EMBEDDED_PICTURE.sub("", text)
    return LEFT_FOR_LATER.findall(plain) + SOMEBODYS_MACHINE.findall(plain)


def test_no_file_carries_notes_to_oneself_or_a_machines_paths():
    kinds = {".py", ".md", ".toml", ".ipynb", ".json", ".cfg", ".csv"}
    files = [path for top in ("course", "tests", "data", "notebooks") for path in (ROOT / top).rglob("*")]
    files += [path for path in ROOT.iterdir() if path.is_file()] + [ROOT / ".ci" / "run"]
    texts = {path: path.read_text(encoding="utf-8") for path in files if path.suffix in kinds or path.name == "run"}
    assert {path.name: stray_words(text) for path, text in texts.items() if stray_words(text)} == {}


# each check on an example it must refuse, and on its nearest neighbour that it must let pass


@pytest.mark.parametrize(
    ("path", "line", "found"),
    [
        ("course/physics/lines.py", "from course.widgets import show_bench", True),
        ("course/physics/lines.py", "def f():\n    from course.physics.bench import run_bench", True),
        ("course/physics/lines.py", "from . import bench", True),
        ("course/physics/lines.py", "from ..charts.style import COLOURS", True),
        ("course/physics/compressor.py", "from course.physics.condenser import core_pass", True),
        ("course/physics/compressor.py", "import course.newcomer", True),
        ("course/units.py", "from course.tables import read_faults", True),
        ("course/errors.py", "from course.units import UNIT_SETS", True),
        ("course/units.py", "from course.errors import OutOfRange", False),
        ("course/physics/compressor.py", "from course.physics import lines", False),
        ("course/charts/gauges.py", "from .style import COLOURS", False),
    ],
)
def test_wrong_directions_are_found(path, line, found):
    assert bool(list(wrong_directions(path, line))) == found


@pytest.mark.parametrize(
    ("path", "line", "found"),
    [
        ("course/physics/bench.py", "import CoolProp", True),
        ("course/widgets/layers.py", "from matplotlib import pyplot", True),
        ("course/charts/gauges.py", "import ipywidgets", True),
        ("course/charts/gauges.py", "import pandas", True),
        ("course/tables.py", "import tests", True),
        ("course/charts/gauges.py", "import matplotlib.figure", False),
        ("course/charts/gauges.py", "import json", False),
    ],
)
def test_misplaced_libraries_are_found(path, line, found):
    assert bool(list(misplaced_libraries(path, line))) == found


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("import nbformat", True),
        ("from course.units import UNIT_SETS", True),
        ("from course.commands import check", False),
    ],
)
def test_imports_of_the_starter_are_found(line, found):
    assert bool(list(imports_at_start("course/commands/server.py", line))) == found


def test_sizes_count_code_alone():
    text = 'def f():\n    """One\n    two."""\n\n    # why\n    a = 1\n    return a\n'
    assert code_lines(text) == {1, 6, 7}
    assert list(long_functions(text, most=2)) == ["f"]
    assert list(long_functions(text, most=3)) == []


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("# TO" + "DO later", True),
        ("saved in /ro" + "ot/here", True),
        ("https://example.org/home/page and data:image/png;base64,AA/tmp/BB", False),
    ],
)
def test_stray_words_are_found(text, found):
    assert bool(stray_words(text)) == found
