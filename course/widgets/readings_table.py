"""The bench's readings as a table of words and numbers, each with its unit."""

from html import escape

from course.physics.refrigerant import REFRIGERANTS
from course.units import PA_PER_KPA, to_display_difference, to_display_pressure, to_display_temperature


def reading_pairs(run, units):
    """Name and value of every reading, in the learner's units."""

    def pressure(kpa):
        return (
            f"{to_display_pressure(kpa * PA_PER_KPA, units):.{2 if units.pressure == 'bar' else 0}f} {units.pressure}"
        )

    def degrees(celsius):
        return f"{to_display_temperature(celsius, units):.0f} {units.temperature}"

    def difference(kelvin):
        unit = "°F" if units.temperature == "°F" else "K"
        return f"{to_display_difference(kelvin, units):.0f} {unit}"

    return [
        ("Low side, gauge", pressure(run.low_side_kpa_gauge)),
        ("High side, gauge", pressure(run.high_side_kpa_gauge)),
        ("Superheat", difference(run.superheat_k)),
        ("Subcooling", difference(run.subcooling_k)),
        ("Vent", degrees(run.vent_c)),
        ("Discharge line", degrees(run.discharge_c)),
        ("Liquid line", degrees(run.liquid_line_c)),
        ("Suction line", degrees(run.suction_line_c)),
        ("Cooling", f"{run.capacity_w / 1000:.1f} kW"),
        ("Shaft power", f"{run.compressor_power_w / 1000:.1f} kW"),
        ("Pumping", f"{100 * run.clutch_on_fraction:.0f} %"),
        ("Sight glass", run.sight_glass),
    ]


def readings_html(run, units):
    """The table as HTML."""
    cells = "".join(
        f'<div class="workbook-cell"><span>{escape(name)}</span><b>{escape(value)}</b></div>'
        for name, value in reading_pairs(run, units)
    )
    return f'<div class="workbook workbook-readings">{cells}</div>'


def notes_html(run):
    """The notes as a list; the empty list keeps its height, so nothing jumps."""
    items = "".join(f"<li>{escape(note)}</li>" for note in run.notes)
    return f'<ul class="workbook workbook-notes">{items}</ul>'


def sentence(run, units):
    """The whole picture in one plain sentence with rounded numbers, for screen readers and stored notebooks."""
    values = dict(reading_pairs(run, units))
    faults = (
        ", ".join(f"{name} {100 * severity:.0f} %" for name, severity in run.faults.items() if severity) or "no fault"
    )
    return (
        f"{run.system.name} with {REFRIGERANTS[run.system.refrigerant]} at {100 * run.charge_fraction:.0f} % charge, "
        f"{to_display_temperature(run.conditions.ambient - 273.15, units):.0f} {units.temperature} outside, "
        f"{faults.replace('_', ' ')}: low side {values['Low side, gauge']} gauge, high side {values['High side, gauge']} gauge, "
        f"superheat {values['Superheat']}, subcooling {values['Subcooling']}, vent {values['Vent']}."
    )
