"""The simulator beside what is published: every band, every reading of ours in it or outside it, and why."""

from dataclasses import dataclass
from functools import lru_cache

from course.errors import BadDataFile
from course.evidence.as_printed import READINGS, runs_of
from course.tables import read_printed_readings

# decimal places a source prints, to which ours is rounded before it is compared
DIGITS = {"kpa_gauge": 0, "kpa": 0, "c": 1, "k": 1, "share": 3, "factor": 1, "kw": 1}
UNITS = {"kpa_gauge": "kPa gauge", "kpa": "kPa", "c": "°C", "k": "K", "share": "%", "factor": "", "kw": "kW"}


@dataclass(frozen=True)
class PrintedReading:
    """One published reading, what the simulator gives in its conditions, and the verdict."""

    key: str
    topic: str
    reading: str  # its name in words
    conditions: str
    car: str  # id of the invented car that stands in
    stands_in: str  # why that car
    unit: str  # key of UNITS
    published_from: float | None  # in the unit; None where the band is open
    published_to: float | None  # in the unit; None where the band is open
    allowance: float  # in the unit, added on both sides of a single printed number
    source: str
    ours_from: float  # in the unit, least over the printed range of conditions
    ours_to: float  # in the unit, most over it
    why_outside: str  # empty where ours lies inside

    @property
    def inside(self):
        """Whether all of ours lies in the band, its ends included."""
        low = self.published_from is None or self.ours_from >= self.published_from - self.allowance - 1e-9
        high = self.published_to is None or self.ours_to <= self.published_to + self.allowance + 1e-9
        return low and high

    @property
    def verdict(self):
        """The verdict in a word."""
        return "inside" if self.inside else "outside"

    @property
    def origin(self):
        """How the source is known: read, computed, from memory, common practice or assumed."""
        return self.source.split(":")[0]


def _ends(key, band):
    """Lower and upper end, unit and source of a band, and whether it is a single number."""
    values, unit, sources = {}, None, []
    for name, quantity in band.printed.items():
        end, _, its_unit = name.partition("_")
        if (
            end not in ("from", "to", "at", "lowest", "highest")
            or its_unit not in UNITS
            or unit not in (None, its_unit)
        ):
            raise BadDataFile(
                f"printed_readings.toml: band.{key}.printed.{name} is not from_, to_, at_, lowest_ or highest_ with one unit of "
                f"{', '.join(UNITS)}; mend that key."
            )
        values[end], unit = float(quantity.value), its_unit
        sources += [quantity.source] if quantity.source not in sources else []
    single = "from" not in values and "to" not in values
    low, high = (values.get(end, values.get("at")) for end in (("lowest", "highest") if single else ("from", "to")))
    return low, high, unit, "; ".join(sources), single


def _allowance(ends, unit, single, reading):
    """What single printed numbers are allowed to be off; a printed band gets nothing."""
    if not single:
        return 0.0
    allowed = read_printed_readings().allowance
    if unit in ("kpa_gauge", "kpa"):
        return float(allowed.of_a_pressure_kpa.value)
    of_the_size = float(allowed.of_the_size_factor.value) * max(map(abs, ends))
    if unit != "share":
        return of_the_size
    if not reading.endswith("_change"):
        return float(allowed.of_a_charge_share.value)
    return max(float(allowed.of_a_change_share.value), of_the_size)


@lru_cache(maxsize=1)
def printed_readings():
    """Every published reading beside what the simulator gives in the same conditions.

    Returns
    -------
    tuple of PrintedReading
        In the order of data/evidence/printed_readings.toml.

    Raises
    ------
    BadDataFile
        When a band names a topic, a set-up or a reading that is not there, or ends in another unit than its reading.

    Notes
    -----
    Where conditions are printed as a range, every corner is run and all must lie in the band. Ours is rounded as the
    source prints. A single printed number, which is somebody else's machine, is allowed the assumed five points or two
    fifths of the change, or the error of a gauge; a printed band is taken as it is. None of this validates a car's
    pressures against its charge: no published table of them was found.

    Examples
    --------
    >>> found = {one.key: one.verdict for one in printed_readings()}
    >>> found["factory_25_low"], found["manuals_high"]
    ('inside', 'outside')
    """
    table, found = read_printed_readings(), []
    for key, band in table.band.items():
        for kind, name, there in (
            ("topic", band.topic, table.topic),
            ("setup", band.setup, table.setup),
            ("reading", band.reading, READINGS),
            (
                "setup's against",
                table.setup[band.setup].against if band.setup in table.setup else "",
                ["", *table.setup],
            ),
        ):
            if name not in there:
                raise BadDataFile(f"printed_readings.toml: band.{key}.{kind} is {name!r}, which is not there; mend it.")
        low, high, unit, source, single = _ends(key, band)
        words, its_unit, take = READINGS[band.reading]
        if unit != its_unit:
            raise BadDataFile(f"printed_readings.toml: band.{key} is in {unit}, but {words} is in {its_unit}; mend it.")
        setup = table.setup[band.setup]
        ours = [round(take(at), DIGITS[unit]) + 0.0 for at in runs_of(band.setup)]
        found.append(
            PrintedReading(
                key,
                band.topic,
                words,
                setup.title,
                setup.car,
                setup.stands_in,
                unit,
                low,
                high,
                _allowance((low, high), unit, single, band.reading),
                source,
                min(ours),
                max(ours),
                band.why_outside,
            )
        )
    return tuple(found)
