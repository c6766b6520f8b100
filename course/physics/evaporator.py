"""The evaporator: boiling and superheating zones, a dry or a wet coil, and the air that leaves it."""

import math
from typing import NamedTuple

from course.physics import moist_air
from course.physics.lines import soft_positive
from course.physics.moist_air import DRY_AIR_GAS_CONSTANT, DRY_AIR_HEAT_CAPACITY, WATER_VAPOUR_HEAT_CAPACITY, MoistAir


class CoilAir(NamedTuple):
    """Air into the coil: its state, dry air flow [kg/s], heat capacity rate [W/K], airflow against full blower, dew point [K]."""

    inlet: MoistAir
    dry_air_flow: float
    capacity_rate: float
    flow_share: float
    dew_point: float


class CoilRun(NamedTuple):
    """What the coil does: enthalpy out [J/kg], boiling share and core needed in all [-], heat now and if all boiled [W]."""

    enthalpy: float
    boiling_area: float
    needed: float
    heat: float
    boiling_heat_full: float


def coil_air(evaporator, conditions):
    """The air the blower pushes through the evaporator.

    Parameters
    ----------
    evaporator : Evaporator
        Airflow [m3/s] and its faults [-].
    conditions : Conditions
        Weather [K, -, Pa], cabin [K] and blower [-].

    Returns
    -------
    CoilAir
        Air state and flow [kg/s, W/K, -, K].

    Raises
    ------
    OutOfRange
        When the air is beyond what moist_air covers.

    Notes
    -----
    Recirculated cabin air is taken at the weather's relative humidity, as in a test with the doors open; a cabin that
    dries out over minutes is not modelled. Airflow is proportional to the blower setting.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> from course.physics.system import conditions
    >>> air = coil_air(load_system("sedan").evaporator, conditions(ambient_c=30.0, relative_humidity=0.5))
    >>> round(air.inlet.humidity_ratio, 4)
    0.0133
    """
    temperature = conditions.ambient if conditions.cabin is None else conditions.cabin
    inlet = moist_air.moist_air(temperature, conditions.relative_humidity, conditions.air_pressure)
    share = conditions.blower_fraction * evaporator.airflow_share
    density = conditions.air_pressure / (
        DRY_AIR_GAS_CONSTANT * temperature * (1.0 + inlet.humidity_ratio / moist_air.WATER_TO_AIR_MASS_RATIO)
    )
    flow = evaporator.airflow * share * density
    rate = flow * (DRY_AIR_HEAT_CAPACITY + inlet.humidity_ratio * WATER_VAPOUR_HEAT_CAPACITY)
    return CoilAir(inlet, flow, rate, share, moist_air.dew_point(inlet.humidity_ratio, conditions.air_pressure))


def _conductance_air(evaporator, air):
    return evaporator.conductance_air * air.flow_share**evaporator.airflow_exponent


def boiling_heat(evaporator, air, boiling_temperature):
    """Heat the whole core would take up if it were all boiling, dry or wet, whichever is more.

    Parameters
    ----------
    evaporator : Evaporator
        Conductances [W/K].
    air : CoilAir
        Air into the coil [K, kg/s].
    boiling_temperature : float
        Refrigerant temperature [K].

    Returns
    -------
    float
        Heat; below zero when the refrigerant is warmer than the air [W].

    Raises
    ------
    OutOfRange
        When the coil is colder than -70 °C.

    Notes
    -----
    Dry: effectiveness-NTU with constant refrigerant temperature. Wet: the same with enthalpy as driving force and the
    slope of saturated-air enthalpy between coil and dew point (Braun, Klein and Mitchell 1989, ASHRAE Transactions 95
    part 2, from memory); a partly wet coil is taken as the larger of the two, as they propose.

    Examples
    --------
    A humid day gives more heat at the same coil temperature:

    >>> from course.physics.car_file import load_system
    >>> from course.physics.system import conditions
    >>> e = load_system("sedan").evaporator
    >>> dry = coil_air(e, conditions(ambient_c=30.0, relative_humidity=0.1))
    >>> wet = coil_air(e, conditions(ambient_c=30.0, relative_humidity=0.7))
    >>> boiling_heat(e, wet, 278.15) > 1.3 * boiling_heat(e, dry, 278.15)
    True
    """
    outside = _conductance_air(evaporator, air)
    dry_conductance = 1.0 / (1.0 / outside + 1.0 / evaporator.conductance_boiling)
    difference = air.inlet.temperature - boiling_temperature
    dry = air.capacity_rate * (1.0 - math.exp(-dry_conductance / air.capacity_rate)) * difference
    if boiling_temperature >= air.dew_point:
        return dry
    pressure = air.inlet.pressure
    coil_ratio = moist_air.saturated_humidity_ratio(boiling_temperature, pressure)
    coil_enthalpy = moist_air.enthalpy(boiling_temperature, coil_ratio)
    dew_enthalpy = moist_air.enthalpy(air.dew_point, air.inlet.humidity_ratio)
    slope = (dew_enthalpy - coil_enthalpy) / (air.dew_point - boiling_temperature)
    outside_enthalpy = outside * air.dry_air_flow / air.capacity_rate
    wet_conductance = outside_enthalpy / (1.0 + slope * outside_enthalpy / evaporator.conductance_boiling)
    effectiveness = 1.0 - math.exp(-wet_conductance / air.dry_air_flow)
    wet = air.dry_air_flow * effectiveness * (air.inlet.enthalpy - coil_enthalpy)
    return max(dry, wet)


