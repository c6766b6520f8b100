"""The only module that opens data/: it checks every entry and names file and key in every complaint."""

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from course.competency_shapes import CompetenciesTable
from course.data_shapes import (
    QUESTION_KINDS,
    BaseRatesTable,
    CautionsTable,
    GlossaryTable,
    LeakHistoriesTable,
    LessonTable,
    MisconceptionsTable,
    NumberTable,
    Quantity,
    RunTable,
    SeparatingPowerTable,
    SystemTable,
    TolerancesTable,
)
from course.data_shapes import Entry as _Entry
from course.errors import BadDataFile, check_choice
from course.evidence_shapes import DirectionsTable, PrintedReadingsTable
from course.page_shapes import CourseTable, IndexTable

DATA = Path(__file__).resolve().parent.parent / "data"
EXAMPLE = "example/question_file"  # a question file that belongs to no lesson, for instructors to try things on
EXPLANATIONS = ("why", "high", "low")  # keys of a question that tell a learner why an answer is wrong
NO_EXPLANATION = "every answer needs its own explanation, in words a learner can use"


class FaultTable(_Entry):
    """One fault: its name in the shop, what severity 0 to 1 means, and its largest effect."""

    name: str
    meaning: str
    at_full_share: Quantity


class FaultsTable(BaseModel):
    """The file data/faults.toml."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)
    fault: dict[str, FaultTable]


class LeakKindTable(_Entry):
    """When a leak is open."""

    name: str
    weight_factor: Quantity


class LeakSizeTable(_Entry):
    """One class of leak sizes, at standing pressure and 25 °C."""

    rate_g_per_year: Quantity
    weight_factor: Quantity


class ElsewhereTable(_Entry):
    """What stands for every place nobody listed."""

    weight_factor: Quantity


class LeakPlaceTable(_Entry):
    """One place where refrigerant gets out."""

    id: str
    name: str
    side: Literal["low", "high", "either"]
    access: Literal["open", "under_bonnet", "hidden", "inside_case", "under_car"]
    oil_wetted: bool
    kinds: list[Literal["steady", "hot", "running"]] = Field(min_length=1)
    weight_factor: Quantity
    looked_at: str


class LeakHuntTable(_Entry):
    """The file data/service/leak_hunt.toml."""

    work: dict[str, Quantity]
    shop: dict[str, Quantity]
    chance: dict[str, Quantity]
    marks: dict[str, Quantity]


class LeakPlacesTable(_Entry):
    """The file data/service/leak_places.toml."""

    kind: dict[Literal["steady", "hot", "running"], LeakKindTable]
    size: dict[str, LeakSizeTable]
    elsewhere: ElsewhereTable
    place: dict[str, LeakPlaceTable]

    @model_validator(mode="before")
    @classmethod
    def _each_place_knows_its_id(cls, content):
        places = content.get("place", {})
        return {**content, "place": {key: {**place, "id": key} for key, place in places.items()}}


class NumbersTable(_Entry):
    """A file of plain numbers by part: a pump, a hose, an oil, a limit."""

    part: dict[str, dict[str, Quantity]]
    file: str = ""  # its name, for complaints

    def value(self, part, key):
        """One number in the unit of its key; a part or key that is not in the file is said in a sentence."""
        check_choice(f"part of {self.file}", part, self.part)
        if key not in self.part[part]:
            raise BadDataFile(f"{self.file}: part.{part}.{key} is missing; add it, with value and source.")
        return float(self.part[part][key].value)


class LeakMethodTable(_Entry):
    """One way of looking for leaks."""

    name: str
    locates: bool
    blind_spots: list[str] = Field(min_length=1)
    care: list[str] = Field(min_length=1)
    terms: dict[str, Quantity] = {}


class LeakMethodsTable(_Entry):
    """The file data/service/leak_methods.toml."""

    method: dict[str, LeakMethodTable]
    circuit: dict[str, Quantity]
    access: dict[Literal["open", "under_bonnet", "hidden", "inside_case", "under_car"], dict[str, Quantity]]


class DyeTable(_Entry):
    """The file data/service/dye.toml."""

    dose: dict[str, Quantity]
    visible: dict[str, Quantity]
    words: dict[Literal["false_glows", "cleaning", "overdose", "care"], list[str]]


class LeakFigureTable(_Entry):
    """One published figure for a whole car's leak."""

    name: str
    sort: Literal["ceiling", "threshold", "typical"]
    rate_g_per_year: Quantity


