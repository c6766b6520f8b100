"""What refrigerant in the air weighs in carbon dioxide: a leak a year against one vented charge."""

from course.errors import check_choice, check_range
from course.tables import read_service_numbers
from course.units import G_PER_KG

REPORTS = {"ar4": "IPCC AR4 (2007)", "ar5": "IPCC AR5 (2013)", "ar6": "IPCC AR6 (2021)"}
REFRIGERANTS = ("R12", "R134a", "R1234yf", "R744")


def gwp(refrigerant, report="ar4"):
    """Global warming potential over 100 years of one refrigerant in one assessment report.

    Parameters
    ----------
    refrigerant : str
        "R12", "R134a", "R1234yf" or "R744".
    report : str
        "ar4", "ar5" or "ar6".

    Returns
    -------
    float
        Carbon dioxide that warms as much as one kilogram [kg/kg].

    Raises
    ------
    UnknownChoice
        When the refrigerant or the report is not among the choices.

    Notes
    -----
    data/service/emissions.toml. Laws name the report they count with; AR4 is the one in most of them.

    Examples
    --------
    >>> gwp("R134a"), gwp("R134a", "ar5"), gwp("R134a", "ar6")
    (1430.0, 1300.0, 1530.0)
    """
    check_choice("refrigerant", refrigerant, REFRIGERANTS)
    check_choice("assessment report", report, REPORTS)
    return read_service_numbers("emissions").value(refrigerant, f"{report}_ratio")


def co2_equivalent_kg(mass_g, refrigerant, report="ar4"):
    """Carbon dioxide that warms as much as some refrigerant let out.

    Parameters
    ----------
    mass_g : float
        Refrigerant, 0 to 1,000,000 [g].
    refrigerant : str
        "R12", "R134a", "R1234yf" or "R744".
    report : str
        "ar4", "ar5" or "ar6".

    Returns
    -------
    float
        Carbon dioxide [kg].

    Raises
    ------
    UnknownChoice, OutOfRange
        When a name is unknown or the mass is outside its range.

    Notes
    -----
    Mass times gwp(). What the refrigerant breaks down to is not counted.

    Examples
    --------
    One 600 g charge of R-134a, by AR4:

    >>> co2_equivalent_kg(600.0, "R134a")
    858.0
    """
    mass = check_range("refrigerant let out", mass_g, 0.0, 1e6, "g", "give grams, not a share")
    return mass / G_PER_KG * gwp(refrigerant, report)


def years_of_leak(charge_g, leak_g_per_year):
    """How many years of a leak let out as much as one vented charge.

    Parameters
    ----------
    charge_g : float
        The charge, above zero up to 10,000 [g].
    leak_g_per_year : float
        The leak, 0.01 to 1,000,000 [g/yr].

    Returns
    -------
    float
        Time [years].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    The same whatever the report, since it is the same refrigerant.

    Examples
    --------
    An average new car's 15.1 g a year (reported) against its 600 g: some 40 years.

    >>> round(years_of_leak(600.0, 15.1))
    40
    """
    charge = check_range("charge", charge_g, 0.1, 1e4, "g", "read the label")
    leak = check_range("leak", leak_g_per_year, 0.01, 1e6, "g/yr", "a tight car loses 5 to 20")
    return charge / leak
