"""The air side of the bench: where the cooling goes, and what the air has become at the vent."""

from html import escape

import ipywidgets

from course.charts.moist_air_process import air_states, describe_moist_air, draw_moist_air
from course.charts.style import WIDTH, new_figure, svg_of
from course.charts.words import degrees, rounded
from course.physics.moist_air import condensing_heat
from course.units import kelvin_to_celsius, to_display_difference
from course.widgets.bench_panel import BenchPanel
from course.widgets.page_style import STYLE
from course.widgets.readings_table import cells_html, reading_pairs

HEIGHT = 300.0
FRAME = (0.13, 0.15, 0.83, 0.76)  # left, bottom, width and height of the chart in its picture [-]
SAME_AS_THE_BENCH = ("Low side, gauge", "High side, gauge", "Superheat", "Sight glass")


def drying_w(run):
    """The part of the cooling that turns water vapour into water."""
    return condensing_heat(run.condensate_kg_h / 3600.0)


def air_pairs(run, units):
    """Name and value of every reading of the air, in the learner's units."""

    def difference(kelvin):
        return f"{rounded(to_display_difference(kelvin, units))} {'°F' if units.temperature == '°F' else 'K'}"

    (warm, _), (cold, _) = air_states(run)
    outside = kelvin_to_celsius(run.conditions.ambient)
    lift = difference(run.condensing_c - outside) if run.running else "at rest"
    bench = dict(reading_pairs(run, units))
    return [
        ("Vent", degrees(cold, units)),
        ("Colder than it went in", difference(warm - cold)),
        ("Cooling", f"{run.capacity_w / 1000:.1f} kW"),
        ("of that, drying", f"{drying_w(run) / 1000:.1f} kW"),
        ("Drain", f"{run.condensate_kg_h:.1f} kg/h, {run.condensate_kg_h / 3.6:.1f} g/s"),
        ("Condenser above outside", lift),
        *((name, bench[name]) for name in SAME_AS_THE_BENCH),
    ]


class AirPictures:
    """The air's way on its chart and the readings below it; show() redraws both."""

    def __init__(self):
        self.page = ipywidgets.HTML()

    def show(self, run, healthy, units):
        """Bring picture and readings up to a run."""
        self.page.value = air_html(run, healthy, units)

    def view(self):
        """The pictures as one widget."""
        box = ipywidgets.Box([self.page])
        box.add_class("workbook-stack")
        box.add_class("workbook-single")
        return box


def air_html(run, healthy, units):
    """The chart of one run with its readings."""
    figure = new_figure(WIDTH, HEIGHT)
    draw_moist_air(figure.add_axes(FRAME), run, units, healthy)
    chart = svg_of(figure, describe_moist_air(run, units))
    return f'<div class="workbook"><div>{chart}</div>{cells_html(air_pairs(run, units))}</div>'


class AirPanel(BenchPanel):
    """The bench's controls with the air's way from inlet to vent."""

    pictures = AirPictures

    def sentence(self):
        """Car, day, the air's way and where the cooling goes, in a few sentences."""
        run = self.run
        return (
            f"{super().sentence()} {describe_moist_air(run, self.units)} "
            f"Cooling {run.capacity_w / 1000:.1f} kW, of that {drying_w(run) / 1000:.1f} kW for drying."
        )

    def still(self):
        """The run's pictures as one captioned figure."""
        page = air_html(self.run, self.healthy, self.units)
        return (
            f'{STYLE}<figure class="workbook workbook-bench" style="margin:0"><div class="workbook-stack '
            f'workbook-single">{page}</div><figcaption>{escape(self.sentence())}</figcaption></figure>'
        )


def show_air(controls=None, units=None, **start):
    """The air side of the bench with a lesson's start values; controls and start as for show_bench."""
    return AirPanel(controls, units, **start)
