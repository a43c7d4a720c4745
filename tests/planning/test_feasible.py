"""Which ways are open, on what they lean, and what is missing."""

import pytest
from demo_build import PARTS, SHED, STAGES, WORKSHOPS, part, parts, shop_of, way

from lathe_course.planning.capabilities import BORROWED, OWN, Shop, read_capabilities
from lathe_course.planning.feasible import feasible, lathe_stages
from lathe_course.planning.parts import BORROW, BUY, MAKE, OUT
from lathe_course.planning.parts import STAGES as NAMES
from lathe_course.units import InputProblem

MILL = read_capabilities("milling 300 x 100 mm + drilling 12 mm", "mill")


def test_own_machines_come_first_then_the_lathe_itself():
    lathe = read_capabilities("turning 200 x 300 mm", "old lathe")
    made = parts(
        part("nose", first_needed=NAMES[0], ways=[way("nose", BUY)]), part("knob", ways=[way("knob", needs="turning 30 x 30 mm")])
    )
    assert feasible(made, Shop(lathe), STAGES).of("knob")[0].by == OWN
    on_it = feasible(made, Shop(), STAGES).of("knob")[0]
    assert on_it.open and on_it.by == on_it.stage == NAMES[0]


def test_the_earliest_stage_that_serves_is_taken():
    found = feasible(PARTS, SHED, STAGES)
    by = {one.way.part: one.stage for one in found.open_ways if one.way.how == MAKE}
    assert by["handwheels"] == NAMES[0] and by["dials"] == NAMES[1] and by["half nuts"] == NAMES[2]


def test_a_borrowed_way_needs_a_borrowed_machine():
    club = read_capabilities("boring 80 x 200 mm", "club mill", BORROWED)
    made = parts(
        part("body", ways=[way("body", BORROW, "boring 60 x 100 mm + drilling 10 mm"), way("body", MAKE, "boring 60 x 100 mm")])
    )
    with_club = feasible(made, Shop(MILL + club))
    assert [one.by for one in with_club.open_ways] == [BORROWED] and not with_club.of("body")[1].open
    own = feasible(made, Shop(MILL + read_capabilities("boring 80 x 200 mm", "borer")))
    assert own.of("body")[0].spare and not own.of("body")[0].open and own.of("body")[1].open
    assert feasible(made, Shop(MILL)).stuck == ("body",)


def test_a_borrowed_way_that_is_the_only_one_is_worked_on_ones_own_machines():
    only = feasible(parts(part("body", ways=[way("body", BORROW, "drilling 10 mm")])), Shop(MILL))
    assert only.stuck == () and only.open_ways[0].by == OWN and not only.open_ways[0].borrowed


def test_a_borrowed_machine_and_the_lathe_itself_may_share_the_work():
    """Milled at the club, bored from the lathe's own spindle; where the lathe and one's own tools do it all, nothing is borrowed."""
    club = read_capabilities("milling 300 x 200 mm", "club mill", BORROWED)
    shared, alone = "milling 200 x 150 mm + boring 28 x 100 mm", "boring 28 x 100 mm"
    made = parts(
        part("nose", first_needed=NAMES[0], ways=[way("nose", BUY)]),
        part("body", ways=[way("body", BORROW, shared)]),
        part("bush", ways=[way("bush", BORROW, alone), way("bush", MAKE, alone)]),
    )
    found = feasible(made, Shop(club), STAGES)
    (body,) = found.of("body")
    assert body.open and body.stage == NAMES[0] and body.borrowed
    borrowed, here = found.of("bush")
    assert borrowed.spare and not borrowed.open and here.open and here.stage == NAMES[0]
    assert feasible(made, Shop(), STAGES).stuck == ("body",)


def test_what_no_way_can_make_is_told_with_the_nearest():
    made = parts(
        part("body", ways=[way("body", MAKE, "milling 140 x 120 mm + drilling 11 mm + boring 60 x 100 mm"), way("body", OUT)])
    )
    found = feasible(made, Shop(MILL), closed=(OUT,))
    (said,) = found.told()
    assert said == (
        "the body cannot be had: 'make it here' needs milling of 140 x 120 mm (the nearest is your mill with 300 x 100 mm to 0.03 mm) "
        "and boring of 60 x 100 mm (nothing here does any boring)."
    )
    with pytest.raises(InputProblem, match="Some parts cannot be had: the body cannot be had"):
        found.demand_all()
    assert "5.51" in found.told("inch")[0] or "5.512" in found.told("inch")[0]
    feasible(made, Shop(MILL)).demand_all()


def test_a_part_with_no_way_left_is_told():
    made = parts(part("motor", ways=[way("motor", BUY)]))
    assert feasible(made, Shop(), closed=(BUY,)).told() == ["the motor cannot be had: no way to get it is left."]


def test_the_way_that_comes_nearest_is_told_first():
    made = parts(
        part("body", ways=[way("body", MAKE, "grinding 600 x 100 mm + boring 60 x 100 mm"), way("body", BUY, "drilling 13 mm")])
    )
    assert (
        feasible(made, Shop(MILL))
        .told()[0]
        .startswith("the body cannot be had: 'bought' needs drilling of 13 mm (the nearest is your mill with 12 mm")
    )


def test_the_leadscrew_is_longer_than_every_lathe_of_an_amateur_but_one():
    """So 'all at home' fits no workshop, as the notes admit: it is bought or made outside."""
    for workshop in WORKSHOPS:
        ways = {one.way.how: one for one in feasible(PARTS, shop_of(workshop), STAGES).of("leadscrew")}
        assert not ways[MAKE].open and ways[BUY].open
    assert [one["name"] for one in WORKSHOPS if feasible(PARTS, shop_of(one), STAGES).of("leadscrew")[3].open] == [
        "club, two evenings a week"
    ]


def test_a_rougher_lathe_makes_fewer_of_its_own_parts():
    fine, rough = (
        feasible(PARTS, SHED, lathe_stages(0.075, 0.3, 0.09, accuracy)).on_the_lathe for accuracy in (0.01e-3, 0.04e-3)
    )
    assert set(rough) < set(fine) and "tailstock barrel" in set(fine) - set(rough)


def test_a_lathe_with_little_swing_cannot_turn_its_backplate():
    small = feasible(PARTS, SHED, lathe_stages(0.050, 0.15, 0.05))
    assert not any(one.open for one in small.of("chuck backplate")) and "chuck backplate" in small.stuck


def test_each_stage_adds_to_the_one_before():
    """At 75 by 300 mm: 90 x 120 and discs of 140 x 40 in the chuck, 90 x 300 with the tailstock, threads to 3 mm."""
    sizes = {
        (stage, one.operation, tuple(round(size * 1e3, 3) for size in one.size)) for stage, ones in STAGES.items() for one in ones
    }
    assert {
        (NAMES[0], "turning", (90, 120)),
        (NAMES[0], "turning", (140, 40)),
        (NAMES[0], "boring", (30, 100)),
        (NAMES[1], "turning", (90, 300)),
        (NAMES[1], "gear cutting", (1,)),
        (NAMES[2], "threading", (3,)),
    } <= sizes
