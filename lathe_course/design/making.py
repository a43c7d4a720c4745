"""How the parts of a design are made, as the machine's chapters are given it.

Ways are resolved once for a design: those chosen, and where none is, those the list of parts would take.  While a decision
is swept they are held, so that what the machine does with a size stays one pass over arrays; a kept decision
resolves them afresh.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from ..planning.capabilities import BORROWED, OWN, Capability, Need
from ..planning.making import ON_THE_LATHE, Made, Making
from ..planning.parts import BORROW, HARD, MAKE, Part, Way
from ..tables import table

if TYPE_CHECKING:
    from .building import Building
    from .design import Design

#: what the chain resolves the ways by
_WAYS = frozenset({"ways_chosen"})


def making_of(design: Design) -> Making:
    """How every part and thing of a design is made; with other choices, as it would be if they were kept."""
    return _made(design, {})


def _made(design: Design, choices: Mapping[str, str]) -> Making:
    building = design.building
    chosen = design.chain.work_out(design.given(making=False) | dict(choices), design.replaced_figures(), wanted=_WAYS)[
        "ways_chosen"
    ]
    made = [made_by(building, building.parts[one.way.part], one.way, one.stage) for one in chosen]
    called = {one.part for one in made}
    spare = {part.name: part.only_if for part in building.parts if part.name not in called}
    return Making(
        (*made, *(Made(name, building.how_of(name)) for name in building.things if name not in called)),
        spare,
        lambda others: _made(design, others),
    )


def made_by(building: Building, part: Part, way: Way, stage: str = "") -> Made:
    """One part by one way: what work that takes, and how true the machines at hand are for it."""
    if way.how not in (MAKE, BORROW, HARD) and not way.needs:
        return Made(part.name, way.how, only_if=part.only_if)
    able = building.shop.of(OWN, BORROWED) if way.how == BORROW else building.shop.of(OWN)
    works = tuple(need.operation for need in way.needs)
    machines = tuple((need.operation, ratio) for need in way.needs if (ratio := _ratio(need, able)) != 1.0)
    return Made(part.name, way.how, (*works, ON_THE_LATHE) if stage else works, machines, part.only_if)


def _ratio(need: Need, able: Iterable[Capability]) -> float:
    """Error of the machine that does the work, over the usual of its kind; the usual where the lathe itself, or nobody, does it."""
    found = [one.accuracy for one in able if one.covers(need)]
    return round(min(found) / table("operations")[need.operation]["accuracy"].likely, 3) if found else 1.0
