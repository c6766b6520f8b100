"""The cycle as the P-h chart shows it: its loop, its superheat and subcooling stretches, and the sentence for it."""

from course.charts.style import ENTHALPY_LIMITS_KJ_KG
from course.charts.words import degrees, pressure_number
from course.units import PA_PER_KPA, absolute_from_gauge_pa

LEAST_STRETCH_KJ_KG = 0.3  # narrower superheat or subcooling (about a quarter of a kelvin) is not drawn; assumed


def loop_of(run):
    """The cycle as a closed line, and the stretches of superheat and subcooling in it.

    Parameters
    ----------
    run : BenchRun
        The run.

    Returns
    -------
    tuple of list
        Loop, superheat stretch and subcooling stretch as points [kJ/kg, kPa absolute]; a list is empty where there is
        no such stretch.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Straight from corner to corner; the curve of compression is not drawn.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> loop, superheat, subcooling = loop_of(run_bench("compact"))
    >>> loop[0] == loop[-1], len(superheat), len(subcooling)
    (True, 2, 2)
    """
    named = {point.name: (point.enthalpy_kj_kg, point.pressure_kpa_absolute) for point in run.cycle_points}

    def stretch(*names):
        ends = [named[name] for name in names if name in named]
        wide = len(ends) == 2 and abs(ends[1][0] - ends[0][0]) >= LEAST_STRETCH_KJ_KG
        return ends if wide else []

    points = list(named.values())
    superheat = stretch("evaporation_ends", "evaporator_outlet")
    return points + points[:1], superheat, stretch("condensing_ends", "condenser_outlet")


def rest_pressure_kpa(run):
    """The pressure at which both sides of a car at rest stand.

    Parameters
    ----------
    run : BenchRun
        A run that does not pump.

    Returns
    -------
    float
        Absolute pressure [kPa].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Air in the circuit counts, as it does on a gauge.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> round(rest_pressure_kpa(run_bench("sedan", charge_fraction=0.0)))
    0
    """
    return absolute_from_gauge_pa(run.low_side_kpa_gauge * PA_PER_KPA, run.conditions.altitude) / PA_PER_KPA


def off_chart(run):
    """The hottest corner of a cycle, where it lies right of the chart.

    Parameters
    ----------
    run : BenchRun
        A run that pumps.

    Returns
    -------
    CyclePoint or None
        The corner; None where the cycle fits.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    A starved compressor can run far beyond what a chart of fixed limits shows.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> print(off_chart(run_bench("sedan")))
    None
    """
    hottest = max(run.cycle_points, key=lambda point: point.enthalpy_kj_kg)
    return hottest if hottest.enthalpy_kj_kg > ENTHALPY_LIMITS_KJ_KG[run.system.refrigerant][1] else None


def describe_pressure_enthalpy(run, units):
    """The cycle in one sentence.

    Parameters
    ----------
    run : BenchRun
        The run.
    units : DisplayUnits
        The learner's units.

    Returns
    -------
    str
        The sentence.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Heat and work as the chart's widths show them.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> from course.units import display_units
    >>> describe_pressure_enthalpy(run_bench("sedan", charge_fraction=0.0), display_units("psi_f"))
    'The compressor does not pump: both sides stand at 0 psi absolute, and there is no cycle on the P-h chart.'
    """
    if not run.cycle_points:
        absolute = rest_pressure_kpa(run)
        return (
            f"The compressor does not pump: both sides stand at {pressure_number(absolute, units)} {units.pressure} "
            "absolute, and there is no cycle on the P-h chart."
        )
    hottest = off_chart(run)
    beyond = (
        f" Its hottest corner, {degrees(hottest.temperature_c, units)}, lies right of the chart." if hottest else ""
    )
    return (
        f"The cycle boils at {degrees(run.evaporating_c, units)} and condenses at {degrees(run.condensing_c, units)}; "
        f"it carries {run.capacity_w / 1000:.1f} kW of heat for {run.compressor_power_w / 1000:.1f} kW of shaft power."
        + beyond
    )
