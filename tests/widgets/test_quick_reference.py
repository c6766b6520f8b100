"""The cards by their values: right numbers in the learner's units, headed tables, every word found, and a page to print."""

import base64
import re
import xml.etree.ElementTree as ElementTree

import pytest

from course.errors import UnknownChoice
from course.physics.refrigerant import saturation_at_temperature
from course.service.cautions import STEPS, cautions_for
from course.tables import read_cautions, read_glossary
from course.units import UNIT_SETS, atmospheric_pressure_pa, display_units, to_display_pressure
from course.widgets import show_reference
from course.widgets.card_layout import CARD_STYLE, Card, Table, card_html, page_to_print
from course.widgets.preferences import remembered_units
from course.widgets.quick_reference import CARDS


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def rows_of(panel, number=0):
    return {first: rest for first, *rest in panel.card.tables[number].rows}


def parsed(panel):
    """The card as a tree; malformed markup raises."""
    return ElementTree.fromstring(panel.shown.value)


@pytest.mark.parametrize("units", list(UNIT_SETS))
@pytest.mark.parametrize("card", list(CARDS))
def test_every_table_is_headed_and_every_row_as_wide_as_its_heads(card, units):
    panel = show_reference(card, units=units)
    tables = list(parsed(panel).iter("table"))
    assert len(tables) == len(panel.card.tables) > 0
    for shown, table in zip(tables, panel.card.tables, strict=True):
        assert shown.find("caption").text == table.title
        heads = shown.find("thead").findall(".//th")
        assert [head.get("scope") for head in heads] == ["col"] * len(table.heads)
        for row in shown.find("tbody"):
            assert row[0].tag == "th" and row[0].get("scope") == "row"
            assert len(row) == len(table.heads)
    assert len(list(parsed(panel).iter("h3"))) == 1


@pytest.mark.parametrize("units", list(UNIT_SETS))
@pytest.mark.parametrize("altitude_m", [0.0, 2000.0])
def test_pressures_are_saturation_less_the_air_of_the_place(units, altitude_m):
    panel = show_reference("pressure_temperature", units=units)
    panel.controls["altitude_m"].value = altitude_m
    shown = display_units(units)
    for warm_c, warm in (
        (10.0, "50" if shown.temperature == "°F" else "10"),
        (60.0, "140" if shown.temperature == "°F" else "60"),
    ):
        for refrigerant, cell in zip(("R134a", "R1234yf"), rows_of(panel)[warm], strict=True):
            absolute = saturation_at_temperature(refrigerant, warm_c + 273.15).pressure
            wanted = to_display_pressure(absolute - atmospheric_pressure_pa(altitude_m), shown)
            digits = {"psi": 1, "kPa": 0, "bar": 2}[shown.pressure]
            assert float(cell) == pytest.approx(wanted, abs=0.51 * 10.0**-digits)
    assert f"at {altitude_m:.0f} m above the sea" in panel.shown.value


def test_the_other_way_round_comes_back():
    panel = show_reference("pressure_temperature", units="kpa_c")
    # R-134a at 25 °C stands at 564 kPa gauge: between the rows of 500 and 600
    below, above = (float(rows_of(panel, 1)[row][0]) for row in ("500", "600"))
    assert below < 25.0 < above


def test_one_refrigerant_alone_has_one_column_and_one_curve():
    panel = show_reference("pressure_temperature", refrigerant="R1234yf", units="bar_c")
    assert panel.card.tables[0].heads == ("°C", "R-1234yf")
    assert "R-134a" not in panel.shown.value
    panel.controls["refrigerant"].value = "both"
    assert "R-134a" in panel.shown.value


def test_water_under_vacuum_is_as_printed():
    # vacuum tables: 25 °C 23,800 micron and 29.0 inHg, 0 °C 4,600, 5 °C 6,500, 35 °C 42,200
    rows = rows_of(show_reference("vacuum", units="kpa_c"))
    for name, micron in (("25 °C water", 23800), ("0 °C water", 4600), ("5 °C water", 6500), ("35 °C water", 42200)):
        assert round(int(rows[name][0].replace(",", "")), -2) == micron
    assert round(float(rows["25 °C water"][2]), 1) == 29.0
    high = show_reference("vacuum", units="kpa_c")
    high.controls["altitude_m"].value = 1500.0
    assert float(rows_of(high)["25 °C water"][2]) == pytest.approx(29.0 - (29.92 - 24.97), abs=0.03)
    assert rows_of(high)["25 °C water"][:2] == rows["25 °C water"][:2]


def test_thirty_psi_boils_colder_up_a_hill():
    rows = rows_of(show_reference("altitude", refrigerant="R134a", units="kpa_c"))
    # trade arithmetic, computed: 1.4 °C at sea level, -0.1 at 1,500 m, -1.1 at 2,500 m
    assert [rows[name][3] for name in ("0", "1,500", "2,500")] == ["1.4", "-0.1", "-1.1"]


def test_conversions_are_those_of_the_standards():
    rows = rows_of(show_reference("units"))
    # NIST SP 811 (2008), appendix B.8
    assert rows["1 psi"] == ["6.895 kPa", "0.0689 bar"]
    assert rows["the same"] == ["29.92 inHg", "760,000 micron"]
    assert rows["1 oz of refrigerant (mass)"] == ["28.35 g", "16 oz are 1 lb"]
    assert rows["1 fl oz of oil or dye (volume)"][0] == "29.57 mL"
    assert rows["1 kW"][0] == "3,412 Btu/h"
    assert rows_of(show_reference("units"), 2)["10 K"] == ["18.0 °F"]


