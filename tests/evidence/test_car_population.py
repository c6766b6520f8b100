"""The population of the study: the same from the same seed, with readings and errors that can be worked out by hand."""

import numpy as np
import pytest

from course.errors import CycleNotSolved
from course.evidence import car_population as population
from course.evidence.car_population import Day, draw_case, draw_day, exact_readings, expected_readings
from course.physics.bench import run_bench
from course.tables import read_base_rates, read_faults

DAY = Day("sedan", 25.0, 0.4, 1500.0)
NEW = dict.fromkeys(population.ORDINARY, 0.0) | {"charge_fraction": 1.0}


def test_the_rates_make_a_whole_and_every_fault_has_one():
    rates = read_base_rates()
    assert sum(entry.base_rate_share.value for entry in rates.values()) == pytest.approx(1.0, abs=1e-9)
    assert set(rates) - set(population.BY_CHARGE) == set(read_faults())


@pytest.mark.parametrize("car", ["sedan", "pickup", "compact"])
def test_the_same_seed_gives_the_same_day_and_the_same_case(car):
    def drawn(seed):
        random = np.random.default_rng(seed)
        day = draw_day(car, random)
        return day, draw_case(day, "worn_compressor", random)

    (day, case), (again, same), (other, _) = drawn(5), drawn(5), drawn(6)
    assert day == again != other
    assert case.badness == same.badness
    assert case.measured.tolist() == same.measured.tolist()


def test_no_day_is_stickier_than_a_sultry_one():
    """24 °C dew point over water is 2,985 Pa (ASHRAE Handbook Fundamentals 2017, chapter 1, table 3)."""
    random = np.random.default_rng(1)
    for _ in range(200):
        day = draw_day("sedan", random)
        pressure = population.saturation_vapour_pressure(day.ambient_c + 273.15)
        assert 0.2 <= day.relative_humidity <= 0.8
        assert day.relative_humidity * pressure < 2986.0


def test_a_sound_car_shows_what_the_bench_and_the_chart_say():
    """At rest at 25 °C the P-T table says 564 kPa gauge; of 480 g all but a fortieth comes back."""
    shown, _ = exact_readings(DAY, "no_fault", 1.0, NEW)
    run = run_bench("sedan", ambient_c=25.0, relative_humidity=0.4, compressor_rpm=1500.0)
    assert shown[:2] == pytest.approx([run.low_side_kpa_gauge, run.high_side_kpa_gauge])
    assert shown[4] == pytest.approx(run.vent_c)
    assert shown[8] == pytest.approx(564.0, abs=1.0)
    assert shown[9] == pytest.approx(480.0 * 0.975)


def test_air_stands_above_the_chart_and_weighs_nothing():
    """Air that filled the empty circuit at one atmosphere: 101 kPa, and more by what the liquid takes of the room."""
    air, _ = exact_readings(DAY, "air_in_system", 1.0, NEW)
    assert 101.0 < air[8] - 564.0 < 125.0
    assert air[9] == pytest.approx(468.0)


def test_a_trouble_stands_in_for_the_ordinary_thing_it_is_made_of():
    ordinary = {name: middle for name, (middle, _) in population.ORDINARY.items()}
    charge, faults = population._settings("undercharge", 0.4, ordinary)
    assert charge == 0.4
    assert faults["condenser_airflow_low"] == 0.0625
    charge, faults = population._settings("condenser_airflow_low", 0.7, ordinary)
    assert (charge, faults["condenser_airflow_low"]) == (0.975, 0.7)


def test_errors_of_the_instruments():
    """Gauge 10 and 35 kPa, pipes 1 K, vent 0.5 K; 468 g back from 480: the root of 15² + (0.0125 x 480)²."""
    errors = population.instrument_errors(DAY, np.array([0.0] * 9 + [468.0]))
    assert errors[:8].tolist() == [10.0, 35.0, 1.0, 1.0, 0.5, 1.0, 1.0, 1.0]
    assert errors[9] == pytest.approx(np.hypot(15.0, 6.0))


def test_what_is_expected_and_what_is_drawn_agree():
    """Squared distance of 60 cases from what is expected, in units of the stated spread: 10 on average for 10 readings.

    The mean of 60 such squares lies within 0.6 of ten two times of three; three times that is allowed, and as much again
    because ordinary things are even and bent where the reasoner takes them for normal and straight.
    """
    expected, random = expected_readings(DAY, "no_fault"), np.random.default_rng(2)
    squares = []
    for _ in range(60):
        case = draw_case(DAY, "no_fault", random)
        row = [np.interp(case.badness, expected.badness, column) for column in expected.readings.T]
        errors = population.instrument_errors(DAY, np.array(row))
        near = np.abs(expected.badness - case.badness).argmin()
        off = case.measured - row
        squares.append(off @ np.linalg.solve(expected.spread[near] + np.diag(errors**2), off))
    assert np.mean(squares) == pytest.approx(10.0, abs=3.6)


def test_a_severity_without_a_steady_state_is_left_out_and_counted(monkeypatch):
    whole = expected_readings(DAY, "warm_air_mixing")
    honest = exact_readings

    def stubborn(day, trouble, badness, ordinary, previous=None):
        if badness in (0.25, 1.0):
            raise CycleNotSolved("no steady state")
        return honest(day, trouble, badness, ordinary, previous)

    monkeypatch.setattr(population, "exact_readings", stubborn)
    rest = expected_readings(DAY, "warm_air_mixing")
    assert (rest.refused, rest.runs, len(rest.badness)) == (2, 13, 11)
    assert rest.readings == pytest.approx(whole.readings[1:-1], abs=1e-3)
    assert rest.spread.shape == (11, 10, 10)
