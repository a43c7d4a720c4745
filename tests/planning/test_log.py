"""The log of a build: what stands in it, and the work that is left."""

from datetime import date

import numpy as np
import pytest
from demo_build import part, parts

from lathe_course.planning.layout import layout
from lathe_course.planning.log import (
    ACCEPTED,
    ASKED,
    BEGUN,
    CHANGED,
    DELIVERED,
    HOURS,
    MISSED,
    MONEY,
    MOVING,
    NO_LOG,
    ORDERED,
    WISHED,
    WITHDRAWN,
    Entry,
    Log,
    in_order,
)
from lathe_course.planning.network import Network
from lathe_course.planning.schedule import Means, Work, schedule
from lathe_course.planning.tasks import Task
from lathe_course.planning.work_left import rest_of, standing_of
from lathe_course.ranges import Range


def log(*lines):
    return Log(in_order(Entry(date.fromisoformat(day), what, *rest) for day, what, *rest in lines))


def test_without_a_log_nothing_has_happened():
    assert (
        not NO_LOG and NO_LOG.months == 0 and NO_LOG.accepted == {} and NO_LOG.open_items == () and NO_LOG.months_to_move is None
    )


def test_months_are_counted_from_the_first_line_and_today_is_the_last():
    kept = log(("2023-01-01", BEGUN), ("2024-01-01", HOURS, 3.0, "bed"))
    assert kept.months == pytest.approx(12, abs=0.02) and kept.today == date(2024, 1, 1)
    assert len(kept.until(11.0)) == 1 and len(kept.until(12.0)) == 2
    assert kept.until(6.0).months == pytest.approx(6, abs=0.02) and kept.until(99).today == kept.today and not NO_LOG.until(3)


def test_a_correction_is_a_line_of_its_own():
    kept = log(("2023-01-01", HOURS, 5.0, "bed"), ("2023-01-02", HOURS, -2.0, "bed"), ("2023-01-03", HOURS, 1.0))
    assert kept.sums(HOURS) == {"bed": 3.0, "": 1.0} and kept.total(HOURS) == 4.0


def test_what_is_accepted_may_be_withdrawn_and_accepted_again():
    lines = [("2023-01-01", HOURS, 5.0, "bed"), ("2023-02-01", ACCEPTED, None, "bed"), ("2023-03-01", WITHDRAWN, None, "bed")]
    assert log(*lines).accepted == {} and log(*lines).open_items == ("bed",)
    again = log(*lines, ("2023-04-01", ACCEPTED, None, "bed"))
    assert again.accepted == {"bed": pytest.approx(90 / (365.25 / 12))} and again.open_items == ()


def test_sessions_missed_running_start_anew_with_every_hour():
    lines = [("2023-01-01", MISSED), ("2023-01-08", HOURS, 3.0), ("2023-01-15", MISSED), ("2023-01-22", MISSED)]
    assert log(*lines).missed_running == 2 and log(*lines, ("2023-01-29", HOURS, 1.0)).missed_running == 0


def test_a_planned_move_comes_nearer_and_can_be_called_off():
    lines = [("2023-01-01", MOVING, 8.0), ("2023-03-01", CHANGED)]
    assert log(*lines).months_to_move == pytest.approx(8 - 59 / (365.25 / 12))
    assert log(*lines, ("2023-03-02", MOVING, 0.0)).months_to_move is None


# --- orders --------------------------------------------------------------------------------------------
def ordered(day, part, amount=None, vendor="", due=None):
    return Entry(date.fromisoformat(day), ORDERED, amount, part, vendor=vendor, due=date.fromisoformat(due) if due else None)


def of_orders(*entries, today=None):
    return Log(in_order(entries), as_of=date.fromisoformat(today) if today else None)


def line(day, what, amount=None, part="", vendor=""):
    return Entry(date.fromisoformat(day), what, amount, part, vendor=vendor)


def test_an_order_is_gathered_from_its_lines():
    kept = of_orders(
        line("2023-01-02", ASKED, 55.0, "bed", "merchant"),
        ordered("2023-01-05", "bed", None, "Merchant", "2023-02-01"),
        line("2023-01-06", MONEY, 20.0, "bed"),
    )
    assert (kept.orders[0].price, kept.orders[0].paid, kept.orders[0].owed, kept.orders[0].settled) == (55, 20, 35, False)
    came = of_orders(*kept.entries, line("2023-02-03", DELIVERED, None, "bed"))
    assert came.orders[0].owed == 35 and came.orders[0].delivered == date(2023, 2, 3)
    paid = of_orders(*came.entries, line("2023-02-04", MONEY, 30.0, "bed"))
    assert paid.orders[0].settled and paid.orders[0].owed == 0 and paid.total(MONEY) == 50, (
        "what is paid once it has come settles it, at whatever it came to"
    )


