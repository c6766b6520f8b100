"""Published bands with our readings in them: a strip for each on the screen, and a sheet of them for print."""

from course.charts.shapes import Disc, Path, Words, draw, svg
from course.charts.words import rounded
from course.errors import WorkbookError
from course.units import PA_PER_KPA, to_display_difference, to_display_pressure, to_display_temperature

STRIP_WIDTH, STRIP_HEIGHT = 150.0, 22.0  # px
BAND_LEFT, BAND_RIGHT = 50.0, 100.0  # px of a strip between which the band always lies
EDGE = 6.0  # px from the ends of a strip at which a reading far outside is held
PAPER_WIDTH, ROW_HEIGHT, PRINT = 540.0, 40.0, 10.0  # px, for A4 and Letter
ROWS_A_PAGE = 16
PRESSURE_DIGITS = {"kPa": 0, "psi": 1, "bar": 2}
CAUTION = "Settled states of invented cars. No published table of a car's pressures against its charge was found."


def number_words(value, unit, units):
    """A published or worked-out number in the learner's units, without its unit.

    Parameters
    ----------
    value : float
        The number [in unit].
    unit : str
        Key of course.evidence.printed_readings.UNITS.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        The number.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Shares are shown in per cent. As many digits as tell a whole kPa apart, so that a near miss is seen as one.

    Examples
    --------
    >>> from course.units import display_units
    >>> number_words(171.0, "kpa_gauge", display_units("psi_f")), number_words(-0.056, "share", display_units("psi_f"))
    ('24.8', '-5.6')
    """
    if unit in ("kpa_gauge", "kpa"):
        return rounded(to_display_pressure(value * PA_PER_KPA, units), PRESSURE_DIGITS[units.pressure])
    if unit == "c":
        return rounded(to_display_temperature(value, units), 1)
    if unit == "k":
        return rounded(to_display_difference(value, units), 1)
    return rounded(100.0 * value, 1) if unit == "share" else rounded(value, 1)


def unit_words(unit, units):
    """The unit behind a number of number_words.

    Parameters
    ----------
    unit : str
        Key of course.evidence.printed_readings.UNITS.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        The unit; empty for a plain ratio.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A difference of temperature in the learner's degrees is a plain °F.

    Examples
    --------
    >>> from course.units import display_units
    >>> unit_words("kpa_gauge", display_units("psi_f")), unit_words("k", display_units("psi_f"))
    ('psi gauge', '°F')
    """
    degree = "°F" if units.temperature == "°F" else "K"
    return {
        "kpa_gauge": f"{units.pressure} gauge",
        "kpa": units.pressure,
        "c": units.temperature,
        "k": degree,
        "share": "%",
        "factor": "",
        "kw": "kW",
    }[unit]


def _span(low, high, unit, units):
    if low is None or high is None:
        return f"{'up to' if low is None else 'from'} {number_words(high if low is None else low, unit, units)}"
    first, last = number_words(low, unit, units), number_words(high, unit, units)
    return first if first == last else f"{first} to {last}"


def published_words(one, units):
    """What was published, with what is allowed on it.

    Parameters
    ----------
    one : PrintedReading
        One published reading.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        Numbers and unit.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A printed band has no allowance.

    Examples
    --------
    >>> from course.evidence.printed_readings import printed_readings
    >>> from course.units import display_units
    >>> published_words(printed_readings()[0], display_units("kpa_c"))
    '171 to 209 kPa gauge'
    """
    words = f"{_span(one.published_from, one.published_to, one.unit, units)} {unit_words(one.unit, units)}".strip()
    return words if one.allowance == 0.0 else f"{words}, give or take {number_words(one.allowance, one.unit, units)}"


def ours_words(one, units):
    """What the simulator gives in the same conditions.

    Parameters
    ----------
    one : PrintedReading
        One published reading.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        Numbers and unit.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Two numbers where the printed conditions are a range.

    Examples
    --------
    >>> from course.evidence.printed_readings import printed_readings
    >>> from course.units import display_units
    >>> ours_words(printed_readings()[0], display_units("kpa_c")).endswith(" kPa gauge")
    True
    """
    return f"{_span(one.ours_from, one.ours_to, one.unit, units)} {unit_words(one.unit, units)}".strip()


def _place(one, value):
    """Where a value lies on a strip whose band is always at the same place [px]."""
    low = None if one.published_from is None else one.published_from - one.allowance
    high = None if one.published_to is None else one.published_to + one.allowance
    if low is None or high is None:
        # an open band has no width of its own: its closed end, or a tenth of ours, gives the scale
        end = high if low is None else low
        scale = max(abs(end), abs(value), 1e-9)
        x = (BAND_RIGHT if low is None else BAND_LEFT) + (value - end) / scale * (BAND_RIGHT - BAND_LEFT)
    else:
        x = BAND_LEFT + (value - low) / max(high - low, 1e-9) * (BAND_RIGHT - BAND_LEFT)
    return min(max(x, EDGE), STRIP_WIDTH - EDGE)


