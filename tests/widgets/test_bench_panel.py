"""The bench panel by its values: what moves, what stays, what is said."""

import re
import threading
import time

import ipywidgets
import pytest

from course.charts.circuit import circuit_svg
from course.charts.gauges import gauge_needles_svg
from course.charts.pressure_enthalpy import moving_svg
from course.errors import WorkbookError
from course.physics.bench import run_bench
from course.widgets import BenchPanel, show_bench
from course.widgets.newest_wins import NewestWins
from course.widgets.preferences import remember_units, remembered_units


@pytest.fixture(autouse=True)
def own_preferences(monkeypatch, tmp_path):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "preferences.json"))


def test_a_slider_moves_the_moving_layer_and_the_sentence_and_not_the_still_one():
    panel = BenchPanel(units="kpa_c")
    still, moving, words = panel.layers.still.value, panel.layers.moving.value, panel.words.value
    panel.controls.numbers["charge_percent"].value = 40.0
    assert panel.layers.still.value == still
    assert panel.layers.moving.value != moving
    assert panel.words.value != words
    for part in (gauge_needles_svg, circuit_svg):
        assert part(panel.run, panel.units) in panel.layers.moving.value
    assert moving_svg(panel.run, panel.healthy, panel.units) in panel.layers.moving.value


def test_both_layers_are_laid_out_alike():
    panel = BenchPanel(units="kpa_c")
    boxes = [re.findall(r'viewBox="([^"]*)"', layer.value) for layer in (panel.layers.still, panel.layers.moving)]
    assert len(boxes[0]) == 3
    assert [[float(number) for number in box.split()] for box in boxes[0]] == [
        [float(number) for number in box.split()] for box in boxes[1]
    ]


def test_the_numbers_are_those_of_the_bench():
    panel = BenchPanel(units="kpa_c", charge_percent=60, ambient_c=32.0)
    run = run_bench("sedan", charge_fraction=0.6, ambient_c=32.0)
    assert f"low side {run.low_side_kpa_gauge:.0f} kPa gauge" in panel.words.value


def test_units_change_what_is_shown_and_not_what_is_meant():
    panel = BenchPanel(units="kpa_c", ambient_c=35.0)
    low = panel.run.low_side_kpa_gauge
    panel.controls.units.value = "psi_f"
    assert panel.controls.numbers["ambient_c"].slider.value == 95.0
    assert panel.controls.numbers["ambient_c"].value == pytest.approx(35.0)
    assert panel.run.low_side_kpa_gauge == pytest.approx(low)
    assert "psi gauge" in panel.words.value


def test_a_refusal_shows_its_sentence_and_keeps_the_last_picture(monkeypatch):
    from course.widgets import bench_panel

    panel = BenchPanel(units="kpa_c")
    good, run = panel.layers.moving.value, panel.run

    def refuse(*more, **settings):
        raise WorkbookError("charge: 9 was given; allowed are 0 to 1.4: give it as a share of one.")

    monkeypatch.setattr(bench_panel, "run_bench", refuse)
    panel.controls.numbers["charge_percent"].value = 55.0
    assert 'role="alert">charge: 9 was given; allowed are 0 to 1.4: give it as a share of one.<' in panel.words.value
    assert panel.layers.moving.value == good
    assert panel.run is run
    assert panel.controls.numbers["charge_percent"].value == 55.0
    monkeypatch.undo()
    panel.controls.numbers["charge_percent"].value = 56.0
    assert "allowed" not in panel.words.value
    assert panel.run is not run


def test_an_orifice_car_offers_no_valve_faults():
    panel = BenchPanel(units="kpa_c", fault="txv_stuck_open", severity_percent=50)
    panel.controls.car.value = "pickup"
    assert panel.controls.fault.value == "none"
    assert "txv_stuck_open" not in [key for _, key in panel.controls.fault.options]


def test_reset_goes_back_to_where_the_lesson_began():
    panel = show_bench(["charge_percent"], units="kpa_c", charge_percent=60)
    first = panel.words.value
    panel.controls.numbers["charge_percent"].value = 20.0
    assert panel.words.value != first
    panel.controls.reset()
    assert panel.words.value == first


def boxes_under(widget):
    """Every widget below one, itself included."""
    yield widget
    for child in getattr(widget, "children", ()):
        yield from boxes_under(child)


def test_only_the_lessons_controls_are_shown():
    panel = show_bench(["charge_percent", "ambient_c"], units="kpa_c")
    shown = list(boxes_under(panel.view()))
    assert panel.controls.numbers["charge_percent"].view in shown
    assert panel.controls.numbers["compressor_rpm"].view not in shown
    assert panel.controls.car not in shown
    everything = list(boxes_under(BenchPanel(units="kpa_c").view()))
    assert sum(isinstance(widget, (ipywidgets.IntSlider, ipywidgets.FloatSlider)) for widget in everything) == 9


