"""The P-h chart: dome, quality lines, isotherms, and the cycle with the healthy one in grey behind it."""

from functools import lru_cache

import numpy as np
from matplotlib.ticker import FixedLocator, FuncFormatter, NullLocator

from course.charts.shapes import Path, Words, svg
from course.charts.style import (
    COLOURS,
    ENTHALPY_LIMITS_KJ_KG,
    PRESSURE_LIMITS_KPA,
    WIDTH,
    new_figure,
    plain_axes,
    svg_of,
)
from course.errors import check_choice
from course.physics.refrigerant import (
    REFRIGERANTS,
    critical_point,
    isotherm_enthalpies,
    saturation_at_pressure,
    saturation_at_temperature,
)
from course.units import PA_PER_KPA, to_display_pressure, to_display_temperature

HEIGHT = 300.0
ISOTHERMS_C = (-20.0, 0.0, 20.0, 40.0, 60.0, 80.0, 100.0)
QUALITIES = (0.2, 0.4, 0.6, 0.8)
TICKS = {
    "psi": (10, 20, 50, 100, 200, 500),
    "kPa": (50, 100, 200, 500, 1000, 2000, 5000),
    "bar": (0.5, 1, 2, 5, 10, 20, 50),
}
DISCHARGE_CORNERS = ("compressor_outlet", "condenser_inlet")


@lru_cache(maxsize=4)
def _dome(refrigerant):
    """Pressures [kPa], liquid and vapour enthalpies [kJ/kg] of the dome."""
    top = 0.9995 * critical_point(refrigerant)[1]
    low = PRESSURE_LIMITS_KPA[refrigerant][0] * PA_PER_KPA
    states = [saturation_at_pressure(refrigerant, p) for p in np.geomspace(low, top, 90)]
    return (
        np.array([s.pressure for s in states]) / 1e3,
        np.array([s.liquid_enthalpy for s in states]) / 1e3,
        np.array([s.vapour_enthalpy for s in states]) / 1e3,
    )


def _isotherm(refrigerant, temperature_c):
    """One isotherm [kJ/kg, kPa]: liquid branch, the flat part in the dome, vapour branch."""
    temperature = temperature_c + 273.15
    low, high = (limit * PA_PER_KPA for limit in PRESSURE_LIMITS_KPA[refrigerant])
    if temperature >= critical_point(refrigerant)[0]:
        pressures = np.geomspace(high, low, 60)
        return np.array(isotherm_enthalpies(refrigerant, temperature, pressures)) / 1e3, pressures / 1e3
    middle = saturation_at_temperature(refrigerant, temperature)
    above = np.geomspace(high, middle.pressure * 1.001, 20)
    below = np.geomspace(middle.pressure * 0.999, low, 40) if middle.pressure > low else np.array([])
    enthalpies = [
        isotherm_enthalpies(refrigerant, temperature, above),
        [middle.liquid_enthalpy, middle.vapour_enthalpy],
        isotherm_enthalpies(refrigerant, temperature, below),
    ]
    pressures = np.concatenate([above, [middle.pressure] * 2, below])
    return np.concatenate([np.asarray(part, dtype=float) for part in enthalpies]) / 1e3, pressures / 1e3


def _draw_still(axes, refrigerant, units):
    check_choice("refrigerant", refrigerant, REFRIGERANTS)
    plain_axes(axes)
    scale = to_display_pressure(PA_PER_KPA, units)
    pressures, liquid, vapour = _dome(refrigerant)
    artists = []
    for temperature in ISOTHERMS_C:
        enthalpies, at = _isotherm(refrigerant, temperature)
        artists += axes.plot(enthalpies, at * scale, color=COLOURS["faint"][0], linewidth=0.6, linestyle=(0, (1, 2)))
        saturated = saturation_at_temperature(
            refrigerant, min(temperature + 273.15, critical_point(refrigerant)[0] - 0.1)
        )
        if temperature + 273.15 < critical_point(refrigerant)[0] - 8.0:
            text = f"{to_display_temperature(temperature, units):.0f}"
            x = (saturated.liquid_enthalpy + 0.1 * (saturated.vapour_enthalpy - saturated.liquid_enthalpy)) / 1e3
            artists.append(
                axes.annotate(
                    text,
                    (x, saturated.pressure / 1e3 * scale),
                    (0, 2),
                    textcoords="offset points",
                    color=COLOURS["faint"][0],
                    fontsize=12,
                )
            )
    for quality in QUALITIES:
        line = liquid + quality * (vapour - liquid)
        artists += axes.plot(line, pressures * scale, color=COLOURS["faint"][0], linewidth=0.5, linestyle=(0, (4, 3)))
    artists += axes.plot(liquid, pressures * scale, color=COLOURS["ink"][0], linewidth=1.6)
    artists += axes.plot(vapour, pressures * scale, color=COLOURS["ink"][0], linewidth=1.6)
    axes.set_yscale("log")
    axes.set_xlim(*ENTHALPY_LIMITS_KJ_KG[refrigerant])
    axes.set_ylim(*(limit * scale for limit in PRESSURE_LIMITS_KPA[refrigerant]))
    axes.yaxis.set_major_locator(FixedLocator(TICKS[units.pressure]))
    axes.yaxis.set_minor_locator(NullLocator())
    axes.yaxis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:g}"))
    axes.set_xlabel("heat content, kJ/kg")
    axes.set_ylabel(f"pressure, {units.pressure} absolute")
    axes.set_title(f"{REFRIGERANTS[refrigerant]} (numbers in the dome: {units.temperature})", fontsize=12)
    return artists


