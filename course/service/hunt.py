"""The leak hunt: a hidden leak or two, looks that cost time and money, and what is seen; the same seed is the same hunt."""

import math
from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from course.errors import WorkbookError, check_choice, check_range
from course.service.belief import STAIN_SEEN, Belief, after_cleaning, after_look, first_belief, possible_leaks
from course.service.leak_detection import Look, chance_of_false_alarm, chance_of_finding, minutes_needed
from course.tables import read_leak_hunt, read_leak_places

MINUTES_AN_HOUR = 60.0
# methods that say where, each with the states it can be used in
HUNT_METHODS = {
    "electronic": ("at_rest", "just_stopped", "running"),
    "bubbles": ("at_rest", "just_stopped", "running"),
    "uv_dye": ("at_rest",),
    "nitrogen_bubbles": ("nitrogen",),
    "tracer_gas": ("nitrogen",),
}
DYE_PORT = "low_side_port"  # where dye goes in, and is spilled
LASTING = ("uv_dye",)  # methods whose false signals are stains: they come back at every look until they are washed off
# kinds of leak, and the states in which each is open; dye gathers what comes out on the road, so it sees every kind
OPEN_IN = {
    "steady": ("at_rest", "just_stopped", "running", "nitrogen"),
    "hot": ("just_stopped", "running"),
    "running": ("running",),
}
DOORS = ("shut", "open", "aired")  # aired: open while waiting and setting up, shut for the look
LONGEST_WAIT_MINUTES, LONGEST_RIDE_DAYS = 60.0, 30.0


@dataclass(frozen=True)
class Leak:
    """One hidden leak."""

    place: str
    kind: str
    rate_g_per_year: float  # g/yr standing at 25 °C


@dataclass(frozen=True)
class Car:
    """What stands in the shop, and what the hunter cannot see of it."""

    seed: int
    leaks: tuple
    refrigerant: str = "R134a"
    temperature_c: float = 25.0  # °C, of the circuit and the shop
    charge_left_fraction: float = 0.8  # -, of the label charge


@dataclass(frozen=True)
class Step:
    """One look as the hunter chooses it."""

    place: str
    method: str
    state: str = "at_rest"
    care: float = 1.0  # -, 0 hurried to 1 by the book
    wait_minutes: float = 0.0  # min with blower and fans off before the look
    ride_days: float = 0.0  # days on the road before the look
    doors: str = "shut"  # one of DOORS


@dataclass(frozen=True)
class Seen:
    """One line of the log."""

    step: Step | None  # None: a wash
    place: str
    signal: bool
    minutes: float  # min this step took
    money: float  # of the invented shop


@dataclass(frozen=True)
class Hunt:
    """A hunt so far; every step gives a new one."""

    car: Car
    belief: Belief
    state: str = "at_rest"
    minutes: float = 0.0  # min of work
    days: float = 0.0  # days the car was out
    money: float = 0.0  # of the invented shop
    residue_g_per_year: float = 0.0  # g/yr, gas left in the air
    dyed_day: float | None = None  # day the dye went in
    washed: dict = field(default_factory=dict)  # place: (day, how often)
    stain_share: dict = field(default_factory=dict)  # place and method: chance of a stain when it was first looked for
    log: tuple = ()
    hints: int = 0


_look = lru_cache(maxsize=8192)(Look)  # planning asks for the same few looks thousands of times


@lru_cache(maxsize=65536)
def _chances(look, place, rates_g_per_year, refrigerant):
    there = read_leak_places()[place]
    by_rate = {rate: chance_of_finding(look, there, rate, refrigerant) for rate in set(rates_g_per_year)}
    return tuple(by_rate[rate] for rate in rates_g_per_year)


@lru_cache(maxsize=8192)
def _false_alarm(look, place):
    share = chance_of_false_alarm(look, read_leak_places()[place])
    splash = hunt_terms("chance")["splash_share"] if (place, look.method) == (DYE_PORT, "uv_dye") else 0.0
    return 1.0 - (1.0 - share) * (1.0 - splash)


@lru_cache(maxsize=8192)
def _minutes_at_once(look, place):
    return minutes_needed(replace(look, wait_minutes=0.0), read_leak_places()[place])


