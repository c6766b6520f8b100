"""Standing pressures against print, and the sentences that go with switches."""

from dataclasses import replace

import pytest

from course.physics.at_rest import rest_pressure
from course.physics.bench import run_bench
from course.physics.car_file import load_system
from course.physics.faults import with_faults

# static base pressure, engine off, R-134a, bar gauge (2001 service manual, read); printed to 0.1 bar
PRINTED = {15.0: 3.9, 20.0: 4.7, 25.0: 5.6, 30.0: 6.7, 35.0: 7.8, 40.0: 9.1, 45.0: 10.5}


@pytest.mark.parametrize("temperature, bar", PRINTED.items())
def test_standing_pressure_as_printed(temperature, bar):
    gauge = rest_pressure("sedan", temperature_c=temperature, charge_fraction=1.0)
    assert gauge / 100.0 == pytest.approx(bar, abs=0.11)  # one printed step, and its rounding


def test_standing_pressure_does_not_show_charge_until_the_liquid_is_gone():
    full, third, tenth = (rest_pressure("sedan", temperature_c=25.0, charge_fraction=c) for c in (1.0, 0.3, 0.05))
    assert full == third
    assert tenth < 0.6 * full


def test_air_adds_its_pressure_at_rest():
    """Worked out by hand: air of 1 atm in a never-evacuated circuit adds 101 kPa x V / (V - liquid) (textbook)."""
    car = load_system("sedan")
    air = with_faults(car, {"air_in_system": 1.0}).air_mass
    gain = rest_pressure(car, temperature_c=25.0, charge_fraction=1.0, air_kg=air) - rest_pressure(
        car, temperature_c=25.0, charge_fraction=1.0
    )
    # 0.5 kg at 25 °C: (0.5 - 32.4 V) / (1207 - 32.4) m3 of liquid
    liquid = (0.5 - 32.4 * car.volume) / (1207.0 - 32.4)
    assert gain == pytest.approx(101.325 * car.volume / (car.volume - liquid), rel=0.01)


def test_a_gauge_reads_higher_up_the_mountain():
    """ISA: 89.9 kPa at 1,000 m against 101.3 at sea level, so the same standing pressure reads 11.4 kPa more."""
    gain = rest_pressure("sedan", temperature_c=25.0, charge_fraction=1.0, altitude_m=1000.0) - rest_pressure(
        "sedan", temperature_c=25.0, charge_fraction=1.0
    )
    assert gain == pytest.approx(11.4, abs=0.1)


@pytest.mark.parametrize(
    "car, settings, words",
    [
        ("pickup", {"ambient_c": 22.0}, "clutch cycles"),
        ("sedan", {"ambient_c": 20.0, "compressor_rpm": 3000.0}, "evaporator sensor cycles"),
        ("compact", {"ambient_c": 20.0}, "shortened its stroke"),
        ("sedan", {"ambient_c": 45.0, "charge_fraction": 1.4, "compressor_rpm": 4000.0}, "high-pressure cut-out"),
        ("sedan", {"charge_fraction": 0.02}, "low-pressure switch holds the compressor off"),
        ("pickup", {"ambient_c": 30.0, "charge_fraction": 1.4}, "Liquid refrigerant returns"),
        ("sedan", {"faults": {"txv_stuck_closed": 1.0}}, "in vacuum"),
        ("sedan", {"faults": {"air_in_system": 0.5}}, "Air adds its own pressure"),
        ("pickup", {"faults": {"txv_stuck_open": 0.5}}, "has no expansion valve"),
        ("pickup", {"faults": {"evaporator_airflow_low": 0.9}, "ambient_c": 20.0}, "below freezing"),
        ("sedan", {"charge_fraction": 0.0}, "no refrigerant"),
    ],
)
def test_a_switch_or_a_danger_is_said(car, settings, words):
    notes = run_bench(car, **settings).notes
    assert any(words in note for note in notes), notes


def test_a_head_just_under_its_relief_valve_is_called_a_danger():
    """No car of the course comes near its valve before its switch opens; one with a valve at 3,100 kPa does."""
    sedan = load_system("sedan")
    settings = {"ambient_c": 45.0, "charge_fraction": 1.4, "compressor_rpm": 4000.0}
    assert not any("relief" in note for note in run_bench(sedan, **settings).notes)
    weak = replace(sedan, controls=replace(sedan.controls, relief_pressure=3.1e6))
    assert "Danger: the relief valve opens at 3100 kPa (450 psi) gauge." in run_bench(weak, **settings).notes


def test_a_healthy_car_on_a_warm_day_has_nothing_to_say():
    assert run_bench("sedan", ambient_c=35.0, compressor_rpm=1100.0).notes == ()


def test_sight_glass_is_clear_then_bubbles_then_empty():
    seen = [run_bench("sedan", charge_fraction=charge).sight_glass for charge in (1.0, 0.4, 0.03)]
    assert seen == ["clear", "bubbles", "empty"]
    assert run_bench("pickup").sight_glass == "none"
