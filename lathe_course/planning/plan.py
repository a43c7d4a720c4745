"""What would be worth changing in a mix of ways: parts to send out, a machine at hand, an hour more a month."""

from __future__ import annotations

from dataclasses import dataclass, replace

from ..units import InputProblem
from .costs import money_per_hour_saved, whole_cost
from .mix import Choices, Mix, Wish, best


def value_of(mix: Mix, hour_value: float, company: float = 0.0) -> float:
    """Money in the end and own hours of a mix in one figure."""
    return float(whole_cost.si(mix.cost, mix.hours, hour_value)) - company * mix.borrowed_hours


# --- which part to send out first -------------------------------------------------------------------------
@dataclass(frozen=True)
class Offer:
    """One part got by another way: what it costs more, the own hours it saves, and the price of one of these."""

    part: str
    now: str
    instead: str
    money: float
    hours: float
    weeks: float
    per_hour: float


def send_out_first(choices: Choices, mix: Mix) -> tuple[Offer, ...]:
    """For each part the change that saves own hours at the least price, the cheapest hour first.

    The rest of the mix stays as it is; a tool no longer called for is saved as well, and machines stay bought or not.
    """
    offers = []
    here = set(mix.bought_machines)
    for part, ones in choices.of_part.items():
        better = []
        for one in ones:
            if one.sort != "part" or not all(call & here or choices.of_part[min(call)][0].sort == "tool" for call in one.calls):
                continue
            other = choices.mix(one if chosen.part == part else chosen for chosen in mix.chosen)
            if other.hours < mix.hours - 1e-9:
                price = float(money_per_hour_saved.si(other.cost, mix.cost, mix.hours, other.hours))
                better.append(
                    Offer(part, mix.hows[part], one.how, other.cost - mix.cost, mix.hours - other.hours, one.weeks, price)
                )
        if better:
            offers.append(min(better, key=lambda offer: offer.per_hour))
    return tuple(sorted(offers, key=lambda offer: offer.per_hour))


# --- which borrowed machine is worth most -----------------------------------------------------------------
@dataclass(frozen=True)
class MachineWorth:
    """What a machine at hand would change: the best mix with it, and how much less that costs in money, hours and both."""

    machine: str
    mix: Mix | None
    money: float
    hours: float
    value: float
    hours_on_it: float

    def per_evening(self, hours: float) -> float:
        """Value of one evening of so many hours on it, over the evenings the mix spends there; 0 if it is not used.

        Raises InputProblem for hours of zero or less.
        """
        if not hours > 0:
            raise InputProblem.about("evening", "an evening must last longer than nothing; write for example 2.5 h.")
        return self.value * hours / self.hours_on_it if self.hours_on_it > 0 else 0.0


# --- one more hour a month ----------------------------------------------------------------------------------
def worth_of_hours(
    choices: Choices, hours_per_month: float, months: float, more: float = 1.0, wish: Wish | None = None
) -> tuple[Mix | None, Mix | None, float]:
    """The cheapest mix done within ``months``, the same with ``more`` hours a month, and the money that saves per month.

    ``hours_per_month`` are those really kept.  Infinite if only the added hours make it
    possible at all; NaN if even they do not.
    Raises InputProblem for figures of zero or less.
    """
    if not (hours_per_month > 0 and months > 0 and more > 0):
        raise InputProblem.about("hours", "hours a month, months and the hours added must all be more than zero.")
    bounds = replace(wish or Wish(), money=1.0, hours=0.0, lead=0.0)
    now, then = (best(choices, replace(bounds, most_hours=rate * months)) for rate in (hours_per_month, hours_per_month + more))
    if then is None:
        return now, then, float("nan")
    return now, then, (now.cost - then.cost) / months if now else float("inf")
