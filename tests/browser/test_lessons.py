"""Every lesson in a real browser: it runs, shows its panel, moves by keyboard, fits a desk and a phone."""

from pathlib import Path

import pytest

from course.charts.style import COLOURS
from tests.conftest import KERNEL_AT_REST, open_page

pytestmark = pytest.mark.browser
BOOKS = sorted(book.stem for book in (Path(__file__).resolve().parents[2] / "notebooks").glob("*.ipynb"))
DESK, PHONE = (1366, 768), (360, 740)
STATUS_BAR = 25  # px that JupyterLab keeps at the foot of the window
GAUGES = ".workbook-stack svg[aria-label*='high side']"

# the smallest letters of the lesson as they reach the eye, and what they say
SMALLEST = """() => {
  let least = [99, ''];
  const walk = document.createTreeWalker(document.querySelector('.jp-Notebook'), NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const text = walk.currentNode.textContent.trim(), holder = walk.currentNode.parentElement;
    if (!text || !holder.checkVisibility() || holder.closest('style, .jp-Toolbar')) continue;
    const matrix = holder.ownerSVGElement ? holder.getScreenCTM() : null;
    const size = parseFloat(getComputedStyle(holder).fontSize) * (matrix ? Math.hypot(matrix.a, matrix.b) : 1);
    if (size < least[0]) least = [size, text];
  }
  return least;
}"""
# everything of the lesson that sticks out to the right of the notebook or of the window
STICKING_OUT = """() => {
  const room = document.querySelector('.jp-WindowedPanel-outer');
  const edge = Math.min(room.getBoundingClientRect().left + room.clientWidth, window.innerWidth) + 1;
  const out = [...room.querySelectorAll('.workbook-bench *, .workbook-choice *, .jp-RenderedMarkdown *')].filter(
    one => one.checkVisibility() && one.getBoundingClientRect().right > edge);
  return [room.scrollWidth - room.clientWidth, out.map(one => one.outerHTML.slice(0, 90))];
}"""
# what a finger must hit, with its height; a slider is hit by its knob and the ground round it
TARGETS = """() => [...document.querySelectorAll('.workbook-panel :is(input[type=number], select, button, .widget-checkbox, .noUi-handle)')]
  .filter(one => one.checkVisibility())
  .map(one => [one.className || one.tagName, one.getBoundingClientRect().height
    - (one.classList.contains('noUi-handle') ? 2 * parseFloat(getComputedStyle(one, '::after').top) : 0)])"""

OPEN_ALONE = """async path => {
  const app = window.jupyterapp;
  const opened = await app.commands.execute('docmanager:open', {path});
  [...app.shell.widgets('main')].filter(one => one !== opened).forEach(one => one.dispose());
}"""


def shown(open_lesson, book, size=DESK):
    """A lesson, run, with its live panels on the page and its kernel at rest."""
    return shown_after(open_lesson(book, *size))


def shown_after(page):
    """The page once all its cells have run."""
    page.wait_for_function(
        """() => {
          const panel = window.jupyterapp.shell.currentWidget;
          const cells = panel.content.widgets.filter(cell => cell.model.type === 'code');
          const idle = panel.sessionContext.session.kernel.status === 'idle';
          return idle && cells.length > 0 && cells.every(cell => cell.node.querySelector('.jupyter-widgets'));
        }""",
        timeout=40000,
    )
    page.wait_for_selector(".workbook-panel svg", timeout=20000)
    page.wait_for_timeout(500)
    return page


def sized(page, size):
    """The page at another size, once everything on it has followed."""
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.wait_for_timeout(1000)
    return page


def readable_and_within(page):
    """No letter too small to read and nothing sticking out to the right."""
    least, text = page.evaluate(SMALLEST)
    assert least >= 11.95, text
    assert page.evaluate(STICKING_OUT) == [0, []]


@pytest.fixture(scope="module")
def lab_page(chromium, lab):
    """JupyterLab in the browser; loading it takes longer than running a lesson, so that the lessons follow one another."""
    page = open_page(chromium, lab, "free_bench")
    yield page
    page.close()


@pytest.fixture(scope="module")
def free_bench(chromium, lab):
    """The free bench, run, for all tests that only look at it; each sets the size it wants."""
    page = open_page(chromium, lab, "free_bench")
    page.evaluate("window.jupyterapp.commands.execute('notebook:run-all-cells')")
    yield shown_after(page)
    page.close()


@pytest.mark.parametrize("book", BOOKS)
def test_the_start_button_runs_the_lesson_and_it_fits_a_desk_and_a_phone(lab_page, book):
    page = sized(lab_page, DESK)
    page.evaluate(OPEN_ALONE, f"{book}.ipynb")
    page.wait_for_function(KERNEL_AT_REST, timeout=60000)
    page.wait_for_selector(".jp-Notebook button[data-commandlinker-command]", timeout=20000)
    page.locator(".jp-Notebook button[data-commandlinker-command]").first.click()
    shown_after(page)
    # the reader is left before the first question, not at the foot of the page
    assert page.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop") < 50
    for kind in ("stderr", "error"):
        assert page.locator(f"[data-mime-type='application/vnd.jupyter.{kind}']").count() == 0
    assert page.locator("text=Error displaying widget").count() == 0
    readable_and_within(page)
    readable_and_within(sized(page, PHONE))


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
