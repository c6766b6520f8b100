"""What the evidence is made of: which way readings go by papers and trade, and published readings with their conditions."""

from typing import Literal

from pydantic import Field

from course.data_shapes import Entry, Quantity

Direction = Literal["up", "same", "down"]


class DayTable(Entry):
    """The day on which a row of the direction table is asked."""

    ambient_c: Quantity
    relative_humidity_share: Quantity
    compressor_rpm: Quantity


class DirectionRowTable(Entry):
    """One row of the direction table: a fault, or the charge, at two sizes."""

    name: str
    of: str
    mild_share: Quantity
    severe_share: Quantity
    day: DayTable | None = None


class ExpectedCellTable(Entry):
    """Which way papers and trade say a reading goes, and how surely."""

    expect: list[Direction] = Field(min_length=1)
    others: list[Direction] = []
    mark: Literal["agreed", "weak", "conflicting"] = "agreed"


class ExpectedRowTable(Entry):
    """What papers and trade say about one fault, reading by reading."""

    source: str = Field(min_length=8)
    low_side: ExpectedCellTable | None = None
    high_side: ExpectedCellTable | None = None
    superheat: ExpectedCellTable | None = None
    subcooling: ExpectedCellTable | None = None
    discharge: ExpectedCellTable | None = None
    vent: ExpectedCellTable | None = None
    power: ExpectedCellTable | None = None


class LeftOutTable(Entry):
    """Something published that is not held against, and why."""

    what: str
    why: str


class DirectionsTable(Entry):
    """The file data/evidence/directions.toml."""

    day: DayTable
    row: dict[str, DirectionRowTable]
    expected: dict[Literal["orifice_tube", "expansion_valve"], dict[str, ExpectedRowTable]]
    why: dict[str, dict[str, dict[str, str]]] = {}
    left_out: dict[str, LeftOutTable]


class SettingsTable(Entry):
    """The conditions a reading was printed with; a range where there is a second value."""

    ambient_c: Quantity
    ambient_to_c: Quantity | None = None
    cabin_c: Quantity | None = None
    relative_humidity_share: Quantity | None = None
    relative_humidity_to_share: Quantity | None = None
    compressor_rpm: Quantity | None = None
    compressor_to_rpm: Quantity | None = None
    road_speed_km_h: Quantity | None = None
    blower_share: Quantity | None = None
    charge_share: Quantity | None = None


class SetupTable(Entry):
    """Conditions, what is lost, and the car of ours that stands in."""

    title: str
    car: str
    stands_in: str
    against: str = ""
    recirculate: bool = False
    settings: SettingsTable
    lost: dict[str, Quantity] = {}


class BandTable(Entry):
    """One published reading: a band from and to, or a single number at, with the unit in the key."""

    topic: str
    setup: str
    reading: str
    printed: dict[str, Quantity] = Field(min_length=1)
    why_outside: str = ""


class AllowanceTable(Entry):
    """What is allowed on a single printed number."""

    of_a_change_share: Quantity
    of_the_size_factor: Quantity
    of_a_pressure_kpa: Quantity
    of_a_charge_share: Quantity


class PrintedReadingsTable(Entry):
    """The file data/evidence/printed_readings.toml."""

    allowance: AllowanceTable
    topic: dict[str, str]
    setup: dict[str, SetupTable]
    band: dict[str, BandTable]
    left_out: dict[str, LeftOutTable]
