"""The build on a log: earned value by hand, the forecast, and the signs of falling asleep."""

from datetime import date, timedelta

import numpy as np
import pytest
from cases import every

from lathe_course.design.asked.on_course import to_order
from lathe_course.design.chain.entries import Limit
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.progress_log import invented_log
from lathe_course.planning.log import ACCEPTED, BEGUN, CHANGED, HOURS, MISSED, MONEY, MOVING, Entry, Log, in_order

START = date(2023, 9, 1)


def on(*lines, months=None, start="boat_shed", draws=None):
    """A demo with a log; lines are (months from the beginning, what, ...)."""
    entries = [Entry(START, BEGUN)] + [Entry(START + timedelta(days=round(month * 365.25 / 12)), *rest) for month, *rest in lines]
    if months is not None:
        entries.append(Entry(START + timedelta(days=round(months * 365.25 / 12)), "note"))
    return evaluate(demo(start).with_log(Log(in_order(entries))), draws)


def planned(name):
    e = evaluate(demo())
    return e["build_work"].hours[e["build_layout"].network.names.index(name)]


@pytest.mark.parametrize("start", DEMOS)
def test_without_a_log_nothing_is_asked_and_the_forecast_is_the_plan(start):
    e = evaluate(demo(start))
    assert e["months_to_go"] == e["months_to_finish"] == e["months_forecast"] and e["hours_rate"] == pytest.approx(
        e["first_rate_here"]
    )
    for finding in (one for one in e.findings.values() if one.chapter == "16"):
        assert finding.status == "open" and finding.sentence.startswith(finding.rule.unasked)


@pytest.mark.parametrize("start", DEMOS)
def test_the_plan_is_the_timescale(start):
    e = evaluate(demo(start))
    assert e["hours_budget"] == pytest.approx(e["own_hours"]) and e["plan_money"].sum() == pytest.approx(e["cash_total"])
    done = on(months=e["months_to_finish"] + 0.1, start=start)
    assert done["hours_due"] == pytest.approx(done["hours_budget"]), "by the end of the plan all was to be earned"


def test_a_part_half_finished_earns_nothing_and_an_accepted_one_its_plan():
    e = on((1, HOURS, 9.0, "bed box"), (2, ACCEPTED, None, "bed box"), (3, HOURS, 20.0, "bed plate"))
    assert e["hours_worked"] == 29 and e["hours_earned"] == pytest.approx(planned("bed box"))
    assert e["hours_rate"] == pytest.approx((planned("bed box") + 60 * e["first_rate_here"]) / (29 + 60))
    assert e["hours_to_come"] == pytest.approx((e["hours_budget"] - planned("bed box")) / e["hours_rate"])


@pytest.mark.parametrize("start", DEMOS)
def test_the_likely_hours_are_those_of_the_lists(start):
    """Added up from the rows themselves; the plan lies above, for it holds what is made again."""
    e = evaluate(demo(start))
    rows = [e["building"].parts[one.way.part].way(one.way.how) for one in e["ways_chosen"]]
    by_hand = sum(row.hours.likely * growth for row, growth in zip(rows, np.broadcast_to(e["part_growth"]["hours"], len(rows))))
    by_hand += sum(task.hours.likely for task in e["building"].tasks if task.hours)
    assert e["likely_hours"] == pytest.approx(by_hand * e["own_pace"]) and 1.05 < e["hours_budget"] / e["likely_hours"] < 1.4


def test_hours_a_month_leave_the_months_away_out():
    """Six months from March to August hold five usual ones; 60 h in them, with 2 months of the plan."""
    lines = [(6 + number, HOURS, 12.0, "bed plate") for number in (0.5, 1.5, 2.5, 3.5, 4.5)]
    e = on(*lines, months=12)
    assert e["hours_a_month"] == pytest.approx((60 + 2 * e["build_hours_can"]) / (5 + 2), rel=0.01)


def test_slower_hours_and_dearer_things_move_the_end():
    quick = on((1, HOURS, 10.0, "purpose and specification"), (2, ACCEPTED, None, "purpose and specification"), months=6)
    slow = on((1, HOURS, 40.0, "purpose and specification"), (2, ACCEPTED, None, "purpose and specification"), months=6)
    assert slow["hours_rate"] < quick["hours_rate"] and slow["hours_to_come"] > quick["hours_to_come"]
    dear = on((1, MONEY, 1500.0, "prices and orders"), (2, ACCEPTED, None, "prices and orders"), months=6)
    fair = on((1, MONEY, 800.0, "prices and orders"), (2, ACCEPTED, None, "prices and orders"), months=6)
    assert dear["price_rate"] < fair["price_rate"] and dear["money_to_come"] > fair["money_to_come"]


def test_all_accepted_is_done():
    e = evaluate(demo())
    names = [
        name.removeprefix("task: ")
        for name, hours, money in zip(e["build_layout"].network.names, e["build_work"].hours, e["build_work"].money)
        if hours or money
    ]
    done = on(*((12, ACCEPTED, None, name) for name in dict.fromkeys(names)), months=20)
    assert done["share_done"] == pytest.approx(1) and done["months_to_go"] == 0 and done["months_since_accepted"] == 0
    assert done["money_to_come"] == 0


