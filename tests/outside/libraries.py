"""The door to every library that is installed for the tests alone."""

import importlib
import os

import pytest


def library(name):
    """The library of that name; without it the test is skipped by name, but in CI it fails: nothing may be left out there."""
    try:
        return importlib.import_module(name)
    except ModuleNotFoundError as missing:
        if missing.name is None or missing.name.partition(".")[0] != name.partition(".")[0]:
            raise  # the library is there, and something it needs is not: that is a fault, not a gap
    reason = f"{name} is not installed; it comes with the workbook's extra [test]"
    if os.environ.get("CI", "").lower() == "true":
        pytest.fail(f"{reason}, and in CI no outside check may be left out.")
    pytest.skip(reason)
