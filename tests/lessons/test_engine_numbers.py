"""The numbers behind questions: each against the simulator's own door, a printed table or a sum worked here."""

import pytest

from course.errors import WorkbookError
from course.lessons.engine_numbers import NUMBERS
from course.lessons.lesson import open_lesson
from course.physics.bench import run_bench
from tests.lessons.lesson_files import HEAD

ASK = """
[question.it]
section = "check"
kind = "choice"
ask = "{it}"
options = [{ text = "a", why = "so", right = true }, { text = "b", why = "no" }]
"""


def number(write_lesson, text):
    """The number called it of a lesson with these tables."""
    question = open_lesson(write_lesson(HEAD + text + ASK)).questions["it"]
    if isinstance(question, WorkbookError):
        raise question
    return question.numbers["it"]


GIVEN = """
[number.p]
of = "given"
pressure_kpa_gauge = 564
[number.t]
of = "given"
temperature_c = 25
[number.m]
of = "given"
lost_g = 120
[number.spare]
of = "given"
time_days = 90
[number.leak]
of = "given"
leak_g_per_year = 40
"""


@pytest.mark.parametrize(
    ("text", "kind", "value", "room"),
    [
        # printed P-T table of R-134a: 564 kPa gauge at 25 °C
        ('of = "boiling_temperature"\nrefrigerant = "R134a"\npressure = "p"', "temperature", 25.0, 0.1),
        ('of = "boiling_pressure"\nrefrigerant = "R134a"\ntemperature = "t"', "gauge_pressure", 564.0, 1.0),
        (
            'of = "standing_pressure"\ncar = "sedan"\ntemperature = "t"\ncharge_fraction = 0.5',
            "gauge_pressure",
            564.0,
            1.0,
        ),
        ('of = "charge_weight"\ncar = "sedan"\ncharge_fraction = 0.5', "mass", 240.0, 1e-9),
        (
            'of = "air_pressure"\naltitude_m = 1500',
            "absolute_pressure",
            84.556,
            0.01,
        ),  # ISO 2533 at 1,500 m: 845.56 hPa
        ('of = "leak_per_year"\nlost = "m"\ntime = "spare"', "leak_rate", 120.0 / 90.0 * 365.25, 1e-9),
        ('of = "time_to_lose"\nlost = "m"\nleak = "leak"', "time", 3.0 * 365.25, 1e-9),
        ('of = "sum"\nfirst = "m"\nsecond = "m"', "mass", 240.0, 1e-9),
        ('of = "difference"\nfirst = "p"\nsecond = "p"', "pressure_difference", 0.0, 1e-9),
        ('of = "percent_of"\nfirst = "m"\nsecond = "m"', "percent", 100.0, 1e-9),
        ('of = "given"\ncharge_fraction = 0.4', "percent", 40.0, 1e-9),
    ],
)
def test_numbers_by_their_functions(write_lesson, text, kind, value, room):
    found = number(write_lesson, GIVEN + "[number.it]\n" + text)
    assert found.kind == kind
    assert found.value == pytest.approx(value, abs=room)


def test_a_reading_is_the_benchs_and_a_change_is_the_difference_of_two(write_lesson):
    full, short = run_bench("sedan"), run_bench("sedan", charge_fraction=0.4)
    found = number(write_lesson, '[number.it]\nof = "bench"\nrun = "short"\nreading = "superheat_k"')
    assert found.value == pytest.approx(short.superheat_k, abs=1e-6)
    found = number(write_lesson, '[number.it]\nof = "bench"\nrun = "short"\nless = "full"\nreading = "vent_c"')
    assert found.kind == "temperature_difference"
    assert found.value == pytest.approx(short.vent_c - full.vent_c, abs=1e-6)


