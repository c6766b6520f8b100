"""From a key press on a slider to the whole panel repainted, beside the naive way, in one Chromium and one run."""

from pathlib import Path

import nbformat
import psutil
import pytest

STEPS = 40
NAIVE = (Path(__file__).with_name("naive_panel.py")).read_text(encoding="utf-8")

# watches the pictures: when each key went down, when what it changed was painted, and whether a frame was ever blank
WATCH = """pictures => {
  const paper = document.querySelector(pictures);
  const seen = {pressed: 0, painted: 0, changes: 0, blank: 0, heights: new Set(), on: true};
  seen.drawn = paper.querySelectorAll('svg[role=img], img').length;
  const painted = () => requestAnimationFrame(() => { const c = new MessageChannel();
    c.port1.onmessage = () => { seen.painted = performance.now(); }; c.port2.postMessage(0); });
  new MutationObserver(async () => {
    seen.changes += 1;
    const images = [...paper.querySelectorAll('img')];
    await Promise.all(images.map(image => image.decode().catch(() => null)));
    painted();
  }).observe(paper, {childList: true, subtree: true, characterData: true});
  document.addEventListener('keydown', event => { seen.pressed = event.timeStamp; }, true);
  const frame = () => {
    const drawn = [...paper.querySelectorAll('svg[role=img], img')];
    const empty = one => one.tagName === 'IMG' ? !one.complete || !one.naturalHeight : !one.children.length;
    if (drawn.length !== seen.drawn || drawn.some(empty)) seen.blank += 1;
    seen.heights.add(Math.round(paper.getBoundingClientRect().height));
    if (seen.on) requestAnimationFrame(frame);
  };
  frame();
  window.seen = seen;
}"""


def start(page, pictures):
    """Begin to watch some pictures, and put the keyboard on the panel's first slider."""
    page.wait_for_timeout(1500)
    page.evaluate(WATCH, pictures)
    page.locator(".benchmark .noUi-handle, .workbook-panel .noUi-handle").first.focus()


def repaints(page, steps):
    """Key press to paint of every step [ms]; the slider comes to rest between steps."""
    taken = []
    for step in range(steps):
        page.keyboard.press("ArrowLeft" if step < steps / 2 else "ArrowRight")
        page.wait_for_function("seen.painted > seen.pressed", timeout=10000)
        page.wait_for_function("performance.now() - seen.painted > 300", timeout=10000)
        taken.append(page.evaluate("seen.painted - seen.pressed"))
    return taken


def write_notebook(folder, name, *cells):
    """A notebook of this run's own."""
    made = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(cell) for cell in cells])
    nbformat.write(made, folder / f"{name}.ipynb")


def kernel_megabytes(page):
    """Memory of the page's kernel [MB]."""
    name = page.evaluate("jupyterapp.shell.currentWidget.sessionContext.session.kernel.id")
    kernels = [
        one for one in psutil.process_iter(["cmdline"]) if any(name in part for part in one.info["cmdline"] or [])
    ]
    return max(kernel.memory_info().rss for kernel in kernels) / 1e6


@pytest.fixture(scope="module")
def medians():
    return {}


def test_the_naive_way(open_lesson, lab, results, medians):
    write_notebook(lab[2], "naive", NAIVE)
    page = open_lesson("naive")
    page.wait_for_selector(".benchmark img", timeout=60000)
    start(page, ".benchmark .jp-OutputArea")
    samples = repaints(page, STEPS)
    medians["naive"] = results.note("slider to repaint, a new matplotlib figure in interactive_output", samples)
    drawn, blank, heights = page.evaluate("[seen.drawn, seen.blank, seen.heights.size]")
    results.say(f"The naive panel: blank frames {blank}; changes of height {heights - 1}.")
    assert drawn == 1


def test_the_bench(open_lesson, lab, results, medians):
    write_notebook(lab[2], "bench_alone", "from course.widgets import show_bench", "show_bench(['charge_percent'])")
    page = open_lesson("bench_alone")
    page.wait_for_selector(".workbook-panel svg", timeout=60000)
    start(page, ".workbook-stack")
    samples = repaints(page, STEPS)
    ours = results.note("slider to repaint, the whole bench panel", samples, median_target=70.0)
    share = ours / medians["naive"]
    drawn, blank, heights = page.evaluate("[seen.drawn, seen.blank, seen.heights.size]")
    memory = kernel_megabytes(page)
    results.say(f"The bench takes {share:.2f} of the naive way (asked: under 0.35).")
    results.say(f"Blank frames: {blank}; changes of height: {heights - 1} (asked: none).")
    results.say(f"Kernel with the bench open: {memory:.0f} MB (asked: under 450 MB).")
    assert ours < 70.0
    assert share < 0.35
    assert drawn == 4, "gauges, circuit, cycle, and the still chart under it"
    assert (blank, heights) == (0, 1)
    assert memory < 450.0


def test_a_fast_drag_drops_frames(open_lesson, results):
    page = open_lesson("bench_alone")
    page.wait_for_selector(".workbook-panel svg", timeout=60000)
    start(page, ".workbook-stack")
    page.evaluate("""() => { seen.values = 0; new MutationObserver(() => { seen.values += 1; }).observe(
        document.querySelector('.workbook-panel .noUi-handle'), {attributeFilter: ['aria-valuenow']}); }""")
    handle = page.locator(".workbook-panel .noUi-handle").first.bounding_box()
    track = page.locator(".workbook-panel .noUi-target").first.bounding_box()
    middle = handle["y"] + handle["height"] / 2
    page.mouse.move(handle["x"] + handle["width"] / 2, middle)
    page.mouse.down()
    for step in range(120):
        page.mouse.move(track["x"] + track["width"] * abs(60 - step) / 60, middle)
    page.evaluate("seen.dropped = performance.now()")
    page.mouse.up()
    page.wait_for_function("performance.now() - Math.max(seen.painted, seen.dropped) > 800", timeout=20000)
    late, changes, values, blank = page.evaluate("[seen.painted - seen.dropped, seen.changes, seen.values, seen.blank]")
    box = page.locator(".workbook-panel input[type='number']").first.input_value()
    said = page.locator(".workbook-words").inner_text()
    results.say(
        f"A fast drag over {values} values changed the pictures {changes} times, was painted {late:.0f} ms after "
        f"the last move, with {blank} blank frames."
    )
    assert f"at {box} % charge" in said
    assert values > 20
    assert changes < values
    assert late < 300.0
    assert blank == 0
