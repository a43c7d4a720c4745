"""Ten thousand builds side by side, against one at a time and against a simulation that goes event by event."""

import functools
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from clock import best, told

from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.planning.schedule import Means, schedule

sys.path.insert(0, str(Path(__file__).parents[1] / "planning"))
from test_schedule import event_by_event

pytestmark = pytest.mark.benchmark

BUILDS = 10_000


@functools.cache
def builds():
    """Ten thousand builds of the boat shed: all that was worked out, the work, and the means."""
    cloud = evaluate(demo("boat_shed"), BUILDS)
    return (
        cloud,
        cloud["build_work"],
        Means(
            cloud["build_hours_can"],
            float(np.median(cloud["money_can"])),
            float(cloud["savings"]),
            cloud["machine_hours"],
            cloud["calendar"],
        ),
    )


def one_of(build):
    """One build of the cloud by itself."""

    def cut(values):
        return values[build] if np.ndim(values) == 2 else values

    _, work, means = builds()
    hours = means.hours if np.ndim(means.hours) == 0 else means.hours[build]
    work = replace(work, hours=cut(work.hours), money=cut(work.money), lead=cut(work.lead), evenings=cut(work.evenings))
    return work, replace(means, hours=float(hours), borrowed=float(np.median(means.borrowed)))


def event_by_event_of(build):
    work, means = one_of(build)
    share = np.roll(means.calendar.share, 1 - means.calendar.first)
    return event_by_event(work, means.hours, means.money, means.saved, means.borrowed, tuple(share))


def test_ten_thousand_builds_of_the_boat_shed(capsys):
    """Both in one run: side by side, and a few builds event by event, from which all would follow."""
    few = 3
    cloud, work, means = builds()
    many, single, events = best(
        lambda: schedule(work, means),
        lambda: schedule(*one_of(0)),
        lambda: [event_by_event_of(build) for build in range(few)],
        rounds=3,
    )
    ratio = events / few * BUILDS / many
    parts = len(cloud["build_layout"].parts)
    told(
        capsys,
        f"{BUILDS} builds of {parts} parts: {1000 * many:.0f} ms; event by event {ratio:.0f} times as long, one by one {single * BUILDS / many:.0f} times",
    )
    assert ratio > 1000 and single * BUILDS > 20 * many


def test_the_builds_it_counts_end_when_the_events_end():
    """Not a fast answer to another question: the first builds of the cloud, event by event, purse filled in small steps."""
    for build in range(3):
        work, means = one_of(build)
        assert abs(schedule(work, means).end[0] - max(event_by_event_of(build).values())) < 0.15


def test_a_slider_of_the_pictures_answers_within_a_tenth_of_a_second(capsys):
    """Money moved, four hundred builds anew, and the bills beside the purse: against working it all out from nothing."""
    from lathe_course.course.pictures import PICTURES
    from lathe_course.course.pictures.style import Canvas

    design, canvas = demo("boat_shed"), Canvas()
    amounts = iter(np.linspace(100, 140, 2000))

    def moved():
        tried = evaluate(design.trying(money_can=float(next(amounts))))
        return canvas.draw(PICTURES["money_fan"], tried)

    slider, whole = best(moved, lambda: evaluate(replace(design), BUILDS), rounds=3, least=0.05)
    told(
        capsys,
        f"picture of bills and purse anew: {1000 * slider:.0f} ms; ten thousand draws of the whole design {1000 * whole:.0f} ms",
    )
    assert slider < whole
