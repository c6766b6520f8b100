"""The rise test judged: tight and dry, wet, leaking, or too little information to say."""

import math
from dataclasses import dataclass

import numpy as np

from course.errors import OutOfRange, check_range
from course.service.water import boiling_pressure_pa, check_vacuum_pa
from course.tables import read_service_numbers
from course.units import PA_PER_MICRON

VERDICTS = ("tight and dry", "wet", "leaking", "too little information")


@dataclass(frozen=True)
class RiseVerdict:
    """What a rise curve says, and what it cannot say."""

    verdict: str  # one of VERDICTS
    reason: str  # a sentence
    rise_pa: float  # Pa over the whole hold
    early_pa_s: float  # Pa/s in the first half
    late_pa_s: float  # Pa/s in the second half
    late_error_pa_s: float  # Pa/s, one standard deviation of the late slope
    smallest_leak_pa_m3_s: float  # Pa m3/s of air that would just have shown; smaller ones pass unseen


def judge_rise(minutes, pressure_pa, gauge_error_pa, temperature_c, volume_m3=0.003):
    """Tell a tight, a wet and a leaking circuit apart from the pressures read after the valve was closed.

    Parameters
    ----------
    minutes : sequence of float
        Times of the readings, rising, from the closing of the valve [min].
    pressure_pa : sequence of float
        Readings of the vacuum gauge [Pa absolute].
    gauge_error_pa : float
        One standard deviation of a reading, above zero [Pa].
    temperature_c : float
        Temperature of the shop, 0 to 60 [°C].
    volume_m3 : float
        Volume of the circuit, 0.0001 to 0.1 [m3].

    Returns
    -------
    RiseVerdict
        Verdict with its reason, slopes [Pa/s] and the smallest leak it could have shown [Pa m3/s].

    Raises
    ------
    OutOfRange
        When readings are missing, not in order of time, or not a vacuum.

    Notes
    -----
    Straight lines by least squares through the first and second half. A leak goes on at the same rate; water and gas from
    the oil level off, water at its boiling pressure at shop temperature at the latest, so above that only a leak is left.
    A slope counts when it is twice its error; a bend is judged by late over early slope with the errors of both.
    Limits: data/service/evacuation.toml, common practice or assumed. Not told apart: a leak together with water before
    the bend; water that boils slower than the hold is long; a leak below smallest_leak_pa_m3_s. A seal that closes
    inwards under vacuum passes this test and leaks under pressure.

    Examples
    --------
    1 Pa a minute, read to 1 Pa, straight for half an hour:

    >>> times = range(0, 31, 3)
    >>> judge_rise(times, [70.0 + t for t in times], 1.0, 20.0).verdict
    'leaking'
    """
    times, pressures = _readings(minutes, pressure_pa)
    error = check_range("gauge error", gauge_error_pa, 1e-3, 1e5, "Pa", "a reading without an error decides nothing")
    warm = check_range("temperature", temperature_c, 0.0, 60.0, "°C", "choose a shop in that range")
    volume = check_range("volume", volume_m3, 1e-4, 0.1, "m3", "a car's circuit has 0.002 to 0.006")
    half = len(times) // 2
    early, early_error = _slope(times[: half + 1], pressures[: half + 1], error)
    late, late_error = _slope(times[half:], pressures[half:], error)
    _, whole_error = _slope(times, pressures, error)
    rise = float(pressures[-1] - pressures[0])
    slopes = (early, early_error, late, late_error)
    verdict, reason = _decide(times, pressures, error, slopes, whole_error, boiling_pressure_pa(warm))
    return RiseVerdict(verdict, reason, rise, early, late, late_error, 2.0 * whole_error * volume)


def _readings(minutes, pressure_pa):
    times = np.asarray(list(minutes), dtype=float) * 60.0
    if len(times) != len(list(pressure_pa)) or len(times) < 3:
        raise OutOfRange("rise test: times and pressures must be two rows of three or more; write down both each time.")
    if not np.all(np.isfinite(times)) or np.any(np.diff(times) <= 0.0):
        raise OutOfRange("rise test: the times do not rise from reading to reading; put them in order.")
    return times, np.array([check_vacuum_pa(one) for one in pressure_pa])


def _slope(times, pressures, error):
    """Slope of the best straight line with its error from the gauge alone."""
    away = times - times.mean()
    spread = float(np.sum(away**2))
    return float(np.sum(away * pressures)) / spread, error / math.sqrt(spread)


def _decide(times, pressures, error, slopes, whole_error, boiling):
    numbers = read_service_numbers("evacuation")

    def limit(key):
        return numbers.value("rise", key)

    early, early_error, late, late_error = slopes
    dry, gassy = limit("dry_micron") * PA_PER_MICRON, limit("outgassing_micron") * PA_PER_MICRON
    end, lasted = float(pressures[-1]), (times[-1] - times[0]) / 60.0
    unseen = 2.0 * whole_error * (times[-1] - times[0])
    if len(times) < limit("fewest_count") or lasted < limit("shortest_min"):
        return VERDICTS[3], (
            f"{len(times)} readings in {lasted:.3g} min: take {limit('fewest_count'):.0f} or more over at least "
            f"{limit('shortest_min'):g} min, or no bend can be seen."
        )
    if end - 2.0 * error > 1.1 * boiling and late > 2.0 * late_error:
        return VERDICTS[
            2
        ], "it still rises above the pressure at which water boils in this shop: only a leak does that."
    if unseen > dry or error > 0.5 * dry:
        return VERDICTS[3], (
            f"this gauge shows a rise only from {unseen / PA_PER_MICRON:,.0f} micron: neither water nor a leak that "
            "takes days would show; use a micron gauge."
        )
    if late <= 2.0 * late_error:
        return _levelled(end, dry, gassy, early > 2.0 * early_error)
    bend, bend_error = _bend(slopes)
    if bend - 2.0 * bend_error > limit("straight_share"):
        return VERDICTS[
            2
        ], "it rises in a straight line and does not bend: air comes in; find the leak with pressure inside."
    if bend + 2.0 * bend_error < limit("bent_share"):
        return _levelled(end, dry, gassy, True)
    return VERDICTS[3], "it still rises but neither clearly straight nor clearly levelling: hold it longer."


def _bend(slopes):
    """Late over early slope with its error; a slope that is lost in its error makes the error large."""
    early, early_error, late, late_error = slopes
    if early <= early_error:
        return late / early_error, late_error / early_error + late / early_error
    return late / early, math.hypot(late_error, late / early * early_error) / early


def _levelled(end, dry, gassy, rose):
    micron = end / PA_PER_MICRON
    if end <= dry:
        how = "rose a little and levelled" if rose else "did not rise"
        return VERDICTS[0], f"it {how}, at {micron:,.0f} micron: tight and dry as far as this hold can show."
    if end <= gassy:
        why = "moisture, or gas out of the oil"
    else:
        why = "water, liquid or in the drier"
    return VERDICTS[1], f"it stands level at {micron:,.0f} micron: {why}; warm it and evacuate again."
