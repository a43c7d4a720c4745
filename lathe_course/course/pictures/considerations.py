"""Chapter 15: the map of what pushes on what, drawn from the chain itself."""
from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ...design.evaluation import Evaluation
from ...design.lathe import CHAPTERS
from ..style import INK, MUTED, PALE, PALETTE, STATUS, text_size
from .axes import bare, shortened
from .register import NothingToDraw, picture

#: more findings than this are grouped by chapter, save those the selected decision pushes on
_MOST = 31


def _selected(e: Evaluation, selected: str) -> str:
    if selected and selected not in e.chain.decisions:
        raise NothingToDraw(f"There is no decision called {selected!r} to show.")
    return selected


def _pushed(e: Evaluation, name: str) -> list[str]:
    """Findings that a decision has a part in, in the order of the chapters."""
    below = e.chain.downstream(name)
    return [limit for limit in e.chain.limits if limit in below]


def _words(e: Evaluation, selected: str = "centre_height") -> str:
    name = _selected(e, selected)
    if not name:
        return "A map from the chapters' decisions on the left to the findings on the right; a line says that one has a part in the other."
    pushed = _pushed(e, name)
    told = ", ".join(f"{e.findings[limit].label} ({e.findings[limit].status})" for limit in pushed) or "none"
    return (f"A map from decisions on the left to findings on the right. The {e.chain.decisions[name].label}, {e.shown(name)}, pushes on {len(pushed)} of "
            f"{len(e.chain.limits)} findings: {told}.")


def _left(e: Evaluation, selected: str) -> list[tuple[str, str, list[str]]]:
    """Rows on the left: (words, decision or '', findings pushed on).  A chapter is one row; that of the selected decision is opened."""
    chapters = sorted({d.chapter for d in e.chain.decisions.values()})
    opened = e.chain.decisions[selected].chapter if selected else ""
    rows = []
    for chapter in chapters:
        own = [d.name for d in e.chain.decisions.values() if d.chapter == chapter and not d.free_text]
        pushed = {name: _pushed(e, name) for name in own}
        together = [limit for limit in e.chain.limits if any(limit in found for found in pushed.values())]
        rows.append((f"{chapter} {CHAPTERS.get(chapter, '')}", "", together if chapter != opened else []))
        if chapter == opened:
            rows += [(e.chain.decisions[name].label, name, pushed[name]) for name in own if pushed[name] or name == selected]
    return rows


def _right(e: Evaluation, pushed: list[str]) -> list[tuple[str, list[str]]]:
    """Rows on the right: (words, findings in the row)."""
    if len(e.chain.limits) <= _MOST:
        order = sorted(e.chain.limits.values(), key=lambda limit: limit.chapter)
        return [(f"{e.findings[limit.name].mark} {limit.label}", [limit.name]) for limit in order]
    rows = []
    for chapter in sorted({limit.chapter for limit in e.chain.limits.values()}):
        own = [limit.name for limit in e.chain.limits.values() if limit.chapter == chapter]
        rows += [(f"{e.findings[name].mark} {e.findings[name].label}", [name]) for name in own if name in pushed]
        rest = [name for name in own if name not in pushed]
        if rest:
            rows.append((f"{chapter} {CHAPTERS.get(chapter, '')}: {len(rest)}{' more' if len(rest) < len(own) else ''}", rest))
    return rows


@picture("Which decision pushes on which finding", _words, height=7.0, panels=((0.0, 0.0, 1.0, 1.0),))
def map_of_considerations(e: Evaluation, axes: Axes, selected: str = "centre_height") -> None:
    """Decisions by chapter on the left, findings on the right, the selected one's lines strong."""
    name = _selected(e, selected)
    pushed = _pushed(e, name) if name else []
    left, right = _left(e, name), _right(e, pushed)
    bare(axes)
    wide, tall = axes.bbox.width, axes.bbox.height
    axes.set_xlim(0, wide)
    axes.set_ylim(0, tall)

    def rows(count: int) -> np.ndarray:
        step = min(24.0, (tall - 44) / count)
        return tall - 36 - step * (np.arange(count) + 0.5) - (tall - 44 - step * count) / 2
    left_y, right_y = rows(len(left)), rows(len(right))
    from_x, to_x = 208.0, 288.0
    place = {limit: y for (_, limits), y in zip(right, right_y) for limit in limits}
    curve = np.linspace(0, 1, 14)
    ease = curve**2 * (3 - 2 * curve)
    for (_, decision, limits), y in zip(left, left_y):
        strong = bool(name) and decision == name
        ends = sorted({place[limit] for limit in limits})
        if not ends:
            continue
        # one polyline for all lines of a row, parted by gaps: fewer strokes, a quicker picture
        x = np.concatenate([np.append(from_x + (to_x - from_x) * curve, np.nan) for _ in ends])
        path = np.concatenate([np.append(y + (end - y) * ease, np.nan) for end in ends])
        axes.plot(x, path, color=PALETTE["blue"] if strong else "#cccccc", lw=2.6 if strong else 0.8, zorder=3 if strong else 1)
    for (words, decision, limits), y in zip(left, left_y):
        strong, chapter = bool(name) and decision == name, not decision
        axes.text(from_x - 8, y, shortened(words, from_x - 14, "bold" if strong or chapter else "normal"), ha="right", va="center", weight="bold" if strong or chapter else "normal", color=PALETTE["blue"] if strong else INK if chapter else MUTED)
        if limits:
            axes.plot([from_x], [y], "s" if chapter else "o", ms=9 if strong else 5, color=PALETTE["blue"] if strong else MUTED, zorder=4)
    for (words, limits), y in zip(right, right_y):
        hit = any(limit in pushed for limit in limits)
        status = e.findings[limits[0]].status if len(limits) == 1 else "holds"
        axes.plot([to_x], [y], "o", ms=8 if hit else 5, color=STATUS[status][1] if hit else MUTED, zorder=4)
        weight = "bold" if hit and text_size(words, weight="bold")[0] < wide - to_x - 12 else "normal"
        axes.text(to_x + 9, y, shortened(words, wide - to_x - 12, weight), ha="left", va="center", weight=weight, color=INK if hit or not name else MUTED)
    axes.text(from_x - 8, tall - 6, "decisions, by chapter", ha="right", va="top", color=MUTED)
    axes.text(to_x + 9, tall - 6, f"findings; dark: {len(pushed)} pushed on" if name else "findings", ha="left", va="top", color=MUTED)
    axes.plot([6, wide - 6], [tall - 26] * 2, color=PALE, lw=1)
