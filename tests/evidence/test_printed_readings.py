"""Every published reading beside ours: exactly these lie outside today, each with its reason, and none by accident."""

import pytest

from course.errors import BadDataFile
from course.evidence import as_printed
from course.evidence import printed_readings as evidence
from course.evidence.as_printed import READINGS, runs_of
from course.evidence.printed_readings import printed_readings
from course.evidence_shapes import PrintedReadingsTable
from course.physics.bench import run_bench
from course.tables import read_printed_readings

OUTSIDE = {
    "normal": {
        "factory_35_low",
        "vent_25_dry",
        "vent_30_humid",
        "manuals_high",
        "manuals_condensing",
        "manuals_condensing_above_air",
        "web_high",
        "rule_mild_air_drop",
        "moving_condensing_above_air",
    },
    "heat": {"subcooling_car_sedan", "suction_superheat_orifice"},
    "standing": set(),
    "charge": {
        "short_20_capacity",
        "short_20_cop",
        "short_25_capacity",
        "short_25_cop",
        "short_30_capacity",
        "short_30_cop",
        "over_30_cop",
        "over_30_power",
        "bench_more",
        "critical_compact",
        "critical_pickup",
        "threshold_orifice",
        "threshold_valve",
    },
    "condenser": {"condenser_30_cop", "condenser_50_capacity", "condenser_50_cop"},
    "evaporator": {"evaporator_36_cop"},
    "restriction": {
        "restriction_20_capacity",
        "restriction_20_cop",
        "restriction_25_capacity",
        "restriction_25_cop",
        "restriction_20_capacity_memory",
        "restriction_20_cop_memory",
    },
    "air": {"air_100_power"},
    "compressor": {"map_3000", "map_4000", "worn_30_cop"},
    "moisture": {"moisture_low", "moisture_air_drop", "moisture_pipe"},
    "load": set(),
    "switches": {"switch_opens", "cut_out_compact"},
}


@pytest.fixture(scope="module")
def found():
    """Every published reading by its key."""
    return {one.key: one for one in printed_readings()}


def test_exactly_these_lie_outside_today(found):
    outside = {topic: {one.key for one in found.values() if one.topic == topic and not one.inside} for topic in OUTSIDE}
    assert outside == OUTSIDE
    assert {one.topic for one in found.values()} == set(OUTSIDE)


def test_every_one_outside_has_its_reason_and_nothing_inside_has(found):
    assert {one.key for one in found.values() if one.why_outside} == set().union(*OUTSIDE.values())


def test_nothing_published_is_lost_on_the_way(found):
    table = read_printed_readings()
    assert list(found) == list(table.band)
    assert {band.setup for band in table.band.values()} | {one.against for one in table.setup.values()} >= set(
        table.setup
    )
    assert {band.reading for band in table.band.values()} == set(READINGS)
    assert len(table.left_out) >= 8


def test_ours_is_what_the_bench_shows(found):
    """Two bands worked out a second way: a factory row at its three humidities, and half the condenser air lost."""
    runs = [
        run_bench("sedan", ambient_c=30.0, relative_humidity=humidity, compressor_rpm=1000.0, recirculate=True)
        for humidity in (0.5, 0.6, 0.7)
    ]
    highs = [run.high_side_kpa_gauge for run in runs]
    assert found["factory_30_high"].ours_from == pytest.approx(min(highs), abs=0.6)
    assert found["factory_30_high"].ours_to == pytest.approx(max(highs), abs=0.6)
    day = {"ambient_c": 35.0, "relative_humidity": 0.4, "compressor_rpm": 1000.0}
    well = run_bench("sedan", **day)
    # severity 1 takes four fifths of the air, so half of it is a severity of 0.625
    ill = run_bench("sedan", **day, faults={"condenser_airflow_low": 0.625})
    change = ill.capacity_w / well.capacity_w - 1.0
    assert found["condenser_50_capacity"].ours_from == pytest.approx(change, abs=1e-3)


