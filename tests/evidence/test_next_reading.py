"""Which reading next: against sums done the long way, and against what must hold for any list of suspects."""

import itertools
import math

import numpy as np
import pytest

import course.evidence.next_reading as next_reading
from course.errors import OutOfRange, UnknownChoice
from course.evidence.car_population import Case, Day, expected_readings
from course.evidence.next_reading import (
    OUTCOMES,
    READINGS,
    SURE,
    Mystery,
    Suspect,
    after_each_outcome,
    begin_mystery,
    best_next_reading,
    chances,
    columns_of,
    minutes_of,
    shortest_way,
    suspects_left,
    suspects_of,
    worth_of_each,
)
from course.physics.bench import run_bench
from course.tables import read_base_rates

TAKEN = ("gauges", "vent", "liquid_line")


@pytest.fixture(scope="module")
def pickup():
    return begin_mystery(7)


def invented(*rows, spread=1.0, measured=None):
    """A car whose suspects show these rows, each reading with an error of its own."""
    readings = [np.array(row, dtype=float)[None] for row in rows]
    suspects = tuple(
        Suspect(f"suspect {number}", row, spread**2 * np.eye(10)[None]) for number, row in enumerate(readings)
    )
    seen = np.array(rows[0] if measured is None else measured, dtype=float)
    mystery = Mystery(
        0,
        Day("pickup", 30.0, 0.5, 1500.0),
        tuple(suspect.trouble for suspect in suspects),
        Case("suspect 0", 0.5, seen),
    )
    mystery.__dict__["suspects"] = suspects
    return mystery


def row(**values):
    """All readings at nothing but those that are named."""
    shown = np.zeros(10)
    for name, value in values.items():
        shown[READINGS[name].columns[0]] = value
    return shown


def test_chances_are_bayes_rule_summed_the_long_way(pickup):
    columns = columns_of(TAKEN)
    likely = []
    for suspect in pickup.suspects:
        total = 0.0
        for expected, spread in zip(suspect.readings, suspect.covariance, strict=True):
            part = spread[np.ix_(columns, columns)]
            off = pickup.case.measured[columns] - expected[columns]
            size = math.sqrt((2 * math.pi) ** len(columns) * np.linalg.det(part))
            total += math.exp(-0.5 * off @ np.linalg.inv(part) @ off) / size
        likely.append(total)
    assert chances(pickup, TAKEN) == pytest.approx(np.array(likely) / sum(likely), rel=1e-6)


@pytest.mark.parametrize("reading", ["evaporator_outlet", "weight", "suction_line"])
def test_chances_to_come_average_to_the_chances_now(pickup, reading):
    """Nobody can expect to change his mind in a known direction."""
    now = chances(pickup, TAKEN)
    after = after_each_outcome(pickup, TAKEN, reading)
    assert after.sum(axis=2) == pytest.approx(1.0)
    assert np.einsum("t,tos->s", now, after) / OUTCOMES == pytest.approx(now, abs=0.025)


def test_a_reading_is_worth_the_same_whatever_it_would_show(pickup):
    """Its worth is known before it is taken, so what the instrument would show must not be looked at."""
    hidden = pickup.case.measured.copy()
    hidden[list(set(range(10)) - set(columns_of(TAKEN)))] += 50.0
    other = Mystery(7, pickup.day, pickup.troubles, pickup.case._replace(measured=hidden))
    other.__dict__["suspects"] = pickup.suspects
    assert worth_of_each(other, TAKEN) == worth_of_each(pickup, TAKEN)


def test_on_average_no_reading_makes_the_list_longer(pickup):
    for taken in ((), TAKEN):
        now = suspects_left(chances(pickup, taken))
        assert max(one.suspects_left for one in worth_of_each(pickup, taken)) < 1.02 * now


def test_a_reading_that_parts_two_halves_the_list_and_one_that_does_not_leaves_it():
    mystery = invented(row(vent=0.0), row(vent=100.0))
    worth = {one.reading: one for one in worth_of_each(mystery, ())}
    assert worth["vent"].suspects_left == pytest.approx(1.0)
    assert worth["vent"].bits_per_minute == pytest.approx(1.0 / READINGS["vent"].minutes)
    assert worth["liquid_line"].suspects_left == pytest.approx(2.0)


def test_a_reading_that_parts_two_clears_the_first_when_it_is_wrong():
    mystery = invented(row(vent=0.0, liquid_line=0.0), row(vent=100.0, liquid_line=0.5))
    worth = {one.reading: one.first_if_wrong for one in worth_of_each(mystery, ())}
    assert worth["vent"] == pytest.approx(0.0, abs=1e-9)
    assert worth["vent"] < worth["liquid_line"] < worth["suction_line"] == pytest.approx(0.5)


