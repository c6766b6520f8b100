"""The oil form: what left the circuit, what goes back, and whether the oil in hand may go in."""

from html import escape

import ipywidgets

from course.service.oil import DRIVES, KINDS, PARTS, check_oil, judge_oil, oil_balance
from course.units import ML_PER_FL_OZ
from course.widgets.controls import WIDE, NumberControl
from course.widgets.service_panel import ServicePanel, answered, choice

EVENTS = (("None", ()), ("A slow leak", ("slow_leak",)), ("It burst", ("sudden_loss",)))
OIL_NAMES = {"pag46": "PAG 46", "pag100": "PAG 100", "pag150": "PAG 150", "poe68": "POE 68"}
DRIVE_NAMES = {"belt": "Belt-driven", "high_voltage": "High-voltage"}


def _plain(name):
    return name.replace("_", " ").capitalize()


NEW_COMPRESSOR = (
    "A new compressor comes with oil in it, often the whole car's: drain and measure it first, and put back only what the "
    "manual gives."
)


class OilPanel(ServicePanel):
    """One car's oil form."""

    def __init__(self, system_total_ml=200, recovered_ml=20, parts=("condenser",), added_ml=0):
        self.total = NumberControl("system_total_ml", "System total", "mL", 50, 500, 5, 200)
        self.caught = NumberControl("recovered_ml", "Caught", "mL", 0, 300, 5, 20)
        self.drained = NumberControl("drained_ml", "Drained", "mL", 0, 300, 5, 0)
        self.added = NumberControl("added_ml", "You add", "mL", 0, 500, 5, 0)
        self.total.value, self.caught.value, self.added.value = system_total_ml, recovered_ml, added_ml
        self.parts = {
            part: ipywidgets.Checkbox(
                value=part in parts, description=f"New: {_plain(part).lower()}", indent=False, layout=WIDE
            )
            for part in PARTS
        }
        self.event = choice("Loss", EVENTS)
        self.hand = choice("Oil in hand", [(OIL_NAMES[one], one) for one in KINDS])
        self.label = choice("Label's oil", [(OIL_NAMES[one], one) for one in KINDS])
        self.drive = choice("Compressor", [(DRIVE_NAMES[one], one) for one in DRIVES])
        numbers = (self.total, self.caught, self.drained)
        super().__init__(*numbers, *self.parts.values(), self.event, self.hand, self.label, self.drive, self.added)

    def compute(self):
        """Refuse the wrong oil, then fill in the form."""
        check_oil(self.hand.value, self.label.value, self.drive.value)
        renewed = [part for part, box in self.parts.items() if box.value]
        balance = oil_balance(self.total.value, self.caught.value, renewed, self.event.value, self.drained.value)
        inside = [one + self.added.value for one in (balance.least_inside_ml, balance.most_inside_ml)]
        self.judged = [judge_oil(self.total.value, one) for one in inside]
        self.balance = balance

    def sentence(self):
        """The form in words."""
        balance = self.balance
        return (
            f"System total {balance.system_total_ml:.0f} mL. To add: {self._span(balance.least_to_add_ml, balance.most_to_add_ml)}. "
            f"Added: {self.added.value:.0f} mL, so {self.verdict()}"
        )

    def verdict(self):
        """What the amount inside will do, for the least and the most that may be in there."""
        (least, reason), (most, other) = self.judged
        return f"{least}: {reason}" if least == most else f"{least} or {most}: {reason} {other}"

    @staticmethod
    def _span(least, most):
        ounces = f"{least / ML_PER_FL_OZ:.1f}"
        if least == most:
            return f"{least:.0f} mL ({ounces} fl oz)"
        return f"{least:.0f} to {most:.0f} mL ({ounces} to {most / ML_PER_FL_OZ:.1f} fl oz)"

    def message(self):
        """The verdict on what is added."""
        return answered(f"Added {self.added.value:.0f} mL: {self.verdict()}")

    def pictures(self):
        """The form as a table."""
        balance = self.balance
        rows = [
            (_plain(line.name), self._span(line.least_ml, line.most_ml))
            for line in balance.lines
            if line.most_ml or line.name in PARTS
        ]
        rows += [
            ("To add, in all", self._span(balance.least_to_add_ml, balance.most_to_add_ml)),
            ("Still inside before", self._span(balance.least_inside_ml, balance.most_inside_ml)),
        ]
        body = "".join(f'<tr><th scope="row">{escape(name)}</th><td>{escape(span)}</td></tr>' for name, span in rows)
        return (
            f'<table class="workbook-form"><caption>Oil form, system total {balance.system_total_ml:.0f} mL; oil is a volume, '
            f"fl oz is not oz</caption><tbody>{body}</tbody></table><p>{NEW_COMPRESSOR}</p>"
        )


def show_oil_form(**start):
    """The oil form with a lesson's start values."""
    return OilPanel(**start)
