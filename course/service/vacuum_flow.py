"""Pump, hoses and service ports: how much of a vacuum pump's speed arrives at the car."""

import math
from dataclasses import dataclass

import scipy

from course.errors import OutOfRange, check_range
from course.service.water import check_vacuum_pa
from course.tables import read_service_numbers
from course.units import GAS_CONSTANT, M3_PER_L, PA_PER_MICRON, celsius_to_kelvin


@dataclass(frozen=True)
class Pump:
    """A vacuum pump."""

    speed_m3_s: float  # m3/s, at its inlet and well above its ultimate pressure
    ultimate_pa: float  # Pa absolute, the lowest it reaches on its own


@dataclass(frozen=True)
class Tube:
    """A hose, or the narrow part of a service port."""

    diameter_m: float  # m, bore
    length_m: float  # m


def load_pump(name):
    """A pump of the data file.

    Parameters
    ----------
    name : str
        "pump_small", "pump_large" or "pump_old_oil".

    Returns
    -------
    Pump
        The pump.

    Raises
    ------
    UnknownChoice, BadDataFile
        When there is no such pump, or its entry is not whole.

    Notes
    -----
    data/service/evacuation.toml; invented pumps.

    Examples
    --------
    >>> round(load_pump("pump_small").speed_m3_s * 60 / M3_PER_L, 1)
    42.5
    """
    numbers = read_service_numbers("evacuation")
    speed = numbers.value(name, "speed_l_min") * M3_PER_L / 60.0
    return Pump(speed, numbers.value(name, "ultimate_micron") * PA_PER_MICRON)


def load_tube(name):
    """A hose or service port of the data file.

    Parameters
    ----------
    name : str
        "hose_thin", "hose_usual", "hose_wide", "port_with_core" or "port_without_core".

    Returns
    -------
    Tube
        Bore and length [m].

    Raises
    ------
    UnknownChoice, BadDataFile
        When there is no such part, or its entry is not whole.

    Notes
    -----
    data/service/evacuation.toml.

    Examples
    --------
    >>> load_tube("hose_usual")
    Tube(diameter_m=0.00635, length_m=1.5)
    """
    numbers = read_service_numbers("evacuation")
    return Tube(numbers.value(name, "diameter_mm") / 1e3, numbers.value(name, "length_mm") / 1e3)


def tube_conductance(tube, mean_pressure_pa, vapour_share=0.0, temperature_c=20.0):
    """How much gas a long round hose lets through, in volume for each second.

    Parameters
    ----------
    tube : Tube
        Bore and length [m].
    mean_pressure_pa : float
        Mean of the pressures at the two ends, 0 up to 110 kPa [Pa absolute].
    vapour_share : float
        Share of water vapour in the gas, the rest air, 0 to 1 [-].
    temperature_c : float
        Gas temperature, -30 to 80 [°C].

    Returns
    -------
    float
        Conductance: throughput over pressure difference [m3/s].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    Sum of viscous flow, pi d^4 p / (128 eta L) (Poiseuille), and molecular flow, pi d^3 v / (12 L) (Knudsen), v the mean
    speed of the molecules: between the two regimes the sum is up to a quarter high. For air at 20 °C handbooks print
    135 to 137 d^4 p / L and 12.1 d^3 / L (L/s, cm, mbar). Viscosity as at 20 °C; mixtures in proportion.

    Examples
    --------
    1.5 m of 1/4 inch hose at 500 micron: 7.1 L/min by the printed formula:

    >>> conductance = tube_conductance(Tube(0.00635, 1.5), 500 * PA_PER_MICRON)
    >>> round(conductance * 60 / M3_PER_L, 1)
    7.1
    """
    pressure = check_range("mean pressure", mean_pressure_pa, 0.0, 1.1e5, "Pa absolute", "this is for a vacuum")
    check_range("temperature", temperature_c, -30.0, 80.0, "°C", "choose a shop in that range")
    check_range("share of vapour", vapour_share, 0.0, 1.0, "of the gas", "give it as a share of one")
    viscosity, speed = _gas(vapour_share, celsius_to_kelvin(temperature_c))
    return _tube(tube, pressure, viscosity, speed)


def _gas(vapour_share, temperature):
    """Viscosity [Pa s] and mean molecular speed [m/s] of air with water vapour in it."""
    numbers = read_service_numbers("evacuation")

    def mixed(key):
        air, vapour = numbers.value("air", key), numbers.value("water_vapour", key)
        return air + vapour_share * (vapour - air)

    speed = math.sqrt(8.0 * GAS_CONSTANT * temperature / (math.pi * mixed("molar_mass_kg_mol")))
    return mixed("viscosity_pa_s"), speed


def _tube(tube, pressure, viscosity, speed):
    d, length = tube.diameter_m, tube.length_m
    return math.pi * d**3 / length * (d * pressure / (128.0 * viscosity) + speed / 12.0)


