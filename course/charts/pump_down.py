"""A vacuum in the making: pressure against time on a logarithmic scale, the water that is left, and the rise test after it."""

from matplotlib.ticker import FuncFormatter, MaxNLocator, NullLocator

from course.charts.style import COLOURS, TEXT, plain_axes
from course.charts.words import degrees
from course.errors import WorkbookError
from course.service.evacuation import minutes_to_reach
from course.service.rise_case import deep_vacuum_pa
from course.service.water import boiling_pressure_pa
from course.units import PA_PER_MICRON, STANDARD_ATMOSPHERE_PA

LIMITS_MICRON = (10.0, 9.0e5)  # fixed, from what no workshop pump reaches up to the air of the place
RISE_TOPS_MICRON = (
    1000.0,
    2500.0,
    5000.0,
    10000.0,
    25000.0,
    50000.0,
    100000.0,
    800000.0,
)  # upper ends a rise test is drawn on


def micron(pressure_pa):
    """A vacuum in micron, as a gauge prints it.

    Parameters
    ----------
    pressure_pa : float
        Absolute pressure [Pa].

    Returns
    -------
    str
        Number and unit, tens from a thousand up.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    One micron is a thousandth of a millimetre of mercury, 0.1333 Pa.

    Examples
    --------
    >>> micron(66.66), micron(101325.0)
    ('500 micron', '760,000 micron')
    """
    number = pressure_pa / PA_PER_MICRON
    return f"{round(number, -1 if number >= 1000.0 else 0):,.0f} micron"


def _both_scales(axes, low, high):
    """Micron on the left and the same limits in Pa on the right."""
    axes.set_ylim(low, high)
    right = axes.twinx()
    right.set_yscale(axes.get_yscale())
    right.set_ylim(low * PA_PER_MICRON, high * PA_PER_MICRON)
    if axes.get_yscale() == "log":  # whole numbers: an exponent would be too small to read
        axes.yaxis.set_minor_locator(NullLocator())
        right.yaxis.set_minor_locator(NullLocator())
    for one in (axes, right):
        one.yaxis.set_major_formatter(FuncFormatter(lambda value, place: f"{value:,.0f}"))
    right.tick_params(labelsize=TEXT, colors=COLOURS["ink"][0])
    for spine in right.spines.values():
        spine.set_visible(False)
    axes.set_title("micron", loc="left", fontsize=TEXT, color=COLOURS["ink"][0])
    axes.set_title("Pa", loc="right", fontsize=TEXT, color=COLOURS["ink"][0])
    return right


def _level(axes, at_micron, words):
    """A level line with its words on a clear ground."""
    line = axes.axhline(at_micron, color=COLOURS["faint"][0], linewidth=1.4, linestyle=(0, (1, 2)))
    ground = {"facecolor": COLOURS["paper"][0], "edgecolor": "none", "pad": 0.5}
    place = {"xycoords": ("axes fraction", "data"), "textcoords": "offset points"}
    style = {"ha": "right", "va": "bottom", "fontsize": TEXT, "color": COLOURS["faint"][0], "bbox": ground}
    return [line, axes.annotate(words, (1.0, at_micron), (-3, 2), **place, **style)]


def _check_curve(curve):
    if curve is None or len(curve.minutes) < 2:
        raise WorkbookError("pump-down chart: there is no curve to draw; run a pump-down first.")


def draw_pump_down(figure, curve, earlier=None):
    """Pressure and water left against the time the pump has run.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        Where to draw.
    curve : VacuumCurve
        The pump-down.
    earlier : VacuumCurve or None
        Another one to compare with, dashed.

    Returns
    -------
    list
        The artists.

    Raises
    ------
    WorkbookError
        When there is no curve.

    Notes
    -----
    Dotted levels: where water of the shop's temperature boils, and the vacuum to aim at. Pressure limits are fixed.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.service.evacuation import Circuit, pump_down
    >>> from course.service.vacuum_flow import load_pump, load_tube
    >>> curve = pump_down(Circuit(0.003), load_pump("pump_small"), [load_tube("hose_usual")], 10.0)
    >>> len(draw_pump_down(new_figure(), curve)) >= 6
    True
    """
    _check_curve(curve)
    upper, lower = figure.subplots(
        2, 1, sharex=True,
        gridspec_kw={"left": 0.22, "right": 0.76, "top": 0.92, "bottom": 0.13, "hspace": 0.24, "height_ratios": (2.6, 1)},
    )  # fmt: skip
    plain_axes(upper), plain_axes(lower)
    upper.set_yscale("log")
    artists = [_both_scales(upper, *LIMITS_MICRON)]
    artists += _level(upper, boiling_pressure_pa(curve.circuit.temperature_c) / PA_PER_MICRON, "water boils here")
    artists += _level(upper, deep_vacuum_pa() / PA_PER_MICRON, micron(deep_vacuum_pa()))
    drawn = [(curve, "low", "solid", 2.4)]
    if earlier is not None:
        drawn.insert(0, (earlier, "healthy", (0, (5, 3)), 1.6))
    for one, colour, pattern, width in drawn:
        style = {"color": COLOURS[colour][0], "linestyle": pattern, "linewidth": width}
        artists += upper.plot(one.minutes, [p / PA_PER_MICRON for p in one.pressure_pa], **style)
        artists += lower.plot(one.minutes, one.water_g, **style)
    lower.set_ylim(0.0, max(1.0, 1.05 * max(max(one.water_g) for one, *_ in drawn)))
    lower.set_xlim(0.0, curve.minutes[-1])
    lower.set_title("water left, g", loc="left", fontsize=TEXT, color=COLOURS["ink"][0])
    lower.set_xlabel("minutes" + (" (dashed: before)" if earlier is not None else ""))
    return artists


