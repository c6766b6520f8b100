"""The compressor: how much it pumps, the work it takes and how hot its gas leaves."""

import math
from typing import NamedTuple

from course.physics.lines import soft_positive
from course.physics.refrigerant import mixture_density, vapour

GUESSED_GAS_HEAT_CAPACITY = 1150.0  # J/(kg K): where the search for the discharge temperature begins
WORK_ROUNDING = 50.0  # J/kg, see soft_positive
EXPANSION_ROUNDING = 0.01  # -, see soft_positive
UNFINISHED_SLIP = 0.3  # - share of the work that gas slipping past worn reeds has not yet had; assumed
WET_LOSS = (
    2.0  # - relative rise of work for each unit of liquid share at the inlet; assumed (a published test: it rises)
)
MOST_CARRIED_SLIP_HEAT = 1.5  # - of the work; beyond it a hot shell gives the slip heat away; assumed


class Pumping(NamedTuple):
    """What the compressor does: flow [kg/s], discharge state, shaft power [W], heat off the shell [W]."""

    flow: float
    discharge_enthalpy: float
    discharge_temperature: float
    discharge_density: float
    power: float
    shell_heat: float


def volumetric_efficiency(compressor, pressure_ratio, rpm):
    """Share of the swept volume that is really pumped.

    Parameters
    ----------
    compressor : Compressor
        The compressor, with clearance [-] and expansion exponent [-].
    pressure_ratio : float
        Discharge over suction pressure, absolute, at least 1 [-].
    rpm : float
        Compressor speed [1/min].

    Returns
    -------
    float
        Volumetric efficiency, never negative [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Re-expansion of the clearance gas: 1 - c (ratio^(1/n) - 1), textbook; times a loss with speed (assumed linear).
    At ratios so high that the clearance gas fills the cylinder it fades to nothing. Valve flutter is not modelled.

    Examples
    --------
    With 4 % clearance and n = 1.1, a ratio of 5 leaves 1 - 0.04 (5^0.909 - 1) = 0.867 at 1000 rpm:

    >>> from course.physics.car_file import load_system
    >>> from dataclasses import replace
    >>> c = replace(load_system("sedan").compressor, clearance=0.04, expansion_exponent=1.1)
    >>> round(volumetric_efficiency(c, 5.0, 1000.0), 3)
    0.867
    """
    expansion = 1.0 - compressor.clearance * (pressure_ratio ** (1.0 / compressor.expansion_exponent) - 1.0)
    speed = 1.0 - compressor.speed_loss_per_krpm * (rpm / 1000.0 - 1.0)
    return soft_positive(expansion, EXPANSION_ROUNDING) * speed


def isentropic_efficiency(compressor, pressure_ratio, rpm):
    """Ideal work over real work.

    Parameters
    ----------
    compressor : Compressor
        The compressor, with best efficiency [-] and its losses [-].
    pressure_ratio : float
        Discharge over suction pressure, absolute, at least 1 [-].
    rpm : float
        Compressor speed [1/min].

    Returns
    -------
    float
        Isentropic efficiency [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Engineering estimate: best at one ratio, falling with the square of the logarithm of the ratio and linearly with
    speed; sized to swash-plate compressors of 0.65-0.70 at 1000 rpm and 0.50-0.58 at 3000 rpm (from memory).

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> c = load_system("sedan").compressor
    >>> isentropic_efficiency(c, c.best_pressure_ratio, 1000.0) == c.isentropic_efficiency
    True
    """
    speed = 1.0 - compressor.isentropic_speed_loss_per_krpm * (rpm / 1000.0 - 1.0)
    ratio = 1.0 / (
        1.0 + compressor.isentropic_ratio_loss * math.log(pressure_ratio / compressor.best_pressure_ratio) ** 2
    )
    return compressor.isentropic_efficiency * speed * ratio


def _isentropic_enthalpy(refrigerant, entropy, saturated):
    """Enthalpy at the saturated state's pressure and a given entropy; inside the dome dh = T ds is exact."""
    excess = entropy - saturated.vapour_entropy
    if excess <= 0.0:
        return (
            saturated.vapour_enthalpy + saturated.temperature * excess,
            saturated.temperature,
            GUESSED_GAS_HEAT_CAPACITY,
        )
    temperature = saturated.temperature * math.exp(excess / GUESSED_GAS_HEAT_CAPACITY)
    for _ in range(20):
        gas = vapour(refrigerant, saturated.pressure, temperature)
        step = (gas.entropy - entropy) / gas.heat_capacity
        # near the critical point the heat capacity swings and a step may fall below the dome, where there is no gas
        temperature = max(temperature * math.exp(-step), saturated.temperature)
        if abs(step) < 1e-6:
            break
    correction = (entropy - gas.entropy) * gas.temperature
    return gas.enthalpy + correction, temperature, gas.heat_capacity


