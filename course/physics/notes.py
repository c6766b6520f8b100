"""Plain sentences that go with a run: what the switches did, what freezes, what the picture leaves out."""

from course.physics.expansion_device import LARGEST_FITTED_SUBCOOLING
from course.physics.faults import fits
from course.physics.moist_air import FREEZING
from course.physics.refrigerant import REFRIGERANTS
from course.tables import read_faults
from course.units import PA_PER_KPA, PA_PER_PSI

SWITCH_NOTED = 0.98  # - share of full pumping below which a switch or stroke control is said to act
CUT_OUT_NOTED = 50.0e3  # Pa below the cut-out from which it is what holds the pumping back; wider than its band
WET_NOTED = 0.02  # - liquid share at the compressor inlet worth a warning; assumed
RELIEF_MARGIN = 0.95  # - share of the relief pressure at which it is mentioned; assumed
HARDLY_PUMPING = ("The compressor hardly pumps: the two pressures drift together.",)


def both_units(pressure_pa):
    """A pressure in kPa and psi, so that a note reads in either shop.

    Parameters
    ----------
    pressure_pa : float
        Gauge pressure [Pa].

    Returns
    -------
    str
        Such as "128 kPa (19 psi)".

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Rounded to whole units.

    Examples
    --------
    >>> both_units(128e3)
    '128 kPa (19 psi)'
    """
    return f"{pressure_pa / PA_PER_KPA:.0f} kPa ({pressure_pa / PA_PER_PSI:.0f} psi)"


def _control_notes(run, march):
    controls = run.system.controls
    atmosphere = run.conditions.air_pressure
    high = march.discharge_saturation.pressure - atmosphere
    sentences = []
    near_cut_out = high > controls.high_pressure_cut_out - CUT_OUT_NOTED
    if near_cut_out and march.share < SWITCH_NOTED:
        sentences.append(
            f"The high-pressure cut-out cycles the compressor between {both_units(controls.high_pressure_cut_out)} and "
            f"{both_units(controls.high_pressure_cut_in)} gauge; the readings are those just before it opens."
        )
    elif march.share < SWITCH_NOTED:
        hold, cut_in = both_units(controls.low_side_hold), both_units(controls.low_side_cut_in)
        sentences.append(
            {
                "cycling_switch": f"The clutch cycles: the low side swings between {hold} and {cut_in} gauge; "
                "the readings are those just before it lets go.",
                "evaporator_thermostat": f"The evaporator sensor cycles the clutch: the low side swings between {hold} "
                f"and about {cut_in} gauge; the readings are those just before it lets go.",
                "variable_stroke": f"The compressor has shortened its stroke to hold the low side near {hold} gauge.",
            }[controls.low_side_control]
        )
    if high > RELIEF_MARGIN * controls.relief_pressure:
        sentences.append(f"Danger: the relief valve opens at {both_units(controls.relief_pressure)} gauge.")
    return sentences


def running_notes(run, faulty, march, air, closed_by_ice):
    """The sentences that go with a car whose compressor pumps.

    Parameters
    ----------
    run : BenchRun
        The report so far.
    faulty : CarSystem
        The car with its faults.
    march : March
        The solved circuit.
    air : AirOut
        The air after the coil [K].
    closed_by_ice : float
        Share of the metering device closed by ice [-].

    Returns
    -------
    tuple of str
        The sentences, most urgent first.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Pressures are given in kPa and psi.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> run_bench("sedan", charge_fraction=1.4, ambient_c=45.0, compressor_rpm=3000.0).notes[0][:33]
    'The high-pressure cut-out cycles '
    """
    sentences = _control_notes(run, march)
    if march.wetness > WET_NOTED:
        sentences.append("Liquid refrigerant returns to the compressor.")
    if run.low_side_kpa_gauge < 0.0:
        sentences.append("The low side is in vacuum.")
    if air.surface < FREEZING:
        sentences.append("The evaporator surface is below freezing: ice will build up and block the air.")
    if closed_by_ice > 0.0:
        sentences.append(
            "Ice has closed part of the metering device: shown at the frozen moment; it thaws, reads normal, and "
            "freezes again."
        )
    elif faulty.ice_in_metering > 0.0:
        sentences.append("The metering device is too warm for the moisture to freeze today.")
    if faulty.air_mass > 0.0:
        sentences.append(
            "Air adds its own pressure on the high side, so subcooling worked out from the gauge looks high."
        )
    if (
        march.metering_quality <= 0.0
        and run.subcooling_k > LARGEST_FITTED_SUBCOOLING
        and hasattr(faulty.metering, "length")
    ):
        sentences.append("The orifice flow is outside its published range here and was continued in a straight line.")
    return tuple(sentences + _misfits(run))


def _misfits(run):
    names = read_faults()
    return [
        f"{names[fault].name}: this car has no expansion valve, so the fault changes nothing."
        for fault, severity in run.faults.items()
        if severity > 0.0 and not fits(fault, run.system)
    ]


def rest_notes(run, faulty):
    """The sentences that go with a car at rest.

    Parameters
    ----------
    run : BenchRun
        The report so far.
    faulty : CarSystem
        The car with its faults.

    Returns
    -------
    tuple of str
        The sentences.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    An evacuated circuit reads full vacuum; one that leaked empty holds air and reads zero.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> run_bench("pickup", charge_fraction=0.0).notes[0]
    'There is no refrigerant in the circuit.'
    """
    sentences = []
    lockout = run.system.controls.low_pressure_lockout
    if run.charge_kg == 0.0:
        sentences.append("There is no refrigerant in the circuit.")
        if faulty.air_mass == 0.0:
            sentences.append(
                "The gauges show an evacuated circuit; one that leaked empty would hold air and read zero."
            )
    if run.low_side_kpa_gauge * PA_PER_KPA < lockout:
        sentences.append(
            f"The low-pressure switch holds the compressor off: it needs {both_units(lockout)} gauge at rest."
        )
    if faulty.compressor.clutch_share == 0.0:
        sentences.append("The clutch does not engage: both gauges stay at the standing pressure.")
    if faulty.compressor.pumping_share == 0.0:
        sentences.append("The compressor turns but pumps nothing: both gauges stay at the standing pressure.")
    if run.reserve_kg > 0.0:
        name = REFRIGERANTS[run.system.refrigerant]
        sentences.append(f"Liquid {name} is left, so the pressure shows the temperature, not how much there is.")
    return tuple(sentences + _misfits(run))
