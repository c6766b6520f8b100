"""The leak hunt: the same seed is the same hunt, looks cost what they cost, and the dice fall as the hunter reckons."""

import math

import numpy as np
import pytest

from course.errors import OutOfRange, UnknownChoice, WorkbookError
from course.service.belief import place_chances, signal_chances
from course.service.hunt import (
    HUNT_METHODS,
    LASTING,
    Leak,
    Look,
    Step,
    begin_hunt,
    false_share,
    finds,
    hunt_terms,
    open_rate,
    setup_minutes,
    step_minutes,
    take_look,
    the_look,
    wash,
)
from course.tables import read_leak_places

PLACES = list(read_leak_places())
CALM = {"temperature_c": 25.0, "residue_g_per_year": 0.0}


def random_step(dice):
    method = str(dice.choice(list(HUNT_METHODS)))
    return Step(
        str(dice.choice(PLACES)),
        method,
        str(dice.choice(HUNT_METHODS[method])),
        float(dice.choice([0.0, 0.5, 1.0])),
        float(dice.choice([0.0, 13.0])),
        float(dice.choice([0.0, 5.0])) if method == "uv_dye" else 0.0,
        str(dice.choice(["shut", "open", "aired"])),
    )


def test_the_same_seed_is_the_same_hunt_and_others_differ():
    steps = [Step(place, "electronic") for place in PLACES]
    hunts = {}
    for seed in (1, 1, 2):
        hunt = begin_hunt(seed)
        for step in steps:
            hunt = take_look(hunt, step)
        hunts.setdefault(seed, []).append((hunt.car, hunt.log, hunt.minutes))
    assert hunts[1][0] == hunts[1][1]
    assert hunts[1][0] != hunts[2][0]


def test_a_known_hunt_stays_what_it_is_on_every_machine():
    """PCG64 is the same everywhere; a change of these lines would change every lesson that names a number."""
    assert begin_hunt(3).car.leaks == (Leak("discharge_crimp_condenser", "running", 1600.0),)
    assert begin_hunt(4).car.leaks == (Leak("shaft_seal", "steady", 160.0),)


def test_leaks_are_drawn_as_often_as_the_hunter_expects():
    hunts = [begin_hunt(seed, leaks="one_or_two") for seed in range(1500)]
    expected = place_chances(hunts[0].belief)
    for place in ("shaft_seal", "evaporator_core", "elsewhere", "suction_hose"):
        often = sum(place in {leak.place for leak in hunt.car.leaks} for hunt in hunts)
        spread = math.sqrt(1500 * expected[place] * (1.0 - expected[place]))
        assert abs(often - 1500 * expected[place]) < 3.5 * spread, place
    two = sum(len(hunt.car.leaks) == 2 for hunt in hunts)
    assert abs(two - 300) < 3.5 * math.sqrt(1500 * 0.2 * 0.8)
    assert all(len({leak.place for leak in hunt.car.leaks}) == len(hunt.car.leaks) for hunt in hunts)


def test_the_dice_fall_as_often_as_the_hunter_reckons():
    """Every look is foretold from what is believed; over many hunts signals come as often as foretold."""
    dice, off, spread = np.random.default_rng(5), 0.0, 0.0
    for seed in range(200):
        hunt = begin_hunt(seed)
        for _ in range(6):
            step = random_step(dice)
            if dice.random() < 0.15:
                hunt = wash(hunt, step.place)
            look = the_look(hunt, step)
            lasting = step.method if step.method in LASTING else None
            error = false_share(hunt, look, step.place)
            signals = signal_chances(hunt.belief, step.place, finds(hunt, look, step.place), error, lasting)
            leaks = place_chances(hunt.belief)[step.place]
            rows = hunt.belief.possible.place == PLACES.index(step.place)
            weight = hunt.belief.possible.weight[rows] * hunt.belief.explains[rows]
            foretold = leaks * float(weight @ signals[:-1]) / weight.sum() + (1.0 - leaks) * signals[-1]
            hunt = take_look(hunt, step)
            off += hunt.log[-1].signal - foretold
            spread += foretold * (1.0 - foretold)
    assert abs(off) < 3.0 * math.sqrt(spread)
    assert math.sqrt(spread) > 5.0, "enough doubt in it for the check to mean something"


