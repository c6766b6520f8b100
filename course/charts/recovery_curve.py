"""A recovery: what the machine's scale shows and what the gauge says over time, and the cylinder it goes into."""

from matplotlib.ticker import MaxNLocator

from course.charts.shapes import Path, Words, svg
from course.charts.style import COLOURS, TEXT, plain_axes
from course.charts.words import degrees, pressure_number, rounded
from course.errors import WorkbookError, check_range
from course.tables import read_service_numbers
from course.units import (
    G_PER_KG,
    PA_PER_KPA,
    STANDARD_ATMOSPHERE_PA,
    gauge_from_absolute_pa,
    to_display_pressure,
)

GAUGE_LIMITS_KPA = (-100.0, 150.0)  # gauge; fixed, so that the last of a recovery and its rebound can be read
CYLINDER_WIDTH, CYLINDER_HEIGHT = 146.0, 215.0
LEFT, RIGHT, TOP, BOTTOM = 34.0, 100.0, 44.0, 184.0


def _check_any(stretches):
    if not stretches:
        raise WorkbookError("recovery chart: there is nothing to draw; recover first.")


def _timeline(stretches):
    """Every stretch with the minute it begins at."""
    begin = 0.0
    for name, curve in stretches:
        yield name, curve, begin
        begin += curve.minutes[-1]


def draw_recovery(figure, stretches, units, show_left=False):
    """Mass and pressure against time over recovering and waiting.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        Where to draw.
    stretches : sequence of (str, RecoveryCurve)
        "recover" or "wait", in order.
    units : DisplayUnits
        The learner's units.
    show_left : bool
        Whether to draw what is still in the car, dashed.

    Returns
    -------
    list
        The artists.

    Raises
    ------
    WorkbookError
        When there is nothing to draw.

    Notes
    -----
    Grey: the machine is off. The gauge's scale is fixed and the first minutes lie above it. Sea level.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.service.recovery import load_machine, recover, usual_car
    >>> from course.units import display_units
    >>> first = recover(usual_car(), load_machine("machine_old"), 60.0)
    >>> len(draw_recovery(new_figure(), [("recover", first)], display_units("psi_f"))) >= 3
    True
    """
    _check_any(stretches)
    space = {"left": 0.2, "right": 0.96, "top": 0.93, "bottom": 0.13, "hspace": 0.32}
    upper, lower = figure.subplots(2, 1, sharex=True, gridspec_kw=space)
    for axes, title in ((upper, "g on the scale"), (lower, f"{units.pressure} gauge in the car")):
        plain_axes(axes).set_title(title, loc="left", fontsize=TEXT, color=COLOURS["ink"][0])
    artists = [lower.axhline(0.0, color=COLOURS["ink"][0], linewidth=1.4)]
    for name, curve, begin in _timeline(stretches):
        times = [begin + minute for minute in curve.minutes]
        if name == "wait":
            for axes in (upper, lower):
                artists.append(axes.axvspan(times[0], times[-1], color=COLOURS["faint"][0], alpha=0.2, linewidth=0))
        mass = {"color": COLOURS["ink"][0], "linewidth": 2.4}
        artists += upper.plot(times, [G_PER_KG * one for one in curve.recovered_kg], **mass)
        if show_left:
            rest = {"color": COLOURS["warning"][0], "linewidth": 2.0, "linestyle": (0, (5, 3))}
            artists += upper.plot(times, [G_PER_KG * one for one in curve.left_kg], **rest)
        gauge = [to_display_pressure(gauge_from_absolute_pa(one, 0.0), units) for one in curve.pressure_pa]
        artists += lower.plot(times, gauge, color=COLOURS["low"][0], linewidth=2.4)
    upper.set_ylim(0.0, 1.06 * G_PER_KG * stretches[0][1].car.charge_kg)
    lower.set_ylim(*(to_display_pressure(limit * PA_PER_KPA, units) for limit in GAUGE_LIMITS_KPA))
    lower.set_xlim(0.0, begin + stretches[-1][1].minutes[-1])
    lower.xaxis.set_major_locator(MaxNLocator(6, integer=True))
    lower.set_xlabel("minutes" + (" (dashed: still in the car)" if show_left else " (grey: machine off)"))
    return artists


