"""The bench set up as a source printed it: its conditions, what is lost, and how each published reading is taken."""

from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from math import log

import scipy  # its root finder loads at the first call, as scipy does it: the panels open sooner

from course.errors import BadDataFile
from course.physics.at_rest import rest_pressure
from course.physics.bench import run_bench
from course.physics.faults import with_faults
from course.physics.refrigerant import saturation_at_temperature
from course.physics.system import BenchRun
from course.tables import read_faults, read_printed_readings
from course.units import (
    PA_PER_KPA,
    PA_PER_PSI,
    UNIT_SETS,
    celsius_to_kelvin,
    gauge_from_absolute_pa,
    kelvin_to_celsius,
    to_display_temperature,
)

EMPTY_RESERVE_KG = 0.005  # kg of liquid below which the buffer counts as empty; assumed
NOTICEABLE_LOSS_SHARE = 0.05  # - of the cooling; assumed, the source says only "noticeable"
DRASTIC_LOSS_SHARE = 0.1  # - of the cooling; assumed, the source says only "drastic"
LEAST_CHARGE, CHARGE_STEP = 0.25, 0.004  # - of the label, where the search for a charge begins and how close it ends
EACH_STEP_CLOSES_THE_SAME = ("moisture_in_system",)  # severity is not in proportion to what is lost
LITTLE_SEVERITY = 1e-3  # - at which the search for a restriction begins


@dataclass(frozen=True)
class AsPrinted:
    """One corner of a source's conditions: its settings, the run there, and the run it is compared with."""

    setup: str
    settings: dict  # as run_bench takes them
    run: BenchRun
    compared: BenchRun

    def change(self, field):
        """The field's change against the run compared with, in the field's unit."""
        return getattr(self.run, field) - getattr(self.compared, field)

    def share(self, field):
        """The field's change as a share of the run compared with."""
        return self.change(field) / getattr(self.compared, field)

    @property
    def system(self):
        """The car."""
        return self.run.system


def _severity(name, lost):
    """The severity at which a fault takes away the share a source prints."""
    fault = name.removesuffix("_share")
    if fault not in read_faults():
        raise BadDataFile(f"printed_readings.toml: {name} is not a fault with _share behind it; mend that key.")
    full = float(read_faults()[fault].at_full_share.value)
    return fault, log(1.0 - lost) / log(1.0 - full) if fault in EACH_STEP_CLOSES_THE_SAME else lost / full


def _line_drop(run):
    pressures = {point.name: point.pressure_kpa_absolute for point in run.cycle_points}
    line = pressures["condenser_outlet"] - pressures["metering_inlet"]
    return line, pressures["condenser_outlet"] - pressures["evaporator_inlet"]


def _added_drop(car, settings, share):
    """The severity at which the liquid line's extra drop is that share of the healthy drop to the evaporator."""
    well = run_bench(car, **settings)
    line, whole = _line_drop(well)

    def too_little(severity):
        ill = run_bench(car, **settings, faults={"restricted_liquid_line": severity}, previous=well)
        return (_line_drop(ill)[0] - line) / whole - share

    return scipy.optimize.brentq(too_little, LITTLE_SEVERITY, 1.0, xtol=1e-4)


def _faults(car, settings, lost):
    faults = {}
    for name, quantity in lost.items():
        if name == "added_drop_share":
            faults["restricted_liquid_line"] = _added_drop(car, settings, float(quantity.value))
        else:
            fault, severity = _severity(name, float(quantity.value))
            faults[fault] = severity
    return faults


def _range(settings, name, unit, middle=False):
    """The values of one condition: one, both ends of a range, or its middle too."""
    first, last = getattr(settings, f"{name}_{unit}"), getattr(settings, f"{name}_to_{unit}")
    if first is None:
        return [None]
    low = float(first.value)
    if last is None:
        return [low]
    high = float(last.value)
    return [low, (low + high) / 2.0, high] if middle else [low, high]


