"""Chapter 16 on the page: the log, where the build stands, signs with what to do, and boxes that only ever add."""

import re
from datetime import date

import pytest

from lathe_course.course.chapter import open_chapter
from lathe_course.course.pages.progress import NO_LOG_YET, WHAT_TO_DO
from lathe_course.course.pages.progress_log import AddToLog
from lathe_course.course.pages.register import PAGES as PAGES_BY_NAME
from lathe_course.course.session import Session
from lathe_course.design.asked.on_course import forecasts, month_called, next_in_hand, whose
from lathe_course.design.lathe import LATHE
from lathe_course.planning.log import KINDS
from lathe_course.units import InputProblem

PAGES = ("log_kept", "where_it_stands", "signs_of_life", "plan_from_today", "this_month", "orders_kept", "forecast_moved")


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


def test_ones_own_build_begins_with_what_the_plan_has_first_and_then_tells_all_of_it(nowhere):
    chapter = open_chapter("16")
    shown = chapter.show("your_build")
    assert (
        shown.plain == "By the plan these come first: purpose and specification, layout and sums, workshop and practice pieces."
    )
    assert NO_LOG_YET in chapter.show("add_to_log").plain, "the form above it says that there is no log"
    chapter.session.add_to_log("2024-03-01", "build begun")
    heads = ["This month", "Where it stands", "Signs of life"]
    assert [line for line in shown.plain.splitlines() if line in heads] == heads and "Orders" not in shown.plain
    chapter.session.add_to_log("2024-03-02", "ordered", "45", "bed box", vendor="the merchant", due="2024-04-01")
    assert (
        shown.plain.index("in hand")
        < shown.plain.index("Orders")
        < shown.plain.index("the merchant")
        < shown.plain.index("worked so far")
        < shown.plain.index("Signs of life")
    )


def test_orders_are_listed_with_what_became_of_each(design_file):
    session = Session(today=date(2024, 4, 10))
    (design_file.parent / "bill 7.pdf").write_bytes(b"")
    for day, what, amount, part, vendor, due, receipt in (
        ("2024-03-01", "build begun", "", "", "", "", ""),
        ("2024-03-02", "ordered", "45", "bed box", "the merchant", "2024-04-01", ""),
        ("2024-03-03", "ordered", "90", "bed plate", "the grinder", "2024-05-01", ""),
        ("2024-03-04", "ordered", "", "spindle", "", "", ""),
        ("2024-03-05", "money", "80", "bed plate", "", "", "bill 7.pdf"),
        ("2024-03-20", "delivered", "", "bed plate", "", "", ""),
    ):
        session.add_to_log(day, what, amount, part, "", vendor=vendor, due=due, receipt=receipt)
    shown = PAGES_BY_NAME["orders_kept"](session.evaluation)
    rows = [[cell.strip().replace("\u00a0", " ") for cell in re.split(r"\s{2,}", line)] for line in shown.plain.splitlines()[1:]]
    assert rows[0] == ["spindle", "4 Mar 2024", "no day promised"] and rows[1] == [
        "bed box",
        "the merchant",
        "2 Mar 2024",
        "due 1 Apr 2024, 9 days late",
        "45 EUR",
        "45 EUR",
    ]
    assert rows[2] == ["bed plate", "the grinder", "3 Mar 2024", "came 20 Mar 2024", "90 EUR", "80 EUR", "10 EUR", "bill 7.pdf"]
    last = PAGES_BY_NAME["log_kept"](session.evaluation, last=5).plain.replace("\u00a0", " ")
    assert "from the merchant; due 1 Apr 2024" in last and "receipt bill 7.pdf" in last


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


@pytest.mark.parametrize(
    "formula", ["hours_index", "schedule_index", "eased_index", "forecast_hours", "index_to_come", "months_left"]
)
def test_each_measure_is_worked_on_the_log(chapter, formula):
    plain = chapter.show("index_worked", formula=formula, log="invented").plain
    assert "Source:" in plain and "nan" not in plain
    assert chapter.show("index_worked", formula=formula).plain == NO_LOG_YET


