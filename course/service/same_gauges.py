"""Why gauges cannot set a charge: two charges, two days, one and the same pair of pressures."""

from dataclasses import dataclass

import scipy

from course.errors import OutOfRange, check_range
from course.physics.bench import run_bench
from course.physics.system import BenchRun

LOW_KPA, HIGH_KPA = 5.0, 20.0  # kPa within which two needles are read as the same; half an instrument's error, assumed
AMBIENT_C, BLOWER, AIRFLOW_FAULT = (
    (15.0, 45.0),
    (0.3, 1.0),
    (0.0, 0.9),
)  # °C, share, severity: where the other day is sought


@dataclass(frozen=True)
class SameGauges:
    """Two runs of one car that no manifold can tell apart."""

    full: BenchRun  # at the label charge
    other: BenchRun  # at the other charge
    ambient_c: float  # °C of the other day
    blower_fraction: float  # - of the other day
    condenser_airflow_severity: float  # - of low airflow at the condenser on the other day
    low_apart_kpa: float  # kPa between the low gauges
    high_apart_kpa: float  # kPa between the high gauges


def same_gauges(system, charge_fraction, *, ambient_c=30.0, relative_humidity=0.5, **settings):
    """Find a day on which the same car with another charge shows the same two pressures.

    Parameters
    ----------
    system : str or CarSystem
        An id from data/systems, or a car.
    charge_fraction : float
        The other charge, 0.3 to 1.35 of the label's [-].
    ambient_c : float
        Outside air of the first day, at the label charge, 15 to 45 [°C].
    relative_humidity : float
        Of both days, 0.05 to 0.95 [-].
    **settings
        Everything else run_bench takes, the same on both days, in its units [as run_bench].

    Returns
    -------
    SameGauges
        Both runs, the other day, and how far apart the needles still are [kPa].

    Raises
    ------
    UnknownChoice, OutOfRange, CycleNotSolved
        As run_bench; also OutOfRange when there is no such day.

    Notes
    -----
    Weather, blower and condenser airflow are moved by least squares until both gauges agree within 5 and 20 kPa: three
    things to move, two needles to meet, so pressures alone can never give the charge back. Superheat, subcooling and
    the scale can. Starts from one mild day; a day it does not find may still exist.

    Examples
    --------
    The sedan at 55 % of its charge on a day three degrees warmer with the blower at two thirds:

    >>> pair = same_gauges("sedan", 0.55)
    >>> pair.low_apart_kpa < 5.0 and pair.high_apart_kpa < 20.0
    True
    """
    check_range("the other charge", charge_fraction, 0.3, 1.35, "of the label charge", "give it as a share of one")
    check_range("ambient temperature", ambient_c, *AMBIENT_C, "°C", "choose a day in that range")
    same = {"relative_humidity": relative_humidity, **settings}
    full = run_bench(system, ambient_c=ambient_c, **same)
    last = full

    def run(day):
        nonlocal last
        last = run_bench(
            system,
            ambient_c=float(day[0]),
            blower_fraction=float(day[1]),
            faults={"condenser_airflow_low": float(day[2])},
            charge_fraction=charge_fraction,
            previous=last,
            **same,
        )
        return last

    def apart(day):
        other = run(day)
        return (
            (other.low_side_kpa_gauge - full.low_side_kpa_gauge) / LOW_KPA,
            (other.high_side_kpa_gauge - full.high_side_kpa_gauge) / HIGH_KPA,
        )

    lowest, highest = zip(AMBIENT_C, BLOWER, AIRFLOW_FAULT, strict=True)
    start = (min(max(ambient_c, 16.0), 44.0), 0.8, 0.3)
    found = scipy.optimize.least_squares(apart, start, bounds=(lowest, highest), diff_step=1e-3, max_nfev=25)
    other = run(found.x)
    low = abs(other.low_side_kpa_gauge - full.low_side_kpa_gauge)
    high = abs(other.high_side_kpa_gauge - full.high_side_kpa_gauge)
    if low > LOW_KPA or high > HIGH_KPA:
        raise OutOfRange(
            f"the other charge: no day was found on which {100 * charge_fraction:.0f} % shows {full.low_side_kpa_gauge:.0f} and "
            f"{full.high_side_kpa_gauge:.0f} kPa gauge; choose a charge nearer to the label's or a milder day."
        )
    ambient, blower, severity = (float(one) for one in found.x)
    return SameGauges(full, other, ambient, blower, severity, low, high)
