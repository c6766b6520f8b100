"""From what the service record weighed to grams a year, and whether that is normal: an answer with its uncertainty."""

import datetime
import math
from dataclasses import dataclass, field

from course.errors import OutOfRange, WorkbookError, check_range
from course.tables import read_leak_limits
from course.units import DAYS_PER_YEAR

KINDS = ("recovered", "charged", "topped_off")
MOST_CHARGE_SHARE = 1.4  # - of the label: no circuit here takes more; as on the bench
SURE = 2.0  # standard deviations on either side before a verdict; about one wrong in forty


def _weighing(key):
    return read_leak_limits().weighing[key].value


@dataclass(frozen=True)
class ServiceEntry:
    """One line of the service record: what went in or came out, when, and how well it was weighed."""

    date: datetime.date
    what: str  # "recovered", "charged" (into an evacuated circuit) or "topped_off"
    grams: float  # g
    scale_error_g: float = field(default_factory=lambda: _weighing("scale_error_g"))  # g, one standard deviation
    hose_error_g: float = field(default_factory=lambda: _weighing("hose_error_g"))  # g, one standard deviation
    recovery_error_g: float = field(
        default_factory=lambda: _weighing("recovery_error_g")
    )  # g, one standard deviation; counts when recovered


@dataclass(frozen=True)
class LeakRate:
    """What the record says a car loses."""

    g_per_year: float  # g/yr
    error_g_per_year: float  # g/yr, one standard deviation
    lost_g: float  # g
    days: float  # days over which it was lost
    basis: str  # "weighed" in and out, or "top_offs"
    sentences: tuple  # what was taken for granted or left out


@dataclass(frozen=True)
class Verdict:
    """Whether a loss is normal, against one ceiling."""

    word: str  # "normal", "abnormal" or "undecidable"
    ceiling_g_per_year: float  # g/yr
    sentence: str
    days_to_decide: float | None  # days of record, at the same weighing, that would settle it; None when settled


def _is_number(value):
    return isinstance(value, (int, float)) and not isinstance(value, bool) and math.isfinite(value)


def _called(number, entry):
    return f"Entry {number} ({entry.date}, {entry.what})"


def _problems_of(number, entry, today, most_in_car, cylinder):
    called = _called(number, entry)
    if not isinstance(entry.date, datetime.date):
        yield f"Entry {number}: {entry.date!r} is not a date; give day, month and year."
    elif entry.date > today:
        yield f"{called} lies in the future: today is {today}; mend the date."
    if entry.what not in KINDS:
        yield f"{called}: choose one of {', '.join(KINDS)}."
    for name in ("scale_error_g", "hose_error_g", "recovery_error_g"):
        error = getattr(entry, name)
        if not _is_number(error) or error < 0.0:
            yield f"{called}: its {name.replace('_', ' ')[:-2]} is {error!r}; give grams, nought or more."
    if not _is_number(entry.grams):
        yield f"{called}: {entry.grams!r} is not a number of grams; weigh it or convert it (1 oz is 28.35 g)."
    elif entry.grams < 0.0:
        yield f"{called}: {entry.grams:g} g is below nothing; say whether it went in or came out and give it without a sign."
    elif entry.grams > cylinder:
        yield f"{called}: {entry.grams:g} g is more than the cylinder holds ({cylinder:g} g); take off what the cylinder itself weighs."
    elif entry.grams > most_in_car:
        yield f"{called}: {entry.grams:g} g is more than this car can hold ({most_in_car:.0f} g); check unit and car."


def record_problems(entries, *, label_charge_g, today, cylinder_g=None):
    """Everything that cannot be right in a service record, each in a sentence; the record itself stays as it is.

    Parameters
    ----------
    entries : sequence of ServiceEntry
        In the order of the record.
    label_charge_g : float
        The label's charge, 100 to 5,000 [g].
    today : datetime.date
        The day it is looked at.
    cylinder_g : float or None
        What the cylinder on the scale can hold; None: 13,600, a 30 lb cylinder [g].

    Returns
    -------
    tuple of str
        Sentences in the order of the record; none when nothing is wrong.

    Raises
    ------
    OutOfRange
        When label or cylinder are outside their range.

    Notes
    -----
    A circuit holds at most 1.4 times its label, as on the bench.

    Examples
    --------
    >>> entry = ServiceEntry(datetime.date(2026, 3, 1), "charged", -500.0)
    >>> record_problems([entry], label_charge_g=500.0, today=datetime.date(2026, 4, 1))[0][:46]
    'Entry 1 (2026-03-01, charged): -500 g is below'
    """
    label = check_range("label charge", label_charge_g, 100.0, 5000.0, "g", "read the label again")
    held = _weighing("cylinder_g") if cylinder_g is None else cylinder_g
    cylinder = check_range("cylinder", held, 100.0, 100e3, "g", "give what it can hold")
    found, before, most = [], None, MOST_CHARGE_SHARE * label
    for number, entry in enumerate(entries, 1):
        found += _problems_of(number, entry, today, most, cylinder)
        dated = isinstance(entry.date, datetime.date)
        if dated and before is not None and entry.date < before:
            found.append(f"{_called(number, entry)} comes after an entry of {before}; put the record in order of date.")
        before = entry.date if dated and entry.date <= today else before
    if not found:
        found = [*_crowded_days(entries, most), *(problem for span in _spans(entries) for problem in _impossible(span))]
    return tuple(found)


