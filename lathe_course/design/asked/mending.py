"""Mending: the smallest changes, one after the other, until nothing fails or nothing more can be turned."""

from __future__ import annotations

import math
from collections.abc import Container
from dataclasses import dataclass

from ..chain.luck import DRAWS
from ..design import Design
from ..evaluation import Evaluation, Finding, evaluate
from .levers import levers


@dataclass(frozen=True)
class Change:
    """One decision as it is and as it would be, as the learner reads it."""

    decision: str
    label: str
    before: str
    after: str

    def __str__(self) -> str:
        return f"{self.label}: from {self.before} to {self.after}"


@dataclass(frozen=True)
class Mended:
    """A design with some decisions moved.  ``left`` are findings that still fail: no single change turns them."""

    design: Design
    changes: tuple[Change, ...]
    left: tuple[Finding, ...]


def mend(evaluation: Evaluation) -> Mended:
    """Turn failing findings, the one that misses by most first, each by the smallest change that breaks no other.

    Sizes and forms, which open the list of parts anew, are moved only where nothing else turns it.
    It is one way to mend a design, not the best: a search over all decisions at once would know
    nothing of what the learner would rather keep.  Kept with the evaluation.
    """
    if "mended" not in evaluation.tried:
        evaluation.tried["mended"] = _mend(evaluation)
    return evaluation.tried["mended"]


def _mend(evaluation: Evaluation) -> Mended:
    design = evaluation.design
    before = now = evaluation.central
    moved: dict[str, None] = {}
    given_up: set[str] = set()
    easily = frozenset(design.chain.decisions) - design.chain.one_by_one
    drawn: Evaluation | None = None
    # a change breaks nothing, so fewer fail after each, and the loop ends
    while True:
        name = _worst(now, given_up)
        if name is None:  # what the middling figures bear is asked of the draws as well
            drawn = evaluate(now.design, DRAWS)
            name = _worst(drawn, given_up)
        if name is None:
            break
        lever = next(iter(levers(now, name, 1, easily, breaking=0) or levers(now, name, 1, breaking=0)), None)
        if lever is None:
            given_up.add(name)
            continue
        now = evaluate(now.design.trying(**{lever.decision: lever.value}), earlier=now)
        moved[lever.decision] = None
        given_up.clear()  # each is worth another try
    changes = tuple(Change(name, design.chain.decisions[name].label, before.shown(name), now.shown(name)) for name in moved)
    return Mended(now.design, changes, tuple(finding for finding in drawn.findings.values() if finding.status == "fails"))


def _worst(evaluation: Evaluation, given_up: Container[str]) -> str | None:
    failing = [finding for name, finding in evaluation.findings.items() if finding.status == "fails" and name not in given_up]
    # what rests on the ways picked for the parts comes last: every change of the machine moves it
    last = evaluation.chain.rests_on_picks
    worst = min(
        failing,
        key=lambda finding: (finding.name in last, -math.inf if math.isnan(finding.margin) else finding.margin),
        default=None,
    )
    return worst.name if worst else None
