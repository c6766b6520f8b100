"""What the kernel of the workbook does while its page is read."""

import json

import ipywidgets

from course.commands.server import SETTINGS


def widgets_alive():
    return list(ipywidgets.Widget.get_manager_state()["state"])


def test_the_kernels_first_line_runs_and_leaves_no_panel_that_no_page_asked_for():
    said = json.loads((SETTINGS / "kernels" / "python3" / "kernel.json").read_text(encoding="utf-8"))["argv"][-1]
    option, line = said.split("=", 1)
    assert option == "--IPKernelApp.exec_lines"
    before = widgets_alive()
    names = {}
    exec(line, names)
    assert widgets_alive() == before
    assert names["warm_up"].__module__ == "course.widgets.warm_up"