def _loop(run):
    """The cycle as a closed line, and its superheat and subcooling stretches [kJ/kg, kPa]."""
    points = [(point.enthalpy_kj_kg, point.pressure_kpa_absolute) for point in run.cycle_points]
    named = {point.name: (point.enthalpy_kj_kg, point.pressure_kpa_absolute) for point in run.cycle_points}
    loop = points + points[:1] if points else []
    superheat = [named[name] for name in ("evaporation_ends", "evaporator_outlet") if name in named]
    subcooling = [named[name] for name in ("condensing_ends", "condenser_outlet") if name in named]
    return loop, superheat if len(superheat) == 2 else [], subcooling if len(subcooling) == 2 else []


def draw_pressure_enthalpy(axes, refrigerant, *, units, run=None, healthy=None):
    """The P-h chart on paper, with a cycle on it and the healthy one in grey.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    refrigerant : str
        "R134a" or "R1234yf".
    units : DisplayUnits
        The learner's units; pressure is absolute.
    run : BenchRun or None
        The cycle.
    healthy : BenchRun or None
        The cycle to compare with.

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
    Fixed limits, so that a cycle moves and the axes do not. The flow is drawn through the corner points; the curve of
    compression between them is straight here.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.units import display_units
    >>> len(draw_pressure_enthalpy(new_figure().add_subplot(), "R134a", units=display_units("kpa_c"))) > 10
    True
    """
    artists = _draw_still(axes, refrigerant, units)
    scale = to_display_pressure(PA_PER_KPA, units)

    def line(points, colour, **more):
        xs, ys = zip(*points, strict=True)
        return axes.plot(xs, [y * scale for y in ys], color=COLOURS[colour][0], **more)

    if healthy is not None and healthy.cycle_points:
        artists += line(_loop(healthy)[0], "healthy", linewidth=2.0, linestyle=(0, (5, 3)))
    if run is not None and run.cycle_points:
        loop, superheat, subcooling = _loop(run)
        artists += line(loop, "ink", linewidth=2.4)
        for stretch, colour, word in ((superheat, "low", "superheat"), (subcooling, "high", "subcooling")):
            if stretch:
                artists += line(stretch, colour, linewidth=5.0, solid_capstyle="butt")
                x, y = stretch[-1]
                artists.append(
                    axes.annotate(
                        word,
                        (x, y * scale),
                        (0, -14),
                        textcoords="offset points",
                        color=COLOURS[colour][0],
                        fontsize=12,
                        ha="center",
                    )
                )
    return artists


@lru_cache(maxsize=8)
def _still(refrigerant, units):
    """The still chart as SVG, and the two straight maps from kJ/kg and ln(kPa) to its pixels."""
    figure = new_figure(WIDTH, HEIGHT)
    axes = figure.add_axes((0.185, 0.15, 0.77, 0.77))
    _draw_still(axes, refrigerant, units)
    figure.canvas.draw()
    scale = to_display_pressure(PA_PER_KPA, units)
    corners = [
        (x, y * scale)
        for x, y in zip(ENTHALPY_LIMITS_KJ_KG[refrigerant], PRESSURE_LIMITS_KPA[refrigerant], strict=True)
    ]
    (x0, y0), (x1, y1) = axes.transData.transform(corners)
    label = f"P-h chart of {REFRIGERANTS[refrigerant]}"
    return svg_of(figure, label), (float(x0), float(x1)), (float(HEIGHT - y0), float(HEIGHT - y1))


