"""Controls with a name a screen reader can say: a slider paired with a box for the number."""

import ipywidgets

from course.errors import check_range
from course.units import display_units, from_display_temperature, to_display_temperature

NAMED = {"description_width": "150px"}
WIDE = {"width": "auto"}  # as wide as its column, the widget's own margins included


class NumberControl:
    """One number: a slider and a linked, named box. Values are in the simulator's outside unit; the learner's is shown."""

    def __init__(self, name, label, unit, low, high, step, value):
        self.name, self.label, self.unit = name, label, unit
        self.low, self.high, self.first = low, high, value
        self._units = None
        # whole numbers get whole-number widgets: a float slider shows 40 as 40.00000000000001
        whole = unit != "°C"
        slider, box = (
            (ipywidgets.IntSlider, ipywidgets.BoundedIntText)
            if whole
            else (ipywidgets.FloatSlider, ipywidgets.BoundedFloatText)
        )
        number = int if whole else float
        limits = {"value": number(value), "min": number(low), "max": number(high), "step": number(step)}
        self.slider = slider(
            readout=False, layout=ipywidgets.Layout(width="auto", flex="1 1 90px", min_width="80px"), **limits
        )
        self.box = box(description=f"{label}, {unit}", style=NAMED, layout=ipywidgets.Layout(width="232px"), **limits)
        # a browser's float slider sends 86 back as 86.00000000000001, which the box would print
        rounding = (lambda value: round(value, 3),) * 2
        ipywidgets.link((self.slider, "value"), (self.box, "value"), transform=rounding)
        self.view = ipywidgets.HBox([self.box, self.slider], layout=WIDE)
        self.view.add_class("workbook-number")

    def _shown(self, value):
        return round(to_display_temperature(value, self._units), 6) if self._units else value

    @property
    def value(self):
        """The number in the simulator's outside unit."""
        shown = float(self.slider.value)
        return from_display_temperature(shown, self._units) if self._units else shown

    @value.setter
    def value(self, value):
        unit = "°C" if self._units else self.unit
        # a slider on its own would quietly put a number outside its range to the nearest end
        value = check_range(self.label.lower(), value, self.low, self.high, unit, f"give {self.name} in that range")
        self.slider.value = self._shown(value) if isinstance(self.slider, ipywidgets.FloatSlider) else round(value)

    @property
    def enabled(self):
        """Whether the learner can move it."""
        return not self.slider.disabled

    @enabled.setter
    def enabled(self, enabled):
        self.slider.disabled = self.box.disabled = not enabled

    def show_units(self, units):
        """Show a temperature in the learner's unit; the value itself stays."""
        if self.unit not in ("°C", "°F"):
            return
        value = self.value
        self._units, self.unit = units, units.temperature
        low, high = self._shown(self.low), self._shown(self.high)
        for part in (self.slider, self.box):
            part.min, part.max = min(part.min, low), max(part.max, high)
            part.value = self._shown(value)
            part.min, part.max, part.step = low, high, 1.0 if units.temperature == "°F" else 0.5
        self.box.description = f"{self.label}, {self.unit}"

    def observe(self, call):
        """Call something after every change."""
        self.slider.observe(lambda change: call(), names="value")


def bench_numbers(units_key):
    """The bench's number controls by the name run_bench gives them."""
    controls = [
        NumberControl("ambient_c", "Outside air", "°C", 10.0, 50.0, 0.5, 35.0),
        NumberControl("humidity_percent", "Humidity", "%", 5.0, 95.0, 1.0, 40.0),
        NumberControl("altitude_m", "Altitude", "m", 0.0, 3000.0, 50.0, 0.0),
        NumberControl("compressor_rpm", "Compressor", "rpm", 600.0, 6000.0, 50.0, 1500.0),
        NumberControl("road_speed_km_h", "Road speed", "km/h", 0.0, 120.0, 5.0, 0.0),
        NumberControl("blower_percent", "Blower", "%", 20.0, 100.0, 5.0, 100.0),
        NumberControl("cabin_c", "Cabin air", "°C", 5.0, 60.0, 0.5, 25.0),
        NumberControl("charge_percent", "Charge", "% of label", 0.0, 140.0, 1.0, 100.0),
        NumberControl("severity_percent", "Severity", "%", 0.0, 100.0, 1.0, 0.0),
    ]
    for control in controls:
        control.show_units(display_units(units_key))
    return {control.name: control for control in controls}
