"""The chain as a graph: order, names, circles, what lies above and below, and working out only what is stale."""

import numpy as np
import pytest
from toys import chain, decision, design_on, figure, limit, named

from lathe_course.design.chain.entries import Figure, node
from lathe_course.design.chain.graph import ChainError
from lathe_course.design.evaluation import evaluate
from lathe_course.machine.forces import chip_thickness
from lathe_course.ranges import Range, middling
from lathe_course.units import Ratio


def sides(**more):
    """width, height -> area -> twice; only width -> half."""
    return chain(
        decision("width"),
        decision("height"),
        named("twice", lambda area: 2 * area),
        named("area", lambda width, height: width * height),
        named("half", lambda width: width / 2),
        limit("large", "twice", "at least", 1e-3),
        **more,
    )


# --- order and names -----------------------------------------------------------------------------------
def test_results_are_worked_out_after_what_they_need_in_whatever_order_they_stand():
    worked = evaluate(design_on(sides(), width=0.02, height=0.03))
    assert worked["twice"] == pytest.approx(0.0012)
    assert worked.findings["large"].status == "holds"


def test_a_circle_is_refused_when_the_chain_is_made_and_every_name_in_it_is_told():
    with pytest.raises(ChainError, match="circle") as caught:
        chain(
            decision("width"),
            named("first", lambda third, width: third),
            named("second", lambda first: first),
            named("third", lambda second: second),
        )
    said = str(caught.value)
    assert all(name in said for name in ("first", "second", "third")) and "width" not in said
    assert any(f"{one} → {needed}" in said for one, needed in (("first", "third"), ("second", "first"), ("third", "second"))), (
        said
    )


def test_a_result_that_needs_itself_is_a_circle():
    with pytest.raises(ChainError, match="again → again"):
        chain(named("again", lambda again: again))


@pytest.mark.parametrize(
    "part, missing",
    [
        (named("area", lambda width, hight: width * hight), "hight"),
        (limit("large", "areal", "at least", 1.0), "areal"),
        (limit("large", "width", "at least", "least_width"), "least_width"),
        (Figure("price", "the price", Ratio(), "01", lookup=lambda size: 1.0), "size"),
    ],
)
def test_an_unknown_name_is_refused_with_a_sentence_that_names_it_and_who_asks(part, missing):
    with pytest.raises(ChainError, match=f"'{part.name}' needs '{missing}', which is neither a decision, a figure nor a result"):
        chain(decision("width"), part)


def test_a_limit_cannot_feed_a_result():
    with pytest.raises(ChainError, match="'after' needs 'wide'"):
        chain(decision("width"), limit("wide", "width", "at least", 1.0), named("after", lambda wide: wide))


@pytest.mark.parametrize(
    "parts, words",
    [
        ((decision("width"), decision("width")), "two decisions called 'width'"),
        ((decision("width"), named("width", lambda: 1.0)), "'width' is both a decision and a result"),
        ((figure("width", 1, 2, 3), decision("width")), "'width' is both a decision and a figure"),
        ((decision("width"), named("a", lambda: 1.0), named("a", lambda: 2.0)), "two results called 'a'"),
        ((decision("width"), limit("a", "width", "at most", 1.0), limit("a", "width", "at least", 1.0)), "two limits called 'a'"),
    ],
)
def test_a_name_used_twice_is_refused(parts, words):
    with pytest.raises(ChainError, match=words):
        chain(*parts)


def test_what_a_design_provides_may_be_asked_for_but_not_named_again():
    assert chain(named("many", lambda jobs: len(jobs)), given=["jobs"]).downstream("jobs") == {"many"}
    with pytest.raises(ChainError, match="'jobs' is both a decision and a given"):
        chain(decision("jobs"), given=["jobs"])


# --- above and below -------------------------------------------------------------------------------------
def test_below_a_decision_lies_all_it_has_a_part_in_and_nothing_else():
    graph = sides()
    assert graph.downstream("height") == {"area", "twice", "large"}
    assert graph.downstream("width") == {"area", "twice", "half", "large"}
    assert graph.downstream("half") == frozenset()
    assert graph.upstream("large") == {"width", "height", "area", "twice"}
    assert graph.pushes_on("height") == {"01": ["area", "twice", "large"]}


def test_a_formula_in_a_chain_may_hold_an_input_at_one_value():
    held = node(chip_thickness, "04", fixed={"entering_angle": 30.0})
    standing = node(chip_thickness, "04", name="square")  # the default of the formula, 90 deg
    worked = evaluate(design_on(chain(decision("feed"), held, standing), feed=0.2e-3))
    assert worked["chip_thickness"] == pytest.approx(0.1e-3)
    assert worked["square"] == pytest.approx(0.2e-3)
    assert "30 deg" in str(worked.workings("chip_thickness")) and "90 deg" in str(worked.workings("square"))


def test_a_formula_in_a_chain_refuses_inputs_it_does_not_have():
    with pytest.raises(TypeError, match="chip_thickness has no input speed"):
        node(chip_thickness, "04", speed="feed")
    with pytest.raises(TypeError, match="chip_thickness has no input speed"):
        node(chip_thickness, "04", fixed={"speed": 1.0})


# --- working out only what is stale --------------------------------------------------------------------------
def test_only_what_lies_below_a_change_is_worked_out_again():
    calls: list[str] = []

    def area(width):
        calls.append("area")
        return width**2

    def double(height):
        calls.append("double")
        return 2 * height

    graph = chain(decision("width"), decision("height"), named("area", area), named("double", double))
    before = evaluate(design_on(graph, width=0.02, height=0.03))
    calls.clear()
    after = evaluate(before.design.trying(height=0.05), earlier=before)
    assert calls == ["double"] and after["double"] == pytest.approx(0.1) and after["area"] is before["area"]


