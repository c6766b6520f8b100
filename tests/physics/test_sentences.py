"""Every refusal is a sentence: what was given, what is allowed, what to do."""

import math
from dataclasses import replace

import pytest

from course.errors import BadDataFile, ImpossibleSystem, OutOfRange, UnknownChoice
from course.physics.at_rest import rest_pressure
from course.physics.bench import run_bench
from course.physics.car_file import check_possible, load_system, system_from_table
from course.physics.refrigerant import saturation_at_pressure, saturation_at_temperature, state_at_enthalpy
from course.tables import DATA, read_system_file


@pytest.mark.parametrize(
    "settings, parts",
    [
        ({"ambient_c": 60.0}, ("ambient temperature", "60 °C", "10 to 50 °C")),
        ({"relative_humidity": 55.0}, ("relative humidity", "55", "0.05 to 0.95", "share of one")),
        ({"compressor_rpm": 100.0}, ("compressor speed", "100 rpm", "600 to 6000 rpm")),
        ({"altitude_m": -5.0}, ("altitude", "-5 m", "0 to 3000 m")),
        ({"charge_fraction": 1.5}, ("charge", "1.5", "0 to 1.4")),
        ({"charge_fraction": -0.1}, ("charge", "-0.1", "0 to 1.4")),
        ({"charge_fraction": math.nan}, ("charge", "nan", "0 to 1.4")),
        ({"charge_fraction": "full"}, ("charge", "'full'", "not a number")),
        ({"blower_fraction": 0.0}, ("blower setting", "0.2 to 1")),
        ({"road_speed_km_h": 500.0}, ("road speed", "500 km/h")),
        ({"cabin_c": 22.0}, ("cabin temperature", "without recirculation", "switch recirculation on")),
        ({"faults": {"worn_compressor": 2.0}}, ("severity of worn_compressor", "2", "0 to 1")),
        ({"faults": {"worn_compressor": math.nan}}, ("severity of worn_compressor", "nan")),
    ],
)
def test_values_out_of_range(settings, parts):
    with pytest.raises(OutOfRange) as refusal:
        run_bench("sedan", **settings)
    assert all(part in str(refusal.value) for part in parts), str(refusal.value)


@pytest.mark.parametrize(
    "call, parts",
    [
        (lambda: run_bench("lorry"), ("car", "'lorry'", "compact, pickup, sedan")),
        (lambda: run_bench("sedan", faults={"gremlins": 0.5}), ("fault", "'gremlins'", "worn_compressor")),
        (lambda: saturation_at_pressure("R12", 1e5), ("refrigerant", "'R12'", "R134a, R1234yf")),
        (lambda: saturation_at_pressure("R134a", 9e6), ("saturation pressure", "9000 kPa", "critical")),
        (lambda: saturation_at_temperature("R134a", 400.0), ("saturation temperature", "126.9 °C", "-80 °C")),
        (lambda: rest_pressure("sedan", temperature_c=90.0, charge_fraction=1.0), ("soak temperature", "90 °C")),
        (
            lambda: state_at_enthalpy("R134a", 5e5, 9e6),
            ("R134a", "500 kPa absolute", "9000 kJ/kg", "point on the chart"),
        ),
    ],
)
def test_unknown_names_and_points_off_the_chart(call, parts):
    with pytest.raises((UnknownChoice, OutOfRange)) as refusal:
        call()
    assert all(part in str(refusal.value) for part in parts), str(refusal.value)


def broken(tmp_path, old, new):
    """The sedan's file with one mistake."""
    text = (DATA / "systems" / "sedan.toml").read_text(encoding="utf-8")
    assert old in text
    path = tmp_path / "broken.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "old, new, parts",
    [
        ("displacement_cm3 =", "displacment_cm3 =", ("broken.toml", "compressor.displacement_cm3 is missing")),
        ("[car]", "[car]\ncolour = 'red'", ("broken.toml", "car.colour", "misspelling")),
        ('refrigerant = "R134a"', 'refrigerant = "R12"', ("broken.toml", "car.refrigerant", "'R12'")),
        ("invented = true", "invented = false", ("broken.toml", "car.invented")),
        ("sight_glass = true", 'sight_glass = "yes"', ("broken.toml", "car.sight_glass", "'yes'")),
        ("[compressor]", "[compressor", ("broken.toml", "not readable TOML")),
    ],
)
def test_mistakes_in_a_data_file(tmp_path, old, new, parts):
    with pytest.raises(BadDataFile) as refusal:
        read_system_file(broken(tmp_path, old, new))
    assert all(part in str(refusal.value) for part in parts), str(refusal.value)


def test_a_missing_file_is_named(tmp_path):
    with pytest.raises(BadDataFile, match=r"nowhere\.toml: there is no such file"):
        read_system_file(tmp_path / "nowhere.toml")


def test_a_fourth_car_needs_only_a_file(tmp_path):
    path = broken(tmp_path, 'name = "Invented sedan"', 'name = "Invented van"')
    van = system_from_table("van", read_system_file(path))
    assert run_bench(van).low_side_kpa_gauge == run_bench("sedan").low_side_kpa_gauge


def test_a_car_too_small_for_its_charge():
    sedan = load_system("sedan")
    tight = replace(sedan, label_charge=3.0)
    with pytest.raises(ImpossibleSystem, match=r"its parts hold .* cm3, but 1\.4 times the label charge is"):
        check_possible(tight)


def test_a_car_with_the_wrong_vessel_or_switches():
    sedan = load_system("sedan")
    with pytest.raises(ImpossibleSystem, match="goes with a receiver, but a accumulator was given"):
        check_possible(replace(sedan, storage=replace(sedan.storage, kind="accumulator")))
    with pytest.raises(ImpossibleSystem, match="must rise from low-side hold"):
        check_possible(replace(sedan, controls=replace(sedan.controls, low_side_cut_in=1e5)))
