"""Which reading to take next: what each one would leave of the list of suspects, and what it costs in minutes."""

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np

from course.errors import CycleNotSolved, check_choice, check_range
from course.evidence import car_population as population
from course.evidence.reasoner import between_runs, log_likelihood, probabilities
from course.physics.car_file import load_system
from course.physics.faults import fits
from course.tables import system_ids

# what is left on the list once eyes and ears were used. Left out: clutch and fan, which are seen to turn; nothing wrong,
# for the vent was felt; moisture, which shows only below freezing; a dead compressor, the far end of a worn one; a large
# orifice, which hardly moves a needle; a valve stuck closed, which reads like a blocked one and costs the same part.
SUSPECTS = (
    "undercharge",
    "overcharge",
    "restricted_liquid_line",
    "restricted_metering_device",
    "txv_stuck_open",
    "worn_compressor",
    "condenser_airflow_low",
    "evaporator_airflow_low",
    "air_in_system",
    "warm_air_mixing",
)
NODES = 7  # severities at which a suspect is run; thirteen give the same chances within a percent or two and take twice the time
PIECES = 40  # how finely the badness of a suspect is summed over
OUTCOMES = 60  # of a reading that are tried for each suspect
LAST_CAR = 9999  # the highest number a car can have
SEED = 13  # of the dice; a car's number comes beside it
TRIES = 20  # draws before a car without a steady state is given up
SURE = 0.9  # - of probability, at which naming is worth more than another reading; assumed
LEAST_GAIN = 0.05  # bits; less than this cannot be told from the scatter of the outcomes that are tried


class Reading(NamedTuple):
    """One thing to read: its name, which of the population's readings it gives, and its time."""

    name: str
    columns: tuple
    minutes: float  # min, the learner's clock; all assumed, for a car that is warm and stands in the bay


READINGS = {
    "vent": Reading("vent", (4,), 2.0),
    "suction_line": Reading("suction line", (6,), 3.0),
    "liquid_line": Reading("liquid line", (5,), 3.0),
    "discharge": Reading("discharge line", (7,), 3.0),
    "condenser_outlet": Reading("condenser outlet", (3,), 4.0),
    "evaporator_outlet": Reading("evaporator outlet", (2,), 5.0),
    "gauges": Reading("both gauges", (0, 1), 10.0),  # the refrigerant is identified first
    "weight": Reading("recover and weigh", (9,), 40.0),
    "at_rest": Reading("pressure at rest", (8,), 180.0),  # it stands until all of it is as warm as the day
}


class Suspect(NamedTuple):
    """What one trouble would show: one row and one covariance for each piece of its badness."""

    trouble: str
    readings: np.ndarray
    covariance: np.ndarray


@dataclass(frozen=True)
class Mystery:
    """An invented car with one trouble that nobody has told yet."""

    number: int
    day: population.Day
    troubles: tuple  # of str: everything on the list
    case: population.Case  # the truth, and what the instruments would show

    @cached_property
    def suspects(self):
        """What each trouble on the list would show on this day; a hundred runs, made when they are first asked for."""
        return tuple(_suspect(self.day, trouble) for trouble in self.troubles)

    @cached_property
    def sound(self):
        """What a sound car of this kind would show on this day, in the order of the population's readings."""
        sound = dict.fromkeys(population.ORDINARY, 0.0) | {"charge_fraction": 1.0}
        return population.exact_readings(self.day, "no_fault", 1.0, sound)[0]


class Worth(NamedTuple):
    """What a reading would do to the list."""

    reading: str
    suspects_left: float  # as many equally likely ones, on average
    bits_per_minute: float  # 1/min; one bit halves the list
    first_if_wrong: float  # - to what the first suspect's chance falls, on average, should it be the wrong one


def suspects_of(car):
    """The list of suspects for a car.

    Parameters
    ----------
    car : str
        Id from data/systems.

    Returns
    -------
    tuple of str
        Trouble ids.

    Raises
    ------
    UnknownChoice
        When there is no such car.

    Notes
    -----
    What the car has no part for is left out.

    Examples
    --------
    >>> set(suspects_of("sedan")) - set(suspects_of("pickup"))
    {'txv_stuck_open'}
    """
    system = load_system(car)
    return tuple(name for name in SUSPECTS if name in population.BY_CHARGE or fits(name, system))


def _suspect(day, trouble):
    """A trouble as it would show on a car of this kind that is not this very car."""
    expected = population.expected_readings(day, trouble, nodes=NODES)
    rows, spread = between_runs(expected.badness, expected.readings, expected.spread, pieces=PIECES)
    widths = population.instrument_errors(day, rows) ** 2 + population.CAR_TO_CAR**2
    return Suspect(trouble, rows, spread + widths[:, :, None] * np.eye(widths.shape[1]))


def _drawn(day, names, random):
    """A car with one of the suspects, each as likely as any other."""
    for _ in range(TRIES):
        try:
            case = population.draw_case(day, names[random.integers(len(names))], random)
        except CycleNotSolved:
            continue
        apart = random.standard_normal(len(population.READINGS)) * population.CAR_TO_CAR
        return case._replace(measured=case.measured + apart)
    raise CycleNotSolved("This car finds no steady state; take the next number.")


