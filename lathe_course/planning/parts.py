"""The parts of a lathe and the ways each can be got, as values nothing changes.

The course's own list stands in the tables ``parts`` and ``ways``; a learner's own may take
its place.  A row may be meant for one choice of the design only (``only_if``), so that the
list follows the form of the bed, the bearings, the drive, and whether threads are cut.
"""

from __future__ import annotations

import fnmatch
import functools
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any, Self

from ..nearest import nearest_or_all, nearest_or_stop
from ..ranges import Range
from ..tables import table
from ..units import InputProblem
from .capabilities import Need, read_needs
from .drivers import Reference, read_references, references_of
from .second_hand import FETCHING, find_for

#: the ways, told as people say them
MAKE, HARD, OUT, BUY, BORROW, USED = HOWS = (
    "make it here",
    "hard faces outside, the rest here",
    "made outside",
    "bought",
    "on a borrowed machine",
    "second-hand or salvaged",
)
#: what the half-built lathe can do, one stage after the other
STAGES = ("turning in the chuck", "turning with the tailstock", "cutting threads")
#: choices of a design a row may ask for, all plain words; both reductions and threading are yes or no
CHOICES = (
    "bed_form",
    "bearing_kind",
    "drive_kind",
    "countershaft",
    "back_gear",
    "top_of_slide",
    "feed_drive",
    "threading",
    "nose_kind",
    "toolpost_kind",
    "stop_gear",
    "chuck_guard",
    "controller_box",
    "leakage_device",
    "coolant",
    "parting_from",
    "dividing",
    "collets",
    "hand_rest",
)


@dataclass(frozen=True)
class Way:
    """One way to get a part.  Hours are one's own; money is split so that local prices can move it; weeks are plain numbers.

    Second-hand, ``weeks`` are those of an average search, and ``rework`` is the chance that the find is of no use.
    ``unpriced`` names the money that nobody has written down: it counts as nothing in sums, and the way is not open.
    """

    part: str
    how: str
    hours: Range
    material: Range
    outside: Range
    carriage: Range
    weeks: Range
    needs: tuple[Need, ...] = ()
    rework: float = 0.0
    remark: str = ""
    source: str = ""
    unpriced: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        return f"{self.part}: {self.how}"

    @functools.cached_property
    def money(self) -> Range:
        """Material, other people's work and carriage together."""
        return Range(*(sum(ends) for ends in zip(self.material, self.outside, self.carriage)))


@dataclass(frozen=True)
class Part:
    """One part: masses in kg, the size its figures are meant for in m, its ways.

    ``after`` names parts or whole groups.  ``first_needed`` is a stage of the half-built lathe,
    or nothing; with a ``stand_in`` the stage can do without the part itself.  ``references`` are the
    measures that drive it, at the sizes [SI] its figures are meant for.
    """

    name: str
    group: str
    task: str
    after: tuple[str, ...]
    first_needed: str
    stand_in: str
    only_if: str
    stock_mass: float
    finished_mass: float
    length_share: float
    centre_height: float
    between_centres: float
    count: int = 1
    material: str = ""
    stock: str = ""
    watch: str = ""
    source: str = ""
    ways: tuple[Way, ...] = ()
    references: tuple[Reference, ...] = ()

    def way(self, how: str) -> Way:
        """The way of that name; InputProblem with those there are."""
        for one in self.ways:
            if one.how == how:
                return one
        raise InputProblem.about(
            self.name, f"the {self.name} cannot be had {how!r}; {nearest_or_all(how, (one.how for one in self.ways))}"
        )


