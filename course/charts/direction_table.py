"""The direction table of one car on paper: arrows and words in black and white, for A4 and Letter."""

from course.charts.shapes import Path, Words, draw
from course.evidence.direction_table import READINGS
from course.units import PA_PER_KPA, to_display_difference, to_display_pressure

PAPER_WIDTH = 540.0  # px of 1/72 inch: fits between the margins of A4 and Letter
NAMES_WIDTH, ROW_HEIGHT, HEAD_HEIGHT, FOOT_HEIGHT = 170.0, 24.0, 66.0, 104.0  # px
PRINT = 10.0  # px: letters on paper are read closer than on a screen
COLUMN = (PAPER_WIDTH - NAMES_WIDTH) / len(READINGS)
SIGNS = {"up": "▲", "down": "▼", "same": "=", "none": "at rest"}
HEADS = {
    "low_side": ("low", "side"),
    "high_side": ("high", "side"),
    "superheat": ("super-", "heat"),
    "subcooling": ("sub-", "cooling"),
    "discharge": ("discharge", "line"),
    "vent": ("vent",),
    "power": ("shaft", "power"),
}
KEY = (
    "▲ up   ▼ down   = no change   (▲ up) only when severe   ▲▼ mild first, then severe",
    "box: papers and trade say otherwise   ?: they disagree among themselves   at rest: nothing to read",
)
CAUTION = "Worked out by the simulator for an invented car in a settled state: take directions from it, not sizes."


def cell_words(cell):
    """A cell in a sign and a word: the severe fault's direction, and the mild one's where it differs.

    Parameters
    ----------
    cell : Cell
        From course.evidence.direction_table.

    Returns
    -------
    str
        At most two signs and a word.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    In brackets where the mild fault shows nothing yet.

    Examples
    --------
    >>> from course.evidence.direction_table import direction_table
    >>> cells = direction_table("sedan").cells
    >>> cell_words(cells["charge_short", "superheat"]), cell_words(cells["charge_short", "low_side"])
    ('▲ up', '(▼ down)')
    """
    mild, severe = cell.directions
    if severe == "none":
        return SIGNS["none"]
    if mild == severe:
        return f"{SIGNS[severe]} {severe}"
    return f"({SIGNS[severe]} {severe})" if mild == "same" else f"{SIGNS[mild]}{SIGNS[severe]}"


def least_words(table, units):
    """The changes that count, reading by reading, in the learner's units.

    Parameters
    ----------
    table : DirectionTable
        One car's table.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        Readings with their least change and its unit.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    From the instruments' errors; see course.evidence.direction_table.least_changes.

    Examples
    --------
    >>> from course.evidence.direction_table import direction_table
    >>> from course.units import display_units
    >>> least_words(direction_table("sedan"), display_units("kpa_c"))[:16]
    'low side 14 kPa,'
    """
    parts = []
    for reading, (name, _, unit, _) in READINGS.items():
        least = table.thresholds[reading]
        if unit == "kPa":
            shown = to_display_pressure(least * PA_PER_KPA, units)
            parts.append(f"{name} {shown:.{2 if units.pressure == 'bar' else 0}f} {units.pressure}")
        elif unit == "K":
            degree = "°F" if units.temperature == "°F" else "K"
            parts.append(f"{name} {to_display_difference(least, units):.1f} {degree}")
        else:
            parts.append(f"{name} {least:.0f} %")
    return ", ".join(parts)


