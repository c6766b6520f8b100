"""What each fault changes in a car, held against what data/faults.toml says severity means; nothing else may change.

The numbers are worked out here by hand from that file's sentences, at half and at full severity.
"""

from dataclasses import fields, is_dataclass, replace

import pytest

from course.errors import OutOfRange, UnknownChoice
from course.physics.car_file import load_system
from course.physics.faults import FAULTS, close_metering, fits, with_faults
from course.tables import read_faults, system_ids

# "each step closing the same share of what was left": half-way to a tenth is its square root
HALF_OF_A_TENTH = 0.1**0.5
AIR_AT_25_C = 1.1839  # kg/m3, dry air at 25 °C and 101.325 kPa (ISA gas law, printed in physics tables as 1.184)

# fault: kind of metering device, what changes, at severity 0.5, at severity 1, and at severity 0.5 if the file said 0.64
# (0.36 left, its root 0.6); a plain number is the new value, a text "x 10" a factor on the healthy one
CHANGES = [
    # a tenth of the flow path left: the drop goes with the square of the flow through it
    ("restricted_liquid_line", "any", {"liquid_line.resistance": ("x 10", "x 100", "x 2.777778")}),
    ("restricted_metering_device", "tube", {"metering.open_share": (HALF_OF_A_TENTH, 0.1, 0.6)}),
    (
        "restricted_metering_device",
        "valve",
        {
            "metering.largest_area_share": (HALF_OF_A_TENTH, 0.1, 0.6),
            "metering.bleed_area": (f"x {HALF_OF_A_TENTH}", "x 0.1", "x 0.6"),
        },
    ),
    # "opening added, as a share of the right one", up to twice the right opening
    ("oversized_orifice", "tube", {"metering.open_share": (1.5, 2.0, 1.32)}),
    ("oversized_orifice", "valve", {"metering.largest_area": ("x 1.5", "x 2", "x 1.32")}),
    ("txv_stuck_open", "tube", {}),
    ("txv_stuck_open", "valve", {"metering.least_area_share": (0.5, 1.0, 0.32)}),
    ("txv_stuck_closed", "tube", {}),
    # 3 % left; half-way to it the square root of 0.03 = 0.1732
    ("txv_stuck_closed", "valve", {"metering.largest_area_share": (0.173205, 0.03, 0.6)}),
    ("worn_compressor", "any", {"compressor.worn_share": (0.375, 0.75, 0.32)}),
    ("compressor_not_pumping", "any", {"compressor.pumping_share": (0.5, 0.0, 0.68)}),
    ("clutch_not_engaged", "any", {"compressor.clutch_share": (0.5, 0.0, 0.68)}),
    ("condenser_airflow_low", "any", {"condenser.airflow_share": (0.6, 0.2, 0.68)}),
    ("condenser_fan_stopped", "any", {"condenser.fan_share": (0.5, 0.0, 0.68)}),
    ("evaporator_airflow_low", "any", {"evaporator.airflow_share": (0.6, 0.2, 0.68)}),
    ("moisture_in_system", "any", {"ice_in_metering": (1.0 - HALF_OF_A_TENTH, 0.9, 0.4)}),
    ("warm_air_mixing", "any", {"evaporator.warm_air_share": (0.3, 0.6, 0.32)}),
]
DEVICE = {"pickup": "tube", "sedan": "valve", "compact": "valve"}


def values(part, path=""):
    """Every number and name of a car by its path."""
    found = {}
    for field in fields(part):
        value, where = getattr(part, field.name), f"{path}{field.name}"
        found |= values(value, f"{where}.") if is_dataclass(value) else {where: value}
    return found


def changed(healthy, ill):
    """What differs between two cars: path, value before, value after."""
    before, after = values(healthy), values(ill)
    assert before.keys() == after.keys()
    return {path: (before[path], after[path]) for path in before if before[path] != after[path]}


def test_every_fault_is_held_to_its_sentence():
    assert {fault for fault, _, _ in CHANGES} | {"air_in_system"} == set(FAULTS) == set(read_faults())
    assert set(DEVICE) == set(system_ids())


def hold_to(said, column, found):
    """Compare what a fault changed with one column of CHANGES."""
    assert found.keys() == said.keys()
    for path, columns in said.items():
        before, after = found[path]
        wanted = columns[column]
        if isinstance(wanted, str):
            wanted = float(wanted.removeprefix("x ")) * before
        assert after == pytest.approx(wanted, rel=1e-5), path


EVERY_CAR = pytest.mark.parametrize(
    "car, fault, said",
    [(car, fault, said) for car in DEVICE for fault, device, said in CHANGES if device in ("any", DEVICE[car])],
)


@EVERY_CAR
@pytest.mark.parametrize("column, severity", [(0, 0.5), (1, 1.0)])
def test_a_fault_changes_what_it_says_and_nothing_else(car, fault, said, column, severity):
    healthy = load_system(car)
    hold_to(said, column, changed(healthy, with_faults(healthy, {fault: severity})))


def say_0_64(monkeypatch):
    """Every fault as large as if data/faults.toml said 0.64 of it."""
    size = next(iter(read_faults().values())).at_full_share.model_copy(update={"value": 0.64})
    entries = {name: entry.model_copy(update={"at_full_share": size}) for name, entry in read_faults().items()}
    monkeypatch.setattr("course.physics.faults.read_faults", lambda: entries)


@EVERY_CAR
def test_the_size_of_a_fault_has_its_one_home_in_the_data_file(car, fault, said, monkeypatch):
    say_0_64(monkeypatch)
    healthy = load_system(car)
    hold_to(said, 2, changed(healthy, with_faults(healthy, {fault: 0.5})))