def test_a_printed_drop_in_the_liquid_line_is_found():
    at = runs_of("restriction_25")[0]
    line, whole = as_printed._line_drop(at.run)[0], as_printed._line_drop(at.compared)
    assert (line - whole[0]) / whole[1] == pytest.approx(0.25, abs=0.002)


def test_a_charge_at_which_something_begins_is_found(found):
    settings = {"ambient_c": 32.0, "relative_humidity": 0.4, "compressor_rpm": 1500.0}
    edge = found["critical_sedan"].ours_from
    assert run_bench("sedan", **settings, charge_fraction=edge + 0.02).reserve_kg > as_printed.EMPTY_RESERVE_KG
    assert run_bench("sedan", **settings, charge_fraction=edge - 0.02).reserve_kg < as_printed.EMPTY_RESERVE_KG
    full = run_bench("sedan", **settings).capacity_w
    edge = found["threshold_valve"].ours_from
    assert run_bench("sedan", **settings, charge_fraction=edge).capacity_w == pytest.approx(0.9 * full, rel=0.02)


def test_a_printed_band_gets_no_allowance_and_a_single_number_the_stated_one(found):
    assert found["factory_25_low"].allowance == 0.0
    assert found["base_25"].allowance == 10.0  # kPa, the error of a low gauge
    assert found["short_25_capacity"].allowance == pytest.approx(0.08)  # two fifths of 20 %
    assert found["over_20_power"].allowance == pytest.approx(0.05)  # five points, two fifths of 3.5 % being less
    assert found["threshold_valve"].allowance == pytest.approx(0.05)  # of the label charge
    assert found["map_1000"].allowance == pytest.approx(0.4 * 1.79)


def test_the_verdict_turns_at_the_ends_of_the_band(found):
    from dataclasses import replace

    band = replace(found["factory_25_low"], ours_from=171.0, ours_to=209.0)
    assert band.verdict == "inside"
    assert replace(band, ours_to=210.0).verdict == "outside"
    assert replace(band, ours_from=170.0).verdict == "outside"
    assert replace(band, published_to=None, ours_to=900.0).verdict == "inside"
    assert replace(band, published_from=None, ours_from=-50.0).verdict == "inside"
    assert replace(band, ours_to=214.0, allowance=5.0).verdict == "inside"


def test_each_source_says_how_it_is_known(found):
    known = {"read", "from memory", "common practice", "assumed", "computed"}
    assert {one.origin for one in found.values()} == known


def spoilt(**changes):
    """The file with one band changed."""
    content = read_printed_readings().model_dump(exclude_none=True)
    content["band"]["base_25"] |= changes
    return PrintedReadingsTable.model_validate(content)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"topic": "weather"}, "band.base_25.topic is 'weather', which is not there"),
        ({"setup": "base_99"}, "band.base_25.setup is 'base_99', which is not there"),
        ({"reading": "mood"}, "band.base_25.reading is 'mood', which is not there"),
        ({"reading": "vent"}, "band.base_25 is in kpa_gauge, but centre vent is in c"),
        (
            {"printed": {"about_k": {"value": 3, "source": "read: somewhere"}}},
            "band.base_25.printed.about_k is not from_, to_, at_, lowest_ or highest_",
        ),
    ],
)
def test_a_spoilt_entry_is_named(monkeypatch, changes, words):
    table = spoilt(**changes)
    monkeypatch.setattr(evidence, "read_printed_readings", lambda: table)
    with pytest.raises(BadDataFile, match=words):
        evidence.printed_readings.__wrapped__()


def test_a_set_up_against_nothing_is_named(monkeypatch):
    content = read_printed_readings().model_dump(exclude_none=True)
    content["setup"]["base_25"]["against"] = "yesterday"
    table = PrintedReadingsTable.model_validate(content)
    monkeypatch.setattr(evidence, "read_printed_readings", lambda: table)
    with pytest.raises(BadDataFile, match="band.base_25.setup's against is 'yesterday', which is not there"):
        evidence.printed_readings.__wrapped__()


def test_a_loss_that_is_no_fault_is_named():
    with pytest.raises(BadDataFile, match="bad_mood_share is not a fault"):
        as_printed._severity("bad_mood_share", 0.5)
