"""The job sheet: one record from complaint to verified repair, which is added to, saved and opened again."""

import json
import math
import os
import tempfile
from dataclasses import asdict, dataclass, replace
from datetime import datetime
from pathlib import Path

from course.errors import BadDataFile, OutOfRange, UnknownChoice, WorkbookError, check_choice, check_range
from course.tables import read_service_numbers
from course.units import DAYS_PER_YEAR

STEPS = {
    "complaint": "Complaint",
    "identify": "Refrigerant identified",
    "static": "Pressures and temperature at rest",
    "before": "Performance before",
    "search": "Leak search",
    "recovery": "Refrigerant recovered",
    "oil_recovered": "Oil recovered",
    "repair": "Repair",
    "pressure_test": "Nitrogen hold",
    "evacuation": "Evacuation",
    "rise_test": "Rise test",
    "oil_added": "Oil added",
    "charge": "Charged",
    "after": "Performance after",
    "leak_check": "Leak check after, service ports included",
    "sent_away": "Refrigerant sent away, name and address",
    "handover": "Handed over",
}
NEEDED = ("complaint", "identify", "recovery", "repair", "evacuation", "charge", "after", "leak_check")
# the largest value that is not a slip of the pen, and whether it may lie below zero: the workbook's own limits
UNITS = {
    "g": (20000.0, False),
    "mL": (2000.0, False),
    "kPa gauge": (5000.0, True),
    "Pa absolute": (5.0e6, False),
    "micron": (800000.0, False),
    "°C": (200.0, True),
    "%": (100.0, False),
    "min": (20000.0, False),
    "g/yr": (1.0e6, False),
    "rpm": (10000.0, False),
}
LONGEST_TEXT = 500  # characters of a note; the workbook's own limit
FORM = 1  # number of the file's form; a later form gets the next number


@dataclass(frozen=True)
class Entry:
    """One line: when, which step, what was read with which instrument, and a note."""

    time: str  # year-month-dayThour:minute
    step: str  # one of STEPS
    value: float | None = None  # in the unit beside it; None where there is nothing to measure
    unit: str = ""  # one of UNITS; empty without a value
    instrument: str = ""
    note: str = ""


@dataclass(frozen=True)
class Job:
    """One car's job from complaint to verified repair."""

    number: str
    car: str  # invented or the shop's own words; no owner's name belongs here
    refrigerant: str  # R134a or R1234yf
    label_charge_g: float  # g
    technician: str  # certificate number or initials
    entries: tuple = ()  # of Entry, in order of time


@dataclass(frozen=True)
class ChargeBalance:
    """Where the charge went: recovered, still inside, lost."""

    least_lost_g: float  # g
    most_lost_g: float  # g
    least_g_per_year: float  # g/yr
    most_g_per_year: float  # g/yr


def _text(name, value, needed=False):
    if not isinstance(value, str) or len(value) > LONGEST_TEXT or (needed and not value.strip()):
        raise OutOfRange(
            f"{name}: {value!r} was given; write a text of {'1' if needed else '0'} to {LONGEST_TEXT} characters."
        )


def _check_value(entry):
    if entry.value is None:
        if entry.unit:
            raise OutOfRange(f"{STEPS[entry.step]}: unit {entry.unit} without a value; give both or neither.")
        return
    if not entry.unit:
        raise OutOfRange(f"{STEPS[entry.step]}: {entry.value!r} has no unit; choose one of {', '.join(UNITS)}.")
    check_choice("unit", entry.unit, UNITS)
    if isinstance(entry.value, bool):
        raise OutOfRange(f"{STEPS[entry.step]}: {entry.value!r} is not a number; give what the instrument shows.")
    most, below_zero = UNITS[entry.unit]
    check_range(STEPS[entry.step], entry.value, -most if below_zero else 0.0, most, entry.unit, "read it again")


def _time(text):
    try:
        return datetime.strptime(text, "%Y-%m-%dT%H:%M")
    except (TypeError, ValueError):
        raise OutOfRange(f"time: {text!r} was given; write it as 2026-03-02T09:15.") from None


def _check_entry(entry):
    check_choice("step", entry.step, STEPS)
    _time(entry.time)
    _text("instrument", entry.instrument)
    _text("note", entry.note)
    _check_value(entry)


