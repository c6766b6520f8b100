"""What a finished leak hunt is worth: marks of 100, each with its reason, beside the best plan on the same car."""

from dataclasses import dataclass

from course.errors import WorkbookError, check_choice
from course.service.belief import ELSEWHERE, place_chances
from course.service.hunt import DYE_PORT, finds, hunt_terms, open_rate, take_look, the_look, wash
from course.service.hunt_plan import best_next_look, follow_best_plan, how_good
from course.tables import read_leak_places, read_leak_survey

POOR = 0.5  # - share of the best from which a look is not mentioned any more; assumed


@dataclass(frozen=True)
class Verdict:
    """A finished hunt: what was there, what it was worth, and why."""

    leaks: tuple
    right: bool
    marks: float  # of 100
    reasons: tuple
    plan_minutes: float  # min of work by the best plan on this same car
    plan_named: tuple


def place_name(place):
    """The name of a place, the unlisted one included.

    Parameters
    ----------
    place : str
        A place id, or "elsewhere".

    Returns
    -------
    str
        Its name in the shop.

    Raises
    ------
    UnknownChoice
        When there is no such place.

    Notes
    -----
    From data/service/leak_places.toml.

    Examples
    --------
    >>> place_name("shaft_seal"), place_name("elsewhere")
    ('Compressor shaft seal', 'A place not on the list')
    """
    places = read_leak_places()
    check_choice("place", place, (*places, ELSEWHERE))
    return "A place not on the list" if place == ELSEWHERE else places[place].name


def what_is_left(hunt):
    """Where most of the chance is, in one sentence: near, inside, or unlisted.

    Parameters
    ----------
    hunt : Hunt
        The hunt so far.

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Says "look inside" once the case in the cabin holds more of the chance than all other listed places together.

    Examples
    --------
    >>> from course.service.hunt import begin_hunt
    >>> what_is_left(begin_hunt(1)).startswith("No place stands out yet")
    True
    """
    chances, places = place_chances(hunt.belief), read_leak_places()
    top = max(chances, key=chances.get)
    inside = sum(chances[place] for place in places if places[place].access == "inside_case")
    outside = sum(chances[place] for place in places) - inside
    if top != ELSEWHERE and chances[top] >= hunt_terms("chance")["sure_share"]:
        return f"{place_name(top)}: {100.0 * chances[top]:.0f} %. That is sure enough to name."
    if inside > outside and inside > chances[ELSEWHERE]:
        return f"Outside is all but clean: {100.0 * inside:.0f} % is left in the case, so look inside."
    if chances[ELSEWHERE] > max(outside, inside):
        return (
            f"The listed places are all but clean: {100.0 * chances[ELSEWHERE]:.0f} % is left where nobody listed it."
        )
    lead = "No place stands out yet; most" if chances[top] < 0.2 else "Most"
    where = "a place not on the list" if top == ELSEWHERE else place_name(top)
    return f"{lead} of the chance is at {where}: {100.0 * chances[top]:.0f} %."


def _replayed(start, hunt):
    """The hunt before each look of the learner's own, with the look."""
    now = start
    for seen in hunt.log[len(start.log) :]:
        if seen.step is None:
            now = wash(now, seen.place)
        else:
            yield now, seen
            now = take_look(now, seen.step)


def _about_the_leak(hunt, named):
    kinds, truth = read_leak_survey().kind, {leak.place for leak in hunt.car.leaks}
    told = [
        f"{place_name(leak.place)}, {leak.rate_g_per_year:.0f} g a year, which {kinds[leak.kind].name}"
        for leak in hunt.car.leaks
    ]
    if truth == set(named):
        return f"Right. It was: {'; and '.join(told)}."
    return f"You named {' and '.join(place_name(place) for place in named)}. It was: {'; and '.join(told)}."


def _about_missed(hunt, replayed):
    """Looks at a leaking place that showed nothing, and what the chance was that they would."""
    for leak in hunt.car.leaks:
        for before, seen in replayed:
            if seen.place != leak.place or seen.signal:
                continue
            look = the_look(before, seen.step)
            method, state = seen.step.method.replace("_", " "), seen.step.state.replace("_", " ")
            if open_rate(leak.kind, leak.rate_g_per_year, look) == 0.0:
                yield f"You looked at the leak with {method} while it was shut: it does not leak {state}."
                continue
            rows = finds(before, look, leak.place)
            possible = before.belief.possible
            there = [row for row in range(len(possible.place)) if possible.places[possible.place[row]] == leak.place]
            same = [
                chance
                for row, chance in zip(there, rows, strict=True)
                if (possible.kind[row], possible.rate_g_per_year[row]) == (leak.kind, leak.rate_g_per_year)
            ]
            shown = f"{100.0 * same[0]:.0f} of 100 such looks show it" if same else "not every such look shows it"
            yield f"You looked at the leak with {method}, {state}, and saw nothing: {shown}."


