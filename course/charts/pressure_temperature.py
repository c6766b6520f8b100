"""The pressure-temperature chart: gauge pressure against boiling temperature, with gauge readings read across."""

import itertools

import numpy as np

from course.charts.style import COLOURS, TEXT, plain_axes
from course.charts.words import degrees, pressure_number
from course.errors import check_choice
from course.physics.refrigerant import REFRIGERANTS, saturation_at_pressure, saturation_at_temperature
from course.units import (
    PA_PER_KPA,
    absolute_from_gauge_pa,
    celsius_to_kelvin,
    gauge_from_absolute_pa,
    kelvin_to_celsius,
    to_display_pressure,
    to_display_temperature,
)

COLDEST_C, HOTTEST_C = -30.0, 75.0
LIMITS_KPA = (-100.0, 2400.0)  # gauge
MIDDLE_C, LOW_C = 22.0, 8.0  # where the words of a reading change side, and from where they take two lines
LEAST_HEIGHT = 0.1  # - of the axis, that words of a reading below the chart keep
RING = 12  # points across, round a standing car's reading
SOAK_HEIGHT = 0.75  # - of the axis, where the car's own temperature is written: below the legend, above the curve
PATTERNS = ("solid", (0, (5, 2)))


def draw_pressure_temperature(axes, refrigerants, *, units, readings=(), altitude_m=0.0, soak_c=None):
    """The P-T chart on paper or screen, with gauge readings marked on the first refrigerant's curve.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    refrigerants : sequence of str
        Refrigerant ids.
    units : DisplayUnits
        The learner's units.
    readings : sequence of (str, float)
        Name and gauge pressure of each reading [kPa].
    altitude_m : float
        Altitude, which every gauge subtracts [m].
    soak_c : float or None
        How warm the standing car is: an upright line, with a ring where its first reading really stands [°C].

    Returns
    -------
    list
        The artists.

    Raises
    ------
    UnknownChoice, OutOfRange
        When none is given or one is unknown, or has no boiling temperature at a reading.

    Notes
    -----
    Good only where liquid and vapour of one pure refrigerant stand together, without air.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.units import display_units
    >>> len(draw_pressure_temperature(new_figure().add_subplot(), ["R134a"], units=display_units("psi_f")))
    1
    """
    if not refrigerants:
        check_choice("refrigerant", None, REFRIGERANTS)
    plain_axes(axes)
    temperatures = np.linspace(COLDEST_C, HOTTEST_C, 106)
    axes.set_xlim(to_display_temperature(COLDEST_C, units), to_display_temperature(HOTTEST_C, units))
    axes.set_ylim(*(to_display_pressure(limit * PA_PER_KPA, units) for limit in LIMITS_KPA))
    artists = []
    for refrigerant, pattern in zip(refrigerants, itertools.cycle(PATTERNS), strict=False):
        check_choice("refrigerant", refrigerant, REFRIGERANTS)
        absolute = np.array(
            [saturation_at_temperature(refrigerant, celsius_to_kelvin(t)).pressure for t in temperatures]
        )
        gauge = to_display_pressure(gauge_from_absolute_pa(absolute, altitude_m), units)
        style = {"color": COLOURS["ink"][0], "linestyle": pattern, "label": REFRIGERANTS[refrigerant]}
        artists += axes.plot(to_display_temperature(temperatures, units), gauge, **style)
    for reading, colour in zip(readings, itertools.cycle(("low", "high", "warning")), strict=False):
        artists += _read_across(
            axes, refrigerants[0], reading, colour, units, altitude_m, 4 if soak_c is None else RING
        )
    if soak_c is not None:
        artists += _soaked(axes, soak_c, readings, units)
    axes.set_xlabel(f"boiling temperature, {units.temperature}")
    axes.set_title(f"pressure, {units.pressure} gauge", loc="left", fontsize=TEXT, color=COLOURS["ink"][0])
    if len(refrigerants) > 1:
        axes.legend(fontsize=TEXT, frameon=False, loc="upper left", labelcolor=COLOURS["ink"][0])
    else:
        axes.set_title(REFRIGERANTS[refrigerants[0]], loc="right", fontsize=TEXT, color=COLOURS["ink"][0])
    return artists


