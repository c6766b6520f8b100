"""The door to the test-only libraries, with a library that nobody has."""

import socket
import urllib.error
import urllib.request

import pytest

from tests.outside.libraries import library

NOBODY_HAS = "a_library_that_nobody_has"


@pytest.mark.parametrize("value", [None, "", "false"])
def test_a_missing_library_is_skipped_by_name_at_home(monkeypatch, value):
    monkeypatch.delenv("CI", raising=False) if value is None else monkeypatch.setenv("CI", value)
    with pytest.raises(pytest.skip.Exception, match=f"{NOBODY_HAS} is not installed"):
        library(NOBODY_HAS)
    with pytest.raises(pytest.skip.Exception, match=f"{NOBODY_HAS}.part is not installed"):
        library(f"{NOBODY_HAS}.part")


@pytest.mark.parametrize("value", ["true", "True"])
def test_a_missing_library_fails_in_ci(monkeypatch, value):
    monkeypatch.setenv("CI", value)
    with pytest.raises(pytest.fail.Exception, match=f"{NOBODY_HAS} is not installed.*no outside check may be left out"):
        library(NOBODY_HAS)


def test_a_broken_library_is_not_taken_for_a_missing_one(monkeypatch, tmp_path):
    monkeypatch.delenv("CI", raising=False)
    (tmp_path / "broken_library.py").write_text(f"import {NOBODY_HAS}\n", encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    with pytest.raises(ModuleNotFoundError, match=NOBODY_HAS):
        library("broken_library")


def test_a_library_that_is_there_is_given():
    assert library("socket") is socket


def test_the_network_is_closed_here():
    with pytest.raises(urllib.error.URLError, match="reached for the network"):
        urllib.request.urlopen("http://127.0.0.1:9/", timeout=1)
