"""The workbook's own environment: each reason not to make it, and what is kept or made again."""

import json
import subprocess
import sys

import pytest

from course.commands import environment
from course.commands.environment import Refused

OFFLINE = (
    "WARNING: Retrying after connection broken by 'NewConnectionError'\nERROR: No matching distribution found for numpy"
)


@pytest.fixture
def checkout(tmp_path):
    place = tmp_path / "a place with spaces"
    place.mkdir()
    (place / "pyproject.toml").write_text("[project]", encoding="utf-8")
    return place


class Installer:
    """Stands for the processes that make an environment; fails as told and remembers what it was asked."""

    def __init__(self, words="", fails_at=None):
        self.words, self.fails_at, self.commands = words, fails_at, []

    def __call__(self, command, place, say):
        self.commands.append(command)
        kind = "venv" if "venv" in command else "pip"
        if kind == self.fails_at:
            return subprocess.CompletedProcess(command, 1, self.words, "")
        if kind == "venv":
            python = environment.python_in(place / environment.FOLDER)
            python.parent.mkdir(parents=True)
            python.touch()
        return subprocess.CompletedProcess(command, 0, "", "")


def ensure(checkout, installer=None, extras=()):
    """Make or find the environment; gives its Python and what was said."""
    said = []
    run = installer or Installer()
    return environment.ensure(checkout, extras, lambda words, **more: said.append(words), run), said


def stamp(checkout):
    return json.loads((checkout / environment.FOLDER / environment.STAMP).read_text(encoding="utf-8"))


def test_the_first_start_installs_and_the_second_does_not(checkout):
    first, second = Installer(), Installer()
    python, said = ensure(checkout, first)
    assert python == environment.python_in(checkout / environment.FOLDER)
    assert said == ["Installing the workbook into its own environment; this happens once and takes about a minute ..."]
    assert ["venv" in command for command in first.commands] == [True, False]
    assert first.commands[1][-2:] == ["--editable", "."]
    assert ensure(checkout, second) == (python, [])
    assert second.commands == []


def test_a_missing_venv_module_names_the_debian_package():
    with pytest.raises(Refused, match=r"apt install python3-venv \(or python3\.\d+-venv\)"):
        environment.check_venv(find=lambda name: None if name == "ensurepip" else "found")


def test_no_network_at_the_first_start(checkout):
    with pytest.raises(Refused, match="no network was reached; connect to one and start again") as refusal:
        ensure(checkout, Installer(OFFLINE, "pip"))
    assert "\n" not in str(refusal.value)
    assert not environment.is_ready(checkout / environment.FOLDER, environment.wanted(checkout, ()))


def test_a_library_that_does_not_exist_for_this_machine_is_not_called_a_missing_network(checkout):
    words = "ERROR: No matching distribution found for numpy\nnote: more about pip"
    with pytest.raises(Refused, match=r"could not be installed \(ERROR: No matching distribution found for numpy\)"):
        ensure(checkout, Installer(words, "pip"))


def test_a_disk_that_cannot_be_written_to(checkout):
    with pytest.raises(Refused, match=r"could not make an environment in .* \(Error: No space left on device\)"):
        ensure(checkout, Installer("Error: No space left on device", "venv"))
    assert not (checkout / environment.FOLDER).exists()


def test_a_half_made_environment_is_made_again(checkout):
    left_over = checkout / environment.FOLDER / "left over"
    left_over.mkdir(parents=True)
    _, said = ensure(checkout)
    assert "half made" in said[0]
    assert not left_over.exists()


def test_an_interrupted_install_is_made_again(checkout):
    with pytest.raises(Refused):
        ensure(checkout, Installer("killed", "pip"))
    _, said = ensure(checkout)
    assert "half made" in said[0]


@pytest.mark.parametrize("damage", ["", "[]", '"words"', "{"])
def test_a_spoilt_stamp_counts_as_half_made(checkout, damage):
    ensure(checkout)
    (checkout / environment.FOLDER / environment.STAMP).write_text(damage, encoding="utf-8")
    _, said = ensure(checkout)
    assert "half made" in said[0]


def test_an_environment_without_its_python_is_made_again(checkout):
    python, _ = ensure(checkout)
    python.unlink()
    _, said = ensure(checkout)
    assert "making it again" in said[0]
    assert python.exists()


def test_another_python_or_a_moved_folder_makes_it_again(checkout, monkeypatch):
    ensure(checkout)
    monkeypatch.setattr(sys, "version_info", (3, 99, 0))
    _, said = ensure(checkout)
    assert "another Python" in said[0]
    moved = checkout.rename(checkout.with_name("moved"))
    _, said = ensure(moved)
    assert "folder" in said[0]


def test_a_changed_list_of_libraries_only_adds_and_keeps_what_works_when_that_fails(checkout):
    ensure(checkout, extras=("test",))
    (checkout / "pyproject.toml").write_text("[project] # changed", encoding="utf-8")
    with pytest.raises(Refused, match="no network"):
        ensure(checkout, Installer(OFFLINE, "pip"))
    later = Installer()
    _, said = ensure(checkout, later)
    assert said == ["Adding what the workbook's environment does not have yet ..."]
    assert [command[-1] for command in later.commands] == [".[test]"]


def test_the_checks_tools_are_added_and_then_stay(checkout):
    ensure(checkout)
    _, said = ensure(checkout, extras=("test",))
    assert said == ["Adding what the workbook's environment does not have yet ..."]
    assert stamp(checkout)["extras"] == ["test"]
    quiet = Installer()
    assert ensure(checkout, quiet)[1] == []
    assert quiet.commands == []


def test_a_folder_that_is_not_the_workbook(tmp_path):
    with pytest.raises(Refused, match="no pyproject.toml in .*start it from its folder"):
        ensure(tmp_path)


def test_python_by_the_path_rules_of_each_system():
    assert environment.python_in("place", windows=True).as_posix() == "place/Scripts/python.exe"
    assert environment.python_in("place", windows=False).as_posix() == "place/bin/python"


def test_a_long_installation_says_that_it_goes_on(tmp_path):
    said = []
    slow = [sys.executable, "-c", "import time; print('done'); time.sleep(1.2)"]
    done = environment.run_patiently(slow, tmp_path, lambda words, **more: said.append(words), quiet=0.5)
    assert (done.returncode, done.stdout.strip()) == (0, "done")
    assert said
    assert all(words.startswith("... still installing after") for words in said)
