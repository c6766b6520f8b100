"""Controls with a name a screen reader can say: a slider paired with a box for the number."""

import ipywidgets

from course.units import display_units, from_display_temperature, to_display_temperature

WIDE = ipywidgets.Layout(width="100%")


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
        self.box = box(
            description=f"{label}, {unit}",
            style={"description_width": "150px"},
            layout=ipywidgets.Layout(width="232px"),
            **limits,
        )
        ipywidgets.link((self.slider, "value"), (self.box, "value"))
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
        self.slider.value = self._shown(value) if isinstance(self.slider, ipywidgets.FloatSlider) else round(value)

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
