"""Recovery cylinders: how much may go in, how much more, and when a cylinder is refused."""

from dataclasses import dataclass

import scipy

from course.errors import OutOfRange, check_choice, check_range
from course.physics.refrigerant import REFRIGERANTS, saturation_at_temperature
from course.tables import read_service_numbers
from course.units import M3_PER_L, celsius_to_kelvin


@dataclass(frozen=True)
class CylinderCheck:
    """What a cylinder on the scale may still take."""

    limit_kg: float  # kg it may hold in all
    holds_kg: float  # kg in it now
    room_kg: float  # kg it may still take, on the safe side of the scale's error
    liquid_share_hot: float  # - of the volume that its liquid would fill on the hottest day, once at the limit


def _numbers():
    return read_service_numbers("recovery")


def fill_limit_kg(volume_l, refrigerant, hottest_c=None):
    """The most refrigerant a cylinder may hold, so that its liquid has room on the hottest day.

    Parameters
    ----------
    volume_l : float
        Water capacity stamped on the cylinder, 0.5 to 1,000 [L].
    refrigerant : str
        "R134a" or "R1234yf".
    hottest_c : float or None
        Hottest it will ever be stored, 40 to 65; None: the usual 54.4 (130 °F) [°C].

    Returns
    -------
    float
        Limit [kg].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or a value is outside its range.

    Notes
    -----
    80 % of the volume filled with liquid of the density it has at the hottest temperature; the vapour above it is not
    counted, which is on the safe side. A cooler day makes the liquid denser: the same mass then fills less. The stamp
    on the cylinder and local rules go before this figure.

    Examples
    --------
    A 27.2 L cylinder (the common "50 lb" size) takes 23.5 kg of R-134a on the 54 °C basis:

    >>> round(fill_limit_kg(27.2, "R134a"), 1)
    23.5
    """
    check_choice("refrigerant", refrigerant, REFRIGERANTS)
    volume = check_range("cylinder volume", volume_l, 0.5, 1000.0, "L", "read the water capacity on its collar")
    hottest = _numbers().value("cylinder", "hottest_c") if hottest_c is None else hottest_c
    hottest = check_range("hottest storage", hottest, 40.0, 65.0, "°C", "a van in the sun passes 50 °C")
    density = saturation_at_temperature(refrigerant, celsius_to_kelvin(hottest)).liquid_density
    return _numbers().value("cylinder", "fill_share") * volume * M3_PER_L * density


def check_cylinder(volume_l, refrigerant, gross_kg, tare_kg, hottest_c=None, scale_error_kg=None, cylinder_c=20.0):
    """Weigh a cylinder and say what it may still take, or refuse it.

    Parameters
    ----------
    volume_l : float
        Water capacity, 0.5 to 1,000 [L].
    refrigerant : str
        "R134a" or "R1234yf".
    gross_kg : float
        What the scale shows, up to 2,000 [kg].
    tare_kg : float
        Empty weight stamped on the cylinder, up to 500 [kg].
    hottest_c : float or None
        Hottest storage, 40 to 65; None: the usual 54.4 [°C].
    scale_error_kg : float or None
        How far the scale may be off, 0 to 5; None: the data file's [kg].
    cylinder_c : float
        Temperature of the cylinder now, -40 to 52 [°C].

    Returns
    -------
    CylinderCheck
        Limit, contents and room [kg].

    Raises
    ------
    UnknownChoice, OutOfRange
        When a value is outside its range, or the cylinder is past its limit.

    Notes
    -----
    Room is limit less contents less the scale's error, never above: the safe side.

    Examples
    --------
    >>> round(check_cylinder(27.2, "R134a", 25.0, 12.0, scale_error_kg=0.05).room_kg, 1)
    10.5
    """
    limit = fill_limit_kg(volume_l, refrigerant, hottest_c)
    gross = check_range("scale", gross_kg, 0.0, 2000.0, "kg", "weigh the cylinder alone, nothing leaning on it")
    tare = check_range("empty weight", tare_kg, 0.1, 500.0, "kg", "read the tare on its collar")
    error = _numbers().value("cylinder", "scale_error_kg") if scale_error_kg is None else scale_error_kg
    error = check_range("scale error", error, 0.0, 5.0, "kg", "check the scale with a known weight")
    never = _numbers().value("cylinder", "never_above_c")
    check_range(
        "cylinder temperature", cylinder_c, -40.0, never, "°C", "cool it with water, away from people; no flame ever"
    )
    holds = gross - tare
    if holds < -error:
        raise OutOfRange(
            f"cylinder: the scale shows {gross:g} kg, less than the {tare:g} kg of the empty cylinder; "
            "check tare, scale and what leans on it."
        )
    if holds + error > limit:
        raise OutOfRange(
            f"cylinder: it holds {holds:.2f} kg ({error:g} kg either way) and may hold {limit:.2f} kg: on a hot day its "
            "liquid could fill it and burst it; keep it cool, take no more and have it emptied."
        )
    share = _numbers().value("cylinder", "fill_share")
    return CylinderCheck(limit, max(holds, 0.0), limit - holds - error, share * holds / limit if holds > 0.0 else 0.0)


def full_of_liquid_c(volume_l, refrigerant, holds_kg):
    """The temperature at which a cylinder's liquid fills it to the last corner.

    Parameters
    ----------
    volume_l : float
        Water capacity, 0.5 to 1,000 [L].
    refrigerant : str
        "R134a" or "R1234yf".
    holds_kg : float
        Contents, above zero [kg].

    Returns
    -------
    float or None
        Temperature; None when that does not happen up to 90 °C [°C].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown, a value is outside its range, or the cylinder is full at -30 °C already.

    Notes
    -----
    Where contents over volume equals the liquid's density; beyond it pressure climbs by some 10 bar for each kelvin or
    so and a relief valve or the shell gives way. The cylinder itself also grows, which is not modelled.

    Examples
    --------
    Filled to 95 % of its volume at 20 °C, it is full at 36 °C:

    >>> round(full_of_liquid_c(27.2, "R134a", 0.95 * 27.2e-3 * 1225.3))
    36
    """
    check_choice("refrigerant", refrigerant, REFRIGERANTS)
    volume = check_range("cylinder volume", volume_l, 0.5, 1000.0, "L", "read the water capacity on its collar")
    most = volume * M3_PER_L * _liquid_density(refrigerant, -30.0)
    holds = check_range("contents", holds_kg, 1e-6, most, "kg", "no more liquid than that fits in")
    if holds <= volume * M3_PER_L * _liquid_density(refrigerant, 90.0):
        return None
    return scipy.optimize.brentq(
        lambda celsius: volume * M3_PER_L * _liquid_density(refrigerant, celsius) - holds, -30.0, 90.0
    )


def _liquid_density(refrigerant, celsius):
    return saturation_at_temperature(refrigerant, celsius_to_kelvin(celsius)).liquid_density
