"""Humid air at the evaporator: vapour pressure, humidity, enthalpy, dew point and wet bulb."""

import math
from typing import NamedTuple

import scipy  # its root finder loads at the first call, as scipy does it: the bench opens sooner

from course.errors import OutOfRange

DRY_AIR_GAS_CONSTANT = 287.042  # J/(kg K), ASHRAE Handbook Fundamentals 2017, chapter 1
DRY_AIR_HEAT_CAPACITY = 1006.0  # J/(kg K), ASHRAE Handbook Fundamentals 2017, chapter 1, equation 28
WATER_VAPOUR_HEAT_CAPACITY = 1860.0  # J/(kg K), same equation
HEAT_OF_VAPORISATION = 2.501e6  # J/kg at 0 °C, same equation
WATER_TO_AIR_MASS_RATIO = 0.621945  # same chapter, equation 20
FREEZING = 273.15  # K
ICE_MEETS_WATER = (
    273.1600005972119  # K: where equations 5 and 6 below give the same pressure, at the triple point; computed
)
LOWEST_TEMPERATURE = 203.15  # K: -70 °C
HIGHEST_TEMPERATURE = 373.15  # K: 100 °C

# ASHRAE Handbook Fundamentals 2017, chapter 1, equations 5 (ice) and 6 (water): Hyland and Wexler 1983
_ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 6.5459673)


class MoistAir(NamedTuple):
    """One state of humid air: temperature [K], humidity ratio [kg/kg dry air], enthalpy [J/kg dry air], pressure [Pa]."""

    temperature: float
    humidity_ratio: float
    enthalpy: float
    pressure: float


def saturation_vapour_pressure(temperature):
    """The pressure of water vapour over water, or over ice below freezing.

    Parameters
    ----------
    temperature : float
        Temperature, -70 to 100 °C [K].

    Returns
    -------
    float
        Saturation pressure [Pa].

    Raises
    ------
    OutOfRange
        When the temperature is outside -70 to 100 °C.

    Notes
    -----
    ASHRAE Handbook Fundamentals 2017, chapter 1, equations 5 and 6. They are joined at the triple point, 0.01 °C, where
    they meet: joined at 0 °C, a step of 0.01 % would keep a coil at that temperature from ever balancing.

    Examples
    --------
    Same chapter, table 3: 3169.7 Pa at 25 °C:

    >>> round(saturation_vapour_pressure(298.15))
    3169
    """
    if not LOWEST_TEMPERATURE <= temperature <= HIGHEST_TEMPERATURE:
        raise OutOfRange(
            f"air temperature: {temperature - 273.15:.4g} °C was given; allowed are -70 to 100 °C: "
            "check the weather and the coil temperature."
        )
    t = temperature
    if t < ICE_MEETS_WATER:
        a = _ICE
        return math.exp(a[0] / t + a[1] + t * (a[2] + t * (a[3] + t * (a[4] + t * a[5]))) + a[6] * math.log(t))
    a = _WATER
    return math.exp(a[0] / t + a[1] + t * (a[2] + t * (a[3] + t * a[4])) + a[5] * math.log(t))


def saturated_humidity_ratio(temperature, pressure):
    """The most water vapour air can carry.

    Parameters
    ----------
    temperature : float
        Temperature, -70 to 100 °C [K].
    pressure : float
        Air pressure [Pa].

    Returns
    -------
    float
        Humidity ratio [kg/kg dry air].

    Raises
    ------
    OutOfRange
        When the temperature is out of range, or water would boil.

    Notes
    -----
    ASHRAE Handbook Fundamentals 2017, chapter 1, equation 21, as ideal gases (the handbook's real-gas factor of
    1.004 is left out).

    Examples
    --------
    Same chapter, table 2: 0.020173 at 25 °C (real gas, 0.5 % more):

    >>> round(saturated_humidity_ratio(298.15, 101325.0), 4)
    0.0201
    """
    vapour_pressure = saturation_vapour_pressure(temperature)
    if vapour_pressure >= pressure:
        raise OutOfRange(
            f"air at {temperature - 273.15:.4g} °C and {pressure / 1000:.4g} kPa: water boils there; "
            "choose a lower temperature."
        )
    return WATER_TO_AIR_MASS_RATIO * vapour_pressure / (pressure - vapour_pressure)


