"""Dots of many readings: each stands where it was read, and apart means that no two dots of the two cars mix."""

from dataclasses import replace

import pytest

from course.charts.read_often import READINGS, describe_read_often, draw_read_often, kept_apart, shown_values, unit_of
from course.charts.style import new_figure
from course.errors import WorkbookError
from course.physics.bench import run_bench
from course.physics.readings import take_readings
from course.units import display_units

KPA, PSI = display_units("kpa_c"), display_units("psi_f")
SOUND = [take_readings(run_bench("sedan"), seed=person) for person in range(5)]
SHORT = [take_readings(run_bench("sedan", charge_fraction=0.4), seed=20 + person) for person in range(5)]


def test_every_dot_stands_where_it_was_read():
    rows = draw_read_often(new_figure(340, 420), SOUND, SHORT, PSI)
    for axes, name in zip(rows, READINGS, strict=True):
        sound, short = axes.lines
        assert list(sound.get_xdata()) == shown_values(SOUND, name, PSI)
        assert list(short.get_xdata()) == shown_values(SHORT, name, PSI)
        low, high = axes.get_xlim()
        assert low < min(*sound.get_xdata(), *short.get_xdata())
        assert high > max(*sound.get_xdata(), *short.get_xdata())
    assert rows[0].get_title(loc="left") == "low side, psi gauge"
    assert (sound.get_fillstyle(), short.get_fillstyle()) == ("none", "full")


def test_readings_come_in_the_learners_units():
    assert shown_values(SOUND, "low_side_kpa_gauge", PSI)[0] == pytest.approx(SOUND[0].low_side_kpa_gauge / 6.894757)
    assert shown_values(SOUND, "superheat_k", PSI)[0] == pytest.approx(1.8 * SOUND[0].superheat_k)
    assert shown_values(SOUND, "vent_c", PSI)[0] == pytest.approx(1.8 * SOUND[0].vent_c + 32.0)
    assert [unit_of(name, PSI) for name in ("high_side_kpa_gauge", "subcooling_k", "vent_c")] == [
        "psi gauge",
        "°F",
        "°F",
    ]


def test_apart_is_apart_on_either_side_and_one_dot_mixes_them():
    assert kept_apart(SOUND, SHORT, "superheat_k")
    assert kept_apart(SHORT, SOUND, "superheat_k")
    astray = replace(SHORT[0], superheat_k=SOUND[0].superheat_k)
    assert not kept_apart(SOUND, [*SHORT, astray], "superheat_k")


def test_a_reading_off_the_chart_is_left_out_and_keeps_nothing_apart():
    blind = [replace(one, superheat_k=None) for one in SHORT]
    assert shown_values(blind, "superheat_k", KPA) == []
    assert not kept_apart(SOUND, blind, "superheat_k")
    assert "and off the chart K, mixed" in describe_read_often(SOUND, blind, KPA)
    draw_read_often(new_figure(340, 420), blind, blind, KPA)


def test_words_say_from_where_to_where():
    words = describe_read_often(SOUND, SHORT, KPA)
    low = sorted(one.low_side_kpa_gauge for one in SOUND)
    assert words.startswith(f"Sound car and this car, read by 5: low side {low[0]:.0f} to {low[-1]:.0f} and ")
    assert words.split(";")[2].endswith("K, apart")


def test_nobody_reading_is_a_sentence():
    with pytest.raises(WorkbookError, match="a car was not read at all; take at least one reading of each"):
        kept_apart(SOUND, [], "vent_c")