def _dice(seed, *purpose):
    return np.random.default_rng([seed, *purpose])


@lru_cache(maxsize=8)
def hunt_terms(group):
    """The numbers of one group of data/service/leak_hunt.toml.

    Parameters
    ----------
    group : str
        "work", "shop", "chance" or "marks".

    Returns
    -------
    dict of str to float
        By key; the unit is the end of the key.

    Raises
    ------
    AttributeError
        When there is no such group.

    Notes
    -----
    tables.read_leak_hunt gives the same numbers with the source of each.

    Examples
    --------
    >>> hunt_terms("work")["start_minutes"]
    5.0
    """
    return {key: quantity.value for key, quantity in getattr(read_leak_hunt(), group).items()}


def begin_hunt(seed, *, leaks="one", hidden=None, survey=None, **car):
    """A car in the shop with a leak nobody has found yet.

    Parameters
    ----------
    seed : int
        Number of the hunt, 0 or more: the same number is the same hunt on every machine.
    leaks : str
        "one", or "one_or_two" where there may be a second.
    hidden : sequence of Leak, optional
        The leaks, for a lesson's own case; drawn by the seed where none are given.
    survey : LeakPlacesTable, optional
        Places and weights; the workbook's own where none is given.
    **car : any
        Fields of Car for a lesson's own case, and residue_g_per_year; drawn by the seed where not given.

    Returns
    -------
    Hunt
        Before the first look.

    Raises
    ------
    UnknownChoice, OutOfRange
        When a choice is not known or the seed is below zero.

    Notes
    -----
    Place, kind and size are drawn with the same weights the hunter reckons with, so the map of chances is honest.

    Examples
    --------
    >>> begin_hunt(4).car == begin_hunt(4).car
    True
    """
    seed = int(check_range("number of the hunt", seed, 0, 2**31, "", "give a whole number"))
    check_choice("leaks", leaks, ("one", "one_or_two"))
    possible, shop, chance, dice = possible_leaks(survey), hunt_terms("shop"), hunt_terms("chance"), _dice(seed, 0)
    share = chance["two_leaks_share"] if leaks == "one_or_two" else 0.0
    drawn = _drawn_leaks(possible, dice, dice.random() < share)
    day = {
        "temperature_c": round(float(dice.uniform(shop["coldest_c"], shop["hottest_c"])), 1),
        "charge_left_fraction": round(float(dice.uniform(shop["least_charge_share"], shop["most_charge_share"])), 2),
    }
    residue = car.pop("residue_g_per_year", shop["residue_g_per_year"] * (dice.random() < shop["residue_share"]))
    whole = Car(seed, tuple(hidden) if hidden else drawn, **(day | car))
    return Hunt(whole, first_belief(possible, share), residue_g_per_year=float(residue))


def _drawn_leaks(possible, dice, two):
    rows = [int(dice.choice(len(possible.weight), p=possible.weight))]
    while two and len(rows) < 2:
        row = int(dice.choice(len(possible.weight), p=possible.weight))
        if possible.place[row] != possible.place[rows[0]]:
            rows.append(row)
    return tuple(
        Leak(possible.places[possible.place[row]], possible.kind[row], float(possible.rate_g_per_year[row]))
        for row in rows
    )


@lru_cache(maxsize=4096)
def _open_rates(possible, place, method, state):
    rows = np.flatnonzero(possible.place == possible.places.index(place))
    look = _look(method, state)
    return tuple(open_rate(possible.kind[row], float(possible.rate_g_per_year[row]), look) for row in rows)


def open_rate(kind, rate_g_per_year, look):
    """What a leak lets out while it is looked for, as its rate at rest; nought while it is shut.

    Parameters
    ----------
    kind : str
        "steady", "hot" or "running".
    rate_g_per_year : float
        The leak when open, standing at 25 °C [g/yr].
    look : Look
        The look.

    Returns
    -------
    float
        Rate [g/yr].

    Raises
    ------
    UnknownChoice
        When the kind is not known.

    Notes
    -----
    A hot leak is open while running and just after; a running one only while running; dye has gathered all of it on the road.
    Nitrogen and tracer gas meet a cold, dry, still circuit. Assumed.

    Examples
    --------
    >>> open_rate("running", 100.0, Look("electronic")), open_rate("running", 100.0, Look("uv_dye"))
    (0.0, 100.0)
    """
    states = OPEN_IN[check_choice("kind of leak", kind, OPEN_IN)]
    return rate_g_per_year if look.method == "uv_dye" or look.state in states else 0.0


