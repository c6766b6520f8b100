"""Pump-down and rise, against textbook limits, balances and water's own boiling points."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from course.errors import OutOfRange
from course.service.evacuation import (
    Circuit,
    air_kg_in,
    isolate,
    minutes_to_reach,
    pump_down,
    usual_circuit,
)
from course.service.vacuum_flow import Pump, Tube, load_pump, load_tube
from course.service.water import boiling_pressure_pa, leaving_heat
from course.units import PA_PER_MICRON, STANDARD_ATMOSPHERE_PA

SHOP = [load_tube("hose_usual"), load_tube("port_with_core")]
SMALL = load_pump("pump_small")
WIDE = [Tube(0.05, 0.001)]


@pytest.mark.parametrize(("litres", "seconds"), [(3.0, 31.0), (5.0, 51.8)])
def test_textbook_pump_down(litres, seconds):
    """t = (V/S) ln(p0/p1): 3 to 5 L and 42.5 L/min take 31 to 52 s to 500 micron when nothing hinders."""
    curve = pump_down(Circuit(litres / 1e3), Pump(42.5e-3 / 60, 0.01), WIDE, 3.0)
    by_hand = litres / 42.5 * 60 * math.log(760000 / 500)
    assert by_hand == pytest.approx(seconds, abs=0.3)
    assert 60 * minutes_to_reach(curve, 500 * PA_PER_MICRON) == pytest.approx(by_hand, rel=0.01)


def test_real_hoses_and_gas_from_oil_take_minutes():
    assert minutes_to_reach(pump_down(usual_circuit(), SMALL, SHOP, 30.0), 500 * PA_PER_MICRON) > 2.0


def test_the_curve_ends_where_gas_let_in_and_pumped_out_balance():
    leak = 1e-3
    curve = pump_down(Circuit(0.003, leak_pa_m3_s=leak), Pump(1e-3, 0.01), WIDE, 10.0)
    assert curve.pressure_pa[-1] == pytest.approx(leak / 1e-3 + 0.01, rel=0.02)


def test_the_pump_stops_at_its_own_ultimate_pressure():
    curve = pump_down(Circuit(0.003), load_pump("pump_old_oil"), SHOP, 60.0)
    assert curve.pressure_pa[-1] / PA_PER_MICRON == pytest.approx(1500, rel=0.01)


@pytest.mark.parametrize("heat_w_k", [0.02, 0.1, 0.5])
def test_the_plateau_lies_at_the_boiling_pressure_of_the_chilled_water(heat_w_k):
    """While water is left the vapour stands at what IAPWS gives for the water's own temperature, less the small drive."""
    curve = pump_down(usual_circuit(water_g=10.0, heat_w_k=heat_w_k), SMALL, SHOP, 60.0)
    middle = 180
    assert curve.water_g[middle] > 0.5
    assert curve.pressure_pa[middle] == pytest.approx(boiling_pressure_pa(curve.water_c[middle]), rel=0.05)
    assert curve.water_c[middle] < 15.0


def test_little_heat_lets_the_water_freeze_and_go_on_as_ice():
    curve = pump_down(usual_circuit(water_g=3.0, heat_w_k=0.02), SMALL, SHOP, 120.0)
    assert min(curve.water_c) < -2.0
    assert 0.0 < curve.water_g[-1] < 3.0
    assert any(c == 0.0 for c in curve.water_c), "the freezing itself is seen"


def test_heat_balance_of_boiling_off():
    """All the heat that leaves with vapour came from the shop or out of water and metal; 1 g takes 2.4 to 2.5 kJ."""
    circuit = usual_circuit(water_g=10.0)
    curve = pump_down(circuit, SMALL, SHOP, 60.0)
    minutes, shop = curve.minutes, circuit.temperature_c
    pairs = list(zip(range(240), range(1, 241), strict=True))
    supplied = sum(
        60 * (minutes[j] - minutes[i]) * circuit.heat_w_k * (shop - (curve.water_c[i] + curve.water_c[j]) / 2)
        for i, j in pairs
    )
    taken = sum(
        (curve.water_g[i] - curve.water_g[j]) / 1e3 * leaving_heat((curve.water_c[i] + curve.water_c[j]) / 2)
        for i, j in pairs
    )
    metal = 100.0 * (shop - curve.water_c[-1])
    cooled = sum(
        4186.0 * (curve.water_g[i] + curve.water_g[j]) / 2e3 * (curve.water_c[i] - curve.water_c[j]) for i, j in pairs
    )
    assert taken == pytest.approx(supplied + metal + cooled, rel=0.01)


def test_share_that_boils_off_on_the_water_s_own_heat():
    """With no heat from outside 25 to 0 °C takes about 4 % of the water, and freezing the rest another 12 %.

    From the properties: 4.186 x 25 / 2,450 = 4.3 % (with the 100 J/K of metal 6.3 % of 50 g) and 334 / 2,834 = 11.8 %.
    """
    alone = usual_circuit(water_g=50.0, heat_w_k=0.0, temperature_c=25.0)
    curve = pump_down(alone, load_pump("pump_large"), WIDE, 60.0)
    at_zero = next(i for i, c in enumerate(curve.water_c) if c <= 0.0)
    frozen = next(i for i, c in enumerate(curve.water_c) if c < -0.5)
    with_metal = (50.0 * 4.186 + 100.0) * 25.0 / 2450.0 / 50.0
    assert 1 - curve.water_g[at_zero] / 50.0 == pytest.approx(with_metal, abs=0.003)
    assert 1 - curve.water_g[frozen] / curve.water_g[at_zero] == pytest.approx(0.118, abs=0.01)


