"""Levers: the smallest change of one decision that turns a finding.

The search is over values one can have (steps, preferred sizes), so a lever never proposes a motor that is not made or a
centre height of 73.18 mm.  What a change does elsewhere is worked out for those that come first, not for all.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Container, Iterator, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import Any

import numpy as np

from ... import units
from ...ranges import likely
from ..chain.entries import NOT_FAILING, Decision, Limit
from ..chain.luck import DRAWS
from ..evaluation import Evaluation, evaluate
from .sweeps import margin_at, margins_at, quick_margin, swept

#: room beyond comfort from which on the draws cannot speak against the middling figures of a machine
_CLOSE = 0.05
#: values beyond the nearest that are tried where the draws speak against it
_FURTHER = 4
#: a change that breaks more than so many others is no advice
_BROKEN = 5


@dataclass(frozen=True)
class Lever:
    """One decision moved just far enough."""

    decision: str
    label: str
    before: str
    after: str
    value: Any  # SI, or the option
    change: float  # size of the change as |ln(after/before)|; 1 for a choice
    breaks: tuple[str, ...]  # labels of findings that did not fail before and fail then
    mends: tuple[str, ...]  # labels of other findings that it turns as well

    def __str__(self) -> str:
        also = f"; this mends {_listed(self.mends)} as well" if self.mends else ""
        but = f"; but then {_listed(self.breaks)} fail{'s' if len(self.breaks) == 1 else ''}" if self.breaks else ""
        return f"{self.label}: from {self.before} to {self.after}{also}{but}"


def _listed(labels: tuple[str, ...]) -> str:
    quoted = [f"“{label}”" for label in labels]
    return " and ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)


def levers(
    evaluation: Evaluation, finding: str, most: int = 8, among: Container[str] | None = None, breaking: int = _BROKEN
) -> list[Lever]:
    """For each decision behind a failing (or tight) finding, the smallest change that turns it.

    A failing finding is turned when it no longer fails, a tight one when it holds, in half of all
    draws as well as at middling figures; one that holds has no levers.  Levers that break nothing come first, then the smaller change.  An
    empty list: no single decision within its sensible range does it.  ``among`` names the decisions
    that are looked at, if not all.  A change that breaks more than ``breaking`` others is no lever.
    """
    search = _Search.of(evaluation.central, finding, breaking)
    return search.found(most, among) if search else []


def room_wanted(evaluation: Evaluation, finding: str) -> tuple[float, float] | None:
    """The margin at middling figures from which a finding may count as turned, and the one wanted in half of the draws; nothing where it holds or is not asked."""
    search = _Search.of(evaluation.central, finding, 0)
    return (search.target, search.asked) if search else None


def bears_out(e: Evaluation, finding: str, values: Mapping[str, Any], asked: float) -> bool:
    """Has a finding this margin in half of all draws as well, with some decisions at other values?"""
    drawn = evaluate(e.design.trying(**values), DRAWS, wanted=e.chain.inputs_of(finding))
    return bool(np.median(e.chain.margins(drawn.values_si, [finding])[finding]) >= asked)


def change_of(e: Evaluation, name: str, value: Any) -> float:
    """Size of a change: |ln(after/before)| of a number, 1 for a choice."""
    return float(_changes(np.array(value), float(likely(e.design[name])))) if e.chain.decisions[name].numeric else 1.0


@dataclass(order=True)
class _Candidate:
    """A change that may turn the finding.  What is not looked at closely yet is no worse than it says."""

    breaks: int  # at least so many findings, or exactly, once the lever is there
    change: float  # at least so large, or exactly
    place: tuple[int, int]  # of the decision, and among its options
    lever: Lever | None = field(compare=False, default=None)
    closer: Callable[[], _Candidate | None] | None = field(
        compare=False, default=None
    )  # the same looked at closer; nothing where it turns nothing


@dataclass(frozen=True)
class _Search:
    """How much room is wanted of one finding of one evaluation, at middling figures and in the draws."""

    e: Evaluation
    rule: Limit
    target: float  # margin at middling figures from which the draws may be expected to bear it out
    asked: float  # margin wanted in half of the draws
    failing: frozenset[str]
    breaking: int  # most others that a lever may break

    @classmethod
    def of(cls, e: Evaluation, finding: str, breaking: int) -> _Search | None:
        """Nothing where the finding holds or is not asked."""
        rule = e.chain.limits[finding]
        if not rule.asks(e.values_si):
            return None
        margins = e.chain.margins(e.values_si)
        lean = _lean(e, rule, margins[finding])
        status = rule.status(margins[finding] - lean)
        if status == "holds":
            return None
        asked = NOT_FAILING + (0 if status == "fails" else rule.comfort)
        failing = frozenset(name for name, margin in margins.items() if not margin >= NOT_FAILING)  # NaN fails
        return cls(e, rule, asked + lean, asked, failing, breaking)

    def found(self, most: int, among: Container[str] | None) -> list[Lever]:
        """The first so many, in their order: the most promising candidate is looked at closer, until enough are levers."""
        waiting = [one for place, decision in enumerate(self._decisions(among)) for one in self._candidates(decision, place)]
        heapq.heapify(waiting)
        done: list[Lever] = []
        while waiting and len(done) < most:
            best = heapq.heappop(waiting)
            if best.lever is not None:
                done.append(best.lever)
            elif (closer := best.closer()) is not None:
                heapq.heappush(waiting, closer)
        return done

    def _decisions(self, among: Container[str] | None) -> Iterator[Decision]:
        upstream = self.e.chain.upstream(self.rule.name)
        return (
            one
            for name, one in self.e.chain.decisions.items()
            if name in upstream and one.movable and (among is None or name in among)
        )

    def _candidates(self, decision: Decision, place: int) -> Iterator[_Candidate]:
        if decision.numeric and (least := self._least_change(decision)) is not None:
            yield _Candidate(0, least, (place, 0), closer=partial(self._number, decision, place))
        for among, option in enumerate(decision.options, 1):
            if option != self.e.design[decision.name]:
                yield _Candidate(0, 1.0, (place, among), closer=partial(self._option, decision, option, (place, among)))

    def _least_change(self, decision: Decision) -> float | None:
        """The smallest change that may turn the finding; None where none does."""
        values, here = decision.values(), self._here(decision)
        may = ~np.isclose(values, here, rtol=1e-9, atol=0)
        if (margin := quick_margin(self.e, decision, self.rule.name)) is not None:
            may &= margin >= self.target
        return round(float(_changes(values[may], here).min()), 9) if may.any() else None

    def _option(self, decision: Decision, option: str, place: tuple[int, int]) -> _Candidate | None:
        return (
            self._whole(decision, [option], place)
            if margin_at(self.e, decision.name, option, self.rule.name) >= self.target
            else None
        )

    def _number(self, decision: Decision, place: int) -> _Candidate | None:
        here = self._here(decision)
        values, margin, newly = swept(self.e, decision, self.rule.name, self.breaking)
        works = (margin >= self.target) & ~np.isclose(values, here, rtol=1e-9, atol=0)
        if not works.any():
            return None
        size = _changes(values, here)
        nearest = np.argsort(np.where(works, size, np.inf), kind="stable")[: min(_FURTHER, int(works.sum()))]
        return _Candidate(
            int(newly[nearest].min()),
            round(float(size[nearest[0]]), 9),
            (place, 0),
            closer=partial(self._whole, decision, values[nearest].tolist(), (place, 0)),
        )

    def _whole(self, decision: Decision, values: list, place: tuple[int, int]) -> _Candidate | None:
        """The lever at the first of some values, nearest first, at which the draws bear it out and little else breaks."""
        turned = (self._lever(decision, value) for value in values if self._borne_out(decision, value))
        lever = next((one for one in turned if len(one.breaks) <= self.breaking), None)
        return None if lever is None else _Candidate(len(lever.breaks), round(lever.change, 9), place, lever)

    def _borne_out(self, decision: Decision, value: Any) -> bool:
        """Does the finding turn in half of all draws as well?  They are looked at where its room is small, or where they may pick other ways."""
        if (
            self.rule.name not in self.e.chain.rests_on_picks
            and margin_at(self.e, decision.name, value, self.rule.name) > self.target + _CLOSE
        ):
            return True
        return bears_out(self.e, self.rule.name, {decision.name: value}, self.asked)

    def _lever(self, decision: Decision, value: Any) -> Lever:
        limits, here = self.e.chain.limits, self.e.design[decision.name]
        margins = margins_at(self.e, decision.name, value)

        def text(v: Any) -> str:
            return units.shown(v, decision.kind, self.e.design.system) if decision.numeric else str(v)

        breaks = tuple(limits[n].label for n, m in margins.items() if not m >= NOT_FAILING and n not in self.failing)
        mends = tuple(
            limits[n].label for n, m in margins.items() if m >= NOT_FAILING and n in self.failing and n != self.rule.name
        )
        change = change_of(self.e, decision.name, value)
        return Lever(decision.name, decision.label, text(likely(here)), text(value), value, change, breaks, mends)

    def _here(self, decision: Decision) -> float:
        return float(likely(self.e.design[decision.name]))


def _changes(values: np.ndarray, here: float) -> np.ndarray:
    """Sizes of changes, as |ln(after/before)|, or as the way itself from zero."""
    return np.abs(np.log(np.maximum(values, 1e-30) / here)) if here > 0 else np.abs(values - here)


def _lean(e: Evaluation, rule: Limit, margin: float) -> float:
    """How much less room the draws leave than the middling figures; not looked at where there is plenty."""
    if not margin < rule.comfort + _CLOSE and rule.name not in e.chain.rests_on_picks:
        return 0.0
    if ("lean", rule.name) not in e.tried:
        drawn = evaluate(e.design, DRAWS, wanted=e.chain.inputs_of(rule.name))
        middle = np.median(e.chain.margins(drawn.values_si, [rule.name])[rule.name])
        e.tried["lean", rule.name] = max(0.0, float(margin - middle))  # NaN leans nowhere
    return e.tried["lean", rule.name]
