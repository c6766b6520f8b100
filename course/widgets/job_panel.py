"""The job sheet: fill in, add line by line, save, open again, print. What was typed stays when something is refused."""

import re
from base64 import b64encode
from datetime import datetime
from html import escape
from pathlib import Path

import ipywidgets

from course.charts.hunt_sheet import PAGE_STYLE
from course.errors import OutOfRange, WorkbookError
from course.service.job import STEPS, UNITS, Entry, Job, add_entry, check_job, missing_steps, open_job, save_job
from course.service.job_print import job_html
from course.widgets.controls import NAMED, WIDE
from course.widgets.page_style import STYLE
from course.widgets.service_panel import answered, button, choice, refused

REFRIGERANTS = (("R-134a", "R134a"), ("R-1234yf", "R1234yf"))
NUMBER = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,39}")


def _text(label, value="", hint=""):
    return ipywidgets.Text(value=value, description=label, placeholder=hint, style=NAMED, layout=WIDE)


def _number(text, name):
    """A typed number, or a sentence about what was typed; a decimal comma is a point."""
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        raise OutOfRange(f"{name}: {text!r} is not a number; write digits alone, the unit stands beside it.") from None


class JobPanel:
    """One sheet: its head, a line being written, and the lines so far."""

    def __init__(self, folder=None, number="17", car="Invented pickup", label_charge_g=700, technician=""):
        self.folder = Path.cwd() if folder is None else Path(folder)
        self.entries, self.saved = (), None  # saved: the job as the file has it, None before the first time
        self.number = _text("Job number", number)
        self.car = _text("Car", car, "no owner's name")
        self.refrigerant = choice("Refrigerant", REFRIGERANTS)
        self.label = _text("Label, g", f"{label_charge_g:g}")
        self.technician = _text("Technician", technician, "initials or certificate number")
        self.step = choice("Step", [(name, key) for key, name in STEPS.items()])
        self.time = _text("Time", hint="leave empty for now")
        self.value = _text("Reading", hint="a number, or nothing")
        self.unit = choice("Unit", [("none", ""), *((unit, unit) for unit in UNITS)])
        self.instrument, self.note = _text("Instrument"), _text("Note")
        self.add = button("Add this line", lambda: self._done(self._add))
        self.save = button("Save", lambda: self._done(self._save))
        self.open = button("Open this number", lambda: self._done(self._open))
        self.sheet, self.words = ipywidgets.HTML(), ipywidgets.HTML()
        self._show("")

    def job(self):
        """The sheet as it stands; refuses when its head is not in order."""
        charge = _number(self.label.value, "label charge")
        head = (self.number.value.strip(), self.car.value.strip(), self.refrigerant.value, charge)
        return check_job(Job(*head, self.technician.value.strip(), self.entries))

    def path(self):
        """The file of the number in the form."""
        number = self.number.value.strip()
        if not NUMBER.fullmatch(number):
            raise OutOfRange(
                f"job number: {number!r} cannot name a file; use up to 40 letters, digits, - and _, and begin with a letter or digit."
            )
        return self.folder / f"job_{number}.json"

    def _done(self, act):
        try:
            said = act()
        except WorkbookError as refusal:
            self._show(refused(str(refusal)))
            return
        self._show(answered(said))

    def _add(self):
        typed = self.value.value.strip()
        reading = _number(typed, STEPS[self.step.value].lower()) if typed else None
        time = self.time.value.strip() or datetime.now().strftime("%Y-%m-%dT%H:%M")
        unit = self.unit.value if reading is not None else ""
        line = Entry(time, self.step.value, reading, unit, self.instrument.value.strip(), self.note.value.strip())
        self.entries = add_entry(self.job(), line).entries
        for box in (self.time, self.value, self.note):
            box.value = ""
        return f"{STEPS[line.step]} is on the sheet; it is not saved yet."

    def _save(self):
        path, job = self.path(), self.job()
        if path.exists() and open_job(path) != self.saved:
            raise OutOfRange(
                f"{path.name}: there is another sheet of this number, and it would be lost; open it, or choose another number."
            )
        save_job(job, path)
        self.saved = job
        return f"Saved as {path.name}, beside this notebook."

    def _open(self):
        if self.entries and (self.saved is None or self.saved.entries != self.entries):
            raise OutOfRange("this sheet has lines that are not saved, and they would be lost; save it first.")
        job = open_job(self.path())
        self.car.value, self.refrigerant.value, self.technician.value = job.car, job.refrigerant, job.technician
        self.label.value = f"{job.label_charge_g:g}"
        self.entries, self.saved = job.entries, job
        return f"Opened: {len(job.entries)} line{'s' * (len(job.entries) != 1)}."

    def print_link(self):
        """A link to the sheet as a page to print; nothing while the head is not in order."""
        try:
            job = self.job()
        except WorkbookError:
            return ""
        head = f'<meta charset="utf-8"><title>Job {escape(job.number)}</title>{PAGE_STYLE}'
        page = f'<!DOCTYPE html><html lang="en"><head>{head}</head><body>{job_html(job)}</body></html>'
        data = b64encode(page.encode()).decode()
        name = escape(f"job_{job.number}.html", quote=True)
        return (
            f'<p><a class="workbook-link" download="{name}" href="data:text/html;base64,{data}">Page to print</a></p>'
        )

    def _show(self, words):
        self.words.value = words or answered("Fill in the head, then write line by line.")
        try:
            table = job_html(self.job()).replace("<table>", '<table class="workbook-form">', 1)
        except WorkbookError as refusal:
            table = (
                f"<p>The sheet stands here once its head is whole. Still missing or wrong: {escape(str(refusal))}</p>"
            )
        self.sheet.value = (
            f'<div class="workbook workbook-sheet" tabindex="0" aria-label="Job sheet">{table}</div>{self.print_link()}'
        )

    def sentence(self):
        """How far the sheet is, in words."""
        head = Job(self.number.value, self.car.value, self.refrigerant.value, 0.0, "", self.entries)
        missing = missing_steps(head)
        lines = f"{len(self.entries)} line{'s' * (len(self.entries) != 1)}"
        rest = f"Missing: {', '.join(missing).lower()}." if missing else "Verified."
        return f"Job sheet {self.number.value}, {self.car.value}: {lines}. {rest}"

    def view(self):
        """The panel as one widget."""
        head = [self.number, self.car, self.refrigerant, self.label, self.technician]
        line = [self.step, self.time, self.value, self.unit, self.instrument, self.note]
        buttons = ipywidgets.HBox([self.add, self.save, self.open], layout=ipywidgets.Layout(flex_flow="row wrap"))
        left, right = ipywidgets.VBox([*head, *line, buttons, self.words]), ipywidgets.Box([self.sheet])
        right.add_class("workbook-stack")
        panel = ipywidgets.Box([left, right])
        for name in ("workbook-panel", "workbook-service", "workbook-job"):
            panel.add_class(name)
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = self.sentence()
        bundle["text/html"] = f'{STYLE}<div class="workbook workbook-bench"><p>{escape(self.sentence())}</p></div>'
        return bundle


def show_job_sheet(**start):
    """A job sheet with a lesson's start values."""
    return JobPanel(**start)
