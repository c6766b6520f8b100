"""The words of the leak panels: what a record amounts to, the published figures beside it, and their style sheet."""

from html import escape

from course.charts.style import GRID
from course.charts.words import rounded
from course.service.leak_rate import SURE
from course.units import DAYS_PER_YEAR, oz_per_year_from_g_per_year

KIND_NAMES = {"charged": "charged", "topped_off": "topped off", "recovered": "weighed out"}
SORT_NAMES = {"ceiling": "ceiling", "threshold": "threshold", "typical": "typical"}
RECORD_HINT = "Charged: into an evacuated circuit. Amounts in g or oz of refrigerant."
DAYS_A_MONTH = DAYS_PER_YEAR / 12.0
LONG_YEARS = 10.0  # from there on tenths of a year would be noise

LEAK_STYLE = f"""<style>
.workbook-record {{ display: grid; grid-template-columns: 18px 128px minmax(0, 1fr) 86px; gap: 0 4px; align-items: center; }}
.workbook-record {{ border-bottom: 1px solid var(--jp-border-color2, {GRID[0]}); padding-bottom: 3px; margin-bottom: 3px; }}
.workbook-record > * {{ margin: 2px 0 !important; width: auto !important; min-width: 0; }}
.workbook-record > * {{ position: relative; }}
.workbook-bench .workbook-panel .workbook-record .widget-label {{ position: absolute; left: 0; width: 1px !important; height: 1px; }}
.workbook-bench .workbook-panel .workbook-record .widget-label {{ clip-path: inset(50%); margin: 0; overflow: hidden; }}
.workbook-record input[type="date"], .workbook-record input[type="text"], .workbook-record select {{ width: 100%; min-width: 0; }}
.workbook-record .widget-checkbox {{ grid-column: 2 / -1; }}
.workbook-bench .workbook-panel .workbook-record .widget-checkbox label.widget-label-basic {{ position: static; font-size: 12px; }}
.workbook-record .workbook-wrong {{ grid-column: 1 / -1; height: auto; }}
.workbook-record .workbook-wrong .widget-html-content {{ line-height: 1.35; }}
.workbook-record .widget-checkbox {{ height: auto; }}
.workbook-wrong p {{ color: var(--workbook-warning); font-size: 13px; font-weight: bold; margin: 0; line-height: 1.35; }}
.workbook-leak {{ max-width: 760px; }}
.workbook-leak p {{ margin: 4px 0; font-size: 14px; }}
.workbook-leak .workbook-said {{ font-size: 16px; font-weight: bold; }}
.workbook-leak .workbook-stack {{ max-width: 520px; }}
.workbook-leak table {{ border-collapse: collapse; width: 100%; font-size: 13px; margin: 8px 0 0 0; }}
.workbook-leak caption {{ text-align: left; padding: 6px 0; color: var(--workbook-ink); font-size: 13px; }}
.workbook-leak th, .workbook-leak td {{ text-align: left; vertical-align: top; padding: 5px 6px; white-space: normal; }}
.workbook-leak th, .workbook-leak td {{ color: var(--workbook-ink); background: none; }}
.workbook-leak tbody th {{ font-weight: normal; }}
.workbook-leak tbody tr {{ border-top: 1px solid var(--workbook-grid, {GRID[0]}); background: none; }}
.workbook-leak small {{ display: block; font-size: 12px; color: var(--workbook-faint); }}
@container (max-width: 520px) {{
  .workbook-record {{ grid-template-columns: 18px minmax(0, 1.5fr) minmax(0, 1fr); }}
  .workbook-record > :nth-child(3) {{ grid-column: 2 / -1; grid-row: 2; }}
  .workbook-record > :nth-child(4) {{ grid-column: 3; grid-row: 1; }}
  .workbook-leak thead {{ display: none; }}
  .workbook-leak :is(tr, th) {{ display: block; padding: 3px 0; }}
  .workbook-leak td {{ display: inline-block; padding: 0 10px 3px 0; }}
}}
</style>"""


def rate_words(g_per_year):
    """A leak in grams a year, with ounces a year beside it."""
    return f"{g_per_year:,.0f} g/yr ({rounded(oz_per_year_from_g_per_year(g_per_year), 1)} oz/yr)"


def span_words(days):
    """A time in the unit somebody would say it in."""
    if days is None:
        return "longer than a car lasts"
    if days < 2.0 * DAYS_A_MONTH:
        return f"{days:.0f} days"
    if days < 2.0 * DAYS_PER_YEAR:
        return f"{days / DAYS_A_MONTH:.0f} months"
    years = days / DAYS_PER_YEAR
    return f"{years:.1f} years" if years < LONG_YEARS else f"{years:.0f} years"


def _co2_words(kilograms):
    return f"{kilograms:,.0f} kg" if kilograms >= 10.0 else f"{rounded(kilograms, 1)} kg"


def findings_sentences(found, refrigerant_name):
    """What a record amounts to, sentence by sentence, the verdict first."""
    leak, verdict = found.leak, found.verdict
    least, middle, most = (span_words(days) for days in found.days_a_filling_lasts)
    said = [f"{verdict.word.capitalize()}: {verdict.sentence}"]
    if verdict.days_to_decide is not None:
        said.append(
            f"Some {span_words(verdict.days_to_decide)} of record, weighed alike, would decide it if the loss stays so."
        )
    said.append(
        f"It lost {rounded(leak.lost_g)} g in {rounded(leak.days)} days: {rate_words(leak.g_per_year)}, with a standard "
        f"deviation of {rounded(leak.error_g_per_year)} g/yr; the verdict takes {SURE:.0f} of them either way."
    )
    said.append(
        f"This car may lose {rounded(found.reserve_g)} g of its {rounded(found.critical.label_g)} g, at 35 °C (95 °F) outside. "
        f"{found.critical.sentence} So a full charge lasts {middle} (from {least} to {most})."
    )
    said.append(
        f"A year of it in the air warms as {_co2_words(found.co2_kg_per_year)} of CO2 ({refrigerant_name}, IPCC AR4); "
        f"one whole charge let out, as {_co2_words(found.co2_charge_kg)}."
    )
    return [*said, *leak.sentences]


def comparisons_html(comparisons):
    """Published figures with this car's loss above or below each."""
    rows = "".join(
        f'<tr><th scope="row">{escape(one.name)}<small>{escape(one.source)}</small></th>'
        f"<td>{SORT_NAMES[one.sort]}</td><td>{rounded(one.g_per_year, 1)} g/yr</td><td><b>{one.word}</b></td></tr>"
        for one in comparisons
    )
    heads = "".join(
        f'<th scope="col">{head}</th>' for head in ("Published for a whole car", "Sort", "Loss", "This car is")
    )
    return (
        "<table><caption>All of them are for new or young cars: no limit for a used car was found. An average is no limit."
        f"</caption><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"
    )
