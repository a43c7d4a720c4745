"""Findings: margins and verdicts at their edges, and what is said."""

import math
import re

import numpy as np
import pytest
from cases import every
from toys import chain, decision, design_on, figure, limit, named

from lathe_course.course.shown.plain_text import tally
from lathe_course.design.chain.entries import MOST_MARGIN, Limit
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.draft.starting import settle
from lathe_course.design.evaluation import evaluate
from lathe_course.design.lathe import CHAPTERS, LATHE
from lathe_course.units import Length, read


def rule(sense: str, comfort: float = 0.15) -> Limit:
    return limit("rule", "value", sense, 1.0, comfort)


# --- margins ---------------------------------------------------------------------------------------
@every(
    "sense, value, against, margin",
    [
        ("at least", 12, 10, 0.2),
        ("at least", 8, 10, -0.2),
        ("at least", 10, 10, 0.0),
        ("at most", 10, 12, 0.2),
        ("at most", 10, 8, -0.2),
        ("at most", 10, 10, 0.0),
        ("at least", 0, 10, -1.0),
        ("at most", 10, 0, -1.0),
        # nothing is asked for: all the room there is
        ("at least", 5, 0, MOST_MARGIN),
        ("at least", 0, 0, MOST_MARGIN),
        ("at most", 0, 5, MOST_MARGIN),
        ("at most", 0, 0, MOST_MARGIN),
        # below what a demand of zero allows
        ("at least", -1, 0, -MOST_MARGIN),
        ("at least", 1000, 10, MOST_MARGIN),
        ("at most", 10, 1000, MOST_MARGIN),
        ("at least", math.inf, 10, MOST_MARGIN),
    ],
)
def test_the_margin_is_the_room_as_a_share(sense, value, against, margin):
    assert rule(sense).margin(value, against) == pytest.approx(margin)
    assert rule(sense).margin(np.array([value, value]), against) == pytest.approx([margin] * 2)
    assert rule(sense).margin(value, np.array([against, against])) == pytest.approx([margin] * 2)


@every("sense", ["at least", "at most"])
@every("value, against", [(math.nan, 1.0), (1.0, math.nan), (math.nan, 0.0), (0.0, math.nan), (math.nan, math.nan)])
def test_what_is_no_number_has_no_margin_and_fails(sense, value, against):
    margin = rule(sense).margin(value, against)
    assert math.isnan(margin) and rule(sense).status(margin) == "fails"
    row = rule(sense).margin(np.array([value, 1.0]), np.array([against, 1.0]))
    assert math.isnan(row[0]) and row[1] == 0


@pytest.mark.parametrize(
    "margin, verdict",
    [
        (-0.5, "fails"),
        (-1e-6, "fails"),
        (-1e-12, "tight"),
        (0.0, "tight"),
        (0.1499, "tight"),
        (0.15, "holds"),
        (0.15 - 1e-12, "holds"),
        (9.99, "holds"),
    ],
)
def test_the_verdict_turns_at_zero_and_at_comfort(margin, verdict):
    assert rule("at least").status(margin) == verdict


@pytest.mark.parametrize("margin, verdict", [(-1e-6, "fails"), (-1e-12, "holds"), (0.0, "holds")])
def test_a_rule_without_comfort_is_never_tight(margin, verdict):
    assert rule("at least", comfort=0.0).status(margin) == verdict


def test_the_last_digit_of_a_sum_does_not_decide():
    """18 mm and 1 mm make 19 mm, though not in floating point."""
    bore, bar = read("19 mm", Length()), read("18 mm", Length()) + read("1 mm", Length())
    assert bore < bar
    assert rule("at least", comfort=0.0).status(rule("at least").margin(bore, bar)) == "holds"


def test_a_rule_has_one_of_two_senses():
    with pytest.raises(ValueError, match="rule: sense must be 'at least' or 'at most'"):
        rule("about")


# --- findings ----------------------------------------------------------------------------------------
def finding(value: float, against: float = 50.0, draws: int | None = None, **more):
    """A width in metres held against at least 50 mm."""
    graph = chain(decision("width"), limit("wide", "width", "at least", against, **more))
    return evaluate(design_on(graph, width=value), draws=draws).findings["wide"]


def test_a_limit_as_a_number_is_in_the_unit_of_the_value():
    found = finding(0.075)
    assert found.limit == pytest.approx(0.05) and found.margin == pytest.approx(0.5) and found.status == "holds"
    assert found.sentence == "75 mm against 50 mm." and str(found) == "✓ holds  75 mm against 50 mm."


def test_a_limit_as_a_name_is_another_figure():
    graph = chain(decision("width"), decision("place"), limit("fits", "width", "at most", "place"))
    found = evaluate(design_on(graph, width=0.08, place=0.06)).findings["fits"]
    assert found.margin == pytest.approx(-0.25) and found.sentence == "80 mm against 60 mm." and found.mark == "✗"


def test_verdicts_are_marked_with_signs_that_do_not_lean_on_colour():
    assert len({finding(value).mark for value in (0.03, 0.052, 0.09)}) == 3


def test_the_learners_units_are_used():
    from dataclasses import replace

    design = demo()
    assert "in" in evaluate(replace(design, system="inch")).findings["disc_clears_bed"].sentence
    assert "mm" not in evaluate(replace(design, system="inch")).findings["disc_clears_bed"].sentence