def test_a_sound_car_stands_beside_the_readings(pickup):
    day = pickup.day
    run = run_bench(
        day.car,
        ambient_c=day.ambient_c,
        relative_humidity=day.relative_humidity,
        compressor_rpm=day.compressor_rpm,
    )
    assert pickup.sound[:2] == pytest.approx([run.low_side_kpa_gauge, run.high_side_kpa_gauge])
    assert pickup.sound[4] == pytest.approx(run.vent_c)


def test_a_known_error_of_known_size_is_worth_what_theory_says():
    """Two suspects two errors apart: 0.486 of a bit, the binary-input Gaussian channel at a signal of one error."""
    places, step = np.linspace(-9.0, 9.0, 36001, retstep=True)
    first, second = (np.exp(-0.5 * (places - middle) ** 2) / math.sqrt(2 * math.pi) for middle in (-1.0, 1.0))
    share = first / (first + second)
    bits = 1.0 + (0.5 * (first + second) * (share * np.log2(share) + (1.0 - share) * np.log2(1.0 - share))).sum() * step
    assert bits == pytest.approx(0.486, abs=0.001)
    mystery = invented(row(vent=0.0), row(vent=2.0))
    (vent,) = (one for one in worth_of_each(mystery, ()) if one.reading == "vent")
    assert vent.bits_per_minute * READINGS["vent"].minutes == pytest.approx(bits, abs=0.08)


def test_the_best_reading_is_the_best_for_its_minutes():
    """The scale would settle it, the thermometer nearly, at a twentieth of the time."""
    mystery = invented(row(vent=0.0, weight=0.0), row(vent=3.0, weight=100.0))
    worth = {one.reading: one for one in worth_of_each(mystery, ())}
    assert worth["weight"].suspects_left < worth["vent"].suspects_left
    assert best_next_reading(mystery, ()).reading == "vent"


def test_no_reading_is_shown_once_it_is_sure_or_nothing_parts_what_is_left():
    sure = invented(row(vent=0.0), row(vent=100.0))
    assert best_next_reading(sure, ("vent",)) is None
    assert chances(sure, ("vent",)).max() > SURE
    alike = invented(row(), row())
    assert best_next_reading(alike, ()) is None
    assert chances(alike, tuple(READINGS)) == pytest.approx([0.5, 0.5])


def test_the_shortest_way_ends_sure_and_is_counted_in_minutes():
    mystery = invented(row(liquid_line=0.0), row(liquid_line=40.0), row(suction_line=40.0))
    way = shortest_way(mystery)
    assert set(way) <= {"liquid_line", "suction_line"}
    assert chances(mystery, way).max() >= SURE
    assert minutes_of(way) == sum(READINGS[name].minutes for name in way)


def test_half_the_severities_give_nearly_the_same_chances():
    """Why NODES is as small as it is."""
    day, name = begin_mystery(7).day, "undercharge"
    few, many = (expected_readings(day, name, nodes=nodes) for nodes in (next_reading.NODES, 13))
    assert (few.runs, many.runs) == (next_reading.NODES, 13)
    between = np.array([np.interp(many.badness, few.badness, column) for column in few.readings.T]).T
    off = np.abs(between - many.readings)[:, :8] / np.array([15.0, 60.0, 2.0, 2.0, 1.0, 2.0, 2.0, 4.0])
    assert off.mean() < 0.5


def test_the_same_number_is_the_same_car_and_its_trouble_is_on_the_list():
    first, again = begin_mystery(10), begin_mystery(10)
    assert first.day == again.day and first.case.trouble == again.case.trouble
    assert (first.case.measured == again.case.measured).all()
    for number in range(6):
        mystery = begin_mystery(number)
        assert mystery.case.trouble in mystery.troubles == suspects_of(mystery.day.car)
    assert set(next_reading.SUSPECTS) <= set(read_base_rates())


def test_the_readings_are_those_of_the_study_each_once():
    columns = list(itertools.chain.from_iterable(reading.columns for reading in READINGS.values()))
    assert sorted(columns) == list(range(10))


def test_what_is_not_known_is_a_sentence():
    with pytest.raises(OutOfRange, match="car number"):
        begin_mystery(-1)
    with pytest.raises(UnknownChoice, match="reading: 'guess'"):
        columns_of(["guess"])
