"""Pressures with the compressor stopped and both sides equal: saturation while liquid remains, vapour below, air on top."""

from typing import NamedTuple

from course.errors import check_range
from course.physics.car_file import load_system
from course.physics.moist_air import DRY_AIR_GAS_CONSTANT
from course.physics.refrigerant import saturation_at_temperature, vapour_pressure_at_density
from course.physics.system import MOST_CHARGE_FRACTION
from course.units import celsius_to_kelvin, gauge_from_absolute_pa

LEAST_DENSITY = 1.0e-12  # kg/m3, some 1e-8 Pa: a vacuum on any gauge, and the equation of state gives nothing below


class Rest(NamedTuple):
    """A circuit at rest: total and refrigerant pressure [Pa absolute], liquid [kg], temperature [K]."""

    pressure: float
    refrigerant_pressure: float
    liquid: float
    temperature: float


def rest_state(system, temperature, charge, air_mass=0.0):
    """A circuit that has stood until everything is as warm as its coldest part.

    Parameters
    ----------
    system : CarSystem
        The car.
    temperature : float
        Temperature of the coldest part, where liquid gathers [K].
    charge : float
        Refrigerant [kg].
    air_mass : float
        Air in the circuit [kg].

    Returns
    -------
    Rest
        Pressures [Pa], liquid [kg], temperature [K].

    Raises
    ------
    OutOfRange
        When the temperature is off the chart.

    Notes
    -----
    While liquid remains the pressure is saturation, whatever the charge; below that, real vapour in the whole volume
    (textbook). Air: ideal gas in what the liquid leaves free. Refrigerant in the oil is not modelled; it keeps a real
    circuit's pressure up a little longer.

    Examples
    --------
    Computed by hand with CoolProp: a 3 L circuit of R-134a at 25 °C needs only 97 g to stand at saturation:

    >>> from dataclasses import replace
    >>> car = load_system("sedan")
    >>> rest_state(car, 298.15, 0.06, 0.0).liquid > 0.0
    False
    """
    saturated = saturation_at_temperature(system.refrigerant, temperature)
    volume = system.volume
    all_vapour = saturated.vapour_density * volume
    if charge >= all_vapour:
        liquid_volume = (charge - all_vapour) / (saturated.liquid_density - saturated.vapour_density)
        refrigerant_pressure = saturated.pressure
    elif charge > LEAST_DENSITY * volume:
        liquid_volume = 0.0
        refrigerant_pressure = vapour_pressure_at_density(system.refrigerant, charge / volume, temperature)
    else:
        liquid_volume, refrigerant_pressure = 0.0, 0.0
    air = air_mass * DRY_AIR_GAS_CONSTANT * temperature / (volume - liquid_volume)
    return Rest(refrigerant_pressure + air, refrigerant_pressure, liquid_volume * saturated.liquid_density, temperature)


def rest_pressure(system, *, temperature_c, charge_fraction, air_kg=0.0, altitude_m=0.0):
    """What both gauges show with the engine off, after a long soak.

    Parameters
    ----------
    system : str or CarSystem
        An id from data/systems, or a car.
    temperature_c : float
        Soak temperature, -30 to 60 [°C].
    charge_fraction : float
        Share of the label charge, 0 to 1.4 [-].
    air_kg : float
        Air in the circuit, 0 to 0.05 [kg].
    altitude_m : float
        Altitude [m].

    Returns
    -------
    float
        Gauge pressure, below zero for vacuum [kPa].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the car is unknown or a value is outside its range.

    Notes
    -----
    See rest_state. With neither refrigerant nor air the gauges show full vacuum: an evacuated circuit, not a leaky one.

    Examples
    --------
    A 2001 factory manual prints 5.6 bar (gauge) at 25 °C, whatever the charge:

    >>> [round(rest_pressure("sedan", temperature_c=25.0, charge_fraction=c) / 100, 1) for c in (0.4, 1.0)]
    [5.6, 5.6]
    """
    if isinstance(system, str):
        system = load_system(system)
    temperature = check_range("soak temperature", temperature_c, -30.0, 60.0, "°C", "choose a soak in that range")
    fraction = check_range(
        "charge", charge_fraction, 0.0, MOST_CHARGE_FRACTION, "of the label charge", "give it as a share of one"
    )
    air = check_range("air in the circuit", air_kg, 0.0, 0.05, "kg", "a whole circuit holds a few grams of air")
    state = rest_state(system, celsius_to_kelvin(temperature), fraction * system.label_charge, air)
    return gauge_from_absolute_pa(state.pressure, altitude_m) / 1e3
