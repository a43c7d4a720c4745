"""What it costs that every call of a formula can be noted: nothing while nobody asks, little where somebody does."""

from dataclasses import replace
from types import FunctionType

import pytest
from clock import best, told

from lathe_course.design.demos import demo
from lathe_course.design.evaluation import evaluate
from lathe_course.machine.sections import tube_moment
from lathe_course.trace import traced

pytestmark = pytest.mark.benchmark


def traced_pass():
    with traced():
        evaluate(replace(demo()))


def test_a_formula_that_nobody_traces_costs_what_its_body_costs(capsys):
    """The body once more as a plain function, made of the same code, before and after somebody has traced."""
    body = tube_moment.si
    plain = FunctionType(body.__code__, body.__globals__)
    traced_pass()
    formula, straight = best(lambda: tube_moment.si(0.03, 0.01), lambda: plain(0.03, 0.01), rounds=25)
    told(capsys, f"a formula nobody traces: {formula / straight:.2f} times its body alone")
    assert formula <= 1.2 * straight


def test_a_trace_costs_a_few_passes(capsys):
    asked, plain = best(traced_pass, lambda: evaluate(replace(demo())), rounds=7)
    told(capsys, f"one pass with its calls noted: {asked / plain:.1f} times a pass")
    assert asked <= 6 * plain
