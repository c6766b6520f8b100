"""The recovery bench: machine, shop and cylinder in; what the scale shows, what stays behind and how the pressure returns out."""

import ipywidgets

from course.charts.recovery_curve import cylinder_svg, describe_recovery, draw_recovery
from course.charts.style import new_figure, svg_of
from course.charts.words import degrees
from course.errors import OutOfRange, WorkbookError
from course.service.cylinder import check_cylinder
from course.service.recovery import left_behind_share, load_machine, recover, usual_car, wait
from course.tables import read_service_numbers
from course.widgets.controls import WIDE, NumberControl
from course.widgets.service_panel import ServicePanel, answered, choice, units_choice

MACHINES = (("Present standard, J2788", "machine_new"), ("Older standard, J2210", "machine_old"))
TESTED = {"machine_new": "new", "machine_old": "old"}
PLANS = (
    ("Recover once", ("recover",)),
    ("Recover, wait", ("recover", "wait")),
    ("Recover, wait, recover", ("recover", "wait", "recover")),
    ("The same, and wait", ("recover", "wait", "recover", "wait")),
)
CYLINDERS = (("27.2 L, empty 12 kg", (27.2, 12.0)), ("13.6 L, empty 8 kg", (13.6, 8.0)))  # invented


class RecoveryPanel(ServicePanel):
    """One car emptied into one cylinder by a plan of recovering and waiting."""

    def __init__(self, machine="machine_old", temperature_c=21.0, steps=1, show_left=False, charge_kg=None):
        self.charge_kg = charge_kg
        self.units = units_choice()
        self.machine = choice("Machine", MACHINES, machine)
        self.plan = choice("Plan", PLANS, PLANS[steps - 1][1])
        self.temperature = NumberControl("temperature_c", "Shop and car", "°C", 5.0, 40.0, 1.0, 21.0)
        self.temperature.value = temperature_c
        self.temperature.show_units(self.shown_units)
        self.cylinder = choice("Cylinder", CYLINDERS)
        self.holds = NumberControl("holds_kg", "It holds", "kg", 0.0, 30.0, 1.0, 5.0)
        self.hottest = NumberControl("hottest_c", "Hottest storage", "°C", 40.0, 65.0, 1.0, 54.0)
        self.hottest.show_units(self.shown_units)
        self.left = ipywidgets.Checkbox(
            value=show_left, description="Show what is still in the car", indent=False, layout=WIDE
        )
        super().__init__(
            self.machine, self.temperature, self.plan, self.left, self.cylinder, self.holds, self.hottest, self.units
        )

    def _weighed(self, more_kg):
        """The cylinder with this car's refrigerant in it; refuses past its limit."""
        volume, tare = self.cylinder.value
        return check_cylinder(volume, self.car.refrigerant, tare + self.holds.value + more_kg, tare, self.hottest.value)

    def compute(self):
        """Check the cylinder for the whole charge first, then follow the plan."""
        for control in (self.temperature, self.hottest):
            control.show_units(self.shown_units)
        settings = {} if self.charge_kg is None else {"charge_kg": self.charge_kg}
        self.car = usual_car(temperature_c=self.temperature.value, **settings)
        label_kg = read_service_numbers("recovery").value("published", "test_charge_kg")
        try:
            self._weighed(label_kg)
        except OutOfRange as refusal:
            raise OutOfRange(f"Not begun: with this car's {label_kg:g} kg the {refusal}") from None
        machine, stretches = load_machine(self.machine.value), []
        for step in self.plan.value:
            before = stretches[-1][1] if stretches else None
            stretches.append(
                (step, recover(self.car, machine, before=before) if step == "recover" else wait(before, self._wait()))
            )
        self.stretches = stretches
        self.before, self.after = self._weighed(0.0), self._weighed(stretches[-1][1].recovered_kg[-1])

    def _wait(self):
        return read_service_numbers("recovery").value("published", "rebound_min")

    def published(self):
        """What tests of such machines found, where there are any at this temperature."""
        try:
            least, most = left_behind_share(TESTED[self.machine.value], self.temperature.value)
        except WorkbookError:
            return ""
        span = f"{100 * least:.0f}" if least == most else f"{100 * least:.0f} to {100 * most:.0f}"
        return f"Published tests of such machines at this temperature: {span} % stayed in the car."

    def cylinder_sentence(self):
        """What the cylinder may still take."""
        return f"Cylinder: {self.after.holds_kg:.2f} kg of {self.after.limit_kg:.2f} kg allowed; room for {self.after.room_kg:.2f} kg."

    def sentence(self):
        """The recovery in words."""
        told = describe_recovery(self.stretches, self.shown_units, self.left.value)
        warm = degrees(self.temperature.value, self.shown_units)
        return f"Machine: {self.machine.label}; {warm}. {told} {self.cylinder_sentence()}"

    def message(self):
        """The same with what tests found."""
        told = describe_recovery(self.stretches, self.shown_units, self.left.value)
        return answered(told, self.cylinder_sentence(), self.published() if self.left.value else "")

    def pictures(self):
        """Curves beside the cylinder."""
        figure = new_figure(340.0, 330.0)
        draw_recovery(figure, self.stretches, self.shown_units, self.left.value)
        drawing = cylinder_svg(self.before.liquid_share_hot, self.after.liquid_share_hot, self.cylinder_sentence())
        return f'<div class="workbook-bottle workbook-cylinder"><div>{drawing}</div><div>{svg_of(figure, self.sentence())}</div></div>'


def show_recovery(**start):
    """The recovery bench with a lesson's start values."""
    return RecoveryPanel(**start)
