"""The placement questions: what they cover, and the advice their answers give."""

from datetime import date
from types import SimpleNamespace

import pytest

from course.lessons.lesson import find_question
from course.lessons.marking import mark
from course.lessons.placement import LESSON, SECTION, placement_advice
from course.lessons.progress import lesson_progress, where_to_go_on
from course.tables import lesson_ids, read_course, read_lesson
from course.units import display_units

TABLES = {key: table for key, table in read_lesson(LESSON).questions.items() if table.section == SECTION}
TRACK = read_course().fast_track
DAY = date(2030, 5, 1)


def answer(key, right=True, confidence="certain", day=DAY):
    return SimpleNamespace(question=f"{LESSON}/{key}", is_right=right, confidence=confidence, day=day)


def all_right(*but):
    return [answer(key) for key in TABLES if key not in but]


def test_there_is_one_question_for_each_part_of_the_workbook():
    asked_of = sorted(page[:2] for table in TABLES.values() for page in table.leads_to)
    assert asked_of == ["01", "02", "03", "04", "06", "07", "08", "11", "12"]


@pytest.mark.parametrize("key", TABLES)
def test_each_leads_to_lessons_there_are_asks_how_sure_and_says_what_it_is_about(key):
    table = TABLES[key]
    assert set(table.leads_to) <= set(lesson_ids())
    assert table.confidence
    assert table.about and table.about[0].islower() and table.about[-1] != "."


def test_questions_elsewhere_lead_nowhere():
    others = [table for lesson in lesson_ids() for table in read_lesson(lesson).questions.values()]
    assert [table.ask for table in others if table.section != SECTION and (table.leads_to or table.about)] == []


def test_the_right_options_are_right_by_the_engine():
    """Each claim that an option makes of the two cars, worked out anew from the runs it shows."""
    runs = {key: find_question(f"{LESSON}/{key}").runs for key in TABLES}
    rest = runs["place_standing_pressure"]
    assert rest["half_at_rest"].low_side_kpa_gauge == pytest.approx(rest["at_rest"].low_side_kpa_gauge, abs=1.0)
    day = runs["place_humid_day"]
    assert day["humid"].vent_c > day["dry"].vent_c + 3.0
    assert day["humid"].capacity_w > day["dry"].capacity_w
    assert day["humid"].superheat_k == pytest.approx(day["dry"].superheat_k, abs=1.0)
    half = runs["place_valve_or_tube"]
    climbed = half["half_pickup"].superheat_k - half["whole_pickup"].superheat_k
    healthy = find_question("hot_day_low_charge").runs["full"]
    assert climbed > 3.0 * (half["half_sedan"].superheat_k - healthy.superheat_k) > 0.0
    short = runs["place_setting_a_charge"]
    assert short["somewhat_short"].low_side_kpa_gauge == pytest.approx(short["full"].low_side_kpa_gauge, rel=0.05)
    assert short["somewhat_short"].high_side_kpa_gauge == pytest.approx(short["full"].high_side_kpa_gauge, rel=0.05)
    head = runs["place_head_too_high"]
    assert head["little_condenser_air"].high_side_kpa_gauge > healthy.high_side_kpa_gauge + 300.0
    assert head["little_condenser_air"].subcooling_k == pytest.approx(healthy.subcooling_k, abs=1.0)
    assert head["too_full"].subcooling_k > head["little_condenser_air"].subcooling_k + 5.0
    low = runs["place_low_side_low"]
    assert low["blocked_line"].superheat_k > healthy.superheat_k + 5.0
    assert low["blocked_line"].subcooling_k > healthy.subcooling_k + 3.0
    assert low["short"].subcooling_k < 1.0 < 5.0 < low["short"].superheat_k
    assert low["little_cabin_air"].superheat_k == pytest.approx(healthy.superheat_k, abs=1.0)
    assert low["little_cabin_air"].vent_c < healthy.vent_c


def test_the_subcooling_is_marked_and_its_usual_slip_is_found():
    question, units = find_question("place_subcooling"), display_units("kpa_c")
    assert mark(question, question.numbers["too_full_subcooling"].shown(units), units).right
    slip = mark(question, question.numbers["too_full_liquid"].shown(units), units)
    assert (slip.right, slip.misconception) == (False, "superheat_means_hot")


def test_with_nothing_answered_nothing_is_advised():
    advice = placement_advice([answer("no_longer_asked")])
    assert (advice.answered, advice.asked, advice.complete, advice.way) == (0, len(TABLES), False, ())


def test_who_knows_it_all_goes_straight_to_the_fast_track():
    advice = placement_advice(all_right())
    assert advice.complete
    assert (advice.first, advice.slowly) == ((), ())
    assert list(advice.straight) == list(advice.way) == TRACK


def test_what_was_missed_is_looked_at_first_or_slowly_with_its_reason():
    missed = [
        answer("place_subcooling", False),
        answer("place_head_too_high", False),
        answer("place_humid_day", True, "a guess"),
    ]
    advice = placement_advice(all_right("place_subcooling", "place_head_too_high", "place_humid_day") + missed)
    assert [(one.page[:2], one.why) for one in advice.first] == [
        ("02", "finding subcooling from pressure and pipe was not right"),
        ("03", "what humid air does to the vent was a guess"),
    ]
    assert [(one.page[:2], one.why) for one in advice.slowly] == [("07", "what raises a head was not right")]
    assert [page[:2] for page in advice.straight] == ["06", "08", "11", "13"]
    assert [page[:2] for page in advice.way] == ["02", "03", "06", "07", "08", "11", "13"]


def test_what_comes_later_than_the_fast_track_begins_is_looked_at_on_the_way():
    advice = placement_advice([*all_right("place_recovered_weight"), answer("place_recovered_weight", False)])
    assert (advice.first, [one.page[:2] for one in advice.between]) == ((), ["12"])
    assert [page[:2] for page in advice.way] == ["06", "07", "08", "11", "12", "13"]


def test_the_first_try_of_the_last_day_counts():
    corrected = [*all_right("place_subcooling"), answer("place_subcooling", False), answer("place_subcooling")]
    assert placement_advice(corrected).first
    later = [*corrected, answer("place_subcooling", day=date(2030, 6, 1))]
    assert placement_advice(later).first == ()


def test_half_the_questions_advise_nothing_yet():
    advice = placement_advice([answer("place_subcooling", False)])
    assert (advice.answered, advice.complete, advice.way) == (1, False, ())
    assert advice.first


def test_the_first_page_goes_on_where_the_placement_says():
    answers = [*all_right("place_humid_day"), answer("place_humid_day", False)]
    there = where_to_go_on(lesson_progress([]), (LESSON, SECTION), placement_advice(answers).way)
    assert there.page == "03_the_air_decides"


def test_a_file_that_cannot_be_read_advises_nothing(write_lesson):
    write_lesson("title = \n", LESSON)
    assert placement_advice([answer("place_subcooling")]).asked == 0
    assert not placement_advice([]).complete
