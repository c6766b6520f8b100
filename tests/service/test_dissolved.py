"""Refrigerant in oil: limits every solution obeys, and the way back."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from course.errors import OutOfRange
from course.physics.refrigerant import saturation_at_temperature
from course.service.dissolved import activity, dissolved_g


def test_pure_refrigerant_and_pure_oil():
    assert activity(1.0, 1200.0) == pytest.approx(1.0)
    assert activity(0.0, 1200.0) == 0.0
    nearly = activity(0.999, 1200.0)
    assert nearly == pytest.approx(1.0, abs=1e-4), "a little oil hardly lowers the pressure"


def test_more_refrigerant_always_means_more_pressure():
    steps = [activity(share / 200, 1200.0) for share in range(201)]
    assert steps == sorted(steps)


def test_twelve_per_cent_at_a_third_of_saturation():
    """R-134a in PAG at 40 °C and 3.5 bar absolute (0.34 of saturation): about 12 % by weight, from memory."""
    assert activity(0.12, saturation_at_temperature("R134a", 313.15).liquid_density) == pytest.approx(0.344, abs=0.02)


def test_cold_oil_holds_more():
    assert dissolved_g("R134a", 240.0, 101325.0, 10.0) > 1.3 * dissolved_g("R134a", 240.0, 101325.0, 21.0)


@settings(max_examples=25, deadline=None)
@given(st.floats(1.0, 2000.0), st.floats(0.0, 0.98), st.floats(-40.0, 60.0), st.sampled_from(["R134a", "R1234yf"]))
def test_there_and_back(oil, share, celsius, refrigerant):
    saturated = saturation_at_temperature(refrigerant, celsius + 273.15)
    held = dissolved_g(refrigerant, oil, share * saturated.pressure, celsius)
    oil_g = oil * 1.0
    assert activity(held / (held + oil_g), saturated.liquid_density) == pytest.approx(share, abs=1e-6)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: dissolved_g("R134a", 200.0, 7e5, 20.0), "above it refrigerant condenses and no longer only dissolves"),
        (lambda: dissolved_g("R134a", -5.0, 1e5, 20.0), "oil: -5 mL was given"),
    ],
)
def test_sentences(ask, words):
    with pytest.raises(OutOfRange, match=words):
        ask()
