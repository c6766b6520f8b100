"""Numbers with a unit, as a learner writes and reads them: every unit of the kind is taken, none is guessed."""

import re
from dataclasses import dataclass

from course import units as of_units
from course.errors import BadDataFile, OutOfRange, check_choice
from course.units import STANDARD_ATMOSPHERE_PA, ZERO_C_IN_K

_PRESSURES = {
    "psi": of_units.PA_PER_PSI / of_units.PA_PER_KPA,
    "kPa": 1.0,
    "bar": of_units.PA_PER_BAR / of_units.PA_PER_KPA,
    "MPa": 1.0e3,
    "Pa": 1.0 / of_units.PA_PER_KPA,
    "mbar": of_units.PA_PER_MBAR / of_units.PA_PER_KPA,
    "inHg": of_units.PA_PER_INHG / of_units.PA_PER_KPA,
}
_VACUUMS = {
    "micron": of_units.PA_PER_MICRON / of_units.PA_PER_KPA,
    "torr": of_units.PA_PER_MICRON * 1.0e3 / of_units.PA_PER_KPA,
}
_LOW_PRESSURES = ("Pa", "kPa", "mbar", "inHg")  # units in which a vacuum is read, beside micron and torr
_MINUTES_PER_DAY = of_units.SECONDS_PER_DAY / 60.0
_ATMOSPHERE_KPA = STANDARD_ATMOSPHERE_PA / of_units.PA_PER_KPA


@dataclass(frozen=True)
class Kind:
    """One kind of quantity: its name, its units as factors on the base unit, and what no car or shop ever shows."""

    name: str
    units: dict  # unit -> size in the base unit; the first is the base unit
    shown: dict  # unit set -> (unit, digits)
    low: float  # base unit: the least that can be meant
    high: float  # base unit: the most that can be meant


def _everywhere(unit, digits):
    return dict.fromkeys(of_units.UNIT_SETS, (unit, digits))