def test_leaks_take_as_long_as_the_sums_say():
    panel = show_reference("leak_rates")
    # 500 g to four fifths: 15 g/yr 6.7 yr, 40 2.5, 160 0.62 (8 months), 300 0.33 (4 months)
    times = {leak: cells[2] for leak, cells in rows_of(panel).items()}
    assert [times[leak] for leak in ("15", "40", "160", "300")] == ["6.7 years", "2.5 years", "8 months", "4 months"]
    panel.controls["charge_g"].value = 1000.0
    assert rows_of(panel)["40"][2] == "5.0 years"
    assert "40 CFR 86.1867-12" in panel.shown.value and "SAE J2791" in panel.shown.value


def test_a_cylinder_of_the_common_size_takes_what_it_should_and_limits_round_down():
    panel = show_reference("cylinder")
    assert rows_of(panel)["R-134a, at the limit"][0] == "23.5"
    assert "Never above 125 °F" in panel.shown.value  # 52 °C is 125.6 °F
    panel.controls["volume_l"].value = 13.6
    assert float(rows_of(panel)["R-134a, at the limit"][0]) == pytest.approx(23.5 / 2.0, abs=0.1)
    assert "Recovery cylinder of 13.6 L" in panel.shown.value


def test_the_rules_say_their_limits_and_where_they_come_from():
    panel = show_reference("rules", units="kpa_c")
    rules = {(name, cells[2]): cells for name, *cells in panel.card.tables[0].rows}
    assert rules["superheat", "orifice tube and accumulator"][0] == "up to 3.0 K"
    assert {cells[3].split(":")[0] for cells in rules.values()} <= {"read", "common practice"}
    assert any(name == "subcooling" and cells[0] == "5.0 to 12.0 K" for (name, _), cells in rules.items())
    panel.controls["units"].value = "psi_f"
    assert "up to 5.4 °F" in panel.shown.value


def test_the_checklist_comes_in_order_with_a_box_for_each_step():
    rows = show_reference("checklist").card.tables[0].rows
    parts = list(dict.fromkeys(part for part, *_ in rows))
    assert parts == ["Before", "Recover", "Repair", "Evacuate", "Charge", "Prove"]
    assert all(done == "☐" and known for _, done, _, known in rows)
    words = " ".join(step for _, _, step, _ in rows)
    assert "at least 95 %" in words and "wait 5 min" in words and "1,000 micron" in words


def test_every_caution_is_dated_defers_and_stays_in_its_region():
    panel, cautions = show_reference("safety"), read_cautions().values()
    assert len(panel.card.tables[0].rows) == len(cautions)
    for one in cautions:
        assert (one.topic, one.text, f"{one.region}, {one.as_of}", one.source, one.defers_to) in panel.card.tables[
            0
        ].rows
    for region in ("United States", "European Union", "everywhere"):
        panel.controls["region"].value = region
        shown = {text for _, text, *_ in panel.card.tables[0].rows}
        said = " ".join(sentence for step in STEPS for sentence in cautions_for(step, region))
        assert shown == {one.text for one in cautions if one.text in said}


def test_a_word_is_found_by_the_name_used_elsewhere():
    panel = show_reference("glossary")
    assert [row[0] for row in panel.card.tables[0].rows] == sorted(
        (one.term for one in read_glossary().values()), key=str.lower
    )
    for wanted, term in (
        ("TEV", "Expansion valve"),
        ("sniffer", "Electronic detector"),
        ("filter drier", "Receiver-drier"),
        ("head", "High side"),
        ("NCG", "Air in the system"),
    ):
        panel.controls["word"].value = wanted
        assert term in [row[0] for row in panel.card.tables[0].rows]
        assert len(panel.card.tables[0].rows) < 10
    panel.controls["word"].value = "zzz<b>"
    assert "Nothing here holds" in panel.shown.value and "<b>" not in panel.shown.value


def test_the_printed_page_is_whole_black_on_white_and_names_no_paper():
    panel = show_reference("vacuum", units="kpa_c")
    page = base64.b64decode(re.search(r"base64,([^\"]+)", panel.link.value)[1]).decode("utf-8")
    assert page == page_to_print(panel.card)
    assert page.startswith("<!doctype html>") and panel.card.title in page and "23,775" in page
    style = CARD_STYLE[CARD_STYLE.index("@media print") :]
    assert "size:" not in style.replace("font-size:", "")  # A4 or Letter: what lies in the printer
    colours = set(re.findall(r"#[0-9a-f]{3,6}", style))
    assert colours == {"#000", "#fff"}
    assert 'download="card_vacuum.html"' in panel.link.value


def test_units_are_remembered_and_a_stored_notebook_carries_the_card():
    panel = show_reference("altitude")
    panel.controls["units"].value = "bar_c"
    assert remembered_units() == "bar_c"
    for card in CARDS:
        bundle = show_reference(card)._repr_mimebundle_()
        assert bundle["text/plain"].startswith(show_reference(card).card.title)
        assert "<style>" in bundle["text/html"] and "workbook-card" in bundle["text/html"]


def test_markup_in_a_card_is_shown_and_not_run():
    card = Card("<i>", ("<u>",), (Table("<b>", ("<s>", "<u>"), (("<b>", "<i>"),)),), below=("&",))
    assert re.findall(r"<[ubis]>", card_html(card)) == []
    assert "&amp;" in card_html(card)


def test_wrong_starts_are_sentences():
    with pytest.raises(UnknownChoice, match="card: 'weather' is not known here; choose one of pressure_temperature"):
        show_reference("weather")
    with pytest.raises(UnknownChoice, match="choose one of both, R134a, R1234yf"):
        show_reference("altitude", refrigerant="R22")
    with pytest.raises(UnknownChoice, match="choose one of all, United States"):
        show_reference("safety", region="Mars")
