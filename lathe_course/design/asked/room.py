"""Room: how far one decision can go before a finding that does not fail begins to."""
from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ... import units
from ...ranges import likely
from ..chain.entries import NOT_FAILING
from ..evaluation import Evaluation
from .sweeps import margins_over

__all__ = ["Room", "room"]


@dataclass(frozen=True)
class Room:
    """How far one decision can go."""

    decision: str
    label: str
    here: str
    low: str | None               # lowest value with nothing newly failing; None: none below this one
    high: str | None
    low_stop: str | None          # label of the finding that stops it, None: the end of the sensible range
    high_stop: str | None

    def __str__(self) -> str:
        def way(end: str | None, stop: str | None, up: bool) -> str:
            if stop:
                return (f"You could go {'up' if up else 'down'} to {end} before “{stop}” fails." if end
                        else f"One step {'more' if up else 'less'} and “{stop}” fails.")
            sensible = f"{'upper' if up else 'lower'} end of what is sensible"
            return f"You could go {'up' if up else 'down'} to {end}, the {sensible}, and nothing more fails." if end else f"It is at the {sensible}."
        heading = f"{self.label[0].upper()}{self.label[1:]} is {self.here}."
        return " ".join([heading, way(self.low, self.low_stop, False), way(self.high, self.high_stop, True)])


def room(evaluation: Evaluation, decision: str) -> Room:
    """How far a numeric decision can move before something that does not fail now begins to."""
    e = evaluation.central
    part, here = e.chain.decisions[decision], float(likely(e.design[decision]))
    ends = {step: _end(e, decision, here, step) for step in (-1, +1)}

    def shown(value: float) -> str:
        return units.shown(value, part.kind, e.design.system)

    (low, low_stop), (high, high_stop) = ends[-1], ends[+1]
    return Room(decision, part.label, shown(here), None if low is None else shown(low), None if high is None else shown(high), low_stop, high_stop)


def _end(e: Evaluation, decision: str, here: float, step: int) -> tuple[float | None, str | None]:
    """The last value on one side before something newly fails (None: not one), and the label of what stops it."""
    fine = [name for name, margin in e.chain.margins(e.values_si).items() if margin >= NOT_FAILING]
    every = e.chain.decisions[decision].values()
    side = every[(every - here) * step > 1e-9 * abs(here)][::step]                  # outward from here
    stop: str | None = None
    # what needs no groups is swept first; the others only as far as that lets it go
    for together in e.chain.told_apart(decision):
        held = [name for name in together if name in fine]
        if held and side.size:
            margins = margins_over(e, {decision: side}, held)
            failing = np.array([~(margins[name] >= NOT_FAILING) for name in held])          # NaN fails
            if failing.any():
                place = int(np.argmax(failing.any(axis=0)))
                stop, side = e.chain.limits[held[int(np.argmax(failing[:, place]))]].label, side[:place]
    return float(side[-1]) if side.size else None, stop
