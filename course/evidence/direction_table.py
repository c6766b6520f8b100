"""Which way every reading goes with every fault, as the simulator has it, beside what papers and trade say."""

from dataclasses import dataclass
from functools import lru_cache
from math import hypot, sqrt

from course.errors import check_choice, check_range
from course.physics.bench import run_bench
from course.physics.car_file import load_system
from course.physics.faults import fits
from course.physics.readings import Instruments
from course.physics.refrigerant import saturation_at_pressure
from course.physics.system import OrificeTube
from course.tables import read_directions, system_ids
from course.units import PA_PER_KPA, STANDARD_ATMOSPHERE_PA

# reading: (its name, the field of a run, its unit, whether a compressor at rest still gives it)
READINGS = {
    "low_side": ("low side", "low_side_kpa_gauge", "kPa", True),
    "high_side": ("high side", "high_side_kpa_gauge", "kPa", True),
    "superheat": ("superheat", "superheat_k", "K", False),
    "subcooling": ("subcooling", "subcooling_k", "K", False),
    "discharge": ("discharge line", "discharge_c", "K", False),
    "vent": ("vent", "vent_c", "K", True),
    "power": ("shaft power", "compressor_power_w", "% of it", True),
}
POWER_ERROR_SHARE = 0.02  # - of the shaft power, which no workshop instrument shows; assumed
STEP_PA = 1000.0  # Pa, over which the P-T chart is taken as straight
TWO_READINGS = sqrt(2.0)  # - error of the difference of two independent readings against one
MOST_ERRORS = 5.0  # - times the instruments' errors; beyond that nothing would ever move


@dataclass(frozen=True)
class Cell:
    """One reading with one fault: the simulator's direction, mild and severe, and what others say."""

    row: str
    reading: str
    directions: tuple  # of str for mild and severe: up, same, down or none
    changes: tuple  # mild and severe, in the reading's unit; None where there is no reading
    expect: tuple  # of str: what the sources say; empty where they say nothing
    others: tuple  # of str: what other sources say against them
    mark: str  # agreed, weak, conflicting, or silent where no source says anything
    source: str
    why: str  # the physics of a disagreement; empty where there is none

    @property
    def agrees(self):
        """Whether the severe fault goes the sources' way and the mild one not against it; None where none speaks."""
        if not self.expect:
            return None
        mild, severe = self.directions
        return severe in self.expect and mild in (*self.expect, "same")


@dataclass(frozen=True)
class DirectionTable:
    """The direction table of one car."""

    car: str
    name: str
    thresholds: dict  # reading -> least change that counts, in the reading's unit
    rows: dict  # row id -> name
    cells: dict  # (row id, reading id) -> Cell

    def disagreements(self):
        """The cells in which the simulator goes another way than its sources."""
        return tuple(cell for cell in self.cells.values() if cell.agrees is False)


def _chart_slope(refrigerant, gauge_kpa):
    """Kelvin of boiling temperature for each kPa on the gauge."""
    pressure = gauge_kpa * PA_PER_KPA + STANDARD_ATMOSPHERE_PA
    above, below = (saturation_at_pressure(refrigerant, pressure + step).temperature for step in (STEP_PA, -STEP_PA))
    return (above - below) / (2.0 * STEP_PA) * PA_PER_KPA


def least_changes(run, errors=1.0):
    """The least change of each reading that two looks at the instruments can tell from none.

    Parameters
    ----------
    run : BenchRun
        The healthy run.
    errors : float
        How many of the instruments' errors it takes, 0 to 5 [-].

    Returns
    -------
    dict of str to float
        Reading id to least change [kPa, K, % of the power].

    Raises
    ------
    OutOfRange
        When errors is outside its range.

    Notes
    -----
    Root 2 times the error of one reading (course.physics.readings.Instruments), since a change is the difference of
    two. Superheat and subcooling carry the error of a thermometer and that of a gauge through the P-T chart. Shaft
    power has no workshop instrument: 2 % is assumed.

    Examples
    --------
    A low gauge that is off by 10 kPa, read twice:

    >>> from course.physics.bench import run_bench
    >>> round(least_changes(run_bench("sedan"))["low_side"], 1)
    14.1
    """
    check_range("errors", errors, 0.0, MOST_ERRORS, "instrument errors", "one is what the table is printed with")
    of, ref = Instruments(), run.system.refrigerant
    single = {
        "low_side": of.low_gauge_kpa,
        "high_side": of.high_gauge_kpa,
        "superheat": hypot(of.pipe_thermometer_k, of.low_gauge_kpa * _chart_slope(ref, run.low_side_kpa_gauge)),
        "subcooling": hypot(of.pipe_thermometer_k, of.high_gauge_kpa * _chart_slope(ref, run.high_side_kpa_gauge)),
        "discharge": of.pipe_thermometer_k,
        "vent": of.vent_thermometer_k,
        "power": 100.0 * POWER_ERROR_SHARE,
    }
    return {reading: errors * TWO_READINGS * error for reading, error in single.items()}


