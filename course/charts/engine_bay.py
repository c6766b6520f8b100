"""An engine bay and the case in the cabin from above, every place that can leak marked with its number and what is left of its chance."""

from course.charts.shapes import Disc, Path, Words, draw, svg
from course.charts.style import DASHES, WIDTH
from course.charts.words import rounded
from course.errors import WorkbookError, check_choice
from course.tables import read_leak_places

HEIGHT = 582.0
RADIUS = 13.0  # px of a mark
UNDER = 30.0  # px from a mark's middle down to its percentage
STEPS = (
    (0.02, "under 2%"),
    (0.05, "2 to 5%"),
    (0.20, "5 to 20%"),
    (2.0, "20% or more"),
)  # shares that look alike; assumed
# px from the left and from the top: our own invented car, front upwards
MARKS = {
    "condenser_end_tanks": (66.0, 50.0),
    "condenser_front": (170.0, 50.0),
    "condenser_lower_corners": (274.0, 50.0),
    "drier_joints": (26.0, 118.0),
    "pressure_switch": (26.0, 168.0),
    "high_side_port": (26.0, 218.0),
    "liquid_line_clamp": (26.0, 268.0),
    "liquid_line_joint": (26.0, 318.0),
    "condenser_block": (314.0, 118.0),
    "discharge_crimp_condenser": (264.0, 118.0),
    "compressor_ports": (264.0, 202.0),
    "discharge_crimp_compressor": (314.0, 202.0),
    "compressor_body": (264.0, 252.0),
    "relief_valve": (314.0, 252.0),
    "suction_crimp_compressor": (264.0, 302.0),
    "shaft_seal": (314.0, 302.0),
    "metering_joint": (76.0, 372.0),
    "pipe_under_foam": (132.0, 372.0),
    "suction_line_joint": (180.0, 372.0),
    "low_side_port": (208.0, 314.0),
    "suction_crimp_pipe": (228.0, 372.0),
    "suction_hose": (276.0, 372.0),
    "evaporator_core": (112.0, 456.0),
    "evaporator_pipes": (200.0, 456.0),
    "rear_lines": (66.0, 524.0),
    "rear_joints": (170.0, 524.0),
}


def place_numbers():
    """The number each place has on the drawing and in the lists.

    Returns
    -------
    dict of str to int
        By place id, from 1, in the order of the data file.

    Raises
    ------
    BadDataFile
        When the list of places cannot be read.

    Notes
    -----
    The order is the trade's own path: ports, lines, condenser, switches, compressor, firewall, case, under the car.

    Examples
    --------
    >>> place_numbers()["low_side_port"]
    1
    """
    return {place: number for number, place in enumerate(read_leak_places(), start=1)}


def percent(share):
    """A chance as the drawing prints it.

    Parameters
    ----------
    share : float
        The chance [-].

    Returns
    -------
    str
        Whole per cent; what is not nought never reads as nought.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Without a space, since there is little room.

    Examples
    --------
    >>> percent(0.124), percent(0.003), percent(0.0)
    ('12%', '<1%', '0%')
    """
    return "<1%" if 0.0 < share < 0.005 else f"{rounded(100.0 * share)}%"


def _box(left, top, right, bottom, **style):
    corners = ((left, top), (right, top), (right, bottom), (left, bottom))
    return Path(corners, closed=True, width=2.0, **style)


def _car():
    """What the marks stand on: condenser, engine, compressor, pipes, firewall, case."""
    high, low = {"colour": "high", "width": 3.0}, {"colour": "low", "width": 3.0, "dash": DASHES["mixture"]}
    return [
        _box(38, 22, 302, 94, colour="high"),
        Words(170, 16, "front: condenser", anchor="middle", bold=True),
        _box(58, 148, 218, 262),
        Words(138, 166, "engine", anchor="middle", bold=True),
        Path(((38, 76), (26, 76), (26, 372), (76, 372), (76, 418)), **high),
        Path(((302, 76), (314, 76), (314, 160)), **high),
        Path(((288, 342), (288, 372), (132, 372), (132, 418)), **low),
        Path(((208, 314), (208, 372)), **low),
        _box(229, 160, 338, 342, fill="paper"),
        Words(283.5, 178, "compressor", anchor="middle"),
        Path(((4, 418), (336, 418)), width=4.0),
        Words(336, 435, "firewall", anchor="end"),
        _box(76, 431, 240, 500, colour="low"),
        Words(247, 463, "case in", bold=True),
        Words(247, 481, "the cabin", bold=True),
        Path(((100, 500), (100, 515)), width=2.0),
        Words(108, 515, "drain"),
        Path(((26, 372), (26, 524), (206, 524)), colour="high", width=3.0, dash=DASHES["vapour"]),
        Words(212, 529, "to the rear"),
    ]