def _boiling_c(refrigerant, gauge_kpa, altitude_m):
    pressure = absolute_from_gauge_pa(gauge_kpa * PA_PER_KPA, altitude_m)
    return kelvin_to_celsius(saturation_at_pressure(refrigerant, pressure).temperature)


def _soaked(axes, soak_c, readings, units):
    """The car's own temperature, and its reading there: on the curve with liquid inside, below it without."""
    x, (bottom, top) = to_display_temperature(soak_c, units), axes.get_ylim()
    style = {"color": COLOURS["warning"][0]}
    artists = axes.plot([x, x], [bottom, top], linewidth=1.5, linestyle=(0, (1, 2)), **style)
    for _, gauge_kpa in readings[:1]:
        y = to_display_pressure(gauge_kpa * PA_PER_KPA, units)
        artists += axes.plot(
            [x], [y], marker="o", markersize=RING, fillstyle="none", markeredgewidth=2.0, zorder=4, **style
        )
    left = soak_c > MIDDLE_C
    place = {"ha": "right" if left else "left", "va": "center", "fontsize": TEXT, "textcoords": "offset points"}
    words, height = f"the car: {degrees(soak_c, units)}", bottom + SOAK_HEIGHT * (top - bottom)
    return [*artists, axes.annotate(words, (x, height), (-6 if left else 6, 0), **place, **style)]


def _read_across(axes, refrigerant, reading, colour, units, altitude_m, room):
    """A gauge reading: along to the curve, and down to its temperature."""
    name, gauge_kpa = reading
    boiling = _boiling_c(refrigerant, gauge_kpa, altitude_m)
    x, y = to_display_temperature(boiling, units), to_display_pressure(gauge_kpa * PA_PER_KPA, units)
    corner = ([axes.get_xlim()[0], x, x], [y, y, axes.get_ylim()[0]])
    style = {"color": COLOURS[colour][0]}
    artists = axes.plot(*corner, linewidth=2.0, linestyle=(0, (4, 2)), **style)
    artists += axes.plot([x], [y], marker="o", **style)
    # beside the curve there is room on the left high up, and on the right low down, where one line must do
    high, separator = boiling > MIDDLE_C, "\n" if boiling > LOW_C else " "
    place = {"ha": "right", "va": "bottom"} if high else {"ha": "left", "va": "top"}
    shown = f"{name}: {pressure_number(gauge_kpa, units)} {units.pressure}"
    words = f"{shown}{separator}= {degrees(boiling, units)}"
    bottom, top = axes.get_ylim()
    inside = (max(x, axes.get_xlim()[0]), max(y, bottom + LEAST_HEIGHT * (top - bottom)))
    ground = {"facecolor": COLOURS["paper"][0], "edgecolor": "none", "pad": 1.0}
    style |= {"textcoords": "offset points", "fontsize": TEXT, "bbox": ground}
    text = axes.annotate(words, inside, (-6, 5) if high else (8, -room), **place, **style)
    return [*artists, text]


def describe_pressure_temperature(refrigerant, readings, units, altitude_m=0.0):
    """Gauge readings and the temperatures they stand for, in one sentence.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    readings : sequence of (str, float)
        Name and gauge pressure of each reading [kPa].
    units : DisplayUnits
        The learner's units.
    altitude_m : float
        Altitude, which every gauge subtracts [m].

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown, or it has no boiling temperature at that pressure.

    Notes
    -----
    Good only without air in the circuit.

    Examples
    --------
    >>> from course.units import display_units
    >>> describe_pressure_temperature("R134a", [("low side", 200.0)], display_units("kpa_c"))
    'P-T chart of R-134a: low side 200 kPa gauge is 1 °C.'
    """
    check_choice("refrigerant", refrigerant, REFRIGERANTS)
    read = [
        f"{name} {pressure_number(kpa, units)} {units.pressure} gauge is "
        f"{degrees(_boiling_c(refrigerant, kpa, altitude_m), units)}"
        for name, kpa in readings
    ]
    return f"P-T chart of {REFRIGERANTS[refrigerant]}: {', '.join(read) or 'no reading on it'}."
