"""From a service record to grams a year: the balance, its error, the verdict, and every kind of bad entry."""

import datetime
import math
import random
import statistics
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from course.errors import OutOfRange, WorkbookError
from course.service.leak_rate import (
    LeakRate,
    ServiceEntry,
    compare,
    judge,
    leak_from_record,
    record_problems,
)
from course.tables import read_leak_limits

TODAY = datetime.date(2026, 6, 1)
YEAR_AGO = datetime.date(2025, 6, 1)  # 365 days
EXACT = {"scale_error_g": 0.0, "hose_error_g": 0.0, "recovery_error_g": 0.0}


def day(number):
    return YEAR_AGO + datetime.timedelta(days=number)


def entry(when, what, grams, **errors):
    return ServiceEntry(day(when), what, grams, **errors)


def leak(record, **more):
    return leak_from_record(record, **{"label_charge_g": 500.0, "today": TODAY, **more})


# the balance


def test_balance_worked_by_hand():
    """500 + 100 in, 390 out: 390/0.975 = 400 g were in the car, 200 are lost in 365 days of a 365.25-day year."""
    found = leak([entry(0, "charged", 500.0), entry(100, "topped_off", 100.0), entry(365, "recovered", 390.0)])
    assert found.lost_g == pytest.approx(200.0) and found.days == 365.0 and found.basis == "weighed"
    assert found.g_per_year == pytest.approx(200.0 * 365.25 / 365.0)
    # three weighings (5 g scale, 2 g hose), recovery 30 g, and an even chance of 0-5 % left behind: 390 x 0.05/sqrt(12)
    by_hand = math.sqrt(3 * (25 + 4) + 900 + (390 * 0.05) ** 2 / 12)
    assert found.error_g_per_year == pytest.approx(by_hand * 365.25 / 365.0)


def test_the_stated_error_is_the_scatter_of_many_weighings():
    """2,000 records of the same car, weighed with the stated errors; the scatter of a scatter is 1/sqrt(4000) = 1.6 %."""
    dice, rates = random.Random(1), []
    for _ in range(2000):
        left = 390.0 * dice.uniform(0.0, 0.05)
        put = [500.0 + dice.gauss(0, math.hypot(5, 2)), 100.0 + dice.gauss(0, math.hypot(5, 2))]
        out = 390.0 - left + dice.gauss(0, math.sqrt(25 + 4 + 900))
        record = [entry(0, "charged", put[0]), entry(100, "topped_off", put[1]), entry(365, "recovered", out)]
        rates.append(leak(record).g_per_year)
    stated = leak([entry(0, "charged", 500.0), entry(100, "topped_off", 100.0), entry(365, "recovered", 380.0)])
    assert statistics.stdev(rates) == pytest.approx(stated.error_g_per_year, rel=0.07)
    assert statistics.mean(rates) == pytest.approx(210.0, abs=4.0)


def test_several_stretches_count_together():
    record = [
        entry(0, "charged", 500.0, **EXACT),
        entry(100, "recovered", 390.0, **EXACT),
        entry(100, "charged", 500.0, **EXACT),
        entry(300, "recovered", 292.5, **EXACT),
    ]
    found = leak(record)
    assert found.lost_g == pytest.approx(300.0) and found.days == 300.0


def test_a_second_pass_belongs_to_the_recovery_and_leaves_less_behind():
    """390 + 9.5 out in two passes: at most 0.05 x 0.05 of it stays, 399.5/0.99875 = 400 g were in the car."""
    once = [entry(0, "charged", 600.0), entry(365, "recovered", 390.0)]
    twice = [*once, entry(365, "recovered", 9.5)]
    assert leak(once).lost_g == pytest.approx(200.0) and leak(twice).lost_g == pytest.approx(200.0)
    assert len(leak(twice).sentences) == 1
    after = leak([*twice, entry(365, "topped_off", 100.0), entry(365, "recovered", 50.0)])
    assert after.lost_g == pytest.approx(200.0) and "2 of 5 entries" in after.sentences[1]


def test_what_belongs_to_no_stretch_is_named():
    record = [entry(0, "topped_off", 50.0), entry(10, "charged", 500.0), entry(300, "recovered", 400.0)]
    assert "1 of 3 entries" in leak(record).sentences[1]


def test_top_offs_alone_are_reckoned_with_a_warning():
    """240 g every 30 days is 240 x 365.25/30 = 2,922 g/yr: the repeated top-off of the intake table, about 2,900."""
    record = [entry(number * 30, "topped_off", 240.0) for number in range(6)]
    found = leak(record, label_charge_g=600.0)
    assert found.basis == "top_offs" and found.g_per_year == pytest.approx(2922.0, abs=0.5)
    assert "same level" in found.sentences[0]
    assert judge(found).word == "abnormal"


