"""What one way costs: money, own hours with what must be done again, and both in one figure.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from dataclasses import dataclass
from typing import Annotated

import numpy as np

from ..formula import SI, formula
from ..ranges import Range
from ..units import HourPrice, LabourTime, Money, Ratio

#: hours it takes to make what serves in place of a part that waits for the lathe; common practice, no source
STAND_IN = 1.0


@formula(
    r"H_r = H (1 + p \cdot r)",
    source="definition, expected value",
    limits="one redo at most; over many parts, for a single one either comes or does not",
    rises_with=("hours", "rework_chance", "redo_share"),
)
def hours_with_rework(
    hours: Annotated[SI, LabourTime("h", "H", at_least=0)],
    rework_chance: Annotated[SI, Ratio("", "p", at_least=0, at_most=1)],
    redo_share: Annotated[SI, Ratio("", "r", at_least=0, at_most=2)],
) -> Annotated[SI, LabourTime("h", "H_r")]:
    """Hours of a part with its share of doing it again, as they come out over many parts."""
    return hours * (1 + rework_chance * redo_share)


@formula(
    r"C = M + v H",
    source="common_practice, own hours told as money",
    limits="every hour is worth the same; a negative value means that hours are what the build is for",
    rises_with=("money",),
)
def whole_cost(
    money: Annotated[SI, Money("EUR", "M", at_least=0)],
    hours: Annotated[SI, LabourTime("h", "H", at_least=0)],
    hour_value: Annotated[SI, HourPrice("EUR/h", "v")],
) -> Annotated[SI, Money("EUR", "C")]:
    """Money, and own hours at what one of them costs you."""
    return money + hour_value * hours


@formula(
    r"w = \frac{M_o - M_h}{H_h - H_o}",
    source="definition",
    limits="the part takes fewer own hours outside; a negative figure means that outside is cheaper as well",
    rises_with=("money_outside",),
    falls_with=("money_here",),
    requires={
        "Sent out, the part must take fewer of your hours than made here.": lambda hours_here, hours_outside: (
            hours_here > hours_outside
        )
    },
)
def money_per_hour_saved(
    money_outside: Annotated[SI, Money("EUR", "M_o", at_least=0)],
    money_here: Annotated[SI, Money("EUR", "M_h", at_least=0)],
    hours_here: Annotated[SI, LabourTime("h", "H_h", above=0)],
    hours_outside: Annotated[SI, LabourTime("h", "H_o", at_least=0)],
) -> Annotated[SI, HourPrice("EUR/h", "w")]:
    """What each own hour saved by sending a part out costs in money."""
    saved = hours_here - hours_outside
    return (money_outside - money_here) / np.where(saved > 0, saved, np.nan)[()]


_ONE = Range(1.0, 1.0, 1.0)


@dataclass(frozen=True)
class Prices:
    """Factors of one's own on the list's money for material, other people's work and carriage."""

    material: Range = _ONE
    outside: Range = _ONE
    carriage: Range = _ONE
