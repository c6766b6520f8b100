"""Every fault as a change to a healthy car: severity 0 leaves it untouched, 1 is as bad as data/faults.toml says."""

from dataclasses import replace

from course.errors import check_choice, check_range
from course.physics.moist_air import DRY_AIR_GAS_CONSTANT
from course.physics.system import ExpansionValve, OrificeTube
from course.tables import read_faults
from course.units import STANDARD_ATMOSPHERE_PA

AIR_FILLING_TEMPERATURE = 298.15  # K: 25 °C, at which air would fill the empty circuit


def _at_full(fault):
    return read_faults()[fault].at_full_share.value


def _left_open(fault, severity):
    """Share of a way that is left: each step of severity closes the same share of what was left before."""
    return (1.0 - _at_full(fault)) ** severity


def _restricted_liquid_line(system, severity):
    """Closing a share of a path raises its pressure drop with the square of what is left."""
    left = _left_open("restricted_liquid_line", severity)
    line = replace(system.liquid_line, resistance=system.liquid_line.resistance / left**2)
    return replace(system, liquid_line=line)


def close_metering(system, closed):
    """The car with a share of its metering device closed by debris or ice.

    Parameters
    ----------
    system : CarSystem
        The car.
    closed : float
        Share closed, 0 to 1 [-].

    Returns
    -------
    CarSystem
        A changed copy.

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Closes bleed and stuck-open shares alike; expansion_device leaves a crack in any case.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> close_metering(load_system("pickup"), 0.25).metering.open_share
    0.75
    """
    device = system.metering
    if isinstance(device, OrificeTube):
        return replace(system, metering=replace(device, open_share=device.open_share * (1.0 - closed)))
    changed = replace(
        device,
        largest_area_share=device.largest_area_share * (1.0 - closed),
        least_area_share=device.least_area_share * (1.0 - closed),
        bleed_area=device.bleed_area * (1.0 - closed),
    )
    return replace(system, metering=changed)


def _restricted_metering_device(system, severity):
    return close_metering(system, 1.0 - _left_open("restricted_metering_device", severity))


def _oversized_orifice(system, severity):
    added = severity * _at_full("oversized_orifice")
    device = system.metering
    if isinstance(device, OrificeTube):
        return replace(system, metering=replace(device, open_share=device.open_share * (1.0 + added)))
    return replace(system, metering=replace(device, largest_area=device.largest_area * (1.0 + added)))


def _txv_stuck_open(system, severity):
    device = system.metering
    if not isinstance(device, ExpansionValve):
        return system
    least = max(device.least_area_share, severity * _at_full("txv_stuck_open"))
    return replace(system, metering=replace(device, least_area_share=least))


def _txv_stuck_closed(system, severity):
    device = system.metering
    if not isinstance(device, ExpansionValve):
        return system
    left = _left_open("txv_stuck_closed", severity)
    return replace(system, metering=replace(device, largest_area_share=device.largest_area_share * left))


def _worn_compressor(system, severity):
    worn = severity * _at_full("worn_compressor")
    return replace(system, compressor=replace(system.compressor, worn_share=worn))


def _compressor_not_pumping(system, severity):
    left = 1.0 - severity * _at_full("compressor_not_pumping")
    return replace(system, compressor=replace(system.compressor, pumping_share=left))


def _clutch_not_engaged(system, severity):
    left = 1.0 - severity * _at_full("clutch_not_engaged")
    return replace(system, compressor=replace(system.compressor, clutch_share=left))


def _condenser_airflow_low(system, severity):
    left = 1.0 - severity * _at_full("condenser_airflow_low")
    return replace(system, condenser=replace(system.condenser, airflow_share=left))


def _condenser_fan_stopped(system, severity):
    left = 1.0 - severity * _at_full("condenser_fan_stopped")
    return replace(system, condenser=replace(system.condenser, fan_share=left))


def _evaporator_airflow_low(system, severity):
    left = 1.0 - severity * _at_full("evaporator_airflow_low")
    return replace(system, evaporator=replace(system.evaporator, airflow_share=left))


def _air_in_system(system, severity):
    full = STANDARD_ATMOSPHERE_PA * system.volume / (DRY_AIR_GAS_CONSTANT * AIR_FILLING_TEMPERATURE)
    return replace(system, air_mass=severity * _at_full("air_in_system") * full)


def _moisture_in_system(system, severity):
    return replace(system, ice_in_metering=1.0 - _left_open("moisture_in_system", severity))


def _warm_air_mixing(system, severity):
    warm = severity * _at_full("warm_air_mixing")
    return replace(system, evaporator=replace(system.evaporator, warm_air_share=warm))


FAULTS = {
    "restricted_liquid_line": _restricted_liquid_line,
    "restricted_metering_device": _restricted_metering_device,
    "oversized_orifice": _oversized_orifice,
    "txv_stuck_open": _txv_stuck_open,
    "txv_stuck_closed": _txv_stuck_closed,
    "worn_compressor": _worn_compressor,
    "compressor_not_pumping": _compressor_not_pumping,
    "clutch_not_engaged": _clutch_not_engaged,
    "condenser_airflow_low": _condenser_airflow_low,
    "condenser_fan_stopped": _condenser_fan_stopped,
    "evaporator_airflow_low": _evaporator_airflow_low,
    "air_in_system": _air_in_system,
    "moisture_in_system": _moisture_in_system,
    "warm_air_mixing": _warm_air_mixing,
}


def fits(fault, system):
    """Whether a car can have a fault: an orifice tube has no valve that could stick.

    Parameters
    ----------
    fault : str
        Fault id.
    system : CarSystem
        The car.

    Returns
    -------
    bool
        True when the fault can be in that car.

    Raises
    ------
    UnknownChoice
        When the fault is not one of FAULTS.

    Notes
    -----
    An oversized orifice in a car with a valve is a valve of the wrong size.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> fits("txv_stuck_open", load_system("pickup"))
    False
    """
    check_choice("fault", fault, FAULTS)
    return isinstance(system.metering, ExpansionValve) or not fault.startswith("txv_")


def with_faults(system, faults):
    """The car with its faults in it.

    Parameters
    ----------
    system : CarSystem
        The healthy car.
    faults : dict of str to float
        Severity, 0 to 1, for each fault id [-].

    Returns
    -------
    CarSystem
        A changed copy.

    Raises
    ------
    UnknownChoice
        When a fault is not one of FAULTS.
    OutOfRange
        When a severity is not a number from 0 to 1.

    Notes
    -----
    Faults are put in by the order of FAULTS, whatever order they are given in; several combine. A fault the car cannot
    have (a stuck valve where there is none) changes nothing; see fits.

    Examples
    --------
    >>> from course.physics.car_file import load_system
    >>> car = load_system("sedan")
    >>> with_faults(car, {"worn_compressor": 0.0}) == car
    True
    """
    for fault, severity in faults.items():
        check_choice("fault", fault, FAULTS)
        check_range(f"severity of {fault}", severity, 0.0, 1.0, "of the worst", "0 is healthy, 1 the worst")
    for fault, change in FAULTS.items():
        severity = float(faults.get(fault, 0.0))
        if severity > 0.0:
            system = change(system, severity)
    return system
