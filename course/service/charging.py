"""Charging by weight: what is in the hose, what the scale leaves open, and whether the label is met."""

import math
from dataclasses import dataclass

from course.errors import OutOfRange, check_choice, check_range
from course.physics.refrigerant import REFRIGERANTS, saturation_at_temperature
from course.tables import read_service_numbers
from course.units import G_PER_KG, celsius_to_kelvin


@dataclass(frozen=True)
class ChargeCheck:
    """What went into the car by weight, against the label."""

    verdict: str  # within the label, too little, too much or too close to say
    reason: str  # a sentence
    charged_g: float  # g that went into the car
    error_g: float  # g, one standard deviation of it
    label_g: float  # g
    tolerance_g: float  # g either way


def hose_content_g(diameter_mm, length_mm, refrigerant, temperature_c, filled_with="liquid"):
    """What a service hose holds, which the scale counts but the car does not get.

    Parameters
    ----------
    diameter_mm : float
        Bore, 1 to 30 [mm].
    length_mm : float
        Length, 10 to 20,000 [mm].
    refrigerant : str
        "R134a" or "R1234yf".
    temperature_c : float
        Temperature, -30 to 60 [°C].
    filled_with : str
        "liquid" or "vapour", both at saturation.

    Returns
    -------
    float
        Content [g].

    Raises
    ------
    UnknownChoice, OutOfRange
        When a name is unknown or a value is outside its range.

    Notes
    -----
    Volume times density at saturation.

    Examples
    --------
    2.4 m of 4.8 mm bore at 25 °C: 1.4 g as vapour, 52 g full of liquid:

    >>> [round(hose_content_g(4.8, 2400, "R134a", 25.0, what), 1) for what in ("vapour", "liquid")]
    [1.4, 52.4]
    """
    check_choice("refrigerant", refrigerant, REFRIGERANTS)
    check_choice("filled with", filled_with, ("liquid", "vapour"))
    bore = check_range("bore", diameter_mm, 1.0, 30.0, "mm", "a service hose has 4 to 10") / 1e3
    length = check_range("length", length_mm, 10.0, 20000.0, "mm", "a service hose has 900 to 3,000") / 1e3
    celsius = check_range("temperature", temperature_c, -30.0, 60.0, "°C", "choose a shop in that range")
    saturated = saturation_at_temperature(refrigerant, celsius_to_kelvin(celsius))
    density = saturated.liquid_density if filled_with == "liquid" else saturated.vapour_density
    return math.pi / 4.0 * bore**2 * length * density * G_PER_KG


def check_charge(before_g, after_g, label_g, *, hose_g=0.0, tolerance_g=None, scale_error_g=None):
    """Work out what went into the car from the cylinder's two weights, and hold it against the label.

    Parameters
    ----------
    before_g, after_g : float
        Refrigerant in the cylinder before and after, tare taken off, 0 to 100,000 [g].
    label_g : float
        Charge on the car's label, 100 to 5,000 [g].
    hose_g : float
        What stayed in the hose and went back or was lost, 0 to 1,000 [g].
    tolerance_g : float or None
        On the label, 1 to 200 either way; None: a usual one [g].
    scale_error_g : float or None
        One standard deviation of one reading, 0.1 to 500; None: a workshop scale's [g].

    Returns
    -------
    ChargeCheck
        Verdict, reason, charge and its error [g].

    Raises
    ------
    OutOfRange
        When a value is outside its range, the cylinder got heavier, or the label asks more than it held.

    Notes
    -----
    Charge = before - after - hose; error = scale error times the square root of two. The verdict is given only where
    two errors either way leave no doubt. Only right for a circuit that was empty: a top-up on an unknown rest is no charge.

    Examples
    --------
    >>> check_charge(9000.0, 8350.0, 600.0, hose_g=52.0).verdict
    'too close to say'
    >>> check_charge(9000.0, 8350.0, 600.0, hose_g=52.0, scale_error_g=5.0).verdict
    'within the label'
    """
    numbers = read_service_numbers("charging")
    before, after = (
        check_range(name, value, 0.0, 1e5, "g", "take the tare off")
        for name, value in (("cylinder before", before_g), ("cylinder after", after_g))
    )
    label = check_range("label", label_g, 100.0, 5000.0, "g", "read it under the bonnet, in grams")
    hose = check_range("hose content", hose_g, 0.0, 1000.0, "g", "some 50 g of liquid")
    usual = numbers.value("label", "tolerance_g") if tolerance_g is None else tolerance_g
    tolerance = check_range("label tolerance", usual, 1.0, 200.0, "g", "15 to 50 is usual")
    scale = numbers.value("scale", "accuracy_g") if scale_error_g is None else scale_error_g
    error = math.sqrt(2.0) * check_range("scale error", scale, 0.1, 500.0, "g", "check it with a known weight")
    if after > before + 2.0 * error:
        raise OutOfRange(
            f"cylinder: {after:g} g after and {before:g} g before; it got heavier: pressure went back into it, stop and check."
        )
    charged = before - after - hose
    verdict, reason = _against_label(charged - label, tolerance, error)
    return ChargeCheck(verdict, reason, charged, error, label, tolerance)


