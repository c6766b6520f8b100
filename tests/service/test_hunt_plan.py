"""The best next look against going through every order there is, on maps small enough for that."""

import itertools
from dataclasses import replace

import numpy as np
import pytest

from course.service import hunt_plan
from course.service.belief import after_look, kinds_and_sizes, place_chances
from course.service.hunt import LASTING, Leak, Step, begin_hunt, false_share, finds, step_minutes, take_look, the_look
from course.service.hunt_plan import best_next_look, follow_best_plan, how_good, look_worth
from course.tables import read_leak_survey

ALIKE = ("pressure_switch", "compressor_ports", "liquid_line_joint", "suction_line_joint")  # all under the bonnet
UNLIKE = ("low_side_port", "shaft_seal", "compressor_ports", "rear_lines", "pipe_under_foam")
BUBBLES = ("bubbles", "at_rest", 0.0, 0.0, "shut")  # by the book they never show a leak that is not there


def small_hunt(places, **car):
    survey = read_leak_survey()
    survey = survey.model_copy(update={"place": {place: survey.place[place] for place in places}})
    return begin_hunt(1, survey=survey, hidden=[Leak(places[0], "steady", 160.0)], residue_g_per_year=0.0, **car)


def unlucky(hunt, step):
    """The hunt after a look that showed nothing, whatever is hidden."""
    look = the_look(hunt, step)
    known = after_look(hunt.belief, step.place, False, finds(hunt, look, step.place), 0.0)
    return replace(hunt, belief=known)


def found_by(hunt, sequence):
    """Chance that a sequence of looks has found the leak, from the leaks themselves and not from beliefs."""
    possible, missed = hunt.belief.possible, np.ones(len(hunt.belief.possible.weight))
    for place in sequence:
        rows = possible.place == possible.places.index(place)
        missed[rows] *= 1.0 - np.array(finds(hunt, the_look(hunt, Step(place, "bubbles")), place))
    return float(possible.weight @ (1.0 - missed))


def test_where_all_looks_take_alike_no_sequence_finds_sooner(monkeypatch):
    monkeypatch.setattr(hunt_plan, "ROUNDS", (BUBBLES,))
    start = now = small_hunt(ALIKE)
    assert len({step_minutes(start, Step(place, "bubbles")) for place in ALIKE}) == 1
    chosen = []
    for number in range(1, 7):
        step = best_next_look(now).step
        chosen.append(step.place)
        now = unlucky(now, step)
        best = max(found_by(start, sequence) for sequence in itertools.product(ALIKE, repeat=number))
        assert found_by(start, chosen) == pytest.approx(best, abs=1e-12)
    assert len(set(chosen)) < len(chosen), "it went back to a likely place, which any order without repeats would miss"


def test_where_looks_differ_in_time_no_order_finds_sooner_on_average(monkeypatch):
    monkeypatch.setattr(hunt_plan, "ROUNDS", (BUBBLES,))
    start = small_hunt(UNLIKE)
    minutes = {place: step_minutes(start, Step(place, "bubbles")) for place in UNLIKE}
    assert len(set(minutes.values())) >= 3

    def expected_minutes(order):
        chances = [0.0] + [found_by(start, order[:number]) for number in range(1, len(order) + 1)]
        spent = list(itertools.accumulate(minutes[place] for place in order))
        found = sum((b - a) * time for a, b, time in zip(chances, chances[1:], spent, strict=False))
        return found + (1.0 - chances[-1]) * spent[-1]

    best = min(itertools.permutations(UNLIKE), key=expected_minutes)
    chances = place_chances(start.belief)
    by_index = sorted(UNLIKE, key=lambda place: -look_worth(start, Step(place, "bubbles"), chances) / minutes[place])
    assert tuple(by_index) == best
    assert best_next_look(start).step.place == best[0]


