"""How much a car may lose before it stops cooling, and how long a leak takes to get there."""

from dataclasses import dataclass

from course.errors import WorkbookError, check_range
from course.physics.bench import charge_curve, run_bench
from course.tables import read_leak_limits
from course.units import DAYS_PER_YEAR

STEP = 0.05  # - of the label charge: how finely the way down is searched before it is halved
FINEST = 0.002  # - of the label charge: about a gram
LEAST_FRACTION = 0.05  # - below it the search ends; assumed


@dataclass(frozen=True)
class CriticalCharge:
    """The charge at which a car begins to fail in given weather."""

    fraction: float  # -, of the label charge
    charge_g: float  # g
    label_g: float  # g
    sign: str  # what gives up first: "vents", "superheat" or "held off"
    sentence: str


def _given_up(run, full):
    """What has given up in a run, against the same car and weather at full charge; an empty word while all is well."""
    limits = read_leak_limits().giving_up
    if run.clutch_on_fraction == 0.0:
        return "held off"
    if run.superheat_k > full.superheat_k + limits["superheat_rise_k"].value:
        return "superheat"
    return "vents" if run.vent_c > full.vent_c + limits["vent_rise_k"].value else ""


def critical_charge(system, **settings):
    """The charge, on the way down from full, at which this car's vents or its superheat give up.

    Parameters
    ----------
    system : str or CarSystem
        An id from data/systems, or a car.
    **settings
        The weather and whatever else run_bench takes, but for the charge [as run_bench].

    Returns
    -------
    CriticalCharge
        Share of the label, grams, and what gave up first.

    Raises
    ------
    UnknownChoice, OutOfRange, CycleNotSolved
        As run_bench.
    WorkbookError
        When the car does not cool at full charge either, or cools to the last.

    Notes
    -----
    Defined here as the highest charge at which the vents are 3 K warmer than at full charge, or the evaporator's
    superheat 10 K higher, or the low-pressure switch holds the compressor off (3 and 10 K assumed). Common practice has
    drivers notice at 60-70 % and the cut-off at 40-50 %; the simulated cars hold out longer in this weather, since their
    storage was calibrated so: take the answer as this model's, not as a car's.

    Examples
    --------
    >>> critical = critical_charge("pickup")
    >>> 0.4 < critical.fraction < 0.7, critical.sign
    (True, 'superheat')
    """
    fractions = [1.0 - STEP * number for number in range(round((1.0 - LEAST_FRACTION) / STEP) + 1)]
    full, *lower = charge_curve(system, fractions, **settings)
    if full.clutch_on_fraction == 0.0:
        raise WorkbookError(
            "This car does not run at full charge in this weather, so no loss can be blamed: choose a warmer day or take "
            "the fault out."
        )
    above, below = 1.0, None
    for run in lower:
        if _given_up(run, full):
            below = run
            break
        above = run.charge_fraction
    if below is None:
        raise WorkbookError(
            "In this weather the car cools down to the last twentieth of its charge: choose a hotter day."
        )
    while above - below.charge_fraction > FINEST:
        middle = run_bench(system, charge_fraction=0.5 * (above + below.charge_fraction), **settings)
        if _given_up(middle, full):
            below = middle
        else:
            above = middle.charge_fraction
    return _critical(below, _given_up(below, full))


def _critical(run, sign):
    words = {
        "vents": f"the vents are at {run.vent_c:.0f} °C",
        "superheat": f"the evaporator's superheat is {run.superheat_k:.0f} K",
        "held off": "the low-pressure switch holds the compressor off",
    }
    label = run.system.label_charge * 1000.0
    sentence = f"At {100.0 * run.charge_fraction:.0f} % of the label, {run.charge_kg * 1000.0:.0f} g, {words[sign]}."
    return CriticalCharge(run.charge_fraction, run.charge_kg * 1000.0, label, sign, sentence)


