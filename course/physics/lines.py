"""Pressure drops in the hoses and pipes, and restrictions, which are such drops too."""

import math


def soft_positive(value, width):
    """A number where it is well above zero, fading smoothly to nothing below.

    Parameters
    ----------
    value : float
        Any quantity [any unit].
    width : float
        The range over which it fades [same unit].

    Returns
    -------
    float
        width x ln(1 + exp(value / width)) [same unit].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Every place where a part changes its behaviour (a valve that begins to open, a receiver that runs empty) is rounded
    with this one curve, so that a slider moved a little moves the readings a little. No refrigeration source; the
    logistic integral, known as softplus.

    Examples
    --------
    >>> round(soft_positive(5.0, 0.1), 6), round(soft_positive(-5.0, 0.1), 6)
    (5.0, 0.0)
    """
    ratio = value / width
    if ratio > 35.0:
        return value
    if ratio < -35.0:
        return width * math.exp(max(ratio, -700.0))
    return width * math.log1p(math.exp(ratio))


def pressure_drop(line, flow, density):
    """Pressure lost along a hose or pipe.

    Parameters
    ----------
    line : Line
        The line, with its resistance [Pa kg/m3 / (kg/s)2].
    flow : float
        Refrigerant flow [kg/s].
    density : float
        Density of what flows [kg/m3].

    Returns
    -------
    float
        Pressure drop [Pa].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Proportional to flow squared over density (turbulent flow, constant friction factor). Height is not modelled.

    Examples
    --------
    Twice the flow, four times the drop:

    >>> from course.physics.system import Line
    >>> hose = Line(volume=1e-4, resistance=3.0e8)
    >>> pressure_drop(hose, 0.04, 12.0) / pressure_drop(hose, 0.02, 12.0)
    4.0
    """
    return line.resistance * flow * flow / density


def pressure_left(drop, available):
    """What is left of a pressure difference after a line or a restriction, which can take no more than there is.

    Parameters
    ----------
    drop : float
        Drop by the turbulent law [Pa].
    available : float
        Pressure difference there is to lose, above zero [Pa].

    Returns
    -------
    float
        Pressure difference left, above zero [Pa].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The drop taken is drop / (1 + (drop/available)^8)^(1/8): within 2 % of the law up to 80 % of the available
    difference. Only trial flows of the solver and nearly closed restrictions come near the limit.

    Examples
    --------
    >>> round(pressure_left(20e3, 1e6)), 0.0 < pressure_left(1e7, 1e6) < 1.0
    (980000, True)
    """
    ratio = drop / available
    if ratio < 0.01:
        return available - drop
    if ratio <= 1.0:
        return available - drop / (1.0 + ratio**8.0) ** 0.125
    return -available * math.expm1(-0.125 * math.log1p(ratio**-8.0)) + 1e-6
