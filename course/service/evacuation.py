"""Evacuating a circuit: pressure against time with water boiling off."""

import math
from dataclasses import dataclass, replace

import numpy as np
import scipy

from course.errors import OutOfRange, check_range
from course.physics.moist_air import DRY_AIR_GAS_CONSTANT
from course.service.vacuum_flow import check_parts, pumping_speed
from course.service.water import (
    BOILING_HEAT,
    FREEZING_HEAT,
    ICE_HEAT_CAPACITY,
    VAPOUR_HEAT_CAPACITY,
    WATER_GAS_CONSTANT,
    WATER_HEAT_CAPACITY,
    boiling_pressure_pa,
    check_vacuum_pa,
)
from course.tables import read_service_numbers
from course.units import (
    PA_PER_MICRON,
    STANDARD_ATMOSPHERE_PA,
    celsius_to_kelvin,
)

LONGEST_MINUTES = 1440.0  # a day; the workbook's own limit
COLDEST_WATER_C = -80.0  # °C, to which pumped ice is followed
STEPS = 241  # points of a curve


@dataclass(frozen=True)
class Circuit:
    """What is being evacuated."""

    volume_m3: float  # m3
    temperature_c: float = 20.0  # °C, of the shop and of everything that is not being chilled
    water_g: float = 0.0  # g of liquid water in one place
    heat_w_k: float = 0.0  # W/K, heat that reaches that place for each kelvin it is colder than the shop
    outgassing_pa_m3_s: float = 0.0  # Pa m3/s of gas out of oil and hoses, into a perfect vacuum
    outgassing_level_pa: float = 1.0  # Pa absolute, where that gas would level in a closed circuit
    leak_pa_m3_s: float = 0.0  # Pa m3/s of air that a perfect vacuum draws in from sea-level air


@dataclass(frozen=True)
class VacuumCurve:
    """Pressure against time, with what is left of the water."""

    minutes: tuple  # min
    pressure_pa: tuple  # Pa absolute, in the circuit
    vapour_pa: tuple  # Pa absolute, the water's share of it
    water_g: tuple  # g of water or ice left
    water_c: tuple  # °C of that water or ice
    energy_j: float  # J, heat content of the wet place at the end, water of 0 °C being nothing
    circuit: Circuit


def _check_circuit(circuit, minutes):
    check_range("volume", circuit.volume_m3, 1e-4, 0.1, "m3", "a car's circuit has 0.002 to 0.006")
    check_range("temperature", circuit.temperature_c, 0.0, 60.0, "°C", "choose a shop in that range")
    check_range("water", circuit.water_g, 0.0, 100.0, "g", "more must be drained, not pumped")
    check_range("heat to the wet place", circuit.heat_w_k, 0.0, 50.0, "W/K", "0.1 to 1 is usual")
    check_range("outgassing", circuit.outgassing_pa_m3_s, 0.0, 10.0, "Pa m3/s", "0.0001 to 0.01 is usual")
    check_range("outgassing level", circuit.outgassing_level_pa, 1e-3, 1e5, "Pa absolute", "50 to 300 is usual")
    check_range("leak", circuit.leak_pa_m3_s, 0.0, 100.0, "Pa m3/s", "above it no pump draws a vacuum")
    return check_range("time", minutes, 0.01, LONGEST_MINUTES, "min", "choose a time within a day")


def usual_circuit(**settings):
    """An ordinary, tight car circuit after a good recovery.

    Parameters
    ----------
    **settings
        Fields of Circuit to set otherwise, such as water_g.

    Returns
    -------
    Circuit
        The circuit.

    Raises
    ------
    BadDataFile
        When the data file is not whole.

    Notes
    -----
    Sizes from data/service/evacuation.toml, all assumed.

    Examples
    --------
    >>> usual_circuit(water_g=2.0).water_g
    2.0
    """
    numbers = read_service_numbers("evacuation")
    circuit = Circuit(
        volume_m3=numbers.value("circuit", "volume_cm3") / 1e6,
        heat_w_k=numbers.value("circuit", "heat_w_k"),
        outgassing_pa_m3_s=numbers.value("circuit", "outgassing_pa_m3_s"),
        outgassing_level_pa=numbers.value("circuit", "outgassing_level_micron") * PA_PER_MICRON,
    )
    return replace(circuit, **settings)


