"""Where every part of a lathe stands, from the results of its chain.

The nose of the spindle is at x = 0, the ways at z = 0, the axis of the spindle at y = 0, the operator in front at y below zero.
What the chain knows keeps its size; what nobody decided is made up in proportion to what is beside it, so that it finds room
where room there is, and says so (``Solid.known``).  Where decided sizes leave no room, the parts stand in each other's way as they would
in iron, and ``Arrangement.clashes`` names them.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from ..evaluation import Evaluation
from .bed import bed_solids, bench_below, ways_solids
from .carriage import carriage_solids
from .drive import drive_solids
from .headstock import headstock_solids
from .sizes import Sizes
from .solids import Solid, gap
from .tailstock import tailstock_solids

#: parts that stand one in the other as they are meant to: a shaft in its seat, a screw in its nut, a ridge in its groove
SEATED = frozenset(
    frozenset(pair)
    for pair in (
        ("spindle", "headstock"),
        ("spindle", "bearings"),
        ("bearings", "headstock"),
        ("spindle", "bearing covers"),
        ("spindle", "spindle nut"),
        ("spindle", "spindle pulley"),
        ("spindle", "backplate"),
        ("spindle", "spindle flange"),
        ("backplate", "chuck lock"),
        ("spindle", "chuck"),
        ("spindle", "back gear"),
        ("spindle", "change gears"),
        ("bed", "end blocks"),
        ("bed", "feet"),
        ("slideways", "saddle"),
        ("slideways", "headstock"),
        ("slideways", "tailstock"),
        ("slideways", "bed"),
        ("bed", "fill of the bed"),
        ("bed", "saddle"),
        ("bed", "ribs"),
        ("leadscrew", "half nuts"),
        ("leadscrew", "leadscrew brackets"),
        ("leadscrew", "change gears"),
        ("leadscrew", "feed motor"),
        ("cross screw", "cross-slide"),
        ("cross screw", "dial"),
        ("cross screw", "handwheels"),
        ("cross screw", "saddle"),
        ("tool", "toolpost"),
        ("parting blade", "rear toolpost"),
        ("barrel", "tailstock"),
        ("barrel", "tailstock screw"),
        ("tailstock screw", "tailstock"),
        ("centre", "barrel"),
        ("motor", "driving pulley"),
        ("belt", "spindle pulley"),
        ("belt", "driving pulley"),
        ("belt", "countershaft"),
        ("belt", "motor"),
        ("motor", "countershaft"),
        ("countershaft", "driving pulley"),
        ("apron", "handwheels"),
        ("banjo", "leadscrew"),
        ("banjo", "change gears"),
        ("change gears", "headstock"),
        ("back gear", "headstock"),
    )
)
#: parts closer than this touch, m
TOUCH = 1e-4
#: what nothing has to hold up
_GROUND = ("bench",)


@dataclass(frozen=True)
class Arrangement:
    """All solids of a lathe, the sizes they were made from, and places that views and dimensions lean on."""

    solids: tuple[Solid, ...]
    sizes: Sizes

    @functools.cached_property
    def parts(self) -> dict[str, list[Solid]]:
        """Solids by the name of their part, in the order in which parts were placed."""
        found: dict[str, list[Solid]] = {}
        for one in self.solids:
            found.setdefault(one.part, []).append(one)
        return found

    def extent(self, *parts: str) -> np.ndarray:
        """Least and greatest x, y, z of the parts named, or of all but the bench, shape (2, 3)."""
        names = parts or [name for name in self.parts if name not in _GROUND]
        bounds = np.array([one.bounds for name in names for one in self.parts[name]])
        return np.array([bounds[:, 0].min(axis=0), bounds[:, 1].max(axis=0)])

    def _pairs(self) -> Iterator[tuple[int, int]]:
        """Places of two solids whose rooms touch or overlap."""
        bounds = np.array([one.bounds for one in self.solids])
        near = np.maximum(bounds[:, None, 0] - bounds[None, :, 1], bounds[None, :, 0] - bounds[:, None, 1]).max(axis=2) <= TOUCH
        return zip(*np.nonzero(np.triu(near, 1)))

    @functools.cached_property
    def _met(self) -> dict[tuple[int, int], float]:
        """The gap of each two solids that touch or overlap, m; below zero where one stands in the other."""
        apart = {(i, j): gap(self.solids[i], self.solids[j], TOUCH) for i, j in self._pairs()}
        return {pair: by for pair, by in apart.items() if by <= TOUCH}

    @functools.cached_property
    def depths(self) -> dict[frozenset[str], float]:
        """How deep parts stand in each other that are not meant to, m."""
        found: dict[frozenset[str], float] = {}
        for (i, j), by in self._met.items():
            pair = frozenset((self.solids[i].part, self.solids[j].part))
            if len(pair) == 2 and by < -TOUCH and pair not in SEATED:
                found[pair] = max(found.get(pair, 0.0), -by)
        return found

    @functools.cached_property
    def clashes(self) -> list[tuple[str, str]]:
        """Parts that stand in each other's way, in the order of placing."""
        order = list(self.parts)
        return sorted(
            (tuple(sorted(pair, key=order.index)) for pair in self.depths),
            key=lambda pair: (order.index(pair[0]), order.index(pair[1])),
        )

    @functools.cached_property
    def floating(self) -> list[str]:
        """Parts of which nothing holds some piece: no way leads from the bench to it over pieces that touch."""
        held = {place for place, one in enumerate(self.solids) if one.part in _GROUND}
        while more := {place for pair in self._met if held & set(pair) for place in pair} - held:
            held |= more
        loose = {one.part for place, one in enumerate(self.solids) if place not in held}
        return [name for name in self.parts if name in loose]

    @property
    def remarks(self) -> list[str]:
        """Sentences on what decided sizes leave no room for, or leave without a hold."""
        told = []
        if self.clashes:
            told.append(
                f"With these sizes there stand in each other’s way: {'; '.join(f'{one} and {other}' for one, other in self.clashes)}."
            )
        if self.floating:
            told.append(f"With these sizes nothing holds: {', '.join(self.floating)}.")
        return told


def arrange(e: Evaluation) -> Arrangement:
    """The arrangement of the middling figures of an evaluation."""
    s = Sizes.of(e)
    found = [*bed_solids(s), *ways_solids(s), *headstock_solids(s), *tailstock_solids(s), *carriage_solids(s), *drive_solids(s)]
    bounds = np.array([one.bounds for one in found])
    return Arrangement((bench_below(s, bounds[:, 0].min(axis=0), bounds[:, 1].max(axis=0)), *found), s)