_SHOWN_PRESSURE = {"psi_f": ("psi", 0), "kpa_c": ("kPa", 0), "bar_c": ("bar", 2)}
_TIMES = {
    "days": 1.0,
    "years": of_units.DAYS_PER_YEAR,
    "months": of_units.DAYS_PER_YEAR / 12.0,
    "weeks": 7.0,
    "h": 1.0 / 24.0,
    "min": 1.0 / _MINUTES_PER_DAY,
    "s": 1.0 / of_units.SECONDS_PER_DAY,
}
KINDS = {
    "gauge_pressure": Kind("gauge pressure", _PRESSURES, _SHOWN_PRESSURE, -_ATMOSPHERE_KPA, 1.0e4),
    "absolute_pressure": Kind("absolute pressure", _PRESSURES | _VACUUMS, _SHOWN_PRESSURE, 0.0, 1.0e4),
    "pressure_difference": Kind("pressure difference", _PRESSURES | _VACUUMS, _SHOWN_PRESSURE, -1.0e4, 1.0e4),
    "temperature": Kind(
        "temperature",
        {"°C": 1.0, "°F": 1.0 / 1.8, "K": 1.0},
        {"psi_f": ("°F", 0), "kpa_c": ("°C", 0), "bar_c": ("°C", 0)},
        -100.0,
        400.0,
    ),
    "temperature_difference": Kind(
        "temperature difference",
        {"K": 1.0, "°C": 1.0, "°F": 1.0 / 1.8},
        {"psi_f": ("°F", 0), "kpa_c": ("K", 0), "bar_c": ("K", 0)},
        -300.0,
        300.0,
    ),
    "mass": Kind(
        "mass",
        {"g": 1.0, "kg": of_units.G_PER_KG, "oz": of_units.G_PER_OUNCE, "lb": of_units.G_PER_POUND},
        _everywhere("g", 0),
        -1.0e5,
        1.0e5,
    ),
    "leak_rate": Kind(
        "leak rate",
        {"g/yr": 1.0, "kg/yr": of_units.G_PER_KG, "oz/yr": of_units.G_PER_OUNCE, "lb/yr": of_units.G_PER_POUND},
        _everywhere("g/yr", 0),
        0.0,
        1.0e6,
    ),
    "time": Kind(
        "time",
        _TIMES,
        _everywhere("days", 0),
        0.0,
        1.0e5,
    ),
    # the same quantity where a test lasts minutes
    "minutes": Kind("time", _TIMES, _everywhere("min", 0), 0.0, 1.0e5),
    "vacuum": Kind(
        "vacuum", _VACUUMS | {unit: _PRESSURES[unit] for unit in _LOW_PRESSURES}, _everywhere("micron", 0), 0.0, 200.0
    ),
    "volume": Kind(
        "volume",
        {"mL": 1.0, "L": 1.0e3, "fl oz": of_units.ML_PER_FL_OZ},
        _everywhere("mL", 0),
        0.0,
        1.0e5,
    ),
    "percent": Kind("percentage", {"%": 1.0}, _everywhere("%", 0), -1.0e4, 1.0e4),
    "power": Kind("power", {"W": 1.0, "kW": 1.0e3, "Btu/h": of_units.W_PER_BTU_H}, _everywhere("W", 0), -1.0e6, 1.0e6),
    "flow": Kind(
        "flow",
        {"g/s": 1.0, "kg/s": 1.0e3, "kg/h": 1.0 / 3.6, "g/min": 1.0 / 60.0, "lb/min": of_units.G_PER_POUND / 60.0},
        _everywhere("g/s", 2),
        0.0,
        1.0e5,
    ),
    "heat_content": Kind(
        "heat content",
        {"kJ/kg": 1.0, "Btu/lb": of_units.KJ_KG_PER_BTU_LB},
        _everywhere("kJ/kg", 0),
        -1.0e4,
        1.0e4,
    ),
    "plain": Kind("plain number", {"": 1.0}, _everywhere("", 1), -1.0e9, 1.0e9),
}
# the end of a name says its kind, and what one of it is in the kind's base unit
ENDINGS = {
    "_kpa_gauge": ("gauge_pressure", 1.0),
    "_kpa_absolute": ("absolute_pressure", 1.0),
    "_micron": ("vacuum", _VACUUMS["micron"]),
    "_kpa": ("pressure_difference", 1.0),
    "_g_per_year": ("leak_rate", 1.0),
    "_kg_h": ("flow", 1.0 / 3.6),
    "_kg_s": ("flow", 1.0e3),
    "_kj_kg": ("heat_content", 1.0),
    "_percent": ("percent", 1.0),
    "_fraction": ("percent", 100.0),
    "_share": ("percent", 100.0),
    "_days": ("time", 1.0),
    "_years": ("time", of_units.DAYS_PER_YEAR),
    "_hours": ("time", 1.0 / 24.0),
    "_minutes": ("minutes", 1.0 / _MINUTES_PER_DAY),
    "_ml": ("volume", 1.0),
    "_kg": ("mass", of_units.G_PER_KG),
    "_g": ("mass", 1.0),
    "_w": ("power", 1.0),
    "_c": ("temperature", 1.0),
    "_k": ("temperature_difference", 1.0),
    "cop": ("plain", 1.0),
    "_ratio": ("plain", 1.0),
    "_count": ("plain", 1.0),
}
# other spellings, in small letters and without spaces, degree signs and dots
_SPELLINGS = {
    "c": "°C", "celsius": "°C", "f": "°F", "fahrenheit": "°F", "k": "K", "kelvin": "K", "gram": "g", "grams": "g",
    "ounce": "oz", "ounces": "oz", "pound": "lb", "pounds": "lb", "lbs": "lb", "percent": "%", "day": "days", "d": "days",
    "year": "years", "yr": "years", "a": "years", "month": "months", "week": "weeks", "hour": "h", "hours": "h", "minute": "min",
    "minutes": "min", "second": "s", "seconds": "s", "microns": "micron", "inchesofmercury": "inHg", "watt": "W", "watts": "W",
    "btu/hr": "Btu/h", "g/year": "g/yr", "g/a": "g/yr", "gramsayear": "g/yr", "gayear": "g/yr", "oz/year": "oz/yr", "kg/year": "kg/yr",
    "cc": "mL", "floz": "fl oz", "fluidounce": "fl oz", "fluidounces": "fl oz", "litre": "L", "liter": "L",
}  # fmt: skip
_NUMBER = re.compile(
    r"\s*([+\-\u2212]?)\s*(\d{1,3}(?:[ \u00a0\u202f']\d{3})+(?![\d])|\d*)([.,]\d+)?([.,]\d+)?\s*(.*)\s*$"
)


