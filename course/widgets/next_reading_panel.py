"""A mystery car: take a reading, watch the list of suspects change, see what each further one is worth, name the trouble."""

from html import escape

import ipywidgets

from course.charts.style import GRID
from course.charts.words import pressure_number, rounded
from course.errors import WorkbookError
from course.evidence.next_reading import (
    LAST_CAR,
    READINGS,
    begin_mystery,
    best_next_reading,
    chances,
    columns_of,
    minutes_of,
    shortest_way,
    suspects_left,
    worth_of_each,
)
from course.evidence.separating_power import trouble_name
from course.lessons.quantities import Number
from course.physics.car_file import load_system
from course.physics.refrigerant import REFRIGERANTS, saturation_at_pressure
from course.units import G_PER_KG, PA_PER_KPA, absolute_from_gauge_pa, kelvin_to_celsius
from course.widgets.controls import NAMED, WIDE
from course.widgets.page_style import STYLE
from course.widgets.service_panel import ServicePanel, answered, button, choice, refused, units_choice

GRID_LINE = f"1px solid var(--workbook-grid, {GRID[0]})"
OWN_STYLE = f"""<style>
.workbook-suspects {{ display: grid; gap: 10px 18px; grid-template-columns: repeat(auto-fit, minmax(min(100%, 290px), 1fr)); align-items: start; }}
.workbook-bench .workbook-suspects table {{ border-collapse: collapse; width: 100%; font-size: 13px; }}
.workbook-bench .workbook-suspects table {{ color: var(--workbook-ink); table-layout: auto; }}
.workbook-bench .workbook-suspects :is(th, td) {{ text-align: left; white-space: normal; padding: 3px 5px; }}
.workbook-bench .workbook-suspects :is(th, td) {{ border-bottom: {GRID_LINE}; vertical-align: top; }}
.workbook-bench .workbook-suspects :is(tbody tr, tbody tr:hover) {{ background: none; }}
.workbook-bench .workbook-suspects tr:not(.workbook-first) > th {{ font-weight: normal; }}
.workbook-suspects caption {{ text-align: left; color: var(--workbook-faint); font-size: 12px; padding: 0 5px 2px; }}
.workbook-bench .workbook-suspects td.workbook-bar {{ width: 38%; min-width: 80px; }}
.workbook-bar div {{ background: var(--workbook-low); height: 11px; min-width: 1px; margin-top: 3px; }}
.workbook-bench .workbook-suspects td.workbook-share {{ text-align: right; width: 52px; white-space: nowrap; }}
.workbook-bench .workbook-first :is(th, td) {{ font-weight: bold; }}
@container (max-width: 480px) {{
  .workbook-bench .workbook-suspects :is(table, th, td) {{ font-size: 12px; padding: 3px 2px; overflow-wrap: anywhere; }}
  .workbook-bench .workbook-suspects td.workbook-bar {{ width: 30%; min-width: 50px; }}
}}
</style>"""
WORKING = "Working out what every suspect would show on this day; a few seconds."


def percent(share):
    """Whole per cent, and words where those would say too much."""
    return "< 1" if share < 0.005 else "> 99" if share > 0.995 else rounded(100.0 * share)


