"""Chapter 16 on the page: the log, where the build stands, signs with what to do, and boxes that only ever add."""
import re
from datetime import date

import pytest

from lathe_course.course.chapter import open_chapter
from lathe_course.course.pages.progress import NO_LOG_YET, WHAT_TO_DO
from lathe_course.course.pages.progress_log import AddToLog
from lathe_course.course.pages.register import PAGES as PAGES_BY_NAME
from lathe_course.course.session import Session
from lathe_course.design.asked.on_course import forecasts, month_called, whose
from lathe_course.design.lathe import LATHE
from lathe_course.planning.log import KINDS
from lathe_course.units import InputProblem

PAGES = ("log_kept", "where_it_stands", "signs_of_life", "plan_from_today", "this_month", "forecast_moved")


@pytest.fixture
def chapter(nowhere):
    return open_chapter("16")


@pytest.mark.parametrize("name", PAGES)
def test_a_page_of_the_invented_log_says_that_it_is_invented(chapter, name):
    shown = chapter.show(name, log="invented")
    assert shown.plain.startswith("The invented log of the boat shed") and "invented" in shown.widget.value
    assert not re.search(r"\bnan\b|\binf\b|task:", shown.plain)


@pytest.mark.parametrize("name", [name for name in PAGES if name != "plan_from_today"])
def test_without_a_log_the_first_line_is_asked_for(chapter, name):
    assert chapter.show(name).plain == NO_LOG_YET


def test_every_finding_of_the_chapter_has_something_to_do():
    assert set(WHAT_TO_DO) == {name for name, rule in LATHE.limits.items() if "16" in (rule.chapter, *rule.told_in)}


def test_what_to_do_stands_beside_what_does_not_hold(chapter):
    plain = chapter.show("signs_of_life", log="invented").plain
    assert WHAT_TO_DO["few_parts_open"] in plain and WHAT_TO_DO["sessions_are_kept"] not in plain


def test_earned_and_worked_are_those_of_the_chain(chapter):
    e = whose(chapter.evaluation, "invented")
    plain = chapter.show("where_it_stands", log="invented").plain
    for name in ("hours_worked", "hours_earned", "hours_due", "hours_rate", "hours_to_come"):
        assert e.shown(name) in plain
    assert month_called(e, float(e["months_forecast"])) in plain


@pytest.mark.parametrize("formula", ["hours_index", "schedule_index", "eased_index", "forecast_hours", "index_to_come", "months_left"])
def test_each_measure_is_worked_on_the_log(chapter, formula):
    plain = chapter.show("index_worked", formula=formula, log="invented").plain
    assert "Source:" in plain and "nan" not in plain
    assert chapter.show("index_worked", formula=formula).plain == NO_LOG_YET


def test_what_cannot_be_worked_out_yet_says_why(nowhere):
    chapter = open_chapter("16")
    chapter.session.add_to_log("2024-03-01", "build begun")
    plain = chapter.show("index_worked", formula=("hours_index", "schedule_index", "eased_index")).plain
    assert "Hours index cannot be worked out: worked is 0." in plain and "r_0" in plain and "nan" not in plain
    chapter.session.add_to_log("2024-03-02", "hours", "900")
    assert "more hours are worked than the budget holds" in chapter.show("index_worked", formula="index_to_come").plain


def test_what_is_not_known_is_told(chapter):
    with pytest.raises(InputProblem, match="no log called 'theirs'"):
        chapter.show("log_kept", log="theirs")
    with pytest.raises(InputProblem, match="no such measure"):
        chapter.show("index_worked", formula="index", log="invented")


def test_the_forecast_moves_from_month_to_month_and_ends_with_today(chapter):
    e = whose(chapter.evaluation, "invented")
    found = forecasts(e, 200, 2)
    assert [round(one.month) for one in found] == [2, 4, 6, 8, 10, 12, 14] and all(one.low <= one.middle <= one.high for one in found)
    assert found[-1].month == pytest.approx(e["log_months"], abs=0.1)


def test_a_set_is_judged_by_no_single_piece(chapter):
    assert "10 pieces" in chapter.show("repeats_learnt").plain and "nothing repeats" in chapter.show("repeats_learnt", part="spindle").plain


# --- adding -------------------------------------------------------------------------------------------
def test_the_boxes_add_a_line_and_every_page_follows(design_file):
    chapter = open_chapter("16")
    stands, boxes = chapter.show("where_it_stands"), AddToLog(chapter.session)
    assert boxes.what.value == "build begun" and boxes.amount.layout.display == "none"
    boxes.date.value = "2024-03-01"
    boxes.add.click()
    assert boxes.what.value == "hours" and "Added" in boxes.reply.value and "design.log.csv" in boxes.reply.value
    boxes.date.value, boxes.amount.value, boxes.part.value = "2024-03-05", "3 h", "bed box"
    boxes.add.click()
    assert chapter.evaluation["hours_worked"] == 3.0 and "worked so far" in stands.plain and boxes.amount.value == ""
    text = (design_file.parent / "design.log.csv").read_text(encoding="utf-8")
    boxes.date.value, boxes.amount.value = "2024-02-05", "3 h"
    boxes.add.click()
    assert "Not kept" in boxes.reply.value and "before the start" in boxes.reply.value
    assert (design_file.parent / "design.log.csv").read_text(encoding="utf-8") == text


def test_the_boxes_show_what_a_line_has(nowhere):
    boxes = AddToLog(Session())
    for what in KINDS:
        boxes.what.value = what
        assert (boxes.amount.layout.display == "") == (what in ("hours", "money", "price asked", "ordered", "move planned"))
        assert (boxes.part.layout.display == "") == (what in ("hours", "money", "price asked", "ordered", "delivered", "order cancelled", "part accepted", "acceptance withdrawn"))


def test_a_note_without_words_says_nothing(nowhere):
    boxes = AddToLog(Session())
    boxes.what.value, boxes.date.value = "note", "2024-03-01"
    boxes.add.click()
    assert "says nothing without words" in boxes.reply.value and not boxes.session.log


def test_today_is_asked_of_the_clock_only_where_a_line_is_written(nowhere):
    boxes = AddToLog(Session())
    boxes.date.value = "today"
    boxes.add.click()
    assert len(boxes.session.log) == 1


def test_a_log_mended_in_a_spreadsheet_is_read_again(design_file):
    boxes = AddToLog(Session())
    (design_file.parent / "design.log.csv").write_text("date;what;amount;part;words\n01.03.2024;hours;2,5;bed box;\n02.03.2024;hours;2;bed bx;\n", encoding="utf-8")
    boxes.again.click()
    assert boxes.session.evaluation["hours_worked"] == 2.5 and "line 3" in boxes.told.value and "bed bx" in boxes.told.value


def test_an_order_is_written_with_its_boxes_and_told_once_it_is_late(design_file):
    session = Session(today=date(2024, 4, 10))
    session.add_to_log("2024-03-01", "build begun")
    boxes = AddToLog(session)
    boxes.what.value, boxes.date.value, boxes.amount.value, boxes.part.value = "ordered", "2024-03-02", "45 EUR", "bed box"
    boxes.of_an_order["vendor"].value, boxes.of_an_order["due"].value = "the merchant", "2024-04-01"
    boxes.add.click()
    assert "Added" in boxes.reply.value and session.evaluation["money_owed"] == 45
    plain = PAGES_BY_NAME["this_month"](session.evaluation).plain
    assert "late" in plain and "9 days past 1" in plain and "the merchant" in plain and "45 EUR is owed" in plain
    assert not any(line.startswith("order now") and "bed box" in line for line in plain.splitlines())
