"""Numbers of the quick reference against printed ones: a service chart, a factory's base pressures, dials up a hill."""

import pytest

from course.errors import OutOfRange, UnknownChoice
from course.service.cylinder import fill_limit_kg
from course.service.reference_numbers import (
    boiling_at_gauge_c,
    gauge_at_boiling_pa,
    overfilling,
    place_at,
    vacuum_dial_inhg,
)
from course.service.water import absolute_from_vacuum_dial_pa, boiling_pressure_pa
from course.units import PA_PER_PSI
from tests.reference.reading import cases, check

# static base pressure, engine off, bar gauge: a 2001 factory manual (read); it prints tenths, and agrees within one
BASE_PRESSURES = {15.0: 3.9, 20.0: 4.7, 25.0: 5.6, 30.0: 6.7, 35.0: 7.8, 40.0: 9.1, 45.0: 10.5}


@pytest.mark.parametrize(("temperature_c", "bar"), BASE_PRESSURES.items())
def test_a_bottle_reads_what_a_factory_prints(temperature_c, bar):
    assert gauge_at_boiling_pa("R134a", temperature_c) / 1e5 == pytest.approx(bar, abs=0.1)


@pytest.mark.parametrize("row", cases("r134a_service_chart.csv", "saturation temperature"))
def test_a_service_chart_is_met_within_its_own_tolerance(row):
    pressure = float(row.given["pressure_kpa_gauge"]) * 1000.0
    check(row, boiling_at_gauge_c("R134a", pressure, float(row.given["altitude_m"])))


@pytest.mark.parametrize("altitude_m", [0.0, 1500.0, 3000.0])
@pytest.mark.parametrize("refrigerant", ["R134a", "R1234yf"])
def test_both_ways_are_one_way(refrigerant, altitude_m):
    for temperature in (-20.0, 25.0, 70.0):
        gauge = gauge_at_boiling_pa(refrigerant, temperature, altitude_m)
        assert boiling_at_gauge_c(refrigerant, gauge, altitude_m) == pytest.approx(temperature, abs=1e-6)


def test_thin_air_shifts_a_dial():
    # trade arithmetic, computed from ISO 2533: 500 m 0.85 psi, 1,000 m 1.7, 1,500 m 2.4, 2,000 m 3.2, 3,000 m 4.5
    for altitude, psi in ((500.0, 0.85), (1000.0, 1.7), (1500.0, 2.4), (2000.0, 3.2), (3000.0, 4.5)):
        assert place_at(altitude).reads_higher_pa / PA_PER_PSI == pytest.approx(psi, abs=0.05)
    # the same table: air 95.5, 84.6 and 70.1 kPa
    assert [round(place_at(altitude).air_pa / 1e3, 1) for altitude in (500.0, 1500.0, 3000.0)] == [95.5, 84.6, 70.1]
    assert place_at(0.0).deepest_vacuum_inhg == pytest.approx(29.92, abs=0.005)  # one atmosphere, NIST SP 811


def test_a_dial_comes_back_from_its_own_reading():
    for celsius, altitude in ((25.0, 0.0), (5.0, 1500.0), (-20.0, 3000.0)):
        pressure = boiling_pressure_pa(celsius)
        dial = vacuum_dial_inhg(pressure, altitude)
        assert absolute_from_vacuum_dial_pa(dial, altitude) == pytest.approx(pressure)


def test_a_fuller_cylinder_is_full_of_liquid_sooner():
    rows = overfilling(27.2, "R134a")
    assert rows[0][1] == fill_limit_kg(27.2, "R134a")
    assert round(rows[0][1], 1) == 23.5  # 27.2 L on the 54 °C basis
    assert [share for share, *_ in rows] == [1.0, 1.1, 1.2]
    hot = [full_c for *_, full_c in rows]
    assert hot[0] > hot[1] > hot[2] > 54.4


def test_what_cannot_be_is_said():
    with pytest.raises(UnknownChoice, match="refrigerant"):
        gauge_at_boiling_pa("R22", 25.0)
    with pytest.raises(OutOfRange, match="altitude: 4000 m was given"):
        place_at(4000.0)
    with pytest.raises(OutOfRange, match="vacuum"):
        vacuum_dial_inhg(101000.0, 1500.0)
