"""What separates what: choose what has been read, see how often the trouble is named and what is taken for what."""

from html import escape

import ipywidgets

from course.charts import separating_power as chart
from course.charts.style import GRID, new_figure, svg_of
from course.errors import check_choice
from course.evidence.separating_power import MODELS, RATES, READING_SETS, result_for, trouble_name
from course.tables import read_separating_power
from course.widgets.controls import NAMED, WIDE
from course.widgets.page_style import STYLE

DEEPEST_SHADE = 30.0  # % of the line colour under a number, so that the number keeps its contrast
NARROW = 250.0  # px: a phone's column, on which the letters then keep their twelve pixels
OWN_STYLE = f"""<style>
.workbook-confusion {{ overflow-x: auto; }}
.workbook-confusion:focus-visible {{ outline: 3px solid var(--jp-brand-color1, #1976d2); }}
.workbook-confusion table {{ border-collapse: collapse; font-size: 12px; color: var(--workbook-ink); }}
.workbook-confusion th, .workbook-confusion td {{ padding: 3px 5px; border: 1px solid var(--workbook-grid, {GRID[0]}); }}
.workbook-confusion td {{ text-align: right; min-width: 20px; }}
.workbook-confusion tbody tr, .workbook-confusion tbody tr:hover {{ background: none; }}
.workbook-confusion tbody th {{ text-align: left; font-weight: normal; min-width: 120px; }}
.workbook-confusion th:first-child {{ position: sticky; left: 0; background: var(--workbook-paper); }}
.workbook-confusion td.workbook-none {{ color: var(--workbook-faint); }}
@media print {{ .workbook-confusion {{ overflow: visible; }} }}
.workbook-confusion td.workbook-right {{ font-weight: bold; border: 2px solid var(--workbook-ink); }}
.workbook-two {{ display: grid; gap: 8px 18px; grid-template-columns: repeat(auto-fit, minmax(min(100%, 300px), 1fr)); max-width: 820px; }}
.workbook-two svg {{ width: 100%; max-width: 340px; height: auto; display: block; }}
/* a phone has no room for every column: each row lists the names that are given, by number */
@container (max-width: 480px) {{
  .workbook-confusion table, .workbook-confusion tbody, .workbook-confusion tr {{ display: block; }}
  .workbook-confusion thead, .workbook-confusion td.workbook-none {{ display: none; }}
  .workbook-confusion tbody th {{ display: block; border: 0; padding: 6px 0 2px; }}
  .workbook-confusion td {{ display: inline-block; margin: 0 4px 4px 0; }}
  .workbook-confusion td::before {{ content: attr(data-name) ": "; }}
}}
</style>"""


def _cell(share, right, column):
    shade = round(DEEPEST_SHADE * share)
    style = f' style="background:color-mix(in srgb, var(--workbook-low) {shade}%, transparent)"' if shade else ""
    number = chart.percent(share)
    kind = ' class="workbook-right"' if right else ' class="workbook-none"' if number == "0" else ""
    return f'<td{kind}{style} data-name="{column}">{number}</td>'


def confusion_html(study, result):
    """What is named for what, as a table: a row for each truth, a numbered column for each name, whole per cent."""
    names = [trouble_name(trouble) for trouble in study.troubles]
    heads = "".join(
        f'<th scope="col"><abbr title="{escape(name)}">{number}</abbr></th>' for number, name in enumerate(names, 1)
    )
    rows = "".join(
        f'<tr><th scope="row">{number} {escape(name)}</th>'
        + "".join(_cell(share, column == number, column) for column, share in enumerate(shares, 1))
        + "</tr>"
        for number, (name, shares) in enumerate(zip(names, result.named_share, strict=True), 1)
    )
    caption = (
        f"Named for each trouble, % of its cars, from {READING_SETS[result.readings][0].removeprefix('+ ')}. A row is "
        "what is wrong, a column what is named, by the rows' numbers; boxed and bold: named rightly."
    )
    return (
        f'<p class="workbook">{caption}</p><div class="workbook workbook-confusion" tabindex="0" role="region" '
        f'aria-label="What is named for what"><table aria-label="{caption}"><thead><tr><th scope="col">what is wrong</th>{heads}'
        f"</tr></thead><tbody>{rows}</tbody></table></div>"
    )


