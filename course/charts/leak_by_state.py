"""One hole on either side of the circuit: how much it lets out at rest and running, as bars."""

from course.charts.shapes import Path, Words, svg
from course.charts.style import WIDTH
from course.charts.words import rounded

STATE_NAMES = {"at_rest": "at rest", "just_stopped": "just stopped", "running": "running"}
SIDES = ("low", "high")
LEFT, TOP, ROW, BAR = 4.0, 26.0, 44.0, 12.0  # px
LONGEST = 210.0  # px, of the largest of all the bars
HEIGHT = 2.0 * (TOP + len(STATE_NAMES) * ROW) + 8.0  # px


def leak_by_state_svg(leaks):
    """The bars of one hole, side by side and state by state.

    Parameters
    ----------
    leaks : dict of tuple to float
        As course.service.leak_flow.leak_by_state gives it [g/yr].

    Returns
    -------
    str
        An svg element.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The longest bar is the largest leak; every bar has its number, so nothing hangs on colour.

    Examples
    --------
    >>> leaks = {(state, side): 100.0 for state in STATE_NAMES for side in SIDES}
    >>> leak_by_state_svg(leaks).count(">100 g/yr<")
    6
    """
    most = max(*leaks.values(), 1e-9)
    shapes = []
    for number, side in enumerate(SIDES):
        top = number * (TOP + len(STATE_NAMES) * ROW)
        shapes.append(Words(LEFT, top + 16.0, f"Hole on the {side} side", colour=side, bold=True))
        for row, (state, name) in enumerate(STATE_NAMES.items()):
            level, leak = top + TOP + row * ROW, leaks[state, side]
            right = LEFT + max(LONGEST * leak / most, 1.0)
            corners = (
                (LEFT, level + 18.0),
                (right, level + 18.0),
                (right, level + 18.0 + BAR),
                (LEFT, level + 18.0 + BAR),
            )
            shapes.append(Words(LEFT, level + 13.0, name))
            shapes.append(Path(corners, colour=side, fill=side, closed=True))
            shapes.append(Words(right + 6.0, level + 29.0, f"{rounded(leak)} g/yr", bold=True))
    return svg(shapes, WIDTH, HEIGHT, describe_leak_by_state(leaks))


def describe_leak_by_state(leaks):
    """The same hole in words, state by state.

    Parameters
    ----------
    leaks : dict of tuple to float
        As course.service.leak_flow.leak_by_state gives it [g/yr].

    Returns
    -------
    str
        One sentence.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Grams a year, were the car to stay in that state.

    Examples
    --------
    >>> leaks = {(state, side): 100.0 for state in STATE_NAMES for side in SIDES}
    >>> describe_leak_by_state(leaks)[:46]
    'Low side: at rest 100 g/yr, just stopped 100 g'
    """
    parts = []
    for side in SIDES:
        states = ", ".join(f"{name} {rounded(leaks[state, side])} g/yr" for state, name in STATE_NAMES.items())
        parts.append(f"{side.capitalize()} side: {states}.")
    return " ".join(parts)
