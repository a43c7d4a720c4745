"""A word of warning, where a figure is possible and yet beyond what makes sense or what a formula was made for."""

import pytest
from cases import every

from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE


def of_thin_chips(what, thickness):
    """Thinner chips than the handbooks' forces were measured at: that is so, and is told."""
    return f"specific cutting force of the {what} is a rough guide only: chip thickness is {thickness}, outside 0.05 to 2.5 mm, for which the formula was made."


#: stainless steel with high-speed steel is cut slower than the correction for speed was measured at
OF_THE_SLOW_CUT = (
    "effect of your cutting speed on the force in steel is a rough guide only: cutting speed is 19.6 m/min, outside 20 to 100 m/min, "
    "for which the formula was made."
)
#: a small drill pushed by hand
OF_THE_DRILL = of_thin_chips("largest drill", "0.0343 mm")
#: as the bottom of the nose makes them, at a fine feed
OF_THE_LAST_CUT = of_thin_chips("finishing cut", "0.0141 mm")


@pytest.mark.parametrize(
    "name, said",
    [
        ("boat_shed", [OF_THE_SLOW_CUT, OF_THE_DRILL, OF_THE_LAST_CUT]),
        (
            "cabin",
            [
                of_thin_chips("roughing cut", "0.0447 mm"),
                of_thin_chips("largest drill", "0.0257 mm"),
                of_thin_chips("finishing cut", "0.015 mm"),
            ],
        ),
        ("shared_barn", [of_thin_chips("finishing cut", "0.025 mm")]),
    ],
)
def test_a_demo_raises_no_doubt_but_those_of_its_thin_chips_and_slow_cut(name, said):
    assert evaluate(demo(name)).doubts() == said == evaluate(demo(name), draws=50).doubts()


@every("name", [name for name, decision in LATHE.decisions.items() if decision.numeric])
def test_the_ends_of_what_makes_sense_raise_no_doubt_and_what_lies_beyond_does(name):
    decision = LATHE.decisions[name]
    low, high = decision.low * decision.kind.factor, decision.high * decision.kind.factor
    assert decision.doubt(low) == decision.doubt(high) == ""
    assert decision.doubt(high * 1.01).startswith(f"{decision.label} lies beyond ")


def test_a_decision_beyond_what_makes_sense_is_told_in_the_units_of_the_reader():
    far = demo().with_(spindle_diameter="900 mm")
    [said] = evaluate(far).doubts(["spindle_diameter"])
    assert said == "spindle diameter lies beyond 16 mm to 70 mm, which is what makes sense for a small lathe; look at it twice."
    assert "0.63 in to 2.76 in" in LATHE.decisions["spindle_diameter"].doubt(0.9, "inch")


def test_a_range_is_doubted_if_one_end_of_it_lies_beyond():
    wide = demo().with_(depth_of_cut={"low": "0.2 mm", "likely": "0.5 mm", "high": "4 mm"})
    assert len(evaluate(wide).doubts(["depth_of_cut"])) == 1


def test_a_formula_fed_outside_what_it_was_made_for_says_so_once():
    thin = evaluate(demo().with_(feed="0.02 mm/rev"))
    assert thin.doubts() == [of_thin_chips("roughing cut", "0.0156 mm"), OF_THE_SLOW_CUT, OF_THE_DRILL, OF_THE_LAST_CUT]
    assert thin.doubts(["cutting_force"]) == [], "the doubt stands with the formula it belongs to"


def test_words_and_choices_raise_no_doubt():
    assert evaluate(demo()).doubts(["place", "bearing_kind", "hour_cost"]) == []


@pytest.mark.parametrize(
    "changes, said",
    [
        (
            {"spindle_bore": "40 mm"},
            "The bore must be smaller than the diameter of the spindle: spindle diameter 35 mm, spindle bore 40 mm.",
        ),
        (
            {"belt_centres": "70 mm"},
            "The pulleys run into each other: the centres must be further apart than half of both diameters together: "
            "spindle pulley of step 1 140 mm, driving pulley of step 1 30 mm, distance between the shafts of the belt 70 mm.",
        ),
        (
            {"slowest_speed": "2500 rpm"},
            "The slowest speed must be less than the fastest: slowest spindle speed 2500 rpm, fastest spindle speed 2200 rpm.",
        ),
        (
            {"bed_wall": "45 mm"},
            "There is no section of the bed with these, which do not go together: form of the bed filled box, "
            "width of the bed 120 mm, height of the bed 80 mm, wall of the bed 45 mm.",
        ),
    ],
)
def test_decisions_that_cannot_stand_together_are_named_with_their_figures(changes, said):
    """With the decision itself, and with every finding that has no figure because of it; an untouched decision is not blamed."""
    worked = evaluate(demo().with_(**changes))
    assert said in worked.doubts(list(changes)) and said in evaluate(worked.design, draws=40).doubts(list(changes))
    untold = [found.sentence for found in worked.findings.values() if "cannot be told" in found.sentence]
    assert untold and all(said in sentence for sentence in untold)
    assert said not in worked.doubts(["tolerance"])


@pytest.mark.parametrize("name", DEMOS)
def test_in_a_demo_everything_stands_together(name):
    assert evaluate(demo(name)).clashes == {}
