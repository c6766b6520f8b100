"""A sealed bottle seen from the side: how much of what is in it is liquid, and what its gauge shows."""

from course.charts.shapes import Path, Words, svg
from course.errors import check_range

WIDTH, HEIGHT = 100.0, 200.0
LEFT, RIGHT, TOP, BOTTOM = 16.0, 84.0, 46.0, 172.0
SHOULDER = 22.0  # px: how far the neck stands above the body
NECK = 10.0  # px: half its width


def bottle_svg(liquid_share, label):
    """The bottle with its liquid.

    Parameters
    ----------
    liquid_share : float
        Share of the bottle's height that the liquid fills, 0 to 1 [-].
    label : str
        What it shows, for screen readers.

    Returns
    -------
    str
        SVG.

    Raises
    ------
    OutOfRange
        When the share is not between 0 and 1.

    Notes
    -----
    Liquid is told by its colour, its line and its word; without any the bottle says so.

    Examples
    --------
    >>> "no liquid" in bottle_svg(0.0, "an empty bottle"), "no liquid" in bottle_svg(0.4, "a bottle")
    (True, False)
    """
    check_range("liquid in the bottle", liquid_share, 0.0, 1.0, "of its height", "give a share of its height")
    middle = (LEFT + RIGHT) / 2.0
    level = BOTTOM - liquid_share * (BOTTOM - TOP)
    shapes = []
    if liquid_share > 0.0:
        body = ((LEFT, level), (RIGHT, level), (RIGHT, BOTTOM), (LEFT, BOTTOM))
        shapes.append(Path(body, colour="liquid", width=2.0, closed=True, fill="liquid"))
    wall = (
        (middle - NECK, TOP - SHOULDER - 10.0),
        (middle - NECK, TOP - SHOULDER),
        (LEFT, TOP),
        (LEFT, BOTTOM),
        (RIGHT, BOTTOM),
        (RIGHT, TOP),
        (middle + NECK, TOP - SHOULDER),
        (middle + NECK, TOP - SHOULDER - 10.0),
    )
    shapes.append(Path(wall, width=2.5, closed=True))
    shapes.append(Words(middle, TOP + 16.0, "vapour", colour="vapour", anchor="middle", halo=True))
    words = "liquid" if liquid_share > 0.0 else "no liquid"
    shapes.append(Words(middle, BOTTOM + 20.0, words, colour="liquid", anchor="middle", bold=True))
    return svg(shapes, WIDTH, HEIGHT, label)
