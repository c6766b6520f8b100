"""Bayes' rule of the leak hunt against counting every case by hand, and what a look that finds nothing is worth."""

import itertools

import numpy as np
import pytest

from course.errors import OutOfRange, UnknownChoice, WorkbookError
from course.service.belief import (
    STAIN_SEEN,
    after_cleaning,
    after_look,
    first_belief,
    kinds_and_sizes,
    pair_chances,
    place_chances,
    possible_leaks,
)
from course.tables import LeakPlacesTable

SOURCE = "assumed: for a test"


def small_survey(weights=(5.0, 3.0, 2.0), elsewhere=1.0):
    """A car with a few places, two kinds and two sizes."""

    def number(value):
        return {"value": value, "source": SOURCE}

    return LeakPlacesTable.model_validate(
        {
            "kind": {
                "steady": {"name": "always", "weight_factor": number(3.0)},
                "running": {"name": "turning", "weight_factor": number(1.0)},
            },
            "size": {
                "small": {"rate_g_per_year": number(20.0), "weight_factor": number(2.0)},
                "large": {"rate_g_per_year": number(500.0), "weight_factor": number(1.0)},
            },
            "elsewhere": {"weight_factor": number(elsewhere)},
            "place": {
                f"place_{letter}": {
                    "name": letter,
                    "side": "low",
                    "access": "open",
                    "oil_wetted": True,
                    "kinds": ["steady", "running"][: 1 + number_of % 2],
                    "weight_factor": number(weight),
                    "looked_at": "all round",
                }
                for number_of, (letter, weight) in enumerate(zip("abcd", weights, strict=False))
            },
        }
    )


def random_look(dice, possible):
    """Some look: place, what each leak's chance is, false alarm, and whether its stains last."""
    place = possible.places[dice.integers(len(possible.places) - 1)]
    rows = int((possible.place == possible.places.index(place)).sum())
    lasting = dice.choice(["lamp", "eye", ""])
    return place, bool(dice.random() < 0.4), dice.random(rows), float(dice.random() * 0.3), str(lasting) or None


def counted(possible, share_of_two, looks):
    """Chances of places and pairs by going through every car there can be, stains and all."""
    count = len(possible.places)
    rows = range(len(possible.weight))
    cars = [((row,), (1.0 - share_of_two) * possible.weight[row]) for row in rows]
    two = [pair for pair in itertools.combinations(rows, 2) if possible.place[pair[0]] != possible.place[pair[1]]]
    all_two = sum(possible.weight[a] * possible.weight[b] for a, b in two)
    cars += [((a, b), share_of_two * possible.weight[a] * possible.weight[b] / all_two) for a, b in two]
    stainable = sorted({(place, lasting) for place, _, _, _, lasting in looks if lasting})
    first_share = {}
    for place, _, _, false_alarm, lasting in looks:
        first_share.setdefault((place, lasting), false_alarm)
    chances = np.zeros((count, count))
    for leaks, prior in cars:
        for stained in itertools.product([False, True], repeat=len(stainable)):
            there = dict(zip(stainable, stained, strict=True))
            weight = prior
            for key, stain in there.items():
                weight *= first_share[key] if stain else 1.0 - first_share[key]
            for place, signal, finds, false_alarm, lasting in looks:
                missed = 1.0
                for leak in leaks:
                    if possible.places[possible.place[leak]] == place:
                        missed *= 1.0 - finds[leak - int(np.argmax(possible.place == possible.place[leak]))]
                error = (STAIN_SEEN if there[place, lasting] else 0.0) if lasting else false_alarm
                missed *= 1.0 - error
                weight *= 1.0 - missed if signal else missed
            places = sorted({int(possible.place[leak]) for leak in leaks})
            chances[places[0], places[-1]] += weight
    return chances / chances.sum()


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("share_of_two", [0.0, 0.3, 1.0])
def test_the_chances_are_those_of_counting_every_car(seed, share_of_two):
    dice = np.random.default_rng(seed)
    possible = possible_leaks(small_survey())
    known, looks = first_belief(possible, share_of_two), []
    for _ in range(6):
        looks.append(random_look(dice, possible))
        known = after_look(known, *looks[-1])
        assert pair_chances(known) == pytest.approx(counted(possible, share_of_two, looks), abs=1e-12)
        assert abs(pair_chances(known).sum() - 1.0) < 1e-12


def test_the_sum_stays_one_over_a_long_hunt_of_the_whole_car():
    dice = np.random.default_rng(7)
    possible = possible_leaks()
    known = first_belief(possible, 0.2)
    for _ in range(200):
        place, _, finds, false_alarm, lasting = random_look(dice, possible)
        known = after_look(known, place, False, 0.9 * finds, false_alarm, lasting)
        assert abs(pair_chances(known).sum() - 1.0) < 1e-12
        assert 1.0 - 1e-12 <= sum(place_chances(known).values()) <= 2.0 + 1e-12


