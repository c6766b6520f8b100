"""The cards of the job: oil, rules for superheat and subcooling, the order of work, what can hurt, and the words."""

from course.charts.printed_readings import number_words, unit_words
from course.evidence.as_printed import READINGS
from course.service.cautions import REGIONS
from course.service.oil import EVENTS, PARTS
from course.tables import read_cautions, read_glossary, read_printed_readings, read_service_numbers
from course.units import ML_PER_FL_OZ
from course.widgets.card_layout import Card, Table
from course.widgets.oil_panel import NEW_COMPRESSOR

ALL_REGIONS = "all"
BLANK = "________"
BOX = "☐"
FORM = (
    ("System total, from the car's papers", "a"),
    ("Caught in the machine's bottle", "b"),
    ("Drained out of the old part", "c"),
    ("Allowance of each part renewed, from the table", "d"),
    ("Lost with a sudden event, from the table", "e"),
    ("To add: b + c + d + e", "f"),
    ("Still inside before adding: a less f", "g"),
)


def _span(ends):
    """From one number to another, or the one they both are."""
    return " to ".join(dict.fromkeys(ends))


def oil_card(choice):
    """The oil form, with the allowances of single cars beside it."""
    oil = read_service_numbers("oil")
    rows = []
    for name in (*PARTS, *EVENTS):
        ends = (oil.value(name, "least_ml"), oil.value(name, "most_ml"))
        known = dict.fromkeys(oil.part[name][key].source for key in ("least_ml", "most_ml"))
        ounces = _span(f"{end / ML_PER_FL_OZ:.1f}" for end in ends)
        rows.append((name.replace("_", " "), _span(f"{end:.0f}" for end in ends), ounces, "; ".join(known)))
    form = tuple((f"{letter}  {line}", f"{BLANK} mL") for line, letter in FORM)
    harm = oil.part["limits"]["wrong_oil_share"]
    return Card(
        "Oil form",
        ("Volumes, not weights: fluid ounces of oil are not ounces of refrigerant.",),
        (
            Table("Fill in", ("line", "amount"), form),
            Table("Allowances: factory examples, one vehicle each", ("part or event", "mL", "fl oz", "how it is known"), tuple(rows)),
        ),
        below=(
            "The car's own manual goes first. Give a compressor either what drained or the allowance, as the manual says.",
            NEW_COMPRESSOR,
            f"A high-voltage compressor takes only the insulating oil on its label. Known on PAG in it: {harm.source}.",
        ),
    )  # fmt: skip


def _limits_words(band, units):
    """From and to of a printed rule in the learner's units; None where it is no band."""
    words, unit = {}, ""
    for name, quantity in band.printed.items():
        end, _, unit = name.partition("_")
        words[end] = number_words(float(quantity.value), unit, units)
    if "to" not in words:
        return None
    span = f"{words['from']} to {words['to']}" if "from" in words else f"up to {words['to']}"
    return f"{span} {unit_words(unit, units)}".strip()


def rules_card(choice):
    """Rules of the trade with their limits, and how each is known."""
    printed, rows = read_printed_readings(), []
    for band in printed.band.values():
        source, setup = next(iter(band.printed.values())).source, printed.setup[band.setup]
        rule = _limits_words(band, choice.units)
        if rule and (band.topic == "heat" or source.startswith("common practice")):
            rows.append((READINGS[band.reading][0], rule, setup.title, setup.stands_in, source))
    return Card(
        "Rules for superheat, subcooling and the rest, with their limits",
        (
            "Most have no source, and none holds in all weather: use them to look twice, not to condemn a part.",
            "Superheat at the evaporator outlet, subcooling at the condenser outlet; contact probes, not infrared on bright pipes.",
        ),
        (Table("Rules", ("reading", "rule", "when", "which system", "how it is known"), tuple(rows)),),
        below=(
            "Superheat counts from the low side's boiling point, subcooling from the high side's: use the P-T card at your altitude.",
            "Lesson 81 shows which of these rules the simulated cars keep, and why not the others.",
        ),
    )


def _known(part, key):
    """How a number of the service files is known."""
    file, name = part
    return read_service_numbers(file).part[name][key].source


