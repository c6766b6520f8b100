"""A nitrogen hold: the line a tight circuit moves along as it warms or cools, and the second reading on or below it."""

import numpy as np

from course.charts.style import COLOURS, TEXT, plain_axes
from course.charts.words import degrees, pressure_number
from course.service.pressure_test import expected_kpa_gauge
from course.units import PA_PER_KPA, to_display_pressure, to_display_temperature

LIMITS_C = (-12.0, 52.0)
LIMITS_KPA = (750.0, 1150.0)  # gauge


def draw_hold(axes, readings, verdict, units):
    """Both readings over temperature, with the line of a tight circuit.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    readings : HoldReadings
        Both readings.
    verdict : HoldVerdict
        What judge_hold makes of them.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    list
        The artists.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Ring: first reading; dot: second, its bar two errors either way. The chart's limits are fixed.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.service.hold_case import read_hold
    >>> from course.service.pressure_test import judge_hold
    >>> from course.units import display_units
    >>> seen = read_hold(4, 720.0, 15.0)
    >>> verdict = judge_hold(seen.first_kpa_gauge, seen.first_c, seen.second_kpa_gauge, seen.second_c, seen.minutes)
    >>> len(draw_hold(new_figure().add_subplot(), seen, verdict, display_units("psi_f")))
    3
    """
    plain_axes(axes)
    ink, low = COLOURS["ink"][0], COLOURS["low"][0]

    def pressure(kpa):
        return to_display_pressure(kpa * PA_PER_KPA, units)

    warm = np.linspace(*LIMITS_C, 20)
    tight = [pressure(expected_kpa_gauge(readings.first_kpa_gauge, readings.first_c, one)) for one in warm]
    artists = axes.plot([to_display_temperature(one, units) for one in warm], tight, color=ink, linestyle=(0, (5, 3)))
    first = (to_display_temperature(readings.first_c, units), pressure(readings.first_kpa_gauge))
    artists += axes.plot(*first, "o", markersize=9.0, markerfacecolor="none", color=ink, markeredgewidth=2.0)
    style = {"fmt": "o", "markersize": 7.0, "color": low, "elinewidth": 2.0, "capsize": 5.0}
    second = (to_display_temperature(readings.second_c, units), pressure(readings.second_kpa_gauge))
    artists.append(axes.errorbar(*second, yerr=2.0 * pressure(verdict.drop_error_kpa), **style))
    axes.set_xlim(*(to_display_temperature(one, units) for one in LIMITS_C))
    axes.set_ylim(*(pressure(one) for one in LIMITS_KPA))
    axes.set_xlabel(f"circuit, {units.temperature} (dashed: tight)")
    axes.set_title(f"{units.pressure} gauge", loc="left", fontsize=TEXT, color=ink)
    return artists


def describe_hold(readings, units):
    """Both readings in one sentence.

    Parameters
    ----------
    readings : HoldReadings
        Both readings.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    As read, errors included.

    Examples
    --------
    >>> from course.service.hold_case import read_hold
    >>> from course.units import display_units
    >>> describe_hold(read_hold(4, 720.0, 15.0), display_units("kpa_c")).startswith("Nitrogen, 12 h: ")
    True
    """
    time = f"{readings.minutes / 60.0:.0f} h" if readings.minutes >= 60.0 else f"{readings.minutes:.0f} min"
    first, second = (
        f"{pressure_number(kpa, units)} {units.pressure} gauge at {degrees(warm, units)}"
        for kpa, warm in (
            (readings.first_kpa_gauge, readings.first_c),
            (readings.second_kpa_gauge, readings.second_c),
        )
    )
    return f"Nitrogen, {time}: {first} first, {second} last."
