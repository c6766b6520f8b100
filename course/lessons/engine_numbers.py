"""The numbers questions ask for, worked out by the course's own functions; none is typed into a question."""

import inspect
from dataclasses import replace
from functools import lru_cache

from course.errors import BadDataFile, WorkbookError, check_choice
from course.lessons.quantities import KINDS, Number, kind_of
from course.lessons.service_numbers import SERVICE_NUMBERS
from course.physics.at_rest import rest_pressure
from course.physics.bench import run_bench
from course.physics.car_file import load_system
from course.physics.moist_air import condensing_heat
from course.physics.refrigerant import REFRIGERANTS, saturation_at_pressure, saturation_at_temperature
from course.service.charging import hose_content_g
from course.service.leak_history import charge_course, load_history
from course.service.leak_rate import leak_from_record
from course.units import (
    DAYS_PER_YEAR,
    G_PER_KG,
    PA_PER_KPA,
    absolute_from_gauge_pa,
    atmospheric_pressure_pa,
    celsius_to_kelvin,
    gauge_from_absolute_pa,
    kelvin_to_celsius,
)


@lru_cache(maxsize=128)
def _bench(settings):
    chosen = dict(settings)
    if "faults" in chosen:
        chosen["faults"] = dict(chosen["faults"])
    car = load_system(chosen.pop("car"))
    if "refrigerant" in chosen:
        car = replace(car, refrigerant=chosen.pop("refrigerant"))
    return run_bench(car, **chosen)


def bench_run(table):
    """The bench run of one setting; the same setting is run once.

    Parameters
    ----------
    table : RunTable
        Car and settings, as run_bench takes them.

    Returns
    -------
    BenchRun
        Everything a technician could read out.

    Raises
    ------
    UnknownChoice, OutOfRange, CycleNotSolved
        As run_bench.

    Notes
    -----
    See course.physics.bench.run_bench.

    Examples
    --------
    >>> from course.data_shapes import RunTable
    >>> bench_run(RunTable(car="sedan", charge_fraction=0.5)).charge_fraction
    0.5
    """
    settings = table.model_dump(exclude_unset=True)
    if "faults" in settings:
        settings["faults"] = tuple(sorted(settings["faults"].items()))
    return _bench(tuple(sorted(settings.items())))


def reading_of(run, reading):
    """One reading of a run, with its kind.

    Parameters
    ----------
    run : BenchRun
        As the bench gives it.
    reading : str
        The name of a number in it, such as "superheat_k".

    Returns
    -------
    Number
        The reading.

    Raises
    ------
    UnknownChoice
        When a run has no such number.

    Notes
    -----
    The kind of quantity follows from the end of the name.

    Examples
    --------
    >>> from course.data_shapes import RunTable
    >>> reading_of(bench_run(RunTable(car="sedan")), "vent_c").kind
    'temperature'
    """
    numbers = [name for name, value in vars(run).items() if isinstance(value, float)]
    kind, size = kind_of(check_choice("reading", reading, numbers))
    return Number(getattr(run, reading) * size, kind)


def _less(first, second, add=-1.0):
    """Two numbers added or taken from one another; two temperatures give a difference, two gauge readings too."""
    apart = {
        "temperature": "temperature_difference",
        "gauge_pressure": "pressure_difference",
        "absolute_pressure": "pressure_difference",
    }
    fits = {first.kind, apart.get(first.kind, first.kind)}
    if second.kind not in fits:
        raise WorkbookError(f"{KINDS[first.kind].name} and {KINDS[second.kind].name} cannot be added or compared")
    kind = apart.get(first.kind, first.kind) if second.kind == first.kind and add < 0.0 else first.kind
    return Number(first.value + add * second.value, kind)


def _given(**quantity):
    if len(quantity) != 1:
        raise WorkbookError("given takes one number, such as temperature_c = 35")
    (name, value), *_ = quantity.items()
    kind, size = kind_of(name)
    return Number(float(value) * size, kind)


def _gauge(pressure_pa, altitude_m):
    return Number(gauge_from_absolute_pa(pressure_pa, altitude_m) / PA_PER_KPA, "gauge_pressure")


def _absolute_pa(pressure, altitude_m):
    absolute = pressure.value * PA_PER_KPA
    return absolute_from_gauge_pa(absolute, altitude_m) if pressure.kind == "gauge_pressure" else absolute


def _absolute(pressure, altitude_m=0.0):
    return Number(_absolute_pa(pressure, altitude_m) / PA_PER_KPA, "absolute_pressure")


def _boiling_temperature(refrigerant, pressure, altitude_m=0.0):
    absolute = _absolute_pa(pressure, altitude_m)
    check_choice("refrigerant", refrigerant, REFRIGERANTS)
    return Number(kelvin_to_celsius(saturation_at_pressure(refrigerant, absolute).temperature), "temperature")


def _boiling_pressure(refrigerant, temperature, altitude_m=0.0):
    check_choice("refrigerant", refrigerant, REFRIGERANTS)
    return _gauge(saturation_at_temperature(refrigerant, celsius_to_kelvin(temperature.value)).pressure, altitude_m)


def _standing_pressure(car, temperature, charge_fraction=1.0, air_kg=0.0, altitude_m=0.0):
    given = {"charge_fraction": charge_fraction, "air_kg": air_kg, "altitude_m": altitude_m}
    return Number(rest_pressure(load_system(car), temperature_c=temperature.value, **given), "gauge_pressure")


