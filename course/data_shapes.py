"""What a file of data/ is made of: entries without a stray key, numbers with a source, a car, a study, a question."""

import datetime
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator


class Entry(BaseModel):
    """A table of a data file: every key known, every value of its kind."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)


class Quantity(Entry):
    """One number of a data file with where it comes from; its unit is the end of its key."""

    value: float | int
    source: str = Field(min_length=8)


class CarTable(Entry):
    """What the car is called and filled with."""

    name: str
    description: str
    invented: Literal[True]
    refrigerant: Literal["R134a", "R1234yf"]
    oil: str
    high_side_port: Literal["discharge_line", "liquid_line"]
    sight_glass: bool
    label_charge_g: Quantity


class CompressorTable(Entry):
    """The compressor's entries."""

    displacement_cm3: Quantity
    clearance_share: Quantity
    re_expansion_exponent: Quantity
    speed_loss_share_per_krpm: Quantity
    isentropic_efficiency: Quantity
    isentropic_speed_loss_share_per_krpm: Quantity
    best_pressure_ratio: Quantity
    isentropic_ratio_loss_factor: Quantity
    leakage_g_s_per_mpa: Quantity
    shell_loss_share: Quantity
    volume_cm3: Quantity


class ControlsTable(Entry):
    """Switches and set points."""

    low_side_control: Literal["cycling_switch", "evaporator_thermostat", "variable_stroke"]
    low_side_hold_kpa_gauge: Quantity
    low_side_cut_in_kpa_gauge: Quantity
    low_pressure_lockout_kpa_gauge: Quantity
    high_pressure_cut_out_kpa_gauge: Quantity
    high_pressure_cut_in_kpa_gauge: Quantity
    relief_kpa_gauge: Quantity
    least_stroke_share: Quantity


class CondenserTable(Entry):
    """The condenser's entries."""

    conductance_vapour_w_k: Quantity
    conductance_condensing_w_k: Quantity
    conductance_liquid_w_k: Quantity
    fan_airflow_m3_s: Quantity
    ram_airflow_m3_s_per_m_s: Quantity
    still_airflow_m3_s: Quantity
    airflow_exponent: Quantity
    hot_air_return_share: Quantity
    volume_cm3: Quantity
    subcooling_pass_share: Quantity
    fan_slow_share: Quantity
    fan_slow_kpa_gauge: Quantity
    fan_full_kpa_gauge: Quantity


class OrificeTubeTable(Entry):
    """The orifice tube's entries."""

    kind: Literal["orifice_tube"]
    diameter_mm: Quantity
    length_mm: Quantity


class ExpansionValveTable(Entry):
    """The expansion valve's entries."""

    kind: Literal["expansion_valve"]
    static_superheat_k: Quantity
    full_open_superheat_k: Quantity
    largest_area_mm2: Quantity
    bleed_area_mm2: Quantity
    discharge_coefficient: Quantity


class EvaporatorTable(Entry):
    """The evaporator's entries."""

    conductance_air_w_k: Quantity
    conductance_boiling_w_k: Quantity
    conductance_vapour_w_k: Quantity
    airflow_m3_s: Quantity
    airflow_exponent: Quantity
    volume_cm3: Quantity
    inventory_factor: Quantity


class StorageTable(Entry):
    """The accumulator's or receiver's entries."""

    kind: Literal["accumulator", "receiver"]
    volume_cm3: Quantity
    usable_share: Quantity


class LineTable(Entry):
    """One hose or pipe."""

    volume_cm3: Quantity
    rated_drop_kpa: Quantity
    rated_flow_g_s: Quantity
    rated_density_kg_m3: Quantity


class LinesTable(Entry):
    """The three lines and the heat the suction line picks up."""

    discharge: LineTable
    liquid: LineTable
    suction: LineTable
    suction_conductance_w_k: Quantity
    engine_bay_rise_k: Quantity


class SystemTable(Entry):
    """A whole file of data/systems."""

    car: CarTable
    compressor: CompressorTable
    controls: ControlsTable
    condenser: CondenserTable
    metering: OrificeTubeTable | ExpansionValveTable = Field(discriminator="kind")
    evaporator: EvaporatorTable
    storage: StorageTable
    lines: LinesTable


class TroubleTable(Entry):
    """What can be behind a complaint: how often, and from how bad to how bad."""

    name: str | None = None  # None: a fault, named in faults.toml
    base_rate_share: Quantity
    least_share: Quantity
    most_share: Quantity


class BaseRatesTable(Entry):
    """The file data/evidence/base_rates.toml."""

    trouble: dict[str, TroubleTable]


