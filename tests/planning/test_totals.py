"""The notes of the trade add up five ways to build the demo machine; our tables must come to the same, or say why not.

Hours, money and weeks of the parts are the same figures, so they must agree to the last digit:
what was put right (stand-ins, a flange for a threaded nose, larger discs for change wheels)
moves none of them.  The spread of hours and the cash are sums over
many builds, which the notes worked out with a model of their own; 8 per cent is allowed there.
"""

import numpy as np
import pytest
from demo_build import HOURS_BESIDE, PARTS, STAGES, WORKSHOPS, choices, shop_of
from later import Later

from lathe_course.design.lathe import LATHE
from lathe_course.planning import shops, tasks
from lathe_course.planning.feasible import feasible
from lathe_course.planning.mix import soonest
from lathe_course.planning.parts import BORROW, BUY, HARD, MAKE, OUT
from lathe_course.ranges import Range, sample

ndtr = Later("scipy.special", "ndtr")

#: approach -> ways in order of preference; likely hours, hours of half of all builds and of one in ten at each end; money low, likely, high; weeks
TOLD = {
    "all at home": ((MAKE, BUY), 479, (466, 575, 706), (891, 1406, 2233), 2, 3276, 2296),
    "hard faces outside, rest at home": ((HARD, MAKE, BUY), 373, (356, 441, 536), (1563, 2393, 3853), 5, 4317, 3258),
    "borrowed where possible": ((BORROW, MAKE, BUY), 393.5, (374, 459, 557), (908, 1440, 2293), 5, 3170, 2238),
    "bought where sold, hard faces outside": ((BUY, HARD, MAKE, OUT), 271, (252, 315, 387), (1803, 2837, 4780), 5, 4750, 3635),
    "everything outside or bought": ((OUT, BUY, MAKE, BORROW), 177, (162, 203, 251), (3621, 5466, 8861), 7, 7582, 6264),
}
DRAWS = 20_000


def chosen(preference):
    """The first way of each part that the table has; whether anybody could work it here is not asked."""
    return [next(part.way(how) for how in preference if any(way.how == how for way in part.ways)) for part in PARTS]


def many_builds(ways, rng, beside=True):
    """Hours and money of many builds: half of each doubt is shared by all parts, for a slow hand is slow everywhere; rework by chance."""
    shared = rng.standard_normal((2, DRAWS))

    def draw(range_, place):
        mixed = np.sqrt(0.5) * shared[place] + np.sqrt(0.5) * rng.standard_normal(DRAWS)
        return sample(range_, ndtr(mixed))

    hours = money = np.zeros(DRAWS)
    for way in ways:
        own = draw(way.hours, 0)
        again = (rng.random(DRAWS) < way.rework) * sample(LATHE.figures["redo_share"].standard(), rng.random(DRAWS))
        hours, money = hours + own * (1 + again), money + draw(way.money, 1)
    if beside:
        for task in tasks.course_tasks():
            if task.hours:
                hours = hours + draw(task.hours, 0)
    return hours, money


# --- the sums of the parts ------------------------------------------------------------------------------------
@pytest.mark.parametrize("approach", TOLD)
def test_likely_hours_money_and_lead_add_up_as_told(approach):
    preference, hours, _, money, weeks, *_ = TOLD[approach]
    ways = chosen(preference)
    assert sum(way.hours.likely for way in ways) + HOURS_BESIDE == pytest.approx(hours)
    assert Range(*(sum(ends) for ends in zip(*(way.money for way in ways)))) == pytest.approx(money)
    assert max(way.weeks.likely for way in ways) == weeks


@pytest.mark.parametrize("approach", TOLD)
def test_hours_of_many_builds_spread_as_told(approach):
    """8 per cent: the notes do not tell how they drew."""
    preference, _, told, *_ = TOLD[approach]
    hours, _ = many_builds(chosen(preference), np.random.default_rng(11))
    assert np.percentile(hours, [10, 50, 90]) == pytest.approx(told, rel=0.08)


@pytest.mark.parametrize("approach", TOLD)
def test_cash_and_what_is_charged_come_near_what_was_told(approach):
    """Cash in half of all builds and the likely charge, both with the whole kit but welding and later accessories: 9 per cent.

    Scrapers, boring bar, gear cutters, keyway tool and the left-hand tap are bought here only where a way
    calls for them; the notes bought some of them in every case, which is where most of the difference lies.
    """
    preference, *_, cash, charged = TOLD[approach]
    ways = chosen(preference)
    kit = [
        item
        for item in shops.course_equipment()
        if item.sort != "later accessory" and (not item.serves or any(item.serves_way(way) for way in ways))
    ]
    rng = np.random.default_rng(5)
    _, money = many_builds(ways, rng, beside=False)
    paid = money + sum(sample(item.money, rng.random(DRAWS)) for item in kit)
    assert np.median(paid) == pytest.approx(cash, rel=0.09)
    assert sum(way.money.likely for way in ways) + sum(item.charged.likely for item in kit) == pytest.approx(charged, rel=0.09)


# --- six workshops ------------------------------------------------------------------------------------------------
#: parts by way, as the notes found them for the plan that is done soonest: here, hard faces outside, outside, bought, borrowed
TOLD_MIX = {
    "kitchen table, hand tools": (14, 4, 12, 14, 0),
    "shed with bench drill and small mill": (32, 2, 1, 9, 0),
    "full machine shop": (29, 0, 0, 15, 0),
    "club, two evenings a week": (4, 0, 0, 4, 36),
    "aboard a canal boat": (14, 4, 12, 14, 0),
    "two friends pooling": (24, 2, 0, 6, 12),
}
WORKSHOP = pytest.mark.parametrize("workshop", WORKSHOPS, ids=lambda one: one["name"])