class PartsList(tuple[Part, ...]):
    """Parts in the order of the table, with their order of making.

    Raises InputProblem with every name that is missing, double or unknown.
    """

    left_out: frozenset[str]  # names and groups known but not wanted for this design

    def __new__(cls, parts: Iterable[Part], left_out: Iterable[str] = ()) -> Self:
        made = super().__new__(cls, parts)
        made.left_out = frozenset(left_out)
        made._check()
        return made

    def __hash__(self) -> int:
        return self._hash

    @functools.cached_property
    def _hash(self) -> int:
        return super().__hash__()

    @functools.cached_property
    def by_name(self) -> dict[str, Part]:
        return {part.name: part for part in self}

    @functools.cached_property
    def groups(self) -> dict[str, tuple[str, ...]]:
        """Names of the parts of each group."""
        found: dict[str, tuple[str, ...]] = {}
        for part in self:
            found[part.group] = (*found.get(part.group, ()), part.name)
        return found

    @functools.cached_property
    def after(self) -> dict[str, tuple[str, ...]]:
        """For each part the parts it comes after, groups written out."""
        return {
            part.name: tuple(dict.fromkeys(name for given in part.after for name in self._meant(given) if name != part.name))
            for part in self
        }

    @functools.cached_property
    def ways(self) -> tuple[Way, ...]:
        """All ways, part by part."""
        return tuple(way for part in self for way in part.ways)

    def __getitem__(self, key: Any) -> Any:
        """A part by its name, or by its place as in any tuple."""
        if not isinstance(key, str):
            return super().__getitem__(key)
        try:
            return self.by_name[key]
        except KeyError:
            raise InputProblem.about(
                key, f"there is no part called {key!r}{nearest_or_stop(key, self.by_name, most=3)}"
            ) from None

    def for_design(self, choices: Mapping[str, str]) -> PartsList:
        """The parts this design calls for; ``choices`` by the name of the decision, such as bed_form."""
        wanted = [part for part in self if applies(part.only_if, choices)]
        if (
            choices.get("threading") == "no"
        ):  # the same leadscrew may draw a feed, but nobody asks for threads, nor waits for them
            wanted = [replace(part, first_needed="", stand_in="") if part.first_needed == STAGES[-1] else part for part in wanted]
        dropped = {part.name for part in self} - {part.name for part in wanted}
        groups = set(self.groups) - {part.group for part in wanted}
        return PartsList(wanted, self.left_out | dropped | groups)

    def _meant(self, name: str) -> tuple[str, ...]:
        return (name,) if name in self.by_name else self.groups.get(name, ())

    def _check(self) -> None:
        problems = []
        names = [part.name for part in self]
        known = {*names, *self.groups, *self.left_out}
        for part in self:
            if names.count(part.name) > 1:
                problems.append(
                    (part.name, f"the part {part.name!r} stands {names.count(part.name)} times; give each a name of its own.")
                )
            if part.name in self.groups and self.groups[part.name] != (part.name,):
                problems.append((part.name, f"{part.name!r} is a part and a group as well; give one of them another name."))
            if not part.ways:
                problems.append((part.name, f"there is no way to get the {part.name}; add a row for it to the ways."))
            for given in part.after:
                if given not in known:
                    problems.append(
                        (
                            part.name,
                            f"the {part.name} comes after {given!r}, which is no part or group{nearest_or_stop(given, known)}",
                        )
                    )
            if part.first_needed and part.first_needed not in STAGES:
                problems.append(
                    (
                        part.name,
                        f"the {part.name} is first needed for {part.first_needed!r}, which is no stage of the lathe; "
                        f"{nearest_or_all(part.first_needed, STAGES)}",
                    )
                )
            for way in part.ways:
                if way.how not in HOWS:
                    problems.append((way.name, f"{way.how!r} is no way to get a part; {nearest_or_all(way.how, HOWS)}"))
            if len({way.how for way in part.ways}) < len(part.ways):
                problems.append((part.name, f"a way to get the {part.name} stands twice; keep one row for each."))
        if problems:
            raise InputProblem(list(dict.fromkeys(problems)), heading="The list of parts does not hold together:")


# --- conditions ---------------------------------------------------------------------------------------
_CONDITION = re.compile(r"^\s*(\w+)\s*(!?=)\s*(.+?)\s*$")


def applies(only_if: str, choices: Mapping[str, str]) -> bool:
    """Does a row hold for these choices?  'bed_form = filled box|closed box', 'bed_form != two round bars*', joined by ' and ', and these by ' or '."""

    def split(text: str, word: str) -> list[str]:
        return re.split(rf"\s+{word}\s+(?=\w+\s*!?=)", text)  # an option may hold such a word, and no sign follows it there

    met = (
        [[_holds(one, choices) for one in split(each, "and")] for each in split(only_if.strip(), "or")]
        if only_if.strip()
        else [[]]
    )
    return any(map(all, met))