def check_job(job):
    """Return a job when it is whole and in order, else say what is wrong with it.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    Job
        The same.

    Raises
    ------
    UnknownChoice, OutOfRange
        With the entry that is wrong and what to do about it.

    Notes
    -----
    A job may be unfinished: missing_steps says what it still lacks.

    Examples
    --------
    >>> check_job(Job("17", "invented pickup", "R134a", 700.0, "A. B.")).number
    '17'
    """
    for name, needed in (("number", True), ("car", True), ("technician", True)):
        _text(name, getattr(job, name), needed)
    check_choice("refrigerant", job.refrigerant, ("R134a", "R1234yf"))
    check_range("label charge", job.label_charge_g, 100.0, 5000.0, "g", "read it under the bonnet, in grams")
    before = None
    for entry in job.entries:
        _check_entry(entry)
        now = _time(entry.time)
        if before is not None and now < before:
            raise OutOfRange(f"{STEPS[entry.step]} at {entry.time}: an earlier entry is later; mend the time.")
        before = now
    return job


def add_entry(job, entry):
    """The job with one more line; the old one stays as it was.

    Parameters
    ----------
    job : Job
        The job.
    entry : Entry
        The new line, not earlier than the last.

    Returns
    -------
    Job
        The longer job.

    Raises
    ------
    UnknownChoice, OutOfRange
        When the line is not in order.

    Notes
    -----
    Nothing is overwritten: a wrong reading is followed by a right one with a note.

    Examples
    --------
    >>> job = Job("17", "invented pickup", "R134a", 700.0, "A. B.")
    >>> longer = add_entry(job, Entry("2026-03-02T10:40", "recovery", 430.0, "g", "machine scale"))
    >>> len(job.entries), len(longer.entries)
    (0, 1)
    """
    return check_job(replace(job, entries=(*job.entries, entry)))


def missing_steps(job):
    """What a job still lacks before its repair counts as verified.

    Parameters
    ----------
    job : Job
        The job.

    Returns
    -------
    tuple of str
        Names of steps; empty when it is verified.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Performance and leak check count only when made after the last repair and the last charge.

    Examples
    --------
    >>> missing_steps(Job("17", "invented pickup", "R134a", 700.0, "A. B."))[0]
    'Complaint'
    """
    last = {entry.step: place for place, entry in enumerate(job.entries)}
    done = set(last)
    worked = max(last.get("repair", -1), last.get("charge", -1))
    for step in ("after", "leak_check"):
        if step in done and last[step] < worked:
            done.discard(step)
    return tuple(STEPS[step] for step in NEEDED if step not in done)


def charge_balance(label_charge_g, recovered_g, left_behind_share, days, scale_error_g=None):
    """Label charge less what was recovered and what stayed behind: lost, and in how many days.

    Parameters
    ----------
    label_charge_g : float
        Charge when it was last full, 100 to 5,000 [g].
    recovered_g : float
        What the machine weighed, 0 to 10,000 [g].
    left_behind_share : tuple of float
        Least and most share of the contents that stays behind, 0 to 0.5, as left_behind_share of recovery gives [-].
    days : float
        Since it was last full, 1 to 20,000 [days].
    scale_error_g : float or None
        How far the weight may be off, 0 to 500; None: what a machine may show wrongly [g].

    Returns
    -------
    ChargeBalance
        Lost [g] and rate [g/yr], from least to most; below zero means it held more than the label.

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    Contents = recovered / (1 - share left behind); lost = label - contents. The steady rate between is assumed: a leak
    slows as the pressure falls and was not always there.

    Examples
    --------
    600 g a year ago, 430 g out of it now by new equipment: 117 to 200 g lost, 30 g of scale error in it.

    >>> balance = charge_balance(600.0, 430.0, (0.0, 0.05), 365.25)
    >>> round(balance.least_lost_g), round(balance.most_g_per_year)
    (116, 200)
    """
    label = check_range("label charge", label_charge_g, 100.0, 5000.0, "g", "read it under the bonnet, in grams")
    recovered = check_range("recovered", recovered_g, 0.0, 10000.0, "g", "read the machine's scale")
    least, most = (
        check_range("share left behind", one, 0.0, 0.5, "of the contents", "give it as a share of one")
        for one in left_behind_share
    )
    if least > most:
        raise OutOfRange(f"share left behind: {least:g} to {most:g} was given; give the smaller one first.")
    time = check_range("days", days, 1.0, 20000.0, "days", "count from when it was last full")
    if scale_error_g is None:
        scale_error_g = read_service_numbers("recovery").value("published", "display_error_g")
    error = check_range("scale error", scale_error_g, 0.0, 500.0, "g", "a machine may be 30 g off")
    low = label - (recovered + error) / (1.0 - most)
    high = label - max(recovered - error, 0.0) / (1.0 - least)
    yearly = DAYS_PER_YEAR / time
    return ChargeBalance(low, high, low * yearly, high * yearly)


