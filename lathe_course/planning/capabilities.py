"""What can be done where: an operation, how large a piece, and how accurate.

A need and a capability are written alike, in plain words::

    milling 140 x 120 mm to 0.05 mm + drilling 11 mm

The operations and what limits each stand in the table ``operations``.  Sizes and accuracy
are SI.  Where a need names no accuracy any will do; where a capability names none, the
likely one of its operation is taken.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from .. import units
from ..nearest import nearest_or_all
from ..tables import table
from ..units import InputProblem, Length

OWN, BORROWED, FOR_SALE = "own", "borrowed", "for sale"
_SIZE = Length("mm", above=0, at_most=20_000)
SLACK = 1 + 1e-9  # a size written in one unit and met in another may be missed by rounding


@dataclass(frozen=True)
class Need:
    """An operation a way asks for: size [m] in the order of the table of operations, accuracy [m] or None."""

    operation: str
    size: tuple[float, ...] = ()
    accuracy: float | None = None

    def told(self, system: str = "mm") -> str:
        """'milling of 140 x 120 mm to 0.05 mm'."""
        return (
            f"{self.operation}{' of ' if self.size else ''}{_size_text(self.size, system)}{_accuracy_text(self.accuracy, system)}"
        )


@dataclass(frozen=True)
class Capability:
    """What one machine or tool can do.  ``whose`` is ``own``, ``borrowed``, ``for sale`` or a stage of the half-built lathe."""

    machine: str
    operation: str
    size: tuple[float, ...]
    accuracy: float
    whose: str = OWN

    def covers(self, need: Need) -> bool:
        """Is the need inside this envelope, and accurate enough?"""
        return self.operation == need.operation and self.shortage(need) <= SLACK

    def shortage(self, need: Need) -> float:
        """How many times too small or too rough it is for the need of the same operation; at most 1 if it covers it."""
        large, room = need.size, self.size
        if _row(self.operation)["either_way"] == "yes":
            large, room = tuple(sorted(large)), tuple(sorted(room))
        # a half-built lathe may have no room at all over its cross-slide
        ratios = [
            wanted / have if have > 0 else math.inf if wanted > 0 else 0.0 for wanted, have in zip(large, room, strict=True)
        ]
        if need.accuracy is not None:
            ratios.append(self.accuracy / need.accuracy)
        return max(ratios, default=0.0)

    def told(self, system: str = "mm") -> str:
        """'your small mill with 300 x 120 mm to 0.03 mm'."""
        owner = {OWN: "your ", BORROWED: "the borrowed ", FOR_SALE: "a "}.get(self.whose, "the lathe itself, ")
        size = _size_text(self.size, system)
        return f"{owner}{self.machine}{' with ' + size if size else ''}{_accuracy_text(self.accuracy, system)}"


@dataclass(frozen=True)
class Shop:
    """All that can be used: capabilities, and the names of equipment that is there already."""

    capabilities: tuple[Capability, ...] = ()
    equipment: frozenset[str] = frozenset()

    def of(self, *whose: str) -> tuple[Capability, ...]:
        """The capabilities of these owners."""
        return tuple(one for one in self.capabilities if one.whose in whose)

    @property
    def machines(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(one.machine for one in self.capabilities))

    def without(self, machine: str) -> Shop:
        """The same shop when a machine is lost."""
        return replace(self, capabilities=tuple(one for one in self.capabilities if one.machine != machine))

    def plus(self, *capabilities: Capability) -> Shop:
        """The same shop with more in it."""
        return replace(self, capabilities=(*self.capabilities, *capabilities))


@dataclass(frozen=True)
class Lack:
    """A need nobody covers, and who comes nearest to it."""

    need: Need
    nearest: Capability | None

    def told(self, system: str = "mm") -> str:
        """'milling of 140 x 120 mm (the nearest is your small mill with 100 x 300 mm)', to stand after 'needs'."""
        near = f"the nearest is {self.nearest.told(system)}" if self.nearest else f"nothing here does any {self.need.operation}"
        return f"{self.need.told(system)} ({near})"


def lacking(needs: Iterable[Need], capabilities: Iterable[Capability]) -> tuple[Lack, ...]:
    """The needs that none of the capabilities covers."""
    capabilities = tuple(capabilities)
    found = []
    for need in needs:
        same = [one for one in capabilities if one.operation == need.operation]
        if not any(one.covers(need) for one in same):
            found.append(Lack(need, min(same, key=lambda one: one.shortage(need), default=None)))
    return tuple(found)


def with_skill(capabilities: Iterable[Capability], factor: float) -> tuple[Capability, ...]:
    """The same machines in hands that attain ``factor`` times the usual error (1.5 for a beginner, 0.8 for an old hand).

    Raises InputProblem for a factor of zero or less.
    """
    if not factor > 0:
        raise InputProblem.about("skill", f"the factor of skill must be more than zero, not {factor:g}; 1 is the usual hand.")
    return tuple(replace(one, accuracy=one.accuracy * factor) for one in capabilities)


# --- reading and writing ----------------------------------------------------------------------------
_TO = re.compile(r"\s+to\s+(?=[\d.])")
_FIGURE = re.compile(r"\s(?=[\d.])")


def operation_names() -> tuple[str, ...]:
    """All operations known."""
    return tuple(table("operations"))


def read_needs(text: str, name: str = "needs") -> tuple[Need, ...]:
    """Needs from 'milling 140 x 120 mm to 0.05 mm + drilling 11 mm'; all that is wrong is told at once.

    Raises InputProblem with the whole list.
    """
    found, problems = [], []
    for piece in filter(None, (part.strip() for part in text.split("+"))):
        try:
            found.append(_read_one(piece, name))
        except InputProblem as problem:
            problems += problem.problems
    if problems:
        raise InputProblem(problems)
    return tuple(found)


def read_capabilities(text: str, machine: str, whose: str = OWN, name: str = "can do") -> tuple[Capability, ...]:
    """Capabilities of one machine, written as needs are."""
    return tuple(
        Capability(
            machine,
            one.operation,
            one.size,
            _row(one.operation)["accuracy"].likely if one.accuracy is None else one.accuracy,
            whose,
        )
        for one in read_needs(text, name)
    )


def written(needs: Iterable[Need | Capability]) -> str:
    """The text that reads back as these needs."""
    return " + ".join(
        f"{one.operation} {_size_text(one.size, 'mm', 6)}".strip() + _accuracy_text(one.accuracy, "mm", 6) for one in needs
    )


def _row(operation: str):
    return table("operations")[operation]


def _read_one(piece: str, name: str) -> Need:
    work, *rest = _TO.split(piece, maxsplit=1)
    operation, *size = _FIGURE.split(work, maxsplit=1)
    operation = operation.strip().lower()
    if operation not in table("operations"):
        raise InputProblem.about(
            name, f"{operation!r} is no operation known here; {nearest_or_all(operation, operation_names())}"
        )
    row = _row(operation)
    sizes = _sizes(size[0], operation, name) if size else ()
    if len(sizes) != row["measures"]:
        wanted = f"its {row['size']}, as in {_example(operation)!r}" if row["measures"] else "no size"
        raise InputProblem.about(
            name, f"{piece!r} gives {len(sizes) or 'no'} measure{'' if len(sizes) == 1 else 's'}; {operation} needs {wanted}."
        )
    return Need(operation, sizes, units.read(rest[0].strip(), _SIZE, f"accuracy of {operation}") if rest else None)


def _sizes(text: str, operation: str, name: str) -> tuple[float, ...]:
    pieces = [piece.strip() for piece in re.split(r"\s*[x×]\s*", text.strip())]
    unit = re.search(r"[^\d.\s/]+$", pieces[-1])
    if unit:  # '140 x 120 mm': the unit at the end is meant for both
        pieces = [piece if re.search(r"[^\d.\s/]", piece) else f"{piece} {unit.group()}" for piece in pieces]
    return tuple(units.read(piece, _SIZE, f"{name}, {operation}") for piece in pieces)


def _example(operation: str) -> str:
    return f"{operation} {'140 x 120' if _row(operation)['measures'] == 2 else '12'} mm"


def _size_text(size: tuple[float, ...], system: str, digits: int = 0) -> str:
    """Sizes as they are told: with as many digits as are asked, or as make sense, and the whole ones before the point."""
    if not size:
        return ""
    unit, told = units.unit_text("mm", system), [units.in_unit(one, _SIZE, system) for one in size]
    digits = digits or (3 if unit == "mm" else 4)
    return " x ".join(units.number(one, max(digits, len(f"{abs(one):.0f}"))) for one in told) + f" {unit}"


def _accuracy_text(accuracy: float | None, system: str, digits: int = 0) -> str:
    digits = digits or (2 if units.unit_text("mm", system) == "mm" else 3)
    return "" if accuracy is None else f" to {units.shown(accuracy, _SIZE, system, digits)}"
