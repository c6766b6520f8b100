"""One JupyterLab and one Chromium for everything that needs a real browser; nothing starts until a test asks."""

import os
import secrets
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

from course import tables
from course.commands.check import find_browser
from course.commands.server import command_line, jupyter_environment

NOTEBOOKS = Path(__file__).resolve().parents[1] / "notebooks"
FLAGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run"]

KERNEL_AT_REST = """() => window.jupyterapp?.shell.currentWidget?.sessionContext?.session?.kernel?.status === 'idle'"""


@pytest.fixture(autouse=True)
def own_record(monkeypatch, tmp_path):
    """No test writes into the record of whoever runs it."""
    monkeypatch.setenv("WORKBOOK_RECORD", str(tmp_path / "record.sqlite"))


@pytest.fixture
def write_lesson(monkeypatch, tmp_path):
    """Write a lesson into a folder that stands in for data/; the cars and faults in it are the real ones."""
    data = tmp_path / "data"
    (data / "lessons").mkdir(parents=True)
    for name in ("misconceptions.toml", "tolerances.toml", "faults.toml", "course.toml"):
        shutil.copy(tables.DATA / name, data / name)
    shutil.copytree(tables.DATA / "systems", data / "systems")
    monkeypatch.setattr(tables, "DATA", data)

    def write(text, name="90_test"):
        (data / "lessons" / f"{name}.toml").write_text(text, encoding="utf-8")
        return name

    return write


@pytest.fixture(scope="session")
def chromium():
    """A running Chromium; without one the tests are skipped, but never in CI."""
    path = os.environ.get("WORKBOOK_BROWSER") or find_browser()
    if not path:
        if os.environ.get("CI", "").lower() == "true":
            pytest.fail("No Chromium was found, and in CI the browser tests may not be left out.")
        pytest.skip("No Chromium was found; install the package chromium to run the browser tests.")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture(scope="session")
def lab(tmp_path_factory):
    """A JupyterLab on copies of the notebooks, started as the workbook starts it; gives its address, token and folder."""
    home = tmp_path_factory.mktemp("lab")
    shutil.copytree(NOTEBOOKS, home / "notebooks")
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    token = secrets.token_hex(16)
    variables = jupyter_environment() | {
        "JUPYTER_DATA_DIR": str(home / "data"),
        "JUPYTER_RUNTIME_DIR": str(home / "runtime"),
        "JUPYTERLAB_SETTINGS_DIR": str(home / "settings"),
        "JUPYTERLAB_WORKSPACES_DIR": str(home / "workspaces"),
        "WORKBOOK_PREFERENCES": str(home / "preferences.json"),
        "WORKBOOK_RECORD": str(home / "record.sqlite"),
    }
    books = sorted((home / "notebooks").glob("*.ipynb"))
    subprocess.run([sys.executable, "-m", "jupyter", "trust", *books], env=variables, check=True, capture_output=True)
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    command = command_line(sys.executable, home, port, browser=False, root=root)
    command += [f"--IdentityProvider.token={token}", "--LabApp.expose_app_in_browser=True"]
    with open(home / "log", "w", encoding="utf-8") as log:
        server = subprocess.Popen(command, env=variables, stdout=log, stderr=log)
        address = f"http://127.0.0.1:{port}"
        for _ in range(120):
            try:
                urllib.request.urlopen(f"{address}/api?token={token}", timeout=2).close()
                break
            except OSError:
                time.sleep(0.5)
        else:
            server.kill()
            pytest.fail(
                "JupyterLab did not answer within a minute: " + (home / "log").read_text(encoding="utf-8")[-500:]
            )
        yield address, token, home / "notebooks"
        server.terminate()
        server.wait(20)


def open_page(chromium, lab, name, width=1366, height=768):
    """A page of the browser with a lesson on it and its kernel at rest."""
    page = chromium.new_page(viewport={"width": width, "height": height})
    address, token, _ = lab
    page.goto(f"{address}/doc/tree/{name}.ipynb?token={token}&reset")
    page.wait_for_selector(".jp-Notebook .jp-Cell", timeout=60000)
    page.wait_for_function(KERNEL_AT_REST, timeout=60000)
    return page


@pytest.fixture
def open_lesson(chromium, lab):
    """Open a lesson and run it, as its first button does; gives the page."""
    pages = []

    def opened(name, width=1366, height=768):
        page = open_page(chromium, lab, name, width, height)
        pages.append(page)
        page.evaluate("window.jupyterapp.commands.execute('notebook:run-all-cells')")
        return page

    yield opened
    for page in pages:
        page.close()
