"""Exported pages in a real browser: no wider than a phone, and sheets that print grey and whole on both sizes of paper."""

import io
import re

import pytest
from matplotlib.image import imread

from course.commands import export

pytestmark = pytest.mark.browser
BOOKS = export.numbered_notebooks()
LARGEST = sorted(BOOKS, key=lambda name: BOOKS[name].stat().st_size)[-3:]
# one sheet of every make: a chart of each refrigerant to draw into, a bench at rest, forms, right sides to match
SHEETS = (
    "00_start_here",
    "02_the_loop_on_the_p_h_chart",
    "09_controls_sensors_doors_high_voltage",
    "12_recover_evacuate_recharge",
    "13_thinking_like_a_diagnostician",
)
PHONE = {"width": 360, "height": 740}
PAPER_POINTS = {"a4": (595, 842), "letter": (612, 792)}  # ISO 216 and US letter, in 1/72 inch
MARGIN_MM, PX_PER_MM, PX_PER_POINT = 13.0, 96.0 / 25.4, 96.0 / 72.0
# what stands out to the right, unless it lies in a part that scrolls by itself
OUT = """() => [...document.querySelectorAll('body *')].filter(one => one.checkVisibility()
  && one.getBoundingClientRect().right > document.documentElement.clientWidth + 1 && !one.closest('.wide, .workbook-sheet'))
  .map(one => one.outerHTML.slice(0, 100))"""
WIDTHS = "() => [document.documentElement.scrollWidth, document.documentElement.clientWidth]"
SMALL = """() => [...document.querySelectorAll('main *')].filter(one => one.checkVisibility()
  && [...one.childNodes].some(part => part.nodeType === 3 && part.textContent.trim()) && !one.closest('svg')
  && parseFloat(getComputedStyle(one).fontSize) < 12).map(one => one.outerHTML.slice(0, 100))"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """The lessons looked at here, exported."""
    place = tmp_path_factory.mktemp("paper")
    assert export.main(["--to", str(place), "--units", "psi_f", *{*SHEETS, *LARGEST}]) == 0
    return place


@pytest.fixture
def show(chromium, folder):
    """Open an exported page; a page that asks the network for anything fails the test."""
    page, asked = chromium.new_page(), []
    page.on("request", lambda request: asked.append(request.url))

    def shown(name, size=PHONE, **media):
        page.set_viewport_size(size)
        page.emulate_media(**media)
        page.goto((folder / f"{name}.html").as_uri())
        return page

    yield shown
    page.close()
    assert [address for address in asked if not address.startswith(("file:", "data:"))] == []


def test_nothing_sticks_out_on_a_phone(show):
    for name in {*LARGEST, *SHEETS, "00_start_here_key", "13_thinking_like_a_diagnostician_key", "index"}:
        page = show(name)
        assert page.evaluate(OUT) == [], name
        wide, room = page.evaluate(WIDTHS)
        assert wide <= room, name
        assert page.evaluate(SMALL) == [], name


def test_a_dark_screen_is_dark_and_paper_is_white(show):
    page = show("00_start_here", color_scheme="dark")
    paper = "() => getComputedStyle(document.body).backgroundColor"
    assert page.evaluate(paper) == "rgb(17, 17, 17)"
    page.emulate_media(media="print", color_scheme="dark")
    assert page.evaluate(paper) == "rgb(255, 255, 255)"


@pytest.mark.parametrize("size", PAPER_POINTS)
def test_sheets_print_whole_and_grey(show, size):
    points = PAPER_POINTS[size]
    room = round(points[0] * PX_PER_POINT - 2 * MARGIN_MM * PX_PER_MM)
    for lesson in SHEETS:
        page = show(f"{lesson}_worksheet_{size}", {"width": room, "height": 900}, media="print")
        assert page.evaluate("() => document.documentElement.scrollWidth") <= room, lesson
        picture = imread(io.BytesIO(page.screenshot(full_page=True)))
        assert picture.shape[2] >= 3
        coloured = picture[..., :3].max(axis=2) - picture[..., :3].min(axis=2)
        assert coloured.max() == 0.0, lesson
        assert picture[..., :3].min() < 0.2
        printed = page.pdf(prefer_css_page_size=True)
        boxes = {
            tuple(round(float(end)) for end in box.split()) for box in re.findall(rb"/MediaBox\s*\[([^\]]+)\]", printed)
        }
        assert boxes == {(0, 0, *points)}, lesson
