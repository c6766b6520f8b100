"""The circuit as a drawn loop: where the refrigerant is liquid, mixture or vapour, and where each thermometer sits."""

from course.charts.shapes import Disc, Path, Words, draw, svg
from course.charts.style import DASHES, WIDTH
from course.units import to_display_temperature

HEIGHT = 256.0
TOP, BOTTOM, LEFT, RIGHT = 52.0, 206.0, 46.0, 294.0


def _box(x, y, width, height, name, colour="ink"):
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    return [
        Path(corners, colour=colour, width=2.0, closed=True),
        Words(x + width / 2, y + height / 2 + 4, name, anchor="middle", bold=True),
    ]


def _still(run):
    system = run.system
    accumulator = system.storage.kind == "accumulator"
    device = "orifice" if accumulator else "valve"
    shapes = _box(100, 28, 124, 40, "condenser", "high")
    shapes += _box(100, 188, 124, 40, "evaporator", "low")
    shapes.append(Disc(RIGHT, 129, 25, width=2.0))
    shapes.append(Words(RIGHT, 126, "comp-", anchor="middle", bold=True))
    shapes.append(Words(RIGHT, 139, "ressor", anchor="middle", bold=True))
    shapes.append(Path(((LEFT - 12, 146), (LEFT + 12, 146), (LEFT, 160)), width=2.0, closed=True))
    shapes.append(Path(((LEFT - 12, 174), (LEFT + 12, 174), (LEFT, 160)), width=2.0, closed=True))
    shapes.append(Words(LEFT + 18, 164, device, bold=True))
    return shapes


def _vessel(run):
    """Receiver or accumulator with its level of liquid."""
    storage = run.system.storage
    x, y = (230.0, 150.0) if storage.kind == "accumulator" else (LEFT - 13.0, 76.0)
    width, height = 26.0, 44.0
    corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
    full = storage.volume * storage.usable_share * 1200.0
    level = min(run.reserve_kg / full, 1.0) if full else 0.0
    shapes = []
    if level > 0.01:
        top = y + height * (1.0 - level)
        filled = ((x, top), (x + width, top), (x + width, y + height), (x, y + height))
        shapes.append(Path(filled, colour="liquid", width=1.0, closed=True, fill="liquid"))
    shapes.append(Path(corners, width=2.0, closed=True))
    if storage.kind == "accumulator":
        shapes.append(Words(x - 4, y + 12, "accumulator", anchor="end"))
    else:
        shapes.append(Words(x + width + 6, y + 26, "receiver"))
    return shapes


def _pipe_states(run):
    """State in each of the four pipes: discharge, liquid, after the device, suction."""
    if not run.running:
        return ("vapour",) * 4
    points = {point.name for point in run.cycle_points}
    liquid = "liquid" if "condensing_ends" in points or run.subcooling_k > 0.0 else "mixture"
    suction = "vapour" if "evaporation_ends" in points or run.compressor_suction_superheat_k > 0.5 else "mixture"
    return "vapour", liquid, "mixture", suction


def _pipes(run):
    discharge, liquid, inlet, suction = _pipe_states(run)
    runs = (
        (((RIGHT, 104), (RIGHT, 48), (224, 48)), discharge),
        (((100, 48), (LEFT, 48), (LEFT, 146)), liquid),
        (((LEFT, 174), (LEFT, 208), (100, 208)), inlet),
        (((224, 208), (RIGHT, 208), (RIGHT, 154)), suction),
    )
    return [
        Path(points, colour=state, width=4.0, dash=DASHES["solid" if state == "liquid" else state])
        for points, state in runs
    ]


def _thermometers(run, units):
    def at(x, y, temperature, anchor="middle"):
        text = f"{to_display_temperature(temperature, units):.0f} {units.temperature}"
        return Words(x, y, text, anchor=anchor, bold=True)

    return [
        at(RIGHT + 40, 34, run.discharge_c, "end"),
        at(6, 40, run.liquid_line_c, "start"),
        at(6, 226, run.evaporator_inlet_c, "start"),
        at(RIGHT + 40, 226, run.suction_line_c, "end"),
        Words(
            162,
            18,
            f"air in {to_display_temperature(run.conditions.ambient - 273.15, units):.0f} {units.temperature}",
            anchor="middle",
        ),
        Words(
            162,
            245,
            f"vent {to_display_temperature(run.vent_c, units):.0f} {units.temperature}",
            anchor="middle",
            bold=True,
        ),
    ]


def _moving(run, units):
    if run.clutch_on_fraction <= 0.0:
        clutch = "not pumping"
    elif run.clutch_on_fraction < 0.98:
        clutch = f"pumping {100 * run.clutch_on_fraction:.0f} %"
    else:
        clutch = "pumping"
    legend = ("liquid ———", "mixture – – –", "vapour · · · ·")
    return (
        _pipes(run)
        + _vessel(run)
        + _thermometers(run, units)
        + [
            Words(RIGHT - 8, 90, clutch, anchor="end"),
            *(
                Words(150, 112 + 18 * row, text, colour=state)
                for row, (text, state) in enumerate(zip(legend, ("liquid", "mixture", "vapour"), strict=True))
            ),
        ]
    )


def describe_circuit(run, units):
    """The circuit in one sentence.

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
    Liquid means the liquid line; the reserve is what the receiver or accumulator holds.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> describe_circuit(run_bench("sedan"), display_units("kpa_c")).startswith("Discharge line ")
    True
    """

    def degrees(value):
        return f"{to_display_temperature(value, units):.0f} {units.temperature}"

    return (
        f"Discharge line {degrees(run.discharge_c)}, liquid line {degrees(run.liquid_line_c)}, evaporator inlet "
        f"{degrees(run.evaporator_inlet_c)}, suction line {degrees(run.suction_line_c)}, vent {degrees(run.vent_c)}; "
        f"{run.reserve_kg * 1000:.0f} g of liquid in the {run.system.storage.kind}."
    )


def circuit_svg(run, units):
    """The circuit for the screen.

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
    States are told by colour and by line pattern.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> "receiver" in circuit_svg(run_bench("sedan"), display_units("psi_f"))
    True
    """
    return svg(_still(run) + _moving(run, units), WIDTH, HEIGHT, describe_circuit(run, units))


def draw_circuit(axes, run, units):
    """The circuit on paper.

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
    >>> len(draw_circuit(new_figure().add_subplot(), run_bench("pickup"), display_units("psi_f"))) > 15
    True
    """
    return draw(axes, _still(run) + _moving(run, units), WIDTH, HEIGHT)
