"""Marks of a finished hunt: for the place, for good looks, for having made sure; and each with its reason."""

from dataclasses import replace

import pytest

from course.errors import UnknownChoice, WorkbookError
from course.service.belief import after_look, place_chances
from course.service.hunt import Leak, Step, begin_hunt, false_share, finds, take_look, the_look
from course.service.hunt_plan import follow_best_plan
from course.service.hunt_verdict import judge, place_name, what_is_left
from course.tables import read_leak_places

CALM = {"temperature_c": 25.0, "residue_g_per_year": 0.0}


def test_the_best_plan_gets_nearly_all_marks_and_a_guess_little_more_than_the_place():
    start = begin_hunt(4, **CALM)
    done, named = follow_best_plan(start)
    assert judge(start, done, named).marks == pytest.approx(100.0, abs=0.5)
    guess = judge(start, start, ["shaft_seal"])
    assert guess.right
    assert 60.0 < guess.marks < 65.0
    assert "You named a place without a look: that is a guess." in guess.reasons
    wrong = judge(start, start, ["low_side_port"])
    assert not wrong.right
    assert wrong.marks < 5.0
    assert wrong.reasons[0].startswith("You named Low-side service port. It was: Compressor shaft seal, 160 g a year")


@pytest.mark.parametrize(
    ("named", "share"),
    [(("shaft_seal", "condenser_front"), 1.0), (("shaft_seal",), 0.5), (("shaft_seal", "rear_lines"), 0.5)],
)
def test_of_two_leaks_each_counts_half(named, share):
    pair = [Leak("shaft_seal", "steady", 500.0), Leak("condenser_front", "steady", 500.0)]
    start = begin_hunt(4, leaks="one_or_two", hidden=pair, **CALM)
    verdict = judge(start, start, named)
    assert verdict.right == (share == 1.0)
    assert 60.0 * share <= verdict.marks < 60.0 * share + 5.0


def test_naming_every_place_is_not_a_way_to_marks():
    start = begin_hunt(4, **CALM)
    assert judge(start, start, list(read_leak_places())).marks < 5.0


def test_a_look_at_a_shut_leak_is_explained():
    start = begin_hunt(4, hidden=[Leak("relief_valve", "hot", 500.0)], **CALM)
    hunt = take_look(start, Step("relief_valve", "electronic"))
    assert not hunt.log[-1].signal
    said = " ".join(judge(start, hunt, ["relief_valve"]).reasons)
    assert "You looked at the leak with electronic while it was shut: it does not leak at rest." in said


def test_a_look_that_could_hardly_see_says_how_often_it_would():
    start = begin_hunt(4, hidden=[Leak("evaporator_core", "steady", 50.0)], **CALM)
    hunt = take_look(start, Step("evaporator_core", "bubbles"))
    said = " ".join(judge(start, hunt, ["evaporator_core"]).reasons)
    assert "You looked at the leak with bubbles, at rest, and saw nothing: 0 of 100 such looks show it." in said


def test_the_poorest_look_is_named_with_the_better_one():
    start = begin_hunt(4, **CALM)
    hunt = take_look(start, Step("evaporator_core", "bubbles"))
    said = " ".join(judge(start, hunt, ["shaft_seal"]).reasons)
    assert "Look 1, bubbles at Evaporator core, was worth 0 % of the best then: electronic, at rest, at" in said
    assert "until it passes 90 %" in said


@pytest.mark.parametrize(
    ("residue", "place", "method", "care", "why"),
    [
        (60.0, "high_side_port", "electronic", 1.0, "gas in the air of the bay"),
        (0.0, "compressor_ports", "electronic", 1.0, "washer fluid, solvent, or gas that drifted by"),
        (0.0, "low_side_port", "uv_dye", 1.0, "dye spilled when it went in"),
        (0.0, "condenser_front", "uv_dye", 1.0, "an old stain, or a fluid that glows by itself"),
        (0.0, "low_side_port", "bubbles", 0.0, "froth from the spraying"),
    ],
)
def test_a_signal_at_a_tight_place_is_explained(residue, place, method, care, why):
    for seed in range(200):
        start = begin_hunt(seed, hidden=[Leak("shaft_seal", "steady", 160.0)], residue_g_per_year=residue)
        hunt = take_look(start, Step(place, method, care=care))
        if hunt.log[-1].signal:
            break
    said = judge(start, hunt, ["shaft_seal"]).reasons
    assert f"{place_name(place)} is tight: the signal there was {why}." in said


def test_the_best_plan_is_named_with_its_time():
    start = begin_hunt(4, **CALM)
    verdict = judge(start, start, ["shaft_seal"])
    done, named = follow_best_plan(start)
    assert (verdict.plan_minutes, verdict.plan_named) == (done.minutes, named)
    assert f"took {done.minutes:.0f} min and 0 days and named Compressor shaft seal" in verdict.reasons[-1]


def test_where_the_chance_is_is_said_from_outside_to_inside_to_unlisted():
    hunt = begin_hunt(1, hidden=[Leak("evaporator_core", "steady", 160.0)], **CALM)
    assert what_is_left(hunt).startswith("No place stands out yet; most of the chance is at Compressor shaft seal")
    outside = [place for place, entry in read_leak_places().items() if entry.access != "inside_case"]
    for state in ("at_rest", "running", "just_stopped"):
        for _ in range(4):
            for place in outside:
                hunt = silent(hunt, place, state)
    assert what_is_left(hunt).startswith("Outside is all but clean:")
    assert what_is_left(hunt).endswith("is left in the case, so look inside.")
    for _ in range(8):
        for place in ("evaporator_core", "evaporator_pipes"):
            hunt = silent(hunt, place, "at_rest", 13.0)
    assert "is left where nobody listed it" in what_is_left(hunt) or "not on the list" in what_is_left(hunt)


def test_it_says_look_inside_from_the_look_on_that_leaves_most_there():
    hunt, said = begin_hunt(1, hidden=[Leak("evaporator_core", "steady", 160.0)], **CALM), []
    outside = [place for place, entry in read_leak_places().items() if entry.access != "inside_case"]
    for state in ("running", "running", "just_stopped", "at_rest", "running"):
        for place in outside:
            hunt = silent(hunt, place, state)
            chances = place_chances(hunt.belief)
            inside = chances["evaporator_core"] + chances["evaporator_pipes"]
            most = inside > max(chances["elsewhere"], 1.0 - inside - chances["elsewhere"])
            assert what_is_left(hunt).startswith("Outside is all but clean") == most
            said.append(most)
    assert True in said and False in said


def silent(hunt, place, state, wait=0.0):
    """A look that showed nothing, whatever the dice say."""
    look = the_look(hunt, Step(place, "electronic", state, wait_minutes=wait))
    known = after_look(hunt.belief, place, False, finds(hunt, look, place), false_share(hunt, look, place))
    return replace(hunt, belief=known)


def test_a_place_must_be_named_and_known():
    start = begin_hunt(4)
    with pytest.raises(WorkbookError, match="no place was named; choose the place you think leaks"):
        judge(start, start, [])
    with pytest.raises(UnknownChoice, match="place: 'radiator' is not known here"):
        judge(start, start, ["radiator"])
