"""Designs side by side: what fails or differs first, as text for a terminal and as a page for the wall.

Each goes by the name of its own folder.  There is no sum of points: what fails, money and date,
and the reason that was written for each decision in which they differ.  A terminal tells all of
it; the wall shows these first and folds the rest under a count.
"""

from __future__ import annotations

import os
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import starmap, zip_longest
from pathlib import Path

from ... import units
from ...design.chain.luck import DRAWS
from ...design.design import Choice, Design
from ...design.evaluation import Evaluation, evaluate
from ...design.origins import YOURS
from ..printed.document import document, style_sheet, web_page, write_document
from ..shown.essentials import BUILD_OR_BUY, KEY_RESULTS
from ..shown.panels import Page, paragraphs
from ..shown.plain_text import tally
from ..text.markup import markup
from ..text.values import Fold, Heading, List, Paragraph, Part, Table, Words, small, strong

_LINE = 120  # letters of a line in a terminal
_LABEL = 50  # letters of the longest label there
_LEAST = 14  # letters of a cell, however many designs there are
_ALIKE = "These designs differ in no decision, and none of their findings fails or differs."

#: what a wall tells of results at once; the others are folded
_MONEY_AND_DATE = ("cash_total", "months_to_finish", "months_to_finish_should", "own_hours", "parts_mass")


@dataclass(frozen=True)
class Row:
    """A figure by its name in the chain: a cell for each design, for each whether it fails, and why it was decided so."""

    name: str
    label: str
    cells: tuple[str, ...]
    fails: tuple[bool, ...] = ()
    why: tuple[str, ...] = ()


Titled = tuple[str, tuple[Row, ...]]


@dataclass(frozen=True)
class SideBySide:
    """Names of designs and, part by part, the rows in which they are told."""

    names: tuple[str, ...]
    findings: tuple[Row, ...]
    results: tuple[Row, ...]
    decisions: tuple[Row, ...]
    tallies: tuple[str, ...]
    alike: int  # findings that stand alike in all and do not fail

    @property
    def parts(self) -> tuple[Titled, ...]:
        """Titles and rows of the parts that hold any, first what fails or differs."""
        return _held(
            ("what fails or differs", self.findings), ("key results", self.results), ("decisions that differ", self.decisions)
        )

    @property
    def first(self) -> tuple[Titled, ...]:
        """What a wall shows at once: what fails, money and date, and what was decided with a reason."""
        return _held(
            ("what fails", tuple(row for row in self.findings if any(row.fails))),
            ("money and date", tuple(row for name in _MONEY_AND_DATE for row in self.results if row.name == name)),
            ("decided, and why", tuple(row for row in self.decisions if any(row.why))),
        )

    @property
    def rest(self) -> tuple[Titled, ...]:
        """What a wall folds under a count."""
        shown = {row.name for _, rows in self.first for row in rows}
        return _held(
            *(
                (title, tuple(row for row in rows if row.name not in shown))
                for title, rows in (
                    ("findings that differ and fail nowhere", self.findings),
                    ("further results", self.results),
                    ("further decisions that differ", self.decisions),
                )
            )
        )


def _held(*parts: Titled) -> tuple[Titled, ...]:
    return tuple((title, rows) for title, rows in parts if rows)


def own_names(designs: Sequence[Design], paths: Sequence[str]) -> tuple[str, ...]:
    """What each goes by: its folder, or its file where that is not a folder's design file, or the demo; a number behind it where two are alike."""
    found: list[str] = []
    for path, design in zip(paths, designs, strict=True):
        given = Path(path).expanduser()
        inside = given / "design.toml" if os.path.isdir(given) else given
        name = inside.resolve().parent.name if inside.name == "design.toml" else inside.stem
        name = name or design.name or "a design"
        alike = sum(one == name or one.startswith(f"{name} (") for one in found)
        found.append(f"{name} ({alike + 1})" if alike else name)
    return tuple(found)


def side_by_side(designs: Sequence[Design], names: Sequence[str]) -> SideBySide:
    """Designs held against each other, in the units of the first."""
    evaluations = [evaluate(replace(design, system=designs[0].system), draws=DRAWS) for design in designs]
    first = evaluations[0]
    findings, alike = [], 0
    for name, finding in first.findings.items():
        statuses = [evaluation.findings[name].status for evaluation in evaluations]
        if len(set(statuses)) > 1 or "fails" in statuses:
            findings.append(
                Row(
                    name,
                    finding.label,
                    tuple(_verdict(evaluation, name) for evaluation in evaluations),
                    tuple(s == "fails" for s in statuses),
                )
            )
        else:
            alike += 1
    findings.sort(key=lambda row: -sum(row.fails))  # what most of them fail in first; else in the order of the chapters
    differing = {name: tuple(evaluation.shown(name) for evaluation in evaluations) for name in first.chain.decisions}
    differing = {name: shown for name, shown in differing.items() if len(set(shown)) > 1}
    return SideBySide(
        tuple(names),
        tuple(findings),
        tuple(
            Row(name, first.chain.part(name).label, tuple(evaluation.shown_spread(name) for evaluation in evaluations))
            for name in (*KEY_RESULTS, *BUILD_OR_BUY)
        ),
        tuple(
            Row(name, first.chain.decisions[name].label, shown, why=tuple(_why(design.choices[name]) for design in designs))
            for name, shown in differing.items()
        ),
        tuple(tally(evaluation.findings.values()) for evaluation in evaluations),
        alike,
    )


