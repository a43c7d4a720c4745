"""Chapter 15: the map of decisions and what they push on, drawn from the chain itself."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ...design.evaluation import Evaluation
from ...design.lathe import CHAPTERS
from .axes import bare, wrapped
from .register import NothingToDraw, picture
from .style import INK, MUTED, PALE, PALETTE, POINTS, STATUS, WIDTH

#: lines that fit on either side; more findings than this are grouped by chapter
_MOST = 31
#: points from the left edge to the ends of the lines, and those a label takes at either side
_FROM, _TO = 218.0, 290.0
_LEFT, _RIGHT = _FROM - 14, WIDTH * POINTS - _TO - 12

#: a row that holds several findings has no mark of its own: its point tells by its shape as well as by its colour
_POINT = {"holds": "o", "tight": "D", "fails": "X", "open": "s"}


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
    return (
        f"A map from decisions on the left to findings on the right. The {e.chain.decisions[name].label}, {e.shown(name)}, pushes on {len(pushed)} of "
        f"{len(e.chain.limits)} findings: {told}."
    )


def _lines(words: str) -> int:
    return words.count("\n") + 1


def _on_left(words: str, bold: bool = True) -> str:
    return wrapped(words, _LEFT, weight="bold" if bold else "normal")


def _on_right(words: str, hit: bool) -> str:
    return wrapped(words, _RIGHT, weight="bold" if hit else "normal")


def _that_fit(sizes: list[int], lines: int) -> int:
    """How many of the rows, from the first, have room in so many lines."""
    return int(np.searchsorted(np.cumsum(sizes), lines, side="right"))


def _left(e: Evaluation, selected: str) -> list[tuple[str, str, list[str]]]:
    """Rows on the left: (words in lines, decision or '', findings pushed on).

    A chapter is one row; that of the selected decision is opened as far as there is room, those that push on most first.
    """
    chapters = {chapter: _on_left(f"{chapter} {CHAPTERS.get(chapter, '')}") for chapter in _chapters(e)}
    opened = e.chain.decisions[selected].chapter if selected else ""
    spare = _MOST - sum(_lines(words) for words in chapters.values())
    rows = []
    for chapter, heading in chapters.items():
        own = [d.name for d in e.chain.decisions.values() if d.chapter == chapter and not d.free_text]
        pushed = {name: _pushed(e, name) for name in own}
        listed = [name for name in own if pushed[name] or name == selected] if chapter == opened else []
        words = {name: _on_left(e.chain.decisions[name].label, name == selected) for name in listed}
        first = sorted(listed, key=lambda name: (name != selected, -len(pushed[name])))
        sizes = [_lines(words[name]) for name in first]
        kept = first if sum(sizes) <= spare else first[: _that_fit(sizes, spare - 1)]
        others = [name for name in own if name not in kept]
        rest = [limit for limit in e.chain.limits if any(limit in pushed[name] for name in others)]
        rows.append((heading, "", [] if len(kept) == len(listed) and listed else rest))
        rows += [(words[name], name, pushed[name]) for name in own if name in kept]
        if len(kept) < len(listed):
            rows.append((f"and {len(listed) - len(kept)} more", "", []))
    return rows


def _chapters(e: Evaluation) -> list[str]:
    return sorted({d.chapter for d in e.chain.decisions.values()})


def _right(e: Evaluation, pushed: list[str]) -> list[tuple[str, list[str]]]:
    """Rows on the right: (words in lines, findings in the row).

    Where there are more findings than fit, a chapter is one row, and of those pushed on as many
    stand by themselves as there is room for: what fails first, then what is tight.
    """
    words = {name: _on_right(f"{e.findings[name].mark} {e.findings[name].label}", name in pushed) for name in e.chain.limits}
    order = sorted(e.chain.limits.values(), key=lambda limit: limit.chapter)
    if sum(map(_lines, words.values())) <= _MOST:
        return [(words[limit.name], [limit.name]) for limit in order]
    chapters: dict[str, list[str]] = {}
    for limit in order:
        chapters.setdefault(limit.chapter, []).append(limit.name)

    def together(chapter: str, own: list[str]) -> str:
        dark = sum(name in pushed for name in own)
        return _on_right(f"{chapter} {CHAPTERS.get(chapter, '')}: {f'{dark} of ' if dark else ''}{len(own)}", bool(dark))

    worst_first = sorted(pushed, key=lambda name: ("fails", "tight", "holds", "open").index(e.findings[name].status))
    spare = _MOST - sum(_lines(together(chapter, own)) for chapter, own in chapters.items())
    alone = set(worst_first[: _that_fit([_lines(words[name]) for name in worst_first], spare)])
    rows = []
    for chapter, own in chapters.items():
        rows += [(words[name], [name]) for name in own if name in alone]
        if rest := [name for name in own if name not in alone]:
            rows.append((together(chapter, rest), rest))
    return rows


@picture("Map of decisions: which of them pushes on which finding", _words, height=7.0, panels=((0.0, 0.0, 1.0, 1.0),))
def map_of_decisions(e: Evaluation, axes: Axes, selected: str = "centre_height") -> None:
    """Decisions by chapter on the left, findings on the right, the selected one's lines strong."""
    name = _selected(e, selected)
    pushed = _pushed(e, name) if name else []
    left, right = _left(e, name), _right(e, pushed)
    bare(axes)
    wide, tall = axes.bbox.width, axes.bbox.height
    axes.set_xlim(0, wide)
    axes.set_ylim(0, tall)

    def rows(texts: list[str]) -> np.ndarray:
        lines = np.array([_lines(text) for text in texts], float)
        step = min(24.0, (tall - 44) / lines.sum())
        return tall - 36 - step * (np.cumsum(lines) - lines / 2) - (tall - 44 - step * lines.sum()) / 2

    left_y, right_y = rows([words for words, *_ in left]), rows([words for words, _ in right])
    from_x, to_x = _FROM, _TO
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
        axes.text(
            from_x - 8,
            y,
            words,
            ha="right",
            va="center",
            linespacing=1.0,
            weight="bold" if strong or chapter else "normal",
            color=PALETTE["blue"] if strong else INK if chapter else MUTED,
        )
        if limits:
            axes.plot(
                [from_x],
                [y],
                "s" if chapter else "o",
                ms=9 if strong else 5,
                color=PALETTE["blue"] if strong else MUTED,
                zorder=4,
            )
    for (words, limits), y in zip(right, right_y):
        hit = any(limit in pushed for limit in limits)
        of_row = {e.findings[limit].status for limit in limits if limit in pushed} or {"holds"}
        status = next(one for one in ("fails", "tight", "holds", "open") if one in of_row)
        axes.plot(
            [to_x], [y], _POINT[status] if hit else "o", ms=8 if hit else 5, color=STATUS[status][1] if hit else MUTED, zorder=4
        )
        axes.text(
            to_x + 9,
            y,
            words,
            ha="left",
            va="center",
            linespacing=1.0,
            weight="bold" if hit else "normal",
            color=INK if hit or not name else MUTED,
        )
    axes.text(from_x - 8, tall - 6, "decisions, by chapter", ha="right", va="top", color=MUTED)
    axes.text(
        to_x + 9,
        tall - 6,
        f"findings; dark: pushed on, {len(pushed)} of {len(e.chain.limits)}" if name else "findings",
        ha="left",
        va="top",
        color=MUTED,
    )
    axes.plot([6, wide - 6], [tall - 26] * 2, color=PALE, lw=1)
