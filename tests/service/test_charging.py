"""Charging by weight, against hand-worked hoses and scales."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from course.errors import OutOfRange, UnknownChoice
from course.service.charging import check_charge, check_cylinder_holds, check_machine_charge, hose_content_g


@pytest.mark.parametrize(
    ("bore", "filled", "grams", "within"),
    [(4.8, "vapour", 1.4, 0.05), (4.8, "liquid", 52.0, 0.5), (6.35, "vapour", 2.5, 0.05), (6.35, "liquid", 92.0, 0.5)],
)
def test_hose_content(bore, filled, grams, within):
    """2.4 m at 25 °C, worked out by hand from printed densities of R-134a (1206.7 and 32.35 kg/m3)."""
    assert hose_content_g(bore, 2400.0, "R134a", 25.0, filled) == pytest.approx(grams, abs=within)


@pytest.mark.parametrize(
    ("after", "verdict"),
    [(8400.0, "within the label"), (8300.0, "too much"), (8500.0, "too little"), (8375.0, "too close to say")],
)
def test_verdicts(after, verdict):
    """600 g label, 25 g tolerance, 5 g scale: doubt 14 g, so 575 to 586 and 614 to 639 cannot be told."""
    assert check_charge(9000.0, after, 600.0, scale_error_g=5.0).verdict == verdict


def test_the_hose_alone_can_put_a_charge_outside_its_label():
    right = check_charge(9000.0, 8348.0, 600.0, hose_g=52.0, scale_error_g=2.0)
    forgotten = check_charge(9000.0, 8348.0, 600.0, scale_error_g=2.0)
    assert (right.verdict, forgotten.verdict) == ("within the label", "too much")


def test_scale_error_counts_twice():
    assert check_charge(9000.0, 8400.0, 600.0, scale_error_g=10.0).error_g == pytest.approx(14.14, abs=0.01)


@settings(max_examples=40, deadline=None)
@given(st.floats(-100.0, 2e5), st.floats(-100.0, 2e5), st.floats(0.0, 6000.0), st.floats(0.0, 600.0))
def test_an_answer_or_a_sentence(before, after, label, scale):
    try:
        check = check_charge(before, after, label, scale_error_g=scale)
    except OutOfRange as refused:
        assert str(refused).endswith(".")
    else:
        assert check.charged_g == pytest.approx(before - after)
        assert check.reason.endswith(".")


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: check_charge(8000.0, 9000.0, 600.0), "it got heavier: pressure went back into it"),
        (lambda: check_charge(9000.0, float("nan"), 600.0), "cylinder after: nan g was given"),
        (lambda: check_charge(9.0, 8.4, 0.6), "label: 0.6 g was given; allowed are 100 to 5000 g"),
        (lambda: check_cylinder_holds(600.0, 500.0), "a cylinder that holds 500 g; begin with a fuller one"),
        (lambda: check_cylinder_holds(600.0, 640.0, 52.0), "600 g and 52 g for the hose"),
        (lambda: check_cylinder_holds(-600.0, 640.0), "charge: -600 g was given"),
        (lambda: hose_content_g(-4.8, 2400.0, "R134a", 25.0), "bore: -4.8 mm was given"),
    ],
)
def test_sentences(ask, words):
    with pytest.raises(OutOfRange, match=words):
        ask()


def test_unknown_names_are_answered_with_the_choices():
    with pytest.raises(UnknownChoice, match="choose one of liquid, vapour"):
        hose_content_g(4.8, 2400.0, "R134a", 25.0, "froth")


@pytest.mark.parametrize(
    ("shown", "verdict"),
    [(600.0, "within the label"), (615.0, "too close to say"), (641.0, "too much"), (559.0, "too little")],
)
def test_a_machine_within_half_an_ounce(shown, verdict):
    """SAE J2788: 15 g either way (read); on a label of 25 g up to 10 g off are sure, beyond 40 g surely wrong."""
    assert check_machine_charge(shown, 600.0).verdict == verdict


def test_a_machine_that_shows_ounces_is_refused():
    with pytest.raises(OutOfRange, match="label: 21 g was given"):
        check_machine_charge(21.0, 21.0)
