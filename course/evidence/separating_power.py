"""What separates what: how often a reasoner that makes no mistakes names the trouble, from few readings and from many."""

import argparse
import datetime
import math
import os
import sys
import time
from concurrent.futures import ProcessPoolExecutor, as_completed
from typing import NamedTuple

import numpy as np

from course.errors import CycleNotSolved
from course.evidence import car_population as population
from course.evidence.reasoner import between_runs, log_likelihood, probabilities
from course.tables import read_base_rates, read_faults, system_ids, write_separating_power

SEED = 20261125
DAYS_PER_CAR = 20
CASES = 3  # cars with each trouble on each day
COMMAND = "python3 -m course study"
A_TIE = 1e-3  # - probabilities as near to the highest as that share its name; runs agree no better than this

# what the technician has, one step after another: name, and how many of the readings in their order
READING_SETS = {
    "gauges": ("the two gauges", 2),
    "superheat_subcooling": ("+ superheat and subcooling", 4),
    "temperatures": ("+ vent and pipe temperatures", 8),
    "at_rest": ("+ static check", 9),
    "recovered_weight": ("+ recovered weight", 10),
}
# one more reading beside the two gauges: name, and which
ONE_MORE = {
    "evaporator_outlet": ("superheat", 2),
    "condenser_outlet": ("subcooling", 3),
    "vent": ("vent temperature", 4),
    "liquid_line": ("liquid line temperature", 5),
    "suction_line": ("suction line temperature", 6),
    "discharge": ("discharge line temperature", 7),
    "at_rest_alone": ("static check", 8),
    "weight_alone": ("recovered weight", 9),
}
COLUMNS = {key: list(range(most)) for key, (_, most) in READING_SETS.items()} | {
    key: [0, 1, column] for key, (_, column) in ONE_MORE.items()
}
MODELS = {"exact": "this very car is known", "car_to_car": "sound cars differ from one another"}
RATES = {"equal": "every trouble as likely as any other", "counted": "as often as surveys and guesses say"}


class DayResult(NamedTuple):
    """One day's cases: number, car, troubles behind them, log likelihoods (model, readings, case, trouble) and refusals."""

    number: int
    car: str
    truth: tuple
    logs: np.ndarray
    refused_cases: int
    refused_runs: int
    runs: int


def trouble_name(trouble):
    """What the shop calls a trouble.

    Parameters
    ----------
    trouble : str
        Its id.

    Returns
    -------
    str
        The name of data/evidence/base_rates.toml or data/faults.toml.

    Raises
    ------
    KeyError
        When there is no such trouble.

    Notes
    -----
    Nothing wrong is a trouble too: someone complained.

    Examples
    --------
    >>> trouble_name("no_fault"), trouble_name("air_in_system")
    ('Nothing wrong', 'Air in the system')
    """
    return read_base_rates()[trouble].name or read_faults()[trouble].name


def rates_of(car, rates="equal"):
    """How often each trouble of a car is met before anything is read.

    Parameters
    ----------
    car : str
        Id from data/systems.
    rates : str
        A name in RATES.

    Returns
    -------
    numpy.ndarray
        Shares that sum to one, in the order of troubles_of [-].

    Raises
    ------
    UnknownChoice
        When there is no such car.

    Notes
    -----
    What a car cannot have is left out and the rest raised to make one.

    Examples
    --------
    >>> [round(float(rates_of(car)[0]) * len(rates_of(car)), 9) for car in ("sedan", "pickup")]
    [1.0, 1.0]
    """
    table = read_base_rates()
    shares = [1.0 if rates == "equal" else table[name].base_rate_share.value for name in population.troubles_of(car)]
    return np.array(shares) / sum(shares)


def _cases(day, troubles, each, random):
    cases, refused = [], 0
    for trouble in troubles:
        for _ in range(each):
            try:
                cases.append(population.draw_case(day, trouble, random))
            except CycleNotSolved:
                refused += 1
    return cases, refused


def study_day(seed, number, each=CASES):
    """Draw one car and day, let every trouble in, and ask the reasoner about each case.

    Parameters
    ----------
    seed : int
        Of the whole study.
    number : int
        Which day; the cars take turns.
    each : int
        Cases of each trouble.

    Returns
    -------
    DayResult
        How well each trouble explains each case.

    Raises
    ------
    LinAlgError
        When errors of no size were given.

    Notes
    -----
    The cases are drawn and run first, with the whole simulator; what the reasoner expects is run after, on a fixed row
    of severities that knows nothing of them. Each day has its own dice, so the days can be worked in any order.

    Examples
    --------
    See course.evidence.separating_power.run_study.
    """
    random = np.random.default_rng([seed, number])
    car = system_ids()[number % len(system_ids())]
    day = population.draw_day(car, random)
    troubles = population.troubles_of(car)
    cases, refused = _cases(day, troubles, each, random)
    measured = np.array([case.measured for case in cases])
    apart = random.standard_normal(measured.shape) * population.CAR_TO_CAR
    logs = np.empty((len(MODELS), len(COLUMNS), len(cases), len(troubles)))
    expected = [population.expected_readings(day, trouble) for trouble in troubles]
    for number_of_trouble, one in enumerate(expected):
        rows, spread = between_runs(one.badness, one.readings, one.spread)
        errors = population.instrument_errors(day, rows) ** 2
        for model in range(len(MODELS)):
            widths = errors + model * population.CAR_TO_CAR**2
            covariance = spread + widths[:, :, None] * np.eye(widths.shape[1])
            seen = measured + model * apart
            for place, columns in enumerate(COLUMNS.values()):
                part = covariance[np.ix_(range(len(rows)), columns, columns)]
                logs[model, place, :, number_of_trouble] = log_likelihood(seen[:, columns], rows[:, columns], part)
    truth = tuple(case.trouble for case in cases)
    return DayResult(
        number, car, truth, logs, refused, sum(one.refused for one in expected), sum(one.runs for one in expected)
    )