class LeakLimitsTable(_Entry):
    """The file data/service/leak_limits.toml."""

    figure: dict[str, LeakFigureTable]
    us_high_leak: dict[str, Quantity]
    weighing: dict[str, Quantity]
    giving_up: dict[str, Quantity]


def _read(path, model):
    return _checked(path.name, model, _content(path))


def _content(path):
    try:
        return _parsed(path.name, path.read_text(encoding="utf-8"))
    except UnicodeDecodeError as problem:
        raise BadDataFile(f"{path.name}: this is not readable text ({problem}); save it as UTF-8.") from None


@lru_cache(maxsize=64)  # a page asks for the files of its lessons again and again; what is given is never changed
def _parsed(name, text):
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        raise BadDataFile(f"{name}: this is not readable TOML ({problem}); mend that line.") from None


def _checked(name, model, content, where=()):
    try:
        return model.model_validate(content)
    except ValidationError as problem:
        raise BadDataFile(_sentence(name, problem, where)) from None


def _sentence(name, problem, where=()):
    first = problem.errors()[0]
    loc = [str(part) for part in (*where, *first["loc"]) if part not in ("orifice_tube", "expansion_valve")]
    key = ".".join(loc)
    others = f" ({len(problem.errors()) - 1} more after it)" if len(problem.errors()) > 1 else ""
    said = where[0] == "question" and set(loc[2:]) & set(EXPLANATIONS) if where else False
    if first["type"] == "missing" and where:
        strays = [error["loc"] for error in problem.errors() if error["type"] == "extra_forbidden"]
        stray = next(
            (f", or mend {loc[-1]}, which is no key known here" for loc in strays if loc[:-1] == first["loc"][:-1]), ""
        )
        return f"{name}: {key} is missing; {NO_EXPLANATION if said else 'add it'}{stray}{others}."
    if first["type"] == "missing":
        return f"{name}: {key} is missing; add it, with value and source{others}."
    if first["type"] == "extra_forbidden":
        return f"{name}: {key} is not a key known here; look for a misspelling or take it out{others}."
    if first["type"] == "string_too_short":
        return f"{name}: {key} is empty; {NO_EXPLANATION if said else 'write it'}{others}."
    if first["type"] == "value_error":
        return f"{name}: {key}: {first['ctx']['error']}; mend that entry{others}."
    given = first.get("input")
    return f"{name}: {key} is {given!r}, but {first['msg'][0].lower()}{first['msg'][1:]}; mend that entry{others}."


def system_ids():
    """The cars there are: one file each in data/systems.

    Returns
    -------
    tuple of str
        Ids in alphabetical order.
    """
    return tuple(sorted(path.stem for path in (DATA / "systems").glob("*.toml")))


@lru_cache(maxsize=64)
def read_system(system_id):
    """The checked content of one car's file.

    Parameters
    ----------
    system_id : str
        The file's name without its ending.

    Returns
    -------
    SystemTable
        Values in the units of their keys, each with its source.

    Raises
    ------
    UnknownChoice
        When there is no such car.
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    check_choice("car", system_id, system_ids())
    return _read(DATA / "systems" / f"{system_id}.toml", SystemTable)


def read_system_file(path):
    """The checked content of a car's file anywhere on the disk, for an instructor's own car.

    Parameters
    ----------
    path : str or Path
        The file.

    Returns
    -------
    SystemTable
        Values in the units of their keys, each with its source.

    Raises
    ------
    BadDataFile
        When the file is not there, or an entry is missing, misspelt or of the wrong kind.
    """
    path = Path(path)
    if not path.is_file():
        raise BadDataFile(f"{path.name}: there is no such file; check the name and the folder.")
    return _read(path, SystemTable)


@lru_cache(maxsize=1)
def read_faults():
    """The faults there are, with their names and what severity means.

    Returns
    -------
    dict of str to FaultTable
        By fault id, in the order of the file.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "faults.toml", FaultsTable).fault


@lru_cache(maxsize=1)
def read_leak_survey():
    """Where leaks are, what they are like and how large, with the weights assumed for each.

    Returns
    -------
    LeakPlacesTable
        Kinds, sizes, places, and the weight of every place nobody listed.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "service" / "leak_places.toml", LeakPlacesTable)


def read_leak_places():
    """The places where a car's refrigerant gets out.

    Returns
    -------
    dict of str to LeakPlaceTable
        By place id, in the order of the file; each carries its id.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return read_leak_survey().place


