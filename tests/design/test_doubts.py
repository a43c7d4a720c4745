"""A word of warning, where a figure is possible and yet beyond what makes sense or what a formula was made for."""
import pytest

from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_raises_no_doubt(name):
    assert evaluate(demo(name)).doubts() == [] == evaluate(demo(name), draws=50).doubts()


@pytest.mark.parametrize("name", [name for name, decision in LATHE.decisions.items() if decision.numeric])
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
    assert thin.doubts() == ["specific cutting force: chip thickness is outside 0.05 to 2.5 mm, for which this was made; take the result as a rough guide."]
    assert thin.doubts(["cutting_force"]) == [], "the doubt stands with the formula it belongs to"


def test_words_and_choices_raise_no_doubt():
    assert evaluate(demo()).doubts(["place", "bearing_kind", "hour_cost"]) == []
