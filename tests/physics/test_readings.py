"""What instruments show: at altitude, with errors from a seed, and worked out as in the shop."""

import statistics

import pytest

from course.physics.bench import run_bench
from course.physics.readings import EXACT, Instruments, take_readings

# ISA air pressure [kPa], computed from ISO 2533
AIR_PRESSURE = {0.0: 101.3, 1000.0: 89.9, 2000.0: 79.5, 3000.0: 70.1}


@pytest.mark.parametrize("altitude, air", AIR_PRESSURE.items())
def test_a_running_gauge_subtracts_the_local_air(altitude, air):
    run = run_bench("sedan", altitude_m=altitude)
    points = {point.name: point.pressure_kpa_absolute for point in run.cycle_points}
    assert run.low_side_kpa_gauge == pytest.approx(points["compressor_inlet"] - air, abs=0.06)
    assert run.high_side_kpa_gauge == pytest.approx(points["compressor_outlet"] - air, abs=0.06)


def test_exact_instruments_show_the_run():
    run = run_bench("pickup", charge_fraction=0.45)
    shown = take_readings(run, EXACT)
    assert shown.low_side_kpa_gauge == run.low_side_kpa_gauge
    assert shown.vent_c == run.vent_c
    assert shown.subcooling_k == pytest.approx(run.subcooling_k, abs=0.5)


def test_the_same_seed_gives_the_same_errors_and_another_seed_others():
    run = run_bench("sedan")
    assert take_readings(run, seed=1) == take_readings(run, seed=1)
    assert take_readings(run, seed=1) != take_readings(run, seed=2)


def test_errors_are_as_large_as_the_instruments_are_bad():
    """The scatter of 400 readings is the stated error; its own uncertainty is 1/sqrt(800) = 3.5 %, four times that allowed."""
    run, bad = run_bench("sedan"), Instruments(20.0, 50.0, 2.0, 1.5)
    taken = [take_readings(run, bad, seed=seed) for seed in range(400)]
    for name, error in (
        ("low_side_kpa_gauge", 20.0),
        ("high_side_kpa_gauge", 50.0),
        ("suction_line_c", 2.0),
        ("vent_c", 1.5),
    ):
        values = [getattr(reading, name) for reading in taken]
        assert statistics.stdev(values) == pytest.approx(error, rel=0.14)
        assert statistics.mean(values) == pytest.approx(getattr(run, name), abs=4.0 * error / 20.0)


def test_a_car_at_rest_can_be_read_too():
    shown = take_readings(run_bench("pickup", charge_fraction=0.0), EXACT)
    assert shown.superheat_k is None
    assert shown.subcooling_k is None