def strip_shapes(one):
    """One band and our reading in it or beside it, as lines without words.

    Parameters
    ----------
    one : PrintedReading
        One published reading.

    Returns
    -------
    list
        Shapes within STRIP_WIDTH and STRIP_HEIGHT [px].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The band always lies in the middle third, whatever its unit; an open end runs to the edge. What is far outside is
    held at the edge.

    Examples
    --------
    >>> from course.evidence.printed_readings import printed_readings
    >>> len(strip_shapes(printed_readings()[0])) >= 4
    True
    """
    middle, half = STRIP_HEIGHT / 2.0, 7.0
    left = 0.0 if one.published_from is None else BAND_LEFT
    right = STRIP_WIDTH if one.published_to is None else BAND_RIGHT
    box = ((left, middle - half), (right, middle - half), (right, middle + half), (left, middle + half))
    first, last = _place(one, one.ours_from), _place(one, one.ours_to)
    mark = "ink" if one.inside else "paper"
    shapes = [
        Path(((0.0, middle), (STRIP_WIDTH, middle)), colour="faint", width=0.8),
        Path(box, closed=True, width=1.2, colour="ink"),
        Path(((first, middle), (last, middle)), width=3.0),
        Disc(first, middle, 4.0, fill=mark),
    ]
    return shapes if last - first < 1.0 else [*shapes, Disc(last, middle, 4.0, fill=mark)]


def strip_svg(one, label):
    """The strip as a small picture for the screen.

    Parameters
    ----------
    one : PrintedReading
        One published reading.
    label : str
        What it shows, for screen readers; empty where words beside it say the same.

    Returns
    -------
    str
        An svg element.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A filled dot lies inside, an open one outside.

    Examples
    --------
    >>> from course.evidence.printed_readings import printed_readings
    >>> strip_svg(printed_readings()[0], "low side")[:4]
    '<svg'
    """
    return svg(strip_shapes(one), STRIP_WIDTH, STRIP_HEIGHT, label)


def _moved(shape, dx, dy):
    if isinstance(shape, Disc):
        return Disc(shape.x + dx, shape.y + dy, shape.radius, shape.colour, shape.width, shape.fill)
    points = tuple((x + dx, y + dy) for x, y in shape.points)
    return Path(points, shape.colour, shape.width, shape.dash, shape.closed, shape.fill)


def sheet_shapes(found, title, units):
    """A sheet of bands for print: words, strip and verdict of each, with the size of the picture.

    Parameters
    ----------
    found : sequence of PrintedReading
        At most ROWS_A_PAGE of them.
    title : str
        What stands at the top.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    tuple
        Shapes, width and height [px].

    Raises
    ------
    WorkbookError
        When there are none, or more than a page holds.

    Notes
    -----
    Black and white; verdicts in words.

    Examples
    --------
    >>> from course.evidence.printed_readings import printed_readings
    >>> from course.units import display_units
    >>> sheet_shapes(printed_readings()[:2], "Two bands", display_units("kpa_c"))[1]
    540.0
    """
    if not 0 < len(found) <= ROWS_A_PAGE:
        raise WorkbookError(
            f"sheet of printed readings: {len(found)} were given; allowed are 1 to {ROWS_A_PAGE}: give fewer at a time."
        )
    shapes = [Words(0.0, 14.0, title, bold=True)]
    for number, one in enumerate(found):
        top = 28.0 + number * ROW_HEIGHT
        shapes.append(Path(((0.0, top), (PAPER_WIDTH, top)), width=0.6))
        shapes.append(Words(0.0, top + 15.0, f"{one.reading}: {one.conditions} ({one.car})", size=PRINT))
        numbers = f"published {published_words(one, units)}; ours {ours_words(one, units)}"
        shapes.append(Words(0.0, top + 31.0, numbers, size=PRINT))
        shapes += [_moved(shape, PAPER_WIDTH - STRIP_WIDTH - 60.0, top + 16.0) for shape in strip_shapes(one)]
        shapes.append(Words(PAPER_WIDTH, top + 31.0, one.verdict, size=PRINT, anchor="end", bold=not one.inside))
    foot = 28.0 + len(found) * ROW_HEIGHT
    shapes.append(Path(((0.0, foot), (PAPER_WIDTH, foot)), width=0.6))
    shapes.append(Words(0.0, foot + 17.0, CAUTION, size=PRINT))
    return shapes, PAPER_WIDTH, foot + 24.0


def draw_printed_readings(axes, found, title, units):
    """A sheet of published bands with our readings on an axes, for print.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw; best on a figure of sheet_shapes' size.
    found : sequence of PrintedReading
        At most ROWS_A_PAGE of them.
    title : str
        What stands at the top.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    list
        The artists.

    Raises
    ------
    WorkbookError
        When there are none, or more than a page holds.

    Notes
    -----
    Black and white, fits A4 and Letter between usual margins.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.evidence.printed_readings import printed_readings
    >>> from course.units import display_units
    >>> axes = new_figure(540.0, 100.0).add_axes((0.0, 0.0, 1.0, 1.0))
    >>> len(draw_printed_readings(axes, printed_readings()[:1], "One band", display_units("kpa_c"))) > 5
    True
    """
    shapes, width, height = sheet_shapes(found, title, units)
    return draw(axes, shapes, width, height)
