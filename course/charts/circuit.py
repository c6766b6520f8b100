"""The circuit as a drawn loop: where the refrigerant is liquid, mixture or vapour, and where each thermometer sits."""

from functools import lru_cache

from course.charts.shapes import Disc, Path, Words, draw, svg
from course.charts.style import DASHES, WIDTH
from course.charts.words import degrees
from course.physics.refrigerant import saturation_at_pressure, saturation_at_temperature
from course.units import PA_PER_KPA, celsius_to_kelvin, kelvin_to_celsius

HEIGHT = 256.0
LEFT, RIGHT, TOP, BOTTOM = 46.0, 294.0, 48.0, 208.0  # px: the loop's pipes
PUMP = 106.0  # px: height of the compressor
MIDDLE = 162.0  # px
VESSEL = (26.0, 44.0)  # px: width and height of receiver or accumulator
FEW_BUBBLES = 0.02  # - share of vapour up to which a pipe is drawn as liquid; assumed
FEW_DROPLETS = 0.005  # - share of liquid up to which a pipe is drawn as vapour; assumed
DRAWN_AT_C = 25.0  # °C at which the liquid in receiver or accumulator is turned into a level; assumed


def _rectangle(x, y, width, height):
    return ((x, y), (x + width, y), (x + width, y + height), (x, y + height))


def _in_condenser(system):
    """Whether the receiver sits at the condenser, before its last pass."""
    return system.condenser.subcooling_pass_fraction > 0.0


def _still(run):
    system = run.system
    device = "orifice" if system.storage.kind == "accumulator" else "valve"
    shapes = []
    for name, y, side in (("condenser", TOP, "high"), ("evaporator", BOTTOM, "low")):
        shapes.append(Path(_rectangle(100, y - 20, 124, 40), colour=side, width=2.0, closed=True))
        shapes.append(Words(MIDDLE, y + 4, name, anchor="middle", bold=True))
    if _in_condenser(system):
        shapes.append(Path(((100, TOP + 9), (224, TOP + 9)), colour="high", dash=DASHES["mixture"]))
    shapes.append(Disc(RIGHT, PUMP, 25, width=2.0))
    wedge = ((RIGHT - 11, PUMP + 15), (RIGHT + 11, PUMP + 15), (RIGHT, PUMP - 20))
    shapes.append(Path(wedge, width=2.0, closed=True))
    shapes.append(Words(RIGHT - 30, PUMP - 10, "compressor", anchor="end", bold=True))
    for base in (146.0, 174.0):
        shapes.append(Path(((LEFT - 12, base), (LEFT + 12, base), (LEFT, 160)), width=2.0, closed=True))
    shapes.append(Words(LEFT + 18, 165, device, bold=True))
    for row, state in enumerate(("liquid", "mixture", "vapour")):
        y = 134.0 + 17.0 * row
        shapes.append(_pipe(((140, y - 4), (170, y - 4)), state))
        shapes.append(Words(176, y, state, colour=state))
    return shapes


def _pipe(points, state):
    return Path(tuple(points), colour=state, width=4.0, dash=DASHES["solid" if state == "liquid" else state])


@lru_cache(maxsize=4)
def _liquid_density(refrigerant):
    return saturation_at_temperature(refrigerant, celsius_to_kelvin(DRAWN_AT_C)).liquid_density


def _vessel(run):
    """Receiver or accumulator with its level of liquid."""
    system = run.system
    width, height = VESSEL
    if system.storage.kind == "accumulator":
        x, y, label = 246.0, 174.0, Words(240, 183, "accumulator", anchor="end")
    elif _in_condenser(system):
        x, y, label = 74.0, 26.0, Words(100, 17, "receiver", anchor="end")
    else:
        x, y, label = LEFT - 13.0, 76.0, Words(LEFT + 19, 103, "receiver")
    full = system.storage.volume * system.storage.usable_share * _liquid_density(system.refrigerant)
    level = min(run.reserve_kg / full, 1.0)
    outline = _rectangle(x, y, width, height)
    shapes = [Path(outline, colour="paper", closed=True, fill="paper")]
    if level > 0.01:
        liquid = _rectangle(x, y + height * (1.0 - level), width, height * level)
        shapes.append(Path(liquid, colour="liquid", width=1.0, closed=True, fill="liquid"))
    return [*shapes, Path(outline, width=2.0, closed=True), label]


