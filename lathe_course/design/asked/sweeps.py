"""Margins of findings with decisions at other values: what levers, room and a field of two decisions are read from.

The bodies of a chain take arrays, so one pass works out a decision at all its sensible values at once, and only what the
findings looked at rest on.  Where a result between them holds for one case only, values for which it picks the same go together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import numpy as np

from ..chain.entries import NOT_FAILING, Decision
from ..evaluation import Evaluation, evaluate


def margins_at(e: Evaluation, decision: str, value: Any) -> dict[str, float]:
    """Margins of every finding with another option or value of one decision; kept with the evaluation."""
    if (decision, value) not in e.tried:
        tried = evaluate(e.design.trying(**{decision: value}), earlier=e)
        e.tried[decision, value] = {name: float(m) for name, m in e.chain.margins(tried.values_si).items()}
    return e.tried[decision, value]


def margin_at(e: Evaluation, decision: str, value: Any, finding: str) -> float:
    """Margin of one finding with another option or value of one decision."""
    if (decision, value) in e.tried:
        return e.tried[decision, value][finding]
    tried = evaluate(e.design.trying(**{decision: value}), earlier=e, wanted=e.chain.inputs_of(finding))
    return float(e.chain.margins(tried.values_si, [finding])[finding])


def quick_margin(e: Evaluation, decision: Decision, finding: str) -> np.ndarray | None:
    """Margin of a finding at all values worth trying, shape (values,), where one pass works it out; None where it takes several."""
    quick, every = e.chain.told_apart(decision.name)[0], decision.values()
    if finding not in quick:
        return None
    together = quick if _key({decision.name: every}, quick) in e.tried else [finding]
    return margins_kept(e, {decision.name: every}, together)[finding]


def swept(e: Evaluation, decision: Decision, finding: str, breaking: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Values worth trying, the margin of a finding there, and how many others newly fail at least, each of shape (values,); kept with the evaluation.

    Others are counted among those swept in one pass; values at which more than ``breaking`` of them newly fail are left out.
    """
    quick, *others = e.chain.told_apart(decision.name)
    every = decision.values()
    newly = _newly_failing(e, decision.name, every, quick)
    few = newly <= breaking
    if finding in quick:
        margin = margins_kept(e, {decision.name: every}, quick)[finding][few]
    else:
        together = next(names for names in others if finding in names)
        margin = margins_kept(e, {decision.name: every[few]}, together)[finding]
    return every[few], margin, newly[few]


def margins_among(e: Evaluation, decision: Decision, places: np.ndarray, findings: list[str]) -> dict[str, np.ndarray]:
    """Margins of findings at some of the values worth trying, told by their places, each of shape (places,); at all of them at once where one pass does it."""
    quick, every = e.chain.told_apart(decision.name)[0], decision.values()
    if not set(findings) <= set(quick):
        return margins_over(e, {decision.name: every[places]}, findings)
    swept_once = margins_kept(e, {decision.name: every}, quick)
    return {name: swept_once[name][places] for name in findings}


def _key(changes: Mapping[str, np.ndarray], findings: Iterable[str]) -> tuple:
    return tuple((name, values.tobytes()) for name, values in changes.items()), tuple(findings)


def margins_kept(e: Evaluation, changes: Mapping[str, np.ndarray], findings: Iterable[str]) -> dict[str, np.ndarray]:
    """The same as ``margins_over``, worked out once and kept with the evaluation."""
    key = _key(changes, findings)
    if key not in e.tried:
        e.tried[key] = margins_over(e, changes, findings)
    return e.tried[key]


def _newly_failing(e: Evaluation, decision: str, values: np.ndarray, findings: list[str]) -> np.ndarray:
    """How many findings fail at each value that do not fail here; kept with the evaluation."""
    key = "newly failing", *_key({decision: values}, findings)
    if key not in e.tried:
        margins = margins_kept(e, {decision: values}, findings)
        fine = [name for name, margin in e.chain.margins(e.values_si, findings).items() if margin >= NOT_FAILING]
        e.tried[key] = sum((~(margins[name] >= NOT_FAILING)).astype(int) for name in fine) if fine else np.zeros(len(values), int)
    return e.tried[key]


def margins_over(e: Evaluation, changes: Mapping[str, np.ndarray], findings: Iterable[str]) -> dict[str, np.ndarray]:
    """Margins of findings with some decisions at other values, each of shape (cases,) like the values themselves."""
    cases = len(next(iter(changes.values())))
    found: dict[str, np.ndarray] = {}
    for (alone, picks), names in _classes(e, tuple(changes), findings).items():
        found |= {name: np.empty(cases) for name in names}
        wanted = {source for name in names for source in e.chain.inputs_of(name)}
        for places in _alike(e, changes, alone, picks) if cases else ():
            tried = e.design.trying(**_at(changes, places, alone if len(places) > 1 else tuple(changes)))
            for name, margin in e.chain.margins(evaluate(tried, earlier=e, wanted=wanted).values_si, names).items():
                found[name][places] = margin
    return found


def _classes(
    e: Evaluation, decisions: tuple[str, ...], findings: Iterable[str]
) -> dict[tuple[tuple[str, ...], tuple[str, ...]], list[str]]:
    """Findings by the decisions that must be tried one value at a time for them, and by the results in which cases must be alike."""
    found: dict[tuple[tuple[str, ...], tuple[str, ...]], list[str]] = {}
    for name in findings:
        alone = tuple(one for one in decisions if e.chain.alone(one, name))
        picks = tuple(dict.fromkeys(pick for one in decisions for pick in e.chain.picked_by(one, name)))
        found.setdefault((alone, picks), []).append(name)
    return found


def _alike(
    e: Evaluation, changes: Mapping[str, np.ndarray], alone: tuple[str, ...], picks: tuple[str, ...]
) -> Iterator[np.ndarray]:
    """Places of cases that may be worked out in one pass."""
    cases = len(next(iter(changes.values())))
    for places in _grouped(zip(*(changes[one].tolist() for one in alone)), cases):
        if not picks or len(places) == 1:
            yield places
            continue
        tried = evaluate(e.design.trying(**_at(changes, places, alone)), earlier=e, wanted=picks)
        told = [tried[pick] for pick in picks if not isinstance(tried[pick], bytes)]  # one for all cases, or one for each
        yield from (places[within] for within in _grouped(zip(*told), len(places)))


def _grouped(keys: Iterable[tuple], cases: int) -> list[np.ndarray]:
    """Places with the same key; all together where there are no keys."""
    groups: dict[tuple, list[int]] = {}
    for place, key in enumerate(keys):
        groups.setdefault(key, []).append(place)
    return [np.array(places) for places in groups.values()] or [np.arange(cases)]


def _at(changes: Mapping[str, np.ndarray], places: np.ndarray, alone: tuple[str, ...]) -> dict[str, Any]:
    """The changes of some cases: one number for a decision in which they are alike."""
    return {name: float(values[places[0]]) if name in alone else values[places] for name, values in changes.items()}
