"""What drives a leak in each state, and what a hole or a hose lets out."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import trapezoid

from course.errors import OutOfRange, UnknownChoice, WorkbookError
from course.physics.at_rest import rest_pressure
from course.physics.refrigerant import molar_mass, saturation_at_temperature, vapour, vapour_viscosity
from course.service.leak_flow import (
    HOTTEST_C,
    STATES,
    flow_ratio,
    gas_flow_m3_s,
    hole_flow,
    hole_for_leak,
    hose_loss_g_per_year,
    leak_by_state,
    reference_pressure,
    side_pressure,
    side_pressures,
    standing_pressure,
)
from course.units import (
    PA_PER_MICRON,
    g_per_year_from_kg_per_second,
    g_per_year_from_oz_per_year,
    kg_per_second_from_g_per_year,
    kg_per_second_from_mbar_l_per_second,
    mbar_l_per_second_from_kg_per_second,
    oz_per_year_from_g_per_year,
)

REFRIGERANTS = st.sampled_from(["R134a", "R1234yf"])
ATMOSPHERE = 101325.0


# units: values of a printed fact table, computed there with an ideal gas at 20 °C; read to its own digits


@pytest.mark.parametrize(
    ("refrigerant", "g_per_year"), [("R134a", 132100.0), ("R1234yf", 147700.0)], ids=["R-134a", "R-1234yf"]
)
def test_a_millibar_litre_a_second_in_grams_a_year(refrigerant, g_per_year):
    flow = kg_per_second_from_mbar_l_per_second(1.0, molar_mass(refrigerant))
    assert g_per_year_from_kg_per_second(flow) == pytest.approx(g_per_year, abs=100.0)
    assert mbar_l_per_second_from_kg_per_second(flow, molar_mass(refrigerant)) == pytest.approx(1.0, rel=1e-12)


def test_carbon_dioxide_too_since_the_factor_is_the_molar_mass():
    flow = kg_per_second_from_mbar_l_per_second(1.0, 0.04401)
    assert g_per_year_from_kg_per_second(flow) == pytest.approx(57000.0, abs=50.0)


@pytest.mark.parametrize(("grams", "ounces"), [(4.0, 0.15), (7.0, 0.25), (14.0, 0.5), (28.35, 1.0)])
def test_ounces_as_standards_print_them(grams, ounces):
    """SAE J2791 (second-hand) prints 0.15 beside 4 g/yr, which is 0.141: it rounds to a twentieth of an ounce."""
    assert oz_per_year_from_g_per_year(grams) == pytest.approx(ounces, abs=0.01)
    assert g_per_year_from_oz_per_year(oz_per_year_from_g_per_year(grams)) == pytest.approx(grams, rel=1e-12)


# standing and running


@pytest.mark.parametrize("temperature_c", [0.0, 25.0, 45.0])
def test_a_typical_circuit_stands_as_the_bench_has_it_while_liquid_is_left(temperature_c):
    gauge = (standing_pressure("R134a", temperature_c, 0.6) - ATMOSPHERE) / 1000.0
    assert gauge == pytest.approx(rest_pressure("sedan", temperature_c=temperature_c, charge_fraction=0.6), abs=0.5)


def test_the_search_needs_twelve_degrees_of_standing_r134a_and_ten_of_r1234yf():
    """340 kPa gauge is saturation at 11.9 °C and 10.3 °C, computed; SAE J1628 as reprinted asks for 340 kPa."""
    for refrigerant, degrees in (("R134a", 11.9), ("R1234yf", 10.3)):
        assert (standing_pressure(refrigerant, degrees) - ATMOSPHERE) / 1000.0 == pytest.approx(340.0, abs=1.5)


def test_97_grams_are_enough_to_stand_at_saturation_in_three_litres():
    """Computed with CoolProp: 97 g of R-134a, 114 g of R-1234yf; here as a share of 600 g."""
    for refrigerant, grams in (("R134a", 97.0), ("R1234yf", 114.0)):
        full = standing_pressure(refrigerant, 25.0)
        assert standing_pressure(refrigerant, 25.0, (grams + 1.0) / 600.0) == full
        assert standing_pressure(refrigerant, 25.0, (grams - 2.0) / 600.0) < full


def test_an_empty_circuit_stands_at_the_pressure_of_the_air():
    assert standing_pressure("R134a", 25.0, 0.0) == ATMOSPHERE
    assert leak_by_state("R134a", 100.0, 25.0, 0.0)["at_rest", "low"] == 0.0


def test_published_drives():
    """Computed for the curriculum (laminar): low side running 0.22, high side running about 5.1, standing at 10 °C 0.37."""
    reference = reference_pressure("R134a")
    running = side_pressures("R134a", "running", 25.0)
    assert flow_ratio(running.low, reference) == pytest.approx(0.22, abs=0.01)
    assert flow_ratio(running.high, reference) == pytest.approx(5.1, abs=0.15)
    assert leak_by_state("R134a", 1.0, 10.0)["at_rest", "low"] == pytest.approx(0.37, abs=0.005)


def real_drive(celsius):
    """Density over viscosity of R-134a integrated from the air's pressure to saturation, and its ideal-gas value."""
    temperature = celsius + 273.15
    top = saturation_at_temperature("R134a", temperature).pressure * 0.9999
    steps = np.linspace(ATMOSPHERE, top, 200)
    real = [
        vapour("R134a", p, temperature).density / vapour_viscosity("R134a", p, temperature) for p in map(float, steps)
    ]
    thin = 0.102032 / (8.314463 * temperature) / vapour_viscosity("R134a", ATMOSPHERE, temperature)
    return float(trapezoid(real, steps)), thin * (top**2 - ATMOSPHERE**2) / 2.0