@lru_cache(maxsize=1)
def read_leak_hunt():
    """What a leak hunt costs, begins with and is marked by.

    Returns
    -------
    LeakHuntTable
        Quantities by group and key; the unit is the end of the key.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "service" / "leak_hunt.toml", LeakHuntTable)


@lru_cache(maxsize=1)
def read_base_rates():
    """How often each trouble stands behind a complaint, and how bad it then is.

    Returns
    -------
    dict of str to TroubleTable
        By trouble id, in the order of the file.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "evidence" / "base_rates.toml", BaseRatesTable).trouble


@lru_cache(maxsize=1)
def read_directions():
    """How the direction table is asked, and what papers and trade say.

    Returns
    -------
    DirectionsTable
        Day, rows, expected directions by metering device, and why ours differ where they do.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "evidence" / "directions.toml", DirectionsTable)


@lru_cache(maxsize=8)
def read_service_numbers(name):
    """The numbers of one service step, each with its source.

    Parameters
    ----------
    name : str
        A file of data/service without its ending, such as "evacuation".

    Returns
    -------
    NumbersTable
        By part and key, in the units of the keys.

    Raises
    ------
    BadDataFile
        When there is no such file, or an entry is missing, misspelt or of the wrong kind.
    """
    path = DATA / "service" / f"{name}.toml"
    if not path.is_file():
        raise BadDataFile(f"{path.name}: there is no such file in data/service; check the name.")
    return _read(path, NumbersTable).model_copy(update={"file": path.name})


@lru_cache(maxsize=1)
def read_leak_methods():
    """The ways of looking for leaks, with what each never sees and the terms behind its chances.

    Returns
    -------
    LeakMethodsTable
        Methods, the typical circuit, and what each kind of access leaves of a look.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "service" / "leak_methods.toml", LeakMethodsTable)


@lru_cache(maxsize=1)
def read_dye():
    """How much dye, and how soon it shows.

    Returns
    -------
    DyeTable
        The dose and what makes dye visible.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "service" / "dye.toml", DyeTable)


@lru_cache(maxsize=1)
def read_printed_readings():
    """The published readings the simulator is held against.

    Returns
    -------
    PrintedReadingsTable
        Topics, conditions, bands with their sources, and what is left out.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "evidence" / "printed_readings.toml", PrintedReadingsTable)


@lru_cache(maxsize=1)
def read_leak_limits():
    """What leak of a whole car is called normal, how well a shop weighs, and when a car stops cooling.

    Returns
    -------
    LeakLimitsTable
        Published figures, weighing errors, and the signs of too little charge.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "service" / "leak_limits.toml", LeakLimitsTable)


@lru_cache(maxsize=1)
def read_separating_power():
    """The stored study of what separates what.

    Returns
    -------
    SeparatingPowerTable
        How it was made, what was run, and its results.

    Raises
    ------
    BadDataFile
        When the file is not there or not whole; the command in it makes it anew.
    """
    path = DATA / "evidence" / "separating_power.json"
    try:
        return SeparatingPowerTable.model_validate_json(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, ValidationError):
        raise BadDataFile(f"{path.name}: not a whole study; make it anew with: python3 -m course study.") from None


def write_separating_power(study):
    """Store the study of what separates what.

    Parameters
    ----------
    study : dict
        As course.evidence.separating_power.run_study gives it.

    Returns
    -------
    Path
        The file.

    Raises
    ------
    ValidationError
        When something is missing in it.
    """
    path = DATA / "evidence" / "separating_power.json"
    path.write_text(SeparatingPowerTable.model_validate(study).as_text(), encoding="utf-8", newline="\n")
    read_separating_power.cache_clear()
    return path


@lru_cache(maxsize=1)
def read_cautions():
    """Where the work can hurt or the law speaks, dated, by region, each deferring to local codes.

    Returns
    -------
    dict of str to CautionTable
        By id, in the order of the file.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "service" / "cautions.toml", CautionsTable).caution


@lru_cache(maxsize=1)
def read_tolerances():
    """How near a number must come, by name.

    Returns
    -------
    dict of str to ToleranceTable
        By the name a question gives.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "tolerances.toml", TolerancesTable).tolerance


@lru_cache(maxsize=1)
def read_misconceptions():
    """What most of us learned, and the lesson that breaks it.

    Returns
    -------
    dict of str to MisconceptionTable
        By id.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "misconceptions.toml", MisconceptionsTable).misconception


@dataclass(frozen=True)
class LessonFile:
    """A lesson's questions; an entry that cannot be used is the BadDataFile that says why, and spoils no other."""

    id: str
    title: str
    recall: tuple  # of "lesson/question": what is asked again from earlier lessons
    runs: dict  # name -> RunTable or BadDataFile
    numbers: dict  # name -> NumberTable or BadDataFile
    questions: dict  # id -> a table of QUESTION_KINDS or BadDataFile
    sections: dict  # id -> section as written, for a question that cannot be used; None where it is not readable


