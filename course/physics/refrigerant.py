"""Refrigerant properties: saturated, superheated, subcooled and two-phase; the only module that calls CoolProp."""

import threading
from typing import NamedTuple

import CoolProp
from CoolProp import AbstractState

from course.errors import OutOfRange, check_choice

REFRIGERANTS = {"R134a": "R-134a", "R1234yf": "R-1234yf"}
LOWEST_TEMPERATURE = 193.15  # K: -80 °C, colder than any car system; both equations of state are valid there

_states = threading.local()  # a CoolProp state must not be shared by two threads, and panel callbacks run in their own


class Saturation(NamedTuple):
    """Liquid and vapour in balance: pressure [Pa], temperature [K], enthalpy [J/kg], density [kg/m3], entropy [J/(kg K)]."""

    pressure: float
    temperature: float
    liquid_enthalpy: float
    vapour_enthalpy: float
    liquid_density: float
    vapour_density: float
    vapour_entropy: float


class Fluid(NamedTuple):
    """One state: pressure [Pa], temperature [K], enthalpy [J/kg], density [kg/m3], entropy [J/(kg K)], heat capacity [J/(kg K)]."""

    pressure: float
    temperature: float
    enthalpy: float
    density: float
    entropy: float
    heat_capacity: float


def _state(refrigerant, phase):
    try:
        return _states.made[refrigerant, phase]
    except AttributeError:
        _states.made = {}
    except KeyError:
        pass
    check_choice("refrigerant", refrigerant, REFRIGERANTS)
    state = AbstractState("HEOS", refrigerant)
    if phase == "vapour":
        state.specify_phase(CoolProp.iphase_gas)
    elif phase == "liquid":
        state.specify_phase(CoolProp.iphase_liquid)
    _states.made[refrigerant, phase] = state
    return state


def critical_point(refrigerant):
    """The temperature and pressure above which liquid and vapour are one.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".

    Returns
    -------
    tuple of float
        Temperature [K], pressure [Pa].

    Raises
    ------
    UnknownChoice
        When the refrigerant is not one of REFRIGERANTS.

    Notes
    -----
    Equations of state: R-134a Tillner-Roth and Baehr, J. Phys. Chem. Ref. Data 23 (1994) 657; R-1234yf Lemmon and
    Akasaka, Int. J. Thermophys. 43 (2022) 119, as CoolProp 8 carries them.

    Examples
    --------
    Tillner-Roth and Baehr 1994 give 374.21 K (374.18 K for the equation's own critical point):

    >>> round(critical_point("R134a")[0], 1)
    374.2
    """
    state = _state(refrigerant, "saturated")
    return state.T_critical(), state.p_critical()


def saturation_at_pressure(refrigerant, pressure):
    """What the pressure-temperature chart says for a pressure, with both enthalpies and densities.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    pressure : float
        Absolute pressure, above the triple point and below critical [Pa].

    Returns
    -------
    Saturation
        Temperature [K], enthalpies [J/kg], densities [kg/m3].

    Raises
    ------
    UnknownChoice
        When the refrigerant is not one of REFRIGERANTS.
    OutOfRange
        When there is no liquid-vapour balance at that pressure.

    Notes
    -----
    Helmholtz equations of state named at critical_point. Pure refrigerant: no oil, no air.

    Examples
    --------
    Tillner-Roth and Baehr 1994, table 8: 246.79 K at 0.1 MPa:

    >>> round(saturation_at_pressure("R134a", 1.0e5).temperature, 2)
    246.79
    """
    state = _state(refrigerant, "saturated")
    try:
        state.update(CoolProp.PQ_INPUTS, pressure, 1.0)
    except ValueError:
        top = state.p_critical()
        raise OutOfRange(
            f"saturation pressure of {refrigerant}: {pressure / 1000:.4g} kPa absolute was given; allowed are pressures "
            f"from the triple point to just under the critical {top / 1000:.4g} kPa: choose a pressure on the chart."
        ) from None
    return Saturation(
        pressure,
        state.T(),
        state.saturated_liquid_keyed_output(CoolProp.iHmass),
        state.hmass(),
        state.saturated_liquid_keyed_output(CoolProp.iDmass),
        state.rhomass(),
        state.smass(),
    )


