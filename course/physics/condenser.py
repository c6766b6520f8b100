"""The condenser: vapour, condensing and liquid zones by area, and the air that carries the heat away."""

import math
from typing import NamedTuple

from course.physics.controls import fan_speed
from course.physics.moist_air import DRY_AIR_GAS_CONSTANT, DRY_AIR_HEAT_CAPACITY
from course.physics.refrigerant import liquid, saturation_at_temperature

GUESSED_LIQUID_HEAT_CAPACITY = 1400.0  # J/(kg K) of liquid that only air pressure squeezes out of a mixture; assumed
HOT_AIR_FADES = 3.0  # m/s of road speed by which hot air returning to the inlet has fallen to a third; assumed


class Air(NamedTuple):
    """Air through the condenser: heat capacity rate [W/K], inlet temperature before hot air returns [K], share returning, airflow against rated."""

    capacity_rate: float
    temperature: float
    hot_return: float
    flow_share: float


class Pass(NamedTuple):
    """Refrigerant through part of the core: outlet state, zone areas as shares of the whole core, heat given off [W].

    Also the density of its liquid [kg/m3] and the transfer units of its vapour zone [-], for the inventory.
    """

    enthalpy: float
    temperature: float
    quality: float
    liquid_heat_capacity: float
    vapour_area: float
    condensing_area: float
    liquid_area: float
    quality_in: float
    heat: float
    liquid_density: float
    vapour_span: float


def condenser_air(condenser, conditions, discharge_gauge):
    """The air the fan and the road push through the condenser.

    Parameters
    ----------
    condenser : Condenser
        Airflows [m3/s] and faults [-].
    conditions : Conditions
        Weather [K, Pa] and road speed [m/s].
    discharge_gauge : float
        High-side pressure, which sets the fan's speed [Pa gauge].

    Returns
    -------
    Air
        Heat capacity rate [W/K], temperature [K], returning share [-], airflow over the fan's rated airflow [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Fan and ram air combine as the square root of the sum of squares; still air adds a little (assumed).

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> from course.physics.system import conditions
    >>> air = condenser_air(load_system("sedan").condenser, conditions(ambient_c=35.0), 1.5e6)
    >>> round(air.temperature, 2)
    308.15
    """
    fan = condenser.fan_airflow * condenser.fan_share * fan_speed(condenser, discharge_gauge)
    ram = condenser.ram_airflow_per_speed * conditions.road_speed
    volume_flow = (condenser.still_airflow + math.hypot(fan, ram)) * condenser.airflow_share
    density = conditions.air_pressure / (DRY_AIR_GAS_CONSTANT * conditions.ambient)
    returning = condenser.hot_air_return * math.exp(-conditions.road_speed / HOT_AIR_FADES)
    return Air(
        volume_flow * density * DRY_AIR_HEAT_CAPACITY,
        conditions.ambient,
        returning / (1.0 - returning),
        volume_flow / (condenser.fan_airflow + condenser.still_airflow),
    )


def slice_effectiveness(conductance, air):
    """Share of the air's heating potential a slice of core uses, with part of its hot air coming round again.

    Parameters
    ----------
    conductance : float
        Conductance of the whole core at this airflow [W/K].
    air : Air
        Air through the core [W/K].

    Returns
    -------
    float
        Effectiveness on the refrigerant's difference to the weather, 0 to 1 [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    1 - exp(-NTU) for a constant refrigerant temperature (textbook); with a share r of hot air returning, divided by
    1 + effectiveness r / (1 - r).

    Examples
    --------
    One transfer unit uses 63 %:

    >>> round(slice_effectiveness(500.0, Air(500.0, 308.15, 0.0, 1.0)), 3)
    0.632
    """
    effectiveness = 1.0 - math.exp(-conductance / air.capacity_rate)
    return effectiveness / (1.0 + effectiveness * air.hot_return)


