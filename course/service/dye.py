"""UV dye: how much for how much oil, how soon it shows, what too much does, and what glows besides."""

from dataclasses import dataclass

from course.errors import check_choice, check_range
from course.physics.refrigerant import REFRIGERANTS
from course.tables import read_dye
from course.units import DAYS_PER_YEAR, ML_PER_FL_OZ

OILS = ("PAG", "POE", "PVE", "mineral")
MOST_OIL_ML = 600.0  # mL: more than any car's system total (120-350); the workbook's own limit


@dataclass(frozen=True)
class DyeDose:
    """How much dye to put in, and why no more."""

    dose_ml: float  # mL to add, 0 when none may be added
    dose_fl_oz: float  # US fl oz
    share_after: float  # -, dye in the oil once it is in
    limited_by: str  # "oil", "cap", "label" or "dye already in"
    sentence: str


def _dose_terms():
    return {key: quantity.value for key, quantity in read_dye().dose.items()}


def oil_out_mg(leak_g_per_year, days):
    """Oil that a leak has brought to the outside.

    Parameters
    ----------
    leak_g_per_year : float
        Leak, 0 to 1,000,000 [g/yr].
    days : float
        Days of it [days].

    Returns
    -------
    float
        Oil [mg].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    4 % of what leaks (from memory; circuits carried 0.5-4.7 % in published tests). A leak of pure vapour at the top of
    a still pipe carries less; that is not modelled.

    Examples
    --------
    40 g/yr bring out about 4 mg a day:

    >>> round(oil_out_mg(40.0, 1.0), 1)
    4.4
    """
    leak = check_range("leak", leak_g_per_year, 0.0, 1e6, "g/yr", "a faster leak needs no dye")
    days = check_range("days", days, 0.0, 3650.0, "days", "count from the day the dye went in")
    return leak * 1000.0 / DAYS_PER_YEAR * days * read_dye().visible["oil_in_leak_share"].value


def dye_share(oil_ml, dye_ml):
    """How much dye there is in the oil.

    Parameters
    ----------
    oil_ml : float
        Oil in the circuit, 20 to 600 [mL].
    dye_ml : float
        Dye in it, 0 to 200 [mL].

    Returns
    -------
    float
        Dye over oil [-].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    By volume, dye over oil, as the trade reckons it.

    Examples
    --------
    One usual dose in 120-150 mL of oil is 5-6 %; four top-off cans with dye can pass 20 %:

    >>> [round(dye_share(oil, 7.4), 2) for oil in (150.0, 120.0)], dye_share(120.0, 4 * 7.4) > 0.2
    ([0.05, 0.06], True)
    """
    oil = check_range("oil in the circuit", oil_ml, 20.0, MOST_OIL_ML, "mL", "read the oil table of the car")
    dye = check_range("dye in the circuit", dye_ml, 0.0, 200.0, "mL", "ask what the cans held")
    return dye / oil


def doses_in_bottle(bottle_ml=None, dose_ml=None):
    """For how many cars a bottle of dye is enough.

    Parameters
    ----------
    bottle_ml : float or None
        Contents, 1 to 5,000; None: a one-ounce bottle [mL].
    dose_ml : float or None
        One car's dose, 0.5 to 50; None: the usual cap [mL].

    Returns
    -------
    float
        Doses [-].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    About 7 mL, a quarter of a US fluid ounce, for one car, and a one-ounce bottle for four: common practice, no
    standard's text was found. A fluid ounce of dye is a volume; the ounce of refrigerant on the label is a mass.

    Examples
    --------
    >>> round(doses_in_bottle())
    4
    """
    terms = _dose_terms()
    bottle, dose = (
        terms["bottle_ml"] if bottle_ml is None else bottle_ml,
        terms["most_ml"] if dose_ml is None else dose_ml,
    )
    bottle = check_range("bottle", bottle, 1.0, 5000.0, "mL", "read the bottle; 1 US fl oz is 29.6 mL")
    dose = check_range("dose", dose, 0.5, 50.0, "mL", "one car takes some 7 mL")
    return bottle / dose


def dye_dose(oil_ml, *, dye_in_ml=0.0, label_dose_ml=None):
    """How much dye to add: a small share of the oil, no more than the cap or the label, and never a second dose.

    Parameters
    ----------
    oil_ml : float
        Oil in the circuit, 20 to 600 [mL].
    dye_in_ml : float
        Dye that is in it already, from factory or an earlier filling, 0 to 200 [mL].
    label_dose_ml : float or None
        What the dye's label says for one car, 0.5 to 50; None: no label [mL].

    Returns
    -------
    DyeDose
        Dose, share afterwards, what limits it, and a sentence.

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    The least of 5 % of the oil (a compressor maker's advice, read), 7.4 mL (common practice) and the label. Any dye in
    the circuit stops it: one maker allows more only after flushing (read).

    Examples
    --------
    >>> [(round(dye_dose(oil).dose_ml, 1), dye_dose(oil).limited_by) for oil in (120.0, 240.0)]
    [(6.0, 'oil'), (7.4, 'cap')]
    >>> dye_dose(150.0, dye_in_ml=5.0).dose_ml
    0.0
    """
    terms, there = _dose_terms(), dye_share(oil_ml, dye_in_ml)
    if dye_in_ml > 0.0:
        told = f"There is dye in it already, {100.0 * there:.0f} % of the oil: look with the lamp, and add none before a flush."
        return DyeDose(0.0, 0.0, there, "dye already in", told)
    limits = {"oil": terms["usual_share"] * oil_ml, "cap": terms["most_ml"]}
    if label_dose_ml is not None:
        limits["label"] = check_range("dose on the label", label_dose_ml, 0.5, 50.0, "mL", "read it for one car")
    by = min(limits, key=limits.get)
    dose = limits[by]
    told = f"Add {dose:.1f} mL ({dose / ML_PER_FL_OZ:.2f} US fl oz) once, and write it on the car with the date."
    return DyeDose(dose, dose / ML_PER_FL_OZ, dye_share(oil_ml, dose), by, told)


