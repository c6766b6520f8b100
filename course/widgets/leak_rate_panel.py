"""A car's leak by arithmetic: its record, line by line and mendable, and the same hole at rest and running."""

import re
import threading
from html import escape

import ipywidgets

from course.charts.leak_by_state import describe_leak_by_state, leak_by_state_svg
from course.charts.leak_history import HEIGHT, describe_leak_history, draw_leak_history
from course.charts.style import WIDTH, new_figure, svg_of
from course.charts.words import pressure_number
from course.errors import WorkbookError, check_choice
from course.physics.car_file import load_system
from course.physics.refrigerant import REFRIGERANTS
from course.service.leak_flow import leak_by_state, side_pressures
from course.service.leak_history import amount_g, charge_course, load_history, work_out
from course.service.leak_rate import ServiceEntry, record_problems
from course.tables import system_ids
from course.units import G_PER_KG, PA_PER_KPA, UNIT_SETS, display_units, gauge_from_absolute_pa
from course.widgets.controls import NAMED, WIDE, NumberControl
from course.widgets.leak_words import (
    KIND_NAMES,
    LEAK_STYLE,
    RECORD_HINT,
    comparisons_html,
    findings_sentences,
    rate_words,
)
from course.widgets.newest_wins import NewestWins
from course.widgets.page_style import STYLE
from course.widgets.preferences import remember_units, remembered_units

NUMBERED = re.compile(r"^Entry (\d+)\b")


class RecordLine:
    """One line of the record as it is written, right or wrong; a line that does not count stays to be read."""

    def __init__(self, entry, changed):
        self.number = ipywidgets.HTML()
        self.date = ipywidgets.DatePicker(description="Date", value=entry.date if entry else None)
        self.what = ipywidgets.Dropdown(
            options=[(name, kind) for kind, name in KIND_NAMES.items()],
            value=entry.what if entry else "topped_off",
            description="What was done",
        )
        self.amount = ipywidgets.Text(
            value=f"{entry.grams:g} g" if entry else "", description="Amount", placeholder="340 g or 12 oz"
        )
        self.counts = ipywidgets.Checkbox(value=True, description="counts", indent=False)
        self.wrong = ipywidgets.HTML()
        self.wrong.add_class("workbook-wrong")
        for control in (self.date, self.what, self.amount, self.counts):
            control.observe(lambda change: changed(), names="value")
        self.view = ipywidgets.Box([self.number, self.date, self.what, self.amount, self.counts, self.wrong])
        self.view.add_class("workbook-record")

    def entry(self):
        """The line as the arithmetic takes it."""
        return ServiceEntry(self.date.value, self.what.value, amount_g(self.amount.value))

    def show(self, number, problems):
        """Show the line's number and, beneath it, what cannot be right in it."""
        self.number.value = f'<span class="workbook">{number or "–"}</span>'
        body = "".join(f"<p>{escape(problem)}</p>" for problem in problems)
        self.wrong.value = f'<div class="workbook" role="alert">{body}</div>' if body else ""


