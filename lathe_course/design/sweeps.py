"""Margins of findings with one decision at other values: what levers and room are read from.

The bodies of a chain take arrays, so one pass works out a decision at all its sensible values at once, and only what the
findings looked at rest on.  Where a result between them holds for one case only, values for which it picks the same go together.
"""
from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from .evaluation import Evaluation, evaluate
from .parts_of_chain import NOT_FAILING, Decision

__all__ = ["margin_at", "margins_at", "swept", "swept_over"]


def margins_at(e: Evaluation, decision: str, value: Any) -> dict[str, float]:
    """Margins of every finding with another option or value of one decision; kept with the evaluation."""
    if (decision, value) not in e.tried:
        tried = evaluate(e.design.trying(**{decision: value}), earlier=e)
        e.tried[decision, value] = {name: float(m) for name, m in e.chain.margins(tried.values_si).items()}
    return e.tried[decision, value]


def margin_at(e: Evaluation, decision: str, value: Any, finding: str) -> float:
    """Margin of one finding with another option or value of one decision."""
    if (decision, value) in e.tried:
        return e.tried[decision, value][finding]
    return float(_margins(e, decision, value, [finding])[finding])


def swept(e: Evaluation, decision: Decision, finding: str, breaking: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Values worth trying, the margin of a finding there, and how many others newly fail at least, each of shape (values,); kept with the evaluation.

    Others are counted among those swept in one pass; values at which more than ``breaking`` of them newly fail are left out.
    """
    quick, *others = e.chain.told_apart(decision.name)
    every = decision.values()
    newly = _newly_failing(e, _kept(e, decision.name, every, quick))
    few = newly <= breaking
    if finding in quick:
        margin = _kept(e, decision.name, every, quick)[finding][few]
    else:
        together = next(names for names in others if finding in names)
        margin = _kept(e, decision.name, every[few], together)[finding]
    return every[few], margin, newly[few]


def _kept(e: Evaluation, decision: str, values: np.ndarray, findings: list[str]) -> dict[str, np.ndarray]:
    key = decision, values.tobytes(), findings[0]
    if key not in e.tried:
        e.tried[key] = swept_over(e, decision, values, findings)
    return e.tried[key]


def _newly_failing(e: Evaluation, margins: dict[str, np.ndarray]) -> np.ndarray:
    """How many findings fail in each case that do not fail here."""
    fine = [name for name, margin in e.chain.margins(e.values_si, margins).items() if margin >= NOT_FAILING]
    return sum((~(margins[name] >= NOT_FAILING)).astype(int) for name in fine) if fine else np.zeros(len(next(iter(margins.values()))), int)


def swept_over(e: Evaluation, decision: str, values: np.ndarray, findings: list[str]) -> dict[str, np.ndarray]:
    """Margins of findings that are swept together, each of shape (values,)."""
    found = {name: np.empty(len(values)) for name in findings}
    for places in _alike(e, decision, values, findings[0]):
        group = values[places] if len(places) > 1 else float(values[places[0]])
        for name, margin in _margins(e, decision, group, findings).items():
            found[name][places] = margin
    return found


def _alike(e: Evaluation, decision: str, values: np.ndarray, finding: str) -> Iterable[list[int]]:
    """Places of values that may be worked out in one pass."""
    every = range(len(values))
    if e.chain.alone(decision, finding):
        return [[place] for place in every]
    picks = e.chain.picked_by(decision, finding)
    if not picks:
        return [list(every)] if len(values) else []
    tried = evaluate(e.design.trying(**{decision: values}), earlier=e, wanted=picks)
    alike: dict[tuple, list[int]] = {}
    for place in every:
        alike.setdefault(tuple(tried[pick] if isinstance(tried[pick], bytes) else tried[pick][place] for pick in picks), []).append(place)
    return alike.values()


def _margins(e: Evaluation, decision: str, value: Any, findings: Iterable[str]) -> dict[str, Any]:
    wanted = {source for name in findings for source in e.chain.inputs_of(name)}
    return e.chain.margins(evaluate(e.design.trying(**{decision: value}), earlier=e, wanted=wanted).values_si, findings)
