"""How much is told at once, and what first: the one place where this is settled.

A page shows about seven rows; the rest is folded under a count, and the plain twin of the page
shows the same first rows and the same count.  Of findings only those that press stand before the fold.  What matters comes first: verdicts (those that fail,
then those that are tight), among them what rests on what the reader has decided, then size.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Sequence
from typing import Any

from ...design.asked.ripple import WHOLE, Moved, Ripple
from ...design.chain.graph import Chain
from ...design.evaluation import Evaluation, Finding
from ..text.values import Fold
from .panels import Page, tabled
from .plain_text import tally

#: rows at once that a newcomer still takes in
MOST = 7
#: so few findings are all told; of more, those that hold are folded
FEW = 2
_RANK = {"fails": 0, "tight": 1, "holds": 2, "open": 3}
#: figures of chapters from here on are of the build, and stand for every design
_BUILD = "10"


def with_rest(first: Page, said: str, rest: Page, told: bool = False) -> Page:
    """A page whose further rows are folded under what is ``said`` of them; its plain twin ends with that, unless they are ``told`` there too."""
    return first + Page(Fold(said, rest.blocks, told=told)) if rest.blocks else first


def few_rows(rows: list[tuple[Any, ...]], head: tuple[str, ...] = (), numeric: tuple[int, ...] = ()) -> Page:
    """A table of the first few rows, the rest folded under its count."""
    first, rest = rows[:MOST], rows[MOST:]
    return with_rest(tabled(first, head, numeric), f"and {len(rest)} more", tabled(rest, head, numeric) if rest else Page())


def folded_by(
    groups: dict[str, list[tuple[Any, ...]]], head: tuple[str, ...], numeric: tuple[int, ...] = (), what: str = "rows"
) -> Page:
    """A long table folded by group, each under its name and count; plain text has these alone."""
    return Page(
        *(
            Fold(f"{name}: {len(rows)} {what if len(rows) != 1 else what.removesuffix('s')}", tabled(rows, head, numeric).blocks)
            for name, rows in groups.items()
        )
    )


# --- findings -----------------------------------------------------------------------------------------
def pressing_first(findings: Iterable[Finding], evaluation: Evaluation | None = None) -> list[Finding]:
    """Findings in the order in which they matter: verdict, then what rests on decisions of the reader's own, then the least room.

    Without an evaluation nobody's decisions are asked for.
    """
    own: frozenset[str] = frozenset()
    if evaluation is not None:
        own = _resting_on(
            evaluation.chain, frozenset(name for name, choice in evaluation.design.choices.items() if choice.decided)
        )
    return sorted(findings, key=lambda one: (_RANK[one.status], one.name not in own, round(one.margin, 9)))


@functools.lru_cache(maxsize=16)
def _resting_on(chain: Chain, decisions: frozenset[str]) -> frozenset[str]:
    return frozenset().union(*map(chain.downstream, decisions))


def told_of(findings: Sequence[Finding], more: bool = True) -> str:
    """'and 21 more: 19 hold, 2 open', of findings that are folded; without ``more`` there is nothing above them."""
    counted = ", ".join(part for part in tally(findings).split(", ") if not part.startswith("0 "))
    if more:
        return f"and {len(findings)} more: {counted}"
    return (
        f"✓ All {len(findings)} findings hold"
        if all(one.status == "holds" for one in findings)
        else f"{len(findings)} findings: {counted}"
    )


# --- what moved ----------------------------------------------------------------------------------------
def moved_first(moved: Ripple, before: Evaluation, after: Evaluation) -> list[Moved]:
    """What moved, in the order in which it matters: figures whose verdict turned, figures of the whole plan, then the largest change.

    What no finding rests on, and what keeps twice the room it needs before and after, comes last: a bearing
    that lasts four hundred years need not be told to last a thousand.  What serves no finding but such as are not asked, before and after, is left out if it is of the
    machine: a lathe without rails has no life of a rail carriage.
    """
    turned = {one.rule.value for _, one in moved.findings}
    idle = _of_nothing(before) & _of_nothing(after)
    calm = _calm(before) & _calm(after)
    return sorted(
        (one for one in moved.results if one.name not in idle),
        key=lambda one: (one.name not in turned, one.name not in WHOLE, one.name in calm, -round(abs(one.change), 9)),
    )


def _calm(evaluation: Evaluation) -> set[str]:
    """Figures that no finding rests on, and those whose findings all hold with as much room again as they ask for."""
    chain = evaluation.chain
    held = {finding.rule.value for finding in evaluation.findings.values()}
    pressed = {finding.rule.value for finding in evaluation.findings.values() if finding.margin < 1}
    return (held - pressed) | {name for name in chain.results if not chain.downstream(name) & chain.limits.keys()}


def _of_nothing(evaluation: Evaluation) -> frozenset[str]:
    """Figures of the machine all of whose findings are open."""
    chain = evaluation.chain
    idle = {name for name, finding in evaluation.findings.items() if finding.status == "open"}
    asked = chain.limits.keys() - idle
    return frozenset(
        name
        for name, part in chain.results.items()
        if part.chapter < _BUILD and (below := chain.downstream(name)) & idle and not below & asked
    )
