"""One build by itself, task after task, in plain numbers: what a slider asks for while a finger is on it.

The same rules as in the many builds of ``schedule``, which a test holds against these; for a single build, or a few,
arrays of so few rows cost up to ten times as much.
"""

from __future__ import annotations

import heapq
import math
from bisect import bisect_right
from collections.abc import Sequence

from .network import Network


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
    rank = [0] * size
    for place, task in enumerate(columns):
        rank[task] = place
    followers: list[list[int]] = [[] for _ in range(size)]
    left = []
    for task, before in enumerate(network.nearest_before):
        left.append(len(before))
        for other in before:
            followers[other].append(task)
    ready = list(arrived)
    begun, done = [math.inf] * size, [math.inf] * size
    # what could begin at once, by preference; and what is still on its way, by when it will be there
    now: list[tuple[int, int]] = []
    later = [(ready[task], rank[task], task) for task in range(size) if not left[task]]
    heapq.heapify(later)
    clock = 0.0
    while now or later:
        while later and later[0][0] <= clock:
            heapq.heappush(now, heapq.heappop(later)[1:])
        if now:
            begin, task = clock, heapq.heappop(now)[1]
        else:
            begin, _, task = heapq.heappop(later)
        if begin == math.inf:
            break
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
                heapq.heappush(later, (ready[after], rank[after], after))
    return begun, done


def _at(x: float, xs: Sequence[float], ys: Sequence[float], beyond: float) -> float:
    """Straight between the points of a rising line."""
    if x > xs[-1]:
        return beyond
    place = bisect_right(xs, x) - 1
    if place == len(xs) - 1:
        return ys[-1]
    return (ys[place + 1] - ys[place]) / (xs[place + 1] - xs[place]) * (x - xs[place]) + ys[place]
