"""Levers: the smallest change of one decision that turns a finding; and the room there is.

The bodies of a chain take arrays, so one pass works out a decision at all its sensible
values at once.  The search is over values one can have (steps, preferred sizes), so a lever
never proposes a motor that is not made or a centre height of 73.18 mm.
"""
from __future__ import annotations

import math
from collections.abc import Container
from dataclasses import dataclass
from typing import Any

import numpy as np

from .. import units
from ..ranges import likely
from .design import Design
from .evaluation import Evaluation, evaluate
from .luck import DRAWS
from .parts_of_chain import NOT_FAILING, Limit

__all__ = ["Lever", "Room", "levers", "room"]

#: most values tried one by one
_SINGLES = 64
#: room beyond comfort from which on the draws cannot speak against the middling figures
_CLOSE = 0.05
#: values beyond the nearest that are tried where the draws speak against it
_FURTHER = 4


@dataclass(frozen=True)
class Lever:
    """One decision moved just far enough."""

    decision: str
    label: str
    before: str
    after: str
    value: Any                    # SI, or the option
    change: float                 # size of the change as |ln(after/before)|; 1 for a choice
    breaks: tuple[str, ...]       # labels of findings that did not fail before and fail then
    mends: tuple[str, ...]        # labels of other findings that it turns as well

    def __str__(self) -> str:
        also = f"; this mends {_listed(self.mends)} as well" if self.mends else ""
        but = f"; but then {_listed(self.breaks)} fail{'s' if len(self.breaks) == 1 else ''}" if self.breaks else ""
        return f"{self.label}: from {self.before} to {self.after}{also}{but}"


@dataclass(frozen=True)
class Room:
    """How far one decision can go before a finding that does not fail begins to."""

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


def _listed(labels: tuple[str, ...]) -> str:
    quoted = [f"“{label}”" for label in labels]
    return " and ".join([", ".join(quoted[:-1]), quoted[-1]] if len(quoted) > 1 else quoted)


def _worked_out(design: Design) -> Evaluation:
    """The design with every figure at its middling value, worked out once."""
    if "" not in design.tried:
        design.tried[""] = evaluate(design)
    return design.tried[""]


def _sweep(design: Design, decision: str, values: np.ndarray) -> dict[str, np.ndarray]:
    """Margins of every finding at many values of one decision, shape (values,)."""
    chain, here = design.chain, _worked_out(design)
    if picks := chain.picked_by(decision):
        return _in_groups(design, decision, values, picks)
    if decision in chain.one_by_one:
        singles = [chain.margins(evaluate(design.trying(**{decision: value}), earlier=here).values_si) for value in values.tolist()]
        return {name: np.array([one[name] for one in singles], float) for name in chain.limits}
    margins = chain.margins(evaluate(design.trying(**{decision: values}), earlier=here).values_si)
    return {name: np.broadcast_to(np.asarray(m, float), values.shape) for name, m in margins.items()}


def _in_groups(design: Design, decision: str, values: np.ndarray, picks: tuple[str, ...]) -> dict[str, np.ndarray]:
    """The same where results pick something: cases with the same picks are worked out together."""
    chain, here = design.chain, _worked_out(design)
    tried = evaluate(design.trying(**{decision: values}), earlier=here, wanted=picks)
    alike: dict[tuple, list[int]] = {}
    for place in range(len(values)):
        alike.setdefault(tuple(tried[pick] if isinstance(tried[pick], bytes) else tried[pick][place] for pick in picks), []).append(place)
    found = {name: np.empty(len(values)) for name in chain.limits}
    for places in alike.values():
        margins = chain.margins(evaluate(design.trying(**{decision: values[places]}), earlier=here).values_si)
        for name, margin in margins.items():
            found[name][places] = margin
    return found


def _swept(design: Design, decision: Any) -> tuple[np.ndarray, dict[str, np.ndarray]]:
    """The values of a decision worth trying, and the margins of every finding there; worked out once for a design."""
    if decision.name not in design.tried:
        values = _tried(design, decision)
        design.tried[decision.name] = values, _sweep(design, decision.name, values)
    return design.tried[decision.name]


