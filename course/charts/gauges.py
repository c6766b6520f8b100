"""Two gauge faces: low side and high side, in the learner's unit, with the temperature the pressure stands for."""

import math

from course.charts.shapes import Disc, Path, Words, draw, svg
from course.charts.style import WIDTH
from course.charts.words import degrees, pressure_number
from course.physics.refrigerant import critical_point, saturation_at_pressure
from course.units import PA_PER_KPA, absolute_from_gauge_pa, kelvin_to_celsius, to_display_pressure

HEIGHT = 196.0
RADIUS = 70.0
CENTRES = {"low": (84.0, 84.0), "high": (256.0, 84.0)}
SWEEP = 270.0  # degrees from the lowest to the highest mark, open below
# in each display unit: lowest and highest mark, a mark at every, a number at every
SCALES = {
    "psi": {"low": (-15.0, 150.0, 5.0, 30.0), "high": (0.0, 500.0, 20.0, 100.0)},
    "kPa": {"low": (-100.0, 1000.0, 50.0, 200.0), "high": (0.0, 3500.0, 100.0, 1000.0)},
    "bar": {"low": (-1.0, 10.0, 0.5, 2.0), "high": (0.0, 35.0, 1.0, 5.0)},
}


def needle_angle(value, side, units):
    """Where the needle of a gauge points.

    Parameters
    ----------
    value : float
        Gauge pressure [psi, kPa or bar as units says].
    side : str
        "low" or "high".
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    float
        Clockwise from straight up, -135 at the lowest mark to 135 at the highest; beyond the scale it stops at the pin,
        which stands at the last mark [degrees].

    Raises
    ------
    KeyError
        When there is no such side.

    Notes
    -----
    An even scale of our own.

    Examples
    --------
    >>> from course.units import display_units
    >>> needle_angle(250.0, "high", display_units("psi_f"))
    0.0
    """
    lowest, highest, *_ = SCALES[units.pressure][side]
    share = (value - lowest) / (highest - lowest)
    return SWEEP * (min(max(share, 0.0), 1.0) - 0.5)


def _at(side, angle, radius):
    x, y = CENTRES[side]
    turn = math.radians(angle)
    return x + radius * math.sin(turn), y - radius * math.cos(turn)


def _arc(side, start, end, radius):
    turns = round(abs(end - start) / 5.0) + 1
    return tuple(_at(side, start + (end - start) * turn / turns, radius) for turn in range(turns + 1))


def _face(side, units):
    lowest, highest, step, numbered = SCALES[units.pressure][side]
    x, y = CENTRES[side]
    shapes = [Disc(x, y, RADIUS, colour=side, width=3.0)]
    for mark in range(round((highest - lowest) / step) + 1):
        value = lowest + mark * step
        angle = needle_angle(value, side, units)
        long = value % numbered == 0.0 or mark == 0
        length = 9 if long else 5
        shapes.append(Path((_at(side, angle, RADIUS - 4), _at(side, angle, RADIUS - 4 - length)), width=1.2))
        if long:
            tx, ty = _at(side, angle, RADIUS - 25)
            shapes.append(Words(tx, ty + 4, f"{value:g}", anchor="middle"))
    if lowest < 0.0:
        ends = (needle_angle(lowest, side, units), needle_angle(0.0, side, units))
        shapes.append(Path(_arc(side, *ends, RADIUS - 6), colour="faint", width=5.0))
    name = "LOW SIDE" if side == "low" else "HIGH SIDE"
    shapes.append(Words(x, y + RADIUS + 16, f"{name}, {units.pressure}", colour=side, anchor="middle", bold=True))
    return shapes


def _still(units):
    return _face("low", units) + _face("high", units)


