"""What gets through a hole: the pressure behind it in each state of the car, and the flow it lets out."""

import math
from dataclasses import dataclass

import scipy

from course.errors import check_choice, check_range
from course.physics.refrigerant import (
    molar_mass,
    saturation_at_temperature,
    vapour,
    vapour_pressure_at_density,
    vapour_viscosity,
)
from course.tables import read_leak_methods
from course.units import (
    GAS_CONSTANT,
    PA_PER_KPA,
    STANDARD_ATMOSPHERE_PA,
    celsius_to_kelvin,
    kg_per_second_from_g_per_year,
)

STATES = ("at_rest", "running", "just_stopped", "nitrogen", "vacuum")
REFERENCE_C = 25.0  # °C at which a leak is named: at rest, liquid in the circuit; the workbook's own choice
COLDEST_C, HOTTEST_C = -10.0, 55.0  # °C: the workbook's own limits for a leak hunt
NO_PRESSURE_KG_M3 = 1.0  # kg/m3: vapour this thin stands far below the pressure of the air, 4-5 kg/m3; computed
DISCHARGE_COEFFICIENT = 0.8  # - of a rough hole; assumed (textbook range 0.6-0.9)
HOSE_KG_M2_YEAR_AT_80_C = 1.5  # kg/(m2 yr) in the 80 °C test of a barrier hose, order 1-4; from memory
HOSE_ACTIVATION_ENERGY = 40e3  # J/mol; assumed
GASES = {  # viscosity at 20 °C and 1 atm [Pa s], molar mass [kg/mol]: Lemmon and Jacobsen 2004 by CoolProp 8, computed
    "nitrogen": (17.57e-6, 0.028013),
    "air": (18.21e-6, 0.028965),
}


@dataclass(frozen=True)
class SidePressures:
    """Absolute pressure on both sides of a circuit."""

    low: float  # Pa absolute
    high: float  # Pa absolute


def _circuit():
    return {key: quantity.value for key, quantity in read_leak_methods().circuit.items()}


def standing_pressure(refrigerant, temperature_c, charge_left_fraction=1.0):
    """The pressure of a typical circuit at rest, with what is left in it.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    temperature_c : float
        Temperature of the circuit, -10 to 55 [°C].
    charge_left_fraction : float
        Share of the label charge that is left, 0 to 1.4 [-].

    Returns
    -------
    float
        Absolute pressure [Pa].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or a value outside its range.

    Notes
    -----
    Saturation while liquid is left, else vapour in the whole volume. The circuit is 3 L for 600 g (assumed); for one
    of the workbook's cars at_rest.rest_pressure knows better. An empty circuit stands at the pressure of the air.

    Examples
    --------
    In 3 L at 25 °C a sixth of 600 g still stands at saturation, 5.64 bar gauge; a twentieth does not:

    >>> [round(standing_pressure("R134a", 25.0, left) / 1e5 - 1.013, 2) for left in (1.0, 0.17, 0.05)]
    [5.64, 5.64, 1.3]
    """
    warm = check_range("temperature", temperature_c, COLDEST_C, HOTTEST_C, "°C", "warm or shade the car")
    left = check_range(
        "charge left", charge_left_fraction, 0.0, 1.4, "of the label charge", "give it as a share of one"
    )
    temperature = celsius_to_kelvin(warm)
    saturated = saturation_at_temperature(refrigerant, temperature)
    circuit = _circuit()
    density = left * circuit["full_g"] / circuit["volume_cm3"] * 1000.0
    if density >= saturated.vapour_density:
        return saturated.pressure
    if density < NO_PRESSURE_KG_M3:
        return STANDARD_ATMOSPHERE_PA
    return max(vapour_pressure_at_density(refrigerant, density, temperature), STANDARD_ATMOSPHERE_PA)


