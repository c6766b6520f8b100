"""Every control of the bench: which car, what day, how it is driven, what is wrong with it."""

import ipywidgets

from course.errors import check_choice
from course.physics.car_file import load_system
from course.physics.faults import fits
from course.tables import read_faults, system_ids
from course.units import UNIT_SETS
from course.widgets.controls import NAMED, WIDE, bench_numbers

NO_FAULT = "none"
FIRST_CAR = "sedan"
FIRST_SEVERITY = 50  # %: where a newly chosen fault starts, for a fault of severity 0 would show nothing
GROUPS = (
    ("car",),
    ("ambient_c", "humidity_percent", "altitude_m"),
    ("compressor_rpm", "road_speed_km_h"),
    ("blower_percent", "recirculate", "cabin_c"),
    ("charge_percent", "fault", "severity_percent"),
)
CONTROL_NAMES = tuple(name for group in GROUPS for name in group)


class BenchControls:
    """The controls, their first values and what they mean to run_bench; every change asks newest for a run."""

    def __init__(self, shown, units_key, start, newest):
        for name in (*shown, *start):
            check_choice("bench control", name, CONTROL_NAMES)
        self.shown, self.start, self.newest = shown, start, newest
        self.units = _dropdown("Units", [(chosen.label, key) for key, chosen in UNIT_SETS.items()], units_key)
        self.numbers = bench_numbers(units_key)
        cars = [(load_system(key).name, key) for key in system_ids()]
        self.car = _dropdown("Car", cars, FIRST_CAR)
        self.fault = _dropdown("Fault", self._faults(), NO_FAULT)
        self.recirculate = ipywidgets.Checkbox(description="Recirculate cabin air", indent=False, layout=WIDE)
        self.compare = ipywidgets.Checkbox(
            value=True, description="Compare with healthy (grey)", indent=False, layout=WIDE
        )
        self.reset_button = ipywidgets.Button(description="Reset", tooltip="Every control back to where it began")
        self._apply_start()
        self._listen()

    def _faults(self):
        system = load_system(self.car.value)
        return [("None", NO_FAULT)] + [(fault.name, key) for key, fault in read_faults().items() if fits(key, system)]

    def _apply_start(self):
        """The lesson's first values, the car before the fault because not every fault fits every car."""
        for name in sorted(self.start, key=CONTROL_NAMES.index):
            value = self.start[name]
            if name in self.numbers:
                self.numbers[name].value = value
            elif name == "recirculate":
                self.recirculate.value = bool(value)
            else:
                chooser = self.car if name == "car" else self.fault
                chooser.value = check_choice(name, value, [key for _, key in chooser.options])
                self._offer()
        self._offer()

    def _offer(self):
        """Offer only what means something now: the car's own faults, a severity for a fault, a cabin to recirculate."""
        chosen, options = self.fault.value, self._faults()
        if options != list(self.fault.options):
            self.fault.options = options
            self.fault.value = chosen if chosen in [key for _, key in options] else NO_FAULT
        self.numbers["severity_percent"].enabled = self.fault.value != NO_FAULT
        self.numbers["cabin_c"].enabled = self.recirculate.value

    def _listen(self):
        for control in self.numbers.values():
            control.observe(self.newest.request)
        self.compare.observe(lambda change: self.newest.request(), names="value")
        for widget in (self.car, self.recirculate):
            widget.observe(lambda change: self._chosen(), names="value")
        self.fault.observe(lambda change: self._fault_chosen(), names="value")
        self.reset_button.on_click(lambda button: self.reset())

    def _chosen(self):
        with self.newest.held():
            self._offer()
            self.newest.request()

    def _fault_chosen(self):
        with self.newest.held():
            severity = self.numbers["severity_percent"]
            if self.fault.value != NO_FAULT and severity.value == 0.0:
                severity.value = FIRST_SEVERITY
            self._chosen()

    def show_units(self, units):
        """Show every temperature in the learner's unit; what the controls mean stays the same."""
        with self.newest.held():
            for control in self.numbers.values():
                control.show_units(units)
            self.newest.request()

    def reset(self):
        """Put every control back to where the lesson began."""
        with self.newest.held():
            self.car.value, self.fault.value, self.recirculate.value = FIRST_CAR, NO_FAULT, False
            for control in self.numbers.values():
                control.value = control.first
            self._apply_start()
            self.newest.request()

    def settings(self):
        """What the controls say, as run_bench takes it."""
        value = {name: control.value for name, control in self.numbers.items()}
        faults = {} if self.fault.value == NO_FAULT else {self.fault.value: value["severity_percent"] / 100.0}
        return {
            "ambient_c": value["ambient_c"],
            "relative_humidity": value["humidity_percent"] / 100.0,
            "cabin_c": value["cabin_c"] if self.recirculate.value else None,
            "compressor_rpm": value["compressor_rpm"],
            "road_speed_km_h": value["road_speed_km_h"],
            "blower_fraction": value["blower_percent"] / 100.0,
            "altitude_m": value["altitude_m"],
            "recirculate": self.recirculate.value,
            "charge_fraction": value["charge_percent"] / 100.0,
            "faults": faults,
        }

    def view(self):
        """The shown controls in their groups, then units, comparison and reset."""
        named = {"car": self.car, "fault": self.fault, "recirculate": self.recirculate}
        groups = []
        for group in GROUPS:
            parts = [named.get(name) or self.numbers[name].view for name in group if name in self.shown]
            if parts:
                groups.append(_group(parts))
        last = ipywidgets.HBox([self.compare, self.reset_button], layout=WIDE)
        last.add_class("workbook-last")
        view = ipywidgets.VBox([*groups, _group([self.units, last])], layout=WIDE)
        view.add_class("workbook-controls")
        return view


def _dropdown(label, options, value):
    return ipywidgets.Dropdown(options=options, value=value, description=label, style=NAMED, layout=WIDE)


def _group(parts):
    group = ipywidgets.VBox(parts, layout=WIDE)
    group.add_class("workbook-group")
    return group
