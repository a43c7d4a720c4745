"""What there is to build with: the parts and their ways, the shop, what is bought beside, the tasks, and the way chosen for each part.

A design carries one such value.  It begins as the course's own lists for the demo it was
started from; a learner's own sheets take their place, sheet by sheet.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from ..nearest import nearest_or_all
from ..planning.capabilities import FOR_SALE, Capability, Shop, read_capabilities, with_skill
from ..planning.costs import Prices
from ..planning.feasible import Feasibility, OpenWay, feasible, lathe_stages
from ..planning.layout import Layout, layout
from ..planning.log import TOOLS
from ..planning.parts import USED, PartsList, course_parts
from ..planning.precedence import Moment, order_of_work
from ..planning.reach import Reach
from ..planning.scaling import Columns, columns, scaled
from ..planning.shops import NOT, Item, Machine, course_equipment, demo_machines, hows_of, shop_of, tools_for
from ..planning.stock import Bars, course_bars
from ..planning.tasks import Task, course_tasks
from ..units import InputProblem
from .at_hand import machines_at_hand
from .origins import demo_written

_SHOPS = ("boat_shed", "cabin", "shared_barn")
Choices = tuple[tuple[str, str], ...]


#: most answers kept ready of each question about lists
_KEPT = 256


@dataclass(frozen=True, eq=False)
class Building:
    """Lists of one build; nothing in it changes.  Two are alike only if they are the same."""

    parts: PartsList
    machines: tuple[Machine, ...]
    items: tuple[Item, ...]
    tasks: tuple[Task, ...]
    prices: Prices = field(default_factory=Prices)
    bars: tuple[Bars, ...] = field(default_factory=course_bars)
    ways: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    taken_over: frozenset[str] = frozenset()  # parts whose way is a demo's, which nobody has chosen for this lathe
    _lists: Building | None = field(
        default=None, init=False, repr=False
    )  # the first with the same lists, whatever ways were chosen since

    def with_ways(self, ways: Mapping[str, str], taken_over: Iterable[str] | None = None) -> Building:
        """The same lists with other ways chosen; ``taken_over`` names those that nobody has chosen for this lathe."""
        made = replace(
            self, ways=MappingProxyType(dict(ways)), taken_over=self.taken_over if taken_over is None else frozenset(taken_over)
        )
        object.__setattr__(made, "_lists", self.lists)
        return made

    @property
    def lists(self) -> Building:
        """One building for all choices of ways among the same lists: what rests on the lists alone is worked out once for it."""
        return self._lists or self

    def parts_for(self, choices: Choices) -> PartsList:
        """The parts a design calls for, by its choices: pairs of name and option as in ``planning.parts.CHOICES``."""
        return _parts_for(self.lists, choices)

    @functools.cached_property
    def names(self) -> tuple[str, ...]:
        """What a line of the log may be booked to: every part of the list, every task, every tool, and tools that are not named."""
        return tuple(
            dict.fromkeys([*(part.name for part in self.parts), *(task.name for task in self.tasks), TOOLS, *self.things])
        )

    # --- what is bought beside the parts ---------------------------------------------------------------
    @functools.cached_property
    def for_sale(self) -> tuple[Machine, ...]:
        """Machines that may be bought; one without a price is not among them, for nobody can weigh it."""
        return tuple(machine for machine in self.machines if machine.whose == FOR_SALE and machine.price is not None)

    @functools.cached_property
    def bought(self) -> tuple[str, ...]:
        """Names of the machines for sale that are bought."""
        return tuple(machine.name for machine in self.for_sale if self.ways.get(machine.name, NOT) != NOT)

    @functools.cached_property
    def shop(self) -> Shop:
        """Everything that can be used: own, borrowed, and what is bought for the build."""
        return shop_of(self.machines, self.bought)

    def with_nothing_bought(self) -> Building:
        """The same lists before any machine is bought."""
        return self.with_ways({name: how for name, how in self.ways.items() if name not in self.bought}) if self.bought else self

    @functools.cached_property
    def things(self) -> dict[str, tuple[str, ...]]:
        """The ways of each thing beside the parts: equipment, and machines that are for sale."""
        return {one.name: hows_of(one) for one in (*self.items, *self.for_sale)}

    def check_way(self, name: str, how: str) -> None:
        """InputProblem where a part or thing of this name cannot come so, with what there is."""
        known = self.things.get(name)
        if known is None:
            self.parts[name].way(how)
        elif how not in known:
            raise InputProblem.about(name, f"the {name} cannot be had {how!r}; {nearest_or_all(how, known)}")

    def how_of(self, thing: str) -> str:
        """The way of a thing: the one chosen, or the first there is."""
        known = self.things[thing]
        how = self.ways.get(thing, known[0])
        return how if how in known else known[0]

    def tools(self, later: bool = False) -> tuple[tuple[Item, ...], tuple[Item, ...]]:
        """What must be bought in any case, and what only some ways call for, each by the way chosen for it."""
        return tuple(
            tuple(item.by(self.how_of(item.name)) for item in items) for items in tools_for(self.items, self.shop, later=later)
        )

    @functools.cached_property
    def machines_bought(self) -> tuple[Item, ...]:
        """Machines bought for the build, as things that are paid for."""
        return tuple(machine.bought(self.how_of(machine.name)) for machine in self.for_sale if machine.name in self.bought)

    @functools.cached_property
    def _sold(self) -> tuple[Capability, ...]:
        """What the machines for sale can do that are not bought."""
        return _sold(self.for_sale, self.bought)

    @functools.cached_property
    def _no_fee(self) -> tuple[str, ...]:
        return tuple(machine.name for machine in self.machines if machine.fee is None)

    # --- what can be made where ------------------------------------------------------------------------
    def reach(self, choices: Choices) -> Reach:
        """The needs of the parts a design calls for, held against the shop and what is for sale."""
        return _reach(self.lists, choices, self.bought)

    def ways_told(
        self,
        choices: Choices,
        sizes: Mapping[str, float],
        powers: Mapping[str, float],
        swing_over_slide: float,
        accuracy: float,
        skill_factor: float,
    ) -> Feasibility:
        """The same ways with figures and needs at the sizes of one design, to be shown.

        ``sizes`` by name as in ``scaling.logs_of``, ``powers`` by law; ``accuracy`` [m] is what one may expect of the lathe itself when it makes its own
        parts, ``skill_factor`` the error of these hands over the usual one.
        """
        return _told(
            self.lists,
            choices,
            self.bought,
            tuple(sizes.items()),
            tuple(powers.items()),
            swing_over_slide,
            accuracy,
            skill_factor,
        )

    def chosen(self, found: Feasibility) -> tuple[OpenWay, ...]:
        """The way of each part: the one that was chosen, open or not; where none was, the cheapest that is open, by the figures of the list.

        A way that was only taken over from a demo gives place where it cannot be had at this size.
        """
        return tuple(
            _chosen(found.of(part.name), self.ways.get(part.name, ""), part.name in self.taken_over) for part in found.parts
        )

    def columns_of(self, parts: PartsList, ways: Iterable[OpenWay]) -> Columns:
        """Figures of some ways at the size of the list, as arrays."""
        return _columns_of(parts, tuple((one.way.part, one.way.how) for one in ways))

    def laid_out(self, parts: PartsList, ways: Iterable[OpenWay]) -> Layout:
        """Parts and tasks as a network, with the parts that the half-built lathe makes for itself."""
        return _laid_out(self.lists, parts, _stages(ways))

    def order_of(self, parts: PartsList, ways: Iterable[OpenWay]) -> tuple[Moment, ...]:
        """Parts and stages in an order that can be worked: what the first chips need comes first, the rest task by task."""
        return _order_of(self.lists, parts, _stages(ways))


# --- worked out once for the same lists ------------------------------------------------------------------
@functools.lru_cache(maxsize=_KEPT)
def _parts_for(lists: Building, choices: Choices) -> PartsList:
    return lists.parts.for_design(dict(choices))


def _sold(for_sale: Iterable[Machine], bought: tuple[str, ...]) -> tuple[Capability, ...]:
    return tuple(
        one
        for machine in for_sale
        if machine.name not in bought
        for one in read_capabilities(machine.can, machine.name, FOR_SALE)
    )


@functools.lru_cache(maxsize=_KEPT)
def _reach(lists: Building, choices: Choices, bought: tuple[str, ...]) -> Reach:
    return Reach(
        _parts_for(lists, choices), shop_of(lists.machines, bought), _sold(lists.for_sale, bought), bought, lists._no_fee
    )


@functools.lru_cache(maxsize=_KEPT)
def _told(
    lists: Building,
    choices: Choices,
    bought: tuple[str, ...],
    sizes: tuple[tuple[str, float], ...],
    powers: tuple[tuple[str, float], ...],
    swing_over_slide: float,
    accuracy: float,
    skill_factor: float,
) -> Feasibility:
    at, shop = dict(sizes), shop_of(lists.machines, bought)
    stages = lathe_stages(at["centre_height"], at["between_centres"], swing_over_slide, accuracy)
    able = replace(shop, capabilities=with_skill(shop.capabilities, skill_factor))
    return feasible(
        scaled(_parts_for(lists, choices), at, dict(powers)),
        able,
        stages,
        for_sale=with_skill(_sold(lists.for_sale, bought), skill_factor),
        bought=bought,
        no_fee=lists._no_fee,
    )


@functools.lru_cache(maxsize=_KEPT)
def _columns_of(parts: PartsList, ways: Choices) -> Columns:
    return columns(parts, (parts[part].way(how) for part, how in ways))


@functools.lru_cache(maxsize=_KEPT)
def _laid_out(lists: Building, parts: PartsList, stages: Choices) -> Layout:
    return layout(parts, lists.tasks, dict(stages))


@functools.lru_cache(maxsize=_KEPT)
def _order_of(lists: Building, parts: PartsList, stages: Choices) -> tuple[Moment, ...]:
    return order_of_work(parts, dict(stages), [task.name for task in lists.tasks])


def _stages(ways: Iterable[OpenWay]) -> tuple[tuple[str, str], ...]:
    """Parts made on the lathe itself, with the stage."""
    return tuple((one.way.part, one.stage) for one in ways if one.stage)


def _chosen(ways: tuple[OpenWay, ...], how: str, gives_place: bool = False) -> OpenWay:
    wanted = [one for one in ways if one.way.how == how and not (gives_place and one.missing)]
    if wanted:
        return wanted[0]
    # nobody is sent searching who has not chosen to
    return min(
        [one for one in ways if one.open and one.way.how != USED] or [one for one in ways if one.open] or ways,
        key=lambda one: (one.way.money.likely, one.way.hours.likely),
    )


def note_of(part: str) -> str:
    """Under which name the reason for the way of a part stands among the notes of a design."""
    return f"way of the {part}"


@functools.cache
def ways_of_demo(demo: str) -> Mapping[str, str]:
    """The ways that a demo chose; none for a name that is no demo."""
    return MappingProxyType(dict(demo_written(demo).get("ways", {})))


@functools.cache
def building_of(demo: str, machines: str = "") -> Building:
    """The course's own lists with the machines that were ticked, or else the invented shop of a demo; of the first one for a name that is none."""
    if machines:
        return Building(course_parts(), machines_at_hand(machines), course_equipment(), course_tasks())
    if demo not in _SHOPS:
        return building_of(_SHOPS[0])
    return Building(course_parts(), demo_machines(demo), course_equipment(), course_tasks())