def gas_at_enthalpy(refrigerant, enthalpy, saturated, guess):
    """Temperature and density of discharge gas of known heat content.

    Parameters
    ----------
    refrigerant : str
        Refrigerant id.
    enthalpy : float
        Enthalpy [J/kg].
    saturated : Saturation
        Saturation at the pressure of the gas [Pa].
    guess : float
        Temperature to start from [K].

    Returns
    -------
    tuple of float
        Temperature [K], density [kg/m3]; inside the dome those of the mixture.

    Raises
    ------
    OutOfRange
        When there is no such vapour.

    Notes
    -----
    Newton's method along the isobar with dh = cp dT; inside the dome the homogeneous mixture.

    Examples
    --------
    >>> from course.physics.refrigerant import saturation_at_pressure
    >>> s = saturation_at_pressure("R134a", 1.0e6)
    >>> round(gas_at_enthalpy("R134a", s.vapour_enthalpy + 20e3, s, 330.0)[0] - s.temperature, 0)
    18.0
    """
    if enthalpy <= saturated.vapour_enthalpy:
        latent = saturated.vapour_enthalpy - saturated.liquid_enthalpy
        quality = max(1.0 - (saturated.vapour_enthalpy - enthalpy) / latent, 0.0)
        return saturated.temperature, mixture_density(saturated, quality)
    temperature = max(guess, saturated.temperature)
    for _ in range(20):
        gas = vapour(refrigerant, saturated.pressure, temperature)
        step = (gas.enthalpy - enthalpy) / gas.heat_capacity
        temperature = max(temperature - step, saturated.temperature)
        if abs(step) < 1e-3:
            break
    return temperature, gas.density * gas.temperature / temperature


def pump(compressor, refrigerant, suction, wetness, discharge_saturation, rpm, share):
    """What the compressor moves from suction to discharge.

    Parameters
    ----------
    compressor : Compressor
        The compressor.
    refrigerant : str
        Refrigerant id.
    suction : Fluid
        State at the inlet, vapour or wet vapour [Pa, K, J/kg, kg/m3, J/(kg K)].
    wetness : float
        Liquid share at the inlet [-].
    discharge_saturation : Saturation
        Saturation at the discharge pressure [Pa].
    rpm : float
        Compressor speed [1/min].
    share : float
        Share of full pumping allowed, see controls.pumping_share [-].

    Returns
    -------
    Pumping
        Flow [kg/s], discharge state, shaft power [W], shell heat [W].

    Raises
    ------
    OutOfRange
        When no discharge state can be found.

    Notes
    -----
    Flow = displacement x speed x density x volumetric efficiency, less what slips back: a leak proportional to the
    pressure difference, and the worn share. Slip is compressed again, so its work heats the discharge gas by
    1/(1 - slip) (textbook energy balance), up to MOST_CARRIED_SLIP_HEAT; the rest leaves through the shell.
    Friction beyond the isentropic efficiency, clutch slip heat and oil are not modelled.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> from course.physics.refrigerant import saturation_at_pressure, vapour
    >>> car = load_system("sedan")
    >>> gas = vapour("R134a", 3.0e5, 280.0)
    >>> p = pump(car.compressor, "R134a", gas, 0.0, saturation_at_pressure("R134a", 1.5e6), 1000.0, 1.0)
    >>> abs(p.power - p.shell_heat - p.flow * (p.discharge_enthalpy - gas.enthalpy)) < 1e-6
    True
    """
    pressure = discharge_saturation.pressure
    ratio = max(pressure / suction.pressure, 1.0)
    swept = compressor.displacement * rpm / 60.0 * suction.density * volumetric_efficiency(compressor, ratio, rpm)
    swept *= compressor.pumping_share * compressor.clutch_share
    leak = compressor.leakage * max(pressure - suction.pressure, 0.0)
    kept = (1.0 - compressor.worn_share) * swept / (swept + leak + 1e-12)
    isentropic, guess, heat_capacity = _isentropic_enthalpy(refrigerant, suction.entropy, discharge_saturation)
    work = soft_positive(isentropic - suction.enthalpy, WORK_ROUNDING) / isentropic_efficiency(compressor, ratio, rpm)
    work *= 1.0 + WET_LOSS * wetness
    # gas that slips back on the way is not lifted all the way, so a worn compressor draws less, not more
    spent = 1.0 - UNFINISHED_SLIP * compressor.worn_share
    excess = spent / max(kept, 1e-9) - 1.0
    carried = 1.0 + excess / (1.0 + excess / MOST_CARRIED_SLIP_HEAT)
    gain = work * carried * (1.0 - compressor.shell_loss)
    enthalpy = suction.enthalpy + gain
    temperature, density = gas_at_enthalpy(
        refrigerant, enthalpy, discharge_saturation, guess + (enthalpy - isentropic) / heat_capacity
    )
    flow = swept * kept * share
    power = swept * share * work * spent
    return Pumping(flow, enthalpy, temperature, density, power, power - flow * gain)
