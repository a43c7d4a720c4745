"""Figures of the trade: CSV files with a unit in the heading and a source in every row.

A heading is ``name`` or ``name [unit]``.  Three columns ``name_low``, ``name_likely`` and
``name_high`` are read together as one Range under ``name``.  An empty figure is None.  All figures are turned into SI
once, and nothing can change them afterwards.
"""

from __future__ import annotations

import csv
import difflib
import functools
import re
from collections.abc import Iterator, Mapping
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from ..ranges import Range
from ..sources import cite
from ..units import InputProblem, si_factor

TABLES = (
    "acceptance",
    "at_hand",
    "bars",
    "bearings",
    "bed_forms",
    "bed_materials",
    "belts",
    "bolts",
    "builds",
    "collets",
    "common_jobs",
    "contact_angles",
    "drawn_parts",
    "dividing",
    "drivers",
    "drives",
    "equipment",
    "finishes",
    "fundamental_deviations",
    "hand_rests",
    "inch_threads",
    "laws",
    "leadscrew_nuts",
    "lessons",
    "links",
    "lubricants",
    "machines_for_sale",
    "making",
    "materials",
    "noses",
    "nuts",
    "operations",
    "parts",
    "practice",
    "preferred_numbers",
    "remedies",
    "second_hand",
    "shops",
    "sizes",
    "sizing",
    "skills",
    "slides",
    "stock_sizes",
    "student_t",
    "tapers",
    "tasks",
    "threads",
    "tolerance_grades",
    "tool_conditions",
    "toolposts",
    "ways",
    "wheel_sizes",
    "words",
)
_HERE = files(__name__)
_HEADING = re.compile(r"^(?P<name>\w+)(?:\s*\[(?P<unit>[^\]]*)\])?$")
_SORTS = {"rpm": "speed", "mm/rev": "feed"}


class Table(Mapping[str, Mapping[str, Any]]):
    """Rows by the name in the first column; each row maps column names to SI figures, ``units`` the columns to the unit they are written in."""

    def __init__(self, name: str, rows: dict[str, Mapping[str, Any]], units: Mapping[str, str]):
        self.name, self.units = name, MappingProxyType(dict(units))
        self._rows = MappingProxyType(rows)

    def __getitem__(self, key: str) -> Mapping[str, Any]:
        try:
            return self._rows[key]
        except (KeyError, TypeError):
            wanted = str(key)
            by_lower = {k.lower(): k for k in self._rows}
            near = [by_lower[k] for k in difflib.get_close_matches(wanted.lower(), by_lower, n=3, cutoff=0.3)]
            near += [k for k in self._rows if k not in near and wanted and wanted.lower() in k.lower()]
            offer = f"the nearest names are {', '.join(near)}" if near else f"choose one of {', '.join(self._rows)}"
            raise InputProblem.about(
                self.name, f"{wanted!r} is not in the table of {self.name.replace('_', ' ')}; {offer}."
            ) from None

    def __iter__(self) -> Iterator[str]:
        return iter(self._rows)

    def __len__(self) -> int:
        return len(self._rows)

    def __contains__(self, key: object) -> bool:
        return key in self._rows

    def column(self, name: str) -> dict[str, Any]:
        """One column by row name."""
        return {key: row[name] for key, row in self._rows.items()}

    def written(self, key: str, column: str) -> Any:
        """A figure or Range in the unit of its heading, as the file has it; words as they are."""
        value, unit = self[key][column], self.units.get(column)
        if value is None or unit is None:
            return value
        factor = si_factor(unit, _SORTS.get(unit, ""))
        return Range(*(end / factor for end in value)) if isinstance(value, Range) else value / factor

    def source(self, key: str) -> str:
        """The source of a row as people read it."""
        return cite(self[key]["source"])


@functools.cache
def table(name: str) -> Table:
    """The table ``name``, read once. Raises ValueError, with the row, for a table of the course that is not in order."""
    text = _HERE.joinpath(f"{name}.csv").read_text("utf-8")
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    reader = csv.reader(lines)
    told = next(reader)
    headings = [heading for cell in told if (heading := _HEADING.match(cell.strip()))]
    if len(headings) < len(told):
        raise ValueError(f"table {name}: every heading must be 'name' or 'name [unit]'")
    rows: dict[str, Mapping[str, Any]] = {}
    for line, cells in enumerate(reader, start=2):
        if len(cells) != len(headings):
            raise ValueError(f"table {name}, row {line}: {len(cells)} cells where {len(headings)} were expected")
        row: dict[str, Any] = {}
        for heading, cell in zip(headings, cells):
            column, unit = heading["name"], heading["unit"]
            cell = cell.strip()
            try:
                row[column] = cell if unit is None else (float(cell) * si_factor(unit, _SORTS.get(unit, "")) if cell else None)
            except ValueError:
                raise ValueError(f"table {name}, row {line}: {cell!r} in {column} is not a number") from None
        for column in [c[:-4] for c in row if c.endswith("_low")]:
            three: list[Any] = [row.get(f"{column}_{end}") for end in ("low", "likely", "high")]
            if three.count(None) in (1, 2):
                raise ValueError(f"table {name}, row {line}: {column} needs low, likely and high, or none of them")
            if None not in three and not three[0] <= three[1] <= three[2]:
                raise ValueError(f"table {name}, row {line}: {column} is not in the order low, likely, high")
            row[column] = None if None in three else Range(*three)
        key = cells[0].strip()
        if key in rows:
            raise ValueError(f"table {name}, row {line}: {key!r} stands twice")
        rows[key] = MappingProxyType(row)
    units = {heading["name"]: heading["unit"] for heading in headings if heading["unit"] is not None}
    return Table(name, rows, units | {column[:-4]: unit for column, unit in units.items() if column.endswith("_low")})
