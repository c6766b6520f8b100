"""Bringing every balance of the circuit to zero: a guarded Newton search, and least squares for hard cases."""

import numpy as np
import scipy

from course.errors import CycleNotSolved, OutOfRange
from course.physics.circuit import prepare, reach_and_wetness, variable_from_suction
from course.physics.controls import HIGH_SWITCH_BAND
from course.physics.cycle import march
from course.physics.first_guesses import first_guesses

TOLERANCE = 1e-9  # - largest relative imbalance of any balance that counts as solved
LOOSE_TOLERANCE = 1e-6  # - the same, where two answers all but meet and Newton's slopes fail
MOST_NEWTON_STEPS = 30
LOWEST_FLOW_VARIABLE = -9.0  # -: a millionth of the flow, or a deep vacuum behind a least stroke
DIFFERENCE = 1e-6  # - step of the numerical slopes
LONGEST_STEP = np.array([0.7, 1.0, 0.8, 0.4])  # - in the order of march's trial values
# shifts of the first guess, as suction, discharge, buffer and superheat variable [-]; the order is that in which they
# arrived most often over 1,500 random corners
ELSEWHERE = np.array(
    [
        (1.2, 1.0, -0.5, 0.0),
        (-1.2, 1.0, -0.5, 0.0),
        (1.2, -2.5, -0.5, 0.0),
        (1.2, -2.5, 0.6, 0.0),
        (1.2, 1.0, 0.6, 0.0),
        (-1.2, -2.5, -0.5, 0.0),
        (-1.2, 1.0, -0.5, 3.0),
        (-1.2, 1.0, 0.6, 3.0),
        (3.2, 2.2, 0.3, -0.9),
        (2.2, 1.5, 0.3, -0.9),
        (0.2, 0.9, 0.6, -1.7),
    ]
)
MOST_IMBALANCE = 1e6  # -: farther out (or not a number) is no place to step from
NEXT_DOOR = (0.99, 1.01, 0.96, 1.04)  # - shares of the charge
AFAR_STARTS = [8, 9, 10, 0, 1]  # the places of ELSEWHERE from which least squares begins, in this order
MOST_MARCHES_AFAR = 400  # from one start, slopes included
NEAR_ENOUGH = 1e-6  # - half the sum of squares at which Newton takes over again
OFF_THE_CHART = 20.0  # - what least squares reads for a balance where there is no state at all
FLOODED = 0.05  # - liquid share of what the compressor draws in at which a refusal names it; assumed
HARDLY_ANY = 0.3  # - share of the label charge under which a refusal names it; assumed


def _inside(circuit, trial):
    trial[2] = min(max(trial[2], -18.0), 30.0 if len(trial) == 4 else 1.95)
    if len(trial) == 4:
        trial[3] = min(max(trial[3], -0.95), 18.0)
    # the compressor has all but stopped at these ends: no running state lies beyond them
    highest = variable_from_suction(circuit, circuit.highest_suction, reach_and_wetness(circuit, trial)[0])
    trial[0] = min(max(trial[0], LOWEST_FLOW_VARIABLE), highest)
    trial[1] = min(max(trial[1], -9.0), circuit.free_discharge + 12.0)
    return trial


def _march(circuit, trial):
    """A march and its imbalance, or None where the trial leaves the chart."""
    try:
        result = march(circuit, trial)
    except (OutOfRange, OverflowError, ValueError, ZeroDivisionError):
        return None, None
    imbalance = np.array(result.imbalance)
    return (result, imbalance) if np.abs(imbalance).max() < MOST_IMBALANCE else (None, None)


def _slopes(circuit, trial, imbalance):
    slopes = np.empty((len(trial), len(trial)))
    for column in range(len(trial)):
        moved = trial.copy()
        moved[column] += DIFFERENCE
        result, changed = _march(circuit, moved)
        if result is None:
            return None
        slopes[:, column] = (changed - imbalance) / DIFFERENCE
    return slopes


