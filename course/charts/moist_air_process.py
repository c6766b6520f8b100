"""What happens to the air: from the inlet over the coil to the vent, on a chart of humidity against temperature."""

import numpy as np

from course.charts.style import COLOURS, plain_axes
from course.physics.moist_air import moist_air, saturated_humidity_ratio
from course.units import celsius_to_kelvin, kelvin_to_celsius, to_display_temperature

COLDEST_C, HOTTEST_C, WETTEST_G_KG = -5.0, 52.0, 35.0


def air_states(run):
    """Temperature and water content of the air before the coil and at the vent.

    Parameters
    ----------
    run : BenchRun
        The run.

    Returns
    -------
    tuple of (float, float)
        Inlet and vent: temperature [°C], humidity ratio [g/kg dry air].

    Raises
    ------
    OutOfRange
        When the air is beyond what moist_air covers.

    Notes
    -----
    What condenses is missing at the vent; the dry-air flow follows from the blower and the inlet's density.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> (warm, wet), (cold, drier) = air_states(run_bench("sedan", relative_humidity=0.6))
    >>> cold < warm and drier < wet
    True
    """
    from course.physics.evaporator import coil_air

    air = coil_air(run.system.evaporator, run.conditions)
    share = 1.0
    for fault, severity in run.faults.items():
        if fault == "evaporator_airflow_low":
            share = 1.0 - 0.8 * severity
    leaving = air.inlet.humidity_ratio - run.condensate_kg_h / 3600.0 / (air.dry_air_flow * share)
    inlet = (kelvin_to_celsius(air.inlet.temperature), 1000.0 * air.inlet.humidity_ratio)
    return inlet, (run.vent_c, 1000.0 * leaving)


def draw_moist_air(axes, run, units):
    """The air's way from inlet to vent.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    run : BenchRun
        The run.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    list
        The artists.

    Raises
    ------
    OutOfRange
        When the air is beyond what moist_air covers.

    Notes
    -----
    The saturation line is that of the run's altitude. The straight line stands for a curved way.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> len(draw_moist_air(new_figure().add_subplot(), run_bench("sedan"), display_units("kpa_c"))) >= 5
    True
    """
    plain_axes(axes)
    pressure = run.conditions.air_pressure
    temperatures = np.linspace(COLDEST_C, HOTTEST_C, 80)
    full = [1000.0 * saturated_humidity_ratio(celsius_to_kelvin(t), pressure) for t in temperatures]
    half = [1000.0 * moist_air(celsius_to_kelvin(t), 0.5, pressure).humidity_ratio for t in temperatures]
    shown = to_display_temperature(temperatures, units)
    artists = axes.plot(shown, full, color=COLOURS["ink"][0], linewidth=1.8)
    artists += axes.plot(shown, half, color=COLOURS["faint"][0], linewidth=1.0, linestyle=(0, (4, 3)))
    inlet, vent = air_states(run)
    ends = [(to_display_temperature(t, units), w) for t, w in (inlet, vent)]
    xs, ys = zip(*ends, strict=True)
    artists += axes.plot(xs, ys, color=COLOURS["low"][0], linewidth=2.4, marker="o")
    for (x, y), word in zip(ends, ("air in", "vent"), strict=True):
        artists.append(
            axes.annotate(word, (x, y), (4, 5), textcoords="offset points", fontsize=12, color=COLOURS["ink"][0])
        )
    axes.set_xlim(shown[0], shown[-1])
    axes.set_ylim(0.0, WETTEST_G_KG)
    axes.set_xlabel(f"air temperature, {units.temperature}")
    axes.set_ylabel("water in the air, g/kg")
    return artists
