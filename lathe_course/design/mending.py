"""Mending: the smallest changes, one after the other, until nothing fails or nothing more can be turned."""
from __future__ import annotations

import math
from collections.abc import Container, Iterator
from dataclasses import dataclass

from .chain import Chain
from .design import Design
from .evaluation import Evaluation, Finding, evaluate
from .levers import Lever, levers
from .luck import DRAWS

__all__ = ["Change", "Mended", "mend"]


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


def mend(design: Design) -> Mended:
    """Turn failing findings, the one that misses by most first, each by the smallest change that breaks no other.

    Sizes and forms, which open the list of parts anew, are moved only where nothing else turns it.
    It is one way to mend a design, not the best: a search over all decisions at once would know
    nothing of what the learner would rather keep.  Worked out once for a design.
    """
    if mend not in design.tried:
        design.tried[mend] = _mend(design)
    return design.tried[mend]


def _mend(design: Design) -> Mended:
    before = now = evaluate(design)
    moved: dict[str, None] = {}
    given_up: dict[str, list[Lever]] = {}
    easily = frozenset(design.chain.decisions) - design.chain.one_by_one
    drawn: Evaluation | None = None
    # a change breaks nothing, so fewer fail after each, and the loop ends
    while True:
        name = _worst(now, given_up)
        if name is None:            # what the middling figures bear is asked of the draws as well
            drawn = evaluate(now.design, DRAWS)
            name = _worst(drawn, given_up)
        if name is None:
            break
        lever = next(_harmless(levers(now.design, name, among=easily)), None)
        if lever is None:
            found = levers(now.design, name)
            lever = next(_harmless(found), None)
        if lever is None:
            given_up[name] = found
            continue
        now = evaluate(now.design.trying(**{lever.decision: lever.value}), earlier=now)
        moved[lever.decision] = None
        below = design.chain.downstream(lever.decision)
        given_up = {name: found for name, found in given_up.items() if not _worth_another_try(design.chain, name, found, below)}
    changes = tuple(Change(name, design.chain.decisions[name].label, before.shown(name), now.shown(name)) for name in moved)
    return Mended(now.design, changes, tuple(finding for finding in drawn.findings.values() if finding.status == "fails"))


def _harmless(found: list[Lever]) -> Iterator[Lever]:
    return (lever for lever in found if not lever.breaks)


def _worth_another_try(chain: Chain, name: str, found: list[Lever], below: frozenset[str]) -> bool:
    """Could a finding that was given up be turned, now that all that is ``below`` a decision has moved?

    Only if it has moved itself, or if everything has moved that one of its levers would break.
    """
    moved = {chain.limits[one].label for one in below if one in chain.limits}
    return name in below or any(moved.issuperset(lever.breaks) for lever in found)


def _worst(evaluation: Evaluation, given_up: Container[str]) -> str | None:
    failing = [finding for name, finding in evaluation.findings.items() if finding.status == "fails" and name not in given_up]
    worst = min(failing, key=lambda finding: -math.inf if math.isnan(finding.margin) else finding.margin, default=None)
    return worst.name if worst else None
