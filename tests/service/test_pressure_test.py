"""Nitrogen holds against the gas law worked by hand, and what a hold cannot show."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from course.errors import OutOfRange, UnknownChoice
from course.service.pressure_test import (
    check_gas,
    check_test_pressure,
    expected_kpa_gauge,
    judge_hold,
    smallest_leak_g_per_year,
)
from course.units import PA_PER_PSI, atmospheric_pressure_pa

PSI = PA_PER_PSI / 1e3


@pytest.mark.parametrize(("celsius", "psi"), [(30.0, 152.8), (25.0, 150.0), (20.0, 147.2), (15.0, 144.5)])
def test_nitrogen_pressure_by_the_gas_law(celsius, psi):
    """150 psi gauge at 25 °C, sea level: P2 = P1 T2 / T1 with absolute values, worked by hand."""
    assert expected_kpa_gauge(150 * PSI, 25.0, celsius) / PSI == pytest.approx(psi, abs=0.05)


@pytest.mark.parametrize(("psi", "per_kelvin"), [(150.0, 0.55), (200.0, 0.72)])
def test_one_kelvin(psi, per_kelvin):
    """0.55 psi a kelvin at 150 psi and 0.72 at 200 psi (computed from the gas law)."""
    assert expected_kpa_gauge(psi * PSI, 25.0, 26.0) / PSI - psi == pytest.approx(per_kelvin, abs=0.005)


def test_altitude_counts_because_pressure_is_absolute():
    sea, high = (expected_kpa_gauge(1000.0, 25.0, 15.0, altitude) for altitude in (0.0, 3000.0))
    air = atmospheric_pressure_pa(0.0) - atmospheric_pressure_pa(3000.0)
    assert high - sea == pytest.approx(air / 1e3 * 10.0 / 298.15, rel=1e-6)


@pytest.mark.parametrize(
    ("kpa", "minutes", "g_per_year", "within"),
    [(1.0, 30.0, 2200.0, 30.0), (1.0, 720.0, 92.0, 2.0), (6.895, 30.0, 15200.0, 200.0), (6.895, 720.0, 630.0, 10.0)],
)
def test_what_a_hold_can_resolve(kpa, minutes, g_per_year, within):
    """3 L at 20 °C, 10 mbar or 1 psi, half an hour or twelve: by hand from 132,100 g/yr for each mbar L/s of R-134a."""
    assert 0.003e3 * kpa * 10 / (60 * minutes) * 132100 == pytest.approx(g_per_year, rel=0.02)
    assert smallest_leak_g_per_year(kpa, minutes) == pytest.approx(g_per_year, abs=within)


def test_a_drop_that_temperature_explains_is_no_leak():
    assert judge_hold(1000.0, 25.0, expected_kpa_gauge(1000.0, 25.0, 15.0), 15.0, 60.0).verdict == "no leak seen"
    assert judge_hold(1000.0, 25.0, expected_kpa_gauge(1000.0, 25.0, 15.0), 25.0, 60.0).verdict == "leaking"


def test_a_rise_in_temperature_can_hide_a_leak():
    hidden = judge_hold(1000.0, 20.0, 1000.0, 25.0, 60.0)
    assert hidden.verdict == "leaking"
    assert hidden.drop_kpa == pytest.approx(1101.325 * 5.0 / 293.15, rel=1e-6)


def test_one_kelvin_of_doubt_is_more_than_most_leaks():
    """1 K changes 11 bar absolute by 37 mbar: more than 100 g/yr lose in half an hour (0.7 mbar)."""
    verdict = judge_hold(1000.0, 20.0, 1000.0, 20.0, 30.0, gauge_error_kpa=0.001, thermometer_error_k=1.0)
    assert verdict.drop_error_kpa / 2**0.5 == pytest.approx(3.76, abs=0.01)
    assert verdict.smallest_leak_g_per_year > 10_000.0


def test_a_short_hold_is_no_verdict():
    verdict = judge_hold(1000.0, 20.0, 1000.0, 20.0, 5.0)
    assert verdict.verdict == "too little information"
    assert "too short" in verdict.reason


def test_a_rise_is_no_verdict_either():
    assert judge_hold(1000.0, 20.0, 1050.0, 20.0, 60.0).verdict == "too little information"


@settings(max_examples=30, deadline=None)
@given(
    st.floats(-100.0, 3500.0),
    st.floats(-30.0, 70.0),
    st.floats(-100.0, 3500.0),
    st.floats(-30.0, 70.0),
    st.floats(0.0, 30000.0),
)
def test_an_answer_or_a_sentence(first, first_c, second, second_c, minutes):
    try:
        verdict = judge_hold(first, first_c, second, second_c, minutes)
    except OutOfRange as refused:
        assert str(refused).endswith(".")
    else:
        assert verdict.reason.endswith(".")
        assert verdict.smallest_leak_g_per_year > 0.0


@pytest.mark.parametrize(
    ("gas", "words"),
    [
        ("oxygen", "with oil under pressure it explodes"),
        ("shop air", "air with refrigerant can burn"),
        ("argon", "not among"),
    ],
)
def test_the_wrong_gas_is_refused_with_the_reason(gas, words):
    with pytest.raises(UnknownChoice, match=f"{words}.*use dry nitrogen through a regulator"):
        check_gas(gas)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: check_test_pressure(1500.0, 1200.0), "above the 1200 the low side is rated for: it may burst"),
        (lambda: check_test_pressure(float("nan"), 1200.0), "test pressure: nan kPa gauge"),
        (lambda: expected_kpa_gauge("150 psi", 25.0, 20.0), "test pressure: '150 psi' is not a number"),
        (lambda: smallest_leak_g_per_year(0.0, 30.0), "a gauge without an error decides nothing"),
    ],
)
def test_sentences(ask, words):
    with pytest.raises(OutOfRange, match=words):
        ask()
