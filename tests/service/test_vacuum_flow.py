"""Hoses and pumps, against the formulas vacuum handbooks print."""

import math

import iapws
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from iapws._iapws import _Viscosity

from course.errors import OutOfRange, UnknownChoice
from course.service.vacuum_flow import Pump, Tube, load_pump, load_tube, speed_at_the_car_m3_s, tube_conductance
from course.tables import read_service_numbers
from course.units import M3_PER_L, M3_S_PER_CFM, M_PER_INCH, PA_PER_MBAR, PA_PER_MICRON


def printed(diameter_cm, length_cm, mbar, viscous):
    """Long round tube, air at 20 °C, L/s: viscous 135 or 137 d^4 p / L and molecular 12.1 d^3 / L."""
    return viscous * diameter_cm**4 * mbar / length_cm + 12.1 * diameter_cm**3 / length_cm


@pytest.mark.parametrize("diameter_cm", [0.2, 0.48, 0.635, 0.95, 5.0])
@pytest.mark.parametrize("mbar", [1e-4, 0.01, 0.667, 10.0, 500.0])
def test_conductance_against_handbook_constants(diameter_cm, mbar):
    """Vacuum handbooks print 135 (read) and 137 for the viscous constant, 12.1 for the molecular one (read)."""
    ours = tube_conductance(Tube(diameter_cm / 100, 1.5), mbar * PA_PER_MBAR) / M3_PER_L
    assert ours == pytest.approx(printed(diameter_cm, 150.0, mbar, 135.0), rel=0.003)
    assert ours == pytest.approx(printed(diameter_cm, 150.0, mbar, 137.0), rel=0.02)


@pytest.mark.parametrize(
    ("name", "inch", "litres_a_minute"), [("thin", 3 / 16, 2.4), ("usual", 1 / 4, 7.1), ("wide", 3 / 8, 33.5)]
)
def test_hoses_at_500_micron(name, inch, litres_a_minute):
    """Computed by hand from the printed formula: 2.4, 7.1 and 33.5 L/min for 1.5 m."""
    hose = load_tube(f"hose_{name}")
    assert hose.diameter_m == pytest.approx(inch * M_PER_INCH, rel=0.01)
    conductance = tube_conductance(hose, 500 * PA_PER_MICRON) * 60 / M3_PER_L
    assert conductance == pytest.approx(litres_a_minute, rel=0.02)


def test_a_mouth_alone_passes_what_kinetic_theory_says():
    """A hole passes 11.6 L/s of air for each cm2 in molecular flow (printed): the mouth of a short wide tube."""
    short = [Tube(0.01, 0.0011)]
    fast = Pump(0.1, 0.01)
    through = speed_at_the_car_m3_s(fast, short, 0.02)
    hole = 11.6 * M3_PER_L * math.pi / 4
    tube = 12.1 * M3_PER_L / 0.11
    series = 1 / (1 / hole + 1 / tube)
    assert through == pytest.approx((0.02 - 0.01) / (1 / fast.speed_m3_s + 1 / series) / 0.02, rel=0.02)


def test_a_bigger_pump_gains_nothing_through_a_thin_hose():
    for hose, gain in (("hose_thin", 1.05), ("hose_usual", 1.10)):
        small, large = (
            speed_at_the_car_m3_s(load_pump(pump), [load_tube(hose)], 500 * PA_PER_MICRON)
            for pump in ("pump_small", "pump_large")
        )
        assert small < large < gain * small


def test_two_ways_nearly_double_what_one_way_passes():
    one, two = (
        speed_at_the_car_m3_s(load_pump("pump_large"), [load_tube("hose_thin")], 500 * PA_PER_MICRON, ways)
        for ways in (1, 2)
    )
    assert 1.8 * one < two < 2.0 * one


def test_taking_the_core_out_helps():
    through = [
        speed_at_the_car_m3_s(
            load_pump("pump_small"), [load_tube("hose_wide"), load_tube(f"port_{core}_core")], 500 * PA_PER_MICRON
        )
        for core in ("with", "without")
    ]
    assert through[1] > 2.0 * through[0]


def test_the_pumps_are_what_they_are_called():
    """1.5 and 5 cubic feet a minute: NIST SP 811 gives 4.719474e-4 m3/s for one."""
    assert load_pump("pump_small").speed_m3_s == pytest.approx(1.5 * M3_S_PER_CFM, rel=1e-3)
    assert load_pump("pump_large").speed_m3_s == pytest.approx(5.0 * M3_S_PER_CFM, rel=1e-3)


def test_viscosity_of_water_vapour_against_iapws():
    """IAPWS R12-08 at 20 °C and 1 kPa, by iapws; to the digit kept."""
    steam = iapws.IAPWS95(T=293.15, P=1e-3)
    kept = read_service_numbers("evacuation").value("water_vapour", "viscosity_pa_s")
    assert kept == pytest.approx(_Viscosity(steam.rho, 293.15), rel=1e-3)


def test_water_vapour_passes_more_easily_than_air():
    hose, pressure = load_tube("hose_usual"), 500 * PA_PER_MICRON
    assert tube_conductance(hose, pressure, 1.0) > 1.3 * tube_conductance(hose, pressure)


@settings(max_examples=40, deadline=None)
@given(
    pressure=st.floats(0.001, 101325.0),
    bore=st.floats(2e-4, 0.05),
    length=st.floats(1e-3, 20.0),
    pump=st.builds(Pump, st.floats(1e-6, 0.1), st.floats(0.01, 1e4)),
    share=st.floats(0.0, 1.0),
)
def test_the_car_never_sees_more_than_the_pump_or_the_hose(pressure, bore, length, pump, share):
    tube = Tube(bore, length)
    speed = speed_at_the_car_m3_s(pump, [tube], pressure, vapour_share=share)
    assert 0.0 <= speed <= pump.speed_m3_s * (1 + 1e-6)
    assert speed <= tube_conductance(tube, pressure, share) * (1 + 1e-6)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: speed_at_the_car_m3_s(Pump(-1.0, 5.0), [Tube(0.005, 1.0)], 100.0), "pump speed: -1 m3/s was given"),
        (lambda: speed_at_the_car_m3_s(Pump(1e-3, 5.0), [], 100.0), "hoses: none was given; connect at least one hose"),
        (lambda: speed_at_the_car_m3_s(Pump(1e-3, 5.0), [Tube(4.8, 1.5)], 100.0), "bore: 4.8 m was given"),
        (
            lambda: speed_at_the_car_m3_s(Pump(1e-3, 5.0), [Tube(0.005, 1.5)], 2e5),
            "pressure in the circuit, not vacuum",
        ),
        (lambda: tube_conductance(Tube(0.005, 1.0), float("nan")), "mean pressure: nan Pa absolute was given"),
        (lambda: tube_conductance(Tube(0.005, 1.0), 1.0, 1.5), "share of vapour: 1.5 of the gas was given"),
    ],
)
def test_sentences(ask, words):
    with pytest.raises(OutOfRange, match=words):
        ask()


def test_an_unknown_pump_is_answered_with_the_choices():
    with pytest.raises(UnknownChoice, match="pump_small"):
        load_pump("pump_huge")
