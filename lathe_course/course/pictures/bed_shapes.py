"""The outline of every form of bed, as shapes to be drawn upright or turned."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes

from ...machine.bed_forms import RIB_SHARE
from .drawing import METAL, shape
from .style import HATCH, MUTED, PALE, PALETTE, pale

_PAINT = {
    "metal": {"facecolor": METAL, "hatch": HATCH["metal"]},
    "hollow": {"facecolor": "white"},
    "fill": {"facecolor": "white"},
    "rib": {"facecolor": PALE, "edgecolor": MUTED},
    "rail": {"facecolor": pale(PALETTE["blue"])},
}

#: corners of a round bar
_ROUND = 28
#: a profiled rail is drawn this wide for its height
_RAIL = 1.1


@dataclass(frozen=True)
class Piece:
    """A closed shape in metres, x to the right of the bed's middle, y up from the ways; ``sort`` says how it is painted."""

    sort: str  # metal, hollow, fill, rib (seen behind), rail
    corners: np.ndarray  # shape (n, 2)


def pieces(form: str, width: float, height: float, wall: float, way_height: float = 0.0) -> list[Piece]:
    """The shapes of a bed, in the order of painting; the ways are at y = 0."""
    side = width / 2
    if form == "closed box":
        return [_box("metal", -side, -height, side, 0.0), _box("hollow", -side + wall, -height + wall, side - wall, -wall)]
    if form == "filled box":
        return [_box("metal", -side, -height, side, 0.0), _box("fill", -side + wall, -height + wall, side - wall, -wall)]
    if form == "channel":
        outline = [
            (-side, -height),
            (-side, 0),
            (side, 0),
            (side, -height),
            (side - wall, -height),
            (side - wall, -wall),
            (-side + wall, -wall),
            (-side + wall, -height),
        ]
        return [Piece("metal", np.array(outline, float))]
    if form in ("two round bars", "round bars on a plate"):
        bars = [_disc(x, -height / 2, height) for x in (-side + height / 2, side - height / 2)]
        return bars if form == "two round bars" else [_box("metal", -side, -height - wall, side, -height), *bars]
    if form.startswith("profiled rails"):
        base = pieces("closed box" if form.endswith("box") else "plate", width, height, wall)
        down = np.array([0.0, way_height])
        half = _RAIL * way_height / 2
        rails = [_box("rail", x - half, -way_height, x + half, 0.0) for x in (-0.7 * side, 0.7 * side)] if way_height > 0 else []
        return [Piece(piece.sort, piece.corners - down) for piece in base] + rails
    if form in ("two flat rails", "rails with cross ribs", "rails with diagonal ribs"):
        ribs = [_box("rib", -side + wall, -height, side - wall, 0.0)] if form != "two flat rails" else []
        if form == "rails with diagonal ribs":  # the cut end of one rib on its way across
            ribs.append(_box("metal", -RIB_SHARE * wall / 2, -height, RIB_SHARE * wall / 2, 0.0))
        return [*ribs, _box("metal", -side, -height, -side + wall, 0.0), _box("metal", side - wall, -height, side, 0.0)]
    return [_box("metal", -side, -height, side, 0.0)]


def paint(
    axes: Axes,
    shapes: list[Piece],
    place: tuple[float, float] = (0.0, 0.0),
    scale: float = 1.0,
    turned: float = 0.0,
    about: float = 0.0,
    **style: object,
) -> None:
    """Draw pieces ``scale`` times as large at ``place``, ``turned`` (radians) about the point ``about`` metres above the ways."""
    cos, sin = np.cos(turned), np.sin(turned)

    def moved(points: np.ndarray) -> np.ndarray:
        x, y = points[:, 0], points[:, 1] - about
        return np.column_stack([place[0] + scale * (cos * x - sin * y), place[1] + scale * (sin * x + cos * y + about)])

    for piece in shapes:
        if not np.all(np.isfinite(piece.corners)):
            continue
        shape(axes, moved(piece.corners), **(_PAINT[piece.sort] | style))
        if piece.sort == "fill" and not style:
            grains = moved(_grains(piece.corners))
            axes.plot(grains[:, 0], grains[:, 1], ".", color=MUTED, ms=3.5, markeredgewidth=0)


def _grains(corners: np.ndarray) -> np.ndarray:
    """Grains of a fill, as many whatever the size: a dotted hatch would be a quarter of a megabyte."""
    (left, bottom), (right, top) = corners.min(axis=0), corners.max(axis=0)
    x, y = np.meshgrid(np.linspace(left, right, 15)[1:-1], np.linspace(bottom, top, 11)[1:-1])
    x[::2] += (right - left) / 56
    x[1::2] -= (right - left) / 56
    return np.column_stack([x.ravel(), y.ravel()])


def _box(sort: str, left: float, bottom: float, right: float, top: float) -> Piece:
    return Piece(sort, np.array([(left, bottom), (left, top), (right, top), (right, bottom)], float))


def _disc(x: float, y: float, diameter: float) -> Piece:
    around = np.linspace(0, 2 * np.pi, _ROUND, endpoint=False)
    return Piece("metal", np.column_stack([x + diameter / 2 * np.cos(around), y + diameter / 2 * np.sin(around)]))