def pump_down(circuit, pump, tubes, minutes, ways=1, start_pa=STANDARD_ATMOSPHERE_PA, before=None):
    """Pressure against time while the pump runs, water boiling off as fast as heat reaches it.

    Parameters
    ----------
    circuit : Circuit
        Volume, water, gas given off, leak.
    pump : Pump
        The pump.
    tubes : sequence of Tube
        Hose and port, one after the other.
    minutes : float
        How long, 0.01 to 1440 [min].
    ways : int
        1 for one service port, 2 for both.
    start_pa : float
        Pressure at the start when there is no curve before: air of the place [Pa absolute].
    before : VacuumCurve or None
        An earlier stretch to go on from.

    Returns
    -------
    VacuumCurve
        Pressures [Pa absolute], water left [g] and its temperature [°C] against time [min].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    Two gases share the volume: air (with all other dry gas) and water vapour. Pumping: speed_at_the_car_m3_s. The wet
    place (water, ice and a little metal) gives off vapour in proportion to its own vapour pressure less the vapour
    above it, hindered by air; that takes heat, which the shop returns through heat_w_k: the water chills, freezes at
    0 °C and goes on as ice. Vapour pressures: water.py. Gas from the oil fades as the pressure nears its level; a
    leak is laminar, in proportion to the difference of squared pressures. Not modelled: boiling refrigerant, water
    held by oil and drier, droplets blown along, condensation in the pump.

    Examples
    --------
    With constant speed the textbook's (V/S) ln(p0/p1) gives 31 s for 3 L, 42.5 L/min and 500 micron; a real hose adds:

    >>> from course.service.vacuum_flow import Pump, Tube
    >>> wide = [Tube(0.05, 0.001)]
    >>> ideal = Pump(42.5e-3 / 60, 0.01)
    >>> curve = pump_down(Circuit(0.003), ideal, wide, 2.0)
    >>> round(60 * minutes_to_reach(curve, 500 * PA_PER_MICRON))
    31
    """
    check_parts(pump, tubes, ways)
    return _march(circuit, minutes, start_pa, before, lambda *gas: pumping_speed(pump, tubes, ways, *gas))


def isolate(before, minutes):
    """Pressure against time after the valve to the pump is closed: the rise test.

    Parameters
    ----------
    before : VacuumCurve
        The pump-down it follows.
    minutes : float
        How long, 0.01 to 1440 [min].

    Returns
    -------
    VacuumCurve
        As pump_down, time from the closing of the valve [min].

    Raises
    ------
    OutOfRange
        When the time is outside its range.

    Notes
    -----
    The same balance as pump_down with the pump's speed at zero.

    Examples
    --------
    A tight, dry circuit without gas in its oil stays where it was:

    >>> from course.service.vacuum_flow import load_pump, load_tube
    >>> down = pump_down(Circuit(0.003), load_pump("pump_small"), [load_tube("hose_usual")], 10.0)
    >>> hold = isolate(down, 10.0)
    >>> abs(hold.pressure_pa[-1] - down.pressure_pa[-1]) < 1e-6
    True
    """
    return _march(before.circuit, minutes, 0.0, before, lambda *gas: 0.0)


def minutes_to_reach(curve, pressure_pa):
    """When a curve first falls to a pressure.

    Parameters
    ----------
    curve : VacuumCurve
        A pump-down.
    pressure_pa : float
        The pressure wanted [Pa absolute].

    Returns
    -------
    float or None
        Time; None when the curve does not get there [min].

    Raises
    ------
    OutOfRange
        When the pressure is not a vacuum.

    Notes
    -----
    Straight line in the logarithm of pressure between two points.

    Examples
    --------
    >>> from course.service.vacuum_flow import load_pump, load_tube
    >>> down = pump_down(Circuit(0.003), load_pump("pump_old_oil"), [load_tube("hose_usual")], 30.0)
    >>> minutes_to_reach(down, 500 * PA_PER_MICRON) is None
    True
    """
    wanted = math.log(check_vacuum_pa(pressure_pa))
    logs = np.log(curve.pressure_pa)
    below = np.flatnonzero(logs <= wanted)
    if not below.size:
        return None
    first = int(below[0])
    if first == 0:
        return float(curve.minutes[0])
    return float(np.interp(-wanted, -logs[first - 1 : first + 1], curve.minutes[first - 1 : first + 1]))


def _temperature_c(energy, water, metal):
    """Temperature of water with a little metal from their heat content: ice, a mixture at 0 °C, or water."""
    frozen = -water * FREEZING_HEAT
    if energy < frozen:
        return (energy - frozen) / (metal + water * ICE_HEAT_CAPACITY)
    return max(energy, 0.0) / (metal + water * WATER_HEAT_CAPACITY)


