"""Holding nitrogen: pressure corrected for temperature, and the leak that a test of its length and gauge can show."""

from dataclasses import dataclass

from course.errors import OutOfRange, UnknownChoice, check_range
from course.physics.refrigerant import molar_mass
from course.tables import read_service_numbers
from course.units import (
    GAS_CONSTANT,
    PA_PER_KPA,
    absolute_from_gauge_pa,
    celsius_to_kelvin,
    g_per_year_from_kg_per_second,
    gauge_from_absolute_pa,
)

MOST_KPA_GAUGE = 3000.0  # kPa; the workbook's own limit, far above any low side


@dataclass(frozen=True)
class HoldVerdict:
    """A nitrogen hold, corrected for temperature."""

    verdict: str  # leaking, no leak seen, or too little information
    reason: str  # a sentence
    expected_kpa_gauge: float  # kPa gauge at the second temperature, had nothing leaked
    drop_kpa: float  # kPa lost beyond what temperature explains; below zero it rose
    drop_error_kpa: float  # kPa, one standard deviation of that
    smallest_leak_g_per_year: float  # g/yr, twice the error by equal throughput; smaller leaks pass unseen


def check_gas(gas):
    """Return the name when the gas may go into a circuit for a pressure test, else refuse it with the reason.

    Parameters
    ----------
    gas : str
        "nitrogen", or a certified "nitrogen and 5 % hydrogen" for a tracer detector.

    Returns
    -------
    str
        The name.

    Raises
    ------
    UnknownChoice
        For everything else, with what it would do.

    Notes
    -----
    Read: factory manuals on mixtures of air and R-134a that burn under pressure; nitrogen and trade pages on test gases.
    Some makers allow no gas but the car's own refrigerant: the manual goes first.

    Examples
    --------
    >>> check_gas("nitrogen")
    'nitrogen'
    """
    if gas in ("nitrogen", "nitrogen and 5 % hydrogen"):
        return gas
    why = {
        "oxygen": "with oil under pressure it explodes",
        "shop air": "it brings water, and air with refrigerant can burn under pressure",
        "acetylene": "it burns and explodes under pressure",
        "refrigerant": "mixed into nitrogen and let out it is vented; recover it instead",
    }.get(gas, "it is not among the gases a pressure test is made with")
    raise UnknownChoice(f"test gas: {gas!r} must not be used: {why}; use dry nitrogen through a regulator.")


def expected_kpa_gauge(kpa_gauge, from_c, to_c, altitude_m=0.0):
    """What a tight circuit full of nitrogen reads after the temperature has changed.

    Parameters
    ----------
    kpa_gauge : float
        First reading, 0 to 3,000 [kPa gauge].
    from_c, to_c : float
        Temperatures of the circuit at both readings, -20 to 60 [°C].
    altitude_m : float
        Altitude, 0 to 3,000 [m].

    Returns
    -------
    float
        Second reading [kPa gauge].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    Ideal gas at constant volume, absolute pressures: p2 = p1 T2 / T1. Weather that moves the air pressure between the
    readings (up to some 3 kPa) is not modelled.

    Examples
    --------
    150 psi at 25 °C reads 147.2 psi at 20 °C:

    >>> from course.units import PA_PER_PSI
    >>> psi = PA_PER_PSI / 1e3
    >>> round(expected_kpa_gauge(150 * psi, 25.0, 20.0) / psi, 1)
    147.2
    """
    gauge = check_range(
        "test pressure", kpa_gauge, 0.0, MOST_KPA_GAUGE, "kPa gauge", "never above the low side's rating"
    )
    first, second = (
        celsius_to_kelvin(check_range("circuit temperature", one, -20.0, 60.0, "°C", "measure it on the metal"))
        for one in (from_c, to_c)
    )
    absolute = absolute_from_gauge_pa(gauge * PA_PER_KPA, altitude_m)
    return gauge_from_absolute_pa(absolute * second / first, altitude_m) / PA_PER_KPA


def smallest_leak_g_per_year(kpa_error, minutes, volume_m3=0.003, refrigerant="R134a", temperature_c=20.0):
    """The leak of refrigerant that would lose just as much throughput as the gauge can show in the time.

    Parameters
    ----------
    kpa_error : float
        Smallest drop that counts, above zero up to 1,000 [kPa].
    minutes : float
        Length of the hold, 1 to 20,000 [min].
    volume_m3 : float
        Volume of the circuit, 0.0001 to 0.1 [m3].
    refrigerant : str
        "R134a" or "R1234yf".
    temperature_c : float
        Temperature, -20 to 60 [°C].

    Returns
    -------
    float
        Leak [g/yr].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or a value is outside its range.

    Notes
    -----
    Throughput V dp / t as a mass of refrigerant, ideal gas: equal throughput, as leak limits are compared. The same hole
    passes another amount of nitrogen at test pressure than of refrigerant in service; course.service.leak_flow has that.

    Examples
    --------
    3 L, 10 mbar (1 kPa), 30 min: about 2,200 g/yr; overnight (12 h) about 90:

    >>> [round(smallest_leak_g_per_year(1.0, minutes), -1) for minutes in (30.0, 720.0)]
    [2200.0, 90.0]
    """
    error = check_range("drop that counts", kpa_error, 1e-6, 1e3, "kPa", "a gauge without an error decides nothing")
    time = 60.0 * check_range("time", minutes, 1.0, 20000.0, "min", "hold from a quarter of an hour to two weeks")
    volume = check_range("volume", volume_m3, 1e-4, 0.1, "m3", "a car's circuit has 0.002 to 0.006")
    celsius = check_range("circuit temperature", temperature_c, -20.0, 60.0, "°C", "measure it on the metal")
    throughput = volume * error * PA_PER_KPA / time
    flow = throughput * molar_mass(refrigerant) / (GAS_CONSTANT * celsius_to_kelvin(celsius))
    return g_per_year_from_kg_per_second(flow)


