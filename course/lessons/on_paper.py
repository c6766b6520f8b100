"""Questions for paper: what is printed for the learner, and the key with every explanation; plain text, no HTML."""

import random
from dataclasses import dataclass

from course.evidence.direction_table import READINGS
from course.lessons.lesson import tolerance_of
from course.lessons.marking import DIRECTIONS, point_name, run_rows, tolerance_words
from course.lessons.quantities import KINDS, Number
from course.tables import read_misconceptions

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True)
class Printed:
    """A question as a learner gets it; nothing in it tells the answer."""

    id: str  # lesson/question
    kind: str
    ask: str
    rows: tuple  # options, steps, left sides, readings or points, as text
    choices: (
        tuple  # what each row is given: lettered right sides, or directions; empty where rows are ticked or numbered
    )
    unit: str  # behind the line for a number; empty elsewhere
    hint: str  # how near a number must come; empty elsewhere
    confidence: bool


@dataclass(frozen=True)
class Explained:
    """One thing there was to answer, and what is to be said about it."""

    mark: str  # letter, place, number or direction
    label: str
    right: bool
    why: str
    belief: str  # the misconception behind a wrong answer in words; empty where none is known
    shown: tuple  # rows of the run that shows it, heads first; empty where there is none


@dataclass(frozen=True)
class Key:
    """A question with its answer."""

    id: str  # lesson/question
    kind: str
    ask: str
    answer: str
    parts: tuple  # of Explained
    note: str  # what else counts as right; empty where nothing does


def mixed(question, things):
    """The things of a question in an order that is the same at every showing, on screen and on paper, and not the file's.

    Parameters
    ----------
    question : Question
        Its id decides the order.
    things : list
        What to mix.

    Returns
    -------
    list
        The same things.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Should chance leave them as they were, the first goes to the end.

    Examples
    --------
    >>> from course.lessons.lesson import find_question
    >>> mixed(find_question("first_look"), ["ask", "connect", "judge"]) != ["ask", "connect", "judge"]
    True
    """
    order = list(things)
    random.Random(question.id).shuffle(order)
    return order if order != list(things) else order[1:] + order[:1]


def _rights(question):
    """The right sides of a match, the spare ones among them, in the order of their letters."""
    table = question.table
    return mixed(question, [*(pair.right for pair in table.pairs), *(spare.text for spare in table.spare)])


def _lettered(texts):
    return tuple(f"{letter}. {text}" for letter, text in zip(LETTERS, texts, strict=False))


def _rows(question, units):
    """Rows of a question, and what each of them is given."""
    table = question.table
    if table.kind in ("choice", "predict"):
        return _lettered(question.fill(option.text, units) for option in table.options), ()
    if table.kind == "order":
        return tuple(question.fill(step.text, units) for step in mixed(question, table.steps)), ()
    if table.kind == "match":
        rights = _lettered(question.fill(right, units) for right in _rights(question))
        return tuple(question.fill(pair.left, units) for pair in table.pairs), rights
    if table.kind == "point":
        return _lettered(point_name(place.point) for place in mixed(question, table.points)), ()
    if table.kind == "directions":
        return tuple(_reading(reading) for reading in table.why), tuple(DIRECTIONS.values())
    return (), ()


def _reading(reading):
    name = READINGS[reading][0]
    return name[0].upper() + name[1:]


def _unit(number, units):
    """The unit a number is shown in, gauge or absolute with it."""
    ending = {"gauge_pressure": " gauge", "absolute_pressure": " absolute"}.get(number.kind, "")
    return KINDS[number.kind].shown[units.key][0] + ending


def printed_question(question, units):
    """A question as it is printed for a learner.

    Parameters
    ----------
    question : Question
        As open_lesson makes it ready.
    units : DisplayUnits
        The units of the sheet.

    Returns
    -------
    Printed
        Texts with their numbers put in; no answer among them.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Options keep the order they have on the screen; steps, points and right sides are mixed as they are there.

    Examples
    --------
    >>> from course.lessons.lesson import find_question
    >>> from course.units import display_units
    >>> printed_question(find_question("superheat_by_hand"), display_units("psi_f")).unit
    '°F'
    """
    rows, choices = _rows(question, units)
    numeric = question.table.kind == "numeric"
    return Printed(
        question.id,
        question.table.kind,
        question.fill(question.table.ask, units),
        rows,
        choices,
        _unit(question.numbers[question.table.answer], units) if numeric else "",
        tolerance_words(question, units) if numeric else "",
        question.table.confidence or question.table.kind == "predict",
    )


def _explained(question, units, thing, **said):
    """One part of the key; belief and run come from the wrong answer itself, where it has them."""
    known, shows = getattr(thing, "misconception", None), getattr(thing, "shows", None)
    belief = read_misconceptions()[known].says if known else ""
    shown = tuple(run_rows(question, shows, units)) if shows else ()
    return Explained(**{"right": False, "belief": belief, "shown": shown} | said)


