"""The charge curve: what every reading does as the charge falls from too much to nothing."""

from course.charts.style import COLOURS, TEXT, plain_axes, variable
from course.charts.words import pressure_number
from course.errors import WorkbookError
from course.evidence.as_printed import EMPTY_RESERVE_KG
from course.physics.system import MOST_CHARGE_FRACTION
from course.units import PA_PER_KPA, to_display_difference, to_display_pressure

SPACE = {
    "left": 0.13,
    "right": 0.97,
    "top": 0.94,
    "bottom": 0.16,
    "hspace": 0.42,
}  # share of the figure the panels take


def empty_below(runs):
    """The charge at which the receiver or accumulator has run empty.

    Parameters
    ----------
    runs : sequence of BenchRun
        Runs over charge, from little to much.

    Returns
    -------
    float or None
        Share of the label charge; None when it never runs empty [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Below it the readings begin to fall; common practice, no source, calls it the end of the plateau.

    Examples
    --------
    >>> from course.physics.bench import charge_curve
    >>> 0.55 < empty_below(charge_curve("sedan", (0.5, 0.6, 0.7, 0.8))) < 0.8
    True
    """
    empty = [run.charge_fraction for run in runs if run.reserve_kg < EMPTY_RESERVE_KG]
    return max(empty) if empty else None


def _rows(runs, units):
    """For each panel: title, the range it always shows, and its one or two lines with their colours."""

    def pressures(kpa):
        return [to_display_pressure(value * PA_PER_KPA, units) for value in kpa]

    def differences(kelvin):
        return [to_display_difference(value, units) for value in kelvin]

    unit = "°F" if units.temperature == "°F" else "K"
    high, low = pressures(run.high_side_kpa_gauge for run in runs), pressures(run.low_side_kpa_gauge for run in runs)
    hot, cold = differences(run.superheat_k for run in runs), differences(run.subcooling_k for run in runs)
    cooling, shaft = [run.capacity_w / 1e3 for run in runs], [run.compressor_power_w / 1e3 for run in runs]
    return (
        (f"high side, {units.pressure} gauge", *pressures((0.0, 3000.0)), (high, "high")),
        (f"low side, {units.pressure} gauge", *pressures((-100.0, 500.0)), (low, "low")),
        (f"superheat, subcooling (dashed), {unit}", *differences((0.0, 60.0)), (hot, "low"), (cold, "high")),
        ("cooling, shaft power (dashed), kW", 0.0, 8.0, (cooling, "ink"), (shaft, "warning")),
    )


def _check_any(runs):
    if not runs:
        raise WorkbookError("charge curve: no run was given; give at least one, as charge_curve returns them.")


def draw_charge_curve(figure, runs, units, now=None):
    """The charge curve on four panels: high side, low side, superheat and subcooling, cooling.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        Where to draw.
    runs : sequence of BenchRun
        From course.physics.bench.charge_curve.
    units : DisplayUnits
        The learner's units.
    now : BenchRun or None
        Today's charge, marked with a line.

    Returns
    -------
    list
        The artists.

    Raises
    ------
    WorkbookError
        When there is no run.

    Notes
    -----
    Trends only: no published table of car pressures against charge was found to check them.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.physics.bench import charge_curve
    >>> from course.units import display_units
    >>> len(draw_charge_curve(new_figure(), charge_curve("sedan", (0.4, 0.8, 1.2)), display_units("psi_f"))) >= 5
    True
    """
    _check_any(runs)
    share = [100.0 * run.charge_fraction for run in runs]
    panels = figure.subplots(4, 1, sharex=True, gridspec_kw=SPACE)
    edge = empty_below(runs)
    artists = []
    for axes, (title, lowest, highest, *lines) in zip(panels, _rows(runs, units), strict=True):
        plain_axes(axes)
        axes.set_title(title, loc="left", fontsize=TEXT, color=COLOURS["ink"][0])
        for (values, colour), pattern in zip(lines, ("solid", (0, (5, 2))), strict=False):
            artists += axes.plot(share, values, color=COLOURS[colour][0], linestyle=pattern, linewidth=2.0)
            lowest, highest = min(lowest, *values), max(highest, *values)
        axes.set_ylim(lowest, highest)
        if edge is not None:
            artists.append(axes.axvspan(0.0, 100.0 * edge, color=COLOURS["faint"][0], alpha=0.2, linewidth=0))
        if now is not None:
            artists.append(axes.axvline(100.0 * now.charge_fraction, color=COLOURS["ink"][0], linewidth=1.4))
    panels[-1].set_xlim(0.0, 100.0 * MOST_CHARGE_FRACTION)
    key = [f"grey: {runs[0].system.storage.kind} empty"] if edge is not None else []
    key += ["upright line: the charge now"] if now is not None else []
    panels[-1].set_xlabel("\n".join(["charge, % of the label", *key]))
    return artists


def charge_now_svg(run, width, height):
    """The upright line at today's charge alone, to lie over a stored charge curve of the same size.

    Parameters
    ----------
    run : BenchRun
        Today's charge.
    width, height : float
        As the curve's figure was made [px].

    Returns
    -------
    str
        An svg element.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The curve takes long to draw and stays; only this line moves with the slider.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> charge_now_svg(run_bench("sedan", charge_fraction=0.7), 100.0, 100.0).count('x1="55.0"')
    1
    """
    left, right = SPACE["left"], SPACE["right"]
    across = width * (left + (right - left) * run.charge_fraction / MOST_CHARGE_FRACTION)
    top, bottom = height * (1.0 - SPACE["top"]), height * (1.0 - SPACE["bottom"])
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" role="img" '
        f'aria-label="Upright line at {100.0 * run.charge_fraction:.0f} % of the label charge.">'
        f'<line x1="{across:.1f}" x2="{across:.1f}" y1="{top:.1f}" y2="{bottom:.1f}" stroke="{variable("ink")}" '
        f'stroke-width="1.6"/></svg>'
    )


def describe_charge_curve(runs, units):
    """The charge curve in one sentence.

    Parameters
    ----------
    runs : sequence of BenchRun
        From course.physics.bench.charge_curve.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    WorkbookError
        When there is no run.

    Notes
    -----
    The first and the last run, and where the buffer has run empty.

    Examples
    --------
    >>> from course.physics.bench import charge_curve
    >>> from course.units import display_units
    >>> describe_charge_curve(charge_curve("sedan", (0.9, 1.0)), display_units("psi_f")).startswith("From 90 to 100 % of")
    True
    """
    _check_any(runs)
    first, last = runs[0], runs[-1]

    def change(quantity, start, end, unit):
        return f"{quantity} from {start} to {end} {unit}"

    parts = [
        change(name, pressure_number(start, units), pressure_number(end, units), f"{units.pressure} gauge")
        for name, start, end in (
            ("high side", first.high_side_kpa_gauge, last.high_side_kpa_gauge),
            ("low side", first.low_side_kpa_gauge, last.low_side_kpa_gauge),
        )
    ]
    parts.append(change("cooling", f"{first.capacity_w / 1e3:.1f}", f"{last.capacity_w / 1e3:.1f}", "kW"))
    edge = empty_below(runs)
    buffer = first.system.storage.kind
    emptied = (
        f"the {buffer} is empty at {100 * edge:.0f} % and below" if edge is not None else f"the {buffer} never empties"
    )
    return (
        f"From {100 * first.charge_fraction:.0f} to {100 * last.charge_fraction:.0f} % of the label charge: "
        f"{', '.join(parts)}; {emptied}."
    )