def _path(tubes, pressure, viscosity, speed, several):
    """Conductance of hoses and ports one after another, each with its own mouth, `several` such ways side by side."""
    resistance = 0.0
    for tube in tubes:
        mouth = math.pi / 4.0 * tube.diameter_m**2 * speed / 4.0
        resistance += 1.0 / _tube(tube, pressure, viscosity, speed) + 1.0 / mouth
    return several / resistance


def speed_at_the_car_m3_s(pump, tubes, pressure_pa, ways=1, vapour_share=0.0, temperature_c=20.0):
    """How fast the pump really empties the circuit, through its hoses.

    Parameters
    ----------
    pump : Pump
        The pump.
    tubes : sequence of Tube
        Hose and port, one after the other.
    pressure_pa : float
        Pressure in the circuit, above zero and below the air's [Pa absolute].
    ways : int
        Such hoses side by side: 1 for one service port, 2 for both.
    vapour_share : float
        Share of water vapour in the gas, 0 to 1 [-].
    temperature_c : float
        Gas temperature, -30 to 80 [°C].

    Returns
    -------
    float
        Throughput over the pressure in the circuit; nothing once the pump is at its end [m3/s].

    Raises
    ------
    OutOfRange
        When the pressure is not a vacuum, or a part is impossible.

    Notes
    -----
    The pump's inlet pressure is where pump and path carry the same (root finding); the pump's speed fades towards its
    ultimate pressure, S (1 - pu/p). Path: tube_conductance of each piece at the mean of the two ends' pressures, each
    behind a mouth of molecular conductance A v / 4 (11.6 L/s cm2 of air, printed), which is on the slow side above
    some mbar. Gas ballast and water condensing in the pump's oil are not modelled.

    Examples
    --------
    Through a thin hose a pump three times as large gains nothing at 500 micron; L/min:

    >>> thin = [Tube(0.0048, 1.5)]
    >>> [round(speed_at_the_car_m3_s(load_pump(p), thin, 500 * PA_PER_MICRON) * 60 / M3_PER_L, 1)
    ...  for p in ("pump_small", "pump_large")]
    [1.4, 1.4]
    """
    pressure = check_vacuum_pa(pressure_pa)
    check_parts(pump, tubes, ways)
    check_range("share of vapour", vapour_share, 0.0, 1.0, "of the gas", "give it as a share of one")
    check_range("temperature", temperature_c, -30.0, 80.0, "°C", "choose a shop in that range")
    return pumping_speed(pump, tubes, ways, pressure, vapour_share, celsius_to_kelvin(temperature_c))


def pumping_speed(pump, tubes, ways, pressure, vapour_share, temperature):
    """The same in SI units and without questions, for whoever follows a curve and has asked them once.

    Parameters
    ----------
    pump : Pump
        The pump.
    tubes : sequence of Tube
        Hose and port.
    ways : int
        1 or 2.
    pressure : float
        Pressure in the circuit [Pa].
    vapour_share : float
        Share of water vapour [-].
    temperature : float
        Gas temperature [K].

    Returns
    -------
    float
        Throughput over the pressure in the circuit [m3/s].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    See speed_at_the_car_m3_s.

    Examples
    --------
    At its ultimate pressure a pump moves nothing:

    >>> pumping_speed(Pump(1e-3, 5.0), [Tube(0.00635, 1.5)], 1, 5.0, 0.0, 293.15)
    0.0
    """
    if pressure <= pump.ultimate_pa:
        return 0.0
    viscosity, speed = _gas(vapour_share, temperature)

    def miss(throughput):
        inlet = pump.ultimate_pa + throughput / pump.speed_m3_s
        path = _path(tubes, 0.5 * (pressure + inlet), viscosity, speed, ways)
        return throughput - path * (pressure - inlet)

    most = pump.speed_m3_s * (pressure - pump.ultimate_pa)
    return scipy.optimize.brentq(miss, 0.0, most, xtol=1e-30, rtol=1e-9) / pressure


def check_parts(pump, tubes, ways):
    """Refuse a pump, hose or number of hoses that could not be.

    Parameters
    ----------
    pump : Pump
        The pump.
    tubes : sequence of Tube
        Hose and port.
    ways : int
        1 for one service port, 2 for both.

    Returns
    -------
    None
        When all is possible.

    Raises
    ------
    OutOfRange
        With the part and what is usual for it.

    Notes
    -----
    Limits are the workbook's own.

    Examples
    --------
    >>> check_parts(load_pump("pump_small"), [load_tube("hose_usual")], 2)
    """
    check_range("pump speed", pump.speed_m3_s, 1e-6, 0.1, "m3/s", "a workshop pump has 0.0005 to 0.005")
    check_range("ultimate pressure", pump.ultimate_pa, 0.01, 1e4, "Pa absolute", "a two-stage pump reaches 2 to 10")
    check_range("hoses side by side", ways, 1, 2, "", "a car has two service ports")
    if not tubes:
        raise OutOfRange("hoses: none was given; connect at least one hose.")
    for tube in tubes:
        check_range("bore", tube.diameter_m, 2e-4, 0.05, "m", "a service hose has 0.004 to 0.010")
        check_range("length", tube.length_m, 1e-3, 20.0, "m", "a service hose has 0.9 to 3")
