"""The naive panel: a new figure for every step, in interactive_output. The benchmark runs this text as a notebook cell."""

import ipywidgets
from IPython.display import display
from matplotlib.figure import Figure

from course.charts.circuit import draw_circuit
from course.charts.gauges import draw_gauges
from course.charts.pressure_enthalpy import draw_pressure_enthalpy
from course.physics.bench import run_bench
from course.units import display_units
from course.widgets.readings_table import reading_pairs

units = display_units("psi_f")
charge = ipywidgets.IntSlider(100, 0, 140)


def draw(charge):
    run, healthy = run_bench("sedan", charge_fraction=charge / 100.0), run_bench("sedan")
    figure = Figure(figsize=(12.0, 6.6))
    draw_gauges(figure.add_subplot(221), run, units)
    draw_circuit(figure.add_subplot(223), run, units)
    draw_pressure_enthalpy(figure.add_subplot(122), "R134a", units=units, run=run, healthy=healthy)
    display(figure)
    print("\n".join(f"{name}: {value}" for name, value in reading_pairs(run, units)))


panel = ipywidgets.VBox([charge, ipywidgets.interactive_output(draw, {"charge": charge})])
panel.add_class("benchmark")
display(panel)
