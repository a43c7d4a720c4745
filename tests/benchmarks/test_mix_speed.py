"""How long the best mix takes, against trying every mix of a few parts, and the figures of many builds, against one at a time."""

import itertools
import sys
from pathlib import Path

import numpy as np
import pytest
from clock import best as best_time
from clock import told

from lathe_course.design.asked.mixes import choices_here
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.planning.feasible import feasible
from lathe_course.planning.mix import NONE, Choices, Wish, best, frontier
from lathe_course.planning.scaling import columns, growth, logs_of, scaled

sys.path.insert(0, str(Path(__file__).parents[1] / "planning"))
from demo_build import PARTS, SHED, STAGES, choices

pytestmark = pytest.mark.benchmark

SHED_CHOICES = choices()
FEW = 10  # parts of which every mix is tried


def by_trying_all(given):
    """Least money over every mix, in plain loops."""
    least = np.inf
    price = {one.part: one.money for one in given.choices if one.sort == "tool" and one.how != NONE}
    for chosen in itertools.product(*(ones for ones in given.of_part.values() if ones[0].sort == "part")):
        tools = set().union(*(call for one in chosen for call in one.calls))
        least = min(least, sum(one.money for one in chosen) + sum(price[tool] for tool in tools))
    return least + given.fixed_money


def most_ways(count):
    """The parts with the most ways."""
    names = [part for part, ones in SHED_CHOICES.of_part.items() if ones[0].sort == "part"]
    parts = sorted(names, key=lambda part: -len(SHED_CHOICES.of_part[part]))[:count]
    return Choices(
        tuple(one for one in SHED_CHOICES.choices if one.part in parts or one.sort == "tool"), SHED_CHOICES.fixed_money
    )


def test_all_44_parts_are_mixed_before_every_mix_of_ten_has_been_tried(capsys):
    few = most_ways(FEW)
    mixes = np.prod([len(ones) for ones in few.of_part.values() if ones[0].sort == "part"])
    assert abs(best(few, Wish(money=1)).money - by_trying_all(few)) < 0.02
    whole, tried = best_time(lambda: best(SHED_CHOICES, Wish(money=1, hours=5)), lambda: by_trying_all(few), rounds=3)
    told(
        capsys,
        f"best mix of 44 parts, proven: {1000 * whole:.0f} ms; every one of {mixes:.0f} mixes of {FEW} parts takes {tried / whole:.1f} times as long",
    )
    assert whole < tried


def test_finds_and_machines_for_sale_make_the_best_mix_little_harder(capsys):
    """Every part new or second-hand, tools new or second-hand, three machines to buy or leave: three times the bare mix is where something would be wrong."""
    whole = choices_here(evaluate(demo("boat_shed")))
    mix = best(whole, Wish(money=1))
    assert mix.proven and len(whole.choices) > 150
    all_of_it, bare = best_time(
        lambda: best(whole, Wish(money=1, hours=5)), lambda: best(SHED_CHOICES, Wish(money=1, hours=5)), rounds=5
    )
    told(
        capsys,
        f"best mix of {len(whole.parts)} parts and things, {len(whole.choices)} ways, proven: {1000 * all_of_it:.0f} ms, {all_of_it / bare:.1f} times the mix of new parts alone",
    )
    assert all_of_it < 3 * bare


def test_a_mix_of_the_frontier_takes_little_longer_than_a_mix_without_bounds(capsys):
    """Bounds on hours make a mix harder to prove; ten times is where something would be wrong."""
    found = frontier(SHED_CHOICES)
    whole, one = best_time(lambda: frontier(SHED_CHOICES), lambda: best(SHED_CHOICES, Wish(money=1, hours=5)), rounds=2)
    told(
        capsys,
        f"frontier of {len(found)} mixes, each proven: {1000 * whole:.0f} ms, {whole / one / len(found):.1f} times one mix without bounds each",
    )
    assert whole < 10 * len(found) * one


def test_which_ways_are_open_costs_less_than_a_mix(capsys):
    found, mixed = best_time(lambda: feasible(PARTS, SHED, STAGES), lambda: best(SHED_CHOICES, Wish(money=1)), rounds=5)
    told(capsys, f"ways of 44 parts held against a shop: {1000 * found:.2f} ms, {mixed / found:.1f} times quicker than a mix")
    assert found < 2 * mixed


def test_two_thousand_sizes_in_one_pass(capsys):
    of, heights = columns(PARTS), np.linspace(0.05, 0.11, 2000)
    some = heights[:10]
    swept, one_by_one = best_time(
        lambda: growth(of, logs_of({"centre_height": heights, "between_centres": 0.3})),
        lambda: [scaled(PARTS, {"centre_height": float(height), "between_centres": 0.3}) for height in some],
        rounds=3,
    )
    ratio = one_by_one / len(some) / (swept / len(heights))
    told(capsys, f"all ways at 2000 sizes: {1000 * swept:.0f} ms, {ratio:.0f} times quicker than list by list")
    assert ratio > 10
