"""Panels for the notebooks; the only place of ipywidgets. Importing a panel function here keeps lesson cells to one line."""

from course.widgets.bench_panel import BenchPanel, show_bench
from course.widgets.bottle_panel import BottlePanel, show_bottle
from course.widgets.predict import Predict, ask
from course.widgets.walk_panel import WalkPanel, show_walk

__all__ = ["BenchPanel", "BottlePanel", "Predict", "WalkPanel", "ask", "show_bench", "show_bottle", "show_walk"]