def _about_tight(replayed, truth):
    """Signals at places that do not leak, and where each may have come from."""
    for before, seen in replayed:
        if not seen.signal or seen.place in truth:
            continue
        if seen.step.method == "uv_dye":
            why = (
                "dye spilled when it went in"
                if seen.place == DYE_PORT
                else "an old stain, or a fluid that glows by itself"
            )
        elif seen.step.method in ("bubbles", "nitrogen_bubbles"):
            why = "froth from the spraying"
        elif the_look(before, seen.step).background_g_per_year:
            why = "gas in the air of the bay"
        else:
            why = "washer fluid, solvent, or gas that drifted by"
        yield f"{place_name(seen.place)} is tight: the signal there was {why}."


def _about_looks(goods):
    """The poorest look, with what would have been better."""
    if not goods:
        return "You named a place without a look: that is a guess."
    share, before, seen, number = min(goods, key=lambda one: one[0])
    if share >= POOR:
        return (
            f"Your looks were {100.0 * sum(one[0] for one in goods) / len(goods):.0f} % as good as the best each time."
        )
    best = best_next_look(before)
    better = (
        f"to name {' and '.join(place_name(place) for place in best.places)}"
        if best.step is None
        else f"{best.step.method.replace('_', ' ')}, {best.step.state.replace('_', ' ')}, at {place_name(best.step.place)}"
    )
    return (
        f"Look {number}, {seen.step.method.replace('_', ' ')} at {place_name(seen.place)}, was worth {100.0 * share:.0f} % of "
        f"the best then: {better}."
    )


def judge(start, hunt, named):
    """Mark a finished hunt.

    Parameters
    ----------
    start : Hunt
        The hunt as the learner got it.
    hunt : Hunt
        The hunt when the learner named places.
    named : sequence of str
        One or two places; "elsewhere" for a place not on the list.

    Returns
    -------
    Verdict
        Marks and reasons.

    Raises
    ------
    WorkbookError
        When no place was named.
    UnknownChoice
        When a place is not known.

    Notes
    -----
    60 marks for the right places (each wrong or missing one costs its share), 25 for looks as good as the best there was each
    time, 15 for having made sure; the shares are assumed. Luck is not marked: a poor look that happens to find is a poor look.

    Examples
    --------
    >>> from course.service.hunt import begin_hunt
    >>> start = begin_hunt(4)
    >>> done, named = follow_best_plan(start)
    >>> judge(start, done, named).marks > 90.0
    True
    """
    named = tuple(dict.fromkeys(named))
    if not named:
        raise WorkbookError("leak hunt: no place was named; choose the place you think leaks.")
    for place in named:
        place_name(place)
    marks, truth, chances = hunt_terms("marks"), {leak.place for leak in hunt.car.leaks}, place_chances(hunt.belief)
    found = len(truth & set(named)) / max(len(truth), len(named))
    replayed = list(_replayed(start, hunt))
    goods = [(how_good(before, seen.step), before, seen, number) for number, (before, seen) in enumerate(replayed, 1)]
    looks = sum(one[0] for one in goods) / len(goods) if goods else 0.0
    sure = min(min(chances[place] for place in named) / hunt_terms("chance")["sure_share"], 1.0)
    done, plan_named = follow_best_plan(start)
    reasons = [_about_the_leak(hunt, named), *_about_missed(hunt, replayed), _about_looks(goods)]
    if sure < 1.0:
        reasons.append(
            f"When you named it, its chance was {100.0 * min(chances[place] for place in named):.0f} %: look again, with another "
            "method or after a wash, until it passes 90 %."
        )
    reasons += _about_tight(replayed, truth)
    reasons.append(
        f"You took {hunt.minutes:.0f} min of work and {hunt.days:.0f} days; the best plan, on this car and with its luck, took "
        f"{done.minutes:.0f} min and {done.days:.0f} days and named {' and '.join(place_name(place) for place in plan_named)}."
    )
    if hunt.hints:
        often = "once" if hunt.hints == 1 else f"{hunt.hints} times"
        reasons.append(f"You asked for the best next look {often}.")
    total = marks["found_factor"] * found + marks["looks_factor"] * looks + marks["sure_factor"] * sure
    return Verdict(hunt.car.leaks, truth == set(named), total, tuple(reasons), done.minutes, plan_named)
