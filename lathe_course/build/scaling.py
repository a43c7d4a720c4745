"""From the size a row was written for to the size of a design.

Every figure of a part is taken as a power of the centre height (table ``laws``), and for a
part as long as the bed one of these powers is replaced by the length of the bed.  This is
common practice without a source, and the powers are known only within bounds; a draw of
each shows what that does to the sums.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

import dataclasses
from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np

from ..formula import formula
from ..ranges import Range
from ..tables import table
from ..units import Ratio
from .capabilities import Need
from .parts import BORROW, BUY, HARD, MAKE, USED, Part, PartsList, Way

__all__ = ["Columns", "columns", "exponents", "grown_need", "growth", "growth_factor", "law", "scaled", "usual_bed_length"]

#: feet of headstock and tailstock beside the work, in centre heights, as chapter 07 reckons the length of the bed
FEET = 4.5
#: a measure beyond this lies along the bed, in a part that is as long as it [m]
_LONG = 0.2
_MONEY = ("material", "outside", "carriage")


@formula(
    r"g = s^{n - q} \cdot r^q",
    source="common_practice, scaling by size",
    limits="machines of one shape; the power is a fit to what such machines come to",
    rises_with=("length_ratio",),
)
def growth_factor(
    size_ratio: Ratio("", "s", above=0, at_most=20, valid=(0.4, 2.5)),
    length_ratio: Ratio("", "r", above=0, at_most=20, valid=(0.3, 4)),
    exponent: Ratio("", "n", at_least=0, at_most=4),
    length_share: Ratio("", "q", at_least=0, at_most=1),
) -> Ratio("", "g"):
    """Factor by which a figure of one part grows with the size of the machine.

    ``size_ratio`` is that of the centre heights, ``length_ratio`` that of the beds.  A part
    as long as the bed has a ``length_share`` of 1, any other of 0.
    """
    return size_ratio ** (exponent - length_share) * length_ratio**length_share


def usual_bed_length(centre_height: Any, between_centres: Any) -> Any:
    """Length of the bed [m] of a lathe of this size [m]: what stands between the centres, and the feet beside it."""
    return between_centres + FEET * centre_height


def exponents() -> dict[str, Range]:
    """The powers of all laws, by the name of the figure."""
    return table("laws").column("exponent")


class Columns:
    """The figures of some ways as arrays, for sums over many builds at once.

    ``hours``, ``material``, ``outside``, ``carriage`` and ``weeks`` are Ranges of arrays of
    shape (ways,), ``rework``, ``found`` (second-hand or salvaged) and the masses arrays of that shape.  Figures hold for the size
    of each row; ``growth`` takes them to another.
    """

    def __init__(self, parts: PartsList, ways: Iterable[Way]):
        self.ways = tuple(ways)
        for name in ("hours", *_MONEY, "weeks"):
            setattr(self, name, Range(*np.array([getattr(way, name) for way in self.ways], float).reshape(-1, 3).T))
        self.rework = np.array([way.rework for way in self.ways])
        self.found = np.array([way.how == USED for way in self.ways])
        of = [parts[way.part] for way in self.ways]
        for name in ("stock_mass", "finished_mass", "centre_height", "between_centres", "length_share"):
            setattr(self, name, np.array([getattr(part, name) for part in of]))
        self.laws = {name: tuple(law(way, name) for way in self.ways) for name in ("hours", *_MONEY, "mass")}


def columns(parts: PartsList, ways: Iterable[Way] | None = None) -> Columns:
    """Arrays over ``ways``, or over all ways of the list."""
    return Columns(parts, parts.ways if ways is None else ways)


def law(way: Way, figure: str) -> str:
    """The law a figure of this way follows."""
    if figure == "hours":
        return "hours here" if way.how in (MAKE, HARD, BORROW, USED) else "hours for work outside"
    return {"outside": "outside work", "material": "bought things" if way.how in (BUY, USED) else "material"}.get(figure, figure)


def growth(of: Columns, centre_height: Any, between_centres: Any, powers: Mapping[str, Any] | None = None) -> dict[str, np.ndarray]:
    """Factors for ``hours``, ``material``, ``outside``, ``carriage`` and ``mass``, shape (..., ways).

    ``centre_height`` and ``between_centres`` [m] are numbers or arrays of shape (...); so are
    the ``powers`` by the name of the law, which are the likely ones if left out.
    """
    powers = {name: power.likely for name, power in exponents().items()} | dict(powers or {})
    height, length = (np.asarray(size, float)[..., None] for size in (centre_height, between_centres))
    size_ratio = height / of.centre_height
    length_ratio = usual_bed_length(height, length) / usual_bed_length(of.centre_height, of.between_centres)
    found = {}
    for figure, laws in of.laws.items():
        names = tuple(dict.fromkeys(laws))
        rows = np.stack(np.broadcast_arrays(*(np.asarray(powers[name], float) for name in names)), axis=-1) if names else np.zeros(0)
        power = rows[..., [names.index(one) for one in laws]] if names else rows
        found[figure] = growth_factor.si(size_ratio, length_ratio, power, of.length_share)
    return found


def scaled(parts: PartsList, centre_height: float, between_centres: float) -> PartsList:
    """The list with every figure, need and size taken to one size [m], by the likely powers."""
    return PartsList((_scaled_part(part, centre_height, between_centres) for part in parts), parts.left_out)


def _scaled_part(part: Part, centre_height: float, between_centres: float) -> Part:
    size = centre_height / part.centre_height
    length = usual_bed_length(centre_height, between_centres) / usual_bed_length(part.centre_height, part.between_centres)
    if (size, length) == (1.0, 1.0):
        return part
    powers = {name: power.likely for name, power in exponents().items()}

    def factor(name: str) -> float:
        return float(growth_factor.si(size, length, powers[name], part.length_share))

    def grown(way: Way) -> Way:
        figures = {name: Range(*(end * factor(law(way, name)) for end in getattr(way, name))) for name in ("hours", *_MONEY)}
        return dataclasses.replace(way, needs=tuple(grown_need(one, size, length if part.length_share else size) for one in way.needs), **figures)

    return dataclasses.replace(part, centre_height=centre_height, between_centres=between_centres, stock_mass=part.stock_mass * factor("mass"),
                               finished_mass=part.finished_mass * factor("mass"), ways=tuple(map(grown, part.ways)))


def grown_need(need: Need, size: float, length: float) -> Need:
    """A need at another size: its largest measure grows with the length, the others with the size.  Accuracy stays what it is."""
    longest = max(need.size, default=0.0)
    return dataclasses.replace(need, size=tuple(one * (length if one == longest and one > _LONG else size) for one in need.size))