def _option(design: Design, decision: str, option: Any) -> dict[str, float]:
    """Margins of every finding with another option or value; worked out once for a design."""
    if (decision, option) not in design.tried:
        tried = evaluate(design.trying(**{decision: option}), earlier=_worked_out(design))
        design.tried[decision, option] = {name: float(m) for name, m in design.chain.margins(tried.values_si).items()}
    return design.tried[decision, option]


def _tried(design: Design, decision: Any) -> np.ndarray:
    """The values of a decision that are tried; fewer where each takes an evaluation of its own."""
    return decision.values(_SINGLES) if decision.name in design.chain.one_by_one else decision.values()


def _here(design: Design, decision: str) -> float:
    return float(likely(design[decision]))


def levers(design: Design, finding: str, most: int = 8, among: Container[str] | None = None) -> list[Lever]:
    """For each decision behind a failing (or tight) finding, the smallest change that turns it.

    A failing finding is turned when it no longer fails, a tight one when it holds, in half of all
    draws as well as at middling figures; one that holds has no levers.  Levers that break nothing come first, then the smaller change.  An
    empty list: no single decision within its sensible range does it.  ``among`` names the decisions
    that are looked at, if not all.
    """
    chain = design.chain
    margins = chain.margins(_worked_out(design).values_si)
    rule = chain.limits[finding]
    if not rule.asks(_worked_out(design).values_si):
        return []
    lean = _lean(design, rule, margins[finding])
    status = rule.status(margins[finding] - lean)
    if status == "holds":
        return []
    target = NOT_FAILING + lean + (0 if status == "fails" else rule.comfort)
    upstream = chain.upstream(finding)
    failing = {name for name, margin in margins.items() if not margin >= NOT_FAILING}       # NaN fails
    out: list[Lever] = []
    for name, decision in chain.decisions.items():
        if name not in upstream or not decision.movable or among is not None and name not in among:
            continue
        if decision.numeric:
            out += _number_lever(design, finding, decision, target, failing)
        elif decision.options:
            out += _choice_lever(design, finding, decision, target, failing)
    out.sort(key=lambda lever: (len(lever.breaks), round(lever.change, 9)))
    return out[:most]


def _lean(design: Design, rule: Limit, margin: float) -> float:
    """How much less room the draws leave than the middling figures; not looked at where there is plenty."""
    if not margin < rule.comfort + _CLOSE:
        return 0.0
    if ("lean", rule.name) not in design.tried:
        drawn = evaluate(design, DRAWS, wanted=[rule.value, *([rule.limit] if isinstance(rule.limit, str) else ())])
        middle = np.median(rule.margin(drawn[rule.value], design.chain.limit_value(rule, drawn.values_si)))
        design.tried["lean", rule.name] = max(0.0, float(margin - middle))        # NaN leans nowhere
    return design.tried["lean", rule.name]


def _bears_out(design: Design, decision: str, value: Any, finding: str, margin: float, target: float) -> bool:
    """Does the finding turn in half of all draws as well?  Looked at only where its room is small."""
    if margin > target + _CLOSE:
        return True
    rule = design.chain.limits[finding]
    drawn = evaluate(design.trying(**{decision: value}), DRAWS, wanted=[rule.value, *([rule.limit] if isinstance(rule.limit, str) else ())])
    asked = 0.0 if target < rule.comfort else rule.comfort
    return bool(np.median(rule.margin(drawn[rule.value], design.chain.limit_value(rule, drawn.values_si))) >= asked + NOT_FAILING)


