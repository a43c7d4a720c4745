"""A network of tasks: which waits for which, the longest chain, and the slack of the rest."""

from __future__ import annotations

import functools
import graphlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from ..nearest import nearest_or_stop
from ..units import InputProblem


def order(after: Mapping[str, Iterable[str]], keep: Iterable[str] = ()) -> tuple[str, ...]:
    """Names in an order in which each comes after those it waits for.

    Among those that could come next the order of ``keep``, or of ``after``, decides.  Raises
    InputProblem with the names that wait for each other in a circle.
    """
    place = {name: number for number, name in enumerate(dict.fromkeys((*keep, *after)))}
    sorter = graphlib.TopologicalSorter({name: tuple(before) for name, before in after.items()})
    try:
        sorter.prepare()
    except graphlib.CycleError as circle:
        ring = circle.args[1][::-1]
        said = " waits for ".join(f"“{name}”" for name in ring)
        raise InputProblem.about(
            ring[0], f"These wait for each other in a circle: {said}. One of them must come first; strike out one of the waits."
        ) from None
    found: list[str] = []
    ready: list[str] = []
    while sorter.is_active():
        ready += sorter.get_ready()
        ready.sort(key=lambda name: place.get(name, len(place)))
        found.append(ready.pop(0))
        sorter.done(found[-1])
    return tuple(found)


@dataclass(frozen=True)
class Passes:
    """Earliest and latest times of every task, shape (..., tasks), in the unit of the durations."""

    earliest: np.ndarray  # earliest start
    latest: np.ndarray  # latest start that does not move the end
    duration: np.ndarray

    @property
    def end(self) -> np.ndarray:
        """Length of the longest chain, shape (...)."""
        return (self.earliest + self.duration).max(axis=-1)

    @property
    def slack(self) -> np.ndarray:
        """How far each task may slip without moving the end."""
        return self.latest - self.earliest


@dataclass(frozen=True)
class Network:
    """Tasks in an order in which each comes after those it waits for.

    ``before[i]`` are the places of the tasks that task ``i`` waits for.
    """

    names: tuple[str, ...]
    before: tuple[tuple[int, ...], ...]

    @classmethod
    def of(cls, after: Mapping[str, Iterable[str]]) -> Network:
        """From each task to the tasks it waits for; the order given is kept wherever it can be.

        Raises InputProblem for a task that is not there and for tasks that wait for each other in a circle.
        """
        waits = {name: tuple(dict.fromkeys(others)) for name, others in after.items()}
        missing = [
            (name, f"“{name}” waits for “{other}”, which is not among the tasks{nearest_or_stop(other, waits, most=3)}")
            for name, others in waits.items()
            for other in others
            if other not in waits
        ]
        if missing:
            raise InputProblem(missing)
        names = order(waits)
        at = {name: number for number, name in enumerate(names)}
        return cls(names, tuple(tuple(at[other] for other in waits[name]) for name in names))

    @functools.cached_property
    def nearest_before(self) -> tuple[tuple[int, ...], ...]:
        """``before`` without what is implied: who waits for a task need not wait for those it waits for."""
        behind = np.zeros((len(self.names),) * 2, bool)  # behind[i, j]: i waits for j, however far back
        found = []
        for task, waits in enumerate(self.before):
            implied = np.any(behind[list(waits)], axis=0) if waits else behind[task]
            found.append(tuple(other for other in waits if not implied[other]))
            behind[task] = implied
            behind[task, list(waits)] = True
        return tuple(found)

    def passes(self, duration: np.ndarray) -> Passes:
        """Forward and backward through the network; ``duration`` has shape (..., tasks)."""
        duration = np.asarray(duration, float)
        earliest = np.zeros_like(duration)
        for task, waits in enumerate(self.before):
            for other in waits:
                earliest[..., task] = np.maximum(earliest[..., task], earliest[..., other] + duration[..., other])
        end = (earliest + duration).max(axis=-1)
        latest = np.repeat(end[..., None], len(self.names), axis=-1) - duration
        for task in reversed(range(len(self.names))):
            for other in self.before[task]:
                latest[..., other] = np.minimum(latest[..., other], latest[..., task] - duration[..., other])
        return Passes(earliest, latest, duration)

    def longest_chain(self, duration: np.ndarray) -> tuple[str, ...]:
        """The tasks without slack, from first to last; one chain of them where there are several."""
        found = self.passes(np.asarray(duration, float).ravel())
        finish = found.earliest + found.duration
        chain = [int(finish.argmax())]
        while self.before[chain[-1]]:
            chain.append(max(self.before[chain[-1]], key=lambda other: finish[other]))
        return tuple(self.names[task] for task in reversed(chain))
