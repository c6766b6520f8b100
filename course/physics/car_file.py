"""A car's data file becomes a car: units into SI, and a refusal where no such car could exist."""

from functools import lru_cache

from course import tables
from course.errors import ImpossibleSystem
from course.physics.refrigerant import saturation_at_temperature
from course.physics.system import (
    MOST_CHARGE_FRACTION,
    CarSystem,
    Compressor,
    Condenser,
    Controls,
    Evaporator,
    ExpansionValve,
    Line,
    OrificeTube,
    Storage,
)

RATED_LIQUID_TEMPERATURE = 298.15  # K: 25 °C, at which "can it hold its charge" is judged


def _line(table):
    """A pressure drop known at one flow and density becomes the line's resistance."""
    flow = table.rated_flow_g_s.value / 1e3
    resistance = table.rated_drop_kpa.value * 1e3 * table.rated_density_kg_m3.value / flow**2
    return Line(table.volume_cm3.value * 1e-6, resistance)


def _metering(table):
    if table.kind == "orifice_tube":
        return OrificeTube(table.diameter_mm.value * 1e-3, table.length_mm.value * 1e-3)
    return ExpansionValve(
        table.static_superheat_k.value,
        table.full_open_superheat_k.value,
        table.largest_area_mm2.value * 1e-6,
        table.bleed_area_mm2.value * 1e-6,
        table.discharge_coefficient.value,
    )


def system_from_table(key, table):
    """A car from the checked content of its data file.

    Parameters
    ----------
    key : str
        The id to give it.
    table : course.tables.SystemTable
        Values in the units of their keys.

    Returns
    -------
    CarSystem
        The same car in SI units.

    Raises
    ------
    ImpossibleSystem
        When the parts cannot hold the label charge, or the switches contradict one another.

    Notes
    -----
    "Can hold" is judged at 25 °C with 1.4 times the label charge: the liquid alone must fit into the inner volume.

    Examples
    --------
    >>> from course import tables
    >>> system_from_table("sedan", tables.read_system("sedan")).refrigerant
    'R134a'
    """
    c, k, d, e = table.compressor, table.controls, table.condenser, table.evaporator
    system = CarSystem(
        key=key,
        name=table.car.name,
        description=table.car.description,
        refrigerant=table.car.refrigerant,
        label_charge=table.car.label_charge_g.value / 1e3,
        compressor=Compressor(
            c.displacement_cm3.value * 1e-6,
            c.clearance_share.value,
            c.re_expansion_exponent.value,
            c.speed_loss_share_per_krpm.value,
            c.isentropic_efficiency.value,
            c.isentropic_speed_loss_share_per_krpm.value,
            c.best_pressure_ratio.value,
            c.isentropic_ratio_loss_factor.value,
            c.leakage_g_s_per_mpa.value * 1e-9,
            c.shell_loss_share.value,
            c.volume_cm3.value * 1e-6,
        ),
        controls=Controls(
            k.low_side_control,
            k.low_side_hold_kpa_gauge.value * 1e3,
            k.low_side_cut_in_kpa_gauge.value * 1e3,
            k.low_pressure_lockout_kpa_gauge.value * 1e3,
            k.high_pressure_cut_out_kpa_gauge.value * 1e3,
            k.high_pressure_cut_in_kpa_gauge.value * 1e3,
            k.relief_kpa_gauge.value * 1e3,
            k.least_stroke_share.value,
        ),
        condenser=Condenser(
            d.conductance_vapour_w_k.value,
            d.conductance_condensing_w_k.value,
            d.conductance_liquid_w_k.value,
            d.fan_airflow_m3_s.value,
            d.ram_airflow_m3_s_per_m_s.value,
            d.still_airflow_m3_s.value,
            d.airflow_exponent.value,
            d.hot_air_return_share.value,
            d.volume_cm3.value * 1e-6,
            d.subcooling_pass_share.value,
            d.fan_slow_share.value,
            d.fan_slow_kpa_gauge.value * 1e3,
            d.fan_full_kpa_gauge.value * 1e3,
        ),
        metering=_metering(table.metering),
        evaporator=Evaporator(
            e.conductance_air_w_k.value,
            e.conductance_boiling_w_k.value,
            e.conductance_vapour_w_k.value,
            e.airflow_m3_s.value,
            e.airflow_exponent.value,
            e.volume_cm3.value * 1e-6,
            e.inventory_factor.value,
        ),
        storage=Storage(table.storage.kind, table.storage.volume_cm3.value * 1e-6, table.storage.usable_share.value),
        discharge_line=_line(table.lines.discharge),
        liquid_line=_line(table.lines.liquid),
        suction_line=_line(table.lines.suction),
        suction_line_conductance=table.lines.suction_conductance_w_k.value,
        engine_bay_rise=table.lines.engine_bay_rise_k.value,
        high_side_port=table.car.high_side_port,
        sight_glass=table.car.sight_glass,
    )
    check_possible(system)
    return system


def check_possible(system):
    """Refuse a car that could not exist.

    Parameters
    ----------
    system : CarSystem
        The car.

    Returns
    -------
    None
        Nothing: a car that can exist passes in silence.

    Raises
    ------
    ImpossibleSystem
        When its liquid does not fit, its switches contradict one another, or its storage suits another metering device.

    Notes
    -----
    Liquid density at 25 °C; the cut-out must lie under the critical pressure.

    Examples
    --------
    >>> check_possible(load_system("pickup"))
    """
    density = saturation_at_temperature(system.refrigerant, RATED_LIQUID_TEMPERATURE).liquid_density
    liquid_volume = MOST_CHARGE_FRACTION * system.label_charge / density
    if liquid_volume >= system.volume:
        raise ImpossibleSystem(
            f"{system.name}: its parts hold {system.volume * 1e6:.0f} cm3, but 1.4 times the label charge is "
            f"{liquid_volume * 1e6:.0f} cm3 of liquid at 25 °C; make the parts larger or the label charge smaller."
        )
    controls = system.controls
    if (
        not controls.low_side_hold
        < controls.low_side_cut_in
        < controls.high_pressure_cut_in
        < controls.high_pressure_cut_out
    ):
        raise ImpossibleSystem(
            f"{system.name}: the switch points must rise from low-side hold over low-side cut-in and high-pressure "
            "cut-in to high-pressure cut-out; put them in that order."
        )
    wanted = "accumulator" if isinstance(system.metering, OrificeTube) else "receiver"
    if system.storage.kind != wanted:
        raise ImpossibleSystem(
            f"{system.name}: its metering device goes with a {wanted}, but a {system.storage.kind} was given; "
            "change one of the two."
        )


@lru_cache(maxsize=64)
def load_system(system_id):
    """One of the workbook's invented cars.

    Parameters
    ----------
    system_id : str
        The name of its file in data/systems.

    Returns
    -------
    CarSystem
        The healthy car, in SI units.

    Raises
    ------
    UnknownChoice
        When there is no such car.
    BadDataFile, ImpossibleSystem
        When its file has a mistake.

    Notes
    -----
    The cars are invented; each number's source stands in its file.

    Examples
    --------
    >>> load_system("compact").refrigerant
    'R1234yf'
    """
    return system_from_table(system_id, tables.read_system(system_id))