def side_pressures(refrigerant, state, temperature_c, charge_left_fraction=1.0):
    """The pressures behind a leak on either side, as the car stands or runs.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    state : str
        One of STATES.
    temperature_c : float
        Temperature of the circuit at rest, and of the weather when running [°C].
    charge_left_fraction : float
        Share of the label charge that is left [-].

    Returns
    -------
    SidePressures
        Low and high side [Pa absolute].

    Raises
    ------
    UnknownChoice, OutOfRange
        When a name is unknown or a value outside its range.

    Notes
    -----
    Running: the low side evaporates at 3 °C and the high side condenses 30 K above the weather, less below half a
    charge (assumed; one factory table, 23-32 K). Just stopped: half way to meeting (assumed). A panel that has a run
    of the bench should use its pressures with flow_ratio instead.

    Examples
    --------
    >>> running = side_pressures("R134a", "running", 25.0)
    >>> running.low < standing_pressure("R134a", 25.0) < running.high
    True
    """
    check_choice("state", state, STATES)
    rest = standing_pressure(refrigerant, temperature_c, charge_left_fraction)
    terms = read_leak_methods().method
    if state == "nitrogen":
        filled = terms["pressure_drop"].terms["hold_kpa_gauge"].value * PA_PER_KPA + STANDARD_ATMOSPHERE_PA
        return SidePressures(filled, filled)
    if state == "vacuum":
        return SidePressures(0.0, 0.0)
    if state == "at_rest":
        return SidePressures(rest, rest)
    circuit = _circuit()
    cold = saturation_at_temperature(refrigerant, celsius_to_kelvin(circuit["evaporating_c"])).pressure
    rise = circuit["condensing_rise_k"] * min(charge_left_fraction / circuit["weak_charge_share"], 1.0)
    hot = saturation_at_temperature(refrigerant, celsius_to_kelvin(temperature_c) + rise).pressure
    low, high = min(cold, rest), max(min(hot, rest * hot / cold), rest)
    share = circuit["just_stopped_share"] if state == "just_stopped" else 0.0
    return SidePressures(low + share * (rest - low), high + share * (rest - high))


def flow_ratio(pressure, reference_pressure, outside=STANDARD_ATMOSPHERE_PA):
    """How much more a leak of vapour lets out at one pressure than at another.

    Parameters
    ----------
    pressure : float
        Pressure behind the leak [Pa absolute].
    reference_pressure : float
        Pressure at which the leak is known, above that outside [Pa absolute].
    outside : float
        Pressure outside [Pa absolute].

    Returns
    -------
    float
        Ratio of mass flows; 0 where nothing drives it outward [-].

    Raises
    ------
    OutOfRange
        When the reference pressure drives nothing.

    Notes
    -----
    Laminar gas in a narrow path: proportional to p1² - p0² (compressible Hagen-Poiseuille, textbook). Real gas, viscosity
    and temperature are left out: with them (density over viscosity integrated along the path) R-134a has 4.5 instead of
    5.1 on the running high side and 0.25 instead of 0.22 on the low. A wide hole chokes and follows p1 alone, see
    hole_flow.

    Examples
    --------
    R-134a, against standing at 25 °C (6.66 bar): the low side running near 3.25 bar, the high side near 14.9 bar, and
    standing at 10 °C (4.15 bar):

    >>> [round(flow_ratio(p * 1e5, 6.658e5), 2) for p in (3.25, 14.9, 4.146)]
    [0.22, 5.1, 0.37]
    """
    reference = check_range(
        "reference pressure", reference_pressure, outside * 1.001, 1e8, "Pa absolute", "a leak is named under pressure"
    )
    return max(pressure * pressure - outside * outside, 0.0) / (reference * reference - outside * outside)


def side_pressure(pressures, side):
    """The pressure behind a place on a given side.

    Parameters
    ----------
    pressures : SidePressures
        Both sides [Pa absolute].
    side : str
        "low", "high" or "either".

    Returns
    -------
    float
        Pressure [Pa absolute]; the lower one for "either", since nobody can count on more.

    Raises
    ------
    UnknownChoice
        When the side is not one of them.

    Notes
    -----
    None.

    Examples
    --------
    >>> side_pressure(SidePressures(3e5, 15e5), "either")
    300000.0
    """
    check_choice("side", side, ("low", "high", "either"))
    return {"low": pressures.low, "high": pressures.high, "either": min(pressures.low, pressures.high)}[side]


def reference_pressure(refrigerant):
    """The pressure at which leaks are named here: standing at 25 °C.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".

    Returns
    -------
    float
        Pressure [Pa absolute].

    Raises
    ------
    UnknownChoice
        When the refrigerant is unknown.

    Notes
    -----
    The workbook's own reference. A year's loss of a car is an average over its weather and its running.

    Examples
    --------
    >>> round(reference_pressure("R134a") / 1e5, 2)
    6.65
    """
    return saturation_at_temperature(refrigerant, celsius_to_kelvin(REFERENCE_C)).pressure


