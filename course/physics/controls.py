"""Switches and stroke control: how much of its full pumping the compressor is allowed, and the condenser fan's speed."""

import math

from course.physics.lines import soft_positive
from course.units import STANDARD_ATMOSPHERE_PA

SWITCH_BAND = 8.0e3  # Pa over which pumping fades at a switch or control point; assumed, narrower than a gauge can show
SWITCH_ROUNDING = 2.0e1  # Pa, see soft_positive
HIGH_SWITCH_BAND = 40.0e3  # Pa, assumed: 1.3 % of the cut-out pressure
HIGH_SWITCH_ROUNDING = 1.0e3  # Pa, see soft_positive
SENSOR_REACH = 0.25  # - superheat share of a healthy coil, as -ln(1 - share), with which a fin sensor was set; assumed
SENSOR_REACH_WIDTH = 0.05  # -, see soft_positive
SENSOR_LAG = 0.1  # - fall of ln(pressure) for each unit of reach beyond it: warm fins around the sensor; assumed
FAN_ROUNDING = 2.0e4  # Pa, see soft_positive


def hold_pressure(controls, air_pressure, reach):
    """The suction pressure at which the low-side control begins to act.

    Parameters
    ----------
    controls : Controls
        Hold point [Pa gauge] and kind of control.
    air_pressure : float
        Air pressure [Pa].
    reach : float
        How far the superheat has come towards the air, as -ln(1 - share of the difference) [-].

    Returns
    -------
    float
        Absolute pressure [Pa].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A pressure switch and a control valve feel gauge pressure. A fin sensor feels temperature: its point is absolute,
    and it sinks when much of the coil is warm and dry (size assumed), so that a starved car's low side may fall.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> c = load_system("sedan").controls
    >>> hold_pressure(c, 101325.0, 2.0) < hold_pressure(c, 101325.0, 0.1)
    True
    """
    if controls.low_side_control != "evaporator_thermostat":
        return controls.low_side_hold + air_pressure
    warm = soft_positive(reach - SENSOR_REACH, SENSOR_REACH_WIDTH)
    return (controls.low_side_hold + STANDARD_ATMOSPHERE_PA) * math.exp(-SENSOR_LAG * warm)


def pumping_share(controls, above_hold, discharge_gauge):
    """Share of full pumping that the switches or the stroke control allow.

    Parameters
    ----------
    controls : Controls
        Switch points [Pa gauge] and least stroke [-].
    above_hold : float
        Suction pressure less the hold pressure [Pa].
    discharge_gauge : float
        Pressure at the compressor outlet [Pa gauge].

    Returns
    -------
    float
        Share of the time the clutch is in, or share of the stroke, 0 to 1 [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A clutch that cycles is a mean over the cycle, taken at the pressure just before it lets go: pumping fades from all
    to nothing (or to the least stroke) over SWITCH_BAND above the hold point. A variable stroke does the same in
    truth. The high-pressure cut-out fades likewise below its point. The swing up to the cut-in pressure is reported as
    a note, not modelled.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> c = load_system("pickup").controls
    >>> round(pumping_share(c, 50e3, 1.5e6), 3), round(pumping_share(c, -20e3, 1.5e6), 3)
    (1.0, 0.0)
    """
    low = soft_positive(above_hold, SWITCH_ROUNDING) - soft_positive(above_hold - SWITCH_BAND, SWITCH_ROUNDING)
    low_share = controls.least_stroke + (1.0 - controls.least_stroke) * low / SWITCH_BAND
    below = controls.high_pressure_cut_out - discharge_gauge
    high = soft_positive(below, HIGH_SWITCH_ROUNDING) - soft_positive(below - HIGH_SWITCH_BAND, HIGH_SWITCH_ROUNDING)
    return low_share * high / HIGH_SWITCH_BAND


def fan_speed(condenser, discharge_gauge):
    """Share of its full air that the condenser fan moves at a high-side pressure.

    Parameters
    ----------
    condenser : Condenser
        Fan steps [Pa gauge, -].
    discharge_gauge : float
        High-side pressure [Pa gauge].

    Returns
    -------
    float
        Share of the full airflow [-].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Slow speed up to one pressure, full speed from another, in proportion between: the mean of a fan that switches
    (printed in one car: on at 1,650 kPa, off at 1,250 kPa gauge).

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> fan_speed(load_system("sedan").condenser, 2.5e6)
    1.0
    """
    span = condenser.fan_full_pressure - condenser.fan_slow_pressure
    over = discharge_gauge - condenser.fan_slow_pressure
    share = (soft_positive(over, FAN_ROUNDING) - soft_positive(over - span, FAN_ROUNDING)) / span
    return condenser.fan_slow_share + (1.0 - condenser.fan_slow_share) * share
