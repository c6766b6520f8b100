"""The numbers of the service job that questions ask for: nitrogen, vacuum, recovery, oil, dye, the hunt, limits."""

from functools import lru_cache

from course.errors import check_choice
from course.lessons.quantities import Number
from course.physics.at_rest import rest_state
from course.physics.car_file import load_system
from course.service.belief import place_chances
from course.service.dye import days_until_visible, dye_dose, dye_share
from course.service.evacuation import minutes_to_reach, pump_down, usual_circuit
from course.service.hunt import after_earlier_shop, begin_hunt
from course.service.leak_detection import DECISION, Look, chance_of_finding
from course.service.leak_flow import leak_by_state
from course.service.oil import oil_balance
from course.service.pressure_test import expected_kpa_gauge, smallest_leak_g_per_year
from course.service.recovery import load_machine, recover, usual_car
from course.service.rise_case import deep_vacuum_pa, gauge_error_pa, leak_g_per_year, wet_place_w_k
from course.service.vacuum_flow import load_pump, load_tube
from course.service.water import boiling_pressure_pa, boils_at_c
from course.tables import read_leak_limits, read_leak_places
from course.units import G_PER_KG, PA_PER_KPA, SECONDS_PER_DAY, celsius_to_kelvin

MINUTES_PER_DAY = SECONDS_PER_DAY / 60.0


def _minutes(time):
    return time.value * MINUTES_PER_DAY


def _percent(share):
    return Number(100.0 * share, "percent")


def _rough(value):
    """Two figures, all that an assumed error allows."""
    return float(f"{value:.2g}")


def _nitrogen_pressure(pressure, first, second):
    """What tight nitrogen reads at the second temperature."""
    return Number(expected_kpa_gauge(pressure.value, first.value, second.value), "gauge_pressure")


def _leak_a_hold_hides(error, time):
    """The leak that loses as much as the gauge can be off in the time."""
    return Number(_rough(smallest_leak_g_per_year(error.value, _minutes(time))), "leak_rate")


def _leak_a_rise_hides(gauge, time):
    """The leak that lets in as much air as twice the vacuum gauge's error in the time."""
    let_in = DECISION * gauge_error_pa(gauge) * usual_circuit().volume_m3 / (60.0 * _minutes(time))
    return Number(_rough(leak_g_per_year(let_in)), "leak_rate")


def _water_boils_at(vacuum):
    return Number(boils_at_c(vacuum.value * PA_PER_KPA), "temperature")


def _vacuum_over_water(temperature):
    return Number(boiling_pressure_pa(temperature.value) / PA_PER_KPA, "vacuum")


def _pump_down_time(pump, hose, water, cores="port_with_core", ports=1, place="usual"):
    """Minutes until the pump has reached the vacuum that counts as deep."""
    circuit = usual_circuit(water_g=water.value, heat_w_k=wet_place_w_k(place))
    curve = pump_down(circuit, load_pump(pump), [load_tube(hose), load_tube(cores)], 480.0, ports)
    return Number(minutes_to_reach(curve, deep_vacuum_pa()) / MINUTES_PER_DAY, "minutes")


@lru_cache(maxsize=16)
def _held_and_shown_kg(machine, temperature_c):
    car = usual_car(temperature_c=temperature_c)
    return car.charge_kg, recover(car, load_machine(machine)).recovered_kg[-1]


def _recovery(machine, temperature, what):
    """One number of a recovery done once: held, shown and left in grams."""
    held, shown = _held_and_shown_kg(machine, temperature.value)
    numbers = {"held": held, "shown": shown, "left": held - shown}
    return Number(numbers[check_choice("what", what, numbers)] * G_PER_KG, "mass")


def _oil_to_add(system_total, caught, parts=(), events=()):
    """The most that goes back by the oil form."""
    return Number(oil_balance(system_total.value, caught.value, parts, events).most_to_add_ml, "volume")


def _dye_days(leak):
    return Number(days_until_visible(leak.value), "time")


def _dye_in_oil(oil, doses_count):
    """The dye's share of the oil after so many usual doses."""
    return _percent(dye_share(oil.value, doses_count * dye_dose(oil.value).dose_ml))


def _chance_to_find(method, place, leak, care_share=1.0, **look):
    """The chance that one look shows a leak at a place of the hunt."""
    return _percent(
        chance_of_finding(Look(method, care=care_share, **look), read_leak_places()[place], leak.value, "R134a")
    )


def _chance_at(hunt, place, earlier_shop=False):
    """The chance that a place leaks as a hunt begins, an earlier shop's search reckoned in where there was one."""
    begun = begin_hunt(int(hunt))  # written as a name is, for it counts nothing
    chances = place_chances((after_earlier_shop(begun) if earlier_shop else begun).belief)
    return _percent(chances[check_choice("place", place, chances)])


def _chance_left(chance, found):
    """The chance of a place after a look there that found nothing: Bayes' rule for one place among many."""
    before, finds = chance.value / 100.0, found.value / 100.0
    return _percent(before * (1.0 - finds) / (1.0 - before * finds))


def _last_drop(car, temperature):
    """The charge at which the last drop has boiled in a car at rest, as a share of the label: halving, to a thousandth."""
    system, dry, wet = load_system(car), 0.0, 1.0
    while wet - dry > 1e-3:
        middle = 0.5 * (dry + wet)
        liquid = rest_state(system, celsius_to_kelvin(temperature.value), middle * system.label_charge).liquid
        dry, wet = (dry, middle) if liquid > 0.0 else (middle, wet)
    return _percent(wet)


def _hole_by_state(leak, temperature, state, side):
    """What a hole named at rest at 25 °C lets out in a state, on a side."""
    found = leak_by_state("R134a", leak.value, temperature.value)
    return Number(found[check_choice("state", state, [one for one, _ in found]), side], "leak_rate")


def _leak_figure(name):
    """A published figure for what cars lose."""
    figures = read_leak_limits().figure
    return Number(figures[check_choice("name", name, figures)].rate_g_per_year.value, "leak_rate")


def _times(first, second):
    return Number(first.value / second.value, "plain")


# name: (what works it out, which of its arguments are names of other numbers)
SERVICE_NUMBERS = {
    "nitrogen_pressure": (_nitrogen_pressure, ("pressure", "first", "second")),
    "leak_a_hold_hides": (_leak_a_hold_hides, ("error", "time")),
    "leak_a_rise_hides": (_leak_a_rise_hides, ("time",)),
    "water_boils_at": (_water_boils_at, ("vacuum",)),
    "vacuum_over_water": (_vacuum_over_water, ("temperature",)),
    "pump_down_time": (_pump_down_time, ("water",)),
    "recovery": (_recovery, ("temperature",)),
    "oil_to_add": (_oil_to_add, ("system_total", "caught")),
    "dye_days": (_dye_days, ("leak",)),
    "dye_in_oil": (_dye_in_oil, ("oil",)),
    "chance_to_find": (_chance_to_find, ("leak",)),
    "chance_at": (_chance_at, ()),
    "chance_left": (_chance_left, ("chance", "found")),
    "last_drop": (_last_drop, ("temperature",)),
    "hole_by_state": (_hole_by_state, ("leak", "temperature")),
    "leak_figure": (_leak_figure, ()),
    "times": (_times, ("first", "second")),
}
