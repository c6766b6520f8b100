"""Cars side by side: every reading in one row, and a thermometer taken along the pipes of all of them."""

import threading
from html import escape

import ipywidgets

from course.charts.shapes import Path, svg
from course.charts.thermometer_walk import LINES, PLACES, describe_walk, place_temperatures, walk_svg
from course.errors import OutOfRange, WorkbookError, check_choice
from course.lessons.engine_numbers import bench_run
from course.lessons.quantities import Number
from course.tables import read_faults, read_lesson
from course.units import UNIT_SETS, display_units
from course.widgets.controls import NAMED, WIDE, NumberControl
from course.widgets.newest_wins import NewestWins
from course.widgets.page_style import STYLE
from course.widgets.preferences import remember_units, remembered_units
from course.widgets.readings_table import reading_pairs

STEP_NAME = "Step along the liquid line"
LEFT_OUT = ("Liquid line", "Cooling", "Shaft power")  # of the bench's readings: the chart or another row says it
SIDE_STYLE = """<style>
.workbook-panel.workbook-wide { grid-template-columns: minmax(0, 1fr); }
.workbook-side-heard { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
.workbook-side { display: grid; gap: 4px 18px; grid-template-columns: minmax(0, 1.2fr) minmax(0, 1fr); }
.workbook-side-choices { max-width: 420px; }
.workbook-side-names { margin: 4px 0; padding: 0; list-style: none; grid-column: 1 / -1; }
.workbook-side-names svg { width: 44px; height: 8px; margin: 0 6px; }
.workbook-bench .workbook-side table.workbook-cars { table-layout: fixed; align-self: start; }
.workbook-bench .workbook-side table.workbook-cars :is(th, td) { text-align: left; white-space: normal; padding: 3px 5px; font-size: 13px; }
.workbook-bench .workbook-side table.workbook-cars thead b { font-size: 15px; }
.workbook-cars :is(thead, tbody) th:first-child { width: 32%; }
.workbook-cars th { font-weight: normal; }
.workbook-side ol { margin: 0; padding-left: 22px; columns: 2; }
.workbook-side-chart svg { width: 100%; max-width: 520px; height: auto; display: block; }
@container (max-width: 680px) {
  .workbook-side { grid-template-columns: minmax(0, 1fr); }
  .workbook-bench .workbook-side table.workbook-cars :is(th, td) { font-size: 12px; padding: 3px 2px; }
  .workbook-cars :is(thead, tbody) th:first-child { width: 27%; }
  .workbook-side ol { columns: 1; }
}
@container (max-width: 330px) { .workbook-side-chart text { font-size: 16.4px !important; } }
</style>"""


def what_is_wrong(run):
    """What a run has that a healthy car with its label charge has not."""
    names = read_faults()
    found = [f"{names[key].name.lower()} {100 * severity:.0f} %" for key, severity in run.faults.items() if severity]
    if run.charge_fraction != 1.0:
        found.insert(0, f"charge {100 * run.charge_fraction:.0f} %")
    return ", ".join(found) or "nothing wrong"


def car_readings(run, units):
    """The readings of one car as (name, value), with the step along its liquid line."""
    temperatures = place_temperatures(run)
    step = "at rest"
    if temperatures:
        fall = temperatures["condenser_outlet"] - temperatures["before_metering"]
        step = Number(fall, "temperature_difference").shown(units)
    pairs = [pair for pair in reading_pairs(run, units) if pair[0] not in LEFT_OUT]
    names = [name for name, _ in pairs]
    pairs.insert(names.index("Subcooling") + 1, (STEP_NAME, step))
    return pairs


def _sample(letter):
    colour, dash = LINES[letter]
    return svg([Path(((0.0, 4.0), (44.0, 4.0)), colour, 2.5, dash)], 44.0, 8.0, "")


