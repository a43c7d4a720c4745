"""Slips: what each step of a wrong way does to a figure, by hand."""

import math

import pytest
from cases import every

from lathe_course.course.teaching.questions.reckoned import figures_in, reckon
from lathe_course.course.teaching.questions.slips import TRANSFORMATIONS, Calculation, factor, faults, wrong_value
from lathe_course.machine import cutting_speeds
from lathe_course.units import Length, Ratio, RotationalSpeed, Speed, read, si_factor

KINDS = {"a": Length("mm"), "b": Length("mm"), "n": RotationalSpeed(), "share": Ratio()}


def outcome(steps, output=KINDS["share"], **figures):
    figures = {"a": 0.020, "b": 0.005, "n": math.tau, "share": 0.25} | figures
    return wrong_value(Calculation(figures, KINDS, output, lambda f: f["a"] / f["b"]), steps)


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ([], 4.0),
        ([{"do": "scale", "input": "a", "by": "1/2"}], 2.0),
        ([{"do": "add", "input": "b", "amount": 0.005}], 2.0),
        ([{"do": "subtract", "input": "a", "less": "b"}], 3.0),
        ([{"do": "set", "input": "b", "to": "1 mm"}], 20.0),
        ([{"do": "take", "input": "b", "other": "a"}], 1.0),
        ([{"do": "swap", "input": "a", "other": "b"}], 0.25),
        ([{"do": "misread", "input": "a", "unit": "mm", "as_unit": "in"}], 4 * 25.4),
        ([{"do": "scale result", "by": "2*pi"}], 8 * math.pi),
        ([{"do": "divide result", "input": "a"}], 0.2),
        ([{"do": "multiply result", "input": "n"}], 240.0),
        ([{"do": "invert", "input": "share"}, {"do": "quote", "figure": "share"}], 4.0),
        ([{"do": "leave", "input": "share"}, {"do": "quote", "figure": "share"}], 0.75),
        ([{"do": "negate", "input": "a"}], -4.0),
        ([{"do": "raise result", "power": "1/2"}], 2.0),
        ([{"do": "add result", "amount": -1}], 3.0),
        ([{"do": "invert result"}], 0.25),
        ([{"do": "rest"}], -3.0),
        ([{"do": "invert result"}, {"do": "against rest"}], 1 / 3),
        ([{"do": "quote", "figure": "share"}], 0.25),
        ([{"do": "divide result in SI", "input": "b"}], 800.0),
        ([{"do": "multiply result in SI", "input": "n"}], 8 * math.pi),
        ([{"do": "surplus", "figure": "share"}], 3.75),
        ([{"do": "mirror", "figure": "share"}], 3.5),
        ([{"do": "multiplied", "figure": "share"}], 0.25 * (2 - 0.25 / 4)),
        ([{"do": "divided", "figure": "share"}], 0.25 / (2 - 4 / 0.25)),
        ([{"do": "reckon", "sum": "(a - b) ** 2 / sqrt(4) + n * cos(60) - max(a, b) * pi"}], 225 / 2 + 30 - 20 * math.pi),
        ([{"do": "instead", "put": "sum", "of": ["a", "b"]}], 25.0),
        ([{"do": "instead", "put": "mean", "of": ["a", "b"]}], 12.5),
        ([{"do": "instead", "put": "geometric mean", "of": ["a", "b"]}], 10.0),
        ([{"do": "instead", "put": "product", "of": ["a", "b"]}], 100.0),
        ([{"do": "instead", "put": "difference", "of": ["a", "b"]}], 15.0),
        ([{"do": "instead", "put": "quotient", "of": ["n", "b"]}], 12.0),
        ([{"do": "scale", "input": "a", "by": "1/2"}, {"do": "scale result", "by": "pi"}, {"do": "rest"}], 1 - 2 * math.pi),
    ],
    ids=str,
)
def test_a_transformation_does_what_it_says(steps, expected):
    assert outcome(steps) == pytest.approx(expected)


def test_what_is_no_share_leads_to_no_figure():
    assert math.isnan(outcome([{"do": "against rest"}]))


def test_every_transformation_is_tried_above():
    marks = test_a_transformation_does_what_it_says.pytestmark[0].args[1]
    assert {step["do"] for steps, _ in marks for step in steps} == set(TRANSFORMATIONS)
    assert all(does.__doc__ for does in TRANSFORMATIONS.values())


@every("text", ["", "x", "pi()", "1/0", "1/2/3", "-1", "inf", "nan", "2**9**9", "0"])
def test_a_factor_is_a_number_or_nothing(text):
    with pytest.raises((ValueError, ZeroDivisionError)):
        factor(text)


@every(
    "text",
    [
        "",
        "a b",
        "a.b",
        "a[0]",
        "f(a)",
        "open('x')",
        "__import__('os')",
        "lambda: 1",
        "a if b else n",
        "'text'",
        "True",
        "1j",
        "1e999",
        "a < b",
        "a, b",
        "a // b",
        "~a",
        "sqrt()",
        "sqrt(a, b)",
        "max(a)",
        "max(*a)",
        "sin(a, b=1)",
        "\x00",
        "(" * 400,
        "a + " * 60 + "a",
        7,
        ["a"],
    ],
)
def test_what_is_no_sum_is_refused_and_never_run(text):
    with pytest.raises(ValueError, match="sum|known"):
        figures_in(text)
    assert faults([{"do": "reckon", "sum": text}], KINDS, KINDS, KINDS)


def test_a_sum_that_comes_to_nothing_is_an_error_of_arithmetic():
    for text in ("a / (b - b)", "sqrt(-a)", "9 ** 9 ** 9", "log10(a - a)", "(-a) ** (1 / 2)"):
        with pytest.raises((ArithmeticError, ValueError)):
            reckon(text, {"a": 2.0, "b": 3.0})


def test_a_step_reads_only_figures_that_have_a_value():
    """A figure that is left to a formula has a kind, but no number to work with."""
    for step in (
        {"do": "quote", "figure": "n"},
        {"do": "reckon", "sum": "a / n"},
        {"do": "instead", "put": "sum", "of": ["a", "n"]},
    ):
        assert faults([step], KINDS, {"a"}, {"a"}) == ["reads the figure 'n', which is neither given nor worked out"]
    assert not faults([{"do": "set", "input": "n", "to": "3 rpm"}], KINDS, {"a"}, {"a"})


def test_a_slip_by_hand():
    """Half of 40 mm at 30 m/min: 477 rpm where 239 is right. Plain geometry."""
    right = cutting_speeds.spindle_speed("30 m/min", "40 mm").magnitude
    kinds = cutting_speeds.spindle_speed.inputs
    body = cutting_speeds.spindle_speed.si
    figures = {"cutting_speed": read("30 m/min", Speed()), "diameter": read("40 mm", Length())}
    slipped = wrong_value(
        Calculation(figures, kinds, RotationalSpeed(), lambda f: body(**f)), [{"do": "scale", "input": "diameter", "by": "1/2"}]
    ) / si_factor("rpm", "speed")
    assert right == pytest.approx(238.7, abs=0.05)
    assert slipped == pytest.approx(477.5, abs=0.05)
