"""A figure known only as a range: low, likely, high."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

import numpy as np


class Range(NamedTuple):
    """Low, likely and high value of one figure, in the same unit.

    Low and high are taken as the ends, likely as the peak of a triangular distribution:
    the least that can be said of a figure for which only these three are known.
    """

    low: float
    likely: float
    high: float

    @property
    def spread(self) -> float:
        return self.high - self.low


def likely(value: Any) -> Any:
    """The likely value of a range; anything else as it is.

    >>> likely(Range(2.0, 3.0, 7.0)), likely(5.0)
    (3.0, 5.0)
    """
    return value.likely if isinstance(value, Range) else value


def middling(value: Any) -> Any:
    """The value that half of all draws of a range exceed; anything else as it is.

    Where a range leans to one side this is not its likely value: a sum of likely values is
    one that few builds reach.

    >>> round(middling(Range(2.0, 3.0, 7.0)), 3)
    3.838
    """
    if not isinstance(value, Range):
        return value
    low, peak, high = value
    if np.ndim(low + peak + high):
        return sample(value, 0.5)
    if not low <= peak <= high or low == high:  # of a shape that cannot be: its findings tell it
        return peak
    width = high - low
    if 2 * (peak - low) >= width:
        return low + math.sqrt(width * (peak - low) / 2)
    return high - math.sqrt(width * (high - peak) / 2)


def as_figure(found: Any) -> Any:
    """One figure as a float; an array of them as it is.

    >>> as_figure(np.float64(2.0)), as_figure(np.array([1.0, 2.0]))
    (2.0, array([1., 2.]))
    """
    return float(found) if np.ndim(found) == 0 else found


def total(values: Any) -> Any:
    """The sum over the last axis, a float where that is one figure.

    >>> total([1.0, 2.0]), total([[1.0, 2.0], [3.0, 4.0]])
    (3.0, array([3., 7.]))
    """
    return as_figure(np.asarray(values).sum(axis=-1))


def sample(value: Range, fractions: float | np.ndarray) -> np.ndarray:
    """Values of a triangular distribution at cumulative ``fractions`` (0 to 1), any shape.

    The ends of the range may be arrays that broadcast with ``fractions``.
    """
    low, peak, high = (np.asarray(end, float) for end in value)
    width = high - low
    rising = low + np.sqrt(fractions * width * (peak - low))
    falling = high - np.sqrt((1 - fractions) * width * (high - peak))
    return np.where(fractions * width < peak - low, rising, falling)
