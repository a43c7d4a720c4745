"""What is within reach of the machines at hand, for many sizes at once.

Which ways are open depends on one thing only: which need is covered by which machine.  That is a row of
yes and no for each size; sizes with the same row have the same ways open, so the ways are looked at once for each row.
"""

from __future__ import annotations

import functools
import itertools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from ..tables import table
from .capabilities import SLACK, Capability, Need, Shop
from .feasible import Feasibility, feasible, lathe_stages
from .parts import PartsList
from .scaling import needs_growth

_STAGES_AT = (0.075, 0.3, 0.09)  # any size will do: only names and operations are read from these


class Reach:
    """The needs of a list of parts held against a shop and the half-built lathe."""

    def __init__(
        self,
        parts: PartsList,
        shop: Shop,
        for_sale: Iterable[Capability] = (),
        bought: Iterable[str] = (),
        no_fee: Iterable[str] = (),
    ):
        self._shop, self._sold, self._stages = shop, tuple(for_sale), lathe_stages(*_STAGES_AT)
        self._bought, self._no_fee = tuple(bought), tuple(no_fee)
        owed = {(way.part, need): parts[way.part] for way in parts.ways for need in way.needs}
        self._growing = needs_growth((part, need) for (_, need), part in owed.items())
        self._of_need = {key: place for place, key in enumerate(owed)}
        # each need knows its row, for two parts may ask for the same and grow otherwise
        self._parts = PartsList(
            (
                replace(
                    part,
                    ways=tuple(
                        replace(
                            way,
                            needs=tuple(
                                _Asked(need.operation, need.size, need.accuracy, self._of_need[part.name, need])
                                for need in way.needs
                            ),
                        )
                        for way in part.ways
                    ),
                )
                for part in parts
            ),
            parts.left_out,
        )
        column, starts = 0, []
        for _, need in owed:
            starts.append(column)
            column += len(need.size) + 1
        count = np.array([len(need.size) for _, need in owed], int)
        first = np.array(starts, int)
        # a need without a second measure has one of nothing, and one without an accuracy takes any
        self._columns = (
            np.stack([np.where(count > place, first + np.minimum(place, count), first) for place in (0, 1)], axis=-1)
            if owed
            else np.zeros((0, 2), int)
        )
        self._truer = first + count
        self._size = np.array([(*need.size, 0.0, 0.0)[:2] for _, need in owed]).reshape(-1, 2)
        self._accuracy = np.array([np.inf if need.accuracy is None else need.accuracy for _, need in owed])
        standing = (*shop.capabilities, *self._sold)
        able = (*standing, *(one for ones in self._stages.values() for one in ones))
        self._own_size = _measures(standing)
        self._own_accuracy = np.array([one.accuracy for one in standing])
        pairs = [
            (place, other)
            for (_, need), place in self._of_need.items()
            for other, one in enumerate(able)
            if one.operation == need.operation
        ]
        self._machines = len(able)
        self._need, self._able = np.array(pairs, int).reshape(-1, 2).T
        either = {name: row["either_way"] == "yes" for name, row in table("operations").items()}
        self._either_need = np.array([either[need.operation] for _, need in owed], bool)
        self._either_able = np.array([either[one.operation] for one in able], bool)

    def covered(
        self,
        logs: np.ndarray,
        powers: Mapping[str, Any],
        centre_height: Any,
        between_centres: Any,
        swing_over_slide: Any,
        accuracy: Any,
        skill_factor: Any,
    ) -> np.ndarray:
        """Is each need covered by each machine?  Yes and no, shape (..., pairs); sizes [m] of shape (...)."""
        factors = self._growing.factors(logs, powers)
        size, room = (
            self._size * factors[..., self._columns],
            self._room(centre_height, between_centres, swing_over_slide, accuracy),
        )
        allowed = self._accuracy * factors[..., self._truer]
        size = np.where(self._either_need[:, None], np.sort(size, axis=-1), size)
        measures, errors = room
        own = np.asarray(skill_factor, float)[..., None] * self._own_accuracy
        shape = np.broadcast_shapes(own.shape[:-1], errors.shape[:-1])
        errors = np.concatenate(
            [np.broadcast_to(own, (*shape, own.shape[-1])), np.broadcast_to(errors, (*shape, errors.shape[-1]))], axis=-1
        )
        measures = np.concatenate(
            [np.broadcast_to(self._own_size, (*measures.shape[:-2], *self._own_size.shape)), measures], axis=-2
        )
        measures = np.where(self._either_able[:, None], np.sort(measures, axis=-1), measures)
        fits = (size[..., self._need, :] <= measures[..., self._able, :] * SLACK).all(axis=-1)
        return fits & (errors[..., self._able] <= allowed[..., self._need] * SLACK)

    def _room(self, *sizes: Any) -> tuple[np.ndarray, np.ndarray]:
        """Measures and accuracies of the half-built lathe."""
        alike: tuple[Any, ...] = np.broadcast_arrays(*(np.asarray(one, float) for one in sizes))
        able = [one for ones in lathe_stages(*alike).values() for one in ones]
        nothing = np.zeros_like(alike[0])
        both: list[tuple[Any, ...]] = [(*one.size, nothing, nothing)[:2] for one in able]
        measures: np.ndarray = np.stack([np.stack(two, axis=-1) for two in both], axis=-2)
        return measures, np.stack([np.broadcast_to(one.accuracy, alike[0].shape) for one in able], axis=-1)

    @functools.lru_cache(maxsize=1024)  # noqa: B019  few are made, each for the lists of a build
    def looked(self, covered: bytes) -> Feasibility:
        """Which ways are open for one row of yes and no, as ``tobytes`` of ``covered`` tells it; figures and needs are those of the list."""
        met = np.zeros((self._machines, len(self._of_need)), bool)
        met[self._able, self._need] = np.frombuffer(covered, bool)
        count = itertools.count()

        def known(ones: Iterable[Capability]) -> tuple[Capability, ...]:
            return tuple(
                _Known(one.machine, one.operation, one.size, one.accuracy, one.whose, met[next(count)].tobytes()) for one in ones
            )

        shop, sold = replace(self._shop, capabilities=known(self._shop.capabilities)), known(self._sold)
        stages = {name: known(ones) for name, ones in self._stages.items()}
        return feasible(self._parts, shop, stages, for_sale=sold, bought=self._bought, no_fee=self._no_fee)


@dataclass(frozen=True)
class _Asked(Need):
    """A need that knows its row."""

    row: int = 0


@dataclass(frozen=True)
class _Known(Capability):
    """A capability of which it is known already what it covers."""

    met: bytes = field(default=b"", repr=False, compare=False)  # for each need one that is not zero where it is covered

    def covers(self, need: Need) -> bool:
        return isinstance(need, _Asked) and self.met[need.row] != 0


def _measures(able: Iterable[Capability]) -> np.ndarray:
    return np.array([(*one.size, 0.0, 0.0)[:2] for one in able], float).reshape(-1, 2)