def begin_mystery(number):
    """A car comes in: its day is known, its trouble is not.

    Parameters
    ----------
    number : int
        The same number is the same car, 0 to 9,999.

    Returns
    -------
    Mystery
        The car with everything that could be read on it.

    Raises
    ------
    OutOfRange
        When the number is outside its range.
    CycleNotSolved
        When no steady state was found for it.

    Notes
    -----
    Drawn as in the study of separating power, with sound cars that differ from one another. The cars take turns.

    Examples
    --------
    >>> mystery = begin_mystery(4)
    >>> mystery.case.trouble in mystery.troubles
    True
    """
    number = int(check_range("car number", number, 0, LAST_CAR, "", "choose a whole number in that range"))
    random = np.random.default_rng([SEED, number])
    cars = system_ids()
    day = population.draw_day(cars[number % len(cars)], random)
    names = suspects_of(day.car)
    return Mystery(number, day, names, _drawn(day, names, random))


def columns_of(taken):
    """Which of the population's readings have been read.

    Parameters
    ----------
    taken : sequence of str
        Ids of READINGS.

    Returns
    -------
    list of int
        Places in course.evidence.car_population.READINGS.

    Raises
    ------
    UnknownChoice
        When there is no such reading.

    Notes
    -----
    In the order in which they were taken.

    Examples
    --------
    >>> columns_of(["gauges", "vent"])
    [0, 1, 4]
    """
    return [column for name in taken for column in READINGS[check_choice("reading", name, READINGS)].columns]


def chances(mystery, taken):
    """How probable each suspect is after what was read.

    Parameters
    ----------
    mystery : Mystery
        The car.
    taken : sequence of str
        Ids of READINGS.

    Returns
    -------
    numpy.ndarray
        One for each suspect; they sum to one [-].

    Raises
    ------
    UnknownChoice
        When there is no such reading.

    Notes
    -----
    Bayes' rule of course.evidence.reasoner. Before anything is read all suspects are alike.

    Examples
    --------
    >>> [round(float(chance), 2) for chance in chances(begin_mystery(4), [])][:2]
    [0.11, 0.11]
    """
    columns = columns_of(taken)
    even = np.full(len(mystery.troubles), 1.0 / len(mystery.troubles))
    if not columns:
        return even
    seen = mystery.case.measured[None, columns]
    logs = [
        log_likelihood(seen, one.readings[:, columns], one.covariance[:, columns][:, :, columns])[0]
        for one in mystery.suspects
    ]
    return probabilities(np.array([logs]), even)[0]


def suspects_left(chances_now):
    """How many equally likely suspects are as hard to choose from as this list.

    Parameters
    ----------
    chances_now : numpy.ndarray
        Probabilities that sum to one along the last axis [-].

    Returns
    -------
    numpy.ndarray or float
        One when it is certain, the length of the list when all are alike.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Two to the power of the entropy in bits (C. E. Shannon, Bell System Technical Journal 27, 1948; from memory).

    Examples
    --------
    >>> [round(float(suspects_left(np.array(row))), 2) for row in ([0.5, 0.5, 0.0], [1.0, 0.0, 0.0])]
    [2.0, 1.0]
    """
    return 2.0 ** _bits(chances_now)


def _bits(chances_now):
    shares = np.asarray(chances_now)
    return -(shares * np.log2(np.where(shares > 0.0, shares, 1.0))).sum(axis=-1)


def _expected_now(suspect, columns, seen):
    """Weights of the pieces after what was read, and what each piece now expects of every reading."""
    rows, spread = suspect.readings, suspect.covariance
    if not columns:
        return np.full(len(rows), 1.0 / len(rows)), rows, spread
    known = spread[:, columns][:, :, columns]
    pull = np.linalg.solve(known, spread[:, columns])
    off = seen - rows[:, columns]
    logs = -0.5 * np.einsum("pi,pij,pj->p", off, np.linalg.inv(known), off) - 0.5 * np.linalg.slogdet(known)[1]
    weights = np.exp(logs - logs.max())
    means = rows + np.einsum("pi,pij->pj", off, pull)
    return weights / weights.sum(), means, spread - np.einsum("pic,pij->pcj", spread[:, columns], pull)


def _densities(outcomes, weights, means, spread):
    """How likely each outcome is under one suspect."""
    lower = np.linalg.cholesky(spread)
    scaled = np.linalg.solve(lower, np.swapaxes(outcomes[None] - means[:, None], 1, 2))
    size = np.prod(np.diagonal(lower, axis1=1, axis2=2), axis=1) * (2.0 * np.pi) ** (means.shape[1] / 2.0)
    return (weights / size) @ np.exp(-0.5 * (scaled**2).sum(axis=1))


def _outcomes(random, weights, means, spread):
    """Readings as this suspect would give them; its pieces come as often as their weights say."""
    places = (np.arange(OUTCOMES) + 0.5) / OUTCOMES
    pieces = np.minimum(np.searchsorted(np.cumsum(weights), places), len(weights) - 1)
    lower = np.linalg.cholesky(spread)[pieces]
    return means[pieces] + np.einsum("oij,oj->oi", lower, random.standard_normal((OUTCOMES, means.shape[1])))


