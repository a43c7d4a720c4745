"""The chain against the same arithmetic written straight down.

Straight down means one function of plain local variables, each line one call of the same
arithmetic: no chain, no names looked up, nothing settled on the way, no warnings held back.

Both work out the same part, the machine: chapters 01 to 09, what they rest on, such as who makes
which part, and the limits that need no more than that.  Schedules and bills are timed elsewhere.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from clock import best, told

from lathe_course.design.demos import demo
from lathe_course.design.evaluation import Evaluation, evaluate
from lathe_course.design.lathe import LATHE
from lathe_course.ranges import Range, middling

pytestmark = pytest.mark.benchmark

DESIGN = demo()
MACHINE = frozenset(name for name in (*LATHE.figures, *LATHE.results) if LATHE.part(name).chapter < "10")
NEEDED = MACHINE.union(*(LATHE.upstream(name) for name in MACHINE))
GIVEN = [name for name in (*LATHE.decisions, *LATHE.given) if name in NEEDED]
LIMITS = {name: limit for name, limit in LATHE.limits.items() if NEEDED.issuperset(LATHE.inputs_of(name))}
STEPS = {
    name: (LATHE.figures[name].standard if name in LATHE.figures else LATHE.results[name].body, LATHE.inputs_of(name))
    for name in evaluate(DESIGN)
    if name in NEEDED and (name in LATHE.figures or name in LATHE.results)
}


def worked_out(draws: int | None = None) -> Evaluation:
    """The machine alone, by the chain."""
    return evaluate(DESIGN, draws=draws, wanted=MACHINE)


def margins_of(values: Mapping[str, Any]) -> dict[str, Any]:
    return {name: limit.margin(values[limit.value], LATHE.limit_value(limit, values)) for name, limit in LIMITS.items()}


def straight(sampled: bool) -> Callable[..., dict[str, Any]]:
    """The machine and its margins as one straight function.

    It takes what the design gives, its decisions and lists, and ``settle``, which makes a number
    or an array of a range of low, likely and high; ranges that never change are numbers from the start.
    """
    worked = worked_out()
    lines = [f"def straight({', '.join(GIVEN)}):"]
    names: dict[str, Any] = {"inf": float("inf"), "divide": np.divide, "settle": _triangle if sampled else middling}
    for name, (body, inputs) in STEPS.items():
        names[f"body_of_{name}"] = body
        call = f"body_of_{name}({', '.join(inputs)})"
        if name in LATHE.figures:
            constant = LATHE.figures[name].lookup is None
            found = body() if constant else body(*(worked[one] for one in inputs))
            if isinstance(found, Range):
                call = f"settle({call})" if sampled or not constant else repr(float(middling(found)))
            elif constant:
                call = repr(float(found))
        lines.append(f"    {name} = {call}")
    margins = []
    for limit in LIMITS.values():
        against = limit.limit if isinstance(limit.limit, str) else repr(limit.limit * LATHE.part(limit.value).kind.factor)
        have, want = (limit.value, against) if limit.sense == "at least" else (against, limit.value)
        margins.append(
            f"    margin_of_{limit.name} = divide({have}, {want}) - 1"
            if sampled
            else f"    margin_of_{limit.name} = {have} / {want} - 1 if {want} else inf"
        )
    lines += [*margins, "    return locals()"]
    exec(compile("\n".join(lines), "straight", "exec"), names)  # noqa: S102  our own names only

    def run() -> dict[str, Any]:
        given = DESIGN.given() | {"draws": DRAWS if sampled else None}
        return names["straight"](*(given[name] for name in GIVEN))

    return run


DRAWS = 10_000
_RANDOM = np.random.default_rng(1)


def _triangle(value: Range) -> np.ndarray:
    return _RANDOM.triangular(*value, DRAWS) if value.low < value.high else np.full(DRAWS, value.likely)


def machine(draws: int | None = None) -> dict[str, Any]:
    return margins_of(worked_out(draws).values_si)


def test_the_straight_function_does_the_same_arithmetic():
    found, worked = straight(sampled=False)(), worked_out()
    for name in STEPS:
        if LATHE.part(name).kind is not None:
            assert found[name] == pytest.approx(worked[name], rel=1e-12), name
    for name, margin in margins_of(worked.values_si).items():
        assert min(found[f"margin_of_{name}"], 9.99) == pytest.approx(margin, abs=1e-12), name


def test_one_design_costs_at_most_half_as_much_again_as_the_straight_arithmetic(capsys):
    chained, plain, findings = best(machine, straight(sampled=False), lambda: evaluate(replace(DESIGN)).findings)
    told(
        capsys,
        f"the machine, {len(STEPS)} steps and {len(LIMITS)} margins, one design: {chained / plain:.2f} times straight numpy ({1e3 * chained:.2f} ms against {1e3 * plain:.2f} ms; "
        f"{1e3 * findings:.1f} ms with the build and every finding in words)",
    )
    assert chained <= 1.5 * plain


def test_ten_thousand_draws_cost_little_more_than_straight_arrays(capsys):
    """The build with its two schedules at most one and a half times as much again."""
    with np.errstate(all="ignore"):
        chained, plain, whole = best(
            lambda: machine(DRAWS), straight(sampled=True), lambda: evaluate(replace(DESIGN), DRAWS), rounds=8
        )
    told(
        capsys,
        f"10 000 draws of the machine: {chained / plain:.2f} times straight numpy ({1e3 * chained:.1f} ms against {1e3 * plain:.1f} ms); "
        f"of machine and build {whole / plain:.2f} times ({1e3 * whole:.0f} ms)",
    )
    assert chained <= 1.5 * plain and whole <= 2.5 * plain
