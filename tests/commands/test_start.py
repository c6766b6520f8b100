"""Starting the workbook: what is said, on which port, with which settings, and that stopping leaves nothing behind."""

import ast
import json
import os
import signal
import socket
import subprocess
import sys
import threading
from pathlib import Path

import pytest

import course.__main__ as starter
from course.commands import dispatch, environment, server
from course.commands.environment import Refused

ROOT = Path(__file__).resolve().parents[2]


def test_an_old_python_is_refused_in_one_sentence(monkeypatch, capsys):
    monkeypatch.setattr(sys, "version_info", (3, 8, 1))
    assert starter.main([]) == 1
    said = capsys.readouterr().err
    assert said == "The workbook needs Python 3.11 or newer, but this is 3.8; install a newer one and start again.\n"


@pytest.mark.parametrize("name", ["__init__.py", "__main__.py"])
def test_an_old_python_can_read_as_far_as_that_sentence(name):
    ast.parse((ROOT / "course" / name).read_text(encoding="utf-8"), feature_version=(3, 6))


def test_the_starter_runs_without_any_library():
    """-S leaves out site-packages: only the standard library is there."""
    code = "import sys; sys.argv=['course','--help']; import course.__main__ as m; m.main()"
    result = subprocess.run([sys.executable, "-S", "-c", code], cwd=ROOT, capture_output=True, text=True, check=False)
    assert result.returncode == 0, result.stderr
    assert "install-only" in result.stdout


def test_options():
    options = dispatch.build_parser().parse_args(["--no-browser", "--port", "9000", "--install-only"])
    assert (options.no_browser, options.port, options.install_only, options.command) == (True, 9000, True, None)
    options = dispatch.build_parser().parse_args(["freeze", "a lesson.ipynb"])
    assert (options.command, options.notebooks) == ("freeze", ["a lesson.ipynb"])
    options = dispatch.build_parser().parse_args(["study", "--processes", "1"])
    assert (options.command, options.processes) == ("study", 1)


def test_the_study_is_worked_inside_the_environment_and_its_failure_passed_on(monkeypatch):
    asked = []

    def worked(command, **settings):
        asked.append(command)
        return subprocess.CompletedProcess(command, 3)

    monkeypatch.setattr(environment, "ensure", lambda checkout: "its python")
    monkeypatch.setattr(dispatch.subprocess, "run", worked)
    assert dispatch.run(["study", "--processes", "1"]) == 3
    assert dispatch.run(["study"]) == 3
    module = ["its python", "-m", "course.evidence.separating_power"]
    assert asked == [[*module, "--processes", "1"], module]


def test_an_option_that_does_not_exist_is_refused(capsys):
    with pytest.raises(SystemExit) as end:
        dispatch.run(["--prot=9000"])
    assert end.value.code == 2
    assert "--prot" in capsys.readouterr().err


def test_a_refusal_is_one_sentence_and_a_failure(monkeypatch, capsys):
    def refuse(checkout):
        raise Refused("No network.")

    monkeypatch.setattr(environment, "ensure", refuse)
    assert dispatch.run(["--install-only"]) == 1
    assert capsys.readouterr().err == "No network.\n"


def test_install_only_opens_nothing(monkeypatch, capsys):
    monkeypatch.setattr(environment, "ensure", lambda checkout: "python")
    monkeypatch.setattr(server, "open_workbook", lambda *more, **others: pytest.fail("the workbook was opened"))
    assert dispatch.run(["--install-only"]) == 0
    assert "start it with: python3 -m course" in capsys.readouterr().out


def test_stopping_while_it_installs_is_no_success(monkeypatch, capsys):
    def stopped(checkout):
        raise KeyboardInterrupt

    monkeypatch.setattr(environment, "ensure", stopped)
    assert dispatch.run([]) == dispatch.STOPPED_BY_USER
    assert "start again to go on" in capsys.readouterr().err


def test_a_taken_port_is_said_and_the_next_one_taken():
    said = []
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert not server.is_free(port)
        chosen = server.choose_port(port, said.append)
    assert port < chosen < port + server.PORTS_TRIED
    assert said == [f"Port {port} is taken; the workbook uses {chosen} instead."]


@pytest.mark.parametrize("port", [0, -1, 65536])
def test_a_port_that_cannot_be(port):
    with pytest.raises(Refused, match=f"port: {port} was given; allowed are 1 to 65535"):
        server.choose_port(port)


def test_when_every_port_is_taken():
    with pytest.raises(Refused, match="Ports 8899 to 8948 are all taken; give a free one"):
        server.choose_port(8899, free=lambda port: False)
    with pytest.raises(Refused, match="Ports 65530 to 65535"):
        server.choose_port(65530, free=lambda port: False)


