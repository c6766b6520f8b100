"""Where the refrigerant sits: the mass in every part of the circuit."""

import math

STORAGE_ROUNDING = 0.02  # - of the level over which a buffer runs empty or full; assumed (swirl at the pick-up tube)


def mean_two_phase_density(saturated, quality_in, quality_out):
    """Mean density of refrigerant that boils or condenses evenly between two qualities.

    Parameters
    ----------
    saturated : Saturation
        Saturated densities [kg/m3].
    quality_in, quality_out : float
        Vapour shares at the two ends, 0 to 1 [-].

    Returns
    -------
    float
        Mean density [kg/m3].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Void fraction of Zivi (1964), slip (rho_l/rho_g)^(1/3), integrated in closed form over quality, which assumes an
    even heat flux. Published void-fraction models differ by 1.8 times in a condenser and 3-7 times in an evaporator.

    Examples
    --------
    R-134a condensing at 50 °C from vapour to liquid; a numerical integral gave 295 kg/m3:

    >>> from course.physics.refrigerant import saturation_at_temperature
    >>> round(mean_two_phase_density(saturation_at_temperature("R134a", 323.15), 1.0, 0.0))
    294
    """
    slip = (saturated.vapour_density / saturated.liquid_density) ** (2.0 / 3.0)
    rest = 1.0 - slip
    span = quality_out - quality_in
    if abs(span) < 1e-6:
        middle = 0.5 * (quality_in + quality_out)
        void = middle / (slip + rest * middle)
    else:
        logarithm = math.log((slip + rest * quality_out) / (slip + rest * quality_in))
        void = 1.0 / rest - slip / (rest * rest * span) * logarithm
    return void * saturated.vapour_density + (1.0 - void) * saturated.liquid_density


def condenser_mass(volume, saturated, passes, inlet_density):
    """Refrigerant in the condenser core.

    Parameters
    ----------
    volume : float
        Inner volume of the core [m3].
    saturated : Saturation
        Saturation at the condenser pressure [Pa].
    passes : sequence of Pass
        The parts of the core in flow order, with their zone areas [-].
    inlet_density : float
        Density of the gas that enters [kg/m3].

    Returns
    -------
    float
        Mass [kg].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Volume is shared out as area. Vapour zone: the mean that goes with its exponential decay; liquid zone: mean of
    saturated liquid and liquid as it leaves.

    Examples
    --------
    >>> condenser_mass(1e-3, None, [], 50.0)
    0.0
    """
    mass = 0.0
    for part in passes:
        if part.vapour_area > 0.0:
            mass += part.vapour_area * volume * _vapour_zone_density(saturated, part, inlet_density)
        if part.condensing_area > 0.0:
            leaving = min(max(part.quality, 0.0), 1.0)
            entering = min(max(part.quality_in, 0.0), 1.0)
            mass += part.condensing_area * volume * mean_two_phase_density(saturated, entering, leaving)
        if part.liquid_area > 0.0:
            mass += part.liquid_area * volume * 0.5 * (saturated.liquid_density + part.liquid_density)
    return mass


def _vapour_zone_density(saturated, part, inlet_density):
    """Mean density [kg/m3] of gas whose difference to the air decays exponentially along the zone."""
    # gas that leaves above saturation is lighter in proportion to its temperature
    leaving = saturated.vapour_density * min(saturated.temperature / part.temperature, 1.0)
    if part.condensing_area > 0.0 or part.liquid_area > 0.0:
        leaving = saturated.vapour_density
    span = part.vapour_span
    weight = 1.0 / span - 1.0 / math.expm1(span) if span > 1e-3 else 0.5
    return leaving + (inlet_density - leaving) * weight


def evaporator_mass(evaporator, saturated, coil, enthalpy_in):
    """Refrigerant in the evaporator core.

    Parameters
    ----------
    evaporator : Evaporator
        Volume [m3] and inventory factor [-].
    saturated : Saturation
        Saturation at the evaporator pressure [Pa].
    coil : CoilRun
        What the coil does [J/kg, -].
    enthalpy_in : float
        Enthalpy after the metering device [J/kg].

    Returns
    -------
    float
        Mass [kg].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Zivi's mean density times the inventory factor, never above liquid density; the superheating zone holds saturated
    vapour density.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> from course.physics.evaporator import CoilRun
    >>> from course.physics.refrigerant import saturation_at_temperature
    >>> e = load_system("sedan").evaporator
    >>> s = saturation_at_temperature("R134a", 275.15)
    >>> dry = evaporator_mass(e, s, CoilRun(s.vapour_enthalpy, 0.0, 1.0, 0.0, 1.0), s.vapour_enthalpy)
    >>> round(dry / e.volume / s.vapour_density, 3)
    1.0
    """
    latent = saturated.vapour_enthalpy - saturated.liquid_enthalpy
    entering = min(max((enthalpy_in - saturated.liquid_enthalpy) / latent, 0.0), 1.0)
    leaving = min(max((coil.enthalpy - saturated.liquid_enthalpy) / latent, 0.0), 1.0)
    density = mean_two_phase_density(saturated, entering, leaving)
    boiling = min(max(coil.boiling_area, 0.0), 1.0)
    # an evaporator can hold no more than liquid: the factor raises the liquid share, capped by what there is room for
    tuned = density * evaporator.inventory_factor
    tuned = tuned / (1.0 + (tuned / saturated.liquid_density) ** 4) ** 0.25
    return evaporator.volume * (boiling * tuned + (1.0 - boiling) * saturated.vapour_density)


def storage_mass(storage, liquid_density, level, vapour_density):
    """Refrigerant in the accumulator or receiver.

    Parameters
    ----------
    storage : Storage
        Volume [m3] and usable share [-].
    liquid_density : float
        Of the liquid in it [kg/m3].
    level : float
        Level of liquid, 0 empty to 1 full to the usable mark [-].
    vapour_density : float
        Of what fills the rest [kg/m3].

    Returns
    -------
    tuple of float
        Mass in all [kg], liquid in reserve [kg].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Refrigerant dissolved in the oil that lies there is not modelled.

    Examples
    --------
    >>> from course.physics.system import Storage
    >>> round(storage_mass(Storage("receiver", 350e-6, 0.7), 1102.0, 0.5, 66.0)[1], 3)
    0.135
    """
    liquid = level * storage.usable_share * storage.volume
    reserve = liquid * liquid_density
    return reserve + (storage.volume - liquid) * vapour_density, reserve
