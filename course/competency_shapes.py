"""What the competency map is made of: lists that ask for something, what they ask, and the lessons that serve it."""

import datetime
from typing import Literal

from pydantic import Field

from course.data_shapes import Entry, Sentence

KNOWN = r"^(read|second-hand|from memory|common practice|assumed): .{4,}"


class TaskListTable(Entry):
    """A public list of tasks, a standard or a law: which edition, and how much of it was seen."""

    short: Sentence
    name: Sentence
    edition: Sentence
    known: str = Field(pattern=KNOWN)


class AskedForTable(Entry):
    """Where a list asks for a competency, and how well that entry is known."""

    list: str
    entry: Sentence
    mark: Literal["read", "second-hand", "from memory", "common practice", "assumed"]


class ServedTable(Entry):
    """How a lesson serves a competency: words it is taught under, panels and questions to try, questions of its check."""

    lesson: str
    taught: list[Sentence] = []
    practised: list[Sentence] = []
    checked: list[Sentence] = []


class CompetencyTable(Entry):
    """Something a technician has to be able to do."""

    says: Sentence
    asked_by: list[AskedForTable] = Field(min_length=1)
    served_by: list[ServedTable] = []
    missing: str = ""


class CompetenciesTable(Entry):
    """The file data/competencies.toml."""

    as_of: datetime.date
    list: dict[str, TaskListTable]
    competency: dict[str, CompetencyTable]
