"""The panels of the service job: what is set is what is run, refusals are sentences and nothing is lost."""

import json
import re
from base64 import b64decode

import pytest

from course.charts.pump_down import describe_pump_down
from course.service.job import open_job
from course.service.recovery import load_machine, recover, usual_car, wait
from course.service.same_gauges import HIGH_KPA, LOW_KPA
from course.widgets import (
    show_charging,
    show_evacuation,
    show_job_sheet,
    show_nitrogen_hold,
    show_oil_form,
    show_recovery,
    show_rise_test,
    show_same_gauges,
)


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


SHOWN = {
    "recovery": show_recovery,
    "evacuation": show_evacuation,
    "rise": show_rise_test,
    "hold": show_nitrogen_hold,
    "charging": show_charging,
    "same gauges": show_same_gauges,
    "oil": show_oil_form,
    "job": lambda: show_job_sheet(folder="."),
}


@pytest.mark.parametrize("name", SHOWN)
def test_a_stored_page_carries_words_and_a_caption(name):
    panel = SHOWN[name]()
    bundle = panel._repr_mimebundle_()
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert bundle["text/plain"] == panel.sentence()
    assert re.search(r"\d", bundle["text/plain"])
    if name != "job":
        assert "<figcaption>" in bundle["text/html"]
    if name not in ("oil", "job"):
        assert 'role="img"' in bundle["text/html"] and "aria-label=" in bundle["text/html"]


def test_the_plan_is_followed_step_by_step():
    panel = show_recovery(machine="machine_old", temperature_c=10.0, steps=3)
    first = recover(usual_car(temperature_c=10.0), load_machine("machine_old"))
    rest = wait(first, 5.0)
    second = recover(first.car, load_machine("machine_old"), before=rest)
    assert [curve.recovered_kg[-1] for _, curve in panel.stretches] == pytest.approx(
        [first.recovered_kg[-1], rest.recovered_kg[-1], second.recovered_kg[-1]]
    )
    assert f"the scale shows {1000 * second.recovered_kg[-1]:.0f} g" in panel.words.value


def test_what_stayed_is_told_only_when_asked():
    panel = show_recovery()
    assert "Still in the car" not in panel.words.value + panel.picture.value
    panel.left.value = True
    assert f"Still in the car: {1000 * panel.stretches[-1][1].left_kg[-1]:.0f} g" in panel.words.value
    assert "18 to 30 % stayed in the car" in panel.words.value
    panel.temperature.value = 35.0
    assert "Published tests" not in panel.words.value, "nobody tested at 35 °C"


def test_a_cylinder_past_its_limit_is_refused_before_it_begins():
    panel = show_recovery()
    picture = panel.picture.value
    panel.holds.value = 23.0
    assert "Not begun: with this car" in panel.words.value and 'role="alert"' in panel.words.value
    assert "may hold 23.57 kg" in panel.words.value
    assert panel.picture.value == picture
    panel.hottest.value = 45.0
    assert 'role="alert"' not in panel.words.value, "a cooler store leaves room for as much"
    panel.cylinder.value = panel.cylinder.options[1][1]
    assert "may hold 12" in panel.words.value


def test_the_hose_sets_the_speed_and_the_pump_does_not():
    minutes = {}
    for pump in ("pump_small", "pump_large"):
        for hose in ("hose_thin", "hose_wide"):
            panel = show_evacuation(pump=pump, hose=hose)
            panel.cores.value = "port_without_core"
            minutes[pump, hose] = float(re.search(r"500 micron after ([\d.]+) min", panel.sentence())[1])
    assert minutes["pump_large", "hose_thin"] > 0.9 * minutes["pump_small", "hose_thin"]
    assert minutes["pump_small", "hose_wide"] < 0.4 * minutes["pump_large", "hose_thin"]


def test_the_curve_before_the_change_stays_in_the_picture():
    panel = show_evacuation(water_g=3.0)
    first = panel.curve
    assert panel.earlier is None and "before" not in panel.picture.value
    panel.hose.value = "hose_wide"
    assert panel.earlier is first and "dashed: before" in panel.picture.value
    panel.units.value = "kpa_c"
    assert panel.earlier is first and "°C" in panel.words.value
    assert describe_pump_down(panel.curve, panel.shown_units) in panel.words.value.replace("&#x27;", "'")


