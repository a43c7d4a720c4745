"""Views of one evaluation as pages: findings, results, ripple, why, levers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from ... import units
from ...design.asked.ripple import ripple
from ...design.asked.why import Why
from ...design.draft.starting import without_job
from ...design.evaluation import Evaluation, Finding, evaluate
from ...design.lathe import CHAPTERS
from ...design.origins import DEMO, DRAFT, YOURS
from ..text.values import Fold, List, Paragraph, Part, Run, Table, Words, dim, strong
from .few import FEW, MOST, few_rows, moved_first, pressing_first, told_of, with_rest
from .panels import Page, paragraphs, tabled
from .plain_text import how_sure, open_ones, tally, turned_by


def verdict(finding: Finding) -> str:
    """Mark and word, so that neither colour nor sign stands alone."""
    return f"{finding.mark} {finding.status}"


def as_verdict(finding: Finding) -> Run:
    """The same in the style of its status."""
    return Run(verdict(finding), finding.status)


def _sure(finding: Finding) -> str:
    return f" {how_sure(finding)}".rstrip()


def findings_table(findings: Sequence[Finding], cautions: bool = True) -> Page:
    """Findings in the order given: those that press before the fold, what holds or is open below it; all of them where they are few."""
    first = [one for one in findings if one.presses][:MOST] if len(findings) > FEW else list(findings)
    rest = [one for one in findings if one not in first]
    shown = _findings(first, cautions) if first else Page()
    return with_rest(shown, told_of(rest, bool(first)), _findings(rest, cautions) if rest else Page())


def _findings(findings: Iterable[Finding], cautions: bool) -> Page:
    rows = []
    for f in findings:
        caution = ("\n", dim(f"Caution: {f.caution}")) if cautions and f.caution else ()
        rows.append((as_verdict(f), (strong(f"{f.label}."), f" {f.sentence}{_sure(f)}", *caution)))
    return Page(Table(tuple(rows), kinds={0: "w"}))


def findings_page(findings: Iterable[Finding], evaluation: Evaluation | None = None) -> Page:
    return findings_table(pressing_first(findings, evaluation))


def all_findings_page(evaluation: Evaluation) -> Page:
    """Every finding in one look: what presses most, the rest of it, and what holds or is open by name, folded by chapter."""
    counted = f"{len(evaluation.findings)} findings: {tally(evaluation.findings.values())}."
    pressing = [one for one in pressing_first(evaluation.findings.values(), evaluation) if one.presses]
    first = findings_page(pressing, evaluation) if pressing else Page()
    groups = []
    for chapter in dict.fromkeys(f.chapter for f in evaluation.findings.values()):
        findings = [f for f in evaluation.findings.values() if f.chapter == chapter]
        rows: list[tuple[Words, Words]] = [
            (as_verdict(f), (strong(f"{f.label}. "), f"{f.sentence}{_sure(f)}")) for f in findings if f.presses
        ]
        held = [f for f in findings if f.status == "holds"]
        if held:
            rows.append((as_verdict(held[0]), "; ".join(f.label for f in held) + "."))
        rows += [(Run("? open", "open"), (strong(f"{labels}. "), sentence)) for labels, sentence in open_ones(findings)]
        groups.append(Fold(f"{chapter} {CHAPTERS[chapter]}: {_short_tally(findings)}", (Table(tuple(rows), kinds={0: "w"}),)))
    return paragraphs(counted) + first + paragraphs("Chapter by chapter:") + Page(*groups)


def _short_tally(findings: Iterable[Finding]) -> str:
    return ", ".join(part for part in tally(findings).split(", ") if not part.startswith("0 "))


def results_rows(evaluation: Evaluation, names: Iterable[str], before: Evaluation | None = None) -> list[tuple[str, ...]]:
    rows = []
    for name in names:
        label = evaluation.chain.part(name).label
        now = evaluation.shown_spread(name)
        rows.append((label, now) if before is None else (label, now, before.shown_spread(name)))
    return rows


def change_of(now: Evaluation, before: Evaluation, name: str) -> str:
    """How much a result has moved: '+17%', '-3%', '12 times', or nothing.

    With draws it is the change of the likely run of things, the median: it shows what rounding a spread would hide.
    """
    was, is_now = before.middle(name), now.middle(name)
    if isinstance(was, str) or not was > 0 or not np.isfinite(is_now) or is_now < 0:
        return ""
    share = is_now / was - 1
    if abs(share) < 5e-4:
        return ""
    if share >= 9.95:
        return f"{units.number(is_now / was, 2)} times"
    return f"{share:+.0%}" if abs(share) >= 0.0095 else f"{share:+.1%}"


def results_page(evaluation: Evaluation, names: Iterable[str]) -> Page:
    return tabled(results_rows(evaluation, names), numeric=(1,))


def decisions_page(evaluation: Evaluation, names: Iterable[str]) -> Page:
    """Decisions with value, reason, what a mentor said of them, and whether the learner settled them yet."""
    design, rows = evaluation.design, []
    for name in names:
        choice = design.choices[name]
        said = " ".join(filter(None, (choice.reason, *map(str, design.remarks_on(name)))))
        rows.append(
            (
                design.chain.decisions[name].label,
                evaluation.shown(name),
                said,
                {YOURS: "kept", DRAFT: "drafted", DEMO: "from the demo"}[choice.origin],
            )
        )
    head = ("decision", "value", "reason", "")
    return tabled(rows, head)


def minding(page: Page, doubts: Iterable[str]) -> Page:
    """A page with a word on what is to be taken with care, if there is anything."""
    return page + paragraphs(*((strong("Mind:"), f" {doubt}") for doubt in doubts))


def pushes_on_page(evaluation: Evaluation, decision: str) -> Page:
    """What is to be looked at again when a decision moves, chapter by chapter: results, and findings in their own column."""
    chain = evaluation.chain
    rows = []
    for chapter, names in chain.pushes_on(decision).items():
        findings = [name for name in names if name in chain.limits]
        results = [chain.part(name).label for name in names if name not in chain.limits and chain.part(name).kind is not None]
        rows.append(
            (
                f"{chapter} {CHAPTERS[chapter]}",
                "; ".join(results) or "–",
                "; ".join(chain.part(name).label for name in findings) or "–",
            )
        )
    return tabled(rows, ("chapter", f"figures that {chain.part(decision).label} moves", "findings to look at again"))


def ripple_page(before: Evaluation, after: Evaluation) -> Page:
    """What a change moved: verdicts that turned first, then figures, a few of each and the rest folded."""
    moved = ripple(before, after)
    if not moved:
        return paragraphs("Nothing moved.")
    page = _few_changes([(m.label, f"{m.before} → {m.after}") for m in moved.decisions])
    turned = {new.name: (old, new) for old, new in moved.findings}
    verdicts = [
        (new.label, f"{verdict(old)} → {verdict(new)}")
        for old, new in (turned[one.name] for one in pressing_first([new for _, new in moved.findings], after))
    ]
    page += paragraphs("Findings that changed:") + few_rows(verdicts) if verdicts else paragraphs("No finding changed.")
    results = [
        (m.label, m.before, m.after, f"{m.change:+.0%}" if abs(m.change) < 10 else "") for m in moved_first(moved, before, after)
    ]
    return page + few_rows(results, ("what moved", "before", "after", ""), (1, 2, 3)) if results else page


def _few_changes(changed: list[tuple[str, str]]) -> Page:
    def told(some: list[tuple[str, str]]) -> Page:
        return paragraphs(tuple(part for label, change in some for part in ("; ", strong(label), f" {change}"))[1:])

    first, rest = changed[:MOST], changed[MOST:]
    return with_rest(told(first), f"and {len(rest)} more decisions", told(rest))


def why_page(why: Why) -> Page:
    """The tree behind a result, folded level by level."""
    seen: set[str] = set()

    def grown(part: Why) -> Fold | Part:
        note = part.note.rstrip(".")
        line = (strong(part.label), f" = {part.shown}", *((": ", dim(note)) if note else ()))
        if not part.behind or part.name in seen:
            return Part("lc-why", (Paragraph(line),))
        seen.add(part.name)
        return Fold(line, tuple(map(grown, part.behind)), opened=part is why, told=True)

    return Page(grown(why))


#: as many levers as are worth reading
_MOST_LEVERS = 8


def levers_page(evaluation: Evaluation, finding: Finding) -> Page:
    """What would turn one finding."""
    if not finding.presses:
        open_or_not = f"is open: {finding.sentence}" if finding.status == "open" else "holds, so there is nothing to mend."
        return paragraphs(f"“{finding.label}” {open_or_not}")
    lines = [*turned_by(evaluation, finding, _MOST_LEVERS), *_without_a_job(evaluation, finding)]
    first, rest = lines[:MOST], lines[MOST:]
    page = Page(Paragraph(f"To mend “{finding.label}” ({verdict(finding)}):"), List(tuple(first)))
    return with_rest(page, f"and {len(rest)} more", Page(List(tuple(rest))) if rest else Page())


def _without_a_job(evaluation: Evaluation, finding: Finding) -> list[str]:
    """What striking a job off the list would do for a finding that rests on the jobs."""
    jobs = evaluation.design.jobs
    if len(jobs) < 2 or "jobs" not in evaluation.chain.upstream(finding.name):
        return []
    told = []
    for job in jobs:
        after = evaluate(without_job(evaluation.design, job.name), earlier=evaluation.central).findings[finding.name]
        if after.status != finding.status and after.status != "fails" and (finding.status, after.status) != ("tight", "open"):
            told.append(f"the job “{job.name}” struck off the list of chapter 01: {verdict(after)}.")
    return told


def chapter_levers_page(evaluation: Evaluation, chapter: str, most: int = 3) -> Page:
    """What would turn each finding of a chapter that fails, the few that press most; where none fails, those that are tight."""
    findings = pressing_first(evaluation.findings_of(chapter), evaluation)
    pressing = [one for one in findings if one.status == "fails"] or [one for one in findings if one.status == "tight"]
    if not pressing:
        return paragraphs("Nothing fails in this chapter, and nothing is tight, so there is nothing to mend.")
    more = [one.label for one in pressing[most:]]
    page = Page(*(levers_page(evaluation, one) for one in pressing[:most]))
    if not more:
        return page
    said = f"and {len(more)} more that {'fail' if pressing[0].status == 'fails' else 'are tight'}"
    return with_rest(page, said, paragraphs(f"{'; '.join(more)}. Ask for one by its name, or look in chapter 15."))