def test_a_late_order_is_told_and_taken_to_be_as_late_again():
    entries = [
        ordered("2023-01-05", "bed", 50.0, "merchant", "2023-02-01"),
        ordered("2023-01-05", "spindle", 50.0, "turner", "2023-02-20"),
    ]
    assert of_orders(*entries).late_orders == ()
    late = of_orders(*entries, today="2023-03-01")
    assert [(one.part, one.late(late.today)) for one in late.late_orders] == [("bed", 28), ("spindle", 9)]
    assert late.orders[0].to_come(late.today) == pytest.approx(28 / (365.25 / 12))
    assert of_orders(*entries, line("2023-02-25", DELIVERED, None, "bed"), today="2023-03-01").late_orders == (late.orders[1],)


def test_payments_go_to_the_order_they_name():
    kept = of_orders(
        ordered("2023-01-05", "bed", 50.0, "merchant"),
        ordered("2023-01-05", "bed", 90.0, "grinder"),
        line("2023-01-06", MONEY, 90.0, "bed", "grinder"),
        line("2023-01-07", MONEY, 10.0, "bed"),
    )
    assert [(one.vendor, one.paid, one.settled) for one in kept.orders] == [("merchant", 10, False), ("grinder", 90, True)]


def test_what_was_paid_in_full_beforehand_stays_settled_when_it_comes_and_the_next_payment_goes_on():
    """50 beforehand for one of 50, 20 later: that is for the second, of 90, of which 70 are owed."""
    kept = of_orders(
        ordered("2023-01-05", "bed", 50.0, "merchant"),
        line("2023-01-06", MONEY, 50.0, "bed"),
        line("2023-02-01", DELIVERED, None, "bed"),
        ordered("2023-02-02", "bed", 90.0, "grinder"),
        line("2023-02-03", MONEY, 20.0, "bed"),
    )
    assert [(one.paid, one.settled, one.owed) for one in kept.orders] == [(50, True, 0), (20, False, 70)]


def test_what_is_booked_counts_once_between_one_month_and_the_next():
    kept = log(("2023-01-01", BEGUN), ("2023-01-01", HOURS, 3.0, "bed"), ("2023-07-01", HOURS, 5.0, "bed"))
    first = kept.months_to(date(2023, 7, 1))
    assert kept.booked_between(HOURS, -1.0, first) == 8 and kept.booked_between(HOURS, 0.0, first) == 5
    assert kept.booked_between(HOURS, first, 12.0) == 0, "what was booked on a day that ends one stretch does not begin the next"


# --- what is left --------------------------------------------------------------------------------------
TASKS = (Task("plan", (), Range(4, 4, 4)), Task("t", ("plan",), None), Task("end", ("t",), Range(2, 2, 2)))
LAYOUT = layout(parts(part("a"), part("b", after="a"), part("c")), TASKS)


def test_what_takes_no_hours_and_belongs_to_no_part_is_no_planning():
    """Neither a heading among the tasks nor what comes after parts; what takes hours before them is."""
    tasks = (Task("head", (), None), Task("sum", ("end",), Range(1, 1, 1)), *TASKS)
    assert LAYOUT.planning == layout(parts(part("a"), part("b", after="a"), part("c")), tasks).planning == ("plan",)


def work(**figures):
    nodes = LAYOUT.network.names
    made = {name: np.array([table.get(node, 0.0) for node in nodes]) for name, table in figures.items()}
    zero = np.zeros(len(nodes))
    return Work(
        LAYOUT.network, made["hours"], made.get("money", zero), made.get("lead", zero), zero, np.arange(len(nodes), dtype=float)
    )


def at(values, node):
    return values[LAYOUT.network.names.index(node)]


