"""What every panel of the service job shares: controls on the left, a picture on the right, and words that stay when it refuses."""

import threading
from html import escape

import ipywidgets

from course.errors import WorkbookError
from course.units import UNIT_SETS, display_units
from course.widgets.controls import NAMED, WIDE
from course.widgets.newest_wins import NewestWins
from course.widgets.page_style import STYLE
from course.widgets.preferences import remember_units, remembered_units

MANY = 6  # controls above which a phone scrolls them in a window of their own


def choice(label, options, value=None):
    """A drop-down list with its name beside it."""
    chosen = {} if value is None else {"value": value}
    return ipywidgets.Dropdown(options=list(options), description=label, style=NAMED, layout=WIDE, **chosen)


def units_choice():
    """The learner's units, remembered for next time."""
    units = choice("Units", [(one.label, key) for key, one in UNIT_SETS.items()], remembered_units())
    units.observe(lambda change: remember_units(change["new"]), names="value")
    return units


def button(label, act):
    """A button that does one thing."""
    pressed = ipywidgets.Button(description=label, tooltip=label, layout=ipywidgets.Layout(width="auto"))
    pressed.on_click(lambda one: act())
    return pressed


def refused(sentence):
    """A refusal as the panels show it."""
    return f'<p class="workbook workbook-words workbook-error" role="alert">{escape(sentence)}</p>'


def answered(*paragraphs):
    """What a run says, read out to those who do not see it change."""
    body = "".join(f"<p>{escape(one)}</p>" for one in paragraphs if one)
    return f'<div class="workbook workbook-hunt-words" role="status" aria-live="polite">{body}</div>'


class ServicePanel:
    """A panel of the service job; a kind of its own says compute(), sentence() and pictures()."""

    def __init__(self, *controls):
        self.lock = threading.RLock()
        self.controls = controls
        self.picture, self.words = ipywidgets.HTML(), ipywidgets.HTML()
        self.newest = NewestWins(self.update)
        for control in controls:
            if hasattr(control, "view"):
                control.observe(self.newest.request)
            elif not isinstance(control, ipywidgets.Button):
                control.observe(lambda change: self.newest.request(), names="value")
        self.update()

    @property
    def shown_units(self):
        """The learner's units as last chosen anywhere."""
        units = getattr(self, "units", None)
        return display_units(units.value if units is not None else remembered_units())

    def compute(self):
        """Work everything out anew; may refuse."""

    def message(self):
        """What stands below the controls."""
        return answered(self.sentence())

    def update(self):
        """Work it out and redraw; a refusal is shown as its sentence and the last picture stays."""
        with self.lock:
            try:
                self.compute()
            except WorkbookError as refusal:
                self.words.value = refused(str(refusal))
                return
            self.picture.value = self.page()
            self.words.value = self.message()

    def page(self):
        """The pictures in a frame of the workbook's own."""
        return f'<div class="workbook workbook-single">{self.pictures()}</div>'

    def view(self):
        """The panel as one widget."""
        controls = ipywidgets.VBox([getattr(control, "view", control) for control in self.controls])
        if len(self.controls) > MANY:
            controls.add_class("workbook-controls")
        left = ipywidgets.VBox([controls, self.words])
        picture = ipywidgets.Box([self.picture])
        picture.add_class("workbook-stack")
        panel = ipywidgets.Box([left, picture])
        panel.add_class("workbook-panel")
        panel.add_class("workbook-service")
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        words = self.sentence()
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = words
        bundle["text/html"] = (
            f'{STYLE}<figure class="workbook workbook-bench" style="margin:0"><div class="workbook-stack">{self.page()}</div>'
            f"<figcaption>{escape(words)}</figcaption></figure>"
        )
        return bundle
