"""Two decisions together, held against trying every pair; and what is left where neither one nor two do it."""

import itertools
import math

import pytest
from toys import chain, choice, decision, design_on, limit, named

from lathe_course.course.shown.plain_text import turned_by
from lathe_course.design.asked.levers import levers
from lathe_course.design.asked.together import only_the_wish, together
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.units import Length


def added(against, **more):
    """Two lengths that are added; each may be 10 to 100 mm."""
    return chain(
        decision("width", **more),
        decision("depth", **more),
        named("size", lambda width, depth: width + depth, Length("mm")),
        limit("rule", "size", "at least", against, comfort=0.0),
    )


def test_two_that_only_together_turn_a_finding():
    e = evaluate(design_on(added(150.0), width=0.04, depth=0.04))
    assert levers(e, "rule") == []
    pair = together(e, "rule")
    assert evaluate(e.design.trying(**pair.values)).findings["rule"].status != "fails"
    assert str(pair).startswith("two together: the width: from 40 mm to ")

    def change(width, depth):
        return math.hypot(math.log(width / 40), math.log(depth / 40))

    least = min(change(*both) for both in itertools.product(range(10, 101, 5), repeat=2) if sum(both) >= 150)
    assert change(*(1e3 * value for value in pair.values.values())) <= 1.1 * least, "hardly further than need be"


def test_nothing_is_said_of_two_where_two_do_not_do_it():
    e = evaluate(design_on(added(250.0), width=0.04, depth=0.04))
    assert together(e, "rule") is None
    assert turned_by(e, e.findings["rule"], 3) == [
        "no one decision mends it, nor two together. What is left: ask less of the lathe."
    ]


def test_a_lever_that_breaks_one_other_is_followed_by_the_lever_that_mends_that():
    graph = chain(
        decision("width"),
        decision("depth"),
        named("wide", lambda width: width, Length("mm")),
        named("left", lambda width, depth: depth - width, Length("mm")),
        limit("rule", "wide", "at least", 60.0, comfort=0.0),
        limit("other", "left", "at least", 10.0, comfort=0.0),
    )
    e = evaluate(design_on(graph, width=0.03, depth=0.05))
    (lever,) = levers(e, "rule")
    assert lever.breaks == ("other rule",)
    pair = together(e, "rule")
    assert pair.values == {"width": pytest.approx(0.06), "depth": pytest.approx(0.07)}
    assert [name for name, one in evaluate(e.design.trying(**pair.values)).findings.items() if one.status == "fails"] == []
    assert turned_by(e, e.findings["rule"], 2)[0] == str(pair)


def test_two_that_break_another_are_not_advised():
    graph = chain(
        decision("width"),
        decision("depth"),
        named("size", lambda width, depth: width + depth, Length("mm")),
        named("broad", lambda width: width, Length("mm")),
        limit("rule", "size", "at least", 150.0, comfort=0.0),
        limit("other", "broad", "at most", 55.0, comfort=0.0),
    )
    pair = together(evaluate(design_on(graph, width=0.04, depth=0.04)), "rule")
    assert pair.values["width"] <= 0.0551 and sum(pair.values.values()) >= 0.15 - 1e-9


def test_an_option_and_a_number_may_go_together():
    graph = chain(
        decision("width"),
        choice("form", "round", "square"),
        named("size", lambda width, form: width * (1.2 if form == "square" else 1.0), Length("mm")),
        limit("rule", "size", "at least", 115.0, comfort=0.0),
    )
    pair = together(evaluate(design_on(graph, width=0.05, form="round")), "rule")
    assert pair.values["form"] == "square" and pair.values["width"] == pytest.approx(0.1)


def test_a_limit_that_is_a_wish_is_told_with_its_figure():
    graph = chain(
        decision("width", movable=False),
        decision("place", movable=False),
        named("size", lambda width: 2 * width, Length("mm")),
        limit("rule", "size", "at most", "place", comfort=0.0),
    )
    e = evaluate(design_on(graph, width=0.05, place=0.08))
    assert only_the_wish(e, "rule") == ["the place: from 80 mm to about 100 mm"]


# --- the demos -----------------------------------------------------------------------------------------
def test_the_boat_shed_is_in_time_if_all_that_can_be_spent_is_spent():
    e = evaluate(demo("boat_shed"))
    pair = together(e, "finished_in_balance")
    assert set(pair.values) == {"hours_should", "money_should"}
    after = evaluate(e.design.trying(**pair.values)).findings
    assert after["finished_in_balance"].status != "fails"
    assert not [name for name, one in after.items() if one.status == "fails" and e.findings[name].status != "fails"]


def test_the_cabin_hears_plainly_that_only_its_wish_can_change():
    e = evaluate(demo("cabin"))
    (said,) = turned_by(e, e.findings["finished_in_time"], 3)
    assert said.startswith(
        "no one decision mends it, nor two together. What is left: patience for the build: from 36 months to about "
    )
    assert e.shown("months_forecast") in said, "the figure that the finding tells, and no other"
