"""What every benchmark shares: the yardstick of the same run, and the page the results are written to."""

import platform
import statistics
import time
from datetime import date
from pathlib import Path

import CoolProp
import pytest

PAGE = Path(__file__).with_name("results.md")
YARDSTICK_CALLS = 10_000


def percentile_99(samples):
    """The value that 99 of 100 samples do not pass."""
    ordered = sorted(samples)
    return ordered[min(len(ordered) - 1, round(0.99 * len(ordered)))]


def saturation_yardstick():
    """Time of 10,000 saturation calls at the lowest level [ms]: what this machine is worth at this moment."""
    state = CoolProp.AbstractState("HEOS", "R134a")

    taken = []
    for _ in range(3):
        began = time.perf_counter()
        for number in range(YARDSTICK_CALLS):
            state.update(CoolProp.PQ_INPUTS, 2.0e5 + number, 1.0)
        taken.append(1000.0 * (time.perf_counter() - began))
    return statistics.median(taken)


def machine():
    """The machine in one line."""
    cores, name = 0, platform.processor() or platform.machine()
    for line in Path("/proc/cpuinfo").read_text(encoding="utf-8").splitlines():
        cores += line.startswith("processor")
        if line.startswith("model name"):
            name = line.split(":", 1)[1].strip()
    return f"{cores} cores of {name}, {platform.system()}, Python {platform.python_version()}"


class Results:
    """The rows of the results page."""

    def __init__(self):
        self.yardstick = saturation_yardstick()
        self.rows, self.sentences = [], []

    def measure(self, name, jobs, **targets):
        """Time each of some jobs and note them; returns their median [ms]."""
        samples = []
        for job in jobs:
            began = time.perf_counter()
            job()
            samples.append(1000.0 * (time.perf_counter() - began))
        return self.note(name, samples, **targets)

    def note(self, name, samples, median_target=None, percentile_target=None):
        """Note the samples of one job and what was asked of it; returns their median."""
        median, worst = statistics.median(samples), percentile_99(samples)
        asked = " / ".join("-" if target is None else f"{target:g}" for target in (median_target, percentile_target))
        self.rows.append(
            f"| {name} | {len(samples)} | {median:.1f} | {worst:.1f} | {asked} | {median / self.yardstick:.3f} |"
        )
        return median

    def say(self, sentence):
        """Note a finding that is not a time."""
        self.sentences.append(f"- {sentence}")

    def page(self):
        """The page as text."""
        return "\n".join(
            [
                "# What the benchmarks measured",
                "",
                f"On {machine()}; CoolProp {CoolProp.__version__}; {date.today().isoformat()}.",
                f"{YARDSTICK_CALLS:,} low-level saturation calls took {self.yardstick:.0f} ms in the same run.",
                "Times in milliseconds. The last column is the median as a multiple of those calls.",
                "",
                "| Job | Runs | Median | 99th percentile | Asked: median / 99th | Multiple |",
                "|---|---|---|---|---|---|",
                *self.rows,
                "",
                *self.sentences,
                "",
                "Measured again with: `python -m pytest tests/benchmarks`.",
                "",
            ]
        )


@pytest.fixture(scope="session")
def results():
    noted = Results()
    yield noted
    PAGE.write_text(noted.page(), encoding="utf-8")
