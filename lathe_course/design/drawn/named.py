"""Which part is which: numbers, a place on each part that is seen, and what each does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ...tables import table
from .views import Face

#: places tried on the outline of a solid, along each side
_TRIED = 9


@dataclass(frozen=True)
class Named:
    """A part that is drawn: its number, name and use, and the chapters that are about it."""

    number: int
    part: str
    does: str
    chapters: tuple[str, ...]


def named(parts: Sequence[str]) -> list[Named]:
    """The parts drawn, numbered in the order of their table."""
    rows = table("drawn_parts")
    drawn = [name for name in rows if name in parts]
    return [
        Named(number, name, rows[name]["does"], tuple(rows[name]["chapters"].split())) for number, name in enumerate(drawn, 1)
    ]


def seen_places(painted: Sequence[Face]) -> dict[str, tuple[np.ndarray, int]]:
    """For each part of which something is seen: a place well within that, and how many of the places tried are seen.

    A place is seen where nothing that is painted later covers it.
    """
    found: dict[str, tuple[np.ndarray, int]] = {}
    low, high = np.array([face.outline.min(axis=0) for face in painted]), np.array([face.outline.max(axis=0) for face in painted])
    grid = (np.arange(_TRIED) + 0.5) / _TRIED
    for place, face in enumerate(painted):
        u, v = np.meshgrid(*(low[place] + (high[place] - low[place]) * grid[:, None]).T)
        tried = np.column_stack([u.ravel(), v.ravel()])
        tried = tried[_within(face.outline, tried)]
        over = ((low < high[place]) & (high > low[place])).all(axis=1)
        for later in np.flatnonzero(over[place + 1 :]) + place + 1:
            if not len(tried):
                break
            tried = tried[~_within(painted[later].outline, tried)]
        if len(tried) and len(tried) > found.get(face.part, (None, 0))[1]:
            middle = tried.mean(axis=0)
            found[face.part] = tried[np.argmin(((tried - middle) ** 2).sum(axis=1))], len(tried)
    return found


def _within(outline: np.ndarray, points: np.ndarray) -> np.ndarray:
    """Which points lie in a convex outline, whichever way round it runs."""
    edge = np.roll(outline, -1, axis=0) - outline
    to = points[:, None, :] - outline[None]
    side = edge[None, :, 0] * to[..., 1] - edge[None, :, 1] * to[..., 0]
    return (side >= -1e-15).all(axis=1) | (side <= 1e-15).all(axis=1)