def describe_recovery(stretches, units, show_left=False):
    """The recovery in a few sentences.

    Parameters
    ----------
    stretches : sequence of (str, RecoveryCurve)
        "recover" or "wait", in order.
    units : DisplayUnits
        The learner's units.
    show_left : bool
        Whether to tell what is still in the car.

    Returns
    -------
    str
        The sentences.

    Raises
    ------
    WorkbookError
        When there is nothing to tell.

    Notes
    -----
    Masses to the gram of the simulation; a machine's display is not that good.

    Examples
    --------
    >>> from course.service.recovery import load_machine, recover, usual_car
    >>> from course.units import display_units
    >>> first = recover(usual_car(), load_machine("machine_new"))
    >>> describe_recovery([("recover", first)], display_units("kpa_c"))
    'Recover: after 30 min the scale shows 1381 g and the gauge -70 kPa.'
    """
    _check_any(stretches)
    words = []
    for name, curve in stretches:
        kpa = gauge_from_absolute_pa(curve.pressure_pa[-1], 0.0) / PA_PER_KPA
        gauge = f"{pressure_number(kpa, units)} {units.pressure}"
        minutes = f"{curve.minutes[-1]:.0f} min"
        if name == "wait":
            above = "above" if curve.pressure_pa[-1] > STANDARD_ATMOSPHERE_PA else "below"
            words.append(f"Wait: after {minutes} the gauge shows {gauge}, {above} 0.")
        else:
            stop = " the machine takes it for empty:" if curve.stopped else ""
            shown = rounded(G_PER_KG * curve.recovered_kg[-1])
            words.append(f"Recover: after {minutes}{stop} the scale shows {shown} g and the gauge {gauge}.")
    if show_left:
        last = stretches[-1][1]
        pool, cold = rounded(G_PER_KG * last.state[0]), degrees(last.accumulator_c[-1], units)
        words.append(
            f"Still in the car: {rounded(G_PER_KG * last.left_kg[-1])} g, {pool} g of it in the accumulator and its oil at {cold}."
        )
    return " ".join(words)


def cylinder_svg(before_share, after_share, label):
    """The recovery cylinder with its line at four fifths.

    Parameters
    ----------
    before_share, after_share : float
        Share of the volume its liquid fills on the hottest day, before this car and now, 0 to 1 [-].
    label : str
        What it shows, for screen readers.

    Returns
    -------
    str
        SVG.

    Raises
    ------
    OutOfRange
        When a share is not between 0 and 1.

    Notes
    -----
    Filled: liquid; dashed: where it stood before; heavy line: four fifths.

    Examples
    --------
    >>> "80 %" in cylinder_svg(0.2, 0.25, "a cylinder")
    True
    """
    check_range("liquid in the cylinder", before_share, 0.0, 1.0, "of its volume", "give a share of its volume")
    check_range("liquid in the cylinder", after_share, 0.0, 1.0, "of its volume", "give a share of its volume")

    def level(share):
        return BOTTOM - share * (BOTTOM - TOP)

    fill_share = read_service_numbers("recovery").value("cylinder", "fill_share")
    middle, now, full = (LEFT + RIGHT) / 2.0, level(after_share), level(fill_share)
    body = ((LEFT, now), (RIGHT, now), (RIGHT, BOTTOM), (LEFT, BOTTOM))
    wall = ((LEFT, TOP), (LEFT, BOTTOM), (RIGHT, BOTTOM), (RIGHT, TOP), (middle + 8, TOP - 14), (middle - 8, TOP - 14))
    shapes = [
        Path(body, colour="liquid", width=2.0, closed=True, fill="liquid"),
        Path(((LEFT, level(before_share)), (RIGHT, level(before_share))), colour="paper", width=1.6, dash=(5, 3)),
        Path(wall, width=2.5, closed=True),
        Path(((middle, TOP - 14), (middle, TOP - 30)), width=4.0),
        Path(((middle - 12, TOP - 30), (middle + 12, TOP - 30)), width=4.0),
        Path(((LEFT - 6, full), (RIGHT + 6, full)), colour="high", width=3.0),
        Words(RIGHT + 9, full + 4.5, f"{100.0 * fill_share:.0f} %", colour="high", bold=True),
        Words(middle, BOTTOM + 20.0, "hottest day", colour="faint", anchor="middle"),
    ]
    return svg(shapes, CYLINDER_WIDTH, CYLINDER_HEIGHT, label)
