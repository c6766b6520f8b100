"""From a solved circuit to what the bench reports: gauge pressures, temperatures, heat, masses and plain notes."""

from dataclasses import fields, replace
from typing import NamedTuple

from course.physics import notes
from course.physics.compressor import gas_at_enthalpy
from course.physics.evaporator import coil_air, leaving_air
from course.physics.refrigerant import saturation_at_pressure
from course.physics.system import BenchRun, CyclePoint
from course.units import ZERO_C_IN_K

HEATER_CORE_AIR = 333.15  # K: 60 °C, air past a heater core of a warm engine; assumed
BUBBLE_QUALITY = 0.002  # - vapour share leaving the receiver at which a sight glass shows bubbles; assumed
EMPTY_QUALITY = 0.9  # - above which there is hardly any liquid to see; assumed


class Energy(NamedTuple):
    """Heat taken up in the evaporator, shaft power, stated losses [W] and coefficient of performance [-]."""

    capacity: float
    power: float
    losses: float
    cop: float


def _sight_glass(system, quality):
    if not system.sight_glass:
        return "none"
    if quality < BUBBLE_QUALITY:
        return "clear"
    return "bubbles" if quality < EMPTY_QUALITY else "empty"


def _evaporator_outlet(system, march):
    """Temperature at the evaporator outlet and its superheat, at the outlet's own pressure."""
    at = march.evaporator_saturation
    enthalpy = march.evaporator_outlet.enthalpy
    if enthalpy <= at.vapour_enthalpy:
        return at.temperature, 0.0
    temperature, _ = gas_at_enthalpy(system.refrigerant, enthalpy, at, march.evaporator_outlet.temperature)
    return temperature, temperature - at.temperature


def _liquid_line_temperature(march):
    if march.metering_quality > 0.0:
        return min(march.metering_saturation.temperature, march.condenser_outlet.temperature)
    return march.condenser_outlet.temperature


def _points(system, march, partial):
    """Corner points of the cycle for the P-h chart, with the refrigerant's own pressure where air adds to it."""
    condenser, metering, evaporator = march.condenser_saturation, march.metering_saturation, march.evaporator_saturation
    outlet_temperature, _ = _evaporator_outlet(system, march)
    end = march.condenser_outlet
    points = [
        ("compressor_inlet", march.suction.pressure, march.suction.enthalpy, march.suction.temperature),
        (
            "compressor_outlet",
            march.discharge_saturation.pressure - partial,
            march.pumping.discharge_enthalpy,
            march.pumping.discharge_temperature,
        ),
        ("condenser_inlet", condenser.pressure, march.pumping.discharge_enthalpy, march.pumping.discharge_temperature),
    ]
    if march.pumping.discharge_enthalpy > condenser.vapour_enthalpy > end.enthalpy:
        points.append(("condensing_starts", condenser.pressure, condenser.vapour_enthalpy, condenser.temperature))
    if end.enthalpy < condenser.liquid_enthalpy:
        points.append(("condensing_ends", condenser.pressure, condenser.liquid_enthalpy, condenser.temperature))
    points += [
        ("condenser_outlet", condenser.pressure, end.enthalpy, end.temperature),
        ("metering_inlet", metering.pressure - partial, end.enthalpy, _liquid_line_temperature(march)),
        ("evaporator_inlet", evaporator.pressure, end.enthalpy, evaporator.temperature),
    ]
    if end.enthalpy < evaporator.vapour_enthalpy < march.evaporator_outlet.enthalpy:
        points.append(("evaporation_ends", evaporator.pressure, evaporator.vapour_enthalpy, evaporator.temperature))
    points.append(("evaporator_outlet", evaporator.pressure, march.evaporator_outlet.enthalpy, outlet_temperature))
    return tuple(CyclePoint(name, p / 1e3, h / 1e3, t - ZERO_C_IN_K) for name, p, h, t in points)


