"""Views of an arrangement: outlines in the order of painting, what is near over what is far."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np

from .arrangement import Arrangement
from .solids import Solid

#: places nearer to each other than this count as one, m
_CLOSE = 1e-6


@dataclass(frozen=True)
class View:
    """Seen along direction ``along``, from its high end if ``from_high``; what lies to the right and up on paper."""

    name: str
    along: int
    from_high: bool
    right: tuple[int, int]  # direction, sign
    up: tuple[int, int]

    def flat(self, points: np.ndarray) -> np.ndarray:
        """Points of the room, shape (n, 3), as seen, shape (n, 2)."""
        points = np.asarray(points)
        return np.column_stack([self.right[1] * points[..., self.right[0]], self.up[1] * points[..., self.up[0]]])

    def outline(self, solid: Solid) -> np.ndarray:
        """Corners of a solid as seen, shape (n, 2)."""
        seen = solid.seen_along(self.along)
        order = [one for one in range(3) if one != self.along]
        return np.column_stack(
            [self.right[1] * seen[:, order.index(self.right[0])], self.up[1] * seen[:, order.index(self.up[0])]]
        )

    def depth(self, solid: Solid) -> tuple[float, float]:
        """How far its nearest and its furthest point lie from whoever looks, up to a constant."""
        low, high = solid.bounds[:, self.along]
        return (-high, -low) if self.from_high else (low, high)

    def edges(self, solid: Solid, outline: np.ndarray) -> list[np.ndarray]:
        """Edges of a prism that are seen within its outline, as lines of two points; none for what is round."""
        if solid.axis == self.along or solid.pointed or len(solid.section) > 8:
            return []
        others = [one for one in range(3) if one != solid.axis]
        deep = (-1.0 if self.from_high else 1.0) * solid.section[:, others.index(self.along)]
        across_axis = next(one for one in others if one != self.along)
        across = solid.section[:, others.index(across_axis)]
        low, high = across.min(), across.max()
        ends = [deep[np.abs(across - end) < _CLOSE].min() for end in (low, high)]
        seen = [
            a for a, d in zip(across, deep) if low + _CLOSE < a < high - _CLOSE and d < np.interp(a, (low, high), ends) - _CLOSE
        ]
        column = 0 if self.right[0] == across_axis else 1
        sign = (self.right, self.up)[column][1]
        least, most = outline.min(axis=0), outline.max(axis=0)
        lines = []
        for a in seen:
            line = np.array([least, most])
            line[:, column] = sign * a
            lines.append(line)
        return lines


VIEWS = {
    view.name: view
    for view in (
        View("front", 1, False, (0, 1), (2, 1)),
        View("from the tailstock", 0, True, (1, 1), (2, 1)),
        View("from the headstock", 0, False, (1, -1), (2, 1)),
        View("from above", 2, True, (0, 1), (1, 1)),
    )
}


@dataclass(frozen=True, eq=False)
class Face:
    """One solid as seen: its outline and the edges within it, m; ``joined`` to its like, with no line between."""

    part: str
    outline: np.ndarray
    edges: list[np.ndarray]
    known: bool
    joined: bool = False


def faces(arrangement: Arrangement, view: View, left_out: Collection[str] = ()) -> list[Face]:
    """Every solid but those of parts left out, furthest first."""
    solids = [one for one in arrangement.solids if one.part not in left_out]
    outlines = [view.outline(one) for one in solids]
    return [
        Face(
            solids[i].part,
            outlines[i],
            view.edges(solids[i], outlines[i]),
            solids[i].known,
            solids[i].part == "bed" and solids[i].axis == view.along,
        )
        for i in _far_to_near(solids, outlines, view)
    ]


def layers(painted: Sequence[Face]) -> list[tuple[Face, np.ndarray, float, bool]]:
    """What to paint, one over the other: a face, an outline or edge, how many lines wide it is drawn, and whether it is filled.

    Walls of one tube seen on end come as twice as wide strokes first and then as areas without any, so that no joint is left between them.
    """
    joined = [face for face in painted if face.joined]
    found = []
    for face in painted:
        if face.joined:
            if face is joined[-1]:
                found += [(one, one.outline, 2.0, True) for one in joined] + [(one, one.outline, 0.0, True) for one in joined]
            continue
        found.append((face, face.outline, 1.0, True))
        found += [(face, edge, 1.0, False) for edge in face.edges]
    return found


def _far_to_near(solids: list[Solid], outlines: list[np.ndarray], view: View) -> list[int]:
    """In which order to paint: of two that lie before each other the nearer one later."""
    low, high = np.array([one.min(axis=0) for one in outlines]), np.array([one.max(axis=0) for one in outlines])
    near, far = np.array([view.depth(one) for one in solids]).T
    crossing = (np.minimum(high[:, None], high[None]) - np.maximum(low[:, None], low[None]) > _CLOSE).all(axis=2)
    before = far[:, None] <= near[None] + _CLOSE  # row stands wholly before column
    # of two whose depths overlap, one seated in the other, the one that reaches nearer hides
    nearer = (near[:, None] < near[None] - _CLOSE) | (
        (np.abs(near[:, None] - near[None]) <= _CLOSE) & (far[:, None] < far[None] - _CLOSE)
    )
    hides = crossing & (before | (~before.T & nearer))
    order, left = [], np.ones(len(solids), bool)
    count = hides.sum(axis=1)
    while left.any():
        free = np.flatnonzero(left & (count == 0))
        if not free.size:  # three that lie over each other in a ring: the furthest first
            free = np.flatnonzero(left)[[np.argmax(near[left])]]
        for i in free:
            order.append(int(i))
        left[free] = False
        count = count - hides[:, free].sum(axis=1)
    return order
