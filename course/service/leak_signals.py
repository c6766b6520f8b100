"""What a method has to see: the tip's share of the gas, bubbles, and how far a leak moves a watched gauge."""

import math

from course.errors import check_choice, check_range
from course.physics.refrigerant import vapour
from course.service.leak_flow import gas_flow_m3_s, side_pressures
from course.tables import read_leak_methods
from course.units import PA_PER_KPA, STANDARD_ATMOSPHERE_PA, celsius_to_kelvin, kg_per_second_from_g_per_year

LARGEST_LEAK_G_PER_YEAR = 1e6  # g/yr: empties a car within hours; the workbook's own limit


def method_terms(method):
    """The numbers behind a method's chances; source and unit of each stand in data/service/leak_methods.toml.

    Parameters
    ----------
    method : str
        A method id of that file.

    Returns
    -------
    dict of str to float
        By key; the unit is the end of the key.

    Raises
    ------
    UnknownChoice
        When there is no such method.

    Notes
    -----
    tables.read_leak_methods gives the same numbers with the source of each.

    Examples
    --------
    >>> method_terms("bubbles")["standard_g_per_year"]
    1276.0
    """
    methods = read_leak_methods().method
    terms = methods[check_choice("method", method, methods)].terms
    return {key: quantity.value for key, quantity in terms.items()}


def by_care(care, hurried, careful):
    """A quantity between its hurried and its careful value, in equal ratios.

    Parameters
    ----------
    care : float
        0 hurried to 1 by the book [-].
    hurried : float
        Value at care 0 [any unit].
    careful : float
        Value at care 1 [same unit].

    Returns
    -------
    float
        Value [same unit].

    Raises
    ------
    OutOfRange
        When care is outside 0 to 1.

    Notes
    -----
    Assumed.

    Examples
    --------
    >>> by_care(0.5, 100.0, 25.0)
    50.0
    """
    care = check_range("care", care, 0.0, 1.0, "of doing it by the book", "0 is hurried, 1 is by the book")
    return hurried * (careful / hurried) ** care


def tip_distance_and_speed(care):
    """How close and how slowly the tip of a detector goes, for a given care.

    Parameters
    ----------
    care : float
        0 hurried to 1 by the book [-].

    Returns
    -------
    tuple of float
        Distance [mm] and speed [mm/s].

    Raises
    ------
    OutOfRange
        When care is outside 0 to 1.

    Notes
    -----
    1 is SAE J1628 as reprinted: 5 mm and 25 mm/s (second-hand); 0 is 30 mm and 200 mm/s (assumed); equal ratios
    between.

    Examples
    --------
    >>> [round(value, 1) for value in tip_distance_and_speed(1.0)]
    [5.0, 25.0]
    """
    terms = method_terms("electronic")
    return (
        by_care(care, terms["hurried_mm"], terms["careful_mm"]),
        by_care(care, terms["hurried_mm_s"], terms["careful_mm_s"]),
    )


def tip_factor(distance_mm, speed_mm_s):
    """What reaches the sensor at a distance and speed, against the sweep a detector is certified with.

    Parameters
    ----------
    distance_mm : float
        Tip from the hole, 0 to 500 [mm].
    speed_mm_s : float
        Speed of the tip, 1 to 2,000 [mm/s].

    Returns
    -------
    float
        Signal over that of the certified sweep [-].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    The gas thins with the square of the distance beyond 8 mm; above 50 mm/s the sensor has no time to answer in full
    (both assumed). The certified sweep, 9.5 mm and 75 mm/s, is from memory (SAE J2791).

    Examples
    --------
    >>> tip_factor(9.5, 75.0), tip_factor(5.0, 25.0) > 1.0 > tip_factor(30.0, 200.0)
    (1.0, True)
    """
    distance = check_range("tip distance", distance_mm, 0.0, 500.0, "mm", "go closer")
    speed = check_range("tip speed", speed_mm_s, 1.0, 2000.0, "mm/s", "go slower")
    terms = method_terms("electronic")
    near = (1.0 + (terms["certified_mm"] / terms["plume_mm"]) ** 2) / (1.0 + (distance / terms["plume_mm"]) ** 2)

    def dwell(at):
        return 1.0 - math.exp(-terms["sensor_mm_s"] / at)

    return near * dwell(speed) / dwell(terms["certified_mm_s"])


def bubble_seconds(leak_g_per_year, refrigerant, flow_factor=1.0):
    """Seconds between two bubbles of 3 mm at a wetted leak.

    Parameters
    ----------
    leak_g_per_year : float
        Leak at rest at 25 °C, 0 to 1,000,000 [g/yr].
    refrigerant : str
        "R134a" or "R1234yf".
    flow_factor : float
        Volume of gas that comes out now, over that at rest at 25 °C [-].

    Returns
    -------
    float
        Time between bubbles; infinite where nothing comes out [s].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or the leak outside its range.

    Notes
    -----
    A sphere of 3 mm filled at the pressure of the air at 20 °C; surface tension is left out.

    Examples
    --------
    100, 40 and 14 g/yr of R-134a. Worked by hand with an ideal gas: 19, 47 and 135 s, 2 % less dense:

    >>> [round(bubble_seconds(leak, "R134a")) for leak in (100.0, 40.0, 14.0)]
    [19, 48, 138]
    """
    leak = check_range("leak", leak_g_per_year, 0.0, LARGEST_LEAK_G_PER_YEAR, "g/yr", "a faster leak is heard")
    air = vapour(refrigerant, STANDARD_ATMOSPHERE_PA, celsius_to_kelvin(20.0))
    flow = kg_per_second_from_g_per_year(leak) / air.density * flow_factor
    volume = math.pi / 6.0 * (method_terms("bubbles")["bubble_mm"] / 1000.0) ** 3
    return volume / flow if flow > 0.0 else math.inf


