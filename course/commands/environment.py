"""The workbook's own environment: made once inside the checkout, made again when half made. Standard library only."""

import hashlib
import importlib.util
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

FOLDER = ".environment"
STAMP = "workbook.json"


class Refused(Exception):
    """A reason the workbook cannot start, as one sentence."""


def python_in(folder, windows=None):
    """The Python of an environment, by the path rules of the system."""
    windows = os.name == "nt" if windows is None else windows
    return Path(folder) / ("Scripts/python.exe" if windows else "bin/python")


def wanted(checkout, extras):
    """What an environment must have been made from to be the right one."""
    project = (Path(checkout) / "pyproject.toml").read_bytes()
    return {
        "project": hashlib.sha256(project).hexdigest(),
        "python": list(sys.version_info[:3]),
        "extras": sorted(extras),
        "checkout": str(checkout),
    }


def is_ready(folder, needed):
    """Whether an environment was finished, and from this checkout with at least these extras."""
    try:
        made = json.loads((Path(folder) / STAMP).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return False
    same = all(made.get(key) == needed[key] for key in ("project", "python", "checkout"))
    return same and set(needed["extras"]) <= set(made.get("extras", [])) and python_in(folder).exists()


def check_venv(find=importlib.util.find_spec):
    """Refuse when Python came without the module that makes environments."""
    if find("venv") is None or find("ensurepip") is None:
        version = f"{sys.version_info[0]}.{sys.version_info[1]}"
        raise Refused(
            "Python's venv module is missing, so the workbook cannot make its environment; on Debian or Ubuntu install "
            f"it with: apt install python3-venv (or python{version}-venv)."
        )


def call(command, checkout, **more):
    """Run a command in the checkout and return its exit code."""
    return subprocess.run([str(part) for part in command], cwd=checkout, check=False, **more).returncode


def ensure(checkout, extras=(), say=print, run=subprocess.run):
    """The Python of a finished environment, which is made first where there is none.

    A stamp is written last, so an environment that was interrupted half way has none and is made again.
    """
    folder = Path(checkout) / FOLDER
    needed = wanted(checkout, extras)
    if is_ready(folder, needed):
        return python_in(folder)
    check_venv()
    if folder.exists():
        say("The workbook's environment is half made or out of date: making it again.")
        shutil.rmtree(folder)
    say("Installing the workbook into its own environment; this happens once and takes about a minute ...")
    made = run([sys.executable, "-m", "venv", str(folder)], cwd=checkout, capture_output=True, text=True, check=False)
    if made.returncode:
        shutil.rmtree(folder, ignore_errors=True)
        raise Refused(
            f"Python could not make an environment in {folder}: {_last_line(made)}; is the disk full or locked?"
        )
    target = ".[" + ",".join(extras) + "]" if extras else "."
    command = [str(python_in(folder)), "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-e", target]
    done = run(command, cwd=checkout, capture_output=True, text=True, check=False)
    if done.returncode:
        raise Refused(_install_sentence(done))
    (folder / STAMP).write_text(json.dumps(needed), encoding="utf-8")
    return python_in(folder)


def _last_line(result):
    lines = [line.strip() for line in (result.stderr or result.stdout or "").splitlines() if line.strip()]
    return lines[-1] if lines else "no reason given"


def _install_sentence(result):
    words = (result.stderr or "") + (result.stdout or "")
    signs = (
        "NewConnectionError",
        "Name or service not known",
        "name resolution",
        "Connection refused",
        "No matching distribution",
    )
    if any(sign in words for sign in signs) or "Network is unreachable" in words:
        return (
            "The first start needs a network to install the workbook, and none was reached; connect and start again "
            "(afterwards no network is needed)."
        )
    return f"The workbook could not be installed: {_last_line(result)}; mend that and start again."