class NextReadingPanel(ServicePanel):
    """One mystery car: what was read, what it leaves, and what the rest is worth."""

    def __init__(self, number=7):
        self.mystery = begin_mystery(number)
        self.taken, self.worth, self.asked, self.said = (), None, 0, ()
        self.reading = choice("Reading", self._offered())
        self.take = button("Take this reading", lambda: self._done(self._take))
        self.ask = button("What is each reading worth?", lambda: self._done(self._worth))
        self.name = choice("It is", self._names())
        self.found = button("I name it", lambda: self._done(self._name))
        self.number = ipywidgets.BoundedIntText(
            value=number, min=0, max=LAST_CAR, description="Car number", style=NAMED, layout=WIDE
        )
        self.again = button("Next car", lambda: self._bring(self.mystery.number + 1))
        self.units = units_choice()
        self.number.observe(lambda change: self._bring(change["new"]), names="value")
        super().__init__(self.reading, self.take, self.ask, self.name, self.found, self.number, self.again, self.units)

    def _offered(self):
        return [
            (f"{reading.name}, {reading.minutes:.0f} min", key)
            for key, reading in READINGS.items()
            if key not in self.taken
        ]

    def _names(self):
        return [(trouble_name(trouble), trouble) for trouble in self.mystery.troubles]

    def _done(self, act):
        with self.lock:
            self.words.value = answered(WORKING)
            act()
            self.take.disabled = self.ask.disabled = not self.reading.options or self.over
            self.found.disabled = self.over
            self.update()

    @property
    def over(self):
        """Whether the trouble has been named."""
        return bool(self.said)

    def _take(self):
        self.taken, self.worth = (*self.taken, self.reading.value), None
        self.reading.options = self._offered()

    def _worth(self):
        self.worth, self.asked = worth_of_each(self.mystery, self.taken), self.asked + 1

    def _bring(self, number):
        """Another car; a number that has none is said, and the last car stays."""
        with self.lock:
            if number == self.mystery.number:
                return
            try:
                self.mystery = begin_mystery(number)
            except WorkbookError as refusal:
                self.words.value = refused(str(refusal))
                return
            self.taken, self.worth, self.asked, self.said = (), None, 0, ()
            self.reading.options, self.name.options = self._offered(), self._names()
            self.number.value = number
            self.take.disabled = self.ask.disabled = self.found.disabled = False
            self.update()

    def _name(self):
        truth, mine, now = self.mystery.case.trouble, self.name.value, self.chances()
        way = shortest_way(self.mystery)
        after = dict(zip(self.mystery.troubles, chances(self.mystery, way), strict=True))
        best = max(after, key=after.get)
        called = {key: trouble_name(key).lower() for key in (truth, mine, best)}
        verdict = f"{'Yes' if mine == truth else 'No'}: it is {called[truth]}."
        stood = f"{self._spent()}, and you named {called[mine]}: its chance stood at {percent(now[mine])} %"
        instead = "" if mine == truth else f", that of the truth at {percent(now[truth])} %"
        names = ", ".join(READINGS[key].name for key in way)
        ends = f"{minutes_of(way):.0f} min, and then {called[best]} is first with {percent(after[best])} %."
        misled = "" if best == truth else "So the best way misleads on this car: its errors fell that way."
        self.said = (verdict, f"{stood}{instead}.", f"Always the best next reading: {names}; {ends}", misled)

    def _spent(self):
        return f"{len(self.taken)} reading{'s' * (len(self.taken) != 1)}, {minutes_of(self.taken):.0f} min"

    def chances(self):
        """Chance of every suspect as things stand."""
        return dict(zip(self.mystery.troubles, chances(self.mystery, self.taken), strict=True))

    def car_sentence(self):
        """The car as it came in."""
        day, units = self.mystery.day, self.shown_units
        system = load_system(day.car)
        warm = Number(day.ambient_c, "temperature").shown(units)
        return (
            f"Mystery car {self.mystery.number}, an invented {day.car} with {REFRIGERANTS[system.refrigerant]}: it cools too "
            f"little. {warm} outside, {100 * day.relative_humidity:.0f} % humidity, compressor {day.compressor_rpm:.0f} a "
            "minute; clutch and condenser fan are seen to turn."
        )

    def standing(self):
        """How long the list is, in words."""
        now = self.chances()
        first, second = sorted(now, key=now.get, reverse=True)[:2]
        if not self.taken:
            return f"{self._spent()}. {len(now)} suspects, each as likely as any other."
        return (
            f"{self._spent()}. The list is as long as {rounded(suspects_left(list(now.values())), 1)} equal suspects. First "
            f"{trouble_name(first).lower()}, {percent(now[first])} %; then {trouble_name(second).lower()}, {percent(now[second])} %."
        )

    def advice(self):
        """The best next reading, once it was asked for."""
        if self.worth is None:
            return ""
        best = best_next_reading(self.mystery, self.taken)
        if best is None:
            return (
                "Nothing that is left would shorten the list much: name it, or test what would prove the first wrong."
            )
        name, minutes = READINGS[best.reading].name, READINGS[best.reading].minutes
        return (
            f"Best for its minutes: {name}, {minutes:.0f} min; it leaves {rounded(best.suspects_left, 1)} on average."
        )

    def sentence(self):
        """The car, and how things stand."""
        return f"{self.car_sentence()} {self.standing()}"

    def message(self):
        """What stands below the controls."""
        asked = f"Worth was asked for {self.asked} time{'s' * (self.asked != 1)}." if self.asked else ""
        return answered(*(self.said or (self.standing(), self.advice())), asked)

    def _suspects_html(self):
        now = self.chances()
        first = max(now, key=now.get) if self.taken else None
        rows = "".join(
            f'<tr{" class=workbook-first" if trouble == first else ""}><th scope="row">{escape(trouble_name(trouble))}</th>'
            f'<td class="workbook-bar" aria-hidden="true"><div style="width:{100 * share:.1f}%"></div></td>'
            f'<td class="workbook-share">{escape(percent(share))} %</td></tr>'
            for trouble, share in now.items()
        )
        return f"<table><caption>Suspects, and the chance of each</caption><tbody>{rows}</tbody></table>"

    def _boiling(self, pressure_kpa_gauge):
        absolute = absolute_from_gauge_pa(pressure_kpa_gauge * PA_PER_KPA)
        refrigerant = load_system(self.mystery.day.car).refrigerant
        return kelvin_to_celsius(saturation_at_pressure(refrigerant, absolute).temperature)

    def read_off(self, key):
        """What a reading shows, with what the shop makes of it, and what a sound car shows."""
        mine, sound = (self._shown(key, one) for one in (self.mystery.case.measured, self.mystery.sound))
        return f"{mine}{self._made_of_it(key)}; a sound one {sound}"

    def _shown(self, key, shown):
        units, values = self.shown_units, [float(shown[column]) for column in READINGS[key].columns]
        if key in ("gauges", "at_rest"):
            return f"{' and '.join(pressure_number(value, units) for value in values)} {units.pressure} gauge"
        return Number(values[0], "mass" if key == "weight" else "temperature").shown(units)

    def _made_of_it(self, key):
        """Superheat and subcooling once the gauges are on, the label beside the weight."""
        seen, units = self.mystery.case.measured, self.shown_units
        if key == "weight":
            label = load_system(self.mystery.day.car).label_charge * G_PER_KG
            return f" of {Number(label, 'mass').shown(units)}"
        if "gauges" not in self.taken or key not in ("evaporator_outlet", "condenser_outlet"):
            return ""
        pipe, low, high = (float(seen[column]) for column in (columns_of([key])[0], 0, 1))
        name, apart = (
            ("superheat", pipe - self._boiling(low))
            if key == "evaporator_outlet"
            else ("subcooling", self._boiling(high) - pipe)
        )
        return f", {name} {Number(apart, 'temperature_difference').shown(units)}"

    def _readings_html(self):
        worth = {one.reading: one for one in self.worth or ()}
        now = self.chances()
        heads = (
            '<th scope="col">Reading</th><th scope="col">min</th><th scope="col">Shows, or would leave on average</th>'
        )
        if worth:
            heads += (
                f'<th scope="col">If {escape(trouble_name(max(now, key=now.get)).lower())} is wrong, it falls to</th>'
            )
        rows = ""
        for key in (*self.taken, *(key for key in READINGS if key not in self.taken)):
            one, reading = worth.get(key), READINGS[key]
            said = (
                self.read_off(key) if key in self.taken else f"{rounded(one.suspects_left, 1)} suspects" if one else ""
            )
            fall = f"{escape(percent(one.first_if_wrong))} %" if one else ""
            cells = [f"{reading.minutes:.0f}", escape(said), *([fall] if worth else [])]
            rows += (
                f'<tr><th scope="row">{escape(reading.name)}</th>{"".join(f"<td>{cell}</td>" for cell in cells)}</tr>'
            )
        caption = (
            "Readings. Minutes are assumed: identify before the gauges; a pressure at rest takes hours of standing."
        )
        return f"<table><caption>{caption}</caption><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"

    def page(self):
        """The car, the list of suspects and the readings."""
        return (
            f'<div class="workbook"><p>{escape(self.car_sentence())}</p><div class="workbook-suspects">'
            f"{self._suspects_html()}{self._readings_html()}</div></div>"
        )

    def view(self):
        """The panel as one widget."""
        return ipywidgets.VBox([ipywidgets.HTML(OWN_STYLE), super().view()])

    def _repr_mimebundle_(self, **kwargs):
        bundle = super()._repr_mimebundle_(**kwargs)
        return bundle | {"text/html": bundle["text/html"].replace(STYLE, STYLE + OWN_STYLE, 1)}


def show_next_reading(**start):
    """A mystery car with a lesson's number."""
    return NextReadingPanel(**start)
