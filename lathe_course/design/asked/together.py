"""Two decisions together, where no single one turns a finding without breaking another; and what only the wish can change.

A lever that breaks something is followed by the lever that mends what it broke.  Where no lever turns the finding at all, the decisions
that bring it nearest are swept in pairs.  Either way the whole design is worked out with both moved: nothing else may fail that did not.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from ... import units
from ...ranges import likely
from ..chain.entries import NOT_FAILING, Decision
from ..evaluation import Evaluation, evaluate
from .levers import bears_out, change_of, levers, room_wanted
from .mending import Change
from .sweeps import margin_at, margins_over, quick_margin

#: levers that break something and are followed up; decisions that are swept in pairs; values of each; pairs of values looked at in the whole design
_FOLLOWED, _PAIRED, _GRID, _WHOLE = 3, 6, 10, 12
#: room gained, as a share of the limit, from which on a decision is said to bring a finding nearer
_NEARER = 0.01


@dataclass(frozen=True)
class Pair:
    """Two decisions moved together just far enough; nothing else breaks."""

    changes: tuple[Change, Change]
    values: Mapping[str, Any]  # SI, or the option

    def __str__(self) -> str:
        return f"two together: {self.changes[0]}, and {self.changes[1]}"


def together(evaluation: Evaluation, finding: str) -> Pair | None:
    """Two decisions that turn a failing finding where no single one does so without breaking another; nothing where none was found.

    Not every pair is tried, so nothing found is no proof that there is none.  Kept with the evaluation.
    """
    e = evaluation.central
    key = ("together", finding)
    if key not in e.tried:
        wanted = room_wanted(e, finding)
        e.tried[key] = None if wanted is None else _followed(e, finding) or _swept(e, finding, wanted[0])
    return e.tried[key]


def _pair(e: Evaluation, values: Mapping[str, Any]) -> Pair:
    def shown(decision: Decision, value: Any) -> str:
        return units.shown(value, decision.kind, e.design.system) if decision.numeric else str(value)

    parts = [e.chain.decisions[name] for name in values]
    one, other = (
        Change(part.name, part.label, shown(part, likely(e.design[part.name])), shown(part, values[part.name])) for part in parts
    )
    return Pair((one, other), values)


def _followed(e: Evaluation, finding: str) -> Pair | None:
    """A lever that breaks one other finding, and the lever that mends that one."""
    for lever in levers(e, finding, _FOLLOWED):
        if len(lever.breaks) != 1:
            continue
        moved = evaluate(e.design.trying(**{lever.decision: lever.value}), earlier=e)
        broken = next(name for name, limit in e.chain.limits.items() if limit.label == lever.breaks[0])
        second = next((one for one in levers(moved, broken, 1, breaking=0) if one.decision != lever.decision), None)
        if second is not None and _all_well(e, finding, {lever.decision: lever.value, second.decision: second.value}):
            return _pair(e, {lever.decision: lever.value, second.decision: second.value})
    return None


def _all_well(e: Evaluation, finding: str, values: Mapping[str, Any]) -> bool:
    """Does the finding turn, in half of the draws as well, and nothing fail that did not?"""
    before, wanted = e.chain.margins(e.values_si), room_wanted(e, finding)
    after = e.chain.margins(evaluate(e.design.trying(**values), earlier=e).values_si)
    broken = any(not after[name] >= NOT_FAILING and margin >= NOT_FAILING for name, margin in before.items())
    return not broken and after[finding] >= wanted[0] and bears_out(e, finding, values, wanted[1])


# --- swept in pairs ----------------------------------------------------------------------------------
def _swept(e: Evaluation, finding: str, target: float) -> Pair | None:
    nearer = sorted(_nearer(e, finding), key=lambda one: -one[2])[:_PAIRED]
    found = []
    for (one, firsts, _), (other, seconds, _) in itertools.combinations(nearer, 2):
        for values, margin in _grid(e, finding, {one.name: firsts, other.name: seconds}):
            if margin >= target:
                found.append((sum(change_of(e, name, value) ** 2 for name, value in values.items()), values))
    found.sort(key=lambda one: one[0])
    return next((_pair(e, values) for _, values in found[:_WHOLE] if _all_well(e, finding, values)), None)


def _nearer(e: Evaluation, finding: str) -> Iterator[tuple[Decision, list[Any], float]]:
    """Decisions that bring a finding nearer: the values that do, and the most room gained."""
    upstream, here = e.chain.upstream(finding), e.chain.margins(e.values_si)[finding]
    for name, decision in e.chain.decisions.items():
        if name not in upstream or not decision.movable or decision.free_text:
            continue
        if decision.numeric:
            margins, values = quick_margin(e, decision, finding), decision.values().tolist()
        else:  # a choice opens the list of parts anew, which takes as long as a whole design each time
            values = [one for one in decision.options if one != e.design[name]] if finding not in e.chain.rests_on_picks else []
            margins = np.array([margin_at(e, name, value, finding) for value in values])
        if margins is None or not len(margins):
            continue
        gains = np.nan_to_num(margins - here, nan=-np.inf)
        good = np.flatnonzero(gains > _NEARER)
        if good.size:
            good = good[np.argsort([change_of(e, name, values[place]) for place in good], kind="stable")]
            few = good[np.unique(np.geomspace(1, good.size, _GRID).round().astype(int)) - 1]  # the nearest close by each other
            yield decision, [values[place] for place in few], float(gains[good].max())


def _grid(e: Evaluation, finding: str, tried: Mapping[str, list[Any]]) -> Iterator[tuple[dict[str, Any], float]]:
    """The margin of a finding at each pair of values: in one pass where both are numbers, option by option where they are not."""
    options = [name for name in tried if not e.chain.decisions[name].numeric]
    numbers = {name: values for name, values in tried.items() if name not in options}
    for chosen in itertools.product(*(tried[name] for name in options)):
        held = dict(zip(options, chosen))
        base = evaluate(e.design.trying(**held), earlier=e, wanted=e.chain.inputs_of(finding)) if held else e
        cases = list(itertools.product(*numbers.values()))
        if numbers:
            columns = {name: np.array(column, float) for name, column in zip(numbers, zip(*cases))}
            margins = margins_over(base, columns, [finding])[finding]
        else:
            margins = [base.chain.margins(base.values_si, [finding])[finding]]
        for case, margin in zip(cases, margins):
            yield held | dict(zip(numbers, case)), float(margin)


# --- what is left -----------------------------------------------------------------------------------
def only_the_wish(evaluation: Evaluation, finding: str) -> list[str]:
    """What is left to change where decisions do not do it: a limit that is itself a wish, the jobs, the ways of the parts."""
    e, rule = evaluation.central, evaluation.chain.limits[finding]
    limit = e.chain.decisions.get(rule.limit) if isinstance(rule.limit, str) else None
    said = []
    if limit is not None and not limit.movable and np.isfinite(e[rule.value]):
        said.append(f"{limit.label}: from {e.shown(limit.name)} to about {e.shown(rule.value)}")
    if "jobs" in e.chain.upstream(finding):
        said.append("fewer or easier jobs (chapter 01)")
    if finding in e.chain.rests_on_picks:
        said.append("parts got in another way (chapter 10)")
    return said
