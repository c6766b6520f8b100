"""The exported folder: every lesson whole in one file, questions without answers, keys with all of them, nothing half written."""

import re
import subprocess
from html import unescape
from html.parser import HTMLParser

import pytest

from course.commands import dispatch, environment, export
from course.lessons.lesson import open_lesson
from course.lessons.on_paper import key_of
from course.paper.page_shell import LOADED
from course.tables import lesson_ids
from course.units import display_units

UNITS = display_units("kpa_c")
FOR_INSTRUCTORS = ("90_for_instructors",)  # shows a question file with its answers, to be copied from
LARGEST_PAGE_BYTES = 3_000_000
# what else a browser may ask the network for; LOADED is what the pages themselves are refused by
FETCHING = ("<script", "<link", "@import", "<iframe", '<img src="http', "url(http", "javascript:")


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """Everything exported once, into a folder that has to be made."""
    place = tmp_path_factory.mktemp("export") / "for the class"
    assert export.main(["--to", str(place), "--units", UNITS.key]) == 0
    return place


@pytest.fixture(scope="module")
def pages(folder):
    """Text of every page by its name."""
    return {path.stem: path.read_text(encoding="utf-8") for path in folder.glob("*.html")}


def words_of(html):
    """What a reader sees: text without tags, as one line."""
    plain = re.sub(r"<style\b.*?</style>", " ", html, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", plain)).split())


def one_line(text):
    return " ".join(text.split())


class Pictures(HTMLParser):
    """Pictures that say neither what they show nor that they need not be said."""

    def __init__(self, html):
        super().__init__()
        self.silent, self.seen = [], 0
        self.feed(html)

    def handle_starttag(self, tag, attributes):
        said = dict(attributes)
        if tag in ("svg", "img"):
            self.seen += 1
            if not (said.get("aria-label") or said.get("alt") or said.get("aria-hidden") == "true"):
                self.silent.append(self.get_starttag_text()[:200])


def test_each_lesson_has_its_four_pages_and_nothing_else_is_left(folder, pages):
    for lesson in lesson_ids():
        for ending in export.ENDINGS:
            assert lesson + ending in pages
    assert {"80_quick_reference", "81_how_far_to_trust_it", "index"} <= set(pages)
    assert "free_bench" not in pages
    assert [path.name for path in folder.iterdir() if path.suffix != ".html"] == []


def test_no_page_asks_for_anything_outside_itself(pages):
    assert [name for name, html in pages.items() if LOADED.search(html)] == []
    assert [(name, word) for name, html in pages.items() for word in FETCHING if word in html.lower()] == []
    assert [name for name, html in pages.items() if re.search(r'<(?!a\b)[^>]*(?:href|src)="(?!#|data:)', html)] == []


def test_links_lead_to_pages_that_are_there(folder, pages):
    found = {(name, target) for name, html in pages.items() for target in re.findall(r'<a href="([^"#]+)', html)}
    assert ("00_start_here", "01_pressure_tells_temperature.html") in found
    assert [(name, target) for name, target in found if not (folder / target).is_file()] == []


def test_no_page_leads_a_learner_to_a_key(pages):
    assert [name for name, html in pages.items() if "_key.html" in html] == ["index"]


def test_buttons_stay_in_the_workbook(pages):
    assert [name for name, html in pages.items() if "<button" in html or "Start this lesson" in html] == []


def test_every_picture_says_what_it_shows(pages):
    read = {name: Pictures(html) for name, html in pages.items()}
    assert {name: one.silent for name, one in read.items() if one.silent} == {}
    assert read["00_start_here"].seen > 4


def test_pages_are_small_enough_for_a_phone(folder):
    sizes = {path.name: path.stat().st_size for path in folder.iterdir()}
    assert max(sizes.values()) < LARGEST_PAGE_BYTES, sizes


@pytest.mark.parametrize("lesson_id", lesson_ids())
def test_every_question_is_asked_and_none_answered(pages, lesson_id):
    asked, told = words_of(pages[lesson_id]), words_of(pages[f"{lesson_id}_key"])
    sheet = words_of(pages[f"{lesson_id}_worksheet_a4"])
    lesson = open_lesson(lesson_id)
    for question in [*lesson.questions.values(), *lesson.recall]:
        key = key_of(question, UNITS)
        assert one_line(key.ask) in asked
        assert one_line(key.ask) in told
        assert one_line(key.answer) in told
        for part in key.parts:
            assert one_line(part.why) in told
            assert one_line(part.why) not in asked or lesson_id in FOR_INSTRUCTORS
            assert one_line(part.why) not in sheet
        if question.table.section in ("predict", "check") and question.id.startswith(f"{lesson_id}/"):
            assert one_line(key.ask) in sheet
    assert "✓" in told
    assert "✓" not in sheet
    assert "✗" not in sheet
    assert not {"✓", "✗"} & set(asked) or lesson_id in FOR_INSTRUCTORS


def test_questions_have_the_same_number_on_page_sheet_and_key(pages):
    for lesson in lesson_ids():
        numbered = [
            dict(re.findall(r"<p><b>(\d+)\.</b> (.*?)</p>", pages[lesson + ending]))
            for ending in ("", "_key", "_worksheet_a4")
        ]
        page, key, sheet = numbered
        assert page == key
        assert sheet.items() <= page.items()
        assert list(page) == [str(number) for number in range(1, len(page) + 1)]


def test_sheets_know_their_paper(pages):
    for lesson in lesson_ids():
        assert "size: A4" in pages[f"{lesson}_worksheet_a4"]
        assert "size: letter" in pages[f"{lesson}_worksheet_letter"]


def test_the_units_are_those_asked_for(pages):
    assert re.search(r"A healthy sedan shows \d+ kPa gauge", words_of(pages["00_start_here"]))
    assert "°F" not in words_of(pages["00_start_here_key"])


def test_one_lesson_alone_links_only_to_what_is_there(tmp_path, capsys):
    assert export.main(["--to", str(tmp_path), "--units", "psi_f", "1"]) == 0
    assert {path.name for path in tmp_path.iterdir()} == {
        "index.html",
        *(f"01_pressure_tells_temperature{ending}.html" for ending in export.ENDINGS),
    }
    page = (tmp_path / "01_pressure_tells_temperature.html").read_text(encoding="utf-8")
    assert re.findall(r'<a href="([^"]+)', page) == []
    assert capsys.readouterr().out.startswith("01_pressure_tells_temperature: 4 pages\nOpen ")


def test_the_list_keeps_lessons_of_an_earlier_export(tmp_path):
    (tmp_path / "06_charge.html").write_text("earlier", encoding="utf-8")
    assert export.main(["--to", str(tmp_path), "80"]) == 0
    listed = (tmp_path / "index.html").read_text(encoding="utf-8")
    assert '<a href="06_charge.html">' in listed
    assert '<a href="80_quick_reference.html">' in listed
    assert (tmp_path / "06_charge.html").read_text(encoding="utf-8") == "earlier"


def test_the_units_last_chosen_are_taken_when_none_are_given(tmp_path, monkeypatch):
    monkeypatch.setenv("WORKBOOK_PREFERENCES", str(tmp_path / "p.json"))
    (tmp_path / "p.json").write_text('{"units": "bar_c"}', encoding="utf-8")
    assert export.main(["--to", str(tmp_path / "out"), "00"]) == 0
    assert "bar and °C" in (tmp_path / "out" / "00_start_here_key.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ["06", "6", "06_charge", "notebooks/06_charge.ipynb"])
def test_a_lesson_has_several_names(name):
    assert export.chosen([name], export.numbered_notebooks()) == ["06_charge"]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["66"], "lesson: 66 was given; allowed are 00_start_here, 01_"),
        (["charge"], "lesson: charge was given"),
        (["00", "--units", "furlongs"], "'furlongs'"),
    ],
)
def test_a_wrong_word_is_answered_by_a_sentence_and_writes_nothing(tmp_path, capsys, arguments, said):
    assert export.main(["--to", str(tmp_path / "out"), *arguments]) == 1
    told = capsys.readouterr().err
    assert said in told
    assert told.count("\n") == 1
    assert not (tmp_path / "out").exists()


