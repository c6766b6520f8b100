"""A leak hunt on an invented car: choose place, method, state and care, look, watch the chances move, name the place."""

import threading
from dataclasses import replace
from html import escape

import ipywidgets

from course.charts.engine_bay import describe_engine_bay, engine_bay_svg, place_numbers
from course.charts.words import degrees
from course.errors import WorkbookError
from course.physics.refrigerant import REFRIGERANTS
from course.service.belief import ELSEWHERE, place_chances
from course.service.hunt import HUNT_METHODS, Step, after_earlier_shop, begin_hunt, step_minutes, take_look, wash
from course.service.hunt_plan import best_next_look
from course.service.hunt_verdict import judge, place_name, what_is_left
from course.tables import read_leak_methods, read_leak_places
from course.units import display_units
from course.widgets.controls import NAMED, WIDE
from course.widgets.hunt_words import DOOR_NAMES, STATE_NAMES, log_line, said
from course.widgets.page_style import STYLE
from course.widgets.preferences import remembered_units

CARES = (("By the book", 1.0), ("Ordinary", 0.5), ("Hurried", 0.0))
WAITS = tuple(
    (f"{minutes} min before the look" if minutes else "None", float(minutes)) for minutes in (0, 5, 10, 13, 30)
)
RIDES = tuple((f"{days} days on the road" if days else "None", float(days)) for days in (0, 2, 5, 14))
NOBODY = ""  # no second place named


def _choice(label, options, value=None):
    chosen = {} if value is None else {"value": value}
    return ipywidgets.Dropdown(options=options, description=label, style=NAMED, layout=WIDE, **chosen)


