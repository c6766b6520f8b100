"""Worked cycles of textbooks, recomputed through the workbook's compressor, properties and energy sums.

The rows hold differences of enthalpy and what follows from them: the books' absolute enthalpies count from another zero.
"""

import pytest

from course.physics.refrigerant import liquid, saturation_at_pressure, saturation_at_temperature, vapour
from course.units import ZERO_C_IN_K
from tests.outside.plain_cycle import plain_cycle
from tests.reference.reading import cases, check

REFRIGERANT = "R134a"
W_PER_TON = 211.0e3 / 60.0  # the ton of refrigeration as the book rounds it, 211 kJ/min


def _level(given, pressure, temperature):
    """Saturation at whichever of the two the book gives."""
    if pressure in given:
        return saturation_at_pressure(REFRIGERANT, given[pressure])
    return saturation_at_temperature(REFRIGERANT, given[temperature] + ZERO_C_IN_K)


def _corners(given):
    """Suction gas, high side, and the liquid's enthalpy, from what the book gives."""
    low, high = _level(given, "low_pressure_pa", "evaporating_c"), _level(given, "high_pressure_pa", "condensing_c")
    suction_temperature = given.get("suction_c", low.temperature - ZERO_C_IN_K + given.get("superheat_k", 0.0))
    suction = vapour(REFRIGERANT, low.pressure, suction_temperature + ZERO_C_IN_K)
    if "condenser_outlet_c" in given:
        outlet = liquid(REFRIGERANT, given["condenser_outlet_pressure_pa"], given["condenser_outlet_c"] + ZERO_C_IN_K)
    else:
        outlet = liquid(REFRIGERANT, high.pressure, high.temperature - given["subcooling_k"])
    return suction, high, outlet.enthalpy


def _efficiency(given, suction, high, end_enthalpy):
    """The efficiency the book gives, or the one that follows from its discharge temperature."""
    if "isentropic_efficiency" in given:
        return given["isentropic_efficiency"]
    ideal = plain_cycle(REFRIGERANT, suction, high, end_enthalpy, 1.0, given["flow_kg_s"])
    discharge = vapour(REFRIGERANT, high.pressure, given["discharge_c"] + ZERO_C_IN_K)
    return ideal.work / (discharge.enthalpy - suction.enthalpy)


def _cycle(given):
    """The workbook's answer to one example, and the efficiency it was run at."""
    suction, high, end_enthalpy = _corners(given)
    efficiency = _efficiency(given, suction, high, end_enthalpy)
    return plain_cycle(REFRIGERANT, suction, high, end_enthalpy, efficiency, given["flow_kg_s"]), efficiency, high


def _quantities(given):
    """Every quantity the rows have, in their units."""
    cycle, efficiency, high = _cycle(given)
    return {
        ("high pressure", "bar"): high.pressure / 1e5,
        ("work of compression", "kJ/kg"): cycle.work / 1e3,
        ("isentropic work", "kJ/kg"): cycle.work * efficiency / 1e3,
        ("cooling effect", "kJ/kg"): cycle.cooling / 1e3,
        ("isentropic efficiency", "-"): efficiency,
        ("capacity", "kW"): cycle.energy.capacity / 1e3,
        ("capacity", "ton"): cycle.energy.capacity / W_PER_TON,
        ("power", "kW"): cycle.energy.power / 1e3,
        ("condenser heat", "kW"): cycle.condenser_heat / 1e3,
        ("COP", "-"): cycle.energy.cop,
    }


BOOKS = ("cengel_boles_cycles.csv", "moran_shapiro_cycles.csv")


@pytest.mark.parametrize("row", [case for book in BOOKS for case in cases(book)])
def test_a_worked_cycle_comes_out_as_the_book_has_it(row):
    check(row, _quantities(row.given)[row.quantity, row.unit])


@pytest.mark.parametrize("row", [case for book in BOOKS for case in cases(book, "COP")])
def test_heat_in_is_heat_out(row):
    """The books' cycles lose nothing on the way: cooling and power leave at the condenser."""
    cycle, _, _ = _cycle(row.given)
    assert cycle.energy.losses == pytest.approx(0.0, abs=1e-6)
    assert cycle.condenser_heat == pytest.approx(cycle.energy.power + cycle.energy.capacity, rel=1e-9)
