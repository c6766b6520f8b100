"""What instruments show: gauges and thermometers with their errors, where each one sits, and what the shop works out."""

from dataclasses import dataclass

import numpy as np

from course.physics.refrigerant import critical_point, saturation_at_pressure
from course.units import PA_PER_KPA, ZERO_C_IN_K, absolute_from_gauge_pa


@dataclass(frozen=True)
class Instruments:
    """How far each instrument may be off: one standard deviation."""

    low_gauge_kpa: float = 10.0  # kPa: about 1 % of a low-side gauge's scale; assumed
    high_gauge_kpa: float = 35.0  # kPa: about 1 % of a high-side gauge's scale; assumed
    pipe_thermometer_k: float = 1.0  # K: contact probe on a clean pipe; assumed
    vent_thermometer_k: float = 0.5  # K; assumed


EXACT = Instruments(0.0, 0.0, 0.0, 0.0)

PLACES = {
    "low_side_kpa_gauge": "low-side service port, on the suction line",
    "high_side_kpa_gauge": "high-side service port",
    "evaporator_outlet_c": "contact probe on the pipe that leaves the evaporator",
    "liquid_line_c": "contact probe on the liquid line, before the metering device",
    "condenser_outlet_c": "contact probe on the pipe that leaves the condenser",
    "suction_line_c": "contact probe on the suction line at the compressor",
    "discharge_c": "contact probe on the discharge line at the compressor",
    "vent_c": "thermometer in the centre vent",
}


@dataclass(frozen=True)
class Readings:
    """One set of readings, as taken, with superheat and subcooling worked out from them."""

    low_side_kpa_gauge: float  # kPa gauge
    high_side_kpa_gauge: float  # kPa gauge
    evaporator_outlet_c: float  # °C
    condenser_outlet_c: float  # °C
    liquid_line_c: float  # °C
    suction_line_c: float  # °C
    discharge_c: float  # °C
    vent_c: float  # °C
    superheat_k: float | None  # K, None where the low side is off the chart
    subcooling_k: float | None  # K, None where the high side is off the chart
    sight_glass: str  # clear, bubbles, empty or none


def _saturation_c(refrigerant, gauge_kpa, altitude):
    pressure = absolute_from_gauge_pa(gauge_kpa * PA_PER_KPA, altitude)
    if not 2.0e4 < pressure < 0.999 * critical_point(refrigerant)[1]:
        return None
    return saturation_at_pressure(refrigerant, pressure).temperature - ZERO_C_IN_K


def take_readings(run, instruments=None, seed=0):
    """Read a run off with instruments that are a little wrong.

    Parameters
    ----------
    run : BenchRun
        The run.
    instruments : Instruments or None
        Their errors; None: the usual ones [kPa, K].
    seed : int
        The same seed gives the same errors.

    Returns
    -------
    Readings
        What is read, and what the shop works out from it.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Errors are independent and normal (assumed). Superheat is evaporator-outlet temperature less the P-T chart's for
    the low gauge; subcooling the chart's for the high gauge less the condenser-outlet temperature. The two gauges sit
    away from those places, so the drop in the lines is in the result, as it is in the shop. A sight glass shows
    bubbles also with some healthy oils and at start-up; that is not modelled.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> run = run_bench("sedan")
    >>> take_readings(run, EXACT).low_side_kpa_gauge == run.low_side_kpa_gauge
    True
    >>> take_readings(run, seed=3) == take_readings(run, seed=3)
    True
    """
    instruments = Instruments() if instruments is None else instruments
    noise = iter(np.random.default_rng(seed).standard_normal(8))

    def off(value, error):
        return value + error * float(next(noise))

    low = off(run.low_side_kpa_gauge, instruments.low_gauge_kpa)
    high = off(run.high_side_kpa_gauge, instruments.high_gauge_kpa)
    pipe = instruments.pipe_thermometer_k
    points = {point.name: point.temperature_c for point in run.cycle_points}
    evaporator = off(points.get("evaporator_outlet", run.evaporating_c), pipe)
    condenser = off(points.get("condenser_outlet", run.condensing_c), pipe)
    boiling = _saturation_c(run.system.refrigerant, low, run.conditions.altitude)
    condensing = _saturation_c(run.system.refrigerant, high, run.conditions.altitude)
    return Readings(
        low,
        high,
        evaporator,
        condenser,
        off(run.liquid_line_c, pipe),
        off(run.suction_line_c, pipe),
        off(run.discharge_c, pipe),
        off(run.vent_c, instruments.vent_thermometer_k),
        None if boiling is None else evaporator - boiling,
        None if condensing is None else condensing - condenser,
        run.sight_glass,
    )
