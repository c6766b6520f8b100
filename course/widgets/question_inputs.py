"""What a learner answers with, one class a kind of question; each gives the plain answer that marking takes."""

from html import escape

import ipywidgets

from course.charts import pressure_enthalpy
from course.charts.shapes import Disc, Path, Words, svg
from course.evidence.direction_table import READINGS
from course.lessons.marking import DIRECTIONS, point_name, tolerance_words
from course.lessons.on_paper import mixed
from course.widgets.controls import WIDE

UNCHOSEN = "choose …"


def _choice(options, **settings):
    radio = ipywidgets.RadioButtons(options=options, value=None, layout=WIDE, **settings)
    radio.add_class("workbook-choice")
    return radio


def _line(label, control, kind="workbook-pair"):
    """A control beside its words."""
    words = ipywidgets.HTML(f'<span class="workbook">{label}</span>')
    line = ipywidgets.Box([words, control])
    line.add_class("workbook-line")
    line.add_class(kind)
    return line


class ChoiceInput:
    """One of several answers."""

    def __init__(self, question, units):
        texts = [question.fill(option.text, units) for option in question.table.options]
        self.texts = texts
        self.radio = _choice([(text, number) for number, text in enumerate(texts)], tooltip="Answers")
        self.controls, self.view = [self.radio], self.radio

    @property
    def answer(self):
        """The number of the option, None while nothing is chosen."""
        return self.radio.value

    def show(self, answer):
        """Put an earlier answer back."""
        self.radio.value = answer

    @staticmethod
    def options(question, units):
        """What there is to choose from, for paper."""
        return [question.fill(option.text, units) for option in question.table.options]


class NumericInput:
    """A number with its unit, written as one likes."""

    def __init__(self, question, units):
        self.box = ipywidgets.Text(description="Answer", placeholder="number and unit", layout=WIDE)
        hint = ipywidgets.HTML(
            f'<span class="workbook workbook-hint">{escape(self.options(question, units)[0])}</span>'
        )
        self.controls, self.view = [self.box], ipywidgets.VBox([self.box, hint])

    @property
    def answer(self):
        """The text as written."""
        return self.box.value

    def show(self, answer):
        """Put an earlier answer back."""
        self.box.value = answer

    @staticmethod
    def options(question, units):
        """What is asked for, for paper."""
        return [f"Give number and unit; {tolerance_words(question, units)}."]


class OrderInput:
    """A place for every step, as numbers are written beside them on paper."""

    def __init__(self, question, units):
        self.ids = mixed(question, [step.id for step in question.table.steps])
        places = [(UNCHOSEN, 0), *((str(place), place) for place in range(1, len(self.ids) + 1))]
        texts = {step.id: question.fill(step.text, units) for step in question.table.steps}
        self.controls = [ipywidgets.Dropdown(options=places, layout=WIDE, tooltip=texts[step]) for step in self.ids]
        lines = [
            _line(escape(texts[step]), control, "workbook-place")
            for step, control in zip(self.ids, self.controls, strict=True)
        ]
        self.view = ipywidgets.VBox(lines)

    @property
    def answer(self):
        """The steps in the learner's order; None while a place is free or taken twice."""
        places = [control.value for control in self.controls]
        if sorted(places) != list(range(1, len(self.ids) + 1)):
            return None
        return [step for _, step in sorted(zip(places, self.ids, strict=True))]

    def show(self, answer):
        """Put an earlier answer back."""
        for step, control in zip(self.ids, self.controls, strict=True):
            control.value = answer.index(step) + 1

    @staticmethod
    def options(question, units):
        """The steps to number, for paper."""
        return [question.fill(step.text, units) for step in mixed(question, question.table.steps)]


class MatchInput:
    """For everything on the left, something to choose on the right."""

    def __init__(self, question, units):
        table = question.table
        rights = mixed(question, [*(pair.right for pair in table.pairs), *(spare.text for spare in table.spare)])
        options = [(UNCHOSEN, ""), *((question.fill(right, units), right) for right in rights)]
        self.controls = [ipywidgets.Dropdown(options=options, layout=WIDE, tooltip=pair.left) for pair in table.pairs]
        lines = [
            _line(escape(question.fill(pair.left, units)), control)
            for pair, control in zip(table.pairs, self.controls, strict=True)
        ]
        self.view = ipywidgets.VBox(lines)

    @property
    def answer(self):
        """What was chosen for each, in the order of the file."""
        return [control.value or None for control in self.controls]

    def show(self, answer):
        """Put an earlier answer back."""
        for control, chosen in zip(self.controls, answer, strict=True):
            control.value = chosen

    @staticmethod
    def options(question, units):
        """Left and right sides, for paper."""
        table = question.table
        rights = mixed(question, [*(pair.right for pair in table.pairs), *(spare.text for spare in table.spare)])
        lefts = "; ".join(question.fill(pair.left, units) for pair in table.pairs)
        return [f"{lefts}. To choose from: {'; '.join(question.fill(right, units) for right in rights)}."]


