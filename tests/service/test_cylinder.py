"""Recovery cylinders against the stamped sizes of the trade, and always on the safe side."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from course.errors import OutOfRange
from course.physics.refrigerant import saturation_at_temperature
from course.service.cylinder import check_cylinder, fill_limit_kg, full_of_liquid_c


def test_the_common_cylinder():
    """27.2 L (60 lb of water): 23.5 kg of R-134a on the 54 °C (130 °F) basis, 80 % full of liquid."""
    assert fill_limit_kg(27.2, "R134a") == pytest.approx(23.5, abs=0.1)


def test_the_limit_is_eighty_per_cent_of_hot_liquid():
    """Liquid R-134a at 50 °C: 1102.3 kg/m3 in printed tables (ASHRAE, R-134a)."""
    assert fill_limit_kg(10.0, "R134a", 50.0) == pytest.approx(0.8 * 10.0 * 1.1023, rel=1e-3)


@settings(max_examples=25, deadline=None)
@given(st.floats(0.5, 1000.0), st.floats(40.0, 65.0), st.sampled_from(["R134a", "R1234yf"]))
def test_a_cylinder_at_its_limit_is_never_full_of_liquid_when_hot(volume, hottest, refrigerant):
    limit = fill_limit_kg(volume, refrigerant, hottest)
    density = saturation_at_temperature(refrigerant, hottest + 273.15).liquid_density
    assert limit / density <= 0.8 * volume / 1e3 * (1 + 1e-12)
    full = full_of_liquid_c(volume, refrigerant, limit)
    assert full is None or full > hottest + 20.0


def test_hotter_storage_means_less():
    assert fill_limit_kg(27.2, "R134a", 60.0) < fill_limit_kg(27.2, "R134a", 45.0)


def test_room_counts_the_scale_against_you():
    check = check_cylinder(27.2, "R134a", 25.0, 12.0, scale_error_kg=0.2)
    assert check.holds_kg == pytest.approx(13.0)
    assert check.room_kg == pytest.approx(check.limit_kg - 13.0 - 0.2)
    assert check.liquid_share_hot == pytest.approx(0.8 * 13.0 / check.limit_kg)


@pytest.mark.parametrize("over", [0.0, 0.04, 1.0, 5.0])
def test_a_cylinder_past_its_limit_is_refused_with_the_reason(over):
    """Within the scale's error of the limit is refused too: the safe side only."""
    gross = 12.0 + fill_limit_kg(27.2, "R134a") + over
    with pytest.raises(OutOfRange, match="its liquid could fill it and burst it.*take no more and have it emptied"):
        check_cylinder(27.2, "R134a", gross, 12.0)


def test_a_cold_overfill_is_full_before_the_day_is_hot():
    """Filled to 95 % of its volume at 20 °C (1225.3 kg/m3): density must fall to 1164 kg/m3, near 36 °C."""
    celsius = full_of_liquid_c(27.2, "R134a", 0.95 * 27.2e-3 * 1225.3)
    assert saturation_at_temperature("R134a", celsius + 273.15).liquid_density == pytest.approx(0.95 * 1225.3, rel=1e-6)
    assert celsius == pytest.approx(36.0, abs=0.5)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: fill_limit_kg(-1.0, "R134a"), "cylinder volume: -1 L was given"),
        (lambda: fill_limit_kg(27.2, "R134a", 20.0), "hottest storage: 20 °C was given"),
        (lambda: check_cylinder(27.2, "R134a", 5.0, 12.0), "less than the 12 kg of the empty cylinder"),
        (lambda: check_cylinder(27.2, "R134a", float("nan"), 12.0), "scale: nan kg was given"),
        (
            lambda: check_cylinder(27.2, "R134a", 20.0, 12.0, cylinder_c=60.0),
            "allowed are -40 to 52 °C: cool it with water",
        ),
        (lambda: full_of_liquid_c(27.2, "R134a", 100.0), "no more liquid than that fits in"),
    ],
)
def test_sentences(ask, words):
    with pytest.raises(OutOfRange, match=words):
        ask()
