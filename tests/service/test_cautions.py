"""The cautions: every topic that can hurt is there, dated, sourced and deferring."""

import re

import pytest

from course.errors import BadDataFile, UnknownChoice
from course.service.cautions import REGIONS, STEPS, cautions_for
from course.tables import read_cautions

TOPICS = {
    "venting",
    "certification",
    "flammable refrigerant",
    "high voltage",
    "nitrogen regulator",
    "goggles and gloves",
    "UV eye safety",
    "cylinder limits",
    "fans and belts",
}


def test_every_topic_has_its_caution():
    assert {one.topic for one in read_cautions().values()} >= TOPICS


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("region", REGIONS)
def test_every_step_asks_for_goggles_and_names_who_goes_first(step, region):
    said = cautions_for(step, region)
    assert any("goggles" in one for one in said)
    assert all(re.search(r"as of \d{4}-\d{2}; .+: .+\) First comes: .{10,}\.$", one) for one in said)


def test_law_stays_in_its_region():
    here, there = cautions_for("recovery", "United States"), cautions_for("recovery", "European Union")
    assert any("section 609" in one for one in here)
    assert not any("section 609" in one for one in there)
    assert not any("Union" in one for one in cautions_for("recovery"))


def test_what_can_burst_burn_or_shock_is_said_where_it_happens():
    assert any("no shop air, no oxygen" in one for one in cautions_for("pressure_test"))
    assert any("four fifths" in one for one in cautions_for("recovery"))
    assert any("Orange cable" in one for one in cautions_for("oil"))


def test_a_region_says_where_it_holds():
    assert {one.region for one in read_cautions().values()} == set(REGIONS)


def test_unknown_names_are_answered_with_the_choices():
    with pytest.raises(UnknownChoice, match="recovery, evacuation, pressure_test"):
        cautions_for("dancing")
    with pytest.raises(UnknownChoice, match="United States, European Union, everywhere"):
        cautions_for("recovery", "the moon")


def test_a_caution_without_a_date_is_refused(tmp_path, monkeypatch):
    from course import tables

    text = (tables.DATA / "service" / "cautions.toml").read_text(encoding="utf-8")
    (tmp_path / "service").mkdir()
    (tmp_path / "service" / "cautions.toml").write_text(text.replace('as_of = "2006-05"\n', ""), encoding="utf-8")
    monkeypatch.setattr(tables, "DATA", tmp_path)
    with pytest.raises(BadDataFile, match="cautions.toml: caution.venting_eu.as_of is missing"):
        tables.read_cautions.__wrapped__()
