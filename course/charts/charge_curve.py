"""The charge curve: what every reading does as the charge falls from too much to nothing."""

from course.charts.style import COLOURS, plain_axes
from course.units import PA_PER_KPA, to_display_difference, to_display_pressure

RESERVE_EMPTY_KG = 0.005  # kg of liquid below which the buffer counts as empty in the picture; assumed


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
    empty = [run.charge_fraction for run in runs if run.reserve_kg < RESERVE_EMPTY_KG]
    return max(empty) if empty else None


def draw_charge_curve(figure, runs, units, now=None):
    """The charge curve on three panels: pressures, superheat and subcooling, cooling.

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
    Nothing of its own.

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
    share = [100.0 * run.charge_fraction for run in runs]
    rows = figure.subplots(3, 1, sharex=True)
    artists = []

    def line(axes, values, colour, pattern, label):
        artists.extend(
            axes.plot(share, values, color=COLOURS[colour][0], linestyle=pattern, linewidth=2.0, label=label)
        )

    for axes in rows:
        plain_axes(axes)
    line(
        rows[0],
        [to_display_pressure(r.high_side_kpa_gauge * PA_PER_KPA, units) for r in runs],
        "high",
        "solid",
        "high side",
    )
    line(
        rows[0],
        [to_display_pressure(r.low_side_kpa_gauge * PA_PER_KPA, units) for r in runs],
        "low",
        (0, (5, 2)),
        "low side",
    )
    rows[0].set_ylabel(f"{units.pressure} gauge")
    unit = "°F" if units.temperature == "°F" else "K"
    line(rows[1], [to_display_difference(r.superheat_k, units) for r in runs], "low", "solid", "superheat")
    line(rows[1], [to_display_difference(r.subcooling_k, units) for r in runs], "high", (0, (5, 2)), "subcooling")
    rows[1].set_ylabel(unit)
    line(rows[2], [r.capacity_w / 1000.0 for r in runs], "ink", "solid", "cooling")
    line(rows[2], [r.compressor_power_w / 1000.0 for r in runs], "warning", (0, (5, 2)), "shaft power")
    rows[2].set_ylabel("kW")
    rows[2].set_xlabel("charge, % of the label")
    edge = empty_below(runs)
    for axes in rows:
        if edge is not None:
            artists.append(axes.axvspan(min(share), 100.0 * edge, color=COLOURS["faint"][0], alpha=0.15, linewidth=0))
        if now is not None:
            artists.append(axes.axvline(100.0 * now.charge_fraction, color=COLOURS["ink"][0], linewidth=1.0))
        axes.legend(fontsize=12, frameon=False, loc="best")
    if edge is not None:
        rows[0].set_title(f"grey: {runs[0].system.storage.kind} empty", fontsize=12)
    return artists
