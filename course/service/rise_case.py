"""Numbered rise tests to judge: a circuit nobody has looked into, and what a gauge shows of it while the valve is shut."""

from dataclasses import dataclass

import numpy as np

from course.errors import check_choice, check_range
from course.physics.refrigerant import molar_mass
from course.service.evacuation import Circuit, VacuumCurve, isolate, pump_down, usual_circuit
from course.service.vacuum_flow import load_pump, load_tube
from course.tables import read_service_numbers
from course.units import (
    M3_PER_L,
    PA_PER_INHG,
    PA_PER_MBAR,
    PA_PER_MICRON,
    STANDARD_ATMOSPHERE_PA,
    g_per_year_from_kg_per_second,
    kg_per_second_from_mbar_l_per_second,
)

KINDS = ("tight and dry", "wet", "leaking", "seeping")
GAUGES = ("micron_gauge", "dial")
WET_PLACES = {"warm_pipe": "warm_pipe_w_k", "usual": "usual_w_k", "deep": "deep_w_k"}  # place: its key in the data


@dataclass(frozen=True)
class RiseCase:
    """A circuit as it really is, pumped down and ready for its rise test."""

    number: int
    kind: str  # one of KINDS
    circuit: Circuit
    pumped: VacuumCurve


@dataclass(frozen=True)
class RiseReadings:
    """What somebody wrote down while the valve was shut."""

    minutes: tuple  # min from the closing of the valve
    pressure_pa: tuple  # Pa absolute, as read
    gauge_error_pa: float  # Pa, one standard deviation of a reading
    truth: VacuumCurve  # what the circuit really did


def wet_place_w_k(place):
    """The heat that reaches water at a place in the circuit.

    Parameters
    ----------
    place : str
        "warm_pipe", "usual" or "deep".

    Returns
    -------
    float
        Heat for each kelvin the water is colder than the shop [W/K].

    Raises
    ------
    UnknownChoice
        When there is no such place.

    Notes
    -----
    data/service/evacuation.toml, all assumed.

    Examples
    --------
    >>> wet_place_w_k("deep")
    0.1
    """
    check_choice("wet place", place, WET_PLACES)
    return read_service_numbers("evacuation").value("wet_place", WET_PLACES[place])


def deep_vacuum_pa():
    """The vacuum to aim at.

    Returns
    -------
    float
        500 micron [Pa absolute].

    Raises
    ------
    BadDataFile
        When the data file is not whole.

    Notes
    -----
    Practice of stationary refrigeration; the car manuals read name only inches of mercury on a dial.

    Examples
    --------
    >>> round(deep_vacuum_pa(), 1)
    66.7
    """
    return read_service_numbers("evacuation").value("target", "deep_micron") * PA_PER_MICRON


def rise_case(number, kind=None, temperature_c=20.0):
    """A numbered circuit after a hurried pump-down.

    Parameters
    ----------
    number : int
        Number of the case, 0 to 1,000,000; the same number is the same case.
    kind : str or None
        One of KINDS; None: the number decides.
    temperature_c : float
        Temperature of the shop, 10 to 35 [°C].

    Returns
    -------
    RiseCase
        The case.

    Raises
    ------
    UnknownChoice, OutOfRange
        When the kind is unknown or a value is outside its range.

    Notes
    -----
    Kind, leak and water are drawn with the number as the seed, leaks evenly in their logarithm; bounds in
    data/service/evacuation.toml, all assumed. Large pump, usual hose, core in, one port.

    Examples
    --------
    >>> case = rise_case(3, kind="wet")
    >>> case.circuit.water_g > 0.0 and case.circuit.leak_pa_m3_s == 0.0
    True
    """
    seed = int(check_range("number of the case", number, 0, 1000000, "", "choose a whole number"))
    warm = check_range("temperature", temperature_c, 10.0, 35.0, "°C", "choose a shop in that range")
    dice = np.random.default_rng(seed)
    drawn = KINDS[dice.integers(len(KINDS))]
    kind = drawn if kind is None else check_choice("kind of circuit", kind, KINDS)
    numbers = read_service_numbers("evacuation")

    def between(*keys):
        return float(np.exp(dice.uniform(*np.log([numbers.value("rise_case", key) for key in keys]))))

    found = {
        "tight and dry": {},
        "wet": {"water_g": between("least_water_g", "most_water_g")},
        "leaking": {"leak_pa_m3_s": between("least_leak_pa_m3_s", "most_leak_pa_m3_s")},
        "seeping": {"leak_pa_m3_s": between("least_seep_pa_m3_s", "most_seep_pa_m3_s")},
    }[kind]
    circuit = usual_circuit(temperature_c=warm, **found)
    tubes = [load_tube("hose_usual"), load_tube("port_with_core")]
    pumped = pump_down(circuit, load_pump("pump_large"), tubes, numbers.value("rise_case", "pumped_min"))
    return RiseCase(seed, kind, circuit, pumped)