def test_a_verdict_is_given_before_the_answer_is_shown():
    panel = show_rise_test(number=4)
    assert "What it was" not in panel.words.value and "really happened" not in panel.picture.value
    panel.decide.click()
    assert "Choose a verdict first" in panel.words.value and "What it was" not in panel.words.value
    panel.verdict_choice.value = "tight and dry"
    assert "What it was" not in panel.words.value
    panel.decide.click()
    assert "These readings say otherwise" in panel.words.value
    assert "Too little information" in panel.words.value and "What it was: leaking" in panel.words.value
    assert "really happened" in panel.picture.value


def test_other_readings_take_the_verdict_back_and_can_be_judged_anew():
    panel = show_rise_test(number=4)
    panel.verdict_choice.value = "too little information"
    panel.decide.click()
    assert "As these readings have it" in panel.words.value
    panel.gauge.value = "micron_gauge"
    assert "What it was" not in panel.words.value
    panel.verdict_choice.value = "leaking"
    panel.decide.click()
    assert "As these readings have it" in panel.words.value
    panel.again.click()
    assert panel.number == 5 and panel.verdict_choice.value == "" and "Rise test 5" in panel.words.value


def test_a_seep_passes_as_tight_and_is_owned_up_to():
    panel = show_rise_test(number=2, gauge="micron_gauge", minutes=60.0, kind="seeping")
    panel.verdict_choice.value = "tight and dry"
    panel.decide.click()
    assert "As these readings have it" in panel.words.value
    assert "What it was: seeping" in panel.words.value


def test_nitrogen_follows_the_night_and_a_wrong_gas_is_refused():
    cases = [show_nitrogen_hold(number=number, second_c=5.0) for number in range(30)]
    tight = [panel for panel in cases if panel.readings.leak_g_per_year == 0.0]
    calm = [panel for panel in tight if panel.judged.verdict == "no leak seen"]
    panel = calm[0]
    assert panel.readings.second_kpa_gauge < panel.readings.first_kpa_gauge - 60.0
    panel.verdict_choice.value = "leaking"
    panel.decide.click()
    assert "These readings say otherwise" in panel.words.value and "What it was: tight" in panel.words.value
    false_alarm = next(panel for panel in tight if panel.judged.verdict == "leaking")
    false_alarm.verdict_choice.value = "leaking"
    false_alarm.decide.click()
    assert "one tight circuit in forty looks like this" in false_alarm.words.value
    panel.gas.value = "oxygen"
    assert "with oil under pressure it explodes" in panel.words.value and 'role="alert"' in panel.words.value


def test_the_hose_is_taken_off_the_scale():
    panel = show_charging(before_g=9000, after_g=8300)
    assert "700 g left the cylinder, 0 g of it for the hose: 700 g in the car" in panel.words.value
    panel.filling.value = "liquid"
    assert panel.hose_g == pytest.approx(0.00635**2 * 3.14159 / 4 * 1.5 * 1206.7 * 1e3, rel=0.01), (
        "liquid R-134a at 25 °C"
    )
    assert f"{700 - panel.hose_g:.0f} g in the car" in panel.words.value
    panel.after.value = 9500
    assert "it got heavier" in panel.words.value and 'role="alert"' in panel.words.value


def test_the_needles_agree_and_the_charges_do_not():
    panel = show_same_gauges()
    full, other = panel.pair.full, panel.pair.other
    assert abs(full.low_side_kpa_gauge - other.low_side_kpa_gauge) < LOW_KPA
    assert abs(full.high_side_kpa_gauge - other.high_side_kpa_gauge) < HIGH_KPA
    assert (full.charge_kg, other.charge_kg) == pytest.approx((0.7, 0.385))
    assert (
        "385 g" in panel.picture.value
        and panel.picture.value.count("High side") + panel.picture.value.count("high side") >= 2
    )


