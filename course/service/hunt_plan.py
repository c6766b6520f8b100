"""The best next look of a leak hunt, the best plan, and what a finished hunt is worth with its reasons."""

from dataclasses import dataclass

import numpy as np

from course.service.belief import ELSEWHERE, kinds_and_sizes, place_chances, signal_chances
from course.service.hunt import (
    LASTING,
    Step,
    false_share,
    finds,
    hunt_terms,
    setup_minutes,
    step_minutes,
    take_look,
    the_look,
)
from course.tables import read_leak_places

CASE_WAIT_MINUTES = 13.0  # min for gas to gather in the case: one detector maker's figure, second-hand
AIRING_MINUTES = 10.0  # min with the doors open; assumed
MOST_LOOKS = 60  # of the best plan before it gives up
# the ways of going round the car that the plan compares: method, state, ride [days], wait [min] and doors
ROUNDS = (
    ("electronic", "at_rest", 0.0, 0.0, "shut"),
    ("electronic", "at_rest", 0.0, AIRING_MINUTES, "aired"),
    ("electronic", "just_stopped", 0.0, 0.0, "shut"),
    ("electronic", "running", 0.0, 0.0, "shut"),
    ("bubbles", "at_rest", 0.0, 0.0, "shut"),
    ("uv_dye", "at_rest", 0.0, 0.0, "shut"),
    ("uv_dye", "at_rest", 5.0, 0.0, "shut"),
    ("tracer_gas", "nitrogen", 0.0, 0.0, "shut"),
)


@dataclass(frozen=True)
class Advice:
    """What to do next: a look, or naming places; all for reasons."""

    step: Step | None  # None: name the places
    places: tuple  # to look at, or to name
    chance: float  # -, that the look finds a leak and no error would have looked the same; or that the named ones leak
    minutes: float  # min, of the look with its setting up
    per_minute: float  # 1/min, over the round of looks that shares its setting up


def look_worth(hunt, step, chances=None):
    """The chance that a look finds a leak, times how far its signal could then be believed.

    Parameters
    ----------
    hunt : Hunt
        The hunt so far.
    step : Step
        The look.
    chances : dict of str to float, optional
        What place_chances gave, where it is known already [-].

    Returns
    -------
    float
        Chance [-].

    Raises
    ------
    UnknownChoice, OutOfRange
        When a choice is not known or a number outside its range.

    Notes
    -----
    Chance that the place leaks and the look signals x chance of a leak given that signal. Without false signals this is the
    chance to find it; an alarm that rings as readily at a tight joint is worth next to nothing.

    Examples
    --------
    >>> from course.service.hunt import begin_hunt
    >>> hunt = begin_hunt(1)
    >>> look_worth(hunt, Step("shaft_seal", "electronic")) > look_worth(hunt, Step("shaft_seal", "bubbles"))
    True
    """
    chances = place_chances(hunt.belief) if chances is None else chances
    look, place = the_look(hunt, step), step.place
    if chances[place] == 0.0:
        return 0.0
    lasting = step.method if step.method in LASTING else None
    error = false_share(hunt, look, place)
    signals = signal_chances(hunt.belief, place, finds(hunt, look, place), error, lasting)
    leaks = chances[place] * float(kinds_and_sizes(hunt.belief, place) @ signals[:-1])
    return leaks * leaks / (leaks + (1.0 - chances[place]) * float(signals[-1])) if leaks > 0.0 else 0.0


def _step(place, kind):
    method, state, ride, wait, doors = kind
    if read_leak_places()[place].access == "inside_case" and method in ("electronic", "tracer_gas"):
        wait = max(wait, CASE_WAIT_MINUTES if state != "running" else 0.0)
    return Step(place, method, state, 1.0, wait, ride, doors)


def _weighed(hunt, step, chances):
    """Worth of a look, its own minutes, and the minutes it shares with others of its round."""
    work = hunt_terms("work")
    shared = setup_minutes(hunt, step) + step.ride_days * work["day_as_minutes"]
    if step.doors == "aired":
        shared += min(step.wait_minutes, AIRING_MINUTES)
    alone = step_minutes(hunt, step) + step.ride_days * work["day_as_minutes"] - shared
    if step.state == "just_stopped":  # the engine has to run again before each of them
        alone, shared = alone + work["start_minutes"], shared - work["start_minutes"]
    return look_worth(hunt, step, chances), alone, shared


