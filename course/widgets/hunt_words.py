"""The words of the leak hunt: states of the car, and what each method shows."""

from course.charts.engine_bay import place_numbers
from course.service.hunt_verdict import place_name
from course.tables import read_leak_methods

STATE_NAMES = {
    "at_rest": "Engine off, at rest",
    "just_stopped": "Engine just stopped",
    "running": "Engine and A/C running",
    "nitrogen": "Refrigerant out, gas in",
}
DOOR_NAMES = {"shut": "Shut", "open": "Open", "aired": "Open while waiting, then shut"}
CARE_NAMES = {1.0: "by the book", 0.5: "ordinary care", 0.0: "hurried"}
SHOWN = {  # without a signal, and with one
    "electronic": ("the detector stayed quiet", "the detector alarmed"),
    "bubbles": ("no bubble grew", "bubbles grew"),
    "uv_dye": ("nothing glowed", "something glowed"),
    "nitrogen_bubbles": ("no bubble grew", "bubbles grew"),
    "tracer_gas": ("the detector stayed quiet", "the detector alarmed"),
}


def said(seen):
    """What one look showed, in one sentence."""
    where = f"{place_numbers()[seen.place]} {place_name(seen.place)}"
    if seen.step is None:
        return f"{where} was washed."
    return f"At {where} {SHOWN[seen.step.method][seen.signal]}."


def log_line(seen):
    """One look for the log: how, where, what was seen, how long it took."""
    if seen.step is None:
        return f"{said(seen)} {seen.minutes:.0f} min."
    step = seen.step
    parts = [read_leak_methods().method[step.method].name, STATE_NAMES[step.state].lower(), CARE_NAMES[step.care]]
    if step.wait_minutes:
        parts.append(f"after {step.wait_minutes:.0f} min")
    if step.ride_days:
        parts.append(f"after {step.ride_days:.0f} days on the road")
    if step.doors != "shut":
        parts.append(f"doors {step.doors}")
    return f"{', '.join(parts)}. {said(seen)} {seen.minutes:.0f} min."
