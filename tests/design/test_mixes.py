"""The best mixes of a design: in step with the chain, proven against trying all, played through, and what a change is worth."""

import itertools
from dataclasses import replace

import numpy as np
import pytest

from lathe_course.design.asked.mixes import (
    BY_SUMS,
    PROVEN,
    SOONEST,
    WISHES,
    choices_here,
    choose_ways,
    compared,
    frontier_here,
    machines_worth,
    mix_here,
    mixes_here,
    mixes_simulated,
    months_of,
    note_of,
    offers_here,
    soonest_played,
    worth_of_an_hour_a_month,
)
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.planning.mix import WEEKS_IN_A_MONTH, Choices
from lathe_course.planning.parts import BORROW, BUY, HARD, MAKE, OUT
from lathe_course.ranges import Range
from lathe_course.units import InputProblem

every_demo = pytest.mark.parametrize("name", DEMOS)


@pytest.fixture(scope="module")
def shed():
    return evaluate(demo("boat_shed"))


@every_demo
def test_the_sums_of_a_mix_are_those_the_chain_finds_once_it_is_chosen(name):
    design = demo(name)
    e = evaluate(design)
    choices = choices_here(e)
    for mix in (mix_here(e, choices), *mixes_here(e, choices).values()):
        there = evaluate(design.with_ways(**mix.hows))
        assert mix.money == pytest.approx(there["cash_total"], rel=1e-9) and mix.cost == pytest.approx(
            there["cash_in_the_end"], rel=1e-9
        )
        assert mix.hours == pytest.approx(there["own_hours"], rel=1e-9)
        assert mix.weeks / WEEKS_IN_A_MONTH == pytest.approx(there["longest_wait"], rel=1e-9)
        assert there["parts_stuck"] == 0 and mix.borrowed_hours == pytest.approx(there["borrowed_hours"])


def test_prices_practice_and_own_figures_reach_the_mix(shed):
    choices = choices_here(shed)
    dear = choices_here(evaluate(demo("boat_shed").trying(labour_prices=2.0)))
    old = choices_here(evaluate(demo("boat_shed").trying(skill="old hand")))

    def of(given):
        return {(one.part, one.how, bool(one.calls)): one for one in given.choices if one.sort == "part"}

    here, dearer, older = map(of, (choices, dear, old))
    assert all(dearer[key].money > one.money for key, one in here.items() if one.how == OUT)
    assert (
        all(older[key].hours < one.hours for key, one in here.items() if key in older) and len(here.keys() & older.keys()) > 100
    )
    own = evaluate(demo("boat_shed").with_(decided="", redo_share="300 %"))
    assert sum(one.hours for one in choices_here(own).choices) > sum(one.hours for one in choices.choices)


@every_demo
def test_no_mix_among_the_open_ways_of_a_few_parts_beats_the_best(name):
    """Every mix of the six parts with most ways is tried, the others left as they are."""
    e = evaluate(demo(name))
    choices, best = choices_here(e), mixes_here(e)
    free = sorted(
        (part for part, ones in choices.of_part.items() if ones[0].sort == "part"), key=lambda part: -len(choices.of_part[part])
    )[:6]
    worth, company = float(e["hour_cost"]), float(e["company_gain"])
    for wish, figure in (
        ("least money", lambda mix: mix.cost),
        ("fewest own hours", lambda mix: mix.hours),
        ("money and hours together", lambda mix: mix.cost + worth * mix.hours - company * mix.borrowed_hours),
    ):
        kept = [one for one in best[wish].chosen if one.part not in free]
        least = min(figure(choices.mix([*kept, *some])) for some in itertools.product(*(choices.of_part[part] for part in free)))
        assert best[wish].proven and figure(best[wish]) <= least + 0.02


def test_what_is_put_by_shortens_the_wait_for_money_and_nothing_else(shed):
    mix = mixes_here(shed)["least money"]
    rich = evaluate(demo("boat_shed").trying(savings=1e5))
    assert months_of(rich, mix) == pytest.approx(max(mix.hours / float(rich["build_hours_can"]), mix.weeks / WEEKS_IN_A_MONTH))
    assert mixes_here(rich)[BY_SUMS].hours <= mixes_here(shed)[BY_SUMS].hours