def test_what_cannot_be_worked_out_yet_says_why(nowhere):
    chapter = open_chapter("16")
    chapter.session.add_to_log("2024-03-01", "build begun")
    shown = chapter.show("index_worked", formula=("hours_index", "schedule_index", "eased_index"))
    assert "Hours index cannot be worked out: worked is 0." in shown.plain and "nan" not in shown.plain
    assert "eased index: " in shown.plain and "r_0" in shown.widget.value.partition("eased index: ")[2], (
        "its sum lies in the fold"
    )
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
    assert [round(one.month) for one in found] == [2, 4, 6, 8, 10, 12, 14] and all(
        one.low <= one.middle <= one.high for one in found
    )
    assert found[-1].month == pytest.approx(e["log_months"], abs=0.1)


def test_a_set_is_judged_by_no_single_piece(chapter):
    assert (
        "10 pieces" in chapter.show("repeats_learnt").plain
        and "nothing repeats" in chapter.show("repeats_learnt", part="spindle").plain
    )


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
        assert (boxes.part.layout.display == "") == (
            what
            in (
                "hours",
                "money",
                "price asked",
                "ordered",
                "delivered",
                "order cancelled",
                "part accepted",
                "acceptance withdrawn",
            )
        )


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
    (design_file.parent / "design.log.csv").write_text(
        "date;what;amount;part;words\n01.03.2024;hours;2,5;bed box;\n02.03.2024;hours;2;bed bx;\n", encoding="utf-8"
    )
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


def test_eight_months_of_a_build_are_lived_through_with_a_pause_of_three(design_file):
    """Each month a notebook is opened on its own day, a few lines are added, and all that stood in the log stands there still."""
    lived = [
        (
            date(2024, 1, 31),
            [
                ("2024-01-03", "build begun"),
                ("2024-01-10", "hours", "9", "purpose and specification"),
                ("2024-01-20", "part accepted", "", "purpose and specification"),
            ],
        ),
        (
            date(2024, 2, 29),
            [("2024-02-10", "hours", "14", "layout and sums"), ("2024-02-20", "part accepted", "", "layout and sums")],
        ),
        (
            date(2024, 3, 31),
            [
                ("2024-03-02", "money", "90", "tools"),
                ("2024-03-05", "ordered", "40", "bed box", "", "the merchant", "2024-03-25"),
            ],
        ),
        (date(2024, 6, 30), []),
        (
            date(2024, 7, 31),
            [
                ("2024-07-02", "delivered", "", "bed box"),
                ("2024-07-03", "money", "38", "bed box"),
                ("2024-07-10", "hours", "5", "bed box"),
            ],
        ),
        (
            date(2024, 8, 31),
            [("2024-08-05", "order of work", "", "", "stand; spindle"), ("2024-08-20", "part accepted", "", "bed box")],
        ),
    ]
    path, seen, held = design_file.with_name("design.log.csv"), [], b""
    for day, lines in lived:
        session = Session(today=day)
        for line in lines:
            session.add_to_log(*line[:5], **dict(zip(("vendor", "due"), line[5:])))
        assert path.read_bytes().startswith(held) and not session.log.problems and not session.log.remarks
        held = path.read_bytes()
        seen.append(session.evaluation)
    ends = [float(e["months_forecast"]) for e in seen]
    march, june, july, august = seen[2:]
    assert march["money_owed"] == june["money_owed"] == 40 and july["money_owed"] == 0 and july["money_spent"] == 128, (
        "what was paid stands in place of what was agreed"
    )
    assert (
        march.design.log.late_orders
        and "97 days past 25" in PAGES_BY_NAME["this_month"](june).plain
        and not july.design.log.late_orders
    )
    assert ends[3] - ends[2] > 2.5 and june["hours_a_month"] < march["hours_a_month"], (
        "three months of nothing are three months later, and slower months"
    )
    assert june.findings["parts_keep_coming"].status != "holds" and august.findings["parts_keep_coming"].status == "holds"
    assert august["log_months"] == pytest.approx(241 / 30.4375) and august["hours_worked"] == 28
    names = [name for name, *_ in next_in_hand(august, 40)]
    assert names.index("stand") < names.index("spindle") < names.index("bed plate")
