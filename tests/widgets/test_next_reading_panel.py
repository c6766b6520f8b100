"""The mystery car's panel: readings, chances, worth and verdict as the reasoner has them, and nothing given away before."""

import re

import pytest

from course.evidence.next_reading import (
    LAST_CAR,
    READINGS,
    begin_mystery,
    best_next_reading,
    chances,
    shortest_way,
    worth_of_each,
)
from course.evidence.separating_power import trouble_name
from course.physics.refrigerant import saturation_at_pressure
from course.units import kelvin_to_celsius
from course.widgets import show_next_reading
from course.widgets.next_reading_panel import percent

SHORT = 36  # a compact with both gauges normal and less than half of its charge


def words(html):
    return re.sub(r"\s+", " ", re.sub("<[^>]*>", " ", html)).strip()


def take(panel, *readings):
    for reading in readings:
        panel.reading.value = reading
        panel.take.click()


@pytest.fixture(scope="module")
def mystery():
    return begin_mystery(SHORT)


@pytest.fixture
def panel(mystery):
    panel = show_next_reading(number=SHORT)
    panel.mystery.__dict__["suspects"] = mystery.suspects  # the same hundred runs
    panel.units.value = "kpa_c"
    return panel


def test_nothing_is_worked_out_and_nothing_given_away_before_the_first_reading():
    panel = show_next_reading(number=SHORT)
    assert "suspects" not in panel.mystery.__dict__
    said = panel._repr_mimebundle_()["text/plain"]
    assert "invented compact" in said and "each as likely as any other" in said
    assert trouble_name("undercharge").lower() not in said.lower()


def test_a_reading_moves_the_chances_and_leaves_the_list_of_readings(panel, mystery):
    take(panel, "gauges", "vent")
    assert panel.taken == ("gauges", "vent")
    assert not {"gauges", "vent"} & {key for _, key in panel.reading.options}
    expected = chances(mystery, panel.taken)
    assert list(panel.chances().values()) == pytest.approx(expected)
    rows = re.findall(
        r'<th scope="row">([^<]*)</th><td class="workbook-bar".*?workbook-share">([^<]*) %', panel.picture.value
    )
    assert [share.replace("&lt;", "<").replace("&gt;", ">") for _, share in rows] == [percent(one) for one in expected]
    assert "12 min" in words(panel.words.value)


def test_superheat_is_the_pipe_less_the_boiling_point_and_needs_the_gauges(panel, mystery):
    take(panel, "evaporator_outlet")
    assert "superheat" not in panel.picture.value
    take(panel, "gauges")
    low, pipe = float(mystery.case.measured[0]), float(mystery.case.measured[2])
    boiling = kelvin_to_celsius(saturation_at_pressure("R1234yf", (low + 101.325) * 1000.0).temperature)
    assert f"superheat {pipe - boiling:.0f} K" in words(panel.picture.value)


def test_worth_is_shown_when_asked_for_and_gone_after_the_next_reading(panel, mystery):
    take(panel, "gauges")
    assert "suspects" not in words(panel._readings_html())
    panel.ask.click()
    weight = next(one for one in worth_of_each(mystery, ("gauges",)) if one.reading == "weight")
    assert f"{weight.suspects_left:.1f} suspects" in words(panel._readings_html())
    best = READINGS[best_next_reading(mystery, ("gauges",)).reading]
    assert f"Best for its minutes: {best.name}" in words(panel.words.value)
    assert "asked for 1 time." in words(panel.words.value)
    take(panel, "vent")
    assert "suspects" not in words(panel._readings_html())


@pytest.mark.parametrize(
    ("named", "verdict"), [("undercharge", "Yes: it is undercharge"), ("overcharge", "No: it is undercharge")]
)
def test_naming_tells_the_truth_the_way_and_ends_the_car(panel, mystery, named, verdict):
    take(panel, "gauges")
    panel.name.value = named
    panel.found.click()
    said = words(panel.words.value)
    assert verdict in said
    assert ", ".join(READINGS[key].name for key in shortest_way(mystery)) in said
    assert panel.take.disabled and panel.ask.disabled and panel.found.disabled
    panel.again.click()
    assert panel.mystery.number == SHORT + 1 and panel.taken == ()
    assert not (panel.take.disabled or panel.found.disabled)
    assert {key for _, key in panel.reading.options} == set(READINGS)


def test_a_class_calls_a_car_by_its_number(panel):
    take(panel, "vent")
    panel.number.value = 24
    assert panel.mystery.number == 24 and panel.taken == ()
    assert "Mystery car 24" in words(panel.picture.value)
    assert panel.mystery.case.trouble == begin_mystery(24).case.trouble
    panel.again.click()
    assert panel.number.value == panel.mystery.number == 25


def test_after_the_last_car_there_is_none_and_the_last_one_stays(panel):
    panel.number.value = LAST_CAR
    panel.again.click()
    assert panel.mystery.number == LAST_CAR
    assert "choose a whole number in that range" in panel.words.value


def test_every_reading_can_be_taken_and_then_there_is_no_other(panel):
    take(panel, *READINGS)
    assert panel.take.disabled
    assert not panel.found.disabled


def test_units_change_what_is_shown_and_not_what_was_read(panel):
    take(panel, "vent")
    before = panel.chances()
    assert "°C" in words(panel._readings_html())
    panel.units.value = "psi_f"
    assert "°F" in words(panel._readings_html())
    assert panel.chances() == before
