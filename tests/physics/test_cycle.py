"""Once round the loop, part by part: what each leaves to the next, by sums of the test's own over one march.

A march is looked at twice: in balance, and pushed out of it, where its imbalances must say by how much.
"""

import math
from dataclasses import replace

import pytest

from course.physics.car_file import load_system
from course.physics.circuit import (
    buffer,
    discharge_from_variable,
    prepare,
    reach_and_wetness,
    suction_from_variable,
    variable_from_suction,
)
from course.physics.condenser import condenser_air, slice_effectiveness
from course.physics.controls import pumping_share
from course.physics.cycle import LEAST_FLOW, march
from course.physics.evaporator import boiling_heat
from course.physics.expansion_device import metering_flow
from course.physics.faults import with_faults
from course.physics.refrigerant import saturation_at_temperature, vapour
from course.physics.solver import solve_circuit
from course.physics.system import OrificeTube, conditions
from course.units import STANDARD_ATMOSPHERE_PA

OUT = (0.06, 0.2, 0.1, 0.15)  # how far the trial values of a balance are pushed to lose it [-]
AFAR = (-0.25, -0.8, -0.15, -0.2)
STATES = {
    "usual": ({}, 1.0, {}),
    "fast and wet": ({"compressor_rpm": 3500.0, "relative_humidity": 0.8, "road_speed_km_h": 60.0}, 1.0, {}),
    "mountain": ({"altitude_m": 2500.0, "ambient_c": 28.0}, 1.0, {}),
    "short": ({}, 0.45, {}),
    "nearly empty": ({}, 0.1, {}),
    "overfull": ({"ambient_c": 30.0}, 1.35, {}),
    "air": ({}, 1.0, {"air_in_system": 0.6}),
    "blocked line": ({}, 1.0, {"restricted_liquid_line": 0.6}),
    "worn": ({}, 0.9, {"worn_compressor": 0.5}),
    "open valve": ({"compressor_rpm": 2500.0}, 1.0, {"txv_stuck_open": 0.8}),
}
PUSHED = {"balanced": (0.0, 0.0, 0.0, 0.0), "out": OUT, "afar": AFAR}
EVERYWHERE = [
    pytest.param(car, state, push, id=f"{car}, {state}, {push}")
    for car in ("pickup", "sedan", "compact")
    for state in STATES
    for push in PUSHED
    if not (car == "pickup" and state == "open valve")
]
_solved = {}


def prepared(car, state):
    settings, share, faults = STATES[state]
    system = load_system(car)
    return prepare(with_faults(system, faults), conditions(**settings), share * system.label_charge)


def marched(car, state, push):
    """The circuit, its trial values and the march, in balance or pushed out of it."""
    circuit = prepared(car, state)
    if (car, state) not in _solved:
        _solved[car, state] = solve_circuit(circuit)[1]
    trial = [float(value + step) for value, step in zip(_solved[car, state], PUSHED[push], strict=False)]
    return circuit, trial, march(circuit, trial)


def mixture(saturated, quality):
    """Density of liquid and vapour that fill the pipe side by side: their volumes add."""
    return 1.0 / (quality / saturated.vapour_density + (1.0 - quality) / saturated.liquid_density)


def close(value, rel=1e-9):
    return pytest.approx(value, rel=rel)


@pytest.mark.parametrize("car, state, push", EVERYWHERE)
def test_each_line_loses_pressure_by_its_own_flow_and_density(car, state, push):
    """Resistance x flow^2 / density; the rounding at the end of what there is to lose stays under 1e-4 of a drop."""
    circuit, _, at = marched(car, state, push)
    system, high = circuit.system, at.discharge_saturation.pressure
    drop = system.discharge_line.resistance * at.flow**2 / at.pumping.discharge_density
    if high > at.suction.pressure + 1e4:
        assert drop < 0.3 * (high - at.suction.pressure)
        assert high - at.air_partial_pressure - at.condenser_saturation.pressure == pytest.approx(drop, rel=1e-3)
    else:  # a trial with nothing to lose: the condenser stays just above the suction
        assert (car, state, push) == ("compact", "nearly empty", "afar")
        assert 0.0 < at.condenser_saturation.pressure - at.suction.pressure < 100.0
    end, condensing = at.condenser_outlet, at.condenser_saturation
    density = condensing.liquid_density if end.quality < 0.0 else mixture(condensing, min(end.quality, 1.0))
    drop = system.liquid_line.resistance * at.flow**2 / density
    available = condensing.pressure + at.air_partial_pressure - at.suction.pressure
    # Notes of pressure_left: what is lost of what there is to lose
    lost = drop / (1.0 + (drop / available) ** 8) ** 0.125
    assert at.metering_saturation.pressure == close(condensing.pressure + at.air_partial_pressure - lost, 1e-8)
    drop = system.suction_line.resistance * at.flow**2 / at.evaporator_outlet.density
    assert at.evaporator_saturation.pressure - at.suction.pressure == close(drop)


