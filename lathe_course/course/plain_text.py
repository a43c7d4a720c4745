"""What designs say about themselves, as plain text for a terminal."""
from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from lathe_course import units
from lathe_course.design.design import Design
from lathe_course.design.evaluation import Evaluation, Finding, evaluate
from lathe_course.design.lathe import CHAPTERS
from lathe_course.design.levers import levers

DRAWS = 10_000
_LEVERS_SHOWN = 3
_STATUSES = ("holds", "tight", "fails")


def findings_text(design: Design) -> str:
    """Every finding of a design by chapter, how sure it is, and the levers of those that fail."""
    findings = evaluate(design, draws=DRAWS).findings.values()
    lines = [design.name or "A design without a name", f"{len(findings)} findings: {tally(findings)}."]
    for chapter in dict.fromkeys(finding.chapter for finding in findings):
        lines += ["", f"{chapter} {CHAPTERS.get(chapter, '')}".rstrip()]
        for finding in findings:
            if finding.chapter == chapter:
                lines += _finding_lines(design, finding)
    return "\n".join(lines)


def tally(findings: Iterable[Finding]) -> str:
    """How many hold, are tight, fail."""
    counts = {status: sum(finding.status == status for finding in findings) for status in _STATUSES}
    return f"{counts['holds']} hold, {counts['tight']} tight, {counts['fails']} fail"


def _finding_lines(design: Design, finding: Finding) -> list[str]:
    lines = [f"  {finding}"]
    if finding.status == "holds":
        return lines
    if finding.caution:
        lines.append(f"           caution: {finding.caution}")
    if finding.status == "fails":
        found = levers(design, finding.name, most=_LEVERS_SHOWN)
        lines += [f"           lever: {lever}" for lever in found]
        if not found:
            lines.append("           no single decision within its sensible range turns this")
    return lines


def compare_text(designs: Sequence[Design]) -> str:
    """Designs side by side: the decisions they differ in, then every finding of each.

    Figures are shown in the units of the first design.
    """
    evaluations = [evaluate(replace(design, system=designs[0].system)) for design in designs]
    first = evaluations[0]
    heads = [design.name or f"design {number}" for number, design in enumerate(designs, 1)]
    differing = []
    for name, decision in first.chain.decisions.items():
        shown = [evaluation.shown(name) for evaluation in evaluations]
        if len(set(shown)) > 1:
            differing.append([decision.label, *shown])
    verdicts = [[finding.label, *(_verdict(evaluation, name) for evaluation in evaluations)]
                for name, finding in first.findings.items()]
    tallies = ["all findings", *(tally(evaluation.findings.values()) for evaluation in evaluations)]
    said = [*_table(["decisions that differ", *heads], differing)] if differing else ["These designs differ in no decision."]
    return "\n".join([*said, "", *_table(["findings", *heads], [*verdicts, tallies])])


def _verdict(evaluation: Evaluation, name: str) -> str:
    finding = evaluation.findings[name]
    value = units.shown(finding.value, evaluation.kind(finding.rule.value), evaluation.design.system)
    return f"{finding.mark} {finding.status} {value}"


def _table(head: list[str], rows: list[list[str]]) -> list[str]:
    widths = [max(len(row[column]) for row in [head, *rows]) for column in range(len(head))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in [head, *rows]]
    return [lines[0], "-" * len(lines[0]), *lines[1:]]