def opened(monkeypatch, root, browser):
    """What is said and started when the workbook opens as root or not."""
    said, started = [], []
    monkeypatch.setattr(os, "geteuid", lambda: 0 if root else 1000, raising=False)
    monkeypatch.setattr(server, "trust_notebooks", lambda *more: None)
    monkeypatch.setattr(server, "choose_port", lambda port, say: port)
    code = server.open_workbook(
        "python",
        ROOT,
        8899,
        browser,
        say=lambda words, **more: said.append(words),
        serve=lambda command, place, variables: started.append(command) or 0,
    )
    assert code == 0
    return said, started[0]


def test_root_is_said_and_kept_to_this_machine(monkeypatch):
    said, command = opened(monkeypatch, root=True, browser=False)
    assert said[0] == "You are running as root: the workbook listens on this machine only."
    assert {"--allow-root", "--ip=127.0.0.1", "--no-browser"} <= set(command)


def test_anybody_else_is_told_nothing_of_it(monkeypatch):
    said, command = opened(monkeypatch, root=False, browser=True)
    assert len(said) == 1
    assert "opens in your browser" in said[0]
    assert not {"--allow-root", "--no-browser"} & set(command)


def test_jupyter_keeps_its_own_token():
    line = " ".join(server.command_line("python", ROOT, 8899, True, False)).lower()
    assert "token" not in line
    assert "password" not in line


def test_jupyter_gets_the_workbooks_settings():
    folder = Path(server.jupyter_environment({})["JUPYTER_CONFIG_PATH"])
    start = json.loads((folder / "jupyter_server_config.json").read_text(encoding="utf-8"))["LabApp"]["default_url"]
    assert (ROOT / "notebooks" / start.removeprefix("/lab/tree/")).is_file()
    for name in ("default_setting_overrides.json", "page_config.json"):
        assert json.loads((folder / "labconfig" / name).read_text(encoding="utf-8"))


def test_jupyter_finds_the_workbooks_kernel_and_start_button_before_others():
    mine = os.pathsep.join(["a folder", "another"])
    first, *others = server.jupyter_environment({"JUPYTER_PATH": mine})["JUPYTER_PATH"].split(os.pathsep)
    assert others == ["a folder", "another"]
    assert server.jupyter_environment({})["JUPYTER_PATH"] == first
    extension = Path(first) / "labextensions" / "vehicle-ac-workbook"
    load = json.loads((extension / "package.json").read_text(encoding="utf-8"))["jupyterlab"]["_build"]["load"]
    assert (extension / load).is_file()
    assert "kernel.json" in os.listdir(Path(first) / "kernels" / "python3")


@pytest.fixture
def shelf(tmp_path):
    """A checkout with one notebook, and a stand-in for Python that writes down each call."""
    (tmp_path / "notebooks").mkdir()
    (tmp_path / "notebooks" / "a lesson.ipynb").write_text("{}", encoding="utf-8")
    (tmp_path / environment.FOLDER).mkdir()
    return tmp_path


def test_notebooks_are_trusted_once_and_again_when_they_change(shelf, monkeypatch):
    calls = []
    done = subprocess.CompletedProcess([], 0)
    monkeypatch.setattr(server.subprocess, "run", lambda command, **more: calls.append(command) or done)
    for _ in range(2):
        server.trust_notebooks("python", shelf)
    assert len(calls) == 1
    assert calls[0][-1].endswith("a lesson.ipynb")
    (shelf / "notebooks" / "a lesson.ipynb").write_text("{ }", encoding="utf-8")
    server.trust_notebooks("python", shelf)
    assert len(calls) == 2


def test_the_servers_own_failure_is_passed_on(tmp_path):
    assert server.stay([sys.executable, "-c", "raise SystemExit(3)"], tmp_path, dict(os.environ)) == 3


@pytest.mark.skipif(os.name == "nt", reason="Windows ends a process without asking it")
def test_being_told_to_stop_leaves_no_server_behind(tmp_path):
    mark = tmp_path / "server"
    code = f"import os, time; open({str(mark)!r}, 'w').write(str(os.getpid())); time.sleep(60)"

    def stop_when_it_runs():
        while not mark.exists() or not mark.read_text(encoding="utf-8"):
            pause.wait(0.05)
        os.kill(os.getpid(), signal.SIGTERM)

    pause = threading.Event()
    threading.Thread(target=stop_when_it_runs, daemon=True).start()
    before = signal.getsignal(signal.SIGTERM)
    assert server.stay([sys.executable, "-c", code], tmp_path, dict(os.environ)) == 0
    with pytest.raises(ProcessLookupError):
        os.kill(int(mark.read_text(encoding="utf-8")), 0)
    assert signal.getsignal(signal.SIGTERM) == before
