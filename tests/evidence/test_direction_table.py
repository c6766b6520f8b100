"""The direction table: worked out on the bench, counted in instrument errors, and every disagreement with its reason."""

import pytest

from course.errors import OutOfRange, UnknownChoice
from course.evidence.direction_table import READINGS, direction_table, least_changes
from course.physics.bench import run_bench
from course.physics.faults import FAULTS, fits
from course.tables import read_directions, system_ids

CARS = ("sedan", "compact", "pickup")
# every cell in which the simulator goes another way than its sources, today
DISAGREEMENTS = {
    "sedan": {
        "charge_short subcooling",
        "overcharge low_side",
        "overcharge vent",
        "overcharge power",
        "txv_stuck_open subcooling",
        "worn_compressor subcooling",
        "condenser_airflow_low power",
    },
    "compact": {
        "charge_short low_side",
        "txv_stuck_closed subcooling",
        "txv_stuck_open high_side",
        "worn_compressor subcooling",
        "moisture_in_system low_side",
        "moisture_in_system high_side",
    },
    "pickup": {
        "overcharge discharge",
        "restricted_liquid_line high_side",
        "restricted_liquid_line vent",
        "restricted_liquid_line power",
        "restricted_metering_device high_side",
        "restricted_metering_device power",
        "oversized_orifice low_side",
        "oversized_orifice superheat",
        "oversized_orifice vent",
        "worn_compressor superheat",
        "condenser_airflow_low superheat",
        "condenser_fan_stopped superheat",
        "evaporator_airflow_low superheat",
        "air_in_system subcooling",
        "moisture_in_system low_side",
        "moisture_in_system high_side",
    },
}


def named(cells):
    return {f"{cell.row} {cell.reading}" for cell in cells}


def test_every_car_and_every_fault_that_fits_has_its_cells():
    assert set(CARS) == set(system_ids())
    for car in CARS:
        table = direction_table(car)
        wanted = {fault for fault in FAULTS if fits(fault, run_bench(car).system)}
        assert {read_directions().row[row].of for row in table.rows} == wanted | {"charge"}
        assert set(table.cells) == {(row, reading) for row in table.rows for reading in READINGS}


@pytest.mark.parametrize("car", CARS)
def test_exactly_these_cells_disagree_with_papers_and_trade(car):
    assert named(direction_table(car).disagreements()) == DISAGREEMENTS[car]


@pytest.mark.parametrize("car", CARS)
def test_every_disagreement_has_its_physics_and_nothing_else_has(car):
    cells = direction_table(car).cells.values()
    assert named(cell for cell in cells if cell.why) == DISAGREEMENTS[car]
    assert set(read_directions().why) == set(CARS)


@pytest.mark.parametrize("car", CARS)
def test_most_of_what_the_sources_say_outright_is_borne_out(car):
    said = [cell for cell in direction_table(car).cells.values() if cell.mark == "agreed" and cell.agrees is not None]
    assert len(said) > 60
    assert sum(cell.agrees for cell in said) > 0.85 * len(said)


def test_a_direction_is_the_difference_of_two_runs():
    """The cell worked out a second way: head of the pickup with four fifths of the worst condenser airflow."""
    day = {"ambient_c": 36.0, "relative_humidity": 0.45, "compressor_rpm": 1300.0}
    well = run_bench("pickup", **day)
    ill = run_bench("pickup", **day, faults={"condenser_airflow_low": 0.8})
    cell = direction_table("pickup").cells["condenser_airflow_low", "high_side"]
    assert cell.changes[1] == pytest.approx(ill.high_side_kpa_gauge - well.high_side_kpa_gauge, abs=0.5)


def test_a_change_counts_from_the_error_of_two_looks_at_the_instruments():
    least = least_changes(run_bench("sedan", ambient_c=36.0, relative_humidity=0.45, compressor_rpm=1300.0))
    assert least["low_side"] == pytest.approx(10.0 * 2**0.5)
    assert least["high_side"] == pytest.approx(35.0 * 2**0.5)
    assert least["vent"] == pytest.approx(0.5 * 2**0.5)
    # R-134a near 3 bar absolute: 9.5 kPa a kelvin (P-T table), so the 10 kPa of the gauge are as much as the probe's 1 K
    assert least["superheat"] == pytest.approx((1.0 + (10.0 / 10.5) ** 2) ** 0.5 * 2**0.5, rel=0.05)
    for car in CARS:
        table = direction_table(car)
        for cell in table.cells.values():
            if table.rows[cell.row].startswith("Moisture"):
                continue  # asked on another day, with that day's own thresholds
            for direction, change in zip(cell.directions, cell.changes, strict=True):
                size = table.thresholds[cell.reading]
                wanted = "none" if change is None else "up" if change > size else "down" if change < -size else "same"
                assert direction == wanted, cell


def test_better_instruments_see_more():
    coarse, fine = direction_table("sedan", 2.0), direction_table("sedan", 0.2)
    moved = [
        sum(direction in ("up", "down") for cell in table.cells.values() for direction in cell.directions)
        for table in (coarse, fine)
    ]
    assert moved[0] < moved[1]


def test_a_compressor_at_rest_has_no_superheat():
    cell = direction_table("sedan").cells["clutch_not_engaged", "superheat"]
    assert cell.directions == ("same", "none")
    assert cell.agrees is None


def test_a_mild_fault_may_be_unseen_but_not_go_the_other_way():
    """Compact, charge short: the low side first rises, which no source says."""
    cell = direction_table("compact").cells["charge_short", "low_side"]
    assert cell.directions == ("up", "down")
    assert cell.expect == ("down",)
    assert cell.agrees is False
    assert direction_table("compact").cells["restricted_liquid_line", "low_side"].directions == ("same", "down")
    assert direction_table("compact").cells["restricted_liquid_line", "low_side"].agrees is True


def test_weak_and_conflicting_marks_are_carried():
    cells = direction_table("pickup").cells
    assert cells["restricted_metering_device", "high_side"].mark == "conflicting"
    assert cells["restricted_metering_device", "high_side"].others == ("up",)
    assert cells["air_in_system", "low_side"].mark == "weak"
    assert cells["overcharge_with_room", "low_side"].mark == "silent"
    for cell in cells.values():
        assert bool(cell.source) == bool(cell.expect)
        assert (cell.mark == "conflicting") == bool(cell.others)


ORIGINS = ("read: ", "from memory: ", "common practice: ", "assumed: ", "computed: ")


def test_every_row_of_the_sources_says_where_it_comes_from_and_belongs_to_a_row():
    for rows in read_directions().expected.values():
        assert {row for row in rows if not rows[row].source.startswith(ORIGINS)} == set()
        assert set(rows) <= set(read_directions().row)


def test_an_unknown_car_and_absurd_errors_are_sentences():
    with pytest.raises(UnknownChoice, match="choose one of compact, pickup, sedan"):
        direction_table("bus")
    with pytest.raises(OutOfRange, match="instrument errors: one is what the table is printed with"):
        direction_table("sedan", 9.0)