def core_pass(condenser, refrigerant, saturated, air, flow, enthalpy, temperature, area):
    """Refrigerant cooled along a part of the condenser core.

    Parameters
    ----------
    condenser : Condenser
        Conductances of the whole core [W/K].
    refrigerant : str
        Refrigerant id.
    saturated : Saturation
        Saturation at the condenser pressure [Pa].
    air : Air
        Air through the core [W/K, K].
    flow : float
        Refrigerant flow, above zero [kg/s].
    enthalpy : float
        Enthalpy where it enters [J/kg].
    temperature : float
        Temperature where it enters; used for vapour [K].
    area : float
        Share of the whole core this part has [-].

    Returns
    -------
    Pass
        Outlet state, zone areas [-], heat [W].

    Raises
    ------
    OutOfRange
        When the liquid is off the chart.

    Notes
    -----
    Every slice of core meets fresh air (cross-flow); along the slices the refrigerant's temperature difference to the
    air decays exponentially in the vapour and liquid zones and is constant while condensing: the closed form of the
    effectiveness-NTU method for a constant air temperature (textbook). Heat capacities are constant within a zone.
    Conductances scale with airflow to airflow_exponent. Air maldistribution and pressure drop in the core are not
    modelled.

    Examples
    --------
    With plenty of core the refrigerant leaves as liquid near the air temperature:

    >>> from course.physics.car_file import load_system
    >>> from course.physics.system import conditions
    >>> from course.physics.refrigerant import saturation_at_pressure
    >>> c = load_system("sedan").condenser
    >>> air = condenser_air(c, conditions(ambient_c=35.0), 1.5e6)
    >>> s = saturation_at_pressure("R134a", 16e5)
    >>> out = core_pass(c, "R134a", s, air, 0.005, s.vapour_enthalpy, s.temperature, 1.0)
    >>> round(out.temperature - 308.15, 1), round(out.vapour_area + out.condensing_area + out.liquid_area, 9)
    (0.0, 1.0)
    """
    scale = air.flow_share**condenser.airflow_exponent
    latent = saturated.vapour_enthalpy - saturated.liquid_enthalpy
    left, vapour_area, condensing_area, span = area, 0.0, 0.0, 0.0
    start = enthalpy
    if enthalpy > saturated.vapour_enthalpy:
        heat_capacity = (enthalpy - saturated.vapour_enthalpy) / max(temperature - saturated.temperature, 1e-6)
        rate = (
            slice_effectiveness(condenser.conductance_vapour * scale, air) * air.capacity_rate / (flow * heat_capacity)
        )
        end = air.temperature + (temperature - air.temperature) * math.exp(-rate * area)
        if end >= saturated.temperature or temperature <= air.temperature:
            leaving = saturated.vapour_enthalpy + heat_capacity * (end - saturated.temperature)
            quality = (leaving - saturated.liquid_enthalpy) / latent
            heat = flow * (start - leaving)
            return Pass(
                leaving,
                end,
                quality,
                GUESSED_LIQUID_HEAT_CAPACITY,
                area,
                0.0,
                0.0,
                quality,
                heat,
                saturated.liquid_density,
                rate * area,
            )
        span = math.log((temperature - air.temperature) / (saturated.temperature - air.temperature))
        vapour_area = span / rate
        left -= vapour_area
        enthalpy = saturated.vapour_enthalpy
    quality_in = min((enthalpy - saturated.liquid_enthalpy) / latent, 1.0)
    if enthalpy > saturated.liquid_enthalpy:
        heat_per_area = (
            slice_effectiveness(condenser.conductance_condensing * scale, air)
            * air.capacity_rate
            * (saturated.temperature - air.temperature)
        )
        needed = flow * (enthalpy - saturated.liquid_enthalpy)
        if needed >= heat_per_area * left:
            leaving = enthalpy - heat_per_area * left / flow
            quality = (leaving - saturated.liquid_enthalpy) / latent
            heat = flow * (start - leaving)
            return Pass(
                leaving,
                saturated.temperature,
                quality,
                GUESSED_LIQUID_HEAT_CAPACITY,
                vapour_area,
                left,
                0.0,
                quality_in,
                heat,
                saturated.liquid_density,
                span,
            )
        condensing_area = needed / heat_per_area
        left -= condensing_area
        enthalpy = saturated.liquid_enthalpy
    heat_capacity = liquid(refrigerant, saturated.pressure, saturated.temperature - 4.0).heat_capacity
    entering = saturated.temperature - (saturated.liquid_enthalpy - enthalpy) / heat_capacity
    rate = slice_effectiveness(condenser.conductance_liquid * scale, air) * air.capacity_rate / (flow * heat_capacity)
    end = air.temperature + (entering - air.temperature) * math.exp(-rate * left)
    leaving = enthalpy - heat_capacity * (entering - end)
    quality = (leaving - saturated.liquid_enthalpy) / latent
    heat = flow * (start - leaving)
    # pressure hardly packs a liquid: its density is that of saturated liquid as warm as it is
    density = saturation_at_temperature(refrigerant, end).liquid_density
    return Pass(
        leaving, end, quality, heat_capacity, vapour_area, condensing_area, left, quality_in, heat, density, span
    )
