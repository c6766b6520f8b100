"""Charging: by weight with hose and scale, and why two gauges cannot do it."""

from course.charts.charge_weight import describe_charge_weight, draw_charge_weight
from course.charts.gauges import describe_gauges, gauge_faces_still_svg, gauge_needles_svg
from course.charts.style import new_figure, svg_of
from course.charts.words import degrees, rounded
from course.physics.car_file import load_system
from course.service.charging import check_charge, hose_content_g
from course.service.same_gauges import same_gauges
from course.service.vacuum_flow import load_tube
from course.units import G_PER_KG, to_display_difference
from course.widgets.controls import NumberControl
from course.widgets.service_panel import ServicePanel, answered, choice, units_choice

CARS = (("Pickup", "pickup"), ("Sedan", "sedan"), ("Compact", "compact"))
HOSES = (("Thin, 3/16 inch", "hose_thin"), ("Usual, 1/4 inch", "hose_usual"), ("Wide, 3/8 inch", "hose_wide"))
FILLINGS = (("Full of liquid", "liquid"), ("Emptied to vapour", "vapour"), ("Not counted", ""))
SCALES = (
    ("10 g a reading", 10.0),
    ("5 g a reading", 5.0),
    ("2 g a reading", 2.0),
)  # one standard deviation of a reading
CHARGES = tuple((f"{percent} % of the label", percent / 100.0) for percent in (55, 60, 70, 85, 120))
SHOP_C = 25.0  # °C of the hose


class ChargingPanel(ServicePanel):
    """A charge from the cylinder's two weights."""

    def __init__(self, car="pickup", before_g=9000, after_g=8300, hose="hose_usual", filling="", scale_g=10.0):
        self.car = choice("Car", CARS, car)
        self.before = NumberControl("before_g", "Cylinder before", "g", 1000, 12000, 5, 9000)
        self.after = NumberControl("after_g", "Cylinder after", "g", 0, 12000, 5, 8300)
        self.before.value, self.after.value = before_g, after_g
        self.hose, self.filling = choice("Hose", HOSES, hose), choice("It ends", FILLINGS, filling)
        self.scale = choice("Scale error", SCALES, scale_g)
        super().__init__(self.car, self.before, self.after, self.hose, self.filling, self.scale)

    def compute(self):
        """Weigh."""
        system, tube = load_system(self.car.value), load_tube(self.hose.value)
        hose_g = 0.0
        if self.filling.value:
            size = 1e3 * tube.diameter_m, 1e3 * tube.length_m
            hose_g = hose_content_g(*size, system.refrigerant, SHOP_C, self.filling.value)
        check = check_charge(
            self.before.value,
            self.after.value,
            G_PER_KG * system.label_charge,
            hose_g=hose_g,
            scale_error_g=self.scale.value,
        )
        self.hose_g, self.check = hose_g, check

    def sentence(self):
        """The charge in words."""
        return f"{self.car.label}, label {self.check.label_g:.0f} g: {describe_charge_weight(self.check, self.hose_g)}"

    def message(self):
        """The same, below the controls."""
        return answered(self.sentence())

    def pictures(self):
        """Charge against label."""
        figure = new_figure(340.0, 190.0)
        draw_charge_weight(figure.add_axes((0.36, 0.26, 0.6, 0.6)), self.check, self.hose_g)
        return svg_of(figure, self.sentence())


class SameGaugesPanel(ServicePanel):
    """One car with two charges on two days, both with the same pair of needles."""

    def __init__(self, car="pickup", charge_fraction=0.55, ambient_c=30.0):
        self.units = units_choice()
        self.car, self.other = choice("Car", CARS[:2], car), choice("Other charge", CHARGES, charge_fraction)
        self.ambient = choice("First day", [(f"{warm:.0f} °C", warm) for warm in (25.0, 30.0, 35.0)], ambient_c)
        self.setting = None
        super().__init__(self.car, self.other, self.ambient, self.units)

    def compute(self):
        """Look for the other day."""
        setting = (self.car.value, self.other.value, self.ambient.value)
        if setting != self.setting:
            self.pair = same_gauges(setting[0], setting[1], ambient_c=setting[2])
            self.setting = setting

    def days(self):
        """Both days: name, run, weather and blower."""
        pair, units = self.pair, self.shown_units
        return (
            (
                f"{G_PER_KG * pair.full.charge_kg:.0f} g, as the label says",
                pair.full,
                f"{degrees(self.setting[2], units)}, blower 100 %",
            ),
            (
                f"{G_PER_KG * pair.other.charge_kg:.0f} g",
                pair.other,
                f"{degrees(pair.ambient_c, units)}, blower {100 * pair.blower_fraction:.0f} %",
            ),
        )

    def sentence(self):
        """Both days in words."""
        told = "; ".join(
            f"{name} on a day of {day}: {describe_gauges(run, self.shown_units)[:-1]}" for name, run, day in self.days()
        )
        return f"{self.car.label}: {told}."

    def message(self):
        """What differs although the needles do not."""
        units = self.shown_units
        kelvin = "°F" if units.temperature == "°F" else "K"
        lines = [
            f"{name}: superheat {rounded(to_display_difference(run.superheat_k, units))} {kelvin}, subcooling "
            f"{rounded(to_display_difference(run.subcooling_k, units))} {kelvin}, vent {degrees(run.vent_c, units)}."
            for name, run, _ in self.days()
        ]
        return answered("The needles agree; nothing on the dials tells these apart.", *lines)

    def pictures(self):
        """Two pairs of gauges, side by side where there is room."""
        still, cells = gauge_faces_still_svg(self.shown_units), ""
        for name, run, day in self.days():
            needles = gauge_needles_svg(run, self.shown_units)
            pair = f'<div class="workbook-stack"><div>{still}</div><div>{needles}</div></div>'
            pair = f'<div class="workbook-stack"><div>{still}</div><div>{needles}</div></div>'
            cells += f"<div><p><b>{name}</b> ({day})</p>{pair}</div>"
        return f'<div class="workbook-twins">{cells}</div>'

    def page(self):
        """Both pairs as wide as there is room."""
        return f'<div class="workbook">{self.pictures()}</div>'


def show_charging(**start):
    """A charge by weight with a lesson's start values."""
    return ChargingPanel(**start)


def show_same_gauges(**start):
    """Two charges behind one pair of needles."""
    return SameGaugesPanel(**start)
