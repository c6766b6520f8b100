"""Two tests to judge: the rise of a vacuum and the hold of nitrogen. The learner decides; then both answers are shown."""

import ipywidgets

from course.charts.nitrogen_hold import describe_hold, draw_hold
from course.charts.pump_down import describe_rise, draw_rise, micron
from course.charts.style import new_figure, svg_of
from course.errors import check_choice
from course.service.hold_case import read_hold
from course.service.pressure_test import check_gas, judge_hold
from course.service.rise_case import GAUGES, leak_g_per_year, read_rise, rise_case
from course.service.vacuum_rise import VERDICTS, judge_rise
from course.service.water import boiling_pressure_pa
from course.widgets.controls import NumberControl
from course.widgets.service_panel import ServicePanel, answered, button, choice, units_choice

UNDECIDED = ""
GAUGE_NAMES = {"micron_gauge": "Electronic micron gauge", "dial": "Manifold dial"}
RISE_TIMES = tuple((f"{minutes} min", float(minutes)) for minutes in (5, 10, 30, 60, 120))
HOLD_TIMES = (("10 min", 10.0), ("1 h", 60.0), ("Overnight, 12 h", 720.0), ("A day", 1440.0))
HOLD_VERDICTS = ("leaking", "no leak seen", "too little information")
GASES = ("nitrogen", "nitrogen and 5 % hydrogen", "shop air", "oxygen", "refrigerant")


class JudgePanel(ServicePanel):
    """A numbered case with readings to judge; a kind of its own says measure() and truth_sentence()."""

    verdicts = ()

    def __init__(self, number, *controls):
        self.number, self.decided = number, None
        options = [("Choose one", UNDECIDED), *((one.capitalize(), one) for one in self.verdicts)]
        self.verdict_choice = choice("Your verdict", options, UNDECIDED)
        self.decide = button("That is my verdict", self._decide)
        self.again = button("Next case", self._next)
        self.buttons = ipywidgets.HBox([self.decide, self.again], layout=ipywidgets.Layout(flex_flow="row wrap"))
        self.settings = controls
        super().__init__(*controls, self.verdict_choice, self.buttons)

    def compute(self):
        """Measure anew when something was set otherwise; a verdict holds only for the readings it was given on."""
        setting = (self.number, *(control.value for control in self.settings))
        if setting != getattr(self, "_setting", None):
            self.measure()
            self._setting, self.decided = setting, None

    def _decide(self):
        with self.lock:
            if self.verdict_choice.value == UNDECIDED:
                self.words.value = answered(self.sentence(), "Choose a verdict first.")
                return
            self.decided = self.verdict_choice.value
        self.update()

    def _next(self):
        with self.lock, self.newest.held():
            self.number += 1
            self.verdict_choice.value = UNDECIDED
            self.newest.request()

    def message(self):
        """The readings, and after the verdict what they can say and what was true."""
        if self.decided is None:
            return answered(self.sentence())
        right = "As these readings have it." if self.decided == self.judged.verdict else "These readings say otherwise."
        said = f"{self.judged.verdict.capitalize()}: {self.judged.reason}"
        return answered(self.sentence(), right, said, self.limit_sentence(), self.truth_sentence())

    def limit_sentence(self):
        """What could not have shown, where the verdict does not say it already."""
        return ""


class RisePanel(JudgePanel):
    """A rise test after a hurried pump-down."""

    verdicts = VERDICTS

    def __init__(self, number=1, gauge="dial", minutes=10.0, temperature_c=20.0, kind=None):
        self.temperature_c, self.kind = temperature_c, kind
        self.gauge = choice("Gauge", [(GAUGE_NAMES[one], one) for one in GAUGES], check_choice("gauge", gauge, GAUGES))
        self.minutes = choice("Hold", RISE_TIMES, minutes)
        super().__init__(number, self.gauge, self.minutes)

    def measure(self):
        """Pump down, shut the valve, read."""
        self.case = rise_case(self.number, self.kind, self.temperature_c)
        self.readings = read_rise(self.case, self.gauge.value, self.minutes.value)
        seen = self.readings
        self.judged = judge_rise(
            seen.minutes, seen.pressure_pa, seen.gauge_error_pa, self.temperature_c, self.case.circuit.volume_m3
        )

    def truth_sentence(self):
        """What the circuit really was."""
        circuit, end = self.case.circuit, micron(self.readings.truth.pressure_pa[-1])
        wet = f", {self.case.pumped.water_g[-1]:.1f} g of water still inside" if circuit.water_g else ""
        grams = leak_g_per_year(circuit.leak_pa_m3_s, self.temperature_c)
        leak = f", as {grams:,.0f} g of R-134a a year would" if circuit.leak_pa_m3_s else ""
        return f"What it was: {self.case.kind}{wet}{leak}; really at {end} when the hold ended."

    def limit_sentence(self):
        """What could not have shown."""
        grams = leak_g_per_year(self.judged.smallest_leak_pa_m3_s, self.temperature_c)
        return f"In this hold no leak below {grams:,.0f} g a year could have shown."

    def sentence(self):
        """The readings in words."""
        return f"Rise test {self.number}, {GAUGE_NAMES[self.gauge.value].lower()}: {describe_rise(self.readings)}"

    def pictures(self):
        """The readings over time."""
        figure = new_figure(340.0, 300.0)
        draw_rise(figure, self.readings, boiling_pressure_pa(self.temperature_c), self.decided is not None)
        return svg_of(figure, self.sentence())


class HoldPanel(JudgePanel):
    """Nitrogen in, read in the evening and again later."""

    verdicts = HOLD_VERDICTS

    def __init__(self, number=1, minutes=720.0, second_c=15.0):
        self.units = units_choice()
        self.gas = choice("Gas", [(one.capitalize(), one) for one in GASES])
        self.minutes = choice("Hold", HOLD_TIMES, minutes)
        self.later = NumberControl("second_c", "Circuit later", "°C", -10.0, 50.0, 1.0, 15.0)
        self.later.value = second_c
        self.later.show_units(self.shown_units)
        super().__init__(number, self.gas, self.minutes, self.later, self.units)

    def measure(self):
        """Fill, wait, read; a gas that must not go in is refused first."""
        self.later.show_units(self.shown_units)
        check_gas(self.gas.value)
        seen = self.readings = read_hold(self.number, self.minutes.value, self.later.value)
        self.judged = judge_hold(seen.first_kpa_gauge, seen.first_c, seen.second_kpa_gauge, seen.second_c, seen.minutes)

    def truth_sentence(self):
        """What the circuit really was."""
        leak = self.readings.leak_g_per_year
        if leak:
            return f"What it was: a leak of {leak:.0f} g a year."
        scatter = " Readings scatter: about one tight circuit in forty looks like this; hold it again."
        return f"What it was: tight.{scatter if self.judged.verdict == 'leaking' else ''}"

    def sentence(self):
        """Both readings in words."""
        return f"Hold {self.number}. {describe_hold(self.readings, self.shown_units)}"

    def pictures(self):
        """Pressure over temperature."""
        figure = new_figure(340.0, 270.0)
        draw_hold(figure.add_axes((0.16, 0.17, 0.8, 0.74)), self.readings, self.judged, self.shown_units)
        return svg_of(figure, self.sentence())


def show_rise_test(**start):
    """A rise test to judge, with a lesson's number and settings."""
    return RisePanel(**start)


def show_nitrogen_hold(**start):
    """A nitrogen hold to judge, with a lesson's number and settings."""
    return HoldPanel(**start)
