"""The metering device: flow through an orifice tube or a thermostatic expansion valve."""

import math
from functools import lru_cache

from course.physics.lines import soft_positive
from course.physics.refrigerant import (
    critical_point,
    mixture_density,
    saturation_at_pressure,
    saturation_at_temperature,
)
from course.physics.system import OrificeTube

LARGEST_FITTED_SUBCOOLING = 15.0  # K: beyond it the correlation's denominator runs away; continued in a straight line
LEAST_REDUCED_PRESSURE = 0.22  # -: below it the correlation falls with subcooling; its shape is held there
CHOKING_SHARE = 0.12  # - of the inlet pressure: a smaller pressure difference no longer chokes the tube; assumed
LIQUID_CONTRACTION = 0.003  # 1/K by which subcooled liquid packs; assumed (CoolProp gives 0.004 near 45 °C)
CRACK = 0.01  # - of the opening that no blockage closes; assumed
SUPERHEAT_ROUNDING = 0.4  # K, see soft_positive; assumed, a real valve's spring and bulb are softer


def _with_crack(open_share):
    """However blocked, a crack is left."""
    return CRACK + (1.0 - CRACK) * open_share


def _short_tube_liquid(refrigerant, saturated, subcooling, slenderness):
    """Mass flow per area [kg/(s m2)] for liquid, Payne and O'Neal 2004."""
    critical_temperature, critical_pressure = critical_point(refrigerant)
    inside = saturation_at_temperature(refrigerant, saturated.temperature - subcooling)
    p3 = (saturated.pressure - inside.pressure) / critical_pressure
    p6 = inside.vapour_density / inside.liquid_density
    p9 = subcooling / critical_temperature
    shape = (0.38811 + 11.427 * p3 - 14.194 * p9 + 1.0703 * p6 - 0.091928 * math.log(slenderness)) / (
        1.0 + 21.425 * p3 - 581.95 * p9 * p9
    )
    return shape * math.sqrt(inside.liquid_density * critical_pressure)


@lru_cache(maxsize=16)
def _saturation_held(refrigerant, reduced_pressure):
    return saturation_at_pressure(refrigerant, reduced_pressure * critical_point(refrigerant)[1])


def orifice_flow(tube, refrigerant, saturated, subcooling, quality, density, outlet_pressure):
    """Refrigerant an orifice tube lets through.

    Parameters
    ----------
    tube : OrificeTube
        Diameter [m], length [m] and open share [-].
    refrigerant : str
        Refrigerant id.
    saturated : Saturation
        Saturation at the inlet pressure [Pa].
    subcooling : float
        Subcooling at the inlet, below zero for a mixture [K].
    quality : float
        Vapour share at the inlet; below 0 liquid, above 1 vapour [-].
    density : float
        Density at the inlet [kg/m3].
    outlet_pressure : float
        Pressure after the tube [Pa].

    Returns
    -------
    float
        Flow [kg/s].

    Raises
    ------
    OutOfRange
        When the inlet is off the chart.

    Notes
    -----
    Liquid inlet: Payne and O'Neal, correlation for short tubes (2004), coefficients as printed in public code, fitted
    to R-12, R-134a, R-502, R-22, R-407C, R-410A, length 9.5-25.4 mm, diameter 1.09-1.94 mm. A car's tube (38 mm) and
    R-1234yf lie outside. Above 15 K subcooling continued in a straight line; below 0.22 of the critical pressure its
    shape is held and scaled by the square root of pressure. Mixture inlet: our own monotone stand-in for that paper's
    two-phase factor, (rho/rho_f)^(0.2 + 1.3 x) up to x = 0.3, within 10 % of it at 10-16 bar and 18 % at 20 bar;
    the printed factor itself is not monotone at 6 bar and passes 1 at 28 bar. Unchoked flow: assumed.

    Examples
    --------
    Hand-worked from the printed correlation: 1.7 x 38 mm, 13 bar, R-134a passes 25.2 g/s saturated and 43.7 g/s
    with 10 K subcooling:

    >>> tube = OrificeTube(diameter=1.7e-3, length=38e-3)
    >>> s = saturation_at_pressure("R134a", 13e5)
    >>> round(1e3 * orifice_flow(tube, "R134a", s, 10.0, -0.1, 1150.0, 3e5), 1)
    43.7
    """
    slenderness = tube.length / tube.diameter
    held = _saturation_held(refrigerant, LEAST_REDUCED_PRESSURE)
    scale = 1.0
    base = saturated
    if saturated.pressure < held.pressure:
        base, scale = held, math.sqrt(saturated.pressure / held.pressure)
    liquid_subcooling = max(subcooling, 0.0)
    if liquid_subcooling <= LARGEST_FITTED_SUBCOOLING:
        flux = _short_tube_liquid(refrigerant, base, liquid_subcooling, slenderness)
    else:
        edge = _short_tube_liquid(refrigerant, base, LARGEST_FITTED_SUBCOOLING, slenderness)
        before = _short_tube_liquid(refrigerant, base, LARGEST_FITTED_SUBCOOLING - 1.0, slenderness)
        flux = edge + (edge - before) * (liquid_subcooling - LARGEST_FITTED_SUBCOOLING)
    if quality > 0.0:
        flux *= (density / saturated.liquid_density) ** (0.2 + 1.3 * min(quality, 0.3))
    difference = soft_positive(saturated.pressure - outlet_pressure, 2.0e3)
    unchoked = math.sqrt(1.0 - math.exp(-difference / (CHOKING_SHARE * saturated.pressure)))
    return _with_crack(tube.open_share) * math.pi / 4.0 * tube.diameter**2 * flux * scale * unchoked


