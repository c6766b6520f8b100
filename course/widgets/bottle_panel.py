"""A sealed bottle of refrigerant: turn the temperature, watch the pressure; how much liquid there is hardly matters."""

import threading
from html import escape

import ipywidgets

from course.charts.bottle import bottle_svg
from course.charts.pressure_temperature import draw_pressure_temperature
from course.charts.style import new_figure, svg_of
from course.charts.words import degrees, pressure_number
from course.errors import WorkbookError, check_choice
from course.physics.at_rest import rest_pressure, rest_state
from course.physics.car_file import load_system
from course.physics.refrigerant import REFRIGERANTS, saturation_at_temperature
from course.physics.system import MOST_CHARGE_FRACTION
from course.units import PA_PER_KPA, UNIT_SETS, celsius_to_kelvin, display_units, gauge_from_absolute_pa
from course.widgets.controls import NAMED, WIDE, NumberControl
from course.widgets.newest_wins import NewestWins
from course.widgets.page_style import STYLE
from course.widgets.preferences import remember_units, remembered_units

LOWEST_ON_CHART_KPA = -60.0  # gauge: below this the reading lies outside the chart's frame


class BottlePanel:
    """An engine-off car as a sealed bottle: temperature and charge in, standing pressure out."""

    def __init__(self, car="sedan", temperature_c=25.0, charge_percent=100.0, beside=None, units=None):
        self.system = load_system(car)
        # a second refrigerant whose bottle, with liquid in it, stands in the same warmth
        self.beside = None if beside is None else check_choice("refrigerant beside it", beside, REFRIGERANTS)
        self.keep_units = units is None
        self.lock = threading.RLock()
        self.units = ipywidgets.Dropdown(
            options=[(chosen.label, key) for key, chosen in UNIT_SETS.items()],
            value=remembered_units() if units is None else check_choice("units", units, UNIT_SETS),
            description="Units",
            style=NAMED,
            layout=WIDE,
        )
        self.temperature = NumberControl("temperature_c", "Soak temperature", "°C", -10.0, 50.0, 0.5, 25.0)
        self.charge = NumberControl("charge_percent", "Charge", "% of label", 0.0, 140.0, 1.0, 100.0)
        self.temperature.value, self.charge.value = temperature_c, charge_percent
        self.temperature.show_units(display_units(self.units.value))
        self.picture, self.words = ipywidgets.HTML(), ipywidgets.HTML()
        self.newest = NewestWins(self.update)
        for control in (self.temperature, self.charge):
            control.observe(self.newest.request)
        self.units.observe(lambda change: self._units_changed(), names="value")
        self.update()

    def _units_changed(self):
        if self.keep_units:
            remember_units(self.units.value)
        with self.newest.held():
            self.temperature.show_units(display_units(self.units.value))
            self.newest.request()

    def sentence(self):
        """What the gauges show, in one sentence."""
        units = display_units(self.units.value)
        return (
            f"{REFRIGERANTS[self.system.refrigerant]} at {degrees(self.temperature.value, units)} with "
            f"{self.charge.value:.0f} % charge: both gauges show {pressure_number(self.kpa, units)} {units.pressure} gauge, "
            f"{'liquid is left' if self.liquid_kg > 0.0 else 'no liquid is left'}.{self._other_sentence(units)}"
        )

    def _other_sentence(self, units):
        """What the second refrigerant shows with liquid in its bottle; empty where there is none."""
        if self.beside is None:
            return ""
        boiling = saturation_at_temperature(self.beside, celsius_to_kelvin(self.temperature.value)).pressure
        shown = pressure_number(gauge_from_absolute_pa(boiling) / PA_PER_KPA, units)
        return f" {REFRIGERANTS[self.beside]} in the same warmth: {shown} {units.pressure} gauge."

    def pictures(self):
        """The bottle beside the P-T chart with the reading on it."""
        figure = new_figure(340.0, 280.0)
        axes = figure.add_axes((0.18, 0.16, 0.8, 0.78))
        reading = [("gauges", self.kpa)] if self.kpa > LOWEST_ON_CHART_KPA else []
        drawn = [self.system.refrigerant] + ([] if self.beside is None else [self.beside])
        units = display_units(self.units.value)
        draw_pressure_temperature(axes, drawn, units=units, readings=reading, soak_c=self.temperature.value)
        full = MOST_CHARGE_FRACTION * self.system.label_charge
        bottle = bottle_svg(self.liquid_kg / full, "A sealed bottle")
        return f'<div class="workbook workbook-bottle"><div>{bottle}</div><div>{svg_of(figure, self.sentence())}</div></div>'

    def update(self):
        """Work the pressure out and redraw; a refusal is shown as its sentence and the last picture stays."""
        with self.lock:
            charge_fraction = self.charge.value / 100.0
            try:
                self.kpa = rest_pressure(
                    self.system, temperature_c=self.temperature.value, charge_fraction=charge_fraction
                )
                charge = charge_fraction * self.system.label_charge
                self.liquid_kg = rest_state(self.system, celsius_to_kelvin(self.temperature.value), charge).liquid
            except WorkbookError as refusal:
                self.words.value = (
                    f'<p class="workbook workbook-words workbook-error" role="alert">{escape(str(refusal))}</p>'
                )
                return
            self.picture.value = self.pictures()
            self.words.value = (
                f'<p class="workbook workbook-answer" role="status" aria-live="polite">{escape(self.sentence())}</p>'
            )

    def view(self):
        """The panel as one widget."""
        controls = ipywidgets.VBox([self.temperature.view, self.charge.view, self.units, self.words])
        picture = ipywidgets.Box([self.picture])
        picture.add_class("workbook-stack")
        panel = ipywidgets.Box([controls, picture])
        panel.add_class("workbook-panel")
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = self.sentence()
        caption = escape(self.sentence())
        bundle["text/html"] = (
            f'{STYLE}<figure class="workbook workbook-bench" style="margin:0"><div class="workbook-stack">'
            f"{self.pictures()}</div><figcaption>{caption}</figcaption></figure>"
        )
        return bundle


def show_bottle(**start):
    """The sealed bottle with a lesson's start values."""
    return BottlePanel(**start)
