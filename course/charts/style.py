"""Colours, widths, limits and text sizes of every chart: the same thing has the same colour everywhere."""

import io
import re
from html import escape
from pathlib import Path

from matplotlib import rc_context
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from course.errors import WorkbookError

# name: (colour on light paper, colour on a dark screen); each has at least 4.5:1 against "paper", tests compute it
COLOURS = {
    "ink": ("#1f2328", "#e6e6e6"),
    "faint": ("#5b6470", "#a9b1bb"),
    "low": ("#0b5cad", "#7ab8ff"),
    "high": ("#b3261e", "#ff9089"),
    "healthy": ("#6a6f76", "#9aa0a8"),
    "vapour": ("#8a4b00", "#f0b463"),
    "mixture": ("#6b3fa0", "#c9a6ff"),
    "liquid": ("#0d6b4f", "#6fd3b0"),
    "warning": ("#9a3d00", "#ffb27a"),
    "paper": ("#ffffff", "#111111"),
}
GRID = ("#c3c9d1", "#4a5058")
DASHES = {"solid": None, "mixture": (6, 3), "vapour": (2, 3), "healthy": (5, 3)}
TEXT = 12.0  # px at the narrowest width the pictures are shown
WIDTH = 340.0  # px: the narrowest width; wider screens scale everything up

PRESSURE_LIMITS_KPA = {
    "R134a": (40.0, 6000.0),
    "R1234yf": (40.0, 6000.0),
}  # kPa absolute, fixed so that axes never jump
ENTHALPY_LIMITS_KJ_KG = {"R134a": (170.0, 500.0), "R1234yf": (170.0, 460.0)}


def variable(name):
    """A colour that follows the reader's light or dark theme, with the light one where there is none.

    Parameters
    ----------
    name : str
        A name in COLOURS.

    Returns
    -------
    str
        A CSS value.

    Raises
    ------
    KeyError
        When the name is not in COLOURS.

    Notes
    -----
    The panels set the variables; a saved file falls back to the light colours.

    Examples
    --------
    >>> variable("low")
    'var(--workbook-low, #0b5cad)'
    """
    return f"var(--workbook-{name}, {COLOURS[name][0]})"


def theme_css():
    """The style sheet that gives the variables their light and dark values.

    Returns
    -------
    str
        CSS for everything inside class "workbook".

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    JupyterLab marks a dark theme on the page's body.

    Examples
    --------
    >>> "#7ab8ff" in theme_css()
    True
    """
    light = "".join(f"--workbook-{name}:{pair[0]};" for name, pair in COLOURS.items())
    dark = "".join(f"--workbook-{name}:{pair[1]};" for name, pair in COLOURS.items())
    return (
        f".workbook{{{light}--workbook-grid:{GRID[0]};}}"
        f'body[data-jp-theme-light="false"] .workbook{{{dark}--workbook-grid:{GRID[1]};}}'
    )


def new_figure(width=WIDTH, height=280.0):
    """An empty figure of a size in screen pixels.

    Parameters
    ----------
    width, height : float
        Size [px at 72 dots an inch].

    Returns
    -------
    matplotlib.figure.Figure
        The figure.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    72 dots an inch make one point one pixel, so that sizes read the same in both.

    Examples
    --------
    >>> new_figure(340, 280).dpi
    72.0
    """
    figure = Figure(figsize=(width / 72.0, height / 72.0), dpi=72.0)
    FigureCanvasAgg(figure)
    return figure


def plain_axes(axes):
    """Give an axes the workbook's lettering and frame.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        The axes.

    Returns
    -------
    matplotlib.axes.Axes
        The same axes.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Fixed sizes; see TEXT [px].

    Examples
    --------
    >>> plain_axes(new_figure().add_subplot()).get_facecolor()[3]
    0.0
    """
    ink = COLOURS["ink"][0]
    axes.set_facecolor("none")
    axes.tick_params(labelsize=TEXT, colors=ink)
    for spine in axes.spines.values():
        spine.set_color(ink)
    for label in (axes.xaxis.label, axes.yaxis.label, axes.title):
        label.set_fontsize(TEXT)
        label.set_color(ink)
    axes.grid(True, color=GRID[0], linewidth=0.6)
    return axes


def svg_of(figure, label):
    """A figure as one SVG string that follows the theme and says what it shows.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        The figure.
    label : str
        What it shows, for screen readers.

    Returns
    -------
    str
        An svg element; the same figure always gives the same string.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Text stays text. Colours of COLOURS and the grid become variables.

    Examples
    --------
    >>> svg_of(new_figure(), "nothing yet")[:4]
    '<svg'
    """
    stream = io.StringIO()
    with rc_context({"svg.fonttype": "none", "svg.hashsalt": "workbook", "font.family": ["DejaVu Sans"]}):
        figure.savefig(stream, format="svg", transparent=True, metadata={"Date": None, "Creator": None})
    text = stream.getvalue()
    text = text[text.index("<svg") :]
    # the style sheet would reach every picture of the page it stands in, so its rules go onto this svg alone
    text = re.sub(r"<(metadata|style)\b.*?</\1>\s*", "", text, flags=re.DOTALL)
    for name, (light, _) in COLOURS.items():
        text = text.replace(light, variable(name))
    text = text.replace(GRID[0], f"var(--workbook-grid, {GRID[0]})")
    box = re.search(r'viewBox="[^"]*"', text).group()
    root = (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" {box} role="img" '
        f'aria-label="{escape(label, quote=True)}" style="stroke-linejoin:round;stroke-linecap:butt">'
    )
    return root + text[text.index(">") + 1 :]


def save_figure(figure, path):
    """Store a figure as SVG or PNG.

    Parameters
    ----------
    figure : matplotlib.figure.Figure
        The figure.
    path : str or Path
        Where to, ending in .svg or .png.

    Returns
    -------
    Path
        The file.

    Raises
    ------
    WorkbookError
        When the ending is neither, or the folder is missing.

    Notes
    -----
    White paper, 200 dots an inch for PNG.

    Examples
    --------
    >>> save_figure(new_figure(), "chart.bmp")
    Traceback (most recent call last):
    course.errors.WorkbookError: chart.bmp: charts are stored as .svg or .png; choose one of these endings.
    """
    path = Path(path)
    ending = path.suffix.lower()
    if ending not in (".svg", ".png"):
        raise WorkbookError(f"{path.name}: charts are stored as .svg or .png; choose one of these endings.")
    if not path.parent.is_dir():
        raise WorkbookError(f"{path.name}: there is no folder {path.parent} to store it in; make the folder first.")
    with rc_context({"svg.fonttype": "none", "svg.hashsalt": "workbook"}):
        metadata = {"Date": None} if ending == ".svg" else None
        figure.savefig(path, dpi=200, facecolor="white", metadata=metadata)
    return path
