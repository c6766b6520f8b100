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
LONGEST_STEP_SECONDS = 1800  # a step that hangs is a failed step; a slow or busy machine is not a hanging one


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
    # other options than the tests have: doctests off, and a notebook's cells stay together on one worker
    own = ["--override-ini=addopts=-q", "-W", "default", "-n", "2", "--dist", "loadfile"]
    strict = ["--nbval", "--nbval-sanitize-with", "tests/notebooks/sanitize.cfg", "--nbval-cell-timeout", "120"]
    books, books_report = pytest("notebooks", *own, *strict, *notebooks)
    plan = [
        ("ruff: mistakes", [python, "-m", "ruff", "check", "."], None),
        ("ruff: layout", [python, "-m", "ruff", "format", "--check", "."], None),
        ("tests and doctests", tests, tests_report),
        ("notebooks", books, books_report),
    ]
    if browser:
        driven, driven_report = pytest("browser", "-n", "2", "--dist", "loadfile", "-m", "browser", "tests/browser")
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


def no_browser(in_ci, say):
    """Say that the browser tests cannot run; returns 1 where that is a failure."""
    if in_ci:
        say("No Chromium was found, and in CI the browser tests may not be left out: install the package chromium.")
        return 1
    say("No Chromium was found, so the browser tests are left out; install the package chromium to run them.")
    return 0


def run_step(name, command, checkout, variables, say):
    """Run one check with its output in sight; returns its exit code."""
    began = time.monotonic()
    say(f"--- {name} ...", flush=True)
    try:
        code = subprocess.run(
            [str(part) for part in command], cwd=checkout, env=variables, check=False, timeout=LONGEST_STEP_SECONDS
        ).returncode
    except subprocess.TimeoutExpired:
        say(f"{name} was stopped: it had not ended after {LONGEST_STEP_SECONDS // 60} minutes.")
        code = 1
    say(f"--- {name}: {'failed' if code else 'ok'} after {time.monotonic() - began:.0f} s", flush=True)
    return code


def run(checkout, say=print):
    """Run every check and return 0 when all hold."""
    python = environment.ensure(checkout, extras=("test",))
    browser = find_browser()
    started, passed, failed, skipped = time.monotonic(), 0, 0, 0
    if browser is None:
        failed += no_browser(os.environ.get("CI", "").lower() == "true", say)
    with tempfile.TemporaryDirectory() as reports:
        # the checks see the workbook as it is shipped: neither the units its owner chose nor what a learner answered
        variables = dict(
            os.environ,
            WORKBOOK_BROWSER=browser or "",
            WORKBOOK_PREFERENCES=str(Path(reports) / "preferences.json"),
            WORKBOOK_RECORD=str(Path(reports) / "record.sqlite"),
        )
        for name, command, report in steps(python, checkout, reports, browser):
            code = run_step(name, command, checkout, variables, say)
            good, bad, left_out = count(report) if report else (0, 0, 0)
            passed, skipped = passed + good, skipped + left_out
            failed += max(bad, 1 if code else 0)
    say(f"All checks took {time.monotonic() - started:.0f} s.")
    say(f"{passed} passed, {failed} failed, {skipped} skipped", flush=True)
    return 1 if failed else 0
