"""Progress out of the record: what counts, what does not, and where to go on."""

import dataclasses
from datetime import date
from types import SimpleNamespace

import pytest

from course.lessons.progress import lesson_progress, where_to_go_on
from course.lessons.record import Record
from course.tables import lesson_ids, read_course, read_lesson

DAY = date(2030, 5, 1)


def answered(question, right=True, day=DAY):
    return SimpleNamespace(question=question, is_right=right, day=day)


def all_of(lesson, *sections):
    """Answers to every question of some sections of a lesson."""
    return [answered(f"{lesson}/{key}") for key, section in read_lesson(lesson).sections.items() if section in sections]


def test_with_nothing_recorded_no_lesson_is_begun():
    progress = lesson_progress([])
    assert list(progress) == list(read_course().page)
    assert {one.words for one in progress.values() if one.asked} == {"not begun"}
    assert [page for page, one in progress.items() if one.asked] == list(lesson_ids())
    assert progress["80_quick_reference"].words == ""


def test_answers_are_counted_once_and_judged_by_the_last_try():
    name = "06_charge/subcooling_of_the_compact"
    tries = [answered(name, False), answered(name, True, date(2030, 5, 3))]
    one = lesson_progress(tries)["06_charge"]
    assert (one.answered, one.right, one.last_day) == (1, 1, date(2030, 5, 3))
    assert one.words == f"1 of {one.asked} answered, 1 right; last on 3 May 2030"
    assert lesson_progress(reversed(tries))["06_charge"].right == 0
    assert not one.been_through


def test_what_is_no_longer_asked_and_what_is_optional_does_not_count():
    old = [answered("06_charge/no_longer_asked"), answered("99_gone/question")]
    assert {one.answered for one in lesson_progress(old).values()} == {0}
    whole = lesson_progress(all_of("00_start_here", "predict", "worked", "faded", "check", "placement"))[
        "00_start_here"
    ]
    assert (
        whole.answered
        == whole.asked
        == len(read_lesson("00_start_here").sections) - len(all_of("00_start_here", "placement"))
    )


def test_the_end_of_a_lesson_is_what_counts_for_having_been_through():
    check = all_of("06_charge", "check")
    assert lesson_progress(check)["06_charge"].been_through
    assert not lesson_progress(check[1:])["06_charge"].been_through
    assert lesson_progress(check)["06_charge"].answered < lesson_progress(check)["06_charge"].asked


def test_a_lesson_without_an_end_wants_every_question(write_lesson):
    write_lesson(
        'title = "t"\n'
        + "".join(
            f'[question.{key}]\nsection = "predict"\nkind = "predict"\nask = "?"\n'
            'options = [{ text = "a", why = "w", right = true }, { text = "b", why = "v" }]\n'
            for key in "ab"
        ),
        "01_pressure_tells_temperature",
    )
    both = [answered("01_pressure_tells_temperature/a"), answered("01_pressure_tells_temperature/b")]
    assert not lesson_progress(both[:1])["01_pressure_tells_temperature"].been_through
    assert lesson_progress(both)["01_pressure_tells_temperature"].been_through


def test_a_lesson_whose_file_cannot_be_read_asks_nothing_and_spoils_no_other(write_lesson):
    write_lesson("title = \n", "06_charge")
    write_lesson('title = "t"\n[question.a]\nsection = "check"\n', "07_high_side_too_high")
    progress = lesson_progress([answered("07_high_side_too_high/a")])
    assert progress["06_charge"].asked == 0
    assert progress["07_high_side_too_high"].been_through


def test_it_reads_what_the_record_keeps():
    marked = SimpleNamespace(answer="yes", right=True, misconception="")
    Record().add("00_start_here/superheat_by_hand", "numeric", marked, "20 K")
    one = lesson_progress(Record().answers())["00_start_here"]
    assert (one.answered, one.right) == (1, 1)
    assert one.last_day == Record().answers()[0].day


def test_one_begins_at_the_beginning_and_goes_back_to_where_one_stopped():
    nothing = lesson_progress([])
    assert where_to_go_on(nothing, None) == where_to_go_on(nothing, ("99_gone", "check"))
    assert where_to_go_on(nothing, None).page == "00_start_here"
    assert "begins" in where_to_go_on(nothing, None).why
    there = where_to_go_on(nothing, ("08_low_side_wrong", "faded"))
    assert (there.page, there.why) == ("08_low_side_wrong", "You stopped here, and it is not finished.")


def test_after_the_end_of_one_lesson_comes_the_next_open_one():
    progress = lesson_progress(all_of("06_charge", "check") + all_of("07_high_side_too_high", "check"))
    there = where_to_go_on(progress, ("06_charge", "check"))
    assert (there.page, there.why) == ("08_low_side_wrong", "You have been through 06, and this one is open.")
    # the last lesson of all leads back to what was left out
    progress = lesson_progress(all_of("14_the_whole_job", "check"))
    assert where_to_go_on(progress, ("14_the_whole_job", "check")).page == "00_start_here"


def test_the_placement_questions_lead_elsewhere_but_never_out_of_a_lesson_that_is_open():
    nothing, advised = lesson_progress([]), ("02_the_loop_on_the_p_h_chart", "06_charge")
    there = where_to_go_on(nothing, ("00_start_here", "placement"), advised)
    assert (there.page, there.why) == ("02_the_loop_on_the_p_h_chart", "The placement questions speak for it.")
    assert where_to_go_on(nothing, ("08_low_side_wrong", "check"), advised).page == "08_low_side_wrong"
    through = lesson_progress(all_of("02_the_loop_on_the_p_h_chart", "predict", "worked", "faded", "check"))
    assert where_to_go_on(through, ("02_the_loop_on_the_p_h_chart", "check"), advised).page == "06_charge"


def test_who_has_been_through_everything_is_told_so():
    done = {page: dataclasses.replace(one, been_through=True) for page, one in lesson_progress([]).items()}
    assert where_to_go_on(done, None).why == "You have been through every lesson; read any of them again."


@pytest.mark.parametrize("page", [page for page in read_course().page if page not in lesson_ids()])
def test_a_page_that_asks_nothing_is_never_where_to_go_on(page):
    assert where_to_go_on(lesson_progress([]), (page, "check")).page == "00_start_here"