def setup_minutes(hunt, step):
    """Time to bring car and tools to where a look can begin.

    Parameters
    ----------
    hunt : Hunt
        The hunt so far.
    step : Step
        The look that is wanted.

    Returns
    -------
    float
        Time [min].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Starting, settling, nitrogen in, refrigerant back, dye in: all assumed, see data/service/leak_hunt.toml.

    Examples
    --------
    >>> setup_minutes(begin_hunt(1), Step("shaft_seal", "electronic", "running"))
    5.0
    """
    work, state, total = hunt_terms("work"), hunt.state, 0.0
    if state == "nitrogen" and step.state != "nitrogen":
        state, total = "at_rest", work["refill_minutes"]
    if step.method == "uv_dye" and hunt.dyed_day is None:
        state, total = "running", total + work["dye_minutes"]
    if step.ride_days > 0.0:
        state = "running"
    if step.state == "nitrogen":
        return total if state == "nitrogen" else total + work["nitrogen_minutes"]
    if step.state in ("running", "just_stopped"):
        return total if state == "running" else total + work["start_minutes"]
    return total + work["settle_minutes"] if state == "running" and step.method != "uv_dye" else total


def the_look(hunt, step):
    """A step as the detection model takes it: with the air, the day and the dye as they then are.

    Parameters
    ----------
    hunt : Hunt
        The hunt so far.
    step : Step
        The look that is wanted.

    Returns
    -------
    Look
        For chance_of_finding.

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    Gas in the air thins out with time, faster with the doors open, which makes a draught; aired, they are shut again for the
    look. Dye counts from the day it went in, at a washed place from the wash.

    Examples
    --------
    >>> the_look(begin_hunt(1), Step("shaft_seal", "electronic", doors="open")).wind_m_s
    1.5
    """
    shop = hunt_terms("shop")
    waited = setup_minutes(hunt, step) + step.wait_minutes
    since = 0.0
    if step.method == "uv_dye":
        began = hunt.days if hunt.dyed_day is None else hunt.dyed_day
        began = max(began, hunt.washed.get(step.place, (0.0, 0))[0])
        since = hunt.days + step.ride_days - began
    first_ride = 0.25 if step.method == "uv_dye" else 0.0  # h, part of the time that putting dye in takes
    return _look(
        step.method,
        step.state,
        step.care,
        wind_m_s=shop["doors_open_m_s" if step.doors == "open" else "doors_shut_m_s"],
        background_g_per_year=_residue(hunt, waited, step.doors),
        temperature_c=hunt.car.temperature_c,
        charge_left_fraction=hunt.car.charge_left_fraction,
        dye_days=since,
        running_hours=first_ride + since * hunt_terms("work")["ride_hours_per_day"],
        wait_minutes=step.wait_minutes,
    )


def _residue(hunt, minutes, doors):
    """Gas left in the air after some minutes [g/yr]; whole numbers, since nobody reads it finer."""
    clears = hunt_terms("shop")["clears_shut_minutes" if doors == "shut" else "clears_open_minutes"]
    return float(round(hunt.residue_g_per_year * math.exp(-minutes / clears)))


def finds(hunt, look, place):
    """The chance that a look finds each possible leak at a place.

    Parameters
    ----------
    hunt : Hunt
        The hunt: its car and what can leak.
    look : Look
        The look.
    place : str
        Where.

    Returns
    -------
    list of float
        One chance for each possible leak there, in their order [-].

    Raises
    ------
    UnknownChoice
        When there is no such place.

    Notes
    -----
    leak_detection.chance_of_finding, for what each leak lets out in that state.

    Examples
    --------
    >>> hunt = begin_hunt(1)
    >>> chances = finds(hunt, the_look(hunt, Step("shaft_seal", "electronic")), "shaft_seal")
    >>> chances[0] <= chances[5] and chances[-1] == 0.0
    True
    """
    check_choice("place", place, read_leak_places())
    rates = _open_rates(hunt.belief.possible, place, look.method, look.state)
    return list(_chances(look, place, rates, hunt.car.refrigerant))