def test_parts_and_tasks_are_found_and_what_the_plan_does_not_have_is_told():
    kept = log(
        ("2023-01-01", ACCEPTED, None, "plan"),
        ("2023-01-02", ACCEPTED, None, "a"),
        ("2023-01-03", HOURS, 7.0, "b"),
        ("2023-01-04", HOURS, 1.0, "lamp"),
    )
    found = standing_of(kept, LAYOUT)
    assert at(found.accepted, "task: plan") and at(found.accepted, "a") and not at(found.accepted, "b") and at(found.open, "b")
    assert found.strange == ("lamp",) and at(found.worked, "b") == 7


def test_a_task_that_is_no_more_than_its_parts_is_accepted_with_the_last_of_them():
    lines = [("2023-01-01", ACCEPTED, None, name) for name in ("plan", "a", "b")]
    assert not at(standing_of(log(*lines), LAYOUT).accepted, "task: t")
    assert at(standing_of(log(*lines, ("2023-01-02", ACCEPTED, None, "c")), LAYOUT).accepted, "task: t")


def test_what_is_accepted_drops_out_and_what_is_half_done_counts_in_full():
    kept = log(("2023-01-01", ACCEPTED, None, "a"), ("2023-01-03", HOURS, 7.0, "b"))
    rest = rest_of(work(hours={"a": 10.0, "b": 20.0, "c": 5.0, "task: end": 2.0}), standing_of(kept, LAYOUT), 0.5, 1.0)
    assert (
        at(rest.hours, "a") == 0 and at(rest.hours, "b") == 40 and at(rest.hours, "c") == 10 and at(rest.hours, "task: end") == 4
    )
    assert at(rest.order, "a") < at(rest.order, "b") < min(at(rest.order, name) for name in ("c", "task: plan", "task: end")), (
        "what is begun comes next"
    )


def test_what_is_paid_need_not_be_paid_again_and_a_wait_runs_on():
    kept = log(("2023-01-01", BEGUN), ("2023-01-31", MONEY, 30.0, "b"), ("2023-03-02", HOURS, 1.0, "c"))
    rest = rest_of(
        work(hours={"b": 1.0}, money={"b": 40.0, "c": 20.0}, lead={"b": 3.0, "c": 2.0}), standing_of(kept, LAYOUT), 1.0, 0.5
    )
    assert at(rest.money, "b") == 50 and at(rest.money, "c") == 40
    assert at(rest.lead, "b") == pytest.approx(3 - 30 / (365.25 / 12)) and at(rest.lead, "c") == 2


def months(days):
    return days / (365.25 / 12)


def test_an_order_stands_in_place_of_plan_and_usual_wait():
    kept = of_orders(
        Entry(date(2023, 1, 1), BEGUN), ordered("2023-01-31", "b", 30.0, "merchant", "2023-04-01"), today="2023-03-02"
    )
    planned = work(hours={"b": 1.0}, money={"b": 80.0, "c": 20.0}, lead={"b": 9.0, "c": 2.0})
    rest = rest_of(planned, standing_of(kept, LAYOUT), 1.0, 0.5)
    assert at(rest.money, "b") == 0 and at(standing_of(kept, LAYOUT).owed, "b") == 30 and at(rest.money, "c") == 40
    assert at(rest.lead, "b") == pytest.approx(months(30)) and at(rest.lead, "c") == 2
    undated = of_orders(Entry(date(2023, 1, 1), BEGUN), ordered("2023-01-31", "b", 30.0), today="2023-03-02")
    assert at(rest_of(planned, standing_of(undated, LAYOUT), 1.0, 0.5).lead, "b") == pytest.approx(9 - months(30))
    came = of_orders(*kept.entries, line("2023-03-01", DELIVERED, None, "b"), today="2023-03-02")
    assert at(rest_of(planned, standing_of(came, LAYOUT), 1.0, 0.5).lead, "b") == 0


def test_stock_and_then_work_outside_are_two_orders():
    stock = of_orders(
        Entry(date(2023, 1, 1), BEGUN), ordered("2023-01-31", "b", 30.0, "merchant", "2023-02-10"), today="2023-02-01"
    )
    planned = work(hours={"b": 1.0}, money={"b": 80.0}, lead={"b": 3.0})
    rest = rest_of(planned, standing_of(stock, LAYOUT, twice={"b"}), 1.0, 1.0)
    assert at(rest.money, "b") == 50 and at(rest.lead, "b") == pytest.approx(3 - months(1)), "the grinder is still to be asked"
    both = of_orders(*stock.entries, ordered("2023-02-01", "b", 60.0, "grinder", "2023-03-01"), today="2023-02-01")
    rest = rest_of(planned, standing_of(both, LAYOUT, twice={"b"}), 1.0, 1.0)
    assert (
        at(rest.money, "b") == 0
        and at(rest.lead, "b") == pytest.approx(months(28))
        and at(standing_of(both, LAYOUT, twice={"b"}).owed, "b") == 90
    )