@pytest.mark.parametrize(
    "record",
    [
        [],
        [entry(0, "charged", 500.0)],
        [entry(0, "recovered", 300.0)],
        [entry(0, "topped_off", 100.0), entry(0, "topped_off", 100.0)],
        [entry(0, "charged", 500.0), entry(0, "recovered", 480.0)],
    ],
    ids=["empty", "one charge", "one recovery", "one day", "same day"],
)
def test_too_little_is_said(record):
    with pytest.raises(WorkbookError, match="it takes a charge and a later recovery"):
        leak(record)


# bad entries: each a sentence, and the record stays as it is


@pytest.mark.parametrize(
    ("bad", "words"),
    [
        (entry(20, "charged", -500.0), "-500 g is below nothing"),
        (entry(20, "charged", float("nan")), "nan is not a number of grams"),
        (entry(20, "charged", float("inf")), "inf is not a number of grams"),
        (entry(20, "charged", "18 oz"), "1 oz is 28.35 g"),
        (entry(20, "charged", None), "None is not a number of grams"),
        (entry(20, "charged", True), "True is not a number of grams"),
        (entry(20, "charged", 25000.0), "more than the cylinder holds"),
        (entry(20, "charged", 900.0), "more than this car can hold (700 g)"),
        (entry(366, "charged", 500.0), "lies in the future: today is 2026-06-01"),
        (entry(20, "vented", 500.0), "choose one of recovered, charged, topped_off"),
        (entry(5, "charged", 500.0), "put the record in order of date"),
        (entry(20, "charged", 500.0, scale_error_g=-1.0), "scale error is -1.0"),
        (ServiceEntry("June", "charged", 500.0), "'June' is not a date"),
    ],
    ids=lambda one: one if isinstance(one, str) else "",
)
def test_each_bad_entry_gets_its_sentence(bad, words):
    record = [entry(10, "charged", 500.0), bad, entry(200, "recovered", 300.0)]
    before = repr(record)
    problems = record_problems(record, label_charge_g=500.0, today=TODAY)
    assert len(problems) == 1 and words in problems[0] and problems[0].startswith("Entry 2")
    with pytest.raises(OutOfRange) as refused:
        leak(record)
    assert words in str(refused.value) and repr(record) == before


def test_all_problems_are_told_at_once():
    record = [entry(0, "charged", -1.0), entry(900, "charged", float("nan")), entry(10, "melted", 9999.0)]
    assert len(record_problems(record, label_charge_g=500.0, today=TODAY)) == 5


def test_more_out_than_in_means_a_filling_nobody_wrote_down():
    record = [entry(0, "charged", 300.0), entry(300, "recovered", 600.0)]
    assert "nobody wrote down" in record_problems(record, label_charge_g=500.0, today=TODAY)[0]
    within = [entry(0, "charged", 500.0), entry(300, "recovered", 510.0)]
    assert record_problems(within, label_charge_g=500.0, today=TODAY) == ()


def test_a_leak_faster_than_a_car_can_be_driven_away():
    record = [entry(0, "charged", 500.0), entry(0, "recovered", 100.0)]
    assert "on the day they went in" in record_problems(record, label_charge_g=500.0, today=TODAY)[0]


def test_more_in_one_day_than_the_car_holds():
    twice = [entry(0, "charged", 500.0), entry(0, "topped_off", 500.0)]
    problems = record_problems(twice, label_charge_g=500.0, today=TODAY)
    assert len(problems) == 1 and "makes 1000 g on one day" in problems[0] and "entry made twice" in problems[0]
    emptied = [entry(0, "charged", 500.0), entry(0, "recovered", 490.0), entry(0, "charged", 500.0)]
    assert record_problems(emptied, label_charge_g=500.0, today=TODAY) == ()


@pytest.mark.parametrize(("label", "cylinder"), [(5.0, None), (500.0, 1.0), (float("nan"), None)])
def test_label_and_cylinder_have_ranges(label, cylinder):
    with pytest.raises(OutOfRange, match=r"read the label again|give what it can hold"):
        record_problems([], label_charge_g=label, today=TODAY, cylinder_g=cylinder)


# the verdict


@pytest.mark.parametrize(
    ("rate", "error", "evaporators", "word"),
    [
        (15.1, 5.0, 1, "normal"),
        (39.0, 0.4, 1, "normal"),
        (30.0, 20.0, 1, "undecidable"),
        (30.0, 7.0, 1, "undecidable"),
        (50.0, 7.0, 1, "undecidable"),
        (50.0, 4.0, 1, "abnormal"),
        (50.0, 4.0, 2, "normal"),
        (70.0, 4.0, 2, "abnormal"),
        (-10.0, 5.0, 1, "normal"),
    ],
)
def test_verdicts_against_40_and_60_grams_a_year(rate, error, evaporators, word):
    """Directive 2006/40/EC: 40 g/yr with one evaporator, 60 with two (read). Two standard deviations on either side."""
    verdict = judge(LeakRate(rate, error, 0.0, 365.0, "weighed", ()), evaporators=evaporators)
    assert verdict.word == word and verdict.ceiling_g_per_year == (40.0, 60.0)[evaporators - 1]
    assert (verdict.days_to_decide is None) == (word != "undecidable")


