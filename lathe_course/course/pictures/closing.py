"""Chapter 15: how much room each finding has, what blurs a result, and two decisions against each other."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.evaluation import Evaluation, Finding, blurred_by
from .axes import wrapped
from .register import NothingToDraw, picture
from .style import INK, MUTED, PALETTE, STATUS, filled

_MOST_LINES = 30
_LABEL_WIDE = 264.0  # points there are for a line of a label


# --- margins --------------------------------------------------------------------------------------------
def _kept(e: Evaluation) -> tuple[list[tuple[Finding, str]], str]:
    """Findings to show with their labels in lines, by chapter, and a word on those left out: what has most room goes first."""
    findings = sorted((f for f in e.findings.values() if f.status != "open"), key=lambda f: f.chapter)
    lines = {f.name: wrapped(f.label, _LABEL_WIDE) for f in findings}
    order = ("fails", "tight", "holds")
    least_room = sorted(findings, key=lambda f: (order.index(f.status), np.nan_to_num(f.margin, nan=-10.0)))
    so_far = np.cumsum([_lines(lines[f.name]) for f in least_room])
    kept = least_room[: int(np.searchsorted(so_far, _MOST_LINES, side="right"))]
    left_out = [f for f in findings if f not in kept]
    told = [
        f"{count} more {words}"
        for status, words in (("fails", "fail"), ("tight", "are tight"), ("holds", "hold with room"))
        if (count := sum(f.status == status for f in left_out))
    ]
    return [(f, lines[f.name]) for f in findings if f in kept], ", ".join(told)


def _lines(words: str) -> int:
    return words.count("\n") + 1


#: of a finding whose figures a clash has taken
_UNTOLD = "cannot be told"


def _margin_words(e: Evaluation) -> str:
    by = {status: [f for f in e.findings.values() if f.status == status] for status in ("fails", "tight", "holds", "open")}
    told = [f"{len(by['holds'])} findings hold" + (f", {len(by['open'])} are open" if by["open"] else "")]
    for status in ("tight", "fails"):
        if by[status]:
            told.append(
                f"{len(by[status])} {'are tight' if status == 'tight' else 'fail'}: "
                + ", ".join(f"{f.label} ({_UNTOLD if np.isnan(f.margin) else f'{f.margin:+.0%}'})" for f in by[status])
            )
    return "Room of every finding as a share of its limit. " + "; ".join(told) + "."


@picture("How much room each finding has", _margin_words, height=7.4, panels=((0.515, 0.075, 0.465, 0.895),))
def margins(e: Evaluation, axes: Axes) -> None:
    """A bar for each finding, with mark, word, and how sure."""
    findings, left_out = _kept(e)
    low, high = -0.6, 1.0
    axes.set_xlim(low, 2.0)
    heights = np.array([_lines(words) for _, words in findings], float)
    rows = np.cumsum(heights) - heights / 2 - 0.5  # a label of two lines takes the room of two bars
    axes.set_ylim(heights.sum() - 0.4, -1.2)
    axes.axvspan(low, 0, facecolor="#f6f1ee", lw=0, zorder=0)
    axes.axvline(0, color=INK, lw=1.5)
    for row, (finding, words) in zip(rows, findings):
        mark, colour, hatch = STATUS[finding.status]
        drawn = float(np.clip(np.nan_to_num(finding.margin), low, high))
        axes.barh(row, drawn, 0.7, **filled(colour, hatch))
        if np.isnan(finding.margin):
            axes.text(0.02, row, _UNTOLD, ha="left", va="center", color=MUTED)
        beyond = "▸" if finding.margin > high else "◂" if finding.margin < low else ""
        if beyond:
            axes.text(drawn, row, beyond, ha="center", va="center", color=INK)
        axes.text(
            1.06,
            row,
            f"{mark} {finding.status}",
            ha="left",
            va="center",
            weight="bold" if finding.status != "holds" else "normal",
        )
        if finding.sure is not None and finding.sure < 0.995:
            axes.text(1.99, row, f"{finding.sure:.0%}", ha="right", va="center")
        axes.text(low - 0.06, row, finding.chapter, ha="right", va="center")
        axes.text(low - 0.24, row, words, ha="right", va="center", linespacing=1.0)
    axes.set_yticks([])
    axes.spines["left"].set_visible(False)
    axes.set_xticks([-0.5, 0, 0.5, 1.0], ["−50%", "0", "50%", "100%"])
    more = f"; {left_out}" if left_out else ""
    axes.set_xlabel(f"room, as a share of the limit{more}", x=-0.02 if left_out else 0.3, labelpad=1)
    if e.draws:
        axes.text(1.99, -0.95, "sure, if not 100%", ha="right", va="center", color=MUTED)
    axes.text(low, -0.95, " fails", ha="left", va="center", color=MUTED)


# --- what blurs -----------------------------------------------------------------------------------------
_MOST_BLURS = 8


def _default_result(e: Evaluation) -> str:
    return "size_error" if "size_error" in e.chain.results else next(iter(e.chain.limits.values())).value


def _blurs(e: Evaluation, result: str | None) -> tuple[str, list]:
    if e.draws is None:
        raise NothingToDraw("This picture needs a design worked out with draws.")
    name = result or _default_result(e)
    found = blurred_by(e, name)
    if not found:
        raise NothingToDraw(
            f"Nothing uncertain goes into the {e.chain.part(name).label}: {e.shown(name)} is as sure as your decisions."
        )
    return name, found[:_MOST_BLURS]


def _blur_words(e: Evaluation, result: str | None = None) -> str:
    name, found = _blurs(e, result)
    told = ", ".join(f"{one.label} ({one.weight:+.2f})" for one in found[:4])
    return (
        f"Which uncertain figures blur the {e.chain.part(name).label}, {e.shown_spread(name)}: rank correlation from −1 to 1, the most first: {told}. "
        f"The first is the most worth finding out."
    )


@picture("What is most worth finding out", _blur_words, panels=((0.46, 0.15, 0.51, 0.75),))
def what_blurs(e: Evaluation, axes: Axes, result: str | None = None) -> None:
    """Rank correlations of the uncertain figures with one result, both ways."""
    name, found = _blurs(e, result)
    rows = np.arange(len(found))
    axes.set_xlim(-1.4, 1.4)
    axes.set_ylim(max(len(found), 4) - 0.45, -0.55)
    axes.axvline(0, color=INK, lw=1.5)
    for row, one in zip(rows, found):
        up = one.weight >= 0
        axes.barh(row, one.weight, 0.7, **filled(PALETTE["blue"] if up else PALETTE["orange"], "" if up else "//"))
        axes.annotate(
            units.number(one.weight, 2).replace("-", "−"),
            (one.weight, row),
            xytext=(5 if up else -5, 0),
            textcoords="offset points",
            ha="left" if up else "right",
            va="center",
        )
    axes.set_yticks(rows, [wrapped(one.label, 250) for one in found], linespacing=1.0)
    axes.tick_params(axis="y", length=0)
    axes.spines["left"].set_visible(False)
    axes.set_xticks([-1, -0.5, 0, 0.5, 1], ["−1", "−0.5", "0", "0.5", "1"])
    axes.set_xlabel("◂ smaller, rank correlation, larger ▸")
    axes.text(
        0.0,
        1.06,
        f"{e.chain.part(name).label}: {e.shown_spread(name)}",
        transform=axes.transAxes,
        ha="center",
        va="bottom",
        weight="bold",
    )
