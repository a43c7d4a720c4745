"""From parts and shop to the figures of the mix, and the questions asked of it."""
import math
from dataclasses import replace

import pytest
from demo_build import CHOICES, DEMOS, HOURS_BESIDE, PARTS, SHED, STAGES, WORKSHOPS, choices, part, parts, shop_of, way

from lathe_course.build import costs, plan, shops
from lathe_course.build.capabilities import BORROWED, OWN, Shop, read_capabilities
from lathe_course.build.costs import Terms
from lathe_course.build.feasible import feasible, lathe_stages
from lathe_course.build.mix import Wish, best
from lathe_course.build.parts import BORROW, MAKE, OUT, course_parts
from lathe_course.build.precedence import order_of_work
from lathe_course.build.scaling import scaled
from lathe_course.units import InputProblem

CLUB_LATHE = read_capabilities("turning 300 x 700 mm + boring 80 x 250 mm + threading 4 mm + keyways 8 mm", "club lathe", BORROWED)
CLUB_MILL = read_capabilities("milling 700 x 250 mm + boring 80 x 250 mm", "club mill", BORROWED)


# --- in figures ---------------------------------------------------------------------------------------------
def test_local_prices_move_what_they_belong_to():
    bed = PARTS["bed plate"].way(OUT)
    assert Terms().money(bed) == pytest.approx(bed.money)
    assert Terms(outside=1.5).money(bed).likely == pytest.approx(bed.money.likely + 0.5 * bed.outside.likely)
    assert Terms(material=0, outside=0).money(bed) == pytest.approx(bed.carriage)


def test_rework_and_skill_move_hours():
    body = PARTS["headstock body"].way(MAKE)
    assert Terms(redo=0.6).hours_of(body).likely == pytest.approx(29 * (1 + 0.25 * 0.6))
    assert Terms(rework=0).hours_of(body) == pytest.approx(body.hours)
    assert Terms(hours=1.3, rework=2).hours_of(body).likely == pytest.approx(29 * 1.3 * (1 + 0.5 * 0.6))
    assert Terms(rework=50).hours_of(body).likely == pytest.approx(29 * 1.6), "it is made again once at most"


def test_practice_shortens_hours_and_halves_errors():
    first, some, old = (costs.skill_of(name) for name in ("first machine", "some practice", "old hand"))
    for figure in ("hours", "rework", "accuracy"):
        assert getattr(first, figure).likely > getattr(some, figure).likely == 1 > getattr(old, figure).likely
    with pytest.raises(InputProblem, match="'beginer' is not in the table of skills"):
        costs.skill_of("beginer")


def test_tools_that_the_shop_has_are_not_bought():
    with_all = replace(SHED, equipment=frozenset(item.name for item in shops.course_equipment()))
    assert choices(shop=with_all).fixed_money == 0 and not choices(shop=with_all).tools
    always, sometimes = shops.tools_for(shops.course_equipment(), SHED)
    assert {item.name for item in sometimes} == {"left-hand trapezoidal tap", "boring bar with its bushes", "gear cutters", "keyway tool", "scrapers and blue", "welding set"}
    assert choices().fixed_money == sum(item.money.likely for item in always)
    assert "micrometers" not in {item.name for item in always} and "four-jaw chuck" not in {item.name for item in always}


def test_what_is_charged_is_less_than_what_is_paid():
    assert choices(charged=True).fixed_money < choices().fixed_money


def test_a_way_on_the_lathe_itself_takes_an_hour_more_for_its_stand_in():
    given = {(one.part, one.how): one for one in choices().choices}
    assert given["handwheels", MAKE].stage and given["handwheels", MAKE].hours == pytest.approx(7 * 1.03 + 1)
    assert given["dials", MAKE].stage and given["dials", MAKE].hours == pytest.approx(5.5 * (1 + 0.12 * 0.6)), "nothing stands in for a dial"


def test_low_and_high_ends_hold_the_likely_between_them():
    low, likely, high = (best(choices(end=end), Wish(money=1)).money for end in ("low", "likely", "high"))
    assert low < likely < high


def test_a_shop_that_cannot_do_it_is_told_before_anything_is_reckoned():
    hopeless = parts(part("body", ways=[way("body", MAKE, "boring 60 x 100 mm")]))
    with pytest.raises(InputProblem, match="the body cannot be had"):
        plan.choices_of(feasible(hopeless, Shop()), (), Shop())


def test_why_no_mix_keeps_the_bounds():
    given = choices()
    assert plan.why_no_mix(given, Wish(money=1)) == []
    (hours,) = plan.why_no_mix(given, Wish(money=1, most_hours=100))
    assert hours == f"own hours cannot come below {best(given, Wish(hours=1)).hours:.0f} h, whatever is chosen; 100 h were allowed."
    assert len(plan.why_no_mix(given, Wish(money=1, most_hours=100, most_money=500, most_weeks=1))) == 3
    quick = best(given, Wish(hours=1))
    assert "not all of them together" in plan.why_no_mix(given, Wish(money=1, most_hours=quick.hours + 5, most_money=quick.money - 1500))[0]
    body = parts(part("body", ways=[way("body", BORROW, "boring 60 x 100 mm")]))
    shop = Shop(read_capabilities("boring 80 x 200 mm", "borer", BORROWED))
    only = plan.choices_of(feasible(body, shop), (), shop)
    assert "2 h on them are too few" in plan.why_no_mix(only, Wish(money=1, most_borrowed_hours=2))[0]


