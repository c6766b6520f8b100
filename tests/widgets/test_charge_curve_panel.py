"""The charge curve by its values: one curve a car and day, a line that moves with the charge, a start that is refused."""

import re

import pytest

from course.charts import charge_curve
from course.charts.style import new_figure
from course.errors import OutOfRange
from course.physics.bench import run_bench
from course.widgets.charge_curve_panel import SIZE, show_charge_curve


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


@pytest.fixture(scope="module")
def sedan(tmp_path_factory):
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("WORKBOOK_PREFERENCES", str(tmp_path_factory.mktemp("sedan") / "preferences.json"))
        yield show_charge_curve()


def line_at(page):
    return float(re.search(r'<line x1="([\d.]+)"', page)[1])


def test_the_charge_now_is_the_benchs_own_and_the_curve_is_drawn_once(sedan, monkeypatch):
    drawn = sedan.pictured
    monkeypatch.setattr("course.widgets.charge_curve_panel.draw_charge_curve", None)  # drawing again would fail
    for percent in (60, 90):
        sedan.charge.value = percent
        assert sedan.run.charge_fraction == percent / 100.0
        alone = run_bench("sedan", ambient_c=35.0, charge_fraction=percent / 100.0)
        assert sedan.run.high_side_kpa_gauge == pytest.approx(alone.high_side_kpa_gauge, abs=1.0)
        assert f"at {percent} % charge" in sedan.words.value
    assert sedan.pictured is drawn
    assert "432 g" in sedan.words.value  # nine tenths of the sedan's 480 g


def test_the_line_stands_where_the_curve_has_that_charge(sedan):
    """The curve's own axes, asked for the place of a charge in the picture."""
    figure = new_figure(*SIZE)
    charge_curve.draw_charge_curve(figure, sedan.curve, sedan.shown_units)
    axes = figure.axes[-1]
    for percent in (20, 100, 140):
        sedan.charge.value = percent
        there, _ = axes.transData.transform((percent, 0.0))
        width, _ = figure.get_size_inches() * figure.dpi
        assert line_at(sedan.picture.value) / SIZE[0] == pytest.approx(there / width, abs=0.002)


def test_another_car_another_day_and_other_units_draw_anew():
    panel = show_charge_curve(car="pickup", charge_percent=70)
    assert "the accumulator is empty at 65 %" in panel.words.value
    first, high = panel.pictured[1], panel.run.high_side_kpa_gauge
    panel.day.value = 25.0
    assert panel.run.high_side_kpa_gauge < high
    assert "at 70 % charge, 77 °F outside" in panel.words.value
    assert panel.pictured[1] != first
    panel.units.value = "kpa_c"
    assert "high side, kPa gauge" in panel.picture.value
    panel.car.value = "compact"
    assert "the receiver is empty at 80 %" in panel.sentence()


def test_a_day_bears_both_degrees():
    panel = show_charge_curve()
    assert [label for label, _ in panel.day.options] == ["25 °C (77 °F)", "35 °C (95 °F)", "43 °C (109 °F)"]


def test_too_full_says_what_the_bench_notes():
    panel = show_charge_curve(car="pickup", charge_percent=135)
    assert "Liquid refrigerant returns to the compressor." in panel.words.value


def test_a_start_outside_the_slider_is_refused():
    with pytest.raises(OutOfRange, match="charge: 150 % of label was given; allowed are 10 to 140"):
        show_charge_curve(charge_percent=150)


def test_the_stored_page_says_it_in_one_sentence():
    bundle = show_charge_curve(charge_percent=60)._repr_mimebundle_()
    assert bundle["text/plain"].startswith("From 10 to 140 % of the label charge")
    assert "at 60 % charge" in bundle["text/plain"]
    assert bundle["text/html"].count("<figure") == 1
    assert 'aria-label="Upright line at 60 % of the label charge."' in bundle["text/html"]
