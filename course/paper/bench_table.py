"""Tables to fill in from a lesson's bench, and the same tables filled in by the simulator for the key."""

from dataclasses import dataclass

from course.errors import WorkbookError
from course.physics.bench import run_bench
from course.physics.car_file import load_system
from course.tables import read_faults
from course.widgets.bench_controls import NO_FAULT, BenchControls
from course.widgets.newest_wins import NewestWins
from course.widgets.readings_table import reading_pairs

READ = 5  # the first of the bench's readings: both gauges, superheat, subcooling, vent
# where a learner is to put the first control of a bench: a few places over its useful range, assumed
POSITIONS = {
    "charge_percent": (130, 100, 80, 60, 40),
    "ambient_c": (25, 30, 35, 40),
    "humidity_percent": (20, 40, 60, 80),
    "compressor_rpm": (800, 1500, 2500, 4000),
    "severity_percent": (0, 30, 60, 90),
    "blower_percent": (100, 80, 60, 40),
    "road_speed_km_h": (0, 40, 80, 120),
    "altitude_m": (0, 1000, 2000, 3000),
}


@dataclass(frozen=True)
class BenchTable:
    """One bench of a lesson as a table: what to set, and a line for each position."""

    title: str
    setting: str  # everything that stays
    refrigerant: str
    moved: str  # the control that is moved
    heads: tuple
    lines: tuple  # the position of each line
    filled: tuple  # of tuple: the readings of each line, or one sentence where the bench refuses


def _controls(call, units):
    """The bench's own controls as the lesson opens them."""
    shown = call.given[0] if call.given else call.named.get("controls")
    start = {name: value for name, value in call.named.items() if name not in ("controls", "units")}
    return BenchControls(tuple(shown or ()), units.key, start, NewestWins(lambda: None))


def _in_words(controls, name):
    number = controls.numbers[name]
    return f"{number.box.value:g} {number.unit}"


def _setting(controls, moved):
    """What a learner sets before the first line, the moved control left out."""
    parts = [controls.car.label]
    if controls.fault.value != NO_FAULT:
        parts.append(read_faults()[controls.fault.value].name.lower())
    told = {"charge_percent", "ambient_c", *controls.start} - {"car", "fault", "recirculate", moved}
    if controls.fault.value == NO_FAULT:
        told.discard("severity_percent")
    parts += [
        f"{number.label.lower()} {_in_words(controls, name)}"
        for name, number in controls.numbers.items()
        if name in told
    ]
    if controls.recirculate.value:
        parts.append("recirculating")
    return ", ".join(parts)


def _readings(controls, units):
    try:
        return reading_pairs(run_bench(controls.car.value, **controls.settings()), units)[:READ]
    except WorkbookError as refusal:
        return str(refusal)


def bench_tables(lesson, units):
    """A lesson's benches as tables, each run once; a bench without a number to move has none."""
    benches = (panel for panel in lesson.panels if panel.call.name == "show_bench")
    return [one for one in (_bench_table(panel, units) for panel in benches) if one]


def _bench_table(panel, units):
    controls = _controls(panel.call, units)
    moved = next((name for name in controls.shown if name in POSITIONS), None)
    if moved is None:
        return None
    setting, number = _setting(controls, moved), controls.numbers[moved]
    lines, filled, heads = [], [], ()
    for position in POSITIONS[moved]:
        number.value = position
        lines.append(f"{number.box.value:g}")
        found = _readings(controls, units)
        if isinstance(found, str):
            filled.append((found,))
            continue
        heads = heads or tuple(f"{name}, {_unit(value, units)}" for name, value in found)
        filled.append(tuple(value for _, value in found))
    return BenchTable(
        panel.title,
        setting,
        load_system(controls.car.value).refrigerant,
        number.label,
        (f"{number.label}, {number.unit}", *heads),
        tuple(lines),
        tuple(filled),
    )


def _unit(value, units):
    """The unit a reading is written in; a compressor at rest shows words in place of superheat and subcooling."""
    difference = "°F" if units.temperature == "°F" else "K"
    return value.rpartition(" ")[2] if value[:1] in "-0123456789" else difference
