"""The car's A/C as numbers: its parts, the weather and driving around it, and what a run of the bench reports."""

from dataclasses import dataclass, field

from course.errors import OutOfRange, check_range
from course.units import HIGHEST_ALTITUDE_M, atmospheric_pressure_pa, celsius_to_kelvin

MOST_CHARGE_FRACTION = 1.4  # the workbook's own limit on overcharge


@dataclass(frozen=True)
class Compressor:
    """Belt-driven compressor: how much it pumps, how well, and what switches it."""

    displacement: float  # m3 a revolution
    clearance: float  # - clearance volume over swept volume
    expansion_exponent: float  # - of the gas left in the clearance
    speed_loss_per_krpm: float  # - volumetric efficiency lost for each 1000 rpm above 1000
    isentropic_efficiency: float  # - best value, at 1000 rpm and the best pressure ratio
    isentropic_speed_loss_per_krpm: float  # - lost for each 1000 rpm above 1000
    best_pressure_ratio: float  # -
    isentropic_ratio_loss: float  # - lost for each unit of ln(ratio / best), squared
    leakage: float  # kg/s for each Pa of pressure difference past the pistons
    shell_loss: float  # - share of the shaft power given off to the engine bay
    volume: float  # m3
    worn_share: float = 0.0  # - share of the pumped flow that slips back hot, by wear
    pumping_share: float = 1.0  # - share of the pumping that is left after breakage
    clutch_share: float = 1.0  # - share of the time a faulty clutch holds


@dataclass(frozen=True)
class Controls:
    """What holds the low side up, what cuts the high side off, and when the clutch may not engage."""

    low_side_control: str  # cycling_switch, evaporator_thermostat or variable_stroke
    low_side_hold: float  # Pa gauge at which control begins: switch opens, or stroke begins to fall
    low_side_cut_in: float  # Pa gauge at which the clutch engages again
    low_pressure_lockout: float  # Pa gauge at rest below which the clutch is never engaged
    high_pressure_cut_out: float  # Pa gauge
    high_pressure_cut_in: float  # Pa gauge
    relief_pressure: float  # Pa gauge
    least_stroke: float = 0.0  # - share a variable stroke never falls below


@dataclass(frozen=True)
class Condenser:
    """Condenser core in the front of the car, with its fan."""

    conductance_vapour: float  # W/K of the whole core if it were all vapour
    conductance_condensing: float  # W/K of the whole core if it were all condensing
    conductance_liquid: float  # W/K of the whole core if it were all liquid
    fan_airflow: float  # m3/s, car standing
    ram_airflow_per_speed: float  # m3/s for each m/s of road speed
    still_airflow: float  # m3/s by natural draught with the fan stopped
    airflow_exponent: float  # - of the conductance with airflow
    hot_air_return: float  # - share of the air that has been through before, car standing
    volume: float  # m3
    subcooling_pass_fraction: float  # - share of the core after the receiver, 0 where there is none
    fan_slow_share: float  # - of the full fan air at slow speed
    fan_slow_pressure: float  # Pa gauge up to which the fan runs slowly
    fan_full_pressure: float  # Pa gauge from which it runs at full speed
    fan_share: float = 1.0  # - fault
    airflow_share: float = 1.0  # - fault


@dataclass(frozen=True)
class OrificeTube:
    """A short fixed tube between the high and the low side."""

    diameter: float  # m
    length: float  # m
    open_share: float = 1.0  # - fault: share of the area that is open, above 1 when the seal leaks past it


@dataclass(frozen=True)
class ExpansionValve:
    """Thermostatic expansion valve: opens with superheat."""

    static_superheat: float  # K at which it begins to open
    full_open_superheat: float  # K at which it is wide open
    largest_area: float  # m2
    bleed_area: float  # m2 that never closes
    discharge_coefficient: float  # -
    largest_area_share: float = 1.0  # - fault: stuck closed or blocked
    least_area_share: float = 0.0  # - fault: stuck open, share of the largest area that never closes