def _hose_content(diameter_mm, length_mm, refrigerant, temperature, filled_with):
    return Number(hose_content_g(diameter_mm, length_mm, refrigerant, temperature.value, filled_with), "mass")


def _charge_weight(car, charge_fraction=1.0):
    return Number(load_system(car).label_charge * charge_fraction * G_PER_KG, "mass")


def _percent_of(first, second):
    if first.kind != second.kind:
        raise WorkbookError(f"{KINDS[first.kind].name} is no share of {KINDS[second.kind].name}")
    return Number(100.0 * first.value / second.value, "percent")


def _record(history, what):
    """One number of an invented car's service record: put_in, topped_off and left in grams; days and topped_off_days."""
    record = load_history(history)
    label = load_system(record.car).label_charge * G_PER_KG
    leak = leak_from_record(record.entries, label_charge_g=label, today=record.looked_at)
    course = charge_course(record.entries, leak.g_per_year, label_charge_g=label, until=record.looked_at)
    numbers = {
        "put_in": Number(sum(one.grams for one in record.entries if one.what != "recovered"), "mass"),
        "topped_off": Number(sum(one.grams for one in record.entries if one.what == "topped_off"), "mass"),
        "left": Number(course[-1][1], "mass"),
        "days": Number(float((record.looked_at - record.entries[0].date).days), "time"),
        "topped_off_days": Number(float((record.entries[-1].date - record.entries[0].date).days), "time"),
    }
    return numbers[check_choice("what", what, numbers)]


# name: (what works it out, which of its arguments are names of other numbers)
NUMBERS = {
    "given": (_given, ()),
    "boiling_temperature": (_boiling_temperature, ("pressure",)),
    "boiling_pressure": (_boiling_pressure, ("temperature",)),
    "standing_pressure": (_standing_pressure, ("temperature",)),
    "charge_weight": (_charge_weight, ()),
    "absolute_pressure": (_absolute, ("pressure",)),
    "hose_content": (_hose_content, ("temperature",)),
    "air_pressure": (lambda altitude_m: Number(atmospheric_pressure_pa(altitude_m) / PA_PER_KPA, "absolute_pressure"), ()),
    "record": (_record, ()),
    "leak_per_year": (lambda lost, time: Number(lost.value / time.value * DAYS_PER_YEAR, "leak_rate"), ("lost", "time")),
    "time_to_lose": (lambda lost, leak: Number(lost.value / leak.value * DAYS_PER_YEAR, "time"), ("lost", "leak")),
    "condensing_heat": (lambda water: Number(condensing_heat(water.value / G_PER_KG), "power"), ("water",)),
    "sum": (lambda first, second: _less(first, second, add=1.0), ("first", "second")),
    "difference": (_less, ("first", "second")),
    "percent_of": (_percent_of, ("first", "second")),
} | SERVICE_NUMBERS  # fmt: skip


class Numbers:
    """The named runs and numbers of one lesson, each worked out when first asked for."""

    def __init__(self, lesson):
        self.lesson, self._known, self._asking = lesson, {}, []

    def _entry(self, table, name):
        entries = getattr(self.lesson, table)
        if name not in entries:
            names = ", ".join(entries) or "none"
            raise BadDataFile(f"there is no {table.removesuffix('s')} called {name}; those of this lesson are: {names}")
        if isinstance(entries[name], BadDataFile):
            raise entries[name]
        return entries[name]

    def run(self, name):
        """The bench run of that name."""
        return bench_run(self._entry("runs", name))

    def number(self, name):
        """The number of that name; one that needs itself is refused."""
        if name not in self._known:
            if name in self._asking:
                raise BadDataFile(
                    f"the number {name} is worked out from itself: {' from '.join([*self._asking, name])}"
                )
            table = self._entry("numbers", name)
            self._asking.append(name)
            try:
                self._known[name] = self._worked_out(table)
            except WorkbookError as problem:
                raise BadDataFile(f"number.{name}: {problem}") from None
            finally:
                self._asking.pop()
        return self._known[name]

    def altitude_m(self, name):
        """Where a number is read: the altitude it or its run is given; sea level where nothing is said."""
        given = self.lesson.numbers[name].model_extra if name in self.lesson.numbers else {}
        if "run" in given:
            return self._entry("runs", given["run"]).altitude_m or 0.0
        return given.get("altitude_m", 0.0)

    def _worked_out(self, table):
        given = dict(table.model_extra)
        if table.of == "bench":
            return self._from_bench(**_matched(lambda run, reading, less=None: None, given))
        function, names = NUMBERS[check_choice("of", table.of, [*NUMBERS, "bench"])]
        _matched(function, given)
        return function(**{key: self.number(value) if key in names else value for key, value in given.items()})

    def _from_bench(self, run, reading, less=None):
        number = reading_of(self.run(run), reading)
        return number if less is None else _less(number, reading_of(self.run(less), reading))


def _matched(function, given):
    """What a number is given, when it is what its function takes."""
    signature = inspect.signature(function)
    try:
        signature.bind(**given)
    except TypeError as problem:
        takes = ", ".join(signature.parameters)
        raise BadDataFile(f"{problem}; it takes {takes}") from None
    return given
