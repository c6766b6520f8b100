"""What the list of pages and the index are made of."""

from pydantic import Field

from course.data_shapes import Entry, Quantity, Sentence


class PageTable(Entry):
    """One page of the workbook: what it is called, how long it takes, what one can do afterwards."""

    title: Sentence
    part: Sentence
    length_minutes: Quantity | None = None  # None: a page to look things up on
    afterwards: Sentence


class CourseTable(Entry):
    """The file data/course.toml."""

    fast_track: list[str] = Field(min_length=1)
    page: dict[str, PageTable] = Field(min_length=1)


class IndexEntryTable(Entry):
    """One entry of the index and the pages it points to, the first one first."""

    says: Sentence
    pages: list[str] = Field(min_length=1)


class IndexTable(Entry):
    """The file data/index.toml."""

    symptom: list[IndexEntryTable] = Field(min_length=1)
    task: list[IndexEntryTable] = Field(min_length=1)
    component: list[IndexEntryTable] = Field(min_length=1)