def _corners(setup):
    """The settings of every corner of a set-up, without charge and faults."""
    given = setup.settings
    fixed = {"recirculate": setup.recirculate}
    for name, key in (
        ("cabin_c", "cabin_c"),
        ("road_speed_km_h", "road_speed_km_h"),
        ("blower_share", "blower_fraction"),
    ):
        if getattr(given, name) is not None:
            fixed[key] = float(getattr(given, name).value)
    names = ("ambient_c", "relative_humidity", "compressor_rpm")
    ranges = (
        _range(given, "ambient", "c"),
        _range(given, "relative_humidity", "share", middle=True),
        _range(given, "compressor", "rpm", middle=True),
    )
    for corner in product(*ranges):
        yield fixed | {name: value for name, value in zip(names, corner, strict=True) if value is not None}


@lru_cache(maxsize=256)
def runs_of(setup_id):
    """The runs of a set-up: one for each corner of its printed conditions.

    Parameters
    ----------
    setup_id : str
        A set-up of data/evidence/printed_readings.toml.

    Returns
    -------
    tuple of AsPrinted
        The runs, each with the healthy one of the same corner, or with that of the set-up it is against.

    Raises
    ------
    BadDataFile, OutOfRange, CycleNotSolved
        When a loss is not a fault known here, or as run_bench.

    Notes
    -----
    A restriction printed as an added pressure drop is searched for; other losses are turned into severities.

    Examples
    --------
    >>> [round(at.settings["relative_humidity"], 2) for at in runs_of("factory_25")]
    [0.5, 0.6, 0.7]
    """
    setup = read_printed_readings().setup[setup_id]
    charge = 1.0 if setup.settings.charge_share is None else float(setup.settings.charge_share.value)
    found = []
    for settings in _corners(setup):
        well = run_bench(setup.car, **settings)
        changed = charge != 1.0 or setup.lost
        faults = _faults(setup.car, settings, setup.lost)
        run = (
            run_bench(setup.car, **settings, charge_fraction=charge, faults=faults, previous=well) if changed else well
        )
        compared = runs_of(setup.against)[0].run if setup.against else well
        found.append(AsPrinted(setup_id, settings, run, compared))
    return tuple(found)


def _charge_where(at, short):
    """The charge at which a run begins to be short, searched for between little and full."""
    setup = read_printed_readings().setup[at.setup]
    low, high = LEAST_CHARGE, 1.0
    while high - low > CHARGE_STEP:
        middle = (low + high) / 2.0
        run = run_bench(setup.car, **at.settings, charge_fraction=middle, previous=at.run)
        low, high = (middle, high) if short(run) else (low, middle)
    return high


def _critical_charge(at):
    return _charge_where(at, lambda run: run.reserve_kg < EMPTY_RESERVE_KG)


def _charge_at_loss(share):
    return lambda at: _charge_where(at, lambda run: run.capacity_w < (1.0 - share) * at.run.capacity_w)


def _standing(at):
    car = with_faults(at.system, at.run.faults)
    return rest_pressure(car, temperature_c=at.settings["ambient_c"], charge_fraction=1.0, air_kg=car.air_mass)


def _standing_above_chart(at):
    kelvin = celsius_to_kelvin(at.settings["ambient_c"])
    chart = gauge_from_absolute_pa(saturation_at_temperature(at.system.refrigerant, kelvin).pressure)
    return _standing(at) - chart / PA_PER_KPA


def _psi_by_fahrenheit(at):
    psi = at.run.high_side_kpa_gauge * PA_PER_KPA / PA_PER_PSI
    return psi / to_display_temperature(at.settings["ambient_c"], UNIT_SETS["psi_f"])


