"""The starter's sentences: each reason not to start, and each on which it goes on."""

import json
import os
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

import course.__main__ as starter
from course.commands import check, dispatch, environment, server
from course.commands.environment import Refused

ROOT = Path(__file__).resolve().parents[2]


def done(code=0, stderr=""):
    return SimpleNamespace(returncode=code, stdout="", stderr=stderr)


@pytest.fixture
def checkout(tmp_path):
    place = tmp_path / "a place with spaces"
    place.mkdir()
    (place / "pyproject.toml").write_text("[project]", encoding="utf-8")
    return place


def fake_install(place, fail=None, calls=None):
    """A subprocess.run that makes a bare environment, and fails where asked."""

    def run(command, **more):
        if calls is not None:
            calls.append(command)
        if "venv" in command:
            python = environment.python_in(place / environment.FOLDER)
            python.parent.mkdir(parents=True)
            python.touch()
            return done()
        return fail or done()

    return run


def test_an_old_python_is_refused_in_one_sentence(monkeypatch, capsys):
    monkeypatch.setattr(sys, "version_info", (3, 8, 1))
    assert starter.main([]) == 1
    said = capsys.readouterr().err
    assert "needs Python 3.11 or newer, but this is 3.8" in said
    assert said.count("\n") == 1


def test_a_missing_venv_module_names_the_debian_package():
    with pytest.raises(Refused, match=r"apt install python3-venv"):
        environment.check_venv(find=lambda name: None)


def test_no_network_at_the_first_start(checkout):
    failure = done(1, "ERROR: NewConnectionError: [Errno -3] Temporary failure in name resolution")
    with pytest.raises(Refused, match="needs a network"):
        environment.ensure(checkout, say=lambda words: None, run=fake_install(checkout, failure))


def test_another_failure_gives_its_last_line(checkout):
    failure = done(1, "first\nERROR: disk quota exceeded\n")
    with pytest.raises(Refused, match="disk quota exceeded; mend that"):
        environment.ensure(checkout, say=lambda words: None, run=fake_install(checkout, failure))


def test_a_half_made_environment_is_made_again(checkout):
    said, calls = [], []
    left_over = checkout / environment.FOLDER / "left over"
    left_over.mkdir(parents=True)
    environment.ensure(checkout, say=said.append, run=fake_install(checkout, calls=calls))
    assert "half made" in said[0]
    assert not left_over.exists()
    assert len(calls) == 2
    environment.ensure(checkout, say=said.append, run=fake_install(checkout, calls=calls))
    assert len(calls) == 2  # the second start installs nothing


def test_an_interrupted_install_leaves_no_stamp(checkout):
    with pytest.raises(Refused):
        environment.ensure(checkout, say=lambda words: None, run=fake_install(checkout, done(1, "killed")))
    assert not environment.is_ready(checkout / environment.FOLDER, environment.wanted(checkout, ()))


def test_more_extras_than_asked_for_will_do(checkout):
    environment.ensure(checkout, extras=("test",), say=lambda words: None, run=fake_install(checkout))
    assert environment.is_ready(checkout / environment.FOLDER, environment.wanted(checkout, ()))
    stamp = json.loads((checkout / environment.FOLDER / environment.STAMP).read_text(encoding="utf-8"))
    assert stamp["extras"] == ["test"]


def test_python_by_the_path_rules_of_each_system():
    assert environment.python_in("place", windows=True).as_posix() == "place/Scripts/python.exe"
    assert environment.python_in("place", windows=False).as_posix() == "place/bin/python"


def test_a_taken_port_is_said_and_the_next_one_taken():
    said = []
    assert server.choose_port(8899, said.append, free=lambda port: port > 8900) == 8901
    assert said == ["Port 8899 is taken; the workbook uses 8901 instead."]


def test_a_port_that_cannot_be():
    with pytest.raises(Refused, match="port: 99999 was given; allowed are 1 to 65535"):
        server.choose_port(99999)
    with pytest.raises(Refused, match="all taken"):
        server.choose_port(8899, free=lambda port: False)


def test_root_is_said_and_kept_to_this_machine(monkeypatch, checkout):
    said, commands = [], []
    monkeypatch.setattr(os, "geteuid", lambda: 0, raising=False)
    monkeypatch.setattr(environment, "call", lambda command, place, **more: commands.append(command) or 0)
    assert server.open_workbook("python", checkout, 8899, browser=False, say=said.append) == 0
    assert "running as root" in said[0]
    assert "--allow-root" in commands[-1]
    assert "--ip=127.0.0.1" in commands[-1]
    assert "--no-browser" in commands[-1]


def test_jupyter_gets_the_workbooks_settings_and_keeps_its_own_token():
    assert Path(server.jupyter_environment({})["JUPYTER_CONFIG_PATH"]).is_dir()
    line = " ".join(server.command_line("python", ROOT, 8899, True, False))
    assert "token" not in line
    assert "password" not in line


def test_options():
    options = dispatch.build_parser().parse_args(["--no-browser", "--port", "9000", "--install-only"])
    assert (options.no_browser, options.port, options.install_only, options.command) == (True, 9000, True, None)


def test_the_starter_runs_without_any_library():
    """-S leaves out site-packages: only the standard library is there."""
    code = "import sys; sys.argv=['course','--help']; import course.__main__ as m; m.main()"
    result = subprocess.run([sys.executable, "-S", "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert result.returncode == 0, result.stderr
    assert "install-only" in result.stdout


def test_check_counts_tests_and_counts_a_missing_report_as_a_failure(tmp_path):
    report = tmp_path / "report.xml"
    report.write_text(
        '<testsuites><testsuite tests="5" failures="1" errors="1" skipped="1"/></testsuites>', encoding="utf-8"
    )
    assert check.count(report) == (2, 2, 1)
    assert check.count(tmp_path / "none.xml") == (0, 1, 0)


def test_check_runs_every_kind_of_check(tmp_path):
    names = [name for name, _, _ in check.steps("python", ROOT, tmp_path, browser="chromium")]
    assert names == ["ruff: mistakes", "ruff: layout", "tests and doctests", "notebooks", "browser tests"]


def test_a_missing_browser_fails_in_ci_and_is_said_elsewhere(monkeypatch):
    monkeypatch.setattr(environment, "ensure", lambda place, extras: "python")
    monkeypatch.setattr(check, "find_browser", lambda: None)
    monkeypatch.setattr(check, "steps", lambda *more: [])
    said = []
    monkeypatch.setenv("CI", "true")
    assert check.run(ROOT, say=lambda words, **more: said.append(words)) == 1
    assert any("may not be left out" in words for words in said)
    monkeypatch.setenv("CI", "")
    said.clear()
    assert check.run(ROOT, say=lambda words, **more: said.append(words)) == 0
    assert any("are left out" in words for words in said)
