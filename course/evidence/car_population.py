"""A seeded population of cars in the shop: weather, trouble, how bad, what is read; and what is to be expected of each trouble."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from course.errors import CycleNotSolved
from course.physics.at_rest import rest_pressure
from course.physics.bench import run_bench
from course.physics.car_file import load_system
from course.physics.faults import fits, with_faults
from course.physics.moist_air import saturation_vapour_pressure
from course.physics.readings import EXACT, Instruments, take_readings
from course.physics.refrigerant import saturation_at_temperature
from course.tables import read_base_rates
from course.units import celsius_to_kelvin

INSTRUMENTS = Instruments()
SOAK_THERMOMETER_K = 1.0  # K: how well the temperature of a car at rest is known, one standard deviation; assumed
SCALE_G = 15.0  # g: a machine shows what it recovered within an ounce, 30 g (read); taken as two standard deviations
LEFT_BEHIND = (
    0.025  # - of the charge stays behind: 95 % or more is recovered (second-hand), the middle of that; assumed
)
LEFT_BEHIND_SPREAD = 0.0125  # - one standard deviation, so that two reach from nothing to a twentieth; assumed

# what is taken, in the order in which a technician takes it
READINGS = (
    "low_side_kpa_gauge",
    "high_side_kpa_gauge",
    "evaporator_outlet_c",
    "condenser_outlet_c",
    "vent_c",
    "liquid_line_c",
    "suction_line_c",
    "discharge_c",
    "at_rest_kpa_gauge",
    "recovered_g",
)
FROM_THE_RUN = READINGS[:8]
# how far a sound car's readings lie from its model beside what its condition explains, one standard deviation; assumed:
# some 5 % of a running pressure, a few kelvin of a pipe. A car at rest and a pair of scales know no model.
CAR_TO_CAR = np.array([15.0, 60.0, 2.0, 2.0, 1.0, 2.0, 2.0, 4.0, 0.0, 0.0])  # kPa, kPa, K (six), kPa, g

# small things that no one calls a fault and that every car has: half the width of an even spread round the middle
ORDINARY = {
    "charge_fraction": (0.975, 0.075),  # - of the label charge, 0.90 to 1.05; assumed
    "condenser_airflow_low": (0.0625, 0.0625),  # - severity: up to a tenth of the air lost; assumed
    "evaporator_airflow_low": (0.0625, 0.0625),  # - severity: up to a tenth of the air lost; assumed
    "worn_compressor": (0.05, 0.05),  # - severity: up to 7.5 % slips back; assumed
}

DAMPEST_DEW_POINT = 297.15  # K: 24 °C, a sultry day; assumed
NODES = 13  # severities at which a trouble is run
SLOPE_EVERY = 6  # at every sixth of them, both ends included, the ordinary things are moved too
BY_CHARGE = ("no_fault", "undercharge", "overcharge")


class Day(NamedTuple):
    """One car on one day, known to the technician: car, outside air [°C], humidity [-], compressor speed [1/min]."""

    car: str
    ambient_c: float
    relative_humidity: float
    compressor_rpm: float


class Case(NamedTuple):
    """One car in the shop: its trouble, how bad [share], and what is read off, in the order of READINGS."""

    trouble: str
    badness: float
    measured: np.ndarray


@dataclass(frozen=True)
class Expected:
    """What one trouble shows on one day, from its least to its worst."""

    badness: np.ndarray  # - where it was run
    readings: np.ndarray  # one row a badness, in the order of READINGS
    spread: np.ndarray  # covariance that ordinary things add to a row
    refused: int  # runs that found no steady state
    runs: int  # runs that were tried


def troubles_of(car):
    """Everything that can be behind the complaint in a car, nothing wrong included.

    Parameters
    ----------
    car : str
        Id from data/systems.

    Returns
    -------
    tuple of str
        Ids of data/evidence/base_rates.toml; those of faults are fault ids.

    Raises
    ------
    UnknownChoice
        When there is no such car.

    Notes
    -----
    An orifice tube has no valve that could stick.

    Examples
    --------
    >>> len(troubles_of("sedan")), len(troubles_of("pickup"))
    (17, 15)
    """
    system = load_system(car)
    return tuple(name for name in read_base_rates() if name in BY_CHARGE or fits(name, system))


def draw_day(car, random):
    """A day on which a car comes to the shop.

    Parameters
    ----------
    car : str
        Id from data/systems.
    random : numpy.random.Generator
        The dice.

    Returns
    -------
    Day
        The car and its weather.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Even spreads, assumed: 20 to 40 °C outside, 20 % humidity up to a dew point of 24 °C (80 % at most), compressor at 800
    to 2,000 a minute, doors open, blower full, fresh air, standing at sea level.

    Examples
    --------
    >>> day = draw_day("sedan", np.random.default_rng(1))
    >>> 20.0 <= day.ambient_c <= 40.0
    True
    """
    ambient = random.uniform(20.0, 40.0)
    dampest = saturation_vapour_pressure(DAMPEST_DEW_POINT) / saturation_vapour_pressure(celsius_to_kelvin(ambient))
    humidity = random.uniform(0.2, min(0.8, dampest))
    return Day(car, float(ambient), float(humidity), float(random.uniform(800.0, 2000.0)))


def _settings(trouble, badness, ordinary):
    """Charge share and faults of a car with a trouble; the trouble stands in for the ordinary thing it is made of."""
    faults = {name: value for name, value in ordinary.items() if name != "charge_fraction"}
    charge = ordinary["charge_fraction"]
    if trouble in BY_CHARGE:
        charge = badness
    else:
        faults[trouble] = badness
    return float(charge), {name: float(value) for name, value in faults.items()}


def exact_readings(day, trouble, badness, ordinary, previous=None):
    """What perfect instruments would show.

    Parameters
    ----------
    day : Day
        Car and weather.
    trouble : str
        What is wrong.
    badness : float
        How much of it [-].
    ordinary : dict of str to float
        Charge and the small faults every car has [-].
    previous : BenchRun or None
        A run to start from.

    Returns
    -------
    tuple
        The readings as an array in the order of READINGS, and the run.

    Raises
    ------
    CycleNotSolved
        When no steady state is found.

    Notes
    -----
    At rest the car has stood until all of it is as warm as the day. The weight is what the machine shows on average.

    Examples
    --------
    >>> day = Day("sedan", 35.0, 0.4, 1500.0)
    >>> healthy = {name: 0.0 for name in ORDINARY} | {"charge_fraction": 1.0}
    >>> shown, run = exact_readings(day, "air_in_system", 1.0, healthy)
    >>> float(shown[8]) - rest_pressure("sedan", temperature_c=35.0, charge_fraction=1.0) > 100.0
    True
    """
    charge, faults = _settings(trouble, badness, ordinary)
    run = run_bench(
        day.car,
        ambient_c=day.ambient_c,
        relative_humidity=day.relative_humidity,
        compressor_rpm=day.compressor_rpm,
        charge_fraction=charge,
        faults=faults,
        previous=previous,
    )
    air = with_faults(run.system, faults).air_mass
    rest = rest_pressure(run.system, temperature_c=day.ambient_c, charge_fraction=charge, air_kg=air)
    shown = take_readings(run, EXACT)
    values = [getattr(shown, name) for name in FROM_THE_RUN]
    return np.array([*values, rest, run.charge_kg * 1000.0 * (1.0 - LEFT_BEHIND)]), run


def instrument_errors(day, readings):
    """One standard deviation of every reading.

    Parameters
    ----------
    day : Day
        Car and weather.
    readings : numpy.ndarray
        Exact readings, one row or many.

    Returns
    -------
    numpy.ndarray
        In the units of READINGS, of the same shape.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Errors are independent and normal (assumed). The static check carries the low gauge's error and that of the soak
    temperature, through the slope of the P-T chart; the weight that of the scale and of what stays behind.

    Examples
    --------
    R-134a rises by 22 kPa a kelvin at 30 °C (between 669 and 786 at 30 and 35 °C, P-T table); with the gauge's 10, 24:

    >>> errors = instrument_errors(Day("sedan", 30.0, 0.4, 1500.0), np.full(10, 400.0))
    >>> round(float(errors[8]))
    24
    """
    refrigerant = load_system(day.car).refrigerant
    soak = celsius_to_kelvin(day.ambient_c)
    slope = [saturation_at_temperature(refrigerant, soak + step).pressure / 1e3 for step in (-0.5, 0.5)]
    errors = np.empty_like(readings)
    errors[..., :2] = INSTRUMENTS.low_gauge_kpa, INSTRUMENTS.high_gauge_kpa
    errors[..., 2:8] = INSTRUMENTS.pipe_thermometer_k
    errors[..., 4] = INSTRUMENTS.vent_thermometer_k
    errors[..., 8] = np.hypot(INSTRUMENTS.low_gauge_kpa, (slope[1] - slope[0]) * SOAK_THERMOMETER_K)
    charge = readings[..., 9] / (1.0 - LEFT_BEHIND)
    errors[..., 9] = np.hypot(SCALE_G, LEFT_BEHIND_SPREAD * charge)
    return errors


def draw_case(day, trouble, random):
    """A car with a trouble comes in and is read off with instruments that are a little wrong.

    Parameters
    ----------
    day : Day
        Car and weather.
    trouble : str
        What is wrong.
    random : numpy.random.Generator
        The dice.

    Returns
    -------
    Case
        The trouble and the readings.

    Raises
    ------
    CycleNotSolved
        When no steady state is found.

    Notes
    -----
    Badness and ordinary things from their even spreads. The running readings are taken by take_readings, with its errors.

    Examples
    --------
    >>> day = Day("sedan", 35.0, 0.4, 1500.0)
    >>> first, again = (draw_case(day, "undercharge", np.random.default_rng(5)) for _ in range(2))
    >>> bool((first.measured == again.measured).all())
    True
    """
    entry = read_base_rates()[trouble]
    badness = random.uniform(entry.least_share.value, entry.most_share.value)
    ordinary = {name: random.uniform(middle - half, middle + half) for name, (middle, half) in ORDINARY.items()}
    seed, noise = int(random.integers(2**32)), random.standard_normal(2)
    exact, run = exact_readings(day, trouble, badness, ordinary)
    taken = take_readings(run, INSTRUMENTS, seed)
    errors = instrument_errors(day, exact)
    at_rest_and_weight = exact[8:] + errors[8:] * noise
    measured = np.array([*(getattr(taken, name) for name in FROM_THE_RUN), *at_rest_and_weight])
    return Case(trouble, float(badness), measured)


def _slopes(day, trouble, badness, middle, base, run):
    """How every reading answers to one standard deviation of each ordinary thing: one column each."""
    columns = []
    for name, (centre, half) in ORDINARY.items():
        if name == trouble or (name == "charge_fraction" and trouble in BY_CHARGE):
            continue
        step = half / np.sqrt(3.0)
        moved, _ = exact_readings(day, trouble, badness, middle | {name: centre + step}, run)
        columns.append(moved - base)
    return np.array(columns).T


def expected_readings(day, trouble, nodes=NODES):
    """What a trouble shows on a day, from its least to its worst, and how far ordinary things blur it.

    Parameters
    ----------
    day : Day
        Car and weather.
    trouble : str
        What is wrong.
    nodes : int
        Severities at which it is run, more than SLOPE_EVERY.

    Returns
    -------
    Expected
        Readings and their spread at a number of severities.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Ordinary things (charge within a few percent, a little dirt, a little wear) are carried to first order: their
    variance through the slope of each reading. A run that finds no steady state is left out and counted.

    Examples
    --------
    >>> expected = expected_readings(Day("sedan", 35.0, 0.4, 1500.0), "undercharge")
    >>> expected.readings.shape, expected.spread.shape, expected.refused
    ((13, 10), (13, 10, 10), 0)
    """
    entry = read_base_rates()[trouble]
    middle = {name: centre for name, (centre, _) in ORDINARY.items()}
    kept, rows, sloped, spreads, refused, previous, due = [], [], [], [], 0, None, True
    for number, badness in enumerate(np.linspace(entry.least_share.value, entry.most_share.value, nodes)):
        due = due or number % SLOPE_EVERY == 0  # where it is refused the next severity takes its place
        try:
            row, previous = exact_readings(day, trouble, badness, middle, previous)
            if due:
                slopes = _slopes(day, trouble, badness, middle, row, previous)
                sloped.append(badness)
                spreads.append(slopes @ slopes.T)
                due = False
        except CycleNotSolved:
            refused += 1
            continue
        kept.append(badness)
        rows.append(row)
    return Expected(np.array(kept), np.array(rows), _between(kept, sloped, spreads), refused, nodes)


def _between(wanted, known, matrices):
    """Matrices at the wanted places, straight between the known ones."""
    flat = np.array(matrices).reshape(len(known), -1)
    columns = [np.interp(wanted, known, flat[:, column]) for column in range(flat.shape[1])]
    return np.array(columns).T.reshape(len(wanted), len(READINGS), len(READINGS))
