"""Recovery: mass against time, what stays behind in cold oil and accumulator, and how the pressure comes back."""

from dataclasses import dataclass, replace

import numpy as np
import scipy

from course.errors import OutOfRange, check_choice, check_range
from course.physics.refrigerant import REFRIGERANTS, molar_mass, saturation_at_temperature
from course.service.dissolved import activity
from course.tables import read_service_numbers
from course.units import (
    GAS_CONSTANT,
    M3_PER_L,
    M3_PER_ML,
    PA_PER_INHG,
    PA_PER_KPA,
    STANDARD_ATMOSPHERE_PA,
    atmospheric_pressure_pa,
    celsius_to_kelvin,
    kelvin_to_celsius,
)

LONGEST_MINUTES = 240.0  # the workbook's own limit
STEPS = 121  # points of a curve
OIL_FILM = (
    3e-3  # kg of oil that wets every surface, on top of what the car is given; assumed, so that no pool dries abruptly
)


@dataclass(frozen=True)
class Machine:
    """A recovery machine."""

    speed_m3_s: float  # m3/s of vapour at its inlet
    end_pa: float  # Pa absolute, the lowest suction pressure it reaches
    stop_pa: float | None  # Pa absolute at which it takes the car for empty and stops; None: it goes on


@dataclass(frozen=True)
class CarToEmpty:
    """The car as it stands, engine off, everything at one temperature."""

    refrigerant: str
    charge_kg: float  # kg in the car
    temperature_c: float  # °C of car and shop
    volume_m3: float  # m3 of the circuit
    oil_ml: float  # mL of oil in the circuit
    accumulator_share: float  # - of the charge in the accumulator; 0 for a car without
    accumulator_oil_share: float  # - of the oil in it
    accumulator_w_k: float  # W/K, heat that reaches it for each kelvin it is colder than the shop
    other_w_k: float  # W/K, the same for everything else


@dataclass(frozen=True)
class RecoveryCurve:
    """A recovery, or the wait after it."""

    minutes: tuple  # min
    recovered_kg: tuple  # kg in the machine, all stretches together
    left_kg: tuple  # kg still in the car
    pressure_pa: tuple  # Pa absolute
    accumulator_c: tuple  # °C of the liquid or oil in it
    stopped: bool  # whether the machine took the car for empty
    car: CarToEmpty
    state: tuple  # kg and °C where the next stretch begins


def load_machine(name):
    """A recovery machine of the data file.

    Parameters
    ----------
    name : str
        "machine_new" or "machine_old".

    Returns
    -------
    Machine
        The machine.

    Raises
    ------
    UnknownChoice, BadDataFile
        When there is no such machine, or its entry is not whole.

    Notes
    -----
    data/service/recovery.toml; invented. The old one stops at 4 inHg of vacuum, as equipment of SAE J2210 did.

    Examples
    --------
    >>> round(load_machine("machine_old").stop_pa / 1e3, 1), load_machine("machine_new").stop_pa
    (87.8, None)
    """
    check_choice("recovery machine", name, ("machine_new", "machine_old"))
    numbers = read_service_numbers("recovery")
    stop = None
    if name == "machine_old":
        stop = STANDARD_ATMOSPHERE_PA - numbers.value(name, "stop_inhg") * PA_PER_INHG
    return Machine(
        numbers.value(name, "speed_l_min") * M3_PER_L / 60.0, numbers.value(name, "end_kpa") * PA_PER_KPA, stop
    )