def test_the_oil_form_adds_up_and_refuses_the_wrong_oil():
    panel = show_oil_form()
    assert "To add, in all</th><td>50 mL (1.7 fl oz)" in panel.picture.value
    panel.parts["evaporator"].value = True
    assert "To add, in all</th><td>80 to 140 mL" in panel.picture.value
    panel.added.value = 80
    assert "Added 80 mL: " in panel.words.value
    table = panel.picture.value
    panel.drive.value = "high_voltage"
    assert "PAG conducts" in panel.words.value and panel.picture.value == table
    panel.hand.value = panel.label.value = "poe68"
    assert 'role="alert"' not in panel.words.value


def typed(panel, step, value="", unit="", time="2026-03-02T09:15", note=""):
    panel.step.value, panel.value.value, panel.unit.value = step, value, unit
    panel.time.value, panel.note.value = time, note
    panel.add.click()


def test_a_sheet_is_written_saved_opened_again_and_printed(tmp_path):
    panel = show_job_sheet(folder=tmp_path, technician="A. B.")
    typed(panel, "complaint", note="warm <after> a month")
    typed(panel, "recovery", "430,5", "g")
    assert panel.value.value == panel.note.value == ""
    panel.save.click()
    assert "Saved as job_17.json" in panel.words.value
    job = open_job(tmp_path / "job_17.json")
    assert [entry.value for entry in job.entries] == [None, 430.5]
    again = show_job_sheet(folder=tmp_path, car="another", technician="")
    again.open.click()
    assert again.job() == job and "Opened: 2 lines" in again.words.value
    link = re.search(r'download="job_17.html" href="data:text/html;base64,([^"]+)"', again.sheet.value)
    page = b64decode(link[1]).decode()
    assert "430.5 g" in page and "warm &lt;after&gt; a month" in page and "@page" in page


def test_a_refused_line_loses_nothing(tmp_path):
    panel = show_job_sheet(folder=tmp_path, technician="A. B.")
    for value, unit, time, said in (
        ("much", "g", "2026-03-02T09:15", "refrigerant recovered: &#x27;much&#x27; is not a number"),
        ("430", "", "2026-03-02T09:15", "has no unit; choose one of"),
        ("430", "g", "yesterday", "write it as 2026-03-02T09:15"),
        ("-5", "g", "2026-03-02T09:15", "Refrigerant recovered: -5 g"),
    ):
        typed(panel, "recovery", value, unit, time, "twice")
        assert said in panel.words.value and 'role="alert"' in panel.words.value
        assert (panel.value.value, panel.time.value, panel.note.value, panel.entries) == (value, time, "twice", ())


def test_an_empty_time_is_now(tmp_path):
    panel = show_job_sheet(folder=tmp_path, technician="A. B.")
    typed(panel, "complaint", time="")
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d", panel.entries[0].time)


def test_no_sheet_is_overwritten_and_no_line_is_thrown_away(tmp_path):
    first = show_job_sheet(folder=tmp_path, technician="A. B.")
    typed(first, "complaint", note="first")
    first.save.click()
    before = (tmp_path / "job_17.json").read_bytes()
    other = show_job_sheet(folder=tmp_path, technician="C. D.")
    typed(other, "complaint", note="second")
    other.save.click()
    assert "another sheet of this number" in other.words.value
    assert (tmp_path / "job_17.json").read_bytes() == before
    other.open.click()
    assert "lines that are not saved" in other.words.value and len(other.entries) == 1
    other.number.value = "18"
    other.save.click()
    assert json.loads((tmp_path / "job_18.json").read_text(encoding="utf-8"))["technician"] == "C. D."


def test_what_cannot_be_a_sheet_is_said(tmp_path):
    panel = show_job_sheet(folder=tmp_path, number="../17", technician="A. B.")
    panel.save.click()
    assert "cannot name a file" in panel.words.value
    panel.number.value = "19"
    panel.open.click()
    assert "job_19.json: there is no such file" in panel.words.value
    panel.label.value = ""
    panel.save.click()
    assert "label charge: &#x27;&#x27; is not a number" in panel.words.value
    (tmp_path / "job_20.json").write_text("{", encoding="utf-8")
    panel.number.value = "20"
    panel.open.click()
    assert "half-written or not a job sheet" in panel.words.value
    assert list(tmp_path.glob("job_*")) == [tmp_path / "job_20.json"]
