"""Lines, circles and words as plain data, drawn alike as SVG on the screen and by matplotlib on paper."""

from dataclasses import dataclass
from html import escape

from matplotlib.patches import Circle as CirclePatch
from matplotlib.patches import Polygon as PolygonPatch

from course.charts.style import COLOURS, TEXT, variable


@dataclass(frozen=True)
class Path:
    """A line through points [px], y downwards."""

    points: tuple
    colour: str = "ink"
    width: float = 1.5
    dash: tuple | None = None
    closed: bool = False
    fill: str | None = None


@dataclass(frozen=True)
class Disc:
    """A circle [px]."""

    x: float
    y: float
    radius: float
    colour: str = "ink"
    width: float = 1.5
    fill: str | None = None


@dataclass(frozen=True)
class Words:
    """A word or number at a place [px]; anchor start, middle or end."""

    x: float
    y: float
    text: str
    colour: str = "ink"
    size: float = TEXT
    anchor: str = "start"
    bold: bool = False


def _number(value):
    return f"{value:.1f}".rstrip("0").rstrip(".")


def _svg_one(shape):
    if isinstance(shape, Words):
        weight = ' font-weight="bold"' if shape.bold else ""
        return (
            f'<text x="{_number(shape.x)}" y="{_number(shape.y)}" fill="{variable(shape.colour)}" '
            f'font-size="{_number(shape.size)}" text-anchor="{shape.anchor}"{weight}>{escape(shape.text)}</text>'
        )
    fill = variable(shape.fill) if shape.fill else "none"
    stroke = f'stroke="{variable(shape.colour)}" stroke-width="{_number(shape.width)}" fill="{fill}"'
    if isinstance(shape, Disc):
        return f'<circle cx="{_number(shape.x)}" cy="{_number(shape.y)}" r="{_number(shape.radius)}" {stroke}/>'
    points = " ".join(f"{_number(x)},{_number(y)}" for x, y in shape.points)
    dash = f' stroke-dasharray="{" ".join(map(str, shape.dash))}"' if shape.dash else ""
    return f'<{"polygon" if shape.closed else "polyline"} points="{points}" {stroke}{dash} stroke-linejoin="round"/>'


def svg(shapes, width, height, label):
    """Shapes as one SVG string.

    Parameters
    ----------
    shapes : sequence
        Path, Disc and Words [px].
    width, height : float
        Size of the picture [px].
    label : str
        What it shows, for screen readers; empty for a layer that another picture already describes.

    Returns
    -------
    str
        An svg element that scales to its container.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    One decimal of a pixel is kept.

    Examples
    --------
    >>> "<polyline" in svg([Path(((0, 0), (1, 1)))], 10, 10, "a line")
    True
    """
    role = f'role="img" aria-label="{escape(label, quote=True)}"' if label else 'aria-hidden="true"'
    body = "".join(_svg_one(shape) for shape in shapes)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_number(width)} {_number(height)}" {role} '
        f'font-family="DejaVu Sans, sans-serif">{body}</svg>'
    )


def draw(axes, shapes, width, height):
    """The same shapes on an axes, for print.

    Parameters
    ----------
    axes : matplotlib.axes.Axes
        Where to draw; its own frame is taken away.
    shapes : sequence
        Path, Disc and Words [px].
    width, height : float
        Size of the picture [px].

    Returns
    -------
    list
        The artists.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Light colours; words keep the size they have on the screen.

    Examples
    --------
    >>> from course.charts.style import new_figure
    >>> len(draw(new_figure().add_subplot(), [Words(5, 5, "low side")], 10, 10))
    1
    """
    axes.set_axis_off()
    axes.set_xlim(0, width)
    axes.set_ylim(height, 0)
    axes.set_aspect("equal")
    sides = {"start": "left", "middle": "center", "end": "right"}
    artists = []
    for shape in shapes:
        colour = COLOURS[shape.colour][0]
        if isinstance(shape, Words):
            weight = "bold" if shape.bold else "normal"
            artists.append(
                axes.text(
                    shape.x,
                    shape.y,
                    shape.text,
                    color=colour,
                    fontsize=shape.size,
                    ha=sides[shape.anchor],
                    weight=weight,
                )
            )
            continue
        fill = COLOURS[shape.fill][0] if shape.fill else "none"
        if isinstance(shape, Disc):
            patch = CirclePatch((shape.x, shape.y), shape.radius, ec=colour, fc=fill, lw=shape.width)
            artists.append(axes.add_patch(patch))
        elif shape.closed:
            artists.append(axes.add_patch(PolygonPatch(shape.points, ec=colour, fc=fill, lw=shape.width)))
        else:
            dash = (0, shape.dash) if shape.dash else "solid"
            xs, ys = zip(*shape.points, strict=True)
            artists += axes.plot(xs, ys, color=colour, linewidth=shape.width, linestyle=dash)
    return artists
