"""The reasoner against sums done the long way, one severity and one trouble after another."""

import math

import numpy as np
import pytest
from scipy.stats import multivariate_normal

from course.evidence.reasoner import between_runs, log_likelihood, probabilities

RANDOM = np.random.default_rng(11)
MEASURED = RANDOM.normal(size=(5, 3))
# two troubles, four severities each, errors that hang together
READINGS = RANDOM.normal(size=(2, 4, 3))
ROOTS = RANDOM.normal(size=(2, 4, 3, 3))
COVARIANCE = ROOTS @ np.swapaxes(ROOTS, -1, -2) + 0.3 * np.eye(3)


def likelihood_the_long_way(case, trouble):
    densities = [
        multivariate_normal(READINGS[trouble, severity], COVARIANCE[trouble, severity]).pdf(MEASURED[case])
        for severity in range(4)
    ]
    return sum(densities) / 4.0


def test_likelihood_and_bayes_are_the_sums_written_out():
    rates = (0.8, 0.2)
    logs = np.array([log_likelihood(MEASURED, READINGS[one], COVARIANCE[one]) for one in range(2)]).T
    after = probabilities(logs, np.array(rates))
    for case in range(len(MEASURED)):
        joint = [rates[trouble] * likelihood_the_long_way(case, trouble) for trouble in range(2)]
        for trouble in range(2):
            assert math.exp(logs[case, trouble]) == pytest.approx(likelihood_the_long_way(case, trouble), rel=1e-9)
            assert after[case, trouble] == pytest.approx(joint[trouble] / sum(joint), rel=1e-9)


def test_probabilities_sum_to_one_however_far_apart_the_troubles_lie():
    logs = np.random.default_rng(3).normal(scale=800.0, size=(200, 17))
    after = probabilities(logs, np.full(17, 1.0 / 17.0))
    assert after.sum(axis=1) == pytest.approx(1.0, abs=1e-12)
    assert np.isfinite(after).all()


def test_a_reading_that_says_nothing_leaves_the_rates_as_they_were():
    rates = np.array([0.5, 0.3, 0.2])
    assert probabilities(np.full((1, 3), -4.0), rates)[0] == pytest.approx(rates)


def test_a_severity_that_does_not_fit_costs_its_share_of_the_likelihood():
    """Of two severities one fits: half of the likelihood that the fitting one has alone."""
    spot, unit = np.array([[0.0]]), np.ones((2, 1, 1))
    alone = log_likelihood(spot, np.array([[0.0]]), unit[:1])[0]
    both = log_likelihood(spot, np.array([[0.0], [60.0]]), unit)[0]
    assert both == pytest.approx(alone - math.log(2.0))


def test_between_runs_is_straight_and_even():
    """A straight line is met on the spot, also where the runs do not stand evenly (one was refused)."""
    badness = np.array([0.2, 0.3, 0.8])
    rows, spread = between_runs(badness, 5.0 * badness[:, None], badness[:, None, None] ** 0, pieces=6)
    assert rows[:, 0] == pytest.approx(5.0 * (0.2 + 0.1 * (np.arange(6) + 0.5)))
    assert spread[:, 0, 0] == pytest.approx(1.0)
