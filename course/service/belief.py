"""What is still likely after every look of a leak hunt: Bayes' rule over places, kinds and sizes of leaks."""

from dataclasses import dataclass, replace

import numpy as np

from course.errors import WorkbookError, check_choice, check_range
from course.tables import read_leak_survey

ELSEWHERE = "elsewhere"
STAIN_SEEN = 0.98  # - chance that an old stain is seen by a look that would see a fresh one; assumed


@dataclass(frozen=True, eq=False)  # compared by identity, so that what is worked out for one can be kept
class Possible:
    """Everything one leak can be: a place, a kind and a size in each row, with what it weighs before any look."""

    places: tuple
    place: np.ndarray  # - number of the place in places
    kind: tuple
    rate_g_per_year: np.ndarray  # g/yr standing at 25 °C
    weight: np.ndarray  # - sums to 1


@dataclass(frozen=True)
class Belief:
    """What a hunter knows: how well each possible leak, and no leak at each place, explains everything seen so far."""

    possible: Possible
    share_of_two: float  # - chance of two leaks rather than one, before any look
    explains: np.ndarray  # - for each possible leak: chance of all that was seen at its place
    explains_none: np.ndarray  # - for each place: chance of all that was seen there if nothing leaks there
    stains: dict  # (place, method): what was seen there, once with an old stain and once without


def possible_leaks(survey=None):
    """Every place, kind and size a leak can have, and how much each weighs.

    Parameters
    ----------
    survey : LeakPlacesTable, optional
        The places and weights; the workbook's own where none is given.

    Returns
    -------
    Possible
        One row for each.

    Raises
    ------
    BadDataFile
        When the workbook's own list cannot be read.

    Notes
    -----
    Weight = place x kind (shared out among the kinds the place knows) x size, scaled to 1. A leak nobody listed
    ("elsewhere") can be of any kind and size. All weights are assumed: no survey of leak places was found.

    Examples
    --------
    >>> rows = possible_leaks()
    >>> rows.places[-1], round(float(rows.weight.sum()), 12)
    ('elsewhere', 1.0)
    """
    survey = read_leak_survey() if survey is None else survey
    places = (*survey.place, ELSEWHERE)
    rows = []
    for number, name in enumerate(places):
        entry = survey.place.get(name, survey.elsewhere)
        kinds = getattr(entry, "kinds", list(survey.kind))
        all_kinds = sum(survey.kind[kind].weight_factor.value for kind in kinds)
        for kind in kinds:
            of_kind = entry.weight_factor.value * survey.kind[kind].weight_factor.value / all_kinds
            rows += [
                (number, kind, size.rate_g_per_year.value, of_kind * size.weight_factor.value)
                for size in survey.size.values()
            ]
    place, kind, rate, weight = zip(*rows, strict=True)
    weight = np.array(weight, dtype=float)
    return Possible(places, np.array(place), kind, np.array(rate, dtype=float), weight / weight.sum())


def first_belief(possible, share_of_two):
    """What is known before the first look.

    Parameters
    ----------
    possible : Possible
        What a leak can be.
    share_of_two : float
        Chance that there are two leaks rather than one [-].

    Returns
    -------
    Belief
        Nothing seen yet.

    Raises
    ------
    OutOfRange
        When the chance is not between 0 and 1.

    Notes
    -----
    Two leaks are never at the same place.

    Examples
    --------
    >>> before = first_belief(possible_leaks(), 0.2)
    >>> round(sum(place_chances(before).values()), 12)
    1.2
    """
    share = check_range("chance of two leaks", share_of_two, 0.0, 1.0, "of all hunts", "give a share")
    return Belief(possible, share, np.ones(len(possible.weight)), np.ones(len(possible.places)), {})


