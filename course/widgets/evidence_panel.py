"""The evidence beside the simulator: the direction table of a car, and published readings with ours and a verdict."""

from html import escape

import ipywidgets

from course.charts.direction_table import describe_direction_table, table_shapes
from course.charts.printed_readings import CAUTION, ROWS_A_PAGE, sheet_shapes
from course.charts.shapes import svg
from course.errors import check_choice
from course.evidence.direction_table import READINGS, direction_table
from course.evidence.printed_readings import printed_readings
from course.physics.car_file import load_system
from course.tables import read_directions, read_printed_readings, system_ids
from course.units import UNIT_SETS, display_units
from course.widgets.controls import NAMED, WIDE
from course.widgets.evidence_tables import (
    EVIDENCE_STYLE,
    directions_html,
    disagreements_html,
    left_out_html,
    readings_html,
    row_words,
)
from course.widgets.page_style import STYLE
from course.widgets.preferences import remember_units, remembered_units

ALL_TOPICS = "all"
VERDICTS = {"all": "inside and outside", "inside": "inside only", "outside": "outside only"}


class EvidencePanel:
    """What both panels share: choices above, a table below, and the same table in a stored notebook."""

    def __init__(self, choices, units):
        self.keep_units = units is None
        self.units = ipywidgets.Dropdown(
            options=[(chosen.label, key) for key, chosen in UNIT_SETS.items()],
            value=remembered_units() if units is None else check_choice("units", units, UNIT_SETS),
            description="Units",
            style=NAMED,
            layout=WIDE,
        )
        self.choices = [*choices, self.units]
        self.table, self.words = ipywidgets.HTML(), ipywidgets.HTML()
        for choice in choices:
            choice.observe(lambda change: self.update(), names="value")
        self.units.observe(lambda change: self._units_changed(), names="value")
        self.update()

    def _units_changed(self):
        if self.keep_units:
            remember_units(self.units.value)
        self.update()

    def update(self):
        """Show what is chosen."""
        self.words.value = f'<p class="workbook workbook-evidence-words" role="status" aria-live="polite">{escape(self.sentence())}</p>'
        self.table.value = self.tables()

    def view(self):
        """The panel as one widget."""
        controls = ipywidgets.VBox(self.choices)
        controls.add_class("workbook-evidence-choices")
        panel = ipywidgets.VBox([controls, self.words, self.table])
        panel.add_class("workbook-panel")
        panel.add_class("workbook-evidence")
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE + EVIDENCE_STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = self.whole()
        bundle["text/html"] = (
            f'{STYLE}{EVIDENCE_STYLE}<figure class="workbook workbook-bench" style="margin:0">'
            f"<figcaption>{escape(self.sentence())}</figcaption>{self.tables()}</figure>"
        )
        return bundle


class DirectionPanel(EvidencePanel):
    """The direction table of one car, with every disagreement and its physics."""

    def __init__(self, car="sedan", units=None):
        self.car = ipywidgets.Dropdown(
            options=[(f"{key}: {load_system(key).description}", key) for key in system_ids()],
            value=check_choice("car", car, system_ids()),
            description="Car",
            style=NAMED,
            layout=WIDE,
        )
        super().__init__([self.car], units)

    def shown(self):
        """The table of the chosen car."""
        return direction_table(self.car.value)

    def sentence(self):
        """How far the sources agree, in one sentence."""
        return ". ".join(describe_direction_table(self.shown()).split(". ")[:2]) + "."

    def whole(self):
        """The table in words, and each disagreement."""
        table = self.shown()
        against = [f"{table.rows[cell.row]}, {READINGS[cell.reading][0]}: {cell.why}" for cell in table.disagreements()]
        return "\n".join([describe_direction_table(table), *against])

    def tables(self):
        """The table, its disagreements, and the sheet for print."""
        table, units = self.shown(), display_units(self.units.value)
        sheet = svg(*table_shapes(table, units), f"The same table for print: {table.name}")
        return (
            f"{directions_html(table, units)}{disagreements_html(table)}"
            f"{left_out_html('In the sources, and not in the table', read_directions().left_out)}"
            f'<details class="workbook"><summary>The table for print, black and white</summary>'
            f'<div class="workbook-sheet">{sheet}</div></details>'
        )


class PrintedReadingsPanel(EvidencePanel):
    """Published readings of one topic, ours beside them, and the verdict."""

    def __init__(self, topic="normal", verdict="all", units=None):
        topics = {ALL_TOPICS: "All topics"} | read_printed_readings().topic
        self.topic = ipywidgets.Dropdown(
            options=[(name, key) for key, name in topics.items()],
            value=check_choice("topic", topic, topics),
            description="Topic",
            style=NAMED,
            layout=WIDE,
        )
        self.verdict = ipywidgets.Dropdown(
            options=[(words, key) for key, words in VERDICTS.items()],
            value=check_choice("verdict", verdict, VERDICTS),
            description="Show",
            style=NAMED,
            layout=WIDE,
        )
        super().__init__([self.topic, self.verdict], units)

    def shown(self):
        """The readings of the chosen topic and verdict."""
        return [
            one
            for one in printed_readings()
            if self.topic.value in (ALL_TOPICS, one.topic) and self.verdict.value in ("all", one.verdict)
        ]

    def sentence(self):
        """How many lie inside, in one sentence."""
        everything = printed_readings()
        inside = sum(one.inside for one in everything)
        here = [one for one in everything if self.topic.value in (ALL_TOPICS, one.topic)]
        total = f"Of {len(everything)} published readings {inside} hold ours, {len(everything) - inside} do not."
        if self.topic.value == ALL_TOPICS:
            return total
        return f"{total} On this topic: {sum(one.inside for one in here)} of {len(here)}."

    def whole(self):
        """Every row in words."""
        units = display_units(self.units.value)
        return "\n".join([self.sentence(), *(row_words(one, units) for one in self.shown())])

    def tables(self):
        """The rows as a table."""
        units, table, found = display_units(self.units.value), read_printed_readings(), self.shown()
        pages = [found[start : start + ROWS_A_PAGE] for start in range(0, len(found), ROWS_A_PAGE)]
        title = f"Published readings and ours: {table.topic.get(self.topic.value, 'all topics').lower()}"
        sheets = "".join(
            svg(*sheet_shapes(page, f"{title} ({number} of {len(pages)})", units), f"Sheet {number} for print")
            for number, page in enumerate(pages, start=1)
        )
        return (
            f"{readings_html(found, table.topic, units)}"
            f'<p class="workbook workbook-evidence-words">{escape(CAUTION)}</p>'
            f"{left_out_html('Published, and not held against', table.left_out)}"
            f'<details class="workbook"><summary>These rows for print, black and white</summary>'
            f'<div class="workbook-sheet">{sheets}</div></details>'
        )


def show_directions(**start):
    """The direction table with a lesson's car."""
    return DirectionPanel(**start)


def show_printed_readings(**start):
    """Published readings with a lesson's topic and verdict."""
    return PrintedReadingsPanel(**start)
