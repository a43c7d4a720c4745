"""What the way a part is made moves in iron: factors on gives, errors in micrometres, and who stands behind them.

The rows of the table ``making`` are judged.  A factor multiplies the likely figure of its own
table, whose spread was meant for any fitting whatever: once the way is told, only what it does
not tell is left of that spread.  Factors of different causes are multiplied, their spreads are
added in squares of their logarithms; errors of different causes are added in squares.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace

from ..ranges import Range
from ..tables import table
from .parts import applies

#: what a table of gives still spreads when the way is told
LEFT = Range(0.8, 1.0, 1.25)
#: a product of factors is not believed beyond these
FURTHEST = (0.35, 5.0)
#: a machine at hand is better or worse than the usual of its kind by no more than this
_MACHINE = 2.0
#: work done on the half-built lathe itself
ON_THE_LATHE = "on the lathe itself"
#: who stands behind an error: one's own hands, a firm, or nobody one could ask
HANDS, FIRM, FIND = "hands", "work outside", ""
_FOUND = "second-hand or salvaged"


@dataclass(frozen=True)
class Row:
    """One row of the table of making; ``factor`` or ``error`` [m] is None, an error holds ``over`` a length [m] or as it stands."""

    name: str
    part: str
    way: str
    by: str
    moves: str
    acts: str
    factor: Range | None
    error: Range | None
    over: float | None
    practice: str

    @property
    def behind(self) -> str:
        """Who stands behind it."""
        return HANDS if self.practice else FIND if self.way == _FOUND else FIRM


@functools.cache
def _rows() -> Mapping[tuple[str, str, str], tuple[Row, ...]]:
    """Rows by part, way and what they move, in the order of the table."""
    found: dict[tuple[str, str, str], tuple[Row, ...]] = {}
    for name, row in table("making").items():
        for part in row["part"].split("|"):
            for way in row["way"].split("|"):
                one = Row(
                    name,
                    part,
                    way,
                    row["by"],
                    row["moves"],
                    row["acts"],
                    row["factor"],
                    row["error"],
                    row["over"],
                    row["practice"],
                )
                found[part, way, one.moves] = (*found.get((part, way, one.moves), ()), one)
    return found


@functools.cache
def _parts_that_move(moves: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(part for part, _, moved in _rows() if moved == moves))


@dataclass(frozen=True)
class Made:
    """How one part is made: its way, the work that takes, the machine's error over the usual for each work, and when the part is called for."""

    part: str
    how: str
    works: tuple[str, ...] = ()
    machines: tuple[tuple[str, float], ...] = ()
    only_if: str = ""


@dataclass(frozen=True, eq=False)
class Making:
    """How every part is made.  Two are the same only if they are one; ``alike`` compares what they say.

    ``spare`` names the parts that only other choices of the design call for, with the choices; ``others`` finds
    how all are made with such choices.
    """

    made: tuple[Made, ...]
    spare: Mapping[str, str] = field(default_factory=dict, repr=False)
    others: Callable[[Mapping[str, str]], Making] | None = field(default=None, repr=False)

    @functools.cached_property
    def by_part(self) -> dict[str, Made]:
        return {one.part: one for one in self.made}

    def alike(self, other: Making) -> bool:
        """Are all parts made alike?"""
        return self.made == other.made

    def with_(self, one: Made) -> Making:
        """The same with one part made otherwise."""
        return replace(self, made=tuple(one if other.part == one.part else other for other in self.made))

    def part(self, name: str, choices: Mapping[str, str]) -> Made | None:
        """How a part is made, where these choices of the design call for it."""
        one = self.by_part.get(name)
        if one is None and self.others and name in self.spare and applies(self.spare[name], choices):
            one = _with(self.others, tuple(choices.items())).by_part.get(name)
        return one if one and applies(one.only_if, choices) else None


@functools.lru_cache(maxsize=256)
def _with(others: Callable[[Mapping[str, str]], Making], choices: tuple[tuple[str, str], ...]) -> Making:
    """How all is made with other choices of the design."""
    return others(dict(choices))


