"""Room: how far one decision can go before a finding that does not fail begins to."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ... import units
from ...ranges import likely
from ..chain.entries import NOT_FAILING, Decision
from ..evaluation import Evaluation
from .sweeps import margins_among


@dataclass(frozen=True)
class Room:
    """How far one decision can go."""

    decision: str
    label: str
    here: str
    low: str | None  # lowest value with nothing newly failing; None: none below this one
    high: str | None
    low_stop: str | None  # label of the finding that stops it, None: the end of the sensible range
    high_stop: str | None

    @property
    def span(self) -> str:
        """From lowest to highest: 'spindle diameter 33 to 39 mm'."""
        low, high = self.low or self.here, self.high or self.here
        figure, _, unit = low.partition(" ")
        shown = low if low == high else f"{figure if high.endswith(unit) else low} to {high}"
        return f"{self.label} {shown}"

    def __str__(self) -> str:
        def way(end: str | None, stop: str | None, up: bool) -> str:
            if stop:
                return (
                    f"You could go {'up' if up else 'down'} to {end} before “{stop}” fails."
                    if end
                    else f"One step {'more' if up else 'less'} and “{stop}” fails."
                )
            sensible = f"{'upper' if up else 'lower'} end of what is sensible"
            return (
                f"You could go {'up' if up else 'down'} to {end}, the {sensible}, and nothing more fails."
                if end
                else f"It is at the {sensible}."
            )

        heading = f"{self.label[0].upper()}{self.label[1:]} is {self.here}."
        return " ".join([heading, way(self.low, self.low_stop, False), way(self.high, self.high_stop, True)])


def room(evaluation: Evaluation, decision: str) -> Room:
    """How far a numeric decision can move before something that does not fail now begins to."""
    e = evaluation.central
    part, here = e.chain.decisions[decision], float(likely(e.design[decision]))
    ends = _ends(e, part, here)

    def shown(value: float) -> str:
        return units.shown(value, part.kind, e.design.system)

    (low, low_stop), (high, high_stop) = ends
    return Room(
        decision,
        part.label,
        shown(here),
        None if low is None else shown(low),
        None if high is None else shown(high),
        low_stop,
        high_stop,
    )


def _ends(e: Evaluation, decision: Decision, here: float) -> list[tuple[float | None, str | None]]:
    """On either side the last value before something newly fails (None: not one), and the label of what stops it."""
    fine = [name for name, margin in e.chain.margins(e.values_si).items() if margin >= NOT_FAILING]
    every = decision.values()
    sides = [np.flatnonzero((every - here) * step > 1e-9 * abs(here))[::step] for step in (-1, +1)]  # outward from here
    stops: list[str | None] = [None, None]
    # what needs no groups is swept first; the others only as far as that lets it go
    for together in e.chain.told_apart(decision.name):
        held = [name for name in together if name in fine]
        places = np.concatenate(sides)
        if not held or not places.size:
            continue
        margins = margins_among(e, decision, places, held)
        failing = np.array([~(margins[name] >= NOT_FAILING) for name in held])  # NaN fails
        for side, its in enumerate(np.split(failing, [sides[0].size], axis=1)):
            if its.any():
                place = int(np.argmax(its.any(axis=0)))
                stops[side], sides[side] = e.chain.limits[held[int(np.argmax(its[:, place]))]].label, sides[side][:place]
    return [(float(every[side[-1]]) if side.size else None, stop) for side, stop in zip(sides, stops)]
