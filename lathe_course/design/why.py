"""Why a result is what it is: the chain of workings back to the decisions."""
from __future__ import annotations

from dataclasses import dataclass, field

from .evaluation import Evaluation
from ..sources import cite
from ..working import Working

__all__ = ["Why", "why"]


@dataclass(frozen=True)
class Why:
    """One result, how it was worked out, and the same for what it came from."""

    name: str
    label: str
    shown: str
    sort: str                     # "decision", "figure", "result"
    explanation: str
    working: Working | None = None
    reason: str = ""              # the learner's, for a decision
    source: str = ""
    behind: tuple["Why", ...] = field(default_factory=tuple)

    def lines(self, depth: int = 0, seen: set[str] | None = None) -> list[str]:
        """An indented outline; what was shown once is not opened again."""
        seen = set() if seen is None else seen
        note = {"decision": "you decided" + (f": {self.reason}" if self.reason else ""), "figure": f"a figure, {self.source}",
                "result": self.explanation}[self.sort]
        again = " (see above)" if self.name in seen and self.behind else ""
        out = [f"{'  ' * depth}{self.label} = {self.shown}: {note.rstrip('.')}{again}"]
        if self.name not in seen:
            seen.add(self.name)
            for part in self.behind:
                out += part.lines(depth + 1, seen)
        return out

    def __str__(self) -> str:
        return "\n".join(self.lines())

    def workings(self) -> list[Working]:
        """The workings on the way, the result's own first, each once."""
        found: dict[str, Working] = {}

        def walk(part: "Why") -> None:
            if part.working is not None:
                found.setdefault(part.name, part.working)
            for one in part.behind:
                walk(one)
        walk(self)
        return list(found.values())


def why(evaluation: Evaluation, name: str, depth: int = 20) -> Why:
    """The tree behind a result, down to decisions and figures, at most ``depth`` levels."""
    chain = evaluation.chain
    if name in chain.given:
        return Why(name, name, f"{len(evaluation[name])} entries", "decision", "")
    part = chain.part(name)
    shown = evaluation.shown(name) if part.kind is not None else str(evaluation[name])
    if name in chain.decisions:
        return Why(name, part.label, shown, "decision", part.question, reason=evaluation.design.choices[name].reason)
    own = name in evaluation.design.figures
    if name in chain.figures:
        source = "your own" if own else cite(part.source)
        return Why(name, part.label, shown, "figure", part.label, source=source)
    behind = tuple(why(evaluation, other, depth - 1) for other in part.inputs) if depth > 0 else ()
    return Why(name, part.label, shown, "result", part.explanation, evaluation.working(name), "", cite(part.source), behind)
