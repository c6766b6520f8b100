"""The bench: controls on the left, gauges and circuit, the P-h chart, and every reading, moving together."""

import threading
from html import escape

import ipywidgets

from course.errors import UnknownChoice, WorkbookError
from course.physics.bench import run_bench
from course.physics.faults import fits
from course.physics.system import load_system
from course.tables import read_faults, system_ids
from course.units import UNIT_SETS, display_units
from course.widgets.controls import WIDE, bench_numbers
from course.widgets.layers import STYLE, Layers, still_page
from course.widgets.newest_wins import NewestWins
from course.widgets.preferences import remember_units, remembered_units
from course.widgets.readings_table import notes_html, readings_html, sentence

NAMED = {"description_width": "150px"}
NO_FAULT = "none"
CONTROL_NAMES = (
    "car", "ambient_c", "humidity_percent", "compressor_rpm", "road_speed_km_h", "blower_percent", "recirculate",
    "altitude_m", "charge_percent", "fault", "severity_percent",
)  # fmt: skip


class BenchPanel:
    """The whole bench; only the named controls are shown, all when none is named."""

    def __init__(self, controls=None, units=None, **start):
        self.shown = CONTROL_NAMES if controls is None else tuple(controls)
        unknown = [name for name in (*self.shown, *start) if name not in CONTROL_NAMES]
        if unknown:
            raise UnknownChoice(f"bench control: {unknown[0]!r} is not known; choose from {', '.join(CONTROL_NAMES)}.")
        self.lock = threading.RLock()
        self.start = start
        self.run = self.healthy = None
        self.keep_units = units is None
        self.units = ipywidgets.Dropdown(
            options=[(chosen.label, key) for key, chosen in UNIT_SETS.items()], value=units or remembered_units(),
            description="Units", style=NAMED, layout=WIDE,
        )  # fmt: skip
        self.numbers = bench_numbers(self.units.value)
        cars = [(load_system(key).name, key) for key in system_ids()]
        self.car = ipywidgets.Dropdown(options=cars, value="sedan", description="Car", style=NAMED, layout=WIDE)
        self.fault = ipywidgets.Dropdown(
            options=self._faults(), value=NO_FAULT, description="Fault", style=NAMED, layout=WIDE
        )
        self.recirculate = ipywidgets.Checkbox(description="Recirculate cabin air", indent=False, layout=WIDE)
        self.compare = ipywidgets.Checkbox(
            value=True, description="Compare with healthy (grey)", indent=False, layout=WIDE
        )
        self.reset_button = ipywidgets.Button(description="Reset", layout=WIDE)
        self.layers = Layers()
        self.readings, self.notes, self.error, self.words = (ipywidgets.HTML() for _ in range(4))
        self.newest = NewestWins(self.update)
        self._apply_start()
        self._listen()
        self.update()

    def _faults(self):
        system = load_system(self.car.value) if hasattr(self, "car") else load_system("sedan")
        return [("None", NO_FAULT)] + [(fault.name, key) for key, fault in read_faults().items() if fits(key, system)]

    def _apply_start(self):
        for name, value in self.start.items():
            self._set(name, value)

    def _set(self, name, value):
        if name in self.numbers:
            self.numbers[name].value = value
        else:
            getattr(self, name).value = value

    def _listen(self):
        for control in self.numbers.values():
            control.observe(self.newest.request)
        for widget in (self.fault, self.recirculate, self.compare):
            widget.observe(lambda change: self.newest.request(), names="value")
        self.car.observe(lambda change: self._car_changed(), names="value")
        self.units.observe(lambda change: self._units_changed(), names="value")
        self.reset_button.on_click(lambda button: self.reset())

    def _car_changed(self):
        chosen, options = self.fault.value, self._faults()
        self.fault.options = options
        self.fault.value = chosen if chosen in [key for _, key in options] else NO_FAULT
        self.newest.request()

    def _units_changed(self):
        if self.keep_units:
            remember_units(self.units.value)
        with self.lock:
            for control in self.numbers.values():
                control.show_units(display_units(self.units.value))
        self.newest.request()

    def settings(self):
        """What the controls say, as run_bench takes it."""
        value = {name: control.value for name, control in self.numbers.items()}
        faults = {} if self.fault.value == NO_FAULT else {self.fault.value: value["severity_percent"] / 100.0}
        return {
            "ambient_c": value["ambient_c"],
            "relative_humidity": value["humidity_percent"] / 100.0,
            "compressor_rpm": value["compressor_rpm"],
            "road_speed_km_h": value["road_speed_km_h"],
            "blower_fraction": value["blower_percent"] / 100.0,
            "altitude_m": value["altitude_m"],
            "recirculate": self.recirculate.value,
            "charge_fraction": value["charge_percent"] / 100.0,
            "faults": faults,
        }

    def update(self):
        """Run the bench and redraw; when that is refused the sentence appears and the last good picture stays."""
        with self.lock:
            settings, units = self.settings(), display_units(self.units.value)
            try:
                run = run_bench(self.car.value, previous=self.run, **settings)
                healthy = None
                if self.compare.value:
                    well = settings | {"charge_fraction": 1.0, "faults": {}}
                    healthy = run_bench(self.car.value, previous=self.healthy, **well)
            except WorkbookError as refusal:
                self.error.value = f'<p class="workbook workbook-error" role="alert">{escape(str(refusal))}</p>'
                return
            self.run, self.healthy = run, healthy
            self.layers.show(run, healthy, units)
            self.readings.value = readings_html(run, units)
            self.notes.value = notes_html(run)
            self.error.value = '<p class="workbook workbook-error"></p>'
            self.words.value = f'<p class="workbook workbook-sentence" role="status" aria-live="polite">{escape(sentence(run, units))}</p>'

    def reset(self):
        """Put every control back to where the lesson began."""
        with self.lock:
            for control in self.numbers.values():
                control.value = control.first
            self.car.value, self.fault.value, self.recirculate.value = "sedan", NO_FAULT, False
            self._apply_start()
        self.newest.request()

    def view(self):
        """The panel as one widget."""
        named = {"car": self.car, "fault": self.fault, "recirculate": self.recirculate}
        parts = [named[name] if name in named else self.numbers[name].view for name in self.shown]
        left = ipywidgets.VBox([*parts, self.units, self.compare, self.reset_button, self.error])
        gauges, circuit, chart = self.layers.stacks()
        middle = ipywidgets.VBox([gauges, circuit])
        right = ipywidgets.VBox([chart, self.readings, self.notes])
        panel = ipywidgets.Box([left, middle, right])
        panel.add_class("workbook-panel")
        return ipywidgets.VBox([ipywidgets.HTML(STYLE), panel, self.words])

    def _repr_mimebundle_(self, **kwargs):
        units = display_units(self.units.value)
        words = sentence(self.run, units)
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = words
        bundle["text/html"] = still_page(self.run, self.healthy, units, escape(words))
        return bundle


def show_bench(controls=None, units=None, **start):
    """The bench with a lesson's start values: controls names the ones to show, start gives first values."""
    return BenchPanel(controls, units, **start)