@pytest.mark.parametrize(
    ("kind", "open_in"),
    [
        ("steady", {"at_rest", "just_stopped", "running", "nitrogen"}),
        ("hot", {"just_stopped", "running"}),
        ("running", {"running"}),
    ],
)
def test_a_leak_is_open_in_its_states_and_dye_gathers_all_of_it(kind, open_in):
    for state in ("at_rest", "just_stopped", "running"):
        assert (open_rate(kind, 100.0, Look("electronic", state)) > 0.0) == (state in open_in)
    assert (open_rate(kind, 100.0, Look("tracer_gas", "nitrogen")) > 0.0) == ("nitrogen" in open_in)
    assert open_rate(kind, 100.0, Look("uv_dye")) == 100.0


def test_a_running_leak_is_never_found_at_rest_and_is_while_running():
    found = {"at_rest": 0, "running": 0}
    for seed in range(60):
        hunt = begin_hunt(seed, hidden=[Leak("discharge_crimp_condenser", "running", 1600.0)], **CALM)
        for state in found:
            found[state] += take_look(hunt, Step("discharge_crimp_condenser", "electronic", state)).log[-1].signal
    assert found["at_rest"] <= 6, "false alarms alone"
    assert found["running"] >= 40


def test_nothing_found_in_the_case_is_worth_something_only_after_the_wait():
    hunt = begin_hunt(1, hidden=[Leak("low_side_port", "steady", 500.0)], **CALM)
    # probed at once with an evaporator that leaks less than the blower sweeps away
    before = place_chances(hunt.belief)["evaporator_core"]
    at_once, waited = (
        take_look(hunt, Step("evaporator_core", "electronic", wait_minutes=wait)) for wait in (0.0, 13.0)
    )
    assert not at_once.log[-1].signal and not waited.log[-1].signal
    assert place_chances(waited.belief)["evaporator_core"] < 0.5 * before
    assert place_chances(at_once.belief)["evaporator_core"] > place_chances(waited.belief)["evaporator_core"]


def test_setting_up_is_paid_once_and_for_every_change():
    work, hunt = hunt_terms("work"), begin_hunt(1)
    assert setup_minutes(hunt, Step("shaft_seal", "electronic")) == 0.0
    running = Step("shaft_seal", "electronic", "running")
    assert setup_minutes(hunt, running) == work["start_minutes"]
    hunt = take_look(hunt, running)
    assert setup_minutes(hunt, running) == 0.0
    assert setup_minutes(hunt, Step("shaft_seal", "electronic")) == work["settle_minutes"]
    assert setup_minutes(hunt, Step("shaft_seal", "electronic", "just_stopped")) == 0.0
    gas = Step("shaft_seal", "tracer_gas", "nitrogen")
    assert setup_minutes(hunt, gas) == work["nitrogen_minutes"]
    hunt = take_look(hunt, gas)
    assert setup_minutes(hunt, gas) == 0.0
    assert setup_minutes(hunt, Step("shaft_seal", "electronic")) == work["refill_minutes"]
    assert setup_minutes(hunt, running) == work["refill_minutes"] + work["start_minutes"]


def test_dye_is_paid_once_and_counts_from_its_day_and_from_a_wash():
    work, hunt = hunt_terms("work"), begin_hunt(1, **CALM)
    lamp = Step("shaft_seal", "uv_dye", ride_days=5.0)
    assert the_look(hunt, Step("shaft_seal", "uv_dye")).dye_days == 0.0
    after = take_look(hunt, lamp)
    assert after.log[-1].minutes > work["dye_minutes"]
    assert after.days == 5.0
    assert after.money == pytest.approx(after.minutes / 60.0 * work["labour_money_per_hour"] + work["dye_money"])
    assert the_look(after, lamp).dye_days == 10.0
    assert setup_minutes(after, lamp) == 0.0
    washed = wash(after, "shaft_seal")
    assert the_look(washed, lamp).dye_days == 5.0
    assert the_look(washed, Step("low_side_port", "uv_dye", ride_days=5.0)).dye_days == 10.0


def test_an_old_stain_glows_again_and_is_gone_after_a_wash():
    """Over many tight cars: one that glowed once glows again; washed, hardly any does."""
    lamp, again, washed, glowed = Step("low_side_port", "uv_dye"), 0, 0, 0
    for seed in range(400):
        hunt = take_look(begin_hunt(seed, hidden=[Leak("shaft_seal", "steady", 50.0)], **CALM), lamp)
        if hunt.log[-1].signal:
            glowed += 1
            again += take_look(hunt, lamp).log[-1].signal
            washed += take_look(wash(hunt, "low_side_port"), lamp).log[-1].signal
    assert 0.3 * 400 < glowed < 0.6 * 400, "dye is spilled at the port it goes in by, four times in ten"
    assert again >= 0.9 * glowed
    assert washed <= 0.15 * glowed