def after_each_outcome(mystery, taken, reading):
    """What the chances could become when a reading is taken: a number of outcomes of each suspect.

    Parameters
    ----------
    mystery : Mystery
        The car; what its instruments would show is not looked at beyond what was taken.
    taken : sequence of str
        Ids of READINGS.
    reading : str
        The one to be taken.

    Returns
    -------
    numpy.ndarray
        Chances by suspect that is the truth, outcome, and suspect [-].

    Raises
    ------
    UnknownChoice
        When there is no such reading.

    Notes
    -----
    Normal errors about the runs, given what was read; the same dice each time, so that two readings are compared fairly.

    Examples
    --------
    Weighed with the chances now, the chances to come add up to the chances now:

    >>> mystery = begin_mystery(4)
    >>> mean = np.einsum("t,tos->s", chances(mystery, []), after_each_outcome(mystery, [], "vent")) / OUTCOMES
    >>> bool(np.allclose(mean, chances(mystery, []), atol=0.02))
    True
    """
    columns, wanted = columns_of(taken), columns_of([reading])
    seen = mystery.case.measured[columns]
    random = np.random.default_rng(SEED)
    expected = []
    for suspect in mystery.suspects:
        weights, means, spread = _expected_now(suspect, columns, seen)
        expected.append((weights, means[:, wanted], spread[:, wanted][:, :, wanted]))
    outcomes = np.concatenate([_outcomes(random, *one) for one in expected])
    likely = np.array([_densities(outcomes, *one) for one in expected]) * chances(mystery, taken)[:, None]
    return (likely / likely.sum(axis=0)).T.reshape(len(expected), OUTCOMES, len(expected))


def worth_of_each(mystery, taken):
    """What every reading that is left would do to the list, the best for its minutes first.

    Parameters
    ----------
    mystery : Mystery
        The car.
    taken : sequence of str
        Ids of READINGS.

    Returns
    -------
    list of Worth
        Suspects left on average, the gain for a minute, and what it does to the first suspect should that be wrong.

    Raises
    ------
    UnknownChoice
        When there is no such reading.

    Notes
    -----
    Gain = bits now less bits expected after it. One step ahead only: two readings that are worth something only together
    are not seen.

    Examples
    --------
    >>> worth = worth_of_each(begin_mystery(4), ["gauges"])
    >>> all(one.suspects_left >= 1.0 for one in worth), len(worth)
    (True, 8)
    """
    now = chances(mystery, taken)
    first = int(now.argmax())
    others = np.where(np.arange(len(now)) == first, 0.0, now)
    before, worth = float(_bits(now)), []
    for name, reading in READINGS.items():
        if name in taken:
            continue
        outcomes = after_each_outcome(mystery, taken, name)
        after = float(now @ _bits(outcomes).mean(axis=1))
        if_wrong = float(others @ outcomes[:, :, first].mean(axis=1) / others.sum()) if others.sum() > 0.0 else 1.0
        worth.append(Worth(name, 2.0**after, (before - after) / reading.minutes, if_wrong))
    return sorted(worth, key=lambda one: -one.bits_per_minute)


def best_next_reading(mystery, taken):
    """The reading that shortens the list most for its minutes.

    Parameters
    ----------
    mystery : Mystery
        The car.
    taken : sequence of str
        Ids of READINGS.

    Returns
    -------
    Worth or None
        None when one suspect is sure enough, or nothing that is left would shorten the list.

    Raises
    ------
    UnknownChoice
        When there is no such reading.

    Notes
    -----
    See SURE and LEAST_GAIN.

    Examples
    --------
    >>> best_next_reading(begin_mystery(4), list(READINGS)) is None
    True
    """
    if chances(mystery, taken).max() >= SURE:
        return None
    worth = [
        one for one in worth_of_each(mystery, taken) if one.bits_per_minute * minutes_of([one.reading]) > LEAST_GAIN
    ]
    return worth[0] if worth else None


def minutes_of(taken):
    """How long the readings took.

    Parameters
    ----------
    taken : sequence of str
        Ids of READINGS.

    Returns
    -------
    float
        Time [min].

    Raises
    ------
    KeyError
        When there is no such reading.

    Notes
    -----
    Each one for itself; assumed.

    Examples
    --------
    >>> minutes_of(["vent", "gauges"])
    12.0
    """
    return sum(READINGS[name].minutes for name in taken)


def shortest_way(mystery):
    """The readings of somebody who always takes the best next one.

    Parameters
    ----------
    mystery : Mystery
        The car.

    Returns
    -------
    tuple of str
        Ids of READINGS, in order.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Always the best next step, which is not always the best way as a whole.

    Examples
    --------
    >>> len(shortest_way(begin_mystery(4))) <= len(READINGS)
    True
    """
    taken = []
    while (best := best_next_reading(mystery, taken)) is not None:
        taken.append(best.reading)
    return tuple(taken)