@pytest.mark.parametrize("car, state, push", EVERYWHERE)
def test_the_suction_gas_warms_towards_coil_air_and_then_engine_bay(car, state, push):
    """Superheat covers 1 - exp(-reach) of the way to the coil's air; the line 1 - exp(-UA/(m cp)) of that to the bay."""
    circuit, trial, at = marched(car, state, push)
    reach, wetness = reach_and_wetness(circuit, trial)
    pressure, above = suction_from_variable(circuit, trial[0], reach)
    assert (at.suction.pressure, at.wetness) == (pressure, wetness)
    assert at.discharge_saturation.pressure == discharge_from_variable(circuit, trial[1], pressure, above)
    assert at.evaporator_outlet.pressure == at.suction_saturation.pressure == pressure
    boiling = at.suction_saturation.temperature
    way = circuit.coil_air.inlet.temperature - boiling
    assert at.evaporator_outlet.temperature - boiling == pytest.approx(way * (1.0 - math.exp(-reach)), rel=1e-6)
    gas = vapour(circuit.system.refrigerant, pressure, at.evaporator_outlet.temperature)
    # seven tenths of the swept volume stand in for the flow here, as the model says
    swept = circuit.system.compressor.displacement * circuit.conditions.compressor_rpm / 60.0
    flow = 0.7 * swept * at.evaporator_outlet.density * at.share
    share = 1.0 - math.exp(-circuit.system.suction_line_conductance / (flow * gas.heat_capacity))
    bay = circuit.conditions.ambient + circuit.system.engine_bay_rise
    # liquid in the line boils before anything warms: 2 % of it leaves a rise of 1/e
    rise = (bay - gas.temperature) * share * math.exp(-wetness / 0.02)
    assert at.suction.temperature - gas.temperature == pytest.approx(rise, rel=1e-6, abs=1e-9)
    discharge_gauge = at.discharge_saturation.pressure - circuit.conditions.air_pressure
    assert at.share == pumping_share(circuit.system.controls, above, discharge_gauge)


@pytest.mark.parametrize("where", ["evaporator_outlet", "suction"])
@pytest.mark.parametrize("car, moved", [("pickup", {2: 1.1}), ("sedan", {3: -0.12}), ("compact", {3: -0.3})])
def test_liquid_in_the_suction_gas_adds_its_volume_and_lacks_its_heat(car, moved, where):
    """Mixture of gas and liquid drops: volumes, enthalpies and entropies of the two shares add up."""
    circuit, trial, _ = marched(car, "usual", "balanced")
    trial = [moved.get(place, value) for place, value in enumerate(trial)]
    at = march(circuit, trial)
    wet, saturated, share = getattr(at, where), at.suction_saturation, at.wetness
    assert 0.09 < share < 0.35
    gas = vapour(circuit.system.refrigerant, wet.pressure, wet.temperature)
    latent = saturated.vapour_enthalpy - saturated.liquid_enthalpy
    assert 1.0 / wet.density == close((1.0 - share) / gas.density + share / saturated.liquid_density)
    assert gas.enthalpy - wet.enthalpy == close(share * latent)
    # boiling at one temperature: entropy is heat over temperature
    assert (gas.entropy - wet.entropy) * saturated.temperature == close(share * latent)
    assert wet.heat_capacity == close(gas.heat_capacity)
    assert wet.pressure == at.suction_saturation.pressure