class PointInput:
    """A point on the P-h chart, by its button there or by its name below."""

    def __init__(self, question, units):
        self.names = mixed(question, [place.point for place in question.table.points])
        letters = dict(zip(self.names, "ABCDEFGHIJ", strict=False))
        labels = {name: f"{letter} · {point_name(name)}" for name, letter in letters.items()}
        self.drop = ipywidgets.Dropdown(
            options=[(UNCHOSEN, ""), *((label, name) for name, label in labels.items())],
            description="Point",
            layout=WIDE,
        )
        run = question.runs[question.table.run]
        places = {point.name: point for point in run.cycle_points}
        self.chart, self.buttons = ipywidgets.HTML(chart_of(question, units, letters)), []
        for name, label in labels.items():
            x, y = _pixels(run, places[name], units)
            button = ipywidgets.Button(
                tooltip=label,
                layout=ipywidgets.Layout(
                    left=f"{100.0 * x / pressure_enthalpy.WIDTH:.2f}%",
                    top=f"{100.0 * y / pressure_enthalpy.HEIGHT:.2f}%",
                ),
            )
            button.on_click(lambda pressed, name=name: self.show(name))
            button.add_class("workbook-point")
            self.buttons.append(button)
        self.drop.observe(lambda change: self._mark(), names="value")
        chart = ipywidgets.Box([self.chart, *self.buttons])
        chart.add_class("workbook-pick")
        self.controls, self.view = [self.drop, *self.buttons], ipywidgets.VBox([chart, self.drop])

    def _mark(self):
        for name, button in zip(self.names, self.buttons, strict=True):
            (button.add_class if name == self.drop.value else button.remove_class)("workbook-picked")

    @property
    def answer(self):
        """The point's name, None while nothing is chosen."""
        return self.drop.value or None

    def show(self, answer):
        """Choose a point."""
        self.drop.value = answer

    @staticmethod
    def options(question, units):
        """The points by name, for paper."""
        return [point_name(place.point) for place in mixed(question, question.table.points)]


def _pixels(run, point, units):
    refrigerant = run.system.refrigerant
    return pressure_enthalpy.to_pixels(refrigerant, units, point.enthalpy_kj_kg, point.pressure_kpa_absolute)


def chart_of(question, units, letters=None):
    """The run's P-h chart, with a letter at each point that can be picked."""
    run = question.runs[question.table.run]
    named = letters or dict(
        zip(mixed(question, [place.point for place in question.table.points]), "ABCDEFGHIJ", strict=False)
    )
    # the loop alone: words such as "superheat" on the usual chart would give the answer away
    loop = [_pixels(run, point, units) for point in [*run.cycle_points, run.cycle_points[0]]]
    shapes = [Path(loop, width=2.4)]
    for point in run.cycle_points:
        if point.name in named:
            x, y = _pixels(run, point, units)
            shapes += [Disc(x, y, 9.0, fill="paper"), Words(x, y + 4.2, named[point.name], anchor="middle", bold=True)]
    places = ", ".join(f"{letter} {point_name(name).lower()}" for name, letter in named.items())
    cycle = svg(shapes, pressure_enthalpy.WIDTH, pressure_enthalpy.HEIGHT, f"The cycle on the P-h chart: {places}")
    still = pressure_enthalpy.still_svg(run.system.refrigerant, units)
    return f'<div class="workbook workbook-stack"><div>{still}</div><div>{cycle}</div></div>'


class DirectionsInput:
    """Up, the same or down for every reading."""

    def __init__(self, question, units):
        options = [(words, direction) for direction, words in DIRECTIONS.items()]
        self.readings = list(question.table.why)
        self.controls = [
            _choice(options, orientation="horizontal", tooltip=name) for name in self.options(question, units)
        ]
        names = self.options(question, units)
        self.view = ipywidgets.VBox([_line(name, one) for name, one in zip(names, self.controls, strict=True)])

    @property
    def answer(self):
        """Direction by reading."""
        return {reading: control.value for reading, control in zip(self.readings, self.controls, strict=True)}

    def show(self, answer):
        """Put an earlier answer back."""
        for reading, control in zip(self.readings, self.controls, strict=True):
            control.value = answer.get(reading)

    @staticmethod
    def options(question, units):
        """The readings, for paper."""
        return [READINGS[reading][0].capitalize() for reading in question.table.why]


INPUTS = {
    "choice": ChoiceInput,
    "predict": ChoiceInput,
    "numeric": NumericInput,
    "order": OrderInput,
    "match": MatchInput,
    "point": PointInput,
    "directions": DirectionsInput,
}
