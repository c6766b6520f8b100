"""The quick reference: choose units, refrigerant and place, read the card, print it in black and white."""

import threading
from html import escape

import ipywidgets

from course.errors import WorkbookError, check_choice
from course.physics.refrigerant import REFRIGERANTS
from course.units import UNIT_SETS, display_units
from course.widgets.card_panel import CardPanel
from course.widgets.controls import NAMED, WIDE, NumberControl
from course.widgets.job_cards import (
    REGION_CHOICES,
    checklist_card,
    glossary_card,
    oil_card,
    rules_card,
    safety_card,
)
from course.widgets.newest_wins import NewestWins
from course.widgets.preferences import remember_units, remembered_units
from course.widgets.reference_cards import (
    Choice,
    altitude_card,
    cylinder_card,
    leak_rate_card,
    pressure_temperature_card,
    units_card,
    vacuum_card,
)

# card: how it is worked out, and what a learner may choose for it
CARDS = {
    "pressure_temperature": (pressure_temperature_card, ("refrigerant", "units", "altitude_m")),
    "vacuum": (vacuum_card, ("units", "altitude_m")),
    "altitude": (altitude_card, ("refrigerant", "units")),
    "units": (units_card, ()),
    "leak_rates": (leak_rate_card, ("charge_g",)),
    "oil": (oil_card, ()),
    "cylinder": (cylinder_card, ("refrigerant", "units", "volume_l")),
    "rules": (rules_card, ("units",)),
    "checklist": (checklist_card, ()),
    "safety": (safety_card, ("region",)),
    "glossary": (glossary_card, ("word",)),
}
BOTH = "both"


def _dropdown(label, options, value):
    return ipywidgets.Dropdown(options=options, value=value, description=label, style=NAMED, layout=WIDE)


class ReferencePanel(CardPanel):
    """One card with what can be chosen for it above."""

    def __init__(self, card, refrigerant=BOTH, units=None, region="all"):
        super().__init__()
        self.name, self.lock = check_choice("card", card, CARDS), threading.RLock()
        self.keep_units = units is None
        start = remembered_units() if units is None else check_choice("units", units, UNIT_SETS)
        refrigerants = [(name, key) for key, name in REFRIGERANTS.items()]
        self.controls = {
            "refrigerant": _dropdown(
                "Refrigerant", [("both", BOTH), *refrigerants], check_choice("refrigerant", refrigerant, [BOTH, *REFRIGERANTS])
            ),
            "units": _dropdown("Units", [(chosen.label, key) for key, chosen in UNIT_SETS.items()], start),
            "altitude_m": NumberControl("altitude_m", "Altitude", "m", 0.0, 3000.0, 50.0, 0.0),
            "charge_g": NumberControl("charge_g", "Charge", "g", 200.0, 2000.0, 10.0, 500.0),
            "volume_l": ipywidgets.BoundedFloatText(
                value=27.2, min=1.0, max=200.0, step=0.1, description="Water capacity, L", style=NAMED, layout=WIDE
            ),
            "region": _dropdown("Region", list(REGION_CHOICES), check_choice("region", region, REGION_CHOICES)),
            "word": ipywidgets.Text(value="", description="Find a word", style=NAMED, layout=WIDE),
        }  # fmt: skip
        self.words = ipywidgets.HTML()
        self.newest = NewestWins(self.update)
        for key, control in self.controls.items():
            if isinstance(control, NumberControl):
                control.observe(self.newest.request)
            elif key != "units":
                control.observe(lambda change: self.newest.request(), names="value")
        self.controls["units"].observe(lambda change: self._units_changed(), names="value")
        self.update()

    def _units_changed(self):
        if self.keep_units:
            remember_units(self.controls["units"].value)
        self.newest.request()

    def choice(self):
        """What is chosen."""
        values = {key: control.value for key, control in self.controls.items()}
        refrigerant = values.pop("refrigerant")
        refrigerants = tuple(REFRIGERANTS) if refrigerant == BOTH else (refrigerant,)
        return Choice(refrigerants=refrigerants, **values | {"units": display_units(values["units"])})

    def update(self):
        """Work the card out anew; a refusal is shown as its sentence and the last card stays."""
        with self.lock:
            try:
                card = CARDS[self.name][0](self.choice())
            except WorkbookError as refusal:
                self.words.value = (
                    f'<p class="workbook workbook-words workbook-error" role="alert">{escape(str(refusal))}</p>'
                )
                return
            self.words.value = ""
            self.put(card, f"card_{self.name}")

    def choices(self):
        chosen = [self.controls[key] for key in CARDS[self.name][1]]
        return [getattr(one, "view", one) for one in chosen] + [self.words]


def show_reference(card, **start):
    """A card of the quick reference, with a page's start values."""
    return ReferencePanel(card, **start)