def _crowded_days(entries, most):
    on_day = {}
    for number, entry in enumerate(entries, 1):
        if entry.what == "recovered":
            on_day.pop(entry.date, None)
            continue
        on_day[entry.date] = on_day.get(entry.date, 0.0) + entry.grams
        if on_day[entry.date] > most:
            yield (
                f"{_called(number, entry)} makes {on_day[entry.date]:.0f} g on one day, more than this car can hold "
                f"({most:.0f} g): no leak that fast goes unheard; look for an entry made twice."
            )


def _spans(entries):
    """Stretches from a known charge to a weighed recovery, which may take several passes."""
    span = []
    for entry in entries:
        if span and span[-1].what == "recovered" and entry.what != "recovered":
            yield tuple(span)
            span = []
        if entry.what == "charged":
            span = [entry]
        elif span:
            span.append(entry)
    if span and span[-1].what == "recovered":
        yield tuple(span)


def _loss(span):
    """What a stretch lost [g], its variance [g2] and its days."""
    passes = [entry for entry in span if entry.what == "recovered"]
    filled = sum(entry.grams for entry in span if entry.what != "recovered")
    share = _weighing("left_behind_share") ** len(passes)  # each pass leaves at most that share of what it found
    out = sum(entry.grams for entry in passes)
    inside = out / (1.0 - share / 2.0)  # the middle of nothing and all that may stay behind
    variance = sum(entry.scale_error_g**2 + entry.hose_error_g**2 for entry in span)
    variance += sum(entry.recovery_error_g**2 for entry in passes) + (out * share) ** 2 / 12.0
    return filled - inside, variance, (passes[0].date - span[0].date).days


def _impossible(span):
    lost, variance, days = _loss(span)
    error = math.sqrt(variance)
    if lost < -3.0 * error:
        yield (
            f"By {span[-1].date} {-lost:.0f} g more came out than the record put in, with an error of {error:.0f} g: "
            "something was filled in that nobody wrote down."
        )
    if days == 0 and lost > 3.0 * error:
        yield (
            f"On {span[-1].date} {lost:.0f} g are lost on the day they went in, faster than a car that was driven away can "
            "leak: check both weighings."
        )


def leak_from_record(entries, *, label_charge_g, today, cylinder_g=None):
    """The leak that a service record amounts to, with its uncertainty.

    Parameters
    ----------
    entries : sequence of ServiceEntry
        In the order of the record.
    label_charge_g : float
        The label's charge, 100 to 5,000 [g].
    today : datetime.date
        The day it is looked at.
    cylinder_g : float or None
        What the cylinder on the scale can hold; None: 13,600 [g].

    Returns
    -------
    LeakRate
        Grams a year, one standard deviation, and what was taken for granted.

    Raises
    ------
    OutOfRange
        When the record holds something impossible; the message has every such sentence.
    WorkbookError
        When nothing can be reckoned from it.

    Notes
    -----
    Balance: in, less out, over the days between. Errors of scale, hose and recovery are independent and add as squares
    (assumed). Of what a machine leaves (up to 5 % a pass, SAE J2788) half is added to what was recovered, and the
    spread of the rest counts as error. Without a weighed recovery the top-offs are what was lost between the first filling and
    the last, if each brought the car back to the same level: that is off by a quarter of a top-off at either end
    (assumed).

    Examples
    --------
    500 g in, 380 g out a year later:

    >>> record = [ServiceEntry(datetime.date(2025, 3, 1), "charged", 500.0),
    ...           ServiceEntry(datetime.date(2026, 3, 1), "recovered", 380.0)]
    >>> leak = leak_from_record(record, label_charge_g=500.0, today=datetime.date(2026, 3, 2))
    >>> round(leak.g_per_year), round(leak.error_g_per_year)
    (110, 31)
    """
    entries = tuple(entries)
    problems = record_problems(entries, label_charge_g=label_charge_g, today=today, cylinder_g=cylinder_g)
    if problems:
        raise OutOfRange(" ".join(problems))
    losses = [_loss(span) for span in _spans(entries)]
    days = sum(loss[2] for loss in losses)
    if days == 0:
        return _from_top_offs(entries)
    lost, error = sum(loss[0] for loss in losses), math.sqrt(sum(loss[1] for loss in losses))
    said = ["Half of what a recovery machine may leave in the car was added to what it weighed."]
    used = sum(len(span) for span in _spans(entries))
    if used < len(entries):
        said.append(
            f"{len(entries) - used} of {len(entries)} entries belong to no stretch from a charge to a recovery."
        )
    yearly = DAYS_PER_YEAR / days
    return LeakRate(lost * yearly, error * yearly, lost, float(days), "weighed", tuple(said))


