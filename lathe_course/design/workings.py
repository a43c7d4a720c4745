"""How results come about: the formulas that were really called for each, with what they were fed.

A result that is a formula has its working at once.  Any other body is run once more on the
middling figures while its calls are noted (``trace``), so a working cannot differ from what
the chain did, whichever way the body branched.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from ..trace import Call, traced
from ..units import Kind
from ..working import Working
from .chain.entries import Result

if TYPE_CHECKING:
    from .evaluation import Evaluation

#: more cases of one formula than this are told by the largest of them
_ALIKE = 3


def workings(evaluation: Evaluation, *names: str) -> tuple[Working, ...]:
    """Every formula called for these results, each case once, in the order in which they were worked out.

    Nothing for decisions, figures, and results that are sums or picks of others; for one that is
    a figure out of a bundle, those of the bundle that lead to it.  A formula used inside another is
    shown where the equation of that one names it.  Of a formula called for many cases the one that counts is
    shown, or else that with the largest result.
    """
    found: dict[Any, Working] = {}
    for name in names:
        for one in _of(evaluation.central, name):
            found.setdefault((one.formula.name, *one.values.values()), one)
    return tuple(found.values())


def _of(e: Evaluation, name: str) -> Iterator[Working]:
    part = e.chain.part(name)
    if not isinstance(part, Result):
        return
    if part.formula is not None:
        labels = {parameter: e.chain.part(source).label for parameter, source in part.renamed.items()}
        yield Working.of(part.formula, e.fed(part), e.design.system, labels | {"result": part.label})
        return
    found = _called(e, part, None)
    if not found and len(part.inputs) == 1 and (bundle := e.chain.results.get(*part.inputs)) is not None and bundle.kind is None:
        found = _towards(_called(e, bundle, e[name], part.label), e[name])
    yield from found


def _called(e: Evaluation, part: Result, figure: Any, label: str = "") -> tuple[Working, ...]:
    """The workings of a body; ``figure`` is what counts of it, where that is one out of a bundle."""
    given = {one: e[one] for one in part.inputs}
    known = [
        (kind, value, e.chain.part(one).label)
        for one, value in given.items()
        if one not in e.chain.given and (kind := e.kind(one)) and np.ndim(value) == 0
    ]
    return noted(lambda: part.body(*given.values()), e.design.system, known, label or part.label, figure)[1]


def _towards(found: tuple[Working, ...], figure: Any) -> tuple[Working, ...]:
    """Of all workings of a bundle those that come to one figure of it, and what was fed to them; all where none comes to it."""
    wanted, kept = [figure], []
    for one in reversed(found):
        if any(_is(figure, one.result) for figure in wanted):
            kept.insert(0, one)
            wanted += one.values.values()
    return tuple(kept) or found


def noted(
    work: Callable[[], Any],
    system: str,
    known: Iterable[tuple[Kind, float, str]] = (),
    label: str = "",
    figure: float | None = None,
) -> tuple[Any, tuple[Working, ...]]:
    """What ``work()`` gives, and the workings of all formulas called for it.

    ``known`` are figures with their kinds and labels, by which what is fed to a formula is called;
    ``label`` is that of what comes out, or of the ``figure`` that counts of it.
    """
    with np.errstate(all="ignore"), traced() as calls:
        came = work()
    counts = came if figure is None else figure
    before, found = list(known), []
    for formula, cases in _by_formula(calls).items():
        for fed, result, remark in _shown(cases, counts):
            names = {one: said for one, value in fed.items() if (said := _label(formula.inputs[one], value, before))}
            if label and _is(counts, result):
                names["result"] = label
            found.append(Working.of(formula, fed, system, names, remark))
            before.append((formula.output, result, formula.title))
    return came, tuple(found)


def _by_formula(calls: list[Call]) -> dict[Any, list[tuple[dict[str, float], float]]]:
    """The cases of each formula, each once, one number for each input: a call with rows of figures is as many cases."""
    found: dict[Any, dict[tuple[float, ...], tuple[dict[str, float], float]]] = {}
    for call in calls:
        if call.within is not None and rf"\operatorname{{{call.formula.title}}}" not in call.within.equation:
            continue
        *fed, results = (np.ravel(row) for row in np.broadcast_arrays(*call.fed.values(), call.result))
        for *values, result in zip(*fed, results):
            case = tuple(map(float, values))
            found.setdefault(call.formula, {}).setdefault(case, (dict(zip(call.fed, case)), float(result)))
    return {formula: list(cases.values()) for formula, cases in found.items()}


def _shown(cases: list[tuple[dict[str, float], float]], came: Any) -> Iterator[tuple[dict[str, float], float, str]]:
    """The cases to show, each with a word on which it is."""
    if len(cases) <= _ALIKE:
        yield from ((fed, result, "") for fed, result in cases)
        return
    for fed, result in cases:
        if _is(came, result):
            yield fed, result, f"The one of {len(cases)} cases that counts."
            return
    yield *max(cases, key=lambda case: abs(case[1]) if np.isfinite(case[1]) else -1.0), f"The largest of {len(cases)} cases."


def _is(came: Any, result: float) -> bool:
    return np.ndim(came) == 0 and isinstance(came, (int, float, np.ndarray)) and bool(came == result)


def _label(kind: Kind, value: float, before: list[tuple[Kind, float, str]]) -> str:
    """What a figure fed to a formula is, where one figure of its kind that went in, or came of a formula before, has this value."""
    labels = {label for other, had, label in before if other.what == kind.what and had == value}
    return labels.pop() if len(labels) == 1 and value not in (0.0, 1.0) else ""
