"""Water under vacuum: the pressure at which it boils or its ice turns to vapour, and what a gauge must read for that."""

import math

import scipy

from course.errors import OutOfRange, check_range
from course.units import (
    PA_PER_INHG,
    PA_PER_MICRON,
    atmospheric_pressure_pa,
    celsius_to_kelvin,
)

TRIPLE_POINT_C = 0.01  # °C, IAPWS R14-08(2011): below it there is ice
TRIPLE_POINT_PA = 611.657  # Pa, same release
COLDEST_C, HOTTEST_C = -90.0, 120.0  # °C, the workbook's own limits; the equations reach further
WATER_GAS_CONSTANT = 461.526  # J/(kg K), IAPWS-IF97 section 2
BOILING_HEAT = 2.5009e6  # J/kg at the triple point: IAPWS-95, from memory, held against iapws in the tests
FREEZING_HEAT = 0.3334e6  # J/kg at the triple point: IAPWS R10-06 and IAPWS-95, from memory, held against iapws
WATER_HEAT_CAPACITY = 4186.0  # J/(kg K), ASHRAE Handbook Fundamentals 2017, chapter 1, equation 33
ICE_HEAT_CAPACITY = 2100.0  # J/(kg K), same chapter, equation 35
VAPOUR_HEAT_CAPACITY = 1860.0  # J/(kg K), same chapter, equation 28

# IAPWS-IF97 (2007), table 34: coefficients of the saturation equation of region 4
_N = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)
# IAPWS R14-08 (2011), table 3: coefficients and exponents of the sublimation equation
_ICE = ((-21.2144006, 0.333333333e-2), (27.3203819, 1.20666667), (-6.10598130, 1.70333333))


def _over_ice(temperature):
    share = temperature / celsius_to_kelvin(TRIPLE_POINT_C)
    return TRIPLE_POINT_PA * math.exp(sum(a * share**b for a, b in _ICE) / share)


def _over_water(temperature):
    theta = temperature + _N[8] / (temperature - _N[9])
    a = theta * theta + _N[0] * theta + _N[1]
    b = _N[2] * theta * theta + _N[3] * theta + _N[4]
    c = _N[5] * theta * theta + _N[6] * theta + _N[7]
    return 1e6 * (2.0 * c / (-b + math.sqrt(b * b - 4.0 * a * c))) ** 4


def boiling_pressure_pa(temperature_c):
    """The absolute pressure at which water of a temperature boils, or ice turns straight to vapour.

    Parameters
    ----------
    temperature_c : float
        Temperature of the water or ice, -90 to 120 [°C].

    Returns
    -------
    float
        Absolute pressure [Pa].

    Raises
    ------
    OutOfRange
        When the temperature is outside -90 to 120 °C.

    Notes
    -----
    Water: IAPWS-IF97 (2007), equation 30. Ice, below 0.01 °C: IAPWS R14-08 (2011), equation 6. The two differ by
    8 parts in a million where they meet. Salt, oil and surface tension are not modelled.

    Examples
    --------
    ASHRAE Handbook Fundamentals 2017, chapter 1, table 3: 3169.7 Pa at 25 °C and 103.24 Pa at -20 °C:

    >>> round(boiling_pressure_pa(25.0), 1), round(boiling_pressure_pa(-20.0), 2)
    (3169.7, 103.24)
    """
    celsius = check_range("water", temperature_c, COLDEST_C, HOTTEST_C, "°C", "choose a temperature in that range")
    temperature = celsius_to_kelvin(celsius)
    return _over_ice(temperature) if celsius < TRIPLE_POINT_C else _over_water(temperature)


def boils_at_c(pressure_pa):
    """The temperature at which water boils, or ice turns to vapour, under an absolute pressure.

    Parameters
    ----------
    pressure_pa : float
        Absolute pressure, that of ice at -90 °C (0.0097 Pa) to 110 kPa [Pa].

    Returns
    -------
    float
        Temperature; below 0.01 °C it is ice [°C].

    Raises
    ------
    OutOfRange
        When the pressure is outside that range.

    Notes
    -----
    Reverse of boiling_pressure_pa by root finding. Water that is colder than this stays where it is however long the
    pump runs.

    Examples
    --------
    IAPWS-IF97 puts 10 kPa at 45.8 °C, as steam tables do; 500 micron means ice at -24.5 °C:

    >>> from course.units import PA_PER_MICRON
    >>> round(boils_at_c(10000.0), 1), round(boils_at_c(500 * PA_PER_MICRON), 1)
    (45.8, -24.5)
    """
    lowest = boiling_pressure_pa(COLDEST_C)
    pressure = check_range("pressure over water", pressure_pa, lowest, 1.1e5, "Pa absolute", "read a vacuum gauge")
    if _over_ice(celsius_to_kelvin(TRIPLE_POINT_C)) <= pressure <= _over_water(celsius_to_kelvin(TRIPLE_POINT_C)):
        return TRIPLE_POINT_C
    root = scipy.optimize.brentq(
        lambda t: math.log(boiling_pressure_pa(t) / pressure), COLDEST_C, HOTTEST_C, xtol=1e-11, rtol=1e-14
    )
    return float(root)


