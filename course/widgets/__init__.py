"""Panels for the notebooks; the only place of ipywidgets. Importing a panel function here keeps lesson cells to one line."""

from course.widgets.bench_panel import BenchPanel, show_bench
from course.widgets.bottle_panel import BottlePanel, show_bottle
from course.widgets.evidence_panel import DirectionPanel, PrintedReadingsPanel, show_directions, show_printed_readings
from course.widgets.hunt_panel import HuntPanel, show_hunt
from course.widgets.leak_rate_panel import LeakByStatePanel, LeakHistoryPanel, show_leak_by_state, show_leak_history
from course.widgets.predict import Predict, ask
from course.widgets.question_panel import QuestionSection, ask_questions
from course.widgets.separating_power_panel import SeparatingPowerPanel, show_separating_power
from course.widgets.walk_panel import WalkPanel, show_walk

__all__ = [
    "BenchPanel",
    "BottlePanel",
    "DirectionPanel",
    "HuntPanel",
    "LeakByStatePanel",
    "LeakHistoryPanel",
    "Predict",
    "PrintedReadingsPanel",
    "QuestionSection",
    "SeparatingPowerPanel",
    "WalkPanel",
    "ask",
    "ask_questions",
    "show_bench",
    "show_bottle",
    "show_directions",
    "show_hunt",
    "show_leak_by_state",
    "show_leak_history",
    "show_printed_readings",
    "show_separating_power",
    "show_walk",
]