def test_so_has_the_amount_of_air(monkeypatch):
    say_0_64(monkeypatch)
    healthy = load_system("sedan")
    air = with_faults(healthy, {"air_in_system": 0.5}).air_mass
    assert air == pytest.approx(0.32 * AIR_AT_25_C * healthy.volume, rel=2e-4)


@pytest.mark.parametrize("car", DEVICE)
@pytest.mark.parametrize("severity", [0.5, 1.0])
def test_air_is_what_would_fill_the_empty_circuit_at_one_atmosphere(car, severity):
    healthy = load_system(car)
    found = changed(healthy, with_faults(healthy, {"air_in_system": severity}))
    assert found.keys() == {"air_mass"}
    assert found["air_mass"][1] == pytest.approx(severity * AIR_AT_25_C * healthy.volume, rel=2e-4)


def test_debris_closes_a_valves_bleed_and_its_stuck_share_alike():
    """A quarter closed leaves three quarters of whatever was open, and of nothing else."""
    sedan = load_system("sedan")
    worn = replace(sedan, metering=replace(sedan.metering, least_area_share=0.4, largest_area_share=0.8))
    closed = close_metering(worn, 0.25).metering
    assert closed.least_area_share == pytest.approx(0.3)
    assert closed.largest_area_share == pytest.approx(0.6)
    assert closed.bleed_area == pytest.approx(0.75 * sedan.metering.bleed_area)
    assert changed(worn, close_metering(worn, 0.25)).keys() == {
        "metering.least_area_share",
        "metering.largest_area_share",
        "metering.bleed_area",
    }


def test_debris_in_a_tube_that_is_not_whole_closes_a_share_of_what_is_left():
    pickup = load_system("pickup")
    leaky = replace(pickup, metering=replace(pickup.metering, open_share=2.0))
    assert close_metering(leaky, 0.25).metering.open_share == pytest.approx(1.5)
    assert close_metering(leaky, 0.0) == leaky


def test_faults_of_one_part_add_up_by_their_shares():
    """Worked by hand: a tenth left of a tube twice too wide is 0.2; a tenth of 3 % of a valve is 0.3 %."""
    both = {"oversized_orifice": 1.0, "restricted_metering_device": 1.0}
    assert with_faults(load_system("pickup"), both).metering.open_share == pytest.approx(0.2)
    both = {"txv_stuck_closed": 1.0, "restricted_metering_device": 1.0}
    assert with_faults(load_system("sedan"), both).metering.largest_area_share == pytest.approx(0.003)


def test_a_wider_tube_is_wider_by_a_share_of_what_it_was():
    pickup = load_system("pickup")
    half = replace(pickup, metering=replace(pickup.metering, open_share=0.5))
    assert with_faults(half, {"oversized_orifice": 1.0}).metering.open_share == pytest.approx(1.0)


def test_a_valve_already_stuck_wider_open_does_not_close():
    sedan = load_system("sedan")
    stuck = replace(sedan, metering=replace(sedan.metering, least_area_share=0.7))
    assert with_faults(stuck, {"txv_stuck_open": 0.2}).metering.least_area_share == 0.7
    assert with_faults(stuck, {"txv_stuck_open": 0.9}).metering.least_area_share == pytest.approx(0.9)


@pytest.mark.parametrize("car", DEVICE)
def test_the_order_in_which_faults_are_named_does_not_matter(car):
    healthy = load_system(car)
    faults = {fault: 0.3 + 0.04 * number for number, fault in enumerate(FAULTS)}
    assert with_faults(healthy, faults) == with_faults(healthy, dict(reversed(faults.items())))


@pytest.mark.parametrize("car", DEVICE)
@pytest.mark.parametrize("fault", FAULTS)
def test_the_smallest_severity_already_counts(car, fault):
    """A car a thousandth ill is not healthy, unless it cannot have the fault at all."""
    healthy = load_system(car)
    assert (with_faults(healthy, {fault: 1e-3}) != healthy) == fits(fault, healthy)
    assert with_faults(healthy, {fault: 0.0}) == healthy == with_faults(healthy, {})


@pytest.mark.parametrize("fault", FAULTS)
def test_only_a_car_with_a_valve_can_have_a_stuck_one(fault):
    assert fits(fault, load_system("sedan"))
    assert fits(fault, load_system("compact"))
    assert fits(fault, load_system("pickup")) == (fault not in ("txv_stuck_open", "txv_stuck_closed"))


@pytest.mark.parametrize("severity, given", [(1.001, "1.001"), (-0.001, "-0.001"), (float("inf"), "inf")])
def test_a_severity_beyond_its_ends_is_refused(severity, given):
    with pytest.raises(OutOfRange) as refusal:
        with_faults(load_system("sedan"), {"warm_air_mixing": severity})
    said = str(refusal.value)
    assert said.startswith(f"severity of warm_air_mixing: {given}")
    assert "allowed are 0 to 1 " in said
    assert said.endswith(": 0 is healthy, 1 the worst.")


@pytest.mark.parametrize("call", [lambda car: with_faults(car, {"gremlins": 0.5}), lambda car: fits("gremlins", car)])
def test_an_unknown_fault_is_refused_with_those_there_are(call):
    with pytest.raises(UnknownChoice) as refusal:
        call(load_system("sedan"))
    said = str(refusal.value)
    assert said.startswith("fault: 'gremlins'")
    assert all(fault in said for fault in FAULTS)
