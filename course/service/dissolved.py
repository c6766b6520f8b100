"""Refrigerant dissolved in oil: how hard the oil holds it, and how much that is."""

import math

import scipy

from course.errors import check_choice, check_range
from course.physics.refrigerant import REFRIGERANTS, saturation_at_temperature
from course.tables import read_service_numbers
from course.units import M3_PER_ML, celsius_to_kelvin


def activity(mass_share, liquid_density):
    """How much of its own vapour pressure a refrigerant keeps when dissolved in oil.

    Parameters
    ----------
    mass_share : float
        Refrigerant in the mixture, 0 to 1 [-].
    liquid_density : float
        Density of the liquid refrigerant [kg/m3].

    Returns
    -------
    float
        Vapour pressure over that of the pure refrigerant [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Flory and Huggins for a long oil molecule: ln a = ln f + (1 - f) + chi (1 - f)^2, f the share by volume. One
    assumed chi stands for every oil and temperature; measured refrigerant-oil pairs deviate from this equation
    (ASHRAE Transactions 99 (1993), R-134a with two synthetic oils, abstract read). Miscibility gaps are not modelled.

    Examples
    --------
    Pure refrigerant keeps all of it; 12 % in oil keep about a third:

    >>> activity(1.0, 1200.0), round(activity(0.12, 1200.0), 2)
    (1.0, 0.35)
    """
    if mass_share <= 0.0:
        return 0.0
    numbers = read_service_numbers("recovery")
    ratio = liquid_density / numbers.value("oil", "density_kg_m3")
    share = mass_share / (mass_share + (1.0 - mass_share) * ratio)
    free = 1.0 - share
    return share * math.exp(free * (1.0 + numbers.value("oil", "interaction_coefficient") * free))


def dissolved_g(refrigerant, oil_ml, pressure_pa, temperature_c):
    """Refrigerant that oil holds once pressure and temperature have settled.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    oil_ml : float
        Oil, 0 to 2,000 [mL].
    pressure_pa : float
        Pressure over the oil, below saturation [Pa absolute].
    temperature_c : float
        Temperature of the oil, -40 to 60 [°C].

    Returns
    -------
    float
        Refrigerant in the oil [g].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or a value is outside its range.

    Notes
    -----
    Reverse of activity() by root finding.

    Examples
    --------
    At 0 gauge and 21 °C 240 mL hold some fourteen grams: dissolved gas alone is not what old equipment left behind.

    >>> round(dissolved_g("R134a", 240.0, 101325.0, 21.0))
    14
    """
    check_choice("refrigerant", refrigerant, REFRIGERANTS)
    oil = check_range("oil", oil_ml, 0.0, 2000.0, "mL", "a car holds 100 to 300")
    celsius = check_range("oil temperature", temperature_c, -40.0, 60.0, "°C", "choose a temperature in that range")
    saturated = saturation_at_temperature(refrigerant, celsius_to_kelvin(celsius))
    pressure = check_range(
        "pressure over the oil",
        pressure_pa,
        0.0,
        0.99 * saturated.pressure,
        "Pa absolute",
        "above it refrigerant condenses and no longer only dissolves",
    )
    wanted = pressure / saturated.pressure
    share = scipy.optimize.brentq(lambda w: activity(w, saturated.liquid_density) - wanted, 0.0, 1.0, xtol=1e-12)
    oil_g = oil * M3_PER_ML * read_service_numbers("recovery").value("oil", "density_kg_m3") * 1e3
    return oil_g * share / (1.0 - share)