def test_isolated_water_levels_at_its_boiling_pressure_at_shop_temperature():
    """17,500 micron at 20 °C, the printed level of a closed circuit with liquid water in it."""
    down = pump_down(usual_circuit(water_g=10.0), SMALL, SHOP, 30.0)
    hold = isolate(down, 60.0)
    assert hold.pressure_pa[-1] / PA_PER_MICRON == pytest.approx(17500, rel=0.01)


def test_a_leak_rises_straight_and_by_the_book():
    """dp = Q t / V while the circuit is far below the air's pressure."""
    down = pump_down(Circuit(0.003, leak_pa_m3_s=1e-3), SMALL, SHOP, 20.0)
    hold = isolate(down, 10.0)
    assert hold.pressure_pa[-1] - hold.pressure_pa[0] == pytest.approx(1e-3 * 600 / 0.003, rel=0.01)
    assert hold.pressure_pa[-1] < 0.01 * STANDARD_ATMOSPHERE_PA


def test_a_leak_ends_at_the_air_s_pressure():
    down = pump_down(Circuit(0.003, leak_pa_m3_s=1.0), SMALL, SHOP, 20.0)
    assert isolate(down, 300.0).pressure_pa[-1] == pytest.approx(STANDARD_ATMOSPHERE_PA, rel=0.02)


def test_gas_from_the_oil_levels_where_it_should():
    """p rises towards its level with the time constant level x V / Q: by hand from the first-order balance."""
    oily = Circuit(0.003, outgassing_pa_m3_s=2e-4, outgassing_level_pa=90.0)
    down = pump_down(oily, SMALL, SHOP, 30.0)
    hold = isolate(down, 60.0)
    seconds, start = 60.0 * hold.minutes[120], hold.pressure_pa[0]
    by_hand = 90.0 - (90.0 - start) * math.exp(-seconds * 2e-4 / (90.0 * 0.003))
    assert hold.pressure_pa[120] == pytest.approx(by_hand, rel=1e-3)
    assert isolate(hold, 600.0).pressure_pa[-1] == pytest.approx(90.0, rel=0.01)


def test_water_is_kept_account_of():
    down = pump_down(usual_circuit(water_g=2.0), SMALL, SHOP, 10.0)
    hold = isolate(down, 5.0)
    assert list(down.water_g) == sorted(down.water_g, reverse=True)
    vapour = (hold.vapour_pa[-1] - hold.vapour_pa[0]) * 0.003 / (461.526 * 293.15) * 1e3
    assert hold.water_g[0] - hold.water_g[-1] == pytest.approx(vapour, rel=1e-3)


def test_air_left_behind():
    """25 inHg on the dial leave 16.7 kPa: 0.6 g in 3 L (ideal gas)."""
    assert 1e3 * air_kg_in(0.003, 16.7e3) == pytest.approx(0.595, abs=0.005)


@settings(max_examples=15, deadline=None)
@given(
    water=st.floats(0.0, 100.0),
    heat=st.floats(0.0, 50.0),
    shop=st.floats(0.0, 60.0),
    volume=st.floats(5e-4, 0.02),
    leak=st.floats(0.0, 0.1),
    minutes=st.floats(0.1, 120.0),
)
def test_a_curve_over_the_whole_range(water, heat, shop, volume, leak, minutes):
    circuit = usual_circuit(water_g=water, heat_w_k=heat, temperature_c=shop, volume_m3=volume, leak_pa_m3_s=leak)
    curve = pump_down(circuit, SMALL, SHOP, minutes)
    hold = isolate(curve, minutes)
    for one in (curve, hold):
        assert all(0.0 < p < 1.01 * STANDARD_ATMOSPHERE_PA for p in one.pressure_pa)
        # the integration holds the heat content to one in a million: some 0.0001 K of warm water
        assert all(-80.0 <= c <= shop + 1e-3 for c in one.water_c)
    assert curve.water_g[-1] <= water + 1e-9


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: pump_down(Circuit(0.003, water_g=-1.0), SMALL, SHOP, 10.0), "water: -1 g was given"),
        (lambda: pump_down(Circuit(3.0), SMALL, SHOP, 10.0), "volume: 3 m3 was given"),
        (lambda: pump_down(Circuit(0.003), SMALL, SHOP, float("nan")), "time: nan min was given"),
        (lambda: pump_down(Circuit(0.003), SMALL, SHOP, 10.0, start_pa=5e5), "pressure in the circuit, not vacuum"),
        (lambda: minutes_to_reach(isolate(pump_down(Circuit(0.003), SMALL, SHOP, 1.0), 1.0), -5.0), "vacuum: -5 Pa"),
    ],
)
def test_sentences(ask, words):
    with pytest.raises(OutOfRange, match=words):
        ask()
