"""What the demo designs have at hand, machines that may be bought for a build, and equipment that is bought beside the parts."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from ..nearest import nearest_or_all, nearest_or_stop
from ..ranges import Range
from ..tables import table
from ..units import InputProblem
from .capabilities import BORROWED, FOR_SALE, OWN, Shop, operation_names, read_capabilities
from .mix import NONE
from .parts import BUY, MAKE, USED, Way, course_parts, names_in
from .second_hand import FETCHING, course_finds

SORTS = ("tool", "used up", "accessory", "later accessory", "stand")
#: what may be done about a machine that is for sale
NOT, SELL, KEEP = NONE, "bought and sold again", "bought and kept"
#: a tool that somebody lends; nobody is lent one who has not asked, so no best mix takes it by itself
LENT = "lent to you"
#: own hours of finding a buyer, and of asking for a tool and taking it back; common practice, no source
_SELLING, _ASKING = 2.0, 1.0
_NOTHING = Range(0.0, 0.0, 0.0)


@dataclass(frozen=True)
class Machine:
    """One row of a shop.

    ``hours`` a month and ``fee`` a month are those of a borrowed machine; a fee nobody has
    written down is None.  ``price``, own ``order`` hours until it works, mean ``weeks`` until one turns up, the chance
    that it is ``no_good`` and the share ``other_uses`` that later projects carry are those of one for sale.
    """

    name: str
    whose: str
    can: str
    brings: tuple[str, ...] = ()
    hours: Range | None = None
    fee: float | None = 0.0
    price: Range | None = None
    order: float = 0.0
    weeks: float = 0.0
    no_good: float = 0.0
    other_uses: float = 0.0
    remark: str = ""
    source: str = ""

    def bought(self, how: str) -> Item:
        """What buying it comes to, to be kept or to be sold again."""
        return Item(
            self.name,
            "machine",
            self.price or _NOTHING,
            self.other_uses if how == KEEP else 0.0,
            self.order + (_SELLING if how == SELL else 0.0),
            (),
            how=how,
            weeks=self.weeks,
            no_good=self.no_good,
            remark=self.remark,
            source=self.source,
        )


@dataclass(frozen=True)
class Item:
    """Something bought beside the parts: money, the share of it that other work carries, own hours, and what it serves.

    ``second_hand`` is its sort among finds, or nothing.  ``how`` it comes; ``weeks`` is the mean wait for it and
    ``no_good`` the chance that it is of no use and another must be had.
    """

    name: str
    sort: str
    money: Range
    other_uses: float
    hours: float
    serves: tuple[str, ...]
    second_hand: str = ""
    how: str = BUY
    weeks: float = 0.0
    no_good: float = 0.0
    remark: str = ""
    source: str = ""

    @property
    def charged(self) -> Range:
        """What this build is charged with."""
        return Range(*(end * (1 - self.other_uses) for end in self.money))

    def serves_way(self, way: Way) -> bool:
        """Does this way, worked here, call for the item?"""
        return way.name in self.serves or (way.how == MAKE and any(need.operation in self.serves for need in way.needs))

    def by(self, how: str) -> Item:
        """The same thing new, second-hand or lent; new where nobody would look for it."""
        if how == LENT:
            return replace(self, how=LENT, money=_NOTHING, other_uses=0.0, hours=self.hours + _ASKING)
        if how != USED or not self.second_hand:
            return self
        find = course_finds()[self.second_hand]
        price = find.price(self.money)
        return replace(
            self,
            how=USED,
            money=Range(*(end * (1 + share) for end, share in zip(price, FETCHING))),
            hours=self.hours + sum(find.hours) / 3,
            weeks=find.weeks,
            no_good=find.no_good,
            remark=find.told(),
        )


def hows_of(thing: Item | Machine) -> tuple[str, ...]:
    """The ways in which a thing beside the parts can be had."""
    if isinstance(thing, Machine):
        return (NOT, SELL, KEEP)
    if not thing.second_hand:
        return (BUY,)
    return (BUY, USED, LENT) if thing.sort == "tool" else (BUY, USED)


def machine_of(row: Mapping[str, Any], name: str) -> Machine:
    """A machine of a row of figures and texts, such as the table ``shops`` has.

    Raises InputProblem where it is not said whose it is, and for a need that cannot be read.
    """
    whose = row["whose"].strip().lower()
    if whose not in (OWN, BORROWED, FOR_SALE):
        raise InputProblem.about(name, f"{name}: whose is {row['whose']!r}; write own, borrowed or for sale.")
    read_capabilities(row["can"], name, whose, f"{name}, can")
    for_sale = {key: row[key] or 0.0 for key in ("order", "weeks", "no_good", "other_uses") if key in row}
    fee = row["fee"] if whose == BORROWED else 0.0
    return Machine(
        name,
        whose,
        row["can"],
        names_in(row["brings"]),
        row["hours"],
        fee,
        row.get("price"),
        remark=row["remark"],
        source=row["source"],
        **for_sale,
    )


def shop_of(machines: Iterable[Machine], bought: Iterable[str] = ()) -> Shop:
    """The shop these machines make: one's own, the borrowed ones, and of those for sale the ones that are bought.

    What comes with a machine that is bought is not counted.
    """
    bought = frozenset(bought)
    at_hand = [machine for machine in machines if machine.whose != FOR_SALE or machine.name in bought]
    return Shop(
        tuple(
            one
            for machine in at_hand
            for one in read_capabilities(machine.can, machine.name, OWN if machine.whose == FOR_SALE else machine.whose)
        ),
        frozenset(name for machine in at_hand if machine.whose != FOR_SALE for name in machine.brings),
    )


@functools.cache
def machines_for_sale() -> tuple[Machine, ...]:
    """What may be bought used for a build, as the course has it."""
    return tuple(
        Machine(
            name,
            FOR_SALE,
            row["can"],
            price=row["price"],
            order=row["hours"],
            weeks=row["weeks"],
            no_good=row["no_good"],
            other_uses=row["other_uses"],
            remark=row["remark"],
            source=row["source"],
        )
        for name, row in table("machines_for_sale").items()
    )


@functools.cache
def demo_machines(demo: str) -> tuple[Machine, ...]:
    """The invented shop of one demo design, such as 'boat_shed', and what may be bought for it.

    Raises InputProblem for a demo that there is not.
    """
    title = demo.replace("_", " ")
    found = []
    for name, row in table("shops").items():
        whose, _, machine = name.partition(": ")
        if whose == title:
            found.append(machine_of(row, machine))
    if not found:
        known = dict.fromkeys(name.partition(": ")[0].replace(" ", "_") for name in table("shops"))
        raise InputProblem.about("shop", f"there is no shop of {demo!r}; {nearest_or_all(demo, known)}")
    return (*found, *machines_for_sale())


# --- equipment ----------------------------------------------------------------------------------------
def item_of(row: Mapping[str, Any], name: str) -> Item:
    """An item of a row of figures and texts, such as the table ``equipment`` has.

    Raises InputProblem for a sort or an operation that there is not.
    """
    if row["sort"] not in SORTS:
        raise InputProblem.about(name, f"{name}: the sort is {row['sort']!r}; {nearest_or_all(row['sort'], SORTS)}")
    serves = names_in(row["serves"])
    for one in serves:
        if ": " not in one and one not in operation_names():
            raise InputProblem.about(
                name, f"{name} serves {one!r}, which is no operation{nearest_or_stop(one, operation_names())}"
            )
    if row["second_hand"] and row["second_hand"] not in course_finds():
        raise InputProblem.about(
            name,
            f"{name}: {row['second_hand']!r} is no sort of second-hand things; {nearest_or_all(row['second_hand'], course_finds())}",
        )
    return Item(
        name,
        row["sort"],
        row["money"],
        row["other_uses"],
        row["hours"] or 0.0,
        serves,
        row["second_hand"],
        remark=row["remark"],
        source=row["source"],
    )


@functools.cache
def course_equipment() -> tuple[Item, ...]:
    """All items of the table ``equipment``. Raises ValueError for an item that serves nothing known."""
    ways = {way.name for way in course_parts().ways}
    found = tuple(item_of(row, name) for name, row in table("equipment").items())
    for item in found:
        if strange := [one for one in item.serves if ": " in one and one not in ways]:
            raise ValueError(f"table equipment: {item.name} serves {strange[0]!r}, which is no way of the table of ways")
    return found


def tools_for(items: tuple[Item, ...], shop: Shop, *, later: bool = False) -> tuple[tuple[Item, ...], tuple[Item, ...]]:
    """What must be bought in any case, and what only some ways call for; what the shop has is left out.

    ``later`` includes accessories that are not needed to finish.
    """
    wanted = tuple(item for item in items if item.name not in shop.equipment and (later or item.sort != "later accessory"))
    return tuple(item for item in wanted if not item.serves), tuple(item for item in wanted if item.serves)