def usual_car(**settings):
    """A front-and-rear system with accumulator, as recovery equipment is tested on.

    Parameters
    ----------
    **settings
        Fields of CarToEmpty to set otherwise, such as temperature_c.

    Returns
    -------
    CarToEmpty
        The car.

    Raises
    ------
    BadDataFile
        When the data file is not whole.

    Notes
    -----
    data/service/recovery.toml: charge as in SAE J2788's test (second-hand), the rest assumed.

    Examples
    --------
    >>> usual_car(temperature_c=10.0).charge_kg
    1.4
    """
    numbers = read_service_numbers("recovery")
    car = CarToEmpty(
        refrigerant="R134a",
        charge_kg=numbers.value("published", "test_charge_kg"),
        temperature_c=numbers.value("published", "old_warm_c"),
        volume_m3=numbers.value("car", "volume_cm3") * M3_PER_ML,
        oil_ml=numbers.value("car", "oil_ml"),
        accumulator_share=numbers.value("car", "accumulator_share"),
        accumulator_oil_share=numbers.value("car", "accumulator_oil_share"),
        accumulator_w_k=numbers.value("car", "accumulator_w_k"),
        other_w_k=numbers.value("car", "other_w_k"),
    )
    return replace(car, **settings)


def left_behind_share(equipment, temperature_c):
    """Share of the charge that published tests found still in the car when the machine said empty.

    Parameters
    ----------
    equipment : str
        "new" (SAE J2788) or "old" (the standard before).
    temperature_c : float
        Temperature of car and shop: 21 to 24 for new, 10 to 21 for old equipment [°C].

    Returns
    -------
    tuple of float
        Least and most [-].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the equipment is unknown or was not tested at that temperature.

    Notes
    -----
    New: at most 5 % (at least 95 % in 30 min). Old: more than 18 % at 21 °C, nearly 30 % at 10 °C, straight line between
    as the least and 30 % as the most. Both second-hand, for one front-and-rear system with accumulator; a small system
    with a receiver keeps less, a colder one more.

    Examples
    --------
    >>> left_behind_share("old", 10.0), [round(s, 2) for s in left_behind_share("new", 22.0)]
    ((0.3, 0.3), [0.0, 0.05])
    """
    check_choice("equipment", equipment, ("new", "old"))
    numbers = read_service_numbers("recovery")

    def published(key):
        return numbers.value("published", key)

    advice = "the published tests say nothing about other temperatures"
    if equipment == "new":
        low, high = published("new_coldest_c"), published("new_hottest_c")
        check_range("temperature", temperature_c, low, high, "°C", advice)
        return 0.0, 1.0 - published("new_least_share")
    cool, warm = published("old_cool_c"), published("old_warm_c")
    celsius = check_range("temperature", temperature_c, cool, warm, "°C", advice)
    ends = published("old_left_cool_share"), published("old_left_warm_share")
    return float(np.interp(celsius, (cool, warm), ends)), ends[0]


def recover(car, machine, minutes=None, before=None):
    """Mass recovered against time, with the liquid chilling as it boils.

    Parameters
    ----------
    car : CarToEmpty
        The car.
    machine : Machine
        The machine.
    minutes : float or None
        How long at most, 0.1 to 240; None: the time published tests allow, 30 [min].
    before : RecoveryCurve or None
        An earlier stretch to go on from.

    Returns
    -------
    RecoveryCurve
        Masses [kg], pressure [Pa absolute] and accumulator temperature [°C] against time [min].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or a value is outside its range.

    Notes
    -----
    Two pools boil into one vapour space: the accumulator, with most of the oil and little heat, and everything else.
    Each boils as fast as its own vapour pressure (saturation times activity()) drives it; the heat for that comes out
    of liquid, oil and metal and, slowly, from the shop. The machine takes vapour at its displacement, fading towards its
    lowest pressure. Vapour: real at saturation, in proportion below. Liquid recovered through the high side, oil carried
    along, an engine warmed up beforehand and hose contents are not modelled.

    Examples
    --------
    SAE J2788 asks for 95 % in 30 minutes at 21 to 24 °C (second-hand):

    >>> curve = recover(usual_car(), load_machine("machine_new"))
    >>> curve.recovered_kg[-1] / 1.4 > 0.95
    True
    """
    if minutes is None:
        minutes = read_service_numbers("recovery").value("published", "new_within_min")
    _check(car, minutes)
    check_range(
        "speed of the machine", machine.speed_m3_s, 1e-6, 1e-2, "m3/s", "a workshop machine has 0.0001 to 0.0005"
    )
    check_range("lowest pressure of the machine", machine.end_pa, 1e3, 1e5, "Pa absolute", "20,000 to 70,000 is usual")
    return _march(car, machine, minutes, before)


