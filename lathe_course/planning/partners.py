"""Several who build one lathe: what each has put in, and what one takes along who leaves.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from ..formula import formula, possible
from ..units import HourPrice, LabourTime, Money, Ratio

__all__ = ["ownership_share", "put_in", "worth_on_leaving"]


@formula(
    r"w = m + h\, p",
    source="common_practice, hours counted at an agreed rate",
    rises_with=("money", "hours", "hour_rate"),
    limits="an hour of one counts like an hour of another; agree on the rate before the first hour",
)
def put_in(
    money: Money("EUR", "m", at_least=0), hours: LabourTime("h", "h", at_least=0), hour_rate: HourPrice("EUR/h", "p", at_least=0)
) -> Money("EUR", "w"):
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
def ownership_share(own: Money("EUR", "w", at_least=0), total: Money("EUR", "W", above=0)) -> Ratio("%", "a"):
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
    share: Ratio("%", "a", at_least=0, at_most=100),
    value: Money("EUR", "V", at_least=0),
    discount: Ratio("%", "d", at_least=0, at_most=100),
) -> Money("EUR", "x"):
    """What a partner takes along who leaves before the end."""
    return share * value * (1 - discount)
