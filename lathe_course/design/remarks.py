"""What a mentor, or anybody asked, said of a decision: who, when as they gave it, and the words; kept with the design and worked out from never."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from ..nearest import nearest_or_stop
from ..units import InputProblem

REMARK_FIELDS = ("decision", "who", "when", "words")


@dataclass(frozen=True)
class Remark:
    """One remark; all four are texts, and ``who`` and ``when`` may be empty in a file written by hand."""

    decision: str
    who: str
    when: str
    words: str

    @classmethod
    def read(cls, written: Mapping[str, Any]) -> Remark:
        """A remark as a design file holds it; whatever it says of a decision that is not known, it stays."""
        return cls(*(str(written.get(field, "")) for field in REMARK_FIELDS))

    @classmethod
    def given(cls, decision: str, who: str, when: str, words: str, known: Iterable[str]) -> Remark:
        """A new remark; InputProblem for an unknown decision, or where nobody or nothing is named."""
        problems = []
        if decision not in set(known):
            problems.append(
                (decision or "decision", f"there is no decision called {decision!r}{nearest_or_stop(decision, known)}")
            )
        if not who.strip():
            problems.append(("who", "whose remark is it? Write a name, such as 'mentor'."))
        if not words.strip():
            problems.append(("words", "the remark has no words yet."))
        if problems:
            raise InputProblem(problems)
        return cls(decision, " ".join(who.split()), " ".join(when.split()), words.strip())

    @property
    def written(self) -> dict[str, str]:
        """The table a design file holds for it; what is empty is left out."""
        return {field: getattr(self, field) for field in REMARK_FIELDS if getattr(self, field)}

    def __str__(self) -> str:
        by = ", ".join(part for part in (self.who, self.when) if part)
        return f"Remark{f' ({by})' if by else ''}: {self.words}"
