"""Numbers as the pictures print them: rounded as an instrument is read, with their unit, and never "-0"."""

from course.units import PA_PER_KPA, to_display_pressure, to_display_temperature


def rounded(value, digits=0):
    """A number rounded for reading.

    Parameters
    ----------
    value : float
        The number [any unit].
    digits : int
        Digits after the point [-].

    Returns
    -------
    str
        The number without its unit; a zero never carries a minus sign.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Rounds half to even, as Python does.

    Examples
    --------
    >>> rounded(-0.3), rounded(1.25, 2)
    ('0', '1.25')
    """
    return f"{round(value, digits) + 0.0:.{digits}f}"


def degrees(temperature_c, units):
    """A temperature in the learner's unit, to the degree.

    Parameters
    ----------
    temperature_c : float
        Temperature [°C].
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        Number and unit [°C or °F].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    See course.units for the conversion.

    Examples
    --------
    >>> from course.units import display_units
    >>> degrees(35.0, display_units("psi_f")), degrees(-0.2, display_units("kpa_c"))
    ('95 °F', '0 °C')
    """
    return f"{rounded(to_display_temperature(temperature_c, units))} {units.temperature}"


def pressure_number(pressure_kpa, units):
    """A pressure in the learner's unit, as many digits as a gauge lets one read.

    Parameters
    ----------
    pressure_kpa : float
        Gauge or absolute pressure [kPa].
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        The number without its unit [psi, kPa or bar].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Hundredths of a bar, whole kPa and psi.

    Examples
    --------
    >>> from course.units import display_units
    >>> pressure_number(217.4, display_units("bar_c")), pressure_number(217.4, display_units("kpa_c"))
    ('2.17', '217')
    """
    return rounded(to_display_pressure(pressure_kpa * PA_PER_KPA, units), 2 if units.pressure == "bar" else 0)
