"""The bench panel by its values: what moves, what stays, what is said."""

import threading
import time

import pytest

from course.errors import UnknownChoice, WorkbookError
from course.widgets import BenchPanel, Predict, ask, show_bench, show_bottle
from course.widgets.newest_wins import NewestWins
from course.widgets.preferences import remember_units, remembered_units


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def test_a_slider_moves_every_moving_picture_and_no_still_one():
    panel = BenchPanel(units="kpa_c")
    layers = panel.layers
    moving = (layers.gauges_moving, layers.circuit_moving, layers.chart_moving, panel.readings, panel.words)
    still = (layers.gauges_still, layers.chart_still)
    before = [part.value for part in (*moving, *still)]
    panel.numbers["charge_percent"].value = 40.0
    after = [part.value for part in (*moving, *still)]
    assert all(one != other for one, other in zip(before[:5], after[:5], strict=True))
    assert before[5:] == after[5:]


def test_the_numbers_are_those_of_the_bench():
    from course.physics.bench import run_bench

    panel = BenchPanel(units="kpa_c", charge_percent=60, ambient_c=32.0)
    run = run_bench("sedan", charge_fraction=0.6, ambient_c=32.0)
    assert f"low side {run.low_side_kpa_gauge:.0f} kPa gauge" in panel.words.value


def test_units_change_what_is_shown_and_not_what_is_meant():
    panel = BenchPanel(units="kpa_c", ambient_c=35.0)
    low = panel.run.low_side_kpa_gauge
    panel.units.value = "psi_f"
    assert panel.numbers["ambient_c"].slider.value == 95.0
    assert panel.numbers["ambient_c"].value == pytest.approx(35.0)
    assert panel.run.low_side_kpa_gauge == pytest.approx(low)
    assert "psi gauge" in panel.words.value


def test_a_refusal_shows_its_sentence_and_keeps_the_last_picture(monkeypatch):
    from course.widgets import bench_panel

    panel = BenchPanel(units="kpa_c")
    good, run = panel.layers.chart_moving.value, panel.run

    def refuse(*more, **settings):
        raise WorkbookError("charge: 9 was given; allowed are 0 to 1.4: give it as a share of one.")

    monkeypatch.setattr(bench_panel, "run_bench", refuse)
    panel.numbers["charge_percent"].value = 55.0
    assert "allowed are 0 to 1.4" in panel.error.value
    assert panel.layers.chart_moving.value == good
    assert panel.run is run
    assert panel.numbers["charge_percent"].value == 55.0
    monkeypatch.undo()
    panel.numbers["charge_percent"].value = 56.0
    assert "allowed" not in panel.error.value


def test_an_orifice_car_offers_no_valve_faults():
    panel = BenchPanel(units="kpa_c", fault="txv_stuck_open", severity_percent=50)
    panel.car.value = "pickup"
    assert panel.fault.value == "none"
    assert "txv_stuck_open" not in [key for _, key in panel.fault.options]


def test_reset_goes_back_to_where_the_lesson_began():
    panel = show_bench(["charge_percent"], units="kpa_c", charge_percent=60)
    first = panel.words.value
    panel.numbers["charge_percent"].value = 20.0
    assert panel.words.value != first
    panel.reset()
    assert panel.words.value == first


def test_only_the_lessons_controls_are_shown():
    panel = show_bench(["charge_percent", "ambient_c"], units="kpa_c")
    shown = panel.view().children[1].children[0].children
    assert panel.numbers["charge_percent"].view in shown
    assert panel.numbers["compressor_rpm"].view not in shown
    with pytest.raises(UnknownChoice, match="'charge' is not known; choose from car, ambient_c"):
        show_bench(["charge"])


def test_what_a_stored_notebook_keeps():
    bundle = show_bench(units="psi_f", charge_percent=60)._repr_mimebundle_()
    assert bundle["text/plain"].startswith("Invented sedan with R-134a at 60 % charge, 95 °F outside")
    assert "<figcaption>" in bundle["text/html"]
    assert 'role="img"' in bundle["text/html"]
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert bundle["text/plain"] == show_bench(units="psi_f", charge_percent=60)._repr_mimebundle_()["text/plain"]


def test_compare_can_be_switched_off():
    panel = BenchPanel(units="kpa_c", charge_percent=50)
    assert "--workbook-healthy" in panel.layers.chart_moving.value
    panel.compare.value = False
    assert "--workbook-healthy" not in panel.layers.chart_moving.value


def test_every_number_has_a_named_box_beside_its_slider():
    for control in BenchPanel(units="kpa_c").numbers.values():
        assert control.label in control.box.description
        control.box.value = control.box.max
        assert control.slider.value == control.box.max


def test_a_fast_drag_drops_what_it_has_passed():
    seen, wish, started = [], [0], threading.Event()

    def work():
        started.set()
        time.sleep(0.05)
        seen.append(wish[0])

    newest = NewestWins(work)
    first = threading.Thread(target=newest.request)
    first.start()
    started.wait(5)
    for number in range(1, 30):
        wish[0] = number
        newest.request()
    first.join(5)
    assert seen[-1] == 29
    assert len(seen) == 2
    assert newest.dropped == 28


def test_work_that_fails_does_not_block_the_next():
    calls = []

    def work():
        calls.append(1)
        if len(calls) == 1:
            raise RuntimeError("once")

    newest = NewestWins(work)
    with pytest.raises(RuntimeError):
        newest.request()
    newest.request()
    assert len(calls) == 2


def test_units_are_remembered_and_a_spoilt_file_is_survived(tmp_path):
    path = tmp_path / "deep" / "preferences.json"
    assert remember_units("bar_c", path)
    assert remembered_units(path) == "bar_c"
    path.write_text("{spoilt", encoding="utf-8")
    assert remembered_units(path) == "psi_f"
    path.write_text('{"units": "furlongs"}', encoding="utf-8")
    assert remembered_units(path) == "psi_f"
    assert not remember_units("bar_c", path / "not a folder" / "x.json")


def test_the_panel_remembers_what_the_learner_chose():
    BenchPanel().units.value = "bar_c"
    assert BenchPanel().units.value == "bar_c"


def test_a_sealed_bottle_follows_temperature():
    bottle = show_bottle(units="kpa_c", temperature_c=25.0)
    assert "both gauges show 564 kPa gauge" in bottle.sentence()  # P-T table, R-134a at 25 °C: 564
    bottle.charge.value = 50.0
    assert "564 kPa" in bottle.sentence()
    bottle.temperature.value = 35.0
    assert "786 kPa" in bottle.sentence()  # same table at 35 °C


def test_a_prediction_locks_and_explains_every_option():
    question = ask("hot_day_low_charge")
    question.commit()
    assert "Choose an answer first" in question.answer.value
    assert not question.choice.disabled
    question.choice.value = 0
    question.commit()
    assert question.choice.disabled
    assert question.chosen == 0
    assert all(why.split()[0] in question.answer.value for _, why in question.options)
    assert "(your answer)" in question.answer.value


def test_an_unknown_prediction_or_a_wrong_mark_is_a_sentence():
    with pytest.raises(UnknownChoice, match="hot_day_low_charge"):
        ask("nothing")
    with pytest.raises(WorkbookError, match="option 5 was marked right; allowed are 0 to 1"):
        Predict("?", [("a", "b"), ("c", "d")], 5)
