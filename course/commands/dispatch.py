"""Which command was asked for, and its options. Standard library only."""

import argparse
import subprocess
import sys
from pathlib import Path

from course.commands import check, environment, server
from course.commands.environment import Refused

CHECKOUT = Path(__file__).resolve().parents[2]
STOPPED_BY_USER = 130  # the exit code shells give a command that Ctrl-C ended


def build_parser():
    """The command line and its help."""
    parser = argparse.ArgumentParser(
        prog="python3 -m course", description="Open the vehicle A/C diagnosis workbook, or check it."
    )
    parser.add_argument("--no-browser", action="store_true", help="start the server but open no browser")
    parser.add_argument("--port", type=int, default=8899, help="first port to try (default: 8899)")
    parser.add_argument("--install-only", action="store_true", help="make the environment and stop")
    commands = parser.add_subparsers(dest="command")
    commands.add_parser("check", help="run every check of the checkout")
    freeze = commands.add_parser("freeze", help="run notebooks and store them as they are shipped")
    freeze.add_argument("notebooks", nargs="*", help="notebook files; none: all of them")
    export = commands.add_parser("export", help="write lessons, answer keys and worksheets as pages to print")
    export.add_argument("lessons", nargs="*", help="names or numbers of lessons; none: all of them")
    export.add_argument("--to", default="printed", help="the folder to write into (default: printed)")
    export.add_argument("--units", default=None, help="psi_f, kpa_c or bar_c (default: those last chosen in a panel)")
    study = commands.add_parser("study", help="work out anew what separates what (some minutes)")
    study.add_argument("--processes", type=int, default=None, help="how many at once (default: one a core)")
    return parser


def run(arguments):
    """Do what the command line asks for and return the exit code."""
    options = build_parser().parse_args(arguments)
    try:
        if options.command == "check":
            return check.run(CHECKOUT)
        python = environment.ensure(CHECKOUT)
        if options.command == "freeze":
            names = [str(Path(name).resolve()) for name in options.notebooks]
            command = [str(python), "-m", "course.commands.freeze", *names]
            return subprocess.run(command, cwd=CHECKOUT, check=False).returncode
        if options.command == "export":
            command = [str(python), "-m", "course.commands.export", f"--to={Path(options.to).resolve()}"]
            command += [f"--units={options.units}"] if options.units else []
            return subprocess.run([*command, "--", *options.lessons], cwd=CHECKOUT, check=False).returncode
        if options.command == "study":
            command = [str(python), "-m", "course.evidence.separating_power"]
            command += ["--processes", str(options.processes)] if options.processes else []
            return subprocess.run(command, cwd=CHECKOUT, check=False).returncode
        if options.install_only:
            print("The workbook is installed; start it with: python3 -m course")
            return 0
        return server.open_workbook(python, CHECKOUT, port=options.port, browser=not options.no_browser)
    except Refused as refusal:
        print(refusal, file=sys.stderr)
        return 1
    except KeyboardInterrupt:
        print("Stopped before it was done; start again to go on.", file=sys.stderr)
        return STOPPED_BY_USER