def state_at(run, name):
    """What flows at a corner of the cycle.

    Parameters
    ----------
    run : BenchRun
        The run.
    name : str
        Name of one of its cycle_points.

    Returns
    -------
    str
        "liquid", "mixture" or "vapour"; at rest every pipe is drawn as vapour.

    Raises
    ------
    StopIteration
        When a running cycle has no such corner.

    Notes
    -----
    By heat content against boiling liquid and dry vapour at the same pressure; up to 2 % of vapour, about what a line's
    own pressure drop makes flash, still counts as liquid, and up to 0.5 % of liquid as vapour.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> run = run_bench("sedan")
    >>> [state_at(run, name) for name in ("compressor_inlet", "condenser_outlet", "evaporator_inlet")]
    ['vapour', 'liquid', 'mixture']
    """
    if not run.cycle_points:
        return "vapour"
    point = next(point for point in run.cycle_points if point.name == name)
    at = saturation_at_pressure(run.system.refrigerant, point.pressure_kpa_absolute * PA_PER_KPA)
    share = (point.enthalpy_kj_kg * 1e3 - at.liquid_enthalpy) / (at.vapour_enthalpy - at.liquid_enthalpy)
    if share < FEW_BUBBLES:
        return "liquid"
    return "mixture" if share < 1.0 - FEW_DROPLETS else "vapour"


def _pipes(run):
    condensed = ((100, TOP), (LEFT, TOP), (LEFT, 98))
    if _in_condenser(run.system):
        condensed = ((112, TOP + 20), (112, 86), (LEFT, 86), (LEFT, 98))
    return [
        _pipe(((RIGHT, PUMP - 25), (RIGHT, TOP), (224, TOP)), state_at(run, "condenser_inlet")),
        _pipe(condensed, state_at(run, "condenser_outlet")),
        _pipe(((LEFT, 98), (LEFT, 146)), state_at(run, "metering_inlet")),
        _pipe(((LEFT, 174), (LEFT, BOTTOM), (100, BOTTOM)), state_at(run, "evaporator_inlet")),
        _pipe(((224, BOTTOM), (259, BOTTOM)), state_at(run, "evaporator_outlet")),
        _pipe(((259, BOTTOM), (RIGHT, BOTTOM), (RIGHT, PUMP + 25)), state_at(run, "compressor_inlet")),
    ]


def _thermometers(run, units):
    liquid_y = 86.0 if _in_condenser(run.system) else TOP
    places = (
        (RIGHT, TOP, WIDTH - 6, TOP - 14, "end", run.discharge_c),
        (LEFT, liquid_y, 6, liquid_y - 9, "start", run.liquid_line_c),
        (LEFT, BOTTOM, 6, BOTTOM + 20, "start", run.evaporator_inlet_c),
        (RIGHT, BOTTOM, WIDTH - 6, BOTTOM + 20, "end", run.suction_line_c),
    )
    shapes = []
    for x, y, text_x, text_y, anchor, temperature in places:
        shapes.append(Disc(x, y, 5.0, width=2.0, fill="paper"))
        shapes.append(Words(text_x, text_y, degrees(temperature, units), anchor=anchor, bold=True))
    air_in = f"air in {degrees(kelvin_to_celsius(run.conditions.ambient), units)}"
    shapes.append(Words(MIDDLE, 19, air_in, anchor="middle"))
    shapes.append(Words(MIDDLE, 246, f"vent {degrees(run.vent_c, units)}", anchor="middle", bold=True))
    return shapes


def _pumping(run):
    if not run.running:
        return "not pumping"
    return "pumping" if run.clutch_on_fraction >= 0.98 else f"pumping {100 * run.clutch_on_fraction:.0f} %"


def _shapes(run, units):
    clutch = Words(RIGHT - 30, PUMP + 7, _pumping(run), anchor="end")
    return [*_pipes(run), *_still(run), *_vessel(run), *_thermometers(run, units), clutch]


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
    places = (
        ("Discharge line", run.discharge_c, "condenser_inlet"),
        ("liquid line", run.liquid_line_c, "metering_inlet"),
        ("evaporator inlet", run.evaporator_inlet_c, "evaporator_inlet"),
        ("suction line", run.suction_line_c, "compressor_inlet"),
    )
    read = ", ".join(f"{name} {degrees(at, units)} ({state_at(run, point)})" for name, at, point in places)
    return (
        f"{read}, vent {degrees(run.vent_c, units)}; compressor {_pumping(run)}; "
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
    return svg(_shapes(run, units), WIDTH, HEIGHT, describe_circuit(run, units))


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
    return draw(axes, _shapes(run, units), WIDTH, HEIGHT)