def saturation_at_temperature(refrigerant, temperature):
    """What the pressure-temperature chart says for a temperature.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    temperature : float
        Temperature, -80 °C to the critical temperature [K].

    Returns
    -------
    Saturation
        Pressure [Pa], enthalpies [J/kg], densities [kg/m3].

    Raises
    ------
    UnknownChoice
        When the refrigerant is not one of REFRIGERANTS.
    OutOfRange
        When there is no liquid-vapour balance at that temperature.

    Notes
    -----
    Helmholtz equations of state named at critical_point.

    Examples
    --------
    Tillner-Roth and Baehr 1994, table 8: 0.70282 MPa at 300 K:

    >>> round(saturation_at_temperature("R134a", 300.0).pressure / 1e6, 5)
    0.70282
    """
    state = _state(refrigerant, "saturated")
    if not LOWEST_TEMPERATURE <= temperature < state.T_critical():
        raise OutOfRange(
            f"saturation temperature of {refrigerant}: {temperature - 273.15:.4g} °C was given; allowed are -80 °C to "
            f"just under {state.T_critical() - 273.15:.4g} °C (critical): choose a temperature on the chart."
        )
    state.update(CoolProp.QT_INPUTS, 1.0, temperature)
    return Saturation(
        state.p(),
        temperature,
        state.saturated_liquid_keyed_output(CoolProp.iHmass),
        state.hmass(),
        state.saturated_liquid_keyed_output(CoolProp.iDmass),
        state.rhomass(),
        state.smass(),
    )


def _single_phase(refrigerant, phase, pressure, temperature):
    state = _state(refrigerant, phase)
    try:
        state.update(CoolProp.PT_INPUTS, pressure, temperature)
    except ValueError:
        raise OutOfRange(
            f"{phase} {refrigerant}: no state at {pressure / 1000:.5g} kPa absolute and {temperature - 273.15:.4g} °C; "
            "choose a pressure and a temperature on that side of the dome."
        ) from None
    return Fluid(pressure, temperature, state.hmass(), state.rhomass(), state.smass(), state.cpmass())


def vapour(refrigerant, pressure, temperature):
    """Superheated vapour at a pressure and a temperature.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    pressure : float
        Absolute pressure [Pa].
    temperature : float
        Temperature, at or above saturation [K].

    Returns
    -------
    Fluid
        Enthalpy [J/kg], density [kg/m3], entropy [J/(kg K)], heat capacity [J/(kg K)].

    Raises
    ------
    UnknownChoice
        When the refrigerant is not one of REFRIGERANTS.
    OutOfRange
        When no vapour state can be found.

    Notes
    -----
    Helmholtz equations of state named at critical_point. The phase is imposed, which makes it quick; a temperature
    below saturation gives supercooled vapour, not liquid.

    Examples
    --------
    Tillner-Roth and Baehr 1994, table 8: saturated vapour at 300 K has 34.193 kg/m3:

    >>> round(vapour("R134a", 702820.0, 300.0).density, 1)
    34.2
    """
    return _single_phase(refrigerant, "vapour", pressure, temperature)


def liquid(refrigerant, pressure, temperature):
    """Subcooled liquid at a pressure and a temperature.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    pressure : float
        Absolute pressure [Pa].
    temperature : float
        Temperature, at or below saturation [K].

    Returns
    -------
    Fluid
        Enthalpy [J/kg], density [kg/m3], entropy [J/(kg K)], heat capacity [J/(kg K)].

    Raises
    ------
    UnknownChoice
        When the refrigerant is not one of REFRIGERANTS.
    OutOfRange
        When no liquid state can be found.

    Notes
    -----
    Helmholtz equations of state named at critical_point; the phase is imposed.

    Examples
    --------
    Tillner-Roth and Baehr 1994, table 8: saturated liquid at 300 K has 1199.7 kg/m3:

    >>> round(liquid("R134a", 702820.0, 300.0).density, 1)
    1199.7
    """
    return _single_phase(refrigerant, "liquid", pressure, temperature)


def vapour_pressure_at_density(refrigerant, density, temperature):
    """Pressure of vapour that fills a known volume.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    density : float
        Density, below that of saturated vapour and above zero [kg/m3].
    temperature : float
        Temperature [K].

    Returns
    -------
    float
        Absolute pressure [Pa].

    Raises
    ------
    UnknownChoice
        When the refrigerant is not one of REFRIGERANTS.

    Notes
    -----
    Helmholtz equations of state named at critical_point.

    Examples
    --------
    Saturated R-134a vapour at 300 K, 34.193 kg/m3 (Tillner-Roth and Baehr 1994, table 8), is at 0.7028 MPa:

    >>> round(vapour_pressure_at_density("R134a", 34.193, 300.0) / 1e6, 3)
    0.703
    """
    state = _state(refrigerant, "vapour")
    state.update(CoolProp.DmassT_INPUTS, density, temperature)
    return state.p()