def _march(circuit, minutes, start_pa, before, speed_of):
    minutes = _check_circuit(circuit, minutes)
    numbers = read_service_numbers("evacuation")
    metal = numbers.value("circuit", "metal_j_k")
    evaporation = numbers.value("circuit", "evaporation_kg_s_pa")
    hindered = numbers.value("circuit", "air_hinders_pa")
    volume, shop = circuit.volume_m3, circuit.temperature_c
    kelvin = celsius_to_kelvin(shop)
    drop = 1e-6  # kg: the last drop dries up over this much, so that nothing jumps

    def change(_, state):
        air, vapour, water, energy = state
        water = max(water, 0.0)
        total = max(air + vapour, 1e-6)
        share = min(max(vapour / total, 0.0), 1.0)
        celsius = _temperature_c(energy, water, metal)
        over = boiling_pressure_pa(min(max(celsius, COLDEST_WATER_C), shop)) - vapour
        leaving = evaporation * over / (1.0 + max(air, 0.0) / hindered) * water / (water + drop)
        speed = speed_of(total, share, kelvin)
        leak = circuit.leak_pa_m3_s * (1.0 - (total / STANDARD_ATMOSPHERE_PA) ** 2)
        given_off = circuit.outgassing_pa_m3_s * (1.0 - min(total / circuit.outgassing_level_pa, 1.0))
        heat = circuit.heat_w_k * (shop - celsius)
        carried = leaving * (BOILING_HEAT + VAPOUR_HEAT_CAPACITY * celsius)
        return (
            (leak + given_off - speed * air) / volume,
            (leaving * WATER_GAS_CONSTANT * kelvin - speed * vapour) / volume,
            -leaving,
            heat - carried,
        )

    begin = _beginning(circuit, start_pa, before, metal)
    seconds = 60.0 * minutes * np.linspace(0.0, 1.0, STEPS) ** 2
    solved = scipy.integrate.solve_ivp(
        change, (0.0, seconds[-1]), begin, "LSODA", seconds, rtol=1e-6, atol=(1e-4, 1e-4, 1e-10, 1e-3)
    )
    if not solved.success:
        raise OutOfRange(f"evacuation: no curve was found ({solved.message}); choose a shorter time or less water.")
    return _curve(circuit, seconds, solved.y, metal)


def _beginning(circuit, start_pa, before, metal):
    if before is not None:
        vapour = before.vapour_pa[-1]
        return before.pressure_pa[-1] - vapour, vapour, before.water_g[-1] / 1e3, before.energy_j
    water = circuit.water_g / 1e3
    energy = (metal + water * WATER_HEAT_CAPACITY) * circuit.temperature_c
    return check_vacuum_pa(start_pa), 0.0, water, energy


def _curve(circuit, seconds, states, metal):
    air, vapour, water, energy = states
    water = np.maximum(water, 0.0)
    celsius = [_temperature_c(e, w, metal) for e, w in zip(energy.tolist(), water.tolist(), strict=True)]
    return VacuumCurve(
        tuple((seconds / 60.0).tolist()),
        tuple(np.maximum(air + vapour, 1e-6).tolist()),
        tuple(np.maximum(vapour, 0.0).tolist()),
        tuple((1e3 * water).tolist()),
        tuple(celsius),
        float(energy[-1]),
        circuit,
    )


def air_kg_in(volume_m3, pressure_pa, temperature_c=20.0):
    """How much air is left in a circuit at a vacuum.

    Parameters
    ----------
    volume_m3 : float
        Volume of the circuit [m3].
    pressure_pa : float
        Pressure, all of it air [Pa absolute].
    temperature_c : float
        Temperature [°C].

    Returns
    -------
    float
        Air left [kg].

    Raises
    ------
    OutOfRange
        When the pressure is not a vacuum.

    Notes
    -----
    Ideal gas. It is what stays in the condenser as air afterwards.

    Examples
    --------
    3 L at 25 inHg of dial vacuum (16.7 kPa) still hold 0.6 g of air:

    >>> round(1e3 * air_kg_in(0.003, 16.7e3), 1)
    0.6
    """
    return check_vacuum_pa(pressure_pa) * volume_m3 / (DRY_AIR_GAS_CONSTANT * celsius_to_kelvin(temperature_c))