def false_share(hunt, look, place):
    """The chance that a look gives a signal without a leak.

    Parameters
    ----------
    hunt : Hunt
        The hunt so far.
    look : Look
        The look.
    place : str
        Where.

    Returns
    -------
    float
        Chance [-].

    Raises
    ------
    UnknownChoice
        When there is no such place.

    Notes
    -----
    leak_detection.chance_of_false_alarm, and dye spilled where it went in; a stain keeps the chance it had when it was first
    looked for, less after a wash.

    Examples
    --------
    >>> hunt = begin_hunt(1)
    >>> 0.0 < false_share(hunt, the_look(hunt, Step("shaft_seal", "electronic")), "shaft_seal") < 1.0
    True
    """
    fresh_share, method = _false_alarm(look, check_choice("place", place, read_leak_places())), look.method
    if method not in LASTING:
        return fresh_share
    washed = hunt_terms("chance")["wiped_factor"] if hunt.washed.get(place, (0.0, 0))[1] else 1.0
    return washed * hunt.stain_share.get((place, method), fresh_share)


def _signal(hunt, look, place, error_share):
    """Whether the hidden leaks, a stain or an error give a signal, by this hunt's dice."""
    dice = _dice(hunt.car.seed, 1, len(hunt.log))
    clear = 1.0
    for leak in hunt.car.leaks:
        if leak.place == place:
            rate = open_rate(leak.kind, leak.rate_g_per_year, look)
            clear *= 1.0 - _chances(look, place, (rate,), hunt.car.refrigerant)[0]
    if look.method in LASTING:
        number = list(read_leak_places()).index(place)
        stain = _dice(hunt.car.seed, 2, number, hunt.washed.get(place, (0.0, 0))[1]).random() < error_share
        error_share = STAIN_SEEN if stain else 0.0
    return bool(dice.random() < 1.0 - clear * (1.0 - error_share))


def check_step(step):
    """Refuse a step that cannot be made, with what to choose instead.

    Parameters
    ----------
    step : Step
        The look that is wanted.

    Returns
    -------
    Step
        The same step.

    Raises
    ------
    UnknownChoice, OutOfRange
        When a choice is not known or a number outside its range.
    WorkbookError
        When the method does not go with the state of the car.

    Notes
    -----
    A ride carries dye; without the lamp there is nothing to gather on it.

    Examples
    --------
    >>> check_step(Step("shaft_seal", "tracer_gas", "running"))
    Traceback (most recent call last):
    course.errors.WorkbookError: leak hunt: tracer gas cannot be used with the car running; choose nitrogen.
    """
    check_choice("place", step.place, read_leak_places())
    check_choice("doors", step.doors, DOORS)
    states = HUNT_METHODS[check_choice("method", step.method, HUNT_METHODS)]
    if step.state not in states:
        allowed = " or ".join(state.replace("_", " ") for state in states)
        raise WorkbookError(
            f"leak hunt: {step.method.replace('_', ' ')} cannot be used with the car {step.state.replace('_', ' ')}; "
            f"choose {allowed}."
        )
    check_range("wait", step.wait_minutes, 0.0, LONGEST_WAIT_MINUTES, "min", "a longer wait brings nothing more")
    check_range("ride", step.ride_days, 0.0, LONGEST_RIDE_DAYS, "days", "look in between")
    if step.ride_days > 0.0 and step.method != "uv_dye":
        raise WorkbookError("leak hunt: a ride helps the dye alone; choose no ride, or dye and lamp.")
    return step


def step_minutes(hunt, step):
    """Everything a step takes: setting up, waiting, looking.

    Parameters
    ----------
    hunt : Hunt
        The hunt so far.
    step : Step
        The look that is wanted.

    Returns
    -------
    float
        Time of work, rides not counted [min].

    Raises
    ------
    WorkbookError
        When the step cannot be made.

    Notes
    -----
    Time to look from leak_detection.minutes_needed, which counts the wait at the case alone; here any wait counts, once.

    Examples
    --------
    >>> hunt, step = begin_hunt(1), Step("shaft_seal", "electronic")
    >>> step_minutes(hunt, Step("shaft_seal", "electronic", "running")) > step_minutes(hunt, step)
    True
    """
    check_step(step)
    at_once = _minutes_at_once(the_look(hunt, step), step.place)
    return setup_minutes(hunt, step) + step.wait_minutes + at_once