@dataclass(frozen=True)
class Number:
    """A number with its kind."""

    value: float  # base unit of its kind
    kind: str

    def shown(self, units):
        """The number as a learner with these units reads it, with its unit."""
        unit, digits = KINDS[self.kind].shown[units.key]
        return self.in_unit(unit, digits)

    def in_unit(self, unit, digits=None):
        """The number in one unit of its kind, with the unit."""
        value = from_base(self.value, self.kind, unit)
        if digits is None:
            digits = 0 if abs(value) >= 100.0 else 1 if abs(value) >= 10.0 else 2
        # adding nothing takes the minus sign from a zero
        text = f"{round(value, digits) + 0.0:.{digits}f} {unit}".strip().replace(" %", " %")
        ending = {"gauge_pressure": " gauge", "absolute_pressure": " absolute"}.get(self.kind, "")
        return text + ("" if unit in _VACUUMS else ending)


@dataclass(frozen=True)
class Given:
    """What a learner wrote: the number understood, or the sentence that asks for another try."""

    number: Number | None
    written: float  # in its unit, before anything was worked out
    unit: str
    problem: str


def kind_of(name):
    """What kind of quantity a name stands for, from its ending.

    Parameters
    ----------
    name : str
        A reading of the bench or a key with its unit, such as "superheat_k".

    Returns
    -------
    tuple of str and float
        Kind, and the size of one in the kind's base unit [-].

    Raises
    ------
    BadDataFile
        When the ending is not known.

    Notes
    -----
    Endings as everywhere in the course: a name that is not base SI carries its unit.

    Examples
    --------
    >>> kind_of("low_side_kpa_gauge")[0], kind_of("charge_kg")
    ('gauge_pressure', ('mass', 1000.0))
    """
    for ending, kind in ENDINGS.items():
        if name.endswith(ending):
            return kind
    raise BadDataFile(f"{name} does not end in a unit known here; it should end in one of {', '.join(ENDINGS)}.")


def from_base(value, kind, unit):
    """A number of some kind in one of its units.

    Parameters
    ----------
    value : float
        In the kind's base unit [base unit].
    kind : str
        One of KINDS.
    unit : str
        One of that kind's units.

    Returns
    -------
    float
        The number in that unit [unit].

    Raises
    ------
    UnknownChoice
        When the unit is not one of that kind.

    Notes
    -----
    Only a temperature has an offset; factors from course.units.

    Examples
    --------
    >>> round(from_base(35.0, "temperature", "°F")), round(from_base(5.0, "temperature_difference", "°F"))
    (95, 9)
    """
    units = KINDS[check_choice("kind of quantity", kind, KINDS)].units
    size = units[check_choice(f"unit of {KINDS[kind].name}", unit, units)]
    return value / size + _offset(kind, unit)


def to_base(value, kind, unit):
    """A number in one of its units in the base unit of its kind.

    Parameters
    ----------
    value : float
        In that unit [unit].
    kind : str
        One of KINDS.
    unit : str
        One of that kind's units.

    Returns
    -------
    float
        The number [base unit].

    Raises
    ------
    UnknownChoice
        When the unit is not one of that kind.

    Notes
    -----
    The reverse of from_base.

    Examples
    --------
    >>> round(to_base(95.0, "temperature", "°F"), 6), round(to_base(9.0, "temperature_difference", "°F"), 6)
    (35.0, 5.0)
    """
    units = KINDS[check_choice("kind of quantity", kind, KINDS)].units
    size = units[check_choice(f"unit of {KINDS[kind].name}", unit, units)]
    return (value - _offset(kind, unit)) * size


def _offset(kind, unit):
    return {"°F": 32.0, "K": ZERO_C_IN_K}.get(unit, 0.0) if kind == "temperature" else 0.0


def _unit(text):
    """The unit a text means and whether it says gauge or absolute; None where no unit is written so."""
    plain = re.sub(r"degrees?|deg\b|[°º\s().]", "", text.lower())
    plain = plain.replace("peryear", "/yr").replace("perhour", "/h").replace("²", "2")
    says = ""
    for word, meaning in (("gauge", "gauge"), ("absolute", "absolute"), ("abs", "absolute")):
        if plain.endswith(word) and len(plain) > len(word):
            plain, says = plain.removesuffix(word), meaning
    if plain in ("psig", "psia", "barg", "bara", "kpag", "kpaa"):
        plain, says = plain[:-1], "gauge" if plain[-1] == "g" else "absolute"
    known = {unit.lower().strip("°"): unit for kind in KINDS.values() for unit in kind.units}
    return _SPELLINGS.get(plain, known.get(plain)), says


