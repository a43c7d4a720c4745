"""What designs say about themselves, as plain text for a terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from lathe_course.design.asked.levers import levers
from lathe_course.design.asked.together import only_the_wish, together
from lathe_course.design.design import Design
from lathe_course.design.evaluation import Evaluation, Finding, evaluate
from lathe_course.design.lathe import CHAPTERS

from ...design.chain.luck import DRAWS

_LEVERS_SHOWN = 3
_LINE = 120  # letters of a line of what holds
_STATUSES = ("holds", "tight", "fails", "open")


def tally(findings: Iterable[Finding]) -> str:
    """How many hold, are tight, fail, and are open."""
    counts = {status: sum(finding.status == status for finding in findings) for status in _STATUSES}
    return f"{counts['holds']} hold, {counts['tight']} tight, {counts['fails']} fail" + (
        f", {counts['open']} open" if counts["open"] else ""
    )


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


def turned_by(evaluation: Evaluation, finding: Finding, most: int) -> list[str]:
    """What would turn a finding: its levers, two decisions together where each of those breaks something, or what only the wish can change."""
    found = levers(evaluation, finding.name, most)
    told = [str(lever) for lever in found]
    if finding.status != "fails":
        return told or ["no single decision within its sensible range gives it more room; it may stay as it is."]
    if not all(lever.breaks for lever in found):
        return told
    if pair := together(evaluation, finding.name):
        return [str(pair)]  # so those that break something need not be read
    left = "; ".join(only_the_wish(evaluation, finding.name)) or "ask less of the lathe"
    without = " without breaking another" if told else ""
    return [*told[: max(most - 2, 0)], f"no one decision mends it{without}, nor two together. What is left: {left}."]


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
        lines += [
            line
            for labels, sentence in open_ones(of_chapter)
            for line in textwrap.wrap(
                f"{labels}. {sentence}", _LINE, initial_indent="  ? open   ", subsequent_indent=" " * 11, break_on_hyphens=False
            )
        ]
    doubts = evaluation.doubts()
    return "\n".join([*lines, *([""] if doubts else []), *(f"Mind: {doubt}" for doubt in doubts)])


def _held_lines(held: Sequence[Finding]) -> list[str]:
    """What holds, by name; behind it the share of draws where they do not all agree."""
    if not held:
        return []
    said = "; ".join(f"{finding.label} ({percent(finding.sure)})" if how_sure(finding) else finding.label for finding in held)
    return textwrap.wrap(
        f"{said}.", _LINE, initial_indent=f"  {held[0].mark} holds  ", subsequent_indent=" " * 11, break_on_hyphens=False
    )


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
    return lines + [f"           lever: {one}" for one in turned_by(evaluation, finding, _LEVERS_SHOWN)]