def _of_options(question, units):
    things = question.table.options
    return [
        _explained(
            question,
            units,
            option,
            mark=letter,
            label=question.fill(option.text, units),
            right=option.right,
            why=question.fill(option.why, units),
        )
        for letter, option in zip(LETTERS, things, strict=False)
    ]


def _of_points(question, units):
    return [
        _explained(
            question,
            units,
            place,
            mark=letter,
            label=point_name(place.point),
            right=place.right,
            why=question.fill(place.why, units),
        )
        for letter, place in zip(LETTERS, mixed(question, question.table.points), strict=False)
    ]


def _of_number(question, units):
    table, right = question.table, question.numbers[question.table.answer]
    told = [("", right.shown(units), True, table.why, table)]
    told += [("", question.numbers[slip.answer].shown(units), False, slip.why, slip) for slip in table.slips]
    allowed = tolerance_of(question)
    above, below = (Number(right.value + sign * allowed, right.kind).shown(units) for sign in (1.0, -1.0))
    told += [("", f"more than {above}", False, table.high, table), ("", f"less than {below}", False, table.low, table)]
    return [
        _explained(question, units, thing, mark=mark, label=label, right=good, why=question.fill(why, units))
        for mark, label, good, why, thing in told
    ]


def _of_steps(question, units):
    return [
        _explained(
            question,
            units,
            step,
            mark=str(place),
            label=question.fill(step.text, units),
            right=True,
            why=question.fill(step.why, units),
        )
        for place, step in enumerate(question.table.steps, start=1)
    ]


def _of_pairs(question, units):
    letters = dict(zip(_rights(question), LETTERS, strict=False))
    parts = [(pair, pair.right, f"{pair.left}: {pair.right}", True) for pair in question.table.pairs]
    parts += [(spare, spare.text, f"belongs to none: {spare.text}", False) for spare in question.table.spare]
    return [
        _explained(
            question,
            units,
            thing,
            mark=letters[right],
            label=question.fill(label, units),
            right=good,
            why=question.fill(thing.why, units),
        )
        for thing, right, label, good in parts
    ]


def _of_directions(question, units):
    return [
        _explained(
            question,
            units,
            None,
            mark="",
            label=f"{_reading(reading)} {DIRECTIONS[question.truth[reading]]}",
            right=True,
            why=question.fill(why, units),
        )
        for reading, why in question.table.why.items()
    ]


PARTS = {
    "choice": _of_options,
    "predict": _of_options,
    "numeric": _of_number,
    "order": _of_steps,
    "match": _of_pairs,
    "point": _of_points,
    "directions": _of_directions,
}


def _answer(question, parts):
    kind = question.table.kind
    good = [part for part in parts if part.right]
    if kind in ("choice", "predict", "point"):
        return f"{good[0].mark}. {good[0].label}"
    if kind == "order":
        places = {step.text: str(place) for place, step in enumerate(question.table.steps, start=1)}
        return "From the top: " + ", ".join(places[step.text] for step in mixed(question, question.table.steps))
    if kind == "match":
        return "From the top: " + ", ".join(part.mark for part in good)
    return "; ".join(part.label for part in good)


def _note(question, units):
    table = question.table
    if table.kind == "numeric":
        words = tolerance_words(question, units)
        return f"{words[0].upper()}{words[1:]}; so does the same in another unit."
    if table.kind != "order" or not table.before:
        return ""
    texts = {step.id: question.fill(step.text, units) for step in table.steps}
    pairs = "; ".join(f"“{texts[first]}” before “{texts[then]}”" for first, then in table.before)
    return f"Another order is right too, as long as it has {pairs}."


def key_of(question, units):
    """A question's answer with the explanation of every answer there was, the wrong ones too.

    Parameters
    ----------
    question : Question
        As open_lesson makes it ready.
    units : DisplayUnits
        The units of the sheet.

    Returns
    -------
    Key
        Answer and explanations, numbers put in.

    Raises
    ------
    UnknownChoice
        When data/tolerances.toml has no tolerance of the name a number question gives.

    Notes
    -----
    Numbers and directions are those open_lesson worked out; here nothing is run.

    Examples
    --------
    >>> from course.lessons.lesson import find_question
    >>> from course.units import display_units
    >>> key_of(find_question("hot_day_low_charge"), display_units("psi_f")).answer
    'B. The high side falls, the low side hardly moves, superheat climbs'
    """
    parts = tuple(PARTS[question.table.kind](question, units))
    ask = question.fill(question.table.ask, units)
    return Key(question.id, question.table.kind, ask, _answer(question, parts), parts, _note(question, units))
