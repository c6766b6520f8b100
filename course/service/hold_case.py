"""Numbered nitrogen holds to judge: a circuit nobody knows, read in the evening and again later at another temperature."""

from dataclasses import dataclass

import numpy as np

from course.errors import check_range
from course.service.pressure_test import expected_kpa_gauge, smallest_leak_g_per_year
from course.tables import read_service_numbers


@dataclass(frozen=True)
class HoldReadings:
    """Both readings of one hold."""

    minutes: float  # min between them
    first_kpa_gauge: float
    first_c: float  # °C
    second_kpa_gauge: float
    second_c: float  # °C as the thermometer shows it
    leak_g_per_year: float  # g/yr of refrigerant by equal throughput; what it really loses


def hidden_leak_g_per_year(number):
    """The leak of a numbered circuit.

    Parameters
    ----------
    number : int
        Number of the case, 0 to 1,000,000; the same number is the same case.

    Returns
    -------
    float
        Leak of refrigerant by equal throughput, 0 for a tight one [g/yr].

    Raises
    ------
    OutOfRange
        When the number is outside its range.

    Notes
    -----
    Half of the cases are tight, the others evenly in the logarithm of the leak; data/service/pressure_test.toml, assumed.

    Examples
    --------
    >>> hidden_leak_g_per_year(4) == hidden_leak_g_per_year(4)
    True
    """
    seed = int(check_range("number of the case", number, 0, 1000000, "", "choose a whole number"))
    numbers = read_service_numbers("pressure_test")
    dice = np.random.default_rng(seed)
    if dice.random() < numbers.value("hold_case", "tight_share"):
        return 0.0
    ends = [numbers.value("hold_case", key) for key in ("least_leak_g_per_year", "most_leak_g_per_year")]
    return float(np.exp(dice.uniform(*np.log(ends))))


def read_hold(number, minutes, second_c):
    """Fill a numbered circuit with nitrogen, wait, and read gauge and thermometer again.

    Parameters
    ----------
    number : int
        Number of the case.
    minutes : float
        Length of the hold, 1 to 2,880 [min].
    second_c : float
        Temperature of the circuit at the second reading, -10 to 50 [°C].

    Returns
    -------
    HoldReadings
        Both readings with what it really loses.

    Raises
    ------
    OutOfRange
        When a value is outside its range.

    Notes
    -----
    Filled to the lower end of common practice. The leak is steady over the hold: pressure falls by leak over what
    smallest_leak_g_per_year gives for 1 kPa. Each reading carries the error of a digital gauge and of a probe; the same
    number, time and temperature give the same readings.

    Examples
    --------
    >>> seen = read_hold(4, 720.0, 15.0)
    >>> seen.second_kpa_gauge < seen.first_kpa_gauge
    True
    """
    time = check_range("hold", minutes, 1.0, 2880.0, "min", "hold from a quarter of an hour to two days")
    warm = check_range("circuit temperature", second_c, -10.0, 50.0, "°C", "choose a morning in that range")
    numbers = read_service_numbers("pressure_test")
    filled, evening = numbers.value("limits", "usual_low_kpa_gauge"), numbers.value("hold_case", "first_c")
    leak = hidden_leak_g_per_year(number)
    left = expected_kpa_gauge(filled, evening, warm) - leak / smallest_leak_g_per_year(1.0, time, temperature_c=warm)
    dice = np.random.default_rng((int(number), round(time), round(10.0 * warm) + 1000))
    gauge, probe = numbers.value("gauge", "digital_kpa"), numbers.value("gauge", "thermometer_k")
    first, second = (round(float(dice.normal(one, gauge)), 1) for one in (filled, left))
    before, after = (round(float(dice.normal(one, probe)), 1) for one in (evening, warm))
    return HoldReadings(time, first, before, second, after, leak)
