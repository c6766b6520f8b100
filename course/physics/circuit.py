"""What stays the same during a solve, and the solver's variables: the pressures in a form in which every step is alike."""

import math
from typing import NamedTuple

from course.physics.charge_inventory import STORAGE_ROUNDING
from course.physics.compressor import volumetric_efficiency
from course.physics.controls import HIGH_SWITCH_BAND, SWITCH_BAND, hold_pressure, pumping_share
from course.physics.evaporator import CoilAir, coil_air
from course.physics.lines import pressure_drop, pressure_left, soft_positive
from course.physics.moist_air import DRY_AIR_GAS_CONSTANT
from course.physics.refrigerant import saturation_at_pressure, saturation_at_temperature
from course.physics.system import OrificeTube

DISCHARGE_ALLOWANCE = 6.0e4  # Pa of discharge-line drop foreseen in the solver's variable
CONDENSING_SCALE = 0.02  # K; sets only the solver's step
SUPERHEAT_SCALE = 10.0  # K; sets only the solver's step
AIR_GAS_SHARE = 0.4  # - of the inner volume over which air behaves as if gathered on the high side; assumed
AIR_GAS_RISE = 20.0  # K that gathered air is warmer than the weather; assumed
LOWEST_PRESSURE = 1.0e3  # Pa; only for first guesses
VAPOUR_DENSITY_PER_PRESSURE = 4.7e-5  # kg/m3 per Pa, both refrigerants near 10 K of superheat at low-side pressures


