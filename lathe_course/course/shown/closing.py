"""Pages for closing the loop: every open finding with its levers, what to find out, what it all rests on, the ways forward."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

import numpy as np

from ...design.asked.mending import mend
from ...design.chain.entries import NOT_FAILING
from ...design.evaluation import Evaluation, evaluate
from ...design.origins import DRAFT, YOURS, begun_with
from ...sources import citations, source_of
from ..text.values import Fold, List, Paragraph, strong
from .essentials import BLURRED
from .few import pressing_first, with_rest
from .finding_out import how_to_find_out, worth_finding_out
from .panels import Page, paragraphs, tabled
from .plain_text import percent, turned_by
from .views import verdict

_LEVERS_SHOWN = 3
_FIRST = 3  # findings whose levers stand open


# --- levers ------------------------------------------------------------------------------------------
def open_levers_page(evaluation: Evaluation, most: int = _LEVERS_SHOWN) -> Page:
    """Every finding that fails or is tight, with the smallest changes that turn it; of a tight one only the first."""
    told = []
    for finding in pressing_first([one for one in evaluation.findings.values() if one.presses], evaluation):
        found = turned_by(evaluation, finding, most if finding.status == "fails" else 1)
        head = (strong(f"{verdict(finding)}  {finding.label}."), f" {finding.sentence}")
        told.append(Page(Paragraph(head), List(tuple(found))))
    if not told:
        return paragraphs("Every finding holds, so there is nothing to mend.")
    return with_rest(Page(*told[:_FIRST]), f"and {len(told) - _FIRST} more", Page(*told[_FIRST:]))


# --- what to find out --------------------------------------------------------------------------------
#: a verdict that this share of the draws or less speaks against is not worth an evening
_SETTLED = 0.02
_MOST_OPEN = 8
FIND_OUT_HEAD = ("what it blurs", "how it stands", "blurred most by (rank correlation)")


def find_out(evaluation: Evaluation, names: Iterable[str] = ()) -> tuple[list[tuple[str, ...]], list[tuple[str, ...]]]:
    """Rows on what blurs some results or findings, and rows on how to find out the first of each; needs draws.

    Without names it is asked of the findings that could go either way, the most open first;
    where there is none, of the results people ask for.
    """
    rows, how = [], {}
    for name in names or _most_open(evaluation)[:_MOST_OPEN] or BLURRED:
        blurring = worth_finding_out(evaluation, name)
        said = "; ".join(f"{one.label} ({_signed(one.weight)})" for one in blurring) or "nothing that is known only as a range"
        stands = (
            f"met in {percent(evaluation.findings[name].sure)} of all draws"
            if name in evaluation.findings
            else evaluation.shown_spread(name)
        )
        rows.append((evaluation.chain.part(name).label, stands, said))
        how |= {one.label: how_to_find_out(one.name) for one in blurring[:1]}
    return rows, list(how.items())


def _signed(weight: float) -> str:
    return f"{weight:+.2f}".replace("-", "−")


def _most_open(evaluation: Evaluation) -> list[str]:
    open_ones = [
        finding for finding in evaluation.findings.values() if finding.sure is not None and _SETTLED < finding.sure < 1 - _SETTLED
    ]
    return [finding.name for finding in sorted(open_ones, key=lambda finding: abs(finding.sure - 0.5))]


def find_out_page(evaluation: Evaluation, names: Iterable[str] = ()) -> Page:
    """What blurs results or findings, and how to find it out; needs draws."""
    rows, ways = find_out(evaluation, names)
    page = tabled(rows, FIND_OUT_HEAD)
    return page + tabled(ways, before=["A way to find out what stands first:"]) if ways else page


# --- what it rests on --------------------------------------------------------------------------------
@dataclass(frozen=True)
class Ground:
    """One sort of thing a design rests on, and what is of that sort, by label."""

    what: str
    labels: tuple[str, ...]

    @property
    def such_as(self) -> str:
        return ", ".join(self.labels[:3]) + (" and others" if len(self.labels) > 3 else "")


_BOOKS = ("standard", "handbook", "textbook", "paper")


def grounds(evaluation: Evaluation) -> list[Ground]:
    """What the findings rest on: decisions, own figures, formulas and figures, by where they come from."""
    design, chain = evaluation.design, evaluation.chain
    behind = frozenset().union(*(chain.upstream(name) for name in chain.limits))

    def labels(parts: Iterable, wanted: Callable) -> tuple[str, ...]:
        return tuple(part.label for part in parts if part.name in behind and wanted(part))

    def kind(part) -> str:
        found = [
            source_of(one)
            for text in ((part.source,) if isinstance(part.source, str) else part.source)
            for one in citations(text)
        ]
        books = [source for source in found if source.kind in _BOOKS]
        return "books" if any(source.seen for source in books) else "memory" if books else found[0].kind

    def drafted(part) -> bool:
        origin = design.origin(part.name)
        return origin == DRAFT and not begun_with(part.name, origin)

    decisions, results = chain.decisions.values(), chain.results.values()
    figures = [figure for figure in chain.figures.values() if figure.name not in design.figures]
    own = [chain.figures[name] for name in design.figures]
    return [
        Ground("decisions you settled", labels(decisions, lambda part: design.origin(part.name) == YOURS)),
        Ground("decisions as drafted from your wish", labels(decisions, drafted)),
        Ground(
            "decisions still as your design began with them",
            labels(decisions, lambda part: begun_with(part.name, design.origin(part.name))),
        ),
        Ground("figures you found out yourself", labels(own, lambda part: True)),
        Ground("worked out by definition or plain geometry", labels(results, lambda part: kind(part) == "definition")),
        Ground(
            "worked out by formulas of books and standards that were seen", labels(results, lambda part: kind(part) == "books")
        ),
        Ground("worked out by formulas of books, recalled from memory", labels(results, lambda part: kind(part) == "memory")),
        Ground("worked out by a way of our own", labels(results, lambda part: kind(part) == "own work")),
        Ground("worked out by a rule of common practice", labels(results, lambda part: kind(part) == "common practice")),
        Ground("figures from books and standards", labels(figures, lambda part: kind(part) in ("books", "memory"))),
        Ground(
            "figures of the course's own, until yours take their place",
            labels(figures, lambda part: kind(part) in ("own work", "definition")),
        ),
        Ground("figures judged from common practice", labels(figures, lambda part: kind(part) == "common practice")),
    ]


def going_either_way(evaluation: Evaluation) -> list[str]:
    """Labels of findings whose verdict differs from draw to draw; needs draws."""
    return [finding.label for finding in evaluation.findings.values() if finding.sure is not None and 0 < finding.sure < 1]


def standing_page(evaluation: Evaluation) -> Page:
    """How much of a design is worked out, how much is judged, and what could still go either way; needs draws."""
    rows = [
        (Fold(ground.what, (Paragraph(f"Such as {ground.such_as}."),)), str(len(ground.labels)))
        for ground in grounds(evaluation)
        if ground.labels
    ]
    either, total = going_either_way(evaluation), len(evaluation.findings)
    said = f"{total - len(either)} of {total} findings come out the same in every draw."
    page = tabled(rows, ("the findings rest on", "how many"), (1,), after=(said,))
    return page + Page(Fold(f"{len(either)} could go either way", (List(tuple(either)),))) if either else page


# --- ways forward ------------------------------------------------------------------------------------
def nothing_fails(evaluation: Evaluation) -> float:
    """Share of the draws in which no finding fails, all of them together; needs draws."""
    met = np.ones(evaluation.draws, bool)
    for margin in evaluation.chain.margins(evaluation.values_si).values():
        met &= np.asarray(margin) >= NOT_FAILING
    return float(met.mean())


def ways_forward(evaluation: Evaluation) -> tuple[list[str], list[tuple[str, ...]], dict[str, list[str]]]:
    """Head and rows of a table: build as it stands, build with the smallest mends, or buy used; and what is counted in it, by name.  Needs draws."""
    mended = mend(evaluation)
    builds = [evaluation]
    if mended.changes:
        builds.append(evaluate(mended.design, evaluation.draws))

    def row(what: str, cell: Callable[[Evaluation], str], used: str = "–") -> tuple[str, ...]:
        return (what, *(cell(one) for one in builds), used)

    def told(name: str, used: str = "–") -> tuple[str, ...]:
        return row(evaluation.chain.part(name).label, lambda one: one.shown_spread(name), used)

    def failing(one: Evaluation) -> list[str]:
        return [finding.label for finding in one.findings.values() if finding.status == "fails"]

    rows = [
        row("findings that fail", lambda one: str(len(failing(one))), "not asked"),
        row("draws in which nothing fails", lambda one: percent(nothing_fails(one))),
        told("share_that_fits"),
        told("parts_mass"),
        told("cash_total", evaluation.shown_spread("used_price")),
        told("own_hours", evaluation.shown_spread("used_hours")),
        told("months_to_finish"),
        told("months_to_finish_should"),
        row("with your hours counted", lambda one: one.shown_spread("building_by_parts"), evaluation.shown_spread("used_total")),
        row("keeping it, a year", lambda one: one.shown_spread("keeping_a_year"), evaluation.shown_spread("used_keeping_a_year")),
    ]
    head = ["", "build, as it stands"] + (["build, mended"] if mended.changes else []) + ["buy used"]
    counted = {"What fails as it stands": failing(evaluation)}
    if mended.changes:
        changes = [str(change) for change in mended.changes]
        rows.insert(0, ("decisions that change", "0", str(len(changes)), "–"))
        counted |= {"What changes to mend it": changes, "What fails all the same": failing(builds[1])}
    return head, rows, {title: names for title, names in counted.items() if names}


ABOUT_THE_WAYS = (
    "Figures, not advice. Money, hours and months are added up part by part, by the ways chosen; the price of a used lathe is a rough "
    "figure for its size (common practice, no source). Mended is one way of many: each finding that fails is mended by the smallest single change "
    "that breaks no other. A used machine is held against nothing here: go and measure it. With your hours counted, tools that serve "
    "other work are left out, and an hour of building that you want for its own sake comes off the price, so the sum can fall below zero."
)


def ways_forward_page(evaluation: Evaluation) -> Page:
    """Build, mend and build, or buy used, side by side; what is counted there by name below."""
    head, rows, counted = ways_forward(evaluation)
    named = (Fold(f"{title}: {len(names)}", (List(tuple(names)),), told=True) for title, names in counted.items())
    return (
        tabled(rows, tuple(head), range(1, len(head)))
        + Page(*named)
        + Page(Fold("How to read the table", (Paragraph(ABOUT_THE_WAYS),)))
    )