def core_needed(evaporator, air, saturated, flow, enthalpy_in, enthalpy_out, wetness, reach, heat_capacity):
    """How much of the core the refrigerant needs to leave in a given state; in balance it is exactly the whole core.

    Parameters
    ----------
    evaporator : Evaporator
        Conductances [W/K].
    air : CoilAir
        Air into the coil [K, kg/s].
    saturated : Saturation
        Saturation at the evaporator pressure [Pa].
    flow : float
        Refrigerant flow, above zero [kg/s].
    enthalpy_in, enthalpy_out : float
        Enthalpy after the metering device and at the outlet [J/kg].
    wetness : float
        Liquid share at the outlet [-].
    reach : float
        How far the superheat has come towards the air, as -ln(1 - share of the difference) [-].
    heat_capacity : float
        Of the superheated vapour [J/(kg K)].

    Returns
    -------
    CoilRun
        Enthalpy out [J/kg], boiling share of the core (below zero when vapour comes in) [-], core needed in all [-], heat [W], heat of an all-boiling
        core [W].

    Raises
    ------
    OutOfRange
        When the coil is colder than -70 °C.

    Notes
    -----
    The air is shared between the zones by area. Boiling: heat over boiling_heat. Superheating: the vapour's difference
    to the air decays exponentially along the core (closed form of the effectiveness-NTU method); that zone is taken
    as dry. Maldistribution is not modelled; the core's own pressure drop is part of the suction line's.

    Examples
    --------
    Twice the flow needs twice the boiling area:

    >>> from course.physics.car_file import load_system
    >>> from course.physics.system import conditions
    >>> from course.physics.refrigerant import saturation_at_pressure
    >>> e = load_system("sedan").evaporator
    >>> air = coil_air(e, conditions(ambient_c=30.0))
    >>> s = saturation_at_pressure("R134a", 3e5)
    >>> def need(flow):
    ...     return core_needed(e, air, s, flow, 260e3, s.vapour_enthalpy, 0.0, 0.0, 900.0).boiling_area
    >>> round(need(0.02) / need(0.01), 6)
    2.0
    """
    full = soft_positive(boiling_heat(evaporator, air, saturated.temperature), 1.0)
    latent = saturated.vapour_enthalpy - saturated.liquid_enthalpy
    boiling = flow * (saturated.vapour_enthalpy - wetness * latent - enthalpy_in) / full
    conductance = evaporator.conductance_vapour * air.flow_share**evaporator.airflow_exponent
    rate = -math.expm1(-conductance / air.capacity_rate) * air.capacity_rate / (flow * heat_capacity)
    return CoilRun(enthalpy_out, boiling, boiling + reach / rate, flow * (enthalpy_out - enthalpy_in), full)


class AirOut(NamedTuple):
    """Air after the coil and the mixing door: vent [K], after the coil [K], humidity ratio [kg/kg], water [kg/s], surface [K]."""

    vent: float
    coil_out: float
    humidity_ratio: float
    condensate: float
    surface: float


