"""A lesson's page in a real browser: when it is at rest, and whether it can be read and fits."""

DESK, PHONE = (1366, 768), (360, 740)

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
# all cells have run, all panels are there, and the kernel waits
AT_REST = """() => {
  const panel = window.jupyterapp.shell.currentWidget;
  const cells = panel.content.widgets.filter(cell => cell.model.type === 'code');
  const idle = panel.sessionContext.session?.kernel?.status === 'idle';
  return idle && cells.length > 0 && cells.every(cell => cell.node.querySelector('.jupyter-widgets'))
    && Boolean(document.querySelector('.workbook-panel svg'));
}"""
# nothing has changed its height for a while
STILL = """() => new Promise(still => {
  let last = '', since = performance.now();
  const look = () => {
    const now = [...document.querySelectorAll('.jp-Notebook *')].map(one => one.clientHeight).join();
    if (now !== last) [last, since] = [now, performance.now()];
    performance.now() - since > 300 ? still() : setTimeout(look, 50);
  };
  look();
})"""


def shown_after(page):
    """The page once all its cells have run."""
    page.wait_for_function(AT_REST, timeout=60000)
    page.evaluate(STILL)
    return page


def sized(page, size):
    """The page at another size, once everything on it has followed."""
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.evaluate(STILL)
    return page


def readable_and_within(page):
    """No letter too small to read and nothing sticking out to the right."""
    least, text = page.evaluate(SMALLEST)
    assert least >= 11.95, text
    assert page.evaluate(STICKING_OUT) == [0, []]