class SeparatingPowerPanel:
    """The stored study: readings, rates and how well the car is known in; a picture, a sentence and a table out."""

    def __init__(self, readings="gauges", rates="equal", model="exact"):
        self.study = read_separating_power()
        self.readings = self._choice(
            "Readings taken", {key: name for key, (name, _) in READING_SETS.items()}, "readings", readings
        )
        self.rates = self._choice("Troubles come", RATES, "rates", rates)
        self.model = self._choice("The model", MODELS, "model", model)
        self.picture, self.words, self.table = ipywidgets.HTML(), ipywidgets.HTML(), ipywidgets.HTML()
        for choice in (self.readings, self.rates, self.model):
            choice.observe(lambda change: self.update(), names="value")
        self.update()

    @staticmethod
    def _choice(label, names, quantity, value):
        options = [(name, key) for key, name in names.items()]
        value = check_choice(quantity, value, names)
        return ipywidgets.Dropdown(options=options, value=value, description=label, style=NAMED, layout=WIDE)

    @property
    def result(self):
        """What is chosen out of the study."""
        return result_for(self.study, self.readings.value, self.model.value, self.rates.value)

    def sentence(self):
        """What is chosen, in words."""
        result = self.result
        name = READING_SETS[self.readings.value][0].removeprefix("+ ")
        everything = "" if self.readings.value == "gauges" else ", after all the readings before it"
        return (
            f"With {name}{everything}: the trouble is named rightly in {chart.percent(result.right_share)} of 100 cars "
            f"(sampling error {100.0 * result.right_error_share:.1f}), and is given a probability of "
            f"{chart.percent(result.true_probability_share)} % on average. {chart.describe_confusion(self.study, result)}"
        )

    def how(self):
        """How the study was made, with what it left out."""
        counts, made_by = self.study.counts, self.study.made_by
        return (
            f"Computed: {counts.cases} simulated cars on {counts.days} days, seed {made_by.seed}, {made_by.date}; "
            f"{counts.cases_refused} cars and {counts.severities_refused} of {counts.severities} severities found no "
            f"steady state and are left out. {chart.CAUTION}"
        )

    def pictures(self):
        """Both charts side by side, or one above the other on a phone."""
        drawn = []
        rates = self.rates.value
        for draw, label in (
            (
                lambda axes: chart.draw_separating_power(axes, self.study, rates, self.readings.value),
                chart.describe_separating_power(self.study, rates),
            ),
            (lambda axes: chart.draw_one_more(axes, self.study), chart.describe_one_more(self.study)),
        ):
            figure = new_figure(NARROW, chart.HEIGHT)
            draw(figure.add_axes(chart.FRAME))
            drawn.append(f"<div>{svg_of(figure, label)}</div>")
        return f'<div class="workbook workbook-two">{"".join(drawn)}</div>'

    def update(self):
        """Show what is chosen."""
        self.picture.value = self.pictures()
        self.words.value = (
            f'<p class="workbook" role="status" aria-live="polite"><b>{escape(self.sentence())}</b></p>'
            f'<p class="workbook">{escape(self.how())}</p>'
        )
        self.table.value = confusion_html(self.study, self.result)

    def view(self):
        """The panel as one widget."""
        parts = [self.readings, self.rates, self.model, self.words, self.picture, self.table]
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE + OWN_STYLE), ipywidgets.VBox(parts)])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        said = f"{chart.describe_separating_power(self.study, self.rates.value)} {self.sentence()} {self.how()}"
        bundle["text/plain"] = said
        bundle["text/html"] = (
            f'{STYLE}{OWN_STYLE}<figure class="workbook workbook-bench" style="margin:0">{self.pictures()}'
            f"{confusion_html(self.study, self.result)}<figcaption>{escape(said)}</figcaption></figure>"
        )
        return bundle


def show_separating_power(**start):
    """What separates what, with a lesson's start values."""
    return SeparatingPowerPanel(**start)
