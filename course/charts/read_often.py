"""The same two cars read again and again with instruments that are a little wrong: which readings keep them apart."""

from course.charts.style import COLOURS, TEXT, plain_axes
from course.charts.words import rounded
from course.errors import WorkbookError
from course.units import PA_PER_KPA, to_display_difference, to_display_pressure, to_display_temperature

# reading as taken: how the trade calls it, and what it is
READINGS = {
    "low_side_kpa_gauge": ("low side", "pressure"),
    "high_side_kpa_gauge": ("high side", "pressure"),
    "superheat_k": ("superheat", "difference"),
    "subcooling_k": ("subcooling", "difference"),
    "vent_c": ("vent", "temperature"),
}
DIGITS = {"bar": 2, "kPa": 0}  # after the point; one for every other unit
SPACE = {"left": 0.05, "right": 0.95, "top": 0.95, "bottom": 0.07, "hspace": 1.5}  # share of the figure the rows take
ROOM = 0.15  # - of the span of all dots, kept free on both sides


def shown_values(readings, name, units):
    """One reading of every set of instruments in the learner's units; what could not be worked out is left out.

    Parameters
    ----------
    readings : sequence of Readings
        As taken, one for each set of instruments.
    name : str
        One of READINGS.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    list of float
        The numbers [learner's unit].

    Raises
    ------
    KeyError
        When there is no such reading.

    Notes
    -----
    Superheat and subcooling are missing where a pressure lies off the chart.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.physics.readings import EXACT, take_readings
    >>> from course.units import display_units
    >>> [round(value) for value in shown_values([take_readings(run_bench("sedan"), EXACT)], "vent_c", display_units("psi_f"))]
    [62]
    """
    kind = READINGS[name][1]
    values = [getattr(one, name) for one in readings if getattr(one, name) is not None]
    if kind == "pressure":
        return [to_display_pressure(value * PA_PER_KPA, units) for value in values]
    if kind == "temperature":
        return [to_display_temperature(value, units) for value in values]
    return [to_display_difference(value, units) for value in values]


def unit_of(name, units):
    """The learner's unit of a reading.

    Parameters
    ----------
    name : str
        One of READINGS.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        The unit.

    Raises
    ------
    KeyError
        When there is no such reading.

    Notes
    -----
    A difference of a degree Celsius is a kelvin.

    Examples
    --------
    >>> from course.units import display_units
    >>> unit_of("low_side_kpa_gauge", display_units("kpa_c")), unit_of("superheat_k", display_units("kpa_c"))
    ('kPa gauge', 'K')
    """
    kind = READINGS[name][1]
    if kind == "pressure":
        return f"{units.pressure} gauge"
    return units.temperature if kind == "temperature" or units.temperature == "°F" else "K"


def kept_apart(sound, car, name):
    """Whether one reading keeps the two cars apart whoever takes it.

    Parameters
    ----------
    sound, car : sequence of Readings
        As taken on either car.
    name : str
        One of READINGS.

    Returns
    -------
    bool
        True where every reading of one car lies above every reading of the other.

    Raises
    ------
    WorkbookError
        When a car was not read at all.

    Notes
    -----
    A plain comparison of the dots, no probability: with more dots it is harder to keep apart.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.physics.readings import take_readings
    >>> full, short = ([take_readings(run_bench("sedan", charge_fraction=c), seed=n) for n in range(6)] for c in (1.0, 0.4))
    >>> kept_apart(full, short, "superheat_k"), kept_apart(full, short, "low_side_kpa_gauge")
    (True, False)
    """
    first, second = (
        [getattr(one, name) for one in readings if getattr(one, name) is not None] for readings in (sound, car)
    )
    if not (sound and car):
        raise WorkbookError("readings to compare: a car was not read at all; take at least one reading of each.")
    return bool(first and second) and (max(first) < min(second) or max(second) < min(first))


def draw_read_often(figure, sound, car, units):
    """For each reading a row of dots: rings above for the sound car, filled dots below for this one.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        Where to draw.
    sound, car : sequence of Readings
        As taken on either car.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    list
        The axes, one for each reading.

    Raises
    ------
    WorkbookError
        When a car was not read at all.

    Notes
    -----
    Each row has its own axis, fitted to its dots.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.physics.bench import run_bench
    >>> from course.physics.readings import take_readings
    >>> from course.units import display_units
    >>> taken = [take_readings(run_bench("sedan"), seed=number) for number in range(3)]
    >>> len(draw_read_often(new_figure(340, 400), taken, taken, display_units("kpa_c")))
    5
    """
    rows = figure.subplots(len(READINGS), 1, gridspec_kw=SPACE)
    for axes, (name, (words, _)) in zip(rows, READINGS.items(), strict=True):
        plain_axes(axes)
        both = [shown_values(readings, name, units) for readings in (sound, car)]
        marks = (("healthy", "none", 1.0), ("ink", "full", 0.0))
        for values, (colour, fill, height) in zip(both, marks, strict=True):
            style = {"color": COLOURS[colour][0], "fillstyle": fill, "markersize": 8.0}
            axes.plot(values, [height] * len(values), marker="o", linestyle="none", **style)
        every = [value for values in both for value in values]
        if every:
            room = ROOM * (max(every) - min(every)) or 1.0
            axes.set_xlim(min(every) - room, max(every) + room)
        axes.set_ylim(-0.7, 1.7)
        axes.set_yticks([])
        axes.locator_params(axis="x", nbins=5)
        verdict = "apart" if kept_apart(sound, car, name) else "mixed"
        ink = {"fontsize": TEXT, "color": COLOURS["ink"][0]}
        axes.set_title(f"{words}, {unit_of(name, units)}", loc="left", **ink)
        axes.set_title(verdict, loc="right", weight="bold" if verdict == "apart" else "normal", **ink)
    return list(rows)


def describe_read_often(sound, car, units):
    """From where to where each reading was taken on either car, and which keeps them apart, in one sentence.

    Parameters
    ----------
    sound, car : sequence of Readings
        As taken on either car.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    WorkbookError
        When a car was not read at all.

    Notes
    -----
    See kept_apart.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.physics.readings import EXACT, take_readings
    >>> from course.units import display_units
    >>> taken = [take_readings(run_bench("pickup"), EXACT)]
    >>> describe_read_often(taken, taken, display_units("kpa_c")).split(";")[-1]
    ' vent 13.2 to 13.2 and 13.2 to 13.2 °C, mixed.'
    """
    parts = []
    for name, (words, _) in READINGS.items():
        unit = unit_of(name, units)
        digits = DIGITS.get(unit.split()[0], 1)  # fine enough that what is apart does not read alike
        spans = [
            f"{rounded(min(values), digits)} to {rounded(max(values), digits)}" if values else "off the chart"
            for values in (shown_values(readings, name, units) for readings in (sound, car))
        ]
        verdict = "apart" if kept_apart(sound, car, name) else "mixed"
        parts.append(f"{words} {spans[0]} and {spans[1]} {unit}, {verdict}")
    return f"Sound car and this car, read by {len(car)}: {'; '.join(parts)}."
