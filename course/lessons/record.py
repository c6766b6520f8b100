"""The learner's own record: answers, confidence and where one stopped, in one file that never leaves the machine."""

import csv
import io
import json
import os
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from platformdirs import user_data_path

LAYOUT = 1  # of the file; a later workbook raises it
WAIT_SECONDS = 3.0  # for another notebook that is just writing
NOT_KEPT = "This was not kept in your record ({file}), because {reason}. The lesson goes on without it."
NOT_READ = "Your record ({file}) cannot be read, because {reason}. The lesson goes on without it."
DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)
MAKE = """
CREATE TABLE IF NOT EXISTS answer (
  number INTEGER PRIMARY KEY, at TEXT NOT NULL, lesson TEXT NOT NULL, question TEXT NOT NULL, kind TEXT NOT NULL,
  said TEXT NOT NULL, given TEXT NOT NULL, is_right INTEGER NOT NULL, confidence TEXT NOT NULL,
  attempt INTEGER NOT NULL, seconds REAL NOT NULL, misconception TEXT NOT NULL);
CREATE INDEX IF NOT EXISTS answer_question ON answer (question);
CREATE TABLE IF NOT EXISTS stopped (lesson TEXT PRIMARY KEY, section TEXT NOT NULL, at TEXT NOT NULL);
"""
COLUMNS = (
    "at", "lesson", "question", "kind", "said", "given", "is_right", "confidence", "attempt", "seconds", "misconception",
)  # fmt: skip


@dataclass(frozen=True)
class Answered:
    """One answer as it stands in the record."""

    at: str  # ISO 8601, UTC
    lesson: str
    question: str  # lesson/question
    kind: str
    said: str  # in words
    given: object  # as the panel gave it to mark
    is_right: bool
    confidence: str  # empty where it was not asked
    attempt: int  # 1 is the first try
    seconds: float  # s, from shown to answered
    misconception: str  # its id; empty where none was hit

    @property
    def day(self):
        """The learner's own calendar day."""
        return datetime.fromisoformat(self.at).astimezone().date()


def record_file():
    """Where the record is kept; tests and shared machines point it elsewhere.

    Returns
    -------
    Path
        The file, which need not exist yet.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The user's data folder, or what the environment variable WORKBOOK_RECORD names.

    Examples
    --------
    >>> record_file().suffix
    '.sqlite'
    """
    if os.environ.get("WORKBOOK_RECORD"):
        return Path(os.environ["WORKBOOK_RECORD"])
    return user_data_path("vehicle-ac-workbook", appauthor=False) / "record.sqlite"