@WORKSHOP
def test_every_workshop_can_build_it_and_its_soonest_plan_is_the_one_told(workshop):
    """Two parts may come by another way: tools are paid for here, and the notes did not count stand-ins."""
    given = choices(shop=shop_of(workshop))
    mix = soonest(given, workshop["hours"][1], workshop["money"][1])
    found = [mix.counts().get(how, 0) for how in (MAKE, HARD, OUT, BUY, BORROW)]
    assert sum(abs(have - told) for have, told in zip(found, TOLD_MIX[workshop["name"]])) <= 4
    assert mix.proven and sum(mix.counts().values()) == 44


@WORKSHOP
def test_hours_cash_and_months_of_each_workshop_come_near_what_was_told(workshop):
    """Half of all builds: hours within 8 per cent, cash within 10, which leave the months inside a seventh."""
    shop = shop_of(workshop)
    mix = soonest(choices(shop=shop), workshop["hours"][1], workshop["money"][1])
    ways = [PARTS[part].way(how) for part, how in mix.hows.items() if part in PARTS.by_name]
    rng = np.random.default_rng(2)
    hours, money = many_builds(ways, rng)
    always, sometimes = shops.tools_for(shops.course_equipment(), shop)
    kit = [*always, *(item for item in sometimes if item.name in mix.things)]
    paid = money + sum(sample(item.money, rng.random(DRAWS)) for item in kit)
    assert np.median(hours) == pytest.approx(workshop["told_hours"], rel=0.08)
    assert np.median(paid) == pytest.approx(workshop["told_cash"], rel=0.10)
    by_hours, by_money = np.median(hours) / workshop["hours"][1], np.median(paid) / workshop["money"][1]
    assert (by_hours, by_money) == pytest.approx(workshop["told_months"], rel=1 / 7)


#: remedies for those who run short of money: changes to the workshop, parts by way as told, hours and cash of half of all builds
CLUB = next(one for one in WORKSHOPS if one["name"].startswith("club"))["borrowed"]
REMEDIES = {
    ("kitchen table, hand tools", "a bench drill and a power saw"): ((24, 6, 2, 12, 0), 403, 4813),
    ("kitchen table, hand tools", "the club"): ((2, 0, 1, 4, 37), 454, 3156),
    ("aboard a canal boat", "the club"): ((2, 0, 1, 4, 37), 454, 3277),
}


@pytest.mark.parametrize(("name", "remedy"), REMEDIES)
def test_remedies_change_the_plan_as_told(name, remedy):
    workshop = next(one for one in WORKSHOPS if one["name"] == name)
    better = (
        {**workshop, "borrowed": CLUB}
        if remedy == "the club"
        else {**workshop, "can": workshop["can"].replace("drilling 8", "drilling 16").replace("sawing 40", "sawing 120")}
    )
    told_mix, told_hours, told_cash = REMEDIES[name, remedy]
    rates = workshop["hours"][1], workshop["money"][1]
    given = choices(shop=shop_of(better))
    mix, before = soonest(given, *rates), soonest(choices(shop=shop_of(workshop)), *rates)
    found = [mix.counts().get(how, 0) for how in (MAKE, HARD, OUT, BUY, BORROW)]
    assert sum(abs(have - told) for have, told in zip(found, told_mix)) <= 4
    assert mix.money < 0.85 * before.money and mix.months(*rates) < before.months(*rates)
    hours, money = many_builds(
        [PARTS[part].way(how) for part, how in mix.hows.items() if part in PARTS.by_name], np.random.default_rng(4)
    )
    assert np.median(hours) == pytest.approx(told_hours, rel=0.08)
    extra = 260 if remedy != "the club" else 0  # drill and saw themselves
    assert np.median(money) + given.fixed_money + sum(
        one.money for one in mix.chosen if one.sort == "tool"
    ) + extra == pytest.approx(told_cash, rel=0.10)


@WORKSHOP
def test_money_binds_before_hours_where_it_was_told_to(workshop):
    """Four of the six run short of money well before hours; the full shop and the two friends are in balance."""
    mix = soonest(choices(shop=shop_of(workshop)), workshop["hours"][1], workshop["money"][1])
    by_hours, by_money = mix.hours / workshop["hours"][1], mix.money / workshop["money"][1]
    balanced = workshop["name"] in ("full machine shop", "two friends pooling")
    assert (0.8 < by_money / by_hours < 1.25) if balanced else by_money / by_hours > 1.4


@WORKSHOP
def test_the_parts_each_workshop_can_make(workshop):
    """At least those the notes made here; the heaviest four only where everything is at hand."""
    found = feasible(PARTS, shop_of(workshop), STAGES)
    here = [part.name for part in PARTS if any(one.open and one.way.how == MAKE for one in found.of(part.name))]
    assert not found.stuck and len(found.stages) == 3
    assert TOLD_MIX[workshop["name"]][0] <= len(here) < 44
    large = {"bed plate", "headstock body", "saddle", "spindle"}
    assert (large & set(here) == large) is (workshop["name"] == "full machine shop")
    if workshop["name"] == "full machine shop":
        assert not found.on_the_lathe, "who has a lathe needs none"
