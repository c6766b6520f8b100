"""Refrigerant and air against published tables; each row names its source and the reason for its tolerance."""

import psychrolib
import pytest

from course.physics.moist_air import (
    dew_point,
    moist_air,
    saturated_humidity_ratio,
    saturation_vapour_pressure,
    wet_bulb,
)
from course.physics.refrigerant import saturation_at_temperature, vapour

# Tillner-Roth and Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657, tables 8-9 (read): T, p, liquid and vapour density;
# tolerance: the last printed digit
R134A = [
    (250.0, 0.11561, 1367.9, 5.9546),
    (300.0, 0.70282, 1199.7, 34.193),
    (350.0, 2.4611, 951.32, 140.99),
]


@pytest.mark.parametrize("temperature, mpa, liquid, gas", R134A)
def test_r134a_saturation_as_printed(temperature, mpa, liquid, gas):
    state = saturation_at_temperature("R134a", temperature)
    assert state.pressure / 1e6 == pytest.approx(mpa, rel=5e-5)
    assert state.liquid_density == pytest.approx(liquid, rel=5e-5)
    assert state.vapour_density == pytest.approx(gas, rel=5e-5)


def test_r134a_heat_of_vaporisation_as_printed():
    """Same tables, 300 K: 413.27 - 237.19 = 176.08 kJ/kg; differences only, reference states differ."""
    state = saturation_at_temperature("R134a", 300.0)
    assert (state.vapour_enthalpy - state.liquid_enthalpy) / 1e3 == pytest.approx(176.08, abs=0.02)


def test_superheated_gas_meets_the_saturated_table():
    state = saturation_at_temperature("R134a", 300.0)
    gas = vapour("R134a", state.pressure, 300.0)
    assert gas.density == pytest.approx(state.vapour_density, rel=1e-9)
    assert gas.heat_capacity / 1e3 == pytest.approx(1.0438, rel=1e-3)  # same tables: vapour cp at 300 K


# ASHRAE Handbook Fundamentals 2017 chapter 1 table 3 (read); tolerance: 0.1 % for the real gas of the table, or its last printed digit
@pytest.mark.parametrize(
    "celsius, pascal", [(-60, 1.08), (-20, 103.24), (-5, 401.74), (5, 872.6), (25, 3169.7), (50, 12351.3)]
)
def test_water_vapour_pressure_as_printed(celsius, pascal):
    assert saturation_vapour_pressure(celsius + 273.15) == pytest.approx(pascal, rel=1e-3, abs=0.005)


# same chapter, table 2 (read); tolerance: the table carries a real-gas factor that is left out here; at 50 °C it
# makes 0.6 %, being raised once more by p / (p - vapour pressure)
@pytest.mark.parametrize("celsius, ratio", [(-20, 0.0006373), (5, 0.005425), (25, 0.020173), (50, 0.086863)])
def test_saturated_air_as_printed(celsius, ratio):
    assert saturated_humidity_ratio(celsius + 273.15, 101325.0) == pytest.approx(ratio, rel=7e-3)


@pytest.mark.parametrize(
    "celsius, humidity, pascal", [(10.0, 0.9, 101325.0), (35.0, 0.4, 101325.0), (45.0, 0.15, 79500.0)]
)
def test_moist_air_against_an_independent_library(celsius, humidity, pascal):
    """psychrolib 2.5 (general-purpose library, own code of the same handbook); tolerance: its iteration limits of 0.001 K."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    air = moist_air(celsius + 273.15, humidity, pascal)
    assert air.humidity_ratio == pytest.approx(psychrolib.GetHumRatioFromRelHum(celsius, humidity, pascal), rel=1e-4)
    assert dew_point(air.humidity_ratio, pascal) - 273.15 == pytest.approx(
        psychrolib.GetTDewPointFromHumRatio(celsius, air.humidity_ratio, pascal), abs=0.01
    )
    assert wet_bulb(air) - 273.15 == pytest.approx(
        psychrolib.GetTWetBulbFromRelHum(celsius, humidity, pascal), abs=0.01
    )
