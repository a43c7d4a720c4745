"""What vouches for the course: every formula with its evidence, the weakest first."""

from __future__ import annotations

import importlib
import pkgutil
import textwrap
from collections import Counter
from typing import Any

from ... import machine
from ... import planning as build
from ...design.demos import demo
from ...design.evaluation import evaluate
from ...design.lathe import CHAPTERS, LATHE
from ...evidence import EVIDENCE
from ...evidence.standing import Standing, standings
from ...nearest import nearest_or_stop
from ...ranges import Range
from ...sources import cite, source_of
from ...tables import TABLES, table
from ...units import InputProblem, Kind, in_unit, number, shown, unit_text
from ..text.values import Fold, Paragraph, dim, strong
from .beside_measured import measured_page
from .few import folded_by
from .panels import Live, Page, paragraphs, tabled
from .shared_luck import shared_luck_page

#: letters on a line of plain text in a notebook
_LINE = 80

#: what each kind of evidence is worth, in plain words
WORTH = {
    "published and seen": "a figure printed in a text that lay before us",
    "second program": "another program, which knows nothing of ours, reaches the same figure; it vouches for the sum, not for what is put into it",
    "recalled from memory": "a figure of a book, as remembered; look it up before you rely on it",
    "common practice": "a rule of the trade that nobody signs for",
    "none": "nothing from outside",
}


def what_vouches() -> Vouching:
    """Open the pages of what vouches for the course."""
    for package in (machine, build):
        for module in pkgutil.iter_modules(package.__path__):
            importlib.import_module(f"{package.__name__}.{module.name}")
    return Vouching(standings())


class Vouching:
    """Every formula with its evidence; ``in_short``, ``weakest``, ``judged_figures``, ``shared_luck``, ``beside_measured`` and ``of`` are its pages."""

    def __init__(self, found: list[Standing]):
        self.found = found

    @property
    def rooms(self) -> dict[str, list[Standing]]:
        """Formulas by the module they stand in."""
        rooms: dict[str, list[Standing]] = {}
        for one in self.found:
            rooms.setdefault(one.formula.si.__module__.rsplit(".", 1)[-1], []).append(one)
        return dict(sorted(rooms.items()))

    def __repr__(self) -> str:
        said = f"{len(self.found)} formulas, in {', '.join(name.replace('_', ' ') for name in self.rooms)}."
        return textwrap.fill(said, _LINE)  # plain text in a notebook breaks anywhere

    # --- pages ------------------------------------------------------------------------------------
    def in_short(self) -> Page:
        """How many formulas stand on which kind of evidence, at best."""
        count = Counter(one.evidence for one in self.found)
        rows = [(kind, count[kind], WORTH[kind]) for kind in (*EVIDENCE, "none") if count[kind]]
        head = ("strongest evidence", "formulas", "what it is")
        wrong = [one.formula.title for one in self.found if not all(piece.holds for piece in one.pieces)]
        said = (
            f"Beyond what was allowed: {', '.join(wrong)}."
            if wrong
            else "No formula differs by more than was allowed, with a reason, beforehand."
        )
        return tabled(rows, head, (1,), after=(said,))

    def weakest(self) -> Page:
        """The formulas that stand on the least, in plain words."""
        weak = [one for one in self.found if one.rank >= EVIDENCE.index("recalled from memory")]
        if not weak:
            return paragraphs("Every formula is held by a figure that was read, or by a second program.")
        rows = [(one.formula.title, one.evidence, one.formula.summary) for one in weak]
        head = ("formula", "stands on", "what it says")
        return tabled(rows, head)

    def judged_figures(self) -> Page:
        """Figures of the chain and rows of tables that stand on judgement, folded by chapter; ranges as the boat shed has them."""
        design = demo()
        given = evaluate(design)
        groups: dict[str, list[tuple[str, str, str]]] = {}
        for part in LATHE.figures.values():
            if any(source_of(one).kind == "common practice" for one in _single(part.source)):
                standard = part.standard(*(given[name] for name in part.inputs))
                groups.setdefault(f"{part.chapter} {CHAPTERS[part.chapter]}", []).append(
                    (part.label, _range(standard, part.kind), cite(part.source))
                )
        groups["tables"] = [
            (f"{name.replace('_', ' ')}: {key}", "low confidence", table(name).source(key))
            for name in TABLES
            for key, row in table(name).items()
            if row.get("confidence") == "low"
        ]
        return folded_by(dict(sorted(groups.items())), ("figure", "range", "stands on"), what="judged figures")

    def shared_luck(self) -> Page:
        """Which figures come out high or low together, by what stands behind them."""
        return shared_luck_page()

    def beside_measured(self) -> Live:
        """What others have measured beside what the chain says of it, as pictures, words and tables, with how many our range holds."""
        return measured_page()

    def of(self, *rooms: str) -> Page:
        """Every piece of evidence of the formulas of some modules."""
        known = self.rooms
        strange = [name for name in rooms if name not in known]
        if strange:
            raise InputProblem(
                [(name, f"there are no formulas in {name!r}{nearest_or_stop(name, known, most=3)}") for name in strange]
            )
        return Page(*(_room(name, known[name]) for name in rooms))


def _single(source: str | tuple[str, ...]) -> tuple[str, ...]:
    return source if isinstance(source, tuple) else (source,)


def _range(standard: Any, kind: Kind) -> str:
    """A range, or the one figure there is, with its unit."""
    if not isinstance(standard, Range):
        return shown(float(standard), kind)
    if standard.low == standard.high:
        return shown(standard.high, kind)
    ends = [number(in_unit(end, kind)) for end in standard]
    return f"{ends[0]} to {ends[2]}, likely {ends[1]} {unit_text(kind)}".rstrip()


def _room(name: str, found: list[Standing]) -> Fold:
    """Formulas of one module, folded under how many there are and what they stand on."""
    count = Counter(one.evidence for one in found)
    told = ", ".join(f"{count[kind]} {kind}" for kind in (*EVIDENCE, "none") if count[kind])
    title = f"{name.replace('_', ' ').capitalize()}: {len(found)} formula{'' if len(found) == 1 else 's'} ({told})"
    return Fold(title, tuple(block for one in found for block in _told(one).blocks), told=True)


def _told(one: Standing) -> Page:
    """A formula, and its evidence folded under the piece that is furthest apart."""
    rows = [
        (
            piece.evidence,
            piece.case,
            piece.published or "–",
            piece.ours or "–",
            piece.apart,
            piece.verdict,
            f"{piece.source}. {piece.because}".rstrip(". ") + ".",
        )
        for piece in one.pieces
    ]
    head = ("evidence", "case", "published", "ours", "apart", "outcome", "source, and why it may differ")
    worst = max(one.pieces, key=lambda piece: piece.difference, default=None)
    counted = f"{one.evidence}; {len(rows)} piece{'' if len(rows) == 1 else 's'} of evidence"
    said = (strong(one.formula.summary), " ", dim(cite(one.formula.source)))
    return Page(Paragraph(said), Fold(counted + (f", {worst.apart_told}" if worst else ""), tabled(rows, head).blocks))
