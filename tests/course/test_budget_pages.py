"""Chapters 11 and 12: their pages say what the chain says, in the learner's own money and months."""

import itertools
import re
from statistics import NormalDist

import numpy as np
import pytest
from cases import every

from lathe_course.course import open_chapter
from lathe_course.course.pages import PAGES
from lathe_course.course.shown.money import split_of
from lathe_course.design.asked.outlook import longest_chain, purse_of
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.units import InputProblem

BUDGET = ("money_split", "why_the_list_is_too_low", "purse_beside_bills", "spared")
TIMESCALE = ("milestones_by_date", "odds_of_being_done", "what_governs", "what_held_it_up")


@every("name", DEMOS)
@every("page", (*BUDGET, *TIMESCALE))
def test_every_demo_has_every_page(name, page):
    told = PAGES[page](evaluate(demo(name)))
    assert "<table>" in told.markup and re.search(r"\d", told.plain)
    assert not re.search(r"\bnan\b|\binf\b|None", told.plain)


@pytest.mark.parametrize("page", (*BUDGET, *TIMESCALE))
def test_a_build_without_money_is_told_in_sentences(page):
    """The money never comes together: no page may fail, and none may promise a date."""
    told = PAGES[page](evaluate(demo("cabin").trying(money_can=1.0, money_should=1.0))).plain
    assert not re.search(r"\bnan\b|\binf\b|10\^", told)
    if page in ("purse_beside_bills", "what_held_it_up", "milestones_by_date", "odds_of_being_done", "what_governs"):
        assert re.search(r"never|for good", told)


def test_the_page_of_the_purse_says_when_it_stops_and_what_would_mend_it():
    told = PAGES["purse_beside_bills"](evaluate(demo("cabin").trying(money_can=1.0))).plain
    assert re.search(r"month 1\d, \w+ of year \d", told) and "stops there for good" in told and "more put by at the start" in told
    assert "never wait" in PAGES["purse_beside_bills"](evaluate(demo("boat_shed").trying(money_can=1000.0))).plain


def test_money_that_never_suffices_says_in_which_month_it_stops_and_promises_nothing():
    told = PAGES["purse_beside_bills"](evaluate(demo("boat_shed").trying(money_can=1.0, money_should=1.0))).plain
    assert (
        re.search(r"month \d[\d.]*, \w+ of year \d", told)
        and "stops there for good" in told
        and "a month in place of 1 EUR" in told
    )
    assert "saving for" not in told and "– months" not in told, "nobody saves for centuries"


@pytest.mark.parametrize("name", DEMOS)
def test_what_is_said_to_mend_an_empty_purse_mends_it(name):
    """The sums of the page, followed to the letter: with either of them the purse is never empty."""
    e = evaluate(demo(name).trying(money_can=40.0))
    told = PAGES["purse_beside_bills"](e).plain
    start, month = re.search(r"(\d+) EUR more put by", told)[1], re.search(r"(\d+) EUR a month in place of 40 EUR", told)[1]
    assert np.isfinite(purse_of(e).empty[0])
    for change in ({"savings": float(e["savings"]) + float(start)}, {"money_can": float(month)}):
        assert np.isinf(purse_of(evaluate(e.design.trying(**change))).empty[0])


def test_saving_beforehand_takes_the_missing_sum_by_what_comes_in_a_month():
    """2180 EUR at 150 EUR a month are 14.5 months, told with two figures."""
    told = PAGES["purse_beside_bills"](evaluate(demo("shared_barn"))).plain
    sum_, income, months = (
        float(found)
        for found in re.search(r"(\d+) EUR more put by .* in place of (\d+) EUR; saving for ([\d.]+) months", told).groups()
    )
    assert months == pytest.approx(sum_ / income, rel=0.05)


def test_money_is_called_by_the_learner_s_name_and_nothing_is_converted():
    euro, other = (evaluate(demo("boat_shed").with_(currency=name, decided="")) for name in ("EUR", "crowns"))
    for page in BUDGET:
        plain, renamed = PAGES[page](euro).plain, PAGES[page](other).plain
        assert "crowns" in renamed and "EUR" not in renamed
        assert re.findall(r"\d[\d.]*", plain) == re.findall(r"\d[\d.]*", renamed)
    assert "&lt;b&gt;" in PAGES["money_split"](evaluate(demo("boat_shed").with_(currency="<b>", decided=""))).markup


@pytest.mark.parametrize("name", DEMOS)
def test_the_parts_of_the_sum_add_up(name):
    e = evaluate(demo(name), 50)
    assert sum(split_of(e).values()) == pytest.approx(e["cash_total"])


def test_what_suffices_does_so_as_often_as_was_asked():
    rows = PAGES["why_the_list_is_too_low"](evaluate(demo("boat_shed"))).plain.splitlines()
    shares = [int(re.search(r"(\d+)%$", row)[1]) for row in rows[1:4]]
    assert shares[0] < 25 and 40 < shares[1] < 60 and shares[2] == pytest.approx(80, abs=1)


def test_the_textbook_s_chain_is_shorter_than_the_build_and_its_steps_wait_for_each_other():
    e = evaluate(demo("boat_shed"), 300)
    chain, mean, spread, odds = longest_chain(e, 24.0)
    network = e["build_work"].network
    places = [network.names.index(name) for name in chain]
    assert all(one in network.before[other] for one, other in itertools.pairwise(places))
    assert 0 < spread < mean < np.median(e["months_to_finish"])
    assert odds == pytest.approx(NormalDist(mean, spread).cdf(24.0), abs=1e-6)


def test_what_one_should_stands_beside_what_one_can_with_its_reason():
    """Hours and money each by themselves, then both, as the chain has it; and no reason is made up."""
    e = evaluate(demo("boat_shed"))
    told = PAGES["what_governs"](e).plain
    assert "the launches must not wait for the lathe" in told and e.findings["finished_in_balance"].sentence in told
    ends = [float(re.search(rf"^{row} .*/month +([\d.]+)", told, re.MULTILINE)[1]) for row in ("hours", "money")]
    both = float(re.search(r"both +([\d.]+)", told)[1])
    assert (
        both == pytest.approx(float(e["months_to_finish_should"]), rel=5e-3)
        and float(e["months_to_finish"]) < min(ends) <= max(ends) <= both + 0.05
    )
    assert (
        "no reason written yet"
        in PAGES["what_governs"](evaluate(demo("boat_shed").with_(decided="", money_should="90 EUR/month"))).plain
    )


def test_odds_by_a_month_one_asks_for():
    e = evaluate(demo("boat_shed"))
    assert "odds by month 60" in PAGES["odds_of_being_done"](e, by="60 months").plain
    with pytest.raises(InputProblem, match="by"):
        PAGES["odds_of_being_done"](e, by="soon")
    with pytest.raises(InputProblem, match="ahead"):
        PAGES["odds_of_being_done"](e, by="-3 months")
    with pytest.raises(InputProblem, match="number of rows"):
        PAGES["spared"](e, most="many")


def test_pages_follow_what_is_kept(nowhere):
    chapter = open_chapter("12")
    shown = chapter.show("what_governs")
    before = repr(shown)
    chapter.keep(hours_can="40 h/month", because="the sailing is over")
    assert repr(shown) != before
