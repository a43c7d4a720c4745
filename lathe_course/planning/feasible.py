"""Which ways are open: with one's own machines, with borrowed ones, and on the half-built lathe itself."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from ..units import InputProblem
from .capabilities import BORROWED, OWN, Capability, Lack, Need, Shop, lacking
from .parts import BORROW, MAKE, STAGES, PartsList, Way
from .precedence import needed

# What the half-built lathe can do, as shares of its own sizes; told for 75 by 300 mm.  Common practice, no source.
CHUCK_LENGTH = 120 / 300  # longest piece held in the chuck alone, of the distance between centres
DISC = 140 / 150  # largest disc, of the swing over the bed: room for the jaws and the chips
DISC_LENGTH = 40 / 75  # its thickness, of the centre height
BORING = (30 / 75, 100 / 300)  # bar driven by the spindle: diameter of the centre height, depth of the distance between centres
KEYWAY = 6 / 75  # width planed with the slide, of the centre height
MODULE = 1 / 75  # tooth module cut by a fly cutter in the spindle's own dividing, of the centre height
PITCH = 3 / 75  # coarsest pitch, of the centre height


def lathe_stages(
    centre_height: float,
    between_centres: float,
    swing_over_slide: float,
    accuracy: float = 0.01e-3,
    name: str = "the lathe being built",
) -> dict[str, tuple[Capability, ...]]:
    """What the half-built lathe can do at each stage, added to the stages before.

    Sizes [m]; ``accuracy`` [m] is what one may expect of it, best taken from the design.
    """
    chuck, tailstock, threads = STAGES

    def can(stage: str, operation: str, *size: float, rough: float = 1.0) -> Capability:
        return Capability(name, operation, size, accuracy * rough, stage)

    return {
        chuck: (
            can(chuck, "turning", swing_over_slide, CHUCK_LENGTH * between_centres),
            can(chuck, "turning", DISC * 2 * centre_height, DISC_LENGTH * centre_height),
            can(chuck, "boring", BORING[0] * centre_height, BORING[1] * between_centres),
            can(chuck, "keyways", KEYWAY * centre_height, rough=3),
        ),
        tailstock: (
            can(tailstock, "turning", swing_over_slide, between_centres),
            can(tailstock, "dividing", rough=3),
            can(tailstock, "gear cutting", MODULE * centre_height, rough=3),
        ),
        threads: (can(threads, "threading", PITCH * centre_height, rough=3),),
    }


@dataclass(frozen=True)
class OpenWay:
    """A way and what it leans on: own machines (``own``), borrowed ones (``borrowed``), or a stage of the lathe.

    ``lacks`` tells what is missing.  A borrowed way is ``spare`` where one's own machines do
    the same and that is a way of its own.  The way is open if nothing is missing, its price is
    known and it is not spare.  ``borrows`` names the borrowed machines it takes, ``leans`` the own ones that
    it needs; ``buys`` tells for each need that only a machine for sale would meet the names of those that do.
    """

    way: Way
    by: str
    lacks: tuple[Lack, ...] = ()
    spare: bool = False
    borrows: tuple[str, ...] = ()
    leans: frozenset[str] = frozenset()
    buys: tuple[frozenset[str], ...] = ()
    unpriced: tuple[str, ...] = ()  # money nobody has written down

    @property
    def open(self) -> bool:
        return not self.lacks and not self.spare and not self.unpriced

    @property
    def missing(self) -> bool:
        """Can it not be had at all as things stand?"""
        return bool(self.lacks or self.unpriced)

    @property
    def shortage(self) -> tuple[int, float]:
        """How far it is from being open: needs nobody covers and prices nobody knows, and the worst ratio of wanted to had."""
        ratios = [lack.nearest.shortage(lack.need) if lack.nearest else float("inf") for lack in self.lacks]
        return len(ratios) + len(self.unpriced), max(ratios, default=0.0)

    def missing_told(self, system: str = "mm") -> str:
        """'needs boring of 60 x 100 mm (nothing here does any boring)', or whose price nobody knows."""
        needs = f"needs {_listed([lack.told(system) for lack in self.lacks])}" if self.lacks else ""
        prices = (
            f"has no price for {_listed(list(self.unpriced))}: write it into your table, and 0 only where it costs nothing"
            if self.unpriced
            else ""
        )
        return " and ".join(filter(None, (needs, prices)))

    @property
    def borrowed(self) -> bool:
        """Does it take a borrowed machine?"""
        return self.way.how == BORROW and self.by != OWN

    @property
    def stage(self) -> str:
        """The stage of the lathe itself on which it is made, or nothing."""
        return self.by if self.by in STAGES else ""


@dataclass(frozen=True)
class Feasibility:
    """All ways of a list in its order, each with what it leans on or lacks."""

    parts: PartsList
    ways: tuple[OpenWay, ...]
    stages: tuple[str, ...]  # those the lathe reaches with the ways that are open
    buyable: tuple[
        OpenWay, ...
    ] = ()  # those that would be open, or open without waiting for the lathe, with machines that are for sale

    @property
    def open_ways(self) -> tuple[OpenWay, ...]:
        return tuple(one for one in self.ways if one.open)

    def of(self, part: str) -> tuple[OpenWay, ...]:
        """The ways of one part."""
        return self._by_part.get(part, ())

    @functools.cached_property
    def _by_part(self) -> dict[str, tuple[OpenWay, ...]]:
        found: dict[str, list[OpenWay]] = {}
        for one in self.ways:
            found.setdefault(one.way.part, []).append(one)
        return {part: tuple(ways) for part, ways in found.items()}

    @property
    def stuck(self) -> tuple[str, ...]:
        """Parts no way can make."""
        able = {one.way.part for one in self.open_ways}
        return tuple(part.name for part in self.parts if part.name not in able)

    @property
    def on_the_lathe(self) -> tuple[str, ...]:
        """Parts that could be made on the lathe itself, and by no other machine at hand."""
        by_stage = {one.way.part for one in self.open_ways if one.stage}
        return tuple(part.name for part in self.parts if part.name in by_stage)

    def told(self, system: str = "mm") -> list[str]:
        """For each part no way can make: what the two ways lack that come nearest."""
        said = []
        for name in self.stuck:
            near = sorted(self.of(name), key=lambda one: one.shortage)[:2]
            ways = [f"{one.way.how!r} {one.missing_told(system)}" for one in near]
            said.append(f"the {name} cannot be had: {'; '.join(ways) if ways else 'no way to get it is left'}.")
        return said

    def demand_all(self) -> None:
        """InputProblem if some part cannot be had, not even with a machine that is for sale."""
        able = {one.way.part for one in self.buyable}
        told = [(name, said) for name, said in zip(self.stuck, self.told()) if name not in able]
        if told:
            raise InputProblem(told, heading="Some parts cannot be had:")


def feasible(
    parts: PartsList,
    shop: Shop,
    stages: Mapping[str, tuple[Capability, ...]] | None = None,
    closed: Iterable[str] = (),
    for_sale: Iterable[Capability] = (),
    bought: Iterable[str] = (),
    no_fee: Iterable[str] = (),
) -> Feasibility:
    """Every way of the list, with what it leans on or lacks.

    Own machines come first, then the earliest stage of the lathe itself that serves and does
    not need the part.  A borrowed way takes borrowed machines beside both.  A stage opens only if each
    part it needs can be had without it.  ``closed`` names ways that cannot be had here at all,
    such as 'made outside' where nobody works to order; ``for_sale`` is what machines could do that may be bought, ``bought`` names
    own ones that were bought for this build: who goes to a borrowed machine all the same goes for what could not be done before.  ``no_fee``
    names borrowed machines whose fee nobody has written down.
    """
    closed, offered, no_fee, bought = frozenset(closed), dict(stages or {}), frozenset(no_fee), frozenset(bought)
    waits = needed(parts)
    reached: list[str] = []
    own, lent, sold = shop.of(OWN), shop.of(BORROWED), tuple(for_sale)
    before = tuple(one for one in own if one.machine not in bought)
    both = (*before, *lent)

    def look(way: Way) -> OpenWay:
        if way.how == BORROW:
            return borrowing(way)
        lacks = first = lacking(way.needs, own)
        if not lacks:
            return OpenWay(way, OWN if way.needs else "", leans=_machines(way.needs, own), unpriced=way.unpriced)
        able = own
        for stage in reached:
            if way.part in waits[stage]:
                break  # a later stage needs whatever an earlier one does
            able = (*able, *offered.get(stage, ()))
            lacks = lacking(way.needs, able)
            if not lacks:
                return OpenWay(way, stage, leans=_machines(way.needs, own), unpriced=way.unpriced)
        return OpenWay(way, "", lacks if len(lacks) < len(first) else first, unpriced=way.unpriced)

    def borrowing(way: Way) -> OpenWay:
        here = not lacking(way.needs, before)
        # what one's own machines do as well is done at the borrowed one all the same: that is what the way says
        takes = _machines(way.needs if here else [lack.need for lack in lacking(way.needs, before)], lent)
        spare = not lacking(way.needs, own)
        known: dict[str, Any] = {
            "borrows": tuple(sorted(takes)),
            "unpriced": (*way.unpriced, *(f"the {name}" for name in sorted(takes & no_fee))),
        }
        lacks = first = lacking(way.needs, both)
        if not lacks:
            return OpenWay(way, BORROWED if takes or not here else OWN, spare=spare, **known)
        able, alone = both, own
        for stage in reached:
            if way.part in waits[stage]:
                break
            able, alone = ((*machines, *offered.get(stage, ())) for machines in (able, alone))
            lacks = lacking(way.needs, able)
            if not lacks:
                return OpenWay(way, stage, spare=not lacking(way.needs, alone), **known)
        return OpenWay(way, "", lacks if len(lacks) < len(first) else first, **known)

    ways = [way for way in parts.ways if way.how not in closed]
    for stage, names in waits.items():
        if not all(any(look(way).open for way in ways if way.part == name) for name in names):
            break
        reached.append(stage)
    looked = [look(way) for way in ways]
    here = {one.way.part for one in looked if one.open and one.way.how == MAKE}
    return Feasibility(
        parts,
        tuple(replace(one, spare=False) if one.spare and one.way.part not in here else one for one in looked),
        tuple(reached),
        tuple(filter(None, (_with_bought(one.way, own, sold) for one in looked))) if sold else (),
    )


def _with_bought(way: Way, own: tuple[Capability, ...], sold: tuple[Capability, ...]) -> OpenWay | None:
    """The way with machines bought for what one's own cannot do; None where that needs none, or where none does."""
    lacks = lacking(way.needs, own)
    if way.how == BORROW or way.unpriced or not lacks:
        return None
    serving = tuple(frozenset(one.machine for one in sold if one.covers(lack.need)) for lack in lacks)
    return OpenWay(way, OWN, leans=_machines(way.needs, own), buys=tuple(dict.fromkeys(serving))) if all(serving) else None


def _machines(needs: Iterable[Need], able: Iterable[Capability]) -> frozenset[str]:
    """The first machine for each need that one of these meets."""
    return frozenset(next((one.machine for one in able if one.covers(need)), "") for need in needs) - {""}


def _listed(pieces: list[str]) -> str:
    return " and ".join([", ".join(pieces[:-1]), pieces[-1]] if len(pieces) > 1 else pieces)
