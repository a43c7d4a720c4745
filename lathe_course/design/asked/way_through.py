"""A way through the chapters: what is settled, which decisions matter for this design, and where an evening is best spent.

What matters is read from findings that fail, are tight or could go either way, and from quick sweeps of the decisions above
them.  Each decision is tried by itself at a few of its values, and only what the findings rest on is worked out, so a chapter
opens as fast as before.  What a change would break elsewhere is told by the levers, which look further.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

import numpy as np

from ... import units
from ...ranges import likely
from ..chain.entries import MOST_MARGIN, NOT_FAILING, Decision
from ..evaluation import Evaluation, Finding, evaluate
from ..lathe import CHAPTERS
from ..origins import DEMO, DRAFT, YOURS
from .ripple import WHOLE

#: fewest and most decisions of a chapter that are told to matter
FEWEST, MOST = 2, 5
#: share of the draws that speak against a verdict from which on it is told to go either way
_EITHER = 0.1
#: values of a number that are tried, spread over those one can have; and as many findings are looked at, the worst first
_TRIED, _LOOKED_AT = 9, 8
#: room gained, as a share of the limit, from which on a decision is said to move a finding
_MOVES = 0.03
#: chapters whose decisions are held against time, money and place as well; elsewhere that would take as long as the chapter itself
_WHOLE_PLAN = frozenset({"01", "02", "10", "11", "12", "13"})

#: chapters whose findings are moved in another, and by what there
_MOVED_IN = {"12": ("10", "which parts you make, buy or have made moves it")}


@dataclass(frozen=True)
class Matters:
    """One decision that matters for this design, and why."""

    decision: str
    label: str
    shown: str
    why: str


@dataclass(frozen=True)
class Evening:
    """Where the next evening is best spent."""

    chapter: str
    title: str
    why: str


@dataclass(frozen=True)
class Way:
    """Where one stands in a chapter: how many of its decisions are whose, which matter, and the labels of the others."""

    yours: int
    draft: int
    demo: int
    matters: tuple[Matters, ...]
    others: tuple[str, ...]
    evening: Evening


def open_findings(e: Evaluation) -> list[Finding]:
    """Findings that fail, then those that could go either way, then those that are tight; of each sort the least room first."""
    found = [one for one in e.findings.values() if one.presses or _either(one)]
    return sorted(
        found, key=lambda one: (one.status != "fails", not _either(one), one.margin == one.margin, round(one.margin, 9))
    )


def _either(finding: Finding) -> bool:
    return finding.sure is not None and _EITHER <= finding.sure <= 1 - _EITHER


def way_through(e: Evaluation, chapter: str) -> Way:
    """Where one stands in a chapter; needs draws to see what could go either way."""
    chain, design = e.chain, e.design
    here = [name for name, decision in chain.decisions.items() if decision.chapter == chapter]
    origins = [design.origin(name) for name in here]
    matters = _that_matter(e, chapter, here)
    told = {one.decision for one in matters}
    others = tuple(chain.decisions[name].label for name in here if name not in told)
    return Way(origins.count(YOURS), origins.count(DRAFT), origins.count(DEMO), matters, others, next_evening(e))


# --- which decisions matter ----------------------------------------------------------------------------
def _that_matter(e: Evaluation, chapter: str, names: list[str]) -> tuple[Matters, ...]:
    """Two to five of a chapter's decisions: those that move its own worst findings, then those of others, then those most rests on."""
    chain = e.chain
    found: dict[str, Matters] = {}
    below = frozenset().union(*map(chain.downstream, names)) if names else frozenset()
    pressing = sorted(
        (one for one in open_findings(e) if one.name in below), key=lambda one: chapter not in (one.chapter, *one.rule.told_in)
    )[:_LOOKED_AT]
    moves = {name: _moves(e.central, chain.decisions[name], pressing) for name in names if chain.decisions[name].movable}
    for finding in pressing:
        best = sorted((name for name in moves if finding.name in moves[name]), key=lambda name: moves[name][finding.name].order)
        for name in best[:2]:
            found.setdefault(
                name,
                _matters(e, name, f"“{finding.label}” {_stands(finding)}; {moves[name][finding.name].told(e, name, finding)}"),
            )
        if len(found) >= MOST:
            break
    if len(found) < FEWEST:
        for name in sorted(names, key=lambda name: (e.design.origin(name) == YOURS, -_rests(e, name))):
            if len(found) >= FEWEST:
                break
            if _rests(e, name):
                found.setdefault(name, _matters(e, name, _reach(e, name)))
    return tuple(found.values())[:MOST]


