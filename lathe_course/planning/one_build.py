"""One build by itself, task after task, in plain numbers: what a slider asks for while a finger is on it.

The same rules as in the many builds of ``schedule``, which a test holds against these; for a single build, or a few,
arrays of so few rows cost up to ten times as much.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence

from .network import Network

__all__ = ["one_build"]


def one_build(
    network: Network,
    columns: Sequence[int],
    hours: Sequence[float],
    arrived: Sequence[float],
    evenings: Sequence[float],
    a_month: float,
    borrowed: float,
    ends: Sequence[float],
    worked: Sequence[float],
) -> tuple[list[float], list[float]]:
    """Begin and end of every task in months, in the order of the network; infinite where never reached.

    ``columns`` are the tasks in the order of preference, ``worked`` the usual months worked until each of ``ends``.
    """
    size, horizon = len(hours), ends[-1]
    rank = {task: place for place, task in enumerate(columns)}
    followers: list[list[int]] = [[] for _ in range(size)]
    left = []
    for task, before in enumerate(network.nearest_before):
        left.append(len(before))
        for other in before:
            followers[other].append(task)
    ready = list(arrived)
    begun, done = [math.inf] * size, [math.inf] * size
    waiting = {task for task in columns if not left[task]}
    clock = 0.0
    while waiting:
        begin, _, task = min((max(ready[one], clock), rank[one], one) for one in waiting)
        if begin == math.inf:
            break
        waiting.remove(task)
        need, finish = hours[task], begin
        if need > 0:
            until = _at(_at(begin, ends, worked, worked[-1]) + need / a_month, worked, ends, math.inf)
            # waiting for the borrowed machine leaves the hands free; their own hours are gone
            finish = max(until, begin + need * evenings[task] / borrowed) if evenings[task] > 0 else until
            clock = until if until < math.inf else horizon
        if begin >= horizon:
            finish = math.inf
        begun[task], done[task] = begin, finish
        for after in followers[task]:
            left[after] -= 1
            ready[after] = max(ready[after], finish)
            if not left[after]:
                waiting.add(after)
    return begun, done


def _at(x: float, xs: Sequence[float], ys: Sequence[float], beyond: float) -> float:
    """Straight between the points of a rising line."""
    if x > xs[-1]:
        return beyond
    place = bisect_right(xs, x) - 1
    if place == len(xs) - 1:
        return ys[-1]
    return (ys[place + 1] - ys[place]) / (xs[place + 1] - xs[place]) * (x - xs[place]) + ys[place]
