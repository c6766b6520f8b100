"""Once around the loop: every part in turn from trial values, and what does not yet balance."""

import math
from typing import NamedTuple

from course.physics.charge_inventory import condenser_mass, evaporator_mass, storage_mass
from course.physics.circuit import buffer, discharge_from_variable, reach_and_wetness, suction_from_variable
from course.physics.compressor import Pumping, pump
from course.physics.condenser import Pass, condenser_air, core_pass
from course.physics.controls import pumping_share
from course.physics.evaporator import CoilRun, core_needed
from course.physics.expansion_device import metering_flow
from course.physics.lines import pressure_drop, pressure_left, soft_positive
from course.physics.refrigerant import Fluid, Saturation, mixture_density, saturation_at_pressure, vapour

LIQUID_SCALE = 40.0e3  # J/kg of subcooling for one unit of the buffer's position; sets only the solver's step
WET_LINE = 0.02  # - wetness at which the suction line no longer superheats; assumed
BULB_WETNESS = 10.0  # K of superheat a valve's bulb misses for each unit of liquid share that reaches it; assumed
LEAST_FLOW = 1.0e-9  # kg/s: keeps a stopped flow from dividing by zero


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


def _suction_side(circuit, pressure, reach, wetness, share):
    """Evaporator outlet and compressor inlet."""
    system = circuit.system
    saturated = saturation_at_pressure(system.refrigerant, pressure)
    latent = saturated.vapour_enthalpy - saturated.liquid_enthalpy
    difference = soft_positive(circuit.coil_air.inlet.temperature - saturated.temperature, 0.5)
    gas = vapour(system.refrigerant, pressure, saturated.temperature - difference * math.expm1(-reach))
    outlet = _wet(gas, saturated, latent, wetness)
    compressor = system.compressor
    rough_flow = (
        0.7 * compressor.displacement * circuit.conditions.compressor_rpm / 60.0 * outlet.density * share + LEAST_FLOW
    )
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


def march(circuit, trial):
    """Once around the loop from trial values: suction and discharge pressure, buffer position, superheat.

    Parameters
    ----------
    circuit : Circuit
        What stays the same.
    trial : sequence of float
        Variables of suction and discharge pressure (see circuit) [-], position of the buffer (below 0 empty, 0 to 1 its
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
    level, below, above = buffer(trial[2])
    reach, wetness = reach_and_wetness(circuit, trial)
    suction_pressure, above_hold = suction_from_variable(circuit, trial[0], reach)
    discharge_pressure = discharge_from_variable(circuit, trial[1], suction_pressure, above_hold)
    discharge_gauge = discharge_pressure - circuit.conditions.air_pressure
    share = pumping_share(system.controls, above_hold, discharge_gauge)
    saturated, outlet, suction = _suction_side(circuit, suction_pressure, reach, wetness, share)
    superheat = outlet.temperature - saturated.temperature
    at_discharge = saturation_at_pressure(ref, discharge_pressure)
    pumping = pump(system.compressor, ref, suction, wetness, at_discharge, circuit.conditions.compressor_rpm, share)
    flow = pumping.flow + LEAST_FLOW

    partial = circuit.air_pressure
    available = soft_positive(discharge_pressure - partial - suction_pressure, 1.0e3)
    drop = pressure_drop(system.discharge_line, flow, pumping.discharge_density)
    condensing = suction_pressure + pressure_left(drop, available)
    at_condenser = saturation_at_pressure(ref, condensing)
    air = condenser_air(system.condenser, circuit.conditions, discharge_gauge)
    first_area = 1.0 - system.condenser.subcooling_pass_fraction
    first = core_pass(
        system.condenser,
        ref,
        at_condenser,
        air,
        flow,
        pumping.discharge_enthalpy,
        pumping.discharge_temperature,
        first_area,
    )
    last = None
    if first_area < 1.0:
        last = core_pass(
            system.condenser, ref, at_condenser, air, flow, first.enthalpy, first.temperature, 1.0 - first_area
        )
    end = last or first

    liquid_density = (
        at_condenser.liquid_density if end.quality <= 0.0 else mixture_density(at_condenser, min(end.quality, 1.0))
    )
    available = condensing + partial - suction_pressure
    drop = pressure_drop(system.liquid_line, flow, liquid_density)
    inlet_pressure = suction_pressure + pressure_left(drop, available)
    at_inlet = saturation_at_pressure(ref, inlet_pressure)
    boiling_pressure = suction_pressure + pressure_drop(system.suction_line, flow, outlet.density)
    at_evaporator = saturation_at_pressure(ref, boiling_pressure)
    passed, inlet_density, inlet_quality = metering_flow(
        system.metering,
        ref,
        at_inlet,
        end.enthalpy,
        end.liquid_heat_capacity,
        boiling_pressure,
        superheat - BULB_WETNESS * wetness,
    )
    coil = core_needed(
        system.evaporator,
        circuit.coil_air,
        at_evaporator,
        flow,
        end.enthalpy,
        outlet.enthalpy,
        wetness,
        reach,
        outlet.heat_capacity,
    )
    masses, reserve = _masses(
        system,
        circuit.orifice,
        level,
        saturated,
        outlet,
        suction,
        pumping,
        at_condenser,
        first,
        last,
        inlet_density,
        at_evaporator,
        coil,
        end.enthalpy,
    )
    imbalance = [
        math.log((passed + LEAST_FLOW) / flow),
        math.log(coil.needed) if coil.needed > 1.0 else coil.needed - 1.0,
        (sum(masses.values()) - circuit.charge) / system.label_charge,
    ]
    if not circuit.orifice:
        high_latent = at_condenser.vapour_enthalpy - at_condenser.liquid_enthalpy
        wanted = at_condenser.liquid_enthalpy + high_latent * below - LIQUID_SCALE * above
        imbalance.append((first.enthalpy - wanted) / high_latent)
    return March(
        saturated,
        at_discharge,
        at_condenser,
        at_inlet,
        at_evaporator,
        outlet,
        wetness,
        suction,
        share,
        pumping,
        flow,
        first,
        last,
        partial,
        inlet_quality,
        coil,
        level,
        reserve,
        masses,
        tuple(imbalance),
    )


def _masses(
    system,
    orifice,
    level,
    at_suction,
    outlet,
    suction,
    pumping,
    at_condenser,
    first,
    last,
    inlet_density,
    at_evaporator,
    coil,
    enthalpy_in,
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
        "liquid line": system.liquid_line.volume * inlet_density,
        "evaporator": evaporator_mass(system.evaporator, at_evaporator, coil, enthalpy_in),
        "suction line": system.suction_line.volume * suction.density,
        system.storage.kind: stored,
    }
    return masses, reserve
