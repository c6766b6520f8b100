"""The page a user lands on, in a real browser: the list of lessons and the first of them, and nothing in the way."""

import re

import pytest

pytestmark = pytest.mark.browser


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


def test_the_first_page_shows_the_lessons_and_opens_the_first(first_page, lab):
    _, _, notebooks = lab
    first_page.wait_for_selector(".jp-DirListing-item", timeout=20000)
    listed = set(first_page.locator(".jp-DirListing-itemText").all_inner_texts())
    assert listed == {book.name for book in notebooks.glob("*.ipynb")}
    assert re.search(r"/lab(/workspaces/[\w-]+)?/tree/00_start_here\.ipynb$", first_page.url.split("?")[0])


def test_nothing_asks_before_the_lesson_is_read(first_page):
    first_page.wait_for_timeout(4000)  # a question or news would have come by then
    assert first_page.locator(".jp-Dialog").count() == 0
    assert first_page.locator(".Toastify__toast").count() == 0


def test_the_button_on_the_page_runs_the_lesson(first_page):
    first_page.wait_for_function(
        "window.jupyterapp.shell.currentWidget.sessionContext.session?.kernel?.status === 'idle'", timeout=60000
    )
    first_page.locator("button[data-commandlinker-command]").first.click()
    first_page.wait_for_selector(".workbook-panel svg", timeout=60000, state="attached")