def leaving_air(evaporator, air, coil, saturated, warm_air_temperature):
    """The air that leaves the coil and comes out of the vent.

    Parameters
    ----------
    evaporator : Evaporator
        Conductances [W/K] and the warm-air share [-].
    air : CoilAir
        Air into the coil [K, kg/s].
    coil : CoilRun
        What the coil did [W].
    saturated : Saturation
        Saturation at the evaporator pressure [Pa].
    warm_air_temperature : float
        Of air past the heater core [K].

    Returns
    -------
    AirOut
        Temperatures [K], humidity ratio [kg/kg], condensate [kg/s].

    Raises
    ------
    OutOfRange
        When the air leaves what moist_air covers.

    Notes
    -----
    Boiling zone: Braun, Klein and Mitchell 1989 (from memory): an effective surface enthalpy from the air-side
    conductance, then the air approaches that surface's temperature. Superheating zone: dry. Both streams mix; fog
    settles (assumed); the fan's own heat is left out.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> from course.physics.system import conditions
    >>> from course.physics.refrigerant import saturation_at_pressure
    >>> e = load_system("sedan").evaporator
    >>> air = coil_air(e, conditions(ambient_c=30.0))
    >>> s = saturation_at_pressure("R134a", 3e5)
    >>> coil = CoilRun(s.vapour_enthalpy, 1.0, 1.0, boiling_heat(e, air, s.temperature), boiling_heat(e, air, s.temperature))
    >>> out = leaving_air(e, air, coil, s, 353.15)
    >>> s.temperature < out.vent < air.inlet.temperature
    True
    """
    inlet, boiling = air.inlet, min(max(coil.boiling_area, 0.0), 1.0)
    boiling_heat_now = coil.boiling_heat_full * boiling
    per_kilogram = coil.boiling_heat_full / air.dry_air_flow
    reach = 1.0 - math.exp(-_conductance_air(evaporator, air) / air.capacity_rate)
    surface_enthalpy = inlet.enthalpy - per_kilogram / reach
    surface = moist_air.temperature_of_saturated_enthalpy(surface_enthalpy, inlet.pressure)
    if surface < air.dew_point:
        cooled = inlet.temperature - reach * (inlet.temperature - surface)
        enthalpy_out = inlet.enthalpy - per_kilogram
        ratio = (enthalpy_out - DRY_AIR_HEAT_CAPACITY * (cooled - moist_air.FREEZING)) / (
            moist_air.HEAT_OF_VAPORISATION + WATER_VAPOUR_HEAT_CAPACITY * (cooled - moist_air.FREEZING)
        )
        ratio = min(ratio, inlet.humidity_ratio)
    else:
        cooled = inlet.temperature - coil.boiling_heat_full / air.capacity_rate
        surface = inlet.temperature - (inlet.temperature - cooled) / reach
        ratio = inlet.humidity_ratio
    # the dry zone's heat is taken off the mixed stream: dividing it by a vanishing share of air would only make noise
    vapour_heat = coil.heat - boiling_heat_now
    coil_out = boiling * cooled + (1.0 - boiling) * inlet.temperature - vapour_heat / air.capacity_rate
    mixed_ratio = boiling * ratio + (1.0 - boiling) * inlet.humidity_ratio
    if coil_out < inlet.temperature:
        coil_out, mixed_ratio = _without_fog(coil_out, mixed_ratio, inlet.pressure)
    vent = coil_out + evaporator.warm_air_share * (warm_air_temperature - coil_out)
    condensate = air.dry_air_flow * (inlet.humidity_ratio - mixed_ratio)
    return AirOut(vent, coil_out, mixed_ratio, condensate, surface)


def _without_fog(temperature, humidity_ratio, pressure):
    """Cold wet and warm wet air can mix into fog; its drops are taken to stay behind with the condensate."""
    if humidity_ratio <= moist_air.saturated_humidity_ratio(temperature, pressure):
        return temperature, humidity_ratio
    mixed = moist_air.enthalpy(temperature, humidity_ratio)
    settled = moist_air.temperature_of_saturated_enthalpy(mixed, pressure)
    return settled, moist_air.saturated_humidity_ratio(settled, pressure)