def test_tools_have_a_place_and_are_paid_once():
    """Two tools of 30 and 50 beside the plan: one bought by its name for 35, and 20 spent on tools without a name."""
    things = {"tools": "task: plan", "drills": "task: plan", "plate": "task: plan"}
    kept = log(
        ("2023-01-01", BEGUN),
        ("2023-01-02", MONEY, 35.0, "drills"),
        ("2023-01-03", MONEY, 20.0, "tools"),
        ("2023-01-04", HOURS, 1.0, "tools"),
    )
    found = standing_of(kept, LAYOUT, things)
    of_things = np.where(np.array(LAYOUT.network.names) == "task: plan", 30.0, 0.0)
    rest = rest_of(work(hours={}, money={"task: plan": 80.0}), found, 1.0, 1.0, of_things)
    assert found.strange == () and found.things == {"drills"} and at(found.paid, "task: plan") == 55 and not found.open.any()
    assert at(rest.money, "task: plan") == 80 - 30 - 20
    assert standing_of(log(*[("2023-01-01", ACCEPTED, None, "tools")]), LAYOUT, things).things == set(things)


def test_what_is_begun_waits_for_nothing_before_it():
    """The part b comes after a and after planning; in hand it can be finished first.  An assembly in hand still waits for its parts."""
    hours = {"a": 10.0, "b": 20.0, "c": 5.0, "task: plan": 4.0, "task: end": 2.0}
    begun = rest_of(work(hours=hours), standing_of(log(("2023-01-03", HOURS, 7.0, "b")), LAYOUT), 1.0, 1.0)
    found = schedule(begun, Means(5.0, 1.0))
    assert (
        at(found.begun[0], "b") == 0
        and at(found.done[0], "b") == pytest.approx(4)
        and at(found.done[0], "task: plan") == pytest.approx(4.8)
    )
    last = schedule(
        rest_of(work(hours=hours), standing_of(log(("2023-01-03", HOURS, 1.0, "end")), LAYOUT), 1.0, 1.0), Means(5.0, 1.0)
    )
    assert at(last.done[0], "task: end") == pytest.approx(last.end[0])


def test_the_order_the_builders_want_is_kept_where_it_can_be():
    """c before a, though the plan has a first; b pulls a before it, for it needs it."""
    hours = {"a": 10.0, "b": 20.0, "c": 5.0, "task: plan": 4.0, "task: end": 2.0}

    def in_turn(words):
        kept = Log((Entry(date(2023, 1, 1), BEGUN), Entry(date(2023, 1, 2), WISHED, words=words, line=2)))
        found = schedule(rest_of(work(hours=hours), standing_of(kept, LAYOUT), 1.0, 1.0), Means(5.0, 1.0))
        return [
            LAYOUT.network.names[place]
            for place in np.argsort(found.done[0], kind="stable")
            if LAYOUT.network.names[place] in hours
        ]

    assert in_turn("") == ["task: plan", "a", "b", "c", "task: end"]
    assert in_turn("c") == ["task: plan", "c", "a", "b", "task: end"]
    assert in_turn("b; c; a") == ["task: plan", "a", "b", "c", "task: end"]
    assert in_turn("c; b") == ["task: plan", "c", "a", "b", "task: end"]


def test_a_part_accepted_before_its_turn_holds_nobody_up():
    kept = log(("2023-01-01", ACCEPTED, None, "b"))
    rest = rest_of(work(hours={"a": 10.0, "b": 20.0, "c": 5.0}), standing_of(kept, LAYOUT), 1.0, 1.0)
    found = schedule(rest, Means(5.0, 1.0))
    assert at(found.done[0], "b") == 0 and at(found.done[0], "a") == pytest.approx(2) and isinstance(rest.network, Network)


def test_many_builds_keep_their_own_rate():
    rest = rest_of(
        work(hours={"a": 10.0}), standing_of(log(("2023-01-01", BEGUN)), LAYOUT), np.array([0.5, 1.0]), np.array([1.0, 1.0])
    )
    assert rest.hours.shape == (2, len(LAYOUT.network.names)) and rest.hours.max(axis=1).tolist() == [20.0, 10.0]
