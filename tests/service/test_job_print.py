"""The printed job sheet: every line in both forms, and no text that a page would take for its own."""

from dataclasses import replace

import pytest

from course.errors import OutOfRange
from course.service.job import STEPS, Entry, Job
from course.service.job_print import job_html, job_text

LINES = (
    Entry("2026-03-02T09:15", "complaint", note="warm at idle by noon"),
    Entry("2026-03-02T09:30", "identify", 99.9, "%", "identifier"),
    Entry("2026-03-02T10:40", "recovery", 430.0, "g", "machine scale"),
    Entry("2026-03-02T11:30", "repair", note="O-rings at the condenser block, both <old> & flat"),
    Entry("2026-03-02T12:10", "evacuation", 480.0, "micron", "vacuum gauge"),
    Entry("2026-03-02T12:40", "charge", 700.0, "g", "machine scale"),
    Entry("2026-03-02T13:10", "after", 6.5, "°C", "vent thermometer"),
    Entry("2026-03-02T13:30", "leak_check", note="nothing at 4 g/yr"),
)
WHOLE = Job("17", "invented pickup", "R134a", 700.0, "A. B.", LINES)


def test_every_line_is_in_both_forms():
    text, page = job_text(WHOLE), job_html(WHOLE)
    for line in LINES:
        assert STEPS[line.step] in text
        assert STEPS[line.step] in page
    assert "430 g" in text and "430 g" in page
    assert page.count("<tr>") == 1 + len(LINES)


def test_signs_of_the_page_are_escaped():
    assert "both <old> & flat" in job_text(WHOLE)
    page = job_html(WHOLE)
    assert "both &lt;old&gt; &amp; flat" in page
    assert "<old>" not in page


def test_the_foot_says_whether_the_repair_is_verified():
    assert job_text(WHOLE).splitlines()[-1].startswith("Verified: ")
    unfinished = replace(WHOLE, entries=LINES[:6])
    for printed in (job_text(unfinished), job_html(unfinished)):
        assert "Not verified yet. Missing: performance after, leak check after" in printed


def test_a_job_that_is_not_in_order_is_not_printed():
    with pytest.raises(OutOfRange, match="has no unit"):
        job_text(replace(WHOLE, entries=(Entry("2026-03-02T09:15", "recovery", 430.0),)))