class StudyMadeByTable(Entry):
    """How a computed file was made."""

    command: str
    seed: int
    days_per_car: int
    cases_of_each_trouble: int
    date: str
    seconds: int
    processes: int


class StudyCountsTable(Entry):
    """How much was run, and how much of it found no steady state."""

    days: int
    cases: int
    cases_refused: int
    severities: int
    severities_refused: int


class OneMoreTable(Entry):
    """How often the trouble is named with one reading beside the two gauges, and the sampling error of that."""

    readings: str
    right_share: float
    right_error_share: float


class StudyResultTable(OneMoreTable):
    """How often the trouble is named from a set of readings, and what is named for what: rows are the truth."""

    model: Literal["exact", "car_to_car"]
    rates: Literal["equal", "counted"]
    surest_share: float  # the mean probability of the trouble that is named
    true_probability_share: float
    log_score: float  # the mean natural logarithm of it
    named_share: list[list[float]]
    probability_share: list[list[float]]


class CheckedCaseTable(Entry):
    """One case of the first day: the probability of its trouble from each set of readings."""

    trouble: str
    true_probability_share: list[float]


class SeparatingPowerTable(Entry):
    """The file data/evidence/separating_power.json."""

    made_by: StudyMadeByTable
    troubles: list[str]
    counts: StudyCountsTable
    results: list[StudyResultTable]
    one_more: list[OneMoreTable]
    first_day: list[CheckedCaseTable]

    def as_text(self):
        """The file's text: a line for each result and each case, so that a new study can be compared with the old."""
        text = self.model_dump_json().replace('{"readings"', '\n{"readings"').replace('{"trouble"', '\n{"trouble"')
        return text + "\n"


class CautionTable(Entry):
    """One caution: where and since when it holds, on what it rests, and to whom it defers."""

    topic: str
    region: str
    as_of: str = Field(pattern=r"^\d{4}-\d{2}$")
    steps: list[Literal["recovery", "evacuation", "pressure_test", "charging", "oil", "job"]] = Field(min_length=1)
    text: str = Field(min_length=20)
    source: str = Field(pattern=r"^(read|second-hand|from memory|common practice|assumed): .{4,}")
    defers_to: str = Field(min_length=10)


class CautionsTable(Entry):
    """The file data/service/cautions.toml."""

    caution: dict[str, CautionTable]


Sentence = Annotated[str, Field(min_length=1)]
Section = Literal["recall", "predict", "worked", "faded", "check", "placement"]


class RunTable(Entry):
    """One setting of the bench: what run_bench takes; what is left out stays as run_bench has it."""

    car: str
    refrigerant: Literal["R134a", "R1234yf"] | None = None  # where somebody filled in another one than the label says
    ambient_c: float | None = None
    relative_humidity: float | None = None
    cabin_c: float | None = None
    compressor_rpm: float | None = None
    road_speed_km_h: float | None = None
    blower_fraction: float | None = None
    recirculate: bool | None = None
    altitude_m: float | None = None
    charge_fraction: float | None = None
    faults: dict[str, float] | None = None


class NumberTable(BaseModel):
    """One number that a question asks for or a text prints: which function of the course, and what it is given."""

    model_config = ConfigDict(extra="allow", strict=True, frozen=True)
    of: str


class ToleranceTable(Entry):
    """How near an answer must come: a share of the right number, and never less than an instrument can show."""

    name: Sentence
    of_the_answer_share: Quantity
    least_kpa: Quantity | None = None
    least_k: Quantity | None = None


class TolerancesTable(Entry):
    """The file data/tolerances.toml."""

    tolerance: dict[str, ToleranceTable]


class MisconceptionTable(Entry):
    """What most of us learned, the lesson that breaks it, and the panel there whose run shows it, if no answer does."""

    says: Sentence
    lesson: str
    shown_by: str = ""
    source: str = Field(pattern=r"^(read|second-hand|from memory|common practice|assumed): .{4,}")


class MisconceptionsTable(Entry):
    """The file data/misconceptions.toml."""

    misconception: dict[str, MisconceptionTable]


class ShowTable(Entry):
    """The run that shows an answer wrong: which run, beside which, and the readings to look at."""

    run: str
    beside: str | None = None
    readings: list[str] = Field(min_length=1)


class OptionTable(Entry):
    """One answer to choose, and what it would mean."""

    text: Sentence
    why: Sentence
    right: bool = False
    misconception: str | None = None
    shows: ShowTable | None = None


def _one_right(options):
    right = sum(option.right for option in options)
    if right != 1:
        raise ValueError(f"{right} answers are marked right = true, and exactly one should be")
    return options