def test_a_trial_as_warm_as_the_air_has_no_superheat_left_but_its_rounding():
    """The difference to the air fades over 0.5 K: 0.5 ln 2 of it where there is none, nothing well beyond."""
    circuit, trial, _ = marched("sedan", "usual", "balanced")
    ref, air = circuit.system.refrigerant, circuit.coil_air.inlet.temperature
    reach, _ = reach_and_wetness(circuit, trial)
    for warmer, left in ((0.0, 0.5 * math.log(2.0)), (10.0, 0.0)):
        pressure = saturation_at_temperature(ref, air + warmer).pressure
        at = march(circuit, [variable_from_suction(circuit, pressure, reach), *trial[1:]])
        superheat = at.evaporator_outlet.temperature - at.suction_saturation.temperature
        assert superheat == pytest.approx(left * (1.0 - math.exp(-reach)), abs=1e-6)


@pytest.mark.parametrize("car, state, push", EVERYWHERE)
def test_the_condenser_has_as_much_core_as_it_has_and_gives_off_what_the_refrigerant_loses(car, state, push):
    circuit, _, at = marched(car, state, push)
    core = circuit.system.condenser
    entering, rest = at.pumping.discharge_enthalpy, 1.0 - core.subcooling_pass_fraction
    for part, area in ((at.first_pass, rest), (at.last_pass, core.subcooling_pass_fraction)):
        if part is None:
            assert area == 0.0
            continue
        assert part.vapour_area + part.condensing_area + part.liquid_area == close(area)
        assert part.heat == close(at.flow * (entering - part.enthalpy))
        entering = part.enthalpy
    assert (at.last_pass is None) == (core.subcooling_pass_fraction == 0.0)
    assert at.condenser_outlet is (at.last_pass or at.first_pass)
    # the condensing zone by itself: effectiveness x capacity rate x difference to the weather, in proportion to area
    first, saturated = at.first_pass, at.condenser_saturation
    gauge = at.discharge_saturation.pressure - circuit.conditions.air_pressure
    air = condenser_air(core, circuit.conditions, gauge)
    per_area = slice_effectiveness(core.conductance_condensing * air.flow_share**core.airflow_exponent, air)
    per_area *= air.capacity_rate * (saturated.temperature - circuit.conditions.ambient)
    latent = saturated.vapour_enthalpy - saturated.liquid_enthalpy
    condensed = at.flow * latent * (first.quality_in - max(first.quality, 0.0))
    assert first.condensing_area * per_area == close(condensed, 1e-8)
    # and its vapour zone begins at the temperature of the discharge gas
    if first.vapour_area > 0.0 and first.condensing_area > 0.0:
        span = (at.pumping.discharge_temperature - air.temperature) / (saturated.temperature - air.temperature)
        assert first.vapour_span == close(math.log(span))


def test_a_last_pass_of_a_twentieth_of_the_core_still_cools():
    circuit, trial, _ = marched("sedan", "usual", "balanced")
    core = replace(circuit.system.condenser, subcooling_pass_fraction=0.05)
    at = march(circuit._replace(system=replace(circuit.system, condenser=core)), trial)
    areas = at.last_pass.vapour_area + at.last_pass.condensing_area + at.last_pass.liquid_area
    assert areas == close(0.05)
    assert at.condenser_outlet.enthalpy < at.first_pass.enthalpy