def save_job(job, path):
    """Write a job to a file, whole or not at all.

    Parameters
    ----------
    job : Job
        The job.
    path : str or Path
        The file; its folder must be there.

    Returns
    -------
    Path
        The file.

    Raises
    ------
    UnknownChoice, OutOfRange
        When the job is not in order.
    BadDataFile
        When a file of that name is there and is no job sheet: it is left as it is.
    WorkbookError
        When it cannot be written; an older file stays as it was.

    Notes
    -----
    Written aside in the same folder and then put in place in one move, so that a power cut leaves the old or the new
    sheet, never half of one.

    Examples
    --------
    >>> folder = tempfile.TemporaryDirectory()
    >>> job = Job("17", "invented pickup", "R134a", 700.0, "A. B.")
    >>> open_job(save_job(job, Path(folder.name) / "job_17.json")) == job
    True
    >>> folder.cleanup()
    """
    path = Path(path)
    check_job(job)
    if path.exists():
        open_job(path)
    text = json.dumps({"form": FORM, **asdict(job)}, ensure_ascii=False, indent=1, allow_nan=False) + "\n"
    aside = None
    try:
        with tempfile.NamedTemporaryFile(
            "w", encoding="utf-8", dir=path.parent, prefix=path.name, suffix=".part", delete=False
        ) as file:
            aside = Path(file.name)
            file.write(text)
            file.flush()
            os.fsync(file.fileno())
        os.replace(aside, path)
    except OSError as problem:
        if aside is not None:
            aside.unlink(missing_ok=True)
        raise WorkbookError(
            f"{path.name}: it could not be written ({problem.strerror}); the older sheet, if any, is as it was: "
            "choose another folder or make room."
        ) from None
    return path


def open_job(path):
    """Read a job back from its file, checked line by line.

    Parameters
    ----------
    path : str or Path
        The file.

    Returns
    -------
    Job
        The job.

    Raises
    ------
    BadDataFile
        When the file is not there, half-written or not a job sheet; it is left as it is.

    Notes
    -----
    JSON in UTF-8, form 1.

    Examples
    --------
    >>> open_job("job_that_never_was.json")
    Traceback (most recent call last):
    course.errors.BadDataFile: job_that_never_was.json: there is no such file; check the name and the folder.
    """
    path = Path(path)
    if not path.is_file():
        raise BadDataFile(f"{path.name}: there is no such file; check the name and the folder.")
    try:
        content = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        raise BadDataFile(
            f"{path.name}: half-written or not a job sheet; it was left as it is, open an older copy."
        ) from None
    try:
        return check_job(_job_from(content))
    except (TypeError, KeyError, AttributeError):
        raise BadDataFile(
            f"{path.name}: entries are missing or unknown; it was left as it is, open an older copy."
        ) from None
    except (OutOfRange, UnknownChoice) as problem:
        raise BadDataFile(f"{path.name}: {problem}") from None


def _job_from(content):
    if not isinstance(content, dict):
        raise TypeError
    content = dict(content)
    if content.pop("form") != FORM:
        raise OutOfRange(f"this sheet's form is not {FORM}; open it with the workbook that wrote it.")
    entries = tuple(Entry(**one) for one in content.pop("entries"))
    numbers = [content["label_charge_g"], *(one.value for one in entries if one.value is not None)]
    if not all(isinstance(one, (int, float)) and math.isfinite(one) for one in numbers):
        raise OutOfRange("a value is not a number; write it without quotes and unit.")
    return Job(entries=entries, **content)