def cycle_energy(flow, end_enthalpy, outlet, suction, pumping):
    """What a cycle cools, what it costs and what it gives off on the way, from its corner states.

    Parameters
    ----------
    flow : float
        Refrigerant flow [kg/s].
    end_enthalpy : float
        Enthalpy of the liquid that leaves the condenser and enters the evaporator [J/kg].
    outlet, suction : Fluid
        Refrigerant at the evaporator outlet and at the compressor inlet [J/kg].
    pumping : Pumping
        What the compressor does [W].

    Returns
    -------
    Energy
        Capacity, shaft power and stated losses [W], COP [-].

    Raises
    ------
    ZeroDivisionError
        When the compressor takes no power.

    Notes
    -----
    Energy balance of a steady flow; expansion gives off no heat. Losses: the shell gives heat off, the suction line takes
    it up. Kinetic and potential energy are left out.

    Examples
    --------
    A textbook cycle, 0.05 kg/s between 0.14 and 0.8 MPa (Cengel and Boles, example 11-1: 7.18 kW and COP 3.97), with the
    compressor's work taken from the book:

    >>> from course.physics.compressor import Pumping
    >>> from course.physics.refrigerant import saturation_at_pressure, vapour
    >>> low, high = (saturation_at_pressure("R134a", pressure) for pressure in (1.4e5, 8.0e5))
    >>> gas = vapour("R134a", low.pressure, low.temperature)
    >>> pumping = Pumping(0.05, gas.enthalpy + 36.23e3, 0.0, 0.0, 1811.5, 0.0)
    >>> energy = cycle_energy(0.05, high.liquid_enthalpy, gas, gas, pumping)
    >>> round(energy.capacity / 1e3, 2), round(energy.cop, 2)
    (7.18, 3.97)
    """
    capacity = flow * (outlet.enthalpy - end_enthalpy)
    losses = pumping.shell_heat - flow * (suction.enthalpy - outlet.enthalpy)
    return Energy(capacity, pumping.power, losses, capacity / pumping.power)


def _energy(march):
    return cycle_energy(
        march.flow, march.condenser_outlet.enthalpy, march.evaporator_outlet, march.suction, march.pumping
    )


def _condenser_heat(march):
    return march.first_pass.heat + (march.last_pass.heat if march.last_pass else 0.0)


def _residuals(march, energy):
    condenser_heat = _condenser_heat(march)
    names = ("refrigerant flow", "evaporator", "charge", "condenser outlet")
    residuals = dict(zip(names, march.imbalance, strict=False))
    excess = energy.power + energy.capacity - condenser_heat - energy.losses
    residuals["energy"] = excess / max(condenser_heat, 1e-9)
    return residuals


def running_run(setting, march, trial, slopes, marches, circuit, closed_by_ice):
    """The report of a car whose compressor pumps.

    Parameters
    ----------
    setting : tuple
        Healthy car, faulty car, Conditions, charge share [-], faults.
    march : March
        The solved circuit.
    trial, slopes : array
        Start values for the next run.
    marches : int
        Marches it took.
    circuit : Circuit
        What was solved.
    closed_by_ice : float
        Share of the metering device closed by ice [-].

    Returns
    -------
    BenchRun
        The report.

    Raises
    ------
    OutOfRange
        When the air leaves what moist_air covers.

    Notes
    -----
    Subcooling is worked out as in the shop, from the gauge pressure: air in the system makes it look higher.

    Examples
    --------
    See course.physics.bench.run_bench.
    """
    car, faulty, weather, fraction, faults = setting
    ref, atmosphere, partial = car.refrigerant, weather.air_pressure, march.air_partial_pressure
    end = march.condenser_outlet
    outlet_total = march.condenser_saturation.pressure + partial
    at_gauge = march.condenser_saturation if partial == 0.0 else saturation_at_pressure(ref, outlet_total)
    high = march.discharge_saturation.pressure if car.high_side_port == "discharge_line" else outlet_total
    air = leaving_air(
        circuit.system.evaporator, circuit.coil_air, march.coil, march.evaporator_saturation, HEATER_CORE_AIR
    )
    energy = _energy(march)
    _, superheat = _evaporator_outlet(faulty, march)
    faults_share = faulty.compressor.pumping_share * faulty.compressor.clutch_share
    run = BenchRun(
        system=car,
        conditions=weather,
        charge_fraction=fraction,
        faults=faults,
        low_side_kpa_gauge=(march.suction.pressure - atmosphere) / 1e3,
        high_side_kpa_gauge=(high - atmosphere) / 1e3,
        evaporating_c=march.evaporator_saturation.temperature - ZERO_C_IN_K,
        condensing_c=march.condenser_saturation.temperature - ZERO_C_IN_K,
        superheat_k=superheat,
        subcooling_k=max(at_gauge.temperature - end.temperature, 0.0),
        compressor_suction_superheat_k=march.suction.temperature - march.suction_saturation.temperature,
        discharge_c=march.pumping.discharge_temperature - ZERO_C_IN_K,
        liquid_line_c=_liquid_line_temperature(march) - ZERO_C_IN_K,
        evaporator_inlet_c=march.evaporator_saturation.temperature - ZERO_C_IN_K,
        suction_line_c=march.suction.temperature - ZERO_C_IN_K,
        vent_c=air.vent - ZERO_C_IN_K,
        condensate_kg_h=air.condensate * 3600.0,
        capacity_w=energy.capacity,
        compressor_power_w=energy.power,
        condenser_heat_w=_condenser_heat(march),
        stated_losses_w=energy.losses,
        cop=energy.cop,
        refrigerant_kg_s=march.flow,
        pressure_ratio=march.discharge_saturation.pressure / march.suction.pressure,
        charge_kg=circuit.charge,
        inventory_kg=march.masses,
        reserve_kg=march.reserve,
        clutch_on_fraction=march.share * faults_share,
        sight_glass=_sight_glass(car, end.quality),
        cycle_points=_points(faulty, march, partial),
        residuals=_residuals(march, energy),
        iterations=marches,
        notes=(),
        extra={"trial": trial, "slopes": slopes},
    )
    return replace(run, notes=notes.running_notes(run, faulty, march, air, closed_by_ice))


