"""Calls of formulas are noted for whoever asks, and for nobody else."""

import cProfile
import pstats
import sys
import threading
from dataclasses import replace

import numpy as np
import pytest

from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.machine.forces import chip_thickness
from lathe_course.machine.sections import tube_area, tube_moment
from lathe_course.trace import traced


def names(calls):
    return [call.formula.name for call in calls]


def test_a_call_is_noted_with_what_it_was_fed_and_what_came_out():
    with traced() as calls:
        tube_area.si(0.03, bore=0.0)
        tube_moment.si(np.array([0.03, 0.04]), 0.0)
    assert names(calls) == ["tube_area", "tube_moment"]
    assert calls[0].fed == {"outer": 0.03, "bore": 0.0} and calls[0].result == pytest.approx(np.pi / 4 * 0.03**2)
    assert calls[1].result.shape == (2,)
    tube_area.si(0.05, 0.0)
    assert len(calls) == 2  # what comes afterwards is nobody's business


def test_a_formula_used_inside_another_knows_by_which():
    with traced() as calls:
        evaluate(replace(demo()))  # a design of its own: what is worked out already calls nothing
    inside = [call for call in calls if call.within is not None]
    assert inside and all(call.within.name != call.formula.name for call in inside)


def test_one_that_raises_is_not_noted_and_the_next_is():
    with traced() as calls:
        with pytest.raises(TypeError):
            chip_thickness.si("a", None)
        tube_area.si(0.03, 0.0)
    assert names(calls) == ["tube_area"]


def test_a_trace_does_not_see_what_another_thread_works_out():
    """Buttons of a page are answered in two threads: each runs while the other holds its trace open."""
    turns = threading.Barrier(2, timeout=60)
    seen = {}

    def work(name, formula):
        with traced() as calls:
            turns.wait()  # both traces are open
            formula.si(0.03, 0.0)
            turns.wait()  # both have called
        seen[name] = names(calls)

    threads = [threading.Thread(target=work, args=one) for one in (("a", tube_area), ("b", tube_moment))]
    for one in threads:
        one.start()
    for one in threads:
        one.join(60)
    assert seen == {"a": ["tube_area"], "b": ["tube_moment"]}


def test_whoever_listened_before_listens_again():
    heard = []

    def listener(frame, event, _):
        if event == "call":
            heard.append(frame.f_code)

    before = sys.getprofile()
    sys.setprofile(listener)
    try:
        with traced():
            pass
        assert sys.getprofile() is listener
        tube_area.si(0.03, 0.0)
    finally:
        sys.setprofile(before)
    assert tube_area.si.__code__ in heard


def test_a_profiler_goes_on_after_a_trace():
    profiler = cProfile.Profile()
    profiler.enable()
    try:
        with traced() as calls:
            tube_area.si(0.03, 0.0)
        tube_moment.si(0.03, 0.0)
    finally:
        profiler.disable()
    assert names(calls) == ["tube_area"]
    assert "tube_moment" in {function for _, _, function in pstats.Stats(profiler).stats}
