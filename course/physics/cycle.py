"""The steady state of the whole circuit at a given charge: one march around the loop, and the solver that closes it."""

import math
from typing import NamedTuple

import numpy as np

from course.errors import CycleNotSolved
from course.physics.charge_inventory import (
    STORAGE_ROUNDING,
    condenser_mass,
    evaporator_mass,
    pipe_mass,
    storage_mass,
)
from course.physics.compressor import HIGH_SWITCH_BAND, SWITCH_BAND, Pumping, pump, pumping_share, volumetric_efficiency
from course.physics.condenser import Air, Pass, condenser_air, core_pass
from course.physics.evaporator import CoilAir, CoilRun, boiling_heat, coil_air, core_needed
from course.physics.expansion_device import metering_flow
from course.physics.lines import pressure_drop, pressure_left, soft_positive
from course.physics.moist_air import DRY_AIR_GAS_CONSTANT
from course.physics.refrigerant import Fluid, Saturation, saturation_at_pressure, saturation_at_temperature, vapour
from course.physics.system import OrificeTube

TOLERANCE = 1e-9  # - largest relative imbalance of any balance that counts as solved
DISCHARGE_ALLOWANCE = 6.0e4  # Pa of discharge-line drop foreseen in the solver's variable
CONDENSING_SCALE = 0.02  # K; sets only the solver's step
SUPERHEAT_SCALE = 10.0  # K; sets only the solver's step
LIQUID_SCALE = 40.0e3  # J/kg of subcooling for one unit of the state variable; sets only the solver's step
WET_LINE = 0.02  # - wetness at which the suction line no longer superheats; assumed
AIR_GAS_SHARE = 0.4  # - of the inner volume over which air behaves as if gathered on the high side; assumed
LEAST_FLOW = 1.0e-9  # kg/s: keeps a stopped flow from dividing by zero
LOWEST_SUCTION = 8.0e3  # Pa


class Circuit(NamedTuple):
    """What does not change during a solve: the car, the air on both sides, the charge [kg], the engine bay [K]."""

    system: object
    conditions: object
    charge: float
    air: Air
    coil_air: CoilAir
    engine_bay: float
    air_pressure: float
    highest_suction: float
    free_discharge: float
    rough_difference: float


class March(NamedTuple):
    """Everything known after one march around the loop from trial values, and what does not yet balance."""

    suction_saturation: Saturation
    discharge_saturation: Saturation
    condenser_saturation: Saturation
    metering_saturation: Saturation
    evaporator_saturation: Saturation
    evaporator_outlet: Fluid
    wetness: float
    suction: Fluid
    share: float
    pumping: Pumping
    flow: float
    first_pass: Pass
    last_pass: Pass | None
    air_partial_pressure: float
    metering_density: float
    metering_quality: float
    coil: CoilRun
    level: float
    reserve: float
    masses: dict
    imbalance: tuple

    @property
    def condenser_outlet(self):
        """The last part of the condenser."""
        return self.last_pass or self.first_pass


def _buffer(position):
    """Level of a buffer, and how far its outlet is below empty or above full, from one running variable."""
    below = soft_positive(-position, STORAGE_ROUNDING)
    above = soft_positive(position - 1.0, STORAGE_ROUNDING)
    return soft_positive(position, STORAGE_ROUNDING) - above, below, above


def _suction_side(circuit, pressure, reach, wetness, share):
    """Evaporator outlet and compressor inlet."""
    system = circuit.system
    saturated = saturation_at_pressure(system.refrigerant, pressure)
    latent = saturated.vapour_enthalpy - saturated.liquid_enthalpy
    difference = soft_positive(circuit.coil_air.inlet.temperature - saturated.temperature, 0.5)
    gas = vapour(system.refrigerant, pressure, saturated.temperature - difference * math.expm1(-reach))
    outlet = _wet(gas, saturated, latent, wetness)
    compressor = system.compressor
    rough_flow = 0.7 * compressor.displacement * circuit.conditions.compressor_rpm / 60.0 * outlet.density * share + LEAST_FLOW
    reach = -math.expm1(-system.suction_line_conductance / (rough_flow * gas.heat_capacity))
    rise = (circuit.engine_bay - gas.temperature) * reach * math.exp(-wetness / WET_LINE)
    warmed = vapour(system.refrigerant, pressure, gas.temperature + rise)
    return saturated, outlet, _wet(warmed, saturated, latent, wetness)


