"""The P-h chart: dome, quality lines, isotherms, and the cycle with the healthy one in grey behind it."""

import math
from functools import lru_cache

from course.charts.cycle_lines import describe_pressure_enthalpy, loop_of, off_chart, rest_pressure_kpa
from course.charts.shapes import Path, Words, clipped, svg
from course.charts.state_lines import draw_state_lines
from course.charts.style import (
    COLOURS,
    DASHES,
    ENTHALPY_LIMITS_KJ_KG,
    PRESSURE_LIMITS_KPA,
    TEXT,
    WIDTH,
    new_figure,
    svg_of,
)
from course.charts.words import degrees
from course.physics.refrigerant import REFRIGERANTS
from course.units import PA_PER_KPA, to_display_pressure

HEIGHT = 300.0
FRAME = (0.145, 0.15, 0.815, 0.77)  # left, bottom, width and height of the chart in its picture [-]
AT_REST = "at rest, both sides equal: no cycle"
WORD_WIDTH = 100.0  # px kept free for "subcooling", which narrow screens print larger


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
    artists = draw_state_lines(axes, refrigerant, units)
    if healthy is not None and healthy.cycle_points:
        artists += _paper_line(
            axes, units, loop_of(healthy)[0], "healthy", linewidth=2.0, linestyle=(0, DASHES["healthy"])
        )
    if run is None:
        return artists
    if not run.cycle_points:
        pressure = rest_pressure_kpa(run)
        ends = [(limit, pressure) for limit in ENTHALPY_LIMITS_KJ_KG[refrigerant]]
        artists += _paper_line(axes, units, ends, "ink", linewidth=2.4)
        return [*artists, axes.set_title(AT_REST, fontsize=TEXT, color=COLOURS["ink"][0])]
    loop, superheat, subcooling = loop_of(run)
    artists += _paper_line(axes, units, loop, "ink", linewidth=2.4)
    marks = ((superheat, "low", "superheat", (0, -15), "center"), (subcooling, "high", "subcooling", (0, 6), "right"))
    for stretch, colour, word, offset, side in marks:
        if stretch:
            artists += _paper_line(axes, units, stretch, colour, linewidth=5.0, solid_capstyle="butt")
            x, y = stretch[-1]
            place = (x, to_display_pressure(y * PA_PER_KPA, units))
            style = {"color": COLOURS[colour][0], "fontsize": TEXT, "ha": side, "weight": "bold"}
            artists.append(axes.annotate(word, place, offset, textcoords="offset points", **style))
    return artists


def _paper_line(axes, units, points, colour, **style):
    xs, ys = zip(*points, strict=True)
    shown = [to_display_pressure(y * PA_PER_KPA, units) for y in ys]
    return axes.plot(xs, shown, color=COLOURS[colour][0], **style)


@lru_cache(maxsize=8)
def _still(refrigerant, units):
    """The still chart as SVG, and the two straight maps from kJ/kg and ln(kPa) to its pixels."""
    figure = new_figure(WIDTH, HEIGHT)
    axes = figure.add_axes(FRAME)
    draw_state_lines(axes, refrigerant, units)
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
    y = y0 + (y1 - y0) * math.log(pressure_kpa / p0) / math.log(p1 / p0)
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
    refrigerant = run.system.refrigerant
    shapes = []
    if healthy is not None and healthy.cycle_points:
        shapes += _screen_line(refrigerant, units, loop_of(healthy)[0], "healthy", 2.0, DASHES["healthy"])
    if run.cycle_points:
        shapes += _screen_cycle(run, units)
    else:
        pressure = rest_pressure_kpa(run)
        ends = [(limit, pressure) for limit in ENTHALPY_LIMITS_KJ_KG[refrigerant]]
        if pressure > PRESSURE_LIMITS_KPA[refrigerant][0]:
            shapes += _screen_line(refrigerant, units, ends, "ink", 2.4)
        left, top, right, bottom = _frame(refrigerant, units)
        y = to_pixels(refrigerant, units, 0.0, pressure)[1] if pressure > 0.0 else bottom
        y = min(max(y, top + 24.0), bottom) - 7.0
        shapes.append(Words((left + right) / 2, y, AT_REST, anchor="middle", bold=True, halo=True))
    return svg(shapes, WIDTH, HEIGHT, describe_pressure_enthalpy(run, units))


def _frame(refrigerant, units):
    _, (left, right), (bottom, top) = _still(refrigerant, units)
    return left, top, right, bottom


def _screen_line(refrigerant, units, points, colour, width, dash=None):
    line = [to_pixels(refrigerant, units, *point) for point in points]
    parts = clipped(line, _frame(refrigerant, units))
    return [Path(part, colour=colour, width=width, dash=dash) for part in parts]


def _screen_cycle(run, units):
    refrigerant = run.system.refrigerant
    left, _, right, _ = _frame(refrigerant, units)
    loop, superheat, subcooling = loop_of(run)
    shapes = _screen_line(refrigerant, units, loop, "ink", 2.4)
    for stretch, colour in ((superheat, "low"), (subcooling, "high")):
        if stretch:
            shapes += _screen_line(refrigerant, units, stretch, colour, 5.0)
    style = {"bold": True, "halo": True}
    if superheat:
        x, y = to_pixels(refrigerant, units, *superheat[-1])
        x = min(x, right - WORD_WIDTH / 2.0)
        shapes.append(Words(x, y + 18, "superheat", colour="low", anchor="middle", **style))
    if subcooling:
        x, y = to_pixels(refrigerant, units, *subcooling[-1])
        shapes.append(Words(max(x, left + WORD_WIDTH), y - 8, "subcooling", colour="high", anchor="end", **style))
    hottest = off_chart(run)
    if hottest:
        y = to_pixels(refrigerant, units, hottest.enthalpy_kj_kg, hottest.pressure_kpa_absolute)[1]
        words = f"on to {degrees(hottest.temperature_c, units)}"
        shapes.append(Words(right - 4, y - 8, words, anchor="end", **style))
    return shapes