def boiling_point_c(run, side):
    """The saturation temperature that belongs to a gauge's pressure, air in the circuit ignored as a chart would.

    Parameters
    ----------
    run : BenchRun
        The run.
    side : str
        "low" or "high".

    Returns
    -------
    float or None
        Temperature; None where the chart has none [°C].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    See course.physics.refrigerant.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> round(boiling_point_c(run_bench("sedan"), "high")) > 40
    True
    """
    pressure = absolute_from_gauge_pa(_gauge_kpa(run, side) * PA_PER_KPA, run.conditions.altitude)
    if not 2.0e4 < pressure < 0.999 * critical_point(run.system.refrigerant)[1]:
        return None
    return kelvin_to_celsius(saturation_at_pressure(run.system.refrigerant, pressure).temperature)


def _gauge_kpa(run, side):
    return run.low_side_kpa_gauge if side == "low" else run.high_side_kpa_gauge


def _past_the_end(run, side, units):
    """Which end of the scale the pressure lies beyond, in words; empty on the scale."""
    lowest, highest, *_ = SCALES[units.pressure][side]
    value = to_display_pressure(_gauge_kpa(run, side) * PA_PER_KPA, units)
    return "below the scale" if value < lowest else "above the scale" if value > highest else ""


def _moving(run, units):
    shapes = []
    for side in ("low", "high"):
        angle = needle_angle(to_display_pressure(_gauge_kpa(run, side) * PA_PER_KPA, units), side, units)
        x, y = CENTRES[side]
        shapes.append(Path((_at(side, angle + 180.0, 12.0), _at(side, angle, RADIUS - 12)), colour=side, width=3.0))
        shapes.append(Disc(x, y, 5.0, fill="ink"))
        number = pressure_number(_gauge_kpa(run, side), units)
        shapes.append(Words(x, y + 57, number, anchor="middle", size=18.0, bold=True, halo=True))
        boiling = boiling_point_c(run, side)
        words = "not on the P-T chart"
        if boiling is not None:
            words = f"{'boils' if side == 'low' else 'condenses'} at {degrees(boiling, units)}"
        words = _past_the_end(run, side, units) or words
        shapes.append(Words(x, y + RADIUS + 34, words, anchor="middle", colour="faint"))
    return shapes


def describe_gauges(run, units):
    """Both gauges in one sentence.

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
    Rounded as a gauge is read.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> describe_gauges(run_bench("pickup", charge_fraction=0.0), display_units("kpa_c"))
    'Low side -101 kPa gauge (needle at its pin, below the scale), high side -101 kPa gauge (needle at its pin, below the scale).'
    """
    parts = []
    for side, name in (("low", "Low side"), ("high", "high side")):
        beyond = _past_the_end(run, side, units)
        vacuum = " (a vacuum)" if _gauge_kpa(run, side) < 0.0 else ""
        needle = f" (needle at its pin, {beyond})" if beyond else vacuum
        parts.append(f"{name} {pressure_number(_gauge_kpa(run, side), units)} {units.pressure} gauge{needle}")
    return f"{', '.join(parts)}."


def gauge_faces_still_svg(units):
    """The two faces without needles, drawn once.

    Parameters
    ----------
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
    Same size and places as gauge_needles_svg, to lie under it.

    Examples
    --------
    >>> from course.units import display_units
    >>> "HIGH SIDE" in gauge_faces_still_svg(display_units("bar_c"))
    True
    """
    return svg(_still(units), WIDTH, HEIGHT, "")


def gauge_needles_svg(run, units):
    """Needles, numbers and saturation temperatures: the part that moves.

    Parameters
    ----------
    run : BenchRun
        The run.
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
    Lies over gauge_faces_still_svg.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> gauge_needles_svg(run_bench("sedan"), display_units("psi_f")).startswith("<svg")
    True
    """
    return svg(_moving(run, units), WIDTH, HEIGHT, describe_gauges(run, units))


def draw_gauges(axes, run, units):
    """The gauge pair on paper.

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
    Nothing of its own.

    Notes
    -----
    The same shapes as on the screen.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> len(draw_gauges(new_figure().add_subplot(), run_bench("sedan"), display_units("psi_f"))) > 20
    True
    """
    return draw(axes, _still(units) + _moving(run, units), WIDTH, HEIGHT)
