"""What a changed decision moves, before and after."""

import itertools
from dataclasses import replace

import numpy as np
import pytest
from toys import chain, choice, decision, design_on, figure, limit, named

from lathe_course.design.asked.ripple import WHOLE, ripple
from lathe_course.design.chain.entries import Figure
from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.design.files.progress_log import invented_log
from lathe_course.design.lathe import LATHE
from lathe_course.units import Length, Mass

PRICE = Figure("price", "the price", Mass(), "01", lookup=lambda form: {"round": 2.0, "square": 3.0}[form])
BOX = chain(
    decision("width"),
    decision("height"),
    choice("form", "round", "square"),
    figure("share", 0.5, 1, 2),
    PRICE,
    named("area", lambda width, height: 1e3 * width * height),
    named("double", lambda width: 2 * width, Length("mm")),
    named("gap", lambda height: np.where(height < 0.05, 0.0, height - 0.05), Length("mm")),
    named("hole", lambda height: np.where(height < 0.08, height, np.nan), Length("mm")),
    limit("wide", "width", "at least", 50.0),
    limit("high", "height", "at least", 10.0),
)
START = design_on(BOX, width=0.04, height=0.03, form="round")


def change(**values):
    before = evaluate(START)
    return ripple(before, evaluate(START.trying(**values), earlier=before))


def test_nothing_moves_when_nothing_is_changed():
    for after in (
        evaluate(replace(START)),
        evaluate(replace(START), earlier=evaluate(START)),
        evaluate(START.trying(width=0.04)),
    ):
        moved = ripple(evaluate(START), after)
        assert not moved and moved.decisions == moved.results == moved.findings == () and str(moved) == "Nothing moved."


def test_what_moves_is_told_before_and_after_largest_first():
    moved = change(width=0.06, height=0.032)
    assert [(m.name, m.before, m.after) for m in moved.decisions] == [("height", "30 mm", "32 mm"), ("width", "40 mm", "60 mm")]
    assert [(m.name, m.before, m.after) for m in moved.results] == [
        ("area", "1.2", "1.92"),
        ("double", "80 mm", "120 mm"),
        ("hole", "30 mm", "32 mm"),
    ]
    assert [m.change for m in moved.results] == pytest.approx([0.6, 0.5, 2 / 30])
    assert [(before.status, after.status) for before, after in moved.findings] == [("fails", "holds")]
    assert str(moved).split("\n") == [
        "the height: 30 mm → 32 mm",
        "the width: 40 mm → 60 mm",
        "  the area: 1.2 → 1.92 (+60%)",
        "  the double: 80 mm → 120 mm (+50%)",
        "  the hole: 30 mm → 32 mm (+7%)",
        "  wide rule: fails → holds",
    ]


def test_a_finding_that_keeps_its_verdict_is_not_told():
    assert change(width=0.045).findings == ()


def test_what_hardly_moves_is_left_out_unless_asked_for():
    assert not change(width=0.04001).results
    before = evaluate(START)
    assert ripple(before, evaluate(START.trying(width=0.04001)), least=0).results


@pytest.mark.parametrize("share", [0.011, -0.011, 0.02, 0.04])
def test_whatever_shows_in_three_digits_is_told(share):
    """A figure of three digits never stays the same to the eye when it moves by more than a hundredth, and always does when it moves by less than a ten-thousandth."""
    moved = change(width=0.04 * (1 + share)).results
    assert {one.name for one in moved} == {"area", "double"} and all(one.before != one.after for one in moved)
    assert not change(width=0.04 * (1 + share * 1e-3)).results


def test_a_choice_moves_figures_that_are_looked_up():
    moved = change(form="square")
    assert [(m.before, m.after) for m in moved.decisions] == [("round", "square")]
    assert [(m.name, m.before, m.after, m.change) for m in moved.results] == [("price", "2 kg", "3 kg", 0.5)]


