"""Marking: what was answered in, right or not and every explanation out; nothing here asks, shows or stores."""

from dataclasses import dataclass

from course.evidence.direction_table import READINGS
from course.lessons.engine_numbers import reading_of
from course.lessons.lesson import tolerance_of
from course.lessons.quantities import KINDS, Number, from_base, read_answer, to_base
from course.physics.refrigerant import REFRIGERANTS
from course.tables import read_faults
from course.units import ZERO_C_IN_K

CONFIDENCE = ("a guess", "fairly sure", "certain")  # how sure a learner can be, from least to most
CERTAIN = CONFIDENCE[-1]
DIRECTIONS = {"up": "goes up", "same": "stays", "down": "goes down"}
_READINGS = {
    "low_side_kpa_gauge": "Low side",
    "high_side_kpa_gauge": "High side",
    "superheat_k": "Superheat",
    "subcooling_k": "Subcooling",
    "vent_c": "Vent",
    "discharge_c": "Discharge line",
    "liquid_line_c": "Liquid line",
    "suction_line_c": "Suction line",
    "capacity_w": "Cooling",
    "compressor_power_w": "Shaft power",
    "clutch_on_fraction": "Pumping",
    "compressor_suction_superheat_k": "Superheat at the compressor",
    "evaporating_c": "Boiling temperature",
    "condensing_c": "Condensing temperature",
}


@dataclass(frozen=True)
class Part:
    """One thing in an answer and what is to be said about it; texts still hold their {numbers}."""

    label: str
    right: bool | None  # None: a wrong option that was not chosen
    why: str
    chosen: bool = False


@dataclass(frozen=True)
class Marked:
    """What an answer is worth."""

    counted: bool  # False: nothing is lost, the problem asks for another try
    right: bool
    problem: str  # the sentence that asks for another try
    answer: str  # the answer in words, for the record; empty where not counted
    parts: tuple  # of Part: what to say
    misconception: str  # its id; empty where none was hit
    shows: object  # ShowTable of the run that shows it; None where there is none


def _again(problem):
    return Marked(False, False, problem, "", (), "", None)


def _counted(right, answer, parts, hit=None):
    misconception = (hit.misconception or "") if hit is not None else ""
    return Marked(True, right, "", answer, tuple(parts), misconception, getattr(hit, "shows", None))


def _mark_choice(question, answer, units):
    options = question.table.options
    if answer is None:
        return _again("Choose an answer first.")
    chosen = options[answer]
    # the right answer is kept back while there is another try; a prediction has only one
    told = [one for one in options if one is chosen or chosen.right or question.table.kind == "predict"]
    parts = [Part(one.text, _mark_of(one, chosen), one.why, one is chosen) for one in told]
    return _counted(chosen.right, question.fill(chosen.text, units), parts, None if chosen.right else chosen)


def _mark_of(one, chosen):
    """Right, wrong, or neither: a wrong answer that nobody gave is only explained."""
    return True if one.right else False if one is chosen else None


def _mark_numeric(question, answer, units):
    table, right = question.table, question.numbers[question.table.answer]
    given = read_answer(answer or "", right.kind, question.air_pressure_kpa)
    if given.problem:
        return _again(given.problem)
    own, allowed = given.number, tolerance_of(question)
    said = own.in_unit(given.unit)
    if abs(own.value - right.value) <= allowed:
        label = f"{said}; the simulator has {right.in_unit(given.unit)}"
        return _counted(True, said, [Part(label, True, table.why, True)])
    for slip in table.slips:
        if _is_slip(given, question.numbers[slip.answer], allowed):
            return _counted(False, said, [Part(said, False, slip.why, True)], slip)
    return _counted(False, said, [Part(said, False, table.high if own.value > right.value else table.low, True)])


def _is_slip(given, wrong, allowed):
    """Whether the number as written is the slip's, which may be of a neighbouring kind: the pipe's 65 °F for 36 °F of superheat."""
    if given.number.kind == wrong.kind:
        return abs(given.number.value - wrong.value) <= allowed
    unit = "°C" if (given.unit, wrong.kind) == ("K", "temperature") else given.unit
    return unit in KINDS[wrong.kind].units and abs(to_base(given.written, wrong.kind, unit) - wrong.value) <= allowed