def test_the_frontier_falls_is_proven_and_is_worked_out_once(shed):
    line = frontier_here(shed)
    assert len(line) > 10 and all(mix.proven for mix in line)
    assert all(one.cost <= other.cost and one.hours - other.hours >= 10 - 1e-6 for one, other in itertools.pairwise(line[:-1]))
    best = mixes_here(shed)
    assert line[0].cost == pytest.approx(best["least money"].cost, abs=0.02) and line[-1].hours == pytest.approx(
        best["fewest own hours"].hours, abs=0.02
    )
    assert frontier_here(evaluate(replace(demo("boat_shed")))) == line and frontier_here(shed) is line


def test_the_soonest_played_through_is_no_later_than_any_of_those_played(shed):
    tried = [*mixes_here(shed).values(), mix_here(shed)]
    best, months = soonest_played(shed, tried)
    ends = [float(np.squeeze(evaluate(shed.design.with_ways(**mix.hows))["months_to_finish"])) for mix in tried]
    assert months == min(ends) and best in tried


def test_mixes_are_played_with_the_same_luck(shed):
    mix = mix_here(shed)
    one, other = mixes_simulated(shed.design, [mix, mix], 300)
    assert one == other and one.months[0] < one.months[1] and one.money[0] < one.money[1] and 0 <= one.in_time <= 1
    e = evaluate(shed.design, 300)
    assert one.in_time == float(np.mean(e["months_to_finish"] <= e["patience"])), "the chosen mix is the chain's own"


# --- what a change is worth ---------------------------------------------------------------------------------
def test_an_offer_saves_what_it_says_once_it_is_taken(shed):
    offer = offers_here(shed)[0]
    there = evaluate(shed.design.with_ways(**{offer.part: offer.instead}))
    assert shed["own_hours"] - there["own_hours"] == pytest.approx(offer.hours) and there["cash_in_the_end"] - shed[
        "cash_in_the_end"
    ] == pytest.approx(offer.money)
    assert [one.per_hour for one in offers_here(shed)] == sorted(one.per_hour for one in offers_here(shed))


def test_a_machine_is_worth_what_the_best_mix_without_it_costs_more(shed):
    worths = {one.machine: one for one in machines_worth(shed)}
    assert {"surface grinder of the club", "large lathe"} <= worths.keys() and "small mill" not in worths
    lathe = worths["large lathe"]
    assert (
        lathe.value > 0
        and lathe.hours_on_it > 0
        and lathe.value == pytest.approx(lathe.money + float(shed["hour_cost"]) * lathe.hours)
    )
    grinder = worths["surface grinder of the club"]
    without = replace(
        shed.design,
        sheets=replace(
            shed.design.building, machines=tuple(one for one in shed.design.building.machines if "grinder" not in one.name)
        ),
    )
    value = float(shed["hour_cost"])
    ends = [mixes_here(evaluate(design))["money and hours together"] for design in (without, shed.design)]
    assert grinder.value == pytest.approx(ends[0].cost + value * ends[0].hours - ends[1].cost - value * ends[1].hours, abs=0.05)


def test_an_hour_a_month_is_worth_nothing_where_hours_do_not_pinch(shed):
    now, then, worth = worth_of_an_hour_a_month(shed, 600)
    assert worth == 0 and now.money == then.money
    now, then, worth = worth_of_an_hour_a_month(shed, float(shed["months_to_finish"]))
    assert (
        worth > 0
        and then.cost < now.cost
        and now.hours <= float(shed["build_hours_can"]) * float(shed["months_to_finish"]) + 1e-6
    )