# --- which part to send out first ------------------------------------------------------------------------------
def test_the_cheapest_hour_comes_first_and_is_what_a_change_by_hand_costs():
    given = choices()
    mix = best(given, Wish(money=1))
    offers = plan.send_out_first(given, mix)
    assert [one.per_hour for one in offers] == sorted(one.per_hour for one in offers) and len(offers) > 20
    for offer in offers[:5]:
        other = given.picked({**mix.hows, offer.part: offer.instead})
        assert other.money - mix.money == pytest.approx(offer.money) and mix.hours - other.hours == pytest.approx(offer.hours) and offer.hours > 0
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


# --- which borrowed machine is worth most ---------------------------------------------------------------------
def worths(hour_value, **more):
    return plan.worth_of_machines(PARTS, SHED, {"club lathe": CLUB_LATHE, "club mill": CLUB_MILL, "second bench drill": read_capabilities("drilling 16 mm", "drill", BORROWED)},
                                  shops.course_equipment(), hour_value=hour_value, stages=STAGES, hours_beside=HOURS_BESIDE, **more)


def test_a_borrowed_machine_is_worth_what_the_plan_is_better_by():
    found = worths(6.0)
    assert [one.value for one in found] == sorted((one.value for one in found), reverse=True)
    by_name = {one.machine: one for one in found}
    with_lathe = best(choices(shop=SHED.plus(*CLUB_LATHE)), Wish(money=1, hours=6))
    without = best(choices(), Wish(money=1, hours=6))
    assert by_name["club lathe"].value == pytest.approx(plan.value_of(without, 6) - plan.value_of(with_lathe, 6)) and by_name["club lathe"].value > 0
    assert by_name["second bench drill"].value == pytest.approx(0, abs=0.05) and by_name["second bench drill"].per_evening(2.5) == 0
    assert 0 < by_name["club mill"].per_evening(2.5) < by_name["club mill"].value
    with pytest.raises(InputProblem, match="an evening must last longer"):
        found[0].per_evening(0)


def test_a_machine_without_which_nothing_works_is_worth_everything():
    body = parts(part("body", ways=[way("body", MAKE, "boring 60 x 100 mm"), way("body", BORROW, "boring 60 x 100 mm")]))
    borers = {"borer": read_capabilities("boring 80 x 200 mm", "borer", BORROWED), "drill": read_capabilities("drilling 5 mm", "drill", OWN)}
    borer, drill = plan.worth_of_machines(body, Shop(), borers, (), hour_value=5.0)
    assert borer.value == math.inf and borer.mix.hows == {"body": BORROW} and borer.hours_on_it == pytest.approx(10.0)
    assert drill.mix is None and drill.value == 0


def test_an_evening_more_is_worth_less_the_more_there_are():
    club = next(one for one in WORKSHOPS if one["name"].startswith("club"))
    given = choices(shop=shop_of(club))
    used = best(given, Wish(money=1, hours=4)).borrowed_hours
    scarce, plenty = (plan.worth_of_an_evening(given, hours, 2.5, 4.0) for hours in (20.0, used))
    assert scarce > plenty and scarce > 0 and plenty == pytest.approx(0, abs=0.05)
    body = parts(part("body", ways=[way("body", BORROW, "boring 60 x 100 mm")]))
    shop = Shop(read_capabilities("boring 80 x 200 mm", "borer", BORROWED))
    only = plan.choices_of(feasible(body, shop), (), shop)
    assert plan.worth_of_an_evening(only, 8.0, 2.5, 1.0) == math.inf and math.isnan(plan.worth_of_an_evening(only, 2.0, 2.5, 1.0))
    with pytest.raises(InputProblem, match="must last longer than nothing"):
        plan.worth_of_an_evening(only, 8.0, 0.0, 1.0)


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
    made = scaled(course_parts().for_design({**CHOICES, **changes}), height, length)
    shop = shops.shop_of(shops.demo_machines(demo))
    found = feasible(made, shop, lathe_stages(height, length, 2 * (height - slide)))
    assert found.stuck == () and found.told() == []
    given = plan.choices_of(found, shops.course_equipment(), shop, hours_beside=HOURS_BESIDE)
    mixes = [best(given, wish) for wish in (Wish(money=1), Wish(hours=1), Wish(money=1, hours=10))]
    assert all(mix.proven and set(mix.hows) == set(made.by_name) for mix in mixes)
    order = order_of_work(made, mixes[0].on_the_lathe)
    assert [moment.name for moment in order if moment.stage] == list(found.stages)
    assert (mixes[0].borrowed_hours > 0) is (demo == "cabin"), "the cabin leans on its club, the shed's club only grinds, the barn borrows nothing"
