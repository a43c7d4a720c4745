"""Why a result is what it is: the chain of workings back to the decisions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ...sources import cite
from ...units import InputProblem
from ...working import Working
from ..chain.entries import Result
from ..evaluation import Evaluation
from ..origins import DEMO, DRAFT, YOURS

_SETTLED_BY = {YOURS: "you decided", DRAFT: "drafted", DEMO: "from the demo"}


@dataclass(frozen=True)
class Why:
    """One result, how it was worked out, and the same for what it came from."""

    name: str
    label: str
    shown: str
    sort: str  # "decision", "figure", "result"
    explanation: str
    reason: str = ""  # the learner's, for a decision
    source: str = ""
    behind: tuple[Why, ...] = field(default_factory=tuple)
    origin: str = YOURS  # for a decision: is it the draft's, the demo's or the learner's?

    @property
    def note(self) -> str:
        """In a few words: who settled it, where it is from, or what it is."""
        if self.sort == "decision":
            return _SETTLED_BY[self.origin] + (f": {self.reason}" if self.reason else "")
        return f"a figure, {self.source}" if self.sort == "figure" else self.explanation

    def lines(self, depth: int = 0, seen: set[str] | None = None) -> list[str]:
        """An indented outline; what was shown once is not opened again."""
        seen = set() if seen is None else seen
        again = " (see above)" if self.name in seen and self.behind else ""
        shown = f" = {self.shown}" if self.shown else ""
        out = [f"{'  ' * depth}{self.label}{shown}: {self.note.rstrip('.')}{again}"]
        if self.name not in seen:
            seen.add(self.name)
            for part in self.behind:
                out += part.lines(depth + 1, seen)
        return out

    def __str__(self) -> str:
        return "\n".join(self.lines())


def why(evaluation: Evaluation, name: str, depth: int = 40) -> Why:
    """The tree behind a result, down to decisions and figures, at most ``depth`` levels.

    A figure that is looked up opens to what it is looked up by.
    """
    made: dict[tuple[str, int], Why] = {}  # the same part of the tree often serves in several places

    def grow(name: str, depth: int) -> Why:
        if (name, depth) not in made:
            behind = _behind(evaluation, name) if depth > 0 else ()
            made[name, depth] = _why(evaluation, name, tuple(grow(other, depth - 1) for other in behind))
        return made[name, depth]

    return grow(name, depth)


def _behind(evaluation: Evaluation, name: str) -> tuple[str, ...]:
    own = name in evaluation.design.figures  # the learner's own figure comes from nowhere else
    return () if own else evaluation.chain.inputs_of(name)


def _why(evaluation: Evaluation, name: str, behind: tuple[Why, ...]) -> Why:
    chain, design = evaluation.chain, evaluation.design
    if name in chain.given:
        titles = {sheet.chain_name: f"readings: {sheet.title}" for sheet in chain.sheets.values()}
        if name == "building":
            lists = evaluation[name]
            return Why(
                name,
                "lists of parts, machines and tasks",
                f"{len(lists.parts)} parts, {len(lists.machines)} machines, {len(lists.tasks)} tasks",
                "decision",
                "",
            )
        if name == "log":
            return Why(name, "log of the build", f"{len(evaluation[name])} lines", "figure", "", source="what you wrote down")
        if name == "draws":
            return Why(name, "builds that are drawn", str(evaluation[name] or "none, middling figures"), "decision", "")
        if name == "making":
            return Why(name, "ways of the parts", f"{len(evaluation[name].made)} parts and things", "decision", "")
        return Why(name, titles.get(name, f"list of {name}"), f"{len(evaluation[name])} entries", "decision", "")
    part, shown = chain.part(name), evaluation.shown(name)
    if name in chain.decisions:
        return Why(
            name, part.label, shown, "decision", part.question, reason=design.choices[name].reason, origin=design.origin(name)
        )
    if name in chain.figures:
        return Why(
            name,
            part.label,
            shown,
            "figure",
            part.label,
            source="your own" if name in design.figures else cite(part.source),
            behind=behind,
        )
    return Why(name, part.label, shown, "result", part.explanation, "", cite(part.source), behind)


# --- one result -----------------------------------------------------------------------------------
@dataclass(frozen=True)
class Account:
    """One result that is no single formula: what it is, what went in, and the formulas called on the way."""

    label: str
    shown: str
    explanation: str
    fed: Mapping[str, str]
    workings: tuple[Working, ...]
    source: tuple[str, ...]

    @property
    def head(self) -> str:
        return f"{self.label}{f' = {self.shown}' if self.shown else ''}: {self.explanation.rstrip('.')}."

    @property
    def grounds(self) -> str:
        return f"Source: {cite(self.source)}."

    def __str__(self) -> str:
        fed = [f"    {label}{f': {shown}' if shown else ''}" for label, shown in self.fed.items()]
        return "\n".join([self.head, "  It rests on", *fed, f"  {self.grounds}", *map(str, self.workings)])

    __repr__ = __str__

    def _repr_markdown_(self) -> str:
        rows = "\n".join(f"| {label} | {shown} |" for label, shown in self.fed.items())
        return "\n\n".join(
            [
                f"**{self.head}**",
                f"| It rests on | |\n|:-|-:|\n{rows}",
                f"*{self.grounds}*",
                *(one._repr_markdown_() for one in self.workings),
            ]
        )


def account(evaluation: Evaluation, name: str) -> Working | Account:
    """How one result comes about: its working, or what went in and the formulas called on the way.

    InputProblem with a sentence for what is decided or looked up.
    """
    e, part = evaluation.central, evaluation.chain.part(name)
    if not isinstance(part, Result):
        how = "decided" if name in e.chain.decisions else "looked up"
        raise InputProblem.about(name, f"{part.label} is {how}, not worked out; ask why({name!r}) for where it is from.")
    found = e.workings(name)
    if part.formula is not None:
        return found[0]
    return Account(
        part.label, e.shown(name), part.explanation, {one.label: one.shown for one in why(e, name, 1).behind}, found, part.source
    )
