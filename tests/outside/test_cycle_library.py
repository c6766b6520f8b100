"""The workbook's cycle against TESPy, a general library of energy systems that writes its own balances.

TESPy takes its properties from CoolProp too, so this holds the compressor and the energy sums, not the properties. The two
agree to rounding; 0.1 % is what was promised.
"""

import pytest

from course.physics.bench import run_bench
from course.physics.refrigerant import liquid, saturation_at_pressure, vapour
from course.units import celsius_to_kelvin
from tests.outside.libraries import library
from tests.outside.plain_cycle import plain_cycle

WITHIN = 1e-3


def _network(refrigerant, flow):
    """Evaporator, suction line, compressor, condenser, valve and back: the parts and what flows between them."""
    parts, connections = library("tespy.components"), library("tespy.connections")
    network = library("tespy.networks").Network(iterinfo=False)
    # a difference of pressure set by the unit of pressure alone is deprecated there, so both are named
    network.units.set_defaults(pressure="Pa", pressure_difference="Pa", temperature="K", heat="W", power="W")
    coil, line = parts.SimpleHeatExchanger("evaporator"), parts.SimpleHeatExchanger("suction line")
    pump, core = parts.Compressor("compressor"), parts.SimpleHeatExchanger("condenser")
    loop = [parts.CycleCloser("closer"), coil, line, pump, core, parts.Valve("valve")]
    ways = [
        connections.Connection(start, "out1", end, "in1", label=end.label)
        for start, end in zip(loop, loop[1:] + loop[:1], strict=True)
    ]
    network.add_conns(*ways)
    ways[0].set_attr(fluid={refrigerant: 1.0}, m=flow)
    return network, {part.label: part for part in loop}, {way.label: way for way in ways}


def _solved(network, parts):
    """Heat into the evaporator, power to the gas, heat out of the condenser [W]."""
    network.solve("design")
    assert network.converged
    return parts["evaporator"].Q.val, parts["compressor"].P.val, -parts["condenser"].Q.val


@pytest.mark.parametrize("refrigerant", ["R134a", "R1234yf"])
@pytest.mark.parametrize(
    "low, high, superheat, subcooling, efficiency",
    [(3.0e5, 1.5e6, 6.0, 5.0, 0.70), (2.0e5, 2.2e6, 15.0, 8.0, 0.55), (4.5e5, 1.0e6, 1.0, 0.5, 1.0)],
)
def test_a_plain_cycle(refrigerant, low, high, superheat, subcooling, efficiency):
    """The same pressures, superheat, subcooling and efficiency through both."""
    network, parts, ways = _network(refrigerant, 0.03)
    ways["evaporator"].set_attr(p=low)
    parts["evaporator"].set_attr(pr=1.0)
    parts["suction line"].set_attr(pr=1.0, Q=0.0)
    parts["condenser"].set_attr(pr=1.0)
    parts["compressor"].set_attr(eta_s=efficiency)
    ways["suction line"].set_attr(td_dew=superheat)
    ways["condenser"].set_attr(p=high)
    ways["valve"].set_attr(td_bubble=subcooling)
    capacity, power, condenser_heat = _solved(network, parts)

    at_low, at_high = saturation_at_pressure(refrigerant, low), saturation_at_pressure(refrigerant, high)
    suction = vapour(refrigerant, low, at_low.temperature + superheat)
    end = liquid(refrigerant, high, at_high.temperature - subcooling)
    cycle = plain_cycle(refrigerant, suction, at_high, end.enthalpy, efficiency, 0.03)
    assert cycle.energy.capacity == pytest.approx(capacity, rel=WITHIN)
    assert cycle.energy.power == pytest.approx(power, rel=WITHIN)
    assert cycle.condenser_heat == pytest.approx(condenser_heat, rel=WITHIN)
    assert cycle.energy.cop == pytest.approx(capacity / power, rel=WITHIN)
    assert cycle.pumping.discharge_temperature == pytest.approx(ways["condenser"].T.val, abs=0.01)


@pytest.mark.parametrize("car", ["compact", "sedan"])
@pytest.mark.parametrize("ambient_c", [25.0, 40.0])
def test_a_whole_car_from_what_its_gauges_and_thermometers_show(car, ambient_c):
    """TESPy is given a car's readings at every corner, and has to find the same heat taken up, given off and spent.

    The pickup is left out: its evaporator outlet is wet, and readings do not tell how wet.
    """
    run = run_bench(car, ambient_c=ambient_c, relative_humidity=0.4, compressor_rpm=1800.0)
    pressure = {point.name: point.pressure_kpa_absolute * 1e3 for point in run.cycle_points}
    network, parts, ways = _network(run.system.refrigerant, run.refrigerant_kg_s)
    ways["evaporator"].set_attr(p=pressure["evaporator_inlet"])
    ways["suction line"].set_attr(p=pressure["evaporator_outlet"], td_dew=run.superheat_k)
    ways["compressor"].set_attr(p=pressure["compressor_inlet"], td_dew=run.compressor_suction_superheat_k)
    ways["condenser"].set_attr(p=pressure["compressor_outlet"], T=celsius_to_kelvin(run.discharge_c))
    ways["valve"].set_attr(p=pressure["condenser_outlet"], td_bubble=run.subcooling_k)
    capacity, gas_power, condenser_heat = _solved(network, parts)
    assert run.capacity_w == pytest.approx(capacity, rel=WITHIN)
    assert run.condenser_heat_w == pytest.approx(condenser_heat, rel=WITHIN)
    # what the shaft spends and the gas does not get leaves through the shell; the suction line takes heat up
    shell_heat = run.stated_losses_w + parts["suction line"].Q.val
    assert 0.0 < shell_heat < run.compressor_power_w
    assert run.compressor_power_w - shell_heat == pytest.approx(gas_power, rel=WITHIN)
