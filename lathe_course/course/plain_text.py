"""What designs say about themselves, as plain text for a terminal."""
from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import replace

from lathe_course import units
from lathe_course.design.design import Design
from lathe_course.design.evaluation import Evaluation, Finding, evaluate
from lathe_course.design.lathe import CHAPTERS
from lathe_course.design.levers import levers

from .essentials import BUILD_OR_BUY, DRAWS, KEY_RESULTS

__all__ = ["NO_LEVER", "compare_text", "findings_text", "how_sure", "open_ones", "percent", "tally"]

#: said of a finding that no lever turns
NO_LEVER = "no single decision within its sensible range does it: move two together, or ask less of the lathe."
_LEVERS_SHOWN = 3
_LINE = 120                     # letters of a line of what holds
_WIDEST = 34                    # letters of a cell side by side; free text is cut there
_STATUSES = ("holds", "tight", "fails", "open")


def tally(findings: Iterable[Finding]) -> str:
    """How many hold, are tight, fail, and are open."""
    counts = {status: sum(finding.status == status for finding in findings) for status in _STATUSES}
    return f"{counts['holds']} hold, {counts['tight']} tight, {counts['fails']} fail" + (f", {counts['open']} open" if counts["open"] else "")


def how_sure(finding: Finding) -> str:
    """How sure a verdict is, where the draws do not all agree with it; else nothing."""
    if finding.sure is None or finding.sure == (0.0 if finding.status == "fails" else 1.0):
        return ""
    return f"In {percent(finding.sure)} of all draws it is met."


def percent(share: float) -> str:
    """A share of draws; few are not told as none, and nearly all not as all."""
    if 0 < share < 0.005:
        return "less than 1%"
    return "more than 99%" if 0.995 <= share < 1 else f"{share:.0%}"


# --- one design ---------------------------------------------------------------------------------------
def findings_text(design: Design) -> str:
    """Every finding of a design by chapter: those that fail or are tight with how sure it is and levers, those that hold by name."""
    evaluation = evaluate(design, draws=DRAWS)
    findings = evaluation.findings.values()
    lines = [design.name or "A design without a name", f"{len(findings)} findings: {tally(findings)}."]
    for chapter in sorted({finding.chapter for finding in findings}):
        lines += ["", f"{chapter} {CHAPTERS.get(chapter, '')}".rstrip()]
        of_chapter = [finding for finding in findings if finding.chapter == chapter]
        for finding in of_chapter:
            if finding.presses:
                lines += _finding_lines(evaluation, finding)
        lines += _held_lines([finding for finding in of_chapter if finding.status == "holds"])
        lines += [line for labels, sentence in open_ones(of_chapter)
                  for line in textwrap.wrap(f"{labels}. {sentence}", _LINE, initial_indent="  ? open   ", subsequent_indent=" " * 11, break_on_hyphens=False)]
    doubts = evaluation.doubts()
    return "\n".join([*lines, *([""] if doubts else []), *(f"Mind: {doubt}" for doubt in doubts)])


def _held_lines(held: Sequence[Finding]) -> list[str]:
    """What holds, by name; behind it the share of draws where they do not all agree."""
    if not held:
        return []
    said = "; ".join(f"{finding.label} ({percent(finding.sure)})" if how_sure(finding) else finding.label for finding in held)
    return textwrap.wrap(f"{said}.", _LINE, initial_indent=f"  {held[0].mark} holds  ", subsequent_indent=" " * 11, break_on_hyphens=False)


def open_ones(findings: Iterable[Finding]) -> list[tuple[str, str]]:
    """What is open: names and the sentence on it, those with one sentence together."""
    by: dict[str, list[str]] = {}
    for finding in findings:
        if finding.status == "open":
            by.setdefault(finding.sentence, []).append(finding.label)
    return [("; ".join(labels), sentence) for sentence, labels in by.items()]


def _finding_lines(evaluation: Evaluation, finding: Finding) -> list[str]:
    lines = [f"  {finding.mark} {finding.status}  {finding.sentence} {how_sure(finding)}".rstrip()]
    if finding.caution:
        lines.append(f"           caution: {finding.caution}")
    found = [str(lever) for lever in levers(evaluation, finding.name, most=_LEVERS_SHOWN)] or [NO_LEVER]
    return lines + [f"           lever: {lever}" for lever in found]


# --- designs side by side -----------------------------------------------------------------------------
def compare_text(designs: Sequence[Design]) -> str:
    """Designs side by side: the decisions they differ in, key results, then every finding of each.

    Figures are shown in the units of the first design.
    """
    evaluations = [evaluate(replace(design, system=designs[0].system), draws=DRAWS) for design in designs]
    first = evaluations[0]
    heads = [design.name or f"design {number}" for number, design in enumerate(designs, 1)]

    def row(label: str, cells: Iterable[str]) -> list[str]:
        return [label, *(textwrap.shorten(cell, _WIDEST, placeholder=" …") for cell in cells)]

    differing = []
    for name, decision in first.chain.decisions.items():
        shown = [evaluation.shown(name) for evaluation in evaluations]
        if len(set(shown)) > 1:
            differing.append(row(decision.label, shown))
    results = [row(first.chain.part(name).label, (evaluation.shown_spread(name) for evaluation in evaluations))
               for name in (*KEY_RESULTS, *BUILD_OR_BUY)]
    verdicts = [row(finding.label, (_verdict(evaluation, name) for evaluation in evaluations)) for name, finding in first.findings.items()]
    verdicts.append(["all findings", *(tally(evaluation.findings.values()) for evaluation in evaluations)])
    said = [*_table(["decisions that differ", *heads], differing)] if differing else ["These designs differ in no decision."]
    return "\n".join([*said, "", *_table(["key results", *heads], results), "", *_table(["findings", *heads], verdicts)])


def _verdict(evaluation: Evaluation, name: str) -> str:
    """Mark, status and figure; no figure where nothing was asked for, for its nought would say nothing."""
    finding = evaluation.findings[name]
    if finding.status == "open":
        return f"{finding.mark} open"
    if finding.sentence == finding.rule.never:
        return f"{finding.mark} {finding.status} never"
    value = units.shown(finding.value, evaluation.kind(finding.rule.value), evaluation.design.system)
    return f"{finding.mark} {finding.status} {value}"


def _table(head: list[str], rows: list[list[str]]) -> list[str]:
    widths = [max(len(row[column]) for row in [head, *rows]) for column in range(len(head))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in [head, *rows]]
    return [lines[0], "-" * len(lines[0]), *lines[1:]]