def leak_by_state(refrigerant, leak_g_per_year, temperature_c, charge_left_fraction=1.0):
    """What one and the same hole lets out on either side, standing and running.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    leak_g_per_year : float
        The leak as it is named: at rest at 25 °C, 0 to 1,000,000 [g/yr].
    temperature_c : float
        Temperature of the circuit, and of the weather when running [°C].
    charge_left_fraction : float
        Share of the label charge that is left [-].

    Returns
    -------
    dict of tuple to float
        By state ("at_rest", "just_stopped", "running") and side ("low", "high") [g/yr].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or a value outside its range.

    Notes
    -----
    See side_pressures and flow_ratio: the low side leaks most while the car stands warm, the high side while it runs.

    Examples
    --------
    >>> leak = leak_by_state("R134a", 100.0, 25.0)
    >>> leak["running", "low"] < leak["at_rest", "low"] == leak["at_rest", "high"] < leak["running", "high"]
    True
    """
    named = check_range("leak", leak_g_per_year, 0.0, 1e6, "g/yr", "a faster leak is heard")
    reference, found = reference_pressure(refrigerant), {}
    for state in ("at_rest", "just_stopped", "running"):
        both = side_pressures(refrigerant, state, temperature_c, charge_left_fraction)
        for side in ("low", "high"):
            found[state, side] = named * flow_ratio(side_pressure(both, side), reference)
    return found


def gas_flow_m3_s(leak, refrigerant, gas, pressure):
    """Volume of another gas, at the pressure of the air, that the hole of a known leak lets through.

    Parameters
    ----------
    leak : float
        The leak of refrigerant at rest at 25 °C [kg/s].
    refrigerant : str
        "R134a" or "R1234yf".
    gas : str
        "nitrogen" or "air".
    pressure : float
        Pressure of that gas in the circuit; 0 for a vacuum, where air comes in [Pa absolute].

    Returns
    -------
    float
        Flow, outward or inward, measured at 1 atm and 20 °C [m3/s].

    Raises
    ------
    UnknownChoice
        When a name is not known.

    Notes
    -----
    The hole is laminar: p·V flow goes with (p1² - p0²)/viscosity (textbook). Refrigerant at rest at 25 °C and air into
    a vacuum are 66 to 1 in p·V for R-134a.

    Examples
    --------
    1,000 g/yr of R-134a, seen from a vacuum, lifts a 3 L circuit by 17 micron in 10 minutes:

    >>> from course.units import PA_PER_MICRON, kg_per_second_from_g_per_year
    >>> air = gas_flow_m3_s(kg_per_second_from_g_per_year(1000.0), "R134a", "air", 0.0)
    >>> round(air * 101325.0 / 0.003 * 600.0 / PA_PER_MICRON)
    17
    """
    check_choice("gas", gas, GASES)
    outside = STANDARD_ATMOSPHERE_PA
    temperature = celsius_to_kelvin(20.0)
    volume = leak / vapour(refrigerant, outside, temperature).density
    driven = abs(pressure * pressure - outside * outside) / (reference_pressure(refrigerant) ** 2 - outside * outside)
    return volume * driven * vapour_viscosity(refrigerant, outside, temperature) / GASES[gas][0]


def hole_flow(refrigerant, diameter_mm, length_mm, pressure, temperature_c):
    """What a round hole lets out of a circuit, as vapour: narrow and long it creeps, short and wide it chokes.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    diameter_mm : float
        Diameter, 0.0005 to 3 [mm].
    length_mm : float
        Length of the path, 0.05 to 50 [mm].
    pressure : float
        Pressure behind it, 1.013 to 35 bar [Pa absolute].
    temperature_c : float
        Temperature of the vapour, -10 to 90 [°C].

    Returns
    -------
    tuple of float and str
        Flow [kg/s] and the law that limits it, "laminar" or "choked".

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or a value outside its range.

    Notes
    -----
    The smaller of two textbook laws: laminar, pi d^4 M (p1² - p0²) / (256 mu L R T); choked,
    Cd A p1 sqrt(k M / (R T)) (2/(k+1))^((k+1)/(2(k-1))) with Cd 0.8 (assumed) and k from the vapour at 1 atm, faded to
    nothing as p1 meets p0. Ideal gas: 12 % too little at rest at 25 °C, 20 % at 15 bar. Free-molecular flow below about a
    micrometre, and liquid, of which a hole below the liquid's level lets out far more, are not modelled.

    Examples
    --------
    A hole of 6 micrometres through 5 mm, worked by hand: 4.79e-9 kg/s, 151 g a year:

    >>> from course.units import g_per_year_from_kg_per_second
    >>> flow, law = hole_flow("R134a", 0.006, 5.0, 6.65e5, 25.0)
    >>> round(g_per_year_from_kg_per_second(flow), -1), law
    (150.0, 'laminar')
    """
    diameter = check_range("hole", diameter_mm, 0.0005, 3.0, "mm", "outside this the laws do not hold") / 1000.0
    length = check_range("length of the hole", length_mm, 0.05, 50.0, "mm", "a wall or a seal is that thick") / 1000.0
    inside = check_range("pressure", pressure, STANDARD_ATMOSPHERE_PA, 3.5e6, "Pa absolute", "a leak needs pressure")
    temperature = celsius_to_kelvin(check_range("temperature", temperature_c, -10.0, 90.0, "°C", "choose one there"))
    outside, mass = STANDARD_ATMOSPHERE_PA, molar_mass(refrigerant)
    gas = GAS_CONSTANT * temperature / mass
    viscosity = vapour_viscosity(refrigerant, outside, temperature)
    laminar = math.pi * diameter**4 * (inside**2 - outside**2) / (256.0 * viscosity * length * gas)
    heat = vapour(refrigerant, outside, temperature).heat_capacity
    k = heat / (heat - GAS_CONSTANT / mass)
    area = math.pi * diameter**2 / 4.0
    sonic = math.sqrt(k / gas) * (2.0 / (k + 1.0)) ** ((k + 1.0) / (2.0 * (k - 1.0)))
    choked = DISCHARGE_COEFFICIENT * area * inside * sonic * math.sqrt(1.0 - (outside / inside) ** 2)
    return (laminar, "laminar") if laminar <= choked else (choked, "choked")


