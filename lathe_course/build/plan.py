"""From parts, shop and prices to the best mix of ways, and what would be worth changing."""
from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from ..units import InputProblem, number
from .capabilities import Capability, Shop
from .costs import Terms, money_per_hour_saved, whole_cost
from .feasible import Feasibility, feasible
from .mix import Choice, Choices, Mix, Wish, best
from .parts import PartsList
from .shops import Item, tools_for

__all__ = ["MachineWorth", "Offer", "choices_of", "send_out_first", "value_of", "why_no_mix", "worth_of_an_evening", "worth_of_hours", "worth_of_machines"]


def choices_of(found: Feasibility, items: Iterable[Item], shop: Shop, *, terms: Terms | None = None, hours_beside: float = 0.0,
               charged: bool = False, end: str = "likely") -> Choices:
    """What can be chosen, in figures: the open ways, the tools some of them call for, and what comes on top.

    ``hours_beside`` are the hours of tasks that belong to no part.  ``charged`` counts only
    the share of tools that other work does not carry.  ``end`` is low, likely or high.
    Raises InputProblem if some part cannot be had.
    """
    found.demand_all()
    terms = terms or Terms()
    always, sometimes = tools_for(tuple(items), shop)

    def price(item: Item) -> float:
        return getattr(item.charged if charged else item.money, end)

    made = []
    for one in found.open_ways:
        way = one.way
        hours = getattr(terms.hours_of(way), end) + (terms.stand_in if one.stage and found.parts[way.part].stand_in else 0.0)
        made.append(Choice(way.part, way.how, getattr(terms.money(way), end), hours, getattr(way.weeks, end),
                           frozenset(item.name for item in sometimes if item.serves_way(way)), one.borrowed, one.stage))
    return Choices(tuple(made), {item.name: price(item) for item in sometimes}, sum(map(price, always)),
                   hours_beside * terms.hours + sum(item.hours for item in always))


def why_no_mix(choices: Choices, wish: Wish) -> list[str]:
    """Why no mix keeps the bounds of a wish: the least each bound could be, or that they cannot be kept together.  Empty if one does."""
    if best(choices, wish) is not None:
        return []
    said = []
    sums = (("own hours", "h", "hours", wish.most_hours, Wish(hours=1.0)),
            ("money", "EUR", "money", wish.most_money, Wish(money=1.0)),
            ("the longest lead", "weeks", "weeks", wish.most_weeks, Wish(lead=1.0)))
    for name, unit, figure, bound, alone in sums:
        least = getattr(best(choices, alone), figure)
        if least > bound:
            said.append(f"{name} cannot come below {number(least)} {unit}, whatever is chosen; {number(bound)} {unit} were allowed.")
    if not said and best(choices, Wish(money=1.0, most_borrowed_hours=wish.most_borrowed_hours)) is None:
        said.append(f"some parts can only be had on borrowed machines, and {number(wish.most_borrowed_hours)} h on them are too few.")
    return said or ["each bound could be kept by itself, but not all of them together; ease one."]


def value_of(mix: Mix, hour_value: float, company: float = 0.0) -> float:
    """Money and own hours of a mix in one figure [EUR]."""
    return float(whole_cost.si(mix.money, mix.hours, hour_value)) - company * mix.borrowed_hours


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

    The rest of the mix stays as it is; a tool no longer called for is saved as well.
    """
    offers = []
    for part, ones in choices.of_part.items():
        better = []
        for one in ones:
            other = choices.mix(one if chosen.part == part else chosen for chosen in mix.chosen)
            if other.hours < mix.hours - 1e-9:
                price = float(money_per_hour_saved.si(other.money, mix.money, mix.hours, other.hours))
                better.append(Offer(part, mix.hows[part], one.how, other.money - mix.money, mix.hours - other.hours, one.weeks, price))
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
        """Value of one evening of so many hours on it, over the evenings the mix spends there; 0 if it is not used."""
        if not hours > 0:
            raise InputProblem([("evening", "an evening must last longer than nothing; write for example 2.5 h.")])
        return self.value * hours / self.hours_on_it if self.hours_on_it > 0 else 0.0


def worth_of_machines(parts: PartsList, shop: Shop, machines: Mapping[str, Iterable[Capability]], items: Iterable[Item], *, hour_value: float,
                      stages: Mapping[str, tuple[Capability, ...]] | None = None, wish: Wish | None = None, **counted) -> tuple[MachineWorth, ...]:
    """For each machine one might borrow, the best mix anew with it against the best without, the most valuable first.

    ``counted`` goes to ``choices_of``.  If without it no mix keeps the bounds of ``wish``, the
    value of a machine that opens one is infinite.
    """
    items, wanted = tuple(items), replace(wish or Wish(), money=1.0, hours=hour_value)

    def solved(at_hand: Shop) -> Mix | None:
        found = feasible(parts, at_hand, stages)
        return None if found.stuck else best(choices_of(found, items, at_hand, **counted), wanted)

    without = solved(shop)
    before = {one.way.name for one in feasible(parts, shop, stages).open_ways}      # a way open only now is one that takes the machine
    worths = []
    for name, capabilities in machines.items():
        capabilities = tuple(capabilities)
        mix = solved(shop.plus(*capabilities))
        hours_on_it = sum(one.hours for one in mix.chosen if f"{one.part}: {one.how}" not in before) if mix else 0.0
        if mix and without:
            figures = (without.money - mix.money, without.hours - mix.hours, value_of(without, hour_value) - value_of(mix, hour_value))
        else:
            figures = (float("inf"),) * 3 if mix else (0.0,) * 3
        worths.append(MachineWorth(name, mix, *figures, hours_on_it))
    return tuple(sorted(worths, key=lambda worth: -worth.value))


def worth_of_an_evening(choices: Choices, borrowed_hours: float, evening: float, hour_value: float, wish: Wish | None = None) -> float:
    """What one evening more on the borrowed machines saves in money and own hours together [EUR].

    ``borrowed_hours`` are those to be had over the whole build, ``evening`` the hours of one
    evening.  Infinite if only the added evening makes the build possible; NaN if even that does not.
    """
    if not (borrowed_hours >= 0 and evening > 0):
        raise InputProblem([("evening", "hours on borrowed machines cannot be less than none, and an evening must last longer than nothing.")])
    bounds = replace(wish or Wish(), money=1.0, hours=hour_value)
    now, then = (best(choices, replace(bounds, most_borrowed_hours=hours)) for hours in (borrowed_hours, borrowed_hours + evening))
    if then is None:
        return float("nan")
    return value_of(now, hour_value) - value_of(then, hour_value) if now else float("inf")


# --- one more hour a month ----------------------------------------------------------------------------------
def worth_of_hours(choices: Choices, hours_per_month: float, months: float, more: float = 1.0, wish: Wish | None = None) -> tuple[Mix | None, Mix | None, float]:
    """The cheapest mix done within ``months``, the same with ``more`` hours a month, and the money that saves per month.

    ``hours_per_month`` are those really kept.  Infinite if only the added hours make it
    possible at all; NaN if even they do not.
    """
    if not (hours_per_month > 0 and months > 0 and more > 0):
        raise InputProblem([("hours", "hours a month, months and the hours added must all be more than zero.")])
    bounds = replace(wish or Wish(), money=1.0, hours=0.0, lead=0.0)
    now, then = (best(choices, replace(bounds, most_hours=rate * months)) for rate in (hours_per_month, hours_per_month + more))
    if then is None:
        return now, then, float("nan")
    return now, then, (now.money - then.money) / months if now else float("inf")