def table_shapes(table, units):
    """The table as lines and words, with the size of the picture.

    Parameters
    ----------
    table : DirectionTable
        One car's table.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    tuple
        Shapes, width and height [px].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Everything is ink on paper: a photocopy loses nothing.

    Examples
    --------
    >>> from course.evidence.direction_table import direction_table
    >>> from course.units import display_units
    >>> _, width, height = table_shapes(direction_table("pickup"), display_units("kpa_c"))
    >>> width <= 540.0 and height <= 720.0
    True
    """
    foot = HEAD_HEIGHT + ROW_HEIGHT * len(table.rows)
    height = foot + FOOT_HEIGHT
    shapes = [Words(0.0, 14.0, f"Which way the readings go: {table.name}", bold=True)]
    for column, reading in enumerate(READINGS):
        middle = NAMES_WIDTH + (column + 0.5) * COLUMN
        for line, word in enumerate(HEADS[reading], start=2 - len(HEADS[reading])):
            shapes.append(Words(middle, 42.0 + 13.0 * line, word, size=PRINT, anchor="middle", bold=True))
    for number, (row, name) in enumerate(table.rows.items()):
        top = HEAD_HEIGHT + number * ROW_HEIGHT
        shapes.append(Path(((0.0, top), (PAPER_WIDTH, top)), width=0.6))
        shapes.append(Words(0.0, top + 16.0, name, size=PRINT))
        for column, reading in enumerate(READINGS):
            shapes += _cell_shapes(table.cells[row, reading], NAMES_WIDTH + column * COLUMN, top)
    shapes.append(Path(((0.0, foot), (PAPER_WIDTH, foot)), width=0.6))
    half = least_words(table, units).split(", ")
    lines = [*KEY, "A change counts from the error of two looks at the instruments:"]
    lines += [", ".join(half[:4]) + ",", ", ".join(half[4:]) + ".", CAUTION]
    shapes += [Words(0.0, foot + 17.0 + 15.0 * line, text, size=PRINT) for line, text in enumerate(lines)]
    return shapes, PAPER_WIDTH, height


def _cell_shapes(cell, left, top):
    """One cell: its words, and a box where the sources say otherwise."""
    words = cell_words(cell) + ("?" if cell.mark == "conflicting" else "")
    shapes = [Words(left + COLUMN / 2.0, top + 16.0, words, size=PRINT, anchor="middle")]
    if cell.agrees is False:
        right, low = left + COLUMN - 1.0, top + ROW_HEIGHT - 3.0
        corners = ((left + 1.0, top + 3.0), (right, top + 3.0), (right, low), (left + 1.0, low))
        shapes.append(Path(corners, width=1.6, closed=True))
    return shapes


def draw_direction_table(axes, table, units):
    """The direction table on an axes, for print.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw; best on a figure of table_shapes' size.
    table : DirectionTable
        One car's table.
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
    Black and white, fits A4 and Letter between usual margins.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> from course.evidence.direction_table import direction_table
    >>> from course.units import display_units
    >>> axes = new_figure(540.0, 620.0).add_axes((0.0, 0.0, 1.0, 1.0))
    >>> len(draw_direction_table(axes, direction_table("pickup"), display_units("psi_f"))) > 100
    True
    """
    shapes, width, height = table_shapes(table, units)
    return draw(axes, shapes, width, height)


def describe_direction_table(table):
    """The direction table in words, row by row, with the count of agreements.

    Parameters
    ----------
    table : DirectionTable
        One car's table.

    Returns
    -------
    str
        Sentences.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Readings that do not move are left out of a row.

    Examples
    --------
    >>> from course.evidence.direction_table import direction_table
    >>> describe_direction_table(direction_table("pickup")).split(".")[0]
    'Direction table of the invented pickup: 16 rows'
    """
    said = [cell for cell in table.cells.values() if cell.agrees is not None]
    agreed = sum(cell.agrees for cell in said)
    parts = [
        f"Direction table of the {table.name.lower()}: {len(table.rows)} rows.",
        f"Sources speak about {len(said)} cells: {agreed} agree, {len(said) - agreed} do not.",
    ]
    for row, name in table.rows.items():
        moved = [
            f"{READINGS[reading][0]} {cell_words(table.cells[row, reading])}"
            for reading in READINGS
            if table.cells[row, reading].directions != ("same", "same")
        ]
        parts.append(f"{name}: {', '.join(moved) or 'nothing moves'}.")
    return " ".join(parts)
