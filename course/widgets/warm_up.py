"""What a kernel does once, while its page is read, so that the first panels need not wait for it."""

from course.physics.bench import run_bench
from course.tables import system_ids
from course.units import UNIT_SETS
from course.widgets.layers import still_page


def warm_up():
    """Run every car once and draw one bench: solver, data files and letters are loaded then, and nothing is shown."""
    runs = [run_bench(car) for car in system_ids()]
    still_page(runs[0], runs[0], UNIT_SETS["psi_f"], "")
