"""Oil: the balance by part and event, what too little and too much do, and the wrong oil refused."""

from dataclasses import dataclass

from course.errors import OutOfRange, UnknownChoice, check_choice, check_range
from course.tables import read_service_numbers

PARTS = ("condenser", "evaporator", "accumulator", "receiver_drier", "compressor", "hose_or_line")
EVENTS = ("slow_leak", "sudden_loss")
KINDS = ("pag46", "pag100", "pag150", "poe68")
DRIVES = ("belt", "high_voltage")
MOST_ML = 1000.0  # mL; no car holds more


@dataclass(frozen=True)
class OilLine:
    """One line of the oil form: what left with a part, an event or the machine."""

    name: str
    least_ml: float  # mL
    most_ml: float  # mL


@dataclass(frozen=True)
class OilBalance:
    """The oil form: system total, what left, what is still inside, what to add."""

    system_total_ml: float  # mL, from the car's papers
    lines: tuple  # of OilLine
    least_to_add_ml: float  # mL
    most_to_add_ml: float  # mL
    least_inside_ml: float  # mL left in the circuit before adding
    most_inside_ml: float  # mL left in the circuit before adding


def _allowance(name):
    numbers = read_service_numbers("oil")
    return OilLine(name, numbers.value(name, "least_ml"), numbers.value(name, "most_ml"))


def oil_balance(system_total_ml, recovered_ml, parts=(), events=(), drained_ml=0.0):
    """Fill in the oil form: what left the circuit, and so what goes back.

    Parameters
    ----------
    system_total_ml : float
        Total from the car's papers, 50 to 1,000 [mL].
    recovered_ml : float
        Caught in the machine's bottle, 0 to the total [mL].
    parts : sequence of str
        Parts renewed, among PARTS; the same part twice counts twice.
    events : sequence of str
        What happened, among EVENTS.
    drained_ml : float
        Poured out of the old compressor or accumulator, 0 to the total [mL].

    Returns
    -------
    OilBalance
        Lines and sums, each from least to most [mL].

    Raises
    ------
    UnknownChoice, OutOfRange
        When a part or event is unknown, or more left than the circuit ever held.

    Notes
    -----
    To add = recovered + drained + allowance of each part + loss of each event; inside = total less that. Allowances are
    factory examples of single cars (data/service/oil.toml): the car's own manual goes first. New compressors come with
    oil in them, often the whole car's (200-240 mL, read): what drains from the old one goes back, the rest is poured off.
    For a compressor give either what drained or the allowance, as the manual says.

    Examples
    --------
    A condenser, 20 mL caught: 50 mL go back, and of 200 mL 150 stayed inside:

    >>> balance = oil_balance(200.0, 20.0, ["condenser"])
    >>> balance.least_to_add_ml, balance.most_to_add_ml, balance.least_inside_ml
    (50.0, 50.0, 150.0)
    """
    total = check_range("system total", system_total_ml, 50.0, MOST_ML, "mL", "read it in the car's papers")
    caught = check_range(
        "oil recovered", recovered_ml, 0.0, total, "mL", "read the bottle; it is a volume, not a weight"
    )
    drained = check_range("oil drained", drained_ml, 0.0, total, "mL", "measure what ran out of the old part")
    lines = [OilLine("recovered", caught, caught), OilLine("drained", drained, drained)]
    lines += [_allowance(check_choice("part renewed", part, PARTS)) for part in parts]
    lines += [_allowance(check_choice("event", event, EVENTS)) for event in events]
    least, most = sum(line.least_ml for line in lines), sum(line.most_ml for line in lines)
    if least > total:
        raise OutOfRange(
            f"oil: at least {least:g} mL would have left a circuit of {total:g} mL; check the total and what was counted "
            "twice, or flush and fill the whole total."
        )
    most = min(most, total)
    return OilBalance(total, tuple(lines), least, most, total - most, total - least)


