"""The checks: which run, how they are counted, and that nothing left out or missing counts as passed."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from course.commands import check, environment

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def run_with(monkeypatch):
    """Run the checks with other steps, browser and CI; gives the exit code and what was said."""

    def run(steps, browser="chromium", ci=""):
        said = []
        monkeypatch.setenv("CI", ci)
        monkeypatch.setattr(environment, "ensure", lambda place, extras: sys.executable)
        monkeypatch.setattr(check, "find_browser", lambda: browser)
        monkeypatch.setattr(check, "steps", lambda python, place, reports, found: steps(Path(reports)))
        return check.run(ROOT, say=lambda words, **more: said.append(words)), said

    return run


def ends_with(code):
    return [sys.executable, "-c", f"raise SystemExit({code})"]


def writes(report, words, code=0):
    return [sys.executable, "-c", f"open({str(report)!r}, 'w').write({words!r}); raise SystemExit({code})"]


def suite(**counts):
    keys = " ".join(f'{key}="{number}"' for key, number in counts.items())
    return f"<testsuites><testsuite {keys}/></testsuites>"


def test_tests_are_counted(tmp_path):
    report = tmp_path / "report.xml"
    report.write_text(suite(tests=5, failures=1, errors=1, skipped=1), encoding="utf-8")
    assert check.count(report) == (2, 2, 1)


@pytest.mark.parametrize("words", [None, "", "<testsuites>"])
def test_a_report_that_is_not_there_is_a_failure(tmp_path, words):
    report = tmp_path / "report.xml"
    if words is not None:
        report.write_text(words, encoding="utf-8")
    assert check.count(report) == (0, 1, 0)


def test_every_kind_of_check_is_run(tmp_path):
    plan = check.steps("python", ROOT, tmp_path, browser="chromium")
    assert [name for name, _, _ in plan] == [
        "ruff: mistakes",
        "ruff: layout",
        "tests and doctests",
        "notebooks",
        "browser tests",
    ]
    books = {book.name for book in (ROOT / "notebooks").glob("*.ipynb")}
    assert {Path(str(part)).name for part in plan[3][1] if str(part).endswith(".ipynb")} == books
    assert "--nbval" in plan[3][1]
    assert [name for name, _, _ in check.steps("python", ROOT, tmp_path, browser=None)][-1] == "notebooks"


def test_all_is_well(run_with):
    def steps(place):
        report = place / "a.xml"
        counts = suite(tests=4, failures=0, errors=0, skipped=1)
        return [("ruff", ends_with(0), None), ("tests", writes(report, counts), report)]

    code, said = run_with(steps)
    assert code == 0
    assert said[-1] == "3 passed, 0 failed, 1 skipped"
    assert [words.split(" after")[0] for words in said if words.startswith("--- ")] == [
        "--- ruff ...",
        "--- ruff: ok",
        "--- tests ...",
        "--- tests: ok",
    ]


def test_a_failed_step_fails_the_whole(run_with):
    code, said = run_with(lambda place: [("ruff", ends_with(1), None), ("layout", ends_with(0), None)])
    assert code == 1
    assert said[-1] == "0 passed, 1 failed, 0 skipped"
    assert any(words.startswith("--- ruff: failed after") for words in said)


def test_a_step_that_dies_after_passing_tests_is_a_failure(run_with):
    report = suite(tests=4, failures=0, errors=0, skipped=0)
    code, said = run_with(lambda place: [("tests", writes(place / "a.xml", report, 3), place / "a.xml")])
    assert (code, said[-1]) == (1, "4 passed, 1 failed, 0 skipped")


def test_a_step_without_its_report_is_a_failure(run_with):
    code, said = run_with(lambda place: [("tests", ends_with(0), place / "a.xml")])
    assert (code, said[-1]) == (1, "0 passed, 1 failed, 0 skipped")


def test_a_step_that_hangs_is_stopped(monkeypatch):
    said = []
    monkeypatch.setattr(check, "LONGEST_STEP_SECONDS", 0.2)
    slow = [sys.executable, "-c", "import time; time.sleep(30)"]
    code = check.run_step("tests", slow, ROOT, dict(os.environ), lambda words, **more: said.append(words))
    assert code == 1
    assert any("tests was stopped" in words for words in said)


def test_a_missing_browser_fails_in_ci_and_is_said_elsewhere(run_with):
    code, said = run_with(lambda place: [], browser=None, ci="true")
    assert code == 1
    assert "may not be left out: install the package chromium" in said[0]
    code, said = run_with(lambda place: [], browser=None, ci="")
    assert code == 0
    assert "are left out; install the package chromium" in said[0]


def test_the_bare_machine_runs_exactly_this_command():
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert script.rstrip().splitlines()[-1] == "python3 -m course check"
    assert "CI=true" in script
    assert subprocess.run(["bash", "-n", ROOT / ".ci" / "run"], check=False).returncode == 0
