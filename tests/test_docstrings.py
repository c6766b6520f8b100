"""What a public function says of itself: in shop words first, then each number with its unit."""

import ast
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
FULL = (
    "course/units.py",
    "course/physics/",
    "course/service/",
    "course/evidence/",
    "course/lessons/",
    "course/charts/",
)  # where all sections are written; elsewhere a sentence
SECTIONS = ["Parameters", "Returns", "Raises", "Notes", "Examples"]
HEADING = re.compile(r"^(\w+)\n-{4,}$", flags=re.MULTILINE)
ENTRY = re.compile(r"^(\*{0,2}\w[\w, *]*?) : (.*)\n((?: {4}.*(?:\n|$))*)", flags=re.MULTILINE)


def modules(places=("course/",)):
    """Modules in those places: path, text and syntax tree."""
    for path in sorted((ROOT / "course").rglob("*.py")):
        inside = path.relative_to(ROOT).as_posix()
        if inside.startswith(places):
            text = path.read_text(encoding="utf-8")
            yield inside, text, ast.parse(text)


def section(text, name):
    """The body of one section of a docstring."""
    parts = HEADING.split(text)
    return dict(zip(parts[1::2], parts[2::2], strict=True)).get(name, "")


def arguments(function):
    """Names of everything a function takes."""
    given = function.args
    several = [one for one in (given.vararg, given.kwarg) if one]
    return [one.arg for one in [*given.posonlyargs, *given.args, *given.kwonlyargs, *several]]


def doc_faults(function):
    """What is missing from the docstring of one function."""
    text = ast.get_docstring(function) or ""
    names = arguments(function)
    headings = HEADING.findall(text)
    wanted = [name for name in SECTIONS if name != "Parameters" or names]
    if headings != wanted:
        return [f"sections {headings}, expected {wanted}"]
    if not re.match(r"[^\n]+[.?:]\n", text):
        return ["the first line is not one sentence"]
    said = {}
    for several, kind, body in ENTRY.findall(section(text, "Parameters")):
        said |= {name.strip(" *"): (kind, body) for name in several.split(",")}
    faults = [f"{name} is not explained" for name in names if name not in said and name != "settings"]
    faults += [f"{name} is explained but not taken" for name in said if name not in names]
    for name, (kind, body) in said.items():
        if re.search(r"\bfloat\b", kind) and "[" not in body:
            faults.append(f"{name} has no [unit]")
    given = section(text, "Returns")
    if re.match(r"\n*(?:tuple of )?float\b", given) and "[" not in given:
        faults.append("what it returns has no [unit]")
    return faults


def public_functions(tree):
    return [node for node in tree.body if isinstance(node, ast.FunctionDef) and node.name[0] != "_"]


def field_faults(text, tree):
    """Numbers of frozen results and parts without a unit beside them."""
    lines = text.splitlines()
    for node in tree.body:
        if isinstance(node, ast.ClassDef) and "dataclass" in ast.dump(ast.Module(node.decorator_list, [])):
            for field in node.body:
                if isinstance(field, ast.AnnAssign) and "float" in ast.unparse(field.annotation):
                    line = lines[field.lineno - 1]
                    if not re.search(r"#\s*\S", line):
                        yield f"{node.name}.{field.target.id}"


@pytest.mark.parametrize(("path", "tree"), [pytest.param(path, tree, id=path) for path, _, tree in modules(FULL)])
def test_public_functions_say_what_they_take_give_and_leave_out(path, tree):
    assert [f"{one.name}: {fault}" for one in public_functions(tree) for fault in doc_faults(one)] == []


def test_the_numbers_of_a_result_have_a_unit_beside_them():
    faults = [
        f"{path}: {fault}" for path, text, tree in modules(("course/physics/",)) for fault in field_faults(text, tree)
    ]
    assert faults == []


def wordless(path, tree):
    """The module and what is public in it, where it has no docstring."""
    if not ast.get_docstring(tree):
        yield path
    for node in tree.body:
        if isinstance(node, (ast.FunctionDef, ast.ClassDef)) and node.name[0] != "_" and not ast.get_docstring(node):
            yield f"{path}: {node.name}"


def test_everything_public_has_a_sentence():
    assert [one for path, _, tree in modules() for one in wordless(path, tree)] == []


GOOD = '''
def head(pressure_pa, seed):
    """The gauge reading.

    Parameters
    ----------
    pressure_pa : float
        Absolute [Pa].
    seed : int
        Of the dice.

    Returns
    -------
    float
        Gauge [kPa].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    None.

    Examples
    --------
    >>> head(1.0, 1)
    """
'''


def faults_in(text):
    return [fault for one in public_functions(ast.parse(text)) for fault in doc_faults(one)]


def test_a_whole_docstring_is_let_pass():
    assert faults_in(GOOD) == []


@pytest.mark.parametrize(
    ("old", "new", "fault"),
    [
        ("Absolute [Pa].", "Absolute.", "pressure_pa has no [unit]"),
        ("Gauge [kPa].", "Gauge.", "what it returns has no [unit]"),
        ("(pressure_pa, seed)", "(pressure_pa, seed, *, more)", "more is not explained"),
        ("(pressure_pa, seed)", "(pressure_pa)", "seed is explained but not taken"),
        ("The gauge reading.", "The gauge\n    reading.", "the first line is not one sentence"),
    ],
)
def test_what_is_missing_is_found(old, new, fault):
    assert fault in faults_in(GOOD.replace(old, new))


@pytest.mark.parametrize("name", SECTIONS)
def test_a_missing_section_is_found(name):
    assert "expected" in faults_in(GOOD.replace(f"    {name}\n    {'-' * len(name)}\n", ""))[0]


def test_a_field_without_a_unit_and_a_thing_without_a_sentence_are_found():
    text = "@dataclass(frozen=True)\nclass Part:\n    volume: float\n    mass: float  # kg\n    name: str\n"
    assert list(field_faults(text, ast.parse(text))) == ["Part.volume"]
    assert list(wordless("x.py", ast.parse(text))) == ["x.py", "x.py: Part"]