# --- choosing -------------------------------------------------------------------------------------------------
def test_ways_are_chosen_with_a_reason_that_goes_when_the_way_does():
    design = choose_ways(demo("boat_shed"), {"spindle": OUT}, "a friend grinds")
    assert design.ways["spindle"] == OUT and design.notes[note_of("spindle")] == "a friend grinds"
    other = choose_ways(design, {"apron": OUT})
    assert note_of("spindle") in other.notes and note_of("apron") not in other.notes
    assert note_of("spindle") not in choose_ways(design, {"spindle": BUY}).notes
    with pytest.raises(InputProblem, match="the spindle cannot be had 'grown'"):
        choose_ways(design, {"spindle": "grown"})


def test_a_part_nobody_can_make_stops_the_mix_with_a_sentence(shed):
    design = replace(shed.design, sheets=replace(shed.design.building, machines=()))
    e = evaluate(design)
    with pytest.raises(InputProblem, match="cannot be had: .* needs "):
        choices_here(e)
    assert mix_here(shed, Choices(tuple(one for one in choices_here(shed).choices if one.how != MAKE))) is None


def test_a_price_of_ones_own_moves_the_mix():
    design = demo("boat_shed")
    cheap = replace(
        design,
        sheets=replace(
            design.building, prices=replace(design.building.prices, outside=Range(0.1, 0.1, 0.1), carriage=Range(0.1, 0.1, 0.1))
        ),
    )
    before, after = (mixes_here(evaluate(one))["least money"] for one in (design, cheap))
    assert before.changes(after) and after.money < before.money
    assert all(how in (OUT, HARD) for _, how in before.changes(after).values()), (
        "only what is paid for by the hour of others is taken more"
    )


@every_demo
def test_the_reasons_move_the_best_mix(name):
    """Who wants only the lathe buys hours off; who wants the building takes more of it home and pays less."""
    wish, design = "money and hours together", demo(name)
    building, having = ("reason_learning", "reason_making", "reason_company"), ("reason_parts", "reason_saving")
    endured = design.trying(**dict.fromkeys(building, 0.0), **dict.fromkeys(having, 5.0))
    enjoyed = design.trying(**dict.fromkeys(building, 5.0), **dict.fromkeys(having, 0.0))
    costly, dear = (mixes_here(evaluate(one))[wish] for one in (endured, enjoyed))
    assert costly.changes(dear) and costly.hours < dear.hours and costly.cost > dear.cost
    at_hand = [
        sum(mix.counts().get(how, 0) for how in (MAKE, BORROW)) for mix in (costly, dear)
    ]  # with one's own hands, here or at the club
    assert at_hand[0] < at_hand[1]


def test_practice_moves_hours_rework_accuracy_and_the_best_mix():
    """In the cabin, where little fits, an old hand's truer work opens ways, and hours at another pace make other ways worth it."""
    first, old = (evaluate(demo("cabin").trying(skill=skill)) for skill in ("first machine", "old hand"))
    assert (
        old["own_hours"] < first["own_hours"]
        and old["rework_factor"] < first["rework_factor"]
        and old["error_factor"] < first["error_factor"]
    )
    opened = {one.way.name for one in old["ways_open"].open_ways} - {one.way.name for one in first["ways_open"].open_ways}
    assert opened and {one.way.name for one in first["ways_open"].open_ways} <= {
        one.way.name for one in old["ways_open"].open_ways
    }
    assert mixes_here(first)["least money"].changes(mixes_here(old)["least money"])


def test_wishes_are_those_that_are_told(shed):
    assert tuple(mixes_here(shed)) == PROVEN and set(WISHES) <= compared(shed).keys()
    told = compared(shed)
    ends = {
        name: float(np.squeeze(evaluate(shed.design.with_ways(**mix.hows))["months_to_finish"])) for name, mix in told.items()
    }
    assert ends[SOONEST] == min(ends.values()), "the button takes what was played through, and that is never later than one's own"


def test_an_hour_in_company_draws_parts_to_the_club():
    """Aboard alone, with company the chief reason, the club's machines are worth going to."""

    def borrowed(share):
        design = demo("cabin").with_(company_share=share, reason_company="5", hour_price="40 EUR/h")
        return mixes_here(evaluate(design))["money and hours together"].borrowed_hours

    assert borrowed("0 %") > borrowed("100 %")
