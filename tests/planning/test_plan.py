"""From parts and shop to the figures of the mix, and the questions asked of it."""

import math
from dataclasses import replace

import pytest
from demo_build import CHOICES, DEMOS, SHED, WORKSHOPS, choices, shop_of

from lathe_course.design.chapters.part_sizes import told_sizes
from lathe_course.design.demos import demo as design_of
from lathe_course.design.evaluation import evaluate
from lathe_course.planning import plan, shops
from lathe_course.planning.capabilities import BORROWED, read_capabilities
from lathe_course.planning.feasible import feasible, lathe_stages
from lathe_course.planning.mix import Wish, best
from lathe_course.planning.parts import MAKE, course_parts
from lathe_course.planning.precedence import order_of_work
from lathe_course.planning.scaling import scaled
from lathe_course.units import InputProblem

CLUB_LATHE = read_capabilities(
    "turning 300 x 700 mm + boring 80 x 250 mm + threading 4 mm + keyways 8 mm", "club lathe", BORROWED
)
CLUB_MILL = read_capabilities("milling 700 x 250 mm + boring 80 x 250 mm", "club mill", BORROWED)


# --- in figures ---------------------------------------------------------------------------------------------
def test_tools_that_the_shop_has_are_not_bought():
    with_all = replace(SHED, equipment=frozenset(item.name for item in shops.course_equipment()))
    assert choices(shop=with_all).fixed_money == 0 and not any(one.sort == "tool" for one in choices(shop=with_all).choices)
    always, sometimes = shops.tools_for(shops.course_equipment(), SHED)
    assert {item.name for item in sometimes} == {
        "left-hand trapezoidal tap",
        "boring bar with its bushes",
        "gear cutters",
        "keyway tool",
        "scrapers and blue",
        "welding set",
    }
    assert choices().fixed_money == sum(item.money.likely for item in always)
    assert "micrometers" not in {item.name for item in always} and "four-jaw chuck" not in {item.name for item in always}


def test_what_is_charged_is_less_than_what_is_paid():
    item = next(one for one in shops.course_equipment() if one.name == "micrometers")
    assert item.charged.likely == pytest.approx(0.2 * item.money.likely)


def test_low_and_high_ends_hold_the_likely_between_them():
    low, likely, high = (best(choices(end=end), Wish(money=1)).money for end in ("low", "likely", "high"))
    assert low < likely < high


# --- which part to send out first ------------------------------------------------------------------------------
def test_the_cheapest_hour_comes_first_and_is_what_a_change_by_hand_costs():
    given = choices()
    mix = best(given, Wish(money=1))
    offers = plan.send_out_first(given, mix)
    assert [one.per_hour for one in offers] == sorted(one.per_hour for one in offers) and len(offers) > 20
    for offer in offers[:5]:
        other = given.picked({**mix.hows, offer.part: offer.instead})
        assert (
            other.money - mix.money == pytest.approx(offer.money)
            and mix.hours - other.hours == pytest.approx(offer.hours)
            and offer.hours > 0
        )
        assert offer.per_hour == pytest.approx(offer.money / offer.hours)


def test_a_dearer_hour_moves_the_mix_where_the_offers_say():
    """With an hour worth a little more than the first offer asks, the best mix takes it."""
    given = choices()
    mix = best(given, Wish(money=1))
    first = plan.send_out_first(given, mix)[0]
    assert best(given, Wish(money=1, hours=first.per_hour * 1.01)).hows[first.part] == first.instead
    assert best(given, Wish(money=1, hours=first.per_hour * 0.5)).hows[first.part] == first.now


def test_the_quickest_mix_leaves_nothing_to_send_out():
    given = choices()
    assert plan.send_out_first(given, best(given, Wish(hours=1))) == ()


# --- another machine ----------------------------------------------------------------------------------------
@pytest.mark.parametrize("workshop", WORKSHOPS, ids=lambda one: one["name"])
def test_another_machine_never_makes_a_plan_worse(workshop):
    shop = shop_of(workshop)
    for value in (0.0, 8.0):
        before = plan.value_of(best(choices(shop=shop), Wish(money=1, hours=value)), value)
        after = plan.value_of(best(choices(shop=shop.plus(*CLUB_LATHE, *CLUB_MILL)), Wish(money=1, hours=value)), value)
        assert after <= before + 0.05


# --- one more hour a month ------------------------------------------------------------------------------------
def test_one_more_hour_a_month_saves_money_until_hours_are_no_longer_scarce():
    given = choices()
    now, then, saved = plan.worth_of_hours(given, 8, 30)
    assert now.hours <= 240 and then.hours <= 270 and saved == pytest.approx((now.money - then.money) / 30) and saved > 0
    assert plan.worth_of_hours(given, 12, 30)[2] < saved, "the more hours there are, the less one more is worth"
    assert plan.worth_of_hours(given, 40, 30)[2] == pytest.approx(0, abs=1e-6)


def test_an_hour_that_makes_it_possible_and_one_that_does_not():
    given = choices()
    least = best(given, Wish(hours=1)).hours
    assert plan.worth_of_hours(given, (least - 1) / 10, 10)[2] == math.inf
    assert math.isnan(plan.worth_of_hours(given, 1, 10)[2])
    with pytest.raises(InputProblem, match="more than zero"):
        plan.worth_of_hours(given, 0, 10)


def test_an_hour_enjoyed_brings_work_home():
    """A negative value of an hour: what is made here is made here because it is liked."""
    given = choices()
    counts = [best(given, Wish(money=1, hours=value)).counts().get(MAKE, 0) for value in (-10, 0, 10, 30)]
    assert counts == sorted(counts, reverse=True) and counts[0] > counts[-1]


# --- the three demos ------------------------------------------------------------------------------------------
@pytest.mark.parametrize("demo", DEMOS)
def test_every_demo_can_be_built_in_its_own_shop(demo):
    height, length, slide, changes = DEMOS[demo]
    made = scaled(course_parts().for_design({**CHOICES, **changes}), told_sizes(evaluate(design_of(demo))))
    shop = shops.shop_of(shops.demo_machines(demo))
    found = feasible(made, shop, lathe_stages(height, length, 2 * (height - slide)))
    assert found.stuck == () and found.told() == []
    given = choices(shop, made, lathe_stages(height, length, 2 * (height - slide)))
    mixes = [best(given, wish) for wish in (Wish(money=1), Wish(hours=1), Wish(money=1, hours=10))]
    assert all(mix.proven and set(made.by_name) <= set(mix.hows) for mix in mixes)
    order = order_of_work(made, mixes[0].on_the_lathe)
    assert [moment.name for moment in order if moment.stage] == list(found.stages)
    assert (mixes[0].borrowed_hours > 0) is (demo == "cabin"), (
        "the cabin leans on its club, the shed's club only grinds, the barn borrows nothing"
    )