def test_what_the_ideal_gas_leaves_out_is_as_large_as_the_docstrings_say():
    """12 % at rest and 20 % at 15 bar; 4.5 for 5.1 and 0.25 for 0.22. A disagreement with the curriculum's laminar 5.1 and
    0.22, kept in sight: those are what the workbook uses, since the direction is the lesson."""
    (cold, _), (rest, ideal_rest), (hot, ideal_hot) = (real_drive(celsius) for celsius in (3.0, 25.0, 55.0))
    assert rest / ideal_rest == pytest.approx(1.12, abs=0.01) and hot / ideal_hot == pytest.approx(1.20, abs=0.01)
    assert hot / rest == pytest.approx(4.5, abs=0.05) and cold / rest == pytest.approx(0.25, abs=0.005)


def test_a_weak_charge_has_little_head_and_a_stopped_car_lies_between():
    full, weak = (side_pressures("R134a", "running", 25.0, left) for left in (1.0, 0.25))
    rest, stopped = standing_pressure("R134a", 25.0), side_pressures("R134a", "just_stopped", 25.0)
    assert rest < weak.high < full.high
    assert full.low < stopped.low < rest < stopped.high < full.high


def test_either_side_counts_on_the_lower_pressure():
    running = side_pressures("R134a", "running", 25.0)
    assert side_pressure(running, "either") == running.low
    with pytest.raises(UnknownChoice, match="choose one of low, high, either"):
        side_pressure(running, "left")


def test_nothing_leaks_out_of_a_vacuum_and_a_named_leak_needs_pressure():
    assert flow_ratio(0.0, 6e5) == 0.0
    with pytest.raises(OutOfRange, match="a leak is named under pressure"):
        flow_ratio(6e5, 1e5)


# nitrogen and vacuum


def test_refrigerant_flow_is_66_times_that_of_air_into_a_vacuum():
    """A printed fact table, laminar: 66 times in pressure times volume."""
    leak = kg_per_second_from_g_per_year(1000.0)
    refrigerant = mbar_l_per_second_from_kg_per_second(leak, molar_mass("R134a"))
    air = gas_flow_m3_s(leak, "R134a", "air", 0.0) * 1013.25 * 1000.0
    assert refrigerant / air == pytest.approx(66.0, rel=0.03)  # real gas here, ideal gas there: 2 %


@pytest.mark.parametrize(("leak", "micron"), [(40.0, 0.7), (1000.0, 17.0), (3000.0, 52.0)])
def test_vacuum_rise_of_the_fact_table(leak, micron):
    """3 L in 10 min, laminar: 40 g/yr lift it 0.7 micron, 1,000 g/yr 17, 3,000 g/yr 52."""
    flow = gas_flow_m3_s(kg_per_second_from_g_per_year(leak), "R134a", "air", 0.0)
    assert flow * ATMOSPHERE / 0.003 * 600.0 / PA_PER_MICRON == pytest.approx(micron, rel=0.04)


def test_nitrogen_is_thinner_than_air():
    """17.57 against 18.21 µPa s at 20 °C."""
    nitrogen, air = (gas_flow_m3_s(1e-9, "R134a", gas, 1e6) for gas in ("nitrogen", "air"))
    assert nitrogen / air == pytest.approx(18.21 / 17.57, rel=1e-3)


