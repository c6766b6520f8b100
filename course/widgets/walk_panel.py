"""A walk round the loop: one station after another, on the P-h chart and in words."""

from html import escape

import ipywidgets

from course.charts import pressure_enthalpy
from course.charts.circuit import state_at
from course.charts.shapes import Disc, svg
from course.charts.words import degrees, pressure_number, rounded
from course.errors import WorkbookError, check_choice
from course.physics.bench import run_bench
from course.tables import system_ids
from course.units import UNIT_SETS, display_units
from course.widgets.controls import NAMED, WIDE
from course.widgets.page_style import STYLE
from course.widgets.preferences import remember_units, remembered_units

# where the walk stops, and what happens from there to the next stop
STATIONS = {
    "compressor_inlet": ("Into the compressor", "The compressor lifts its pressure, and that makes it hot."),
    "compressor_outlet": ("Out of the compressor", "The condenser first only cools the hot vapour."),
    "condensing_starts": ("Condensing starts", "Outside air takes heat away: the temperature stays, vapour turns to liquid."),
    "condensing_ends": ("Condensing ends", "All is liquid; what the condenser takes now makes it colder: subcooling."),
    "condenser_outlet": ("Out of the condenser", "The metering device lets the pressure fall; no heat goes in or out."),
    "evaporator_inlet": ("Into the evaporator", "Cabin air brings heat: the temperature stays, liquid boils."),
    "evaporation_ends": ("Boiling ends", "All is vapour; what the cabin air brings now makes it warmer: superheat."),
    "evaporator_outlet": ("Out of the evaporator", "The suction line warms it a little on the way to the compressor."),
}  # fmt: skip


class WalkPanel:
    """The stations of one car's loop; choosing one marks it on the chart and reads it out."""

    def __init__(self, car="compact", units=None, **settings):
        self.keep_units = units is None
        self.run = run_bench(check_choice("car", car, system_ids()), **settings)
        if not self.run.cycle_points:
            raise WorkbookError(
                "walk round the loop: the compressor is at rest in this setting, so there is no loop to walk; "
                "give the car its charge and leave its faults out."
            )
        self.points = {point.name: point for point in self.run.cycle_points}
        self.stations = [name for name in STATIONS if name in self.points]
        key = remembered_units() if units is None else check_choice("units", units, UNIT_SETS)
        self.station = ipywidgets.RadioButtons(
            options=[(f"{number} {STATIONS[name][0]}", name) for number, name in enumerate(self.stations, start=1)],
            layout=WIDE,
        )
        self.station.add_class("workbook-choice")
        self.onward = ipywidgets.Button(description="Next station", tooltip="Go on round the loop")
        self.units = ipywidgets.Dropdown(
            options=[(chosen.label, key) for key, chosen in UNIT_SETS.items()],
            value=key,
            description="Units",
            style=NAMED,
            layout=WIDE,
        )
        self.still, self.moving, self.words = ipywidgets.HTML(), ipywidgets.HTML(), ipywidgets.HTML()
        self.station.observe(lambda change: self.update(), names="value")
        self.onward.on_click(lambda button: self.go_on())
        self.units.observe(lambda change: self._units_changed(), names="value")
        self.update()

    def _units_changed(self):
        if self.keep_units:
            remember_units(self.units.value)
        self.update()

    def go_on(self):
        """Walk to the next station; after the last comes the first."""
        here = self.stations.index(self.station.value)
        self.station.value = self.stations[(here + 1) % len(self.stations)]

    def reading(self, name):
        """What is found at a station."""
        units, point = display_units(self.units.value), self.points[name]
        return (
            f"{STATIONS[name][0]}: {state_at(self.run, name)}, {degrees(point.temperature_c, units)}, "
            f"{pressure_number(point.pressure_kpa_absolute, units)} {units.pressure} absolute, "
            f"heat content {rounded(point.enthalpy_kj_kg)} kJ/kg."
        )

    def _marked(self):
        units, point = display_units(self.units.value), self.points[self.station.value]
        place = pressure_enthalpy.to_pixels(
            self.run.system.refrigerant, units, point.enthalpy_kj_kg, point.pressure_kpa_absolute
        )
        mark = svg([Disc(*place, 9.0, width=3.5)], pressure_enthalpy.WIDTH, pressure_enthalpy.HEIGHT, "")
        cycle = pressure_enthalpy.moving_svg(self.run, None, units)
        return f'<div class="workbook workbook-stack"><div>{cycle}</div><div>{mark}</div></div>'

    def update(self):
        """Mark the chosen station and read it out."""
        chart = pressure_enthalpy.still_svg(self.run.system.refrigerant, display_units(self.units.value))
        self.still.value = f'<div class="workbook">{chart}</div>'
        self.moving.value = self._marked()
        name = self.station.value
        self.words.value = (
            f'<p class="workbook workbook-answer" role="status" aria-live="polite">{escape(self.reading(name))} '
            f"{escape(STATIONS[name][1])}</p>"
        )

    def view(self):
        """The panel as one widget."""
        left = ipywidgets.VBox([self.station, self.onward, self.units, self.words])
        chart = ipywidgets.Box([self.still, self.moving])
        chart.add_class("workbook-stack")
        chart.add_class("workbook-single")
        panel = ipywidgets.Box([left, chart])
        panel.add_class("workbook-panel")
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        title = f"A walk round the loop of the {self.run.system.name.lower()}."
        bundle["text/plain"] = " ".join([title, *(self.reading(name) for name in self.stations)])
        rows = "".join(f"<li>{escape(self.reading(name))} {escape(STATIONS[name][1])}</li>" for name in self.stations)
        bundle["text/html"] = (
            f'{STYLE}<figure class="workbook workbook-bench" style="margin:0"><div class="workbook-stack workbook-single">'
            f"<div>{self.still.value}</div><div>{self.moving.value}</div></div>"
            f"<figcaption>{escape(title)}<ol>{rows}</ol></figcaption></figure>"
        )
        return bundle


def show_walk(**start):
    """The walk round the loop with a lesson's car and day."""
    return WalkPanel(**start)
