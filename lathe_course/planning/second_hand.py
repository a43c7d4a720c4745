"""What is found second-hand or salvaged: a share of the price of new, hours of looking and putting in order, a wait nobody knows.

Every week of looking has the same chance, so the wait has a long tail: one in ten waits 2.3
times as long as the mean (the natural logarithm of ten).  What is found may be of no use, and
another must then be looked for.  A find settles sizes of the drawing.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass

import numpy as np

from ..ranges import Range
from ..tables import table

#: what fetching a find costs, as a share of its price; common practice, no source
FETCHING = Range(0.02, 0.08, 0.2)


@dataclass(frozen=True)
class Find:
    """One sort of things that are found: shares of the price of new, hours, mean weeks, the chance that it is of no use, and what to know."""

    sort: str
    share: Range
    looking: Range
    order: Range
    weeks: float
    no_good: float
    parts: tuple[str, ...]
    from_scrap: bool  # stock to make the part of, not the part itself
    advised: bool  # does the course advise it at all?
    fixes: str
    look: str
    caution: str
    source: str

    @property
    def hours(self) -> Range:
        """Own hours of looking and of putting in order."""
        return Range(*map(sum, zip(self.looking, self.order)))

    def price(self, new: Range) -> Range:
        """What it costs where the same thing costs ``new``: shares of the average price, for the doubt lies in the share."""
        return Range(*(share * sum(new) / 3 for share in self.share))

    def told(self) -> str:
        """What to know before money changes hands, the caution last."""
        fixes = f"A find settles {self.fixes}." if self.fixes else ""
        return " ".join(filter(None, (fixes, self.look, self.caution)))


@functools.cache
def course_finds() -> dict[str, Find]:
    """The rows of the table ``second_hand`` by their sort."""
    return {
        name: Find(
            name,
            row["share"],
            row["looking"],
            row["order"],
            row["weeks"],
            row["no_good"],
            tuple(filter(None, (part.strip() for part in row["parts"].split("+")))),
            row["from_scrap"] == "yes",
            row["advised"] == "yes",
            row["fixes"],
            row["look"],
            row["caution"],
            row["source"],
        )
        for name, row in table("second_hand").items()
    }


@functools.cache
def _by_part() -> dict[str, Find]:
    return {part: find for find in course_finds().values() for part in find.parts}


def find_for(part: str) -> Find | None:
    """The sort of finds a part belongs to; None where the course would not look for it."""
    return _by_part().get(part)


def waited(
    mean: np.ndarray,
    luck: np.ndarray | None,
    chance: np.ndarray,
    again: np.ndarray | None = None,
    second: np.ndarray | None = None,
) -> np.ndarray:
    """Time until a find of use is there, in the unit of ``mean``; arrays broadcast.

    ``chance`` is that of a first find of no use.  With ``luck``, ``again`` (whether it was of no use) and the luck of the ``second``
    search, each search is exponential; without them it is the mean.
    """
    if luck is None or again is None or second is None:
        return mean * (1 + chance)
    return mean * (-np.log1p(-luck) + np.where(again, -np.log1p(-second), 0.0))