def test_nothing_found_moves_the_chance_away_and_never_to_nought():
    possible = possible_leaks()
    before = first_belief(possible, 0.0)
    rows = possible.place == possible.places.index("shaft_seal")
    finds = 0.9 * possible.rate_g_per_year[rows] / (possible.rate_g_per_year[rows] + 50.0)
    after = after_look(before, "shaft_seal", False, finds, 0.01)
    was, now = place_chances(before), place_chances(after)
    assert 0.0 < now["shaft_seal"] < was["shaft_seal"]
    assert all(now[place] > was[place] for place in was if place != "shaft_seal")
    sizes = kinds_and_sizes(after, "shaft_seal") / kinds_and_sizes(before, "shaft_seal")
    assert sizes[0] > 1.0 > sizes[5], "a seep is what is left to be feared, not a gush"


def test_all_clean_outside_leaves_the_case_and_the_unlisted():
    possible = possible_leaks()
    known = first_belief(possible, 0.0)
    inside = ("evaporator_core", "evaporator_pipes")
    for place in possible.places[:-1]:
        if place not in inside:
            rows = int((possible.place == possible.places.index(place)).sum())
            known = after_look(known, place, False, [0.9] * rows, 0.0)
    chances = place_chances(known)
    assert max(chances, key=chances.get) == "evaporator_core"
    assert chances["evaporator_core"] + chances["evaporator_pipes"] + chances["elsewhere"] > 0.6


def test_a_second_glow_proves_little_and_a_second_alarm_much():
    possible = possible_leaks()
    rows = int((possible.place == possible.places.index("low_side_port")).sum())
    chances = {}
    for lasting in (None, "dye"):
        known = first_belief(possible, 0.0)
        for looks in (1, 2, 3):
            known = after_look(known, "low_side_port", True, [0.8] * rows, 0.2, lasting)
            chances[lasting, looks] = place_chances(known)["low_side_port"]
    assert chances[None, 1] < chances[None, 2] < chances[None, 3]
    assert chances["dye", 2] < chances["dye", 1] < chances[None, 2]


def test_after_a_wash_the_same_glow_proves_more():
    possible = possible_leaks()
    rows = int((possible.place == possible.places.index("low_side_port")).sum())
    known = after_look(first_belief(possible, 0.0), "low_side_port", True, [0.8] * rows, 0.3, "dye")
    again = after_look(known, "low_side_port", True, [0.8] * rows, 0.3, "dye")
    washed = after_look(after_cleaning(known, "low_side_port"), "low_side_port", True, [0.8] * rows, 0.03, "dye")
    assert place_chances(washed)["low_side_port"] > 2.0 * place_chances(again)["low_side_port"]


def test_one_leak_found_leaves_the_other_where_it_was_likely():
    """Joint over pairs: with two leaks for certain, a find takes nothing from the search for the second."""
    possible = possible_leaks(small_survey())
    known = after_look(first_belief(possible, 1.0), "place_a", True, [0.8, 0.8], 0.0)
    chances = place_chances(known)
    assert chances["place_a"] == pytest.approx(1.0)
    weights = {"b": 3.0, "e": 1.0}
    assert chances["place_c"] == pytest.approx(2.0 / 6.0)
    assert chances["place_b"] == pytest.approx(weights["b"] / 6.0)
    assert chances["elsewhere"] == pytest.approx(weights["e"] / 6.0)


def test_a_survey_reaches_the_belief_as_written():
    possible = possible_leaks(small_survey())
    chances = place_chances(first_belief(possible, 0.0))
    assert chances == pytest.approx({"place_a": 5 / 11, "place_b": 3 / 11, "place_c": 2 / 11, "elsewhere": 1 / 11})
    # place_b knows both kinds, three to one, and both sizes, two to one
    assert kinds_and_sizes(first_belief(possible, 0.0), "place_b") == pytest.approx([6 / 12, 3 / 12, 2 / 12, 1 / 12])


def test_what_cannot_be_is_said():
    known = first_belief(possible_leaks(small_survey()), 0.0)
    with pytest.raises(UnknownChoice, match="place: 'elsewhere' is not known here; choose one of place_a, place_b"):
        after_look(known, "elsewhere", False, [0.5], 0.0)
    with pytest.raises(OutOfRange, match="chance of two leaks: 1.5 of all hunts was given; allowed are 0 to 1"):
        first_belief(known.possible, 1.5)
    for place in ("place_a", "place_b"):
        rows = int((known.possible.place == known.possible.places.index(place)).sum())
        known = after_look(known, place, True, [0.5] * rows, 0.0)
    with pytest.raises(WorkbookError, match="cannot come from one or two leaks"):
        pair_chances(known)
    certain = after_look(first_belief(known.possible, 0.0), "place_a", False, [1.0, 1.0], 0.0)
    with pytest.raises(WorkbookError, match="place_a cannot leak after what was seen there"):
        kinds_and_sizes(certain, "place_a")


def test_looking_leaves_the_earlier_belief_as_it_was():
    known = first_belief(possible_leaks(small_survey()), 0.2)
    before = pair_chances(known).copy()
    after_look(known, "place_a", True, [0.5, 0.5], 0.1, "dye")
    assert (pair_chances(known) == before).all()
    assert known.stains == {}