def wait(before, minutes):
    """How pressure comes back after the machine has stopped, as cold liquid and oil warm up.

    Parameters
    ----------
    before : RecoveryCurve
        The stretch it follows.
    minutes : float
        How long, 0.1 to 240 [min].

    Returns
    -------
    RecoveryCurve
        As recover, time from the stop [min].

    Raises
    ------
    OutOfRange
        When the time is outside its range.

    Notes
    -----
    The same balance with the machine off. One equipment manual: done when the pressure does not rise above 0 gauge
    in five minutes; rising, run again.

    Examples
    --------
    >>> first = recover(usual_car(), load_machine("machine_old"), 60.0)
    >>> wait(first, 5.0).pressure_pa[-1] > STANDARD_ATMOSPHERE_PA
    True
    """
    _check(before.car, minutes)
    return _march(before.car, None, minutes, before)


def is_done(before, altitude_m=0.0):
    """Whether the pressure stays in vacuum long enough after the stop for the car to count as empty.

    Parameters
    ----------
    before : RecoveryCurve
        The recovery that has just stopped.
    altitude_m : float
        Altitude, 0 to 3,000 [m].

    Returns
    -------
    bool
        True when the gauge stays below 0.

    Raises
    ------
    OutOfRange
        When the altitude is outside its range.

    Notes
    -----
    One equipment manual (read): done when pressure does not rise above 0 gauge within 5 minutes of stopping. Oil and
    accumulator may still hold some even then.

    Examples
    --------
    >>> is_done(recover(usual_car(), load_machine("machine_old"), 60.0))
    False
    """
    minutes = read_service_numbers("recovery").value("published", "rebound_min")
    return max(wait(before, minutes).pressure_pa) < atmospheric_pressure_pa(altitude_m)


def _check(car, minutes):
    check_choice("refrigerant", car.refrigerant, REFRIGERANTS)
    check_range("charge", car.charge_kg, 0.001, 5.0, "kg", "a car holds 0.3 to 1.5")
    check_range("temperature", car.temperature_c, -10.0, 50.0, "°C", "choose a shop in that range")
    check_range("volume", car.volume_m3, 1e-3, 0.02, "m3", "a car's circuit has 0.002 to 0.008")
    check_range("oil", car.oil_ml, 0.0, 2000.0, "mL", "a car holds 100 to 300")
    check_range("share in the accumulator", car.accumulator_share, 0.0, 1.0, "of the charge", "give a share of one")
    check_range("oil in the accumulator", car.accumulator_oil_share, 0.0, 1.0, "of the oil", "give a share of one")
    check_range("heat to the accumulator", car.accumulator_w_k, 0.0, 100.0, "W/K", "1 to 5 is usual")
    check_range("heat to the rest", car.other_w_k, 0.0, 500.0, "W/K", "10 to 50 is usual")
    check_range("time", minutes, 0.1, LONGEST_MINUTES, "min", "choose a time in that range")
    saturated = saturation_at_temperature(car.refrigerant, celsius_to_kelvin(car.temperature_c))
    room = 0.9 * car.volume_m3 * saturated.liquid_density
    if car.charge_kg > room:
        raise OutOfRange(
            f"charge: {car.charge_kg:g} kg does not fit into {car.volume_m3:g} m3; at most {room:.3g} kg do."
        )


