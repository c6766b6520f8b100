"""The pressure-temperature chart: gauge pressure against boiling temperature, with gauge readings read across."""

import numpy as np

from course.charts.style import COLOURS, plain_axes
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
PATTERNS = ("solid", (0, (5, 2)))


def draw_pressure_temperature(axes, refrigerants, *, units, readings=(), altitude_m=0.0):
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

    Returns
    -------
    list
        The artists.

    Raises
    ------
    UnknownChoice
        When a refrigerant is unknown.

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
    plain_axes(axes)
    temperatures = np.linspace(COLDEST_C, HOTTEST_C, 106)
    artists = []
    for refrigerant, pattern in zip(refrigerants, PATTERNS, strict=False):
        check_choice("refrigerant", refrigerant, REFRIGERANTS)
        absolute = np.array(
            [saturation_at_temperature(refrigerant, celsius_to_kelvin(t)).pressure for t in temperatures]
        )
        gauge = to_display_pressure(gauge_from_absolute_pa(absolute, altitude_m), units)
        artists += axes.plot(
            to_display_temperature(temperatures, units),
            gauge,
            color=COLOURS["ink"][0],
            linestyle=pattern,
            label=REFRIGERANTS[refrigerant],
        )
    for (name, gauge_kpa), colour in zip(readings, ("low", "high", "warning"), strict=False):
        pressure = absolute_from_gauge_pa(gauge_kpa * PA_PER_KPA, altitude_m)
        boiling = kelvin_to_celsius(saturation_at_pressure(refrigerants[0], pressure).temperature)
        x, y = to_display_temperature(boiling, units), to_display_pressure(gauge_kpa * PA_PER_KPA, units)
        low_x = to_display_temperature(COLDEST_C, units)
        low_y = axes.get_ylim()[0]
        artists += axes.plot(
            [low_x, x, x], [y, y, low_y], color=COLOURS[colour][0], linewidth=2.0, linestyle=(0, (4, 2))
        )
        artists.append(
            axes.annotate(
                f"{name}: {y:.{2 if units.pressure == 'bar' else 0}f} {units.pressure} = {x:.0f} {units.temperature}",
                (low_x, y),
                (4, 3),
                textcoords="offset points",
                color=COLOURS[colour][0],
                fontsize=12,
            )
        )
    axes.set_xlim(to_display_temperature(COLDEST_C, units), to_display_temperature(HOTTEST_C, units))
    axes.set_xlabel(f"boiling temperature, {units.temperature}")
    axes.set_ylabel(f"pressure, {units.pressure} gauge")
    if len(refrigerants) > 1:
        axes.legend(fontsize=12, frameon=False)
    return artists