def test_a_folder_that_cannot_be_written_is_said(tmp_path, capsys):
    (tmp_path / "file").write_text("a file", encoding="utf-8")
    for place in (tmp_path / "file", tmp_path / "file" / "inside"):
        assert export.main(["--to", str(place), "80"]) == 1
        told = capsys.readouterr().err
        assert told.startswith(f"{place}: nothing more can be written there (")
        assert told.endswith("give another folder with --to.\n")


@pytest.mark.parametrize("trouble", [OSError(28, "No space left on device"), KeyboardInterrupt()])
def test_a_page_is_whole_or_not_there(tmp_path, monkeypatch, trouble):
    page = tmp_path / "06_charge.html"
    page.write_text("earlier", encoding="utf-8")

    def failing(rough, whole):
        raise trouble

    monkeypatch.setattr(export.os, "replace", failing)
    with pytest.raises(type(trouble)):
        export.write_whole(page, "later")
    assert page.read_text(encoding="utf-8") == "earlier"
    assert list(tmp_path.iterdir()) == [page]


def test_a_full_disk_is_a_sentence_and_a_failure(tmp_path, monkeypatch, capsys):
    def full(path, text):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(export, "write_whole", full)
    assert export.main(["--to", str(tmp_path), "80"]) == 1
    assert "(No space left on device); make room" in capsys.readouterr().err


