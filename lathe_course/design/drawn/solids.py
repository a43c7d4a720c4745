"""Convex solids that keep a section along one of the three directions: enough for a general arrangement.

x runs along the bed to the tailstock, y across it to the back, z up; all in metres.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np

#: corners of a round section; its corners lie on the circle, so that what is told of a diameter can be read back
ROUND = 32
_AROUND = np.linspace(0, 2 * np.pi, ROUND, endpoint=False)
_CIRCLE = np.column_stack([np.cos(_AROUND), np.sin(_AROUND)])


@dataclass(frozen=True, eq=False)
class Solid:
    """One piece of a part: ``section``, shape (n, 2), runs from ``low`` to ``high`` along direction ``axis`` (0 x, 1 y, 2 z).

    The section is convex and told in the two other directions, in the order x, y, z.  ``known`` says whether its sizes come
    from decisions or results, or were only invented so that there is something to see.  A ``pointed`` one narrows to a
    point in the middle of its section: up at ``high``, or at ``low`` for -1.
    """

    part: str
    axis: int
    low: float
    high: float
    section: np.ndarray
    known: bool = True
    pointed: int = 0

    @functools.cached_property
    def corners(self) -> np.ndarray:
        """Shape (n, 3)."""
        middle = np.broadcast_to(self.section.mean(axis=0), self.section.shape)
        ends = [
            (self.low, middle if self.pointed < 0 else self.section),
            (self.high, middle if self.pointed > 0 else self.section),
        ]
        return np.concatenate([np.insert(section, self.axis, place, axis=1) for place, section in ends])

    @functools.cached_property
    def bounds(self) -> np.ndarray:
        """Least and greatest x, y and z, shape (2, 3)."""
        return np.array([self.corners.min(axis=0), self.corners.max(axis=0)])

    @functools.cached_property
    def _directions(self) -> tuple[np.ndarray, np.ndarray]:
        """Normals of the faces and directions of the edges, each shape (m, 3), unit vectors up to sign."""
        along = np.zeros(3)
        along[self.axis] = 1.0
        rim = _units(np.insert(np.roll(self.section, -1, axis=0) - self.section, self.axis, 0.0, axis=1))
        if self.pointed:
            count = len(self.section)
            slopes = _units(self.corners[count:] - self.corners[:count])
            normals = _units(np.cross(rim, slopes))
            return np.vstack([along, normals]), np.vstack([rim, slopes])
        half = len(rim) // 2 if len(rim) % 2 == 0 and np.allclose(rim[: len(rim) // 2], -rim[len(rim) // 2 :]) else len(rim)
        return np.vstack([along, np.cross(rim[:half], along)]), np.vstack([along, rim[:half]])

    def seen_along(self, axis: int) -> np.ndarray:
        """Its outline as seen along a direction, shape (n, 2), in the two other directions in the order x, y, z."""
        if axis == self.axis:
            return self.section
        across = next(one for one in range(3) if one not in (axis, self.axis))
        place = [one for one in range(3) if one != self.axis].index(across)
        low, high = self.section[:, place].min(), self.section[:, place].max()
        middle = self.section[:, place].mean()
        at_low = (middle, middle) if self.pointed < 0 else (low, high)
        at_high = (middle, middle) if self.pointed > 0 else (low, high)
        outline = np.array([(self.low, at_low[0]), (self.high, at_high[0]), (self.high, at_high[1]), (self.low, at_low[1])])
        return outline if self.axis < across else outline[:, ::-1]


def _units(vectors: np.ndarray) -> np.ndarray:
    length = np.linalg.norm(vectors, axis=1)
    keep = length > 1e-12
    return vectors[keep] / length[keep, None]


def box(part: str, x: tuple[float, float], y: tuple[float, float], z: tuple[float, float], known: bool = True) -> Solid:
    """A block between two places along each direction."""
    return Solid(
        part, 0, min(x), max(x), np.array([(min(y), min(z)), (max(y), min(z)), (max(y), max(z)), (min(y), max(z))], float), known
    )


def cylinder(
    part: str, axis: int, ends: tuple[float, float], middle: tuple[float, float], diameter: float, known: bool = True
) -> Solid:
    """A round bar or disc; ``middle`` of its section in the two other directions."""
    return Solid(part, axis, min(ends), max(ends), np.asarray(middle) + diameter / 2 * _CIRCLE, known)


def cone(
    part: str, axis: int, foot: float, point: float, middle: tuple[float, float], diameter: float, known: bool = True
) -> Solid:
    """A round cone from its foot to its point."""
    return Solid(
        part,
        axis,
        min(foot, point),
        max(foot, point),
        np.asarray(middle) + diameter / 2 * _CIRCLE,
        known,
        1 if point > foot else -1,
    )


def prism(part: str, axis: int, ends: tuple[float, float], corners: list[tuple[float, float]], known: bool = True) -> Solid:
    """A bar of convex section."""
    return Solid(part, axis, min(ends), max(ends), np.array(corners, float), known)


def arm(part: str, x: tuple[float, float], start: np.ndarray, end: np.ndarray, thick: float) -> Solid:
    """A flat bar square to the bed, from one place (y, z) to another; invented, as all such are."""
    start, end = np.asarray(start, float), np.asarray(end, float)
    way = (end - start) / np.linalg.norm(end - start)
    across = np.array([-way[1], way[0]]) * thick / 2
    return Solid(part, 0, min(x), max(x), np.array([start - across, end - across, end + across, start + across]), False)


def gap(one: Solid, other: Solid, far: float = 0.0) -> float:
    """How far two solids are apart, m; below zero, how deep one stands in the other.

    The greatest distance between them along any normal of a face of either, or any direction square to an edge of both: exact in
    sign for convex solids (separating axes, as in any textbook on geometry for computers).  Beyond ``far`` along a direction of the room
    no closer look is taken.
    """
    apart = np.maximum(one.bounds[0] - other.bounds[1], other.bounds[0] - one.bounds[1]).max()
    if apart > far:
        return float(apart)
    (faces, edges), (others, other_edges) = one._directions, other._directions
    across = np.cross(edges[:, None, :], other_edges[None, :, :]).reshape(-1, 3)
    directions = np.vstack([faces, others, _units(across)])
    mine, theirs = one.corners @ directions.T, other.corners @ directions.T
    return float(np.maximum(mine.min(axis=0) - theirs.max(axis=0), theirs.min(axis=0) - mine.max(axis=0)).max())