def after_look(belief, place, signal, finds, false_alarm, lasting=None):
    """What is known after one look.

    Parameters
    ----------
    belief : Belief
        What was known before.
    place : str
        Where was looked.
    signal : bool
        Whether anything was seen or heard.
    finds : sequence of float
        For each possible leak at that place, in their order, the chance that this look finds it [-].
    false_alarm : float
        Chance of a signal without a leak [-].
    lasting : str, optional
        The method, when its false signals are stains that come back at every look; else each look errs afresh.

    Returns
    -------
    Belief
        A new one; the old is left as it was.

    Raises
    ------
    UnknownChoice
        When there is no such place to look at.

    Notes
    -----
    Bayes' rule. A fresh error: chance of a signal = 1 - (1 - finds)(1 - false alarm). A lasting one: the stain is there or
    not for all looks of that method together, so a second glow from the same lamp proves little.

    Examples
    --------
    >>> before = first_belief(possible_leaks(), 0.0)
    >>> rows = sum(before.possible.place == before.possible.places.index("shaft_seal"))
    >>> after = after_look(before, "shaft_seal", False, [0.8] * rows, 0.0)
    >>> prior = place_chances(before)["shaft_seal"]
    >>> abs(place_chances(after)["shaft_seal"] - 0.2 * prior / (1.0 - 0.8 * prior)) < 1e-12
    True
    """
    possible = belief.possible
    chances = signal_chances(belief, place, finds, false_alarm, lasting)
    factor = chances if signal else 1.0 - chances
    number = possible.places.index(place)
    explains, none = belief.explains.copy(), belief.explains_none.copy()
    explains[possible.place == number] *= factor[:-1]
    none[number] *= factor[-1]
    stains = dict(belief.stains)
    if lasting is not None:
        seen = _with_and_without_stain(finds)
        before = belief.stains.get((place, lasting), _new_stain(finds, false_alarm))
        stains[place, lasting] = before * (seen if signal else 1.0 - seen)
    return replace(belief, explains=explains, explains_none=none, stains=stains)


def signal_chances(belief, place, finds, false_alarm, lasting=None):
    """The chance that a look gives a signal, if the place leaks in each possible way, and if it does not.

    Parameters
    ----------
    belief : Belief
        What is known before the look.
    place : str
        Where.
    finds : sequence of float
        For each possible leak at that place, in their order, the chance that this look finds it [-].
    false_alarm : float
        Chance of a signal without a leak [-].
    lasting : str, optional
        The method, when its false signals are stains that come back at every look.

    Returns
    -------
    numpy.ndarray
        One chance for each possible leak there, and last the one of no leak [-].

    Raises
    ------
    UnknownChoice
        When there is no such place to look at.

    Notes
    -----
    A stain that is likely after earlier looks makes the next signal likely and worth little.

    Examples
    --------
    >>> before = first_belief(possible_leaks(), 0.0)
    >>> rows = sum(before.possible.place == before.possible.places.index("low_side_port"))
    >>> first = signal_chances(before, "low_side_port", [0.8] * rows, 0.1, "uv_dye")[-1]
    >>> glowed = after_look(before, "low_side_port", True, [0.8] * rows, 0.1, "uv_dye")
    >>> again = signal_chances(glowed, "low_side_port", [0.8] * rows, 0.1, "uv_dye")[-1]
    >>> round(float(first), 3), round(float(again), 3)
    (0.098, 0.98)
    """
    check_choice("place", place, belief.possible.places[:-1])
    if lasting is None:
        return 1.0 - (1.0 - np.array([*finds, 0.0])) * (1.0 - false_alarm)
    before = belief.stains.get((place, lasting), _new_stain(finds, false_alarm))
    whole = before.sum(axis=0)
    # where what was seen cannot be explained at all, the next look does not matter
    return (before * _with_and_without_stain(finds)).sum(axis=0) / np.where(whole > 0.0, whole, 1.0)


def _new_stain(finds, false_alarm):
    """Chances that there is no stain, and that there is one, for each possible leak and for none."""
    return np.array([[1.0 - false_alarm], [false_alarm]]) * np.ones(len(finds) + 1)


def _with_and_without_stain(finds):
    """Chances of a signal without a stain and with one, for each possible leak and for none."""
    clear = 1.0 - np.array([*finds, 0.0])
    return np.array([1.0 - clear, 1.0 - clear * (1.0 - STAIN_SEEN)])