def enthalpy(temperature, humidity_ratio):
    """Heat content of humid air, latent heat included.

    Parameters
    ----------
    temperature : float
        Dry-bulb temperature [K].
    humidity_ratio : float
        Humidity ratio [kg/kg dry air].

    Returns
    -------
    float
        Enthalpy above dry air and water at 0 °C [J/kg dry air].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    ASHRAE Handbook Fundamentals 2017, chapter 1, equation 28.

    Examples
    --------
    Same chapter, example 1: 56.7 kJ/kg at 40 °C and 0.0065:

    >>> round(enthalpy(313.15, 0.0065) / 1000)
    57
    """
    celsius = temperature - FREEZING
    return DRY_AIR_HEAT_CAPACITY * celsius + humidity_ratio * (
        HEAT_OF_VAPORISATION + WATER_VAPOUR_HEAT_CAPACITY * celsius
    )


def condensing_heat(water_flow):
    """The cooling that goes into turning water vapour into water at the coil, and makes nothing colder.

    Parameters
    ----------
    water_flow : float
        Water that drains off [kg/s].

    Returns
    -------
    float
        Heat [W].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Heat of vaporisation at 0 °C, ASHRAE Handbook Fundamentals 2017, chapter 1, equation 28. What vapour and drops give
    off by cooling further is left out: 1 to 3 % of it at a coil.

    Examples
    --------
    One litre an hour takes about 0.7 kW:

    >>> round(condensing_heat(1.0 / 3600.0))
    695
    """
    return HEAT_OF_VAPORISATION * water_flow


def moist_air(temperature, relative_humidity, pressure):
    """Humid air from what a weather station shows.

    Parameters
    ----------
    temperature : float
        Dry-bulb temperature, -70 to 100 °C [K].
    relative_humidity : float
        Relative humidity, 0 to 1 [-].
    pressure : float
        Air pressure [Pa].

    Returns
    -------
    MoistAir
        The state.

    Raises
    ------
    OutOfRange
        When the temperature is out of range, or water would boil.

    Notes
    -----
    ASHRAE Handbook Fundamentals 2017, chapter 1, equations 12, 20 and 28.

    Examples
    --------
    Same chapter, example 1: 40 °C at 14 % has a humidity ratio of 0.0065:

    >>> round(moist_air(313.15, 0.14, 101325.0).humidity_ratio, 4)
    0.0064
    """
    vapour_pressure = relative_humidity * saturation_vapour_pressure(temperature)
    if vapour_pressure >= pressure:
        raise OutOfRange(
            f"air at {temperature - 273.15:.4g} °C and {pressure / 1000:.4g} kPa: water boils there; "
            "choose a lower temperature."
        )
    humidity_ratio = WATER_TO_AIR_MASS_RATIO * vapour_pressure / (pressure - vapour_pressure)
    return MoistAir(temperature, humidity_ratio, enthalpy(temperature, humidity_ratio), pressure)


def relative_humidity(air):
    """How near the air is to carrying all the water it can.

    Parameters
    ----------
    air : MoistAir
        The state.

    Returns
    -------
    float
        Relative humidity; above 1 means fog [-].

    Raises
    ------
    OutOfRange
        When the temperature is outside -70 to 100 °C.

    Notes
    -----
    ASHRAE Handbook Fundamentals 2017, chapter 1, equations 12 and 20.

    Examples
    --------
    >>> round(relative_humidity(moist_air(300.0, 0.5, 101325.0)), 6)
    0.5
    """
    vapour_pressure = air.pressure * air.humidity_ratio / (WATER_TO_AIR_MASS_RATIO + air.humidity_ratio)
    return vapour_pressure / saturation_vapour_pressure(air.temperature)


