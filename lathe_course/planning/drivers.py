"""What drives a part: measures of the design, the size at which its row was judged, and by which law each figure follows.

The table ``drivers`` stands beside those of parts, ways and equipment.  A driver is called by
the name its measure has among the results and decisions of a design; nothing here knows how
it comes about.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from ..nearest import nearest_or_all
from ..tables import table
from ..units import InputProblem, Kind, si_factor
from ..written import read_written

#: figures of a part that a driver may move; hours and money by the kind of way, see ``scaling.law``
FIGURES = ("stock", "finished", "hours", "hours_outside", "material", "outside", "bought", "carriage")
_SORTS = {"rpm": "speed"}

#: a measure and the size of it [SI] at which a row was judged
Reference = tuple[str, float]


@dataclass(frozen=True)
class Driver:
    """One row: a measure that drives a part or an item.

    ``reference`` in SI; ``laws`` maps figures to the name of a law or to a plain power, a minus
    before the name for a figure that falls as the measure grows; ``sets`` names
    what of a need follows the measure in proportion, as pairs of operation and measure; ``accuracy``
    tells that the errors its faces may keep follow it by the law for that.
    """

    of: str
    name: str
    reference: float
    unit: str
    laws: Mapping[str, str | float]
    sets: frozenset[tuple[str, str]]
    accuracy: bool
    why: str
    source: str


def _law(text: str) -> str | float:
    try:
        return float(text)
    except ValueError:
        if text.removeprefix("-") not in table("laws"):
            raise ValueError(f"table drivers: {text!r} is no law and no number; {nearest_or_all(text, table('laws'))}") from None
        return text


def _sets(text: str) -> frozenset[tuple[str, str]]:
    found = set()
    for one in filter(None, (piece.strip() for piece in text.split("+"))):
        operation, _, measure = one.rpartition(" ")
        if measure not in table("operations")[operation]["size"].split(" x "):
            raise ValueError(f"table drivers: {operation} has no measure called {measure!r}")
        found.add((operation, measure))
    return frozenset(found)


@functools.cache
def _all() -> Mapping[str, tuple[Driver, ...]]:
    found: dict[str, list[Driver]] = {}
    for key, row in table("drivers").items():
        of, _, name = key.rpartition(": ")
        laws = {figure: _law(row[figure]) for figure in FIGURES if row[figure]}
        accuracy = row["sets"] == "accuracy"
        found.setdefault(of, []).append(
            Driver(
                of,
                name,
                row["reference"] * _factor(row["unit"]),
                row["unit"],
                MappingProxyType(laws),
                frozenset() if accuracy else _sets(row["sets"]),
                accuracy,
                row["why"],
                row["source"],
            )
        )
    return MappingProxyType({of: tuple(rows) for of, rows in found.items()})


def _factor(unit: str) -> float:
    return si_factor(unit, _SORTS.get(unit, ""))


def drivers(of: str) -> tuple[Driver, ...]:
    """What drives a part or an item, by its name; nothing for one that has no rows."""
    return _all().get(of, ())


#: names of all measures that drive anything, in the order of the table
DRIVERS: tuple[str, ...] = tuple(dict.fromkeys(one.name for rows in _all().values() for one in rows))


def references_of(of: str) -> tuple[Reference, ...]:
    """The sizes at which the course's own row was judged."""
    return tuple((one.name, one.reference) for one in drivers(of))


# --- as text in a learner's own table -------------------------------------------------------------------
def written_references(of: str, references: tuple[Reference, ...]) -> str:
    """'bed_width 120 mm + tolerance 20 µm', as it reads back."""
    units = {one.name: one.unit for one in drivers(of)}
    return " + ".join(
        f"{name} {value / _factor(units[name]):.12g} {units[name]}".strip() for name, value in references if name in units
    )


def read_references(text: str, of: str) -> tuple[Reference, ...]:
    """Sizes of a row as written; InputProblem with all that cannot be read.  What is left out does not drive the row."""
    found, problems = [], []
    units = {one.name: one.unit for one in drivers(of)}
    for piece in filter(None, (one.strip() for one in text.split("+"))):
        name, _, size = piece.partition(" ")
        if name not in units:
            problems.append(
                (
                    of,
                    f"{of}: {name!r} does not drive it; {nearest_or_all(name, units) if units else 'nothing but the size of the lathe does.'}",
                )
            )
            continue
        try:
            value = read_written(
                size.strip(),
                Kind(
                    "size",
                    units[name],
                    sort=_SORTS.get(units[name], "" if units[name] else "plain"),
                    example=_example(units[name]),
                    above=0,
                ),
            )
        except InputProblem:
            problems.append(
                (of, f"{of}: {piece!r} is no size; write its name, a figure and a unit, as in '{name} {_example(units[name])}'.")
            )
            continue
        found.append((name, value))
    if problems:
        raise InputProblem(problems)
    return tuple(found)


def _example(unit: str) -> str:
    return f"100 {unit}".strip()