class _Balance:
    """Pools and vapour of one car: state is pool masses, pool temperatures, vapour mass and recovered mass."""

    def __init__(self, car, machine):
        numbers = read_service_numbers("recovery")
        self.car, self.machine = car, machine
        oil = car.oil_ml * M3_PER_ML * numbers.value("oil", "density_kg_m3")
        self.oil = (OIL_FILM + oil * car.accumulator_oil_share, OIL_FILM + oil * (1.0 - car.accumulator_oil_share))
        heat_of_oil, metal = numbers.value("oil", "heat_capacity_j_kg_k"), numbers.value("car", "metal_j_k")
        self.fixed_heat = tuple(metal + heat_of_oil * one for one in self.oil)
        self.liquid_heat = numbers.value("liquid", "heat_capacity_j_kg_k")
        self.warming = (car.accumulator_w_k, car.other_w_k)
        self.boiling = numbers.value("pool", "boiling_kg_s_pa")
        self.shop = celsius_to_kelvin(car.temperature_c)
        self.ideal = GAS_CONSTANT * self.shop / molar_mass(car.refrigerant) / car.volume_m3
        full = saturation_at_temperature(car.refrigerant, self.shop)
        self.vapour_kg = full.vapour_density * car.volume_m3
        self.bend = (full.pressure / (self.ideal * self.vapour_kg) - 1.0) / full.pressure

    def pressure(self, vapour):
        ideal = self.ideal * max(vapour, 0.0)
        return ideal / (1.0 - self.bend * ideal)

    def equilibrium(self, mass, kelvin, oil):
        saturated = saturation_at_temperature(self.car.refrigerant, min(max(kelvin, 200.0), 350.0))
        return saturated, saturated.pressure * activity(mass / (mass + oil), saturated.liquid_density)

    def taken(self, pressure):
        if self.machine is None or pressure <= self.machine.end_pa:
            return 0.0
        density = pressure / (self.ideal * self.car.volume_m3 * (1.0 + self.bend * pressure))
        return self.machine.speed_m3_s * density * (1.0 - self.machine.end_pa / pressure)

    def change(self, _, state):
        masses, kelvins, vapour = state[0:2], state[2:4], state[4]
        pressure = self.pressure(vapour)
        leaving, warming = [], []
        for mass, kelvin, oil, fixed, heat in zip(
            masses, kelvins, self.oil, self.fixed_heat, self.warming, strict=True
        ):
            mass = max(mass, 0.0)
            saturated, wanted = self.equilibrium(mass, kelvin, oil)
            boiled = self.boiling * (wanted - pressure)
            need = boiled * (saturated.vapour_enthalpy - saturated.liquid_enthalpy)
            leaving.append(boiled)
            warming.append((heat * (self.shop - kelvin) - need) / (fixed + mass * self.liquid_heat))
        flow = self.taken(pressure)
        return (-leaving[0], -leaving[1], *warming, sum(leaving) - flow, flow)

    def beginning(self):
        liquid = max(self.car.charge_kg - self.vapour_kg, 0.0)
        share = self.car.accumulator_share
        vapour = self.car.charge_kg - liquid
        return (liquid * share, liquid * (1.0 - share), self.shop, self.shop, vapour, 0.0)


def _march(car, machine, minutes, before):
    balance = _Balance(car, machine)
    begin = balance.beginning() if before is None else before.state
    seconds = np.linspace(0.0, 60.0 * minutes, STEPS)
    stops = []
    if machine is not None and machine.stop_pa is not None:

        def empty(_, state):
            return balance.pressure(state[4]) - machine.stop_pa

        empty.terminal, empty.direction = True, -1
        stops = [empty]
    solved = scipy.integrate.solve_ivp(
        balance.change, (0.0, seconds[-1]), begin, "LSODA", seconds, events=stops, rtol=1e-6, atol=1e-7
    )
    if solved.status < 0:
        raise OutOfRange(f"recovery: no curve was found ({solved.message}); choose a shorter time.")
    times, states = solved.t, solved.y
    stopped = solved.status == 1
    if stopped:
        times, states = np.append(times, solved.t_events[0]), np.column_stack([states, solved.y_events[0][0]])
    return RecoveryCurve(
        tuple((times / 60.0).tolist()),
        tuple(states[5].tolist()),
        tuple((states[0] + states[1] + states[4]).tolist()),
        tuple(balance.pressure(one) for one in states[4].tolist()),
        tuple(kelvin_to_celsius(states[2]).tolist()),
        stopped,
        car,
        tuple(states[:, -1].tolist()),
    )
