"""What happens to the air: from the inlet over the coil to the vent, on a chart of humidity against temperature."""

import numpy as np

from course.charts.style import COLOURS, DASHES, TEXT, plain_axes
from course.charts.words import degrees, rounded
from course.physics.evaporator import coil_air
from course.physics.faults import with_faults
from course.physics.moist_air import moist_air
from course.units import celsius_to_kelvin, kelvin_to_celsius, to_display_temperature

COLDEST_C, HOTTEST_C, WETTEST_G_KG = -5.0, 52.0, 35.0
WARM_C = 30.0  # °C: air in above it carries its words to the left, so that they stay on the chart
GROUND = {"facecolor": COLOURS["paper"][0], "edgecolor": "none", "pad": 1.0}
INK = {"fontsize": TEXT, "color": COLOURS["ink"][0]}


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
    air = coil_air(with_faults(run.system, run.faults).evaporator, run.conditions)
    leaving = air.inlet.humidity_ratio - run.condensate_kg_h / 3600.0 / air.dry_air_flow
    inlet = (kelvin_to_celsius(air.inlet.temperature), 1000.0 * air.inlet.humidity_ratio)
    return inlet, (run.vent_c, 1000.0 * leaving)


def draw_moist_air(axes, run, units, healthy=None):
    """The air's way from inlet to vent, with the healthy car's in grey behind it.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    run : BenchRun
        The run.
    units : DisplayUnits
        The learner's units.
    healthy : BenchRun or None
        The run to compare with, without words.

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
    shown = to_display_temperature(temperatures, units)
    axes.set_xlim(shown[0], shown[-1])
    axes.set_ylim(0.0, WETTEST_G_KG)
    artists = []
    curves = ((1.0, "solid", 1.8, 0.55, "right"), (0.5, (0, (4, 3)), 1.0, 0.78, "left"))
    for humidity, pattern, width, label_at, side in curves:
        water = [1000.0 * moist_air(celsius_to_kelvin(t), humidity, pressure).humidity_ratio for t in temperatures]
        artists += axes.plot(shown, water, color=COLOURS["ink"][0], linestyle=pattern, linewidth=width)
        height = label_at * WETTEST_G_KG
        place = (float(np.interp(height, water, shown)), height)
        words = f"{100 * humidity:.0f} % humid" if side == "right" else f"{100 * humidity:.0f} %"
        offset = (-6 if side == "right" else 6, 0)
        artists.append(axes.annotate(words, place, offset, textcoords="offset points", ha=side, **INK))
    if healthy is not None:
        xs, ys = zip(*[(to_display_temperature(t, units), w) for t, w in air_states(healthy)], strict=True)
        grey = {"color": COLOURS["healthy"][0], "linestyle": (0, DASHES["healthy"]), "linewidth": 2.0}
        artists += axes.plot(xs, ys, marker="o", markersize=9.0, fillstyle="none", **grey)
    inlet, vent = air_states(run)
    xs, ys = zip(*[(to_display_temperature(t, units), w) for t, w in (inlet, vent)], strict=True)
    artists += axes.plot(xs, ys, color=COLOURS["low"][0], linewidth=2.4, marker="o")
    if abs(inlet[0] - vent[0]) > 1.0:
        words = (f"air in {degrees(inlet[0], units)}", f"vent {degrees(vent[0], units)}")
    else:
        words = (f"air in and vent {degrees(inlet[0], units)}", "")
    side = "right" if inlet[0] > WARM_C else "left"
    for x, y, text, offset, anchor in zip(xs, ys, words, ((0, 8), (6, -16)), (side, "left"), strict=True):
        style = {"textcoords": "offset points", "ha": anchor, "bbox": GROUND if text else None}
        artists.append(axes.annotate(text, (x, y), offset, **style, **INK))
    axes.set_xlabel(f"air temperature, {units.temperature}")
    axes.set_title("water, g/kg", loc="left", **INK)
    axes.set_title(f"drain {run.condensate_kg_h:.1f} kg/h", loc="right", **INK)
    return artists


def describe_moist_air(run, units):
    """The air's way in one sentence.

    Parameters
    ----------
    run : BenchRun
        The run.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    OutOfRange
        When the air is beyond what moist_air covers.

    Notes
    -----
    Water content in grams for each kilogram of dry air.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> describe_moist_air(run_bench("sedan", charge_fraction=0.0), display_units("kpa_c"))
    'The air goes in at 35 °C with 14 g/kg of water and comes out of the vent at 35 °C with 14 g/kg; 0.0 kg/h drains off.'
    """
    (warm, wet), (cold, drier) = air_states(run)
    return (
        f"The air goes in at {degrees(warm, units)} with {rounded(wet)} g/kg of water and comes out of the vent at "
        f"{degrees(cold, units)} with {rounded(drier)} g/kg; {run.condensate_kg_h:.1f} kg/h drains off."
    )