@dataclass(frozen=True)
class Evaporator:
    """Evaporator core in the cabin case, with its blower."""

    conductance_air: float  # W/K between air and metal
    conductance_boiling: float  # W/K between metal and boiling refrigerant
    conductance_vapour: float  # W/K between air and vapour, whole core
    airflow: float  # m3/s at full blower
    airflow_exponent: float  # - of the air conductance with airflow
    volume: float  # m3
    inventory_factor: float  # - on the two-phase density, from the two-point tuning of charge
    airflow_share: float = 1.0  # - fault
    warm_air_share: float = 0.0  # - fault: share of the vent air that passes the hot heater core


@dataclass(frozen=True)
class Line:
    """A hose or pipe."""

    volume: float  # m3
    resistance: float  # Pa kg/m3 / (kg/s)2: pressure drop = resistance x flow2 / density


@dataclass(frozen=True)
class Storage:
    """Accumulator after the evaporator, or receiver after the condenser: the buffer of refrigerant."""

    kind: str  # accumulator or receiver
    volume: float  # m3
    usable_share: float  # - of the volume that liquid can fill before it leaves as liquid


@dataclass(frozen=True)
class CarSystem:
    """One invented car's A/C."""

    key: str
    name: str
    description: str
    refrigerant: str
    label_charge: float  # kg
    compressor: Compressor
    controls: Controls
    condenser: Condenser
    metering: OrificeTube | ExpansionValve
    evaporator: Evaporator
    storage: Storage
    discharge_line: Line
    liquid_line: Line
    suction_line: Line
    suction_line_conductance: float  # W/K to the engine bay
    engine_bay_rise: float  # K the engine bay is hotter than the weather
    high_side_port: str  # discharge_line or liquid_line
    sight_glass: bool
    air_mass: float = 0.0  # kg of air in the circuit, fault
    ice_in_metering: float = 0.0  # - share of the metering area that ice can take, fault

    @property
    def volume(self):
        """Whole inner volume [m3]."""
        lines = self.discharge_line.volume + self.liquid_line.volume + self.suction_line.volume
        return lines + self.condenser.volume + self.evaporator.volume + self.storage.volume + self.compressor.volume


@dataclass(frozen=True)
class Conditions:
    """Weather, driving and the settings on the dashboard, in SI units."""

    ambient: float  # K
    relative_humidity: float  # -
    cabin: float | None  # K, None: the evaporator breathes ambient air
    compressor_rpm: float  # 1/min
    road_speed: float  # m/s
    blower_fraction: float  # -
    altitude: float  # m
    air_pressure: float  # Pa


@dataclass(frozen=True)
class CyclePoint:
    """One corner of the cycle on the P-h chart."""

    name: str
    pressure_kpa_absolute: float  # kPa absolute
    enthalpy_kj_kg: float  # kJ/kg
    temperature_c: float  # °C