def newton(circuit, start, slopes=None, each=False, patience=1.5):
    """Close the circuit from nearby values.

    Parameters
    ----------
    circuit : Circuit
        Car, weather and charge.
    start : sequence of float
        Values to begin from [-].
    slopes : numpy.ndarray or None
        Slopes there, None to take them afresh [-].
    each : bool
        Shorten a long step variable by variable instead of as a whole.
    patience : float
        How much worse a step may make things before it is shortened [-].

    Returns
    -------
    tuple or None
        March, values [-], slopes [-], number of marches; None when the search does not arrive.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Newton's method with numerical slopes. A step that makes things worse than patience allows is shortened twice, then
    taken all the same: at the corner of a regime the way out may lead uphill. Slopes are kept and corrected (Broyden
    1965) while each step cuts the imbalance to a fifth.

    Examples
    --------
    See solve_circuit.
    """
    trial = _inside(circuit, np.array(start, dtype=float))
    longest = LONGEST_STEP[: len(trial)]
    result, imbalance = _march(circuit, trial)
    marches = 1
    for _ in range(MOST_NEWTON_STEPS):
        if result is None:
            return None
        size = np.abs(imbalance).max()
        if size < TOLERANCE:
            return result, trial, slopes, marches
        if slopes is None:
            slopes = _slopes(circuit, trial, imbalance)
            marches += len(trial)
            if slopes is None:
                return None
        try:
            step = np.linalg.solve(slopes, -imbalance)
        except np.linalg.LinAlgError:
            return None
        # shortened as a whole the step keeps its direction; each by itself, one wild variable cannot hold up the others
        step = np.clip(step, -longest, longest) if each else step / max(1.0, (np.abs(step) / longest).max())
        for shorter in (1.0, 0.5, 0.25):
            tried = _inside(circuit, trial + shorter * step)
            outcome, change = _march(circuit, tried)
            marches += 1
            if outcome is not None and np.abs(change).max() < patience * size:
                break
        if outcome is None:
            return None
        moved = tried - trial
        length = moved @ moved
        if np.abs(change).max() > 0.2 * size or length == 0.0:
            slopes = None
        else:
            slopes = slopes + np.outer(change - imbalance - slopes @ moved, moved) / length
        trial, result, imbalance = tried, outcome, change
    return None


def _from_guesses(circuit):
    """Newton from the first guesses, each with steps shortened as a whole and then variable by variable."""
    for guess in first_guesses(circuit):
        solved = newton(circuit, guess) or newton(circuit, guess, None, True, 1e9)
        if solved is not None:
            return solved
    return None


def _from_elsewhere(circuit):
    """Newton from places spread around the first guess, for states far from what the rules of thumb expect."""
    guess = first_guesses(circuit)[0]
    for offset in ELSEWHERE:
        solved = newton(circuit, guess + offset[: len(guess)], None, True, 1e9)
        if solved is not None:
            return solved
    return None


def _from_next_door(circuit):
    """Newton from the answer for a little less or more charge: a search can miss one point and find those beside it."""
    for share in NEXT_DOOR:
        beside = prepare(circuit.system, circuit.conditions, share * circuit.charge)
        found = _from_guesses(beside) or _from_elsewhere(beside)
        solved = found and (newton(circuit, found[1]) or newton(circuit, found[1], None, True, 1e9))
        if solved:
            return solved
    return None