@pytest.mark.parametrize("car, state, push", EVERYWHERE)
def test_every_part_holds_its_volume_times_its_density(car, state, push):
    circuit, trial, at = marched(car, state, push)
    system, level = circuit.system, buffer(trial[2])[0]
    at_outlet, passes = at.metering_saturation, [one for one in (at.first_pass, at.last_pass) if one]
    held = {
        "compressor": system.compressor.volume * at.suction.density,
        "discharge line": system.discharge_line.volume * at.pumping.discharge_density,
        "suction line": system.suction_line.volume * at.suction.density,
    }
    quality = at.metering_quality
    if quality > 0.0:
        held["liquid line"] = system.liquid_line.volume * mixture(at_outlet, min(quality, 1.0))
    assert at.masses == pytest.approx(at.masses | held, rel=1e-9)
    liquid = at.suction_saturation.liquid_density if circuit.orifice else at.first_pass.liquid_density
    above = (
        min(at.evaporator_outlet.density, at.suction_saturation.vapour_density)
        if circuit.orifice
        else at.condenser_saturation.vapour_density
    )
    usable = level * system.storage.usable_share * system.storage.volume
    assert at.level == level
    assert at.reserve == close(usable * liquid)
    assert at.masses[system.storage.kind] == close(usable * liquid + (system.storage.volume - usable) * above)
    # condenser and evaporator lie between all vapour and all liquid, and the condenser's liquid zones alone weigh this
    liquid_zones = sum(
        one.liquid_area * 0.5 * (at.condenser_saturation.liquid_density + one.liquid_density) for one in passes
    )
    assert at.masses["condenser"] > system.condenser.volume * liquid_zones
    assert at.masses["condenser"] < system.condenser.volume * at.condenser_saturation.liquid_density * 1.15
    assert at.masses["evaporator"] < system.evaporator.volume * at.evaporator_saturation.liquid_density
    assert at.masses["evaporator"] >= 0.99 * system.evaporator.volume * at.evaporator_saturation.vapour_density
    assert set(at.masses) == set(held) | {"condenser", "liquid line", "evaporator", system.storage.kind}


@pytest.mark.parametrize("car, state, push", EVERYWHERE)
def test_imbalances_say_what_is_missing(car, state, push):
    """Flow: ln(device / compressor); coil: core needed against core there is; charge: kg over the label's kg."""
    circuit, trial, at = marched(car, state, push)
    system, end = circuit.system, at.condenser_outlet
    superheat = at.evaporator_outlet.temperature - at.suction_saturation.temperature
    passed, density, quality = metering_flow(
        system.metering,
        system.refrigerant,
        at.metering_saturation,
        end.enthalpy,
        end.liquid_heat_capacity,
        at.evaporator_saturation.pressure,
        superheat - 10.0 * at.wetness,  # a tenth of liquid counts as a kelvin of superheat missed
    )
    # where next to nothing passes, what keeps a flow from being nothing shows
    assert at.imbalance[0] == pytest.approx(math.log(passed / at.flow), abs=1e-6 + LEAST_FLOW / passed)
    assert at.flow == pytest.approx(at.pumping.flow, rel=1e-6)
    assert at.metering_quality == close(quality)
    assert at.masses["liquid line"] == close(system.liquid_line.volume * density)
    needed = core_by_hand(circuit, trial, at)
    assert at.coil.needed == close(needed, 1e-8)
    assert at.imbalance[1] == pytest.approx(math.log(needed) if needed > 1.0 else needed - 1.0, abs=1e-8)
    assert at.imbalance[2] == pytest.approx((sum(at.masses.values()) - circuit.charge) / system.label_charge, abs=1e-12)
    assert len(at.imbalance) == (3 if isinstance(system.metering, OrificeTube) else 4)
    if not circuit.orifice:
        assert at.imbalance[3] == pytest.approx(receiver_by_hand(trial, at), abs=1e-9)
    if push == "balanced":
        assert max(abs(part) for part in at.imbalance) < 1e-9


@pytest.mark.parametrize("car", ["sedan", "compact"])
def test_a_tenth_of_liquid_at_the_bulb_counts_as_a_kelvin_of_superheat_missed(car):
    """A valve that opens from -3 to +3 K, worked by hand: share (superheat - 10 x liquid + 3) / 6 of C A sqrt(2 rho dp)."""
    circuit, trial, _ = marched(car, "usual", "balanced")
    valve = replace(circuit.system.metering, static_superheat=-3.0, full_open_superheat=3.0, bleed_area=0.0)
    at = march(circuit._replace(system=replace(circuit.system, metering=valve)), [*trial[:3], -0.12])
    superheat = at.evaporator_outlet.temperature - at.suction_saturation.temperature
    share = (superheat - 10.0 * at.wetness + 3.0) / 6.0
    assert 0.25 < share < 0.35
    density = at.masses["liquid line"] / circuit.system.liquid_line.volume
    difference = at.metering_saturation.pressure - at.evaporator_saturation.pressure
    wide_open = valve.discharge_coefficient * valve.largest_area * math.sqrt(2.0 * density * difference)
    passed = at.flow * math.exp(at.imbalance[0])
    assert passed == pytest.approx(share * wide_open, rel=0.005)  # the valve's edges are rounded over 0.4 K