def _settings(day):
    return {
        "ambient_c": float(day.ambient_c.value),
        "relative_humidity": float(day.relative_humidity_share.value),
        "compressor_rpm": float(day.compressor_rpm.value),
    }


@lru_cache(maxsize=64)
def _runs(car, row_id):
    """The healthy run of a row's day, and the run with the fault, mild and severe."""
    table = read_directions()
    row = table.row[row_id]
    day = _settings(row.day or table.day)
    well = run_bench(car, **day)
    runs = []
    for share in (float(row.mild_share.value), float(row.severe_share.value)):
        change = {"charge_fraction": share} if row.of == "charge" else {"faults": {row.of: share}}
        runs.append(run_bench(car, previous=well, **day, **change))
    return well, tuple(runs)


def _change(reading, well, ill):
    _, field, _, at_rest = READINGS[reading]
    if not (at_rest or ill.running):
        return None
    change = getattr(ill, field) - getattr(well, field)
    return 100.0 * change / well.compressor_power_w if reading == "power" else change


def _direction(change, least):
    if change is None:
        return "none"
    return "up" if change > least else "down" if change < -least else "same"


def directions_between(well, ill, errors=1.0):
    """Which way every reading goes from one run to another.

    Parameters
    ----------
    well, ill : BenchRun
        Before and after.
    errors : float
        How many of the instruments' errors a change must exceed to count, 0 to 5 [-].

    Returns
    -------
    dict of str to str
        Reading id to up, same, down, or none where a compressor at rest gives no such reading.

    Raises
    ------
    OutOfRange
        When errors is outside its range.

    Notes
    -----
    Judged as the direction table is, against least_changes of the first run.

    Examples
    --------
    A hotter day lifts the high side:

    >>> from course.physics.bench import run_bench
    >>> directions_between(run_bench("sedan", ambient_c=25.0), run_bench("sedan", ambient_c=40.0))["high_side"]
    'up'
    """
    least = least_changes(well, errors)
    return {reading: _direction(_change(reading, well, ill), least[reading]) for reading in READINGS}


def _cell(car, metering, row_id, reading, errors):
    well, runs = _runs(car, row_id)
    least = least_changes(well, errors)[reading]
    changes = tuple(_change(reading, well, run) for run in runs)
    table = read_directions()
    said = table.expected[metering].get(row_id)
    expected = getattr(said, reading) if said else None
    return Cell(
        row_id,
        reading,
        tuple(_direction(change, least) for change in changes),
        changes,
        tuple(expected.expect) if expected else (),
        tuple(expected.others) if expected else (),
        expected.mark if expected else "silent",
        said.source if expected else "",
        table.why.get(car, {}).get(row_id, {}).get(reading, ""),
    )


@lru_cache(maxsize=8)
def direction_table(car, errors=1.0):
    """The direction table of one car: every fault against every reading, worked out on the bench.

    Parameters
    ----------
    car : str
        An id from data/systems.
    errors : float
        How many of the instruments' errors a change must exceed to count, 0 to 5 [-].

    Returns
    -------
    DirectionTable
        A cell for each fault the car can have and each reading.

    Raises
    ------
    UnknownChoice, OutOfRange
        When the car is unknown or errors is outside its range.

    Notes
    -----
    Every cell is a difference of two runs of course.physics.bench.run_bench; none is typed. What papers and trade say,
    each with its source, and the sizes of the faults stand in data/evidence/directions.toml. A compressor at rest has
    no superheat, subcooling or discharge temperature: "none". Air rise over the condenser, which papers also give, is
    not a reading of the bench and is left out.

    Examples
    --------
    Condenser airflow lost: head up, on any car, by every source.

    >>> cell = direction_table("pickup").cells["condenser_airflow_low", "high_side"]
    >>> cell.directions, cell.agrees
    (('up', 'up'), True)
    """
    system = load_system(check_choice("car", car, system_ids()))
    metering = "orifice_tube" if isinstance(system.metering, OrificeTube) else "expansion_valve"
    rows = {
        row_id: row.name for row_id, row in read_directions().row.items() if row.of == "charge" or fits(row.of, system)
    }
    cells = {(row, reading): _cell(car, metering, row, reading, errors) for row in rows for reading in READINGS}
    return DirectionTable(car, system.name, least_changes(_runs(car, "charge_short")[0], errors), rows, cells)