def dew_point(humidity_ratio, pressure):
    """The temperature at which a surface begins to sweat, or to frost below freezing.

    Parameters
    ----------
    humidity_ratio : float
        Humidity ratio, above zero [kg/kg dry air].
    pressure : float
        Air pressure [Pa].

    Returns
    -------
    float
        Dew or frost point [K].

    Raises
    ------
    OutOfRange
        When the air is drier than a frost point of -70 °C.

    Notes
    -----
    Reverse of equations 5 and 6 of the same ASHRAE chapter, by root finding.

    Examples
    --------
    >>> air = moist_air(300.0, 0.5, 101325.0)
    >>> round(dew_point(air.humidity_ratio, 101325.0) - 273.15, 1)
    15.6
    """
    wanted = pressure * humidity_ratio / (WATER_TO_AIR_MASS_RATIO + humidity_ratio)
    if wanted < saturation_vapour_pressure(LOWEST_TEMPERATURE):
        raise OutOfRange(
            f"dew point: a humidity ratio of {humidity_ratio:.3g} was given; the frost point lies below -70 °C: "
            "choose air with more water in it."
        )
    return scipy.optimize.brentq(
        lambda t: math.log(saturation_vapour_pressure(t) / wanted), LOWEST_TEMPERATURE, HIGHEST_TEMPERATURE, xtol=1e-9
    )


def wet_bulb(air):
    """What a wetted thermometer in moving air shows.

    Parameters
    ----------
    air : MoistAir
        The state, at or above 0 °C wet bulb.

    Returns
    -------
    float
        Wet-bulb temperature [K].

    Raises
    ------
    OutOfRange
        When the temperatures are out of range.

    Notes
    -----
    ASHRAE Handbook Fundamentals 2017, chapter 1, equations 33 and 35, by root finding.

    Examples
    --------
    Same chapter, example 1: 40 °C dry and 0.0065 give 20 °C wet:

    >>> air = MoistAir(313.15, 0.0065, enthalpy(313.15, 0.0065), 101325.0)
    >>> round(wet_bulb(air) - 273.15)
    20
    """
    dry = air.temperature - FREEZING

    def miss(wet_kelvin):
        wet = wet_kelvin - FREEZING
        saturated = saturated_humidity_ratio(wet_kelvin, air.pressure)
        if wet >= 0.0:
            ratio = ((2501.0 - 2.326 * wet) * saturated - 1.006 * (dry - wet)) / (2501.0 + 1.86 * dry - 4.186 * wet)
        else:
            ratio = ((2830.0 - 0.24 * wet) * saturated - 1.006 * (dry - wet)) / (2830.0 + 1.86 * dry - 2.1 * wet)
        return ratio - air.humidity_ratio

    if miss(air.temperature) <= 0.0:
        return air.temperature
    return scipy.optimize.brentq(miss, LOWEST_TEMPERATURE + 1.0, air.temperature, xtol=1e-9)


def temperature_of_saturated_enthalpy(air_enthalpy, pressure):
    """The coil-surface temperature whose saturated air has a given heat content.

    Parameters
    ----------
    air_enthalpy : float
        Enthalpy of saturated air, that of -69 to 60 °C [J/kg dry air].
    pressure : float
        Air pressure [Pa].

    Returns
    -------
    float
        Temperature [K].

    Raises
    ------
    OutOfRange
        When no surface between -69 and 60 °C has it.

    Notes
    -----
    Root of enthalpy() with saturated_humidity_ratio(), by Brent's method.

    Examples
    --------
    Same chapter, table 2: 76.504 kJ/kg at 25 °C:

    >>> round(temperature_of_saturated_enthalpy(76504.0, 101325.0) - 273.15, 1)
    25.0
    """

    def miss(temperature):
        return enthalpy(temperature, saturated_humidity_ratio(temperature, pressure)) - air_enthalpy

    coldest, hottest = LOWEST_TEMPERATURE + 1.0, 333.15
    if miss(coldest) > 0.0 or miss(hottest) < 0.0:
        raise OutOfRange(
            f"saturated air of {air_enthalpy / 1000:.4g} kJ/kg: no surface between -69 and 60 °C has it; check the coil."
        )
    return scipy.optimize.brentq(miss, coldest, hottest, xtol=1e-9)