def check_machine_charge(shown_g, label_g, tolerance_g=None):
    """Hold what a charging machine says it gave against the label.

    Parameters
    ----------
    shown_g : float
        Charge the machine shows, hose already allowed for, 0 to 10,000 [g].
    label_g : float
        Charge on the car's label, 100 to 5,000 [g].
    tolerance_g : float or None
        On the label, 1 to 200 either way; None: a usual one [g].

    Returns
    -------
    ChargeCheck
        Verdict, reason, charge and its error [g].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    SAE J2788 asks machines for 15 g either way and a check in the shop (a 2007 trade report, read); taken as two standard
    deviations.

    Examples
    --------
    >>> check_machine_charge(605.0, 600.0).verdict, check_machine_charge(620.0, 600.0).verdict
    ('within the label', 'too close to say')
    """
    numbers = read_service_numbers("charging")
    shown = check_range("charge shown", shown_g, 0.0, 10000.0, "g", "read the machine, in grams")
    label = check_range("label", label_g, 100.0, 5000.0, "g", "read it under the bonnet, in grams")
    usual = numbers.value("label", "tolerance_g") if tolerance_g is None else tolerance_g
    tolerance = check_range("label tolerance", usual, 1.0, 200.0, "g", "15 to 50 is usual")
    error = numbers.value("machine", "accuracy_g") / 2.0
    verdict, reason = _against_label(shown - label, tolerance, error)
    return ChargeCheck(verdict, reason, shown, error, label, tolerance)


def _against_label(off, tolerance, error):
    doubt = 2.0 * error
    if abs(off) + doubt <= tolerance:
        return (
            "within the label",
            f"{off:+.0f} g against the label, {doubt:.0f} g of doubt: inside its {tolerance:g} g.",
        )
    if abs(off) - doubt > tolerance:
        word = "too much" if off > 0.0 else "too little"
        return (
            word,
            f"{off:+.0f} g against the label, beyond its {tolerance:g} g: recover, evacuate and weigh it in again.",
        )
    return "too close to say", (
        f"{off:+.0f} g against the label with {doubt:.0f} g of doubt: this scale cannot tell; use one that reads finer."
    )


def check_cylinder_holds(wanted_g, cylinder_g, hose_g=0.0):
    """Return the charge wanted when the cylinder can give it, else refuse it.

    Parameters
    ----------
    wanted_g : float
        Charge, 1 to 5,000 [g].
    cylinder_g : float
        Refrigerant in the cylinder, 0 to 100,000 [g].
    hose_g : float
        What the hose will hold back, 0 to 1,000 [g].

    Returns
    -------
    float
        The charge [g].

    Raises
    ------
    OutOfRange
        When the cylinder holds less than charge and hose together, or a value is outside its range.

    Notes
    -----
    The last of a cylinder comes out only as vapour and slowly; that is not counted.

    Examples
    --------
    >>> check_cylinder_holds(600.0, 5000.0, 52.0)
    600.0
    """
    wanted = check_range("charge", wanted_g, 1.0, 5000.0, "g", "read the label, in grams")
    holds = check_range("cylinder", cylinder_g, 0.0, 1e5, "g", "take the tare off")
    hose = check_range("hose content", hose_g, 0.0, 1000.0, "g", "some 50 g of liquid")
    if wanted + hose > holds:
        raise OutOfRange(
            f"charge: {wanted:g} g and {hose:g} g for the hose were asked of a cylinder that holds {holds:g} g; "
            "begin with a fuller one, half a charge is none."
        )
    return wanted
