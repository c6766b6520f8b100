"""The pictures of the bench: a still layer drawn once and a moving layer over it, of one fixed height.

Each layer is one HTML widget laid out by the same rules, so that everything that moves arrives in one message and is
painted in one frame: needles, circuit and cycle never show two different runs.
"""

from html import escape

import ipywidgets

from course.charts import circuit, gauges, pressure_enthalpy
from course.charts.shapes import svg
from course.charts.style import WIDTH
from course.widgets.page_style import STYLE
from course.widgets.readings_table import notes_html, readings_html


def still_layer(refrigerant, units):
    """What stays while a slider moves: the gauge faces and the P-h chart without a cycle."""
    space = svg([], WIDTH, circuit.HEIGHT, "")
    return _layer(gauges.gauge_faces_still_svg(units), space, "", pressure_enthalpy.still_svg(refrigerant, units), "")


def moving_layer(run, healthy, units):
    """What a run shows: needles, circuit, cycle, readings and notes."""
    return _layer(
        gauges.gauge_needles_svg(run, units),
        circuit.circuit_svg(run, units),
        notes_html(run),
        pressure_enthalpy.moving_svg(run, healthy, units),
        readings_html(run, units),
    )


def _layer(gauge_pair, loop, notes, chart, readings):
    return (
        f'<div class="workbook workbook-pictures"><div class="workbook-column"><div>{gauge_pair}</div><div>{loop}</div>{notes}</div>'
        f'<div class="workbook-column"><div>{chart}</div>{readings}</div></div>'
    )


class Layers:
    """Both layers as widgets; show() changes only what moves."""

    def __init__(self):
        self.still, self.moving = ipywidgets.HTML(), ipywidgets.HTML()
        self._shown = None

    def show(self, run, healthy, units):
        """Bring every picture up to a run."""
        if self._shown != (run.system.refrigerant, units.key):
            self._shown = (run.system.refrigerant, units.key)
            self.still.value = still_layer(run.system.refrigerant, units)
        self.moving.value = moving_layer(run, healthy, units)

    def view(self):
        """The layers one over the other."""
        stack = ipywidgets.Box([self.still, self.moving])
        stack.add_class("workbook-stack")
        return stack


def still_page(run, healthy, units, caption):
    """All pictures of a run as one captioned figure, for stored notebooks and printed pages."""
    layers = still_layer(run.system.refrigerant, units), moving_layer(run, healthy, units)
    stacked = "".join(f"<div>{layer}</div>" for layer in layers)
    return (
        f'{STYLE}<figure class="workbook workbook-bench" style="margin:0"><div class="workbook-stack">{stacked}</div>'
        f"<figcaption>{escape(caption)}</figcaption></figure>"
    )
