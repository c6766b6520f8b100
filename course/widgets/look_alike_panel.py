"""Cars with one and the same high head: tests to choose, each with its minutes, and who is told apart by them."""

from html import escape

import ipywidgets

from course.errors import OutOfRange, WorkbookError, check_choice
from course.evidence.head_tests import MINUTES, alike, head_tests, least_differences
from course.lessons.engine_numbers import bench_run
from course.lessons.quantities import Number, kind_of
from course.tables import read_lesson
from course.widgets.controls import WIDE
from course.widgets.service_panel import ServicePanel, answered, units_choice
from course.widgets.side_by_side_panel import what_is_wrong

LETTERS = "ABCDE"  # as many cars as fit beside one another on a phone
DRIVING_KM_H = 60.0  # km/h of the road test; assumed
HEAD = "head_kpa_gauge"
NAMES = {
    HEAD: "High side, standing",
    "above_entering_air_k": "Chart temperature less entering air",
    "subcooling_k": "Subcooling",
    "head_driving_kpa_gauge": f"High side at {DRIVING_KM_H:.0f} km/h",
    "standing_above_chart_kpa": "Standing check: pressure less the chart's",
    "charge_g": "Recover and weigh",
}
BOXES = {  # short enough for a phone
    "above_entering_air_k": "Air in front, and the chart",
    "subcooling_k": "Subcooling",
    "head_driving_kpa_gauge": "A drive",
    "standing_above_chart_kpa": "Standing check",
    "charge_g": "Recover and weigh",
}
LOOK_ALIKE_STYLE = """<style>
.workbook-bench table.workbook-look-alikes { width: 100%; max-width: 620px; table-layout: fixed; }
.workbook-bench table.workbook-look-alikes :is(th, td) { text-align: center; padding: 5px 1px; font-size: 13px; }
.workbook-bench table.workbook-look-alikes tbody th { text-align: left; font-weight: normal; border-bottom: 0; padding-left: 4px; }
.workbook-look-alikes td.workbook-otherwise { font-weight: bold; outline: 2px solid var(--workbook-ink); outline-offset: -4px; }
.workbook-look-alikes-key { margin: 4px 0; }
</style>"""


def _box(label, ticked):
    return ipywidgets.Checkbox(value=ticked, description=label, indent=False, layout=WIDE)


def _pairs_words(pairs, cars):
    whole = len(cars) * (len(cars) - 1) // 2
    if not pairs:
        return f"All {len(cars)} cars are told apart."
    if len(pairs) == whole:
        return f"All {len(cars)} cars look alike."
    return (
        f"Not told apart yet, {len(pairs)} of {whole} pairs: {', '.join(f'{one} and {other}' for one, other in pairs)}."
    )


class LookAlikePanel(ServicePanel):
    """Up to five runs of a lesson's file beside the healthy car; tests are done by ticking them."""

    def __init__(self, lesson_id, well, runs, tests=()):
        self.well, self.tables = self._tables(lesson_id, well, runs)
        for test in tests:
            check_choice("test", test, MINUTES)
        self.units = units_choice()
        self.tests = {
            test: _box(f"{BOXES[test]} ({minutes:.0f} min)", test in tests) for test, minutes in MINUTES.items()
        }
        self.reveal = _box("Show what is wrong", False)
        super().__init__(*self.tests.values(), self.units, self.reveal)

    @staticmethod
    def _tables(lesson_id, well, names):
        if not 2 <= len(names) <= len(LETTERS):
            raise OutOfRange(f"look-alikes: {len(names)} cars were given; allowed are 2 to {len(LETTERS)}.")
        known = read_lesson(lesson_id).runs
        tables = [known[check_choice("run", name, known)] for name in (well, *names)]
        for table in tables:
            if isinstance(table, WorkbookError):
                raise table
        return tables[0], dict(zip(LETTERS, tables[1:], strict=False))

    def _tested(self, table):
        return head_tests(bench_run(table), bench_run(table.model_copy(update={"road_speed_km_h": DRIVING_KM_H})))

    def compute(self):
        """Every test of every car; the ticks only say which are shown."""
        self.least = least_differences(bench_run(self.well))
        self.healthy = self._tested(self.well)
        self.cars = {letter: self._tested(table) for letter, table in self.tables.items()}
        self.done = [test for test, box in self.tests.items() if box.value]
        self.pairs = alike(self.cars, self.done, self.least)

    def _wrong(self):
        for letter, table in self.tables.items():
            run = bench_run(table)
            air = Number(table.ambient_c, "temperature").shown(self.shown_units)
            yield f"{letter}: {what_is_wrong(run)}; air entering the condenser {air}."

    def sentence(self):
        """The tests done and who still looks alike, in words."""
        minutes = sum(MINUTES[test] for test in self.done)
        done = ", ".join(BOXES[test].lower() for test in self.done) or "none"
        return f"Tests done: {done}; {minutes:.0f} min. {_pairs_words(self.pairs, self.cars)}"

    def message(self):
        """The same, and what is wrong when it is asked for."""
        return answered(self.sentence(), *(self._wrong() if self.reveal.value else ()))

    def _row(self, test):
        """The name of a number over its value for the healthy car and each of the others."""
        kind, size = kind_of(test)
        results = [self.healthy, *self.cars.values()]
        shown = [Number(getattr(one, test) * size, kind).shown(self.shown_units).split(" ", 1) for one in results]
        well, least = getattr(self.healthy, test), getattr(self.least, test)
        cells = ""
        for result, (value, _) in zip(results, shown, strict=True):
            apart = getattr(result, test) - well
            mark = "" if abs(apart) <= least else " ▲" if apart > 0.0 else " ▼"
            cells += f'<td class="workbook-otherwise">{value}{mark}</td>' if mark else f"<td>{value}</td>"
        name = f"{NAMES[test]}, {shown[0][1]}"
        return f'<tr><th scope="rowgroup" colspan="{len(results)}">{escape(name)}</th></tr><tr>{cells}</tr>'

    def page(self):
        """The table of the tests done."""
        heads = "".join(f'<th scope="col">{escape(name)}</th>' for name in ("Well", *self.cars))
        rows = "".join(f"<tbody>{self._row(test)}</tbody>" for test in (HEAD, *self.done))
        key = "Well: the same car healthy. ▲ ▼ framed: further from it than the instruments are off."
        return (
            f'{LOOK_ALIKE_STYLE}<div class="workbook"><table class="workbook-look-alikes"><thead><tr>{heads}</tr></thead>{rows}'
            f'</table><p class="workbook-look-alikes-key">{key}</p></div>'
        )


def show_look_alikes(lesson_id, well, runs, tests=()):
    """Runs of a lesson's file as cars A to E beside the healthy one, with the tests that are already done."""
    return LookAlikePanel(lesson_id, well, runs, tests)
