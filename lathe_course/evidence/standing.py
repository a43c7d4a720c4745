"""How well each formula is vouched for: its pieces of evidence, and the strongest of them."""

from __future__ import annotations

import dataclasses
import math
import re
from typing import Any

import numpy as np

from ..formula import FORMULAS, Formula
from ..sources import cite
from ..units import number
from . import EVIDENCE, Check, SecondProgram, checks, second_programs

_FIGURE = re.compile(r"^\s*([-+]?[\d.]+(?:[eE][-+]?\d+)?)\s*(.*)$", re.DOTALL)
#: a smaller difference, as a share, is that of the last printed digits of a computer
_SEEN = 1e-6


@dataclasses.dataclass(frozen=True)
class Piece:
    """One piece of evidence as a reader compares it; texts as printed."""

    evidence: str
    source: str  # as people read it
    case: str  # what is compared
    published: str  # "" for a second program
    ours: str
    difference: float  # as a share; for a second program a ceiling
    allowed: float  # as a share; 0 where the comparison is of another sort
    because: str

    @property
    def holds(self) -> bool:
        return self.difference <= self.allowed or not self.allowed

    @property
    def verdict(self) -> str:
        return "holds" if self.holds else "differs"

    @property
    def apart(self) -> str:
        """The difference as people read it."""
        if self.published:
            return _share(self.difference)
        return f"within {_ceiling(self.difference)}" if self.allowed else "compared by behaviour"

    @property
    def apart_told(self) -> str:
        """The same within a sentence."""
        if self.published:
            return f"apart {self.apart}" if self.difference >= _SEEN else "no difference seen"
        return f"apart {self.apart}" if self.allowed else self.apart


@dataclasses.dataclass(frozen=True)
class Standing:
    """One formula with all that vouches for it, strongest first."""

    formula: Formula
    pieces: tuple[Piece, ...]

    @property
    def evidence(self) -> str:
        """The strongest kind there is."""
        return self.pieces[0].evidence if self.pieces else "none"

    @property
    def rank(self) -> int:
        """0 for the strongest evidence; the higher the weaker."""
        return EVIDENCE.index(self.evidence) if self.pieces else len(EVIDENCE)


def standings() -> list[Standing]:
    """Every formula that is loaded, weakest evidence first, then by name."""
    pieces: dict[str, list[Piece]] = {name: [] for name in FORMULAS}
    for check in checks():
        if check.formula in pieces:
            pieces[check.formula].append(_of_check(check))
    for program in second_programs():
        for name in program.formulas:
            if name in pieces:
                pieces[name].append(_of_program(program))
    order = {evidence: place for place, evidence in enumerate(EVIDENCE)}
    found = [
        Standing(FORMULAS[name], tuple(sorted(held, key=lambda piece: order[piece.evidence]))) for name, held in pieces.items()
    ]
    return sorted(found, key=lambda one: (-one.rank, one.formula.name))


def _of_check(check: Check) -> Piece:
    expected, found, allowed = check.compare()
    size = np.max(np.abs(expected))
    difference, bound = (float(np.max(np.abs(gap)) / size) if size else 0.0 for gap in (found - expected, allowed))
    put_in = ", ".join(f"{name.replace('_', ' ')} {_text(value)}" for name, value in check.inputs.items())
    return Piece(
        check.evidence,
        cite(check.source),
        put_in,
        _text(check.expected),
        _as_printed(check.expected, expected, found),
        difference,
        bound,
        check.because,
    )


def _of_program(program: SecondProgram) -> Piece:
    return Piece(
        program.evidence,
        cite(program.source),
        program.says.rstrip("."),
        "",
        "",
        min(program.within, program.allowed),
        program.allowed,
        program.because,
    )


def _text(value: object) -> str:
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)


def _as_printed(printed: Any, expected: Any, found: Any) -> str:
    """Our figure in the unit in which the book prints its own, to one digit more than it has."""
    if isinstance(printed, list):
        return ", ".join(_as_printed(*three) for three in zip(printed, np.ravel(expected), np.ravel(found)))
    text = _FIGURE.match(str(printed))
    figure, unit = (float(text[1]), text[2]) if text else (float(printed), "")
    size = float(expected)
    ours = figure * float(found) / size if size else float(found)
    digits = len(re.sub(r"[eE].*|\D", "", text[1] if text else str(printed)).lstrip("0"))
    return f"{number(ours, min(max(digits + 1, 4), 7))} {unit}".strip()


def _ceiling(value: float) -> str:
    """A ceiling as people say it: 1 in a power of ten, at most a million, or per cent."""
    power = math.floor(1e-9 - math.log10(value))
    return f"1 in {10 ** min(power, 6):,}" if power >= 4 else f"{number(100 * value, 2)} %"


def _share(value: float) -> str:
    """A share as a percentage with one digit that matters."""
    if value < _SEEN:
        return "none seen"
    return f"{number(100 * value, 1 if value < 0.1 else 2)} %"
