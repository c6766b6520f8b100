"""The numbers of the quick reference that no other step works out: gauges at an altitude, dials and cylinders."""

from dataclasses import dataclass

from course.physics.refrigerant import saturation_at_pressure, saturation_at_temperature
from course.service.cylinder import fill_limit_kg, full_of_liquid_c
from course.service.water import check_vacuum_pa
from course.units import (
    PA_PER_INHG,
    absolute_from_gauge_pa,
    atmospheric_pressure_pa,
    celsius_to_kelvin,
    gauge_from_absolute_pa,
    kelvin_to_celsius,
)

OVERFILLED = (1.0, 1.1, 1.2)  # of the limit: what a filling past it comes to


@dataclass(frozen=True)
class Place:
    """What an altitude does to a gauge."""

    air_pa: float  # Pa absolute
    reads_higher_pa: float  # Pa that a gauge shows more than at sea level for the same pressure inside
    deepest_vacuum_inhg: float  # inHg that a dial can show at most


def gauge_at_boiling_pa(refrigerant, temperature_c, altitude_m=0.0):
    """What a gauge reads on a bottle of refrigerant at a temperature.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    temperature_c : float
        Temperature of liquid and vapour together, within the refrigerant's range [°C].
    altitude_m : float
        Altitude, 0 to 3,000 [m].

    Returns
    -------
    float
        Gauge pressure; below zero is vacuum [Pa].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or a value outside its range.

    Notes
    -----
    Saturation pressure less the air of the place; one pure refrigerant, no air inside.

    Examples
    --------
    A 2001 factory manual prints 5.6 bar for R-134a at 25 °C:

    >>> round(gauge_at_boiling_pa("R134a", 25.0) / 1e5, 1)
    5.6
    """
    pressure = saturation_at_temperature(refrigerant, celsius_to_kelvin(temperature_c)).pressure
    return gauge_from_absolute_pa(pressure, altitude_m)


def boiling_at_gauge_c(refrigerant, pressure_pa_gauge, altitude_m=0.0):
    """The temperature at which refrigerant boils behind a gauge reading.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    pressure_pa_gauge : float
        Gauge pressure [Pa].
    altitude_m : float
        Altitude, 0 to 3,000 [m].

    Returns
    -------
    float
        Temperature [°C].

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or a value outside its range.

    Notes
    -----
    The reverse of gauge_at_boiling_pa.

    Examples
    --------
    30 psi gauge of R-134a: 1.4 °C at sea level and -0.1 °C at 1,500 m:

    >>> [round(boiling_at_gauge_c("R134a", 206843.0, altitude), 1) for altitude in (0.0, 1500.0)]
    [1.4, -0.1]
    """
    pressure = absolute_from_gauge_pa(pressure_pa_gauge, altitude_m)
    return kelvin_to_celsius(saturation_at_pressure(refrigerant, pressure).temperature)


def vacuum_dial_inhg(pressure_pa, altitude_m=0.0):
    """What a dial in inches of mercury shows for an absolute pressure below that of the air.

    Parameters
    ----------
    pressure_pa : float
        Absolute pressure, above zero up to the air of the place [Pa].
    altitude_m : float
        Altitude, 0 to 3,000 [m].

    Returns
    -------
    float
        Vacuum on the dial [inHg].

    Raises
    ------
    OutOfRange
        When it is no vacuum at that place.

    Notes
    -----
    The reverse of course.service.water.absolute_from_vacuum_dial_pa.

    Examples
    --------
    Water of 25 °C boils at 29.0 inHg at sea level, as printed tables say:

    >>> round(vacuum_dial_inhg(3169.7), 1)
    29.0
    """
    return (atmospheric_pressure_pa(altitude_m) - check_vacuum_pa(pressure_pa, altitude_m)) / PA_PER_INHG


def place_at(altitude_m):
    """What an altitude does to a gauge.

    Parameters
    ----------
    altitude_m : float
        Altitude, 0 to 3,000 [m].

    Returns
    -------
    Place
        Air pressure, how much higher a gauge reads, and the deepest vacuum on a dial.

    Raises
    ------
    OutOfRange
        When the altitude is outside 0 to 3,000 m.

    Notes
    -----
    ISO 2533:1975 standard atmosphere; weather moves the air by some 3 %, which is not modelled.

    Examples
    --------
    At 1,500 m a gauge reads 16.8 kPa higher, and no dial passes 25 inHg:

    >>> place = place_at(1500.0)
    >>> round(place.reads_higher_pa / 1e3, 1), round(place.deepest_vacuum_inhg, 1)
    (16.8, 25.0)
    """
    air = atmospheric_pressure_pa(altitude_m)
    return Place(air, atmospheric_pressure_pa(0.0) - air, air / PA_PER_INHG)


def overfilling(volume_l, refrigerant):
    """What a cylinder holds at its limit and past it, and the temperature at which its liquid then fills it.

    Parameters
    ----------
    volume_l : float
        Water capacity stamped on the cylinder, 0.5 to 1,000 [L].
    refrigerant : str
        "R134a" or "R1234yf".

    Returns
    -------
    tuple of tuple
        Share of the limit [-], contents [kg], and temperature [°C] or None where that does not happen up to 90 °C.

    Raises
    ------
    UnknownChoice, OutOfRange
        When the refrigerant is unknown or the volume outside its range.

    Notes
    -----
    course.service.cylinder: 80 % liquid at 54.4 °C; the cylinder itself also grows, which is not modelled.

    Examples
    --------
    >>> [(share, round(kilograms, 1)) for share, kilograms, _ in overfilling(27.2, "R134a")]
    [(1.0, 23.5), (1.1, 25.9), (1.2, 28.2)]
    """
    limit = fill_limit_kg(volume_l, refrigerant)
    contents = ((share, share * limit) for share in OVERFILLED)
    return tuple((share, holds, full_of_liquid_c(volume_l, refrigerant, holds)) for share, holds in contents)