def overdose(oil_ml, dye_ml):
    """What too much dye does.

    Parameters
    ----------
    oil_ml : float
        Oil in the circuit, 20 to 600 [mL].
    dye_ml : float
        Dye in it, 0 to 200 [mL].

    Returns
    -------
    list of str
        Sentences; none while the share is within what is advised.

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    5 % is a compressor maker's advice (read); one usual dose in little oil passes it by a point, so sentences begin
    at twice that (assumed). What it does is common practice: no measured wear was found.

    Examples
    --------
    >>> overdose(150.0, 7.4), overdose(120.0, 4 * 7.4)[0]
    ([], 'Dye is 25 % of the oil, 5 % is advised: flush the circuit and fill the right amount of the right oil.')
    """
    share, terms = dye_share(oil_ml, dye_ml), _dose_terms()
    if share <= terms["risky_share"]:
        return []
    first = (
        f"Dye is {100.0 * share:.0f} % of the oil, {100.0 * terms['usual_share']:.0f} % is advised: flush the circuit and fill "
        "the right amount of the right oil."
    )
    return [first, *read_dye().words["overdose"]]


def days_until_visible(leak_g_per_year, needed_factor=1.0):
    """How long a car must be driven before dye shows at a leak.

    Parameters
    ----------
    leak_g_per_year : float
        Leak, 0.1 to 1,000,000 [g/yr].
    needed_factor : float
        How much more oil it takes than in the dark with lamp and glasses, 1 to 100 [-].

    Returns
    -------
    float
        Days of ordinary driving [days].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    Time for 20 mg of oil (assumed) at oil_out_mg, after the dye has gone round. One bulletin looks after 5 minutes and
    again after 3-5 days; 7-14 days are common practice for shaft and evaporator seepage.

    Examples
    --------
    >>> round(days_until_visible(40.0), 1), round(days_until_visible(15.0))
    (4.6, 12)
    """
    leak = check_range("leak", leak_g_per_year, 0.1, 1e6, "g/yr", "below that dye never shows")
    factor = check_range("oil needed", needed_factor, 1.0, 100.0, "times", "1 is in the dark, with lamp and glasses")
    visible = read_dye().visible
    return visible["mixing_days"].value + factor * visible["oil_mg"].value / oil_out_mg(leak, 1.0)


def dye_may_go_in(*, carrier_oil, car_oil, made_for, refrigerant, high_voltage):
    """Whether a dye suits a car, and if not, why.

    Parameters
    ----------
    carrier_oil : str
        Oil the dye comes in, one of OILS.
    car_oil : str
        Oil the car's label asks for, one of OILS.
    made_for : sequence of str
        Refrigerants the dye's label names, "R134a" or "R1234yf".
    refrigerant : str
        What is in the car.
    high_voltage : bool
        Whether the compressor is driven by a high-voltage motor.

    Returns
    -------
    tuple of bool and list of str
        Whether it may, and the reasons.

    Raises
    ------
    UnknownChoice
        When an oil or refrigerant is not one of those.

    Notes
    -----
    SAE J2297 sets stability and compatibility for both refrigerants (second-hand). In a motor that sits in the oil about
    1 % of PAG lowers the insulation (trade press, read).

    Examples
    --------
    >>> dye_may_go_in(carrier_oil="PAG", car_oil="POE", made_for=["R134a"], refrigerant="R134a", high_voltage=True)[0]
    False
    """
    check_choice("the dye's oil", carrier_oil, OILS)
    check_choice("the car's oil", car_oil, OILS)
    check_choice("refrigerant", refrigerant, REFRIGERANTS)
    for name in made_for:
        check_choice("refrigerant on the dye's label", name, REFRIGERANTS)
    reasons = []
    if refrigerant not in made_for:
        reasons.append(f"The dye's label does not name {REFRIGERANTS[refrigerant]}: take one that does (SAE J2297).")
    if carrier_oil != car_oil:
        reasons.append(f"The dye comes in {carrier_oil}, the car runs on {car_oil}: take dye in the car's own oil.")
        if high_voltage:
            reasons.append("A high-voltage motor sits in that oil: a little of the wrong one lowers its insulation.")
    return not reasons, reasons


def good_to_know(about):
    """What to keep in mind about dye: false glows, cleaning, too much of it, or your eyes and hands.

    Parameters
    ----------
    about : str
        "false_glows", "cleaning", "overdose" or "care".

    Returns
    -------
    list of str
        Sentences.

    Raises
    ------
    UnknownChoice
        When it is none of those.

    Notes
    -----
    Common practice, apart from wiping the ports and the car's label, which are in manuals (read).

    Examples
    --------
    >>> len(good_to_know("false_glows")) > 2
    True
    """
    words = read_dye().words
    return list(words[check_choice("subject", about, words)])
