"""Tables from a lesson's bench: settings as the lesson opens it, readings as the simulator has them."""

import nbformat
import pytest

from course.errors import CycleNotSolved
from course.paper import bench_table
from course.paper.bench_table import POSITIONS, bench_tables
from course.paper.notebook_cells import paper_lesson
from course.paper.worksheet import filled_tables
from course.physics.bench import run_bench
from course.units import display_units
from course.widgets.controls import bench_numbers
from course.widgets.readings_table import reading_pairs


def tables(source, units="psi_f"):
    return bench_tables(paper_lesson("90_none", [nbformat.v4.new_code_cell(source)]), display_units(units))


def test_each_line_is_a_run_of_the_bench_as_the_lesson_opens_it():
    (table,) = tables('# Try\nshow_bench(["charge_percent"], car="pickup", ambient_c=25)')
    assert table.title == "Try"
    assert table.setting == "Invented pickup, outside air 77 °F"
    assert table.heads[:2] == ("Charge, % of label", "Low side, gauge, psi")
    assert table.lines == ("130", "100", "80", "60", "40")
    run = run_bench("pickup", ambient_c=25.0, charge_fraction=0.4, relative_humidity=0.4, compressor_rpm=1500.0)
    assert table.filled[-1] == tuple(value for _, value in reading_pairs(run, display_units("psi_f"))[:5])


def test_the_first_control_with_positions_is_moved_and_not_told_as_fixed():
    (table,) = tables('show_bench(["car", "ambient_c", "charge_percent"], charge_percent=60)', "kpa_c")
    assert table.moved == "Outside air"
    assert table.lines == ("25", "30", "35", "40")
    assert table.setting == "Invented sedan, charge 60 % of label"
    assert {len(line) for line in table.filled} == {5}


def test_a_fault_is_told_with_its_severity():
    (table,) = tables('show_bench(["charge_percent"], fault="condenser_airflow_low", severity_percent=50)')
    assert "condenser airflow low" in table.setting
    assert "severity 50 %" in table.setting


def test_a_bench_without_a_number_to_move_has_no_table():
    assert tables('show_bench(["car"])') == []
    assert tables("show_bench()") == []
    assert tables("show_walk()") == []


def test_a_compressor_at_rest_keeps_the_units_of_its_heads():
    (table,) = tables(
        'show_bench(["ambient_c"], car="pickup", fault="clutch_not_engaged", severity_percent=100)', "kpa_c"
    )
    assert table.filled[0][2] == "at rest"
    assert table.heads[3:] == ("Superheat, K", "Subcooling, K", "Vent, °C")


def test_a_refused_line_says_so_and_the_others_stand(monkeypatch):
    def refusing(car, **settings):
        if settings["charge_fraction"] > 1.0:
            raise CycleNotSolved("No steady state was found; take less charge.")
        return run_bench(car, **settings)

    monkeypatch.setattr(bench_table, "run_bench", refusing)
    (table,) = tables('show_bench(["charge_percent"])')
    assert table.filled[0] == ("No steady state was found; take less charge.",)
    assert {len(line) for line in table.filled[1:]} == {5}
    assert "take less charge.</td><td></td>" in filled_tables([table])


@pytest.mark.parametrize("name", POSITIONS)
def test_positions_are_places_of_the_control(name):
    control = bench_numbers("kpa_c")[name]
    assert all(control.low <= position <= control.high for position in POSITIONS[name])