def nitrogen_flow_factor(refrigerant, fill_kpa_gauge):
    """How much more nitrogen than refrigerant the same hole lets out, by volume.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    fill_kpa_gauge : float
        Nitrogen in the circuit, 0 to 2,000 [kPa gauge].

    Returns
    -------
    float
        Volume at the pressure of the air, over that of the refrigerant at rest at 25 °C [-].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or the pressure outside its range.

    Notes
    -----
    See leak_flow.gas_flow_m3_s.

    Examples
    --------
    Nitrogen is half as thick again as R-134a: at the pressure the refrigerant stood at, less of it comes out:

    >>> round(nitrogen_flow_factor("R134a", 564.0), 2), round(nitrogen_flow_factor("R134a", 1000.0), 2)
    (0.66, 1.84)
    """
    filled = check_range(
        "nitrogen", fill_kpa_gauge, 0.0, 2000.0, "kPa gauge", "never above what the circuit stands on a hot day"
    )
    air = vapour(refrigerant, STANDARD_ATMOSPHERE_PA, celsius_to_kelvin(20.0))
    one = 1e-9 / air.density
    return gas_flow_m3_s(1e-9, refrigerant, "nitrogen", filled * PA_PER_KPA + STANDARD_ATMOSPHERE_PA) / one


def _circuit_volume():
    return read_leak_methods().circuit["volume_cm3"].value * 1e-6


def gauge_change_pa(method, leak_g_per_year, refrigerant, minutes):
    """How far a leak moves the gauge in a pressure or vacuum test, at one and the same temperature.

    Parameters
    ----------
    method : str
        "pressure_drop" or "vacuum_rise".
    leak_g_per_year : float
        Leak of refrigerant at rest at 25 °C [g/yr].
    refrigerant : str
        "R134a" or "R1234yf".
    minutes : float
        Time the gauge is watched [min].

    Returns
    -------
    float
        Change, without sign; no more than down to, or up to, the pressure of the air [Pa].

    Raises
    ------
    UnknownChoice
        When a name is not known.

    Notes
    -----
    Steady flow into or out of a 3 L circuit (assumed), see leak_flow.gas_flow_m3_s; the test begins at 10 bar gauge of
    nitrogen (assumed) or at nothing.

    Examples
    --------
    100 g/yr in half an hour of nitrogen: about a millibar, against 37 for one kelvin:

    >>> round(gauge_change_pa("pressure_drop", 100.0, "R134a", 30.0) / 100.0, 1)
    0.8
    """
    check_choice("method", method, ("pressure_drop", "vacuum_rise"))
    outside = STANDARD_ATMOSPHERE_PA
    gas, start = ("nitrogen", side_pressures(refrigerant, "nitrogen", 20.0).low), ("air", 0.0)
    gas, inside = gas if method == "pressure_drop" else start
    flow = gas_flow_m3_s(kg_per_second_from_g_per_year(leak_g_per_year), refrigerant, gas, inside)
    return min(flow * outside / _circuit_volume() * minutes * 60.0, abs(inside - outside))


def corrected_pressure_drop_pa(first_pa, first_c, second_pa, second_c):
    """What is left of a drop of nitrogen once the temperature is taken out of it.

    Parameters
    ----------
    first_pa, second_pa : float
        First and second reading [Pa absolute].
    first_c, second_c : float
        Temperatures of the circuit at those readings, -40 to 120 [°C].

    Returns
    -------
    float
        Drop as it would be at the first temperature; below zero for a rise [Pa].

    Raises
    ------
    OutOfRange
        When a pressure is not above zero or a temperature outside its range.

    Notes
    -----
    Ideal gas in a closed volume: p2 at the first temperature is p2 T1/T2 (textbook). Absolute pressures only: gauge
    readings corrected this way are wrong.

    Examples
    --------
    11 bar absolute, one kelvin cooler: the gauge is down 37 mbar and nothing has leaked:

    >>> second = 11.0e5 * 297.15 / 298.15
    >>> round((11.0e5 - second) / 100.0), abs(corrected_pressure_drop_pa(11.0e5, 25.0, second, 24.0)) < 1e-6
    (37, True)
    """
    first, second = (
        check_range("pressure", value, 1.0, 1e7, "Pa absolute", "add the pressure of the air to what the gauge shows")
        for value in (first_pa, second_pa)
    )
    warm, later = (
        celsius_to_kelvin(check_range("temperature", value, -40.0, 120.0, "°C", "read it on the pipe"))
        for value in (first_c, second_c)
    )
    return first - second * warm / later
