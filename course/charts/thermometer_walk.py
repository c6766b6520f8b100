"""A thermometer taken along the pipes of up to four cars: where each one's temperature drops, and where it must not."""

from course.charts.shapes import Path, Words, svg
from course.charts.style import WIDTH
from course.charts.words import degrees, rounded
from course.units import from_display_temperature, to_display_temperature

# the places of a contact probe in the order in which the refrigerant passes them
PLACES = {
    "condenser_outlet": "condenser outlet",
    "before_metering": "before the metering device",
    "evaporator_inlet": "behind the metering device",
    "evaporator_outlet": "evaporator outlet",
    "suction_line": "suction line at the compressor",
}
# letter: colour and dashes; four is as many as one keeps apart
LINES = {"A": ("ink", None), "B": ("warning", (8, 4)), "C": ("mixture", (2, 3)), "D": ("liquid", (11, 3, 2, 3))}
HEIGHT = 250.0  # px
LEFT, RIGHT, TOP, FOOT = 46.0, 310.0, 12.0, 222.0  # px: the frame of the chart
LOWEST_C, HIGHEST_C = -35.0, 90.0  # °C: fixed, so that the axis never jumps; a colder or hotter pipe stops at the frame
STEP = {"°C": 20, "°F": 40}  # of the learner's degrees between two marks
LETTERS_APART = 18.0  # px


def place_temperatures(run):
    """What a contact probe reads at each place, in the order of the flow.

    Parameters
    ----------
    run : BenchRun
        The run.

    Returns
    -------
    dict or None
        Temperature by place [°C]; None where the compressor is at rest.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The places are those of PLACES. Pipes are taken as warm as what flows in them.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> clear = place_temperatures(run_bench("sedan"))
    >>> blocked = place_temperatures(run_bench("sedan", faults={"restricted_liquid_line": 0.9}))
    >>> [round(one["condenser_outlet"] - one["before_metering"]) > 10 for one in (clear, blocked)]
    [False, True]
    """
    points = {point.name: point.temperature_c for point in run.cycle_points}
    if not points:
        return None
    return {
        "condenser_outlet": points["condenser_outlet"],
        "before_metering": run.liquid_line_c,
        "evaporator_inlet": points["evaporator_inlet"],
        "evaporator_outlet": points["evaporator_outlet"],
        "suction_line": run.suction_line_c,
    }


def _across(number):
    return LEFT + 22.0 + number * (RIGHT - LEFT - 44.0) / (len(PLACES) - 1)


def _up(temperature_c):
    share = (min(max(temperature_c, LOWEST_C), HIGHEST_C) - LOWEST_C) / (HIGHEST_C - LOWEST_C)
    return FOOT - share * (FOOT - TOP)


def _frame(units):
    shapes = [Path(((LEFT, TOP), (LEFT, FOOT), (RIGHT, FOOT)), "faint", 1.0)]
    step = STEP[units.temperature]
    lowest, highest = (to_display_temperature(end, units) for end in (LOWEST_C, HIGHEST_C))
    for mark in range(-step * 2, int(highest) + 1, step):
        if mark >= lowest:
            y = _up(from_display_temperature(mark, units))
            shapes += [Path(((LEFT - 4.0, y), (LEFT, y)), "faint", 1.0)]
            shapes.append(Words(LEFT - 7.0, y + 4.0, rounded(mark), "faint", anchor="end"))
    shapes.append(Words(LEFT + 4.0, TOP + 8.0, units.temperature, "faint"))
    freezing = _up(0.0)
    shapes.append(Path(((LEFT, freezing), (RIGHT, freezing)), "faint", 1.0, (5, 3)))
    shapes.append(Words(LEFT + 4.0, freezing + 14.0, "water freezes", "faint", halo=True))
    shapes += [Words(_across(number), FOOT + 17.0, str(number + 1), anchor="middle") for number in range(len(PLACES))]
    return shapes


def _letters(ends):
    """Every line's letter at its right end, moved apart where lines end close together."""
    places, last = {}, TOP - LETTERS_APART
    for letter, y in sorted(ends.items(), key=lambda end: end[1]):
        last = max(y + 4.0, last + LETTERS_APART)
        places[letter] = last
    return [Words(RIGHT - 12.0, y, letter, LINES[letter][0], 14.0, "start", True, True) for letter, y in places.items()]


def walk_svg(runs, units):
    """The temperatures of several cars along their pipes.

    Parameters
    ----------
    runs : sequence of BenchRun
        One to four runs; those at rest are left out.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        An svg element that says what it shows.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Numbers at the foot are the places of PLACES; lines differ in pattern and letter as well as in colour.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> walk_svg([run_bench("sedan")], display_units("psi_f")).count("<polyline") > 2
    True
    """
    shapes, ends = _frame(units), {}
    for letter, run in zip(LINES, runs, strict=False):
        temperatures = place_temperatures(run)
        if temperatures:
            points = [(_across(number), _up(value)) for number, value in enumerate(temperatures.values())]
            colour, dash = LINES[letter]
            shapes.append(Path(tuple(points), colour, 2.5, dash))
            ends[letter] = points[-1][1]
    return svg([*shapes, *_letters(ends)], WIDTH, HEIGHT, describe_walk(runs, units))


def describe_walk(runs, units):
    """The chart in words.

    Parameters
    ----------
    runs : sequence of BenchRun
        One to four runs.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        One sentence for each car.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The first car's sentence names the places.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> describe_walk([run_bench("sedan", faults={"clutch_not_engaged": 1.0})], display_units("kpa_c"))
    'Car A: at rest.'
    """
    sentences, named = [], False
    for letter, run in zip(LINES, runs, strict=False):
        temperatures = place_temperatures(run)
        if temperatures is None:
            sentences.append(f"Car {letter}: at rest.")
            continue
        shown = [(PLACES[place], degrees(value, units)) for place, value in temperatures.items()]
        words = [value if named else f"{name} {value}" for name, value in shown]
        sentences.append(f"Car {letter}: {', '.join(words)}.")
        named = True
    return " ".join(sentences)
