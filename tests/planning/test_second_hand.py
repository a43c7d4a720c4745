"""Finds: the long tail of a search against its closed form, and what a find costs, by hand."""

import math

import numpy as np
import pytest

from lathe_course.planning.parts import BUY, MAKE, USED, course_parts
from lathe_course.planning.second_hand import FETCHING, course_finds, find_for, waited
from lathe_course.planning.shops import KEEP, LENT, NOT, SELL, course_equipment, hows_of, machines_for_sale

LUCK = (np.random.default_rng(3).permutation(40_000) + 0.5) / 40_000


def test_every_week_of_a_search_has_the_same_chance():
    """Exponential: mean 6 weeks, half found by 6 ln 2, one in ten waits 2.303 times the mean, and a wait already borne says nothing of what is left."""
    weeks = waited(np.array(6.0), LUCK, 0.0, np.zeros(LUCK.size, bool), LUCK[::-1])
    assert weeks.mean() == pytest.approx(6, rel=0.01)
    assert np.quantile(weeks, [0.5, 0.9, 0.99]) == pytest.approx([6 * math.log(2), 6 * math.log(10), 6 * math.log(100)], rel=0.01)
    assert (weeks[weeks > 5] - 5).mean() == pytest.approx(6, rel=0.02)


def test_a_find_of_no_use_is_looked_for_again():
    """One in four: the mean is a quarter longer, and of those who search twice the sum of two searches is that of the gamma distribution."""
    rng = np.random.default_rng(8)
    again, second = rng.random(LUCK.size) < 0.25, rng.random(LUCK.size)
    weeks = waited(np.array(4.0), LUCK, 0.25, again, second)
    assert weeks.mean() == pytest.approx(4 * 1.25, rel=0.02) and waited(np.array(4.0), None, 0.25) == 5
    assert weeks[again].var() == pytest.approx(2 * 4**2, rel=0.05)


def test_a_find_costs_a_share_of_the_average_price_of_new():
    """The motor, by hand: new it is 105 to 180 EUR with 130 likely or the like; a find is 0.2, 0.4 and 0.65 of its average."""
    motor = course_parts()["three-phase motor"]
    new, used, find = motor.way(BUY), motor.way(USED), find_for("three-phase motor")
    average = sum(new.money) / 3
    assert used.material == pytest.approx((0.2 * average, 0.4 * average, 0.65 * average), abs=0.01)
    assert used.carriage.likely == pytest.approx(0.08 * used.material.likely, abs=0.01) and FETCHING.likely == 0.08
    assert used.hours == pytest.approx((1.0, 4.0, 12.0)) and used.weeks == (2, 2, 2) and used.rework == 0.2 == find.no_good


def test_scrap_is_stock_and_leaves_the_work_as_it_is():
    box = course_parts()["bed box"]
    here, scrap = box.way(MAKE), box.way(USED)
    assert scrap.needs == here.needs and scrap.hours.likely == pytest.approx(here.hours.likely + 2.0)
    assert scrap.material.likely == pytest.approx(0.35 * sum(here.material) / 3, abs=0.01)


def test_what_protects_and_what_lifts_is_new_and_what_can_hurt_says_so():
    equipment = {item.name: item for item in course_equipment()}
    for name in ("eye, ear and dust protection", "lifting gear"):
        assert hows_of(equipment[name]) == (BUY,)
    assert find_for("electrics") is None and find_for("covers and chuck shield") is None
    finds = course_finds()
    for sort, words in {
        "motor": ("licensed electrician", "capacitor"),
        "motor control": ("licensed electrician", "charge"),
        "chuck": ("crack", "speed"),
        "headstock": ("asbestos", "hoist"),
        "bed": ("lead", "hoist", "ownership"),
        "machine": ("asbestos", "lead", "electrician", "local rules", "ownership"),
        "tool": ("grinding wheel", "scrap"),
    }.items():
        assert all(word in finds[sort].caution.lower() for word in words), sort
    assert not finds["bearings"].advised and "advises against" in finds["bearings"].look


def test_every_part_and_thing_named_is_one_there_is():
    parts = course_parts().by_name
    assert {part for find in course_finds().values() for part in find.parts} <= parts.keys()
    assert {item.second_hand for item in course_equipment()} <= {*course_finds(), ""}
    assert all(any(way.how == USED for way in parts[part].ways) for find in course_finds().values() for part in find.parts)


def test_a_tool_may_be_new_found_or_lent():
    reamers = next(item for item in course_equipment() if item.name == "reamers")
    used, lent = reamers.by(USED), reamers.by(LENT)
    assert hows_of(reamers) == (BUY, USED, LENT) and reamers.by(BUY) is reamers
    assert used.money.likely == pytest.approx(0.5 * sum(reamers.money) / 3 * 1.08) and used.weeks == 3 and used.no_good == 0.1
    assert lent.money == (0, 0, 0) and lent.hours == 1


def test_a_machine_kept_is_carried_by_later_projects_and_one_sold_is_not():
    mill = next(machine for machine in machines_for_sale() if "mill" in machine.name)
    kept, sold = mill.bought(KEEP), mill.bought(SELL)
    assert hows_of(mill) == (NOT, SELL, KEEP)
    assert kept.money == sold.money == mill.price and kept.other_uses == mill.other_uses and sold.other_uses == 0
    assert sold.hours == kept.hours + 2, "a buyer must be found"