def lesson_ids():
    """The lessons with questions: one file each in data/lessons.

    Returns
    -------
    tuple of str
        Ids in the order of the lessons.
    """
    return tuple(sorted(path.stem for path in (DATA / "lessons").glob("*.toml")))


def _question(name, question_id, content):
    kind = content.get("kind")
    if kind not in QUESTION_KINDS:
        kinds = ", ".join(QUESTION_KINDS)
        raise BadDataFile(f"{name}: question.{question_id}.kind is {kind!r}; choose one of {kinds}.")
    return _checked(name, QUESTION_KINDS[kind], content, ("question", question_id))


def _or_its_complaint(read, *given):
    try:
        return read(*given)
    except BadDataFile as complaint:
        return complaint


def read_lesson(lesson_id):
    """The questions of one lesson, read anew each time, so that an edited text shows at the next run.

    Parameters
    ----------
    lesson_id : str
        The notebook's name without its ending.

    Returns
    -------
    LessonFile
        Runs, numbers and questions; each that cannot be used is its complaint.

    Raises
    ------
    UnknownChoice
        When there is no such lesson.
    BadDataFile
        When the file as a whole cannot be read.
    """
    check_choice("lesson", lesson_id, lesson_ids())
    path = DATA / "lessons" / f"{lesson_id}.toml"
    return _lesson_of(lesson_id, path.name, _content(path))


def read_lesson_text(lesson_id, text):
    """The questions in a text that is not, or not yet, a file.

    Parameters
    ----------
    lesson_id : str
        The name the file would have without its ending.
    text : str
        What would stand in it.

    Returns
    -------
    LessonFile
        Runs, numbers and questions; each that cannot be used is its complaint.

    Raises
    ------
    BadDataFile
        When the text as a whole cannot be read.
    """
    name = f"{lesson_id}.toml"
    return _lesson_of(lesson_id, name, _parsed(name, text))


def lesson_text(lesson_id):
    """The text of a question file as it stands.

    Parameters
    ----------
    lesson_id : str
        The notebook's name without its ending, or EXAMPLE.

    Returns
    -------
    str
        The whole file; what is no UTF-8 in it is shown as a mark.

    Raises
    ------
    UnknownChoice
        When there is no such file.
    """
    check_choice("question file", lesson_id, (EXAMPLE, *lesson_ids()))
    return (DATA / "lessons" / f"{lesson_id}.toml").read_text(encoding="utf-8", errors="replace")


def _lesson_of(lesson_id, name, content):
    lesson = _checked(name, LessonTable, content)

    def each(table, model):
        entries = getattr(lesson, table).items()
        return {key: _or_its_complaint(_checked, name, model, entry, (table, key)) for key, entry in entries}

    questions = {key: _or_its_complaint(_question, name, key, entry) for key, entry in lesson.question.items()}
    sections = {key: entry.get("section") for key, entry in lesson.question.items()}
    return LessonFile(
        lesson_id,
        lesson.title,
        tuple(lesson.recall),
        each("run", RunTable),
        each("number", NumberTable),
        questions,
        sections,
    )


@lru_cache(maxsize=1)
def read_competencies():
    """What a technician is asked to be able to do, who asks for it, and which lessons serve it.

    Returns
    -------
    CompetenciesTable
        Lists and competencies by id, in the order of the file, and the day it was last gone through.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "competencies.toml", CompetenciesTable)


@lru_cache(maxsize=1)
def read_leak_histories():
    """Service records of invented cars that lose refrigerant.

    Returns
    -------
    dict of str to HistoryTable
        By id, in the order of the file.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "service" / "leak_histories.toml", LeakHistoriesTable).history


@lru_cache(maxsize=1)
def read_glossary():
    """The trade's words, with their other names, where each is measured and where it misleads.

    Returns
    -------
    dict of str to TermTable
        By id, in the order of the file.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "glossary.toml", GlossaryTable).entry


@lru_cache(maxsize=1)
def read_course():
    """The pages of the workbook in their order, and which of them a refresher takes.

    Returns
    -------
    CourseTable
        Pages by the notebook's name without its ending, and the fast track.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "course.toml", CourseTable)


@lru_cache(maxsize=1)
def read_index():
    """The index by symptom, by task and by component.

    Returns
    -------
    IndexTable
        Entries in the order of the file, each with the pages it points to.

    Raises
    ------
    BadDataFile
        When an entry is missing, misspelt or of the wrong kind.
    """
    return _read(DATA / "index.toml", IndexTable)
