"""The bench in a real browser: seen at one glance, moved by keyboard, hit by a finger, in both themes."""

import pytest

from course.charts.style import COLOURS
from tests.browser.page import DESK, PHONE, readable_and_within, shown_after, sized
from tests.conftest import open_page

pytestmark = pytest.mark.browser
STATUS_BAR = 25  # px that JupyterLab keeps at the foot of the window
GAUGES = ".workbook-stack svg[aria-label*='high side']"

# what a finger must hit, with its height; a slider is hit by its knob and the ground round it
TARGETS = """() => [...document.querySelectorAll('.workbook-panel :is(input[type=number], select, button, .widget-checkbox, .noUi-handle)')]
  .filter(one => one.checkVisibility())
  .map(one => [one.className || one.tagName, one.getBoundingClientRect().height
    - (one.classList.contains('noUi-handle') ? 2 * parseFloat(getComputedStyle(one, '::after').top) : 0)])"""


def shown(open_lesson, book, size=DESK):
    """A lesson, run, with its live panels on the page and its kernel at rest."""
    return shown_after(open_lesson(book, *size))


@pytest.fixture(scope="module")
def free_bench(chromium, lab):
    """The free bench, run, for all tests that only look at it; each sets the size it wants."""
    page = open_page(chromium, lab, "free_bench")
    page.evaluate("window.jupyterapp.commands.execute('notebook:run-all-cells')")
    yield shown_after(page)
    page.close()


def test_a_lesson_opened_on_a_phone_fits(open_lesson):
    readable_and_within(shown(open_lesson, "00_start_here", PHONE))


def test_the_bench_is_seen_at_one_glance(free_bench):
    page = sized(free_bench, DESK)
    for part in (".workbook-left", GAUGES, ".workbook-stack svg[aria-label*='Discharge']", ".workbook-readings"):
        box = page.locator(part).first.bounding_box()
        assert box["y"] >= 0, part
        assert box["y"] + box["height"] <= DESK[1] - STATUS_BAR, part
        assert box["x"] + box["width"] <= DESK[0], part


def test_a_finger_can_hit_every_control(free_bench):
    page = sized(free_bench, PHONE)
    targets = page.evaluate(TARGETS)
    assert len(targets) > 20
    assert [target for target in targets if target[1] < 44] == []


def test_the_keyboard_moves_a_slider_and_everything_follows_at_one_height(open_lesson):
    page = shown(open_lesson, "00_start_here")
    bench = page.locator(".workbook-bench", has=page.locator(".workbook-stack")).first
    before, height = bench.locator(GAUGES).get_attribute("aria-label"), bench.bounding_box()["height"]
    words = bench.locator(".workbook-words").inner_text()
    bench.locator(".noUi-handle").focus()
    for _ in range(12):
        page.keyboard.press("PageDown")
    page.wait_for_function(
        "([gauges, before]) => document.querySelector(gauges).getAttribute('aria-label') !== before",
        arg=[GAUGES, before],
        timeout=15000,
    )
    page.wait_for_timeout(500)
    assert bench.locator("input[type=number]").input_value() == "40"
    assert "at 40 % charge" in bench.locator(".workbook-words").inner_text() != words
    assert bench.locator("[role=status][aria-live=polite]").count() == 1
    assert bench.bounding_box()["height"] == height


def test_every_control_is_reached_by_the_tab_key(free_bench):
    page = sized(free_bench, DESK)
    usable = ".workbook-panel :is(input:not(:disabled), select, button, .noUi-target:not([disabled]) .noUi-handle)"
    page.evaluate(f"window.waiting = new Set(document.querySelectorAll('{usable}'))")
    assert page.evaluate("waiting.size") >= 20
    page.locator(usable).first.focus()
    for _ in range(40):
        page.evaluate("waiting.delete(document.activeElement)")
        page.keyboard.press("Tab")
    assert page.evaluate("[...waiting].map(one => one.outerHTML.slice(0, 90))") == []


def test_every_box_and_choice_has_a_name(free_bench):
    page = sized(free_bench, DESK)
    boxes = page.locator(".workbook-panel :is(input, select)")
    assert boxes.count() >= 13
    nameless = "boxes => boxes.filter(box => ![...box.labels].some(label => label.textContent.trim())).length"
    assert boxes.evaluate_all(nameless) == 0


def test_the_dark_theme_gets_the_dark_colours(free_bench):
    page = sized(free_bench, DESK)
    ink = "getComputedStyle(document.querySelector('.workbook-pictures')).getPropertyValue('--workbook-ink').trim()"
    for theme, colour in (("Dark", COLOURS["ink"][1]), ("Light", COLOURS["ink"][0])):
        page.evaluate(f"jupyterapp.commands.execute('apputils:change-theme', {{theme: 'JupyterLab {theme}'}})")
        page.wait_for_function(f"{ink} === '{colour}'", timeout=10000)


def test_a_prediction_is_committed_by_keyboard(open_lesson):
    page = shown(open_lesson, "00_start_here")
    page.locator(".workbook-choice input").nth(1).focus()
    page.keyboard.press("Space")
    page.get_by_role("radio", name="fairly sure").first.focus()
    page.keyboard.press("Space")
    page.locator("button", has_text="Commit").first.focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("text=(your answer)", timeout=15000)
