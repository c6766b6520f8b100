"""A sealed bottle of refrigerant: turn the temperature, watch the pressure; how much liquid there is hardly matters."""

import threading
from html import escape

import ipywidgets

from course.charts.pressure_temperature import draw_pressure_temperature
from course.charts.style import new_figure, svg_of
from course.errors import WorkbookError
from course.physics.at_rest import rest_pressure
from course.physics.refrigerant import REFRIGERANTS
from course.physics.system import load_system
from course.units import PA_PER_KPA, UNIT_SETS, display_units, to_display_pressure, to_display_temperature
from course.widgets.controls import WIDE, NumberControl
from course.widgets.layers import STYLE
from course.widgets.newest_wins import NewestWins
from course.widgets.preferences import remembered_units


class BottlePanel:
    """An engine-off car as a sealed bottle: temperature and charge in, standing pressure out."""

    def __init__(self, car="sedan", temperature_c=25.0, charge_percent=100.0, units=None):
        self.system = load_system(car)
        self.lock = threading.RLock()
        self.units = ipywidgets.Dropdown(
            options=[(chosen.label, key) for key, chosen in UNIT_SETS.items()], value=units or remembered_units(),
            description="Units", style={"description_width": "150px"}, layout=WIDE,
        )  # fmt: skip
        self.temperature = NumberControl("temperature_c", "Soak temperature", "°C", -10.0, 50.0, 0.5, temperature_c)
        self.charge = NumberControl("charge_percent", "Charge", "% of label", 0.0, 140.0, 1.0, charge_percent)
        self.temperature.show_units(display_units(self.units.value))
        self.picture, self.words = ipywidgets.HTML(), ipywidgets.HTML()
        self.newest = NewestWins(self.update)
        for control in (self.temperature, self.charge):
            control.observe(self.newest.request)
        self.units.observe(lambda change: self._units_changed(), names="value")
        self.update()

    def _units_changed(self):
        self.temperature.show_units(display_units(self.units.value))
        self.newest.request()

    def sentence(self):
        """What the gauges show, in one sentence."""
        units = display_units(self.units.value)
        digits = 2 if units.pressure == "bar" else 0
        shown = to_display_pressure(self.kpa * PA_PER_KPA, units)
        temperature = to_display_temperature(self.temperature.value, units)
        return (
            f"{REFRIGERANTS[self.system.refrigerant]} at {temperature:.0f} {units.temperature} with {self.charge.value:.0f} % "
            f"charge: both gauges show {shown:.{digits}f} {units.pressure} gauge."
        )

    def svg(self):
        """The P-T chart with the reading on it."""
        figure = new_figure(340.0, 280.0)
        axes = figure.add_axes((0.18, 0.16, 0.8, 0.78))
        reading = [("gauges", self.kpa)] if self.kpa > -60.0 else []
        draw_pressure_temperature(
            axes, [self.system.refrigerant], units=display_units(self.units.value), readings=reading
        )
        return svg_of(figure, self.sentence())

    def update(self):
        """Work the pressure out and redraw; a refusal is shown as its sentence and the last picture stays."""
        with self.lock:
            try:
                self.kpa = rest_pressure(
                    self.system, temperature_c=self.temperature.value, charge_fraction=self.charge.value / 100.0
                )
            except WorkbookError as refusal:
                self.words.value = f'<p class="workbook workbook-error" role="alert">{escape(str(refusal))}</p>'
                return
            self.picture.value = f'<div class="workbook" style="max-width:480px">{self.svg()}</div>'
            self.words.value = f'<p class="workbook" role="status" aria-live="polite">{escape(self.sentence())}</p>'

    def view(self):
        """The panel as one widget."""
        controls = ipywidgets.VBox([self.temperature.view, self.charge.view, self.units, self.words])
        panel = ipywidgets.Box([controls, self.picture])
        panel.add_class("workbook-panel")
        return ipywidgets.VBox([ipywidgets.HTML(STYLE), panel])

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = self.sentence()
        caption = escape(self.sentence())
        bundle["text/html"] = (
            f'{STYLE}<figure class="workbook" style="max-width:480px">{self.svg()}<figcaption>{caption}</figcaption></figure>'
        )
        return bundle


def show_bottle(**start):
    """The sealed bottle with a lesson's start values."""
    return BottlePanel(**start)
