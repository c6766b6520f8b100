"""Fault against reading: the signs on which papers and trade agree (fault-to-symptom matrix, marked weak ones left out).

Sources: rule tables after Breuker and Braun (from memory), RP-1173 summary, Grace 2005 and trade articles (read),
physics where nothing else is named. "+" and "-" must exceed what a gauge or probe can show; "0" must stay under it.
"""

import pytest

from course.physics.bench import run_bench

WEATHER = {"ambient_c": 36.0, "relative_humidity": 0.45}
SPEED = {"pickup": 1300.0, "sedan": 1300.0}
READINGS = {
    "Ps": ("low_side_kpa_gauge", 3.0),
    "Pd": ("high_side_kpa_gauge", 10.0),
    "SH": ("superheat_k", 0.6),
    "SC": ("subcooling_k", 0.6),
    "Td": ("discharge_c", 1.0),
}
POWER_SHARE = 0.004  # - of the shaft power

ORIFICE = [
    ({"charge_fraction": 0.85}, {"Ps": "0", "SH": "0", "Td": "0"}),
    ({"charge_fraction": 0.42}, {"Ps": "-", "Pd": "-", "SH": "+", "SC": "-", "Td": "+", "W": "-"}),
    ({"charge_fraction": 1.38}, {"Pd": "+", "SC": "+", "W": "+"}),
    ({"restricted_metering_device": 0.5}, {"Ps": "-", "SH": "+", "SC": "+", "Td": "+"}),
    ({"restricted_metering_device": 0.9}, {"Ps": "-", "SH": "+", "SC": "+", "Td": "+", "W": "-"}),
    ({"oversized_orifice": 0.4}, {"Ps": "+", "Pd": "-", "SC": "-", "Td": "-"}),
    ({"worn_compressor": 0.5}, {"Ps": "+", "Pd": "-", "SC": "-", "Td": "+", "W": "-"}),
    ({"condenser_airflow_low": 0.5}, {"Ps": "+", "Pd": "+", "SC": "-", "Td": "+", "W": "+"}),
    ({"evaporator_airflow_low": 0.5}, {"Ps": "-", "Pd": "-", "W": "-"}),
    ({"air_in_system": 0.8}, {"Pd": "+", "Td": "+", "W": "+"}),
    ({"condenser_fan_stopped": 0.8}, {"Ps": "+", "Pd": "+", "SC": "-", "Td": "+"}),
]
VALVE = [
    ({"charge_fraction": 0.85}, {"Ps": "0", "Pd": "0", "SH": "0", "Td": "0", "W": "0"}),
    ({"charge_fraction": 0.3}, {"Ps": "-", "Pd": "-", "SH": "+", "Td": "+", "W": "-"}),
    ({"charge_fraction": 1.35}, {"Pd": "+", "SH": "0", "SC": "+", "Td": "+", "W": "+"}),
    ({"restricted_liquid_line": 0.85}, {"Ps": "-", "Pd": "-", "SH": "+", "SC": "+", "Td": "+", "W": "-"}),
    ({"txv_stuck_closed": 0.6}, {"Ps": "-", "Pd": "-", "SH": "+", "SC": "+", "Td": "+", "W": "-"}),
    ({"txv_stuck_open": 0.6}, {"Ps": "+", "SH": "-", "Td": "-"}),
    ({"worn_compressor": 0.5}, {"Ps": "+", "Pd": "-", "SH": "0", "Td": "+", "W": "-"}),
    ({"condenser_airflow_low": 0.4}, {"Ps": "+", "Pd": "+", "SH": "0", "Td": "+", "W": "+"}),
    ({"evaporator_airflow_low": 0.5}, {"Ps": "-", "Pd": "-", "SH": "0", "W": "-"}),
    ({"air_in_system": 0.8}, {"Pd": "+", "SH": "0", "SC": "+", "Td": "+", "W": "+"}),
]
CASES = [("pickup", *row) for row in ORIFICE] + [("sedan", *row) for row in VALVE]


def sign(change, threshold):
    """The change as "+", "-" or "0"."""
    return "+" if change > threshold else "-" if change < -threshold else "0"


