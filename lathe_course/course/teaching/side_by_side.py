"""Designs side by side: what fails or differs first, as text for a terminal and as a page for the wall.

Each goes by the name of its own folder.  There is no sum of points: what fails, money and date,
and the reason that was written for each decision in which they differ.
"""
from __future__ import annotations

import os
import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from html import escape
from pathlib import Path

from ... import units
from ...design.design import Design
from ...design.evaluation import Evaluation, evaluate
from ..printed.document import document, style_sheet, web_page, write_document
from ..shown.essentials import BUILD_OR_BUY, DRAWS, KEY_RESULTS
from ..shown.plain_text import tally

__all__ = ["SideBySide", "compare_html", "compare_text", "own_names", "side_by_side", "tables_html", "write_compare"]

_LINE = 120                     # letters of a line in a terminal
_LABEL = 50                     # letters of the longest label there
_LEAST = 14                     # letters of a cell, however many designs there are
_ALIKE = "These designs differ in no decision, and none of their findings fails or differs."

#: label, a cell for each design, and for each whether it fails
Row = tuple[str, tuple[str, ...], tuple[bool, ...]]


@dataclass(frozen=True)
class SideBySide:
    """Names of designs and, part by part, the rows in which they are told; ``reasons`` are rows of words."""

    names: tuple[str, ...]
    findings: tuple[Row, ...]
    results: tuple[Row, ...]
    decisions: tuple[Row, ...]
    reasons: tuple[Row, ...]
    tallies: tuple[str, ...]
    alike: int                  # findings that stand alike in all and do not fail

    @property
    def parts(self) -> tuple[tuple[str, tuple[Row, ...]], ...]:
        """Titles and rows of the parts that hold any, first what fails or differs."""
        told = (("what fails or differs", self.findings), ("key results", self.results), ("decisions that differ", self.decisions))
        return tuple((title, rows) for title, rows in told if rows)


def own_names(designs: Sequence[Design], paths: Sequence[str]) -> tuple[str, ...]:
    """What each goes by: its folder, or its file where that is not a folder's design file, or the demo; a number behind it where two are alike."""
    found: list[str] = []
    for path, design in zip(paths, designs, strict=True):
        given = Path(path).expanduser()
        inside = given / "design.toml" if given.is_dir() else given
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
            findings.append((finding.label, tuple(_verdict(evaluation, name) for evaluation in evaluations), tuple(s == "fails" for s in statuses)))
        else:
            alike += 1
    findings.sort(key=lambda row: -sum(row[2]))                  # what most of them fail in first; else in the order of the chapters
    differing = {name: tuple(evaluation.shown(name) for evaluation in evaluations) for name in first.chain.decisions}
    differing = {name: shown for name, shown in differing.items() if len(set(shown)) > 1}
    none = (False,) * len(designs)
    return SideBySide(
        tuple(names), tuple(findings),
        tuple((first.chain.part(name).label, tuple(evaluation.shown_spread(name) for evaluation in evaluations), none) for name in (*KEY_RESULTS, *BUILD_OR_BUY)),
        tuple((first.chain.decisions[name].label, shown, none) for name, shown in differing.items()),
        tuple((first.chain.decisions[name].label, tuple(design.choices[name].reason for design in designs), none) for name in differing),
        tuple(tally(evaluation.findings.values()) for evaluation in evaluations), alike)


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
    widest = max(_LEAST, (_LINE - _LABEL) // len(designs) - 2)

    def cut(cells: Iterable[str]) -> list[str]:
        return [textwrap.shorten(cell, widest, placeholder=" …") for cell in cells]

    lines = [] if told.findings or told.decisions else [_ALIKE, ""]
    for title, rows in told.parts:
        shown = cut if rows is told.decisions else list           # a figure is never cut, words of a learner are
        lines += [*_table([title, *cut(told.names)], [[label, *shown(cells)] for label, cells, _ in rows]), ""]
    lines += [f"{name}: {said}" for name, said in zip(told.names, told.tallies)]
    return "\n".join([*lines, f"{told.alike} findings stand alike in all and do not fail; lathe-course findings tells them."])


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
    style = style_sheet("wall").replace("/* paper */ A4", "A3")
    return document(f"Side by side: {names}", style, f"<main>\n<header><h1>{escape(names)}</h1><p>no points: what fails, money, date, and why</p></header>\n{tables_html(told)}\n</main>", "A4")


def tables_html(told: SideBySide) -> str:
    """The parts as tables; the reasons stand under the decisions they were written for."""
    heads = "".join(f"<th scope='col'>{escape(name)}</th>" for name in told.names)
    reasons = {label: cells for label, cells, _ in told.reasons}
    body = [] if told.findings or told.decisions else [f"<p>{_ALIKE}</p>"]
    for title, rows in told.parts:
        lines = ""
        for label, cells, fails in rows:
            own = reasons.get(label, ("",) * len(cells)) if rows is told.decisions else ("",) * len(cells)
            lines += f"<tr><th scope='row'>{escape(label)}</th>" + "".join(
                f"<td>{'<b>' if bad else ''}{escape(cell)}{'</b>' if bad else ''}{f'<br><small>{escape(why)}</small>' if why else ''}</td>"
                for cell, bad, why in zip(cells, fails, own)) + "</tr>"
        body.append(f"<section><h2>{escape(title)}</h2><table class='large'><thead><tr><td></td>{heads}</tr></thead><tbody>{lines}</tbody></table></section>")
    tallies = "".join(f"<li>{escape(name)}: {escape(said)}</li>" for name, said in zip(told.names, told.tallies))
    return "\n".join(body) + f"\n<ul>{tallies}</ul>\n<p>{told.alike} findings stand alike in all and do not fail.</p>"
