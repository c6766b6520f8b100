"""The reference rows themselves: each is whole, a row that is not is refused, and a miss says all there is to say."""

import csv

import pytest

from tests.reference.reading import COLUMNS, HERE, BadReference, check, read_rows

GOOD = {
    "id": "one",
    "quantity": "pressure",
    "given": "temperature_k=300 phase=saturation",
    "value": "0.70282",
    "unit": "MPa",
    "source": "A published table",
    "edition": "table 8",
    "provenance": "read",
    "tolerance": "0.000005 MPa",
    "why": "half of the last printed digit",
}


def written(tmp_path, *rows, columns=COLUMNS):
    """A reference file with those rows."""
    path = tmp_path / "rows.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.DictWriter(file, columns, extrasaction="ignore", restval="")
        table.writeheader()
        table.writerows(rows)
    return path


@pytest.mark.parametrize("path", sorted(HERE.glob("*.csv")), ids=lambda path: path.stem)
def test_every_row_is_whole(path):
    rows = read_rows(path)
    assert all(row.allowed > 0.0 for row in rows)


def test_no_row_lies_in_another_kind_of_file():
    assert {path.suffix for path in HERE.iterdir() if path.is_file()} == {".csv", ".py"}


@pytest.mark.parametrize("name", sorted({path.name for path in HERE.glob("*.csv")}))
def test_every_file_is_used(name):
    """A file that no test reads proves nothing."""
    users = (HERE.parent / "outside").glob("test_*.py")
    assert any(f'"{name}"' in path.read_text(encoding="utf-8") for path in users)


def test_a_good_row_is_read(tmp_path):
    (row,) = read_rows(written(tmp_path, GOOD))
    assert row.given == {"temperature_k": 300.0, "phase": "saturation"}
    assert row.allowed == pytest.approx(5e-6)
    (row,) = read_rows(written(tmp_path, GOOD | {"tolerance": "2 %", "value": "-50"}))
    assert row.allowed == pytest.approx(1.0)


@pytest.mark.parametrize("column", COLUMNS)
def test_a_row_without_one_of_its_columns_is_refused(tmp_path, column):
    with pytest.raises(BadReference, match=rf"rows\.csv, line 2, column {column}: "):
        read_rows(written(tmp_path, GOOD | {column: " "}))


@pytest.mark.parametrize(
    ("column", "value", "said"),
    [
        ("value", "about 7", "valid number"),
        ("value", "nan", "finite number"),
        ("given", "300 K", "'300' is not key=value"),
        ("provenance", "trust me", "'read'"),
        ("tolerance", "5", "is not a number above zero"),
        ("tolerance", "0 %", "is not a number above zero"),
        ("tolerance", "1 kPa", "the row's unit MPa"),
        ("why", "so", "at least 10 characters"),
    ],
)
def test_a_row_with_a_bad_column_is_refused(tmp_path, column, value, said):
    with pytest.raises(BadReference) as refusal:
        read_rows(written(tmp_path, GOOD, GOOD | {"id": "two", column: value}))
    assert f"rows.csv, line 3, column {column}" in str(refusal.value)
    assert said in str(refusal.value)


def test_a_file_with_a_row_twice_no_rows_or_other_columns_is_refused(tmp_path):
    with pytest.raises(BadReference, match="the id one stands twice"):
        read_rows(written(tmp_path, GOOD, GOOD))
    with pytest.raises(BadReference, match="no rows"):
        read_rows(written(tmp_path))
    with pytest.raises(BadReference, match="the columns are"):
        read_rows(written(tmp_path, GOOD, columns=COLUMNS[:-1]))


def test_a_row_with_a_cell_too_many_is_refused(tmp_path):
    path = written(tmp_path, GOOD)
    path.write_text(path.read_text(encoding="utf-8").rstrip() + ",and more\n", encoding="utf-8")
    with pytest.raises(BadReference, match="line 2, column more"):
        read_rows(path)


def test_a_miss_names_source_both_values_and_deviation(tmp_path):
    (row,) = read_rows(written(tmp_path, GOOD))
    check(row, 0.702824)
    with pytest.raises(AssertionError) as miss:
        check(row, 0.71)
    for part in (
        "A published table, table 8",
        "rows.csv, line 2",
        "temperature_k=300",
        "printed 0.70282 MPa",
        "computes 0.71 MPa",
        "deviation +0.00718 MPa (+1.02 %)",
        "allowed 0.000005 MPa: half of the last printed digit",
    ):
        assert part in str(miss.value)


def test_what_is_not_a_number_misses(tmp_path):
    (row,) = read_rows(written(tmp_path, GOOD))
    with pytest.raises(AssertionError):
        check(row, float("nan"))