def _round(hunt, steps, chances):
    """Best chance per minute of a round of looks that share their setting up; and the look to begin with."""
    looks = [(*_weighed(hunt, step, chances), step) for step in steps]
    looks.sort(key=lambda one: -one[0] / one[1])
    worth, alone, shared = (np.array([one[column] for one in looks]) for column in range(3))
    per_minute = float((np.cumsum(worth) / (shared[0] + np.cumsum(alone))).max())
    return per_minute, looks[0]


def _open_places(hunt, chances):
    """Places still worth a look: neither settled nor unlisted."""
    sure = hunt_terms("chance")["sure_share"]
    return [place for place in chances if place != ELSEWHERE and chances[place] < sure]


def best_next_look(hunt):
    """What to do next: the look that begins the round with the best chance per minute, or naming the place.

    Parameters
    ----------
    hunt : Hunt
        The hunt so far.

    Returns
    -------
    Advice
        A look, or the places to name.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A round goes from place to place with one method in one state, best first, as long as its chance per minute grows; its
    setting up is shared. For one place after another and no setting up this is the classical order by chance x finding /
    time, which finds soonest on average (Blackwell, in Matula 1964, from memory). It looks one round ahead, no further.

    Examples
    --------
    >>> from course.service.hunt import begin_hunt
    >>> best_next_look(begin_hunt(4, residue_g_per_year=0.0)).step.method
    'electronic'
    """
    chances, chance = place_chances(hunt.belief), hunt_terms("chance")
    settled = [place for place in chances if chances[place] >= chance["sure_share"]]
    rest = sum(share for place, share in chances.items() if place not in settled)
    places = _open_places(hunt, chances)
    if not places or ELSEWHERE in settled or (settled and rest < chance["enough_share"]):
        return Advice(None, tuple(settled), min((chances[place] for place in settled), default=0.0), 0.0, 0.0)
    rounds = [_round(hunt, [_step(place, kind) for place in places], chances) for kind in ROUNDS]
    per_minute, (worth, _, _, step) = max(rounds, key=lambda one: one[0])
    return Advice(step, (step.place,), worth, step_minutes(hunt, step), per_minute)


def how_good(hunt, step):
    """How good a look is, against the best there is.

    Parameters
    ----------
    hunt : Hunt
        The hunt before the look.
    step : Step
        The look.

    Returns
    -------
    float
        1 for a look as good as the best, 0 for one that brings nothing [-].

    Raises
    ------
    UnknownChoice, OutOfRange
        When a choice is not known or a number outside its range.

    Notes
    -----
    Of its round against the best round, and of the look itself against what its round brings per minute. Where the best is
    to name a place, any look counts as nought.

    Examples
    --------
    >>> from course.service.hunt import begin_hunt
    >>> hunt = begin_hunt(4, residue_g_per_year=0.0)
    >>> how_good(hunt, best_next_look(hunt).step)
    1.0
    """
    best = best_next_look(hunt)
    if best.step is None:
        return 0.0
    chances = place_chances(hunt.belief)
    kind = (step.method, step.state, step.ride_days, step.wait_minutes if step.doors == "aired" else 0.0, step.doors)
    others = [_step(place, kind) for place in _open_places(hunt, chances) if place != step.place]
    of_round, _ = _round(hunt, [step, *others], chances)
    worth, alone, _ = _weighed(hunt, step, chances)
    if of_round == 0.0:
        return 0.0
    return min(of_round / best.per_minute, 1.0) * min(worth / alone / of_round, 1.0)


def follow_best_plan(hunt):
    """A hunt finished by the best next look each time.

    Parameters
    ----------
    hunt : Hunt
        Where to begin.

    Returns
    -------
    tuple
        The finished Hunt, and the places it names.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    It gives up after 60 looks and names what is most likely then.

    Examples
    --------
    >>> from course.service.hunt import begin_hunt
    >>> done, named = follow_best_plan(begin_hunt(4))
    >>> len(named) >= 1
    True
    """
    for _ in range(MOST_LOOKS):
        advice = best_next_look(hunt)
        if advice.step is None:
            break
        hunt = take_look(hunt, advice.step)
    chances = place_chances(hunt.belief)
    return hunt, advice.places or (max(chances, key=chances.get),)
