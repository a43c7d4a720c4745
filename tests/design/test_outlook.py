"""Looking ahead: one thing made easy at a time, the purse, the chain that held the work up, and the sums against the draws."""

import itertools

import numpy as np
import pytest
from cases import every

from lathe_course.design.asked import outlook
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.planning.network import Network
from lathe_course.units import InputProblem

each = every("name", DEMOS)


@each
def test_nothing_made_easy_is_the_build_as_it_stands(name):
    e = evaluate(demo(name), 100)
    assert outlook.with_eased(e).end == pytest.approx(e["build_schedule"].end)
    assert outlook.with_eased(e, should=True).end == pytest.approx(e["build_schedule_should"].end)


@each
def test_what_is_made_easy_is_what_a_design_of_that_kind_would_be(name):
    design = demo(name)
    e = evaluate(design)
    # the hours of moving house stay the same, so it is held where nobody moves
    settled = design.trying(home="settled")
    more = evaluate(settled.trying(hours_can=design["hours_can"] * 1.2))
    assert outlook.with_eased(evaluate(settled), hours=1.2).end[0] == pytest.approx(more["months_to_finish"])
    there = evaluate(design.trying(months_away="none"))
    assert outlook.with_eased(e, away=False).end[0] == pytest.approx(there["months_to_finish"])


@each
def test_the_chain_runs_without_a_gap_from_the_start_to_the_end(name):
    e = evaluate(demo(name))
    links = outlook.held_up(e)
    assert links[0].begins == 0 and links[-1].ends == pytest.approx(e["months_to_finish"])
    assert all(one.ends == pytest.approx(other.begins) and one.ends > one.begins for one, other in itertools.pairwise(links))
    assert {one.why for one in links} <= {"hands", "money", "delivery", "borrowed machine"}


def test_with_money_no_object_the_chain_is_one_of_hands_and_deliveries():
    links = outlook.held_up(evaluate(demo("cabin").trying(money_can=1e6)))
    assert "money" not in {one.why for one in links} and links[0].begins == 0


@each
def test_the_time_of_the_hands_adds_up_to_the_end(name):
    """A borrowed machine may run on after the hands have done their share, so a hair may be missing."""
    e = evaluate(demo(name))
    spent = outlook.hands_time(e)
    assert sum(spent.values()) == pytest.approx(e["months_to_finish"], rel=0.01) and min(spent.values()) >= 0


@each
def test_the_likely_figures_added_up_are_less_than_the_average(name):
    e = evaluate(demo(name), 400)
    assert 0.7 < outlook.likely_money(e) / e["cash_average"] < 0.95
    assert (e["cash_total"] <= outlook.likely_money(e)).mean() < 0.25


def test_a_month_has_its_name_and_its_year():
    e = evaluate(demo("boat_shed"))  # begins in September
    assert [outlook.month_name(e, months) for months in (0, 3.9, 4, 12, np.inf)] == [
        "September of year 1",
        "December of year 1",
        "January of year 2",
        "September of year 2",
        "never",
    ]


def test_money_that_never_suffices_stops_the_build_and_nothing_else():
    """Hardly any money: what needs none is done, the rest is never."""
    e = evaluate(demo("cabin").trying(money_can=1.0), 50)
    assert np.isinf(e["months_to_finish"]).all() and np.isinf(e["months_of_money"]).all()
    node = e["build_layout"].milestones["specification signed"]
    assert np.isfinite(e["build_schedule"].done_by((node,))).all()
    sentences = [e.findings[name].sentence for name in ("finished_in_time", "milestones_often")]
    assert all("never" in sentence and "–" not in sentence for sentence in sentences)
    assert outlook.held_up(e) == ()


@every(
    "changes, said",
    [
        ({"hours_can": "0 h/month"}, "more than zero"),
        ({"money_can": "0 EUR/month"}, "more than zero"),
        ({"session_hours": "0 h"}, "more than zero"),
        ({"first_month": "13"}, "12"),
        ({"months_away": "Smarch"}, "no month"),
        (
            {"months_away": "January, February, March, April, May, June, July, August, September, October, November, December"},
            "leave at least one",
        ),
        ({"currency": "12 EUR"}, "without figures"),
        ({"currency": "a very long name of money"}, "12 letters"),
        ({"confidence": "100 %"}, "less than 100"),
        ({"savings": {"low": "300 EUR", "likely": "200 EUR", "high": "400 EUR"}}, "must rise"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(changes, said):
    with pytest.raises(InputProblem, match=said):
        demo("boat_shed").with_(decided="", **changes)


def test_the_simulation_with_plenty_of_all_is_the_longest_chain_of_the_network():
    """With hands, money and machines for everything only the order and the deliveries are left: two programs of ours agree."""
    e = evaluate(demo("boat_shed"), 60)
    alone = outlook.with_eased(e, hours=outlook.PLENTY, money=outlook.PLENTY, evenings=0.0, away=False)
    network: Network = e["build_work"].network
    arrived = np.broadcast_to(e["build_work"].lead, alone.done.shape)
    # a delivery is ordered at the start and runs beside the work: what waits for it waits for the longest before it
    reached = np.zeros_like(arrived)
    for task, before in enumerate(network.before):
        reached[:, task] = np.maximum(arrived[:, task], reached[:, list(before)].max(axis=-1, initial=0.0))
    assert alone.end == pytest.approx(reached.max(axis=-1), abs=1e-4)