def at_rest_run(setting, rest, charge):
    """The report of a car whose compressor stands or turns without pumping.

    Parameters
    ----------
    setting : tuple
        Healthy car, faulty car, Conditions, charge share [-], faults.
    rest : Rest
        Pressures at rest [Pa].
    charge : float
        Refrigerant [kg].

    Returns
    -------
    BenchRun
        The report: equal pressures, no flow, no cooling.

    Raises
    ------
    OutOfRange
        When the air is beyond what moist_air covers.

    Notes
    -----
    The liquid gathers in the coldest part: the evaporator when the cabin is cooler than outside, else it is counted
    with the storage vessel.

    Examples
    --------
    See course.physics.bench.run_bench.
    """
    car, faulty, weather, fraction, faults = setting
    inlet = coil_air(faulty.evaporator, weather).inlet.temperature
    vent = inlet + faulty.evaporator.warm_air_share * (HEATER_CORE_AIR - inlet)
    gauge = (rest.pressure - weather.air_pressure) / 1e3
    temperature = rest.temperature - ZERO_C_IN_K
    vapour = (charge - rest.liquid) / car.volume
    volumes = {
        "compressor": car.compressor.volume,
        "discharge line": car.discharge_line.volume,
        "condenser": car.condenser.volume,
        "liquid line": car.liquid_line.volume,
        "evaporator": car.evaporator.volume,
        "suction line": car.suction_line.volume,
        car.storage.kind: car.storage.volume,
    }
    masses = {part: vapour * volume for part, volume in volumes.items()}
    masses[car.storage.kind] += rest.liquid
    run = BenchRun(
        system=car,
        conditions=weather,
        charge_fraction=fraction,
        faults=faults,
        low_side_kpa_gauge=gauge,
        high_side_kpa_gauge=gauge,
        evaporating_c=temperature,
        condensing_c=temperature,
        superheat_k=0.0,
        subcooling_k=0.0,
        compressor_suction_superheat_k=0.0,
        discharge_c=weather.ambient - ZERO_C_IN_K,
        liquid_line_c=weather.ambient - ZERO_C_IN_K,
        evaporator_inlet_c=inlet - ZERO_C_IN_K,
        suction_line_c=weather.ambient - ZERO_C_IN_K,
        vent_c=vent - ZERO_C_IN_K,
        condensate_kg_h=0.0,
        capacity_w=0.0,
        compressor_power_w=0.0,
        condenser_heat_w=0.0,
        stated_losses_w=0.0,
        cop=0.0,
        refrigerant_kg_s=0.0,
        pressure_ratio=1.0,
        charge_kg=charge,
        inventory_kg=masses,
        reserve_kg=rest.liquid,
        clutch_on_fraction=0.0,
        sight_glass="none" if not car.sight_glass else ("clear" if rest.liquid > 0.0 else "empty"),
        cycle_points=(),
        residuals={"charge": (sum(masses.values()) - charge) / car.label_charge, "energy": 0.0},
        iterations=0,
        notes=(),
    )
    return replace(run, notes=notes.rest_notes(run, faulty))


def between(rest, run, share):
    """A report in proportion between rest and a running state.

    Parameters
    ----------
    rest, run : BenchRun
        The two ends.
    share : float
        0 at rest, 1 running [-].

    Returns
    -------
    BenchRun
        Every number in proportion; masses and heats still balance, being sums.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Used below a tenth of a compressor's pumping, where pressures drift together over minutes and no steady state is
    solved; common practice, no source, knows only that they meet.

    Examples
    --------
    >>> from course.physics.bench import run_bench
    >>> faint = run_bench("sedan", faults={"clutch_not_engaged": 0.97})
    >>> 0.0 < faint.clutch_on_fraction < 0.1
    True
    """
    changes = {}
    for field in fields(run):
        low, high = getattr(rest, field.name), getattr(run, field.name)
        if isinstance(high, float) and field.name not in ("charge_kg", "charge_fraction"):
            changes[field.name] = low + share * (high - low)
    changes["inventory_kg"] = {
        part: mass + share * (run.inventory_kg[part] - mass) for part, mass in rest.inventory_kg.items()
    }
    changes["cop"] = changes["capacity_w"] / changes["compressor_power_w"]
    return replace(run, **changes, notes=run.notes + notes.HARDLY_PUMPING)
