"""The hunt on paper: black and white, the same number the same paper, and a key that follows from the sheet."""

import re
from html.parser import HTMLParser

import pytest

from course.charts.hunt_sheet import MADE, hunt_key, hunt_sheet, save_hunt_papers
from course.charts.style import COLOURS
from course.errors import OutOfRange, WorkbookError
from course.service.belief import place_chances
from course.service.hunt import begin_hunt, take_look
from course.service.hunt_verdict import place_name
from course.tables import read_leak_places

NUMBERS = (1, 7, 24)


class Balanced(HTMLParser):
    """Notes tags that are closed in the wrong order or never."""

    def __init__(self):
        super().__init__()
        self.open, self.wrong = [], []

    def handle_starttag(self, tag, attributes):
        if tag not in ("meta", "circle", "polyline", "polygon"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        if tag not in ("circle", "polyline", "polygon") and (not self.open or self.open.pop() != tag):
            self.wrong.append(tag)


@pytest.mark.parametrize("number", NUMBERS)
@pytest.mark.parametrize("page", [hunt_sheet, hunt_key])
def test_a_page_is_whole_and_in_black_and_white(number, page):
    text, reader = page(number), Balanced()
    reader.feed(text)
    assert (reader.open, reader.wrong) == ([], [])
    for name in set(COLOURS) - {"paper", "faint"}:
        assert f"--workbook-{name}:#000;" in text
    outside_fallbacks = re.sub(r"var\(--workbook-\w+, #\w+\)", "", text)
    assert set(re.findall(r"#[0-9a-f]{3,6}\b", outside_fallbacks)) == {"#000", "#666", "#fff"}
    assert "@page" in text


@pytest.mark.parametrize("number", NUMBERS)
def test_the_sheet_names_every_place_and_look_and_keeps_the_secret(number):
    sheet, hunt = hunt_sheet(number), begin_hunt(number, residue_g_per_year=0.0)
    (leak,) = hunt.car.leaks
    for entry in read_leak_places().values():
        assert f"<li>{entry.name}</li>" in sheet
    for step in MADE:
        hunt = take_look(hunt, step)
    seen = re.findall(r"<td>(a signal|nothing)</td>", sheet)
    assert [one == "a signal" for one in seen] == [look.signal for look in hunt.log]
    assert "It leaks at" not in sheet and f"{leak.rate_g_per_year:.0f} g a year" not in sheet
    assert f"It leaks at {place_name(leak.place)}: {leak.rate_g_per_year:.0f} g a year" in hunt_key(number)


@pytest.mark.parametrize("number", NUMBERS)
def test_the_key_works_out_what_the_sheet_asks(number):
    asked = re.search(r"place 14 had ([\d.]+) % of the chance. Such a look shows (\d+) of 100", hunt_sheet(number))
    chance, share = float(asked[1]) / 100.0, float(asked[2]) / 100.0
    left = float(re.search(r"= ([\d.]+) %. A negative look", hunt_key(number))[1]) / 100.0
    # by counting a thousand cars: those with the leak there that the look misses, of all cars where it shows nothing
    cars = 1000.0
    there = cars * chance
    assert left == pytest.approx(there * (1.0 - share) / (cars - there * share), abs=0.001)


def test_the_key_draws_what_is_left_after_the_looks():
    hunt = begin_hunt(7, residue_g_per_year=0.0)
    for step in MADE:
        hunt = take_look(hunt, step)
    chances = place_chances(hunt.belief)
    key = hunt_key(7)
    assert f"somewhere else {100 * chances['elsewhere']:.0f}%" in key
    assert "&lt;1%" in key, "the condenser front was looked at by the book and showed nothing"
    assert "look 6 0 %" in key, "no bubble is ever seen in the case"


def test_papers_are_stored_apart_and_the_same_each_time(tmp_path):
    sheet, key = save_hunt_papers(7, tmp_path)
    assert (sheet.name, key.name) == ("leak_hunt_7.html", "leak_hunt_7_key.html")
    before = sheet.read_bytes(), key.read_bytes()
    save_hunt_papers(7, tmp_path)
    assert (sheet.read_bytes(), key.read_bytes()) == before
    assert hunt_sheet(7) != hunt_sheet(8)


def test_what_cannot_be_is_said(tmp_path):
    with pytest.raises(OutOfRange, match="number of the hunt: -3"):
        hunt_sheet(-3)
    with pytest.raises(WorkbookError, match="there is no such folder to store the papers in; make it first"):
        save_hunt_papers(7, tmp_path / "nowhere")