def test_the_fan_narrows_as_parts_are_accepted():
    log = invented_log()
    wide, narrow = (evaluate(demo().with_log(log.until(months)), 400).spread("hours_rate") for months in (3, 14))
    assert wide[2] - wide[0] > narrow[2] - narrow[0]


def test_the_forecast_of_the_invented_log_lies_in_its_own_fan():
    one, many = evaluate(demo().with_log(invented_log())), evaluate(demo().with_log(invented_log()), 800)
    low, _, high = many.spread("months_forecast", (0.02, 0.5, 0.98))
    assert low < one["months_forecast"] < high


def test_a_swept_decision_gives_what_single_values_give():
    design = demo().with_log(invented_log())
    values = np.array([10.0, 20.0, 30.0])
    swept = evaluate(design.trying(hours_can=values))
    for place, value in enumerate(values):
        one = evaluate(design.trying(hours_can=float(value)))
        for name in ("months_forecast", "money_forecast", "hours_rate", "hours_due", "hours_a_month"):
            assert np.broadcast_to(swept[name], 3)[place] == pytest.approx(one[name]), name


# --- signs -----------------------------------------------------------------------------------------------
BOX = [(0.5, HOURS, 5.0, "bed box"), (1, ACCEPTED, None, "bed box")]
SIGNS = [
    ("parts_keep_coming", BOX, {"months": 2.5}, "holds"),
    ("parts_keep_coming", BOX, {"months": 3.5}, "tight"),
    ("parts_keep_coming", BOX, {"months": 5.5}, "fails"),
    ("money_keeps_step", [*BOX, (1, MONEY, 60.0, "bed box")], {}, "holds"),
    ("money_keeps_step", [*BOX, (1, MONEY, 160.0, "bed box")], {}, "fails"),
    ("money_keeps_step", [(1, MONEY, 60.0, "bed box")], {}, "fails"),
    ("specification_stands_still", [*BOX, *((2 + one, CHANGED) for one in (0, 1, 2))], {"months": 6.4}, "holds"),
    ("specification_stands_still", [*BOX, *((2 + one / 2, CHANGED) for one in range(8))], {"months": 6.4}, "fails"),
    (
        "specification_stands_still",
        [*((0.1 * one, CHANGED) for one in range(8)), (1, HOURS, 3.0, "purpose and specification")],
        {},
        "holds",
    ),
    *(
        (
            "few_parts_open",
            [(1, HOURS, 1.0, name) for name in ("bed box", "bed plate", "spindle", "saddle", "cross-slide", "toolpost")[:many]],
            {},
            status,
        )
        for many, status in ((4, "holds"), (5, "tight"), (6, "fails"))
    ),
    *(
        ("sessions_are_kept", [*BOX, *((1.2 + 0.2 * one, MISSED) for one in range(many))], {}, status)
        for many, status in ((1, "holds"), (2, "tight"), (3, "fails"))
    ),
    ("bed_before_a_move", [*BOX, (1, MOVING, 4.0)], {}, "fails"),
    ("bed_before_a_move", [*BOX, (1, MOVING, 9.0)], {}, "holds"),
    (
        "bed_before_a_move",
        [
            (1, ACCEPTED, None, name)
            for name in ("bed box", "bed plate", "end plates and feet", "mineral fill of the bed", "stand")
        ]
        + [(1, MOVING, 4.0)],
        {},
        "holds",
    ),
]


@every("name, lines, more, status", SIGNS)
def test_a_sign_is_seen_in_time(name, lines, more, status):
    finding = on(*lines, **more).findings[name]
    assert isinstance(finding.rule, Limit) and finding.status == status, finding


def test_patience_and_budget_are_held_against_the_forecast():
    findings = evaluate(demo().with_log(invented_log())).findings
    assert (
        findings["finished_in_time"].status == "fails"
        and findings["log_within_budget"].status == "holds"
        and findings["few_parts_open"].status == "tight"
    )


def test_the_build_that_falls_asleep_shows_it():
    """Every sign but the money in all; what the plan does not have is in none of the lines."""
    e = evaluate(demo("cabin").with_log(invented_log("cabin")))
    fails = {finding.name for finding in e.findings_of("16") if finding.status == "fails"}
    assert {
        "parts_keep_coming",
        "money_keeps_step",
        "specification_stands_still",
        "few_parts_open",
        "sessions_are_kept",
        "bed_before_a_move",
    } <= fails
    assert e["log_standing"].strange == ()


def test_what_is_waited_for_is_ordered_so_much_before_it_is_taken_in_hand():
    """The wait of a part is that of its way; nothing has happened yet, so none of it is over."""
    e = evaluate(demo("boat_shed"))
    waits = {part.name: float(wait) for part, wait in zip(e["parts_list"], np.ravel(e["part_wait"]))}
    found = {name: begun - latest for name, begun, latest in to_order(e) if name in waits}
    assert len(found) > 30 and min(found.values()) > 0.2
    assert found == pytest.approx({name: waits[name] for name in found})