def _mark_order(question, answer, units):
    steps = {step.id: step for step in question.table.steps}
    if not answer or sorted(answer) != sorted(steps):
        return _again("Put every step in its place first.")
    said = " > ".join(question.fill(steps[step].text, units) for step in answer)
    parts = _out_of_order(question.table, steps, answer)
    if parts:
        return _counted(False, said, parts)
    return _counted(True, said, [Part(steps[step].text, True, steps[step].why, True) for step in answer])


def _out_of_order(table, steps, answer):
    if table.before:
        turned = [pair for pair in table.before if answer.index(pair[0]) > answer.index(pair[1])]
        return [
            Part(f"“{steps[first].text}” comes before “{steps[then].text}”", False, steps[first].why, True)
            for first, then in turned
        ]
    pairs = enumerate(zip(steps, answer, strict=True), start=1)
    number, wanted = next(((number, wanted) for number, (wanted, given) in pairs if wanted != given), (0, ""))
    if not number:
        return []
    given = steps[answer[number - 1]]
    return [Part(f"“{given.text}” is not yet due as number {number}", False, given.why, True)]


def _mark_match(question, answer, units):
    table = question.table
    if not answer or None in answer or len(answer) != len(table.pairs):
        return _again("Choose something for every line first.")
    owners = {pair.right: pair for pair in table.pairs}
    strays = {spare.text: spare for spare in table.spare}
    parts = []
    for pair, chosen in zip(table.pairs, answer, strict=True):
        right = chosen == pair.right
        if right:
            why = pair.why
        elif chosen in strays:
            why = strays[chosen].why
        else:
            why = f"That belongs to “{owners[chosen].left}”. {owners[chosen].why}"
        parts.append(Part(f"{pair.left}: {chosen}", right, why, True))
    said = "; ".join(question.fill(part.label, units) for part in parts)
    return _counted(all(part.right for part in parts), said, parts)


def _mark_point(question, answer, units):
    points = {place.point: place for place in question.table.points}
    if answer is None:
        return _again("Choose a point first.")
    chosen = points[answer]
    told = [one for one in points.values() if one is chosen or chosen.right]
    parts = [Part(point_name(one.point), _mark_of(one, chosen), one.why, one is chosen) for one in told]
    return _counted(chosen.right, point_name(answer), parts, None if chosen.right else chosen)


def _mark_directions(question, answer, units):
    asked = question.table.why
    if not answer or any(answer.get(reading) not in DIRECTIONS for reading in asked):
        return _again("Say for every reading which way it goes.")
    parts = []
    for reading, why in asked.items():
        right = answer[reading] == question.truth[reading]
        name = READINGS[reading][0]
        label = f"{name[0].upper()}{name[1:]} {DIRECTIONS[question.truth[reading]]}"
        parts.append(Part(label if right else f"{label}; you said it {DIRECTIONS[answer[reading]]}", right, why, True))
    said = ", ".join(f"{READINGS[reading][0]} {DIRECTIONS[answer[reading]]}" for reading in asked)
    return _counted(all(part.right for part in parts), said, parts)


MARKS = {
    "choice": _mark_choice,
    "predict": _mark_choice,
    "numeric": _mark_numeric,
    "order": _mark_order,
    "match": _mark_match,
    "point": _mark_point,
    "directions": _mark_directions,
}


def mark(question, answer, units):
    """Mark one answer.

    Parameters
    ----------
    question : Question
        As open_lesson makes it ready.
    answer : object
        choice, predict: number of the option from 0; numeric: text; order: list of step ids; match: list of right
        sides in the order of the pairs; point: its name; directions: dict of reading to up, same or down.
    units : DisplayUnits
        The learner's units, for the answer in words.

    Returns
    -------
    Marked
        Whether it counts, whether it is right, and what to say to every part.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Explanations still hold their {numbers}; Question.fill puts them in. An answer that cannot be understood is not
    counted and costs nothing.

    Examples
    --------
    >>> from course.lessons.lesson import find_question
    >>> from course.units import display_units
    >>> superheat = find_question("superheat_by_hand")
    >>> [mark(superheat, text, display_units("psi_f")).right for text in ("37 °F", "20,5 K", "20")]
    [True, True, False]
    >>> mark(superheat, "20", display_units("psi_f")).problem
    'The unit is missing; give it in K, °C or °F.'
    """
    return MARKS[question.table.kind](question, answer, units)