def _wet(gas, saturated, latent, wetness):
    if wetness < 1e-12:
        return gas
    density = 1.0 / ((1.0 - wetness) / gas.density + wetness / saturated.liquid_density)
    return Fluid(
        gas.pressure,
        gas.temperature,
        gas.enthalpy - wetness * latent,
        density,
        gas.entropy - wetness * latent / saturated.temperature,
        gas.heat_capacity,
    )


def suction_from_variable(circuit, variable):
    """Suction pressure from the solver's running variable.

    Parameters
    ----------
    circuit : Circuit
        The car's hold point [Pa gauge] and the air pressure [Pa].
    variable : float
        1 at the end of the switch band; above, the logarithm of pressure, below, of the share that is pumped [-].

    Returns
    -------
    float
        Suction pressure [Pa].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A change of variable only: it makes one step of the solver change the flow alike inside the narrow band of a switch
    and outside it.

    Examples
    --------
    >>> from course.physics.system import load_system, conditions
    >>> circuit = prepare(load_system("pickup"), conditions(), 0.8)
    >>> round(suction_from_variable(circuit, 1.0) - suction_from_variable(circuit, -20.0))
    8000
    """
    hold = circuit.system.controls.low_side_hold + circuit.conditions.air_pressure
    if variable <= 1.0:
        return hold + SWITCH_BAND * math.exp(variable - 1.0)
    return (hold + SWITCH_BAND) * math.exp(variable - 1.0)


def variable_from_suction(circuit, pressure):
    """The solver's running variable for a suction pressure: the reverse of suction_from_variable.

    Parameters
    ----------
    circuit : Circuit
        The car's hold point [Pa gauge] and the air pressure [Pa].
    pressure : float
        Suction pressure [Pa].

    Returns
    -------
    float
        The variable [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    See suction_from_variable.

    Examples
    --------
    >>> from course.physics.system import load_system, conditions
    >>> circuit = prepare(load_system("pickup"), conditions(), 0.8)
    >>> round(variable_from_suction(circuit, suction_from_variable(circuit, 1.3)), 9)
    1.3
    """
    hold = circuit.system.controls.low_side_hold + circuit.conditions.air_pressure
    if pressure <= hold + SWITCH_BAND:
        return 1.0 + math.log((pressure - hold) / SWITCH_BAND)
    return 1.0 + math.log(pressure / (hold + SWITCH_BAND))


