"""Bringing every balance of the circuit to zero: a guarded Newton search, and a slow road for hard cases."""

from dataclasses import fields, is_dataclass, replace

import numpy as np
import scipy

from course.errors import CycleNotSolved, OutOfRange
from course.physics.circuit import prepare, reach_and_wetness, variable_from_suction
from course.physics.cycle import march
from course.physics.first_guesses import first_guesses

TOLERANCE = 1e-9  # - largest relative imbalance of any balance that counts as solved
MOST_NEWTON_STEPS = 30
LOWEST_FLOW_VARIABLE = -9.0  # -: a millionth of the flow, or a deep vacuum behind a least stroke
BUFFER = 2  # place of the buffer's position among the variables, and of the charge among the balances
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
    ]
)
MOST_IMBALANCE = 1e6  # -: farther out (or not a number) is no place to step from
SHORTEST_ROAD_STEP = 1.0 / 512.0


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


def _slopes(circuit, trial, imbalance, free):
    slopes = np.empty((len(free), len(free)))
    for column, variable in enumerate(free):
        moved = trial.copy()
        moved[variable] += DIFFERENCE
        result, changed = _march(circuit, moved)
        if result is None:
            return None
        slopes[:, column] = (changed[free] - imbalance[free]) / DIFFERENCE
    return slopes


def newton(circuit, start, slopes=None, each=False, patience=1.5, hold_buffer=False):
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
    hold_buffer : bool
        Keep the buffer where it is and let the charge come out as it will.

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
    # the charge balance stands at the buffer's place: holding the one means leaving out the other
    free = [place for place in range(len(trial)) if not (hold_buffer and place == BUFFER)]
    longest = LONGEST_STEP[free]
    result, imbalance = _march(circuit, trial)
    marches = 1
    for _ in range(MOST_NEWTON_STEPS):
        if result is None:
            return None
        size = np.abs(imbalance[free]).max()
        if size < TOLERANCE:
            return result, trial, slopes, marches
        if slopes is None:
            slopes = _slopes(circuit, trial, imbalance, free)
            marches += len(free)
            if slopes is None:
                return None
        try:
            step = np.linalg.solve(slopes, -imbalance[free])
        except np.linalg.LinAlgError:
            return None
        # shortened as a whole the step keeps its direction; each by itself, one wild variable cannot hold up the others
        step = np.clip(step, -longest, longest) if each else step / max(1.0, (np.abs(step) / longest).max())
        for shorter in (1.0, 0.5, 0.25):
            tried = trial.copy()
            tried[free] += shorter * step
            tried = _inside(circuit, tried)
            outcome, change = _march(circuit, tried)
            marches += 1
            if outcome is not None and np.abs(change[free]).max() < patience * size:
                break
        if outcome is None:
            return None
        moved = (tried - trial)[free]
        length = moved @ moved
        if np.abs(change[free]).max() > 0.2 * size or length == 0.0:
            slopes = None
        else:
            slopes = slopes + np.outer((change - imbalance)[free] - slopes @ moved, moved) / length
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


def _charge_missed(circuit, trial):
    """The state with the buffer where it is, and how far its charge misses; None where there is none."""
    held = newton(circuit, trial, hold_buffer=True) or newton(circuit, trial, None, True, 1e9, hold_buffer=True)
    return None if held is None else (held[1], held[0].imbalance[BUFFER])


def _along_the_buffer(circuit):
    """The guarantee: along the buffer's position the charge rises steadily, so bracket the position that holds it."""
    for guess in first_guesses(circuit):
        near = _charge_missed(circuit, np.where(np.arange(len(guess)) == BUFFER, 0.5, guess))
        if near is not None:
            break
    else:
        return None
    stride = 0.15 if near[1] < 0.0 else -0.15
    for _ in range(60):
        moved = near[0].copy()
        moved[BUFFER] += stride
        far = _charge_missed(circuit, moved)
        if far is None:
            return None
        if far[1] * near[1] <= 0.0:
            break
        near, stride = far, 1.2 * stride
    else:
        return None

    def miss(position):
        state = near[0].copy()
        state[BUFFER] = position
        found = _charge_missed(circuit, state)
        if found is None:
            raise CycleNotSolved("the buffer's road is broken")
        last[0] = found[0]
        return found[1]

    last = [near[0]]
    try:
        scipy.optimize.brentq(miss, near[0][BUFFER], far[0][BUFFER], xtol=1e-12)
    except (CycleNotSolved, ValueError):
        return None
    return newton(circuit, last[0]) or newton(circuit, last[0], None, True, 1e9)