def vapour_viscosity(refrigerant, pressure, temperature):
    """How thick the vapour is: what a narrow leak path makes it struggle against.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    pressure : float
        Absolute pressure [Pa].
    temperature : float
        Temperature, at or above saturation [K].

    Returns
    -------
    float
        Dynamic viscosity [Pa s].

    Raises
    ------
    UnknownChoice
        When the refrigerant is not one of REFRIGERANTS.
    OutOfRange
        When no vapour state can be found.

    Notes
    -----
    Correlations as CoolProp 8 carries them: R-134a Huber, Laesecke and Perkins, Ind. Eng. Chem. Res. 42 (2003) 3163;
    R-1234yf Huber and Assael, Int. J. Refrig. 71 (2016) 39 (both from memory).

    Examples
    --------
    >>> round(vapour_viscosity("R134a", 101325.0, 293.15) * 1e6, 1)
    11.6
    """
    _single_phase(refrigerant, "vapour", pressure, temperature)
    return _state(refrigerant, "vapour").viscosity()


def molar_mass(refrigerant):
    """Mass of one mole, which turns a volume of gas into a mass.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".

    Returns
    -------
    float
        Molar mass [kg/mol].

    Raises
    ------
    UnknownChoice
        When the refrigerant is not one of REFRIGERANTS.

    Notes
    -----
    From the equations of state named at critical_point.

    Examples
    --------
    >>> round(molar_mass("R134a"), 4), round(molar_mass("R1234yf"), 4)
    (0.102, 0.114)
    """
    return _state(refrigerant, "vapour").molar_mass()


def state_at_enthalpy(refrigerant, pressure, enthalpy):
    """The state anywhere on the P-h chart: liquid, mixture or vapour.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    pressure : float
        Absolute pressure, below critical [Pa].
    enthalpy : float
        Enthalpy, IIR reference as CoolProp's default for these two [J/kg].

    Returns
    -------
    tuple of (Fluid, float)
        The state, and its quality (vapour share by mass): below 0 liquid, above 1 vapour [-].

    Raises
    ------
    UnknownChoice
        When the refrigerant is not one of REFRIGERANTS.
    OutOfRange
        When no such state exists.

    Notes
    -----
    In the dome the mixture is homogeneous: density by mass fractions; heat capacity is that of neither phase and is
    given as NaN.

    Examples
    --------
    Half way along the 300 K tie line (Tillner-Roth and Baehr 1994, table 8: 237.19 and 413.27 kJ/kg):

    >>> fluid, quality = state_at_enthalpy("R134a", 702820.0, 325230.0)
    >>> round(quality, 3)
    0.5
    """
    saturated = saturation_at_pressure(refrigerant, pressure)
    quality = (enthalpy - saturated.liquid_enthalpy) / (saturated.vapour_enthalpy - saturated.liquid_enthalpy)
    state = _state(refrigerant, "any")
    try:
        state.update(CoolProp.HmassP_INPUTS, enthalpy, pressure)
    except ValueError:
        raise OutOfRange(
            f"{refrigerant}: no state at {pressure / 1000:.5g} kPa absolute and {enthalpy / 1000:.4g} kJ/kg; "
            "choose a point on the chart."
        ) from None
    heat_capacity = float("nan") if 0.0 <= quality <= 1.0 else state.cpmass()
    return Fluid(pressure, state.T(), enthalpy, state.rhomass(), state.smass(), heat_capacity), quality


def mixture_density(saturated, quality):
    """Density of liquid and vapour moving at one speed.

    Parameters
    ----------
    saturated : Saturation
        The saturated state [kg/m3].
    quality : float
        Vapour share by mass, 0 to 1 [-].

    Returns
    -------
    float
        Density [kg/m3].

    Raises
    ------
    Nothing of its own.

    Notes
    -----
    Homogeneous mixture: 1/rho = x/rho_g + (1-x)/rho_l.

    Examples
    --------
    >>> s = saturation_at_pressure("R134a", 1.0e6)
    >>> mixture_density(s, 1.0) == s.vapour_density
    True
    """
    return 1.0 / (quality / saturated.vapour_density + (1.0 - quality) / saturated.liquid_density)


def isotherm_enthalpies(refrigerant, temperature, pressures):
    """Enthalpies along one temperature, for the isotherms of the P-h chart.

    Parameters
    ----------
    refrigerant : str
        "R134a" or "R1234yf".
    temperature : float
        Temperature [K].
    pressures : sequence of float
        Absolute pressures [Pa].

    Returns
    -------
    list of float
        Enthalpy at each pressure; liquid above saturation pressure, vapour below [J/kg].

    Raises
    ------
    UnknownChoice
        When the refrigerant is not one of REFRIGERANTS.
    OutOfRange
        When a state cannot be found.

    Notes
    -----
    Helmholtz equations of state named at critical_point.

    Examples
    --------
    >>> line = isotherm_enthalpies("R134a", 300.0, [1.0e5, 3.0e6])
    >>> line[0] > line[1]
    True
    """
    state = _state(refrigerant, "any")
    enthalpies = []
    for pressure in pressures:
        state.update(CoolProp.PT_INPUTS, pressure, temperature)
        enthalpies.append(state.hmass())
    return enthalpies