def named(after):
    """Which trouble is named: the most probable one; those that tie share it.

    Parameters
    ----------
    after : numpy.ndarray
        Probabilities, one row a case [-].

    Returns
    -------
    numpy.ndarray
        Shares of the naming, one row a case.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Two troubles that show the very same readings cannot be told apart: each is then named half of the time.

    Examples
    --------
    >>> [[float(share) for share in row] for row in named(np.array([[0.2, 0.8], [0.5, 0.5]]))]
    [[0.0, 1.0], [0.5, 0.5]]
    """
    top = after >= after.max(axis=1, keepdims=True) - A_TIE
    return top / top.sum(axis=1, keepdims=True)


def _day_sums(day, model, place, rates, troubles):
    """One day's weighted sums: right, probability of the top and of the truth, log of it, and the two tables by trouble."""
    own = population.troubles_of(day.car)
    prior = rates_of(day.car, rates)
    after = probabilities(day.logs[model, place], prior)
    truth = np.array([own.index(name) for name in day.truth])
    cases = np.arange(len(truth))
    weights = prior[truth] / np.bincount(truth, minlength=len(own))[truth]
    names = named(after)
    given = after[cases, truth]
    table = np.zeros((2, len(troubles), len(troubles)))
    columns = [troubles.index(name) for name in own]
    for kind, shares in enumerate((names, after)):
        for case, true in enumerate(truth):
            table[kind, columns[true], columns] += shares[case]
    # a truth below what a computer can hold would cost the score everything; none was met above this
    scores = (names[cases, truth], after.max(axis=1), given, np.log(np.maximum(given, 1e-300)))
    return [float((weights * score).sum()) for score in scores], table


def _summary(days, model, place, rates, troubles):
    """Means over the days with the error that comes of having only so many of them."""
    sums, tables = zip(*(_day_sums(day, model, place, rates, troubles) for day in days), strict=True)
    sums = np.array(sums)
    right, surest, given, score = sums.mean(axis=0)
    error = sums[:, 0].std(ddof=1) / math.sqrt(len(days)) if len(days) > 1 else 0.0
    table = sum(tables)
    table = table / np.maximum(table.sum(axis=2, keepdims=True), 1e-9)
    digits = 4
    return {
        "right_share": round(float(right), digits),
        "right_error_share": round(float(error), digits),
        "surest_share": round(float(surest), digits),
        "true_probability_share": round(float(given), digits),
        "log_score": round(float(score), digits),
        "named_share": table[0].round(digits).tolist(),
        "probability_share": table[1].round(digits).tolist(),
    }


def summarise(days):
    """The whole study from its days.

    Parameters
    ----------
    days : sequence of DayResult
        As study_day gives them.

    Returns
    -------
    dict
        Troubles, counts, one summary for each model, rates and set of readings, one more reading, and a slice to check.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Every day counts alike, and in it every trouble as often as the rates say, however many cases there are of it. The
    sampling error is that of a mean over independent days.

    Examples
    --------
    See course.evidence.separating_power.run_study.
    """
    troubles = tuple(read_base_rates())
    places = {key: place for place, key in enumerate(COLUMNS)}
    results = [
        {"model": model, "rates": rates, "readings": key} | _summary(days, number, places[key], rates, troubles)
        for number, model in enumerate(MODELS)
        for rates in RATES
        for key in READING_SETS
    ]
    alone = []
    for key in ONE_MORE:
        whole = _summary(days, 0, places[key], "equal", troubles)
        alone.append({"readings": key} | {name: whole[name] for name in ("right_share", "right_error_share")})
    first = days[0]
    own = population.troubles_of(first.car)
    rows = [probabilities(first.logs[0, places[key]], rates_of(first.car)) for key in READING_SETS]
    slice_ = [
        {"trouble": name, "true_probability_share": [round(float(row[case, own.index(name)]), 6) for row in rows]}
        for case, name in enumerate(first.truth)
    ]
    counts = {
        "days": len(days),
        "cases": sum(len(day.truth) for day in days),
        "cases_refused": sum(day.refused_cases for day in days),
        "severities": sum(day.runs for day in days),
        "severities_refused": sum(day.refused_runs for day in days),
    }
    return {"troubles": list(troubles), "counts": counts, "results": results, "one_more": alone, "first_day": slice_}