class Record:
    """The record's file; every call opens it for itself, so that any thread and any notebook may call.

    What goes wrong is said in `problem`, a sentence, and never stops a lesson.
    """

    def __init__(self, path=None):
        self.path = Path(path or record_file())
        self.problem = ""

    def _connect(self):
        connection = sqlite3.connect(self.path, timeout=WAIT_SECONDS)
        layout = connection.execute("PRAGMA user_version").fetchone()[0]
        if layout > LAYOUT:
            connection.close()
            raise sqlite3.OperationalError(f"a newer workbook wrote it (layout {layout}, this one knows {LAYOUT})")
        connection.execute("PRAGMA synchronous=NORMAL")
        if layout < LAYOUT:
            # readers and a writer in two notebooks then do not wait for one another; a disk that cannot, does without
            connection.execute("PRAGMA journal_mode=WAL")
            connection.executescript(f"BEGIN IMMEDIATE;{MAKE}PRAGMA user_version={LAYOUT};COMMIT;")
        return connection

    def _do(self, work, otherwise, write=False, said=NOT_KEPT):
        """Work on the file in one transaction; a damaged file is kept aside and a fresh one begun."""
        self.problem = ""
        for last in (False, True):
            if not write and not self.path.exists():
                return otherwise
            seen = None
            try:
                self.path.parent.mkdir(parents=True, exist_ok=True)
                seen = self.path.stat().st_ino if self.path.exists() else None
                with closing(self._connect()) as connection, connection:
                    return work(connection)
            except sqlite3.DatabaseError as trouble:
                code = getattr(trouble, "sqlite_errorcode", 0) or 0
                if last or code & 0xFF not in DAMAGED or not self._keep_aside(seen):
                    self.problem = self.problem or _sentence(trouble, self.path, said)
                    return otherwise
            except OSError as trouble:
                self.problem = _sentence(trouble, self.path, said)
                return otherwise
        return otherwise

    def _keep_aside(self, seen):
        """Give a damaged file a dated name; returns whether there is room for a fresh one now."""
        stamp = datetime.now().strftime("%Y-%m-%d-%H%M%S")
        kept = self.path.with_name(f"{self.path.stem}-damaged-{stamp}{self.path.suffix}")
        try:
            if self.path.stat().st_ino == seen:  # else another notebook has just done it
                self.path.rename(kept)
                for ending in ("-wal", "-shm"):
                    beside = self.path.with_name(self.path.name + ending)
                    if beside.exists():
                        beside.rename(kept.with_name(kept.name + ending))
                self.problem = f"Your record could not be read; it is kept as {kept.name}, and a fresh one is begun. The lesson goes on."
        except FileNotFoundError:
            return True
        except OSError as trouble:
            self.problem = _sentence(trouble, self.path)
            return False
        return True

    def add(self, question, kind, marked, given, confidence="", seconds=0.0):
        """Keep one answer; returns whether it was kept."""
        lesson = question.partition("/")[0]

        def work(connection):
            done = connection.execute("SELECT COUNT(*) FROM answer WHERE question = ?", (question,)).fetchone()[0]
            values = (
                datetime.now(UTC).isoformat(timespec="seconds"), lesson, question, kind, marked.answer, json.dumps(given),
                int(marked.right), confidence, done + 1, round(seconds, 1), marked.misconception,
            )  # fmt: skip
            marks = ", ".join("?" * len(COLUMNS))
            connection.execute(f"INSERT INTO answer ({', '.join(COLUMNS)}) VALUES ({marks})", values)
            return True

        def at_once(connection):
            connection.execute("BEGIN IMMEDIATE")  # so that two notebooks do not count the same attempt
            return work(connection)

        return self._do(at_once, False, write=True)

    def stop_at(self, lesson, section):
        """Keep where the learner is; returns whether it was kept."""
        at = datetime.now(UTC).isoformat(timespec="seconds")

        def work(connection):
            connection.execute("INSERT OR REPLACE INTO stopped VALUES (?, ?, ?)", (lesson, section, at))
            return True

        return self._do(work, False, write=True)

    def stopped(self):
        """Where the learner was last: lesson and section, or None."""
        ask = "SELECT lesson, section FROM stopped ORDER BY at DESC, rowid DESC LIMIT 1"
        return self._do(lambda connection: connection.execute(ask).fetchone(), None, said=NOT_READ)

    def answers(self, question=None):
        """Everything answered, or all answers to one question, oldest first."""
        only, names = ("WHERE question = ?", (question,)) if question else ("", ())
        ask = f"SELECT {', '.join(COLUMNS)} FROM answer {only} ORDER BY number"
        rows = self._do(lambda connection: connection.execute(ask, names).fetchall(), [], said=NOT_READ)
        return [_answered(row) for row in rows]

    def as_csv(self):
        """Everything answered, as a table for a spreadsheet."""
        page = io.StringIO()
        table = csv.writer(page, lineterminator="\n")
        table.writerow(COLUMNS)
        table.writerows([_safe(getattr(answer, column)) for column in COLUMNS] for answer in self.answers())
        return page.getvalue()

    def delete(self):
        """Delete every answer; returns whether nothing is left."""

        def work(connection):
            connection.execute("DELETE FROM answer")
            connection.execute("DELETE FROM stopped")
            return True

        gone = self._do(work, not self.path.exists())
        if gone and self.path.exists():
            self._do(lambda connection: connection.commit() or connection.execute("VACUUM"), None)
        try:
            for kept in self.path.parent.glob(f"{self.path.stem}-damaged-*"):
                kept.unlink()
        except OSError as trouble:
            self.problem = _sentence(trouble, self.path)
            return False
        return gone


def _answered(row):
    values = dict(zip(COLUMNS, row, strict=True))
    return Answered(**values | {"given": json.loads(values["given"]), "is_right": bool(values["is_right"])})


def _safe(value):
    """A cell of the table; a text that a spreadsheet would take for a formula is marked as text."""
    if not isinstance(value, (str, int, float)):
        value = json.dumps(value, ensure_ascii=False)
    return f"'{value}" if isinstance(value, str) and value[:1] in ("=", "+", "-", "@", "\t") else value


def _sentence(trouble, path, said=NOT_KEPT):
    reason = {
        sqlite3.SQLITE_FULL: "the disk is full: make room on it",
        sqlite3.SQLITE_BUSY: "another notebook is writing in it: answer again in a moment",
        sqlite3.SQLITE_READONLY: "the file may not be written to: ask whoever looks after this machine",
    }.get((getattr(trouble, "sqlite_errorcode", 0) or 0) & 0xFF, f"{trouble}")
    return said.format(file=path.name, reason=reason)
