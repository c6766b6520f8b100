"""Everything that must be true of the checkout, with visible progress. Standard library only."""

import os
import shutil
import subprocess
import tempfile
import time
import xml.etree.ElementTree as ElementTree
from pathlib import Path

from course.commands import environment

BROWSERS = ("chromium", "chromium-browser", "google-chrome")


def find_browser(which=shutil.which):
    """The Chromium to drive, or None."""
    return next((path for path in map(which, BROWSERS) if path), None)


def steps(python, checkout, reports, browser):
    """The checks in order: name, command, report file or None."""
    notebooks = sorted(str(book) for book in (Path(checkout) / "notebooks").glob("*.ipynb"))

    def pytest(name, *more):
        report = Path(reports) / f"{name}.xml"
        return [python, "-m", "pytest", f"--junitxml={report}", *more], report

    tests, tests_report = pytest("tests", "-n", "2", "--dist", "loadfile", "-m", "not browser")
    books, books_report = pytest(
        "notebooks",
        "--nbval",
        "--nbval-sanitize-with",
        "tests/notebooks/sanitize.cfg",
        "-n",
        "2",
        "--dist",
        "loadfile",
        "--override-ini=addopts=-q",
        "-W",
        "default",
        *notebooks,
    )
    plan = [
        ("ruff: mistakes", [python, "-m", "ruff", "check", "."], None),
        ("ruff: layout", [python, "-m", "ruff", "format", "--check", "."], None),
        ("tests and doctests", tests, tests_report),
        ("notebooks", books, books_report),
    ]
    if browser:
        driven, driven_report = pytest("browser", "-m", "browser", "tests/browser")
        plan.append(("browser tests", driven, driven_report))
    return plan


def count(report):
    """Passed, failed and skipped tests in a report; nothing read counts as one failure."""
    try:
        suites = ElementTree.parse(report).getroot().iter("testsuite")
        totals = [[int(suite.get(key, 0)) for key in ("tests", "failures", "errors", "skipped")] for suite in suites]
    except (OSError, ElementTree.ParseError):
        return 0, 1, 0
    tests, failures, errors, skipped = (sum(column) for column in zip(*totals, strict=True))
    return tests - failures - errors - skipped, failures + errors, skipped


def run(checkout, say=print):
    """Run every check and return 0 when all hold."""
    python = environment.ensure(checkout, extras=("test",))
    in_ci = os.environ.get("CI", "").lower() == "true"
    browser = find_browser()
    started, passed, failed, skipped = time.monotonic(), 0, 0, 0
    if browser is None:
        if in_ci:
            say("No Chromium was found, and in CI the browser tests may not be left out: install the package chromium.")
            failed += 1
        else:
            say("No Chromium was found, so the browser tests are left out; install the package chromium to run them.")
    with tempfile.TemporaryDirectory() as reports:
        for name, command, report in steps(python, checkout, reports, browser):
            began = time.monotonic()
            say(f"--- {name} ...", flush=True)
            variables = dict(
                os.environ, WORKBOOK_BROWSER=browser or "", WORKBOOK_PREFERENCES=str(Path(reports) / "preferences.json")
            )
            code = subprocess.run([str(part) for part in command], cwd=checkout, env=variables, check=False).returncode
            good, bad, left_out = count(report) if report else (0, 0, 0)
            passed, skipped = passed + good, skipped + left_out
            failed += max(bad, 1 if code else 0)
            say(f"--- {name}: {'failed' if code else 'ok'} after {time.monotonic() - began:.0f} s", flush=True)
    say(f"All checks took {time.monotonic() - started:.0f} s.")
    say(f"{passed} passed, {failed} failed, {skipped} skipped")
    return 1 if failed else 0