def take_look(hunt, step):
    """Make one look and learn from it.

    Parameters
    ----------
    hunt : Hunt
        The hunt so far.
    step : Step
        The look.

    Returns
    -------
    Hunt
        With what was seen, what it took, and what is now believed; the old one is left as it was.

    Raises
    ------
    UnknownChoice, OutOfRange
        When a choice is not known or a number outside its range.
    WorkbookError
        When the step cannot be made.

    Notes
    -----
    The hunter reckons with the same chances by which the dice fall.

    Examples
    --------
    >>> after = take_look(begin_hunt(1), Step("shaft_seal", "electronic"))
    >>> len(after.log), after.minutes > 0.0
    (1, True)
    """
    minutes, look, work = step_minutes(hunt, step), the_look(hunt, step), hunt_terms("work")
    if step.method in LASTING:
        fresh_share = _false_alarm(look, step.place)
        hunt = replace(hunt, stain_share={(step.place, step.method): fresh_share} | hunt.stain_share)
    share = false_share(hunt, look, step.place)
    signal = _signal(hunt, look, step.place, share)
    lasting = step.method if step.method in LASTING else None
    known = after_look(hunt.belief, step.place, signal, finds(hunt, look, step.place), share, lasting)
    dyeing = step.method == "uv_dye" and hunt.dyed_day is None
    filling = step.state == "nitrogen" and hunt.state != "nitrogen"
    money = minutes / MINUTES_AN_HOUR * work["labour_money_per_hour"]
    money += dyeing * work["dye_money"] + filling * work["gas_money"]
    return replace(
        hunt,
        belief=known,
        state=_state_after(step),
        minutes=hunt.minutes + minutes,
        days=hunt.days + step.ride_days,
        money=hunt.money + money,
        residue_g_per_year=0.0 if step.ride_days else _residue(hunt, minutes, step.doors),
        dyed_day=hunt.days if dyeing else hunt.dyed_day,
        log=(*hunt.log, Seen(step, step.place, signal, minutes, money)),
    )


def _state_after(step):
    return "at_rest" if step.state == "just_stopped" else step.state


def wash(hunt, place):
    """Wash a place: old stains are gone, and dye has to come out anew.

    Parameters
    ----------
    hunt : Hunt
        The hunt so far.
    place : str
        What to wash.

    Returns
    -------
    Hunt
        The hunt after it; the old one is left as it was.

    Raises
    ------
    UnknownChoice
        When there is no such place.

    Notes
    -----
    A tenth of the false glow stays (assumed).

    Examples
    --------
    >>> wash(begin_hunt(1), "low_side_port").washed
    {'low_side_port': (0.0, 1)}
    """
    known, work = after_cleaning(hunt.belief, place), hunt_terms("work")
    minutes = work["wipe_minutes"]
    money = minutes / MINUTES_AN_HOUR * work["labour_money_per_hour"]
    often = hunt.washed.get(place, (0.0, 0))[1] + 1
    return replace(
        hunt,
        belief=known,
        minutes=hunt.minutes + minutes,
        money=hunt.money + money,
        washed=hunt.washed | {place: (hunt.days, often)},
        log=(*hunt.log, Seen(None, place, False, minutes, money)),
    )


def after_earlier_shop(hunt):
    """The hunt as it is when another shop went round the outside before: its looks are known, its time was its own.

    Parameters
    ----------
    hunt : Hunt
        A hunt that begins.

    Returns
    -------
    Hunt
        With one look at every place outside the case: electronic, engine off, by the book.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Clock and cost begin at nought.

    Examples
    --------
    >>> after = after_earlier_shop(begin_hunt(1))
    >>> len(after.log), after.minutes
    (24, 0.0)
    """
    for place, entry in read_leak_places().items():
        if entry.access != "inside_case":
            hunt = take_look(hunt, Step(place, "electronic"))
    return replace(hunt, minutes=0.0, money=0.0)
