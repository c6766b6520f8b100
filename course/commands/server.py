"""Starting JupyterLab on the list of lessons. Standard library only."""

import hashlib
import os
import socket
from pathlib import Path

from course.commands import environment
from course.commands.environment import Refused

SETTINGS = Path(__file__).resolve().parent / "settings"
PORTS_TRIED = 50


def is_free(port):
    """Whether a port on this machine can be taken."""
    with socket.socket(socket.AF_INET, socket.SOCK_STREAM) as probe:
        if os.name != "nt":
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind(("127.0.0.1", port))
        except OSError:
            return False
    return True


def choose_port(first, say=print, free=is_free):
    """The port asked for, or the next free one, saying so."""
    if not 1 <= first <= 65535:
        raise Refused(f"port: {first} was given; allowed are 1 to 65535: leave --port out to take the usual one.")
    for port in range(first, min(first + PORTS_TRIED, 65536)):
        if free(port):
            if port != first:
                say(f"Port {first} is taken; the workbook uses {port} instead.")
            return port
    raise Refused(f"Ports {first} to {first + PORTS_TRIED - 1} are all taken; give a free one with --port.")


def jupyter_environment(base=None):
    """The process environment that gives JupyterLab the workbook's settings and nobody else's."""
    variables = dict(os.environ if base is None else base)
    variables["JUPYTER_CONFIG_PATH"] = str(SETTINGS)
    variables["JUPYTER_PREFER_ENV_PATH"] = "1"
    return variables


def command_line(python, checkout, port, browser, root):
    """How JupyterLab is started: on this machine only, with its own token."""
    command = [str(python), "-m", "jupyterlab", "--ip=127.0.0.1", f"--port={port}", "--ServerApp.port_retries=0"]
    command.append(f"--ServerApp.root_dir={Path(checkout) / 'notebooks'}")
    if not browser:
        command.append("--no-browser")
    if root:
        command.append("--allow-root")
    return command


def trust_notebooks(python, checkout):
    """Sign the shipped notebooks once, so that none asks before it shows its panels."""
    notebooks = sorted((Path(checkout) / "notebooks").glob("*.ipynb"))
    mark = Path(checkout) / environment.FOLDER / "trusted"
    content = hashlib.sha256(b"".join(book.read_bytes() for book in notebooks)).hexdigest()
    if not notebooks or (mark.exists() and mark.read_text(encoding="utf-8") == content):
        return
    code = environment.call(
        [python, "-m", "jupyter", "trust", *notebooks], checkout, env=jupyter_environment(), stdout=-3, stderr=-3
    )
    if code == 0:
        mark.write_text(content, encoding="utf-8")


def open_workbook(python, checkout, port, browser, say=print):
    """Start JupyterLab and stay until it ends; returns its exit code."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    if root:
        say("You are running as root: the workbook listens on this machine only.")
    chosen = choose_port(port, say)
    trust_notebooks(python, checkout)
    command = command_line(python, checkout, chosen, browser, root)
    say(f"The workbook opens at http://127.0.0.1:{chosen}/lab (stop it with Ctrl-C).")
    return environment.call(command, checkout, env=jupyter_environment())