def _from_afar(circuit):
    """Least squares from the first guesses and from around them: it goes on where Newton's slopes are of no use.

    Gives what newton gives, or None, and the marches that come nearest to a balance, the nearest first.
    """
    guesses = first_guesses(circuit)
    size = len(guesses[0])

    def miss(trial):
        imbalance = _march(circuit, _inside(circuit, trial.copy()))[1]
        # the logarithm keeps one balance that is far out from drowning the others
        return np.full(size, OFF_THE_CHART) if imbalance is None else np.sign(imbalance) * np.log1p(np.abs(imbalance))

    places = []
    for start in (*guesses, *(guesses[0] + offset[:size] for offset in ELSEWHERE[AFAR_STARTS])):
        found = scipy.optimize.least_squares(
            miss, start, method="lm", x_scale="jac", xtol=1e-15, ftol=1e-15, gtol=1e-15, max_nfev=MOST_MARCHES_AFAR
        )
        arrived = newton(circuit, found.x) if found.cost < NEAR_ENOUGH else None
        if arrived is not None:
            return arrived, ()
        places.append((found.cost, tuple(found.x)))
    nearest = [_march(circuit, _inside(circuit, np.array(trial)))[0] for _, trial in sorted(places)]
    if np.abs(nearest[0].imbalance).max() < LOOSE_TOLERANCE:
        return (nearest[0], _inside(circuit, np.array(min(places)[1])), None, MOST_MARCHES_AFAR), ()
    return None, [seen for seen in nearest if seen is not None]


def _what_stands_against(circuit, nearest):
    """What a march that nearly balances shows to stand against a steady state; None where nothing is plain."""
    controls, air = circuit.system.controls, circuit.conditions.air_pressure
    if circuit.charge < HARDLY_ANY * circuit.system.label_charge:
        return "there is hardly any refrigerant in it, and the compressor draws it from one side to the other"
    if nearest.discharge_saturation.pressure - air > controls.high_pressure_cut_out - HIGH_SWITCH_BAND:
        return (
            "the condenser cannot get rid of the heat, and the high side climbs to the cut-out at "
            f"{controls.high_pressure_cut_out / 1e3:.0f} kPa gauge again and again"
        )
    if nearest.wetness > FLOODED:
        return f"liquid floods back to the compressor, {100 * nearest.wetness:.0f} % of what it draws in, and no compressor runs on that"
    return None


def solve_circuit(circuit, start=None, slopes=None):
    """Find the steady state of a circuit.

    Parameters
    ----------
    circuit : Circuit
        Car, weather and charge, from cycle.prepare.
    start : sequence of float or None
        Values of a nearby answer [-].
    slopes : numpy.ndarray or None
        Slopes there [-].

    Returns
    -------
    tuple
        March, its trial values [-], slopes [-] or None, and the number of marches it took.

    Raises
    ------
    CycleNotSolved
        When there is no steady state; the sentence says what stands against it.

    Notes
    -----
    Newton from the nearby answer, then from first guesses with steps shortened as a whole or each variable by itself,
    then from places around them and from a little less or more charge, then least squares. All end at TOLERANCE, so
    the way taken does not show in the answer; only where two answers all but meet (1 of 5,000 random corners) least
    squares ends at LOOSE_TOLERANCE. That no state is found is no proof that there is none: the sentence names what the
    nearest march shows.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> from course.physics.circuit import prepare
    >>> from course.physics.system import conditions
    >>> circuit = prepare(load_system("sedan"), conditions(), 0.56)
    >>> max(abs(part) for part in solve_circuit(circuit)[0].imbalance) < TOLERANCE
    True
    """
    if start is not None:
        solved = newton(circuit, start, slopes) or newton(circuit, start)
        if solved is not None:
            return solved
    solved = _from_guesses(circuit) or _from_elsewhere(circuit) or _from_next_door(circuit)
    if solved is not None:
        return solved
    solved, nearest = _from_afar(circuit)
    if solved is not None:
        return solved
    reasons = filter(None, (_what_stands_against(circuit, seen) for seen in nearest))
    why = next(reasons, "flow, heat and charge cannot all balance with these faults together")
    raise CycleNotSolved(
        f"{circuit.system.name}: there is no steady state at {circuit.charge * 1000:.0f} g, "
        f"{circuit.conditions.ambient - 273.15:.0f} °C and {circuit.conditions.compressor_rpm:.0f} rpm: "
        f"{why}; ease one of the faults, or change the charge."
    )
