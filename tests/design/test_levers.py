"""Levers and room, held against walking through every value one at a time."""

import math

import numpy as np
import pytest
from tiers import many, short_of
from toys import chain, choice, decision, design_on, figure, limit, named

from lathe_course import units
from lathe_course.design.asked.levers import levers
from lathe_course.design.asked.room import room
from lathe_course.design.chain.entries import NOT_FAILING
from lathe_course.design.chain.luck import DRAWS
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import LATHE
from lathe_course.ranges import Range
from lathe_course.units import Length, Ratio


def turning(design, finding, **asked):
    return levers(evaluate(design), finding, **asked)


def space(design, decision):
    return room(evaluate(design), decision)


# --- what the draws ask for ---------------------------------------------------------------------------
def test_what_holds_in_fewer_than_half_of_the_draws_does_not_hold_and_its_lever_turns_the_draws_as_well():
    """Two gives that lean to the same side, drawn apart: the median of their sum is more than the sum of their medians."""
    graph = chain(
        decision("width"),
        figure("a", 0, 0, 10),
        figure("b", 0, 0, 10),
        named("give", lambda a, b, width: (a + b) / width, Ratio()),
        limit("stiff", "give", "at most", 195.5, comfort=0.0),
    )
    design = design_on(graph, width=0.03)
    assert evaluate(design).findings["stiff"].margin > 0
    drawn = evaluate(design, DRAWS).findings["stiff"]
    assert drawn.status == "fails" and drawn.sure < 0.5 and drawn.margin < 0
    (lever,) = turning(design, "stiff")
    turned = evaluate(design.trying(width=lever.value), DRAWS).findings["stiff"]
    assert turned.status != "fails" and turned.sure >= 0.5


# --- toys: one decision, one rule --------------------------------------------------------------------
def on(body, sense="at least", against=50.0, here=0.03, **decided):
    graph = chain(decision("width", **decided), named("size", body, Length("mm")), limit("rule", "size", sense, against))
    return design_on(graph, width=here)


def test_a_lever_is_the_nearest_value_one_can_have_that_turns_the_finding():
    (lever,) = turning(on(lambda width: width), "rule")
    assert (lever.decision, lever.before, lever.after) == ("width", "30 mm", "50 mm") and lever.value == pytest.approx(0.05)
    assert lever.change == pytest.approx(math.log(50 / 30)) and lever.breaks == lever.mends == ()
    assert str(lever) == "the width: from 30 mm to 50 mm"


def test_a_tight_finding_is_turned_when_it_holds():
    design = on(lambda width: width, here=0.052)
    assert evaluate(design).findings["rule"].status == "tight"
    (lever,) = turning(design, "rule")
    assert lever.after == "60 mm"  # 57.5 mm is 15 % to spare, and steps are of 5 mm


def test_a_finding_that_holds_has_no_levers():
    assert turning(on(lambda width: width, here=0.09), "rule") == []


def test_no_lever_where_no_sensible_value_does_it():
    assert turning(on(lambda width: width, against=120.0), "rule") == []
    assert turning(on(lambda width: 0 * width + 0.01), "rule") == []


def test_what_cannot_be_wished_away_is_no_lever():
    assert turning(on(lambda width: width, movable=False), "rule") == []


def test_an_island_of_good_values_is_found_although_the_ends_fail():
    """Only from 40 to 50 mm is |width - 45 mm| small enough; from below the nearest is 40, from above 50."""
    body = lambda width: np.abs(width - 0.045)
    assert turning(on(body, "at most", 5.0, here=0.02), "rule")[0].after == "40 mm"
    assert turning(on(body, "at most", 5.0, here=0.09), "rule")[0].after == "50 mm"


def test_of_two_islands_the_nearer_in_ratio_is_taken():
    body = lambda width: np.minimum(np.abs(width - 0.02), np.abs(width - 0.06))
    assert turning(on(body, "at most", 1.0, here=0.03), "rule")[0].after == "20 mm"  # 3 : 2 is nearer than 6 : 3
    assert turning(on(body, "at most", 1.0, here=0.04), "rule")[0].after == "60 mm"  # 6 : 4 is nearer than 4 : 2


def test_preferred_values_are_the_only_ones_proposed():
    assert turning(on(lambda width: width, preferred=(31.5, 40, 63, 80)), "rule")[0].after == "63 mm"


def test_the_value_it_has_is_not_proposed_again():
    """A value typed and the same value counted up in steps may differ in the last digit."""
    design = on(lambda width: width, step=0.5, low=10, high=60, here=units.read("50.5 mm", Length()))
    assert turning(design, "rule")[0].after == "57.5 mm"


def test_a_decision_that_stands_at_zero_can_be_moved():
    (lever,) = turning(on(lambda width: width, low=0, here=0.0), "rule")
    assert lever.after == "50 mm" and math.isfinite(lever.change)


def test_a_range_is_moved_from_its_likely_value():
    (lever,) = turning(on(lambda width: width, here=Range(0.02, 0.03, 0.06)), "rule")
    assert (lever.before, lever.after) == ("30 mm", "50 mm")


FORMS = {"round": 1.0, "square": 2.0, "star": 0.5}


