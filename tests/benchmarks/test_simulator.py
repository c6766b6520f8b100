"""How quick the simulator is: cold, a slider moved one step, a whole charge curve, and the import."""

import random
import statistics
import subprocess
import sys
from functools import partial

from course.errors import CycleNotSolved
from course.physics.bench import charge_curve, run_bench
from course.physics.car_file import load_system
from course.physics.faults import fits
from course.tables import read_faults, system_ids

BOX = {
    "ambient_c": (10.0, 50.0),
    "relative_humidity": (0.05, 0.95),
    "compressor_rpm": (600.0, 6000.0),
    "charge_fraction": (0.0, 1.4),
    "altitude_m": (0.0, 3000.0),
}
STEPS = {"ambient_c": 0.5, "relative_humidity": 0.01, "compressor_rpm": 50.0, "charge_fraction": 0.01}
FIRST_RUN = "course.physics.bench; course.physics.bench.run_bench('sedan')"
# in one process: CoolProp alone takes seconds, and two such times differ by more than what is looked for
IMPORTS = "import time, CoolProp; began = time.perf_counter(); import {}; print(time.perf_counter() - began)"


def random_points(number, seed):
    """Points anywhere in the box, every second one with a fault."""
    dice = random.Random(seed)
    for count in range(number):
        car = dice.choice(sorted(system_ids()))
        settings = {name: dice.uniform(*ends) for name, ends in BOX.items()}
        if count % 2:
            fitting = [key for key in sorted(read_faults()) if fits(key, load_system(car))]
            settings["faults"] = {dice.choice(fitting): dice.random()}
        yield car, settings


def attempt(car, settings):
    """Run a point; a named refusal is an answer too and takes its time."""
    try:
        return run_bench(car, **settings)
    except CycleNotSolved:
        return None


def test_cold(results):
    jobs = [partial(attempt, car, settings) for car, settings in random_points(200, seed=1)]
    attempt("sedan", {})
    name = "run_bench, cold, anywhere in the box"
    assert results.measure(name, jobs, median_target=60.0, percentile_target=250.0) < 60.0


def test_warm(results):
    jobs = []
    for (car, settings), slider in zip(random_points(200, seed=2), list(STEPS) * 50, strict=True):
        before = attempt(car, settings)
        if before is None:
            continue
        step = STEPS[slider] if settings[slider] + STEPS[slider] < BOX[slider][1] else -STEPS[slider]
        moved = settings | {slider: settings[slider] + step, "previous": before}
        jobs.append(partial(attempt, car, moved))
    assert len(jobs) > 150
    name = "run_bench, warm, a slider moved one step"
    assert results.measure(name, jobs, median_target=8.0, percentile_target=30.0) < 8.0


def test_charge_curve(results):
    jobs = [partial(charge_curve, car) for car in system_ids()] * 3
    assert results.measure("charge curve of 27 charges", jobs) < 27 * 60.0


def test_import(results):
    def seconds(module):
        command = [sys.executable, "-c", IMPORTS.format(module)]
        return float(subprocess.run(command, capture_output=True, text=True, check=True).stdout)

    seconds("course.physics.bench")  # the first one reads the disk
    added = statistics.median(seconds("course.physics.bench") for _ in range(15))
    results.say(f"Importing the bench adds {added:.2f} s to importing CoolProp (asked: under 0.5 s).")
    first = statistics.median(seconds(FIRST_RUN) for _ in range(7)) - added
    results.say(f"The first run after it takes {first:.2f} s more: it loads scipy's root finder.")
    assert added < 0.5
