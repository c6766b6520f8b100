"""The oil form against factory examples, and the wrong oil refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from course.errors import OutOfRange, UnknownChoice
from course.service.oil import EVENTS, PARTS, check_oil, judge_oil, oil_balance, wrong_oil_share


@pytest.mark.parametrize(
    ("parts", "events", "recovered", "least", "most"),
    [
        (["condenser"], [], 0.0, 30.0, 30.0),
        (["evaporator"], [], 10.0, 40.0, 100.0),
        (["condenser"], ["sudden_loss"], 0.0, 90.0, 120.0),
        (["hose_or_line"], ["slow_leak"], 0.0, 0.0, 0.0),
        (["accumulator", "hose_or_line"], ["sudden_loss"], 0.0, 90.0, 195.0),
        (["condenser", "condenser"], [], 0.0, 60.0, 60.0),
    ],
)
def test_factory_examples(parts, events, recovered, least, most):
    """Condenser 30 mL (1 oz) everywhere, sudden loss 60-90 mL (2-3 oz), slow leak none: factory manuals, read."""
    balance = oil_balance(240.0, recovered, parts, events)
    assert (balance.least_to_add_ml, balance.most_to_add_ml) == (least, most)


@settings(max_examples=40, deadline=None)
@given(
    st.floats(50.0, 1000.0),
    st.floats(0.0, 1000.0),
    st.lists(st.sampled_from(PARTS), max_size=4),
    st.lists(st.sampled_from(EVENTS), max_size=1),
)
def test_what_left_and_what_stayed_make_the_total(total, recovered, parts, events):
    try:
        balance = oil_balance(total, recovered, parts, events)
    except OutOfRange as refused:
        assert "oil" in str(refused)
        return
    assert balance.least_to_add_ml + balance.most_inside_ml == pytest.approx(total)
    assert balance.most_to_add_ml + balance.least_inside_ml == pytest.approx(total)
    assert 0.0 <= balance.least_inside_ml <= balance.most_inside_ml <= total


@pytest.mark.parametrize(("inside", "word"), [(100.0, "underfilled"), (200.0, "right"), (300.0, "overfilled")])
def test_over_and_underfill(inside, word):
    assert judge_oil(200.0, inside)[0] == word


def test_four_cans_with_oil_overfill_a_small_system():
    """Four top-off cans with 60 mL of oil each on a circuit that lost none."""
    verdict, reason = judge_oil(150.0, 150.0 + 4 * 60.0)
    assert verdict == "overfilled"
    assert "260 %" in reason


@pytest.mark.parametrize(("kind", "label"), [("pag46", "poe68"), ("pag46", "pag46"), ("poe68", "pag100")])
def test_pag_is_refused_for_high_voltage(kind, label):
    with pytest.raises(UnknownChoice, match="PAG conducts and about 1 % of it already spoils the insulation"):
        check_oil(kind, label, "high_voltage")


def test_ester_oil_passes_and_so_does_pag_on_a_belt():
    assert check_oil("poe68", "poe68", "high_voltage") == "poe68"
    assert check_oil("pag46", "pag46", "belt") == "pag46"


def test_the_wrong_grade_is_refused_with_both():
    with pytest.raises(UnknownChoice, match=r"pag150 \(150 mm2/s\) is not the pag46 \(46 mm2/s\) of the label"):
        check_oil("pag150", "pag46", "belt")


def test_one_per_cent_of_the_wrong_oil():
    """About 1 % PAG (second-hand): 1.5 mL in 150 mL."""
    assert wrong_oil_share(1.4, 150.0)[1] is False
    assert wrong_oil_share(1.5, 150.0)[1] is True


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: oil_balance(200.0, -1.0), "oil recovered: -1 mL was given"),
        (lambda: oil_balance(200.0, 250.0), "oil recovered: 250 mL was given"),
        (lambda: oil_balance(float("nan"), 0.0), "system total: nan mL was given"),
        (lambda: oil_balance("7 oz", 0.0), "system total: '7 oz' is not a number"),
        (lambda: oil_balance(60.0, 50.0, ["condenser"]), "at least 80 mL would have left a circuit of 60 mL"),
        (lambda: judge_oil(200.0, -5.0), "oil inside: -5 mL was given"),
    ],
)
def test_sentences(ask, words):
    with pytest.raises(OutOfRange, match=words):
        ask()


def test_unknown_names_are_answered_with_the_choices():
    with pytest.raises(UnknownChoice, match="condenser, evaporator, accumulator"):
        oil_balance(200.0, 0.0, ["heater"])
    with pytest.raises(UnknownChoice, match="choose one of pag46"):
        check_oil("mineral", "pag46", "belt")
