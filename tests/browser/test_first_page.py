"""The page a user lands on, in a real browser: the list of lessons, which opens them, and nothing in the way."""

import re

import pytest

from course.tables import lesson_ids, read_course

pytestmark = pytest.mark.browser


# what a finger must hit on the page, with its height
TARGETS = """() => [...document.querySelectorAll('.workbook-start :is(a, button, select, .workbook-choice label)')]
  .filter(one => one.checkVisibility() && !one.classList.contains('widget-label'))
  .map(one => [one.outerHTML.slice(0, 90), one.getBoundingClientRect().height])"""


@pytest.fixture(scope="module")
def first_page(chromium, lab):
    address, token, _ = lab
    context = chromium.new_context(viewport={"width": 1366, "height": 768})
    page = context.new_page()
    page.goto(f"{address}/?token={token}")
    landed = page.url.split("?")[0]
    # other tests share this server and fold its side bars: the page is looked at in a workspace of its own
    page.goto(f"{address}/lab/workspaces/first-page{landed.removeprefix(address + '/lab')}")
    page.wait_for_selector(".jp-Notebook .jp-Cell", timeout=60000)
    yield page
    context.close()


def test_the_workbook_opens_on_its_first_page_with_the_lessons_beside_it(first_page, lab):
    _, _, notebooks = lab
    first_page.wait_for_selector(".jp-DirListing-item", timeout=20000)
    listed = set(first_page.locator(".jp-DirListing-itemText").all_inner_texts())
    assert listed == {book.name for book in notebooks.glob("*.ipynb")}
    assert re.search(r"/lab(/workspaces/[\w-]+)?/tree/the_workbook\.ipynb$", first_page.url.split("?")[0])


def test_the_list_of_lessons_is_readable_before_anything_runs(first_page):
    first_page.wait_for_selector(".workbook-pages a", timeout=20000)
    assert first_page.locator(".workbook-pages a").count() == len(read_course().page)


def test_nothing_asks_before_the_lesson_is_read(first_page):
    first_page.wait_for_timeout(4000)  # a question or news would have come by then
    assert first_page.locator(".jp-Dialog").count() == 0
    assert first_page.locator(".Toastify__toast").count() == 0


def progress(page):
    """What stands beside each lesson, once it is the learner's own; other tests have answered something."""
    page.wait_for_selector(".workbook-panel tr svg", timeout=60000, state="attached")
    return page.locator(".workbook-panel tr:has(svg)").all_inner_texts()


def test_ones_own_progress_appears_by_itself_and_again_with_the_button(first_page):
    told = progress(first_page)
    assert len(told) == len(lesson_ids())
    assert all("not begun" in line or " of " in line for line in told)
    # the reader is left where he was
    assert first_page.evaluate("document.querySelector('.jp-WindowedPanel-outer').scrollTop") < 50
    first_page.evaluate("document.querySelector('.workbook-panel tr svg').remove()")
    first_page.locator("button[data-commandlinker-command]").first.click()
    first_page.wait_for_function(f"document.querySelectorAll('.workbook-panel tr svg').length === {len(told)}")


def test_the_index_is_used_by_keyboard(first_page):
    found = first_page.locator(".workbook-found").locator("..")
    assert "It cools less than last year." in found.inner_text()
    first_page.get_by_role("radio", name="Component").focus()
    first_page.keyboard.press("Space")
    first_page.wait_for_selector("text=Compressor. The pages that help", timeout=15000)
    first_page.locator(".workbook-seek select").focus()
    for key in ("Alt+ArrowDown", "ArrowDown", "Enter"):
        first_page.keyboard.press(key)
    first_page.wait_for_selector("text=Variable compressor. The pages that help", timeout=15000)


def test_on_a_phone_a_finger_can_hit_every_link_and_choice(first_page):
    first_page.set_viewport_size({"width": 360, "height": 740})
    first_page.wait_for_timeout(1000)
    heights = first_page.evaluate(TARGETS)
    first_page.set_viewport_size({"width": 1366, "height": 768})
    assert len(heights) > 24
    assert [one for one in heights if one[1] < 44] == []


def opened(page, name):
    """Wait for a notebook to be the one in front."""
    path = "window.jupyterapp.shell.currentWidget?.context?.path"
    page.wait_for_function(f"{path} === '{name}.ipynb'", timeout=15000)


def back(page):
    page.evaluate("window.jupyterapp.commands.execute('docmanager:open', {path: 'the_workbook.ipynb'})")
    opened(page, "the_workbook")


def test_a_click_opens_a_lesson_and_the_enter_key_the_one_to_go_on_with(first_page):
    first_page.evaluate("window.still_the_same_page = true")
    first_page.locator(".workbook-pages a", has_text="01 ·").first.click()
    opened(first_page, "01_pressure_tells_temperature")
    back(first_page)
    first_page.locator("a.workbook-first").focus()
    first_page.keyboard.press("Enter")
    opened(first_page, "00_start_here")
    back(first_page)
    first_page.locator("a.workbook-go", has_text="Quick reference").click()
    opened(first_page, "80_quick_reference")
    assert first_page.evaluate("window.still_the_same_page")
