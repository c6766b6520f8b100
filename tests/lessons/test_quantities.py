"""Numbers with units: every unit of a kind, comma and point, and a sentence in place of every guess."""

import pytest

from course.errors import BadDataFile
from course.lessons.quantities import KINDS, Number, from_base, kind_of, read_answer, to_base
from course.units import display_units


# sizes: NIST SP 811 (2008), appendix B.8, written out here once more
@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("25,5 psi", "gauge_pressure", 25.5 * 6.894757),
        ("25.5psig", "gauge_pressure", 25.5 * 6.894757),
        ("2 bar(g)", "gauge_pressure", 200.0),
        ("0,125 MPa", "gauge_pressure", 125.0),
        ("40 psia", "gauge_pressure", 40 * 6.894757 - 101.325),
        ("40 psi absolute", "absolute_pressure", 40 * 6.894757),
        ("10 kPa gauge", "absolute_pressure", 111.325),
        ("500 microns", "absolute_pressure", 0.0666612),
        ("29.92 inHg absolute", "absolute_pressure", 101.3207),
        ("95 °F", "temperature", 35.0),
        ("95 degrees F", "temperature", 35.0),
        ("−3 °C", "temperature", -3.0),
        ("300 K", "temperature", 26.85),
        ("36 F", "temperature_difference", 20.0),
        ("20 K", "temperature_difference", 20.0),
        ("17 oz", "mass", 481.942),
        ("1.1 lbs", "mass", 498.9516),
        ("40 g per year", "leak_rate", 40.0),
        ("2 years", "time", 730.5),
        ("90 min", "time", 0.0625),
        ("1.5 h", "minutes", 0.0625),
        ("500 microns", "vacuum", 0.0666612),
        ("0.5 torr", "vacuum", 0.0666612),
        ("1.5 fl oz", "volume", 44.3603),
        ("50 ml", "volume", 50.0),
        ("1 500 kPa", "gauge_pressure", 1500.0),
        ("1.500,5 kPa", "gauge_pressure", 1500.5),
        ("1,500.5 kPa", "gauge_pressure", 1500.5),
        ("12000 Btu/h", "power", 3516.853),
        ("4,5", "plain", 4.5),
        ("12 %", "percent", 12.0),
    ],
)
def test_every_unit_of_the_kind_is_taken(text, kind, value):
    given = read_answer(text, kind)
    assert given.problem == ""
    assert given.number.value == pytest.approx(value, rel=2e-5)


@pytest.mark.parametrize(
    ("text", "kind", "sentence"),
    [
        ("", "temperature", "Nothing is written yet; give a number and its unit."),
        ("  ", "plain", "Nothing is written yet; give a number."),
        ("warm", "temperature", "does not begin with a number"),
        ("35", "temperature", "The unit is missing; give it in °C, °F or K."),
        ("35 psi", "temperature", "psi is a unit of pressure; the question asks for a temperature"),
        ("35 furlongs", "temperature", "“furlongs” is no unit known here"),
        ("4 psi", "plain", "write it without psi"),
        ("1,500 kPa", "gauge_pressure", "can mean 1500 or 1.500"),
        ("1.2.3 kPa", "gauge_pressure", "has two ."),
        ("5 psi", "absolute_pressure", "Say whether your psi are gauge or absolute"),
        ("-400 °C", "temperature", "which nothing in a workshop shows"),
        ("9999999 psi", "gauge_pressure", "which nothing in a workshop shows"),
        ("20 K gauge", "temperature_difference", "neither gauge nor absolute"),
    ],
)
def test_what_cannot_be_understood_is_asked_back(text, kind, sentence):
    given = read_answer(text, kind)
    assert given.number is None
    assert sentence in given.problem
    assert given.problem.endswith(".")


def test_the_local_air_stands_between_gauge_and_absolute():
    assert read_answer("100 kPa absolute", "gauge_pressure", 84.5).number.value == pytest.approx(15.5)


@pytest.mark.parametrize("kind", KINDS)
def test_there_and_back_in_every_unit(kind):
    base = 0.01 * KINDS[kind].high
    for unit in KINDS[kind].units:
        assert to_base(from_base(base, kind, unit), kind, unit) == pytest.approx(base)
        assert read_answer(Number(base, kind).in_unit(unit, 6), kind).number.value == pytest.approx(base)


def test_a_number_is_shown_in_the_learners_units():
    assert Number(200.0, "gauge_pressure").shown(display_units("bar_c")) == "2.00 bar gauge"
    assert Number(20.0, "temperature_difference").shown(display_units("psi_f")) == "36 °F"
    assert Number(-0.2, "temperature").shown(display_units("kpa_c")) == "0 °C"


def test_a_name_without_its_unit_is_refused():
    with pytest.raises(BadDataFile, match="superheat does not end in a unit known here"):
        kind_of("superheat")
