"""What the demo designs have at hand, and equipment that is bought for a build."""
from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ..nearest import nearest_or_all, nearest_or_stop
from ..ranges import Range
from ..tables import table
from ..units import InputProblem
from .capabilities import BORROWED, OWN, Shop, operation_names, read_capabilities
from .parts import MAKE, Way, course_parts

__all__ = ["SORTS", "Item", "Machine", "course_equipment", "demo_machines", "item_of", "machine_of", "shop_of", "tools_for"]

SORTS = ("tool", "used up", "accessory", "later accessory", "stand")


@dataclass(frozen=True)
class Machine:
    """One row of a shop.  ``hours`` a month and ``fee`` a month are those of a borrowed machine."""

    name: str
    whose: str
    can: str
    brings: tuple[str, ...] = ()
    hours: Range | None = None
    fee: float = 0.0
    remark: str = ""
    source: str = ""


@dataclass(frozen=True)
class Item:
    """Something bought beside the parts: money, the share of it that other work carries, own hours, and what it serves."""

    name: str
    sort: str
    money: Range
    other_uses: float
    hours: float
    serves: tuple[str, ...]
    remark: str = ""
    source: str = ""

    @property
    def charged(self) -> Range:
        """What this build is charged with."""
        return Range(*(end * (1 - self.other_uses) for end in self.money))

    def serves_way(self, way: Way) -> bool:
        """Does this way, worked here, call for the item?"""
        return way.name in self.serves or (way.how == MAKE and any(need.operation in self.serves for need in way.needs))


def _names(text: str) -> tuple[str, ...]:
    return tuple(filter(None, (name.strip() for name in text.split("+"))))


def machine_of(row: Mapping[str, Any], name: str) -> Machine:
    """A machine of a row of figures and texts, such as the table ``shops`` has."""
    whose = row["whose"].strip().lower()
    if whose not in (OWN, BORROWED):
        raise InputProblem([(name, f"{name}: whose is {row['whose']!r}; write own or borrowed.")])
    read_capabilities(row["can"], name, whose, f"{name}, can")
    return Machine(name, whose, row["can"], _names(row["brings"]), row["hours"], row["fee"] or 0.0, row["remark"], row["source"])


def shop_of(machines: tuple[Machine, ...]) -> Shop:
    """The shop these machines make."""
    return Shop(tuple(one for machine in machines for one in read_capabilities(machine.can, machine.name, machine.whose)),
                frozenset(name for machine in machines for name in machine.brings))


@functools.cache
def demo_machines(demo: str) -> tuple[Machine, ...]:
    """The invented shop of one demo design, such as 'boat_shed'."""
    title = demo.replace("_", " ")
    found = []
    for name, row in table("shops").items():
        whose, _, machine = name.partition(": ")
        if whose == title:
            found.append(machine_of(row, machine))
    if not found:
        known = dict.fromkeys(name.partition(": ")[0].replace(" ", "_") for name in table("shops"))
        raise InputProblem([("shop", f"there is no shop of {demo!r}; {nearest_or_all(demo, known)}")])
    return tuple(found)


# --- equipment ----------------------------------------------------------------------------------------
def item_of(row: Mapping[str, Any], name: str) -> Item:
    """An item of a row of figures and texts, such as the table ``equipment`` has."""
    if row["sort"] not in SORTS:
        raise InputProblem([(name, f"{name}: the sort is {row['sort']!r}; {nearest_or_all(row['sort'], SORTS)}")])
    serves = _names(row["serves"])
    for one in serves:
        if ": " not in one and one not in operation_names():
            raise InputProblem([(name, f"{name} serves {one!r}, which is no operation{nearest_or_stop(one, operation_names())}")])
    return Item(name, row["sort"], row["money"], row["other_uses"], row["hours"] or 0.0, serves, row["remark"], row["source"])


@functools.cache
def course_equipment() -> tuple[Item, ...]:
    """All items of the table ``equipment``."""
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
