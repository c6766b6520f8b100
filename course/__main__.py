"""The one command: open the workbook, check the checkout, freeze notebooks. Written so that an old Python can say no."""

import sys

OLDEST_PYTHON = (3, 11)


def main(arguments=None):
    """Run `python -m course ...` and return the exit code."""
    if sys.version_info[:2] < OLDEST_PYTHON:
        sys.stderr.write(
            "The workbook needs Python %d.%d or newer, but this is %d.%d; install a newer one and start again.\n"
            % (OLDEST_PYTHON + tuple(sys.version_info[:2]))
        )
        return 1
    from course.commands.dispatch import run

    return run(sys.argv[1:] if arguments is None else arguments)


if __name__ == "__main__":
    sys.exit(main())
