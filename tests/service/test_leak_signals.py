"""What a method has to see: tips, bubbles and watched gauges, against the printed and hand-worked figures."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from course.errors import OutOfRange, UnknownChoice
from course.service.leak_flow import reference_pressure
from course.service.leak_signals import (
    bubble_seconds,
    by_care,
    corrected_pressure_drop_pa,
    gauge_change_pa,
    method_terms,
    nitrogen_flow_factor,
    tip_distance_and_speed,
    tip_factor,
)
from course.units import PA_PER_MBAR, PA_PER_MICRON, g_per_year_from_oz_per_year

REAL_OVER_IDEAL = 4.3364 / (101325.0 * 0.102032 / (8.314463 * 293.15))  # density of R-134a, 20 °C, 1 atm (CoolProp 8)


@pytest.mark.parametrize(("leak", "seconds"), [(100.0, 19.0), (40.0, 47.0), (14.0, 135.0)])
def test_bubbles_of_the_fact_table(leak, seconds):
    """One 3 mm bubble of R-134a, computed there with an ideal gas; printed to whole seconds."""
    assert bubble_seconds(leak, "R134a") == pytest.approx(seconds * REAL_OVER_IDEAL, abs=0.5)


def test_the_standards_bubble_limit_is_45_ounces():
    """SAE J1628-2020 (second-hand): above 1,276 g/yr. A bubble comes every second and a half there: physics sees less."""
    assert g_per_year_from_oz_per_year(45.0) == pytest.approx(method_terms("bubbles")["standard_g_per_year"], abs=0.5)
    assert bubble_seconds(1276.0, "R134a") < 2.0


def test_no_leak_no_bubble():
    assert bubble_seconds(0.0, "R134a") == bubble_seconds(50.0, "R134a", 0.0) == math.inf


def test_nitrogen_at_the_refrigerants_own_pressure_is_held_back_by_its_thickness():
    """The viscosities alone: 11.6 against 17.6 µPa s."""
    standing = (reference_pressure("R134a") - 101325.0) / 1000.0
    assert nitrogen_flow_factor("R134a", standing) == pytest.approx(11.6 / 17.6, rel=0.01)
    assert nitrogen_flow_factor("R134a", 0.0) == 0.0


def test_the_certified_sweep_is_the_measure():
    terms = method_terms("electronic")
    assert tip_factor(terms["certified_mm"], terms["certified_mm_s"]) == 1.0
    assert tip_distance_and_speed(1.0) == pytest.approx((5.0, 25.0))  # SAE J1628 as reprinted
    assert tip_distance_and_speed(0.0) == pytest.approx((30.0, 200.0))


@settings(max_examples=40, deadline=None)
@given(st.floats(0.0, 400.0), st.floats(1.0, 1000.0))
def test_closer_and_slower_is_never_worse(distance, speed):
    assert tip_factor(distance, speed) >= tip_factor(distance + 1.0, speed) > 0.0
    assert tip_factor(distance, speed) >= tip_factor(distance, speed * 1.1)


def test_one_kelvin_is_37_millibar_at_ten_bar():
    second = 11.0e5 * 297.15 / 298.15
    assert (11.0e5 - second) / PA_PER_MBAR == pytest.approx(37.0, abs=0.2)
    assert corrected_pressure_drop_pa(11.0e5, 25.0, second, 24.0) == pytest.approx(0.0, abs=1e-6)


def test_a_warmer_shop_can_hide_a_leak():
    assert corrected_pressure_drop_pa(11.0e5, 20.0, 11.0e5, 22.0) == pytest.approx(11.0e5 * (1 - 293.15 / 295.15))


def test_a_gauge_reading_below_nothing_is_refused():
    with pytest.raises(OutOfRange, match="add the pressure of the air to what the gauge shows"):
        corrected_pressure_drop_pa(-5.0, 20.0, 1e5, 20.0)


def test_a_hundred_grams_a_year_in_half_an_hour():
    """The curriculum prints 0.7 mbar for 3.5 L (laminar); this circuit has 3 L."""
    assert gauge_change_pa("pressure_drop", 100.0, "R134a", 30.0) / PA_PER_MBAR * 3.0 / 3.5 == pytest.approx(
        0.7, abs=0.03
    )


def test_vacuum_test_of_the_curriculum():
    """100 g/yr: 1.5 micron in 10 min, 1,000 g/yr: 15, in 3.5 L."""
    for leak, micron, digit in ((100.0, 1.5, 0.1), (1000.0, 15.0, 1.0)):
        rise = gauge_change_pa("vacuum_rise", leak, "R134a", 10.0) / PA_PER_MICRON * 3.0 / 3.5
        assert rise * REAL_OVER_IDEAL == pytest.approx(micron, abs=digit / 2.0)


def test_a_gauge_goes_no_further_than_the_pressure_of_the_air():
    assert gauge_change_pa("pressure_drop", 1e6, "R134a", 20000.0) == pytest.approx(1e6)
    assert gauge_change_pa("vacuum_rise", 1e6, "R134a", 20000.0) == pytest.approx(101325.0)


def test_names_are_refused_with_the_choices():
    with pytest.raises(UnknownChoice, match="pressure_drop, vacuum_rise"):
        gauge_change_pa("electronic", 1.0, "R134a", 1.0)
    with pytest.raises(UnknownChoice, match="electronic, bubbles"):
        method_terms("nose")
    with pytest.raises(OutOfRange, match="1 is by the book"):
        by_care(1.2, 1.0, 2.0)
