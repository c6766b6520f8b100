"""Every conversion the workbook makes, gauge and absolute pressure and altitude included: the only conversion factors."""

from dataclasses import dataclass

from course.errors import check_choice, check_range

PA_PER_PSI = 6894.757293168  # NIST SP 811 (2008), appendix B.8
PA_PER_BAR = 1.0e5  # NIST SP 811 (2008), appendix B.8
PA_PER_KPA = 1.0e3  # SI prefix
PA_PER_MBAR = 100.0  # NIST SP 811 (2008), appendix B.8
PA_PER_MICRON = 101325.0 / 760000.0  # 1 micron is 0.001 torr; torr: NIST SP 811 (2008), appendix B.8
PA_PER_INHG = 3386.389  # conventional inch of mercury, NIST SP 811 (2008), appendix B.8
M3_PER_L = 1.0e-3  # BIPM SI brochure, 9th edition
M3_PER_ML = 1.0e-6  # BIPM SI brochure, 9th edition
ML_PER_FL_OZ = 29.57353  # US fluid ounce, a volume: NIST SP 811 (2008), appendix B.8
M3_S_PER_CFM = 4.719474e-4  # cubic foot per minute: NIST SP 811 (2008), appendix B.8
M_PER_INCH = 0.0254  # exact: NIST SP 811 (2008), appendix B.8
ZERO_C_IN_K = 273.15  # BIPM SI brochure, 9th edition
STANDARD_ATMOSPHERE_PA = 101325.0  # ISO 2533:1975, sea level
SECONDS_PER_DAY = 86400.0  # SI
DAYS_PER_YEAR = 365.25  # the Julian year; a year of 365 days differs by 0.07 %
SECONDS_PER_YEAR = DAYS_PER_YEAR * SECONDS_PER_DAY  # computed
G_PER_KG = 1.0e3  # SI prefix
G_PER_OUNCE = 28.349523125  # avoirdupois, exact: NIST SP 811 (2008), appendix B.8
G_PER_POUND = 453.59237  # avoirdupois, exact: NIST SP 811 (2008), appendix B.8
W_PER_BTU_H = 0.2930711  # international table Btu per hour: NIST SP 811 (2008), appendix B.8
KJ_KG_PER_BTU_LB = 2.326  # international table Btu per pound, exact: NIST SP 811 (2008), appendix B.8
GAS_CONSTANT = 8.31446261815324  # J/(mol K), exact: BIPM SI brochure, 9th edition
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


def kg_per_second_from_g_per_year(leak_g_per_year):
    """A leak in the standards' grams a year as a flow.

    Parameters
    ----------
    leak_g_per_year : float or array
        Leak [g/yr].

    Returns
    -------
    float or array
        Flow [kg/s].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A year of 365.25 days, the Julian year.

    Examples
    --------
    >>> round(kg_per_second_from_g_per_year(100.0) * 1e9, 2)
    3.17
    """
    return leak_g_per_year / 1000.0 / SECONDS_PER_YEAR


def g_per_year_from_kg_per_second(flow):
    """A flow in the grams a year of leak standards.

    Parameters
    ----------
    flow : float or array
        Flow [kg/s].

    Returns
    -------
    float or array
        Leak [g/yr].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The reverse of kg_per_second_from_g_per_year.

    Examples
    --------
    >>> round(g_per_year_from_kg_per_second(3.1688e-9), 1)
    100.0
    """
    return flow * 1000.0 * SECONDS_PER_YEAR


def oz_per_year_from_g_per_year(leak_g_per_year):
    """A leak in ounces a year, as detectors and older manuals print it.

    Parameters
    ----------
    leak_g_per_year : float or array
        Leak [g/yr].

    Returns
    -------
    float or array
        Leak, ounces of mass [oz/yr].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Ounces of mass (avoirdupois), not the fluid ounces of oil and dye. NIST SP 811 (2008), appendix B.8. Standards
    print 0.15 oz/yr beside 4 g/yr, which is 0.14.

    Examples
    --------
    >>> round(oz_per_year_from_g_per_year(4.0), 2), round(oz_per_year_from_g_per_year(14.0), 2)
    (0.14, 0.49)
    """
    return leak_g_per_year / G_PER_OUNCE


def g_per_year_from_oz_per_year(leak_oz_per_year):
    """A leak in grams a year from ounces of mass a year.

    Parameters
    ----------
    leak_oz_per_year : float or array
        Leak, ounces of mass [oz/yr].

    Returns
    -------
    float or array
        Leak [g/yr].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The reverse of oz_per_year_from_g_per_year.

    Examples
    --------
    >>> round(g_per_year_from_oz_per_year(1.0), 2), round(g_per_year_from_oz_per_year(45.0))
    (28.35, 1276)
    """
    return leak_oz_per_year * G_PER_OUNCE


def mbar_l_per_second_from_kg_per_second(flow, molar_mass, temperature_c=20.0):
    """A leak as leak-testing texts give it: pressure times volume a second.

    Parameters
    ----------
    flow : float or array
        Flow of the gas [kg/s].
    molar_mass : float
        Molar mass of the gas [kg/mol].
    temperature_c : float
        Temperature at which pressure and volume are taken [°C].

    Returns
    -------
    float or array
        Throughput [mbar L/s]; 1 mbar L/s = 0.1 Pa m3/s.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Ideal gas: pV = m R T / M, exact constants of the BIPM SI brochure, 9th edition. The same hole passes another
    throughput of another gas.

    Examples
    --------
    1 g/yr of R-134a (0.10203 kg/mol) at 20 °C:

    >>> flow = kg_per_second_from_g_per_year(1.0)
    >>> f"{mbar_l_per_second_from_kg_per_second(flow, 0.10203):.1e}"
    '7.6e-06'
    """
    return flow * GAS_CONSTANT * (temperature_c + ZERO_C_IN_K) / molar_mass / (PA_PER_MBAR * M3_PER_L)


def kg_per_second_from_mbar_l_per_second(throughput, molar_mass, temperature_c=20.0):
    """The flow behind a leak given as pressure times volume a second.

    Parameters
    ----------
    throughput : float or array
        Throughput [mbar L/s].
    molar_mass : float
        Molar mass of the gas [kg/mol].
    temperature_c : float
        Temperature at which pressure and volume were taken [°C].

    Returns
    -------
    float or array
        Flow of the gas [kg/s].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The reverse of mbar_l_per_second_from_kg_per_second.

    Examples
    --------
    1 mbar L/s of R-134a at 20 °C is about 132,100 g/yr:

    >>> round(g_per_year_from_kg_per_second(kg_per_second_from_mbar_l_per_second(1.0, 0.102032)), -2)
    132100.0
    """
    return throughput * PA_PER_MBAR * M3_PER_L * molar_mass / GAS_CONSTANT / (temperature_c + ZERO_C_IN_K)
