"""Several who build one lathe: what each has put in, and what one takes along who leaves.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

from ..formula import SI, formula, possible
from ..units import HourPrice, LabourTime, Money, Ratio


@formula(
    r"w = m + h\, p",
    source="common_practice, hours counted at an agreed rate",
    rises_with=("money", "hours", "hour_rate"),
    limits="an hour of one counts like an hour of another; agree on the rate before the first hour",
)
def put_in(
    money: Annotated[SI, Money("EUR", "m", at_least=0)],
    hours: Annotated[SI, LabourTime("h", "h", at_least=0)],
    hour_rate: Annotated[SI, HourPrice("EUR/h", "p", at_least=0)],
) -> Annotated[SI, Money("EUR", "w")]:
    """What a partner has put in: money, and hours at the agreed rate."""
    return money + hours * hour_rate


@formula(
    r"a = \frac{w}{W}",
    source="own_work, share of what was put in",
    rises_with=("own",),
    falls_with=("total",),
    limits="nothing else was agreed",
    requires={"one partner has not put in more than all together": lambda own, total: own <= total * (1 + 1e-9)},
)
def ownership_share(
    own: Annotated[SI, Money("EUR", "w", at_least=0)], total: Annotated[SI, Money("EUR", "W", above=0)]
) -> Annotated[SI, Ratio("%", "a")]:
    """Share of the lathe that belongs to a partner."""
    return possible(own <= total * (1 + 1e-9), own / total)


@formula(
    r"x = a\, V\, (1 - d)",
    source="own_work, share of the value less a discount",
    rises_with=("share", "value"),
    falls_with=("discount",),
    limits="those who stay can pay it; the discount is agreed beforehand, for an unfinished lathe sells badly",
)
def worth_on_leaving(
    share: Annotated[SI, Ratio("%", "a", at_least=0, at_most=100)],
    value: Annotated[SI, Money("EUR", "V", at_least=0)],
    discount: Annotated[SI, Ratio("%", "d", at_least=0, at_most=100)],
) -> Annotated[SI, Money("EUR", "x")]:
    """What a partner takes along who leaves before the end."""
    return share * value * (1 - discount)
