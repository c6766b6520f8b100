"""The workbook's own environment: made once inside the checkout, made again when half made. Standard library only."""

import hashlib
import importlib.util
import json
import os
import shutil
import subprocess
import sys
import time
from pathlib import Path

FOLDER = ".environment"
STAMP = "workbook.json"
QUIET_SECONDS = 15  # after which a waiting user is told that the installation goes on

# what pip says when it reached nobody; "No matching distribution" alone can also mean an unsupported machine
NO_NETWORK = (
    "NewConnectionError",
    "ConnectTimeoutError",
    "ReadTimeoutError",
    "ProxyError",
    "NameResolutionError",
    "Name or service not known",
    "Connection refused",
    "Network is unreachable",
)


class Refused(Exception):
    """A reason the workbook cannot start, as one sentence."""


def python_in(folder, windows=None):
    """The Python of an environment, by the path rules of the system."""
    windows = os.name == "nt" if windows is None else windows
    return Path(folder) / ("Scripts/python.exe" if windows else "bin/python")


def wanted(checkout, extras):
    """What an environment must have been made from to be the right one."""
    try:
        project = (Path(checkout) / "pyproject.toml").read_bytes()
    except OSError as problem:
        raise Refused(
            f"There is no pyproject.toml in {checkout}, so this is not the workbook's own folder; fetch the workbook "
            "whole and start it from its folder."
        ) from problem
    return {
        "project": hashlib.sha256(project).hexdigest(),
        "python": list(sys.version_info[:2]),
        "extras": sorted(extras),
        "checkout": str(checkout),
    }


def read_stamp(folder):
    """What a finished environment was made from; empty when it was never finished."""
    try:
        made = json.loads((Path(folder) / STAMP).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return made if isinstance(made, dict) and python_in(folder).exists() else {}


def is_ready(folder, needed):
    """Whether an environment was finished, and from this checkout with at least these extras."""
    made = read_stamp(folder)
    same = all(made.get(key) == needed[key] for key in ("project", "python", "checkout"))
    return same and set(needed["extras"]) <= set(made.get("extras", []))


def check_venv(find=importlib.util.find_spec):
    """Refuse when Python came without the module that makes environments."""
    if find("venv") is None or find("ensurepip") is None:
        version = f"{sys.version_info[0]}.{sys.version_info[1]}"
        raise Refused(
            "Python's venv module is missing, so the workbook cannot make its environment; on Debian or Ubuntu install "
            f"it with: apt install python3-venv (or python{version}-venv)."
        )


def run_patiently(command, checkout, say=print, quiet=QUIET_SECONDS):
    """Run a command without its chatter, saying now and then that it goes on; returns the finished process."""
    began = time.monotonic()
    with subprocess.Popen(
        command, cwd=checkout, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    ) as process:
        while True:
            try:
                words, _ = process.communicate(timeout=quiet)
                return subprocess.CompletedProcess(command, process.returncode, words, "")
            except subprocess.TimeoutExpired:
                say(f"... still installing after {time.monotonic() - began:.0f} s", flush=True)


def ensure(checkout, extras=(), say=print, run=run_patiently):
    """The Python of a finished environment, which is made first where there is none.

    The stamp is written last, so an environment that was interrupted half way has none and is made again.
    """
    folder = Path(checkout) / FOLDER
    needed = wanted(checkout, extras)
    if is_ready(folder, needed):
        return python_in(folder)
    made = read_stamp(folder)
    if made and all(made.get(key) == needed[key] for key in ("python", "checkout")):
        needed["extras"] = sorted({*needed["extras"], *made.get("extras", [])})
        say("Adding what the workbook's environment does not have yet ...", flush=True)
    else:
        _make(folder, checkout, say, run)
    _install(folder, checkout, needed["extras"], say, run)
    (folder / STAMP).write_text(json.dumps(needed), encoding="utf-8")
    return python_in(folder)


def _make(folder, checkout, say, run):
    check_venv()
    if folder.exists():
        say("The workbook's environment is half made, or made for another Python or folder: making it again.")
        try:
            shutil.rmtree(folder)
        except OSError as problem:
            raise Refused(
                f"The half-made environment {folder} cannot be removed ({problem.strerror}); close whatever uses it, "
                "delete the folder and start again."
            ) from problem
    say("Installing the workbook into its own environment; this happens once and takes about a minute ...", flush=True)
    made = run([sys.executable, "-m", "venv", str(folder)], checkout, say)
    if made.returncode:
        shutil.rmtree(folder, ignore_errors=True)
        raise Refused(
            f"Python could not make an environment in {folder} ({_last_line(made)}); make room or ask for the right to "
            "write there, and start again."
        )


def _install(folder, checkout, extras, say, run):
    target = ".[" + ",".join(extras) + "]" if extras else "."
    command = [str(python_in(folder)), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    done = run([*command, "--retries", "2", "--editable", target], checkout, say)
    if done.returncode == 0:
        return
    if any(sign in done.stdout for sign in NO_NETWORK):
        raise Refused(
            "The workbook has to fetch its libraries, and no network was reached; connect to one and start again "
            "(once they are installed none is needed)."
        )
    raise Refused(f"The workbook could not be installed ({_last_line(done)}); mend that and start again.")


def _last_line(result):
    lines = [line.strip() for line in result.stdout.splitlines() if line.strip()]
    errors = [line for line in lines if line.upper().startswith("ERROR")]
    return (errors or lines or ["no reason given"])[-1]
