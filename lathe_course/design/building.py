"""What there is to build with: the parts and their ways, the shop, what is bought beside, the tasks, and the way chosen for each part.

A design carries one such value.  It begins as the course's own lists for the demo it was
started from; a learner's own sheets take their place, sheet by sheet.
"""
from __future__ import annotations

import functools
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from ..build.capabilities import Shop, with_skill
from ..build.feasible import Feasibility, OpenWay, feasible, lathe_stages
from ..build.parts import PartsList, course_parts
from ..build.scaling import scaled
from ..build.shops import Item, Machine, course_equipment, demo_machines, shop_of
from ..build.tasks import Task, course_tasks

__all__ = ["Building", "building_of"]

_SHOPS = ("boat_shed", "cabin", "shared_barn")
Choices = tuple[tuple[str, str], ...]


@dataclass(frozen=True, eq=False)
class Building:
    """Lists of one build; nothing in it changes.  Two are alike only if they are the same."""

    parts: PartsList
    machines: tuple[Machine, ...]
    items: tuple[Item, ...]
    tasks: tuple[Task, ...]
    ways: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    def with_ways(self, ways: Mapping[str, str]) -> Building:
        """The same lists with other ways chosen."""
        return replace(self, ways=MappingProxyType(dict(ways)))

    # --- worked out once -----------------------------------------------------------------------------
    @functools.cached_property
    def parts_for(self) -> Callable[[Choices], PartsList]:
        """The parts a design calls for, by its choices: pairs of name and option as in ``build.parts.CHOICES``."""
        return functools.lru_cache(maxsize=64)(lambda choices: self.parts.for_design(dict(choices)))

    @functools.cached_property
    def shop(self) -> Shop:
        """Everything that can be used, own and borrowed."""
        return shop_of(self.machines)

    def shop_with(self, skill_factor: float) -> Shop:
        """The same in hands that attain so many times the usual error."""
        return replace(self.shop, capabilities=with_skill(self.shop.capabilities, skill_factor))

    def open_ways(self, choices: Choices, centre_height: float, between_centres: float, swing_over_slide: float, accuracy: float,
                  skill_factor: float = 1.0) -> Feasibility:
        """Which ways are open at this size [m].

        ``accuracy`` [m] is what one may expect of the lathe itself when it makes its own parts.
        """
        # to a hundredth of a millimetre, so that a slider that comes back finds its answer ready
        return self._open_ways(choices, *(round(float(size), 5) for size in (centre_height, between_centres, swing_over_slide, accuracy)),
                               round(float(skill_factor), 3))

    @functools.cached_property
    def _open_ways(self) -> Callable[..., Feasibility]:
        @functools.lru_cache(maxsize=512)
        def found(choices: Choices, height: float, length: float, swing: float, accuracy: float, skill_factor: float) -> Feasibility:
            stages = lathe_stages(height, length, swing, max(accuracy, 1e-6))
            return feasible(scaled(self.parts_for(choices), height, length), self.shop_with(skill_factor), stages)
        return found

    def chosen(self, found: Feasibility) -> tuple[OpenWay, ...]:
        """The way of each part: the one that was chosen, open or not; the cheapest that is open where none was."""
        return tuple(_chosen(found.of(part.name), self.ways.get(part.name, "")) for part in found.parts)


def _chosen(ways: tuple[OpenWay, ...], how: str) -> OpenWay:
    wanted = [one for one in ways if one.way.how == how]
    if wanted:
        return wanted[0]
    return min([one for one in ways if one.open] or ways, key=lambda one: (one.way.money.likely, one.way.hours.likely))


@functools.cache
def building_of(demo: str) -> Building:
    """The course's own lists with the invented shop of a demo; of the first one for a name that is none."""
    if demo not in _SHOPS:
        return building_of(_SHOPS[0])
    return Building(course_parts(), demo_machines(demo), course_equipment(), course_tasks())
