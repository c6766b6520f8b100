"""Where the search for the steady state begins when there is nothing nearer: rules of thumb, never the answer."""

import math

import numpy as np

from course.physics.circuit import (
    CONDENSING_SCALE,
    SUPERHEAT_SCALE,
    VAPOUR_DENSITY_PER_PRESSURE,
    growing,
    variable_from_suction,
)
from course.physics.compressor import volumetric_efficiency
from course.physics.condenser import condenser_air, slice_effectiveness
from course.physics.controls import SWITCH_BAND, hold_pressure
from course.physics.evaporator import boiling_heat
from course.physics.expansion_device import metering_flow
from course.physics.refrigerant import saturation_at_pressure, saturation_at_temperature

# Bare numbers below are rules of thumb of the same kind: they decide where the search begins and never where it ends.
HEAT_TAKEN_UP = 150.0e3  # J/kg in the evaporator
HEAT_GIVEN_OFF = 190.0e3  # J/kg in the condenser
HOTTEST_GUESS = 345.0  # K of condensing temperature


def _variable_from_reach(circuit, reach):
    """The solver's superheat variable for a reach: the reverse of reach_and_wetness for a dry outlet."""
    value = reach if circuit.orifice else reach * circuit.rough_difference / SUPERHEAT_SCALE
    return value if value < 2.0 else 2.0 + 2.0 * math.log(0.5 * value)


def _supply(circuit, condensing):
    """The most that liquid line and metering device would let through, full of liquid [kg/s]."""
    system = circuit.system
    high = saturation_at_temperature(system.refrigerant, min(condensing, HOTTEST_GUESS))
    through = metering_flow(system.metering, system.refrigerant, high, high.liquid_enthalpy, 1500.0, 2.0e5, 40.0)[0]
    line = math.sqrt(0.9 * (high.pressure - 2.0e5) * high.liquid_density / system.liquid_line.resistance)
    return min(through, line)


def first_guesses(circuit):
    """Where to begin when there is nothing nearer: a likely state, and one of a circuit with hardly anything in it.

    Parameters
    ----------
    circuit : Circuit
        The fixed part of the problem.

    Returns
    -------
    list of numpy.ndarray
        The solver's variables, the likelier first [-].

    Raises
    ------
    OutOfRange
        When the coil leaves what moist_air covers.

    Notes
    -----
    The flow is the least of what the coil can boil, the compressor move and the metering device pass; suction pressure,
    superheat and condensing temperature follow from it by rule of thumb. They only set where the search begins.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> from course.physics.circuit import prepare
    >>> from course.physics.system import conditions
    >>> [len(guess) for guess in first_guesses(prepare(load_system("pickup"), conditions(), 0.7))]
    [3, 3]
    """
    system, ref = circuit.system, circuit.system.refrigerant
    compressor, ambient = system.compressor, circuit.conditions.ambient
    swept = compressor.displacement * circuit.conditions.compressor_rpm / 60.0 * compressor.pumping_share
    swept *= 0.75 * compressor.clutch_share * (1.0 - compressor.worn_share)
    hold = hold_pressure(system.controls, circuit.conditions.air_pressure, 0.0)
    evaporating = circuit.coil_air.inlet.temperature - 5.0
    for _ in range(20):
        saturated = saturation_at_temperature(ref, evaporating)
        boiled = boiling_heat(system.evaporator, circuit.coil_air, evaporating) / HEAT_TAKEN_UP
        pumped = swept * saturated.vapour_density
        if pumped <= boiled or saturated.pressure <= hold + SWITCH_BAND:
            break
        evaporating -= 2.0
    supply = _supply(circuit, ambient + 20.0)
    flow = min(boiled, pumped, supply)
    pressure, reach = max(saturated.pressure, hold + SWITCH_BAND), 0.2
    if flow < 0.7 * min(boiled, pumped):
        pressure, reach = _starved(circuit, flow, swept / 0.75)
    low = variable_from_suction(circuit, pressure, reach if not circuit.orifice else 0.0)
    if pumped > flow and low >= 1.0 - 1e-9 and reach == 0.2:
        low = min(low, 1.0 + math.log(flow / pumped))
    short = circuit.charge / system.label_charge
    over = max(short - 1.05, 0.0)
    position = min(max(2.0 * (short - 0.7), -0.3), 1.05)
    likely = [low, _high_guess(circuit, flow, over), position]
    empty = [min(low, 1.0), -5.0, -1.05]
    if circuit.orifice:
        if reach > 0.2:
            likely[2] = min(position, -_variable_from_reach(circuit, reach))
        empty[2] = -6.0
    else:
        likely[2] += 4.0 * over
        likely.append(_variable_from_reach(circuit, reach))
        empty.append(6.0)
        empty[0] = variable_from_suction(circuit, 0.5 * hold, growing(6.0) * SUPERHEAT_SCALE / circuit.rough_difference)
    return [np.array(likely), np.array(empty)]


def _starved(circuit, flow, swept):
    """Suction pressure and reach when the metering device passes less than the coil could boil."""
    system, air, rpm = circuit.system, circuit.coil_air, circuit.conditions.compressor_rpm
    high = saturation_at_temperature(system.refrigerant, circuit.conditions.ambient + 8.0).pressure
    pressure = 2.0e5
    for _ in range(12):
        efficiency = volumetric_efficiency(system.compressor, max(high / pressure, 1.0), rpm)
        wanted = flow / (swept * efficiency * 0.9 * VAPOUR_DENSITY_PER_PRESSURE)
        pressure = math.sqrt(pressure * min(max(wanted, 2.0e4), 5.0e5))
    boiling = saturation_at_pressure(system.refrigerant, pressure).temperature
    share = min(flow * HEAT_TAKEN_UP / boiling_heat(system.evaporator, air, boiling), 0.95)
    conductance = system.evaporator.conductance_vapour * air.flow_share**system.evaporator.airflow_exponent
    rate = -math.expm1(-conductance / air.capacity_rate) * air.capacity_rate / (flow * 850.0)
    return pressure, max(rate * (1.0 - share), 0.2)


def _high_guess(circuit, flow, over):
    """The discharge variable at which the condenser gets rid of about the heat that comes."""
    system = circuit.system
    air = condenser_air(system.condenser, circuit.conditions, 0.8 * system.controls.high_pressure_cut_out)
    condensing = slice_effectiveness(system.condenser.conductance_condensing, air) * air.capacity_rate
    rise = HEAT_GIVEN_OFF * flow / (0.7 * condensing) * (1.0 + 3.0 * over)
    highest = CONDENSING_SCALE * math.sinh(circuit.free_discharge)
    # a rise the car cannot have means that the high-pressure cut-out takes away as much pumping as the air cannot carry
    return math.asinh(min(rise, highest) / CONDENSING_SCALE) + max(math.log(rise / highest), 0.0)
