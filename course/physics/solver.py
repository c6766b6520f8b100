"""Bringing every balance of the circuit to zero: a guarded Newton search, and a slow road for hard cases."""

import math
from dataclasses import fields, is_dataclass, replace

import numpy as np

from course.errors import CycleNotSolved, OutOfRange
from course.physics.cycle import first_guess, march, prepare

TOLERANCE = 1e-9  # - largest relative imbalance of any balance that counts as solved
MOST_NEWTON_STEPS = 40
DIFFERENCE = 1e-6  # - step of the numerical slopes
LONGEST_STEP = np.array([0.35, 0.25, 0.6, 0.25])  # - in the order of march's trial values
LEAST_ROAD_STEP = 1.0 / 4096.0
LOWEST_LOG_PRESSURE = math.log(8.0e3)  # Pa


def _inside(circuit, trial):
    top = math.log(0.985 * circuit.critical_pressure)
    trial[0] = min(max(trial[0], LOWEST_LOG_PRESSURE), top - 0.02)
    trial[1] = min(max(trial[1], trial[0] + 1e-4), top)
    trial[2] = min(max(trial[2], -8.0), 12.0 if len(trial) == 4 else 1.95)
    if len(trial) == 4:
        trial[3] = min(max(trial[3], -0.95), 8.0)
    return trial


def _slopes(circuit, trial, imbalance):
    slopes = np.empty((len(trial), len(trial)))
    for column in range(len(trial)):
        moved = trial.copy()
        moved[column] += DIFFERENCE
        slopes[:, column] = (np.array(march(circuit, moved).imbalance) - imbalance) / DIFFERENCE
    return slopes


def newton(circuit, start, most_steps=MOST_NEWTON_STEPS):
    """Close the circuit from nearby values.

    Returns the solved March, its trial values and the number of marches, or None when the search stalls. Slopes are
    taken afresh only when the last step fell short of what they promised.
    """
    trial = _inside(circuit, np.array(start, dtype=float))
    try:
        result = march(circuit, trial)
        imbalance = np.array(result.imbalance)
        slopes, marches, stale = None, 1, 0
        for _ in range(most_steps):
            size = np.abs(imbalance).max()
            if size < TOLERANCE:
                return result, trial, marches
            fresh = slopes is None
            if fresh:
                slopes = _slopes(circuit, trial, imbalance)
                marches += len(trial)
            step = np.linalg.solve(slopes, -imbalance)
            step /= max(1.0, (np.abs(step) / LONGEST_STEP[: len(step)]).max())
            share = 1.0
            while True:
                tried = _inside(circuit, trial + share * step)
                outcome = march(circuit, tried)
                marches += 1
                change = np.array(outcome.imbalance)
                if np.abs(change).max() < size * (1.0 - 0.05 * share) or (
                    np.linalg.norm(change) < np.linalg.norm(imbalance) * (1.0 - 0.05 * share)
                ):
                    break
                share *= 0.5 if share > 0.3 else 0.25
                if share < (0.3 if not fresh else 1e-4):
                    break
            if share < 1e-4 and fresh:
                return None
            if share < 0.3 and not fresh:
                slopes = None
                continue
            moved = tried - trial
            gained = change - imbalance
            # Broyden's rank-one correction keeps the slopes useful without new marches
            slopes = slopes + np.outer(gained - slopes @ moved, moved) / max(moved @ moved, 1e-30)
            if np.abs(change).max() > 0.2 * size:
                slopes = None
            trial, result, imbalance = tried, outcome, change
    except (OutOfRange, np.linalg.LinAlgError, OverflowError, ZeroDivisionError):
        return None
    return None
