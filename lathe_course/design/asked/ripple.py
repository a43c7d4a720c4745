"""What a changed decision moves, before and after."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from ..chapters.progress import CHAPTER as OF_THE_LOG
from ..evaluation import Evaluation, Finding

#: figures of the whole plan, told before the rest where they move: what it weighs, takes and costs, and how stiff and true it is
WHOLE = frozenset(
    {"parts_mass", "own_hours", "cash_total", "months_to_finish", "nose_stiffness", "machine_stiffness", "size_error"}
)


@dataclass(frozen=True)
class Moved:
    """One figure before and after, as the learner reads it."""

    name: str
    label: str
    chapter: str
    before: str
    after: str
    change: float  # share of the value before; inf if that was zero or no number, nan for words


@dataclass(frozen=True)
class Ripple:
    """All that moved between two evaluations of one chain: figures of the whole plan first, then the largest change."""

    decisions: tuple[Moved, ...]
    results: tuple[Moved, ...]  # and figures looked up anew
    findings: tuple[tuple[Finding, Finding], ...]  # (before, after) where the verdict changed

    def __bool__(self) -> bool:
        return bool(self.decisions or self.results)

    def __str__(self) -> str:
        if not self:
            return "Nothing moved."
        lines = [f"{m.label}: {m.before} → {m.after}" for m in self.decisions]
        lines += [f"  {m.label}: {m.before} → {m.after}{_percent(m.change)}" for m in self.results]
        lines += [f"  {after.label}: {before.status} → {after.status}" for before, after in self.findings]
        return "\n".join(lines)


def ripple(before: Evaluation, after: Evaluation, least: float = 0.005) -> Ripple:
    """What moved by more than ``least`` (a share): figures of the whole plan, then the rest, each the largest change first.

    What a log tells is told once there is one: before, it repeats the plan.
    """
    chain = after.chain
    followed = before.design.log or after.design.log
    changed = after.design.changed_from(before.design) - set(chain.given)
    decisions = tuple(_moved(before, after, name) for name in sorted(changed))
    results = []
    for name in (*chain.results, *chain.figures):
        if not followed and chain.part(name).chapter == OF_THE_LOG:
            continue
        if name in changed or chain.part(name).kind is None or before[name] is after[name]:
            continue
        moved = _moved(before, after, name)
        if abs(moved.change) >= least:
            results.append(moved)
    results.sort(
        key=lambda m: (m.name not in WHOLE, -round(abs(m.change), 9))
    )  # alike but for the last digits: in the order of the chain
    findings = tuple(
        (old, after.findings[name]) for name, old in before.findings.items() if old.status != after.findings[name].status
    )
    return Ripple(decisions, tuple(results), findings)


def _moved(before: Evaluation, after: Evaluation, name: str) -> Moved:
    part = after.chain.part(name)
    old, new = before.middle(name), after.middle(name)
    return Moved(name, part.label, part.chapter, before.shown(name), after.shown(name), _share(old, new))


def _share(old: Any, new: Any) -> float:
    if isinstance(old, str) or isinstance(new, str):
        return float("nan")
    if old == new or (np.isnan(old) and np.isnan(new)):
        return 0.0
    share = (new - old) / abs(old) if old else float("nan")
    return float(share) if np.isfinite(share) else float("inf")


def _percent(share: float) -> str:
    return f" ({share:+.0%})" if np.isfinite(share) else ""