@dataclass(frozen=True)
class BenchRun:
    """What one run of the bench reports; a run that is not pumping has clutch_on_fraction 0 and no cycle_points."""

    system: CarSystem  # the car as it was run, without its faults
    conditions: Conditions
    charge_fraction: float  # - of the label charge
    faults: dict  # fault id -> severity [-]
    low_side_kpa_gauge: float  # kPa gauge
    high_side_kpa_gauge: float  # kPa gauge
    evaporating_c: float  # °C, saturation at the evaporator outlet
    condensing_c: float  # °C, where vapour condenses
    superheat_k: float  # K, at the evaporator outlet
    subcooling_k: float  # K, at the condenser outlet, worked out from the gauge pressure
    compressor_suction_superheat_k: float  # K
    discharge_c: float  # °C
    liquid_line_c: float  # °C, before the metering device
    evaporator_inlet_c: float  # °C
    suction_line_c: float  # °C, at the compressor
    vent_c: float  # °C
    condensate_kg_h: float  # kg/h
    capacity_w: float  # W
    compressor_power_w: float  # W, shaft
    condenser_heat_w: float  # W
    stated_losses_w: float  # W, shell loss less the heat the suction line picks up
    cop: float  # -
    refrigerant_kg_s: float  # kg/s
    pressure_ratio: float  # -
    charge_kg: float  # kg
    inventory_kg: dict  # part -> kg, sums to charge_kg
    reserve_kg: float  # kg, liquid in the accumulator or receiver
    clutch_on_fraction: float  # - share of the time, or share of the stroke, that pumps
    sight_glass: str  # clear, bubbles, empty or none
    cycle_points: tuple  # of CyclePoint, in flow order from the compressor inlet; empty at rest
    residuals: dict  # equation -> relative imbalance [-]
    iterations: int  # -
    notes: tuple  # of sentences
    extra: dict = field(default_factory=dict, repr=False, compare=False)  # solver start values for previous=

    @property
    def running(self):
        """Whether the compressor pumps at all."""
        return self.clutch_on_fraction > 0.0


def conditions(
    *,
    ambient_c=35.0,
    relative_humidity=0.40,
    cabin_c=None,
    compressor_rpm=1500.0,
    road_speed_km_h=0.0,
    blower_fraction=1.0,
    recirculate=False,
    altitude_m=0.0,
):
    """Weather, driving and dashboard settings, checked and in SI units.

    Parameters
    ----------
    ambient_c : float
        Outside air, 10 to 50 [°C].
    relative_humidity : float
        Of the outside air, 0.05 to 0.95 [-].
    cabin_c : float or None
        Cabin air when recirculating, 5 to 60; None: as warm as outside, doors open [°C].
    compressor_rpm : float
        Compressor (not engine) speed, 600 to 6000 [1/min].
    road_speed_km_h : float
        Road speed, 0 to 200 [km/h].
    blower_fraction : float
        Blower setting, 0.2 to 1 [-].
    recirculate : bool
        Whether the evaporator breathes cabin air.
    altitude_m : float
        Altitude, 0 to 3,000 [m].

    Returns
    -------
    Conditions
        The same in SI units.

    Raises
    ------
    OutOfRange
        When a value is outside its range, or a cabin temperature is given without recirculation.

    Notes
    -----
    The ranges are the box the simulator was tried over.

    Examples
    --------
    >>> conditions(ambient_c=30.0).ambient
    303.15
    """
    ambient = check_range("ambient temperature", ambient_c, 10.0, 50.0, "°C", "choose a day in that range")
    humidity = check_range(
        "relative humidity", relative_humidity, 0.05, 0.95, "of saturation", "give it as a share of one"
    )
    rpm = check_range("compressor speed", compressor_rpm, 600.0, 6000.0, "rpm", "choose idle to full speed")
    speed = check_range("road speed", road_speed_km_h, 0.0, 200.0, "km/h", "choose a road speed")
    blower = check_range("blower setting", blower_fraction, 0.2, 1.0, "(0.2 to 1)", "the lowest step still moves air")
    altitude = check_range("altitude", altitude_m, 0.0, HIGHEST_ALTITUDE_M, "m", "choose a place in that range")
    cabin = None
    if cabin_c is not None:
        cabin = celsius_to_kelvin(
            check_range("cabin temperature", cabin_c, 5.0, 60.0, "°C", "choose a cabin in that range")
        )
        if not recirculate:
            raise OutOfRange(
                f"cabin temperature: {cabin_c:g} °C was given without recirculation, so the evaporator would not "
                "breathe it; switch recirculation on, or leave the cabin temperature out."
            )
    return Conditions(
        celsius_to_kelvin(ambient),
        humidity,
        cabin,
        rpm,
        speed / 3.6,
        blower,
        altitude,
        atmospheric_pressure_pa(altitude),
    )