def _power_bend(at):
    """How far the power at this speed lies off the straight line between the slowest and the fastest."""
    slow, *_, fast = runs_of(at.setup)
    rpm, lowest, highest = (one.settings["compressor_rpm"] for one in (at, slow, fast))
    way = (rpm - lowest) / (highest - lowest)
    straight = (1.0 - way) * slow.run.compressor_power_w + way * fast.run.compressor_power_w
    return at.run.compressor_power_w / straight - 1.0


# reading: (its name, the unit in the key of its band, how it is taken)
READINGS = {
    "low_side": ("low side", "kpa_gauge", lambda at: at.run.low_side_kpa_gauge),
    "high_side": ("high side", "kpa_gauge", lambda at: at.run.high_side_kpa_gauge),
    "evaporating": ("boiling temperature", "c", lambda at: at.run.evaporating_c),
    "condensing": ("condensing temperature", "c", lambda at: at.run.condensing_c),
    "condensing_above_air": (
        "condensing above the outside air",
        "k",
        lambda at: at.run.condensing_c - at.settings["ambient_c"],
    ),
    "vent": ("centre vent", "c", lambda at: at.run.vent_c),
    "air_drop": (
        "air drop from inlet to vent",
        "k",
        lambda at: kelvin_to_celsius(at.run.conditions.cabin or at.run.conditions.ambient) - at.run.vent_c,
    ),
    "superheat": ("superheat", "k", lambda at: at.run.superheat_k),
    "subcooling": ("subcooling", "k", lambda at: at.run.subcooling_k),
    "suction_superheat": ("superheat at the compressor", "k", lambda at: at.run.compressor_suction_superheat_k),
    "high_psi_by_air_f": ("high side in psi by outside air in °F", "factor", _psi_by_fahrenheit),
    "capacity_change": ("change of cooling", "share", lambda at: at.share("capacity_w")),
    "power_change": ("change of shaft power", "share", lambda at: at.share("compressor_power_w")),
    "cop_change": ("change of COP", "share", lambda at: at.share("cop")),
    "high_side_change": ("change of the high side", "kpa", lambda at: at.change("high_side_kpa_gauge")),
    "discharge_change": ("change of the discharge line", "k", lambda at: at.change("discharge_c")),
    "vent_change": ("change of the vent", "k", lambda at: at.change("vent_c")),
    "superheat_change": ("change of superheat", "k", lambda at: at.change("superheat_k")),
    "power": ("shaft power", "kw", lambda at: at.run.compressor_power_w / 1e3),
    "power_bend": ("power off a straight line over speed", "share", _power_bend),
    "standing": ("standing pressure", "kpa_gauge", _standing),
    "standing_above_chart": ("standing pressure above the chart", "kpa", _standing_above_chart),
    "critical_charge": ("charge at which the reserve is gone", "share", _critical_charge),
    "charge_at_noticeable_loss": (
        "charge below which the loss of cooling is noticeable",
        "share",
        _charge_at_loss(NOTICEABLE_LOSS_SHARE),
    ),
    "charge_at_drastic_loss": (
        "charge below which the loss of cooling is drastic",
        "share",
        _charge_at_loss(DRASTIC_LOSS_SHARE),
    ),
    "switch_opens": (
        "cycling switch opens",
        "kpa_gauge",
        lambda at: at.system.controls.low_side_hold / PA_PER_KPA,
    ),
    "switch_closes": ("cycling switch closes", "kpa_gauge", lambda at: at.system.controls.low_side_cut_in / PA_PER_KPA),
    "cut_out_opens": (
        "high-pressure cut-out opens",
        "kpa_gauge",
        lambda at: at.system.controls.high_pressure_cut_out / PA_PER_KPA,
    ),
    "relief_opens": ("relief valve opens", "kpa_gauge", lambda at: at.system.controls.relief_pressure / PA_PER_KPA),
    "fan_fast": (
        "fan at full speed from",
        "kpa_gauge",
        lambda at: at.system.condenser.fan_full_pressure / PA_PER_KPA,
    ),
}