def after_cleaning(belief, place):
    """What is known after a place was washed: all as before, but no old stain can come back there.

    Parameters
    ----------
    belief : Belief
        What was known before.
    place : str
        What was washed.

    Returns
    -------
    Belief
        A new one; the old is left as it was.

    Raises
    ------
    UnknownChoice
        When there is no such place.

    Notes
    -----
    What was seen before the wash stays in the reckoning.

    Examples
    --------
    >>> before = first_belief(possible_leaks(), 0.0)
    >>> place_chances(after_cleaning(before, "shaft_seal")) == place_chances(before)
    True
    """
    check_choice("place", place, belief.possible.places[:-1])
    stains = {key: seen for key, seen in belief.stains.items() if key[0] != place}
    return replace(belief, stains=stains)


def pair_chances(belief):
    """The whole answer: the chance of every single place, and of every pair of places.

    Parameters
    ----------
    belief : Belief
        What is known.

    Returns
    -------
    numpy.ndarray
        Row and column are places; on the diagonal one leak alone, above it two [-]. The sum is 1.

    Raises
    ------
    WorkbookError
        When what was seen cannot happen with one or two leaks.

    Notes
    -----
    Exact and joint over pairs, not one leak after the other: finding one leak says nothing about a second, and only the pair
    knows that. It stays small because a look at one place says nothing about what leaks at another: the chance
    of everything seen is a product over places.

    Examples
    --------
    >>> chances = pair_chances(first_belief(possible_leaks(), 0.2))
    >>> round(float(chances.sum()), 12), round(float(chances.trace()), 12)
    (1.0, 0.8)
    """
    possible, count = belief.possible, len(belief.possible.places)
    prior = np.bincount(possible.place, possible.weight, count)
    seen = np.bincount(possible.place, possible.weight * belief.explains, count)
    # the chance of what was seen at all places but one or two
    others = np.broadcast_to(belief.explains_none, (count, count, count)).copy()
    every = np.arange(count)
    others[every, :, every] = 1.0
    others[:, every, every] = 1.0
    others = others.prod(axis=2)
    pairs = np.triu(np.outer(seen, seen), k=1) / np.triu(np.outer(prior, prior), k=1).sum()
    joint = (np.diag((1.0 - belief.share_of_two) * seen) + belief.share_of_two * pairs) * others
    total = joint.sum()
    if not total > 0.0:
        raise WorkbookError(
            "leak hunt: what was seen cannot come from one or two leaks at these places; begin the hunt again."
        )
    return joint / total


def place_chances(belief):
    """The chance that each place leaks: the map of probability left.

    Parameters
    ----------
    belief : Belief
        What is known.

    Returns
    -------
    dict of str to float
        By place, "elsewhere" last [-]; with one leak they add up to 1, with two to 2.

    Raises
    ------
    WorkbookError
        When what was seen cannot happen with one or two leaks.

    Notes
    -----
    Sums over the pairs of pair_chances.

    Examples
    --------
    >>> chances = place_chances(first_belief(possible_leaks(), 0.0))
    >>> max(chances, key=chances.get)
    'shaft_seal'
    """
    joint = pair_chances(belief)
    single = joint.sum(axis=0) + joint.sum(axis=1) - joint.diagonal()
    return dict(zip(belief.possible.places, map(float, single), strict=True))


def kinds_and_sizes(belief, place):
    """How likely each kind and size of leak is at a place, if that place leaks.

    Parameters
    ----------
    belief : Belief
        What is known.
    place : str
        The place, or "elsewhere".

    Returns
    -------
    numpy.ndarray
        One chance for each possible leak there, in their order [-]; they add up to 1.

    Raises
    ------
    UnknownChoice
        When there is no such place.
    WorkbookError
        When what was seen there rules a leak out.

    Notes
    -----
    A look that finds nothing leaves small leaks more likely than large ones.

    Examples
    --------
    >>> round(float(kinds_and_sizes(first_belief(possible_leaks(), 0.0), "elsewhere").sum()), 12)
    1.0
    """
    possible = belief.possible
    rows = possible.place == possible.places.index(check_choice("place", place, possible.places))
    weight = possible.weight[rows] * belief.explains[rows]
    if not weight.sum() > 0.0:
        raise WorkbookError(f"leak hunt: {place} cannot leak after what was seen there; choose another place.")
    return weight / weight.sum()