def discharge_from_variable(circuit, variable, suction_pressure):
    """Discharge pressure from the solver's running variable.

    Parameters
    ----------
    circuit : Circuit
        The car and the weather.
    variable : float
        Inverse hyperbolic sine of the condensing temperature above the weather, in CONDENSING_SCALE; in the band of
        the high-pressure cut-out, the logarithm of the share that is pumped [-].
    suction_pressure : float
        Suction pressure, for the flow that loses pressure in the discharge line [Pa].

    Returns
    -------
    float
        Discharge pressure [Pa].

    Raises
    ------
    OutOfRange
        When the condensing temperature passes the critical one.

    Notes
    -----
    A change of variable only. A large condenser with little flow condenses within hundredths of a kelvin of the air;
    in this variable that is no narrower than anything else. The line's drop is taken at a rough flow here so that the
    scale stays right; march() works out the true one.

    Examples
    --------
    >>> from course.physics.system import load_system, conditions
    >>> circuit = prepare(load_system("sedan"), conditions(ambient_c=35.0), 0.5)
    >>> 8.8e5 < discharge_from_variable(circuit, 0.0, 3e5) < 9.6e5
    True
    """
    low = min(variable, circuit.free_discharge)
    condensing = circuit.conditions.ambient + CONDENSING_SCALE * math.sinh(low)
    saturated = saturation_at_temperature(circuit.system.refrigerant, condensing)
    high = saturated.pressure + circuit.air_pressure
    compressor, conditions = circuit.system.compressor, circuit.conditions
    swept = compressor.displacement * compressor.pumping_share * compressor.clutch_share * (1.0 - compressor.worn_share)
    swept *= conditions.compressor_rpm / 60.0
    swept *= volumetric_efficiency(compressor, max(high / suction_pressure, 1.0), conditions.compressor_rpm)
    # 4.7e-5 kg/m3 per Pa is the density of both refrigerants' vapour near 10 K of superheat at low-side pressures
    suction_gauge = suction_pressure - conditions.air_pressure
    flow = swept * 4.7e-5 * suction_pressure * pumping_share(circuit.system.controls, suction_gauge, 0.0)
    drop = pressure_drop(circuit.system.discharge_line, flow, 0.85 * saturated.vapour_density)
    pressure = high + DISCHARGE_ALLOWANCE - pressure_left(drop, DISCHARGE_ALLOWANCE)
    if variable > low:
        cut_out = circuit.system.controls.high_pressure_cut_out + conditions.air_pressure
        pressure = cut_out - (cut_out - pressure) * math.exp(low - variable)
    return pressure