class Circuit(NamedTuple):
    """A car in its weather with its charge [kg], the coil's air, the engine bay [K], and the ends of the search."""

    system: object
    conditions: object
    charge: float
    orifice: bool
    coil_air: CoilAir
    engine_bay: float
    air_pressure: float
    highest_suction: float
    free_discharge: float
    rough_difference: float


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
    >>> from course.physics.car_file import load_system
    >>> from course.physics.system import conditions
    >>> prepare(load_system("sedan"), conditions(), 0.5).air_pressure
    0.0
    """
    gas_temperature = conditions.ambient + AIR_GAS_RISE
    partial = system.air_mass * DRY_AIR_GAS_CONSTANT * gas_temperature / (AIR_GAS_SHARE * system.volume)
    coil_inlet = coil_air(system.evaporator, conditions)
    ceiling = system.controls.high_pressure_cut_out + conditions.air_pressure - HIGH_SWITCH_BAND
    hottest = saturation_at_pressure(system.refrigerant, ceiling - DISCHARGE_ALLOWANCE - partial).temperature
    hold = hold_pressure(system.controls, conditions.air_pressure, 0.0)
    boiling = saturation_at_pressure(system.refrigerant, hold).temperature
    return Circuit(
        system,
        conditions,
        charge,
        isinstance(system.metering, OrificeTube),
        coil_inlet,
        conditions.ambient + system.engine_bay_rise,
        partial,
        0.9 * ceiling,
        math.asinh((hottest - conditions.ambient) / CONDENSING_SCALE),
        max(coil_inlet.inlet.temperature - boiling, 5.0),
    )


def buffer(position):
    """Level of a buffer, and how far its outlet is below empty or above full, from one running variable.

    Parameters
    ----------
    position : float
        Below 0 empty, 0 to 1 the level, above 1 overfull [-].

    Returns
    -------
    tuple of float
        Level, shortage, excess; smooth in the position [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    See lines.soft_positive.

    Examples
    --------
    >>> [round(part, 6) for part in buffer(0.5)]
    [0.5, 0.0, 0.0]
    """
    shortage = soft_positive(-position, STORAGE_ROUNDING)
    excess = soft_positive(position - 1.0, STORAGE_ROUNDING)
    return soft_positive(position, STORAGE_ROUNDING) - excess, shortage, excess


def growing(variable):
    """The variable itself while small, then exponential: a starved coil's reach runs into the hundreds.

    Parameters
    ----------
    variable : float
        The solver's variable, not below zero [-].

    Returns
    -------
    float
        The reach it stands for [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A change of variable only; value and slope meet at 2.

    Examples
    --------
    >>> growing(1.0), growing(2.0)
    (1.0, 2.0)
    """
    return variable if variable < 2.0 else 2.0 * math.exp(0.5 * variable - 1.0)


def reach_and_wetness(circuit, trial):
    """How far the evaporator outlet has come towards the air, and how wet it is.

    Parameters
    ----------
    circuit : Circuit
        The fixed part of the problem.
    trial : sequence of float
        The solver's variables [-].

    Returns
    -------
    tuple of float
        Reach, -ln(1 - share of the difference to the air) [-]; liquid share [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    With an accumulator both follow from its level; with a valve they are a variable of their own.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> from course.physics.system import conditions
    >>> circuit = prepare(load_system("pickup"), conditions(), 0.7)
    >>> [round(part, 6) for part in reach_and_wetness(circuit, [1.0, 7.0, 0.5])]
    [0.0, 0.0]
    """
    if circuit.orifice:
        _, shortage, excess = buffer(trial[2])
        return growing(shortage), excess
    reach = growing(soft_positive(trial[3], STORAGE_ROUNDING)) * SUPERHEAT_SCALE / circuit.rough_difference
    return reach, soft_positive(-trial[3], STORAGE_ROUNDING)


def suction_from_variable(circuit, variable, reach):
    """Suction pressure from the solver's running variable.

    Parameters
    ----------
    circuit : Circuit
        The fixed part of the problem.
    variable : float
        1 at the end of the switch band; above, the logarithm of pressure, below, of the share that is pumped [-].
    reach : float
        See controls.hold_pressure [-].

    Returns
    -------
    tuple of float
        Suction pressure, and how far it lies above the hold pressure [Pa].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A change of variable only: one step of the solver changes the flow alike inside the narrow band of a switch and
    outside it.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> from course.physics.system import conditions
    >>> circuit = prepare(load_system("pickup"), conditions(), 0.8)
    >>> round(suction_from_variable(circuit, 1.0, 0.0)[1])
    8000
    """
    controls = circuit.system.controls
    hold = hold_pressure(controls, circuit.conditions.air_pressure, reach)
    if variable > 1.0:
        above = (hold + SWITCH_BAND) * math.exp(variable - 1.0) - hold
    else:
        # a stroke at its least pumps on below the hold point: there the variable is the logarithm of pressure again
        bottom = 1.0 + math.log(controls.least_stroke) - 4.0 if controls.least_stroke > 0.0 else -math.inf
        if variable >= bottom:
            above = SWITCH_BAND * math.exp(variable - 1.0)
        else:
            above = (hold + SWITCH_BAND * math.exp(bottom - 1.0)) * math.exp(variable - bottom) - hold
    return hold + above, above


def variable_from_suction(circuit, pressure, reach):
    """The solver's suction variable for a pressure above the switch band: the reverse of suction_from_variable there.

    Parameters
    ----------
    circuit : Circuit
        The fixed part of the problem.
    pressure : float
        Suction pressure [Pa].
    reach : float
        See controls.hold_pressure [-].

    Returns
    -------
    float
        The variable [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Used for first guesses and for the upper end of the search.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> from course.physics.system import conditions
    >>> circuit = prepare(load_system("sedan"), conditions(), 0.4)
    >>> round(suction_from_variable(circuit, variable_from_suction(circuit, 4e5, 0.1), 0.1)[0])
    400000
    """
    hold = hold_pressure(circuit.system.controls, circuit.conditions.air_pressure, reach)
    return 1.0 + math.log(max(pressure, LOWEST_PRESSURE) / (hold + SWITCH_BAND))


def discharge_from_variable(circuit, variable, suction_pressure, above_hold):
    """Discharge pressure from the solver's running variable.

    Parameters
    ----------
    circuit : Circuit
        The fixed part of the problem.
    variable : float
        Inverse hyperbolic sine of the condensing temperature above the weather, in CONDENSING_SCALE; in the band of
        the high-pressure cut-out, the logarithm of the share that is pumped [-].
    suction_pressure, above_hold : float
        Suction pressure, and how far it lies above the hold pressure, for the flow in the discharge line [Pa].

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
    scale stays right; cycle.march works out the true one.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> from course.physics.system import conditions
    >>> circuit = prepare(load_system("sedan"), conditions(ambient_c=35.0), 0.5)
    >>> 8.8e5 < discharge_from_variable(circuit, 0.0, 3e5, 1e5) < 9.6e5
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
    flow = swept * VAPOUR_DENSITY_PER_PRESSURE * suction_pressure
    flow *= pumping_share(circuit.system.controls, above_hold, 0.0)
    drop = pressure_drop(circuit.system.discharge_line, flow, 0.85 * saturated.vapour_density)
    pressure = high + DISCHARGE_ALLOWANCE - pressure_left(drop, DISCHARGE_ALLOWANCE)
    if variable > low:
        cut_out = circuit.system.controls.high_pressure_cut_out + conditions.air_pressure
        pressure = cut_out - (cut_out - pressure) * math.exp(low - variable)
    return pressure