def test_waiting_settles_an_undecided_one():
    """The error of a rate shrinks with the days: after the days it names, the same car at the same weighing is decided."""
    first = LeakRate(60.0, 31.0, 60.0, 365.0, "weighed", ())
    verdict = judge(first)
    later = replace(first, error_g_per_year=31.0 * 365.0 / (verdict.days_to_decide * 1.001))
    sooner = replace(first, error_g_per_year=31.0 * 365.0 / (verdict.days_to_decide * 0.999))
    assert judge(later).word == "abnormal" and judge(sooner).word == "undecidable"


def test_three_evaporators_are_refused():
    with pytest.raises(OutOfRange, match="one, or two with rear A/C"):
        judge(LeakRate(1.0, 1.0, 1.0, 1.0, "weighed", ()), evaporators=3)


def test_one_year_at_one_weighing_cannot_tell_the_ceiling():
    """A shop that recovers to 30 g cannot see a type-limit leak in one season: the reason "all systems lose some" survives."""
    assert judge(leak([entry(0, "charged", 500.0), entry(365, "recovered", 455.0)])).word == "undecidable"


# published figures


def test_published_figures_are_carried_as_read():
    figures = {key: figure.rate_g_per_year.value for key, figure in read_leak_limits().figure.items()}
    assert figures == {
        "eu_one_evaporator": 40.0,
        "eu_two_evaporators": 60.0,
        "us_high_leak": 11.0,
        "us_best_belt": 8.3,
        "us_best_electric": 4.1,
        "new_car": 15.1,
        "fleet": 52.4,
    }


def rate(g_per_year, error):
    return LeakRate(g_per_year, error, 0.0, 365.0, "weighed", ())


def test_the_american_threshold_has_no_step_at_733_grams():
    """11.0 g/yr up to 733 g, 1.5 % of the charge above: 0.015 x 733 = 10.995."""

    def threshold(charge):
        return next(one.g_per_year for one in compare(rate(0.0, 1.0), charge_g=charge) if one.sort == "threshold")

    assert threshold(732.9) == 11.0 and threshold(733.1) == pytest.approx(11.0, abs=0.01)
    assert threshold(1000.0) == pytest.approx(15.0)


def test_every_figure_is_compared_and_says_where_it_is_from():
    found = {one.g_per_year: one for one in compare(rate(50.0, 4.0), charge_g=500.0)}
    assert {value: one.word for value, one in found.items()} == {
        40.0: "above",
        60.0: "below",
        11.0: "above",
        8.3: "above",
        4.1: "above",
        15.1: "above",
        52.4: "cannot be told",
    }
    assert all(one.source.startswith("read: ") for one in found.values())
    with pytest.raises(OutOfRange, match="read the label again"):
        compare(rate(1.0, 1.0), charge_g=0.0)


def test_the_new_car_average_fits_its_own_share():
    """15.1 g/yr are printed as 2.4 % a year: a charge of 629 g, within the usual 400-1,000."""
    assert 600.0 < read_leak_limits().figure["new_car"].rate_g_per_year.value / 0.024 < 660.0


# anything at all


NUMBERS = st.one_of(st.floats(), st.integers(-1000, 30000), st.none(), st.text(max_size=3))
ENTRIES = st.builds(
    ServiceEntry,
    st.dates(datetime.date(2020, 1, 1), datetime.date(2027, 1, 1)),
    st.sampled_from(["recovered", "charged", "topped_off", "spilt"]),
    NUMBERS,
    st.floats(-1.0, 100.0),
)


@settings(max_examples=150, deadline=None)
@given(st.lists(ENTRIES, max_size=6))
def test_every_record_has_an_answer_or_a_sentence(record):
    try:
        found = leak(record)
    except WorkbookError as sentence:
        assert str(sentence).endswith(".")
    else:
        assert math.isfinite(found.g_per_year) and found.error_g_per_year >= 0.0 and found.days > 0.0


SOUND = st.lists(st.tuples(st.integers(1, 60), st.floats(0.0, 100.0)), max_size=3)


@settings(max_examples=60, deadline=None)
@given(SOUND, st.floats(100.0, 600.0), st.floats(0.0, 600.0))
def test_sound_records_give_a_verdict(top_offs, charged, recovered):
    record, when = [entry(0, "charged", charged)], 0
    for days, grams in top_offs:
        when += days
        record.append(entry(when, "topped_off", grams))
    record.append(entry(when + 30, "recovered", recovered))
    if record_problems(record, label_charge_g=500.0, today=TODAY):
        return
    verdict = judge(leak(record))
    assert verdict.word in ("normal", "abnormal", "undecidable") and verdict.sentence.endswith(".")
