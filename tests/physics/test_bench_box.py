"""The whole slider box: an answer or a sentence everywhere, with mass and energy in balance."""

import math

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from course.errors import CycleNotSolved
from course.physics.bench import run_bench
from course.physics.faults import FAULTS
from course.tables import system_ids

CARS = system_ids()
NUMBERS = (
    "low_side_kpa_gauge",
    "high_side_kpa_gauge",
    "vent_c",
    "discharge_c",
    "capacity_w",
    "compressor_power_w",
    "cop",
)


def check_sound(run):
    """Balances and finite numbers of one run."""
    assert all(math.isfinite(getattr(run, name)) for name in NUMBERS)
    assert abs(sum(run.inventory_kg.values()) - run.charge_kg) <= 1e-6 * run.system.label_charge
    assert all(mass >= 0.0 for mass in run.inventory_kg.values())
    heat_in = run.compressor_power_w + run.capacity_w
    assert abs(heat_in - run.condenser_heat_w - run.stated_losses_w) <= 1e-3 * max(run.condenser_heat_w, 1.0)
    assert run.high_side_kpa_gauge >= run.low_side_kpa_gauge - 1e-6
    assert 0.0 <= run.clutch_on_fraction <= 1.0 + 1e-9


SEVERITY = st.floats(0.0, 1.0)

REASONS = ["cannot get rid of the heat", "liquid floods back", "hardly any refrigerant"]


@settings(max_examples=150, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(
    car=st.sampled_from(CARS),
    ambient_c=st.floats(10.0, 50.0),
    relative_humidity=st.floats(0.05, 0.95),
    compressor_rpm=st.floats(600.0, 6000.0),
    charge_fraction=st.floats(0.0, 1.4),
    altitude_m=st.floats(0.0, 3000.0),
    faults=st.dictionaries(st.sampled_from(sorted(FAULTS)), SEVERITY, max_size=2),
)
def test_every_point_of_the_box_gives_an_answer_or_a_sentence(car, faults, **settings):
    try:
        run = run_bench(car, faults=faults, **settings)
    except CycleNotSolved as refusal:
        # rare corners of two severe faults; counted in test_hardly_any_corner_is_refused
        assert any(reason in str(refusal) for reason in REASONS)
        assert faults
        return
    check_sound(run)


NO_CONDENSER_AIR = {"condenser_airflow_low": 1.0, "condenser_fan_stopped": 1.0}
OPEN_VALVE = {"txv_stuck_open": 1.0, "condenser_fan_stopped": 1.0}
AIR_ALONE = {"air_in_system": 1.0, "condenser_airflow_low": 0.4}


@pytest.mark.parametrize(
    ("car", "settings", "reason"),
    [
        ("pickup", {"ambient_c": 28.0, "charge_fraction": 1.3, "faults": NO_CONDENSER_AIR}, REASONS[0]),
        ("sedan", {"ambient_c": 13.0, "compressor_rpm": 5900.0, "charge_fraction": 1.15, "faults": OPEN_VALVE}, REASONS[1]),
        ("compact", {"ambient_c": 36.0, "compressor_rpm": 4800.0, "charge_fraction": 0.067, "faults": AIR_ALONE}, REASONS[2]),
    ],
)  # fmt: skip
def test_a_refusal_names_what_stands_against_it(car, settings, reason):
    with pytest.raises(CycleNotSolved, match=reason) as refused:
        run_bench(car, **settings)
    assert "ease one of the faults" in str(refused.value)


def corner(generator, most_faults):
    """One random point of the box, faults often at their worst."""
    names = generator.choice(sorted(FAULTS), size=most_faults, replace=False)
    return {
        "ambient_c": generator.uniform(10.0, 50.0),
        "relative_humidity": generator.uniform(0.05, 0.95),
        "compressor_rpm": generator.uniform(600.0, 6000.0),
        "altitude_m": generator.uniform(0.0, 3000.0),
        "blower_fraction": generator.uniform(0.2, 1.0),
        "road_speed_km_h": generator.choice([0.0, generator.uniform(0.0, 100.0)]),
        "charge_fraction": generator.uniform(0.0, 1.4),
        "faults": {str(name): float(generator.choice([1.0, generator.uniform()])) for name in names},
    }


@pytest.mark.parametrize("car", CARS)
def test_a_healthy_car_is_never_refused(car):
    generator = np.random.default_rng(20)
    for _ in range(150):
        check_sound(run_bench(car, **corner(generator, 0)))


@pytest.mark.parametrize("car", CARS)
def test_hardly_any_corner_is_refused(car):
    """Two faults, half of them at severity 1: measured 9 refused of 6,000 points; at most 1 of 100 here."""
    generator, refused = np.random.default_rng(21), 0
    for _ in range(100):
        try:
            check_sound(run_bench(car, **corner(generator, 2)))
        except CycleNotSolved:
            refused += 1
    assert refused <= 1


@pytest.mark.parametrize("car", CARS)
def test_the_start_does_not_show_in_the_answer(car):
    far = run_bench(car, ambient_c=45.0, charge_fraction=0.5)
    cold = run_bench(car, ambient_c=28.0, charge_fraction=0.9)
    warm = run_bench(car, ambient_c=28.0, charge_fraction=0.9, previous=far)
    for name in NUMBERS:
        assert getattr(warm, name) == pytest.approx(getattr(cold, name), rel=1e-6, abs=1e-6)


STEPS = {
    "ambient_c": (40.0, 14.0, 46.0),
    "relative_humidity": (0.9, 0.1, 0.9),
    "compressor_rpm": (5400.0, 700.0, 5900.0),
    "altitude_m": (3000.0, 10.0, 2900.0),
    "charge_fraction": (1.4, 0.15, 1.39),
    "blower_fraction": (0.8, 0.25, 0.99),
}


@pytest.mark.parametrize("car", CARS)
@pytest.mark.parametrize("name", STEPS)
def test_a_slider_moved_by_a_thousandth_moves_no_needle_by_5_kpa(car, name):
    span, low, high = STEPS[name]
    usual = {"ambient_c": 33.0, "relative_humidity": 0.45, "compressor_rpm": 1500.0, "charge_fraction": 0.95}
    for value in np.linspace(low, high, 12):
        before = run_bench(car, **(usual | {name: float(value)}))
        after = run_bench(car, **(usual | {name: float(value + 0.001 * span)}))
        assert abs(after.low_side_kpa_gauge - before.low_side_kpa_gauge) < 5.0, value
        assert abs(after.high_side_kpa_gauge - before.high_side_kpa_gauge) < 5.0, value


@pytest.mark.parametrize("car", CARS)
@pytest.mark.parametrize("fault", sorted(FAULTS))
def test_severity_moved_by_a_thousandth_moves_no_needle_by_5_kpa(car, fault):
    for severity in (0.0, 0.31, 0.62, 0.93, 0.998):
        pair = [run_bench(car, ambient_c=32.0, faults={fault: severity + step}) for step in (0.0, 0.001)]
        assert abs(pair[1].low_side_kpa_gauge - pair[0].low_side_kpa_gauge) < 5.0, severity
        assert abs(pair[1].high_side_kpa_gauge - pair[0].high_side_kpa_gauge) < 5.0, severity


@pytest.mark.parametrize("car", CARS)
def test_severity_zero_is_healthy_to_the_last_digit(car):
    well = run_bench(car)
    for fault in FAULTS:
        none = run_bench(car, faults={fault: 0.0})
        assert {name: getattr(none, name) for name in NUMBERS} == {name: getattr(well, name) for name in NUMBERS}, fault
