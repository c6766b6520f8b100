"""Where humid air ends: what is refused, with what sentence, and the ends themselves; values are held in tests/outside."""

import pytest

from course.errors import OutOfRange
from course.physics.moist_air import (
    condensing_heat,
    dew_point,
    enthalpy,
    moist_air,
    saturated_humidity_ratio,
    saturation_vapour_pressure,
    temperature_of_saturated_enthalpy,
    wet_bulb,
)

SEA_LEVEL = 101325.0  # Pa


@pytest.mark.parametrize(
    ("call", "parts"),
    [
        (lambda: saturation_vapour_pressure(203.14), ("air temperature", "-70.01 °C", "-70 to 100 °C", "check the weather")),
        (lambda: saturation_vapour_pressure(373.16), ("air temperature", "100 °C was given", "-70 to 100 °C")),
        # water boils at 86 °C at 60 kPa (steam tables: 60.1 kPa)
        (lambda: saturated_humidity_ratio(359.3, 60e3), ("86.15 °C", "60 kPa", "water boils", "lower temperature")),
        (lambda: moist_air(363.15, 1.0, 60e3), ("90 °C", "60 kPa", "water boils", "lower temperature")),
        (lambda: dew_point(1e-7, SEA_LEVEL), ("dew point", "1e-07", "below -70 °C", "more water in it")),
        (lambda: temperature_of_saturated_enthalpy(-75e3, SEA_LEVEL), ("-75 kJ/kg", "-69 and 60 °C", "check the coil")),
        (lambda: temperature_of_saturated_enthalpy(500e3, SEA_LEVEL), ("500 kJ/kg", "-69 and 60 °C", "check the coil")),
    ],
)  # fmt: skip
def test_air_beyond_its_ends_is_refused_with_a_sentence(call, parts):
    with pytest.raises(OutOfRange) as refusal:
        call()
    assert all(part in str(refusal.value) for part in parts), str(refusal.value)


def test_the_ends_themselves_are_allowed():
    """100 °C: 101,418 Pa (ASHRAE Fundamentals 2017, chapter 1, table 3); -70 °C: 0.26 Pa, same table."""
    assert saturation_vapour_pressure(373.15) == pytest.approx(101418.0, rel=1e-4)
    assert saturation_vapour_pressure(203.15) == pytest.approx(0.26, abs=0.005)
    # hardly anything is in dry air, but its frost point is still found just above the end
    driest = saturated_humidity_ratio(203.2, SEA_LEVEL)
    assert dew_point(driest, SEA_LEVEL) == pytest.approx(203.2, abs=1e-6)


@pytest.mark.parametrize("celsius", [-5.0, 12.0, 35.0])
def test_in_saturated_air_nothing_dries(celsius):
    """The wet thermometer, the dew point and the coil's surface are all as warm as the air itself."""
    kelvin = celsius + 273.15
    ratio = saturated_humidity_ratio(kelvin, SEA_LEVEL)
    air = moist_air(kelvin, 1.0, SEA_LEVEL)
    assert air.humidity_ratio == pytest.approx(ratio)
    assert wet_bulb(air) == pytest.approx(kelvin, abs=1e-6)
    assert dew_point(ratio, SEA_LEVEL) == pytest.approx(kelvin, abs=1e-6)
    assert temperature_of_saturated_enthalpy(enthalpy(kelvin, ratio), SEA_LEVEL) == pytest.approx(kelvin, abs=1e-6)


@pytest.mark.parametrize("celsius", [5.0, 12.0, 20.0])
def test_the_heat_of_drying_air_is_nearly_all_that_drying_takes(celsius):
    """The enthalpy of the air with and without the water, less what cooler vapour and drops give off."""
    taken = enthalpy(celsius + 273.15, 0.010) - enthalpy(celsius + 273.15, 0.007)
    assert condensing_heat(0.003) == pytest.approx(taken, rel=0.02)
    assert condensing_heat(0.003) < taken


def test_fog_is_no_wetter_to_the_thermometer_than_saturated_air():
    air = moist_air(290.0, 1.05, SEA_LEVEL)
    assert wet_bulb(air) == 290.0
