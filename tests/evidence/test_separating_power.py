"""The study of what separates what: its sums on days made up by hand, and the stored file against a day worked anew."""

import math

import numpy as np
import pytest

from course import tables
from course.errors import BadDataFile, CycleNotSolved
from course.evidence import separating_power as study
from course.evidence.car_population import troubles_of
from course.tables import read_base_rates, read_separating_power, write_separating_power

STORED = read_separating_power()


def made_up_day(number, sure):
    """A pickup's day with one case of each trouble; each is explained by its own trouble so many times better."""
    troubles = troubles_of("pickup")
    logs = np.zeros((len(study.MODELS), len(study.COLUMNS), len(troubles), len(troubles)))
    logs += math.log(sure) * np.eye(len(troubles))
    return study.DayResult(number, "pickup", troubles, logs, 1, 2, 30)


def test_a_made_up_study_is_what_the_hand_says():
    """Of 15 troubles each with odds 28 to 14 x 1: named always, with probability 28 / 42."""
    content = study.summarise([made_up_day(0, 28.0), made_up_day(1, 28.0)])
    first = content["results"][0]
    assert (first["right_share"], first["right_error_share"]) == (1.0, 0.0)
    assert first["true_probability_share"] == pytest.approx(28.0 / 42.0, abs=1e-4)
    assert first["log_score"] == pytest.approx(math.log(28.0 / 42.0), abs=1e-4)
    assert first["surest_share"] == first["true_probability_share"]
    assert content["counts"] == {
        "days": 2,
        "cases": 30,
        "cases_refused": 2,
        "severities": 60,
        "severities_refused": 4,
    }


def test_where_nothing_speaks_all_names_are_shared():
    content = study.summarise([made_up_day(0, 1.0)])
    assert content["results"][0]["right_share"] == pytest.approx(1.0 / 15.0, abs=1e-4)
    own = [row for row in content["results"][0]["named_share"] if sum(row)]
    assert len(own) == 15
    assert all(sum(row) == pytest.approx(1.0, abs=1e-2) for row in own)


def test_counted_rates_name_the_common_trouble_where_nothing_speaks():
    """The share of undercharge among what a car with an orifice tube can have."""
    rates = read_base_rates()
    whole = sum(rates[name].base_rate_share.value for name in troubles_of("pickup"))
    content = study.summarise([made_up_day(0, 1.0)])
    counted = next(one for one in content["results"] if one["rates"] == "counted")
    assert counted["right_share"] == pytest.approx(rates["undercharge"].base_rate_share.value / whole, abs=1e-4)


def test_the_sampling_error_is_that_of_a_mean_of_days():
    """Two days, one always right and one right one time in fifteen: half their distance."""
    content = study.summarise([made_up_day(0, 28.0), made_up_day(1, 1.0)])
    assert content["results"][0]["right_error_share"] == pytest.approx(0.5 * (1.0 - 1.0 / 15.0), abs=1e-4)


def test_a_case_without_a_steady_state_is_left_out_and_counted(monkeypatch):
    def refuse(day, trouble, random):
        if trouble == "overcharge":
            raise CycleNotSolved("no steady state")
        return trouble

    monkeypatch.setattr(study.population, "draw_case", refuse)
    assert study._cases(None, ("no_fault", "overcharge"), 2, None) == (["no_fault", "no_fault"], 2)


def test_the_stored_study_is_the_one_this_seed_gives():
    """The first day worked anew: the same troubles and, to a hundredth, the same probabilities.

    A hundredth, because runs agree to the solver's tolerance and not to the last digit from one machine to the next.
    """
    made_by = STORED.made_by
    day = study.study_day(made_by.seed, 0, made_by.cases_of_each_trouble)
    anew = study.summarise([day])["first_day"]
    assert [one["trouble"] for one in anew] == [one.trouble for one in STORED.first_day]
    for one, stored in zip(anew, STORED.first_day, strict=True):
        assert one["true_probability_share"] == pytest.approx(stored.true_probability_share, abs=0.01)


def test_the_stored_study_is_whole():
    assert STORED.made_by.seed == study.SEED
    assert STORED.made_by.days_per_car == study.DAYS_PER_CAR
    assert STORED.counts.days == 3 * study.DAYS_PER_CAR
    every = {(model, rates, key) for model in study.MODELS for rates in study.RATES for key in study.READING_SETS}
    assert {(one.model, one.rates, one.readings) for one in STORED.results} == every
    assert {one.readings for one in STORED.one_more} == set(study.ONE_MORE)
    for one in STORED.results:
        for table in (one.named_share, one.probability_share):
            assert [sum(row) for row in table] == pytest.approx([1.0] * len(STORED.troubles), abs=2e-3)


@pytest.mark.parametrize("model", study.MODELS)
@pytest.mark.parametrize("rates", study.RATES)
def test_more_readings_never_lower_the_score(model, rates):
    """For a right reasoner no reading can, on average; 0.02 is allowed for sampling and for sums cut into pieces."""
    scores = [study.result_for(STORED, key, model, rates).log_score for key in study.READING_SETS]
    assert all(later > earlier - 0.02 for earlier, later in zip(scores, scores[1:], strict=False))


@pytest.mark.parametrize("one", STORED.results, ids=lambda one: f"{one.model}-{one.rates}-{one.readings}")
def test_the_reasoner_is_right_as_often_as_it_thinks(one):
    """Names given with a probability of 70 % must be right in 70 of 100: three sampling errors, and 0.03 for the
    bends that straight lines between runs and normal ordinary things cut off."""
    assert one.right_share == pytest.approx(one.surest_share, abs=3.0 * one.right_error_share + 0.03)


def test_knowing_the_car_less_well_never_helps():
    for rates in study.RATES:
        for key in study.READING_SETS:
            exact, spread = (study.result_for(STORED, key, model, rates) for model in study.MODELS)
            assert exact.log_score > spread.log_score


def test_a_broken_study_names_the_command_that_mends_it(monkeypatch, tmp_path):
    monkeypatch.setattr(tables, "DATA", tmp_path)
    (tmp_path / "evidence").mkdir()
    path = tmp_path / "evidence" / "separating_power.json"
    read_separating_power.cache_clear()
    for text in ("", '{"made_by": {}}'):
        path.write_text(text, encoding="utf-8")
        with pytest.raises(BadDataFile, match="make it anew with: python3 -m course study"):
            read_separating_power()
    write_separating_power(STORED.model_dump())
    assert read_separating_power() == STORED
    monkeypatch.undo()
    read_separating_power.cache_clear()


def test_progress_is_said_and_the_study_stored(monkeypatch, tmp_path, capsys):
    def worked(seed, workers, say):
        say(f"day 1 of 60, seed {seed}")
        return STORED.model_dump()

    monkeypatch.setattr(study, "run_study", worked)
    monkeypatch.setattr(study, "write_separating_power", lambda content: tmp_path / "separating_power.json")
    assert study.main(["--seed", "4"]) == 0
    assert capsys.readouterr().out.splitlines() == ["day 1 of 60, seed 4", "Stored in separating_power.json."]
