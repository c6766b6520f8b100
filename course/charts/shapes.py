"""Lines, circles and words as plain data, drawn alike as SVG on the screen and by matplotlib on paper."""

from dataclasses import dataclass
from html import escape

from matplotlib.patches import Circle as CirclePatch
from matplotlib.patches import Polygon as PolygonPatch
from matplotlib.patheffects import withStroke

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
    """A word or number at a place [px]; anchor start, middle or end; halo clears the lines behind it."""

    x: float
    y: float
    text: str
    colour: str = "ink"
    size: float = TEXT
    anchor: str = "start"
    bold: bool = False
    halo: bool = False


def _number(value):
    return f"{value:.1f}".rstrip("0").rstrip(".")


def _svg_one(shape):
    if isinstance(shape, Words):
        weight = ' font-weight="bold"' if shape.bold else ""
        if shape.halo:
            weight += f' paint-order="stroke" stroke="{variable("paper")}" stroke-width="3"'
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


def clipped(points, box):
    """The parts of a line that lie inside a frame.

    Parameters
    ----------
    points : sequence of (float, float)
        The line [px].
    box : tuple of float
        Left, top, right and bottom of the frame [px].

    Returns
    -------
    list of tuple
        One line for each part inside; empty when nothing is inside.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Each straight piece is cut by the four edges in turn (Liang and Barsky, 1984; from memory).

    Examples
    --------
    >>> clipped([(0, 5), (20, 5), (20, 8), (5, 8)], (0, 0, 10, 10))
    [((0, 5), (10.0, 5.0)), ((10.0, 8.0), (5, 8))]
    """
    parts = []
    for start, end in zip(points, points[1:], strict=False):
        piece = _piece_inside(start, end, box)
        if piece is None:
            continue
        if parts and parts[-1][-1] == piece[0]:
            parts[-1] += piece[1:]
        else:
            parts.append(piece)
    return parts


def _piece_inside(start, end, box):
    (x, y), (dx, dy) = start, (end[0] - start[0], end[1] - start[1])
    first, last = 0.0, 1.0
    for step, room in ((-dx, x - box[0]), (dx, box[2] - x), (-dy, y - box[1]), (dy, box[3] - y)):
        if step == 0.0:
            if room < 0.0:
                return None
        elif step < 0.0:
            first = max(first, room / step)
        else:
            last = min(last, room / step)
    if first > last:
        return None
    begin = start if first == 0.0 else (x + first * dx, y + first * dy)
    return begin, end if last == 1.0 else (x + last * dx, y + last * dy)


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
    # later shapes lie over earlier ones, as on the screen; left alone, matplotlib puts every line over every circle
    return [artist for layer, shape in enumerate(shapes, start=2) for artist in _on_paper(axes, shape, layer)]


def _on_paper(axes, shape, layer):
    colour = COLOURS[shape.colour][0]
    if isinstance(shape, Words):
        side = {"start": "left", "middle": "center", "end": "right"}[shape.anchor]
        halo = [withStroke(linewidth=3, foreground=COLOURS["paper"][0])] if shape.halo else None
        style = {"fontsize": shape.size, "weight": "bold" if shape.bold else "normal", "path_effects": halo}
        return [axes.text(shape.x, shape.y, shape.text, color=colour, ha=side, zorder=layer, **style)]
    fill = COLOURS[shape.fill][0] if shape.fill else "none"
    edge = {"ec": colour, "fc": fill, "lw": shape.width, "zorder": layer}
    if isinstance(shape, Disc):
        return [axes.add_patch(CirclePatch((shape.x, shape.y), shape.radius, **edge))]
    if shape.closed:
        return [axes.add_patch(PolygonPatch(shape.points, **edge))]
    # matplotlib counts dashes in line widths, the screen in pixels
    dash = (0, [length / shape.width for length in shape.dash]) if shape.dash else "solid"
    xs, ys = zip(*shape.points, strict=True)
    return axes.plot(xs, ys, color=colour, linewidth=shape.width, linestyle=dash, zorder=layer)
