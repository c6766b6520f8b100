"""Panels for the notebooks; the only place of ipywidgets. Importing a panel function here keeps lesson cells to one line."""

from course.widgets.bench_panel import BenchPanel, show_bench
from course.widgets.bottle_panel import BottlePanel, show_bottle
from course.widgets.predict import Predict, ask

__all__ = ["BenchPanel", "BottlePanel", "Predict", "ask", "show_bench", "show_bottle"]
