"""The bench's readings as a table of words and numbers, each with its unit."""

from html import escape

from course.charts.words import degrees, pressure_number, rounded
from course.physics.refrigerant import REFRIGERANTS
from course.tables import read_faults
from course.units import kelvin_to_celsius, to_display_difference


def reading_pairs(run, units):
    """Name and value of every reading, in the learner's units."""

    def pressure(kpa):
        return f"{pressure_number(kpa, units)} {units.pressure}"

    def difference(kelvin):
        if not run.running:
            return "at rest"
        return f"{rounded(to_display_difference(kelvin, units))} {'°F' if units.temperature == '°F' else 'K'}"

    return [
        ("Low side, gauge", pressure(run.low_side_kpa_gauge)),
        ("High side, gauge", pressure(run.high_side_kpa_gauge)),
        ("Superheat", difference(run.superheat_k)),
        ("Subcooling", difference(run.subcooling_k)),
        ("Vent", degrees(run.vent_c, units)),
        ("Discharge line", degrees(run.discharge_c, units)),
        ("Liquid line", degrees(run.liquid_line_c, units)),
        ("Suction line", degrees(run.suction_line_c, units)),
        ("Cooling", f"{run.capacity_w / 1000:.1f} kW"),
        ("Shaft power", f"{run.compressor_power_w / 1000:.1f} kW"),
        ("Pumping", f"{100 * run.clutch_on_fraction:.0f} %"),
        ("Sight glass", run.sight_glass),
    ]


def readings_html(run, units):
    """The table as HTML."""
    return cells_html(reading_pairs(run, units))


def cells_html(pairs):
    """Names over values, as many beside one another as there is room for."""
    cells = "".join(
        f'<div class="workbook-cell"><span>{escape(name)}</span><b>{escape(value)}</b></div>' for name, value in pairs
    )
    return f'<div class="workbook workbook-readings">{cells}</div>'


def notes_html(run):
    """The notes as a list; the empty list keeps its height, so nothing jumps."""
    items = "".join(f"<li>{escape(note)}</li>" for note in run.notes)
    return f'<ul class="workbook workbook-notes">{items}</ul>'


def sentence(run, units):
    """The whole picture in one plain sentence with rounded numbers, for screen readers and stored notebooks."""
    values = dict(reading_pairs(run, units))
    named = read_faults()
    faults = [f"{named[key].name.lower()} {100 * severity:.0f} %" for key, severity in run.faults.items() if severity]
    spans = (
        f"superheat {values['Superheat']}, subcooling {values['Subcooling']}" if run.running else "compressor at rest"
    )
    return (
        f"{run.system.name} with {REFRIGERANTS[run.system.refrigerant]} at {100 * run.charge_fraction:.0f} % charge, "
        f"{degrees(kelvin_to_celsius(run.conditions.ambient), units)} outside, {', '.join(faults) or 'no fault'}: "
        f"low side {values['Low side, gauge']} gauge, high side {values['High side, gauge']} gauge, {spans}, "
        f"vent {values['Vent']}."
    )