def as_settings(change):
    """A charge or a fault as run_bench takes it."""
    return change if "charge_fraction" in change else {"faults": change}


@pytest.mark.parametrize("car, change, expected", CASES)
def test_readings_move_as_papers_and_trade_agree(car, change, expected):
    settings = WEATHER | {"compressor_rpm": SPEED[car]}
    well, ill = run_bench(car, **settings), run_bench(car, **settings, **as_settings(change))
    found = {}
    for name in expected:
        if name == "W":
            found[name] = sign(ill.compressor_power_w / well.compressor_power_w - 1.0, POWER_SHARE)
        else:
            field, threshold = READINGS[name]
            found[name] = sign(getattr(ill, field) - getattr(well, field), threshold)
    assert found == expected


def test_a_blocked_orifice_raises_this_pickups_head():
    """Disagrees with the matrix (head unchanged or down): the accumulator's reserve moves into the condenser here.

    Trade tables disagree with one another on it; measured practice says it depends on where the charge is stored.
    """
    settings = WEATHER | {"compressor_rpm": SPEED["pickup"]}
    well = run_bench("pickup", **settings)
    ill = run_bench("pickup", **settings, faults={"restricted_metering_device": 0.5})
    assert ill.high_side_kpa_gauge > well.high_side_kpa_gauge + 100.0
    assert ill.inventory_kg["condenser"] > well.inventory_kg["condenser"] + 0.1


def test_moisture_swings_between_normal_and_frozen():
    clear = run_bench("sedan", ambient_c=22.0, relative_humidity=0.3, compressor_rpm=2500.0)
    frozen = run_bench(
        "sedan", ambient_c=22.0, relative_humidity=0.3, compressor_rpm=2500.0, faults={"moisture_in_system": 0.9}
    )
    assert frozen.low_side_kpa_gauge < clear.low_side_kpa_gauge - 50.0
    assert any("freezes again" in note for note in frozen.notes)
    warm = run_bench(
        "sedan", ambient_c=40.0, relative_humidity=0.6, compressor_rpm=900.0, faults={"moisture_in_system": 0.9}
    )
    assert any("too warm" in note for note in warm.notes)


def test_warm_air_changes_the_vent_and_nothing_else():
    well, mixed = run_bench("compact"), run_bench("compact", faults={"warm_air_mixing": 0.5})
    assert mixed.vent_c > well.vent_c + 5.0
    assert mixed.low_side_kpa_gauge == well.low_side_kpa_gauge


@pytest.mark.parametrize("fault", ["compressor_not_pumping", "clutch_not_engaged"])
def test_pressures_meet_when_nothing_is_pumped(fault):
    run = run_bench("pickup", ambient_c=30.0, faults={fault: 1.0})
    assert run.low_side_kpa_gauge == run.high_side_kpa_gauge
    # P-T table, R-134a at 30 °C: 669 kPa gauge (computed with CoolProp; a 2001 manual prints 6.7 bar)
    assert run.low_side_kpa_gauge == pytest.approx(669.0, abs=1.0)
    assert run.clutch_on_fraction == 0.0
    assert not run.cycle_points


@pytest.mark.parametrize("blower_fraction", [0.25, 1.0])
def test_the_vent_blows_no_fog(blower_fraction):
    """Air at the vent never carries more water than saturated air (ASHRAE Fundamentals 2017, chapter 1, equation 21)."""
    from course.physics.evaporator import coil_air
    from course.physics.moist_air import saturated_humidity_ratio

    run = run_bench("sedan", ambient_c=32.0, relative_humidity=0.7, blower_fraction=blower_fraction, altitude_m=2500.0)
    air = coil_air(run.system.evaporator, run.conditions)
    ratio = air.inlet.humidity_ratio - run.condensate_kg_h / 3600.0 / air.dry_air_flow
    assert ratio <= saturated_humidity_ratio(run.vent_c + 273.15, run.conditions.air_pressure) * (1.0 + 1e-9)
    assert run.condensate_kg_h > 0.0
