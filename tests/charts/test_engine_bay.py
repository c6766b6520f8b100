"""The engine bay: every place marked once with its number and chance, told apart without colour, readable on a phone."""

import pytest

from course.charts.engine_bay import (
    HEIGHT,
    MARKS,
    RADIUS,
    describe_engine_bay,
    draw_engine_bay,
    engine_bay_svg,
    percent,
    place_numbers,
)
from course.charts.style import COLOURS, TEXT, WIDTH, new_figure
from course.errors import UnknownChoice, WorkbookError
from course.service.belief import first_belief, place_chances, possible_leaks
from course.tables import read_leak_places
from tests.charts.svg_reading import SPACE, box, overlapping, parsed, texts, words

NARROW_TEXT = 16.4  # px in the picture's own measure: what a phone prints so that it stays 12 px on the glass


@pytest.fixture
def chances():
    return place_chances(first_belief(possible_leaks(), 0.2))


def discs(picture):
    """Every circle as (x, y, radius, rim, fill)."""
    return [
        (*(float(one.get(key)) for key in ("cx", "cy", "r", "stroke-width")), one.get("fill"))
        for one in parsed(picture).iter(SPACE + "circle")
    ]


def test_every_place_has_its_own_mark_with_number_and_chance(chances):
    assert set(MARKS) == set(read_leak_places())
    shown = words(engine_bay_svg(chances))
    for place, number in place_numbers().items():
        assert shown.count(str(number)) == 1
        at = shown.index(str(number))
        assert shown[at + 1] == percent(chances[place])
    assert f"somewhere else {percent(chances['elsewhere'])}" in shown


def test_marks_keep_clear_of_one_another():
    places = list(MARKS.values())
    for number, (x, y) in enumerate(places):
        assert RADIUS <= x <= WIDTH - RADIUS and RADIUS <= y <= HEIGHT - 30.0
        assert all((x - a) ** 2 + (y - b) ** 2 > (2.0 * RADIUS + 8.0) ** 2 for a, b in places[number + 1 :])


@pytest.mark.parametrize("size", [TEXT, NARROW_TEXT], ids=["wide", "narrow"])
@pytest.mark.parametrize("share", [0.0, 0.004, 0.03, 0.11, 0.99])
def test_words_are_large_enough_inside_and_apart(chances, size, share):
    picture = engine_bay_svg(dict.fromkeys(chances, share), "shaft_seal")
    assert overlapping([picture], size) == []
    for element in texts(picture):
        assert float(element.get("font-size")) >= 12.0
        left, top, right, bottom = box(element, size)
        assert left >= 0.0 and top >= 0.0 and right <= WIDTH and bottom <= HEIGHT, element.text


def test_chances_are_told_apart_by_rim_and_fill_as_well_as_by_number(chances):
    looks = set()
    for share in (0.01, 0.03, 0.1, 0.5):
        x, y = MARKS["shaft_seal"]
        (mark,) = [one for one in discs(engine_bay_svg(chances | {"shaft_seal": share})) if one[:2] == (x, y)]
        looks.add(mark[3:])
    assert len(looks) == 4


def test_the_chosen_place_alone_is_ringed(chances):
    plain, ringed = discs(engine_bay_svg(chances)), discs(engine_bay_svg(chances, "evaporator_core"))
    (more,) = [one for one in ringed if one not in plain]
    assert more[:2] == MARKS["evaporator_core"]
    assert more[2] > RADIUS


def test_the_sentence_names_the_five_most_likely_and_the_rest(chances):
    said = describe_engine_bay(chances | {"evaporator_core": 0.4})
    assert said.startswith("Where the leak can still be: 23 Evaporator core 40%, 14 Compressor shaft seal")
    assert said.endswith(f"somewhere else {percent(chances['elsewhere'])}.")
    assert said.count("%") == 6
    assert parsed(engine_bay_svg(chances)).get("aria-label") == describe_engine_bay(chances)
    assert parsed(engine_bay_svg(chances)).get("role") == "img"


def test_screen_and_paper_show_the_same_words(chances):
    artists = draw_engine_bay(new_figure(WIDTH, HEIGHT).add_subplot(), chances, "shaft_seal")
    on_paper = [artist.get_text() for artist in artists if hasattr(artist, "get_text")]
    assert on_paper == [word or "" for word in words(engine_bay_svg(chances, "shaft_seal"))]


def test_every_colour_follows_the_theme(chances):
    picture = engine_bay_svg(chances, "shaft_seal")
    for light, _ in COLOURS.values():
        assert picture.count(light) == picture.count(f", {light})")


@pytest.mark.parametrize(
    ("share", "shown"), [(0.0, "0%"), (0.0049, "<1%"), (0.0051, "1%"), (0.5, "50%"), (1.0, "100%")]
)
def test_what_is_not_nought_never_reads_as_nought(share, shown):
    assert percent(share) == shown


def test_what_is_missing_or_unknown_is_said(chances):
    with pytest.raises(
        WorkbookError, match="there is no chance for shaft_seal; give one for every place and elsewhere"
    ):
        engine_bay_svg({place: chance for place, chance in chances.items() if place != "shaft_seal"})
    with pytest.raises(UnknownChoice, match="place: 'radiator' is not known here; choose one of low_side_port"):
        engine_bay_svg(chances, "radiator")