def _matters(e: Evaluation, name: str, why: str) -> Matters:
    return Matters(name, e.chain.decisions[name].label, e.shown(name), why)


def _stands(finding: Finding) -> str:
    if finding.status == "fails":
        return "fails"
    return "could go either way" if _either(finding) else "is tight"


@dataclass(frozen=True)
class _Move:
    """What one decision does for one finding: the nearest value that turns it, or the one that leaves most room; and the room there."""

    turned: bool
    size: float  # of the change, 0 to 1 over the values one can have
    value: Any
    margin: float

    @property
    def order(self) -> tuple:
        return (not self.turned, round(self.size, 6) if self.turned else -round(self.margin, 6))

    def told(self, e: Evaluation, name: str, finding: Finding) -> str:
        decision = e.chain.decisions[name]
        value = units.shown(self.value, decision.kind, e.design.system) if decision.numeric else f"“{self.value}”"
        if not self.turned:
            return f"nearer at {value}"
        return f"met at {value}" if finding.status == "fails" else f"with room at {value}"


def _moves(e: Evaluation, decision: Decision, pressing: Iterable[Finding]) -> dict[str, _Move]:
    """What a decision does for findings that press without making another fail, by their names; those it does nothing for are left out."""
    below = e.chain.downstream(decision.name)
    wanted = {one.name: one for one in pressing if one.name in below}
    if not wanted:
        return {}
    quick = [name for name in e.chain.told_apart(decision.name)[0] if name in below]
    values, found = _values(e, decision), {}
    # a finding behind a result that holds for one case only costs as much as a whole design each time: the next values on both sides show the way
    slow = [name for name in wanted if name not in quick] if decision.chapter in _WHOLE_PLAN else []
    for names, some in ((quick, values), (slow, _nearest(e, decision, values))):
        if not any(name in wanted for name in names) or not some:
            continue
        margins = _margins(e, decision, some, names)
        free = [
            place
            for place in range(len(some))
            if not any(margins[name][place] < NOT_FAILING <= e.findings[name].margin for name in names)
        ]
        for name in names:
            if name in wanted and (move := _best(e, decision, some, margins[name], free, wanted[name], e.findings[name].margin)):
                found[name] = move
    return found


def _margins(e: Evaluation, decision: Decision, values: list[Any], names: list[str]) -> dict[str, np.ndarray]:
    """Margins of findings at each value, shape (values,): in one pass where the bodies between take arrays."""
    wanted = {source for name in names for source in e.chain.inputs_of(name)}

    def at(value: Any) -> dict[str, Any]:
        return e.chain.margins(evaluate(e.design.trying(**{decision.name: value}), earlier=e, wanted=wanted).values_si, names)

    if decision.numeric and not any(e.chain.singles_between(decision.name, name) for name in names):
        return {name: np.broadcast_to(margin, len(values)) for name, margin in at(np.array(values)).items()}
    each = [at(value) for value in values]
    return {name: np.array([float(one[name]) for one in each]) for name in names}


def _values(e: Evaluation, decision: Decision) -> list[Any]:
    """Values worth a try: some of those one can have, spread over both sides of the present one; or the other options."""
    here = e.design[decision.name]
    if not decision.numeric:
        return [option for option in decision.options if option != here]
    every = decision.values()
    every = every[~np.isclose(every, float(likely(here)), rtol=1e-9, atol=0)]
    return every[np.unique(np.linspace(0, len(every) - 1, _TRIED).round().astype(int))].tolist() if len(every) else []