class SideBySidePanel:
    """Up to four runs of a lesson's file as cars A to D; their faults hidden until asked for, their weather movable."""

    def __init__(self, lesson_id, runs, named=True, weather=False, units=None):
        self.tables = self._tables(lesson_id, runs)
        self.keep_units, self.named, self.weather = units is None, named, weather
        self.lock, self.runs = threading.RLock(), []
        key = remembered_units() if units is None else check_choice("units", units, UNIT_SETS)
        self.newest = NewestWins(self.update)
        options = [(chosen.label, name) for name, chosen in UNIT_SETS.items()]
        self.units_box = ipywidgets.Dropdown(options=options, value=key, description="Units", style=NAMED, layout=WIDE)
        first = self.tables[0].ambient_c
        self.ambient = NumberControl(
            "ambient_c", "Outside air", "°C", 10.0, 50.0, 0.5, 35.0 if first is None else first
        )
        self.ambient.show_units(display_units(key))
        self.reveal = ipywidgets.Checkbox(value=named, description="Show what is wrong", indent=False, layout=WIDE)
        self.page, self.words = ipywidgets.HTML(), ipywidgets.HTML()
        self.ambient.observe(self.newest.request)
        self.reveal.observe(lambda change: self.newest.request(), names="value")
        self.units_box.observe(lambda change: self._units_changed(), names="value")
        self.update()

    @staticmethod
    def _tables(lesson_id, names):
        if not 1 <= len(names) <= len(LINES):
            raise OutOfRange(f"cars side by side: {len(names)} were given; allowed are 1 to {len(LINES)}.")
        known = read_lesson(lesson_id).runs
        tables = [known[check_choice("run", name, known)] for name in names]
        for table in tables:
            if isinstance(table, WorkbookError):
                raise table
        return tables

    @property
    def units(self):
        """The learner's units."""
        return display_units(self.units_box.value)

    def _units_changed(self):
        if self.keep_units:
            remember_units(self.units.key)
        with self.newest.held():
            self.ambient.show_units(self.units)
            self.newest.request()

    def update(self):
        """Run every car and draw them; when one is refused the sentence appears and the last good picture stays."""
        with self.lock:
            day = {"ambient_c": self.ambient.value} if self.weather else {}
            try:
                self.runs = [bench_run(table.model_copy(update=day)) for table in self.tables]
            except WorkbookError as refusal:
                self.words.value = (
                    f'<p class="workbook workbook-words workbook-error" role="alert">{escape(str(refusal))}</p>'
                )
                return
            self.page.value = self.tables_html()
            self.words.value = f'<p class="workbook workbook-side-heard" role="status" aria-live="polite">{escape(self.sentence())}</p>'

    def _named(self, run):
        wrong = f": {what_is_wrong(run)}" if self.reveal.value else ""
        return f"{run.system.name.removeprefix('Invented ')}{wrong}"

    def sentence(self):
        """Every car's readings in one plain sentence each."""
        cars = []
        for letter, run in zip(LINES, self.runs, strict=False):
            values = ", ".join(f"{name.lower()} {value}" for name, value in car_readings(run, self.units))
            cars.append(f"Car {letter}, invented {self._named(run)}: {values}.")
        return " ".join([*cars, "Thermometer along the pipes.", describe_walk(self.runs, self.units)])

    def tables_html(self):
        """The table of readings and the chart beside it."""
        letters = list(zip(LINES, self.runs, strict=False))
        heads = "".join(f'<th scope="col"><b>{letter}</b></th>' for letter, _ in letters)
        names = "".join(
            f"<li><b>{letter}</b>{_sample(letter)}{escape(self._named(run))}</li>" for letter, run in letters
        )
        columns = [dict(car_readings(run, self.units)) for run in self.runs]
        rows = "".join(
            f'<tr><th scope="row">{escape(name)}</th>{"".join(f"<td>{escape(column[name])}</td>" for column in columns)}</tr>'
            for name in columns[0]
        )
        places = "".join(f"<li>{escape(name)}</li>" for name in PLACES.values())
        return (
            f'<div class="workbook workbook-side"><ul class="workbook-side-names">{names}</ul>'
            f'<table class="workbook-cars"><thead><tr><th scope="col">Invented car</th>{heads}</tr></thead>'
            f'<tbody>{rows}</tbody></table><div class="workbook-side-chart">{walk_svg(self.runs, self.units)}'
            f"<ol>{places}</ol></div></div>"
        )

    def view(self):
        """The panel as one widget."""
        choices = [self.units_box]
        if not self.named:
            choices.append(self.reveal)
        if self.weather:
            choices.insert(0, self.ambient.view)
        controls = ipywidgets.VBox(choices)
        controls.add_class("workbook-side-choices")
        panel = ipywidgets.VBox([controls, self.words, self.page])
        panel.add_class("workbook-panel")
        panel.add_class("workbook-wide")
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE + SIDE_STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = self.sentence()
        bundle["text/html"] = (
            f'{STYLE}{SIDE_STYLE}<figure class="workbook workbook-bench" style="margin:0">{self.tables_html()}'
            f"<figcaption>Cars side by side; all are invented.</figcaption></figure>"
        )
        return bundle


def show_side_by_side(lesson_id, runs, named=True, weather=False, units=None):
    """Runs of a lesson's file side by side; named=False hides what is wrong, weather=True lets the outside air move."""
    return SideBySidePanel(lesson_id, runs, named, weather, units)
