"""The one reader of the reference rows: every row has value, unit, source, provenance, tolerance and the reason for it."""

import csv
from pathlib import Path
from typing import Annotated, Literal

import pytest
from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError

HERE = Path(__file__).resolve().parent

Provenance = Literal["read", "second-hand", "from memory", "common practice (no source)", "assumed", "computed"]
Text = Annotated[str, Field(min_length=1)]


class BadReference(ValueError):
    """A reference file that may not be used as it stands."""


def _pairs(text):
    """The conditions of a row, "temperature_k=300 phase=saturated_liquid", as a dict; numbers as numbers."""
    given = {}
    for word in text.split():
        key, equals, value = word.partition("=")
        if not (key and equals and value):
            raise ValueError(f"{word!r} is not key=value")
        try:
            given[key] = float(value)
        except ValueError:
            given[key] = value
    if not given:
        raise ValueError("no conditions; write key=value, the unit at the end of the key")
    return given


class Row(BaseModel):
    """One published value and how near the workbook has to come to it."""

    model_config = ConfigDict(frozen=True, extra="forbid", str_strip_whitespace=True)

    id: Text
    quantity: Text
    given: Annotated[dict, BeforeValidator(_pairs)]
    value: Annotated[float, Field(allow_inf_nan=False)]  # in unit
    unit: Text
    source: Text
    edition: Text
    provenance: Provenance
    tolerance: Text
    why: Annotated[str, Field(min_length=10)]
    place: Text

    @property
    def allowed(self):
        """How far off the workbook may be, in the row's own unit."""
        number, unit = self.tolerance.split(" ", 1)
        return abs(self.value) * float(number) / 100.0 if unit == "%" else float(number)


COLUMNS = [name for name in Row.model_fields if name != "place"]


def _tolerance_fault(row):
    number, _, unit = row.tolerance.partition(" ")
    try:
        good = float(number) > 0.0
    except ValueError:
        good = False
    if not good or unit not in ("%", row.unit):
        return f"tolerance {row.tolerance!r} is not a number above zero and then % or the row's unit {row.unit}"
    return None


def read_rows(path):
    """Every row of one file; a row that lacks something is refused by file, line and column."""
    path = Path(path)
    rows, faults = [], []
    with path.open(encoding="utf-8", newline="") as file:
        reader = csv.DictReader(file, restkey="more", restval="")
        if reader.fieldnames != COLUMNS:
            raise BadReference(f"{path.name}: the columns are {reader.fieldnames}, and have to be {COLUMNS}")
        for line in reader:
            place = f"{path.name}, line {reader.line_num}"
            try:
                row = Row(place=place, **line)
            except ValidationError as refusal:
                faults += [f"{place}, column {fault['loc'][0]}: {fault['msg']}" for fault in refusal.errors()]
                continue
            faults += [f"{place}, column tolerance: {fault}" for fault in [_tolerance_fault(row)] if fault]
            rows.append(row)
    names = [row.id for row in rows]
    faults += [f"{path.name}: the id {name} stands twice" for name in sorted({n for n in names if names.count(n) > 1})]
    if faults or not rows:
        raise BadReference("\n".join(faults) or f"{path.name}: no rows")
    return rows


def cases(name, *quantities):
    """The rows of a file of this folder for parametrize; of the named quantities only, or all."""
    chosen = [row for row in read_rows(HERE / name) if not quantities or row.quantity in quantities]
    return [pytest.param(row, id=row.id) for row in chosen]


def check(row, computed):
    """Hold what the workbook computes, in the row's unit, to the row; a miss names source, both values and deviation."""
    deviation = computed - row.value
    if abs(deviation) <= row.allowed:
        return
    share = f" ({100.0 * deviation / row.value:+.3g} %)" if row.value else ""
    given = ", ".join(f"{key}={value}" for key, value in row.given.items())
    raise AssertionError(
        f"{row.source}, {row.edition} ({row.place}): {row.quantity} at {given}: printed {row.value:g} {row.unit}, the "
        f"workbook computes {computed:.8g} {row.unit}, deviation {deviation:+.3g} {row.unit}{share}; "
        f"allowed {row.tolerance}: {row.why}"
    )
