"""Runs of the bench that show every picture at its ends: healthy, short, too full, starved, empty and at rest."""

import pytest

from course.physics.bench import run_bench

SETTINGS = {
    "healthy": ("sedan", {}),
    "short": ("pickup", {"charge_fraction": 0.45}),
    "short sedan": ("sedan", {"charge_fraction": 0.5}),
    "subcooled": ("compact", {"ambient_c": 45.0}),
    "too full": ("sedan", {"charge_fraction": 1.4, "ambient_c": 48.0, "faults": {"condenser_airflow_low": 1.0}}),
    "starved": ("sedan", {"faults": {"txv_stuck_closed": 1.0}}),
    "empty": ("pickup", {"charge_fraction": 0.0}),
    "at rest": ("pickup", {"faults": {"clutch_not_engaged": 1.0}}),
    "cold day": ("pickup", {"ambient_c": 12.0, "compressor_rpm": 4000.0}),
    "high up": ("sedan", {"altitude_m": 2500.0}),
}


@pytest.fixture(scope="session")
def runs():
    """Every run by its name."""
    return {name: run_bench(car, **settings) for name, (car, settings) in SETTINGS.items()}


@pytest.fixture(scope="session")
def healthy():
    """The healthy run to compare with, for each car."""
    return {car: run_bench(car) for car in ("sedan", "pickup", "compact")}