def _between(near, far, share):
    """Every number of a dataclass part of the way from one car or weather to another."""
    if is_dataclass(near):
        changes = {f.name: _between(getattr(near, f.name), getattr(far, f.name), share) for f in fields(near)}
        return replace(near, **changes)
    if isinstance(near, float) and isinstance(far, float):
        return near + share * (far - near)
    return far


def _road(easy, hard):
    """From an easy problem with a known answer to a hard one in small steps, each solved from the last."""
    solved = _from_guesses(easy)
    if solved is None:
        return None
    done, stride, marches = 0.0, 0.25, solved[3]
    before = None
    while done < 1.0:
        share = min(done + stride, 1.0)
        middle = prepare(
            _between(easy.system, hard.system, share),
            _between(easy.conditions, hard.conditions, share),
            _between(easy.charge, hard.charge, share),
        )
        start = solved[1]
        if before is not None:
            start = start + (solved[1] - before[1]) * (share - done) / (done - before[0])
        arrived = newton(middle, start) or newton(middle, solved[1], None, True, 1e9)
        if arrived is None:
            stride *= 0.5
            if stride < SHORTEST_ROAD_STEP:
                return None
            continue
        before, solved, marches = (done, solved[1]), arrived, marches + arrived[3]
        done = share
        stride *= 1.6
    return solved[0], solved[1], None, marches


def _easy_roads(circuit):
    """Easy problems to start a road from: the same car healthy and full on a mild day, then nearer and nearer ones."""
    system, weather = circuit.system, circuit.conditions
    mild = replace(
        weather,
        ambient=303.15,
        relative_humidity=0.4,
        cabin=None,
        compressor_rpm=1500.0,
        road_speed=5.0,
        blower_fraction=1.0,
    )
    healthy = replace(
        system,
        air_mass=0.0,
        compressor=replace(system.compressor, worn_share=0.0, pumping_share=1.0),
        condenser=replace(system.condenser, fan_share=1.0, airflow_share=1.0),
        evaporator=replace(system.evaporator, airflow_share=1.0),
    )
    for charge in (0.8, 0.5, 1.1, 0.25):
        yield prepare(healthy, mild, charge * system.label_charge)
        yield prepare(system, mild, charge * system.label_charge)
        yield prepare(system, weather, charge * system.label_charge)


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
        When no road leads to a steady state.

    Notes
    -----
    Newton from the nearby answer, then from first guesses with steps shortened as a whole or each variable by itself, then along roads of small
    changes from easier problems. All end at the same tolerance, so the way taken does not show in the answer.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> from course.physics.system import conditions
    >>> circuit = prepare(load_system("sedan"), conditions(), 0.56)
    >>> max(abs(part) for part in solve_circuit(circuit)[0].imbalance) < TOLERANCE
    True
    """
    if start is not None:
        solved = newton(circuit, start, slopes) or newton(circuit, start)
        if solved is not None:
            return solved
    solved = _from_guesses(circuit)
    if solved is not None:
        return solved
    solved = _from_elsewhere(circuit) or _along_the_buffer(circuit)
    if solved is not None:
        return solved
    for easy in _easy_roads(circuit):
        solved = _road(easy, circuit)
        if solved is not None:
            return solved
    raise CycleNotSolved(
        f"{circuit.system.name}: no steady state was found at {circuit.charge * 1000:.0f} g, "
        f"{circuit.conditions.ambient - 273.15:.0f} °C and {circuit.conditions.compressor_rpm:.0f} rpm; "
        "change one of the settings a little, and please report this combination."
    )
