"""From the press of Look to the drawing repainted, in a real browser; and what the reckoning behind it takes."""

import nbformat

from course.service.belief import place_chances
from course.service.hunt import Step, begin_hunt, take_look
from course.service.hunt_plan import best_next_look
from course.tables import read_leak_places

STEPS = 24

# when the button was pressed, and when the new drawing, clock and log were painted
WATCH = """() => {
  const seen = {pressed: 0, painted: 0};
  const painted = () => requestAnimationFrame(() => { const c = new MessageChannel();
    c.port1.onmessage = () => { seen.painted = performance.now(); }; c.port2.postMessage(0); });
  new MutationObserver(painted).observe(document.querySelector('.workbook-panel'),
    {childList: true, subtree: true, characterData: true});
  document.addEventListener('click', event => { seen.pressed = event.timeStamp; }, true);
  window.seen = seen;
}"""


def test_a_look_is_painted_within_a_tenth_of_a_second(open_lesson, lab, results):
    cell = "from course.widgets import show_hunt\n\nshow_hunt(number=4)"
    made = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(cell)])
    nbformat.write(made, lab[2] / "hunt_alone.ipynb")
    page = open_lesson("hunt_alone")
    page.wait_for_selector(".workbook-panel svg", timeout=60000)
    page.wait_for_timeout(1500)
    page.evaluate(WATCH)
    taken, places = [], page.locator(".workbook-panel select").first
    for step in range(STEPS):
        places.select_option(index=step)
        page.wait_for_timeout(700)
        page.evaluate("seen.painted = 0")
        page.locator("button", has_text="Look").first.click()
        page.wait_for_function("seen.painted > seen.pressed && performance.now() - seen.painted > 400", timeout=10000)
        taken.append(page.evaluate("seen.painted - seen.pressed"))
    assert f"{STEPS} looks" in page.locator(".workbook-panel").inner_text()
    assert results.note("leak hunt, a look to the last thing repainted", taken, median_target=100.0) < 100.0


def test_the_reckoning_behind_a_look(results):
    hunt, looks = begin_hunt(4), []
    for place in read_leak_places():
        hunt = take_look(hunt, Step(place, "electronic"))
        looks.append(hunt)
    jobs = [
        lambda before=before: place_chances(take_look(before, Step("shaft_seal", "bubbles")).belief) for before in looks
    ]
    assert results.measure("leak hunt, one look reckoned", jobs, median_target=5.0) < 5.0
    advice = [lambda before=before: best_next_look(before) for before in looks]
    assert results.measure("leak hunt, the best next look", advice, median_target=100.0) < 100.0