def march(circuit, trial):
    """Once around the loop from trial values: suction and discharge pressure, buffer position, superheat.

    Parameters
    ----------
    circuit : Circuit
        What stays the same.
    trial : sequence of float
        Variables of suction and discharge pressure (see suction_from_variable and discharge_from_variable) [-], position of the buffer (below 0 empty, 0 to 1 its
        level, above 1 overfull) [-], and with an expansion valve the superheat variable [-].

    Returns
    -------
    March
        All states, and the imbalance of flow, evaporator heat, charge and (with a receiver) condenser outlet [-].

    Raises
    ------
    OutOfRange
        When the trial values leave the chart.

    Notes
    -----
    Each part is explicit: compressor, discharge line, condenser, liquid line, metering device, evaporator, suction
    line. A wet accumulator holds the evaporator outlet at saturation, a part-full receiver the condenser outlet.

    Examples
    --------
    See solve_cycle, which brings every imbalance to zero.
    """
    trial = [float(value) for value in trial]
    system, ref = circuit.system, circuit.system.refrigerant
    orifice = isinstance(system.metering, OrificeTube)
    suction_pressure = suction_from_variable(circuit, trial[0])
    level, below, above = _buffer(trial[2])
    if orifice:
        reach, wetness = below, above
    else:
        reach = soft_positive(trial[3], STORAGE_ROUNDING) * SUPERHEAT_SCALE / circuit.rough_difference
        wetness = soft_positive(-trial[3], STORAGE_ROUNDING)
    atmosphere = circuit.conditions.air_pressure
    discharge_pressure = discharge_from_variable(circuit, trial[1], suction_pressure)
    share = pumping_share(system.controls, suction_pressure - atmosphere, discharge_pressure - atmosphere)
    saturated, outlet, suction = _suction_side(circuit, suction_pressure, reach, wetness, share)
    superheat = outlet.temperature - saturated.temperature
    at_discharge = saturation_at_pressure(ref, discharge_pressure)
    pumping = pump(system.compressor, ref, suction, at_discharge, circuit.conditions.compressor_rpm, share)
    flow = pumping.flow + LEAST_FLOW

    partial = circuit.air_pressure
    available = soft_positive(discharge_pressure - partial - suction_pressure, 1.0e3)
    drop = pressure_drop(system.discharge_line, flow, pumping.discharge_density)
    condensing = suction_pressure + pressure_left(drop, available)
    at_condenser = saturation_at_pressure(ref, condensing)
    first_area = 1.0 - system.condenser.subcooling_pass_fraction
    first = core_pass(
        system.condenser, ref, at_condenser, circuit.air, flow, pumping.discharge_enthalpy, pumping.discharge_temperature, first_area
    )
    last = None
    if first_area < 1.0:
        last = core_pass(
            system.condenser, ref, at_condenser, circuit.air, flow, first.enthalpy, first.temperature, 1.0 - first_area
        )
    end = last or first

    liquid_density = at_condenser.liquid_density if end.quality <= 0.0 else _mixture(at_condenser, end.quality)
    available = condensing + partial - suction_pressure
    drop = pressure_drop(system.liquid_line, flow, liquid_density)
    inlet_pressure = suction_pressure + pressure_left(drop, available)
    at_inlet = saturation_at_pressure(ref, inlet_pressure)
    boiling_pressure = suction_pressure + pressure_drop(system.suction_line, flow, outlet.density)
    at_evaporator = saturation_at_pressure(ref, boiling_pressure)
    passed, inlet_density, inlet_quality = metering_flow(
        system.metering, ref, at_inlet, end.enthalpy, end.liquid_heat_capacity, boiling_pressure, superheat - 10.0 * wetness
    )
    coil = core_needed(
        system.evaporator, circuit.coil_air, at_evaporator, flow, end.enthalpy, outlet.enthalpy, wetness, reach,
        outlet.heat_capacity,
    )
    masses, reserve = _masses(
        system, orifice, level, saturated, outlet, suction, pumping, at_condenser, first, last, at_inlet, inlet_density,
        inlet_quality, at_evaporator, coil, end.enthalpy,
    )
    imbalance = [
        math.log((passed + LEAST_FLOW) / flow),
        math.log(coil.needed),
        (sum(masses.values()) - circuit.charge) / system.label_charge,
    ]
    if not orifice:
        high_latent = at_condenser.vapour_enthalpy - at_condenser.liquid_enthalpy
        wanted = at_condenser.liquid_enthalpy + high_latent * below - LIQUID_SCALE * above
        imbalance.append((first.enthalpy - wanted) / high_latent)
    return March(
        saturated, at_discharge, at_condenser, at_inlet, at_evaporator, outlet, wetness, suction, share, pumping, flow,
        first, last, partial, inlet_density, inlet_quality, coil, level, reserve, masses, tuple(imbalance),
    )


def _mixture(saturated, quality):
    quality = min(quality, 1.0)
    return 1.0 / (quality / saturated.vapour_density + (1.0 - quality) / saturated.liquid_density)


def _masses(
    system, orifice, level, at_suction, outlet, suction, pumping, at_condenser, first, last, at_inlet, inlet_density,
    inlet_quality, at_evaporator, coil, enthalpy_in,
):
    """Refrigerant part by part [kg], and the liquid in reserve [kg]."""
    passes = (first,) if last is None else (first, last)
    if orifice:
        stored, reserve = storage_mass(
            system.storage, at_suction.liquid_density, level, min(outlet.density, at_suction.vapour_density)
        )
    else:
        stored, reserve = storage_mass(system.storage, first.liquid_density, level, at_condenser.vapour_density)
    masses = {
        "compressor": system.compressor.volume * suction.density,
        "discharge line": system.discharge_line.volume * pumping.discharge_density,
        "condenser": condenser_mass(system.condenser.volume, at_condenser, passes, pumping.discharge_density),
        "liquid line": pipe_mass(
            system.liquid_line, at_inlet, inlet_quality, (last or first).liquid_density if inlet_quality <= 0.0 else inlet_density
        ),
        "evaporator": evaporator_mass(system.evaporator, at_evaporator, coil, enthalpy_in),
        "suction line": system.suction_line.volume * suction.density,
        system.storage.kind: stored,
    }
    return masses, reserve