def test_an_evaluation_with_draws_is_no_start_for_one_without():
    graph = chain(decision("width"), figure("share", 0.2, 0.5, 0.6), named("part", lambda width, share: width * share))
    cloud = evaluate(design_on(graph, width=0.02), draws=50)
    single = evaluate(cloud.design.trying(width=0.04), earlier=cloud)
    assert single["part"] == pytest.approx(0.04 * single["share"]) and single["share"] == pytest.approx(
        0.2 + np.sqrt(0.4 * 0.3 / 2)
    )


# --- draws ---------------------------------------------------------------------------------------------------
SHARES = (figure("a", 1, 2, 3), figure("b", 0, 1, 8), figure("c", 5, 5, 5))


def cloud_of(*figures, draws=4000):
    graph = chain(decision("width"), *figures, named("total", lambda width: width))
    return evaluate(design_on(graph, width=0.02), draws=draws)


def test_the_same_design_gives_the_same_draws():
    assert all(np.array_equal(cloud_of(*SHARES)[name], cloud_of(*SHARES)[name]) for name in "abc")


def test_the_order_of_figures_and_a_further_figure_do_not_reshuffle_the_draws():
    first = cloud_of(*SHARES)
    assert all(np.array_equal(first[name], cloud_of(*reversed(SHARES))[name]) for name in "abc")
    assert all(np.array_equal(first[name], cloud_of(figure("z", 1, 2, 3), *SHARES)[name]) for name in "abc")


def test_draws_of_two_figures_do_not_run_together():
    cloud = cloud_of(figure("a", 1, 2, 3), figure("b", 1, 2, 3))
    assert abs(np.corrcoef(cloud["a"], cloud["b"])[0, 1]) < 0.05


def test_figures_that_share_a_luck_fall_together_and_keep_their_own_spread():
    """Rank correlation of two normal variables that share w² of their variance: 6/π arcsin(w²/2)."""
    shared = {"a": (("hands", 0.8),), "b": (("hands", 0.8),), "c": (("hands", -0.8),)}
    cloud = evaluate(
        design_on(chain(decision("width"), *(figure(one, 0, 1, 8) for one in "abcd"), luck=shared), width=0.02), draws=4000
    )
    alone = evaluate(design_on(chain(decision("width"), figure("a", 0, 1, 8)), width=0.02), draws=4000)
    ranks = np.array([np.argsort(np.argsort(cloud[one])) for one in "abcd"])
    told = 6 / np.pi * np.arcsin(0.64 / 2)
    found = np.corrcoef(ranks)
    assert (
        found[0, 1] == pytest.approx(told, abs=0.04) and found[0, 2] == pytest.approx(-told, abs=0.04) and abs(found[0, 3]) < 0.05
    )
    assert np.quantile(cloud["a"], (0.1, 0.5, 0.9)) == pytest.approx(np.quantile(alone["a"], (0.1, 0.5, 0.9)), abs=0.02)


@pytest.mark.parametrize("low, likely, high", [(1, 2, 3), (0, 1, 8), (0, 7, 8), (2, 2, 9), (0.02, 0.035, 0.05)])
def test_draws_follow_the_triangle_of_low_likely_and_high(low, likely, high):
    """Mean and quantiles of the triangular distribution, from its textbook formulas."""
    values = cloud_of(figure("a", low, likely, high))["a"]
    width = high - low
    assert values.min() >= low and values.max() <= high
    assert values.mean() == pytest.approx((low + likely + high) / 3, rel=2e-3)
    for share in (0.1, 0.5, 0.9):
        rising = (likely - low) / width >= share
        expected = (
            low + np.sqrt(share * width * (likely - low)) if rising else high - np.sqrt((1 - share) * width * (high - likely))
        )
        assert np.quantile(values, share) == pytest.approx(expected, abs=2e-3 * width)


def test_a_range_without_spread_is_drawn_as_its_value():
    assert np.all(cloud_of(*SHARES)["c"] == 5)


def test_without_draws_a_range_stands_where_half_of_its_draws_lie():
    """The median of the triangular distribution, from its textbook formula."""
    graph = chain(decision("width"), figure("b", 0, 1, 8), named("product", lambda width, b: width * b))
    assert evaluate(design_on(graph, width=Range(0.01, 0.02, 0.09)))["product"] == pytest.approx(
        (0.09 - np.sqrt(0.08 * 0.07 / 2)) * (8 - np.sqrt(8 * 7 / 2))
    )


@pytest.mark.parametrize("askew", [(2, 5, 3), (2, 1, 3), (3, 2, 1), (4, 4, 4)])
def test_a_range_whose_likely_value_lies_outside_stands_at_it(askew):
    """Its findings tell that it cannot be; what rests on it goes on by the one figure that somebody called likely."""
    assert middling(Range(*map(float, askew))) == askew[1]


def test_a_decision_may_be_a_range_too():
    graph = chain(decision("width"), named("double", lambda width: 2 * width))
    cloud = evaluate(design_on(graph, width=Range(0.01, 0.02, 0.09)), draws=2000)
    assert cloud["double"].shape == (2000,) and cloud["double"].min() >= 0.02 and cloud["double"].max() <= 0.18
    assert cloud.middle("double") == pytest.approx(2 * (0.09 - np.sqrt(0.5 * 0.08 * 0.07)), rel=1e-3)
