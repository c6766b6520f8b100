"""Refrigerant properties among themselves; published tables and other libraries are in tests/outside."""

import pytest

from course.physics.refrigerant import liquid, saturation_at_temperature, vapour


@pytest.mark.parametrize("refrigerant", ["R134a", "R1234yf"])
@pytest.mark.parametrize("temperature", [233.15, 273.15, 300.0, 343.15])
def test_each_phase_meets_the_saturated_table(refrigerant, temperature):
    """Imposing the phase at the saturation pressure gives the states of the table again."""
    state = saturation_at_temperature(refrigerant, temperature)
    gas, drop = (phase(refrigerant, state.pressure, temperature) for phase in (vapour, liquid))
    assert gas.density == pytest.approx(state.vapour_density, rel=1e-6)
    assert gas.enthalpy == pytest.approx(state.vapour_enthalpy, rel=1e-6)
    assert gas.entropy == pytest.approx(state.vapour_entropy, rel=1e-6)
    assert drop.density == pytest.approx(state.liquid_density, rel=1e-6)
    assert drop.enthalpy == pytest.approx(state.liquid_enthalpy, rel=1e-6)