@pytest.mark.parametrize(
    "start, words",
    [
        ({"controls": ["charge"]}, "bench control: 'charge' is not known here; choose one of car, ambient_c"),
        ({"charge": 50}, "bench control: 'charge' is not known here"),
        (
            {"charge_percent": 900},
            "charge: 900 % of label was given; allowed are 0 to 140 % of label: give charge_percent",
        ),
        ({"ambient_c": "hot", "units": "psi_f"}, "outside air: 'hot' is not a number; allowed are 10 to 50 °C"),
        ({"car": "coupe"}, "car: 'coupe' is not known here; choose one of compact, pickup, sedan"),
        ({"car": "pickup", "fault": "txv_stuck_open"}, "fault: 'txv_stuck_open' is not known here; choose one of none"),
        ({"units": "furlongs"}, "units: 'furlongs' is not known here; choose one of psi_f"),
    ],
)
def test_a_lesson_that_asks_for_nonsense_is_told_so(start, words):
    with pytest.raises(WorkbookError, match=re.escape(words)):
        show_bench(**start)


def test_recirculated_air_is_the_cabins():
    panel = BenchPanel(units="kpa_c")
    cabin = panel.controls.numbers["cabin_c"]
    assert not cabin.enabled
    fresh = panel.run.vent_c
    panel.controls.recirculate.value = True
    assert cabin.enabled
    assert panel.run.vent_c < fresh
    cool = panel.run.vent_c
    cabin.value = 20.0
    assert panel.run.vent_c < cool


def test_a_newly_chosen_fault_shows_at_once_and_none_has_no_severity():
    panel = BenchPanel(units="kpa_c")
    severity, high = panel.controls.numbers["severity_percent"], panel.run.high_side_kpa_gauge
    assert not severity.enabled
    panel.controls.fault.value = "condenser_airflow_low"
    assert severity.enabled
    assert severity.value == 50.0
    assert panel.run.high_side_kpa_gauge > high
    severity.value = 20.0
    panel.controls.fault.value = "worn_compressor"
    assert severity.value == 20.0
    assert "compressor worn 20 %" in panel.words.value


def test_the_healthy_car_is_run_anew_only_when_the_day_changes(monkeypatch):
    from course.widgets import bench_panel

    panel = BenchPanel(units="kpa_c", charge_percent=60)
    charges = []

    def counted(car, **settings):
        charges.append(settings["charge_fraction"])
        return run_bench(car, **settings)

    monkeypatch.setattr(bench_panel, "run_bench", counted)
    panel.controls.numbers["charge_percent"].value = 50.0
    assert charges == [0.5]
    panel.controls.numbers["ambient_c"].value = 30.0
    assert charges == [0.5, 0.5, 1.0]
    assert panel.healthy.conditions.ambient == pytest.approx(303.15)


def test_reset_and_new_units_run_the_bench_once():
    panel = BenchPanel(units="kpa_c", charge_percent=60)
    panel.controls.numbers["ambient_c"].value = 42.0
    panel.controls.fault.value = "air_in_system"
    for change in (panel.controls.reset, lambda: setattr(panel.controls.units, "value", "psi_f")):
        before = panel.newest.done
        change()
        assert panel.newest.done == before + 1


def test_a_car_at_rest_has_no_superheat_to_read():
    panel = BenchPanel(units="kpa_c", charge_percent=0)
    assert "compressor at rest" in panel.words.value
    assert "superheat" not in panel.words.value


def test_what_a_stored_notebook_keeps():
    bundle = show_bench(units="psi_f", charge_percent=60)._repr_mimebundle_()
    assert bundle["text/plain"].startswith("Invented sedan with R-134a at 60 % charge, 95 °F outside")
    assert "<figcaption>" in bundle["text/html"]
    assert 'role="img"' in bundle["text/html"]
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert bundle["text/plain"] == show_bench(units="psi_f", charge_percent=60)._repr_mimebundle_()["text/plain"]


def test_compare_can_be_switched_off():
    panel = BenchPanel(units="kpa_c", charge_percent=50)
    assert "--workbook-healthy" in panel.layers.moving.value
    panel.controls.compare.value = False
    assert "--workbook-healthy" not in panel.layers.moving.value


def test_every_number_has_a_named_box_beside_its_slider():
    for control in BenchPanel(units="kpa_c").controls.numbers.values():
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
    BenchPanel().controls.units.value = "bar_c"
    assert BenchPanel().units.key == "bar_c"
