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
from course.physics.compressor import Pumping, pump, pumping_share
from course.physics.condenser import Air, Pass, condenser_air, core_pass
from course.physics.evaporator import CoilAir, CoilRun, coil_air, evaporate
from course.physics.expansion_device import metering_flow
from course.physics.lines import pressure_drop, soft_positive
from course.physics.moist_air import DRY_AIR_GAS_CONSTANT
from course.physics.refrigerant import Fluid, Saturation, critical_point, saturation_at_pressure, saturation_at_temperature, vapour
from course.physics.system import OrificeTube

TOLERANCE = 1e-9  # - largest relative imbalance of any balance that counts as solved
SUPERHEAT_SCALE = 20.0  # K of superheat for one unit of the state variable; sets only the solver's step
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
    critical_pressure: float


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


def _suction_side(circuit, pressure, superheat, wetness, share):
    """Evaporator outlet and compressor inlet."""
    system = circuit.system
    saturated = saturation_at_pressure(system.refrigerant, pressure)
    latent = saturated.vapour_enthalpy - saturated.liquid_enthalpy
    gas = vapour(system.refrigerant, pressure, saturated.temperature + superheat)
    outlet = _wet(gas, saturated, latent, wetness)
    compressor = system.compressor
    rough_flow = 0.7 * compressor.displacement * circuit.conditions.compressor_rpm / 60.0 * outlet.density * share + LEAST_FLOW
    reach = -math.expm1(-system.suction_line_conductance / (rough_flow * gas.heat_capacity))
    rise = (circuit.engine_bay - gas.temperature) * reach * math.exp(-wetness / WET_LINE)
    warmed = vapour(system.refrigerant, pressure, gas.temperature + rise)
    return saturated, outlet, _wet(warmed, saturated, latent, wetness), gas.heat_capacity


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


def march(circuit, trial):
    """Once around the loop from trial values: suction and discharge pressure, buffer position, superheat.

    Parameters
    ----------
    circuit : Circuit
        What stays the same.
    trial : sequence of float
        Natural logarithms of suction and discharge pressure [Pa], position of the buffer (below 0 empty, 0 to 1 its
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
    system, ref = circuit.system, circuit.system.refrigerant
    orifice = isinstance(system.metering, OrificeTube)
    suction_pressure, discharge_pressure = math.exp(trial[0]), math.exp(trial[1])
    level, below, above = _buffer(trial[2])
    if orifice:
        superheat, wetness = SUPERHEAT_SCALE * below, above
    else:
        superheat = SUPERHEAT_SCALE * soft_positive(trial[3], STORAGE_ROUNDING)
        wetness = soft_positive(-trial[3], STORAGE_ROUNDING)
    atmosphere = circuit.conditions.air_pressure
    share = pumping_share(system.controls, suction_pressure - atmosphere, discharge_pressure - atmosphere)
    saturated, outlet, suction, vapour_heat_capacity = _suction_side(circuit, suction_pressure, superheat, wetness, share)
    at_discharge = saturation_at_pressure(ref, discharge_pressure)
    pumping = pump(system.compressor, ref, suction, at_discharge, circuit.conditions.compressor_rpm, share)
    flow = pumping.flow + LEAST_FLOW

    before_condenser = discharge_pressure - pressure_drop(system.discharge_line, flow, pumping.discharge_density)
    partial = circuit.air_pressure
    condensing = suction_pressure + soft_positive(before_condenser - partial - suction_pressure, 5.0e3)
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
    drop = pressure_drop(system.liquid_line, flow, liquid_density)
    inlet_pressure = suction_pressure + soft_positive(condensing + partial - drop - suction_pressure, 5.0e3)
    at_inlet = saturation_at_pressure(ref, inlet_pressure)
    boiling_pressure = suction_pressure + pressure_drop(system.suction_line, flow, outlet.density)
    at_evaporator = saturation_at_pressure(ref, boiling_pressure)
    passed, inlet_density, inlet_quality = metering_flow(
        system.metering, ref, at_inlet, end.enthalpy, end.liquid_heat_capacity, boiling_pressure, superheat - 10.0 * wetness
    )
    coil = evaporate(system.evaporator, circuit.coil_air, at_evaporator, flow, end.enthalpy, vapour_heat_capacity)
    masses, reserve = _masses(
        system, orifice, level, saturated, outlet, suction, pumping, at_condenser, first, last, at_inlet, inlet_density,
        inlet_quality, at_evaporator, coil, end.enthalpy,
    )
    latent = at_evaporator.vapour_enthalpy - at_evaporator.liquid_enthalpy
    imbalance = [
        2.0 * (passed - flow) / (passed + flow),
        (coil.enthalpy - outlet.enthalpy) / latent,
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
        stored, reserve = storage_mass(system.storage, at_suction, level, min(outlet.density, at_suction.vapour_density))
    else:
        stored, reserve = storage_mass(system.storage, at_condenser, level, at_condenser.vapour_density)
    masses = {
        "compressor": system.compressor.volume * suction.density,
        "discharge line": system.discharge_line.volume * pumping.discharge_density,
        "condenser": condenser_mass(system.condenser.volume, at_condenser, passes, pumping.discharge_density),
        "liquid line": pipe_mass(system.liquid_line, at_inlet, inlet_quality, inlet_density),
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
    return Circuit(
        system,
        conditions,
        charge,
        condenser_air(system.condenser, conditions),
        coil_air(system.evaporator, conditions),
        conditions.ambient + system.engine_bay_rise,
        partial,
        critical_point(system.refrigerant)[1],
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
    ref = circuit.system.refrigerant
    cold = min(max(circuit.coil_air.inlet.temperature - 27.0, 266.0), 290.0)
    hold = circuit.system.controls.low_side_hold + circuit.conditions.air_pressure
    suction = max(saturation_at_temperature(ref, cold).pressure, hold + 4.0e3)
    discharge = saturation_at_temperature(ref, min(circuit.conditions.ambient + 20.0, 345.0)).pressure + circuit.air_pressure
    discharge = min(discharge, circuit.system.controls.high_pressure_cut_out + circuit.conditions.air_pressure - 3e4)
    guess = [math.log(suction), math.log(discharge), 0.4]
    if not isinstance(circuit.system.metering, OrificeTube):
        guess.append(0.35)
    return np.array(guess)
