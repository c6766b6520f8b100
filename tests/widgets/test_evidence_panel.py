"""The evidence panels by their values: what is chosen is shown, nothing that lies outside is hidden, all is in words too."""

import re
import xml.etree.ElementTree as ElementTree

import pytest

from course.errors import UnknownChoice
from course.evidence.direction_table import READINGS, direction_table
from course.evidence.printed_readings import printed_readings
from course.widgets import show_directions, show_printed_readings
from course.widgets.preferences import remembered_units


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def table_of(panel):
    """The first table of a panel, parsed; malformed markup raises."""
    found = re.search(r"<table.*?</table>", panel.table.value, re.DOTALL)[0].replace("<br>", "<br/>")
    return ElementTree.fromstring(found)


def said(element):
    return "".join(element.itertext())


@pytest.mark.parametrize("car", ["sedan", "compact", "pickup"])
def test_the_direction_table_has_a_headed_cell_for_everything(car):
    table, panel = direction_table(car), show_directions(car=car, units="kpa_c")
    shown = table_of(panel)
    heads = [said(head) for head in shown.find("thead").iter("th")]
    assert heads == ["Fault", *(name for name, *_ in READINGS.values())]
    rows = shown.find("tbody").findall("tr")
    assert [said(row.find("th")) for row in rows] == list(table.rows.values())
    assert all(head.get("scope") == "col" for head in shown.find("thead").iter("th"))
    for row, key in zip(rows, table.rows, strict=True):
        for cell, reading in zip(row.findall("td"), READINGS, strict=True):
            one = table.cells[key, reading]
            assert (cell.get("class") == "workbook-otherwise") == (one.agrees is False)
            assert ("sources say" in said(cell)) == (one.agrees is False)


def test_every_disagreement_is_listed_with_its_physics():
    panel = show_directions(car="pickup")
    for cell in direction_table("pickup").disagreements():
        assert cell.why.replace("'", "&#x27;") in panel.table.value
        assert cell.why in panel.whole()


def test_another_car_shows_another_table():
    panel = show_directions(car="sedan", units="kpa_c")
    before = panel.table.value, panel.words.value
    panel.car.value = "pickup"
    assert panel.table.value != before[0]
    assert "invented pickup: 16 rows" in panel.words.value != before[1]


def test_every_reading_of_a_topic_is_shown_with_verdict_and_source():
    panel = show_printed_readings(topic="moisture", units="kpa_c")
    rows = [said(row) for row in table_of(panel).find("tbody").findall("tr")]
    wanted = [one for one in printed_readings() if one.topic == "moisture"]
    assert rows[0] == "Moisture"
    assert len(rows) == len(wanted) + 1
    for row, one in zip(rows[1:], wanted, strict=True):
        assert row.endswith(one.verdict)
        assert one.source in row and one.why_outside in row and one.stands_in in row


def test_nothing_outside_is_hidden():
    panel = show_printed_readings(topic="all", verdict="outside")
    outside = [one for one in printed_readings() if not one.inside]
    assert panel.shown() == outside
    assert panel.whole().count(", outside (") == len(outside)
    assert f"{len(outside)} do not" in panel.words.value
    panel.verdict.value = "all"
    assert len(panel.shown()) == len(printed_readings())


def test_an_empty_choice_says_so():
    panel = show_printed_readings(topic="standing", verdict="outside")
    assert said(table_of(panel).find("tbody")) == "Nothing here."
    assert "10 of 10" in panel.words.value


def test_the_sheets_for_print_carry_every_row():
    panel = show_printed_readings(topic="charge", units="kpa_c")
    rows = [one for one in printed_readings() if one.topic == "charge"]
    sheets = re.findall(r'aria-label="Sheet \d for print".*?</svg>', panel.table.value, re.DOTALL)
    assert len(sheets) == -(-len(rows) // 16)
    assert sum(sheet.count(">published ") for sheet in sheets) == len(rows)


def test_what_is_left_out_is_said():
    assert "Oil is not in the circuit of the bench." in show_directions().table.value
    assert "The bench shows settled states only." in show_printed_readings().table.value


def test_units_change_the_numbers_and_are_remembered():
    panel = show_printed_readings(topic="normal")
    panel.units.value = "bar_c"
    assert "1.71 to 2.09 bar gauge" in panel.table.value
    assert remembered_units() == "bar_c"
    assert "0.14 bar" in show_directions().table.value


def test_a_stored_notebook_carries_words_and_table():
    for panel in (show_directions(car="compact"), show_printed_readings(topic="charge")):
        bundle = panel._repr_mimebundle_()
        assert bundle["text/plain"] == panel.whole()
        assert panel.table.value in bundle["text/html"]
        assert "<style>" in bundle["text/html"]


def test_wrong_starts_are_sentences():
    with pytest.raises(UnknownChoice, match="choose one of compact, pickup, sedan"):
        show_directions(car="bus")
    with pytest.raises(UnknownChoice, match="choose one of all, normal"):
        show_printed_readings(topic="weather")
    with pytest.raises(UnknownChoice, match="choose one of all, inside, outside"):
        show_printed_readings(verdict="near")