def rows_of(making: Making, moves: str, choices: Mapping[str, str]) -> tuple[tuple[Row, float], ...]:
    """The rows that count for what is moved, each with the machine's error over the usual one.

    ``choices`` of the design say which parts there are, as ``only_if`` of the list of parts has it.
    """
    found = []
    for part in _parts_that_move(moves):
        one = making.part(part, choices)
        if one is None:
            continue
        acts: set[str] = set()
        for row in _rows().get((part, one.how, moves), ()):
            if row.acts not in acts and (not row.by or row.by in one.works):
                acts.add(row.acts)
                found.append((row, dict(one.machines).get(row.by, 1.0)))
    return tuple(found)


def practice(work: str, skill: str) -> Range:
    """How many times the usual error is left at some work."""
    rows = table("practice")
    return rows[work]["error"] if skill == "first machine" and work in rows else table("skills")[skill]["accuracy"]


def spread(*factors: Range) -> Range:
    """The product of factors of different causes: likely figures multiplied, what they spread added in squares of its logarithm."""
    likely = math.prod(one.likely for one in factors)
    down, up = (math.sqrt(sum(math.log(getattr(one, end) / one.likely) ** 2 for one in factors)) for end in ("low", "high"))
    return Range(likely * math.exp(-down), likely, likely * math.exp(up))


def factors(making: Making, moves: str, skill: str, choices: Mapping[str, str]) -> tuple[tuple[Range, ...], str]:
    """Factors on the likely figure of what is moved, of all causes, and who stands behind them; no factors where the table tells none.

    A give goes by the square root of what practice, or the machine, makes of the error; where
    better work makes the figure rise it is turned round.
    """
    found: list[Range] = []
    rows = [(row, machine) for row, machine in rows_of(making, moves, choices) if row.acts == "times"]
    sign = -0.5 if moves in _RISES_WITH_CARE else 0.5
    worked: dict[str, Range] = {}
    for row, machine in rows:
        found.append(_powered(_given(row, row.factor), 1.0))
        if row.practice:
            worked[row.practice] = practice(row.practice, skill)
            if machine != 1.0:
                found.append(Range(*(min(max(machine, 1 / _MACHINE), _MACHINE) ** sign,) * 3))
    if worked:  # one pair of hands: the work it is least used to counts, once
        found.append(_powered(max(worked.values(), key=lambda one: one.likely), sign))
    return tuple(found), _behind(row for row, _ in rows)


#: better work makes these rise, and a give fall
_RISES_WITH_CARE = frozenset({"bearing_stiffness", "bed_joint_share"})


def _given(row: Row, figure: Range | None) -> Range:
    """What a row must hold by how it acts."""
    if figure is None:
        raise ValueError(f"table making: {row.name} acts {row.acts!r} and has no figure for that")
    return figure


def _powered(one: Range, power: float) -> Range:
    return Range(*sorted(end**power for end in one))


def _behind(rows: Iterable[Row]) -> str:
    who = {row.behind for row in rows}
    return HANDS if HANDS in who else FIRM if FIRM in who else FIND


def factor(causes: Iterable[Range]) -> Range:
    """One factor of all causes, within what is believed of them."""
    return Range(*(min(max(end, FURTHEST[0]), FURTHEST[1]) for end in spread(*causes)))


def error(
    making: Making, moves: str, skill: str, choices: Mapping[str, str], acts: tuple[str, ...] = ("instead", "adds")
) -> tuple[Range | None, str]:
    """The error of what is moved, SI, as a slope where its rows tell a length, and who stands behind it; None where the table tells none.

    Errors of different causes are added in squares.
    """
    rows = [(row, machine) for row, machine in rows_of(making, moves, choices) if row.acts in acts]
    if not rows:
        return None, FIND
    each = []
    for row, machine in rows:
        causes = [_given(row, row.error)]
        if row.practice:
            causes += [practice(row.practice, skill), Range(*(min(max(machine, 1 / _MACHINE), _MACHINE),) * 3)]
        each.append(Range(*(end / (row.over or 1.0) for end in spread(*causes))))
    return Range(*(math.sqrt(sum(end**2 for end in ends)) for ends in zip(*each))), _behind(row for row, _ in rows)