def hole_for_leak(refrigerant, leak_g_per_year, length_mm):
    """How wide a round hole is that leaks so much, standing at 25 °C.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    leak_g_per_year : float
        Leak, 1 to 1,000,000 [g/yr].
    length_mm : float
        Length of the path, 0.05 to 50 [mm].

    Returns
    -------
    float
        Diameter [mm].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or a value outside its range.

    Notes
    -----
    hole_flow, solved for the diameter. A real leak is a scratch or a crack; this is the round hole of the same flow.

    Examples
    --------
    What the type limit of 40 g/yr comes to, through 5 mm of seal: less than a tenth of a hair:

    >>> round(hole_for_leak("R134a", 40.0, 5.0) * 1000.0, 1)
    4.3
    """
    leak = check_range(
        "leak", leak_g_per_year, 1.0, 1e6, "g/yr", "smaller ones seep through walls, larger ones are heard"
    )
    wanted, behind = kg_per_second_from_g_per_year(leak), reference_pressure(refrigerant)

    def too_wide(logarithm):
        return hole_flow(refrigerant, math.exp(logarithm), length_mm, behind, REFERENCE_C)[0] / wanted - 1.0

    return math.exp(scipy.optimize.brentq(too_wide, math.log(0.0005), math.log(2.999), xtol=1e-10))


def hose_loss_g_per_year(refrigerant, length_m, inside_mm, temperature_c):
    """What goes through the wall of a sound hose, which no detector finds as a leak.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    length_m : float
        Length of hose, 0 to 20 [m].
    inside_mm : float
        Inside diameter, 4 to 30 [mm].
    temperature_c : float
        Temperature of hose and refrigerant, -10 to 90 [°C].

    Returns
    -------
    float
        Loss [g/yr].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or a value outside its range.

    Notes
    -----
    Arrhenius in the wall, proportional to the saturation pressure: 1.5 kg/(m2 yr) at 80 °C (order 1-4, from memory),
    40 kJ/mol (assumed), the same for both refrigerants (assumed).

    Examples
    --------
    Three metres of barrier hose at 25 °C: a few grams a year, as is said from memory:

    >>> 1.0 < hose_loss_g_per_year("R134a", 3.0, 13.0, 25.0) < 9.0
    True
    """
    length = check_range("hose length", length_m, 0.0, 20.0, "m", "measure the rubber, not the pipe")
    inside = check_range("hose diameter", inside_mm, 4.0, 30.0, "mm", "give the inside diameter") / 1000.0
    temperature = celsius_to_kelvin(check_range("temperature", temperature_c, -10.0, 90.0, "°C", "choose one there"))
    test = celsius_to_kelvin(80.0)
    arrhenius = math.exp(HOSE_ACTIVATION_ENERGY / GAS_CONSTANT * (1.0 / test - 1.0 / temperature))
    driving = (
        saturation_at_temperature(refrigerant, temperature).pressure
        / saturation_at_temperature(refrigerant, test).pressure
    )
    return HOSE_KG_M2_YEAR_AT_80_C * 1000.0 * math.pi * inside * length * arrhenius * driving
