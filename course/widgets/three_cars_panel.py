"""The three invented cars over the same charge or the same speed: each answers in its own way."""

from functools import lru_cache
from html import escape

from course.charts.shapes import Path, svg
from course.charts.style import WIDTH, new_figure, svg_of
from course.charts.three_cars import FRAME, LINES, READINGS, SWEEPS, describe_three_cars, draw_three_cars, shown_reading
from course.charts.words import rounded
from course.errors import check_choice
from course.physics.bench import charge_curve, run_bench
from course.physics.car_file import load_system
from course.tables import system_ids
from course.widgets.controls import NumberControl
from course.widgets.service_panel import ServicePanel, answered, choice, units_choice

CHARGES = tuple(step / 100.0 for step in range(30, 141, 5))
SPEEDS_RPM = tuple(float(speed) for speed in range(700, 4001, 300))
IN_THE_TABLE = tuple(name for name in READINGS if name != "capacity_w")
CONTROL = {"charge_percent": "Charge", "compressor_rpm": "Compressor"}  # named as on the bench
HEIGHT = 270.0
ALIKE = {"charge_percent": 100.0, "compressor_rpm": 1500.0}  # where the line stands first: as the bench begins
TABLE_STYLE = """<style>
.workbook-bench table.workbook-three { table-layout: fixed; width: 100%; margin-top: 6px; border-collapse: collapse; font-size: 13px; }
.workbook-bench table.workbook-three :is(th, td) { padding: 3px 5px; font-weight: normal; text-align: left; }
.workbook-bench table.workbook-three thead th { vertical-align: bottom; }
.workbook-bench table.workbook-three :is(thead, tbody) th:first-child { width: 31%; }
.workbook-bench table.workbook-three thead svg { width: 44px; height: 8px; display: block; }
@container (max-width: 330px) {
  .workbook-bench table.workbook-three :is(th, td) { font-size: 12px; padding: 3px 1px; }
  .workbook-bench table.workbook-three thead svg { width: 36px; }
}
</style>"""


@lru_cache(maxsize=8)
def car_curves(over, ambient_c):
    """The runs of every car over charge or speed on one day; the same day is worked out once."""
    curves = []
    for car in system_ids():
        if over == "charge_percent":
            curves.append(charge_curve(car, CHARGES, ambient_c=ambient_c))
            continue
        runs, previous = [], None
        for speed in SPEEDS_RPM:
            previous = run_bench(car, compressor_rpm=speed, ambient_c=ambient_c, previous=previous)
            runs.append(previous)
        curves.append(tuple(runs))
    return tuple(curves)


class ThreeCarsPanel(ServicePanel):
    """One reading of the three cars as curves, and every reading of each at the line."""

    def __init__(self, over="charge_percent", reading="low_side_kpa_gauge", ambient_c=35.0, at=None):
        self.over = check_choice("over", over, SWEEPS)
        self.ambient_c = ambient_c
        names = [(name.capitalize(), key) for key, (name, _) in READINGS.items()]
        self.reading = choice("Reading", names, check_choice("reading", reading, READINGS))
        limits = (30, 140, 1) if over == "charge_percent" else (700, 4000, 50)
        self.place = NumberControl(over, CONTROL[over], SWEEPS[over][1], *limits, ALIKE[over])
        self.place.value = ALIKE[over] if at is None else at
        self.units = units_choice()
        self.runs = (None,) * len(system_ids())
        super().__init__(self.reading, self.place, self.units)

    def compute(self):
        """Every car at the line; the curves behind it once a day."""
        value = self.place.value
        chosen = {"charge_fraction": value / 100.0} if self.over == "charge_percent" else {"compressor_rpm": value}
        self.curves = car_curves(self.over, self.ambient_c)
        self.runs = tuple(
            run_bench(car, ambient_c=self.ambient_c, previous=before, **chosen)
            for car, before in zip(system_ids(), self.runs, strict=True)
        )

    def rows(self):
        """Name of each reading and its value in every car, as shown."""
        units, rows = self.shown_units, []
        for reading in IN_THE_TABLE:
            cells = []
            for run in self.runs:
                value, unit = shown_reading(run, reading, units)
                digits = 2 if unit.startswith("bar") else 0
                cells.append(f"{rounded(value, digits)} {unit.removesuffix(' gauge')}")
            rows.append((READINGS[reading][0], cells))
        return rows

    def sentence(self):
        """The curves and every car at the line, in words."""
        curves = describe_three_cars(self.curves, self.over, self.reading.value, self.shown_units)
        cars = []
        for number, run in enumerate(self.runs):
            said = ", ".join(f"{name} {cells[number]}" for name, cells in self.rows())
            cars.append(f"{run.system.name}: {said}.")
        return " ".join([curves, f"At {self.place.value:.0f} {SWEEPS[self.over][1]}:", *cars])

    def message(self):
        """The curves in words; the cars at the line stand in the table."""
        return answered(describe_three_cars(self.curves, self.over, self.reading.value, self.shown_units))

    def pictures(self):
        """The chart over the table of the three cars."""
        figure = new_figure(WIDTH, HEIGHT)
        chosen = self.over, self.reading.value, self.shown_units
        draw_three_cars(figure.add_axes(FRAME), self.curves, *chosen, now=self.place.value)
        chart = svg_of(figure, describe_three_cars(self.curves, *chosen))
        heads = "".join(
            f'<th scope="col">{_sample(*line)}<b>{escape(_short(car))}</b></th>'
            for car, line in zip(system_ids(), LINES, strict=True)
        )
        rows = "".join(
            f'<tr><th scope="row">{escape(name.capitalize())}</th>{"".join(f"<td>{escape(cell)}</td>" for cell in cells)}</tr>'
            for name, cells in self.rows()
        )
        return (
            f"{TABLE_STYLE}<div>{chart}</div>"
            f'<table class="workbook-three"><thead><tr><th scope="col"></th>{heads}</tr></thead><tbody>{rows}</tbody></table>'
        )


def _short(car):
    return load_system(car).name.removeprefix("Invented ")


def _sample(colour, dash):
    return svg([Path(((0.0, 4.0), (44.0, 4.0)), colour, 2.5, dash)], 44.0, 8.0, "")


def show_three_cars(**start):
    """The three invented cars side by side, over charge or compressor speed, with a lesson's start values."""
    return ThreeCarsPanel(**start)
