"""The job sheet: order, whole files, and the balance of a charge."""

import datetime
import json
import os
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from course.errors import BadDataFile, OutOfRange, UnknownChoice, WorkbookError
from course.service.job import (
    STEPS,
    UNITS,
    Entry,
    Job,
    add_entry,
    charge_balance,
    check_job,
    missing_steps,
    open_job,
    save_job,
)
from course.service.leak_rate import ServiceEntry, leak_from_record
from course.service.recovery import left_behind_share

EMPTY = Job("17", "invented pickup", "R134a", 700.0, "A. B.")
LINES = (
    Entry("2026-03-02T09:15", "complaint", note="cold in the morning, warm at idle by noon"),
    Entry("2026-03-02T09:30", "identify", 99.9, "%", "identifier", "R-134a, no air"),
    Entry("2026-03-02T09:40", "static", 470.0, "kPa gauge", "manifold", "20 °C, cold engine"),
    Entry("2026-03-02T10:40", "recovery", 430.0, "g", "machine scale"),
    Entry("2026-03-02T11:30", "repair", note="O-rings at the condenser block, both <old> & flat"),
    Entry("2026-03-02T12:10", "evacuation", 480.0, "micron", "vacuum gauge at the low port"),
    Entry("2026-03-02T12:40", "charge", 700.0, "g", "machine scale"),
    Entry("2026-03-02T13:10", "after", 6.5, "°C", "vent thermometer"),
    Entry("2026-03-02T13:30", "leak_check", note="joints and both ports, nothing at 4 g/yr"),
)
WHOLE = replace(EMPTY, entries=LINES)


def test_a_whole_job_is_verified_and_every_needed_step_is_asked_for():
    assert missing_steps(WHOLE) == ()
    for line in LINES:
        if line.step != "static":
            shorter = replace(WHOLE, entries=tuple(one for one in LINES if one is not line))
            assert STEPS[line.step] in missing_steps(shorter)


def test_a_check_made_before_the_last_repair_does_not_count():
    again = replace(WHOLE, entries=(*LINES, Entry("2026-03-02T14:00", "repair", note="shaft seal")))
    assert missing_steps(again) == (STEPS["after"], STEPS["leak_check"])


def test_adding_a_line_leaves_the_old_job_alone():
    job = EMPTY
    for line in LINES:
        job = add_entry(job, line)
    assert job == WHOLE
    assert EMPTY.entries == ()


def test_saved_and_opened_again(tmp_path):
    path = save_job(WHOLE, tmp_path / "job_17.json")
    assert open_job(path) == WHOLE
    longer = add_entry(WHOLE, Entry("2026-03-02T15:00", "handover"))
    save_job(longer, path)
    assert open_job(path) == longer
    assert [one.name for one in tmp_path.iterdir()] == ["job_17.json"], "nothing is left beside it"


@pytest.mark.parametrize("length", [0, 1, 40, 400, -2])
def test_a_half_written_file_is_a_sentence_and_stays_as_it_is(tmp_path, length):
    path = save_job(WHOLE, tmp_path / "job_17.json")
    half = path.read_bytes()[: length or 0]
    path.write_bytes(half)
    with pytest.raises(BadDataFile, match="job_17.json: half-written or not a job sheet; it was left as it is"):
        open_job(path)
    with pytest.raises(BadDataFile, match="left as it is"):
        save_job(WHOLE, path)
    assert path.read_bytes() == half


def test_a_write_that_fails_keeps_the_old_sheet(tmp_path, monkeypatch):
    path = save_job(WHOLE, tmp_path / "job_17.json")
    before = path.read_bytes()

    def fail(*_):
        raise OSError(28, "No space left on device")

    for step in ("replace", "fsync"):
        with monkeypatch.context() as patched:
            patched.setattr(os, step, fail)
            with pytest.raises(
                WorkbookError, match="it could not be written .No space left on device.; the older sheet"
            ):
                save_job(EMPTY, path)
        assert path.read_bytes() == before
        assert [one.name for one in tmp_path.iterdir()] == ["job_17.json"]


def test_a_folder_that_is_not_there_is_a_sentence(tmp_path):
    with pytest.raises(WorkbookError, match="choose another folder"):
        save_job(WHOLE, tmp_path / "nowhere" / "job.json")


