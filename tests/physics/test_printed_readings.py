"""Shapes that no single printed band holds: the charge curve, overcharge, and the bands the cars were calibrated to.

The bands themselves, their sources and every miss stand in data/evidence/printed_readings.toml; which ones lie outside is
tested in tests/evidence/test_printed_readings.py.
"""

import pytest

from course.evidence.as_printed import EMPTY_RESERVE_KG
from course.evidence.printed_readings import printed_readings
from course.physics.bench import charge_curve, run_bench

CALIBRATED = ("factory_25", "factory_30", "factory_35", "army_21", "army_27", "army_32", "army_38")
MOST_MISS_KPA = 1.0  # the one pressure of these tables that lies outside does so by no more


def test_the_cars_read_inside_the_tables_they_are_calibrated_to():
    pressures = [one for one in printed_readings() if one.key.startswith(CALIBRATED) and one.unit == "kpa_gauge"]
    assert len(pressures) == 14
    misses = {
        one.key: max(one.published_from - one.ours_from, one.ours_to - one.published_to)
        for one in pressures
        if not one.inside
    }
    assert all(miss <= MOST_MISS_KPA for miss in misses.values()), misses


@pytest.mark.parametrize("car, device", [("pickup", "accumulator"), ("sedan", "receiver"), ("compact", "receiver")])
def test_the_charge_curve_is_flat_then_falls(car, device):
    """Critical charge 60-80 % of the label: engineering estimate, no published source for cars."""
    shares = [0.25, 0.4, 0.55, 0.7, 0.8, 0.9, 1.0]
    runs = dict(zip(shares, charge_curve(car, shares, ambient_c=32.0, compressor_rpm=1500.0), strict=True))
    full = runs[1.0]
    assert full.reserve_kg > 0.05
    assert runs[0.9].capacity_w == pytest.approx(full.capacity_w, rel=0.01)
    assert runs[0.55].reserve_kg < EMPTY_RESERVE_KG
    losses = [1.0 - runs[share].capacity_w / full.capacity_w for share in (0.7, 0.55, 0.4, 0.25)]
    assert losses == sorted(losses)
    assert losses[-1] > 0.25
    assert runs[0.25].superheat_k > full.superheat_k + 15.0
    assert runs[0.25].high_side_kpa_gauge < full.high_side_kpa_gauge
    if runs[0.25].clutch_on_fraction > 0.99:
        # power falls far less than capacity (regressions on stationary units, read), unless the clutch cycles it away
        assert runs[0.25].compressor_power_w / full.compressor_power_w > runs[0.25].capacity_w / full.capacity_w


@pytest.mark.parametrize("car", ["sedan", "compact"])
def test_overcharge_raises_head_subcooling_and_power_first(car):
    right = run_bench(car, ambient_c=38.0, compressor_rpm=1100.0, charge_fraction=1.0)
    over = run_bench(car, ambient_c=38.0, compressor_rpm=1100.0, charge_fraction=1.35)
    assert over.high_side_kpa_gauge > right.high_side_kpa_gauge + 50.0
    assert over.subcooling_k > right.subcooling_k + 5.0
    assert over.compressor_power_w > 1.01 * right.compressor_power_w
    assert abs(over.low_side_kpa_gauge - right.low_side_kpa_gauge) < 25.0


def test_a_charge_curve_runs_from_a_tenth_to_the_most_there_may_be():
    """Without a wish for others: 27 charges, a twentieth of the label apart, each the same as when run by itself."""
    runs = charge_curve("sedan", ambient_c=30.0)
    assert [run.charge_fraction for run in runs] == pytest.approx([0.1 + 0.05 * step for step in range(27)])
    assert {run.conditions.ambient for run in runs} == {303.15}
    alone = run_bench("sedan", ambient_c=30.0, charge_fraction=0.55)
    assert runs[9].high_side_kpa_gauge == pytest.approx(alone.high_side_kpa_gauge, rel=1e-7)
