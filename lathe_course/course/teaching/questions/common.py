"""What all sorts of asked questions have in common."""

from __future__ import annotations

from typing import Protocol

from ....formula import Formula
from ....working import Working
from .data import Question


class Asked(Protocol):
    """What the sorts have in common."""

    question: Question
    name: str
    note: str

    @property
    def text(self) -> str: ...
    @property
    def options(self) -> tuple[str, ...]: ...
    def sound(self) -> bool: ...
    def formulas(self) -> tuple[Formula, ...]: ...
    def workings(self) -> list[Working]: ...
    def same_answer(self, other: Asked) -> bool: ...


class Common:
    question: Question
    options: tuple[str, ...] = ()
    note: str = ""  # whether figures are of the learner's own design, and if not, why

    def __repr__(self) -> str:
        return f"<question {self.question.id} with the numbers for {self.name!r}>"

    def formulas(self) -> tuple[Formula, ...]:
        return tuple(step.formula for step in self.question.work)
