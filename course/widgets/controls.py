"""Controls with a name a screen reader can say: a slider paired with a box for the number."""

import ipywidgets

from course.units import display_units

WIDE = ipywidgets.Layout(width="100%")


class NumberControl:
    """One number: a slider and a linked, named box. Values are in the simulator's outside unit; the learner's is shown."""

    def __init__(self, name, label, unit, low, high, step, value, digits=0):
        self.name, self.label, self.unit = name, label, unit
        self.low, self.high, self.step, self.first, self.digits = low, high, step, value, digits
        self._fahrenheit = False
        self.slider = ipywidgets.FloatSlider(
            value=value,
            min=low,
            max=high,
            step=step,
            readout=False,
            continuous_update=True,
            layout=ipywidgets.Layout(width="auto", flex="1 1 90px", min_width="80px"),
        )
        self.box = ipywidgets.BoundedFloatText(
            value=value,
            min=low,
            max=high,
            step=step,
            description=f"{label}, {unit}",
            style={"description_width": "150px"},
            layout=ipywidgets.Layout(width="232px"),
        )
        ipywidgets.link((self.slider, "value"), (self.box, "value"))
        self.view = ipywidgets.HBox([self.box, self.slider], layout=WIDE)
        self.view.add_class("workbook-number")

    def _shown(self, value):
        return value * 1.8 + 32.0 if self._fahrenheit else value

    @property
    def value(self):
        """The number in the simulator's outside unit."""
        shown = self.slider.value
        return (shown - 32.0) / 1.8 if self._fahrenheit else shown

    @value.setter
    def value(self, value):
        self.slider.value = self._shown(value)

    def show_units(self, units):
        """Show a temperature in the learner's unit; the value itself stays."""
        if self.unit not in ("°C", "°F"):
            return
        value = self.value
        self._fahrenheit, self.unit = units.temperature == "°F", units.temperature
        low, high = self._shown(self.low), self._shown(self.high)
        for part in (self.slider, self.box):
            part.min, part.max = min(part.min, low), max(part.max, high)
            part.value = self._shown(value)
            part.min, part.max = low, high
        self.box.description = f"{self.label}, {self.unit}"

    def observe(self, call):
        """Call something after every change."""
        self.slider.observe(lambda change: call(), names="value")


def bench_numbers(units_key):
    """The bench's number controls by the name run_bench gives them."""
    controls = [
        NumberControl("ambient_c", "Outside air", "°C", 10.0, 50.0, 0.5, 35.0),
        NumberControl("humidity_percent", "Humidity", "%", 5.0, 95.0, 1.0, 40.0),
        NumberControl("compressor_rpm", "Compressor", "rpm", 600.0, 6000.0, 50.0, 1500.0),
        NumberControl("road_speed_km_h", "Road speed", "km/h", 0.0, 120.0, 5.0, 0.0),
        NumberControl("blower_percent", "Blower", "%", 20.0, 100.0, 5.0, 100.0),
        NumberControl("altitude_m", "Altitude", "m", 0.0, 3000.0, 50.0, 0.0),
        NumberControl("charge_percent", "Charge", "% of label", 0.0, 140.0, 1.0, 100.0),
        NumberControl("severity_percent", "Severity", "%", 0.0, 100.0, 1.0, 0.0),
    ]
    for control in controls:
        control.show_units(display_units(units_key))
    return {control.name: control for control in controls}