def point_name(point):
    """A point of the cycle in shop words.

    Parameters
    ----------
    point : str
        Its name in a run.

    Returns
    -------
    str
        The words.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The name itself, without underscores.

    Examples
    --------
    >>> point_name("evaporator_outlet")
    'Evaporator outlet'
    """
    return point.replace("_", " ").capitalize()


def tolerance_words(question, units):
    """How near a number must come, in the learner's units.

    Parameters
    ----------
    question : Question
        A number question.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        A clause.

    Raises
    ------
    UnknownChoice
        When data/tolerances.toml has no tolerance of that name.

    Notes
    -----
    A band of pressure or temperature is a difference and has no offset.

    Examples
    --------
    >>> from course.lessons.lesson import find_question
    >>> from course.units import display_units
    >>> tolerance_words(find_question("superheat_by_hand"), display_units("psi_f"))
    'within 3.6 °F counts as right'
    """
    kind = question.numbers[question.table.answer].kind
    if kind.endswith("_pressure"):
        kind = "pressure_difference"
    elif kind == "temperature":
        kind = "temperature_difference"
    band = Number(tolerance_of(question), kind)
    if kind == "percent":
        return f"within {_two_figures(band.value)} percentage points counts as right"
    unit = KINDS[kind].shown[units.key][0]
    return f"within {_two_figures(from_base(band.value, kind, unit))} {unit}".strip() + " counts as right"


def _two_figures(value):
    """Two figures and never a power of ten: 3.6, 140."""
    return f"{float(f'{value:.2g}'):g}"


def run_words(run, units):
    """A run in a few words: what it was given.

    Parameters
    ----------
    run : BenchRun
        The run.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        Charge, outside air and faults.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Only what the simulator was told; its readings stand beside it.

    Examples
    --------
    >>> from course.data_shapes import RunTable
    >>> from course.lessons.engine_numbers import bench_run
    >>> from course.units import display_units
    >>> run_words(bench_run(RunTable(car="sedan", charge_fraction=0.4)), display_units("psi_f"))
    '40 % charge, 95 °F outside'
    """
    outside = Number(run.conditions.ambient - ZERO_C_IN_K, "temperature").shown(units)
    faults = [read_faults()[fault].name.lower() for fault, severity in run.faults.items() if severity > 0.0]
    return ", ".join([f"{100.0 * run.charge_fraction:.0f} % charge", f"{outside} outside", *faults])


def run_rows(question, shows, units):
    """The run that shows an answer wrong, reading by reading.

    Parameters
    ----------
    question : Question
        As open_lesson makes it ready.
    shows : ShowTable
        Which run, beside which, and which readings.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    list of tuple
        First the heads, then a row a reading: name, beside (where there is one), run.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The runs were made when the lesson was opened.

    Examples
    --------
    >>> from course.lessons.lesson import find_question
    >>> from course.units import display_units
    >>> low_charge = find_question("hot_day_low_charge")
    >>> run_rows(low_charge, low_charge.table.options[0].shows, display_units("psi_f"))[0]
    ('Reading', '100 % charge, 95 °F outside', '40 % charge, 95 °F outside')
    """
    runs = [question.runs[name] for name in (shows.beside, shows.run) if name]
    rows = [("Reading", *_heads(runs, units))]
    for reading in shows.readings:
        name = _READINGS.get(reading, reading.rsplit("_", 1)[0].replace("_", " ").capitalize())
        rows.append((name, *(_shown(run, reading, units) for run in runs)))
    return rows


def _heads(runs, units):
    """Each run in a few words, with what is seldom given where it is what sets them apart."""
    seldom = (
        [REFRIGERANTS[run.system.refrigerant] for run in runs],
        [f"{run.conditions.compressor_rpm:.0f} rpm" for run in runs],
        [f"{3.6 * run.conditions.road_speed:.0f} km/h" for run in runs],
    )
    apart = [words for words in seldom if len(set(words)) > 1]
    return [", ".join([*words, run_words(run, units)]) for run, *words in zip(runs, *apart, strict=True)]


def _shown(run, reading, units):
    # a compressor at rest has no superheat and no subcooling, only noughts in their place
    return "at rest" if reading.endswith("_k") and not run.running else reading_of(run, reading).shown(units)