def valve_area(valve, superheat):
    """How far an expansion valve is open.

    Parameters
    ----------
    valve : ExpansionValve
        Superheats [K] and areas [m2].
    superheat : float
        Superheat at the bulb; below zero when liquid reaches it [K].

    Returns
    -------
    float
        Open area [m2].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Linear between static and full-open superheat (linear form from memory; Li, Braun and Shen 2004), rounded at both
    ends, never below the bleed. Hunting is not modelled.

    Examples
    --------
    >>> from course.physics.system import ExpansionValve
    >>> valve = ExpansionValve(4.0, 10.0, 3e-6, 0.0, 0.7)
    >>> round(valve_area(valve, 7.0) / valve.largest_area, 3)
    0.5
    """
    span = valve.full_open_superheat - valve.static_superheat
    opening = superheat - valve.static_superheat
    share = (soft_positive(opening, SUPERHEAT_ROUNDING) - soft_positive(opening - span, SUPERHEAT_ROUNDING)) / span
    share = share * _with_crack(valve.largest_area_share)
    share += valve.least_area_share * (1.0 - share)
    return valve.bleed_area + valve.largest_area * share


def valve_flow(valve, superheat, density, inlet_pressure, outlet_pressure):
    """Refrigerant an expansion valve lets through.

    Parameters
    ----------
    valve : ExpansionValve
        The valve.
    superheat : float
        Superheat at the bulb [K].
    density : float
        Density at the inlet; a mixture is light and little passes [kg/m3].
    inlet_pressure, outlet_pressure : float
        Pressures before and after [Pa].

    Returns
    -------
    float
        Flow [kg/s].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    m = C A sqrt(2 rho dp), homogeneous inlet density (orifice equation; Li, Braun and Shen 2004, form from memory).

    Examples
    --------
    Hand-worked: 0.7 x 3 mm2 x sqrt(2 x 1100 x 1.0 MPa) = 98.5 g/s wide open:

    >>> from course.physics.system import ExpansionValve
    >>> valve = ExpansionValve(4.0, 10.0, 3e-6, 0.0, 0.7)
    >>> round(1e3 * valve_flow(valve, 30.0, 1100.0, 1.3e6, 0.3e6), 1)
    98.5
    """
    difference = soft_positive(inlet_pressure - outlet_pressure, 2.0e3)
    return valve.discharge_coefficient * valve_area(valve, superheat) * math.sqrt(2.0 * density * difference)


def metering_flow(device, refrigerant, saturated, enthalpy, liquid_heat_capacity, outlet_pressure, superheat):
    """Refrigerant the car's metering device lets through, whichever kind it is.

    Parameters
    ----------
    device : OrificeTube or ExpansionValve
        The device.
    refrigerant : str
        Refrigerant id.
    saturated : Saturation
        Saturation at the inlet pressure [Pa].
    enthalpy : float
        Enthalpy at the inlet [J/kg].
    liquid_heat_capacity : float
        Of the liquid [J/(kg K)].
    outlet_pressure : float
        Pressure after the device [Pa].
    superheat : float
        Superheat at the evaporator outlet, which the valve's bulb feels [K].

    Returns
    -------
    tuple of float
        Flow [kg/s], density at the inlet [kg/m3], quality at the inlet [-].

    Raises
    ------
    OutOfRange
        When the inlet is off the chart.

    Notes
    -----
    Vapour at the inlet is taken at the density of saturated vapour.

    Examples
    --------
    >>> tube = OrificeTube(diameter=1.7e-3, length=38e-3)
    >>> s = saturation_at_pressure("R134a", 13e5)
    >>> flow, density, quality = metering_flow(tube, "R134a", s, s.liquid_enthalpy, 1500.0, 3e5, 5.0)
    >>> round(1e3 * flow, 1), round(quality, 3)
    (25.2, 0.0)
    """
    quality = (enthalpy - saturated.liquid_enthalpy) / (saturated.vapour_enthalpy - saturated.liquid_enthalpy)
    if quality <= 0.0:
        subcooling = (saturated.liquid_enthalpy - enthalpy) / liquid_heat_capacity
        density = saturated.liquid_density * (1.0 + LIQUID_CONTRACTION * subcooling)
    else:
        subcooling = 0.0
        density = mixture_density(saturated, min(quality, 1.0))
    if isinstance(device, OrificeTube):
        flow = orifice_flow(device, refrigerant, saturated, subcooling, quality, density, outlet_pressure)
    else:
        flow = valve_flow(device, superheat, density, saturated.pressure, outlet_pressure)
    return flow, density, quality
