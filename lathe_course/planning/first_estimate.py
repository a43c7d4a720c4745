"""An outside look from size alone: what lathes of a size were said to weigh, take and cost, and what a used one is.

Three sizes of home-built lathe are known roughly (table ``sizes``).  Between them every
figure is taken as a power of the size, fitted to the two neighbours.  This is common
practice without a source.  What a design weighs, takes and costs is added up from its parts; this stands beside it.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

import functools
from typing import Annotated, Any

import numpy as np

from ..formula import SI, formula
from ..ranges import Range
from ..tables import table
from ..units import HourPrice, LabourTime, Length, Money, Ratio, outside_validity

#: figures that ``first_estimate`` gives, and the share of each that grows with the distance between centres:
#: the middle of the bed, its screws and rods; everything else stays as it is (judged from one design worked out in full)
FIGURES = {"mass": 0.25, "hours": 0.08, "money": 0.1, "used_price": 0.1, "used_hours": 0.0}

_ENDS = tuple(f"{name}_{end}" for name in FIGURES for end in Range._fields)
_GUESSED = Length("mm", "h", above=0, valid=(40, 130))


@formula(
    r"f = s^n",
    source="common_practice, scaling by size",
    limits="machines of one shape; the power is a fit to what such machines come to",
)
def size_factor(
    size_ratio: Annotated[SI, Ratio("", "s", above=0, valid=(0.4, 2.5))],
    exponent: Annotated[SI, Ratio("", "n", at_least=0, at_most=4)],
) -> Annotated[SI, Ratio("", "f")]:
    """Factor by which a figure grows when the whole machine grows.

    The power is 3 for the mass of one shape, somewhat less for real machines, about 1.5 to 2
    for what is paid outside, and 0.7 to 1 for hours.
    """
    return size_ratio**exponent


@formula(
    r"f = 1 + q (r - 1)",
    source="common_practice, share that grows with length",
    limits="the rest of the machine left as it is",
    rises_with=("length_ratio",),
)
def length_factor(
    length_ratio: Annotated[SI, Ratio("", "r", above=0, valid=(0.5, 2))],
    share: Annotated[SI, Ratio("", "q", at_least=0, at_most=1)],
) -> Annotated[SI, Ratio("", "f")]:
    """Factor by which a figure grows when only the distance between centres grows."""
    return 1 + share * (length_ratio - 1)


@formula(
    r"p = \frac{C_b - C_u}{H_b - H_u}",
    source="definition",
    limits="building takes longer than buying and putting in order; a negative price means that building is cheaper too",
    rises_with=("build_money",),
    falls_with=("used_price",),
    requires={
        "Building must take more hours than buying used and putting in order.": lambda build_hours, used_hours: (
            build_hours > used_hours
        )
    },
)
def price_of_learning(
    build_money: Annotated[SI, Money("EUR", "C_b", at_least=0)],
    used_price: Annotated[SI, Money("EUR", "C_u", at_least=0)],
    build_hours: Annotated[SI, LabourTime("h", "H_b", above=0)],
    used_hours: Annotated[SI, LabourTime("h", "H_u", at_least=0)],
) -> Annotated[SI, HourPrice("EUR/h", "p")]:
    """What an hour of building costs more than having bought a used machine, if the learning is what it is for."""
    longer = build_hours - used_hours
    return (build_money - used_price) / np.where(longer > 0, longer, np.nan)[()]


def first_estimate(centre_height: Any, between_centres: Any) -> dict[str, Range]:
    """Low, likely and high of each of ``FIGURES`` from the size alone.

    ``centre_height`` and ``between_centres`` in metres, numbers or arrays that broadcast.
    Mass in kg, hours, money in the currency of the tables, the last two for a used machine
    of the size: its price, and the hours to put it in order.
    """
    ratio = between_centres / usual_length(centre_height)
    ends = iter(_at(_ENDS, centre_height))
    return {name: Range(*(next(ends) * length_factor.si(ratio, share) for _ in Range._fields)) for name, share in FIGURES.items()}


def usual_length(centre_height: Any) -> Any:
    """Distance between centres usual for a centre height, both in metres."""
    return _at(("between_centres_likely",), centre_height)[0]


def estimate_doubts(centre_height: Any, between_centres: Any) -> list[str]:
    """Sentences on sizes for which the first estimate was not made; empty if there are none."""
    said = []
    if words := outside_validity(centre_height, _GUESSED):
        said.append(f"the first estimate is a rough guide only: centre height {words}.")
    ratio = np.asarray(between_centres / usual_length(centre_height))
    if np.any(ratio < 0.5) or np.any(ratio > 2):
        said.append(
            "the first estimate is a rough guide only: between centres is less than half or more than twice what is usual for this centre height."
        )
    return said


def _at(columns: tuple[str, ...], centre_height: Any) -> np.ndarray:
    """Columns of the table of sizes at any centre height, by a power law between neighbours; shape (columns, *heights).

    Below the smallest and above the largest size the power of the last pair goes on.
    """
    sizes, figures, exponents = _powers(columns)
    below = np.searchsorted(sizes[1:-1], centre_height)
    return figures[:, below] * size_factor.si(centre_height / sizes[below], exponents[:, below])


@functools.cache
def _powers(columns: tuple[str, ...]) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Centre heights, columns at these (columns, sizes), and the powers between neighbours (columns, sizes - 1)."""
    rows = sorted(table("sizes").values(), key=lambda row: row["centre_height"])
    sizes = np.array([row["centre_height"] for row in rows])
    figures = np.array([[row[name] for row in rows] for name in columns])
    return sizes, figures, np.diff(np.log(figures)) / np.diff(np.log(sizes))
