"""The data files: every number has its unit in its key and says where it comes from."""

import json
import re
import tomllib
from pathlib import Path

import pytest

DATA = Path(__file__).resolve().parents[1] / "data"
UNIT = re.compile(
    r"_(?:cm3|mm|mm2|m3_s|m3_s_per_m_s|w_k|k|g|g_s|g_per_year|g_s_per_mpa|kpa|kpa_gauge|kg_m3|share|share_per_krpm|exponent|ratio|"
    r"factor|efficiency|coefficient|pa|pa_s|pa_m3_s|kg_s_pa|kg_mol|j_k|micron|l|l_min|ml|kg|c|min|count|mm2_s|inhg|j_kg_k|rpm|kw|km_h|"
    r"mm_s|m_s|money|money_per_hour|hours_per_day|seconds|minutes|hours|days|mg)$"
)
LESSON_UNIT = re.compile(UNIT.pattern.replace("_(?:", "_(?:m|w|kg_s|kg_h|kpa_absolute|kj_kg|percent|years|", 1))
ORIGINS = (
    "assumed: ",
    "service literature: ",
    "common practice: ",
    "calibrated to ",
    "read: ",
    "computed: ",
    "from memory: ",
    "second-hand: ",
    "second-hand: ",
)
COUNTERS = {"right"}  # the number of an option, not of a thing


# what a question of data/lessons sets up, as run_bench takes it; a claim it makes is never typed but worked out
SET_UP = re.compile(r"^(?:relative_humidity|blower_fraction|charge_fraction)$")


def set_up_faults(content):
    """Numbers of what a question sets up that are neither named by the bench nor carry their unit."""
    for table in ("run", "number"):
        for name, entry in content.get(table, {}).items():
            for key, value in entry.items():
                number = isinstance(value, (int, float)) and not isinstance(value, bool)
                if number and not (SET_UP.match(key) or LESSON_UNIT.search(key)):
                    yield f"{table}.{name}.{key} has no unit in its key"


def data_faults(content, where=""):
    """Numbers without a unit in their key or without a source, in whatever table or list they stand."""
    faults = []
    for key, value in content.items():
        place = f"{where}{key}"
        if isinstance(value, dict) and "value" in value:
            if not UNIT.search(key):
                faults.append(f"{place} has no unit in its key")
            origin = next((start for start in ORIGINS if str(value.get("source", "")).startswith(start)), None)
            if origin is None or len(value["source"]) < len(origin) + 4:
                faults.append(f"{place} has no source")
            if isinstance(value["value"], bool) or not isinstance(value["value"], (int, float)):
                faults.append(f"{place} is not a number")
        elif isinstance(value, dict):
            faults += data_faults(value, f"{place}.")
        elif isinstance(value, list):
            faults += data_faults({str(number): one for number, one in enumerate(value)}, f"{place}.")
        elif isinstance(value, (int, float)) and not isinstance(value, bool) and key not in COUNTERS:
            faults.append(f"{place} is a bare number")
    return faults


@pytest.mark.parametrize("path", sorted(DATA.rglob("*.toml")), ids=lambda path: path.name)
def test_every_number_has_a_unit_and_a_source(path):
    content = tomllib.loads(path.read_text(encoding="utf-8"))
    if "lessons" in path.relative_to(DATA).parts:
        assert list(set_up_faults(content)) == []
        content = {key: value for key, value in content.items() if key not in ("run", "number")}
    assert data_faults(content) == []


def test_no_data_file_escapes_the_check():
    other = [path for path in DATA.rglob("*") if path.is_file() and path.suffix != ".toml"]
    assert [path for path in other if path.parent.name != "evidence" or path.suffix != ".json"] == []
    for path in other:
        made_by = json.loads(path.read_text(encoding="utf-8"))["made_by"]
        # what a command has worked out says which, from which dice and when, in place of a source for each number
        assert made_by["command"].startswith("python3 -m course ")
        assert isinstance(made_by["seed"], int)
        assert re.fullmatch(r"20\d\d-\d\d-\d\d", made_by["date"])


@pytest.mark.parametrize("path", sorted((DATA / "systems").glob("*.toml")), ids=lambda path: path.stem)
def test_every_car_says_that_it_is_invented(path):
    assert tomllib.loads(path.read_text(encoding="utf-8"))["car"]["invented"] is True


def test_every_fault_has_a_name_and_a_function():
    from course.physics.faults import FAULTS
    from course.tables import read_faults

    assert set(FAULTS) == set(read_faults())


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ('volume = {value = 3.0, source = "assumed: a guess"}', "no unit"),
        ("volume_cm3 = {value = 3.0}", "no source"),
        ('volume_cm3 = {value = 3.0, source = "somewhere"}', "no source"),
        ('volume_cm3 = {value = 3.0, source = "assumed: "}', "no source"),
        ('volume_cm3 = {value = "3", source = "assumed: a guess"}', "not a number"),
        ("[line]\nvolume_cm3 = 3.0", "line.volume_cm3 is a bare number"),
        ("volumes_cm3 = [3.0, 4.0]", "volumes_cm3.0 is a bare number"),
    ],
)
def test_what_is_missing_is_found(line, fault):
    assert fault in " ".join(data_faults(tomllib.loads(line)))


def test_what_a_question_sets_up_has_units_and_what_it_says_is_not_typed():
    whole = tomllib.loads("[run.full]\nambient_c = 35\ncharge_fraction = 0.4\n[number.day]\ntemperature_c = 35")
    assert list(set_up_faults(whole)) == []
    assert list(set_up_faults({"run": {"full": {"ambient": 35}}})) == ["run.full.ambient has no unit in its key"]
    assert data_faults({"question": {"one": {"answer": 20.0}}}) == ["question.one.answer is a bare number"]


def test_a_whole_entry_is_let_pass():
    assert data_faults(tomllib.loads('volume_cm3 = {value = 3.0, source = "assumed: a guess"}')) == []
