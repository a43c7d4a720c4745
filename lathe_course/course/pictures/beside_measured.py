"""Our figures with their ranges beside measured ones; no picture of a design, so it stands in no list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes

from ...design.evaluation import Evaluation
from ...units import Kind, in_unit, number, unit_text
from .axes import log_axis, shortened
from .register import Picture
from .style import FONT_SIZE, INK, MARKERS, PALETTE, POINTS, WIDTH, pale

_LEFT, _RIGHT = 0.47, 0.97
_ROW, _AXIS, _HEAD = 21.0, 44.0, 40.0  # points


@dataclass(frozen=True)
class Beside:
    """One line: low, middling and high as first told, the same as the chain has it today, and what was measured; SI."""

    what: str
    first: np.ndarray
    today: np.ndarray
    measured: float
    printed: str
    moved: bool

    def holds(self, ours: np.ndarray | None = None) -> bool:
        low, _, high = self.first if ours is None else ours
        return bool(low <= self.measured <= high)


def _words(lines: Sequence[Beside], kind: Kind) -> str:
    told = []
    for one in lines:
        low, _, high = (number(float(in_unit(end, kind))) for end in one.first)
        place = "inside" if one.holds() else ("below" if one.measured < one.first[0] else "above")
        told.append(f"{one.what}: ours {low} to {high}, measured {one.printed}, {place}")
    held = sum(one.holds() for one in lines)
    return f"{held} of {len(lines)} measured figures lie in our range as first told. {'; '.join(told)}."


def beside_picture(name: str, axis: str, kind: Kind, lines: Sequence[Beside]) -> Picture:
    """Bars for our ranges, a tick for the middle, and a mark for what was measured: filled where the bar holds it, hollow where not."""
    tall = _HEAD + _AXIS + _ROW * len(lines)
    panel = (_LEFT, _AXIS / tall, _RIGHT - _LEFT, _ROW * len(lines) / tall)

    def draw(evaluation: Evaluation, axes: Axes) -> None:
        """Our ranges and their figures, line by line."""
        figures = np.array([in_unit(np.append(np.append(one.first, one.today), one.measured), kind) for one in lines])
        low, high = figures.min(), figures.max()
        if high > 4 * low:
            log_axis(axes, "x", low / 1.25, high * 1.25)
        else:
            axes.set_xlim(0, high * 1.12)
        axes.set_ylim(len(lines) - 0.5, -0.5)
        axes.set_yticks(range(len(lines)), [shortened(one.what, _LEFT * WIDTH * POINTS - 14) for one in lines])
        axes.tick_params(axis="y", length=0)
        axes.grid(axis="x")
        unit = unit_text(kind)
        axes.set_xlabel(f"{axis} ({unit or 'a plain number'})")
        for row, (one, told) in enumerate(zip(lines, figures)):
            axes.barh(row, told[2] - told[0], 0.56, told[0], color=pale(PALETTE["blue"]), edgecolor=PALETTE["blue"], gid="ours")
            axes.plot([told[1]] * 2, [row - 0.28, row + 0.28], color=PALETTE["blue"])
            if one.moved:
                axes.plot([told[3], told[5]], [row + 0.4] * 2, color=INK, linestyle=":", gid="today")
            face = PALETTE["red"] if one.holds() else "white"
            axes.plot([told[6]], [row], MARKERS[3], color=PALETTE["red"], markerfacecolor=face, markersize=8, gid="measured")
        axes.text(
            0.01, 1 - 14 / tall, name.capitalize(), transform=axes.figure.transFigure, ha="left", va="center", weight="bold"
        )
        said = "bar: ours as first told, tick in its middle" + ("; dots: ours today" if any(one.moved for one in lines) else "")
        marks = "◆ measured, the bar holds it; ◇ measured, it does not"
        axes.text(
            1.0,
            1.0 + 6 / (_ROW * len(lines)),
            f"{said}\n{marks}",
            transform=axes.transAxes,
            ha="right",
            va="bottom",
            fontsize=FONT_SIZE - 1,
        )

    return Picture(
        f"beside measured {name}",
        f"Ours beside what was measured: {name}",
        (WIDTH, tall / POINTS),
        (panel,),
        draw,
        lambda _: _words(lines, kind),
    )