def to_pixels(refrigerant, units, enthalpy_kj_kg, pressure_kpa):
    """Where a point of the P-h chart lies in its picture.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    units : DisplayUnits
        The learner's units.
    enthalpy_kj_kg : float
        Heat content [kJ/kg].
    pressure_kpa : float
        Absolute pressure [kPa].

    Returns
    -------
    tuple of float
        x to the right, y down [px].

    Raises
    ------
    UnknownChoice
        When the refrigerant is unknown.

    Notes
    -----
    Taken from the drawn chart's own axes; linear in heat content and in the logarithm of pressure.

    Examples
    --------
    >>> from course.units import display_units
    >>> x, y = to_pixels("R134a", display_units("kpa_c"), 300.0, 1000.0)
    >>> 0 < x < WIDTH and 0 < y < HEIGHT
    True
    """
    _, (x0, x1), (y0, y1) = _still(refrigerant, units)
    h0, h1 = ENTHALPY_LIMITS_KJ_KG[refrigerant]
    p0, p1 = PRESSURE_LIMITS_KPA[refrigerant]
    x = x0 + (x1 - x0) * (enthalpy_kj_kg - h0) / (h1 - h0)
    y = y0 + (y1 - y0) * float(np.log(pressure_kpa / p0) / np.log(p1 / p0))
    return x, y


def still_svg(refrigerant, units):
    """The chart without a cycle, drawn once for each refrigerant and unit set.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        SVG.

    Raises
    ------
    UnknownChoice
        When the refrigerant is unknown.

    Notes
    -----
    Same size as moving_svg, to lie under it.

    Examples
    --------
    >>> from course.units import display_units
    >>> still_svg("R1234yf", display_units("bar_c")).startswith("<svg")
    True
    """
    return _still(refrigerant, units)[0]


def describe_pressure_enthalpy(run, units):
    """The cycle in one sentence.

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
    Nothing of its own.

    Notes
    -----
    Heat and work as the chart's widths show them.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> describe_pressure_enthalpy(run_bench("sedan", charge_fraction=0.0), display_units("psi_f"))
    'The compressor does not pump, so there is no cycle on the P-h chart.'
    """
    if not run.cycle_points:
        return "The compressor does not pump, so there is no cycle on the P-h chart."
    return (
        f"The cycle boils at {to_display_temperature(run.evaporating_c, units):.0f} {units.temperature} and condenses at "
        f"{to_display_temperature(run.condensing_c, units):.0f} {units.temperature}; it carries "
        f"{run.capacity_w / 1000:.1f} kW of heat for {run.compressor_power_w / 1000:.1f} kW of shaft power."
    )


def moving_svg(run, healthy, units):
    """The cycle alone, to lie over still_svg: the part that moves.

    Parameters
    ----------
    run : BenchRun
        The run.
    healthy : BenchRun or None
        The run to show in grey behind it.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        SVG.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Places come from to_pixels, so both layers agree.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> "superheat" in moving_svg(run_bench("sedan"), None, display_units("psi_f"))
    True
    """
    ref = run.system.refrigerant

    def pixels(points):
        return tuple(to_pixels(ref, units, h, p) for h, p in points)

    shapes = []
    if healthy is not None and healthy.cycle_points:
        shapes.append(Path(pixels(_loop(healthy)[0]), colour="healthy", width=2.0, dash=(5, 3)))
    if run.cycle_points:
        loop, superheat, subcooling = _loop(run)
        shapes.append(Path(pixels(loop), width=2.4))
        for stretch, colour, word, drop in (
            (superheat, "low", "superheat", 17),
            (subcooling, "high", "subcooling", -9),
        ):
            if stretch:
                line = pixels(stretch)
                shapes.append(Path(line, colour=colour, width=5.0))
                x = min(max(line[-1][0], 100.0), WIDTH - 36.0)
                shapes.append(Words(x, line[-1][1] + drop, word, colour=colour, anchor="middle", bold=True))
    else:
        x, y = to_pixels(ref, units, sum(ENTHALPY_LIMITS_KJ_KG[ref]) / 2, 100.0)
        shapes.append(Words(x, y, "not pumping: no cycle", anchor="middle", bold=True))
    return svg(shapes, WIDTH, HEIGHT, describe_pressure_enthalpy(run, units))