def years_to_charge(start_g, end_g, leak_g_per_year):
    """How long a leak takes from one charge to a lower one.

    Parameters
    ----------
    start_g : float
        Charge to begin with, up to 5,000 [g].
    end_g : float
        Charge at the end, 0 to the start [g].
    leak_g_per_year : float
        Leak, 0.1 to 1,000,000 [g/yr].

    Returns
    -------
    float
        Time [yr].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    A steady leak: right while liquid is in the circuit, since the pressure stays, and too short after that.

    Examples
    --------
    500 g down to four fifths, at 15, 40, 100, 160 and 300 g/yr:

    >>> [round(years_to_charge(500.0, 400.0, leak), 2) for leak in (15.0, 40.0, 100.0, 160.0, 300.0)]
    [6.67, 2.5, 1.0, 0.62, 0.33]
    """
    start = check_range("charge at the start", start_g, 0.0, 5000.0, "g", "give what was in the car")
    end = check_range("charge at the end", end_g, 0.0, start, "g", "a leak leaves less than there was")
    leak = check_range("leak", leak_g_per_year, 0.1, 1e6, "g/yr", "below that it takes longer than a car lasts")
    return (start - end) / leak


def years_until_it_gives_up(system, leak_g_per_year, *, start_fraction=1.0, **settings):
    """How long this car goes on cooling with a leak.

    Parameters
    ----------
    system : str or CarSystem
        An id from data/systems, or a car.
    leak_g_per_year : float
        Leak, 0.1 to 1,000,000 [g/yr].
    start_fraction : float
        Share of the label charge that is in it now, 0 to 1.4 [-].
    **settings
        The weather in which it has to cool [as run_bench].

    Returns
    -------
    tuple of float and CriticalCharge
        Time [yr], nought when it is past it already, and the charge at which it gives up.

    Raises
    ------
    UnknownChoice, OutOfRange, CycleNotSolved, WorkbookError
        As critical_charge.

    Notes
    -----
    critical_charge and years_to_charge.

    Examples
    --------
    A pickup with a new car's average leak goes on for decades, with a topped-off one's for weeks:

    >>> [years_until_it_gives_up("pickup", leak)[0] > 0.2 for leak in (15.1, 2900.0)]
    [True, False]
    """
    start = check_range("charge", start_fraction, 0.0, 1.4, "of the label charge", "give it as a share of one")
    critical = critical_charge(system, **settings)
    there = start * critical.label_g
    if there <= critical.charge_g:
        return 0.0, critical
    return years_to_charge(there, critical.charge_g, leak_g_per_year), critical


def leak_from_days_cooled(filled_g, critical_g, days, *, filled_error_g=0.0, critical_error_g=0.0):
    """The leak of a car that was filled, cooled again for some days, and stopped.

    Parameters
    ----------
    filled_g : float
        Charge after filling, up to 5,000 [g].
    critical_g : float
        Charge at which this car stops cooling, 0 to what was filled [g].
    days : float
        Days it cooled, 0.01 to 7,300 [days].
    filled_error_g, critical_error_g : float
        One standard deviation of each, 0 to 5,000 [g].

    Returns
    -------
    tuple of float
        Leak and one standard deviation of it [g/yr].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    What was lost over the time. A can emptied into a car of unknown charge leaves both charges unknown: say so in the
    errors. The customer's day on which it "stopped" depends on the weather.

    Examples
    --------
    600 g, cooling gone at 60 %, 30 days: about 2,900 g/yr:

    >>> round(leak_from_days_cooled(600.0, 360.0, 30.0)[0], -2)
    2900.0
    """
    filled = check_range("charge after filling", filled_g, 0.0, 5000.0, "g", "give what was in the car")
    critical = check_range("critical charge", critical_g, 0.0, filled, "g", "a car cannot stop at more than was filled")
    cooled = check_range("days it cooled", days, 0.01, 7300.0, "days", "a car empty within minutes is heard")
    one, other = (
        check_range("error of a charge", error, 0.0, 5000.0, "g", "give one standard deviation")
        for error in (filled_error_g, critical_error_g)
    )
    yearly = DAYS_PER_YEAR / cooled
    return (filled - critical) * yearly, (one**2 + other**2) ** 0.5 * yearly
