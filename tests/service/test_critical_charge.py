"""The charge at which a simulated car gives up, and how long a leak takes to get there."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from course.errors import OutOfRange, WorkbookError
from course.physics.bench import run_bench
from course.service.critical_charge import (
    FINEST,
    critical_charge,
    leak_from_days_cooled,
    years_to_charge,
    years_until_it_gives_up,
)
from course.tables import read_leak_limits


def as_printed(value, printed):
    """Whether a value is the printed one, to half of its last digit."""
    digit = 10.0 ** -len(printed.partition(".")[2])
    return abs(value - float(printed)) <= 0.5 * digit + 1e-9


@pytest.mark.parametrize("car", ["sedan", "pickup", "compact"])
@pytest.mark.parametrize("ambient_c", [25.0, 35.0])
def test_just_above_all_is_well_and_just_below_it_is_not(car, ambient_c):
    limits = read_leak_limits().giving_up
    critical = critical_charge(car, ambient_c=ambient_c)
    full = run_bench(car, ambient_c=ambient_c)

    def gone(fraction):
        run = run_bench(car, ambient_c=ambient_c, charge_fraction=fraction)
        return (
            run.vent_c > full.vent_c + limits["vent_rise_k"].value
            or run.superheat_k > full.superheat_k + limits["superheat_rise_k"].value
            or not run.running
        )

    assert gone(critical.fraction - 1e-4) and not gone(critical.fraction + 1.1 * FINEST)
    assert critical.charge_g == pytest.approx(critical.fraction * critical.label_g)
    assert f"{critical.charge_g:.0f} g" in critical.sentence


def test_hot_idle_gives_up_first():
    """Common practice: drivers notice worst at idle in heat, at 60-70 % of the charge. Here only the orifice car is in that
    band: the valve cars hold out to 45-49 %, which stands as a disagreement with practice (their storage was calibrated
    to a buffer that runs empty late)."""
    hot = {"ambient_c": 43.0, "compressor_rpm": 800.0, "relative_humidity": 0.5}
    at_hot = {car: critical_charge(car, **hot).fraction for car in ("sedan", "pickup", "compact")}
    assert all(fraction > critical_charge(car).fraction for car, fraction in at_hot.items())
    assert 0.60 < at_hot["pickup"] < 0.70 and 0.40 < min(at_hot["sedan"], at_hot["compact"]) < 0.60


def test_a_car_that_does_not_run_at_all_is_refused():
    with pytest.raises(WorkbookError, match="no loss can be blamed"):
        critical_charge("sedan", faults={"clutch_not_engaged": 1.0})


@pytest.mark.parametrize(
    ("leak", "years"), [(15.0, "6.7"), (40.0, "2.5"), (100.0, "1.0"), (160.0, "0.62"), (300.0, "0.33")]
)
def test_years_to_four_fifths_of_500_grams(leak, years):
    """The curriculum's leak-rate table, computed there, to the digits it prints."""
    assert as_printed(years_to_charge(500.0, 400.0, leak), years)


@pytest.mark.parametrize(
    ("leak", "years"),
    [(8.3, "22"), (15.1, "12"), (40.0, "4.5"), (53.0, "3.4"), (100.0, "1.8"), (300.0, "0.6"), (1000.0, "0.2")],
)
def test_years_to_lose_thirty_per_cent_of_600_grams(leak, years):
    """The trade table, computed there, to the digits it prints."""
    assert as_printed(years_to_charge(600.0, 420.0, leak), years)


def test_a_tight_car_outlives_its_owner():
    assert years_to_charge(600.0, 600.0, 15.0) == 0.0
    with pytest.raises(OutOfRange, match="longer than a car lasts"):
        years_to_charge(600.0, 300.0, 0.0)
    with pytest.raises(OutOfRange, match="a leak leaves less"):
        years_to_charge(600.0, 700.0, 10.0)


def test_this_car_with_this_leak():
    """A pickup of 700 g that gives up at some 59 %: 288 g, 7.2 years at the type limit, five weeks at 2,900 g/yr."""
    years, critical = years_until_it_gives_up("pickup", 40.0)
    assert years == pytest.approx((700.0 - critical.charge_g) / 40.0) and 6.0 < years < 9.0
    assert 20.0 < 365.25 * years_until_it_gives_up("pickup", 2900.0)[0] < 50.0
    assert years_until_it_gives_up("pickup", 40.0, start_fraction=0.5)[0] == 0.0


def test_cooled_again_for_thirty_days():
    """600 g, cooling gone at 60 %: 240 g in 30 days, about 2,900 g/yr; 450-900 g at 50-70 %: 1,600-5,500 g/yr (trade table)."""
    assert leak_from_days_cooled(600.0, 360.0, 30.0)[0] == pytest.approx(2900.0, abs=50.0)
    assert leak_from_days_cooled(450.0, 315.0, 30.0)[0] == pytest.approx(1600.0, abs=50.0)
    assert leak_from_days_cooled(900.0, 450.0, 30.0)[0] == pytest.approx(5500.0, abs=50.0)


def test_errors_of_both_charges_add_as_squares():
    rate, error = leak_from_days_cooled(600.0, 360.0, 365.25, filled_error_g=30.0, critical_error_g=40.0)
    assert (rate, error) == (pytest.approx(240.0), pytest.approx(50.0))


@settings(max_examples=60, deadline=None)
@given(st.floats(), st.floats(), st.floats())
def test_anything_gets_an_answer_or_a_sentence(start, end, other):
    for function in (years_to_charge, leak_from_days_cooled):
        try:
            found = function(start, end, other)
        except WorkbookError as sentence:
            assert str(sentence).endswith(".")
        else:
            assert all(
                math.isfinite(value) and value >= 0.0 for value in (found if isinstance(found, tuple) else [found])
            )