def describe_pump_down(curve, units):
    """The pump-down in one sentence.

    Parameters
    ----------
    curve : VacuumCurve
        The pump-down.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    WorkbookError
        When there is no curve.

    Notes
    -----
    When the aim is reached, where it ends, what happened to the water.

    Examples
    --------
    >>> from course.service.evacuation import Circuit, pump_down
    >>> from course.service.vacuum_flow import load_pump, load_tube
    >>> from course.units import display_units
    >>> curve = pump_down(Circuit(0.003), load_pump("pump_small"), [load_tube("hose_usual")], 10.0)
    >>> print(describe_pump_down(curve, display_units("psi_f")))
    500 micron after 1.4 min; after 10 min 42 micron.
    """
    _check_curve(curve)
    aim = deep_vacuum_pa()
    reached = minutes_to_reach(curve, aim)
    when = f"{micron(aim)} after {reached:.1f} min" if reached is not None else f"{micron(aim)} is not reached"
    words = f"{when}; after {curve.minutes[-1]:.0f} min {micron(curve.pressure_pa[-1])}"
    if max(curve.water_g) <= 0.0:
        return f"{words}."
    coldest = min(curve.water_c)
    ice = " and froze" if coldest < -0.05 else ""
    left = curve.water_g[-1]
    rest = f"{left:.1f} g of it are left" if left >= 0.05 else "it is gone at the end"
    return f"{words}. The water chilled to {degrees(coldest, units)}{ice}; {rest}."


def draw_rise(figure, readings, boiling_pa, show_truth=False):
    """A rise test: what the gauge showed after the valve was shut, point by point.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        Where to draw.
    readings : RiseReadings
        The readings.
    boiling_pa : float
        Pressure at which water boils in this shop [Pa absolute].
    show_truth : bool
        Whether to draw what really happened, dashed.

    Returns
    -------
    list
        The artists.

    Raises
    ------
    WorkbookError
        When there are no readings.

    Notes
    -----
    Bars: two errors of the gauge either way. The upper end is the first of a few fixed ones that holds
    every reading.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.service.rise_case import read_rise, rise_case
    >>> len(draw_rise(new_figure(), read_rise(rise_case(3), "micron_gauge", 30.0), 2339.0)) >= 2
    True
    """
    if not readings.minutes:
        raise WorkbookError("rise chart: there are no readings to draw; hold the vacuum first.")
    axes = plain_axes(figure.add_axes((0.2, 0.21, 0.57, 0.7)))
    shown = [pressure / PA_PER_MICRON for pressure in readings.pressure_pa]
    doubt = 2.0 * readings.gauge_error_pa / PA_PER_MICRON
    highest = 1.05 * max(shown)  # bars may be cut off
    top = next((end for end in RISE_TOPS_MICRON if end >= highest), STANDARD_ATMOSPHERE_PA / PA_PER_MICRON)
    artists = [_both_scales(axes, 0.0, top)]
    style = {"color": COLOURS["low"][0], "ecolor": COLOURS["faint"][0], "elinewidth": 1.2, "capsize": 2.0}
    artists.append(axes.errorbar(readings.minutes, shown, yerr=doubt, fmt="o", markersize=5.0, **style))
    if boiling_pa / PA_PER_MICRON <= top:
        artists += _level(axes, boiling_pa / PA_PER_MICRON, "water boils here")
    if show_truth:
        truth = [pressure / PA_PER_MICRON for pressure in readings.truth.pressure_pa]
        pattern = {"color": COLOURS["ink"][0], "linewidth": 1.6, "linestyle": (0, (5, 3))}
        artists += axes.plot(readings.truth.minutes, truth, **pattern)
    axes.set_xlim(-0.03 * readings.minutes[-1], 1.03 * readings.minutes[-1])
    axes.xaxis.set_major_locator(MaxNLocator(5, integer=True))
    axes.set_xlabel("minutes after closing" + ("\ndashed: what really happened" if show_truth else ""))
    return artists


def describe_rise(readings):
    """The readings of a rise test in one sentence.

    Parameters
    ----------
    readings : RiseReadings
        The readings.

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    WorkbookError
        When there are no readings.

    Notes
    -----
    First, middle and last reading, and the doubt in each.

    Examples
    --------
    >>> from course.service.rise_case import read_rise, rise_case
    >>> describe_rise(read_rise(rise_case(3, kind="wet"), "micron_gauge", 30.0)).startswith("11 readings in 30 min:")
    True
    """
    if not readings.minutes:
        raise WorkbookError("rise chart: there are no readings to draw; hold the vacuum first.")
    three = [readings.pressure_pa[place] for place in (0, len(readings.pressure_pa) // 2, -1)]
    return (
        f"{len(readings.minutes)} readings in {readings.minutes[-1]:.0f} min: {micron(three[0])} first, "
        f"{micron(three[1])} half-way, {micron(three[2])} last; each {micron(2.0 * readings.gauge_error_pa)} either way."
    )
