"""Axes in the learner's units, and letters that keep out of each other's way."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.ticker import FixedLocator, FuncFormatter, NullLocator

from ... import units
from ...design.evaluation import Evaluation
from ...units import Kind
from .register import NothingToDraw
from .style import FONT_SIZE, INK, text_size

_STEPS = (1, 2, 5)


# --- figures -----------------------------------------------------------------------------------------
def inside(evaluation: Evaluation, si: Any, kind: Kind) -> Any:
    """``si`` as the bare number the learner's unit shows."""
    return units.in_unit(si, kind, evaluation.design.system)


def shown(evaluation: Evaluation, si: float, kind: Kind, digits: int = 3) -> str:
    """``si`` with the learner's unit."""
    return units.shown(float(si), kind, evaluation.design.system, digits)


def middle(evaluation: Evaluation, name: str) -> float:
    """A value, or the median of its draws, as a float."""
    return float(evaluation.middle(name))


def whiskers(evaluation: Evaluation, name: str) -> tuple[float, float, float]:
    """Values below which a tenth, half and nine tenths of the draws lie, SI; all alike if it is certain."""
    return evaluation.spread(name)


# --- axes --------------------------------------------------------------------------------------------
def label(what: str, kind: Kind, evaluation: Evaluation) -> str:
    """Words for an axis with the unit on it."""
    unit = units.unit_text(kind, evaluation.design.system)
    return f"{what} ({unit})" if unit else what


def bare(axes: Axes, equal: bool = False) -> None:
    """An axes without frame and ticks, for a drawing; ``equal`` keeps it to scale."""
    axes.set_axis_off()
    if equal:
        axes.set_aspect("equal")


def log_axis(axes: Axes, which: str, low: float, high: float, most: int = 9) -> None:
    """A logarithmic axis from ``low`` to ``high``, ticks at 1, 2 and 5 written out plainly."""
    axis = axes.xaxis if which == "x" else axes.yaxis
    (axes.set_xscale if which == "x" else axes.set_yscale)("log")
    (axes.set_xlim if which == "x" else axes.set_ylim)(low, high)
    powers = range(math.floor(math.log10(low)), math.ceil(math.log10(high)) + 1)
    for steps in (_STEPS, (1, 3), (1,)):
        ticks = [step * 10.0**power for power in powers for step in steps if low * 0.999 <= step * 10.0**power <= high * 1.001]
        if len(ticks) <= most:
            break
    axis.set_major_locator(FixedLocator(ticks))
    axis.set_minor_locator(NullLocator())
    axis.set_major_formatter(FuncFormatter(lambda value, _: units.number(value)))


# --- letters -----------------------------------------------------------------------------------------
def wrapped(text: str, width: float, size: float = FONT_SIZE, weight: str = "normal") -> str:
    """``text`` broken into lines no wider than ``width`` points, as far as its words allow."""
    lines: list[str] = []
    for word in text.split(" "):
        if lines and text_size(f"{lines[-1]} {word}", size, weight)[0] <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return "\n".join(lines)


def shortened(text: str, width: float, weight: str = "normal") -> str:
    """``text`` cut to ``width`` points, with an ellipsis if anything had to go."""
    if text_size(text, weight=weight)[0] <= width:
        return text
    while text and text_size(text.rstrip() + "…", weight=weight)[0] > width:
        text = text[:-1]
    return text.rstrip() + "…"


def parted(wanted: Sequence[float], sizes: float | Sequence[float], low: float = -math.inf, high: float = math.inf) -> np.ndarray:
    """Middles of labels in a row or column, as near to ``wanted`` as can be without one covering another.

    ``sizes`` is the room each takes along the row; their order stays, and all keep between
    ``low`` and ``high`` as long as there is room.
    """
    places = np.asarray(wanted, float)
    if not places.size:
        return places
    order = np.argsort(places, kind="stable")
    sizes = np.broadcast_to(np.asarray(sizes, float), places.shape)[order]
    shift = np.concatenate([[0.0], np.cumsum((sizes[1:] + sizes[:-1]) / 2)])
    groups: list[list[float]] = []  # mean and count; packed labels share one shifted place
    for place in places[order] - shift:
        groups.append([place, 1])
        while len(groups) > 1 and groups[-1][0] < groups[-2][0]:
            mean, count = groups.pop()
            groups[-1] = [(groups[-1][0] * groups[-1][1] + mean * count) / (groups[-1][1] + count), groups[-1][1] + count]
    packed = np.concatenate([np.full(int(count), mean) for mean, count in groups])
    packed = np.maximum(np.minimum(packed, high - sizes[-1] / 2 - shift[-1]), low + sizes[0] / 2)
    found = np.empty_like(packed)
    found[order] = packed + shift
    return found


Box = tuple[float, float, float, float]


