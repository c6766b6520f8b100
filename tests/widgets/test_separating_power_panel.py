"""The panel of what separates what: it shows what is chosen, in a table a screen reader can walk."""

import re
from xml.etree import ElementTree

import pytest

from course.charts.separating_power import percent
from course.errors import UnknownChoice
from course.evidence.separating_power import READING_SETS, result_for
from course.tables import read_separating_power
from course.widgets import show_separating_power
from course.widgets.separating_power_panel import confusion_html

STUDY = read_separating_power()


def table(html):
    return ElementTree.fromstring(re.search(r"<table.*</table>", html, flags=re.DOTALL).group())


def test_the_table_has_a_head_for_every_row_and_column_and_numbers_in_every_cell():
    result = result_for(STUDY, "temperatures")
    root = table(confusion_html(STUDY, result))
    rows = root.findall("./tbody/tr")
    assert len(rows) == len(STUDY.troubles) == len(root.findall("./thead/tr/th")) - 1
    assert all(head.get("scope") == "row" for head in root.findall("./tbody/tr/th"))
    for row, shares in zip(rows, result.named_share, strict=True):
        assert [cell.text for cell in row.findall("td")] == [percent(share) for share in shares]
    right = [[cell.get("class") for cell in row.findall("td")].index("workbook-right") for row in rows]
    assert right == list(range(len(rows)))


@pytest.mark.parametrize("readings", READING_SETS)
def test_choosing_readings_changes_sentence_table_and_picture(readings):
    panel = show_separating_power()
    panel.readings.value = readings
    panel.rates.value, panel.model.value = "counted", "car_to_car"
    result = result_for(STUDY, readings, "car_to_car", "counted")
    assert f"named rightly in {percent(result.right_share)} of 100 cars" in panel.words.value
    assert table(panel.table.value).find("./tbody/tr/td").text == percent(result.named_share[0][0])
    assert panel.picture.value.count('role="img"') == 2


def test_the_stored_form_says_numbers_seed_refusals_and_caution():
    bundle = show_separating_power(readings="recovered_weight")._repr_mimebundle_()
    said = bundle["text/plain"]
    assert f"{STUDY.counts.cases} simulated cars" in said
    assert f"seed {STUDY.made_by.seed}" in said
    assert f"{STUDY.counts.severities_refused} of {STUDY.counts.severities} severities found no steady state" in said
    assert "its model of the car is right" in said
    assert "<table" in bundle["text/html"] and "<figcaption>" in bundle["text/html"]


def test_an_unknown_choice_is_a_sentence():
    with pytest.raises(UnknownChoice, match="readings: 'guesses' is not known here; choose one of gauges"):
        show_separating_power(readings="guesses")