def leaving_heat(temperature_c):
    """The heat that has to reach water or ice for each kilogram that leaves as vapour.

    Parameters
    ----------
    temperature_c : float
        Temperature of the water or ice, -90 to 120 [°C].

    Returns
    -------
    float
        Heat of evaporation, or of sublimation below 0.01 °C [J/kg].

    Raises
    ------
    OutOfRange
        When the temperature is outside -90 to 120 °C.

    Notes
    -----
    Straight lines from the triple point with constant heat capacities (those of ASHRAE Handbook Fundamentals 2017,
    chapter 1, equations 28, 33 and 35); within 0.3 % of IAPWS-95 up to 60 °C.

    Examples
    --------
    Steam tables give 2441.7 kJ/kg at 25 °C:

    >>> round(leaving_heat(25.0) / 1e3)
    2443
    """
    celsius = check_range("water", temperature_c, COLDEST_C, HOTTEST_C, "°C", "choose a temperature in that range")
    if celsius < TRIPLE_POINT_C:
        return BOILING_HEAT + FREEZING_HEAT + (VAPOUR_HEAT_CAPACITY - ICE_HEAT_CAPACITY) * celsius
    return BOILING_HEAT + (VAPOUR_HEAT_CAPACITY - WATER_HEAT_CAPACITY) * celsius


def absolute_from_vacuum_dial_pa(vacuum_inhg, altitude_m=0.0):
    """The absolute pressure behind what a dial shows in inches of mercury of vacuum.

    Parameters
    ----------
    vacuum_inhg : float
        Vacuum as the dial shows it: 0 is the air of the place [inHg].
    altitude_m : float
        Altitude, 0 to 3,000 [m].

    Returns
    -------
    float
        Absolute pressure [Pa].

    Raises
    ------
    OutOfRange
        When the reading is below zero or deeper than a perfect vacuum at that altitude.

    Notes
    -----
    A dial counts down from the air around it, so the deepest it can show falls with altitude; a micron gauge counts
    up from nothing and needs no correction.

    Examples
    --------
    Water of 25 °C boils at 29.0 inHg at sea level, as printed tables say:

    >>> round(boils_at_c(absolute_from_vacuum_dial_pa(28.985)))
    25
    """
    air = atmospheric_pressure_pa(altitude_m)
    deepest = air / PA_PER_INHG
    vacuum = check_range(
        "vacuum on the dial",
        vacuum_inhg,
        0.0,
        deepest,
        "inHg",
        f"at {altitude_m:g} m a perfect vacuum reads {deepest:.2f} inHg; zero the dial open to the air",
    )
    return air - vacuum * PA_PER_INHG


def check_vacuum_pa(pressure_pa, altitude_m=0.0):
    """Return an absolute pressure when it is a vacuum at that place, else refuse it.

    Parameters
    ----------
    pressure_pa : float
        Absolute pressure [Pa].
    altitude_m : float
        Altitude, 0 to 3,000 [m].

    Returns
    -------
    float
        The pressure [Pa].

    Raises
    ------
    OutOfRange
        When it is not a number, not above zero, or above the air pressure of the place.

    Notes
    -----
    Above the air pressure there is refrigerant or nitrogen in the circuit: recover or let it down before evacuating.

    Examples
    --------
    >>> check_vacuum_pa(66.7)
    66.7
    """
    air = atmospheric_pressure_pa(altitude_m)
    pressure = check_range(
        "vacuum",
        pressure_pa,
        0.0,
        air,
        "Pa absolute",
        f"the air here has {air / PA_PER_MICRON:,.0f} micron; above it there is pressure in the circuit, not vacuum",
    )
    if pressure == 0.0:
        raise OutOfRange("vacuum: 0 Pa absolute was given; no pump reaches nothing at all: read the gauge again.")
    return pressure
