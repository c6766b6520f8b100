"""The lines of the P-h chart that never move: dome, quality lines and isotherms of a refrigerant."""

from functools import lru_cache

import numpy as np
from matplotlib.ticker import FixedLocator, FuncFormatter, NullLocator

from course.charts.style import COLOURS, ENTHALPY_LIMITS_KJ_KG, PRESSURE_LIMITS_KPA, TEXT, plain_axes
from course.errors import check_choice
from course.physics.refrigerant import (
    REFRIGERANTS,
    critical_point,
    isotherm_enthalpies,
    saturation_at_pressure,
    saturation_at_temperature,
)
from course.units import PA_PER_KPA, celsius_to_kelvin, to_display_pressure, to_display_temperature

ISOTHERMS_C = (-20.0, 0.0, 20.0, 40.0, 60.0, 80.0, 100.0)
QUALITIES = (0.2, 0.4, 0.6, 0.8)
TICKS = {
    "psi": (10, 20, 50, 100, 200, 500),
    "kPa": (50, 100, 200, 500, 1000, 2000, 5000),
    "bar": (0.5, 1, 2, 5, 10, 20, 50),
}
NEAR_CRITICAL_K = 8.0  # K below the critical point, from which isotherms are left without a number for lack of room


@lru_cache(maxsize=4)
def _dome(refrigerant):
    """Pressures [kPa], liquid and vapour enthalpies [kJ/kg] of the dome, up to just under its top."""
    top = 0.99995 * critical_point(refrigerant)[1]
    low = PRESSURE_LIMITS_KPA[refrigerant][0] * PA_PER_KPA
    # closer together towards the top, where the dome turns over
    pressures = top - (top - low) * np.linspace(1.0, 0.0, 120) ** 2
    states = [saturation_at_pressure(refrigerant, p) for p in pressures]
    return (
        np.array([s.pressure for s in states]) / 1e3,
        np.array([s.liquid_enthalpy for s in states]) / 1e3,
        np.array([s.vapour_enthalpy for s in states]) / 1e3,
    )


def _isotherm(refrigerant, temperature_c):
    """One isotherm [kJ/kg, kPa]: liquid branch, the flat part in the dome, vapour branch."""
    temperature = celsius_to_kelvin(temperature_c)
    low, high = (limit * PA_PER_KPA for limit in PRESSURE_LIMITS_KPA[refrigerant])
    if temperature >= critical_point(refrigerant)[0]:
        pressures = np.geomspace(high, low, 60)
        return np.array(isotherm_enthalpies(refrigerant, temperature, pressures)) / 1e3, pressures / 1e3
    middle = saturation_at_temperature(refrigerant, temperature)
    above = np.geomspace(high, middle.pressure * 1.001, 20)
    below = np.geomspace(middle.pressure * 0.999, low, 40)
    enthalpies = [
        isotherm_enthalpies(refrigerant, temperature, above),
        [middle.liquid_enthalpy, middle.vapour_enthalpy],
        isotherm_enthalpies(refrigerant, temperature, below),
    ]
    pressures = np.concatenate([above, [middle.pressure] * 2, below])
    return np.concatenate([np.asarray(part, dtype=float) for part in enthalpies]) / 1e3, pressures / 1e3


def _isotherms(axes, refrigerant, units, scale):
    faint = COLOURS["faint"][0]
    artists = []
    for temperature in ISOTHERMS_C:
        enthalpies, at = _isotherm(refrigerant, temperature)
        artists += axes.plot(enthalpies, at * scale, color=faint, linewidth=0.6, linestyle=(0, (1, 2)))
        kelvin = celsius_to_kelvin(temperature)
        if kelvin < critical_point(refrigerant)[0] - NEAR_CRITICAL_K:
            boiling = saturation_at_temperature(refrigerant, kelvin)
            x = (0.9 * boiling.liquid_enthalpy + 0.1 * boiling.vapour_enthalpy) / 1e3
            number = f"{to_display_temperature(temperature, units):.0f}"
            place = (x, boiling.pressure / 1e3 * scale)
            artists.append(axes.annotate(number, place, (0, 2), textcoords="offset points", color=faint, fontsize=TEXT))
    return artists


def draw_state_lines(axes, refrigerant, units):
    """Dome, quality lines and isotherms on an axes of fixed limits.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    refrigerant : str
        "R134a" or "R1234yf".
    units : DisplayUnits
        The learner's units; pressure is absolute.

    Returns
    -------
    list
        The artists.

    Raises
    ------
    UnknownChoice
        When the refrigerant is unknown.

    Notes
    -----
    Heat content counts from 200 kJ/kg for liquid at 0 °C. The dome is closed by a straight stroke over its last 0.005 %.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.units import display_units
    >>> draw_state_lines(new_figure().add_subplot(), "R12", display_units("kpa_c"))
    Traceback (most recent call last):
    course.errors.UnknownChoice: refrigerant: 'R12' is not known here; choose one of R134a, R1234yf.
    """
    check_choice("refrigerant", refrigerant, REFRIGERANTS)
    plain_axes(axes)
    scale = to_display_pressure(PA_PER_KPA, units)
    pressures, liquid, vapour = _dome(refrigerant)
    artists = _isotherms(axes, refrigerant, units, scale)
    for quality in QUALITIES:
        line = liquid + quality * (vapour - liquid)
        artists += axes.plot(line, pressures * scale, color=COLOURS["faint"][0], linewidth=0.5, linestyle=(0, (4, 3)))
    around = (np.concatenate([liquid, vapour[::-1]]), np.concatenate([pressures, pressures[::-1]]) * scale)
    artists += axes.plot(*around, color=COLOURS["ink"][0], linewidth=1.6)
    axes.set_yscale("log")
    lowest, highest = ENTHALPY_LIMITS_KJ_KG[refrigerant]
    axes.set_xlim(lowest, highest)
    axes.xaxis.set_major_locator(FixedLocator(range(200, int(highest), 50)))
    axes.set_ylim(*(limit * scale for limit in PRESSURE_LIMITS_KPA[refrigerant]))
    axes.yaxis.set_major_locator(FixedLocator(TICKS[units.pressure]))
    axes.yaxis.set_minor_locator(NullLocator())
    axes.yaxis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:g}"))
    axes.set_xlabel("heat content, kJ/kg")
    # above the axis rather than along it: narrow screens have no room beside the numbers
    axes.set_title(f"{units.pressure} absolute", fontsize=TEXT, loc="left", color=COLOURS["ink"][0])
    title = f"{REFRIGERANTS[refrigerant]}, lines in {units.temperature}"
    axes.set_title(title, fontsize=TEXT, loc="right", color=COLOURS["ink"][0])
    return artists
