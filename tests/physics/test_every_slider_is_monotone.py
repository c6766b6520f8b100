"""Each slider drives each gauge one way over its whole travel: no needle turns back on the way.

The directions are common practice, no source; that nothing turns back is a property asked of the model.
"""

import numpy as np
import pytest

from course.physics.bench import run_bench
from course.tables import system_ids

UP, DOWN = 1.0, -1.0
TRAVEL = {
    # slider: ends, low side, high side; by altitude a gauge reads higher because it counts from thinner air
    "ambient_c": (10.0, 50.0, UP, UP),
    "relative_humidity": (0.05, 0.95, UP, UP),
    "compressor_rpm": (600.0, 6000.0, DOWN, UP),
    "road_speed_km_h": (0.0, 200.0, DOWN, DOWN),
    "blower_fraction": (0.2, 1.0, UP, UP),
    "altitude_m": (0.0, 3000.0, UP, UP),
}
STEPS = 25
NOISE_KPA = 0.01  # ten times what the solver's tolerance moves a needle


@pytest.mark.parametrize("slider", TRAVEL)
@pytest.mark.parametrize("car", sorted(system_ids()))
def test_a_needle_never_turns_back(car, slider):
    start, end, low_way, high_way = TRAVEL[slider]
    runs = []
    for value in np.linspace(start, end, STEPS):
        runs.append(run_bench(car, **{slider: float(value)}, previous=runs[-1] if runs else None))
    for way, needle in ((low_way, "low_side_kpa_gauge"), (high_way, "high_side_kpa_gauge")):
        moved = way * np.diff([getattr(run, needle) for run in runs])
        assert moved.min() > -NOISE_KPA
        assert moved.sum() > 1.0