def prepare(system, conditions, charge):
    """Everything that stays the same during a solve.

    Parameters
    ----------
    system : CarSystem
        The car, faults included.
    conditions : Conditions
        Weather and driving.
    charge : float
        Refrigerant in the circuit [kg].

    Returns
    -------
    Circuit
        The fixed part of the problem.

    Raises
    ------
    OutOfRange
        When the air is beyond what moist_air covers.

    Notes
    -----
    Air in the circuit adds its partial pressure on the high side as an ideal gas spread over AIR_GAS_SHARE of the
    inner volume (assumed: a good part of the 260-390 kPa worked out for all of a never-evacuated circuit's air).

    Examples
    --------
    >>> from course.physics.system import load_system, conditions
    >>> prepare(load_system("sedan"), conditions(), 0.5).air_pressure
    0.0
    """
    gas_temperature = conditions.ambient + 20.0
    partial = system.air_mass * DRY_AIR_GAS_CONSTANT * gas_temperature / (AIR_GAS_SHARE * system.volume)
    coil_inlet = coil_air(system.evaporator, conditions)
    ceiling = system.controls.high_pressure_cut_out + conditions.air_pressure - HIGH_SWITCH_BAND
    hottest = saturation_at_pressure(system.refrigerant, ceiling - DISCHARGE_ALLOWANCE - partial).temperature
    hold = system.controls.low_side_hold + conditions.air_pressure
    return Circuit(
        system,
        conditions,
        charge,
        condenser_air(system.condenser, conditions),
        coil_inlet,
        conditions.ambient + system.engine_bay_rise,
        partial,
        1.0 + math.log(0.9 * ceiling / (hold + SWITCH_BAND)),
        math.asinh((hottest - conditions.ambient) / CONDENSING_SCALE),
        max(coil_inlet.inlet.temperature - saturation_at_pressure(system.refrigerant, hold).temperature, 5.0),
    )


def first_guess(circuit):
    """Where to begin when there is nothing nearer: a healthy car of middling charge.

    Parameters
    ----------
    circuit : Circuit
        The fixed part of the problem [K].

    Returns
    -------
    numpy.ndarray
        Trial values for march [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Evaporating about 20 K under the air, condensing about 20 K over it.

    Examples
    --------
    >>> from course.physics.system import load_system, conditions
    >>> len(first_guess(prepare(load_system("pickup"), conditions(), 0.8)))
    3
    """
    system, ref = circuit.system, circuit.system.refrigerant
    evaporating = circuit.coil_air.inlet.temperature - 5.0
    lowest = suction_from_variable(circuit, 1.0)
    swept = system.compressor.displacement * circuit.conditions.compressor_rpm / 60.0 * system.compressor.pumping_share
    for _ in range(20):
        saturated = saturation_at_temperature(ref, evaporating)
        wanted = boiling_heat(system.evaporator, circuit.coil_air, evaporating) / 150.0e3
        pumped = 0.75 * (1.0 - system.compressor.worn_share) * swept * saturated.vapour_density
        if pumped <= wanted or saturated.pressure <= lowest:
            break
        evaporating -= 2.0
    variable = variable_from_suction(circuit, max(saturated.pressure, lowest))
    if pumped > wanted:
        variable = min(variable, 1.0 + math.log(wanted / pumped))
    short = circuit.charge / system.label_charge
    over = max(short - 1.05, 0.0)
    rise = (18.0 + 80.0 * over) * math.exp(min(variable - 1.0, 0.0))
    guess = [variable, math.asinh(rise / CONDENSING_SCALE), min(max(2.0 * (short - 0.7), -0.3), 1.05)]
    if not isinstance(system.metering, OrificeTube):
        guess[2] += 4.0 * over
        guess.append(0.7)
    return np.array(guess)