def several(here=0.03, form="round"):
    """Width and form make the size; a wide one does not fit the place; a long one would have done as well."""
    graph = chain(
        decision("width"),
        choice("form", *FORMS),
        decision("length"),
        named("size", lambda width, form: width * FORMS[form], Length("mm")),
        named("reach", lambda width, length: width + length, Length("mm")),
        limit("large", "size", "at least", 50.0),
        limit("fits", "width", "at most", 45.0),
        limit("far", "reach", "at least", 60.0),
    )
    return design_on(graph, width=here, form=form, length=0.02)


def test_levers_that_break_nothing_come_first_and_say_what_else_they_do():
    first, second = turning(several(), "large")
    assert (first.decision, first.value, first.after) == ("form", "square", "square") and str(
        first
    ) == "the form: from round to square"
    assert (second.decision, second.after) == ("width", "50 mm")
    assert second.breaks == ("fits rule",) and second.mends == ("far rule",)
    assert str(second) == "the width: from 30 mm to 50 mm; this mends “far rule” as well; but then “fits rule” fails"
    assert [lever.decision for lever in turning(several(), "large", most=1)] == ["form"]


def test_several_broken_findings_are_listed_as_words():
    graph = chain(
        decision("width"),
        *(limit(name, "width", "at most", 40.0) for name in ("a", "b", "c")),
        limit("wide", "width", "at least", 50.0),
    )
    assert str(turning(design_on(graph, width=0.03), "wide")[0]).endswith("; but then “a rule”, “b rule” and “c rule” fail")


def test_a_value_at_which_another_finding_cannot_be_worked_out_breaks_it():
    graph = chain(
        decision("width"),
        named("hole", lambda width: np.where(width < 0.045, width, np.nan), Length("mm")),
        limit("sound", "hole", "at least", 1.0),
        limit("wide", "width", "at least", 50.0),
    )
    assert turning(design_on(graph, width=0.03), "wide")[0].breaks == ("sound rule",)
    assert space(design_on(graph, width=0.03), "width").high == "40 mm"


# --- toys: room ------------------------------------------------------------------------------------
def between(here=0.03, low=20.0, high=60.0):
    graph = chain(decision("width"), limit("least", "width", "at least", low), limit("most", "width", "at most", high))
    return space(design_on(graph, width=here), "width")


def test_room_goes_to_the_last_value_before_something_fails():
    found = between()
    assert (found.low, found.low_stop, found.high, found.high_stop) == ("20 mm", "least rule", "60 mm", "most rule")
    assert str(found) == (
        "The width is 30 mm. You could go down to 20 mm before “least rule” fails. "
        "You could go up to 60 mm before “most rule” fails."
    )
    assert found.span == "the width 20 to 60 mm"


def test_room_that_ends_where_sense_ends():
    assert str(between(low=1.0, high=500.0)) == (
        "The width is 30 mm. You could go down to 10 mm, the lower end of what is sensible, and nothing more fails. "
        "You could go up to 100 mm, the upper end of what is sensible, and nothing more fails."
    )


def test_no_room_at_all():
    found = between(low=30.0, high=30.0)
    assert found.low is None and found.high is None
    assert str(found) == "The width is 30 mm. One step less and “least rule” fails. One step more and “most rule” fails."
    assert found.span == "the width 30 mm" and between(low=30.0).span == "the width 30 to 60 mm"


@pytest.mark.parametrize("here, end", [(0.01, "lower"), (0.1, "upper"), (0.005, "lower"), (0.2, "upper")])
def test_a_decision_at_or_past_the_end_of_what_is_sensible(here, end):
    assert f"It is at the {end} end of what is sensible." in str(between(here, low=1.0, high=900.0))


def test_what_fails_already_does_not_stop_the_room_of_others():
    found = between(here=0.07, low=20.0, high=60.0)
    assert (found.low, found.high) == ("20 mm", "100 mm") and found.high_stop is None


def test_a_value_between_two_steps_keeps_its_place():
    found = between(here=0.033, low=31.0, high=37.0)
    assert (found.here, found.low, found.low_stop, found.high) == ("33 mm", None, "least rule", "35 mm")


# --- the lathe: every proposal tried, every smaller change tried too -------------------------------------
_WALKS: dict[tuple[str, str], list[tuple[object, dict[str, float]]]] = {}


def walk(start: str, name: str) -> list[tuple[object, dict[str, float]]]:
    """Margins at every value of one decision, each worked out alone."""
    if (start, name) not in _WALKS:
        part = LATHE.decisions[name]
        values = part.values() if part.numeric else part.options
        design = demo(start)
        here = evaluate(design)
        _WALKS[start, name] = [
            (value, LATHE.margins(evaluate(design.trying(**{name: value}), earlier=here).values_si)) for value in values
        ]
    return _WALKS[start, name]


def walked(start: str, half: int):
    """Decisions that are walked along: by default a part of them, others for each demo, in two halves."""
    share = many(4, 1)
    return [*LATHE.decisions.items()][[*DEMOS].index(start) % share :: share][half::2]


