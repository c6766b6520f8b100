"""Numbered rise tests: the same number is the same case, the kinds are what they say, a gauge shows what it can."""

import numpy as np
import pytest

from course.errors import OutOfRange, UnknownChoice
from course.service.pressure_test import smallest_leak_g_per_year
from course.service.rise_case import (
    GAUGES,
    KINDS,
    deep_vacuum_pa,
    gauge_error_pa,
    leak_g_per_year,
    read_rise,
    rise_case,
    wet_place_w_k,
)
from course.service.vacuum_rise import judge_rise
from course.service.water import boiling_pressure_pa
from course.units import PA_PER_MICRON


def judged(case, gauge, minutes):
    seen = read_rise(case, gauge, minutes)
    return judge_rise(seen.minutes, seen.pressure_pa, seen.gauge_error_pa, 20.0)


def test_the_same_number_is_the_same_case_and_all_kinds_come_up():
    assert rise_case(7) == rise_case(7)
    assert {rise_case(number).kind for number in range(12)} == set(KINDS)
    assert read_rise(rise_case(7), "dial", 10.0) == read_rise(rise_case(7), "dial", 10.0)


@pytest.mark.parametrize("number", range(5))
def test_a_kind_is_what_it_says(number):
    wet, leaking, seeping = (rise_case(number, kind).circuit for kind in ("wet", "leaking", "seeping"))
    assert wet.water_g >= 2.5 and wet.leak_pa_m3_s == 0.0
    assert leaking.leak_pa_m3_s > 10.0 * seeping.leak_pa_m3_s > 0.0
    assert leaking.water_g == seeping.water_g == 0.0
    assert rise_case(number, "wet").pumped.water_g[-1] > 0.0, "water must be left, or the case is dry"


def test_a_long_hold_with_a_micron_gauge_tells_the_kinds_apart_but_not_a_seep():
    assert judged(rise_case(1, "tight and dry"), "micron_gauge", 60.0).verdict == "tight and dry"
    assert judged(rise_case(1, "wet"), "micron_gauge", 60.0).verdict == "wet"
    assert judged(rise_case(2, "leaking"), "micron_gauge", 60.0).verdict == "leaking"
    assert judged(rise_case(1, "seeping"), "micron_gauge", 60.0).verdict == "tight and dry"


@pytest.mark.parametrize("kind", KINDS)
def test_a_dial_for_ten_minutes_tells_nothing(kind):
    assert judged(rise_case(1, kind), "dial", 10.0).verdict == "too little information"


def test_water_rises_to_its_boiling_pressure_and_no_further():
    truth = read_rise(rise_case(1, "wet"), "micron_gauge", 240.0).truth
    assert truth.pressure_pa[-1] == pytest.approx(boiling_pressure_pa(20.0), rel=0.01)


def test_a_leak_lets_in_what_its_throughput_says():
    """dp/dt = Q / V once the gas from the oil has levelled; 3 L."""
    case = rise_case(2, "leaking")
    truth = read_rise(case, "micron_gauge", 240.0).truth
    late = slice(-20, None)
    slope = np.polyfit(np.array(truth.minutes[late]) * 60.0, truth.pressure_pa[late], 1)[0]
    assert slope == pytest.approx(case.circuit.leak_pa_m3_s / 0.003, rel=0.01)


def test_the_bounds_in_grams_a_year_are_as_the_data_file_says():
    """Throughput V dp/t of the smallest leak: some 50 g a year."""
    throughput, volume, minutes = 4.0e-5, 0.003, 60.0
    kpa = throughput * minutes * 60.0 / volume / 1e3
    assert smallest_leak_g_per_year(kpa, minutes, volume) == pytest.approx(50.0, rel=0.1)


def test_a_gauge_scatters_as_wide_as_its_error():
    case = rise_case(1, "leaking")
    off = []
    for minutes in range(20, 60):
        seen = read_rise(case, "micron_gauge", float(minutes))
        off += list(np.array(seen.pressure_pa) - np.interp(seen.minutes, seen.truth.minutes, seen.truth.pressure_pa))
    assert np.std(off) == pytest.approx(gauge_error_pa("micron_gauge"), rel=0.1)
    assert all(pressure > 0.0 for pressure in read_rise(case, "dial", 10.0).pressure_pa)


def test_water_deep_inside_gets_least_heat_and_the_aim_is_deep():
    places = [wet_place_w_k(place) for place in ("deep", "usual", "warm_pipe")]
    assert places == sorted(places)
    assert deep_vacuum_pa() == pytest.approx(500 * PA_PER_MICRON)


def test_what_cannot_be_is_said():
    with pytest.raises(UnknownChoice, match="kind of circuit: 'dusty' is not known here"):
        rise_case(1, "dusty")
    with pytest.raises(UnknownChoice, match="wet place: 'boot' is not known here"):
        wet_place_w_k("boot")
    with pytest.raises(UnknownChoice, match="gauge: 'thumb' is not known here; choose one of micron_gauge, dial"):
        gauge_error_pa("thumb")
    with pytest.raises(OutOfRange, match="hold: 500 min"):
        read_rise(rise_case(1), GAUGES[0], 500.0)
    with pytest.raises(OutOfRange, match="number of the case: -1"):
        rise_case(-1)


def test_equal_throughput_by_hand():
    """M Q / (R T) for R-134a, 0.10203 kg/mol, at 20 °C."""
    by_hand = 0.10203 * 1.0e-4 / (8.314462618 * 293.15) * 1e3 * 365.25 * 86400.0
    assert leak_g_per_year(1.0e-4) == pytest.approx(by_hand, rel=1e-3)
    with pytest.raises(OutOfRange, match="leak: -1 Pa m3/s"):
        leak_g_per_year(-1.0)
