"""The charge curve: one car on one day from nearly empty to too full, and every reading at the charge now."""

from course.charts.charge_curve import charge_now_svg, describe_charge_curve, draw_charge_curve
from course.charts.style import new_figure, svg_of
from course.charts.words import degrees
from course.physics.bench import charge_curve, run_bench
from course.physics.car_file import load_system
from course.tables import system_ids
from course.units import G_PER_KG, display_units
from course.widgets.controls import NumberControl
from course.widgets.readings_table import readings_html, sentence
from course.widgets.service_panel import ServicePanel, answered, choice, units_choice

DAYS_C = (25.0, 35.0, 43.0)  # °C outside: a mild, a hot and a very hot day, as the learner may choose
SIZE = (340.0, 440.0)  # px of the picture


def _day(warm):
    """A day in both degrees, so that its name holds whatever the learner's units are."""
    return f"{degrees(warm, display_units('kpa_c'))} ({degrees(warm, display_units('psi_f'))})"


class ChargeCurvePanel(ServicePanel):
    """One car on one day over its charge, with a line at the charge now."""

    def __init__(self, car="sedan", ambient_c=35.0, charge_percent=100):
        self.units = units_choice()
        self.car = choice("Car", [(load_system(key).name, key) for key in system_ids()], car)
        self.day = choice("Day", [(_day(warm), warm) for warm in DAYS_C], ambient_c)
        self.charge = NumberControl("charge_percent", "Charge", "% of label", 10, 140, 1, 100)
        self.charge.value = charge_percent
        self.drawn = self.pictured = self.run = None
        super().__init__(self.car, self.day, self.charge, self.units)

    def compute(self):
        """The whole curve when car or day is new; the charge now each time."""
        drawn = self.car.value, self.day.value
        curve = self.curve if drawn == self.drawn else charge_curve(drawn[0], ambient_c=drawn[1])
        share = self.charge.value / 100.0
        run = run_bench(drawn[0], ambient_c=drawn[1], charge_fraction=share, previous=self.run)
        self.drawn, self.curve, self.run = drawn, curve, run

    def sentence(self):
        """The curve, then the charge now, in words."""
        return f"{describe_charge_curve(self.curve, self.shown_units)} {sentence(self.run, self.shown_units)}"

    def message(self):
        """The same, the charge now with its weight."""
        now = f"Now {G_PER_KG * self.run.charge_kg:.0f} g. {sentence(self.run, self.shown_units)}"
        return answered(describe_charge_curve(self.curve, self.shown_units), now, *self.run.notes)

    def _still(self):
        """The curve, drawn anew for another car, day or unit alone."""
        drawn = (*self.drawn, self.shown_units.key)
        if self.pictured is None or self.pictured[0] != drawn:
            figure = new_figure(*SIZE)
            draw_charge_curve(figure, self.curve, self.shown_units)
            self.pictured = drawn, svg_of(figure, describe_charge_curve(self.curve, self.shown_units))
        return self.pictured[1]

    def page(self):
        """The curve with the line of now, and the readings of now beside it; below it on a phone."""
        layers = f"<div>{self._still()}</div><div>{charge_now_svg(self.run, *SIZE)}</div>"
        readings = readings_html(self.run, self.shown_units)
        return f'<div class="workbook workbook-pictures"><div class="workbook-stack">{layers}</div><div>{readings}</div></div>'


def show_charge_curve(**start):
    """A charge curve with a lesson's start values."""
    return ChargeCurvePanel(**start)
