"""Five tests for a high head against sums of the test's own, and what each cause must and must not show."""

from math import hypot, sqrt

import pytest

from course.evidence.head_tests import MINUTES, HeadTests, alike, head_tests, least_differences
from course.physics.bench import run_bench
from course.physics.refrigerant import saturation_at_pressure, saturation_at_temperature

DAY = {"ambient_c": 40.0, "relative_humidity": 0.3}


def on_the_car(**settings):
    return head_tests(
        run_bench("sedan", **(DAY | settings)), run_bench("sedan", road_speed_km_h=60.0, **(DAY | settings))
    )


@pytest.fixture(scope="module")
def well():
    return run_bench("sedan", **DAY)


@pytest.fixture(scope="module")
def healthy():
    return on_the_car()


def test_the_chart_is_read_at_the_gauge_and_the_air_taken_off():
    run = run_bench("sedan", **DAY)
    chart_k = saturation_at_pressure("R134a", run.high_side_kpa_gauge * 1e3 + 101325.0).temperature
    assert head_tests(run, run).above_entering_air_k == pytest.approx(chart_k - 313.15)


def test_air_stands_above_the_chart_by_its_own_pressure(well):
    """Ideal gas by hand: one atmosphere of air at 25 °C, warmed to the soak, in what the liquid leaves free."""
    fully = on_the_car(faults={"air_in_system": 1.0})
    at_soak = 101.325 * 313.15 / 298.15
    saturated = saturation_at_temperature("R134a", 313.15)
    volume = well.system.volume
    liquid = (0.48 - saturated.vapour_density * volume) / (saturated.liquid_density - saturated.vapour_density)
    assert fully.standing_above_chart_kpa == pytest.approx(at_soak * volume / (volume - liquid), rel=1e-3)
    half = on_the_car(faults={"air_in_system": 0.5})
    assert half.standing_above_chart_kpa == pytest.approx(fully.standing_above_chart_kpa / 2.0)


@pytest.mark.parametrize(
    ("settings", "moved"),
    [
        ({"charge_fraction": 1.4}, {"above_entering_air_k", "subcooling_k", "head_driving_kpa_gauge", "charge_g"}),
        (
            {"faults": {"air_in_system": 1.0}},
            {"above_entering_air_k", "subcooling_k", "head_driving_kpa_gauge", "standing_above_chart_kpa"},
        ),
        ({"faults": {"condenser_airflow_low": 0.25}}, {"above_entering_air_k", "head_driving_kpa_gauge"}),
        ({"faults": {"condenser_fan_stopped": 0.25}}, {"above_entering_air_k"}),
        ({"ambient_c": 45.5, "recirculate": True, "cabin_c": 40.0}, {"head_driving_kpa_gauge"}),
    ],
    ids=["too much", "air", "fins", "fan", "hot air"],
)
def test_every_cause_moves_its_own_tests_and_all_of_them_the_head(settings, moved, well, healthy):
    """The trade's separating signs (service manuals, as data/evidence/directions.toml cites them)."""
    least, ill = least_differences(well), on_the_car(**settings)
    up = {name for name in vars(ill) if getattr(ill, name) - getattr(healthy, name) > getattr(least, name)}
    down = {name for name in vars(ill) if getattr(healthy, name) - getattr(ill, name) > getattr(least, name)}
    assert up == moved | {"head_kpa_gauge"}
    assert down == set()


def test_little_left_at_rest_stands_below_the_chart():
    assert on_the_car(charge_fraction=0.15).standing_above_chart_kpa < -100.0


def test_the_least_differences_follow_from_the_instruments(well):
    """By hand: 35 and 10 kPa, 1 K, 30 g, each read twice; the chart's slopes apart from the code's."""
    least = least_differences(well)
    slope_k_kpa = (
        saturation_at_pressure("R134a", 2.205e6 + 5e3).temperature
        - saturation_at_pressure("R134a", 2.205e6).temperature
    ) / 5.0
    assert least.head_kpa_gauge == least.head_driving_kpa_gauge == pytest.approx(35.0 * sqrt(2.0))
    assert least.subcooling_k == least.above_entering_air_k
    assert least.subcooling_k == pytest.approx(sqrt(2.0) * hypot(1.0, 35.0 * slope_k_kpa), rel=0.01)
    # tests/reference/r134a_service_chart.csv: 785.6 and 1,062.2 kPa gauge at 35 and 45 °C, a chord a little steep at 40
    assert least.standing_above_chart_kpa == pytest.approx(sqrt(2.0) * hypot(10.0, 27.66), rel=0.02)
    assert least.charge_g == pytest.approx(30.0 * sqrt(2.0))


def cars(**subcooling):
    return {name: HeadTests(2000.0, 30.0, value, 1500.0, 0.0, 480.0) for name, value in subcooling.items()}


def test_only_what_was_tested_tells_apart():
    three, least = cars(A=0.0, B=1.9, C=2.1), HeadTests(50.0, 2.0, 2.0, 50.0, 40.0, 40.0)
    assert alike(three, [], least) == [("A", "B"), ("A", "C"), ("B", "C")]
    assert alike(three, ["charge_g"], least) == [("A", "B"), ("A", "C"), ("B", "C")]
    assert alike(three, ["charge_g", "subcooling_k"], least) == [("A", "B"), ("B", "C")]


def test_every_test_has_its_minutes():
    assert set(MINUTES) == set(HeadTests.__dataclass_fields__) - {"head_kpa_gauge"}
