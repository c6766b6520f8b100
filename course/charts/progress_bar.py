"""How far a lesson has been worked through, as a small bar: answered is filled, what is left is open."""

from course.charts.shapes import Path, svg

WIDTH, HEIGHT = 120.0, 12.0  # px


def _box(left, right, **style):
    return Path(((left, 1.0), (right, 1.0), (right, HEIGHT - 1.0), (left, HEIGHT - 1.0)), closed=True, **style)


def progress_bar_svg(answered, asked):
    """The bar of one lesson.

    Parameters
    ----------
    answered, asked : int
        Questions answered, of questions there are.

    Returns
    -------
    str
        An svg element; the words beside it say the same, so that a screen reader passes over the bar.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    One length for all lessons, whatever they ask.

    Examples
    --------
    >>> progress_bar_svg(1, 2).count("<polygon")
    2
    """
    shapes = [_box(1.0, WIDTH - 1.0, width=1.0, colour="faint")]
    if answered:
        shapes.append(_box(1.0, 1.0 + (WIDTH - 2.0) * answered / asked, width=1.0, colour="low", fill="low"))
    return svg(shapes, WIDTH, HEIGHT, "")