def _number_lever(design: Design, finding: str, decision: Any, target: float, failing: set[str]) -> list[Lever]:
    here = _here(design, decision.name)
    values, margins = _swept(design, decision)
    works = margins[finding] >= target
    works &= ~np.isclose(values, here, rtol=1e-9, atol=0)
    if not works.any():
        return []
    with np.errstate(divide="ignore"):
        size = np.abs(np.log(np.maximum(values, 1e-30) / here)) if here > 0 else np.abs(values - here)
    # where the room is small the draws are asked at the very value; a few further ones are tried
    for best in np.argsort(np.where(works, size, np.inf), kind="stable")[:min(_FURTHER, int(works.sum()))]:
        if _bears_out(design, decision.name, float(values[best]), finding, float(margins[finding][best]), target):
            break
    else:
        return []
    value, found = float(values[best]), {name: float(m[best]) for name, m in margins.items()}
    short = values[(values - here) * (value - here) >= 0]         # what was tried on this side and falls short
    short = short[np.abs(short - here) < abs(value - here) * (1 - 1e-9)]
    for nearer in _between(design, decision, short[np.argmax(np.abs(short - here))] if short.size else here, value):
        margins = _option(design, decision.name, nearer)
        if margins[finding] >= target and _bears_out(design, decision.name, nearer, finding, margins[finding], target):
            value, found = nearer, margins
            break
    change = abs(math.log(max(value, 1e-30) / here)) if here > 0 else abs(value - here)
    return [_lever(design, decision, value, change, found, finding, failing)]


def _between(design: Design, decision: Any, start: float, end: float) -> list[float]:
    """Values worth trying that a coarse search passed over, from ``start`` towards ``end``, both left out."""
    if decision.name not in design.chain.one_by_one:
        return []
    every = decision.values()
    low, high = sorted((start, end))
    inside = every[(every > low * (1 + 1e-9)) & (every < high * (1 - 1e-9))].tolist()
    return inside if end > start else inside[::-1]


def _choice_lever(design: Design, finding: str, decision: Any, target: float, failing: set[str]) -> list[Lever]:
    out = []
    for option in decision.options:
        if option == design[decision.name]:
            continue
        margins = _option(design, decision.name, option)
        if margins[finding] >= target and _bears_out(design, decision.name, option, finding, margins[finding], target):
            out.append(_lever(design, decision, option, 1.0, margins, finding, failing))
    return out


def _lever(design: Design, decision: Any, value: Any, size: float, margins: dict[str, float], finding: str, failing: set[str]) -> Lever:
    chain = design.chain

    def text(v: Any) -> str:
        return units.shown(v, decision.kind, design.system) if decision.numeric else str(v)

    breaks = tuple(chain.limits[n].label for n, m in margins.items() if not m >= NOT_FAILING and n not in failing)
    mends = tuple(chain.limits[n].label for n, m in margins.items() if m >= NOT_FAILING and n in failing and n != finding)
    before = text(likely(design[decision.name]))
    return Lever(decision.name, decision.label, before, text(value), value if isinstance(value, str) else float(value), size, breaks, mends)


def room(design: Design, decision: str) -> Room:
    """How far a numeric decision can move before something that does not fail now begins to."""
    chain = design.chain
    part = chain.decisions[decision]
    here = _here(design, decision)
    grid, swept = _swept(design, part)
    apart = ~np.isclose(grid, here, rtol=1e-9, atol=0)
    place = int(np.searchsorted(grid[apart], here))
    values = np.insert(grid[apart], place, here)
    margins = {name: np.insert(swept[name][apart], place, margin) for name, margin in chain.margins(_worked_out(design).values_si).items()}
    centre = int(np.argmin(np.abs(values - here)))
    fine = {n: m for n, m in margins.items() if m[centre] >= NOT_FAILING}

    def walk(step: int) -> tuple[str | None, str | None]:
        i = centre
        stops: list[str] = []
        while 0 <= i + step < len(values):
            stops = [n for n, m in fine.items() if not m[i + step] >= NOT_FAILING]
            if stops:
                break
            i += step
        last = values[i]
        for value in _between(design, part, last, values[i + step]) if stops else ():
            margins = _option(design, decision, value)
            nearer = [n for n in fine if not margins[n] >= NOT_FAILING]
            if nearer:
                stops = nearer
                break
            last = value
        end = units.shown(last, part.kind, design.system) if last != values[centre] else None
        return end, chain.limits[stops[0]].label if stops else None

    low, low_stop = walk(-1)
    high, high_stop = walk(+1)
    return Room(decision, part.label, units.shown(here, part.kind, design.system), low, high, low_stop, high_stop)