def test_only_two_gases_are_known():
    with pytest.raises(UnknownChoice, match="choose one of nitrogen, air"):
        gas_flow_m3_s(1e-9, "R134a", "oxygen", 1e6)


# holes and hoses


def test_a_narrow_hole_worked_by_hand():
    """6 µm, 5 mm, 6.65 bar, 25 °C, 11.8 µPa s, 0.10203 kg/mol: pi d^4 M (p1² - p0²)/(256 mu L R T)."""
    by_hand = math.pi * 6e-6**4 * 0.10203 * (6.65e5**2 - 101325.0**2) / (256 * 11.83e-6 * 5e-3 * 8.31446 * 298.15)
    flow, law = hole_flow("R134a", 0.006, 5.0, 6.65e5, 25.0)
    assert law == "laminar" and flow == pytest.approx(by_hand, rel=0.01)


def test_a_wide_hole_chokes_worked_by_hand():
    """1 mm, 0.5 mm, 15 bar, 60 °C, k 1.10: 0.8 A p sqrt(k M/(R T)) (2/2.1)^(2.1/0.2); some 3 g/s empty a car in minutes."""
    sonic = math.sqrt(1.10 * 0.10203 / (8.31446 * 333.15)) * (2 / 2.1) ** (2.1 / 0.2)
    flow, law = hole_flow("R134a", 1.0, 0.5, 15e5, 60.0)
    assert law == "choked" and flow == pytest.approx(0.8 * math.pi / 4e6 * 15e5 * sonic, rel=0.01)
    assert 0.002 < flow < 0.005


def test_four_times_the_diameter_is_256_times_the_creeping_flow():
    small, large = (hole_flow("R134a", diameter, 10.0, 6e5, 25.0)[0] for diameter in (0.003, 0.012))
    assert large / small == pytest.approx(256.0, rel=1e-9)


@pytest.mark.parametrize("leak", [1.0, 40.0, 3000.0, 1e6])
@pytest.mark.parametrize("length", [0.05, 5.0, 50.0])
def test_the_hole_of_a_leak_leaks_it(leak, length):
    diameter = hole_for_leak("R1234yf", leak, length)
    flow = hole_flow("R1234yf", diameter, length, reference_pressure("R1234yf"), 25.0)[0]
    assert g_per_year_from_kg_per_second(flow) == pytest.approx(leak, rel=1e-6)


def test_a_hot_hose_loses_far_more_than_a_cold_one():
    cold, hot = (hose_loss_g_per_year("R134a", 3.0, 13.0, t) for t in (25.0, 80.0))
    assert hot == pytest.approx(1500.0 * math.pi * 0.013 * 3.0, rel=1e-9)  # the test value itself
    assert hot / cold > 20.0 and 1.0 < cold < 9.0  # "a few g/yr for barrier hose", from memory


@settings(max_examples=60, deadline=None)
@given(
    REFRIGERANTS,
    st.floats(0.0005, 3.0),
    st.floats(0.05, 50.0),
    st.floats(ATMOSPHERE, 3.5e6),
    st.floats(-10.0, 90.0),
)
def test_every_hole_in_range_has_a_flow(refrigerant, diameter, length, pressure, temperature):
    flow, law = hole_flow(refrigerant, diameter, length, pressure, temperature)
    assert flow >= 0.0 and math.isfinite(flow) and law in ("laminar", "choked")


@settings(max_examples=60, deadline=None)
@given(REFRIGERANTS, st.sampled_from(STATES), st.floats(-10.0, HOTTEST_C), st.floats(0.0, 1.4))
def test_every_state_has_pressures_and_the_high_side_is_never_the_lower(refrigerant, state, temperature, left):
    both = side_pressures(refrigerant, state, temperature, left)
    assert 0.0 <= both.low <= both.high < 3.6e6


@settings(max_examples=60, deadline=None)
@given(st.floats(allow_nan=True, allow_infinity=True), st.floats(), st.floats())
def test_whatever_is_given_comes_back_as_an_answer_or_a_sentence(temperature, left, leak):
    try:
        found = leak_by_state("R134a", leak, temperature, left)
    except WorkbookError as sentence:
        assert str(sentence).endswith(".")
    else:
        assert all(math.isfinite(value) and value >= 0.0 for value in found.values())
