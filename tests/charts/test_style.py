"""Colours that can be read, files that can be stored, and SVG that leaves its page alone."""

import pytest

from course.charts.style import COLOURS, new_figure, save_figure, svg_of, theme_css
from course.errors import WorkbookError
from tests.charts.svg_reading import parsed


def luminance(colour):
    """Relative luminance of WCAG 2.2."""
    parts = [int(colour[place : place + 2], 16) / 255.0 for place in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    """Contrast ratio of WCAG 2.2."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_the_contrast_formula_knows_its_own_ends():
    assert contrast("#ffffff", "#000000") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") < 4.5 < contrast("#767676", "#ffffff")  # the well-known border case


@pytest.mark.parametrize("name", [name for name in COLOURS if name != "paper"])
def test_every_colour_stands_out_from_its_ground(name):
    for colour, ground in zip(COLOURS[name], COLOURS["paper"], strict=True):
        assert contrast(colour, ground) >= 4.5


def test_both_themes_set_every_colour():
    light, dark = theme_css().split("body[")
    for name, (on_paper, on_screen) in COLOURS.items():
        assert f"--workbook-{name}:{on_paper};" in light
        assert f"--workbook-{name}:{on_screen};" in dark


def test_an_svg_says_what_it_shows_whatever_the_words():
    root = parsed(svg_of(new_figure(), 'a "quoted" <label> & more'))
    assert root.get("aria-label") == 'a "quoted" <label> & more'
    assert root.get("role") == "img"


def test_an_svg_brings_no_style_sheet_into_the_page():
    figure = new_figure()
    figure.add_subplot().plot([0, 1], [0, 1])
    svg = svg_of(figure, "a line")
    assert "<style" not in svg
    assert "stroke-linejoin:round" in svg.split(">")[0]


def test_stored_files_are_what_their_ending_says_and_the_same_each_time(tmp_path):
    figure = new_figure()
    figure.add_subplot().plot([0, 1], [0, 1])
    stored = [save_figure(figure, tmp_path / f"{name}.svg").read_bytes() for name in ("one", "two")]
    assert stored[0] == stored[1]
    assert parsed(stored[0].decode()).tag.endswith("svg")
    assert save_figure(figure, tmp_path / "one.PNG").read_bytes().startswith(b"\x89PNG")


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("chart.pdf", "chart.pdf: charts are stored as .svg or .png; choose one of these endings."),
        ("chart", "chart: charts are stored as .svg or .png; choose one of these endings."),
        ("missing/chart.svg", "chart.svg: there is no folder missing to store it in; make the folder first."),
    ],
)
def test_what_cannot_be_stored_is_said_in_a_sentence(name, sentence, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with pytest.raises(WorkbookError) as refusal:
        save_figure(new_figure(), name)
    assert str(refusal.value) == sentence
    assert list(tmp_path.iterdir()) == []
