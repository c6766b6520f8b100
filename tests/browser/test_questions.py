"""Questions in a real browser: fit for a finger, answered by keyboard, still locked after a new kernel, and taken along."""

import csv

import nbformat
import pytest

pytestmark = pytest.mark.browser
DESK, PHONE = (1366, 768), (360, 740)
CELLS = [
    'from course.widgets import ask_questions\n\nask_questions("00_start_here", "predict")',
    'from course.widgets import ask_questions\n\nask_questions("00_start_here", "faded")',
    'from course.widgets import ask_questions\n\nask_questions("00_start_here", "check")',
    "from course.widgets import show_record\n\nshow_record()",
]
SMALL = """() => [...document.querySelectorAll('.workbook-asked :is(button, select, input[type=text], .workbook-choice label)')]
  .filter(one => one.checkVisibility() && !one.closest('.workbook-asked .widget-label'))
  .map(one => [one.outerHTML.slice(0, 80), one.getBoundingClientRect().width, one.getBoundingClientRect().height])
  .filter(one => one[1] < 44 || one[2] < 44)"""
OUT = """() => {
  const room = document.querySelector('.jp-WindowedPanel-outer');
  const edge = Math.min(room.getBoundingClientRect().left + room.clientWidth, window.innerWidth) + 1;
  return [...room.querySelectorAll('.workbook-asked *')].filter(
    one => one.checkVisibility() && one.getBoundingClientRect().right > edge).map(one => one.outerHTML.slice(0, 80));
}"""


@pytest.fixture
def page_of(open_lesson, lab):
    """A page of question panels, run."""

    def opened(size):
        book = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(f"# Questions\n{text}") for text in CELLS])
        book.metadata["kernelspec"] = {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"}
        path = lab[2] / "questions_of_a_test.ipynb"
        if not path.exists():
            nbformat.write(book, path)
        page = open_lesson("questions_of_a_test", *size)
        page.wait_for_function("document.querySelectorAll('.workbook-asked').length >= 7", timeout=60000)
        page.wait_for_timeout(500)
        return page

    return opened


def test_a_finger_can_hit_every_answer_on_a_phone(page_of):
    page = page_of(PHONE)
    assert page.locator(".workbook-asked button").count() > 5
    assert page.evaluate(SMALL) == []
    assert page.evaluate(OUT) == []


def test_a_prediction_by_keyboard_is_locked_and_still_is_in_a_new_kernel(page_of):
    page = page_of(DESK)
    asked = page.locator(".workbook-asked").first
    asked.locator("input[type=radio]").first.focus()
    # the widgets' radio buttons are each a stop of their own
    for key in ("Tab", "Space", "Tab", "Tab", "Space", "Tab", "Tab", "Tab", "Space"):
        page.keyboard.press(key)
    asked.locator(".workbook-verdict").wait_for(timeout=20000)
    assert "Right" in asked.locator(".workbook-verdict").inner_text()
    assert asked.locator("button").is_disabled()
    feedback, answer = (asked.locator(part).first.bounding_box() for part in (".workbook-verdict", "input[type=radio]"))
    assert feedback["x"] > answer["x"]
    page.evaluate("window.jupyterapp.serviceManager.sessions.shutdownAll()")
    again = page_of(DESK).locator(".workbook-asked").first
    again.locator(".workbook-verdict").wait_for(timeout=20000)
    assert again.locator("button").is_disabled()
    assert again.locator("input[type=radio]").nth(1).is_checked()


def test_a_point_is_picked_by_click_and_the_record_is_taken_along(page_of, tmp_path):
    page = page_of(DESK)
    asked = page.locator(".workbook-asked:has(.workbook-pick)")
    asked.locator(".workbook-point").nth(0).click()
    asked.get_by_role("button", name="Check").click()
    asked.locator(".workbook-verdict").wait_for(timeout=20000)
    page.get_by_role("button", name="Export as table").click()
    with page.expect_download(timeout=20000) as download:
        page.locator(".workbook-asked a[download]").click()
    download.value.save_as(tmp_path / "answers.csv")
    rows = list(csv.DictReader((tmp_path / "answers.csv").read_text(encoding="utf-8-sig").splitlines()))
    assert "00_start_here/where_superheat_is" in [row["question"] for row in rows]


def test_arrows_choose_in_a_list_and_no_letter_spoils_the_page(page_of):
    page = page_of(DESK)
    cells = page.locator(".jp-Notebook .jp-Cell").count()
    chosen = page.locator(".workbook-asked select").first
    chosen.focus()
    before = chosen.input_value()
    for key in ("ArrowDown", "x", "d", "d"):
        page.keyboard.press(key)
    page.wait_for_timeout(500)
    assert chosen.input_value() != before
    assert page.locator(".jp-Notebook .jp-Cell").count() == cells