#: a demo and half of what is walked along there
HALVES = [(start, half) for start in DEMOS for half in range(2)]


def labels(names) -> set[str]:
    return {LATHE.limits[name].label for name in names}


def borne_out(design, rule, target) -> bool:
    """Does half of all draws bear a turned finding out?"""
    cloud = evaluate(design, DRAWS)
    asked = rule.comfort if target >= rule.comfort else 0.0
    return np.median(rule.margin(cloud[rule.value], LATHE.limit_value(rule, cloud.values_si))) >= asked + NOT_FAILING


@pytest.mark.parametrize("where", short_of(HALVES, ("boat_shed", 0)))
def test_levers_of_a_demo_do_what_they_say_and_no_smaller_change_would(where):
    start, half = where
    design = demo(start)
    now = evaluate(design)
    failing = {name for name, found in now.findings.items() if found.status == "fails"}
    open_ones = [name for name, found in now.findings.items() if found.presses]
    assert len(open_ones) >= 3
    cloud = evaluate(design, DRAWS)
    for finding in open_ones:
        rule = LATHE.limits[finding]
        lean = max(
            0.0,
            now.findings[finding].margin
            - float(np.median(rule.margin(cloud[rule.value], LATHE.limit_value(rule, cloud.values_si)))),
        )
        target = NOT_FAILING + lean + (0.0 if rule.status(now.findings[finding].margin - lean) == "fails" else rule.comfort)
        proposed: dict[str, list] = {}
        for lever in levers(now, finding, most=1000):
            proposed.setdefault(lever.decision, []).append(lever)
        for name, part in walked(start, half):
            if part.free_text or not part.movable or finding not in LATHE.downstream(name):
                assert name not in proposed
                continue
            works = [
                (value, margins)
                for value, margins in walk(start, name)
                if margins[finding] >= target
                and value != design[name]
                and sum(not margin >= NOT_FAILING and one not in failing for one, margin in margins.items()) <= 5
            ]
            found = {lever.value: lever for lever in proposed.get(name, [])}
            if part.numeric and works:
                nearest = min(abs(math.log(max(value, 1e-30) / design[name])) for value, _ in works)
                close = [
                    (value, margins)
                    for value, margins in works
                    if abs(math.log(max(value, 1e-30) / design[name])) <= nearest * (1 + 1e-9)
                ][:1]
                if set(found) != {value for value, _ in close}:  # the draws speak against the nearest: a further one, or none
                    assert not borne_out(design.trying(**{name: close[0][0]}), rule, target)
                    works = [(value, margins) for value, margins in works if value in found]
                    assert all(borne_out(design.trying(**{name: value}), rule, target) for value in found)
                else:
                    works = close
            assert set(found) == {value for value, _ in works}, (finding, name)
            for value, margins in works:
                assert set(found[value].breaks) == labels(
                    one for one, margin in margins.items() if not margin >= NOT_FAILING and one not in failing
                )
                assert set(found[value].mends) == labels(
                    one for one, margin in margins.items() if margin >= NOT_FAILING and one in failing and one != finding
                )


@pytest.mark.parametrize("where", short_of(HALVES, ("boat_shed", 0)))
def test_room_of_a_demo_ends_where_walking_ends(where):
    start, half = where
    design = demo(start)
    now = evaluate(design)
    fine = {name for name, found in now.findings.items() if found.status != "fails"}
    for name, part in walked(start, half):
        if not part.numeric:
            continue
        found, here = room(now, name), design[name]
        for values, end, stop in (
            ([step for step in reversed(walk(start, name)) if step[0] < here * (1 - 1e-9)], found.low, found.low_stop),
            ([step for step in walk(start, name) if step[0] > here * (1 + 1e-9)], found.high, found.high_stop),
        ):
            last, stopped = None, set()
            for value, margins in values:
                stopped = {one for one in fine if not margins[one] >= NOT_FAILING}
                if stopped:
                    break
                last = value
            assert end == (None if last is None else units.shown(last, part.kind)), (start, name)
            assert (stop is None) == (not stopped) and (stop is None or stop in labels(stopped)), (start, name)


def test_the_cabin_is_told_to_take_another_bearing():
    """Its nose is soft because of its bearings: no thicker spindle mends that as well as another kind does."""
    proposed = turning(demo("cabin"), "nose_stiff_enough")
    assert {"taper roller", "angular contact pair"} <= {lever.value for lever in proposed}
    assert proposed[0].decision == "bearing_kind" and not proposed[0].breaks


def test_nobody_is_told_to_be_more_patient_or_to_wish_for_a_stronger_floor():
    assert "patience" not in {lever.decision for lever in turning(demo(), "finished_in_time")}
    assert "mass_limit" not in {lever.decision for lever in turning(demo("shared_barn"), "place_bears_parts")}
    assert "centre_height" in {lever.decision for lever in turning(demo("shared_barn"), "place_bears_parts")}


def test_walls_can_grow_only_until_they_meet():
    """40 mm walls close a bed 80 mm high: there is no such box."""
    found = space(demo("cabin").trying(bed_form="closed box", bed_height=0.08), "bed_wall")
    assert found.high == "39 mm" and found.high_stop is not None
