"""What drawings to scale are made of: limits that keep the scale, dimension lines, a scale bar, parts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Circle, Polygon, Rectangle

from ... import units
from ...design.evaluation import Evaluation
from ...units import Length
from .style import FONT_SIZE, INK, MUTED, on_white, text_size

METAL, LINE = "#c9d1d9", 1.2
_MM = Length("mm")


def to_scale(
    axes: Axes, low: tuple[float, float], high: tuple[float, float], margins: tuple[float, float, float, float] = (0, 0, 0, 0)
) -> float:
    """Set limits so that ``low`` to ``high`` (metres) fills the panel at one scale for both directions.

    ``margins`` are points kept free left, bottom, right and top.  Returns metres per point.
    """
    left, bottom, right, top = margins
    panel = axes.bbox
    wide, tall = panel.width - left - right, panel.height - bottom - top
    per_point = max((high[0] - low[0]) / wide, (high[1] - low[1]) / tall)
    spare_x, spare_y = wide - (high[0] - low[0]) / per_point, tall - (high[1] - low[1]) / per_point
    x, y = low[0] - (left + spare_x / 2) * per_point, low[1] - (bottom + spare_y / 2) * per_point
    axes.set_xlim(x, x + panel.width * per_point)
    axes.set_ylim(y, y + panel.height * per_point)
    axes.set_axis_off()
    return per_point


def _paint(style: dict[str, Any]) -> dict[str, Any]:
    return {"facecolor": METAL, "edgecolor": INK, "linewidth": LINE} | style


def box(axes: Axes, left: float, bottom: float, right: float, top: float, **style: Any) -> Rectangle:
    """A rectangle from corner to corner."""
    return axes.add_patch(Rectangle((left, bottom), right - left, top - bottom, **_paint(style)))


def shape(axes: Axes, points: Sequence[tuple[float, float]] | np.ndarray, **style: Any) -> Polygon:
    """A closed outline."""
    return axes.add_patch(Polygon(np.asarray(points), closed=True, **_paint(style)))


def disc(axes: Axes, x: float, y: float, diameter: float, **style: Any) -> Circle:
    """A circle."""
    return axes.add_patch(Circle((x, y), diameter / 2, **_paint(style)))


def dimension(
    axes: Axes,
    start: tuple[float, float],
    end: tuple[float, float],
    text: str,
    per_point: float,
    beside: str = "right",
    size: float = FONT_SIZE,
) -> None:
    """A dimension line between two points, level or upright, its text in it, or ``beside`` where it is too short."""
    axes.annotate(
        "",
        end,
        start,
        arrowprops={"arrowstyle": "<->", "color": INK, "lw": 1.0, "shrinkA": 0, "shrinkB": 0},
        annotation_clip=False,
    )
    middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    level = start[1] == end[1]
    if level and text_size(text, size)[0] + 24 < abs(end[0] - start[0]) / per_point:
        axes.text(*middle, text, ha="center", va="center", size=size, bbox=on_white(1.5))
    elif level:
        axes.text(max(start[0], end[0]) + 6 * per_point, middle[1], text, ha="left", va="center", size=size)
    else:
        side = 1 if beside == "right" else -1
        axes.text(middle[0] + side * 6 * per_point, middle[1], text, ha="left" if side > 0 else "right", va="center", size=size)


def scale_bar(axes: Axes, evaluation: Evaluation, x: float, y: float, per_point: float, points: float = 90) -> None:
    """A bar of a round length in the learner's unit, about ``points`` long."""
    unit = units.si_factor(units.unit_text(_MM, evaluation.design.system))
    length = round_down(points * per_point / unit) * unit
    axes.plot([x, x + length], [y, y], color=INK, lw=4, solid_capstyle="butt")
    axes.plot([x + length / 2, x + length], [y, y], color="white", lw=2, solid_capstyle="butt")
    axes.text(
        x + length + 6 * per_point, y, units.shown(length, _MM, evaluation.design.system), ha="left", va="center", color=MUTED
    )


def round_down(value: float) -> float:
    """The largest 1, 2 or 5 times a power of ten that is not above ``value``."""
    power = 10.0 ** np.floor(np.log10(value))
    return float(max(step * power for step in (1, 2, 5) if step * power <= value * (1 + 1e-9)))