def test_a_notebook_that_is_none_is_said_and_the_others_are_written(tmp_path, monkeypatch, capsys):
    books = tmp_path / "notebooks"
    books.mkdir()
    (books / "06_charge.ipynb").write_text("no notebook", encoding="utf-8")
    whole = export.NOTEBOOKS / "80_quick_reference.ipynb"
    (books / whole.name).write_bytes(whole.read_bytes())
    monkeypatch.setattr(export, "NOTEBOOKS", books)
    assert export.main(["--to", str(tmp_path / "out")]) == 1
    said = capsys.readouterr().out
    assert "06_charge: no page was written: its notebook cannot be read as one; fetch it anew" in said
    assert "80_quick_reference: 1 page\n" in said


def test_a_question_that_cannot_be_used_is_said_and_the_page_is_there(tmp_path, monkeypatch, capsys):
    books = tmp_path / "notebooks"
    books.mkdir()
    source = (export.NOTEBOOKS / "01_pressure_tells_temperature.ipynb").read_text(encoding="utf-8")
    (books / "01_pressure_tells_temperature.ipynb").write_text(
        source.replace("bottle_hotter", "no_such"), encoding="utf-8"
    )
    monkeypatch.setattr(export, "NOTEBOOKS", books)
    assert export.main(["--to", str(tmp_path / "out")]) == 1
    assert "01_pressure_tells_temperature: a sentence stands in place of a question:" in capsys.readouterr().out
    assert (tmp_path / "out" / "01_pressure_tells_temperature.html").exists()


def test_the_command_runs_inside_the_environment_and_passes_its_failure_on(monkeypatch, tmp_path):
    asked = []

    def worked(command, **settings):
        asked.append(command)
        return subprocess.CompletedProcess(command, 3)

    monkeypatch.setattr(environment, "ensure", lambda checkout: "its python")
    monkeypatch.setattr(dispatch.subprocess, "run", worked)
    monkeypatch.chdir(tmp_path)
    assert dispatch.run(["export", "06", "--to", "sets", "--units", "kpa_c"]) == 3
    assert dispatch.run(["export"]) == 3
    module = ["its python", "-m", "course.commands.export"]
    assert asked == [
        [*module, f"--to={tmp_path / 'sets'}", "--units=kpa_c", "--", "06"],
        [*module, f"--to={tmp_path / 'printed'}", "--"],
    ]
