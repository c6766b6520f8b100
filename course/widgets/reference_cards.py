"""The cards of numbers: pressure and temperature, vacuum, altitude, units, leak rates and cylinders, all worked out."""

import math
from dataclasses import dataclass, field

from course.charts.pressure_temperature import draw_pressure_temperature
from course.charts.printed_readings import number_words
from course.charts.style import WIDTH, new_figure, svg_of
from course.charts.words import degrees, rounded
from course.physics.refrigerant import REFRIGERANTS
from course.service.critical_charge import years_to_charge
from course.service.leak_detection import SCALES_G_PER_YEAR
from course.service.reference_numbers import (
    boiling_at_gauge_c,
    gauge_at_boiling_pa,
    overfilling,
    place_at,
    vacuum_dial_inhg,
)
from course.service.water import boiling_pressure_pa, boils_at_c
from course.tables import read_leak_limits, read_leak_methods, read_service_numbers
from course.units import (
    DAYS_PER_YEAR,
    G_PER_OUNCE,
    G_PER_POUND,
    KJ_KG_PER_BTU_LB,
    M3_S_PER_CFM,
    M_PER_INCH,
    ML_PER_FL_OZ,
    PA_PER_BAR,
    PA_PER_INHG,
    PA_PER_KPA,
    PA_PER_MBAR,
    PA_PER_MICRON,
    PA_PER_PSI,
    STANDARD_ATMOSPHERE_PA,
    W_PER_BTU_H,
    DisplayUnits,
    display_units,
    from_display_temperature,
    oz_per_year_from_g_per_year,
    to_display_temperature,
)
from course.widgets.card_layout import Card, Table
from course.widgets.leak_words import SORT_NAMES, span_words

# the round numbers a learner looks up, in the unit that is shown
TEMPERATURES = {
    "°F": tuple(range(-5, 161, 5)),
    "°C": tuple(number / 2.0 for number in range(-40, 141, 5)),
}
PRESSURES = {
    "psi": (*range(-5, 60, 5), *range(60, 160, 10), *range(175, 351, 25)),
    "kPa": (*range(-40, 400, 40), *range(400, 1000, 100), *range(1000, 2401, 200)),
    "bar": (*(number / 10.0 for number in range(-4, 40, 4)), *range(4, 10), *range(10, 25, 2)),
}
WATER_C = (-30.0, -20.0, -10.0, 0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 50.0)
MICRONS = (100, 200, 500, 1000, 1500, 2000, 4600, 10000, 25000)
ALTITUDES_M = (0.0, 250.0, 500.0, 1000.0, 1500.0, 2000.0, 2500.0, 3000.0)
LEAKS_G_PER_YEAR = (4.0, 8.3, 15.0, 40.0, 60.0, 100.0, 160.0, 300.0, 1000.0, 3000.0)
LEFT_SHARE = 0.8  # of the charge: where the time of the leak table ends
EXAMPLE_PSI = 30.0  # gauge; a low side that every shop knows


@dataclass(frozen=True)
class Choice:
    """What a learner has chosen for a card."""

    units: DisplayUnits = field(default_factory=lambda: display_units("psi_f"))
    refrigerants: tuple = tuple(REFRIGERANTS)
    altitude_m: float = 0.0  # m
    charge_g: float = 500.0  # g
    volume_l: float = 27.2  # L, water capacity of a cylinder
    region: str = "all"
    word: str = ""


def _plain(number):
    return f"{number:g}"


def _gauge(pascal, units):
    return number_words(pascal / PA_PER_KPA, "kpa_gauge", units)


