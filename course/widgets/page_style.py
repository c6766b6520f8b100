"""The style sheet of the panels: places, sizes and colours; it reaches nothing outside a panel."""

from course.charts.style import theme_css

# px of a panel's own width, which side bars and sheets of paper change as much as screens do
THREE_COLUMNS, TWO_COLUMNS = 1000, 680

STYLE = f"""<style>
{theme_css()}
.workbook {{ font-size: 13px; line-height: 1.35; color: var(--workbook-ink); }}
.workbook-bench {{ container-type: inline-size; width: 100%; }}
.workbook-bench, .workbook-bench .widget-box {{ overflow: visible; }}
.workbook-panel {{ display: grid; gap: 8px 18px; grid-template-columns: 384px minmax(0, 1fr); align-items: start; }}
.workbook-group {{ border-bottom: 1px solid var(--jp-border-color2, {"#c3c9d1"}); padding-bottom: 1px; margin-bottom: 1px; }}
.workbook-group:last-child {{ border-bottom: 0; }}
.workbook-stack {{ display: grid; width: 100%; }}
.workbook-stack > * {{ grid-area: 1 / 1; margin: 0; min-width: 0; }}
.workbook-stack svg {{ width: 100%; height: auto; display: block; overflow: visible; }}
.workbook-pictures {{ display: grid; gap: 4px 18px; grid-template-columns: minmax(0, 1fr) minmax(0, 1.15fr); }}
.workbook-column {{ display: flex; flex-direction: column; gap: 4px; min-width: 0; }}
.workbook-readings {{ display: grid; grid-template-columns: repeat(auto-fill, minmax(118px, 1fr)); gap: 2px 10px; }}
.workbook-cell {{ display: flex; flex-direction: column; border-bottom: 1px solid var(--workbook-grid); }}
.workbook-cell span {{ color: var(--workbook-faint); font-size: 12px; }}
.workbook-cell b {{ font-size: 14px; }}
.workbook-notes {{ min-height: 108px; margin: 0; padding-left: 18px; }}
.workbook-single {{ max-width: 620px; }}
.workbook-bottle {{ display: grid; grid-template-columns: minmax(0, 1fr) minmax(0, 3.4fr); gap: 4px 18px; max-width: 680px; }}
.workbook-cylinder {{ grid-template-columns: 160px minmax(0, 1fr); }}
.workbook-answer {{ font-size: 16px; font-weight: bold; min-height: 110px; margin: 8px 0 0 0; }}
figure.workbook-bench .workbook-notes {{ min-height: 0; }}
figure.workbook-bench .workbook-stack {{ max-width: 820px; }}
.workbook-hunt {{ display: grid; gap: 4px 18px; grid-template-columns: minmax(0, 350px) minmax(0, 1fr); align-items: start; }}
.workbook-hunt-words {{ min-height: 150px; }}
.workbook-hunt-words p {{ margin: 4px 0; }}
.workbook-hunt-log {{ max-height: 470px; overflow-y: auto; margin: 4px 0; padding-left: 30px; }}
.workbook-twins {{ display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 290px), 1fr)); gap: 4px 18px; }}
.workbook-twins p {{ margin: 4px 0; }}
.workbook-form {{ border-collapse: collapse; width: 100%; font-size: 13px; color: var(--workbook-ink); }}
.workbook-form caption {{ text-align: left; padding: 2px 0 6px; color: var(--workbook-ink); white-space: normal; }}
.workbook-form :is(th, td) {{ border: 1px solid var(--workbook-grid); padding: 4px 8px; text-align: left; vertical-align: top; }}
.workbook-sheet {{ max-height: 520px; overflow: auto; }}
.workbook-link {{ display: inline-block; padding: 12px 0; font-size: 14px; }}
.workbook-words {{ color: var(--workbook-faint); font-size: 12px; min-height: 66px; margin: 0; }}
.workbook-words.workbook-error {{ color: var(--workbook-warning); font-size: 13px; font-weight: bold; }}
.workbook-choice .widget-radio-box {{ height: auto; gap: 4px; }}
.workbook-choice label {{ display: flex; flex-direction: row-reverse; justify-content: flex-end; align-items: center; }}
.workbook-choice label {{ gap: 6px; height: auto; line-height: 1.35; white-space: normal; }}
.workbook-choice input {{ flex: none; margin: 0; }}
.workbook-bench .noUi-handle:focus-visible {{ outline: 3px solid var(--jp-brand-color1, #1976d2); outline-offset: 2px; }}
@container (max-width: {THREE_COLUMNS}px) {{
  .workbook-panel {{ grid-template-columns: minmax(0, 1fr); }}
}}
@container (min-width: {TWO_COLUMNS + 1}px) and (max-width: {THREE_COLUMNS}px) {{
  .workbook-controls {{ display: grid; grid-template-columns: repeat(2, minmax(0, 1fr)); gap: 0 18px; }}
}}
@container (max-width: {TWO_COLUMNS}px) {{
  .workbook-pictures {{ display: flex; flex-direction: column; }}
  .workbook-column {{ display: contents; }}
  .workbook-bottle {{ grid-template-columns: minmax(0, 1fr); }}
  .workbook-bottle > :first-child {{ width: 90px; margin: 0 auto; }}
  .workbook-cylinder > :first-child {{ width: 150px; }}
  .workbook-hunt {{ grid-template-columns: minmax(0, 1fr); }}
  .workbook-hunt-log {{ max-height: 220px; }}
  .workbook-readings {{ order: 1; }}
  .workbook-notes {{ order: 2; }}
  .workbook-number, .workbook-last {{ flex-flow: row wrap; }}
  .workbook-panel .widget-dropdown, .workbook-panel .widget-text, .workbook-panel .widget-button {{ height: auto; }}
  .workbook-panel input:is([type="number"], [type="text"]), .workbook-panel select,
  .workbook-panel button, .workbook-panel .widget-checkbox {{ min-height: 44px; }}
  .workbook-panel .widget-text .widget-label {{ width: 146px !important; }}
  .workbook-panel .widget-dropdown .widget-label {{ width: 56px !important; }}
  .workbook-service .widget-dropdown .widget-label, .workbook-history .widget-dropdown .widget-label,
  .workbook-job .widget-text .widget-label {{ width: 96px !important; }}
  .workbook-service .workbook-hunt-words {{ min-height: 100px; }}
  /* many controls scroll in a window of their own, so that what they move stays in sight below it */
  .workbook-controls {{ max-height: 300px; overflow-y: auto !important; border-bottom: 2px solid var(--jp-border-color1, #9e9e9e); }}
  .workbook-panel .noUi-handle::after {{ content: ""; position: absolute; inset: -14px; width: auto; height: auto; background: none; }}
}}
/* a phone draws the pictures smaller than the width they were made for, so their words are made larger */
@container (max-width: 330px) {{ .workbook-stack text {{ font-size: 16.4px !important; }} }}
@media (max-width: 760px) {{
  .jp-OutputPrompt, .jp-InputPrompt {{ display: none; }}
  .workbook-choice label, .workbook-choice + .widget-button {{ min-height: 44px; }}
}}
</style>"""
