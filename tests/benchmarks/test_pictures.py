"""How quick the pictures are: on paper by matplotlib, and the moving layers on the screen."""

from functools import partial

from course.charts import charge_curve, circuit, gauges, moist_air_process, pressure_enthalpy, pressure_temperature
from course.charts.style import new_figure, svg_of
from course.physics.bench import charge_curve as run_charge_curve
from course.physics.bench import run_bench
from course.units import display_units

UNITS = display_units("psi_f")


def on_paper(draw):
    """Draw on an axes of a new figure and store it as SVG."""
    figure = new_figure()
    draw(figure.add_subplot())
    return svg_of(figure, "a chart")


def test_on_paper(results):
    healthy, run = run_bench("sedan"), run_bench("sedan", charge_fraction=0.6)
    runs = run_charge_curve("sedan")
    drawings = {
        "P-h chart": lambda axes: pressure_enthalpy.draw_pressure_enthalpy(
            axes, "R134a", units=UNITS, run=run, healthy=healthy
        ),
        "P-T chart": lambda axes: pressure_temperature.draw_pressure_temperature(axes, ["R134a"], units=UNITS),
        "gauges": lambda axes: gauges.draw_gauges(axes, run, UNITS),
        "circuit": lambda axes: circuit.draw_circuit(axes, run, UNITS),
        "moist air": lambda axes: moist_air_process.draw_moist_air(axes, run, UNITS),
        "charge curve": lambda axes: charge_curve.draw_charge_curve(axes.figure, runs, UNITS),
    }
    for name, draw in drawings.items():
        on_paper(draw)
        assert results.measure(f"{name} by matplotlib, as SVG", [partial(on_paper, draw)] * 9) > 0.0


def test_on_the_screen(results):
    runs = run_charge_curve("sedan")
    for run in runs:
        pressure_enthalpy.still_svg(run.system.refrigerant, UNITS)

    def moving(run):
        gauges.gauge_needles_svg(run, UNITS)
        circuit.circuit_svg(run, UNITS)
        pressure_enthalpy.moving_svg(run, runs[-9], UNITS)

    jobs = [partial(moving, run) for run in runs] * 4
    assert results.measure("all moving layers of the bench", jobs, median_target=5.0) < 5.0