def pressure_temperature_card(choice):
    """P-T both ways, at the altitude of the shop."""
    units, names = choice.units, tuple(REFRIGERANTS[one] for one in choice.refrigerants)
    by_temperature = tuple(
        (
            _plain(shown),
            *(
                _gauge(gauge_at_boiling_pa(one, from_display_temperature(shown, units), choice.altitude_m), units)
                for one in choice.refrigerants
            ),
        )
        for shown in TEMPERATURES[units.temperature]
    )
    by_pressure = tuple(
        (
            _plain(shown),
            *(
                number_words(boiling_at_gauge_c(one, shown * units.pa_per_pressure, choice.altitude_m), "c", units)
                for one in choice.refrigerants
            ),
        )
        for shown in PRESSURES[units.pressure]
    )
    figure = new_figure(WIDTH, 230.0)
    axes = figure.add_axes((0.16, 0.19, 0.8, 0.7))
    draw_pressure_temperature(axes, choice.refrigerants, units=units, altitude_m=choice.altitude_m)
    label = f"P-T chart of {' and '.join(names)}, {units.pressure} gauge against {units.temperature}"
    return Card(
        f"Pressure and temperature: {' and '.join(names)}",
        (
            f"Gauge pressure at {choice.altitude_m:.0f} m above the sea; below zero is vacuum.",
            "Holds for one pure refrigerant with liquid and vapour together and no air inside.",
        ),
        (
            Table(f"{units.temperature} to {units.pressure} gauge", (units.temperature, *names), by_temperature, numbers=True, long=True),
            Table(f"{units.pressure} gauge to {units.temperature}", (units.pressure, *names), by_pressure, numbers=True, long=True),
        ),
        picture=f'<div class="workbook-stack">{svg_of(figure, label)}</div>',
        pair=True,
    )  # fmt: skip


def vacuum_card(choice):
    """At what vacuum water boils, or ice turns to vapour, and the other way round."""
    units, altitude = choice.units, choice.altitude_m
    water = []
    for celsius in WATER_C:
        pascal = boiling_pressure_pa(celsius)
        state = "ice" if celsius < 0.0 else "water"
        row = (f"{pascal / PA_PER_MICRON:,.0f}", f"{pascal / PA_PER_MBAR:.2f}")
        water.append((f"{degrees(celsius, units)} {state}", *row, f"{vacuum_dial_inhg(pascal, altitude):.2f}"))
    vacua = []
    for micron in MICRONS:
        pascal = micron * PA_PER_MICRON
        vacua.append((f"{micron:,}", f"{pascal / PA_PER_MBAR:.2f}", degrees(boils_at_c(pascal), units)))
    deepest = place_at(altitude).deepest_vacuum_inhg
    return Card(
        "Vacuum and water",
        (
            f"A dial at {altitude:.0f} m cannot show more than {deepest:.2f} inHg; a micron gauge needs no correction.",
            "Water leaves only below its boiling pressure, and only as fast as heat reaches it.",
        ),
        (
            Table("Water boils below", ("water at", "micron", "mbar", "dial, inHg"), tuple(water), numbers=True),
            Table("A vacuum reaches water down to", ("micron", "mbar", "boils at"), tuple(vacua), numbers=True),
        ),
        pair=True,
        below=("Computed: IAPWS-IF97 over water, IAPWS R14-08 over ice; air of the standard atmosphere.",),
    )


def altitude_card(choice):
    """What a gauge does up a hill."""
    units, rows = choice.units, []
    for altitude in ALTITUDES_M:
        place = place_at(altitude)
        boiling = (
            number_words(boiling_at_gauge_c(one, EXAMPLE_PSI * PA_PER_PSI, altitude), "c", units)
            for one in choice.refrigerants
        )
        cells = (rounded(place.air_pa / PA_PER_KPA, 1), _gauge(place.reads_higher_pa, units))
        rows.append((f"{altitude:,.0f}", *cells, f"{place.deepest_vacuum_inhg:.1f}", *boiling))
    example = f"{_gauge(EXAMPLE_PSI * PA_PER_PSI, units)} {units.pressure} gauge"
    heads = (
        "m above sea",
        "air, kPa",
        f"gauge higher by, {units.pressure}",
        "dial ends at, inHg",
        *(f"{REFRIGERANTS[one]}, {units.temperature}" for one in choice.refrigerants),
    )
    return Card(
        "Altitude",
        ("For the same pressure inside, a dial open to thinner air reads higher, and a vacuum reads less deep.",),
        (Table(f"Dials by altitude; on the right, what boils at {example}", heads, tuple(rows), numbers=True),),
        below=(
            "Electronic sensors of absolute pressure need no correction (from memory); dials do.",
            "Computed: ISO 2533 standard atmosphere; weather moves it by some 3 %.",
        ),
    )


