"""Errors as sentences a technician can act on: what was given, what is allowed, what to do."""

import math


class WorkbookError(ValueError):
    """Anything the workbook refuses to do, said in one sentence."""


class OutOfRange(WorkbookError):
    """A quantity outside what the workbook can answer for."""


class UnknownChoice(WorkbookError):
    """A name that is not among the choices; the sentence lists them."""


class BadDataFile(WorkbookError):
    """A data file with a missing, misspelt or impossible entry; the sentence names file and key."""


class ImpossibleSystem(WorkbookError):
    """A car whose parts cannot hold what the label says, or that could not exist."""


class CycleNotSolved(WorkbookError):
    """The simulator found no steady state; no half-solved number reaches a gauge."""


def check_range(quantity, value, low, high, unit, advice):
    """Return the value as a float when it lies in the allowed range, else raise OutOfRange.

    Parameters
    ----------
    quantity : str
        The quantity in shop words.
    value : float
        The value given [unit].
    low, high : float
        The allowed range, ends included [unit].
    unit : str
        The unit as it should be printed.
    advice : str
        What to do about it: a short clause.

    Returns
    -------
    float
        The value [unit].

    Raises
    ------
    OutOfRange
        When the value is not a number or lies outside the range.

    Notes
    -----
    Nothing is clamped: a value outside is refused, never quietly replaced.

    Examples
    --------
    >>> check_range("ambient temperature", 35, 10, 50, "°C", "choose a day in that range")
    35.0
    """
    try:
        number = float(value)
    except (TypeError, ValueError):
        raise OutOfRange(
            f"{quantity}: {value!r} is not a number; allowed are {low:g} to {high:g} {unit}: {advice}."
        ) from None
    if math.isnan(number) or not low <= number <= high:
        raise OutOfRange(f"{quantity}: {number:g} {unit} was given; allowed are {low:g} to {high:g} {unit}: {advice}.")
    return number


def check_choice(quantity, value, choices):
    """Return the value when it is among the choices, else raise UnknownChoice with the list.

    Parameters
    ----------
    quantity : str
        What is being chosen, in shop words.
    value : object
        The name given.
    choices : iterable of str
        The names allowed.

    Returns
    -------
    str
        The name.

    Raises
    ------
    UnknownChoice
        When the name is not among the choices.

    Notes
    -----
    The sentence lists every choice in the order given.

    Examples
    --------
    >>> check_choice("refrigerant", "R134a", ["R134a", "R1234yf"])
    'R134a'
    """
    names = list(choices)
    if value not in names:
        raise UnknownChoice(f"{quantity}: {value!r} is not known here; choose one of {', '.join(names)}.")
    return value
