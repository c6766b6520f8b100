"""The numbers of the service steps: none lies unused, and what is missing is said with file and key."""

import re
from pathlib import Path

import pytest

from course.errors import BadDataFile, UnknownChoice
from course.tables import read_service_numbers

ROOT = Path(__file__).resolve().parents[2]
FILES = ("evacuation", "recovery", "oil", "charging", "pressure_test", "emissions")


@pytest.mark.parametrize("name", FILES)
def test_every_number_is_used(name):
    """Its part and its key stand in the code, or in a list of choices there (a pump, an oil, a report)."""
    code = "".join(path.read_text(encoding="utf-8") for path in (ROOT / "course" / "service").glob("*.py"))
    words = set(re.findall(r"[\w{}]+", code))
    made = {"usual_low_kpa_gauge": "usual_{end}_kpa_gauge", "usual_high_kpa_gauge": "usual_{end}_kpa_gauge"}
    made |= {f"ar{number}_ratio": "{report}_ratio" for number in (4, 5, 6)}
    numbers = read_service_numbers(name)
    keys = {key for part in numbers.part.values() for key in part}
    assert {one for one in keys | set(numbers.part) if made.get(one, one) not in words} == set()


def test_what_is_missing_is_named():
    numbers = read_service_numbers("evacuation")
    with pytest.raises(BadDataFile, match="evacuation.toml: part.air.colour is missing; add it, with value and source"):
        numbers.value("air", "colour")
    with pytest.raises(UnknownChoice, match="part of evacuation.toml: 'argon' is not known here; choose one of air"):
        numbers.value("argon", "viscosity_pa_s")
    with pytest.raises(BadDataFile, match="tea.toml: there is no such file in data/service"):
        read_service_numbers("tea")