class LeakHistoryPanel:
    """A car's record on the left; what it amounts to on the right."""

    def __init__(self, history="topped_off_again"):
        self.lock, self.findings = threading.RLock(), None
        self.history = load_history(history)
        self.car = ipywidgets.Dropdown(
            options=[(f"{key}: {load_system(key).description}", key) for key in system_ids()],
            value=self.history.car,
            description="Car",
            style=NAMED,
            layout=WIDE,
        )
        self.today = ipywidgets.DatePicker(
            description="Looked at on", value=self.history.looked_at, style=NAMED, layout=WIDE
        )
        self.evaporators = ipywidgets.Dropdown(
            options=[("one", 1), ("two, with rear A/C", 2)], description="Evaporators", style=NAMED, layout=WIDE
        )
        self.lines = [RecordLine(entry, self.update) for entry in self.history.entries]
        self.record = ipywidgets.VBox([line.view for line in self.lines])
        self.more = ipywidgets.Button(description="One more line", tooltip="One more line at the foot of the record")
        self.more.on_click(lambda button: self.add_line())
        self.whole, self.answer = ipywidgets.HTML(), ipywidgets.HTML()
        for control in (self.car, self.today, self.evaporators):
            control.observe(lambda change: self.update(), names="value")
        self.update()

    def add_line(self):
        """An empty line; nothing is asked of it until something stands in it."""
        with self.lock:
            self.lines.append(RecordLine(None, self.update))
            self.record.children = [line.view for line in self.lines]
            self.update()

    def counted(self):
        """The lines that count, in their order; an empty one does not yet."""
        return [line for line in self.lines if line.counts.value and (line.amount.value.strip() or line.date.value)]

    def update(self):
        """Work the record out, or say line by line what cannot be right; what was written stays."""
        with self.lock:
            counted, label = self.counted(), G_PER_KG * load_system(self.car.value).label_charge
            entries = [line.entry() for line in counted]
            problems = self._problems(entries, label)
            beside = {}
            for problem in problems:
                found = NUMBERED.match(problem)
                beside.setdefault(int(found[1]) if found else 0, []).append(problem)
            for line in self.lines:
                number = counted.index(line) + 1 if line in counted else 0
                line.show(number, beside.get(number, []) if number else [])
            self._show(entries, problems, beside.get(0, []))

    def _problems(self, entries, label):
        if self.today.value is None:
            return ("Give the day on which the car is looked at.",)
        return record_problems(entries, label_charge_g=label, today=self.today.value)

    def _show(self, entries, problems, of_the_whole):
        self.findings, refusal = None, " ".join(of_the_whole)
        if problems:
            refusal = refusal or "Mend the marked lines first, or take the tick off; nothing is worked out until then."
        else:
            try:
                self.findings = work_out(
                    entries, car=self.car.value, today=self.today.value, evaporators=self.evaporators.value
                )
            except WorkbookError as said:
                refusal = str(said)
        self.entries, self.refusal = entries, refusal
        self.whole.value = (
            f'<p class="workbook workbook-words workbook-error" role="alert">{escape(refusal)}</p>' if refusal else ""
        )
        self.answer.value = self.answer_html()

    def sentences(self):
        """What the record amounts to, sentence by sentence."""
        if self.findings is None:
            return [self.refusal]
        return findings_sentences(self.findings, REFRIGERANTS[load_system(self.car.value).refrigerant])

    def sentence(self):
        """The record and what it amounts to, in plain words."""
        lines = [
            f"{number} {line.date.value} {KIND_NAMES[line.what.value]} {line.amount.value}"
            for number, line in enumerate(self.counted(), 1)
        ]
        problems = [problem for line in self.lines for problem in re.findall(r"<p>(.*?)</p>", line.wrong.value)]
        head = f"{self.history.name}, invented {self.car.value}, looked at {self.today.value}: {'; '.join(lines)}."
        return "\n".join([head, *problems, *self.sentences()])

    def picture(self):
        """The saw of what was in the car."""
        found, first, today = self.findings, self.entries[0].date, self.today.value
        label = found.critical.label_g
        course = charge_course(self.entries, found.leak.g_per_year, label_charge_g=label, until=today)
        ceiling = found.verdict.ceiling_g_per_year
        sound = charge_course(self.entries[:1], ceiling, label_charge_g=label, until=today)
        figure = new_figure(WIDTH, HEIGHT)
        axes = figure.add_axes((0.14, 0.1, 0.82, 0.8))
        critical = found.critical.charge_g
        draw_leak_history(axes, course, sound, first=first, label_g=label, critical_g=critical)
        words = describe_leak_history(course, first=first, critical_g=critical)
        key = f"Solid: this car, as reckoned. Dotted: one at the {ceiling:.0f} g/yr of type approval. Dashes: cooling gone."
        return f'<div class="workbook-stack">{svg_of(figure, words)}</div><p class="workbook-key">{key}</p>'

    def answer_html(self):
        """Sentences, picture, and published figures beside the car's."""
        if self.findings is None:
            return f'<div class="workbook workbook-leak"><p>{escape(self.history.told)}</p></div>'
        first, *more = self.sentences()
        body = "".join(f"<p>{escape(one)}</p>" for one in more)
        return (
            f'<div class="workbook workbook-leak"><p>{escape(self.history.told)}</p>'
            f'<div role="status" aria-live="polite"><p class="workbook-said">{escape(first)}</p>{body}</div>'
            f"{self.picture()}{comparisons_html(self.findings.comparisons)}</div>"
        )

    def view(self):
        """The panel as one widget."""
        hint = ipywidgets.HTML(f'<p class="workbook workbook-words" style="min-height:0">{RECORD_HINT}</p>')
        left = ipywidgets.VBox([self.car, self.today, self.evaporators, hint, self.record, self.more, self.whole])
        panel = ipywidgets.Box([left, self.answer])
        panel.add_class("workbook-panel")
        panel.add_class("workbook-history")
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE + LEAK_STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = self.sentence()
        written = "".join(f"<li>{escape(line)}</li>" for line in self.sentence().split("\n"))
        shown = self.answer_html() if self.findings else f"<ul>{written}</ul>"
        bundle["text/html"] = (
            f'{STYLE}{LEAK_STYLE}<figure class="workbook workbook-bench" style="margin:0">{shown}'
            f"<figcaption>{escape(self.sentence().splitlines()[0])}</figcaption></figure>"
        )
        return bundle