def run_study(seed=SEED, days_per_car=DAYS_PER_CAR, each=CASES, workers=None, say=print):
    """The whole study, worked by several processes, with its progress.

    Parameters
    ----------
    seed : int
        The same seed gives the same study on any machine.
    days_per_car : int
        Days for each car.
    each : int
        Cases of each trouble on each day.
    workers : int or None
        Processes; None: one for each core.
    say : callable
        Takes each line of progress.

    Returns
    -------
    dict
        As summarise, with how it was made.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    What the reasoner knows: the car, the weather, the compressor's speed, the size of every error, how often and how
    bad each trouble is. What it does not know: the severity, the charge and the small dirt and wear of this car. So this
    is the most that can be got from the readings, inside this model; a model that is itself wrong is not in it, save as
    the spread of sound cars in the model named car_to_car.

    Examples
    --------
    What stands in data/evidence is what it gave; one day of one car alone takes seconds.

    >>> from course.tables import read_separating_power
    >>> read_separating_power().made_by.command
    'python3 -m course study'
    """
    began = time.monotonic()
    numbers = range(days_per_car * len(system_ids()))
    done = []
    with ProcessPoolExecutor(max_workers=workers) as pool:
        waiting = [pool.submit(study_day, seed, number, each) for number in numbers]
        for future in as_completed(waiting):
            done.append(future.result())
            spent = time.monotonic() - began
            left = spent / len(done) * (len(numbers) - len(done))
            say(f"day {len(done)} of {len(numbers)}, {spent:.0f} s spent, about {left:.0f} s to go")
    made_by = {
        "command": COMMAND,
        "seed": seed,
        "days_per_car": days_per_car,
        "cases_of_each_trouble": each,
        "date": datetime.date.today().isoformat(),
        "seconds": round(time.monotonic() - began),
        "processes": workers or os.cpu_count() or 1,
    }
    return {"made_by": made_by} | summarise(sorted(done, key=lambda day: day.number))


def result_for(study, readings, model="exact", rates="equal"):
    """One summary out of a study.

    Parameters
    ----------
    study : SeparatingPowerTable
        From course.tables.read_separating_power.
    readings, model, rates : str
        Names in READING_SETS, MODELS and RATES.

    Returns
    -------
    StudyResultTable
        The summary.

    Raises
    ------
    StopIteration
        When there is none of that name.

    Notes
    -----
    Shares are of one.

    Examples
    --------
    >>> from course.tables import read_separating_power
    >>> study = read_separating_power()
    >>> result_for(study, "gauges").right_share < result_for(study, "recovered_weight").right_share
    True
    """
    wanted = (model, rates, readings)
    return next(one for one in study.results if (one.model, one.rates, one.readings) == wanted)


def confused_pairs(study, result, most=5):
    """The pairs of troubles that are most often taken for one another.

    Parameters
    ----------
    study : SeparatingPowerTable
        The study.
    result : StudyResultTable
        One of its summaries.
    most : int
        How many pairs.

    Returns
    -------
    list of tuple
        Two trouble ids and the mean share of each that is named the other [-], the worst first.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    The mean of both ways: half means that the two cannot be told apart at all.

    Examples
    --------
    >>> from course.tables import read_separating_power
    >>> study = read_separating_power()
    >>> pairs = confused_pairs(study, result_for(study, "recovered_weight"))
    >>> [share for *_, share in pairs] == sorted((share for *_, share in pairs), reverse=True)
    True
    """
    table = np.array(result.named_share)
    both = 0.5 * (table + table.T)
    rows, columns = np.triu_indices(len(table), k=1)
    order = np.argsort(-both[rows, columns], kind="stable")[:most]
    return [
        (study.troubles[rows[one]], study.troubles[columns[one]], float(both[rows[one], columns[one]])) for one in order
    ]


def main(arguments=None):
    """Work the study anew and store it.

    Parameters
    ----------
    arguments : list of str or None
        The command line's; None: those given.

    Returns
    -------
    int
        Exit code.

    Raises
    ------
    SystemExit
        When an option is not known.

    Notes
    -----
    Minutes of work; the file is written at the end, whole or not at all.

    Examples
    --------
    python3 -m course study
    """
    parser = argparse.ArgumentParser(prog=COMMAND, description="Work out anew what separates what.")
    parser.add_argument("--seed", type=int, default=SEED, help="of the dice (default: %(default)s)")
    parser.add_argument("--processes", type=int, default=None, help="how many at once (default: one a core)")
    options = parser.parse_args(arguments)
    path = write_separating_power(run_study(seed=options.seed, workers=options.processes, say=_say))
    print(f"Stored in {path.name}.")
    return 0


def _say(line):
    print(line, flush=True)


if __name__ == "__main__":
    sys.exit(main())
