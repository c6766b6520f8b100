"""Reading a picture back from its SVG, so that a test sees what a learner sees."""

import xml.etree.ElementTree as ElementTree

from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextToPath

SPACE = "{http://www.w3.org/2000/svg}"


def parsed(svg):
    """The root of the picture; malformed XML raises."""
    return ElementTree.fromstring(svg)


def lines(svg, colour=None):
    """Every drawn line of a colour as a list of points [px]."""
    found = []
    for tag in ("polyline", "polygon"):
        for element in parsed(svg).iter(SPACE + tag):
            if colour is None or f"--workbook-{colour}," in element.get("stroke"):
                found.append([tuple(map(float, pair.split(","))) for pair in element.get("points").split()])
    return found


def texts(svg):
    """Every text element."""
    return list(parsed(svg).iter(SPACE + "text"))


def words(svg):
    """Every text as a string."""
    return [element.text for element in texts(svg)]


def box(element, at_least=0.0):
    """Left, top, right and bottom of a text [px], measured in the font it asks for; at_least enlarges small print."""
    size = max(float(element.get("font-size")), at_least)
    font = FontProperties(family="DejaVu Sans", weight=element.get("font-weight", "normal"), size=size)
    width, height, _ = TextToPath().get_text_width_height_descent(element.text, font, ismath=False)
    x, y = float(element.get("x")), float(element.get("y"))
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[element.get("text-anchor")] * width
    return left, y - 0.75 * size, left + width, y + 0.05 * size


def overlapping(svgs, at_least=0.0):
    """Pairs of texts of one picture that lie over one another."""
    elements = [element for svg in svgs for element in texts(svg)]
    boxes = [(element.text, box(element, at_least)) for element in elements if element.text.strip()]
    return [
        (one, other)
        for number, (one, a) in enumerate(boxes)
        for other, b in boxes[number + 1 :]
        if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]
    ]