def changed(content, change):
    """The file's content after one change, as text."""
    made = json.loads(content)
    change(made)
    return json.dumps(made)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda job: job.pop("car"), "entries are missing or unknown"),
        (lambda job: job.pop("form"), "entries are missing or unknown"),
        (lambda job: job.update(form=9), "form is not 1"),
        (lambda job: job.update(owner="somebody"), "entries are missing or unknown"),
        (lambda job: job.update(entries=3), "entries are missing or unknown"),
        (lambda job: job.update(label_charge_g="700"), "a value is not a number; write it without quotes"),
        (lambda job: job["entries"][3].update(value=-430.0), "Refrigerant recovered: -430 g was given"),
        (lambda job: job["entries"][3].update(value="430"), "a value is not a number; write it without quotes"),
        (lambda job: job["entries"][3].update(unit=""), "430.0 has no unit; choose one of g, mL"),
        (lambda job: job["entries"][3].update(step="party"), "step: 'party' is not known here"),
        (lambda job: job["entries"][3].update(time="yesterday"), "write it as 2026-03-02T09:15"),
        (lambda job: job["entries"][3].update(time="2026-03-01T10:40"), "an earlier entry is later"),
    ],
)
def test_a_sheet_with_something_wrong_says_what(tmp_path, change, words):
    path = save_job(WHOLE, tmp_path / "job.json")
    path.write_text(changed(path.read_text(encoding="utf-8"), change), encoding="utf-8")
    with pytest.raises(BadDataFile, match=words):
        open_job(path)


@pytest.mark.parametrize("text", ["[]", "3", "null", '"job"', '{"form": NaN}'])
def test_json_that_is_no_job_is_a_sentence(tmp_path, text):
    path = tmp_path / "job.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadDataFile):
        open_job(path)


@settings(max_examples=60, deadline=None)
@given(
    step=st.sampled_from([*STEPS, "party", ""]),
    value=st.one_of(st.none(), st.booleans(), st.floats(), st.text(max_size=3)),
    unit=st.sampled_from([*UNITS, "", "psi"]),
    note=st.text(max_size=30),
)
def test_a_line_is_taken_or_answered_with_a_sentence(tmp_path_factory, step, value, unit, note):
    try:
        job = add_entry(EMPTY, Entry("2026-03-02T09:15", step, value, unit, "", note))
    except (OutOfRange, UnknownChoice) as refused:
        assert str(refused).endswith(".")
    else:
        assert open_job(save_job(job, tmp_path_factory.mktemp("jobs") / "job.json")) == job


@pytest.mark.parametrize(
    ("entry", "words"),
    [
        (Entry("2026-03-02T09:15", "recovery", 430.0), "430.0 has no unit"),
        (Entry("2026-03-02T09:15", "recovery", None, "g"), "unit g without a value; give both or neither"),
        (Entry("2026-03-02T09:15", "recovery", float("nan"), "g"), "Refrigerant recovered: nan g was given"),
        (Entry("2026-03-02T09:15", "evacuation", 900000.0, "micron"), "allowed are 0 to 800000 micron"),
        (Entry("2026-03-02", "recovery", 430.0, "g"), "write it as 2026-03-02T09:15"),
        (Entry("2026-03-02T09:15", "repair", note="x" * 501), "write a text of 0 to 500 characters"),
    ],
)
def test_sentences(entry, words):
    with pytest.raises(OutOfRange, match=words):
        add_entry(EMPTY, entry)


def test_a_job_without_a_car_is_refused():
    with pytest.raises(OutOfRange, match="car: ' ' was given; write a text of 1 to 500"):
        check_job(replace(EMPTY, car=" "))


def test_balance_by_hand():
    """600 g, 430 g out after a year with equipment that leaves at most 5 %: 600 - 430 = 170, or 600 - 452.6 = 147."""
    exact = charge_balance(600.0, 430.0, (0.0, 0.05), 365.25, scale_error_g=0.0)
    assert (exact.least_lost_g, exact.most_lost_g) == pytest.approx((600 - 430 / 0.95, 170.0))
    assert exact.most_g_per_year == pytest.approx(170.0)
    half = charge_balance(600.0, 430.0, (0.0, 0.05), 365.25 / 2, scale_error_g=0.0)
    assert half.most_g_per_year == pytest.approx(340.0)


def test_what_old_equipment_leaves_must_not_be_taken_for_a_leak():
    """A tight 600 g car, 18 to 30 % left behind: the machine prints about 450 g, the balance still allows nothing lost."""
    balance = charge_balance(600.0, 450.0, left_behind_share("old", 21.0), 365.25)
    assert balance.least_lost_g < 0.0 < balance.most_lost_g


def test_balance_agrees_with_the_leak_from_the_service_record():
    """Same numbers through the other half of the workbook: its figure lies inside this one's range."""
    record = [
        ServiceEntry(datetime.date(2025, 3, 1), "charged", 600.0),
        ServiceEntry(datetime.date(2026, 3, 1), "recovered", 430.0),
    ]
    leak = leak_from_record(record, label_charge_g=600.0, today=datetime.date(2026, 3, 2))
    balance = charge_balance(600.0, 430.0, left_behind_share("new", 22.0), leak.days)
    assert balance.least_g_per_year < leak.g_per_year < balance.most_g_per_year


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: charge_balance(600.0, -1.0, (0.0, 0.05), 100.0), "recovered: -1 g was given"),
        (lambda: charge_balance(600.0, 430.0, (0.05, 0.0), 100.0), "give the smaller one first"),
        (lambda: charge_balance(600.0, 430.0, (0.0, 0.05), 0.0), "days: 0 days was given"),
    ],
)
def test_balance_sentences(ask, words):
    with pytest.raises(OutOfRange, match=words):
        ask()
