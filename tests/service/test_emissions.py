"""Carbon dioxide of refrigerant against the values of the assessment reports."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from course.errors import OutOfRange, UnknownChoice
from course.service.emissions import REFRIGERANTS, REPORTS, co2_equivalent_kg, gwp, years_of_leak


@pytest.mark.parametrize(
    ("refrigerant", "ar4", "ar5", "ar6"),
    [("R12", 10900, 10200, 12500), ("R134a", 1430, 1300, 1530), ("R744", 1, 1, 1)],
)
def test_gwp_by_report(refrigerant, ar4, ar5, ar6):
    """AR4 values of R-134a and CO2 read, AR5 of R-134a read, the rest from memory of the IPCC tables."""
    assert [gwp(refrigerant, report) for report in ("ar4", "ar5", "ar6")] == [ar4, ar5, ar6]


def test_r1234yf_is_small_in_every_report():
    """4 (AR4, read), below 1 (AR5) and about 0.5 (AR6), both from memory."""
    assert gwp("R1234yf", "ar4") == 4
    assert gwp("R1234yf", "ar5") <= 1
    assert gwp("R1234yf", "ar6") == pytest.approx(0.5, abs=0.01)


def test_a_leak_a_year_against_one_vented_charge():
    """15.1 g/yr (reported average): 21.6 kg of CO2 a year; one vented 600 g charge: 858 kg, forty years of that."""
    assert co2_equivalent_kg(15.1, "R134a") == pytest.approx(21.6, abs=0.05)
    ratio = co2_equivalent_kg(600.0, "R134a") / co2_equivalent_kg(15.1, "R134a")
    assert years_of_leak(600.0, 15.1) == pytest.approx(ratio)


@settings(max_examples=20, deadline=None)
@given(st.floats(0.0, 1e6), st.sampled_from(REFRIGERANTS), st.sampled_from(sorted(REPORTS)))
def test_twice_the_mass_twice_the_warming(mass, refrigerant, report):
    assert co2_equivalent_kg(mass, refrigerant, report) == pytest.approx(
        2 * co2_equivalent_kg(mass / 2, refrigerant, report)
    )


@pytest.mark.parametrize("mass", [-1.0, float("nan"), "600 g", None, float("inf")])
def test_a_mass_that_is_none_is_refused(mass):
    with pytest.raises(OutOfRange, match="refrigerant let out: .*give grams, not a share"):
        co2_equivalent_kg(mass, "R134a")


def test_unknown_names_are_answered_with_the_choices():
    with pytest.raises(UnknownChoice, match="R12, R134a, R1234yf, R744"):
        gwp("R22")
    with pytest.raises(UnknownChoice, match="ar4, ar5, ar6"):
        gwp("R134a", "ar9")
    with pytest.raises(OutOfRange, match="leak: 0 g/yr was given"):
        years_of_leak(600.0, 0.0)
