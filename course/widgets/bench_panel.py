"""The bench: controls on the left, gauges and circuit, the P-h chart and every reading, moving together."""

import threading
from html import escape

import ipywidgets

from course.errors import WorkbookError, check_choice
from course.physics.bench import run_bench
from course.units import UNIT_SETS, display_units
from course.widgets.bench_controls import CONTROL_NAMES, BenchControls
from course.widgets.layers import Layers, still_page
from course.widgets.newest_wins import NewestWins
from course.widgets.page_style import STYLE
from course.widgets.preferences import remember_units, remembered_units
from course.widgets.readings_table import sentence


class BenchPanel:
    """The whole bench; only the named controls are shown, all when none is named."""

    pictures = Layers  # what a run is shown with; another panel may show the same run otherwise

    def __init__(self, controls=None, units=None, **start):
        key = remembered_units() if units is None else check_choice("units", units, UNIT_SETS)
        self.keep_units = units is None
        self.lock = threading.RLock()  # callbacks run in a thread of their own, beside the cell that made the panel
        self.run = self.healthy = None
        self._healthy_settings = None
        self.newest = NewestWins(self.update)
        self.layers = self.pictures()
        self.words = ipywidgets.HTML()
        self.controls = BenchControls(CONTROL_NAMES if controls is None else tuple(controls), key, start, self.newest)
        self.controls.units.observe(lambda change: self._units_changed(), names="value")
        self.update()

    @property
    def units(self):
        """The learner's units."""
        return display_units(self.controls.units.value)

    def _units_changed(self):
        if self.keep_units:
            remember_units(self.units.key)
        self.controls.show_units(self.units)

    def update(self):
        """Run the bench and redraw; when that is refused the sentence appears and the last good picture stays."""
        with self.lock:
            units = self.units
            try:
                run, healthy = self._runs(self.controls.car.value, self.controls.settings())
            except WorkbookError as refusal:
                self.words.value = (
                    f'<p class="workbook workbook-words workbook-error" role="alert">{escape(str(refusal))}</p>'
                )
                return
            self.run, self.healthy = run, healthy
            self.layers.show(run, healthy, units)
            self.words.value = (
                f'<p class="workbook workbook-words" role="status" aria-live="polite">{escape(self.sentence())}</p>'
            )

    def _runs(self, car, settings):
        """The run, and the healthy one to compare with: the same day, full charge, no fault."""
        run = run_bench(car, previous=self.run, **settings)
        if not self.controls.compare.value:
            return run, None
        well = settings | {"charge_fraction": 1.0, "faults": {}}
        if self.healthy is not None and self._healthy_settings == (car, well):
            return run, self.healthy
        healthy = run_bench(car, previous=self.healthy, **well)
        self._healthy_settings = (car, well)
        return run, healthy

    def sentence(self):
        """The run in one sentence."""
        return sentence(self.run, self.units)

    def still(self):
        """The run's pictures as one captioned figure."""
        return still_page(self.run, self.healthy, self.units, self.sentence())

    def view(self):
        """The panel as one widget."""
        left = ipywidgets.VBox([self.controls.view(), self.words])
        left.add_class("workbook-left")
        panel = ipywidgets.Box([left, self.layers.view()])
        panel.add_class("workbook-panel")
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = self.sentence()
        bundle["text/html"] = self.still()
        return bundle


def show_bench(controls=None, units=None, **start):
    """The bench with a lesson's start values: controls names the ones to show, start gives first values."""
    return BenchPanel(controls, units, **start)
