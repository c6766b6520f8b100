"""A car's record worked out before anything is connected: what leaks, whether that is normal, how long a filling lasts."""

import datetime
import re
from dataclasses import dataclass
from functools import lru_cache

from course.errors import check_choice
from course.physics.car_file import load_system
from course.service.critical_charge import CriticalCharge, critical_charge
from course.service.emissions import co2_equivalent_kg
from course.service.leak_rate import SURE, LeakRate, ServiceEntry, Verdict, compare, judge, leak_from_record
from course.tables import read_leak_histories
from course.units import DAYS_PER_YEAR, G_PER_OUNCE

LEAST_LEAK_G_PER_YEAR = 0.1  # g/yr; a filling then outlasts the car, and no time is worked out
GRAMS = {"": 1.0, "g": 1.0, "oz": G_PER_OUNCE}  # g in one of them; a bare number is grams
AMOUNT = re.compile(r"\s*(-?\d+(?:\.\d+)?)\s*(g|oz|)\s*", flags=re.IGNORECASE)


@dataclass(frozen=True)
class History:
    """The record of an invented car, as it came in."""

    name: str
    car: str  # id of data/systems
    looked_at: datetime.date
    told: str  # what the owner says
    entries: tuple  # of ServiceEntry


@dataclass(frozen=True)
class Findings:
    """What a record amounts to for this very car."""

    leak: LeakRate
    verdict: Verdict
    critical: CriticalCharge  # where this car stops cooling
    reserve_g: float  # g it may lose from its label's charge before that
    days_a_filling_lasts: tuple  # days, least, middle and most; None for never within a car's life
    co2_kg_per_year: float  # kg of carbon dioxide that warm as much
    co2_charge_kg: float  # kg, the same for one vented charge
    comparisons: tuple  # of Comparison: published figures beside it


def load_history(name):
    """The record of an invented car.

    Parameters
    ----------
    name : str
        A history of data/service/leak_histories.toml.

    Returns
    -------
    History
        The car, the day it is looked at, what the owner says, and the entries.

    Raises
    ------
    UnknownChoice
        When there is no such history.

    Notes
    -----
    Some of them hold wrong entries on purpose.

    Examples
    --------
    >>> len(load_history("topped_off_again").entries)
    5
    """
    histories = read_leak_histories()
    table = histories[check_choice("history", name, histories)]
    entries = tuple(ServiceEntry(one.date, one.what, float(one.amount_g.value)) for one in table.entry)
    return History(table.name, table.car, table.looked_at, table.told, entries)


def amount_g(written):
    """An amount as somebody writes it, in grams; what cannot be read stays as it was written.

    Parameters
    ----------
    written : str
        Such as "340", "340 g" or "12 oz" [g or oz of mass].

    Returns
    -------
    float or str
        Mass [g], or the same text, for record_problems to complain of.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A comma is left alone: it means thousands here and tenths there.

    Examples
    --------
    >>> amount_g("340 g"), round(amount_g("12 oz"), 1), amount_g("1,5")
    (340.0, 340.2, '1,5')
    """
    found = AMOUNT.fullmatch(written)
    return float(found[1]) * GRAMS[found[2].lower()] if found else written


@lru_cache(maxsize=8)
def _critical(car):
    return critical_charge(car)


def work_out(entries, *, car, today, evaporators=1):
    """Everything that can be said from a record before a gauge is connected.

    Parameters
    ----------
    entries : sequence of ServiceEntry
        In the order of the record.
    car : str
        An id from data/systems.
    today : datetime.date
        The day it is looked at.
    evaporators : int
        1 or 2.

    Returns
    -------
    Findings
        Leak, verdict, critical charge, how long a filling lasts, and its weight in carbon dioxide.

    Raises
    ------
    UnknownChoice, OutOfRange, WorkbookError
        As leak_from_record, judge and critical_charge.

    Notes
    -----
    A filling lasts from the label's charge to the critical one in the bench's first weather (35 °C), at the leak less and
    plus two standard deviations. The lesson's cars are no real cars: take the way of reckoning.

    Examples
    --------
    The sedan that was topped off four times: about 2,890 g a year, and a filling lasts about a month:

    >>> history = load_history("topped_off_again")
    >>> found = work_out(history.entries, car=history.car, today=history.looked_at)
    >>> round(found.leak.g_per_year, -1), 25.0 < found.days_a_filling_lasts[1] < 40.0, found.verdict.word
    (2890.0, True, 'abnormal')
    """
    system, critical = load_system(car), _critical(car)
    leak = leak_from_record(entries, label_charge_g=critical.label_g, today=today)
    margin = SURE * leak.error_g_per_year
    reserve = critical.label_g - critical.charge_g
    rates = (leak.g_per_year + margin, leak.g_per_year, leak.g_per_year - margin)
    return Findings(
        leak,
        judge(leak, evaporators=evaporators),
        critical,
        reserve,
        tuple(DAYS_PER_YEAR * reserve / rate if rate > LEAST_LEAK_G_PER_YEAR else None for rate in rates),
        co2_equivalent_kg(max(leak.g_per_year, 0.0), system.refrigerant),
        co2_equivalent_kg(critical.label_g, system.refrigerant),
        compare(leak, charge_g=critical.label_g),
    )


def charge_course(entries, g_per_year, *, label_charge_g, until):
    """What was in the car all along, if it leaked at one rate: corners of a saw.

    Parameters
    ----------
    entries : sequence of ServiceEntry
        In the order of the record.
    g_per_year : float
        The leak [g/yr].
    label_charge_g : float
        The label's charge, taken for the beginning where nothing was filled from empty [g].
    until : datetime.date
        Where the course ends.

    Returns
    -------
    tuple of tuple
        Days since the first entry and grams in the car, corner by corner; two corners on the day of an entry.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A steady leak, never below nothing. A weighed recovery empties the car.

    Examples
    --------
    >>> day = datetime.date
    >>> saw = [ServiceEntry(day(2026, 3, 1), "charged", 480.0), ServiceEntry(day(2026, 3, 31), "topped_off", 200.0)]
    >>> [(days, round(grams)) for days, grams in charge_course(saw, 2435.0, label_charge_g=480.0, until=day(2026, 4, 10))]
    [(0, 480), (30, 280), (30, 480), (40, 413)]
    """
    first, corners, inside, before = entries[0].date, [], label_charge_g, entries[0].date
    for entry in entries:
        inside = max(inside - g_per_year * (entry.date - before).days / DAYS_PER_YEAR, 0.0)
        if entry.date != first:
            corners.append(((entry.date - first).days, inside))
        if entry.what == "topped_off":
            inside += entry.grams if entry.date != first else 0.0
        else:
            inside = entry.grams if entry.what == "charged" else 0.0
        corners.append(((entry.date - first).days, inside))
        before = entry.date
    if until > before:
        inside = max(inside - g_per_year * (until - before).days / DAYS_PER_YEAR, 0.0)
        corners.append(((until - first).days, inside))
    return tuple(corners)
