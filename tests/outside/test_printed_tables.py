"""Refrigerants, water and air against printed tables; heat capacities at constant volume and speeds of sound stand in some of
these tables too, but the workbook computes neither, so no row has them."""

import pytest

from course.physics.moist_air import (
    enthalpy,
    moist_air,
    relative_humidity,
    saturated_humidity_ratio,
    saturation_vapour_pressure,
    wet_bulb,
)
from course.physics.refrigerant import (
    liquid,
    saturation_at_pressure,
    saturation_at_temperature,
    vapour,
    vapour_pressure_at_density,
)
from course.service.water import boiling_pressure_pa, boils_at_c
from course.units import absolute_from_gauge_pa, celsius_to_kelvin, kelvin_to_celsius
from tests.reference.reading import cases, check

MOLAR_MASS_R1234YF = 0.1140416  # kg/mol, CF3-CF=CH2; from memory, as the paper of the rows has it


def _state(refrigerant, given):
    """The one state a row describes, whichever way it describes it."""
    if "pressure_pa" in given and "temperature_k" in given:
        single = liquid if given["phase"] == "liquid" else vapour
        return single(refrigerant, given["pressure_pa"], given["temperature_k"])
    if "temperature_k" in given:
        saturated = saturation_at_temperature(refrigerant, given["temperature_k"])
    else:
        saturated = saturation_at_pressure(refrigerant, given["pressure_pa"])
    single = liquid if given["phase"] == "saturated_liquid" else vapour
    return single(refrigerant, saturated.pressure, saturated.temperature)


def _r134a(row):
    state = _state("R134a", row.given)
    # the tables count from 200 kJ/kg and 1 kJ/(kg K) in saturated liquid at 0 °C; so only differences are compared
    zero = _state("R134a", {"temperature_k": 273.15, "phase": "saturated_liquid"})
    return {
        "pressure": state.pressure / 1e6,
        "temperature": state.temperature,
        "density": state.density,
        "enthalpy": 200.0 + (state.enthalpy - zero.enthalpy) / 1e3,
        "entropy": 1.0 + (state.entropy - zero.entropy) / 1e3,
        "heat capacity": state.heat_capacity / 1e3,
    }[row.quantity]


@pytest.mark.parametrize("row", cases("r134a_equation.csv"))
def test_r134a_as_its_equation_was_published(row):
    check(row, _r134a(row))


def _r1234yf(row):
    if row.quantity == "pressure":
        density = row.given["molar_density_mol_l"] * 1e3 * MOLAR_MASS_R1234YF
        return vapour_pressure_at_density("R1234yf", density, row.given["temperature_k"]) / 1e6
    state = _state("R1234yf", row.given)
    return {
        "molar density": state.density / MOLAR_MASS_R1234YF / 1e3,
        "molar heat capacity": state.heat_capacity * MOLAR_MASS_R1234YF,
    }[row.quantity]


@pytest.mark.parametrize("row", cases("r1234yf_equation.csv"))
def test_r1234yf_as_its_equation_was_published(row):
    check(row, _r1234yf(row))


@pytest.mark.parametrize("row", cases("r134a_service_chart.csv"))
def test_r134a_as_a_service_manual_prints_it(row):
    pressure = absolute_from_gauge_pa(row.given["pressure_kpa_gauge"] * 1e3, row.given["altitude_m"])
    check(row, kelvin_to_celsius(saturation_at_pressure("R134a", pressure).temperature))


OVER = ("saturation pressure over ice", "saturation pressure over water")


@pytest.mark.parametrize("row", cases("ashrae_moist_air.csv", *OVER))
def test_water_vapour_as_printed(row):
    """The workbook has two equations for it, one for the air and one for the vacuum pump: both hold."""
    check(row, saturation_vapour_pressure(celsius_to_kelvin(row.given["temperature_c"])))
    check(row, boiling_pressure_pa(row.given["temperature_c"]))


@pytest.mark.parametrize("row", cases("ashrae_moist_air.csv", "saturated humidity ratio", "saturated enthalpy"))
def test_saturated_air_as_printed(row):
    temperature = celsius_to_kelvin(row.given["temperature_c"])
    ratio = saturated_humidity_ratio(temperature, row.given["pressure_pa"])
    check(row, ratio if row.quantity == "saturated humidity ratio" else enthalpy(temperature, ratio))


def _air_of_wet_bulb(given):
    """The air whose wet bulb is the one given; the workbook goes from humidity to wet bulb, so by bisection."""
    dry, low, high = celsius_to_kelvin(given["dry_bulb_c"]), 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2.0
        air = moist_air(dry, middle, given["pressure_pa"])
        low, high = (middle, high) if wet_bulb(air) < celsius_to_kelvin(given["wet_bulb_c"]) else (low, middle)
    return air


@pytest.mark.parametrize("row", cases("ashrae_moist_air.csv", "humidity ratio", "relative humidity", "enthalpy"))
def test_the_handbooks_first_example(row):
    air = _air_of_wet_bulb(row.given)
    found = {
        "humidity ratio": air.humidity_ratio,
        "relative humidity": relative_humidity(air),
        "enthalpy": air.enthalpy,
    }
    check(row, found[row.quantity])


@pytest.mark.parametrize("row", cases("water_under_vacuum.csv", "boiling temperature"))
def test_water_boils_where_the_steam_table_says(row):
    check(row, boils_at_c(row.given["pressure_kpa"] * 1e3))


@pytest.mark.parametrize("row", cases("water_under_vacuum.csv", "boiling pressure"))
def test_water_boils_as_its_equation_was_published(row):
    check(row, boiling_pressure_pa(row.given["temperature_c"]) / 1e6)