def judge_hold(
    first_kpa_gauge,
    first_c,
    second_kpa_gauge,
    second_c,
    minutes,
    *,
    gauge_error_kpa=None,
    thermometer_error_k=None,
    volume_m3=0.003,
    altitude_m=0.0,
    refrigerant="R134a",
):
    """Say what a nitrogen hold shows once temperature is taken out of it.

    Parameters
    ----------
    first_kpa_gauge, second_kpa_gauge : float
        Readings, 0 to 3,000 [kPa gauge].
    first_c, second_c : float
        Temperatures of the circuit, -20 to 60 [°C].
    minutes : float
        Time between them, 1 to 20,000 [min].
    gauge_error_kpa : float or None
        One standard deviation of a reading; None: a digital gauge's [kPa].
    thermometer_error_k : float or None
        One standard deviation of a temperature; None: a probe's [K].
    volume_m3 : float
        Volume of the circuit [m3].
    altitude_m : float
        Altitude, 0 to 3,000 [m].
    refrigerant : str
        For the leak in grams a year: "R134a" or "R1234yf".

    Returns
    -------
    HoldVerdict
        Verdict, reason and what could not have been seen.

    Raises
    ------
    UnknownChoice, OutOfRange
        When a value is outside its range.

    Notes
    -----
    Drop = expected less read. Its error: both readings and both temperatures, independent; 1 K moves 11 bar absolute by
    37 mbar. Twice the error counts as a leak. A drop says nothing of where.

    Examples
    --------
    It fell by 38 kPa over night, and so did the temperature by ten degrees: no leak.

    >>> judge_hold(1000.0, 25.0, 962.0, 15.0, 720.0).verdict
    'no leak seen'
    """
    numbers = read_service_numbers("pressure_test")
    gauge = numbers.value("gauge", "digital_kpa") if gauge_error_kpa is None else gauge_error_kpa
    probe = numbers.value("gauge", "thermometer_k") if thermometer_error_k is None else thermometer_error_k
    gauge = check_range("gauge error", gauge, 1e-3, 500.0, "kPa", "a gauge without an error decides nothing")
    probe = check_range("thermometer error", probe, 0.0, 20.0, "K", "check it in ice water")
    expected = expected_kpa_gauge(first_kpa_gauge, first_c, second_c, altitude_m)
    second = check_range("test pressure", second_kpa_gauge, 0.0, MOST_KPA_GAUGE, "kPa gauge", "read the gauge again")
    absolute = absolute_from_gauge_pa(expected * PA_PER_KPA, altitude_m) / PA_PER_KPA
    by_heat = absolute / celsius_to_kelvin(second_c) * probe
    error = (2.0 * (gauge**2 + by_heat**2)) ** 0.5
    drop = expected - second
    smallest = smallest_leak_g_per_year(2.0 * error, minutes, volume_m3, refrigerant, second_c)
    verdict, reason = _say(drop, error, minutes, smallest, numbers.value("limits", "shortest_min"))
    return HoldVerdict(verdict, reason, expected, drop, error, smallest)


def _say(drop, error, minutes, smallest, shortest):
    if drop > 2.0 * error:
        return (
            "leaking",
            f"{drop:.1f} kPa are gone beyond what temperature explains ({error:.1f} kPa either way): find it.",
        )
    if minutes < shortest:
        return (
            "too little information",
            f"{minutes:g} min is too short: hold {shortest:g} min or more, better overnight.",
        )
    if drop < -2.0 * error:
        return "too little information", "it rose more than temperature explains: measure the temperatures again."
    return "no leak seen", f"tight as far as this hold shows: a leak below {smallest:,.0f} g a year would pass unseen."


def check_test_pressure(kpa_gauge, low_side_rating_kpa_gauge):
    """Return a test pressure when the weakest part of the circuit stands it, else refuse it.

    Parameters
    ----------
    kpa_gauge : float
        Test pressure wanted [kPa gauge].
    low_side_rating_kpa_gauge : float
        What the low side is rated for, from the car's papers, 200 to 3,000 [kPa gauge].

    Returns
    -------
    float
        The pressure [kPa gauge].

    Raises
    ------
    OutOfRange
        When it is above the rating, or not a pressure.

    Notes
    -----
    At rest nitrogen fills both sides alike, so the low side's rating is the limit. Common practice: 1,000 to 1,400 kPa.

    Examples
    --------
    >>> check_test_pressure(1000.0, 1400.0)
    1000.0
    """
    rating = check_range(
        "rating of the low side", low_side_rating_kpa_gauge, 200.0, MOST_KPA_GAUGE, "kPa gauge", "see the car's papers"
    )
    numbers = read_service_numbers("pressure_test")
    low, high = (numbers.value("limits", f"usual_{end}_kpa_gauge") for end in ("low", "high"))
    usual = f"{low:g} to {high:g} is common practice"
    pressure = check_range("test pressure", kpa_gauge, 1.0, MOST_KPA_GAUGE, "kPa gauge", usual)
    if pressure > rating:
        raise OutOfRange(
            f"test pressure: {pressure:g} kPa gauge is above the {rating:g} the low side is rated for: "
            "it may burst; stay below, with a regulator and a relief valve set there."
        )
    return pressure
