"""The design behind a question: a demo, or the learner's own, from which some questions take their figures.

A figure is the learner's own once anything behind it was settled or drafted; until then it is the
demo's, the same for everybody, and numbers are drawn from the name as elsewhere.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Mapping
from typing import Any

from ....design.demos import demo
from ....design.design import Design
from ....design.evaluation import Evaluation, evaluate
from ....design.origins import DEMO
from ....ranges import likely
from ....units import InputProblem, Kind, read, shown
from ...shown.relative import from_here


class Behind:
    """One design, worked out when a question first asks for it; compared by identity, so that what was asked of it can be remembered."""

    def __init__(self, design: Design):
        self.design = design
        self._after: dict[tuple[str, tuple[tuple[str, str], ...]], float] = {}

    @functools.cached_property
    def evaluation(self) -> Evaluation:
        return evaluate(self.design)

    def own(self, name: str) -> bool:
        """Whether a decision, or anything that a result rests on, is no longer the demo's."""
        chain = self.design.chain
        names = {name} if name in chain.decisions else chain.upstream(name)
        return any(self.design.origin(one) != DEMO for one in names if one in chain.decisions)

    def label(self, name: str) -> str:
        return self.design.chain.part(name).label

    def figure(self, name: str, kind: Kind) -> str:
        """A decision or result as a question quotes it, such as '35 mm'; InputProblem with why it can give none."""
        value = self.evaluation.middle(name)
        if isinstance(value, str) or not math.isfinite(value) or value <= 0:
            raise InputProblem.about(name, f"{self.label(name)} has no figure in it")
        text = shown(float(value), kind)
        try:
            fits = math.isclose(float(read(text, kind, name)), float(value), rel_tol=0.01)
        except InputProblem:
            fits = False
        if not fits:
            raise InputProblem.about(name, f"{self.label(name)} is beyond what can be asked here")
        return text

    def changed(self, change: Mapping[str, str]) -> dict[str, str]:
        """A change with what is told from where the design stands put as figures."""
        return from_here(self.design, change)

    def after(self, result: str, change: Mapping[str, str] = {}) -> float:
        """A result after a change of decisions, SI, at its likely value."""
        key = result, tuple(change.items())
        if key not in self._after:
            known = self.design.chain.decisions
            tried: dict[str, Any] = {name: known[name].read(text) for name, text in change.items()}
            there = evaluate(self.design.trying(**tried), earlier=self.evaluation.central, wanted=(result,))
            self._after[key] = float(likely(there[result]))
        return self._after[key]


@functools.cache
def behind_demo(name: str) -> Behind:
    """A demo that comes with the course; InputProblem for an unknown name."""
    return Behind(demo(name))