class HuntPanel:
    """One hunt: controls on the left; drawing, clock and log on the right."""

    def __init__(self, number=1, leaks="one", earlier_shop=False, **case):
        self.lock, self.settling = threading.RLock(), False
        self.leaks = leaks
        self.earlier_shop = earlier_shop
        self.start = self.hunt = self._begun(number, **case)
        self.verdict = self.advice = None
        numbers = place_numbers()
        places = [(f"{numbers[place]} {entry.name}", place) for place, entry in read_leak_places().items()]
        methods = read_leak_methods().method
        self.place = _choice("Place", places)
        self.method = _choice("Method", [(methods[method].name, method) for method in HUNT_METHODS])
        self.state = _choice("Car", [(STATE_NAMES[state], state) for state in HUNT_METHODS[self.method.value]])
        self.care = _choice("Care", CARES)
        self.wait = _choice("Wait", WAITS)
        self.doors = _choice("Doors", [(name, key) for key, name in DOOR_NAMES.items()])
        self.ride = _choice("Ride", RIDES)
        self.ride.disabled = True
        self.named = _choice("Leak 1", [*places, (place_name(ELSEWHERE), ELSEWHERE)])
        self.second = _choice("Leak 2", [("no second place", NOBODY), *places, (place_name(ELSEWHERE), ELSEWHERE)])
        self.look, self.washing = self._button("Look", self._look), self._button("Wash this place", self._wash)
        self.hint = self._button("Show the best next look", self._hint)
        self.found, self.again = self._button("I found it", self._name), self._button("Next hunt", self._next)
        self.picture, self.words, self.log = ipywidgets.HTML(), ipywidgets.HTML(), ipywidgets.HTML()
        self.method.observe(lambda change: self._method_changed(), names="value")
        for control in (self.place, self.state, self.care, self.wait, self.doors, self.ride):
            control.observe(lambda change: self.update(), names="value")
        self.update()

    def _begun(self, number, **case):
        hunt = begin_hunt(number, leaks=self.leaks, **case)
        return after_earlier_shop(hunt) if self.earlier_shop else hunt

    def _button(self, label, act):
        button = ipywidgets.Button(description=label, tooltip=label, layout=ipywidgets.Layout(width="auto"))
        button.on_click(lambda pressed: self._done(act))
        return button

    def _done(self, act):
        """Do what a button asks; a refusal is shown as its sentence and nothing is lost."""
        with self.lock:
            try:
                act()
            except WorkbookError as refusal:
                self.update(refusal=str(refusal))
                return
            self.update()

    def _method_changed(self):
        with self.lock:
            self.settling = True  # state and ride follow the method; in between the step is none that can be made
            states = HUNT_METHODS[self.method.value]
            self.state.options = [(STATE_NAMES[state], state) for state in states]
            self.ride.disabled = self.method.value != "uv_dye"
            if self.ride.disabled:
                self.ride.value = 0.0
            self.settling = False
            self.update()

    def step(self):
        """The look as it is chosen."""
        return Step(
            self.place.value,
            self.method.value,
            self.state.value,
            self.care.value,
            self.wait.value,
            self.ride.value,
            self.doors.value,
        )

    def _look(self):
        self.hunt, self.advice = take_look(self.hunt, self.step()), None

    def _wash(self):
        self.hunt, self.advice = wash(self.hunt, self.place.value), None

    def _hint(self):
        self.advice = best_next_look(self.hunt)
        self.hunt = replace(self.hunt, hints=self.hunt.hints + 1)

    def _name(self):
        named = [place for place in (self.named.value, self.second.value) if place != NOBODY]
        self.verdict = judge(self.start, self.hunt, named)

    def _next(self):
        number = self.start.car.seed + 1
        self.start = self.hunt = self._begun(number)
        self.verdict = self.advice = None

    def car_sentence(self):
        """The car as it came in."""
        car, units = self.start.car, display_units(remembered_units())
        many = "one leak" if self.leaks == "one" else "one leak or two"
        alarms = sum(seen.signal for seen in self.start.log)
        heard = "found nothing" if not alarms else f"had {alarms} alarm{'s' * (alarms != 1)}"
        round_made = f" An earlier shop went round outside, engine off, and {heard}." if self.earlier_shop else ""
        return (
            f"Hunt {car.seed}, an invented car: {REFRIGERANTS[car.refrigerant]}, {100 * car.charge_left_fraction:.0f} % of the "
            f"charge left, {degrees(car.temperature_c, units)}; {many}.{round_made}"
        )

    def sentence(self):
        """Where the hunt stands, in one sentence."""
        return f"{self.car_sentence()} {self.clock()} {describe_engine_bay(place_chances(self.hunt.belief))}"

    def clock(self):
        """Looks, time and cost so far."""
        hunt = self.hunt
        looks = sum(seen.step is not None for seen in hunt.log[len(self.start.log) :])
        air = f" Gas in the air reads {hunt.residue_g_per_year:.0f} g a year." if hunt.residue_g_per_year else ""
        return (
            f"{looks} look{'s' * (looks != 1)}, {hunt.minutes:.0f} min of work, {hunt.days:.0f} days, cost {hunt.money:.0f} "
            f"(an invented shop's 100 an hour).{air}"
        )

    def _message(self, refusal):
        if refusal:
            return f'<p class="workbook workbook-words workbook-error" role="alert">{escape(refusal)}</p>'
        if self.verdict is not None:
            items = "".join(f"<li>{escape(reason)}</li>" for reason in self.verdict.reasons)
            return f'<div class="workbook" role="status"><p><b>{self.verdict.marks:.0f} of 100</b></p><ul>{items}</ul></div>'
        lines = [said(self.hunt.log[-1])] if self.hunt.log else []
        lines.append(what_is_left(self.hunt))
        if self.advice is not None:
            lines.append(self._advised())
        lines.append(f"The look chosen now takes {step_minutes(self.hunt, self.step()):.0f} min.")
        body = "".join(f"<p>{escape(line)}</p>" for line in lines)
        return f'<div class="workbook workbook-hunt-words" role="status" aria-live="polite">{body}</div>'

    def _advised(self):
        if self.advice.step is None:
            return f"Best now: name {' and '.join(place_name(place) for place in self.advice.places)}."
        step, methods = self.advice.step, read_leak_methods().method
        wait = f", {DOOR_NAMES[step.doors].lower()}, wait {step.wait_minutes:.0f} min" if step.wait_minutes else ""
        return (
            f"Best next look: {methods[step.method].name.lower()} at {place_numbers()[step.place]} {place_name(step.place)}, "
            f"{STATE_NAMES[step.state].lower()}{wait}: {100 * self.advice.chance:.0f} % to find and believe it in "
            f"{self.advice.minutes:.0f} min."
        )

    def pictures(self):
        """The drawing with the chances that are left."""
        drawing = engine_bay_svg(place_chances(self.hunt.belief), self.place.value)
        return f'<div class="workbook workbook-stack">{drawing}</div>'

    def update(self, refusal=""):
        """Bring everything up to the hunt as it stands."""
        with self.lock:
            if self.settling:
                return
            over = self.verdict is not None
            for control in (self.look, self.washing, self.hint, self.found):
                control.disabled = over
            self.again.disabled = not over  # a hunt that is not finished would be lost
            self.picture.value = self.pictures()
            self.words.value = self._message(refusal)
            lines = "".join(f"<li>{escape(log_line(seen))}</li>" for seen in reversed(self.hunt.log))
            self.log.value = (
                f'<div class="workbook"><p>{escape(self.car_sentence())}</p><p><b>{escape(self.clock())}</b></p>'
                f'<ol class="workbook-hunt-log" reversed tabindex="0" aria-label="Looks so far">{lines}</ol></div>'
            )

    def view(self):
        """The panel as one widget."""
        buttons = ipywidgets.HBox([self.look, self.washing, self.hint], layout=ipywidgets.Layout(flex_flow="row wrap"))
        ends = ipywidgets.HBox([self.found, self.again], layout=ipywidgets.Layout(flex_flow="row wrap"))
        choices = [self.place, self.method, self.state, self.care, self.wait, self.doors, self.ride]
        naming = [self.named, *([self.second] if self.leaks != "one" else []), ends]
        left = ipywidgets.VBox([*choices, buttons, self.words, *naming])
        right = ipywidgets.Box([self.picture, self.log])
        right.add_class("workbook-hunt")
        panel = ipywidgets.Box([left, right])
        panel.add_class("workbook-panel")
        bench = ipywidgets.VBox([ipywidgets.HTML(STYLE), panel])
        bench.add_class("workbook-bench")
        return bench

    def _repr_mimebundle_(self, **kwargs):
        bundle = dict(self.view()._repr_mimebundle_(**kwargs))
        bundle["text/plain"] = self.sentence()
        bundle["text/html"] = (
            f'{STYLE}<figure class="workbook workbook-bench" style="margin:0"><div class="workbook-hunt"><div>'
            f"{self.pictures()}</div></div><figcaption>{escape(self.sentence())}</figcaption></figure>"
        )
        return bundle


def show_hunt(**start):
    """A leak hunt with a lesson's number or case."""
    return HuntPanel(**start)
