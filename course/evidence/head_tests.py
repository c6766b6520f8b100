"""Five tests for a head that is too high: what each shows on one car, and which cars it can tell apart."""

from dataclasses import dataclass
from itertools import combinations
from math import hypot

from course.evidence.direction_table import TWO_READINGS, least_changes
from course.physics.at_rest import rest_pressure
from course.physics.faults import with_faults
from course.physics.readings import Instruments
from course.physics.refrigerant import saturation_at_pressure, saturation_at_temperature
from course.tables import read_service_numbers
from course.units import (
    G_PER_KG,
    PA_PER_KPA,
    absolute_from_gauge_pa,
    gauge_from_absolute_pa,
    kelvin_to_celsius,
)

# test: what it costs, min; assumed: a gauge and a thermometer in hand, a drive, a soak in the shade, a whole recovery
MINUTES = {
    "above_entering_air_k": 3.0,
    "subcooling_k": 5.0,
    "head_driving_kpa_gauge": 15.0,
    "standing_above_chart_kpa": 60.0,
    "charge_g": 45.0,
}


@dataclass(frozen=True)
class HeadTests:
    """What the head and the five tests show on one car."""

    head_kpa_gauge: float  # kPa gauge, standing
    above_entering_air_k: float  # K that the chart's temperature at the head lies above the air entering the condenser
    subcooling_k: float  # K, from the gauge
    head_driving_kpa_gauge: float  # kPa gauge on the road
    standing_above_chart_kpa: float  # kPa that the standing pressure lies above the chart's
    charge_g: float  # g in it, as a whole recovery would weigh


def _standing_above_chart(run):
    soaked_c = kelvin_to_celsius(run.conditions.ambient)
    car = with_faults(run.system, run.faults)
    stands = rest_pressure(car, temperature_c=soaked_c, charge_fraction=run.charge_fraction, air_kg=car.air_mass)
    chart = saturation_at_temperature(car.refrigerant, run.conditions.ambient).pressure
    return stands - gauge_from_absolute_pa(chart, 0.0) / PA_PER_KPA


def head_tests(standing, driving):
    """The head of one car and the five tests of it.

    Parameters
    ----------
    standing : BenchRun
        The car at a standstill.
    driving : BenchRun
        The same car on the same day on the road.

    Returns
    -------
    HeadTests
        Every number, without error of instruments [kPa, K, g].

    Raises
    ------
    OutOfRange
        When the soak temperature or the pressure is off the chart.

    Notes
    -----
    Sea level. The standing pressure is that of a car soaked to the air outside; below the chart means that no liquid is
    left. Spraying water on the condenser is not modelled.

    Examples
    --------
    A sedan never evacuated before it was filled stands above the chart, an overfilled one does not:

    >>> from course.physics.bench import run_bench
    >>> def tests(**settings):
    ...     return head_tests(run_bench("sedan", **settings), run_bench("sedan", road_speed_km_h=60.0, **settings))
    >>> round(tests(faults={"air_in_system": 1.0}).standing_above_chart_kpa, -1)
    120.0
    >>> abs(tests(charge_fraction=1.4).standing_above_chart_kpa) < 0.1
    True
    """
    pressure = absolute_from_gauge_pa(standing.high_side_kpa_gauge * PA_PER_KPA)
    chart = saturation_at_pressure(standing.system.refrigerant, pressure).temperature
    return HeadTests(
        head_kpa_gauge=standing.high_side_kpa_gauge,
        above_entering_air_k=chart - standing.conditions.ambient,
        subcooling_k=standing.subcooling_k,
        head_driving_kpa_gauge=driving.high_side_kpa_gauge,
        standing_above_chart_kpa=_standing_above_chart(standing),
        charge_g=standing.charge_kg * G_PER_KG,
    )


def least_differences(well):
    """The least difference between two cars that each test can show.

    Parameters
    ----------
    well : BenchRun
        The healthy car.

    Returns
    -------
    HeadTests
        Least difference for each number [kPa, K, g].

    Raises
    ------
    OutOfRange
        When the pressure is off the chart.

    Notes
    -----
    As course.evidence.direction_table.least_changes; the standing pressure carries gauge and thermometer through the
    chart, the weight what a recovery machine may be off (data/service/recovery.toml).

    Examples
    --------
    A high gauge off by 35 kPa, read on two cars:

    >>> from course.physics.bench import run_bench
    >>> round(least_differences(run_bench("sedan")).head_kpa_gauge, 1)
    49.5
    """
    of, least = Instruments(), least_changes(well)
    warmer, colder = (
        saturation_at_temperature(well.system.refrigerant, well.conditions.ambient + step).pressure / PA_PER_KPA
        for step in (0.5, -0.5)
    )
    standing = TWO_READINGS * hypot(of.low_gauge_kpa, of.pipe_thermometer_k * (warmer - colder))
    weight = TWO_READINGS * read_service_numbers("recovery").value("published", "display_error_g")
    high, difference = least["high_side"], least["subcooling"]
    return HeadTests(high, difference, difference, high, standing, weight)


def alike(cars, tests, least):
    """The pairs of cars that none of the tests tells apart.

    Parameters
    ----------
    cars : dict of str to HeadTests
        Every car by its letter.
    tests : collection of str
        The tests done, by the names of HeadTests.
    least : HeadTests
        From least_differences.

    Returns
    -------
    list of tuple of str
        Pairs of letters, in order.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A pair is told apart when one test differs by more than its least difference.

    Examples
    --------
    >>> one, other, least = (HeadTests(0.0, 0.0, size, 0.0, 0.0, 0.0) for size in (10.0, 14.0, 2.0))
    >>> alike({"A": one, "B": other}, [], least), alike({"A": one, "B": other}, ["subcooling_k"], least)
    ([('A', 'B')], [])
    """
    return [
        (one, other)
        for one, other in combinations(cars, 2)
        if not any(abs(getattr(cars[one], test) - getattr(cars[other], test)) > getattr(least, test) for test in tests)
    ]