def checklist_card(choice):
    """Recover, evacuate, charge, prove: the order of work with its numbers."""
    recovery, evacuation = read_service_numbers("recovery"), read_service_numbers("evacuation")
    published, rise = ("recovery", "published"), ("evacuation", "rise")
    new = recovery.value("published", "new_least_share")
    rest, dry = recovery.value("published", "rebound_min"), evacuation.value("rise", "dry_micron")
    hold, machine = (
        evacuation.value("rise", "shortest_min"),
        read_service_numbers("charging").value("machine", "accuracy_g"),
    )
    common = "common practice"
    steps = (
        ("Before", "Read the label: refrigerant, charge, oil; look for orange cables and sealer", common),
        ("Before", "Identify the refrigerant before anything is connected", common),
        ("Recover", "Weigh the cylinder first: is there room? See the cylinder card", common),
        ("Recover", f"In a warm shop; a machine of today takes at least {100.0 * new:.0f} %", _known(published, "new_least_share")),
        ("Recover", f"Stop, wait {rest:.0f} min; if it rises above zero gauge, go on", _known(published, "rebound_min")),
        ("Recover", "Write down grams recovered and oil caught", common),
        ("Repair", "New seal rings of the right kind; caps on open ends; torque from the manual", common),
        ("Repair", "Pressure-test with dry nitrogen through a regulator with relief valve, where the maker allows it; never air or oxygen", common),
        ("Evacuate", "Short wide hoses, both ports, micron gauge on the car, not at the pump; cores out only where the car allows it", common),
        ("Evacuate", f"Close off, watch the micron gauge an hour, never under {hold:.0f} min", _known(rise, "shortest_min")),
        ("Evacuate", "A straight rise is a leak, a bent one water or gas from oil", common),
        ("Evacuate", f"Levelled below {dry:,.0f} micron it counts as dry", _known(rise, "dry_micron")),
        ("Evacuate", "A vacuum that holds is no proof of a tight circuit", "second-hand: SAE J1628-2020"),
        ("Charge", "Oil first, from the oil form", common),
        ("Charge", f"By weight, to the label; the machine is good to {machine:.0f} g", _known(("charging", "machine"), "accuracy_g")),
        ("Charge", "Liquid only into the high side, engine off; with the engine on that valve stays shut, and only vapour goes in low", common),
        ("Charge", "Never start the A/C while the circuit is under vacuum", "from memory"),
        ("Charge", "Turn the compressor by hand some turns before it starts", common),
        ("Prove", "Performance test with weather, speed and settings written down", common),
        ("Prove", "Leak-test the repair and both service ports; caps on", "second-hand: SAE J1628 procedure"),
        ("Prove", "Date, grams in and out, oil, places looked at and how: into the record", common),
    )  # fmt: skip
    return Card(
        "Recover, evacuate, charge, prove",
        ("Wear goggles and gloves. Local codes, the maker's instructions and licensed practice come first.",),
        (Table("Tick as you go", ("part", "done", "step", "how it is known"), tuple((part, BOX, *rest) for part, *rest in steps)),),
    )  # fmt: skip


def safety_card(choice):
    """What can hurt and what the law asks, dated, by region."""
    shown = [
        one
        for one in read_cautions().values()
        if choice.region in (ALL_REGIONS, one.region) or one.region == "everywhere"
    ]
    rows = tuple((one.topic, one.text, f"{one.region}, {one.as_of}", one.source, one.defers_to) for one in shown)
    where = "every region named here" if choice.region == ALL_REGIONS else choice.region
    return Card(
        f"Safety, high voltage and law: {where}",
        (
            "Reminders as of their dates, not law and not a training: local codes and a licensed person go first.",
            "Wear goggles and gloves. Orange cables are for trained people only.",
        ),
        (Table("Cautions", ("about", "caution", "where, as of", "how it is known", "first comes"), rows),),
    )  # fmt: skip


def glossary_card(choice):
    """The words, or those that hold what is looked for."""
    wanted = choice.word.strip().lower()
    terms = sorted(read_glossary().values(), key=lambda one: one.term.lower())
    found = [one for one in terms if wanted in " ".join((one.term, *one.also, one.meaning)).lower()]
    rows = tuple((one.term, ", ".join(one.also), one.meaning, one.measured, one.trap) for one in found)
    many = f"{len(rows)} of {len(terms)} words" if wanted else f"{len(rows)} words"
    return Card(
        f"Glossary: {many}",
        () if rows else (f"Nothing here holds {choice.word.strip()!r}: try a shorter piece of the word.",),
        (Table("Words", ("word", "also called", "what it means", "where you measure it", "the trap"), rows),),
    )


REGION_CHOICES = (ALL_REGIONS, *REGIONS)