def test_a_fault_reaches_the_bench(write_lesson):
    runs = '[run.worn]\ncar = "sedan"\nfaults = { worn_compressor = 0.5 }\n'
    found = number(write_lesson, runs + '[number.it]\nof = "bench"\nrun = "worn"\nreading = "pressure_ratio"')
    assert found.value == pytest.approx(run_bench("sedan", faults={"worn_compressor": 0.5}).pressure_ratio, abs=1e-4)


def test_a_car_can_be_filled_with_the_other_refrigerant(write_lesson):
    runs = (
        '[run.wrong]\ncar = "sedan"\nrefrigerant = "R1234yf"\nfaults = { clutch_not_engaged = 1.0 }\nambient_c = 25\n'
    )
    found = number(write_lesson, runs + '[number.it]\nof = "bench"\nrun = "wrong"\nreading = "low_side_kpa_gauge"')
    assert found.value == pytest.approx(581.0, abs=1.0)  # printed P-T table of R-1234yf at 25 °C; R-134a has 564


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ('of = "bench"\nrun = "full"\nreading = "superheat"', "reading: 'superheat' is not known here"),
        ('of = "bench"\nrun = "full"', "missing a required argument: 'reading'; it takes run, reading, less"),
        (
            'of = "charge_weight"\ncar = "sedan"\nshare = 2',
            "unexpected keyword argument 'share'; it takes car, charge_fraction",
        ),
        ('of = "given"\na_g = 1\nb_g = 2', "given takes one number"),
        ('of = "given"\ntemperature = 1', "temperature does not end in a unit known here"),
        ('of = "sum"\nfirst = "m"\nsecond = "t"', "mass and temperature cannot be added or compared"),
        ('of = "percent_of"\nfirst = "m"\nsecond = "t"', "mass is no share of temperature"),
        ('of = "charge_weight"\ncar = "coupe"', "car: 'coupe' is not known here"),
        ('of = "boiling_pressure"\nrefrigerant = "R12"\ntemperature = "t"', "refrigerant: 'R12' is not known here"),
    ],
)
def test_what_cannot_be_worked_out_is_said(write_lesson, text, sentence):
    with pytest.raises(WorkbookError, match="number.it"):
        number(write_lesson, GIVEN + "[number.it]\n" + text)
    try:
        number(write_lesson, GIVEN + "[number.it]\n" + text)
    except WorkbookError as problem:
        assert sentence in str(problem)


def test_the_air_of_the_place_goes_with_the_number(write_lesson):
    high = '[run.high]\ncar = "sedan"\naltitude_m = 1500\n[number.it]\nof = "bench"\nrun = "high"\nreading = "low_side_kpa_gauge"\n'
    ask = ASK.replace('"choice"', '"numeric"').split("options")[0]
    ask += 'answer = "it"\ntolerance = "gauge"\nwhy = "so"\nhigh = "hh"\nlow = "ll"\n'
    question = open_lesson(write_lesson(HEAD + high + ask)).questions["it"]
    assert question.air_pressure_kpa == pytest.approx(84.556, abs=0.01)


@pytest.mark.parametrize(
    ("what", "kind", "value"),
    [
        ("put_in", "mass", 450.0 + 250.0 + 240.0),
        ("topped_off", "mass", 250.0 + 240.0),
        ("days", "time", 178.0),  # 20 March to 14 September
        ("topped_off_days", "time", 118.0),  # 20 March to 16 July
        # full again by hand at the second can, then sixty days at 490 g in 118 days
        ("left", "mass", 450.0 - 60.0 * 490.0 / 118.0),
    ],
)
def test_a_service_record_gives_its_sums_and_what_is_left(what, kind, value):
    found = NUMBERS["record"][0]("two_cans_and_no_look", what)
    assert (found.kind, found.value) == (kind, pytest.approx(value))


def test_a_record_is_asked_only_for_what_it_has():
    with pytest.raises(WorkbookError, match="what: 'oil' is not known here; choose one of put_in"):
        NUMBERS["record"][0]("two_cans_and_no_look", "oil")