def units_card(choice):
    """Conversions, each from its one factor."""
    atmosphere = STANDARD_ATMOSPHERE_PA
    rows = (
        ("1 psi", f"{PA_PER_PSI / PA_PER_KPA:.3f} kPa", f"{PA_PER_PSI / PA_PER_BAR:.4f} bar"),
        ("1 bar", f"{PA_PER_BAR / PA_PER_KPA:.0f} kPa", f"{PA_PER_BAR / PA_PER_PSI:.2f} psi"),
        ("100 kPa", f"{100.0 * PA_PER_KPA / PA_PER_PSI:.2f} psi", f"{100.0 * PA_PER_KPA / PA_PER_BAR:.0f} bar"),
        ("1 atmosphere", f"{atmosphere / PA_PER_KPA:.1f} kPa", f"{atmosphere / PA_PER_PSI:.2f} psi absolute"),
        ("the same", f"{atmosphere / PA_PER_INHG:.2f} inHg", f"{atmosphere / PA_PER_MICRON:,.0f} micron"),
        ("1 inHg", f"{PA_PER_INHG / PA_PER_KPA:.3f} kPa", f"{PA_PER_INHG / PA_PER_MICRON:,.0f} micron"),
        ("500 micron", f"{500.0 * PA_PER_MICRON:.1f} Pa", f"{500.0 * PA_PER_MICRON / PA_PER_MBAR:.3f} mbar"),
        ("1 oz of refrigerant (mass)", f"{G_PER_OUNCE:.2f} g", f"{G_PER_POUND / G_PER_OUNCE:.0f} oz are 1 lb"),
        ("1 lb", f"{G_PER_POUND:.1f} g", f"{1000.0 / G_PER_POUND:.3f} lb are 1 kg"),
        ("1 fl oz of oil or dye (volume)", f"{ML_PER_FL_OZ:.2f} mL", f"{100.0 / ML_PER_FL_OZ:.2f} fl oz are 100 mL"),
        ("1 oz/yr", f"{G_PER_OUNCE:.2f} g/yr", f"{oz_per_year_from_g_per_year(4.0):.2f} oz/yr are 4 g/yr"),
        ("100 cfm", f"{100.0 * M3_S_PER_CFM * 3600.0:.0f} m³/h", f"{100.0 * M3_S_PER_CFM * 1000.0:.1f} L/s"),
        ("1 kW", f"{1000.0 / W_PER_BTU_H:,.0f} Btu/h", f"1 Btu/lb is {KJ_KG_PER_BTU_LB:.3f} kJ/kg"),
        ("1 inch", f"{1000.0 * M_PER_INCH:.1f} mm", ""),
    )
    temperatures = tuple(
        (f"{celsius} °C", f"{number_words(float(celsius), 'c', display_units('psi_f'))} °F")
        for celsius in (-20, -10, 0, 10, 20, 25, 30, 35, 40, 50, 60)
    )
    differences = tuple(
        (f"{kelvin} K", f"{number_words(float(kelvin), 'k', display_units('psi_f'))} °F")
        for kelvin in (1, 2, 5, 10, 15, 20)
    )
    return Card(
        "Units",
        (
            "Say gauge or absolute with every pressure: absolute is gauge and the air of the place together.",
            "A superheat or subcooling is a difference: it has no 32 in it.",
        ),
        (
            Table("Conversions", ("this", "is", "and"), rows),
            Table("Temperatures", ("°C", "°F"), temperatures, numbers=True),
            Table("Differences", ("K", "°F"), differences, numbers=True),
        ),
        pair=True,
        below=("Factors: NIST SP 811 (2008), appendix B.8.",),
    )  # fmt: skip