def test_from_nothing_and_to_what_cannot_be_worked_out():
    moved = change(height=0.09)
    first, second, third = moved.results
    assert {(first.name, first.after), (second.name, second.after)} == {("gap", "40 mm"), ("hole", "–")} and third.name == "area"
    assert "the gap: 0 mm → 40 mm\n" in f"{moved}\n" and "nan" not in str(moved)


def test_a_figure_of_the_learners_own_counts_as_changed_once():
    graph = chain(decision("width"), figure("share", 0.5, 1, 2), named("part", lambda width, share: width * share, Length("mm")))
    design = design_on(graph, width=0.04)
    moved = ripple(evaluate(design), evaluate(design.with_(share="1.5")))
    assert [m.name for m in moved.decisions] == ["share"] and [(m.name, m.after) for m in moved.results] == [("part", "60 mm")]


def test_draws_are_told_by_their_medians():
    before = evaluate(demo(), draws=300)
    moved = ripple(before, evaluate(before.design.trying(motor_power=550.0), draws=300, earlier=before))
    assert [m.name for m in moved.decisions] == ["motor_power"]
    found = {m.name: m.change for m in moved.results}
    assert {"spindle_power", "low_speed_torque", "supply_current"} <= set(found) <= LATHE.downstream("motor_power")
    assert all(found[name] == pytest.approx(550 / 370 - 1) for name in ("spindle_power", "low_speed_torque", "supply_current"))


def test_a_higher_centre_moves_kilograms_months_and_money_of_the_lathe():
    before = evaluate(demo())
    moved = ripple(before, evaluate(before.design.trying(centre_height=0.09), earlier=before))
    found = {m.name: m for m in moved.results}
    assert {"swing_over_bed", "parts_mass", "cash_total", "own_hours", "months_to_finish", "machine_length"} <= set(found)
    assert set(found) <= LATHE.downstream("centre_height")
    assert (found["swing_over_bed"].before, found["swing_over_bed"].after, found["swing_over_bed"].chapter) == (
        "150 mm",
        "180 mm",
        "02",
    )
    whole = [one.name in WHOLE for one in moved.results]
    assert whole == sorted(whole, reverse=True) and sum(whole) >= 4, "figures of the whole plan stand first"
    for those in ([one for one in moved.results if one.name in WHOLE], [one for one in moved.results if one.name not in WHOLE]):
        assert all(abs(one.change) >= abs(other.change) - 1e-8 for one, other in itertools.pairwise(those))


def test_the_way_back_moves_the_same_the_other_way_round():
    low, high = evaluate(demo().trying(centre_height=0.075)), evaluate(demo().trying(centre_height=0.09))
    there, back = ripple(low, high, least=0), ripple(high, low, least=0)
    assert {(m.name, m.before, m.after) for m in there.results} == {(m.name, m.after, m.before) for m in back.results}
    assert {(old.name, old.status, new.status) for old, new in there.findings} == {
        (old.name, new.status, old.status) for old, new in back.findings
    }


def test_another_list_of_jobs_is_a_ripple_too():
    before = evaluate(demo())
    moved = ripple(before, evaluate(replace(before.design, jobs=demo("cabin").jobs), earlier=before))
    assert moved and not moved.decisions and "largest_disc" in {m.name for m in moved.results}
    assert ("fast_enough", "fails") in {(after.name, after.status) for _, after in moved.findings}


def test_what_a_log_tells_is_told_once_there_is_one():
    """Before, "months in all" and "months from today" are the months of the plan under two more names."""
    plan = demo("boat_shed")
    moved = ripple(evaluate(plan), evaluate(plan.with_(hours_can="30 h/month")))
    assert "months_to_finish" in [one.name for one in moved.results]
    assert not [one.name for one in moved.results if one.chapter == "16"]
    followed = plan.with_log(invented_log())
    moved = ripple(evaluate(followed), evaluate(followed.with_(hours_can="30 h/month")))
    assert "months_forecast" in [one.name for one in moved.results]
