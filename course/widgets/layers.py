"""The pictures of the bench: a still layer drawn once and a moving layer over it, of one fixed height."""

import ipywidgets

from course.charts import circuit, gauges, pressure_enthalpy
from course.charts.style import theme_css

STYLE = f"""<style>
{theme_css()}
.workbook {{ font-size: 13px; line-height: 1.35; }}
.workbook-stack {{ display: grid; overflow: visible; }}
.workbook-stack > * {{ grid-area: 1 / 1; margin: 0; }}
.workbook-stack svg {{ width: 100%; height: auto; display: block; }}
.workbook-picture {{ min-width: 320px; }}
.workbook-picture .widget-html-content {{ line-height: 0; }}
.workbook-readings {{ display: grid; grid-template-columns: repeat(auto-fill, minmax(118px, 1fr)); gap: 2px 10px; }}
.workbook-cell {{ display: flex; flex-direction: column; border-bottom: 1px solid var(--workbook-grid); }}
.workbook-cell span {{ color: var(--workbook-faint); font-size: 12px; }}
.workbook-cell b {{ color: var(--workbook-ink); font-size: 14px; }}
.workbook-notes {{ color: var(--workbook-ink); min-height: 38px; margin: 4px 0 0 0; padding-left: 18px; }}
.workbook-error {{ color: var(--workbook-warning); font-weight: bold; min-height: 20px; margin: 0; }}
.workbook-sentence {{ color: var(--workbook-faint); font-size: 12px; margin: 0; }}
.workbook-panel {{ display: grid; gap: 6px 14px; grid-template-columns: minmax(320px, 400px) minmax(320px, 1fr) minmax(320px, 1.15fr); }}
@media (max-width: 1100px) {{ .workbook-panel {{ grid-template-columns: minmax(320px, 1fr) minmax(320px, 1fr); }} }}
@media (max-width: 760px) {{
  .workbook-panel {{ grid-template-columns: minmax(0, 1fr); }}
  .workbook-number {{ flex-flow: row wrap; }}
  .workbook-panel input[type="number"], .workbook-panel select, .workbook-panel button {{ min-height: 44px; }}
  .workbook-panel .widget-dropdown, .workbook-panel .widget-text, .workbook-panel .widget-button {{ height: auto; }}
  .workbook-panel .widget-dropdown .widget-label, .workbook-panel .widget-text .widget-label {{ width: 118px !important; }}
  .workbook-choice label {{ min-height: 44px; }}
  .workbook-picture {{ min-width: 0; }}
  .workbook-stack text {{ font-size: 16.4px !important; }}
  .jp-OutputPrompt, .jp-InputPrompt {{ display: none; }}
}}
</style>"""


class Layers:
    """Gauges, circuit and P-h chart as HTML widgets; show() changes only what moves."""

    def __init__(self):
        self.gauges_still, self.gauges_moving = ipywidgets.HTML(), ipywidgets.HTML()
        self.circuit_moving = ipywidgets.HTML()
        self.chart_still, self.chart_moving = ipywidgets.HTML(), ipywidgets.HTML()
        self._shown = None

    def show(self, run, healthy, units):
        """Bring every picture up to a run."""
        if self._shown != (run.system.refrigerant, units.key):
            self._shown = (run.system.refrigerant, units.key)
            self.gauges_still.value = _wrapped(gauges.gauge_faces_still_svg(units))
            self.chart_still.value = _wrapped(pressure_enthalpy.still_svg(run.system.refrigerant, units))
        self.gauges_moving.value = _wrapped(gauges.gauge_needles_svg(run, units))
        self.circuit_moving.value = _wrapped(circuit.circuit_svg(run, units))
        self.chart_moving.value = _wrapped(pressure_enthalpy.moving_svg(run, healthy, units))

    def stacks(self):
        """The three pictures as widgets: gauges, circuit, chart."""
        pictures = (
            [self.gauges_still, self.gauges_moving],
            [self.circuit_moving],
            [self.chart_still, self.chart_moving],
        )
        stacks = []
        for layers in pictures:
            stack = ipywidgets.Box(layers)
            stack.add_class("workbook-stack")
            stack.add_class("workbook-picture")
            stacks.append(stack)
        return stacks


def _wrapped(svg):
    return f'<div class="workbook">{svg}</div>'


def still_page(run, healthy, units, caption):
    """All pictures of a run as one captioned figure, for stored notebooks and printed pages."""
    parts = (
        _stacked(gauges.gauge_faces_still_svg(units), gauges.gauge_needles_svg(run, units)),
        _stacked(circuit.circuit_svg(run, units)),
        _stacked(
            pressure_enthalpy.still_svg(run.system.refrigerant, units),
            pressure_enthalpy.moving_svg(run, healthy, units),
        ),
    )
    return (
        f'{STYLE}<figure class="workbook" style="margin:0"><div style="display:flex;flex-wrap:wrap;gap:12px">'
        f"{''.join(parts)}</div><figcaption>{caption}</figcaption></figure>"
    )


def _stacked(*svgs):
    layers = "".join(f"<div>{svg}</div>" for svg in svgs)
    return f'<div class="workbook-stack" style="width:min(100%,340px)">{layers}</div>'