def _published_leaks():
    """What is published on cars, and the settings of a detector, each with how it is known."""
    figures = [
        (one.name, SORT_NAMES[one.sort], rounded(one.rate_g_per_year.value, 1), one.rate_g_per_year.source)
        for one in read_leak_limits().figure.values()
    ]
    known = "second-hand: SAE J2791, one joint, not a car"
    settings = [
        ("Setting of an electronic detector", "SAE J2791", rounded(scale, 1), known) for scale in SCALES_G_PER_YEAR
    ]
    return (*figures, *settings)


def leak_rate_card(choice):
    """How long a leak takes, and what is published beside it."""
    charge = choice.charge_g
    rows = tuple(
        (
            f"{_plain(leak)}",
            rounded(oz_per_year_from_g_per_year(leak), 2),
            rounded(leak / 12.0, 1),
            span_words(years_to_charge(charge, LEFT_SHARE * charge, leak) * DAYS_PER_YEAR),
            span_words(years_to_charge(charge, 0.5 * charge, leak) * DAYS_PER_YEAR),
        )
        for leak in LEAKS_G_PER_YEAR
    )
    return Card(
        "Leak rates",
        ("Loss over days, times a year. A steady leak: right while liquid is left in the circuit.",),
        (
            Table(
                f"A charge of {charge:.0f} g",
                ("g/yr", "oz/yr", "g a month", f"down to {100.0 * LEFT_SHARE:.0f} %", "down to half"),
                rows,
                numbers=True,
            ),
            Table("Published figures", ("what", "sort", "g/yr", "how it is known"), _published_leaks()),
        ),
        below=(
            f"Bubbles: {read_leak_methods().method['bubbles'].blind_spots[1]}",
            "Ceilings are for new cars' type approval: no limit for a used car was found.",
        ),
    )  # fmt: skip


def cylinder_card(choice):
    """How much may go into a recovery cylinder."""
    units, numbers = choice.units, read_service_numbers("recovery")
    hottest, never = numbers.value("cylinder", "hottest_c"), numbers.value("cylinder", "never_above_c")
    known, never_words = (
        numbers.part["cylinder"],
        math.floor(to_display_temperature(never, units)),
    )  # a limit rounds down
    rows = []
    for one in choice.refrigerants:
        for share, holds_kg, full_c in overfilling(choice.volume_l, one):
            name = "at the limit" if share == 1.0 else f"{100.0 * (share - 1.0):.0f} % past it"
            pounds = rounded(holds_kg * 1000.0 / G_PER_POUND, 1)
            rows.append((f"{REFRIGERANTS[one]}, {name}", rounded(holds_kg, 1), pounds, degrees(full_c, units)))
    heads = ("contents", "kg", "lb", "liquid fills it at")
    return Card(
        f"Recovery cylinder of {_plain(choice.volume_l)} L",
        (
            "Follow the limit stamped on the cylinder and local rules: they go before this card.",
            f"Limit: four fifths of the volume full of liquid at {degrees(hottest, units)}.",
        ),
        (Table("What it may hold, and what happens past that", heads, tuple(rows), numbers=True),),
        below=(
            "Contents: scale reading less the tare on the collar. Room left: limit less contents less the scale's error.",
            f"Never above {never_words} {units.temperature} ({known['never_above_c'].source}); no flame, ever.",
            f"The four fifths: {known['fill_share'].source}. Their temperature: {known['hottest_c'].source}.",
            "Full of liquid it bursts or blows off, for liquid hardly gives way. The cylinder's own growth is not modelled.",
            "Never fill a disposable cylinder; check the test date on a refillable one.",
        ),
    )
