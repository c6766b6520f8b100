"""Several cars over the same charge or speed: one reading of each, so that one sees which car tells what."""

from course.charts.style import COLOURS, DASHES, plain_axes
from course.charts.words import rounded
from course.errors import check_choice
from course.units import G_PER_KG, PA_PER_KPA, to_display_difference, to_display_pressure, to_display_temperature

# what a car runs over: how it is called, its unit, and where it stands in a run
SWEEPS = {
    "charge_percent": ("charge", "% of label", lambda run: 100.0 * run.charge_fraction),
    "compressor_rpm": ("compressor speed", "rpm", lambda run: run.conditions.compressor_rpm),
}
# reading of a run: how the trade calls it, and what it is
READINGS = {
    "low_side_kpa_gauge": ("low side", "pressure"),
    "high_side_kpa_gauge": ("high side", "pressure"),
    "superheat_k": ("superheat", "difference"),
    "subcooling_k": ("subcooling", "difference"),
    "vent_c": ("vent", "temperature"),
    "discharge_c": ("discharge line", "temperature"),
    "clutch_on_fraction": ("pumping", "share"),
    "capacity_w": ("cooling", "power"),
    "reserve_kg": ("liquid in store", "mass"),
}
LINES = (("ink", None), ("warning", (8, 4)), ("mixture", (2, 3)))  # colour and dashes, in the order of the cars
FRAME = (0.15, 0.16, 0.81, 0.76)  # left, bottom, width and height of the chart in its picture [-]


def shown_reading(run, reading, units):
    """A reading of a run as a number in the learner's units, with its unit.

    Parameters
    ----------
    run : BenchRun
        The run.
    reading : str
        One of READINGS.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    tuple of (float, str)
        Number and unit.

    Raises
    ------
    UnknownChoice
        When there is no such reading.

    Notes
    -----
    Gauge pressures stay gauge.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> shown_reading(run_bench("pickup", charge_fraction=0.0), "clutch_on_fraction", display_units("kpa_c"))
    (0.0, '%')
    """
    kind = READINGS[check_choice("reading", reading, READINGS)][1]
    value = getattr(run, reading)
    if kind == "pressure":
        return to_display_pressure(value * PA_PER_KPA, units), f"{units.pressure} gauge"
    if kind == "temperature":
        return to_display_temperature(value, units), units.temperature
    if kind == "difference":
        return to_display_difference(value, units), "°F" if units.temperature == "°F" else "K"
    factor, unit = {"share": (100.0, "%"), "power": (1e-3, "kW"), "mass": (G_PER_KG, "g")}[kind]
    return factor * value, unit


def draw_three_cars(axes, curves, over, reading, units, now=None):
    """One reading of several cars over charge or speed, with a line at the place looked at.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    curves : sequence of sequence of BenchRun
        For each car its runs, up to three cars.
    over : str
        One of SWEEPS.
    reading : str
        One of READINGS.
    units : DisplayUnits
        The learner's units.
    now : float or None
        Where the line stands [% of label or 1/min].

    Returns
    -------
    list
        The artists.

    Raises
    ------
    UnknownChoice
        When sweep or reading is unknown.

    Notes
    -----
    Straight from run to run. The axis fits the curves, so it stays while the line moves.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.physics.bench import charge_curve
    >>> from course.units import display_units
    >>> axes, runs = new_figure().add_subplot(), charge_curve("pickup", (0.6, 1.0))
    >>> [list(map(round, line.get_xdata())) for line in draw_three_cars(axes, [runs], "charge_percent", "vent_c", display_units("kpa_c"))]
    [[60, 100]]
    """
    name, unit, place = SWEEPS[check_choice("over", over, SWEEPS)]
    plain_axes(axes)
    artists = []
    for runs, (colour, dash) in zip(curves, LINES, strict=False):
        style = {"color": COLOURS[colour][0], "linewidth": 2.4, "linestyle": (0, dash) if dash else "solid"}
        xs, ys = [place(run) for run in runs], [shown_reading(run, reading, units)[0] for run in runs]
        artists += axes.plot(xs, ys, **style)
    if now is not None:
        artists.append(axes.axvline(now, color=COLOURS["faint"][0], linewidth=1.6, linestyle=(0, DASHES["healthy"])))
    axes.set_ylim(bottom=min(axes.get_ylim()[0], 0.0) if READINGS[reading][1] != "temperature" else None)
    shown = shown_reading(curves[0][0], reading, units)[1]
    axes.set_title(f"{READINGS[reading][0]}, {shown}", loc="left", fontsize=axes.title.get_fontsize())
    axes.set_xlabel(f"{name}, {unit}")
    return artists


def describe_three_cars(curves, over, reading, units):
    """How one reading of each car runs from the least to the most, in one sentence.

    Parameters
    ----------
    curves : sequence of sequence of BenchRun
        For each car its runs.
    over : str
        One of SWEEPS.
    reading : str
        One of READINGS.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    UnknownChoice
        When sweep or reading is unknown.

    Notes
    -----
    First, least, most and last value of each curve.

    Examples
    --------
    >>> from course.physics.bench import charge_curve
    >>> from course.units import display_units
    >>> describe_three_cars([charge_curve("pickup", (0.7, 1.0))], "charge_percent", "vent_c", display_units("kpa_c"))
    'Vent over 70 to 100 % of label charge: invented pickup 13 to 13 °C, between 13 and 13.'
    """
    name, unit, place = SWEEPS[check_choice("over", over, SWEEPS)]
    digits = 2 if "bar" in shown_reading(curves[0][0], reading, units)[1] else 1 if reading == "capacity_w" else 0
    parts = []
    for runs in curves:
        values = [shown_reading(run, reading, units)[0] for run in runs]
        said = [rounded(value, digits) for value in (values[0], values[-1], min(values), max(values))]
        shown = shown_reading(runs[0], reading, units)[1]
        parts.append(f"{runs[0].system.name.lower()} {said[0]} to {said[1]} {shown}, between {said[2]} and {said[3]}")
    ends = f"{rounded(place(curves[0][0]))} to {rounded(place(curves[0][-1]))}"
    span = f"{ends} {unit} {name}" if over == "charge_percent" else f"{name} {ends} {unit}"
    return f"{READINGS[reading][0].capitalize()} over {span}: {'; '.join(parts)}."
