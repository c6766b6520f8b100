"""A leak hunt on paper: a sheet to work on and a key to keep apart, black and white, for A4 and Letter."""

from html import escape
from pathlib import Path

from course.charts.engine_bay import engine_bay_svg, place_numbers
from course.charts.style import COLOURS
from course.charts.words import degrees
from course.errors import WorkbookError
from course.physics.refrigerant import REFRIGERANTS
from course.service.belief import kinds_and_sizes, place_chances
from course.service.hunt import Step, begin_hunt, finds, take_look, the_look
from course.service.hunt_plan import best_next_look, follow_best_plan, how_good
from course.service.hunt_verdict import place_name, what_is_left
from course.tables import read_leak_methods, read_leak_places, read_leak_survey
from course.units import display_units

# looks somebody made before: some good, one in the wrong state of the car, one without its wait
MADE = (
    Step("condenser_front", "electronic"),
    Step("shaft_seal", "electronic"),
    Step("low_side_port", "electronic", care=0.0),
    Step("evaporator_core", "electronic"),
    Step("discharge_crimp_compressor", "electronic"),
    Step("evaporator_core", "bubbles"),
)
ASKED = 1  # number of the look whose worth is worked out by hand: the first place of the trade's own list of suspects
INK = "".join(f"--workbook-{name}:#000;" for name in COLOURS if name not in ("paper", "faint"))
PAGE_STYLE = f"""<style>
@page {{ margin: 14mm; }}
body {{ {INK}--workbook-faint:#666;--workbook-paper:#fff; font: 11pt/1.35 sans-serif; color: #000; background: #fff; margin: 0; }}
h1 {{ font-size: 16pt; margin: 0 0 6pt; }} h2 {{ font-size: 12pt; margin: 10pt 0 4pt; }}
.sheet {{ display: grid; grid-template-columns: 88mm 1fr; gap: 6mm; max-width: 182mm; }}
.sheet svg {{ width: 88mm; }}
table {{ border-collapse: collapse; width: 100%; max-width: 182mm; font-size: 9.5pt; }}
td, th {{ border: 0.6pt solid #000; padding: 2pt 4pt; text-align: left; vertical-align: top; }}
ol {{ margin: 0; padding-left: 16pt; }} .places {{ columns: 2; font-size: 9pt; max-width: 182mm; }}
.line {{ border-bottom: 0.6pt solid #000; height: 20pt; max-width: 182mm; }}
tr, li, .keep {{ break-inside: avoid; }}
</style>"""


def _looked(number):
    """The hunt before the first look, and before and after each of the looks made."""
    hunts = [begin_hunt(number, residue_g_per_year=0.0)]
    for step in MADE:
        hunts.append(take_look(hunts[-1], step))
    return hunts


def _find_share(hunt, step):
    """The share of the leaks a place can have that a look there shows."""
    return float(kinds_and_sizes(hunt.belief, step.place) @ finds(hunt, the_look(hunt, step), step.place))


def _how(step):
    care = "by the book" if step.care == 1.0 else "hurried"
    wait = f", after {step.wait_minutes:.0f} min" if step.wait_minutes else ", no wait"
    return f"{read_leak_methods().method[step.method].name}, {step.state.replace('_', ' ')}, {care}{wait}"


def _log(hunts, more=None):
    head = "".join(f"<th>{one}</th>" for one in ("Look", "Place", "How", "Seen", *([more[0]] if more else [])))
    rows = ""
    for number, seen in enumerate(hunts[-1].log, start=1):
        where = f"{place_numbers()[seen.place]} {place_name(seen.place)}"
        cells = (
            number,
            where,
            _how(seen.step),
            "a signal" if seen.signal else "nothing",
            *([more[number]] if more else []),
        )
        rows += "<tr>" + "".join(f"<td>{escape(str(cell))}</td>" for cell in cells) + "</tr>"
    return f"<table><tr>{head}</tr>{rows}</table>"


def _page(title, body):
    return (
        f'<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>{escape(title)}</title>{PAGE_STYLE}</head>'
        f"<body><h1>{escape(title)}</h1>{body}</body></html>\n"
    )


def _car(hunt):
    car = hunt.car
    warmth = " or ".join(degrees(car.temperature_c, display_units(units)) for units in ("kpa_c", "psi_f"))
    return (
        f"An invented car: {REFRIGERANTS[car.refrigerant]}, {100 * car.charge_left_fraction:.0f} % of its charge left, "
        f"{warmth} in the shop, engine off. One place leaks."
    )