def _step(share):
    return next(number for number, (most, _) in enumerate(STEPS) if share < most)


def _mark(x, y, number, share):
    """A disc that is blank, thick-rimmed, grey or black as its chance grows, with its number."""
    step = _step(share)
    fill = ("paper", "paper", "faint", "ink")[step]
    colour = "paper" if step > 1 else "ink"
    disc = Disc(x, y, RADIUS, width=(1.5, 4.0, 1.5, 1.5)[step], fill=fill)
    return [disc, Words(x, y + 4.5, str(number), colour=colour, anchor="middle", bold=True)]


def _key():
    shapes = []
    for row, (_, words) in enumerate(STEPS):
        y = 184.0 + 20.0 * row
        disc = _mark(74.0, y, "", STEPS[row][0] - 0.001)[0]
        shapes += [Disc(disc.x, disc.y, 7.0, width=min(disc.width, 3.0), fill=disc.fill), Words(88.0, y + 4.5, words)]
    return shapes


def _shapes(chances, chosen):
    shapes = [*_car(), *_key()]
    for place, number in place_numbers().items():
        x, y = MARKS[place]
        clear = _box(x - 17, y + UNDER - 12, x + 17, y + UNDER + 2, colour="paper", fill="paper")
        words = Words(x, y + UNDER, percent(chances[place]), anchor="middle", halo=True)
        shapes += [clear, *_mark(x, y, number, chances[place]), words]
    if chosen is not None:
        shapes.append(Disc(*MARKS[chosen], RADIUS + 4.0, colour="warning", width=3.0))
    return [*shapes, Words(336, 574, f"somewhere else {percent(chances['elsewhere'])}", anchor="end", bold=True)]


def _checked(chances, chosen):
    missing = [place for place in (*read_leak_places(), "elsewhere") if place not in chances]
    if missing:
        raise WorkbookError(f"engine bay: there is no chance for {missing[0]}; give one for every place and elsewhere.")
    if chosen is not None:
        check_choice("place", chosen, read_leak_places())


def describe_engine_bay(chances):
    """The drawing in one sentence: the places where most of the chance is left.

    Parameters
    ----------
    chances : dict of str to float
        Chance that each place leaks, "elsewhere" among them [-].

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    WorkbookError
        When a place has no chance.

    Notes
    -----
    The five most likely places by number and name.

    Examples
    --------
    >>> from course.service.belief import first_belief, place_chances, possible_leaks
    >>> describe_engine_bay(place_chances(first_belief(possible_leaks(), 0.0)))[:55]
    'Where the leak can still be: 14 Compressor shaft seal 8'
    """
    _checked(chances, None)
    numbers, places = place_numbers(), read_leak_places()
    ranked = sorted(numbers, key=lambda place: (-chances[place], numbers[place]))[:5]
    named = ", ".join(f"{numbers[place]} {places[place].name} {percent(chances[place])}" for place in ranked)
    return f"Where the leak can still be: {named}; somewhere else {percent(chances['elsewhere'])}."


def engine_bay_svg(chances, chosen=None):
    """The engine bay for the screen.

    Parameters
    ----------
    chances : dict of str to float
        Chance that each place leaks, "elsewhere" among them [-].
    chosen : str, optional
        A place to ring.

    Returns
    -------
    str
        SVG.

    Raises
    ------
    WorkbookError
        When a place has no chance.
    UnknownChoice
        When the chosen place is not known.

    Notes
    -----
    The chance is told by rim and fill of a mark and by the number under it, so black and white is enough.

    Examples
    --------
    >>> from course.service.belief import first_belief, place_chances, possible_leaks
    >>> "firewall" in engine_bay_svg(place_chances(first_belief(possible_leaks(), 0.0)), "shaft_seal")
    True
    """
    _checked(chances, chosen)
    return svg(_shapes(chances, chosen), WIDTH, HEIGHT, describe_engine_bay(chances))


def draw_engine_bay(axes, chances, chosen=None):
    """The engine bay on paper.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw.
    chances : dict of str to float
        Chance that each place leaks, "elsewhere" among them [-].
    chosen : str, optional
        A place to ring.

    Returns
    -------
    list
        The artists.

    Raises
    ------
    WorkbookError
        When a place has no chance.
    UnknownChoice
        When the chosen place is not known.

    Notes
    -----
    The same shapes as on the screen.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.service.belief import first_belief, place_chances, possible_leaks
    >>> len(draw_engine_bay(new_figure().add_subplot(), place_chances(first_belief(possible_leaks(), 0.0)))) > 80
    True
    """
    _checked(chances, chosen)
    return draw(axes, _shapes(chances, chosen), WIDTH, HEIGHT)
