"""The one door to the simulator: car, weather, charge and faults in; everything a technician could read out."""

from dataclasses import replace

from course.errors import check_range
from course.physics.at_rest import rest_state
from course.physics.car_file import load_system
from course.physics.circuit import prepare
from course.physics.faults import close_metering, with_faults
from course.physics.report import at_rest_run, between, running_run
from course.physics.solver import solve_circuit
from course.physics.system import MOST_CHARGE_FRACTION, CarSystem, conditions

LEAST_SOLVED_PUMPING = 0.1  # - share of pumping below which readings are taken in proportion between 0.1 and rest
ICE_STARTS = 274.15  # K at the metering outlet, at which ice begins to hold; assumed
ICE_FULL = 272.15  # K, at which it grows as far as it can; assumed


def _with_ice(system, evaporating):
    """The car at the moment ice has closed its metering device, judged by how cold the device was while it was clear."""
    cold = min(max((ICE_STARTS - evaporating) / (ICE_STARTS - ICE_FULL), 0.0), 1.0)
    closed = system.ice_in_metering * cold
    return close_metering(system, closed), closed


def _start(previous, length):
    if previous is None or len(previous.extra.get("trial", ())) != length:
        return None, None
    return previous.extra["trial"], previous.extra["slopes"]


def _solve(system, weather, charge, previous):
    """The running state, ice included; returns march, start values, slopes, marches, circuit, closed by ice."""
    circuit = prepare(system, weather, charge)
    length = 3 if hasattr(system.metering, "open_share") else 4
    solved = solve_circuit(circuit, *_start(previous, length))
    if system.ice_in_metering == 0.0:
        return (*solved, circuit, 0.0)
    iced, closed = _with_ice(system, solved[0].evaporator_saturation.temperature)
    if closed == 0.0:
        return (*solved, circuit, 0.0)
    circuit = prepare(iced, weather, charge)
    frozen = solve_circuit(circuit, solved[1])
    return frozen[0], solved[1], None, solved[3] + frozen[3], circuit, closed


def _held_off(system, rest, weather):
    gauge = rest.pressure - weather.air_pressure
    return gauge < system.controls.low_pressure_lockout


def run_bench(
    system,
    *,
    ambient_c=35.0,
    relative_humidity=0.40,
    cabin_c=None,
    compressor_rpm=1500.0,
    road_speed_km_h=0.0,
    blower_fraction=1.0,
    recirculate=False,
    altitude_m=0.0,
    charge_fraction=1.0,
    faults=None,
    previous=None,
):
    """Run a car's A/C until it has settled, in any weather, at any charge, with any faults.

    Parameters
    ----------
    system : str or CarSystem
        An id from data/systems, or a car.
    ambient_c : float
        Outside air, 10 to 50 [°C].
    relative_humidity : float
        0.05 to 0.95 [-].
    cabin_c : float or None
        Cabin air when recirculating, 5 to 60; None: as warm as outside [°C].
    compressor_rpm : float
        Compressor speed, 600 to 6000 [1/min].
    road_speed_km_h : float
        0 to 200 [km/h].
    blower_fraction : float
        0.2 to 1 [-].
    recirculate : bool
        Whether the evaporator breathes cabin air.
    altitude_m : float
        0 to 3,000 [m].
    charge_fraction : float
        Share of the label charge, 0 to 1.4 [-].
    faults : dict of str to float, or None
        Severity 0 to 1 for each fault id [-].
    previous : BenchRun or None
        An earlier run to start from; it makes a small change quick and does not alter the answer.

    Returns
    -------
    BenchRun
        Pressures, temperatures, heat, masses, notes.

    Raises
    ------
    UnknownChoice, OutOfRange
        When a name is unknown or a value outside its range.
    CycleNotSolved
        When no steady state is found.

    Notes
    -----
    Steady state; see cycle.march for the parts and solver for the search. A compressor held off by its low-pressure
    lock-out, or that pumps nothing, is at rest. Below a tenth of its pumping (a broken compressor or a clutch that
    lets go) readings lie in proportion between that tenth and rest. Moisture is shown at the moment ice has closed the
    device. Nothing is validated against a car: no published table of car pressures against charge was found.

    Examples
    --------
    An invented sedan, healthy and half empty, on a 35 °C day:

    >>> full = run_bench("sedan")
    >>> short = run_bench("sedan", charge_fraction=0.3)
    >>> short.low_side_kpa_gauge < full.low_side_kpa_gauge and short.superheat_k > full.superheat_k
    True
    """
    car = load_system(system) if not isinstance(system, CarSystem) else system
    weather = conditions(
        ambient_c=ambient_c,
        relative_humidity=relative_humidity,
        cabin_c=cabin_c,
        compressor_rpm=compressor_rpm,
        road_speed_km_h=road_speed_km_h,
        blower_fraction=blower_fraction,
        recirculate=recirculate,
        altitude_m=altitude_m,
    )
    fraction = check_range(
        "charge", charge_fraction, 0.0, MOST_CHARGE_FRACTION, "of the label charge", "give it as a share of one"
    )
    faults = dict(faults or {})
    faulty = with_faults(car, faults)
    charge = fraction * car.label_charge
    setting = (car, faulty, weather, fraction, faults)
    coldest = weather.ambient if weather.cabin is None else min(weather.ambient, weather.cabin)
    rest = rest_state(faulty, coldest, charge, faulty.air_mass)
    pumping = faulty.compressor.pumping_share * faulty.compressor.clutch_share
    if _held_off(faulty, rest, weather) or pumping == 0.0:
        return at_rest_run(setting, rest, charge)
    share = min(pumping / LEAST_SOLVED_PUMPING, 1.0)
    solvable = faulty
    if share < 1.0:
        solvable = replace(
            faulty, compressor=replace(faulty.compressor, pumping_share=LEAST_SOLVED_PUMPING, clutch_share=1.0)
        )
    solved = _solve(solvable, weather, charge, previous)
    run = running_run(setting, *solved)
    if share < 1.0:
        return between(at_rest_run(setting, rest, charge), run, share)
    return run


def charge_curve(system, fractions=None, **settings):
    """The same car in the same weather at one charge after another: the charge curve.

    Parameters
    ----------
    system : str or CarSystem
        An id from data/systems, or a car.
    fractions : sequence of float or None
        Shares of the label charge; None: 0.1 to 1.4 in steps of 0.05 [-].
    **settings
        Everything else run_bench takes, in its units [as run_bench].

    Returns
    -------
    tuple of BenchRun
        One run for each charge, in the order given.

    Raises
    ------
    UnknownChoice, OutOfRange, CycleNotSolved
        As run_bench.

    Notes
    -----
    Each run starts from the one before.

    Examples
    --------
    >>> [run.charge_fraction for run in charge_curve("pickup", (0.5, 1.0))]
    [0.5, 1.0]
    """
    if fractions is None:
        fractions = [step / 20.0 for step in range(2, 29)]
    runs, previous = [], None
    for fraction in fractions:
        previous = run_bench(system, charge_fraction=fraction, previous=previous, **settings)
        runs.append(previous)
    return tuple(runs)
