"""The learner's record: it survives restarts, neighbours, damage, a kill in mid-write and a full disk, and stays at home."""

import csv
import io
import os
import signal
import sqlite3
import subprocess
import sys
import textwrap
import threading
from pathlib import Path
from types import SimpleNamespace

import pytest

from course.lessons.record import Record, record_file

ROOT = Path(__file__).resolve().parents[2]
WRONG = SimpleNamespace(answer="It rises", right=False, misconception="standing_pressure_shows_charge")
RIGHT = SimpleNamespace(answer="It stays", right=True, misconception="")
WRITER = """
from types import SimpleNamespace
from course.lessons.record import Record
answer = SimpleNamespace(answer="x" * 200, right=False, misconception="")
record = Record()
"""


@pytest.fixture
def record():
    return Record()


def python(text, path, **settings):
    """Another process with the same record."""
    variables = dict(os.environ, WORKBOOK_RECORD=str(path), PYTHONPATH=str(ROOT))
    program = WRITER + textwrap.dedent(text)
    return subprocess.Popen(
        [sys.executable, "-c", program], env=variables, stdout=subprocess.PIPE, text=True, **settings
    )


def test_the_environment_says_where_it_lies(monkeypatch, tmp_path):
    assert record_file() == tmp_path / "record.sqlite"
    monkeypatch.delenv("WORKBOOK_RECORD")
    assert record_file().parent.name == "vehicle-ac-workbook"


def test_looking_makes_no_file(record):
    assert (record.answers(), record.stopped(), record.delete()) == ([], None, True)
    assert not record.path.exists()


def test_an_answer_is_kept_whole_and_a_new_kernel_finds_it(record):
    assert record.add("01/a", "predict", WRONG, 2, "certain", 12.34)
    assert record.add("01/a", "predict", RIGHT, {"x": "up"})
    assert record.stop_at("01", "faded")
    first, second = Record(record.path).answers("01/a")
    assert (first.lesson, first.said, first.given, first.is_right) == ("01", "It rises", 2, False)
    assert (first.confidence, first.attempt, first.seconds) == ("certain", 1, 12.3)
    assert first.misconception == "standing_pressure_shows_charge"
    assert (second.attempt, second.given, second.is_right) == (2, {"x": "up"}, True)
    assert Record(record.path).stopped() == ("01", "faded")
    assert Record(record.path).answers("01/b") == []


def test_every_thread_may_write(record):
    writers = [
        threading.Thread(target=lambda: [record.add("01/a", "choice", WRONG, 0) for _ in range(5)]) for _ in range(4)
    ]
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    assert sorted(answer.attempt for answer in record.answers()) == list(range(1, 21))


def test_two_notebooks_write_at_once_from_the_first_moment(record):
    work = 'print(sum(record.add("01/a", "choice", answer, 0) for _ in range(25)), record.problem)'
    pair = [python(work, record.path) for _ in range(2)]
    assert [one.communicate()[0].strip() for one in pair] == ["25", "25"]
    assert sorted(answer.attempt for answer in record.answers()) == list(range(1, 51))


def test_a_kill_in_mid_write_loses_nothing_that_was_kept(record):
    work = 'for number in range(10**6):\n    record.add("01/a", "choice", answer, number) and print(number, flush=True)'
    victim = python(work, record.path)
    for _ in range(10):
        victim.stdout.readline()
    victim.send_signal(signal.SIGKILL)
    told = 10 + len(victim.communicate()[0].split())
    kept = record.answers()
    assert record.problem == ""
    assert told <= len(kept) <= told + 1  # one may have been kept and not yet told
    assert [answer.given for answer in kept] == list(range(len(kept)))
    with sqlite3.connect(record.path) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    connection.close()