def leak_g_per_year(leak_pa_m3_s, temperature_c=20.0):
    """The refrigerant that would leak with the same throughput as the air that comes in.

    Parameters
    ----------
    leak_pa_m3_s : float
        Throughput of air, 0 to 100 [Pa m3/s].
    temperature_c : float
        Temperature of the shop, 0 to 60 [°C].

    Returns
    -------
    float
        Leak of R-134a [g/yr].

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    Equal throughput, as leak limits are compared; under service pressure the same hole passes another amount.

    Examples
    --------
    Trade arithmetic: 1 g a year of R-134a is 7.6e-6 mbar L/s at 20 °C, that is 7.6e-7 Pa m3/s:

    >>> round(leak_g_per_year(7.6e-7), 2)
    1.0
    """
    leak = check_range("leak", leak_pa_m3_s, 0.0, 100.0, "Pa m3/s", "above it no pump draws a vacuum")
    warm = check_range("temperature", temperature_c, 0.0, 60.0, "°C", "choose a shop in that range")
    mbar_l_s = leak / (PA_PER_MBAR * M3_PER_L)
    return g_per_year_from_kg_per_second(kg_per_second_from_mbar_l_per_second(mbar_l_s, molar_mass("R134a"), warm))


def gauge_error_pa(gauge):
    """How far one reading of a vacuum gauge may be off.

    Parameters
    ----------
    gauge : str
        "micron_gauge" or "dial".

    Returns
    -------
    float
        One standard deviation [Pa].

    Raises
    ------
    UnknownChoice
        When there is no such gauge.

    Notes
    -----
    data/service/evacuation.toml, assumed. The dial's is a thousand times the other.

    Examples
    --------
    >>> round(gauge_error_pa("dial") / PA_PER_MICRON)
    6350
    """
    check_choice("gauge", gauge, GAUGES)
    numbers = read_service_numbers("evacuation")
    if gauge == "dial":
        return numbers.value("dial", "error_inhg") * PA_PER_INHG
    return numbers.value("micron_gauge", "error_micron") * PA_PER_MICRON


def read_rise(case, gauge, minutes):
    """Shut the valve, wait and write down what the gauge shows.

    Parameters
    ----------
    case : RiseCase
        The circuit.
    gauge : str
        "micron_gauge" or "dial".
    minutes : float
        Length of the hold, 1 to 240 [min].

    Returns
    -------
    RiseReadings
        Eleven readings at even times, with what really happened.

    Raises
    ------
    UnknownChoice, OutOfRange
        When the gauge is unknown or the time is outside its range.

    Notes
    -----
    Normal errors, the same for the same number and hold; a reading that would lie below nothing or above the air is
    drawn again, since no needle shows it.

    Examples
    --------
    >>> seen = read_rise(rise_case(3, kind="wet"), "micron_gauge", 30.0)
    >>> len(seen.minutes), seen.pressure_pa[-1] > 1.5 * seen.pressure_pa[0]
    (11, True)
    """
    hold = check_range("hold", minutes, 1.0, 240.0, "min", "choose a time in that range")
    error = gauge_error_pa(gauge)
    truth = isolate(case.pumped, hold)
    count = int(read_service_numbers("evacuation").value("rise_case", "readings_count"))
    times = np.linspace(0.0, hold, count)
    dice = np.random.default_rng((case.number, GAUGES.index(gauge), round(10 * hold)))
    shown = []
    for pressure in np.interp(times, truth.minutes, truth.pressure_pa):
        reading = -1.0
        while not 0.0 < reading <= STANDARD_ATMOSPHERE_PA:
            reading = float(dice.normal(pressure, error))
        shown.append(reading)
    return RiseReadings(tuple(times.tolist()), tuple(shown), error, truth)
