"""Is the build still on course: value earned, hours worked, and what is left.

Value is counted in planned hours of parts that are accepted; a part half finished earns nothing.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula
from ..ranges import as_figure
from ..units import Count, HoursRate, LabourTime, Months, Ratio

Budget = Annotated[SI, LabourTime("h", "B", above=0)]
Earned = Annotated[SI, LabourTime("h", "E", at_least=0)]
Worked = Annotated[SI, LabourTime("h", "A", at_least=0)]
_MOST = 100


@formula(
    r"r = \frac{E}{A}",
    source="pmbok, cost performance index",
    limits="parts half finished earn nothing",
    rises_with=("earned",),
    falls_with=("worked",),
)
def hours_index(earned: Earned, worked: Annotated[SI, LabourTime("h", "A", above=0)]) -> Annotated[SI, Ratio("", "r")]:
    """Planned hours of what is accepted over the hours it took: below 1 the work takes longer than planned."""
    return earned / worked


@formula(
    r"s = \frac{E}{V}",
    source="pmbok, schedule performance index",
    limits="says nothing near the end, when all is earned",
    rises_with=("earned",),
    falls_with=("planned",),
)
def schedule_index(earned: Earned, planned: Annotated[SI, LabourTime("h", "V", above=0)]) -> Annotated[SI, Ratio("", "s")]:
    """Planned hours of what is accepted over what was to be accepted by today: below 1 the build is late."""
    return earned / planned


@formula(
    r"r = \frac{E + w\, r_0}{A + w}",
    source="own_work, experience counted as hours already worked",
    rises_with=("earned", "prior"),
    falls_with=("worked",),
    limits="rests on experience at first and on your own record later; the weight is judged",
)
def eased_index(
    earned: Earned,
    worked: Worked,
    prior: Annotated[SI, Ratio("", "r_0", above=0, at_most=2)] = 0.8,
    weight: Annotated[SI, LabourTime("h", "w", above=0)] = 60,
) -> Annotated[SI, Ratio("", "r")]:
    """The same index before there is much to go by: it starts from what first builds come to and learns from your own."""
    return (earned + weight * prior) / (worked + weight)


@formula(
    r"H = \frac{B}{r}",
    source="pmbok, estimate at completion",
    limits="what is left goes as what is done",
    rises_with=("budget",),
    falls_with=("index",),
)
def forecast_hours(budget: Budget, index: Annotated[SI, Ratio("", "r", above=0)]) -> Annotated[SI, LabourTime("h", "H")]:
    """Hours the whole will have taken if the rest goes as the work so far."""
    return budget / index


@formula(
    r"r_z = \frac{B - E}{B - A}",
    source="pmbok, to-complete performance index",
    rises_with=("worked",),
    falls_with=("earned",),
    limits="hours left in the budget, and something left to earn",
    requires={
        "more hours are worked than the budget holds": lambda budget, worked: worked < budget,
        "no more can be earned than the budget": lambda budget, earned: earned <= budget,
    },
)
def index_to_come(budget: Budget, earned: Earned, worked: Worked) -> Annotated[SI, Ratio("", "r_z")]:
    """How well the rest would have to go for the budget to suffice after all."""
    fits = (worked < budget) & (earned <= budget)
    return np.where(fits, (budget - earned) / np.where(fits, budget - worked, 1.0), np.nan)


@formula(
    r"t = \frac{B - E}{r\, h}",
    source="own_work, what is left over what a month gives",
    rises_with=("budget",),
    falls_with=("index", "hours_per_month"),
    limits="hours govern, not money or deliveries; months without work are in the hours a month",
    requires={"no more can be earned than the budget": lambda budget, earned: earned <= budget},
)
def months_left(
    budget: Budget,
    earned: Earned,
    index: Annotated[SI, Ratio("", "r", above=0)],
    hours_per_month: Annotated[SI, HoursRate("h/month", "h", above=0)],
) -> Annotated[SI, Months("months", "t")]:
    """Months until all is earned."""
    return np.where(earned <= budget, (budget - earned) / (index * hours_per_month), np.nan)


@formula(
    r"t_n = t_1\, n^{\ln q / \ln 2}",
    source="heizer_render, learning curve",
    falls_with=("number",),
    rises_with=("first_hours",),
    limits="alike pieces one after the other by the same hands; each doubling of the number takes the same share",
)
def unit_hours(
    first_hours: Annotated[SI, LabourTime("h", "t_1", at_least=0)],
    number: Annotated[SI, Count("", "n", at_least=1, at_most=_MOST, whole=True)],
    learning: Annotated[SI, Ratio("%", "q", above=0, at_most=100)],
) -> Annotated[SI, LabourTime("h", "t_n")]:
    """Hours for the n-th of a row of alike pieces."""
    return first_hours * number ** np.log2(learning)


@formula(
    r"T = t_1 \left(1 + 2^{\ln q / \ln 2} + \quad\mathrm{...}\quad + n^{\ln q / \ln 2}\right)",
    source="heizer_render, learning curve",
    rises_with=("first_hours", "number"),
    limits="alike pieces one after the other by the same hands; each doubling of the number takes the same share",
)
def total_of_repeats(
    first_hours: Annotated[SI, LabourTime("h", "t_1", at_least=0)],
    number: Annotated[SI, Count("", "n", at_least=1, at_most=_MOST, whole=True)],
    learning: Annotated[SI, Ratio("%", "q", above=0, at_most=100)],
) -> Annotated[SI, LabourTime("h", "T")]:
    """Hours for a whole row of alike pieces, such as a set of change gears."""
    pieces = np.arange(1.0, _MOST + 1)
    each = pieces ** np.log2(np.asarray(learning, float)[..., None])
    return as_figure(first_hours * np.where(pieces <= np.asarray(number)[..., None] + 0.5, each, 0.0).sum(axis=-1))