def text_box(
    x: float, y: float, text: str, ha: str = "left", va: str = "center", size: float = FONT_SIZE, weight: str = "normal"
) -> Box:
    """Left, bottom, right, top in points of a text set at a point."""
    width, height = text_size(text, size, weight)
    left = x - {"left": 0.0, "center": 0.5, "right": 1.0}[ha] * width
    bottom = y - {"bottom": 0.0, "center": 0.5, "top": 1.0}[va] * height
    return left, bottom, left + width, bottom + height


class Places:
    """Finds room for labels beside points: on the figure, clear of earlier labels and of what else stands there.

    All in points on the figure.  Set the limits of the axes before the first label.
    """

    _AROUND = (
        (1, 0, "left", "center"),
        (-1, 0, "right", "center"),
        (0, 1, "center", "bottom"),
        (0, -1, "center", "top"),
        (0.8, 0.8, "left", "bottom"),
        (-0.8, 0.8, "right", "bottom"),
        (0.8, -0.8, "left", "top"),
        (-0.8, -0.8, "right", "top"),
    )

    def __init__(self, axes: Axes, taken: Iterable[Box] = ()):
        self.axes = axes
        self.taken: list[Box] = list(taken)
        box = axes.bbox
        self.room = (box.x0, box.y0, box.x1, box.y1)

    def points(self, x: Any, y: Any) -> np.ndarray:
        """Data as points on the figure, shape (n, 2)."""
        return self.axes.transData.transform(np.column_stack(np.broadcast_arrays(np.atleast_1d(x), np.atleast_1d(y))))

    def keep_off(self, x: Any, y: Any, radius: float = 6.0) -> None:
        """Keep labels off these data points."""
        for px, py in self.points(x, y):
            self.taken.append((px - radius, py - radius, px + radius, py + radius))

    def put(self, x: float, y: float, text: str, gap: float = 9.0, centred: bool = False, **style: Any) -> None:
        """Write ``text`` beside the data point (or ``centred`` on it), with a thin leader if it had to go far."""
        size, weight = style.get("size", FONT_SIZE), style.get("weight", "normal")
        px, py = self.points(x, y)[0]
        best, cost = None, math.inf
        if centred:
            box = text_box(px, py, text, "center", "center", size, weight)
            best, cost, gap = ((px, py), "center", "center", box, 0.0), self._overlap(box), 9.0
        for away in (1.0, 2.2, 3.6, 5.2, 7.0, 9.5):
            if cost < away * 0.5:  # nothing further out can be better
                break
            for dx, dy, ha, va in self._AROUND:
                at = px + dx * gap * away, py + dy * gap * away
                box = text_box(*at, text, ha, va, size, weight)
                price = self._overlap(box) + away * 0.5
                if price < cost:
                    best, cost = (at, ha, va, box, away), price
        at, ha, va, box, away = best
        self.taken.append(box)
        arrow = {"arrowstyle": "-", "color": INK, "lw": 0.8, "shrinkA": 1, "shrinkB": 4} if away > 1.5 else None
        self.axes.annotate(
            text,
            (px, py),
            xytext=at,
            xycoords="figure points",
            textcoords="figure points",
            ha=ha,
            va=va,
            arrowprops=arrow,
            annotation_clip=False,
            **style,
        )

    def tell(self, point: tuple[float, float], text: str, dx: float, dy: float, ha: str = "left", **style: Any) -> None:
        """Write ``text`` at a fixed distance up and right of a data point, and keep later labels off it."""
        px, py = self.points(*point)[0]
        self.taken.append(
            text_box(px + dx, py + dy, text, ha, "bottom", style.get("size", FONT_SIZE), style.get("weight", "normal"))
        )
        self.axes.annotate(
            text,
            (px, py),
            xytext=(px + dx, py + dy),
            xycoords="figure points",
            textcoords="figure points",
            ha=ha,
            va="bottom",
            annotation_clip=False,
            **style,
        )

    def _overlap(self, box: Box) -> float:
        left, bottom, right, top = box
        room = self.room
        outside = max(0, room[0] - left) + max(0, right - room[2]) + max(0, room[1] - bottom) + max(0, top - room[3])
        shared = sum(
            max(0.0, min(right, other[2]) - max(left, other[0])) * max(0.0, min(top, other[3]) - max(bottom, other[1]))
            for other in self.taken
        )
        return shared + 1000 * outside


def demand(e: Evaluation, *figures: Any) -> None:
    """Go on only if some figures (numbers, arrays, or rows of them) are there; NothingToDraw with the cause if one is not a number."""
    if not all(np.all(np.isfinite(np.asarray(one, float))) for one in figures):
        raise NothingToDraw(
            next(iter(e.central.clashes.values()), "With this design these figures cannot be told, or never come.")
        )