def _nearest(e: Evaluation, decision: Decision, values: list[Any]) -> list[Any]:
    if not decision.numeric:
        return values
    here = float(likely(e.design[decision.name]))
    return [*[value for value in values if value < here][-1:], *[value for value in values if value > here][:1]]


def _best(
    e: Evaluation, decision: Decision, values: list[Any], margins: np.ndarray, free: list[int], finding: Finding, here: float
) -> _Move | None:
    """The nearest of the ``free`` values that turns a finding, else the one that leaves most room, if that is more than now."""
    lean = max(0.0, here - finding.margin)  # draws leave less room than middling figures
    target = max(here + _MOVES, lean + (NOT_FAILING if finding.status == "fails" else finding.rule.comfort))
    asked_away = MOST_MARGIN if finding.rule.unasked else np.inf  # where a finding is not asked any more, nothing is met
    told = [place for place in free if margins[place] < asked_away]
    if not told:
        return None
    sizes = _sizes(e, decision, values)
    turned = [place for place in told if margins[place] >= target]
    place = (
        min(turned, key=lambda place: sizes[place]) if turned else max(told, key=lambda place: (margins[place], -sizes[place]))
    )
    if not turned and not margins[place] > here + _MOVES:
        return None
    return _Move(bool(turned), float(sizes[place]), values[place], float(margins[place]))


def _sizes(e: Evaluation, decision: Decision, values: list[Any]) -> list[float]:
    if not decision.numeric:
        return [0.5] * len(values)
    here, every = float(likely(e.design[decision.name])), decision.values()
    return [abs(value - here) / max(float(every[-1] - every[0]), 1e-30) for value in values]


# --- what rests on a decision ---------------------------------------------------------------------------
def _rests(e: Evaluation, name: str) -> int:
    below = e.chain.downstream(name)
    return len(below & frozenset(e.chain.limits)) + len(below & WHOLE)


def _reach(e: Evaluation, name: str) -> str:
    below = e.chain.downstream(name)
    findings = len(below & frozenset(e.chain.limits))
    whole = [e.chain.part(one).label for one in e.chain.results if one in below and one in WHOLE][:2]
    said = [f"{findings} finding{'' if findings == 1 else 's'}"] if findings else []
    return f"{' and '.join([*said, *whole])} rest on it"


# --- the next evening -------------------------------------------------------------------------------------
def next_evening(e: Evaluation) -> Evening:
    """The chapter with most to turn: what fails counts twice what could go either way; where nothing is open, the first with nothing of one's own."""
    weight: dict[str, float] = {}
    first: dict[str, Finding] = {}
    for finding in open_findings(e):
        weight[finding.chapter] = weight.get(finding.chapter, 0.0) + (
            2.0 if finding.status == "fails" else 1.0 if _either(finding) else 0.25
        )
        first.setdefault(finding.chapter, finding)
    decisions = {chapter: [name for name, one in e.chain.decisions.items() if one.chapter == chapter] for chapter in CHAPTERS}
    if weight:
        chapter = max(weight, key=lambda one: (weight[one], one < "10", -int(one[:2])))
        worst = first[chapter]
        count = sum(one.chapter == chapter and (one.status == "fails" or _either(one)) for one in open_findings(e))
        more = f", first of {count} that are open there" if count > 1 else ""
        why = f"“{worst.label}” {_stands(worst)}{_in_draws(worst)}{more}"
        if chapter in _MOVED_IN:  # to be sent where it is told, and nothing there moves it, would lead round in a circle
            chapter, moved_by = _MOVED_IN[chapter]
            why += f"; {moved_by}"
        return Evening(chapter, CHAPTERS[chapter], why)
    chapter = next(
        (one for one, names in decisions.items() if names and not any(e.design.origin(name) == YOURS for name in names)), "15"
    )
    return Evening(
        chapter,
        CHAPTERS[chapter],
        "nothing fails and nothing is tight; none of its decisions is your own yet"
        if decisions[chapter]
        else "nothing fails and every chapter has decisions of your own: hold it all together once more",
    )


def _in_draws(finding: Finding) -> str:
    return "" if finding.sure is None or finding.sure in (0.0, 1.0) else f" (met in {finding.sure:.0%} of the draws)"