def test_dye_is_spilled_at_its_port_and_nowhere_else():
    hunt = begin_hunt(1)
    shares = {
        place: false_share(hunt, the_look(hunt, Step(place, "uv_dye")), place)
        for place in ("low_side_port", "high_side_port", "condenser_front")
    }
    assert shares["high_side_port"] == shares["condenser_front"] < 0.1 < 0.4 < shares["low_side_port"]


def test_gas_in_the_air_thins_out_and_the_doors_make_a_draught():
    hunt = begin_hunt(1, residue_g_per_year=60.0)
    at_once, waited, aired, draught = (
        the_look(hunt, Step("shaft_seal", "electronic", wait_minutes=wait, doors=doors))
        for wait, doors in ((0.0, "shut"), (10.0, "shut"), (10.0, "aired"), (10.0, "open"))
    )
    assert at_once.background_g_per_year == 60.0
    assert waited.background_g_per_year == round(60.0 * math.exp(-10.0 / 40.0))
    assert aired.background_g_per_year == draught.background_g_per_year == round(60.0 * math.exp(-10.0 / 4.0))
    assert aired.wind_m_s < draught.wind_m_s
    assert false_share(hunt, at_once, "shaft_seal") > 3.0 * false_share(hunt, aired, "shaft_seal")


def test_gas_in_the_air_has_thinned_out_after_a_look_and_is_gone_after_a_ride():
    hunt = begin_hunt(1, residue_g_per_year=60.0)
    after = take_look(hunt, Step("shaft_seal", "electronic", wait_minutes=30.0))
    assert after.residue_g_per_year == round(60.0 * math.exp(-after.minutes / 40.0)) < 30.0
    assert take_look(hunt, Step("shaft_seal", "uv_dye", ride_days=1.0)).residue_g_per_year == 0.0


def test_gas_is_paid_for_each_filling():
    gas, work = Step("shaft_seal", "tracer_gas", "nitrogen"), hunt_terms("work")
    once = take_look(begin_hunt(1), gas)
    for hunt, fillings in (
        (once, 1),
        (take_look(once, gas), 1),
        (take_look(take_look(once, Step("shaft_seal", "bubbles")), gas), 2),
    ):
        labour = hunt.minutes / 60.0 * work["labour_money_per_hour"]
        assert hunt.money == pytest.approx(labour + fillings * work["gas_money"])


def test_a_wait_is_paid_once_wherever_it_is_spent():
    hunt = begin_hunt(1)
    for place in ("shaft_seal", "evaporator_core"):
        quick, waited = (step_minutes(hunt, Step(place, "electronic", wait_minutes=wait)) for wait in (0.0, 13.0))
        assert waited - quick == pytest.approx(13.0)


def test_steps_leave_the_earlier_hunt_as_it_was():
    hunt = begin_hunt(1)
    take_look(wash(hunt, "shaft_seal"), Step("shaft_seal", "uv_dye", ride_days=2.0))
    assert (hunt.minutes, hunt.log, hunt.washed, hunt.stain_share, hunt.dyed_day) == (0.0, (), {}, {}, None)


@pytest.mark.parametrize(
    ("step", "error", "words"),
    [
        (Step("radiator", "electronic"), UnknownChoice, "place: 'radiator' is not known here; choose one of low_side"),
        (Step("shaft_seal", "listening"), UnknownChoice, "method: 'listening' is not known here; choose one of electr"),
        (
            Step("shaft_seal", "uv_dye", "running"),
            WorkbookError,
            "uv dye cannot be used with the car running; choose at",
        ),
        (Step("shaft_seal", "electronic", ride_days=5.0), WorkbookError, "a ride helps the dye alone; choose no ride"),
        (
            Step("shaft_seal", "electronic", wait_minutes=90.0),
            OutOfRange,
            "wait: 90 min was given; allowed are 0 to 60",
        ),
        (
            Step("shaft_seal", "electronic", doors="ajar"),
            UnknownChoice,
            "doors: 'ajar' is not known here; choose one of",
        ),
        (Step("shaft_seal", "electronic", care=2.0), OutOfRange, "care: 2 of doing it by the book was given; allowed"),
    ],
)
def test_what_cannot_be_done_is_said(step, error, words):
    with pytest.raises(error, match=words):
        take_look(begin_hunt(1), step)


def test_a_hunt_needs_a_number_and_a_known_kind():
    with pytest.raises(OutOfRange, match="number of the hunt: -1"):
        begin_hunt(-1)
    with pytest.raises(UnknownChoice, match="leaks: 'three' is not known here; choose one of one, one_or_two"):
        begin_hunt(1, leaks="three")