def test_the_worth_of_a_look_is_found_times_believed_by_bayes_rule_itself():
    hunt = begin_hunt(5, residue_g_per_year=20.0)
    for step in (Step("shaft_seal", "electronic"), Step("low_side_port", "uv_dye", ride_days=5.0)):
        look, chances = the_look(hunt, step), place_chances(hunt.belief)
        error = false_share(hunt, look, step.place)
        chance = np.array(finds(hunt, look, step.place))
        lasting = step.method if step.method in LASTING else None
        after = after_look(hunt.belief, step.place, True, chance, error, lasting)
        certain_error = error if lasting is None else error * 0.98
        rings = 1.0 - (1.0 - chance) * (1.0 - certain_error)
        rings_at_leak = chances[step.place] * float(kinds_and_sizes(hunt.belief, step.place) @ rings)
        expected = rings_at_leak * place_chances(after)[step.place]
        assert look_worth(hunt, step) == pytest.approx(expected, rel=1e-9)


def test_one_round_is_the_best_of_every_round_and_every_length():
    """Chance per minute of every subset taken in every round, on a map of four places."""
    hunt = small_hunt(("low_side_port", "shaft_seal", "evaporator_core", "rear_joints"))
    places, best = hunt.belief.possible.places[:-1], 0.0
    for kind in hunt_plan.ROUNDS:
        steps = [hunt_plan._step(place, kind) for place in places]
        for number in range(1, 5):
            for some in itertools.combinations(steps, number):
                best = max(best, chance_per_minute(hunt, some))
    assert best_next_look(hunt).per_minute == pytest.approx(best, rel=1e-9)


def chance_per_minute(hunt, steps):
    """Worth of some looks of one round over their minutes, what they share paid once."""
    first = steps[0]
    shared = hunt_plan.setup_minutes(hunt, first) + first.ride_days * 60.0
    per_look = 0.0
    if first.state == "just_stopped":
        shared, per_look = shared - 5.0, 5.0
    if first.doors == "aired":
        shared += hunt_plan.AIRING_MINUTES
    alone = 0.0
    for step in steps:
        alone += step_minutes(hunt, step) - hunt_plan.setup_minutes(hunt, step) + per_look
        alone -= hunt_plan.AIRING_MINUTES if step.doors == "aired" else 0.0
    return sum(look_worth(hunt, step) for step in steps) / (shared + alone)


def test_an_alarm_that_rings_anywhere_is_worth_little():
    clean, gassy = (begin_hunt(5, residue_g_per_year=residue) for residue in (0.0, 60.0))
    step = Step("shaft_seal", "electronic")
    assert look_worth(gassy, step) < 0.3 * look_worth(clean, step)
    assert best_next_look(gassy).step.method != "electronic" or best_next_look(gassy).step.doors == "aired"


def test_after_the_outside_is_clean_it_sends_the_learner_inside_with_the_wait():
    hunt = begin_hunt(2, hidden=[Leak("evaporator_core", "steady", 160.0)], temperature_c=25.0, residue_g_per_year=0.0)
    seen_inside = []
    for _ in range(60):
        step = best_next_look(hunt).step
        if step is None:
            break
        if step.place.startswith("evaporator"):
            seen_inside.append(step)
        hunt = take_look(hunt, step)
    assert seen_inside
    assert all(step.wait_minutes >= 10.0 for step in seen_inside if step.method == "electronic")


def test_what_is_sure_is_named_and_not_looked_at_again():
    hunt = begin_hunt(4, residue_g_per_year=0.0)
    done, named = follow_best_plan(hunt)
    assert named == ("shaft_seal",)
    assert place_chances(done.belief)["shaft_seal"] >= 0.9
    assert best_next_look(done).step is None
    assert how_good(done, Step("shaft_seal", "electronic")) == 0.0


def test_the_plan_finds_most_leaks_of_many_hunts():
    right = sum(
        set(follow_best_plan(hunt)[1]) == {leak.place for leak in hunt.car.leaks}
        for hunt in (begin_hunt(seed, residue_g_per_year=0.0) for seed in range(6))
    )
    assert right >= 5


def test_a_poor_look_is_poorer_and_no_look_beats_the_best():
    hunt = begin_hunt(6, residue_g_per_year=0.0)
    best = best_next_look(hunt).step
    poor = Step("evaporator_core", "electronic")  # no wait: the gas has not gathered
    assert how_good(hunt, best) == 1.0
    assert how_good(hunt, poor) < how_good(hunt, replace(best, care=0.0)) <= 1.0