def hunt_sheet(number):
    """The sheet a learner works on.

    Parameters
    ----------
    number : int
        Number of the hunt; the key has the same.

    Returns
    -------
    str
        An HTML page to print.

    Raises
    ------
    OutOfRange
        When the number is below zero.

    Notes
    -----
    Chances before the first look stand on the drawing; six looks are made already, and not all were good.

    Examples
    --------
    >>> "Worked by" in hunt_sheet(7)
    True
    """
    hunts = _looked(number)
    step, before = MADE[ASKED], hunts[ASKED]
    chance, share = place_chances(before.belief)[step.place], _find_share(before, step)
    places = "".join(f"<li>{escape(entry.name)}</li>" for entry in read_leak_places().values())
    tasks = (
        (
            f"Before look {ASKED + 1}, place {place_numbers()[step.place]} had {100 * chance:.1f} % of the chance. Such a look shows "
            f"{100 * share:.0f} of 100 of the leaks that place can have. Had it shown nothing: how much would be left there?"
        ),
        "Looks 4 and 6 were both at the evaporator. What was each worth, and why?",
        "Which leaks could none of the six looks have shown, however large?",
        "Mark on the drawing the three places you would look at next, and write down method, car and wait.",
    )
    asked = "".join(
        f'<div class="keep"><p>{escape(task)}</p><div class="line"></div><div class="line"></div></div>'
        for task in tasks
    )
    body = (
        "<p>Worked by ______________________ Date ____________</p>"
        f"<p>{escape(_car(hunts[0]))}</p>"
        f'<div class="sheet"><div>{engine_bay_svg(place_chances(hunts[0].belief))}</div>'
        f'<div><h2>The places</h2><ol style="font-size:9pt">{places}</ol></div></div>'
        f"<h2>Looks made so far</h2>{_log(hunts)}<h2>Your turn</h2>{asked}"
    )
    return _page(f"Leak hunt on paper, number {number}", body)


def _answers(hunts, goods):
    step, before, after = MADE[ASKED], hunts[ASKED], hunts[-1]
    chance, share = place_chances(before.belief)[step.place], _find_share(before, step)
    left = chance * (1.0 - share) / (1.0 - chance * share)
    best, kinds = best_next_look(after), read_leak_survey().kind
    if best.step is None:
        advice = f"name {' and '.join(map(place_name, best.places))}"
    else:
        advice = f"{_how(best.step)}, at {place_numbers()[best.step.place]} {place_name(best.step.place)}"
    yield (
        f"{100 * chance:.1f} % x {1 - share:.2f} / (1 - {chance:.3f} x {share:.2f}) = {100 * left:.1f} %. A negative look leaves "
        "chance behind: it does not clear a place."
    )
    yield (
        f"Of the best look then, look 4 was worth {100 * goods[3]:.0f} % and look 6 {100 * goods[5]:.0f} %. Gas has to gather in "
        "the case before it is probed there (blower 15 s, off, then 10 to 13 minutes), and nobody can see a bubble in it."
    )
    yield (
        f"Those that are open only hot or only while running ({kinds['hot'].name}; {kinds['running'].name}): the engine was off "
        "at every look. Those at places nobody looked at. Those at a place not on the list."
    )
    yield f"Best next: {advice}. Any three likely places in a fitting state are right. {what_is_left(after)}"


def _truth(after):
    (leak,) = after.car.leaks
    done, named = follow_best_plan(after)
    return (
        f"It leaks at {place_name(leak.place)}: {leak.rate_g_per_year:.0f} g a year; it {read_leak_survey().kind[leak.kind].name}. "
        f"From here the best plan takes {done.minutes - after.minutes:.0f} min more and names "
        f"{' and '.join(map(place_name, named))}."
    )


def hunt_key(number):
    """The key to the sheet of the same number.

    Parameters
    ----------
    number : int
        Number of the hunt.

    Returns
    -------
    str
        An HTML page to print and keep apart.

    Raises
    ------
    OutOfRange
        When the number is below zero.

    Notes
    -----
    Bayes' rule by hand: left = chance x missed / (1 - chance x found). The drawing shows the chances after all six looks.

    Examples
    --------
    >>> "It leaks at" in hunt_key(7)
    True
    """
    hunts = _looked(number)
    goods = [how_good(hunt, seen.step) for hunt, seen in zip(hunts, hunts[-1].log, strict=False)]
    worth = ["Worth, of the best then", *(f"{100 * good:.0f} %" for good in goods)]
    told = "".join(f"<li>{escape(answer)}</li>" for answer in _answers(hunts, goods))
    body = (
        f"<p>{escape(_car(hunts[0]))}</p><h2>Answers</h2><ol>{told}</ol><p><b>{escape(_truth(hunts[-1]))}</b></p>"
        f"<h2>The looks and what each was worth</h2>{_log(hunts, worth)}"
        f'<h2>Chances after the six looks</h2><div class="sheet"><div>{engine_bay_svg(place_chances(hunts[-1].belief))}</div></div>'
    )
    return _page(f"Key to leak hunt on paper, number {number}", body)


def save_hunt_papers(number, folder):
    """Store the sheet and its key as two pages.

    Parameters
    ----------
    number : int
        Number of the hunt.
    folder : str or Path
        Where to.

    Returns
    -------
    tuple of Path
        Sheet and key.

    Raises
    ------
    OutOfRange
        When the number is below zero.
    WorkbookError
        When there is no such folder.

    Notes
    -----
    Any browser prints them.

    Examples
    --------
    >>> save_hunt_papers(7, "no such folder")
    Traceback (most recent call last):
    course.errors.WorkbookError: no such folder: there is no such folder to store the papers in; make it first.
    """
    folder = Path(folder)
    if not folder.is_dir():
        raise WorkbookError(f"{folder}: there is no such folder to store the papers in; make it first.")
    papers = ((f"leak_hunt_{number}.html", hunt_sheet(number)), (f"leak_hunt_{number}_key.html", hunt_key(number)))
    for name, page in papers:
        (folder / name).write_text(page, encoding="utf-8", newline="\n")
    return tuple(folder / name for name, _ in papers)
