"""The numbers of the service job: each against a sum worked here, a printed value or the service code's own door."""

import pytest

from course.errors import WorkbookError
from course.lessons.quantities import Number
from course.lessons.service_numbers import SERVICE_NUMBERS
from course.physics.at_rest import rest_pressure
from course.service.belief import place_chances
from course.service.evacuation import minutes_to_reach, pump_down, usual_circuit
from course.service.hunt import begin_hunt
from course.service.rise_case import deep_vacuum_pa
from course.service.vacuum_flow import load_pump, load_tube

HOUR, MINUTE = Number(1.0 / 24.0, "minutes"), Number(1.0 / 1440.0, "minutes")
WARM, COOL = Number(25.0, "temperature"), Number(15.0, "temperature")
HUNDRED = Number(100.0, "leak_rate")


def number(of, *given, **named):
    """The number of that name."""
    return SERVICE_NUMBERS[of][0](*given, **named)


@pytest.mark.parametrize(
    ("found", "kind", "value", "room"),
    [
        # p2 = p1 T2 / T1 by hand: (1000 + 101.325) x 288.15 / 298.15 - 101.325
        (number("nitrogen_pressure", Number(1000.0, "gauge_pressure"), WARM, COOL), "gauge_pressure", 963.06, 0.01),
        # 3 L x 1 kPa in 12 h at 20 °C, R-134a of 0.10203 kg/mol: 92 g a year
        (
            number("leak_a_hold_hides", Number(1.0, "pressure_difference"), Number(0.5, "minutes")),
            "leak_rate",
            91.7,
            1.0,
        ),
        # ASHRAE Handbook Fundamentals 2017, chapter 1, table 3: 3,169.7 Pa at 25 °C
        (number("vacuum_over_water", WARM), "vacuum", 3.1697, 0.0005),
        (number("water_boils_at", Number(3.1697, "vacuum")), "temperature", 25.0, 0.01),
        # data/service/oil.toml: 20 mL caught, 30 mL of the condenser, 90 mL at most with a burst
        (number("oil_to_add", Number(200.0, "volume"), Number(20.0, "volume"), ["condenser"]), "volume", 50.0, 1e-9),
        (
            number("oil_to_add", Number(200.0, "volume"), Number(20.0, "volume"), ["condenser"], ["sudden_loss"]),
            "volume",
            140.0,
            1e-9,
        ),
        # 20 mg of oil at 4 % of 40 g a year is 4.56 days, and the dye goes round in a few minutes
        (number("dye_days", Number(40.0, "leak_rate")), "time", 20.0 / (40.0 * 0.04 * 1000.0 / 365.25), 0.05),
        # 5 % of 120 mL is the dose there, twice that a tenth
        (number("dye_in_oil", Number(120.0, "volume"), 2), "percent", 10.0, 1e-9),
        # 0.20 x 0.2 / (1 - 0.20 x 0.8)
        (number("chance_left", Number(20.0, "percent"), Number(80.0, "percent")), "percent", 4.7619, 1e-3),
        (number("leak_figure", "eu_one_evaporator"), "leak_rate", 40.0, 1e-9),
        (number("hole_by_state", HUNDRED, WARM, "at_rest", "low"), "leak_rate", 100.0, 1e-6),
        (number("times", Number(120.0, "leak_rate"), Number(40.0, "leak_rate")), "plain", 3.0, 1e-9),
    ],
)
def test_numbers_by_hand(found, kind, value, room):
    assert (found.kind, found.value) == (kind, pytest.approx(value, abs=room))


def test_a_dial_hides_a_leak_that_a_micron_gauge_shows():
    dial, fine = (
        number("leak_a_rise_hides", gauge, Number(10.0 / 1440.0, "minutes")) for gauge in ("dial", "micron_gauge")
    )
    # twice the quarter inch of mercury on 3 L in 600 s: 2 x 846.6 Pa x 3e-3 / 600 = 8.47e-3 Pa m3/s, and 1 g a year of
    # R-134a is 7.6e-7 Pa m3/s in trade arithmetic
    assert dial.value == pytest.approx(2.0 * 846.6 * 3e-3 / 600.0 / 7.57e-7, rel=0.03)
    assert dial.value / fine.value == pytest.approx(1270.0, rel=0.03)  # 6,350 micron against 5
    hour = number("leak_a_rise_hides", "micron_gauge", HOUR)
    assert hour.value == pytest.approx(fine.value / 6.0, rel=0.05)


def test_the_pump_down_is_the_evacuation_bench_s():
    curve = pump_down(
        usual_circuit(), load_pump("pump_small"), [load_tube("hose_thin"), load_tube("port_with_core")], 30.0
    )
    dry = number("pump_down_time", "pump_small", "hose_thin", Number(0.0, "mass"))
    assert dry.value * 1440.0 == pytest.approx(minutes_to_reach(curve, deep_vacuum_pa()), rel=0.02)


def test_a_recovery_leaves_what_it_does_not_show_and_more_of_it_in_the_cold():
    def of(what, celsius):
        return number("recovery", "machine_old", Number(celsius, "temperature"), what).value

    assert of("shown", 21.0) + of("left", 21.0) == pytest.approx(of("held", 21.0))
    # published (second-hand): more than 18 % at 21 °C, nearly 30 % at 10 °C
    assert 0.15 < of("left", 21.0) / of("held", 21.0) < 0.22
    assert 0.24 < of("left", 10.0) / of("held", 10.0) < 0.32


def test_a_chance_to_find_is_small_where_nobody_waits():
    hurried, waited = (
        number("chance_to_find", "electronic", "evaporator_core", HUNDRED, wait_minutes=wait) for wait in (0.0, 13.0)
    )
    assert hurried.value < 40.0 < 70.0 < waited.value
    bubbles = number("chance_to_find", "bubbles", "evaporator_core", HUNDRED)
    assert bubbles.value == 0.0


def test_the_last_drop_boils_where_the_standing_pressure_leaves_the_chart():
    edge = number("last_drop", "sedan", Number(30.0, "temperature")).value / 100.0
    above, below = (rest_pressure("sedan", temperature_c=30.0, charge_fraction=edge + step) for step in (0.01, -0.01))
    assert above == pytest.approx(669.0, abs=1.0)  # P-T table of R-134a at 30 °C
    assert below < 665.0


def test_an_earlier_search_moves_the_chance_into_the_case():
    before, after = (number("chance_at", 68, "evaporator_core", earlier_shop=shop) for shop in (False, True))
    assert before.value == pytest.approx(100.0 * place_chances(begin_hunt(68).belief)["evaporator_core"])
    assert after.value > 2.0 * before.value


@pytest.mark.parametrize(
    ("of", "given", "sentence"),
    [
        ("recovery", ("machine_old", WARM, "oil"), "what: 'oil' is not known here"),
        ("chance_at", (68, "roof"), "place: 'roof' is not known here"),
        ("leak_figure", ("moon",), "name: 'moon' is not known here"),
        ("hole_by_state", (HUNDRED, WARM, "asleep", "low"), "state: 'asleep' is not known here"),
    ],
)
def test_what_is_not_known_is_said(of, given, sentence):
    with pytest.raises(WorkbookError, match=sentence):
        number(of, *given)
