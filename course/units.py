"""Every conversion the workbook makes, gauge and absolute pressure and altitude included: the only conversion factors."""

from dataclasses import dataclass

from course.errors import check_choice, check_range

PA_PER_PSI = 6894.757293168  # NIST SP 811 (2008), appendix B.8
PA_PER_BAR = 1.0e5  # NIST SP 811 (2008), appendix B.8
PA_PER_KPA = 1.0e3  # SI prefix
ZERO_C_IN_K = 273.15  # BIPM SI brochure, 9th edition
STANDARD_ATMOSPHERE_PA = 101325.0  # ISO 2533:1975, sea level
HIGHEST_ALTITUDE_M = 3000.0  # the workbook's own limit: no higher roads in the lessons


@dataclass(frozen=True)
class DisplayUnits:
    """The units a learner reads: how a pressure and a temperature are shown."""

    key: str
    label: str
    pressure: str
    temperature: str
    pa_per_pressure: float


UNIT_SETS = {
    "psi_f": DisplayUnits("psi_f", "psi and °F", "psi", "°F", PA_PER_PSI),
    "kpa_c": DisplayUnits("kpa_c", "kPa and °C", "kPa", "°C", PA_PER_KPA),
    "bar_c": DisplayUnits("bar_c", "bar and °C", "bar", "°C", PA_PER_BAR),
}


def display_units(key):
    """The unit set of that name.

    Parameters
    ----------
    key : str
        One of UNIT_SETS: "psi_f", "kpa_c" or "bar_c".

    Returns
    -------
    DisplayUnits
        The set.

    Raises
    ------
    UnknownChoice
        When the name is not one of them.

    Notes
    -----
    There is no global unit switch: whoever draws passes the set on.

    Examples
    --------
    >>> display_units("psi_f").pressure
    'psi'
    """
    return UNIT_SETS[check_choice("units", key, UNIT_SETS)]


def to_display_pressure(pressure_pa, units):
    """A pressure or pressure difference in the learner's unit.

    Parameters
    ----------
    pressure_pa : float or array
        Pressure, gauge or absolute as given [Pa].
    units : DisplayUnits
        The unit set.

    Returns
    -------
    float or array
        The same pressure [psi, kPa or bar].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Gauge stays gauge and absolute stays absolute. Factor: NIST SP 811 (2008), appendix B.8.

    Examples
    --------
    >>> round(to_display_pressure(689475.7293, display_units("psi_f")), 4)
    100.0
    """
    return pressure_pa / units.pa_per_pressure


def to_display_temperature(temperature_c, units):
    """A temperature in the learner's unit.

    Parameters
    ----------
    temperature_c : float or array
        Temperature [°C].
    units : DisplayUnits
        The unit set.

    Returns
    -------
    float or array
        The same temperature [°C or °F].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    °F = 1.8 °C + 32, exact (NIST SP 811, appendix B.8).

    Examples
    --------
    >>> round(to_display_temperature(35.0, display_units("psi_f")), 6)
    95.0
    """
    return temperature_c * 1.8 + 32.0 if units.temperature == "°F" else temperature_c


def from_display_temperature(shown, units):
    """The temperature behind a number in the learner's unit.

    Parameters
    ----------
    shown : float or array
        Temperature as shown [°C or °F].
    units : DisplayUnits
        The unit set.

    Returns
    -------
    float or array
        Temperature [°C].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The reverse of to_display_temperature.

    Examples
    --------
    >>> from_display_temperature(95.0, display_units("psi_f"))
    35.0
    """
    return (shown - 32.0) / 1.8 if units.temperature == "°F" else shown


def to_display_difference(difference_k, units):
    """A temperature difference (superheat, subcooling) in the learner's unit.

    Parameters
    ----------
    difference_k : float or array
        Temperature difference [K].
    units : DisplayUnits
        The unit set.

    Returns
    -------
    float or array
        The same difference [K or °F]: a difference has no offset of 32.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    1 K = 1.8 °F, exact (NIST SP 811, appendix B.8).

    Examples
    --------
    >>> to_display_difference(5.0, display_units("psi_f"))
    9.0
    """
    return difference_k * 1.8 if units.temperature == "°F" else difference_k


def celsius_to_kelvin(temperature_c):
    """A temperature in kelvin.

    Parameters
    ----------
    temperature_c : float or array
        Temperature [°C].

    Returns
    -------
    float or array
        Temperature [K].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    BIPM SI brochure, 9th edition.

    Examples
    --------
    >>> celsius_to_kelvin(25.0)
    298.15
    """
    return temperature_c + ZERO_C_IN_K


def kelvin_to_celsius(temperature):
    """A temperature in degrees Celsius.

    Parameters
    ----------
    temperature : float or array
        Temperature [K].

    Returns
    -------
    float or array
        Temperature [°C].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    BIPM SI brochure, 9th edition.

    Examples
    --------
    >>> kelvin_to_celsius(273.15)
    0.0
    """
    return temperature - ZERO_C_IN_K


def atmospheric_pressure_pa(altitude_m):
    """The air pressure at an altitude, which every gauge subtracts.

    Parameters
    ----------
    altitude_m : float
        Altitude above sea level, 0 to 3,000 [m].

    Returns
    -------
    float
        Absolute pressure [Pa].

    Raises
    ------
    OutOfRange
        When the altitude is outside 0 to 3,000 m.

    Notes
    -----
    ISO 2533:1975 standard atmosphere, troposphere: p = p0 (1 - 0.0065 h / 288.15)^5.25588. Weather moves it by some 3 %,
    which is not modelled.

    Examples
    --------
    ISO 2533 gives 898.75 hPa (89.9 kPa) at 1,000 m:

    >>> round(atmospheric_pressure_pa(1000.0) / 1000, 1)
    89.9
    """
    altitude = check_range("altitude", altitude_m, 0.0, HIGHEST_ALTITUDE_M, "m", "choose a place in that range")
    return STANDARD_ATMOSPHERE_PA * (1.0 - 0.0065 * altitude / 288.15) ** 5.25588


def gauge_from_absolute_pa(pressure_pa, altitude_m=0.0):
    """What a gauge open to the local air reads for an absolute pressure.

    Parameters
    ----------
    pressure_pa : float or array
        Absolute pressure [Pa].
    altitude_m : float
        Altitude [m].

    Returns
    -------
    float or array
        Gauge pressure [Pa]; below zero is vacuum.

    Raises
    ------
    OutOfRange
        When the altitude is outside 0 to 3,000 m.

    Notes
    -----
    A sealed electronic sensor is set to sea level instead; that is not modelled here.

    Examples
    --------
    >>> gauge_from_absolute_pa(101325.0)
    0.0
    """
    return pressure_pa - atmospheric_pressure_pa(altitude_m)


def absolute_from_gauge_pa(pressure_pa_gauge, altitude_m=0.0):
    """The absolute pressure behind a gauge reading.

    Parameters
    ----------
    pressure_pa_gauge : float or array
        Gauge pressure [Pa].
    altitude_m : float
        Altitude [m].

    Returns
    -------
    float or array
        Absolute pressure [Pa].

    Raises
    ------
    OutOfRange
        When the altitude is outside 0 to 3,000 m.

    Notes
    -----
    The reverse of gauge_from_absolute_pa.

    Examples
    --------
    >>> absolute_from_gauge_pa(0.0)
    101325.0
    """
    return pressure_pa_gauge + atmospheric_pressure_pa(altitude_m)
