"""The house: who may import whom, what stands where, docstrings with units, data with sources."""

import ast
import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
ALLOWED_TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE", "notebooks", "course", "tests", "data"}
LEFT_OUT = {"__pycache__", "build"}

# left to right only; a module may import from its own group's left neighbours and from groups further left
LAYERS = [
    ["course.errors", "course.units"],
    ["course.tables"],
    ["course.physics"],
    ["course.charts"],
    ["course.widgets"],
    ["course.commands"],
    ["course.__main__"],
]
PHYSICS = [
    ["refrigerant", "lines"],
    ["moist_air"],
    ["system", "controls"],
    ["compressor", "condenser", "expansion_device", "evaporator", "charge_inventory"],
    ["faults"],
    ["circuit"],
    ["cycle"],
    ["solver", "at_rest", "notes"],
    ["report"],
    ["readings"],
    ["bench"],
]
ONLY_IN = {
    "matplotlib": ("course/charts/",),
    "ipywidgets": ("course/widgets/",),
    "IPython": ("course/widgets/",),
    "CoolProp": ("course/physics/refrigerant.py",),
    "tomllib": ("course/tables.py",),
    "nbclient": ("course/commands/freeze.py",),
}
STANDARD_ONLY = ("course/__init__.py", "course/__main__.py", "course/commands/")


def modules():
    """Every module of the package with its syntax tree."""
    for path in sorted((ROOT / "course").rglob("*.py")):
        yield path.relative_to(ROOT).as_posix(), ast.parse(path.read_text(encoding="utf-8"))


def imports(tree):
    """Full names of everything a module imports, wherever it stands in it."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            if node.module in ("course", "course.physics", "course.charts", "course.widgets", "course.commands"):
                yield from (f"{node.module}.{alias.name}" for alias in node.names)
            else:
                yield node.module


def layer(name):
    """Position of a module in the house, finer inside physics."""
    for number, group in enumerate(LAYERS):
        if any(name == head or name.startswith(head + ".") for head in group):
            inner = name.removeprefix("course.physics.").split(".")[0]
            places = [place for place, names in enumerate(PHYSICS) if inner in names]
            return number, places[0] if places else 0
    return None


def wrong_directions(path, tree):
    """Imports of a module that point to the right."""
    name = path.removesuffix(".py").replace("/", ".").removesuffix(".__init__")
    here = layer(name)
    for target in imports(tree):
        there = layer(target)
        if here is not None and there is not None and there > here and not target.startswith(name + "."):
            yield f"{name} imports {target}"


def misplaced(path, tree):
    """Imports of a library outside the place it is kept to."""
    for target in imports(tree):
        places = ONLY_IN.get(target.split(".")[0])
        if places and not path.startswith(places):
            yield f"{path} imports {target}"


def test_imports_point_left_only():
    assert [wrong for path, tree in modules() for wrong in wrong_directions(path, tree)] == []


def test_every_physics_module_has_a_place():
    known = {name for names in PHYSICS for name in names} | {"__init__"}
    assert {path.stem for path in (ROOT / "course" / "physics").glob("*.py")} == known


def test_libraries_stay_in_their_places():
    assert [wrong for path, tree in modules() for wrong in misplaced(path, tree)] == []


def test_nothing_imports_tests_or_notebooks():
    heads = {target.split(".")[0] for _, tree in modules() for target in imports(tree)}
    assert not heads & {"tests", "notebooks"}


def test_the_starter_needs_the_standard_library_alone():
    import sys

    for path, tree in modules():
        if path.startswith(STANDARD_ONLY) and not path.endswith("freeze.py"):
            heads = {target.split(".")[0] for target in imports(tree)}
            assert heads <= set(sys.stdlib_module_names) | {"course"}, path


def test_the_checks_would_notice():
    bad = ast.parse("from course.widgets import bench_panel\nimport CoolProp")
    assert list(wrong_directions("course/physics/lines.py", bad)) == [
        "course.physics.lines imports course.widgets.bench_panel"
    ]
    assert list(misplaced("course/physics/lines.py", bad)) == [
        "course/physics/lines.py imports course.widgets.bench_panel"
    ] or list(misplaced("course/physics/lines.py", bad)) == ["course/physics/lines.py imports CoolProp"]
    assert doc_faults("x.py", ast.parse('def f(a):\n    """Shop words."""')) != []
    assert data_faults("x.toml", {"volume": {"value": 3.0, "source": "assumed: x"}, "area_mm2": 2.0}) != []


SECTIONS = ("Parameters", "Returns", "Raises", "Notes", "Examples")


def doc_faults(path, tree):
    """What is missing from the docstrings of a module's public functions."""
    faults = []
    for node in tree.body:
        if not isinstance(node, ast.FunctionDef) or node.name.startswith("_"):
            continue
        text = ast.get_docstring(node) or ""
        wanted = [name for name in SECTIONS if name != "Parameters" or node.args.args or node.args.kwonlyargs]
        heads = re.findall(r"^(\w+)\n-{4,}$", text, flags=re.MULTILINE)
        if heads != wanted:
            faults.append(f"{path}:{node.name}: sections {heads}, expected {wanted}")
            continue
        parameters = text[text.index("Parameters") : text.index("Returns")] if "Parameters" in wanted else ""
        for entry in re.findall(r"^(\w[\w, ]* : (?:float|int).*(?:\n {4}.*)+)", parameters, flags=re.MULTILINE):
            if "[" not in entry and "seed" not in entry and "int" not in entry.split("\n")[0]:
                faults.append(f"{path}:{node.name}: no [unit] in {entry.splitlines()[0]!r}")
    return faults


def test_public_functions_say_what_they_take_give_and_leave_out():
    places = ("course/units.py", "course/physics/", "course/charts/")
    assert [fault for path, tree in modules() if path.startswith(places) for fault in doc_faults(path, tree)] == []


UNIT = re.compile(
    r"_(cm3|mm|mm2|m3_s|m3_s_per_m_s|w_k|k|g|g_s|g_s_per_mpa|kpa|kpa_gauge|kg_m3|share|share_per_krpm|exponent|ratio|factor|"
    r"efficiency|coefficient)$"
)


def data_faults(path, content, where=""):
    """Numbers of a data file without a unit in their key or without a source."""
    faults = []
    for key, value in content.items():
        place = f"{path}: {where}{key}"
        if isinstance(value, dict) and "value" in value:
            if not UNIT.search(key):
                faults.append(f"{place} has no unit in its key")
            if len(str(value.get("source", ""))) < 8:
                faults.append(f"{place} has no source")
        elif isinstance(value, dict):
            faults += data_faults(path, value, f"{where}{key}.")
        elif isinstance(value, (int, float)) and not isinstance(value, bool) and key != "right":
            faults.append(f"{place} is a bare number")
    return faults


@pytest.mark.parametrize("path", sorted((ROOT / "data").rglob("*.toml")), ids=lambda path: path.name)
def test_every_number_has_a_unit_and_a_source(path):
    assert data_faults(path.name, tomllib.loads(path.read_text(encoding="utf-8"))) == []


def test_every_fault_has_a_name_and_a_function():
    from course.physics.faults import FAULTS
    from course.tables import read_faults

    assert set(FAULTS) == set(read_faults())


def test_the_top_level_holds_what_was_agreed():
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    found -= {name for name in found if name in LEFT_OUT or name.endswith(".egg-info")}
    assert found <= ALLOWED_TOP


def test_files_stay_small_enough_to_read():
    long = {path: len((ROOT / path).read_text(encoding="utf-8").splitlines()) for path, _ in modules()}
    assert {path: count for path, count in long.items() if count > 560} == {}