def _number(text):
    """Number and rest of a text; a sentence in place of the number where it cannot be read."""
    found = _NUMBER.match(text)
    sign, whole, part, second, rest = found.groups()
    if not (whole or part):
        return f"“{text.strip()}” does not begin with a number; give a number and its unit.", ""
    if second and part[0] == second[0]:
        return f"“{text.strip()}” has two {part[0]}; write the number with one decimal sign and try again.", ""
    if second:  # 1,500.5 or 1.500,5: the last one is the decimal sign
        whole, part = whole + part[1:], second
    elif part and part[0] == "," and len(part) == 4 and whole.strip("0") and " " not in whole:
        either = f"{whole}{part[1:]} or {whole}.{part[1:]}"
        return f"“{text.strip()}” can mean {either}; write it one of these ways and try again.", ""
    digits = re.sub(r"\D", "", whole) or "0"
    return float(f"{'-' if sign in ('-', chr(0x2212)) else ''}{digits}{(part or '').replace(',', '.')}"), rest


def _units_sentence(kind):
    units = [unit for unit in KINDS[kind].units if unit]
    return f"give it in {', '.join(units[:-1])} or {units[-1]}" if len(units) > 1 else f"give it in {units[0]}"


def _fits(kind, unit, says):
    """What is wrong with a unit for this kind, as a sentence; empty where nothing is."""
    wanted = KINDS[kind]
    if unit in wanted.units:
        if says and not kind.endswith("_pressure"):
            return f"A {wanted.name} is neither gauge nor absolute; leave that word out and try again."
        if kind == "absolute_pressure" and not says and unit in _PRESSURES:
            return f"Say whether your {unit} are gauge or absolute, and try again."
        return ""
    if not wanted.units.get("", 0.0):
        others = [one.name for one in KINDS.values() if unit in one.units]
        other = others[0].removeprefix("gauge ")
        return f"{unit} is a unit of {other}; the question asks for a {wanted.name}: {_units_sentence(kind)}."
    return f"The question asks for a plain number; write it without {unit}."


def read_answer(text, kind, air_pressure_kpa=_ATMOSPHERE_KPA):
    """Understand what a learner wrote, in whatever unit of that kind; what cannot be understood costs nothing.

    Parameters
    ----------
    text : str
        Number and unit as written, point or comma decimal.
    kind : str
        The kind of quantity asked for, one of KINDS.
    air_pressure_kpa : float
        Of the place, between gauge and absolute pressure [kPa].

    Returns
    -------
    Given
        The number in the kind's base unit, or the sentence that asks for another try.

    Raises
    ------
    UnknownChoice
        When there is no such kind.

    Notes
    -----
    A pressure without a word is gauge, as on a manifold; where absolute pressure is asked for, the word is needed. A
    comma with three digits behind it can be meant two ways and is asked back, never guessed.

    Examples
    --------
    >>> read_answer("25,5 psi", "gauge_pressure").number.in_unit("psi")
    '25.5 psi gauge'
    >>> read_answer("95", "temperature").problem
    'The unit is missing; give it in °C, °F or K.'
    """
    wanted = KINDS[check_choice("kind of quantity", kind, KINDS)]

    def again(problem):
        return Given(None, 0.0, "", problem)

    if not text.strip():
        return again("Nothing is written yet; give a number" + (" and its unit." if kind != "plain" else "."))
    value, rest = _number(text)
    if isinstance(value, str):
        return again(value)
    unit, says = _unit(rest) if rest.strip() else ("" if kind == "plain" else None, "")
    if not rest.strip() and kind != "plain":
        return again(f"The unit is missing; {_units_sentence(kind)}.")
    if unit is None:
        sentence = f"; {_units_sentence(kind)}" if kind != "plain" else ""
        return again(f"“{rest.strip()}” is no unit known here{sentence}.")
    problem = _fits(kind, unit, says)
    if problem:
        return again(problem)
    base = to_base(value, kind, unit)
    if kind == "gauge_pressure" and says == "absolute":
        base -= air_pressure_kpa
    if kind == "absolute_pressure" and says == "gauge":
        base += air_pressure_kpa
    try:
        _check_sense(base, wanted)
    except OutOfRange as refusal:
        return again(str(refusal))
    return Given(Number(base, kind), value, unit, "")


def _check_sense(base, kind):
    if not kind.low <= base <= kind.high:
        unit = next(iter(kind.units))
        raise OutOfRange(
            f"{kind.name[0].upper()}{kind.name[1:]}: that is {base:g} {unit}, which nothing in a workshop shows; look at "
            "the number and the unit, and try again."
        )