@pytest.mark.parametrize("where", ["head", "middle"])
def test_a_damaged_file_is_kept_aside_and_a_fresh_one_begun(record, where):
    for number in range(200):
        record.add(f"01/{number}", "choice", WRONG, number)
    whole = record.path.read_bytes()
    hurt = b"not a record at all" * 200 if where == "head" else whole[:4096] + b"\xff" * (len(whole) - 4096)
    record.path.write_bytes(hurt)
    assert record.add("01/a", "choice", RIGHT, 0)
    assert "could not be read; it is kept as record-damaged-2" in record.problem
    assert record.problem.endswith("The lesson goes on.")
    kept = list(record.path.parent.glob("record-damaged-*.sqlite"))
    assert [one.read_bytes()[:64] for one in kept] == [hurt[:64]]
    assert [answer.question for answer in record.answers()] == ["01/a"]
    assert record.problem == ""


def test_a_newer_layout_is_left_alone(record):
    record.add("01/a", "choice", RIGHT, 0)
    with sqlite3.connect(record.path) as connection:
        connection.execute("PRAGMA user_version=99")
    connection.close()
    assert not record.add("01/a", "choice", RIGHT, 0)
    assert "a newer workbook wrote it" in record.problem
    assert record.answers() == []
    assert record.problem.startswith("Your record (record.sqlite) cannot be read, because a newer workbook wrote it")
    assert list(record.path.parent.glob("record-damaged-*")) == []


def test_a_full_disk_is_a_sentence_and_the_lesson_goes_on(record):
    """The system's limit on a file's size stands in for a full disk: writing beyond it fails in the same place."""
    record.add("01/a", "choice", RIGHT, 0)
    work = """
    import resource, signal
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (60_000, 60_000))
    kept = [record.add("01/b", "choice", answer, number) for number in range(400)]
    print(kept[0], kept[-1], record.problem)
    """
    said = python(work, record.path).communicate()[0]
    assert said.startswith("True False This was not kept in your record (record.sqlite), because")
    assert said.strip().endswith("The lesson goes on without it.")
    assert record.answers()[0].question == "01/a"
    assert record.add("01/c", "choice", RIGHT, 0)


def test_sqlites_word_for_a_full_disk_is_put_plainly(record):
    def full(connection):
        connection.execute("PRAGMA max_page_count=1")
        connection.execute("CREATE TABLE more AS SELECT * FROM answer")

    record.add("01/a", "choice", RIGHT, 0)
    assert record._do(full, "otherwise", write=True) == "otherwise"
    assert record.problem == (
        "This was not kept in your record (record.sqlite), because the disk is full: make room on it. "
        "The lesson goes on without it."
    )


def test_a_folder_that_cannot_be_made_is_a_sentence(tmp_path):
    (tmp_path / "file").write_text("in the way")
    record = Record(tmp_path / "file" / "record.sqlite")
    assert not record.add("01/a", "choice", RIGHT, 0)
    assert record.problem.startswith("This was not kept in your record")


def test_a_busy_file_is_waited_for_and_then_said(record, monkeypatch):
    monkeypatch.setattr("course.lessons.record.WAIT_SECONDS", 0.1)
    record.add("01/a", "choice", RIGHT, 0)
    other = sqlite3.connect(record.path)
    other.execute("BEGIN IMMEDIATE")
    assert not record.add("01/a", "choice", RIGHT, 0)
    assert "another notebook is writing in it: answer again in a moment" in record.problem
    other.close()
    assert record.add("01/a", "choice", RIGHT, 0)


def test_it_is_exported_as_a_table_and_deleted_whole(record):
    record.add("01/a", "numeric", SimpleNamespace(answer="=1+1", right=True, misconception=""), "=1+1")
    record.add("01/b", "directions", WRONG, {"vent": "up"}, "a guess")
    rows = list(csv.DictReader(io.StringIO(record.as_csv())))
    assert [row["question"] for row in rows] == ["01/a", "01/b"]
    assert rows[0]["said"] == "'=1+1"  # no spreadsheet may take an answer for a formula
    assert rows[1]["confidence"] == "a guess"
    (record.path.parent / "record-damaged-2030-01-01.sqlite").write_bytes(b"old")
    assert record.delete()
    assert record.answers() == []
    assert record.stopped() is None
    assert b"It rises" not in record.path.read_bytes()
    assert list(record.path.parent.glob("record-damaged-*")) == []
