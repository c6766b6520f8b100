"""Starting JupyterLab on the list of lessons. Standard library only."""

import hashlib
import os
import signal
import socket
import subprocess
from pathlib import Path

from course.commands import environment
from course.commands.environment import Refused

SETTINGS = Path(__file__).resolve().parent / "settings"
PORTS_TRIED = 50
SECONDS_TO_CLOSE = 15


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
    last = min(first + PORTS_TRIED - 1, 65535)
    for port in range(first, last + 1):
        if free(port):
            if port != first:
                say(f"Port {first} is taken; the workbook uses {port} instead.")
            return port
    raise Refused(f"Ports {first} to {last} are all taken; give a free one with --port.")


def jupyter_environment(base=None):
    """The process environment in which JupyterLab reads the workbook's settings before any others."""
    variables = dict(os.environ if base is None else base)
    variables["JUPYTER_CONFIG_PATH"] = str(SETTINGS)
    # its kernel loads the workbook while the page is read, and its start button waits for the kernel
    variables["JUPYTER_PATH"] = os.pathsep.join(filter(None, [str(SETTINGS), variables.get("JUPYTER_PATH")]))
    variables["JUPYTER_PREFER_ENV_PATH"] = "1"
    return variables


def command_line(python, checkout, port, browser, root):
    """How JupyterLab is started: on this machine only, with its own token, without its log."""
    command = [str(python), "-m", "jupyterlab", "--ip=127.0.0.1", f"--port={port}", "--ServerApp.port_retries=0"]
    command += [f"--ServerApp.root_dir={Path(checkout) / 'notebooks'}", "--log-level=WARN", "-y"]
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
    command = [str(python), "-m", "jupyter", "trust", *map(str, notebooks)]
    done = subprocess.run(command, cwd=checkout, env=jupyter_environment(), capture_output=True, check=False)
    if done.returncode == 0:
        mark.write_text(content, encoding="utf-8")


def stay(command, checkout, variables):
    """Run the server until it ends or is told to stop, and leave nothing of it running; returns an exit code."""

    def told_to_stop(number, frame):
        raise KeyboardInterrupt

    before = signal.signal(signal.SIGTERM, told_to_stop)
    server = subprocess.Popen(command, cwd=checkout, env=variables)
    try:
        return server.wait()
    except KeyboardInterrupt:
        server.terminate()
        try:
            server.wait(SECONDS_TO_CLOSE)
        except subprocess.TimeoutExpired:
            server.kill()
            server.wait()
        return 0
    finally:
        signal.signal(signal.SIGTERM, before)


def open_workbook(python, checkout, port, browser, say=print, serve=stay):
    """Start JupyterLab and stay until it ends; returns its exit code."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    if root:
        say("You are running as root: the workbook listens on this machine only.")
    chosen = choose_port(port, say)
    trust_notebooks(python, checkout)
    where = "opens in your browser; without one, open" if browser else "is ready when its address appears; open"
    say(f"The workbook {where} the address below. Stop it with Ctrl-C.", flush=True)
    code = serve(command_line(python, checkout, chosen, browser, root), checkout, jupyter_environment())
    if code:
        say(f"JupyterLab ended with code {code}; its last lines above say why.")
    return code
