"""What was in a leaking car all along: a saw of fillings and losses, and the charge at which it stops cooling."""

import datetime

from course.charts.style import COLOURS, TEXT, plain_axes
from course.charts.words import rounded

ROOM = 1.4  # of the label: the top of the axis, as much as any circuit here takes
TICKS = 3  # dates along the foot: more would lie over one another on a phone
HEIGHT = 300.0  # px


def _date_ticks(axes, first, days):
    places = [days * number / (TICKS - 1) for number in range(TICKS)]
    axes.set_xticks(places, [f"{first + datetime.timedelta(days=round(place)):%Y-%m}" for place in places])
    for label, side in zip(axes.get_xticklabels(), ("left", "center", "right"), strict=True):
        label.set_horizontalalignment(side)


def draw_leak_history(axes, course, sound, *, first, label_g, critical_g):
    """The charge in a car from its first entry to today, beside that of a car at the ceiling of type approval.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    course : sequence of tuple
        Days since the first entry and charge, corner by corner, at the leak of this car [days, g].
    sound : sequence of tuple
        The same at the ceiling, filled once [days, g].
    first : datetime.date
        Day of the first entry.
    label_g : float
        The label's charge [g].
    critical_g : float
        Charge at which this car stops cooling [g].

    Returns
    -------
    list
        The artists.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Lines differ in pattern as well as in colour. Fixed height of the axis: 1.4 times the label.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> saw = [(0, 480.0), (30, 280.0)]
    >>> day = datetime.date(2026, 3, 1)
    >>> len(draw_leak_history(new_figure().add_subplot(), saw, saw, first=day, label_g=480.0, critical_g=214.0))
    6
    """
    plain_axes(axes)
    days = max(course[-1][0], sound[-1][0], 1)
    axes.set_xlim(0.0, days)
    axes.set_ylim(0.0, ROOM * label_g)
    _date_ticks(axes, first, days)
    ink, healthy, warning = (COLOURS[name][0] for name in ("ink", "healthy", "warning"))
    artists = axes.plot(*zip(*sound, strict=True), color=healthy, linewidth=1.6, linestyle=(0, (2, 2)))
    artists += axes.plot(*zip(*course, strict=True), color=ink, linewidth=2.0)
    artists.append(axes.axhline(label_g, color=ink, linewidth=0.8))
    artists.append(axes.axhline(critical_g, color=warning, linewidth=1.6, linestyle=(0, (6, 3))))
    ground = {"facecolor": COLOURS["paper"][0], "edgecolor": "none", "pad": 1.0}
    style = {"fontsize": TEXT, "ha": "right", "bbox": ground}
    artists.append(
        axes.text(0.98 * days, critical_g - 0.02 * label_g, "cooling gone", va="top", color=warning, **style)
    )
    artists.append(
        axes.text(0.98 * days, 1.03 * label_g, f"label {rounded(label_g)} g", va="bottom", color=ink, **style)
    )
    axes.set_title("refrigerant in the car, g", loc="left", fontsize=TEXT, color=ink)
    return artists


def describe_leak_history(course, *, first, critical_g):
    """The saw in one sentence: fillings, and what is left today.

    Parameters
    ----------
    course : sequence of tuple
        Days since the first entry and charge, corner by corner [days, g].
    first : datetime.date
        Day of the first entry.
    critical_g : float
        Charge at which this car stops cooling [g].

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A filling is a corner above the one before.

    Examples
    --------
    >>> saw = [(0, 480.0), (30, 280.0), (30, 480.0), (40, 400.0)]
    >>> describe_leak_history(saw, first=datetime.date(2026, 3, 1), critical_g=214.0)
    'Since 2026-03-01 filled up 1 time; by 2026-04-10 about 400 g are left, cooling is gone at 214 g.'
    """
    rises = sum(after[1] > before[1] for before, after in zip(course, course[1:], strict=False))
    last = first + datetime.timedelta(days=course[-1][0])
    return (
        f"Since {first} filled up {rises} time{'s' * (rises != 1)}; by {last} about {rounded(course[-1][1])} g are left, "
        f"cooling is gone at {rounded(critical_g)} g."
    )