def _from_top_offs(entries):
    fillings = [entry for entry in entries if entry.what in ("charged", "topped_off")]
    later = [entry for entry in fillings[1:] if entry.what == "topped_off"]
    days = (fillings[-1].date - fillings[0].date).days if fillings else 0
    if not later or days == 0 or len(later) < len(fillings) - 1:
        raise WorkbookError(
            "Nothing can be reckoned from this record: it takes a charge and a later recovery, or two fillings on "
            "different days."
        )
    lost = sum(entry.grams for entry in later)
    level = math.sqrt(2.0) * _weighing("refill_level_share") * lost / len(later)
    variance = level**2 + sum(entry.scale_error_g**2 + entry.hose_error_g**2 for entry in later)
    said = "Nothing was weighed out: it is taken for granted that each top-off brought the car back to the same level."
    yearly = DAYS_PER_YEAR / days
    return LeakRate(lost * yearly, math.sqrt(variance) * yearly, lost, float(days), "top_offs", (said,))


def judge(leak, *, evaporators=1):
    """Whether a loss is normal: against what European type approval allows a new car.

    Parameters
    ----------
    leak : LeakRate
        What the record says.
    evaporators : int
        1 or 2.

    Returns
    -------
    Verdict
        Normal, abnormal or undecidable, with the reason and how long a record would settle it.

    Raises
    ------
    OutOfRange
        When there are neither one nor two evaporators.

    Notes
    -----
    Two standard deviations on either side. The ceilings, 40 and 60 g/yr, are for new cars (Directive 2006/40/EC, read);
    no limit for a used car was found, so a shop's verdict leans on the nearest published one. "Normal" means no more
    than a sound new car may lose; it does not mean tight.

    Examples
    --------
    >>> judge(LeakRate(110.0, 31.0, 110.0, 365.0, "weighed", ())).word
    'abnormal'
    """
    count = check_range("evaporators", evaporators, 1, 2, "in the car", "one, or two with rear A/C")
    figures = read_leak_limits().figure
    figure = figures["eu_one_evaporator" if count == 1.0 else "eu_two_evaporators"]
    ceiling, margin = figure.rate_g_per_year.value, SURE * leak.error_g_per_year
    given = f"{leak.g_per_year:.0f} g/yr, give or take {margin:.0f}"
    against = f"the {ceiling:.0f} g/yr of {figure.name}"
    if leak.g_per_year - margin > ceiling:
        return Verdict("abnormal", ceiling, f"{given}: above {against}. Find the leak before filling.", None)
    if leak.g_per_year + margin <= ceiling:
        return Verdict("normal", ceiling, f"{given}: within {against}; a sound car loses some too.", None)
    apart = abs(leak.g_per_year - ceiling)
    wait = leak.days * margin / apart if apart > 0.0 else math.inf
    return Verdict("undecidable", ceiling, f"{given}: {against} lies inside that. Weigh again later.", wait)


@dataclass(frozen=True)
class Comparison:
    """One published figure beside a car's loss."""

    name: str
    sort: str  # "ceiling", "threshold" or "typical"
    g_per_year: float  # g/yr
    word: str  # the car is "below" it, "above" it, or it "cannot be told"
    source: str  # where the figure is from, and whether it was read


def compare(leak, *, charge_g):
    """A loss beside everything published on what cars lose: ceilings, thresholds and averages.

    Parameters
    ----------
    leak : LeakRate
        What the record says.
    charge_g : float
        The car's charge, 100 to 5,000 [g].

    Returns
    -------
    tuple of Comparison
        One for each figure, in the order of the file.

    Raises
    ------
    OutOfRange
        When the charge is outside its range.

    Notes
    -----
    Figures and sources in data/service/leak_limits.toml. The United States' threshold is 11.0 g/yr up to 733 g and 1.5 %
    of the charge above (40 CFR 86.1867-12, read). Two standard deviations on either side. An average is no limit: half
    of all sound cars lie above it.

    Examples
    --------
    >>> found = compare(LeakRate(110.0, 20.0, 110.0, 365.0, "weighed", ()), charge_g=1000.0)
    >>> [(one.g_per_year, one.word) for one in found if one.sort == "threshold"]
    [(15.0, 'above')]
    """
    charge = check_range("charge", charge_g, 100.0, 5000.0, "g", "read the label again")
    limits, margin, found = read_leak_limits(), SURE * leak.error_g_per_year, []
    large = charge > limits.us_high_leak["small_charge_g"].value
    for key, figure in limits.figure.items():
        rate = figure.rate_g_per_year.value
        if key == "us_high_leak" and large:
            rate = charge * limits.us_high_leak["large_charge_share"].value
        word = "above" if leak.g_per_year - margin > rate else "below"
        if word == "below" and leak.g_per_year + margin > rate:
            word = "cannot be told"
        found.append(Comparison(figure.name, figure.sort, float(rate), word, figure.rate_g_per_year.source))
    return tuple(found)