def _why(choice: Choice) -> str:
    """The reason that was written for a decision; that of a draft or a demo is nobody's."""
    return choice.reason if choice.origin == YOURS else ""


def _verdict(evaluation: Evaluation, name: str) -> str:
    """Mark, status and figure; no figure where nothing was asked for, for its nought would say nothing."""
    finding = evaluation.findings[name]
    if finding.status == "open":
        return f"{finding.mark} open"
    if finding.sentence == finding.rule.never:
        return f"{finding.mark} {finding.status} never"
    value = units.shown(finding.value, evaluation.kind(finding.rule.value), evaluation.design.system)
    return f"{finding.mark} {finding.status} {value}"


# --- as text ------------------------------------------------------------------------------------------
def compare_text(designs: Sequence[Design], names: Sequence[str] = ()) -> str:
    """Designs side by side for a terminal, no wider than it needs to be."""
    told = side_by_side(designs, names or [design.name or f"design {number}" for number, design in enumerate(designs, 1)])
    return "\n".join([*_parts_text(told, told.parts), *_tallies_text(told), f"{_alike(told)}; lathe-course findings tells them."])


def wall_text(told: SideBySide) -> str:
    """What the wall shows at once, and the counts of what it folds."""
    return "\n".join(
        [*_parts_text(told, told.first), *_tallies_text(told), *(f"and {_count(part)}" for part in told.rest), f"{_alike(told)}."]
    )


def _parts_text(told: SideBySide, parts: Iterable[Titled]) -> list[str]:
    widest = max(_LEAST, (_LINE - _LABEL) // len(told.names) - 2)

    def cut(cells: Iterable[str]) -> list[str]:
        return [textwrap.shorten(cell, widest, placeholder=" …") for cell in cells]

    lines = [] if told.findings or told.decisions else [_ALIKE, ""]
    for title, rows in parts:
        lines += _table(
            [title, *cut(told.names)], [[row.label, *(cut(row.cells) if row.why else row.cells)] for row in rows]
        )  # a figure is never cut, words of a learner are
        for row in rows:
            for name, why in zip(told.names, row.why):
                lines += textwrap.wrap(f"{row.label}, {name}: {why}", _LINE, subsequent_indent="  ") if why else []
        lines.append("")
    return lines


def _tallies_text(told: SideBySide) -> list[str]:
    return [f"{name}: {said}" for name, said in zip(told.names, told.tallies)]


def _alike(told: SideBySide) -> str:
    return f"{told.alike} findings stand alike in all and do not fail"


def _count(part: Titled) -> str:
    return f"{len(part[1])} {part[0]}"


def _table(head: list[str], rows: list[list[str]]) -> list[str]:
    widths = [max(len(row[column]) for row in [head, *rows]) for column in range(len(head))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in [head, *rows]]
    return [lines[0], "-" * len(lines[0]), *lines[1:]]


# --- as a page ----------------------------------------------------------------------------------------
def write_compare(designs: Sequence[Design], names: Sequence[str], path: str | os.PathLike[str]) -> Path:
    """Write the page for the wall. Returns the path; InputProblem with a sentence if it cannot be written there."""
    path = web_page(path, "to", "page", "wall")
    return write_document(compare_html(side_by_side(designs, names)), path, "to", "The page was")


def compare_html(told: SideBySide) -> str:
    """One HTML document in large type that fetches nothing."""
    names = ", ".join(told.names)
    head = Part("head", (Heading(names, 1), Paragraph("no points: what fails, money, date, and why")))
    style = style_sheet("wall").replace("/* paper */ A4", "A3")
    return document(f"Side by side: {names}", style, markup((head, *tables(told).blocks), paper=True), "A4 beside")


def tables(told: SideBySide) -> Page:
    """What the wall shows at once as tables, the rest folded; a reason stands under the decision it was written for."""
    alike = paragraphs("" if told.findings or told.decisions else _ALIKE)
    first = (Part("sheet", (Heading(title), _of_rows(told.names, rows))) for title, rows in told.first)
    rest = (Fold(f"and {_count((title, rows))}", (_of_rows(told.names, rows),)) for title, rows in told.rest)
    return alike + Page(*first, List(tuple(_tallies_text(told))), *rest, Paragraph(f"{_alike(told)}."))


def _of_rows(names: Sequence[str], rows: Iterable[Row]) -> Table:
    def cell(text: str, bad: bool, why: str) -> Words:
        return (strong(text) if bad else text, *(("\n", small(why)) if why else ()))

    told = ((row.label, *starmap(cell, zip_longest(row.cells, row.fails, row.why, fillvalue=""))) for row in rows)
    return Table(tuple(told), ("", *names), row_heads=True, kind="large")
