"""A design worked out: every result, with spread if draws are asked for, and its findings."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from .. import units
from ..units import Kind, Months
from ..working import Working
from .chain.clash import clashes, lacking, said_by
from .chain.entries import MOST_MARGIN, NOT_FAILING, Limit, Result
from .design import Design
from .workings import workings


@dataclass(frozen=True)
class Finding:
    """One result held against one limit."""

    name: str
    label: str
    chapter: str
    value: float
    limit: float
    margin: float
    status: str  # "holds", "tight", "fails", "open"
    sentence: str
    caution: str
    sure: float | None  # share of draws in which it does not fail; None without draws
    rule: Limit

    @property
    def mark(self) -> str:
        """A sign that does not lean on colour."""
        return {"holds": "✓", "tight": "≈", "fails": "✗", "open": "?"}[self.status]

    @property
    def presses(self) -> bool:
        """Does it ask for something: does it fail, or is it tight?"""
        return self.status in ("fails", "tight")

    def __str__(self) -> str:
        sure = "" if self.sure is None else f" Sure to {self.sure:.0%}."
        return f"{self.mark} {self.status:5}  {self.sentence}{sure}"


class _Findings(Mapping[str, Finding]):
    """Every finding by name, in the order of the chapters; each is worked out when it is first asked for, and kept with the evaluation."""

    def __init__(self, evaluation: Evaluation):
        self._evaluation = evaluation

    def __getitem__(self, name: str) -> Finding:
        known = self._evaluation.known_findings
        if name not in known:
            known[name] = self._evaluation._finding(self._evaluation.chain.limits[name])
        return known[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._evaluation.chain.limits)

    def __len__(self) -> int:
        return len(self._evaluation.chain.limits)


class Evaluation(Mapping[str, Any]):
    """Values by name in SI.  With draws, uncertain ones are arrays of shape (draws,)."""

    def __init__(self, design: Design, values: dict[str, Any], draws: int | None, earlier: Evaluation | None = None):
        self.design, self.values_si, self.draws = design, values, draws
        self.chain = design.chain
        # what takes long and may be the same after a change, by what it is: whoever asks sees whether it still holds
        self.handed_on: dict[Any, Any] = {} if earlier is None else dict(earlier.handed_on)
        self.known_findings: dict[str, Finding] = {}
        self._central_before: Evaluation | None = None if earlier is None else earlier.__dict__.get("_central")

    def __getitem__(self, name: str) -> Any:
        return self.values_si[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self.values_si)

    def __len__(self) -> int:
        return len(self.values_si)

    # --- reading ----------------------------------------------------------------------------------
    def kind(self, name: str) -> Kind | None:
        return self.chain.part(name).kind

    def middle(self, name: str) -> Any:
        """The value, or the median of its draws."""
        return _middle(self[name])

    def spread(self, name: str, shares: tuple[float, ...] = (0.1, 0.5, 0.9)) -> tuple[float, ...]:
        """Values below which these shares of the draws lie; the value itself if it is certain.  Draws without a figure, as where a slide jams, are left out."""
        value = self[name]
        # between a build that ends and one that never does lies no number
        how = "nearest" if np.any(np.isinf(value)) else "linear"
        return tuple(float(v) for v in np.quantile(_had(value), shares, method=how)) if np.ndim(value) else (value,) * len(shares)

    def shown(self, name: str, digits: int = 3) -> str:
        """A value as the learner reads it, in their units; nothing for a bundle of figures such as a section."""
        kind = self.kind(name)
        if kind is None:
            return self[name] if isinstance(self[name], str) else ""
        value = self.middle(name)
        # what is waited for and never comes
        return "never" if kind.unit == Months().unit and np.isinf(value) else units.shown(value, kind, self.design.system, digits)

    def shown_spread(self, name: str, digits: int = 2) -> str:
        """'12 to 19 µm' (the middle four fifths of the draws), or the value if it is certain."""
        kind = self.kind(name)
        if not np.ndim(self[name]):
            return self.shown(name)
        low, _, high = self.spread(name)
        if np.isnan(low) or np.isnan(high):
            return units.NO_FIGURE
        if kind.unit == Months().unit and np.isinf(high):
            return "never" if np.isinf(low) else f"{units.shown(low, kind, self.design.system, digits)} to never"
        unit = units.unit_text(kind, self.design.system)
        ends = [units.number(units.in_unit(v, kind, self.design.system), digits) for v in (low, high)]
        return (f"{ends[0]} to {ends[1]} {unit}" if ends[0] != ends[1] else f"{ends[0]} {unit}").rstrip()

    def quantity(self, name: str):
        """A value as a pint quantity in its workshop unit."""
        return units.quantity(self[name], self.kind(name))

    @functools.cached_property
    def tried(self) -> dict[Any, Any]:
        """What was worked out of it with one decision at other values; kept by ``sweeps``, ``levers`` and ``mending`` alone."""
        return {}

    def drawn(self, draws: int) -> Evaluation:
        """The same with so many draws, unless it has draws already; worked out once, and only what differs from the design before."""
        if self.draws:
            return self
        had = self.handed_on.get(("drawn", draws))
        if had is None or had.design is not self.design:
            had = self.handed_on["drawn", draws] = evaluate(self.design, draws, had)
        return had

    # --- findings ---------------------------------------------------------------------------------
    @property
    def central(self) -> Evaluation:
        """The same design with every uncertain figure at its middling value."""
        if self.draws is None:
            return self
        known = self.design.evaluations.get(None)
        return self._central if known is None else known  # not held on to: it may hold these draws, and neither would ever go

    @functools.cached_property
    def _central(self) -> Evaluation:
        return evaluate(self.design, earlier=self._central_before)

    @property
    def findings(self) -> Mapping[str, Finding]:
        """Every finding by name, in the order of the chapters.

        Verdicts are those of the middling figures, and the draws say how sure they are; what
        holds in fewer than half of the draws does not hold.
        """
        return _Findings(self)  # made anew each time: what is kept on both sides would never go

    def _finding(self, rule: Limit) -> Finding:
        if not rule.asks(self.central.values_si):
            middle = self.central
            return Finding(
                rule.name,
                rule.label,
                rule.chapter,
                middle[rule.value],
                self.chain.limit_value(rule, middle.values_si),
                MOST_MARGIN,
                "open",
                f"{rule.unasked} What would bring an answer: {rule.opened_by}.",
                rule.caution,
                None,
                rule,
            )
        sure = None if self.draws is None else float(np.mean(self._margin(rule) >= NOT_FAILING))
        middle = self.central
        value, limit, margin = middle[rule.value], self.chain.limit_value(rule, middle.values_si), middle._margin(rule)
        if sure is not None and sure < 0.5:
            margin = min(margin, float(np.median(self._margin(rule))))
        return Finding(
            rule.name,
            rule.label,
            rule.chapter,
            value,
            limit,
            margin,
            rule.status(margin),
            self._sentence(rule, value, limit),
            rule.caution,
            sure,
            rule,
        )

    def _margin(self, rule: Limit) -> Any:
        return rule.margin(self[rule.value], self.chain.limit_value(rule, self.values_si))

    def _sentence(self, rule: Limit, value: float, limit: float) -> str:
        if np.isnan(value) or np.isnan(limit):
            return f"“{rule.label}” cannot be told. {self.central.cause(rule.name)}"
        if rule.clear and (limit if rule.sense == "at least" else value) == 0:
            return rule.clear
        if rule.never and np.isinf(value):
            return rule.never
        kind = self.kind(rule.value)
        close = rule.status(rule.margin(value, limit)) == "fails"  # 42.03 months against 42 are not told as 42 against 42
        for digits in range(3, 7 if close else 4):
            said = [units.shown(x, kind, self.design.system, digits) for x in (value, limit)]
            if said[0] != said[1]:
                break
        return rule.says.format(value=said[0], limit=said[1])

    def findings_of(self, chapter: str) -> list[Finding]:
        """Its own, and those of other chapters that are told there as well."""
        return [f for f in self.findings.values() if chapter in (f.chapter, *f.rule.told_in)]

    @functools.cached_property
    def clashes(self) -> dict[str, str]:
        """What cannot stand together, a sentence for each result that has no figure because of it."""
        return clashes(self)

    def cause(self, *names: str) -> str:
        """Why these figures cannot be told: the clash one comes to by going back along what has no figure itself; nothing where there is none."""
        behind = list(names)
        for name in behind:
            if name in self.clashes:
                return self.clashes[name]
            behind += [
                one
                for one in self.chain.inputs_of(name)
                if one in self.chain.results and one not in behind and lacking(self[one])
            ]
        return next(
            (said for name in behind if lacking(self.values_si.get(name)) and (said := said_by(self.chain, self.clashes, name))),
            "",
        )

    # --- doubts -----------------------------------------------------------------------------------
    def doubts(self, names: Iterable[str] | None = None) -> list[str]:
        """Sentences on what cannot stand together, on decisions beyond what makes sense, and on formulas fed outside what they were made for.

        ``names`` are decisions and results to look at; without them all.  Middling figures are looked at.
        """
        names = list((*self.chain.decisions, *self.chain.results) if names is None else names)
        told = self.central.clashes
        # of several figures lost by one clash, the decisions above all of them are those that clash
        above = {
            clash: frozenset.intersection(*(self.chain.upstream(name) for name, said in told.items() if said == clash))
            for clash in told.values()
        }
        said = [clash for name, clash in told.items() if name in names or above[clash] & set(names)]
        said += [self.design.untold_machines] if "at_hand" in names else []
        for name in names:
            part = self.chain.part(name)
            if name in self.chain.decisions:
                said.append(part.doubt(self.design[name], self.design.system))
            elif getattr(part, "formula", None) is not None:
                said += part.formula.doubts(self.central.fed(part), self.design.system, part.label)
        return list(dict.fromkeys(one for one in said if one))

    def fed(self, part: Result) -> dict[str, Any]:
        """What the formula of a result is fed with, by its parameters."""
        return part.fixed | {parameter: self.middle(source) for parameter, source in part.renamed.items()}

    # --- why --------------------------------------------------------------------------------------
    def workings(self, *names: str) -> tuple[Working, ...]:
        """Every formula really called for these results, with what it was fed; see ``workings``."""
        return workings(self, *names)


def _middle(value: Any) -> Any:
    """A value, or the median of its draws."""
    return float(np.median(_had(value))) if np.ndim(value) else value


def _had(draws: np.ndarray) -> np.ndarray:
    """The draws that have a figure; all of them where none has."""
    there = ~np.isnan(draws)
    return draws if there.all() or not there.any() else draws[there]


def evaluate(
    design: Design, draws: int | None = None, earlier: Evaluation | None = None, wanted: Iterable[str] | None = None
) -> Evaluation:
    """Work out a whole design, once for as long as anybody holds what came of it; with ``earlier`` only what its changes touch.

    With ``wanted`` only these figures and what they rest on are worked out, and only they can be
    read: for a search or a picture that looks at one corner of the machine many times.

    >>> from lathe_course.design.demos import demo
    >>> found = evaluate(demo("boat_shed").with_(centre_height="80 mm"))
    >>> found.shown("centre_height"), found.findings["supply_suffices"].status
    ('80 mm', 'holds')
    """
    if wanted is not None:
        return _worked_out(design, draws, earlier, frozenset(wanted))
    found = design.evaluations.get(draws)
    if found is None:
        found = design.evaluations[draws] = _worked_out(design, draws, earlier)
    return found


def _worked_out(design: Design, draws: int | None, earlier: Evaluation | None, only: frozenset[str] | None = None) -> Evaluation:
    chain = design.chain
    if earlier is not None and earlier.draws == draws and earlier.chain is chain:
        changed = design.changed_from(earlier.design)
        values = chain.work_out(design.given(), design.replaced_figures(), draws, earlier.values_si, changed, only)
    else:
        values = chain.work_out(design.given(), design.replaced_figures(), draws, wanted=only)
    return Evaluation(design, values, draws, earlier)


@dataclass(frozen=True)
class Uncertain:
    """How much one uncertain figure blurs one result: rank correlation, -1 to 1."""

    name: str
    label: str
    weight: float


def blurred_by(evaluation: Evaluation, name: str) -> list[Uncertain]:
    """The uncertain inputs of a result, or of the margin of a finding, the one most worth finding out first.

    Rank correlation over the draws; needs an evaluation with draws.
    Raises ValueError for an evaluation without draws.
    """
    if evaluation.draws is None:
        raise ValueError("blurred_by needs an evaluation with draws")
    chain = evaluation.chain
    target = chain.margins(evaluation.values_si)[name] if name in chain.limits else evaluation[name]
    if not np.ndim(target):
        return []
    ranks = _ranks(target)
    found = []
    for source in chain.upstream(name):
        if source in chain.results or not np.ndim(evaluation[source]) or source in chain.given:
            continue
        weight = float(np.corrcoef(ranks, _ranks(evaluation[source]))[0, 1])
        found.append(Uncertain(source, chain.part(source).label, weight))
    return sorted(found, key=lambda u: -round(abs(u.weight), 9))


def _ranks(values: np.ndarray) -> np.ndarray:
    return np.argsort(np.argsort(values)).astype(float)
