"""Mending takes the smallest changes that break nothing, and leaves fewer failing after each."""

import functools

import pytest
from tiers import short_of

from lathe_course.design.asked.levers import levers
from lathe_course.design.asked.mending import mend
from lathe_course.design.chain.luck import DRAWS
from lathe_course.design.demos import DEMOS, demo
from lathe_course.design.evaluation import blurred_by, evaluate


@functools.cache
def worked(name):
    """A demo worked out; its mending is kept with it."""
    return evaluate(demo(name))


def failing(design):
    return {name for name, finding in evaluate(design, DRAWS).findings.items() if finding.status == "fails"}


@pytest.mark.parametrize("name", short_of(DEMOS, "boat_shed"))
def test_mending_leaves_fewer_failing_and_none_anew(name):
    design = demo(name)
    mended = mend(worked(name))
    assert mended.changes
    assert failing(mended.design) < failing(design)
    assert {finding.name for finding in mended.left} == failing(mended.design)
    assert mended.design.changed_from(design) == {change.decision for change in mended.changes}
    for change in mended.changes:
        assert (
            change.before
            == evaluate(design).shown(change.decision)
            != change.after
            == evaluate(mended.design).shown(change.decision)
        )


@pytest.mark.parametrize("name", short_of(DEMOS, "boat_shed"))
def test_what_is_left_cannot_be_turned_without_breaking_something(name):
    mended = mend(worked(name))
    assert mended.left
    for finding in mended.left:
        assert all(lever.breaks for lever in levers(evaluate(mended.design), finding.name))


def test_what_was_mended_is_left_alone():
    done = mend(worked("boat_shed"))
    again = mend(evaluate(done.design))
    assert again.changes == () and again.left == done.left and again.design is done.design


def test_a_shape_that_cannot_be_is_mended_first():
    wide = demo("boat_shed").with_(spindle_bore="36 mm")  # wider than its spindle: margins are no numbers
    mended = mend(evaluate(wide))
    assert any(change.decision in ("spindle_bore", "spindle_diameter") for change in mended.changes)
    assert len(mended.left) < len(failing(wide))


def test_the_margin_of_a_finding_is_blurred_by_both_its_sides():
    cloud = evaluate(demo("boat_shed"), 2000)
    weights = {one.name: one.weight for one in blurred_by(cloud, "torque_suffices")}
    assert weights["bearing_efficiency"] > 0.1 and weights["fan_still_share"] > 0.2  # of the torque there is
    assert weights["kc11"] < -0.3 or weights["cut_condition"] < -0.3  # of the torque the cut asks for
