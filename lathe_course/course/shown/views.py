"""Views of one evaluation as pages: findings, results, ripple, why, levers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from ... import units
from ...design.asked.levers import levers
from ...design.asked.ripple import ripple
from ...design.asked.why import Why
from ...design.draft.starting import without_job
from ...design.evaluation import Evaluation, Finding, evaluate
from ...design.lathe import CHAPTERS
from ...design.origins import DEMO, DRAFT, YOURS
from .few import MOST, fold, moved_first, pressing_first, told_of, with_rest
from .panels import Page, escape, paragraphs, table_html, table_text, tabled
from .plain_text import NO_LEVER, how_sure, open_ones, tally

__all__ = [
    "all_findings_page",
    "change_of",
    "chapter_levers_page",
    "decisions_page",
    "findings_markup",
    "findings_page",
    "levers_page",
    "minding",
    "pushes_on_page",
    "results_page",
    "results_rows",
    "ripple_page",
    "verdict",
    "why_page",
]


def verdict(finding: Finding) -> str:
    """Mark and word, so that neither colour nor sign stands alone."""
    return f"{finding.mark} {finding.status}"


def _sure(finding: Finding) -> str:
    return f" {how_sure(finding)}".rstrip()


def findings_markup(findings: Sequence[Finding], cautions: bool = True) -> str:
    """A table of findings in the order given, no more than a few before the fold."""
    first, rest = findings[:MOST], findings[MOST:]
    return _findings_table(first, cautions) + (fold(told_of(rest), _findings_table(rest, cautions)) if rest else "")


def _findings_table(findings: Iterable[Finding], cautions: bool) -> str:
    rows = []
    for f in findings:
        caution = f'<br><span class="dim">Caution: {escape(f.caution)}</span>' if cautions and f.caution else ""
        rows.append(
            f'<tr><td class="w"><span class="{f.status}">{escape(verdict(f))}</span></td>'
            f"<td><b>{escape(f.label)}.</b> {escape(f.sentence)}{escape(_sure(f))}{caution}</td></tr>"
        )
    return f"<table>{''.join(rows)}</table>"


def findings_page(findings: Iterable[Finding], evaluation: Evaluation | None = None) -> Page:
    findings = pressing_first(findings, evaluation)
    first, rest = findings[:MOST], findings[MOST:]
    lines = [f"{verdict(f):8} {f.label}. {f.sentence}{_sure(f)}" for f in first]
    return Page(findings_markup(findings), "\n".join([*lines, *([told_of(rest)] if rest else [])]))


def all_findings_page(evaluation: Evaluation) -> Page:
    """Every finding in one look: what presses most, the rest of it, and what holds or is open by name, folded by chapter."""
    counted = f"{len(evaluation.findings)} findings: {tally(evaluation.findings.values())}."
    pressing = [one for one in pressing_first(evaluation.findings.values(), evaluation) if one.presses]
    first = findings_page(pressing, evaluation) if pressing else Page("", "")
    groups, plain = [], []
    for chapter in dict.fromkeys(f.chapter for f in evaluation.findings.values()):
        findings = [f for f in evaluation.findings.values() if f.chapter == chapter]
        rows = [(verdict(f), f"{f.label}. ", f"{f.sentence}{_sure(f)}") for f in findings if f.presses]
        held = [f for f in findings if f.status == "holds"]
        if held:
            rows.append((verdict(held[0]), "", "; ".join(f.label for f in held) + "."))
        rows += [("? open", f"{labels}. ", sentence) for labels, sentence in open_ones(findings)]
        heading = f"{chapter} {CHAPTERS[chapter]}: {_short_tally(findings)}"
        groups.append(
            fold(
                heading,
                "<table>"
                + "".join(
                    f'<tr><td class="w"><span class="{mark.split()[-1]}">{escape(mark)}</span></td><td><b>{escape(label)}</b>{escape(said)}</td></tr>'
                    for mark, label, said in rows
                )
                + "</table>",
            )
        )
        plain.append(heading)
    return Page(
        f"<p>{escape(counted)}</p>{first.markup}<p>Chapter by chapter:</p>{''.join(groups)}",
        "\n".join([counted, *filter(None, [first.plain]), "Chapter by chapter:", *plain]),
    )


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
    rows = results_rows(evaluation, names)
    return Page(table_html(rows, numeric=(1,)), table_text(rows))


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
    doubts = list(doubts)
    return Page(
        page.markup + "".join(f"<p><b>Mind:</b> {escape(doubt)}</p>" for doubt in doubts),
        "\n".join([page.plain, *(f"Mind: {doubt}" for doubt in doubts)]),
    )


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
    head = ("chapter", f"figures that {chain.part(decision).label} moves", "findings to look at again")
    return Page(
        table_html(rows, head),
        "\n".join(f"{where}\n  figures: {results}\n  findings: {findings}" for where, results, findings in rows),
    )


def ripple_page(before: Evaluation, after: Evaluation) -> Page:
    """What a change moved: verdicts that turned first, then figures, a few of each and the rest folded."""
    moved = ripple(before, after)
    if not moved:
        return Page("<p>Nothing moved.</p>", "Nothing moved.")
    changed = [(m.label, f"{m.before} → {m.after}") for m in moved.decisions]
    page = _few_changes(changed)
    turned = {new.name: (old, new) for old, new in moved.findings}
    verdicts = [
        (new.label, f"{verdict(old)} → {verdict(new)}")
        for old, new in (turned[one.name] for one in pressing_first([new for _, new in moved.findings], after))
    ]
    if verdicts:
        said = "Findings that changed:"
        rows = _few(verdicts, (), ())
        page = Page(f"{page.markup}<p>{said}</p>{rows.markup}", f"{page.plain}\n{said}\n{rows.plain}")
    else:
        page = Page(page.markup + "<p>No finding changed.</p>", page.plain + "\nNo finding changed.")
    results = [
        (m.label, m.before, m.after, f"{m.change:+.0%}" if abs(m.change) < 10 else "") for m in moved_first(moved, before, after)
    ]
    if results:
        rows = _few(results, ("what moved", "before", "after", ""), (1, 2, 3))
        page = Page(page.markup + rows.markup, f"{page.plain}\n{rows.plain}")
    return page


def _few_changes(changed: list[tuple[str, str]]) -> Page:
    def told(some: list[tuple[str, str]]) -> str:
        return "; ".join(f"<b>{escape(label)}</b> {escape(change)}" for label, change in some)

    first, rest = changed[:MOST], changed[MOST:]
    return with_rest(
        Page(f"<p>{told(first)}</p>", "; ".join(f"{label} {change}" for label, change in first)),
        f"and {len(rest)} more decisions",
        told(rest),
    )


def _few(rows: list[tuple[str, ...]], head: tuple[str, ...], numeric: tuple[int, ...]) -> Page:
    first, rest = rows[:MOST], rows[MOST:]
    return with_rest(
        Page(table_html(first, head, numeric), table_text(first, head)),
        f"and {len(rest)} more",
        table_html(rest, head, numeric) if rest else "",
    )


def why_page(why: Why) -> Page:
    """The tree behind a result, folded level by level."""

    def markup(part: Why, seen: set[str]) -> str:
        note = part.note.rstrip(".")
        line = f"<b>{escape(part.label)}</b> {escape(part.shown)} <span class='dim'>{escape(note)}</span>"
        if not part.behind or part.name in seen:
            return f"<div style='margin-left:1.2em'>{line}</div>"
        seen.add(part.name)
        return f"<details style='margin-left:1.2em' {'open' if part is why else ''}><summary>{line}</summary>{''.join(markup(b, seen) for b in part.behind)}</details>"

    return Page(markup(why, set()), str(why))


def levers_page(evaluation: Evaluation, finding: Finding) -> Page:
    """What would turn one finding."""
    if not finding.presses:
        said = (
            f"“{finding.label}” is open: {finding.sentence}"
            if finding.status == "open"
            else f"“{finding.label}” holds, so there is nothing to turn."
        )
        return paragraphs(said)
    head = f"To turn “{finding.label}” ({verdict(finding)}):"
    found = [*map(str, levers(evaluation, finding.name)), *_without_a_job(evaluation, finding)]
    lines = found or [NO_LEVER]
    first, rest = lines[:MOST], lines[MOST:]
    markup = f"<p>{escape(head)}</p><ul>{_items(first)}</ul>"
    return with_rest(
        Page(markup, "\n".join([head, *(f"  - {line}" for line in first)])),
        f"and {len(rest)} more",
        f"<ul>{_items(rest)}</ul>" if rest else "",
    )


def _items(lines: Iterable[str]) -> str:
    return "".join(f"<li>{escape(line)}</li>" for line in lines)


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
        said = "Nothing fails in this chapter, and nothing is tight, so there is nothing to turn."
        return Page(f"<p>{said}</p>", said)
    pages = [levers_page(evaluation, one) for one in pressing[:most]]
    more = [one.label for one in pressing[most:]]
    page = Page("".join(one.markup for one in pages), "\n".join(one.plain for one in pages))
    if not more:
        return page
    said = f"and {len(more)} more that {'fail' if pressing[0].status == 'fails' else 'are tight'}"
    return with_rest(page, said, f"<p>{escape('; '.join(more))}. Ask for one by its name, or look in chapter 15.</p>")
