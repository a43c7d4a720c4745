"""The log of a build: what stands in it, and the work that is left."""
from datetime import date

import numpy as np
import pytest
from demo_build import part, parts

from lathe_course.build.layout import layout
from lathe_course.build.log import ACCEPTED, BEGUN, CHANGED, HOURS, MISSED, MONEY, MOVING, NO_LOG, WITHDRAWN, Entry, Log, in_order
from lathe_course.build.network import Network
from lathe_course.build.rest import rest_of, standing_of
from lathe_course.build.schedule import Means, Work, schedule
from lathe_course.build.tasks import Task
from lathe_course.ranges import Range


def log(*lines):
    return Log(in_order(Entry(date.fromisoformat(day), what, *rest) for day, what, *rest in lines))


def test_without_a_log_nothing_has_happened():
    assert not NO_LOG and NO_LOG.months == 0 and NO_LOG.accepted == {} and NO_LOG.open_items == () and NO_LOG.months_to_move is None


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


# --- what is left --------------------------------------------------------------------------------------
TASKS = (Task("plan", (), Range(4, 4, 4)), Task("t", ("plan",), None), Task("end", ("t",), Range(2, 2, 2)))
LAYOUT = layout(parts(part("a"), part("b", after="a"), part("c")), TASKS)


def work(**figures):
    nodes = LAYOUT.network.names
    made = {name: np.array([table.get(node, 0.0) for node in nodes]) for name, table in figures.items()}
    zero = np.zeros(len(nodes))
    return Work(LAYOUT.network, made["hours"], made.get("money", zero), made.get("lead", zero), zero, np.arange(len(nodes), dtype=float))


def at(values, node):
    return values[LAYOUT.network.names.index(node)]


def test_parts_and_tasks_are_found_and_what_the_plan_does_not_have_is_told():
    kept = log(("2023-01-01", ACCEPTED, None, "plan"), ("2023-01-02", ACCEPTED, None, "a"), ("2023-01-03", HOURS, 7.0, "b"), ("2023-01-04", HOURS, 1.0, "lamp"))
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
    assert at(rest.hours, "a") == 0 and at(rest.hours, "b") == 40 and at(rest.hours, "c") == 10 and at(rest.hours, "task: end") == 4
    assert at(rest.order, "a") < at(rest.order, "b") < min(at(rest.order, name) for name in ("c", "task: plan", "task: end")), "what is begun comes next"


def test_what_is_paid_need_not_be_paid_again_and_a_wait_runs_on():
    kept = log(("2023-01-01", BEGUN), ("2023-01-31", MONEY, 30.0, "b"), ("2023-03-02", HOURS, 1.0, "c"))
    rest = rest_of(work(hours={"b": 1.0}, money={"b": 40.0, "c": 20.0}, lead={"b": 3.0, "c": 2.0}), standing_of(kept, LAYOUT), 1.0, 0.5)
    assert at(rest.money, "b") == 50 and at(rest.money, "c") == 40
    assert at(rest.lead, "b") == pytest.approx(3 - 30 / (365.25 / 12)) and at(rest.lead, "c") == 2


def test_a_part_accepted_before_its_turn_holds_nobody_up():
    kept = log(("2023-01-01", ACCEPTED, None, "b"),)
    rest = rest_of(work(hours={"a": 10.0, "b": 20.0, "c": 5.0}), standing_of(kept, LAYOUT), 1.0, 1.0)
    found = schedule(rest, Means(5.0, 1.0))
    assert at(found.done[0], "b") == 0 and at(found.done[0], "a") == pytest.approx(2) and isinstance(rest.network, Network)


def test_many_builds_keep_their_own_rate():
    rest = rest_of(work(hours={"a": 10.0}), standing_of(log(("2023-01-01", BEGUN)), LAYOUT), np.array([0.5, 1.0]), np.array([1.0, 1.0]))
    assert rest.hours.shape == (2, len(LAYOUT.network.names)) and rest.hours.max(axis=1).tolist() == [20.0, 10.0]
