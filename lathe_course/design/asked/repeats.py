"""A set of like pieces made one after another by the same hands."""

from __future__ import annotations

from ...planning import progress


def first_of_set(whole: float, count: int, share: float) -> float:
    """Hours of the first piece of a set that takes ``whole`` hours, each doubling of the number taking ``share`` of the time for a piece."""
    return whole / float(progress.total_of_repeats.si(1.0, float(count), share))


def piece(first: float, number: int, share: float) -> float:
    """Hours of the piece of this number."""
    return float(progress.unit_hours.si(first, float(number), share))