def test_nothing_asked_is_said_as_such():
    assert (
        finding(0.05, against=0.0, unasked="Nothing is asked for.", opened_by="a demand").sentence
        == "Nothing is asked for. What would bring an answer: a demand."
    )
    assert finding(0.05, against=0.0).sentence == "50 mm against 0 mm."
    assert finding(0.05, unasked="Nothing is asked for.", opened_by="a demand").sentence == "50 mm against 50 mm."
    cabin = evaluate(demo("cabin")).findings["thread_can_stop"]
    assert cabin.status == "open" and cabin.sentence.startswith("No thread on the list is cut with a single point.")


def test_a_shape_that_cannot_exist_fails_with_a_sentence_and_no_warning(recwarn):
    for changes, broken in (
        ({"bed_wall": 0.06}, "size_held"),
        ({"spindle_bore": 0.05}, "nose_stiff_enough"),
        ({"slowest_speed": 300.0}, "steps_close_enough"),
    ):
        for draws in (None, 40):
            found = evaluate(demo().trying(**changes), draws=draws).findings[broken]
            assert found.status == "fails" and not found.margin >= 0
            assert f"“{found.label}” cannot be told" in found.sentence and "–" not in found.sentence
            assert found.sure in (None, 0.0)
    assert not recwarn.list


def test_how_sure_a_finding_is_counts_the_draws_that_do_not_fail():
    graph = chain(
        decision("width"),
        figure("share", 0, 1, 2),
        named("part", lambda width, share: width * share, Length("mm")),
        limit("wide", "part", "at least", "width"),
    )
    cloud = evaluate(design_on(graph, width=0.05), draws=1000)
    assert cloud.findings["wide"].sure == pytest.approx(0.5, abs=0.01)
    assert "Sure to 50%" in str(cloud.findings["wide"]).replace("51%", "50%").replace("49%", "50%")
    assert evaluate(cloud.design).findings["wide"].sure is None
    assert finding(0.075, draws=10).sure == 1.0 and finding(0.025, draws=10).sure == 0.0


@pytest.mark.parametrize("start", DEMOS)
@pytest.mark.parametrize("draws", [None, 200])
def test_every_demo_has_a_sentence_for_every_finding(start, draws):
    worked = evaluate(demo(start), draws=draws)
    assert list(worked.findings) == list(LATHE.limits)
    for found in worked.findings.values():
        assert re.fullmatch(r"[A-Z0-9].*\.", found.sentence) and not re.search(r"[{}_]|nan|None|–|  ", found.sentence), (
            found.sentence
        )
        assert found.status in ("holds", "tight", "fails", "open") and np.isfinite(found.margin)
        assert found.status in ("open", found.rule.status(found.margin))
    assert [found for number in CHAPTERS for found in worked.findings_of(number) if found.chapter == number] == list(
        worked.findings.values()
    )
    for found in worked.findings.values():
        assert all(found in worked.findings_of(number) for number in found.rule.told_in)


# --- open -----------------------------------------------------------------------------------------------
def test_what_is_not_asked_is_open_and_counted_apart_with_what_would_bring_an_answer():
    none = {"unasked": "No bar is on the list.", "opened_by": "a bar on the list"}
    graph = chain(
        decision("width", low=0),
        decision("bar", low=0),
        limit("passes", "width", "at least", "bar", **none),
        named("bars", lambda bar: float(bar > 0)),
        limit("thin", "bar", "at most", "width", asked="bars", clear="It is nought.", **none),
    )
    without = evaluate(design_on(graph, width=0.02, bar=0.0))
    assert {one.status for one in without.findings.values()} == {"open"} and without.findings["thin"].mark == "?"
    assert without.findings["passes"].sentence == "No bar is on the list. What would bring an answer: a bar on the list."
    assert not without.findings["passes"].presses and tally(without.findings.values()) == "0 hold, 0 tight, 0 fail, 2 open"
    asked = evaluate(design_on(graph, width=0.02, bar=0.03))
    assert {one.status for one in asked.findings.values()} == {"fails"}
    drawn = evaluate(design_on(graph, width=0.02, bar=0.0), draws=20)
    assert {one.sure for one in drawn.findings.values()} == {None}


def test_a_figure_just_beyond_its_limit_is_not_told_as_the_limit():
    """40.009 months against a patience of 40: told with three digits, the sentence would say that it holds."""
    months = evaluate(demo("boat_shed"))["months_forecast"]
    finding = evaluate(demo("boat_shed").trying(patience=round(months, 2) - 0.01)).findings["finished_in_time"]
    assert finding.status == "fails"
    told, limit = re.findall(r"([\d.]+) months", finding.sentence)
    assert float(told) > float(limit)
    wide = evaluate(demo("boat_shed").trying(patience=20.0)).findings["finished_in_time"]
    assert f"about {months:.3g} months" in wide.sentence, "and no more digits than it needs"


def test_what_may_not_be_asked_says_what_would_bring_an_answer():
    with pytest.raises(ValueError, match="opened_by"):
        limit("passes", "width", "at least", 1.0, unasked="No bar is on the list.")


def test_readings_of_a_demo_leave_with_the_first_decision_of_ones_own_and_own_ones_stay():
    barn = demo("shared_barn")
    assert any(barn.readings.values()) and evaluate(barn).findings["partners_bring_hours"].status == "holds"
    own = settle(barn, "", {"patience": "50 months"})
    assert not any(own.readings.values()) and evaluate(own).findings["partners_bring_hours"].status == "open"
    sheet = next(name for name, rows in barn.readings.items() if rows)
    kept = barn.with_readings(sheet, barn.readings[sheet].written[:1])
    assert settle(kept, "", {"patience": "50 months"}).readings[sheet].written == kept.readings[sheet].written