def _holds(condition: str, choices: Mapping[str, str]) -> bool:
    found = _CONDITION.match(condition)
    if not found:
        raise InputProblem.about("only_if", f"{condition!r} cannot be read; write it as in 'bed_form = filled box|closed box'.")
    name, sign, patterns = found.groups()
    if name not in choices:
        raise InputProblem.about("only_if", f"{name!r} is no choice of a design; {nearest_or_all(name, choices)}")
    met = any(fnmatch.fnmatchcase(choices[name], pattern.strip()) for pattern in patterns.split("|"))
    return met if sign == "=" else not met


# --- from rows ----------------------------------------------------------------------------------------
def names_in(text: str) -> tuple[str, ...]:
    """Names that stand in a cell with + between them."""
    return tuple(filter(None, (name.strip() for name in text.split("+"))))


def part_of(row: Mapping[str, Any], name: str, ways: Iterable[Way] = ()) -> Part:
    """A part of a row of figures in SI and texts, such as the table ``parts`` has.

    ``judged_at`` are the sizes of what drives it, as text; a row of the course's own has them in the table of drivers.
    """
    given = {
        key: row[key]
        for key in (
            "group",
            "task",
            "material",
            "stock",
            "watch",
            "source",
            "first_needed",
            "stand_in",
            "only_if",
            "length_share",
            "centre_height",
            "between_centres",
            "stock_mass",
            "finished_mass",
        )
    }
    return Part(
        name=name,
        after=names_in(row["after"]),
        count=round(row["count"]),
        ways=tuple(ways),
        references=read_references(row["judged_at"], name) if "judged_at" in row else references_of(name),
        **given,
    )


def way_of(row: Mapping[str, Any], part: str, how: str) -> Way:
    """A way of a row of figures in SI and texts, such as the table ``ways`` has."""
    given = {key: row[key] for key in ("hours", "weeks", "rework", "remark", "source")}
    unpriced = tuple(figure for figure in _MONEY if row[figure] is None)
    given |= {figure: _NOTHING if figure in unpriced else row[figure] for figure in _MONEY}
    return Way(part=part, how=how, needs=read_needs(row["needs"], f"{part}: {how}"), unpriced=unpriced, **given)


_MONEY = ("material", "outside", "carriage")
_NOTHING = Range(0.0, 0.0, 0.0)


def _found(part: str, ways: list[Way]) -> list[Way]:
    """The way of finding a part second-hand: a share of what it costs new, or of the stock it is made of here."""
    find = find_for(part)
    by_how = {way.how: way for way in ways}
    new = by_how.get(MAKE) if find and find.from_scrap else by_how.get(BUY, by_how.get(OUT))
    if find is None or new is None:
        return []

    def rounded(ends: Iterable[float]) -> Range:
        return Range(*(round(end, 2) for end in ends))  # what a table that is laid and read again keeps

    price = rounded(find.price(new.material if find.from_scrap else new.money))
    hours = rounded(map(sum, zip(find.hours, new.hours)) if find.from_scrap else find.hours)
    fetched = rounded(end * share for end, share in zip(price, FETCHING))
    return [
        Way(
            part,
            USED,
            hours,
            price,
            _NOTHING,
            fetched,
            Range(find.weeks, find.weeks, find.weeks),
            new.needs if new.how in (MAKE, BUY) else (),
            find.no_good,
            find.told(),
            f"{find.source}, a share of the price of new",
        )
    ]


def split_way_name(name: str) -> tuple[str, str]:
    """Part and way of 'bed plate: make it here'."""
    part, _, how = name.partition(": ")
    return part, how


@functools.cache
def course_parts() -> PartsList:
    """Every part the course knows, for all choices of a design.

    Raises ValueError for a way of a part that there is not.
    """
    ways: dict[str, list[Way]] = {}
    for name, row in table("ways").items():
        part, how = split_way_name(name)
        ways.setdefault(part, []).append(way_of(row, part, how))
    for part, known in ways.items():
        known += _found(part, known)
    made = PartsList(part_of(row, name, ways.pop(name, ())) for name, row in table("parts").items())
    if ways:
        raise ValueError(f"table ways: {', '.join(ways)} are not in the table of parts")
    return made
