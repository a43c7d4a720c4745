"""Pieces sawn from bars one can buy: least length bought, then fewest bars, then the longest offcut in one piece.

Every way to fill a bar is written down, and an integer programme says how often each is taken; the solver proves its
answer.  With bars of one length, least length and fewest bars are the same wish.
"""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from .solver_output import quiet

#: lengths are held in hundredths of a millimetre, so that sums of them are exact
_STEP = 1e-5
#: ways to fill a bar that are still looked through
_MOST_WAYS = 50_000


class TooMany(ValueError):
    """More different lengths than can be looked through."""


@dataclass(frozen=True)
class Bar:
    """A bar [m] with what is sawn from it, the longest piece first, and what is left after the last cut."""

    length: float
    pieces: tuple[float, ...]
    offcut: float


def cut(pieces: Sequence[float], lengths: Sequence[float], kerf: float) -> tuple[Bar, ...]:
    """Bars with their pieces, all in m, the longest bar first; between two pieces a cut takes ``kerf``, and so does parting the offcut.

    ``lengths`` are those of bars one can buy.  A ValueError tells of a piece longer than any bar; TooMany of more lengths than can be looked through.
    """
    if not pieces:
        return ()
    wanted, bars, saw = Counter(_whole(one) for one in pieces), sorted({_whole(one) for one in lengths}), _whole(kerf)
    if max(wanted) > bars[-1]:
        raise ValueError(f"a piece of {max(wanted) * _STEP * 1e3:g} mm is longer than any bar")
    if (
        sum((one + saw) * count for one, count in wanted.items()) <= bars[0] + saw
    ):  # nothing shorter can be bought than one of the shortest
        return (_bar(bars[0], tuple(sorted(wanted.elements(), reverse=True)), saw),)
    sizes = sorted(wanted, reverse=True)
    ways = [
        (bar, way)
        for bar in bars
        for way in itertools.islice(_ways(sizes, [wanted[one] for one in sizes], bar + saw, saw), _MOST_WAYS + 1)
        if any(way)
    ]
    if len(ways) > _MOST_WAYS:
        raise TooMany(f"{len(sizes)} different lengths are too many to be fitted exactly")
    made = []
    for (bar, way), times in zip(ways, _times(ways, [wanted[one] for one in sizes], sizes, saw)):
        made += [_bar(bar, tuple(one for one, count in zip(sizes, way) for _ in range(count)), saw)] * times
    return tuple(sorted(made, key=lambda bar: (-bar.length, -bar.offcut, bar.pieces)))


def _whole(length: float) -> int:
    return round(length / _STEP)


def _bar(length: int, pieces: tuple[int, ...], saw: int) -> Bar:
    return Bar(length * _STEP, tuple(one * _STEP for one in pieces), max(length - sum(pieces) - saw * len(pieces), 0) * _STEP)


def _ways(sizes: Sequence[int], counts: Sequence[int], room: int, saw: int) -> Iterator[tuple[int, ...]]:
    """Every way to fill some room: how many of each size."""
    if not sizes:
        yield ()
        return
    for count in range(min(counts[0], room // (sizes[0] + saw)), -1, -1):
        for rest in _ways(sizes[1:], counts[1:], room - count * (sizes[0] + saw), saw):
            yield (count, *rest)


def _times(ways: Sequence[tuple[int, tuple[int, ...]]], counts: Sequence[int], sizes: Sequence[int], saw: int) -> list[int]:
    """How often each way is taken."""
    length = np.array([bar for bar, _ in ways], float)
    offcut = np.array([max(bar - sum(count * (size + saw) for count, size in zip(way, sizes)), 0) for bar, way in ways], float)
    fill = np.array([way for _, way in ways], float).T
    most = float(sum(counts))  # bars there can be at most, so that one bar fewer never weighs against length
    bought = length / np.gcd.reduce(length.astype(int)) * (most + 1) + 1
    first = _solved(bought, [(fill, counts)], most)
    # one bar is named as that with the offcut: it is among those taken, and its offcut is to be the longest
    size = len(ways)
    named = np.hstack([-np.eye(size), np.eye(size)])
    second = _solved(
        np.concatenate([np.zeros(size), -offcut / max(offcut.max(), 1.0)]),
        [
            (np.hstack([fill, np.zeros_like(fill)]), counts),
            (np.concatenate([bought, np.zeros(size)])[None], [float(bought @ first)]),
            (np.concatenate([np.zeros(size), np.ones(size)])[None], [1.0]),
        ],
        most,
        named,
    )
    return [round(one) for one in second[:size]]


def _solved(
    cost: np.ndarray, equal: list[tuple[np.ndarray, Sequence[float]]], most: float, at_most_zero: np.ndarray | None = None
) -> np.ndarray:
    from scipy.optimize import Bounds, LinearConstraint, milp

    rules = [LinearConstraint(matrix, values, values) for matrix, values in equal]
    if at_most_zero is not None:
        rules.append(LinearConstraint(at_most_zero, -np.inf, 0.0))
    with quiet():
        made = milp(cost, integrality=np.ones(len(cost)), bounds=Bounds(0, most), constraints=rules, options={"mip_rel_gap": 0.0})
    if made.status != 0:
        raise RuntimeError(f"the solver gave up before its answer was proven: {made.message}")
    return np.round(made.x)
