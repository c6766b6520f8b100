"""Every lesson in a real browser: it runs, shows its panel, moves by keyboard, fits a phone."""

from pathlib import Path

import pytest

pytestmark = pytest.mark.browser
BOOKS = sorted(book.stem for book in (Path(__file__).resolve().parents[2] / "notebooks").glob("*.ipynb"))
SMALLEST = """() => {
  let least = 99;
  for (const text of document.querySelectorAll('.workbook-panel .workbook-stack text, .workbook-panel .workbook span, .workbook-panel .workbook b')) {
    if (!text.textContent.trim()) continue;
    const matrix = text.getScreenCTM ? text.getScreenCTM() : null;
    const size = parseFloat(getComputedStyle(text).fontSize) * (matrix ? Math.hypot(matrix.a, matrix.b) : 1);
    least = Math.min(least, size);
  }
  return least;
}"""


def wait_for_all_cells(page):
    """Wait until every code cell shows its live widget and the kernel rests."""
    page.wait_for_function(
        """() => {
          const panel = window.jupyterapp.shell.currentWidget;
          const cells = panel.content.widgets.filter(cell => cell.model.type === 'code');
          const idle = panel.sessionContext.session.kernel.status === 'idle';
          return idle && cells.length > 0 && cells.every(cell => cell.node.querySelector('.jupyter-widgets'));
        }""",
        timeout=40000,
    )


@pytest.mark.parametrize("book", BOOKS)
def test_a_lesson_runs_without_an_error(open_lesson, book):
    page = open_lesson(book)
    page.wait_for_selector(".workbook-panel .workbook-stack svg, .workbook-panel svg", timeout=60000)
    wait_for_all_cells(page)
    assert page.locator("[data-mime-type='application/vnd.jupyter.stderr']").count() == 0
    assert page.locator("[data-mime-type='application/vnd.jupyter.error']").count() == 0
    assert page.locator("text=Error displaying widget").count() == 0


def test_the_keyboard_moves_a_slider_and_the_gauges_follow(open_lesson):
    page = open_lesson("00_start_here")
    page.wait_for_selector(".workbook-panel .workbook-stack svg", timeout=60000)
    needle = page.locator(".workbook-panel .workbook-stack svg[role='img']").first
    before = needle.get_attribute("aria-label")
    handle = page.locator(".workbook-panel .noUi-handle").first
    handle.focus()
    for _ in range(12):
        page.keyboard.press("PageDown")
    page.wait_for_function(
        "before => document.querySelector(\".workbook-panel .workbook-stack svg[role='img']\").getAttribute('aria-label') !== before",
        arg=before,
        timeout=15000,
    )
    assert "gauge" in needle.get_attribute("aria-label")


@pytest.mark.parametrize("width, height", [(1366, 768), (360, 740)])
def test_text_is_large_enough_and_nothing_sticks_out(open_lesson, width, height):
    page = open_lesson("free_bench", width, height)
    page.wait_for_selector(".workbook-panel .workbook-stack svg", timeout=60000)
    page.wait_for_timeout(1500)
    assert page.evaluate(SMALLEST) >= 11.9
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


def test_the_bench_fits_one_screen(open_lesson):
    page = open_lesson("free_bench", 1366, 768)
    page.wait_for_selector(".workbook-panel .workbook-stack svg", timeout=60000)
    page.wait_for_timeout(1500)
    box = page.locator(".workbook-panel").bounding_box()
    assert box["y"] + box["height"] <= 768 + 40  # the last note may run under the status bar
    assert box["x"] + box["width"] <= 1366


def test_a_prediction_is_committed_by_keyboard(open_lesson):
    page = open_lesson("00_start_here")
    page.wait_for_selector(".workbook-choice input", timeout=60000)
    page.locator(".workbook-choice input").nth(1).focus()
    page.keyboard.press("Space")
    page.locator("button", has_text="Commit").first.focus()
    page.keyboard.press("Enter")
    page.wait_for_selector("text=(your answer)", timeout=15000)
