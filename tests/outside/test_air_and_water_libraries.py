"""Humid air against psychrolib and water vapour against iapws; water under vacuum is held to iapws in tests/service."""

import pytest

from course.physics.moist_air import (
    dew_point,
    moist_air,
    relative_humidity,
    saturated_humidity_ratio,
    saturation_vapour_pressure,
    wet_bulb,
)
from course.service.water import boiling_pressure_pa
from course.units import atmospheric_pressure_pa, celsius_to_kelvin, kelvin_to_celsius
from tests.outside.libraries import library


@pytest.fixture
def psychrolib():
    """PsychroLib in SI units; it keeps them in one place for everybody."""
    found = library("psychrolib")
    found.SetUnitSystem(found.SI)
    return found


@pytest.mark.parametrize("celsius", [-60.0, -20.0, -5.0, 0.5, 5.0, 25.0, 50.0, 95.0])
def test_saturation_against_psychrolib(psychrolib, celsius):
    """The same handbook equations in other hands: rounding only."""
    kelvin = celsius_to_kelvin(celsius)
    assert saturation_vapour_pressure(kelvin) == pytest.approx(psychrolib.GetSatVapPres(celsius), rel=1e-6)
    if celsius < 90.0:
        ratio = saturated_humidity_ratio(kelvin, 101325.0)
        assert ratio == pytest.approx(psychrolib.GetSatHumRatio(celsius, 101325.0), rel=1e-6)


@pytest.mark.parametrize("altitude_m", [0.0, 2000.0])
@pytest.mark.parametrize("humidity", [0.1, 0.4, 0.9])
@pytest.mark.parametrize("celsius", [2.0, 10.0, 35.0, 45.0])
def test_moist_air_against_psychrolib(psychrolib, celsius, humidity, altitude_m):
    """The same handbook equations in other hands; psychrolib stops its searches for dew point and wet bulb at 0.001 K."""
    pressure = atmospheric_pressure_pa(altitude_m)
    air = moist_air(celsius_to_kelvin(celsius), humidity, pressure)
    ratio = psychrolib.GetHumRatioFromRelHum(celsius, humidity, pressure)
    assert air.humidity_ratio == pytest.approx(ratio, rel=1e-6)
    assert air.enthalpy == pytest.approx(psychrolib.GetMoistAirEnthalpy(celsius, ratio), rel=1e-6)
    assert relative_humidity(air) == pytest.approx(psychrolib.GetRelHumFromHumRatio(celsius, ratio, pressure), rel=1e-6)
    dew = psychrolib.GetTDewPointFromHumRatio(celsius, ratio, pressure)
    assert kelvin_to_celsius(dew_point(ratio, pressure)) == pytest.approx(dew, abs=2e-3)
    wet = psychrolib.GetTWetBulbFromHumRatio(celsius, ratio, pressure)
    assert kelvin_to_celsius(wet_bulb(air)) == pytest.approx(wet, abs=2e-3)


def test_air_pressure_at_altitude_against_psychrolib(psychrolib):
    """Another printing of the standard atmosphere, with its exponent rounded to 5.2559: 1.4 millionths at 3,000 m."""
    for altitude_m in (0.0, 500.0, 1500.0, 3000.0):
        standard = psychrolib.GetStandardAtmPressure(altitude_m)
        assert atmospheric_pressure_pa(altitude_m) == pytest.approx(standard, rel=2e-6)


# Hyland and Wexler 1983, which the air of the workbook carries, is not the IAPWS equation: measured 0.02 % apart from -20 °C up,
# 0.06 % at -60 °C, where there is a millionth of an atmosphere of vapour; 1e-6 is for the workbook's water under vacuum
@pytest.mark.parametrize("celsius", [-60.0, -40.0, -20.0, -5.0, 1.0, 25.0, 50.0, 99.0])
def test_vapour_over_water_and_ice_against_iapws(celsius):
    kelvin = celsius_to_kelvin(celsius)
    if celsius < 0.0:
        released = 1e6 * library("iapws._iapws")._Sublimation_Pressure(kelvin)
    else:
        released = 1e6 * library("iapws.iapws97")._PSat_T(kelvin)
    assert boiling_pressure_pa(celsius) == pytest.approx(released, rel=1e-6)
    assert saturation_vapour_pressure(kelvin) == pytest.approx(released, rel=1e-3 if celsius < -20.0 else 3e-4)