class LeakByStatePanel:
    """One hole: how much it lets out at rest and running, on the low side and on the high side."""

    def __init__(self, refrigerant="R134a", leak_g_per_year=100.0, temperature_c=25.0, units=None):
        self.lock, self.keep_units = threading.RLock(), units is None
        self.units = ipywidgets.Dropdown(
            options=[(chosen.label, key) for key, chosen in UNIT_SETS.items()],
            value=remembered_units() if units is None else check_choice("units", units, UNIT_SETS),
            description="Units",
            style=NAMED,
            layout=WIDE,
        )
        self.refrigerant = ipywidgets.Dropdown(
            options=[(name, key) for key, name in REFRIGERANTS.items()],
            value=check_choice("refrigerant", refrigerant, REFRIGERANTS),
            description="Refrigerant",
            style=NAMED,
            layout=WIDE,
        )
        self.leak = NumberControl("leak_g_per_year", "Leak at rest", "g/yr", 0.0, 3000.0, 5.0, 100.0)
        self.temperature = NumberControl("temperature_c", "Car and weather", "°C", -10.0, 50.0, 0.5, 25.0)
        self.left = NumberControl("charge_percent", "Charge left", "% of label", 0.0, 140.0, 1.0, 100.0)
        self.leak.value, self.temperature.value = leak_g_per_year, temperature_c
        self.temperature.show_units(display_units(self.units.value))
        self.picture, self.words = ipywidgets.HTML(), ipywidgets.HTML()
        self.newest = NewestWins(self.update)
        for control in (self.leak, self.temperature, self.left):
            control.observe(self.newest.request)
        self.refrigerant.observe(lambda change: self.newest.request(), names="value")
        self.units.observe(lambda change: self._units_changed(), names="value")
        self.update()

    def _units_changed(self):
        if self.keep_units:
            remember_units(self.units.value)
        with self.newest.held():
            self.temperature.show_units(display_units(self.units.value))
            self.newest.request()

    def update(self):
        """Work the leaks out and redraw; a refusal is shown as its sentence and the last picture stays."""
        with self.lock:
            place = (self.temperature.value, self.left.value / 100.0)
            try:
                self.leaks = leak_by_state(self.refrigerant.value, self.leak.value, *place)
                self.pressures = {
                    state: side_pressures(self.refrigerant.value, state, *place) for state in ("at_rest", "running")
                }
            except WorkbookError as refusal:
                self.words.value = (
                    f'<p class="workbook workbook-words workbook-error" role="alert">{escape(str(refusal))}</p>'
                )
                return
            self.picture.value = self.pictures()
            self.words.value = f'<div class="workbook workbook-leak" role="status" aria-live="polite"><p>{escape(self.sentence())}</p></div>'

    def pressure_words(self):
        """The pressures behind the hole."""
        units = display_units(self.units.value)

        def gauge(pressure):
            return pressure_number(gauge_from_absolute_pa(pressure) / PA_PER_KPA, units)

        rest, running = self.pressures["at_rest"], self.pressures["running"]
        return (
            f"Behind it stand, in {units.pressure} gauge: at rest {gauge(rest.low)} on both sides, running {gauge(running.low)} "
            f"on the low side and {gauge(running.high)} on the high side."
        )

    def sentence(self):
        """The same hole in every state, and why."""
        return (
            f"A hole that lets out {rate_words(self.leak.value)} at rest at 25 °C (77 °F). "
            f"{describe_leak_by_state(self.leaks)} {self.pressure_words()}"
        )

    def pictures(self):
        """The bars."""
        return f'<div class="workbook workbook-stack">{leak_by_state_svg(self.leaks)}</div>'

    def view(self):
        """The panel as one widget."""
        controls = ipywidgets.VBox(
            [self.leak.view, self.temperature.view, self.left.view, self.refrigerant, self.units, self.words]
        )
        picture = ipywidgets.Box([self.picture], layout=ipywidgets.Layout(max_width="460px"))
        picture.add_class("workbook-stack")
        panel = ipywidgets.Box([controls, picture])
        panel.add_class("workbook-panel")
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE + LEAK_STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = self.sentence()
        bundle["text/html"] = (
            f'{STYLE}<figure class="workbook workbook-bench" style="margin:0"><div class="workbook-single">{self.pictures()}'
            f"</div><figcaption>{escape(self.sentence())}</figcaption></figure>"
        )
        return bundle


def show_leak_history(history="topped_off_again"):
    """A car's record with a lesson's invented history."""
    return LeakHistoryPanel(history)


def show_leak_by_state(**start):
    """The same hole at rest and running, with a lesson's start values."""
    return LeakByStatePanel(**start)
