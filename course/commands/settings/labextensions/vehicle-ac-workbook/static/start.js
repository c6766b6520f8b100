// What JupyterLab has no setting for: a start button that waits for its kernel, and a first page that runs when it opens.
// A module that JupyterLab loads must be found under this name and answer init and get.
(window._JUPYTERLAB ??= {})["vehicle-ac-workbook"] = { init() {}, get: async () => () => plugin };

const FIRST_PAGE = "the_workbook.ipynb";
const START_BUTTON = "button[data-commandlinker-args*='workbook:wait-for-kernel']";
const SETTLED = [undefined, "idle", "dead"]; // without a kernel, or with a dead one, JupyterLab says so itself
const LOOK_EVERY_MS = 100;
const LOOKS_IN_A_ROW = 4;

// Panels of a cell that is run before its kernel answers, or while JupyterLab still asks it for old panels, are lost.
async function kernelSettled(context) {
  await context.ready;
  for (let looks = 0; looks < LOOKS_IN_A_ROW; ) {
    await new Promise(done => setTimeout(done, LOOK_EVERY_MS));
    looks = SETTLED.includes(context.session?.kernel?.status) ? looks + 1 : 0;
  }
}

async function waitForKernel(page) {
  const button = page.node.querySelector(START_BUTTON);
  if (!button) return kernelSettled(page.sessionContext);
  const focused = button === document.activeElement;
  const words = button.textContent;
  button.disabled = true;
  button.textContent = "Loading …";
  await kernelSettled(page.sessionContext);
  button.disabled = false;
  button.textContent = words;
  if (focused) button.focus();
}

const plugin = {
  id: "vehicle-ac-workbook:start",
  autoStart: true,
  activate({ commands, restored, shell }) {
    commands.addCommand("workbook:wait-for-kernel", {
      label: "Wait for the kernel of the page in front",
      isEnabled: () => Boolean(shell.currentWidget?.sessionContext),
      execute: () => waitForKernel(shell.currentWidget),
    });
    const runOnce = async () => {
      const page = shell.currentWidget;
      if (page?.context?.path !== FIRST_PAGE) return;
      shell.currentChanged.disconnect(runOnce);
      await page.revealed;
      await kernelSettled(page.sessionContext);
      if (shell.currentWidget === page) page.node.querySelector(START_BUTTON)?.click();
    };
    shell.currentChanged.connect(runOnce);
    restored.then(runOnce);
  },
};
