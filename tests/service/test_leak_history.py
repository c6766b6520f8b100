"""A record worked out before anything is connected: sums done again by hand, slips found, and the saw of a leaking car."""

import datetime
from dataclasses import replace

import pytest

from course.errors import OutOfRange, UnknownChoice, WorkbookError
from course.service.critical_charge import critical_charge
from course.service.leak_history import amount_g, charge_course, load_history, work_out
from course.service.leak_rate import ServiceEntry, record_problems
from course.tables import read_leak_histories

DAY = datetime.date


def worked_out(name, **settings):
    history = load_history(name)
    return work_out(history.entries, car=history.car, today=history.looked_at, **settings)


def test_the_top_offs_come_to_what_the_slips_say():
    found = worked_out("topped_off_again")
    # by hand: 255 + 240 + 260 + 250 g between 2 March and 7 July, 29 + 30 + 31 + 30 + 7 days
    assert found.leak.lost_g == 1005.0
    assert found.leak.days == 127.0
    assert found.leak.g_per_year == pytest.approx(1005.0 / 127.0 * 365.25)
    assert found.verdict.word == "abnormal"


def test_a_filling_lasts_as_long_as_its_reserve():
    found, critical = worked_out("topped_off_again"), critical_charge("sedan")
    assert found.reserve_g == pytest.approx(480.0 - critical.charge_g)
    least, middle, most = found.days_a_filling_lasts
    daily = 1005.0 / 127.0
    error = 2.0 * found.leak.error_g_per_year / 365.25
    assert middle == pytest.approx(found.reserve_g / daily)
    assert least == pytest.approx(found.reserve_g / (daily + error))
    assert most == pytest.approx(found.reserve_g / (daily - error))
    # the invented owner came back every 30 to 33 days
    assert least < 30.0 < 33.0 < most


def test_a_loss_that_may_be_nothing_has_no_last_day():
    assert worked_out("three_sound_years").days_a_filling_lasts[2] is None


def test_carbon_dioxide_counts_with_the_refrigerant_of_the_car():
    # 1,430 and 4 kg for a kilogram: IPCC AR4 (2007)
    sedan, compact = worked_out("topped_off_again"), worked_out("three_sound_years")
    assert sedan.co2_charge_kg == pytest.approx(0.480 * 1430.0)
    assert sedan.co2_kg_per_year == pytest.approx(sedan.leak.g_per_year / 1000.0 * 1430.0)
    assert compact.co2_charge_kg == pytest.approx(0.450 * 4.0)


def test_the_histories_show_all_three_verdicts_and_one_that_has_to_be_mended():
    words = {}
    for name in read_leak_histories():
        try:
            words[name] = worked_out(name).verdict.word
        except OutOfRange as problem:
            words[name] = str(problem).count("Entry ")
    # other lessons have histories of their own; these are the ones of lesson 10
    assert (
        words.items()
        >= {
            "topped_off_again": "abnormal",
            "three_sound_years": "normal",
            "one_year_only": "undecidable",
            "slips_in_the_glove_box": 3,
        }.items()
    )


def test_the_mended_slips_come_to_what_can_be_added_up_by_hand():
    history = load_history("slips_in_the_glove_box")
    first, second, third, fourth = history.entries
    mended = (first, replace(second, grams=150.0), replace(third, date=DAY(2026, 1, 20)), replace(fourth, grams=560.0))
    found = work_out(mended, car=history.car, today=history.looked_at)
    # 700 + 150 + 170 in; 560 out and, of up to 5 % left behind, the middle: over 483 days
    assert found.leak.lost_g == pytest.approx(1020.0 - 560.0 / 0.975)
    assert found.leak.days == 483.0
    assert found.verdict.word == "abnormal"


def test_a_second_evaporator_raises_the_ceiling():
    # Directive 2006/40/EC: 40 and 60 g a year
    assert worked_out("one_year_only").verdict.ceiling_g_per_year == 40.0
    assert worked_out("one_year_only", evaporators=2).verdict.ceiling_g_per_year == 60.0


@pytest.mark.parametrize(
    ("written", "grams"),
    [
        ("340", 340.0),
        (" 340 g ", 340.0),
        ("0.5g", 0.5),
        ("12 oz", 12.0 * 28.349523125),
        ("12 OZ", 340.19),
        ("-5 g", -5.0),
    ],
)
def test_an_amount_is_read_in_grams_or_ounces(written, grams):
    assert amount_g(written) == pytest.approx(grams, abs=0.01)


@pytest.mark.parametrize("written", ["1,5", "12 fl oz", "a can", "", "5 kg 3", "1e3"])
def test_what_cannot_be_read_stays_and_is_complained_of(written):
    assert amount_g(written) == written
    entry = ServiceEntry(DAY(2026, 3, 1), "topped_off", amount_g(written))
    problems = record_problems([entry], label_charge_g=480.0, today=DAY(2026, 4, 1))
    said = f"Entry 1 (2026-03-01, topped_off): {written!r} is not a number of grams; weigh it or convert it (1 oz is 28.35 g)."
    assert problems == (said,)


def test_the_saw_falls_at_the_leak_and_rises_by_what_was_filled():
    history = load_history("topped_off_again")
    course = charge_course(history.entries, 2890.0, label_charge_g=480.0, until=history.looked_at)
    falls = [(a, b) for a, b in zip(course, course[1:], strict=False) if b[0] > a[0]]
    rises = [(a, b) for a, b in zip(course, course[1:], strict=False) if b[0] == a[0]]
    assert [after[1] - before[1] for before, after in rises] == pytest.approx([255.0, 240.0, 260.0, 250.0])
    for before, after in falls:
        assert (before[1] - after[1]) / (after[0] - before[0]) == pytest.approx(2890.0 / 365.25)
    assert course[-1][0] == (history.looked_at - history.entries[0].date).days


def test_the_saw_never_falls_below_nothing_and_a_recovery_empties():
    entries = [ServiceEntry(DAY(2026, 1, 1), "charged", 480.0), ServiceEntry(DAY(2026, 12, 1), "recovered", 5.0)]
    course = charge_course(entries, 5000.0, label_charge_g=480.0, until=DAY(2026, 12, 5))
    assert [grams for _, grams in course] == [480.0, 0.0, 0.0, 0.0]
    topped = [ServiceEntry(DAY(2026, 1, 1), "topped_off", 100.0)]
    # nothing was filled from empty: the label stands in for what nobody knows
    assert charge_course(topped, 100.0, label_charge_g=480.0, until=DAY(2026, 1, 1)) == ((0, 480.0),)


def test_wrong_names_and_records_without_an_answer_are_sentences():
    with pytest.raises(UnknownChoice, match="history: 'mine' is not known here"):
        load_history("mine")
    alone = [ServiceEntry(DAY(2026, 1, 1), "charged", 480.0)]
    with pytest.raises(WorkbookError, match="it takes a charge and a later recovery, or two fillings"):
        work_out(alone, car="sedan", today=DAY(2026, 2, 1))