class AskedTable(Entry):
    """What every question has: where it stands in the lesson, what it asks, whether it asks how sure one is."""

    section: Section
    ask: Sentence
    confidence: bool = False
    leads_to: list[str] = []  # of a placement question: the lessons that teach what it asks
    about: str = ""  # of a placement question: the same in a few words


class ChoiceTable(AskedTable):
    """Choose one answer; with predict the answer locks before anything is shown."""

    kind: Literal["choice", "predict"]
    options: Annotated[list[OptionTable], Field(min_length=2), AfterValidator(_one_right)]


class SlipTable(Entry):
    """A wrong number that is often given, and what went wrong on the way to it."""

    answer: str
    why: Sentence
    misconception: str | None = None
    shows: ShowTable | None = None


class NumericTable(AskedTable):
    """Give a number with its unit."""

    kind: Literal["numeric"]
    answer: str
    tolerance: str
    why: Sentence
    high: Sentence
    low: Sentence
    slips: list[SlipTable] = []


class StepTable(Entry):
    """One step of a job, and why it comes where it comes."""

    id: str
    text: Sentence
    why: Sentence


class OrderTable(AskedTable):
    """Put the steps in order; where "before" is given, only those pairs are held to."""

    kind: Literal["order"]
    steps: list[StepTable] = Field(min_length=3)
    before: list[Annotated[list[str], Field(min_length=2, max_length=2)]] = []

    @model_validator(mode="after")
    def _the_order_as_written_is_right(self):
        ids = [step.id for step in self.steps]
        if len(set(ids)) < len(ids):
            raise ValueError("two steps have the same id")
        for pair in self.before:
            if not set(pair) <= set(ids):
                raise ValueError(f"before names {pair}, but the steps are {', '.join(ids)}")
            if ids.index(pair[0]) >= ids.index(pair[1]):
                raise ValueError(
                    f"before says {pair[0]} comes before {pair[1]}, but the steps are written the other way"
                )
        return self


class PairTable(Entry):
    """Two things that belong together, and why."""

    left: Sentence
    right: Sentence
    why: Sentence


class SpareTable(Entry):
    """Something to choose that belongs to nothing on the left, and why not."""

    text: Sentence
    why: Sentence


class MatchTable(AskedTable):
    """Find what belongs to what."""

    kind: Literal["match"]
    pairs: list[PairTable] = Field(min_length=2)
    spare: list[SpareTable] = []


class PlaceTable(Entry):
    """One point of the cycle to pick, and what is found there."""

    point: str
    why: Sentence
    right: bool = False
    misconception: str | None = None


class PointTable(AskedTable):
    """Pick a point of the cycle on the P-h chart of a run."""

    kind: Literal["point"]
    run: str
    points: Annotated[list[PlaceTable], Field(min_length=3), AfterValidator(_one_right)]


class MovesTable(AskedTable):
    """Say for each reading whether it goes up, stays or goes down; the truth is worked out from two runs."""

    kind: Literal["directions"]
    healthy: str
    changed: str
    why: dict[str, Sentence] = Field(min_length=1)


QUESTION_KINDS = {
    "choice": ChoiceTable,
    "predict": ChoiceTable,
    "numeric": NumericTable,
    "order": OrderTable,
    "match": MatchTable,
    "point": PointTable,
    "directions": MovesTable,
}


class LessonTable(Entry):
    """A file of data/lessons before its entries are looked at one by one, so that one bad entry spoils no other."""

    title: Sentence
    recall: list[str] = []
    run: dict[str, dict] = {}
    number: dict[str, dict] = {}
    question: dict[str, dict]


class HistoryEntryTable(Entry):
    """One line of a car's service record."""

    date: datetime.date
    what: Literal["recovered", "charged", "topped_off"]
    amount_g: Quantity


class HistoryTable(Entry):
    """An invented car with its record, and the day on which somebody looks at it."""

    name: str
    car: str
    invented: Literal[True]
    looked_at: datetime.date
    told: str
    entry: list[HistoryEntryTable] = Field(min_length=1)


class LeakHistoriesTable(Entry):
    """The file data/service/leak_histories.toml."""

    history: dict[str, HistoryTable]


class TermTable(Entry):
    """One trade term: what else it is called, what it means, where it is measured, and where it misleads."""

    term: str
    also: list[str] = []
    meaning: str = Field(min_length=10)
    measured: str = ""
    trap: str = ""


class GlossaryTable(Entry):
    """The file data/glossary.toml."""

    entry: dict[str, TermTable]