def core_by_hand(circuit, trial, at):
    """Share of the core the refrigerant needs: heat to boil over heat of an all-boiling core, then the dry zone."""
    system, air, saturated = circuit.system, circuit.coil_air, at.evaporator_saturation
    full = boiling_heat(system.evaporator, air, saturated.temperature)
    latent = saturated.vapour_enthalpy - saturated.liquid_enthalpy
    boiled = at.flow * (saturated.vapour_enthalpy - at.wetness * latent - at.condenser_outlet.enthalpy)
    conductance = system.evaporator.conductance_vapour * air.flow_share**system.evaporator.airflow_exponent
    dry = air.capacity_rate * (1.0 - math.exp(-conductance / air.capacity_rate))
    reach, _ = reach_and_wetness(circuit, trial)
    return boiled / full + reach * at.flow * at.evaporator_outlet.heat_capacity / dry


def receiver_by_hand(trial, at):
    """How far the first pass leaves off what its receiver asks for, as a share of the heat of condensing.

    Part full: saturated liquid. Empty: vapour too, a share of 1 for one below. Overfull: 40 kJ/kg of subcooling for one above.
    """
    saturated = at.condenser_saturation
    latent = saturated.vapour_enthalpy - saturated.liquid_enthalpy
    _, below, above = buffer(trial[2])
    return (at.first_pass.enthalpy - saturated.liquid_enthalpy + 40e3 * above) / latent - below


@pytest.mark.parametrize("car", ["sedan", "compact"])
@pytest.mark.parametrize("position, sign", [(-0.3, 1.0), (0.5, 0.0), (1.3, -1.0)])
def test_an_empty_receiver_lets_vapour_pass_and_an_overfull_one_backs_liquid_up(car, position, sign):
    """What would satisfy it: 30 % vapour at 0.3 below empty, saturated liquid between, 12 kJ/kg less at 0.3 above full."""
    circuit, trial, _ = marched(car, "usual", "balanced")
    at = march(circuit, [*trial[:2], position, trial[3]])
    saturated = at.condenser_saturation
    latent = saturated.vapour_enthalpy - saturated.liquid_enthalpy
    wanted = at.first_pass.enthalpy - at.imbalance[3] * latent
    beyond = {1.0: 0.3 * latent, 0.0: 0.0, -1.0: -12e3}[sign]
    assert wanted - saturated.liquid_enthalpy == pytest.approx(beyond, rel=1e-5, abs=1e-3)


@pytest.mark.parametrize("car", ["pickup", "sedan"])
def test_air_presses_on_the_liquid_but_does_not_condense(car):
    """Dalton: the refrigerant condenses at its own part of the pressure; the metering device feels both."""
    circuit, _, at = marched(car, "air", "balanced")
    assert at.air_partial_pressure > 0.2 * STANDARD_ATMOSPHERE_PA
    assert at.discharge_saturation.pressure > at.condenser_saturation.pressure + at.air_partial_pressure
    assert at.metering_saturation.pressure > at.condenser_saturation.pressure
    assert circuit.air_pressure == at.air_partial_pressure
    assert marched(car, "usual", "balanced")[2].air_partial_pressure == 0.0


@pytest.mark.parametrize("car", ["pickup", "sedan"])
def test_a_compressor_that_pumps_nothing_still_marches(car):
    """A flow of nothing would divide by zero everywhere; less than a milligram a second stands in for it."""
    circuit, trial, _ = marched(car, "usual", "balanced")
    broken = replace(circuit.system, compressor=replace(circuit.system.compressor, pumping_share=0.0))
    at = march(circuit._replace(system=broken), trial)
    assert at.pumping.flow == 0.0
    assert 0.0 < at.flow < 1e-6
    assert all(math.isfinite(part) for part in at.imbalance)
    assert at.imbalance[0] > 10.0  # the device passes thousands of times what is pumped