def judge_oil(system_total_ml, inside_ml):
    """Say what an amount of oil in the circuit will do.

    Parameters
    ----------
    system_total_ml : float
        Total from the car's papers, 50 to 1,000 [mL].
    inside_ml : float
        What is in the circuit, 0 to 2,000 [mL].

    Returns
    -------
    tuple of str
        "underfilled", "right" or "overfilled", and a sentence.

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    Bounds at 80 and 120 % of the total are assumed. Effects: an 1984 factory manual (too much lowers cooling, too little
    destroys the compressor, read) and common practice. The simulator has no oil in it.

    Examples
    --------
    >>> judge_oil(200.0, 190.0)[0]
    'right'
    """
    total = check_range("system total", system_total_ml, 50.0, MOST_ML, "mL", "read it in the car's papers")
    inside = check_range("oil inside", inside_ml, 0.0, 2.0 * MOST_ML, "mL", "it is a volume, not a weight")
    numbers, share = read_service_numbers("oil"), inside / total
    if share < numbers.value("limits", "underfill_share"):
        return "underfilled", f"{100 * share:.0f} % of the total: the compressor runs short of oil and wears out."
    if share > numbers.value("limits", "overfill_share"):
        return "overfilled", (
            f"{100 * share:.0f} % of the total: oil takes the place of refrigerant, the vents turn warmer, the high side rises and a "
            "slug of liquid can break the compressor at start."
        )
    return "right", f"{100 * share:.0f} % of the total: nothing to add or take out."


def check_oil(kind, label_kind, drive):
    """Return the oil's name when the compressor takes it, else refuse it with the reason.

    Parameters
    ----------
    kind : str
        Oil in hand, among KINDS.
    label_kind : str
        Oil on the compressor's label, among KINDS.
    drive : str
        "belt" or "high_voltage".

    Returns
    -------
    str
        The oil.

    Raises
    ------
    UnknownChoice
        When a name is unknown, or the oil is not for that compressor.

    Notes
    -----
    Windings of a high-voltage compressor lie in the oil, so it must insulate: polyol ester (or PVE), never PAG; about 1 %
    PAG already lowers the insulation (a compressor maker's chart in the trade press, second-hand). Belt-driven hybrids
    still take PAG: the label decides.

    Examples
    --------
    >>> check_oil("pag46", "pag46", "belt")
    'pag46'
    """
    for one in (kind, label_kind):
        check_choice("oil", one, KINDS)
    check_choice("drive", drive, DRIVES)
    if drive == "high_voltage" and (kind.startswith("pag") or label_kind.startswith("pag")):
        raise UnknownChoice(
            f"oil: {kind} with a label of {label_kind} was given for a high-voltage compressor: PAG conducts and about 1 % of "
            "it already spoils the insulation; use only the ester oil on the label, from a clean hose, and have it measured."
        )
    if kind != label_kind:
        thick = read_service_numbers("oil")
        raise UnknownChoice(
            f"oil: {kind} ({thick.value(kind, 'viscosity_mm2_s'):g} mm2/s) is not the {label_kind} "
            f"({thick.value(label_kind, 'viscosity_mm2_s'):g} mm2/s) of the label: do not mix; use what the label says."
        )
    return kind


def wrong_oil_share(wrong_ml, system_total_ml):
    """How much of the oil is the wrong kind, and whether that already harms a high-voltage compressor.

    Parameters
    ----------
    wrong_ml : float
        Wrong oil that got in, such as PAG from a shared hose, 0 to the total [mL].
    system_total_ml : float
        Total from the car's papers, 50 to 1,000 [mL].

    Returns
    -------
    tuple
        Share of the total [-], and True where it reaches the limit.

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    Limit: about 1 % (second-hand, see check_oil).

    Examples
    --------
    2 mL out of a hose spoil 150 mL:

    >>> wrong_oil_share(2.0, 150.0)[1]
    True
    """
    total = check_range("system total", system_total_ml, 50.0, MOST_ML, "mL", "read it in the car's papers")
    share = check_range("wrong oil", wrong_ml, 0.0, total, "mL", "it is a volume, not a weight") / total
    return share, share >= read_service_numbers("oil").value("limits", "wrong_oil_share")
