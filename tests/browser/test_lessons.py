"""Every lesson in a real browser: its start button runs it, it shows its panels, and it fits a desk and a phone."""

from pathlib import Path

import pytest

from tests.browser.page import DESK, PHONE, readable_and_within, shown_after, sized
from tests.conftest import open_page

pytestmark = pytest.mark.browser
BOOKS = sorted(book.stem for book in (Path(__file__).resolve().parents[2] / "notebooks").glob("*.ipynb"))
START = ".jp-Notebook button[data-commandlinker-command]"
# the page that is opened, alone in its window
OPEN_ALONE = """async ([path, kernel]) => {
  const app = window.jupyterapp;
  const opened = await app.commands.execute('docmanager:open', {path, kernel});
  [...app.shell.widgets('main')].filter(one => one !== opened).forEach(one => one.dispose());
  await opened.revealed;
}"""
# forget the panels of the page in front, and give the kernel they were in
CLEARED_KERNEL = """async () => {
  const kernel = window.jupyterapp.shell.currentWidget.sessionContext.session.kernel;
  await kernel.requestExecute({code: 'import ipywidgets; ipywidgets.Widget.close_all()'}).done;
  return {id: kernel.id};
}"""


@pytest.fixture(scope="module")
def lab_page(chromium, lab):
    """JupyterLab in the browser; loading it, or the workbook into a kernel, takes longer than running a lesson."""
    page = open_page(chromium, lab, "free_bench")
    yield page
    page.close()


def test_a_start_button_pressed_before_the_kernel_answers_still_runs_the_lesson(lab_page):
    lab_page.evaluate(OPEN_ALONE, ["00_start_here.ipynb", None])
    lab_page.locator(START).first.click()
    assert lab_page.locator(START).first.is_disabled()
    shown_after(lab_page)
    assert lab_page.locator(START).first.is_enabled()
    assert lab_page.locator("text=javascript error").count() == 0


@pytest.mark.parametrize("book", BOOKS)
def test_the_start_button_runs_the_lesson_and_it_fits_a_desk_and_a_phone(lab_page, book):
    page = sized(lab_page, DESK)
    page.evaluate(OPEN_ALONE, [f"{book}.ipynb", page.evaluate(CLEARED_KERNEL)])
    page.locator(START).first.click()
    shown_after(page)
    # the reader is left before the first question, not at the foot of the page
    assert page.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop") < 50
    for kind in ("stderr", "error"):
        assert page.locator(f"[data-mime-type='application/vnd.jupyter.{kind}']").count() == 0
    for trouble in ("Error displaying widget", "javascript error"):
        assert page.locator(f"text={trouble}").count() == 0
    readable_and_within(page)
    readable_and_within(sized(page, PHONE))
