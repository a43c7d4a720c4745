"""Readings: what a learner measured at a real machine, row by row, kept in the design file.

A *sheet* says which fields a row has; the rooms of the chain list theirs in ``SHEETS``.  Rows
are kept as they were written and read into SI once.  In the chain the rows of the sheet
``stiffness`` stand under the name ``stiffness_readings``.
"""

from __future__ import annotations

import functools
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from ...nearest import nearest_or_all
from ...units import InputProblem, Kind
from ...written import read_written

Row = Mapping[str, Any]


@dataclass(frozen=True)
class Field:
    """One field of a sheet: a figure of some ``kind``, one of several ``options``, or text."""

    meaning: str  # what to write there, for the heading's help and for complaints
    kind: Kind | None = None
    options: tuple[str, ...] = ()
    optional: bool = False

    @property
    def example(self) -> str:
        """Something that could stand there."""
        if self.kind is not None:
            return f"{self.kind.example.split()[0]} {self.kind.unit}".strip()
        return self.options[0] if self.options else "any text"

    def read(self, given: Any, name: str) -> Any:
        """SI number, option or text; InputProblem if it cannot be. Raises InputProblem."""
        if self.kind is not None:
            found = read_written(given, self.kind, name)
            if np.ndim(found):
                raise InputProblem.about(name, f"{name} is a list; one figure is needed, for example {self.example!r}.")
            return found
        if isinstance(given, (Mapping, list)):
            raise InputProblem.about(name, f"{name} is a list or table; one text is needed, for example {self.example!r}.")
        text = str(given).strip()
        if self.options and text not in self.options:
            raise InputProblem.about(name, f"{name} cannot be {text!r}; {nearest_or_all(text, self.options)}")
        return text


@dataclass(frozen=True)
class Reading:
    """One row.  ``written`` is what the learner wrote; ``values`` are SI numbers, options and texts, None where left out."""

    written: Row
    values: Mapping[str, Any]

    def __getitem__(self, field: str) -> Any:
        return self.values[field]


class Readings(tuple):
    """The rows of one sheet, in order."""

    def column(self, field: str) -> np.ndarray:
        """SI figures of a field, shape (rows,), NaN where it was left out; texts for a field of texts."""
        found = [row[field] for row in self]
        return np.array(found, object) if any(isinstance(one, str) for one in found) else np.array(found, float)

    @property
    def written(self) -> list[dict[str, Any]]:
        """The rows as the design file holds them."""
        return [dict(row.written) for row in self]


@dataclass(frozen=True)
class Sheet:
    """A form for readings of one sort."""

    name: str
    title: str
    fields: Mapping[str, Field]
    what: str = ""  # in a sentence or two, how the readings are taken

    @property
    def chain_name(self) -> str:
        """What its rows are called in the chain."""
        return f"{self.name}_readings"

    @functools.cached_property
    def empty(self) -> Readings:
        return Readings()

    def read(self, rows: Iterable[Row]) -> Readings:
        """The rows in SI.  All that is wrong is raised together, each under ``row.field``, rows counted from 0.

        Raises InputProblem.
        """
        problems: list[tuple[str, str]] = []
        found = []
        for index, row in enumerate(rows):
            found.append(self._row(index, row, problems))
        if problems:
            raise InputProblem(problems)
        return Readings(found)

    def _row(self, index: int, row: Row, problems: list[tuple[str, str]]) -> Reading:
        where, values = f"{self.title}, row {index + 1}", dict[str, Any]()
        for key in row:
            if key not in self.fields:
                problems.append((f"{index}.{key}", f"{where}: {key!r} is not known; the fields are {', '.join(self.fields)}."))
        for key, field in self.fields.items():
            given = row.get(key)
            values[key] = None
            if given is None or (isinstance(given, str) and not given.strip()):
                if not field.optional:
                    problems.append(
                        (f"{index}.{key}", f"{where}: {key} is missing ({field.meaning}); for example {field.example!r}.")
                    )
                continue
            try:
                values[key] = field.read(given, key)
            except InputProblem as problem:
                problems += [(f"{index}.{key}", f"{where}: {sentence}") for _, sentence in problem.problems]
        return Reading(dict(row), values)


def tidied(rows: Iterable[Row]) -> list[dict[str, Any]]:
    """Rows as they are kept: blanks around texts taken off, empty fields and empty rows left out."""
    clean = [{key: value.strip() if isinstance(value, str) else value for key, value in row.items()} for row in rows]
    return [kept for row in clean if (kept := {key: value for key, value in row.items() if not _blank(value)})]


def _blank(value: Any) -> bool:
    return value is None or (isinstance(value, str) and not value)


def joined(now: Sequence[Row], shown: Sequence[Row], wanted: Sequence[Row]) -> list[Row]:
    """``wanted``, which was made from ``shown``, carried over to rows that have become ``now`` meanwhile.

    What another notebook added stays, what it took away stays away unless it was changed here.
    """

    def counted(rows: Sequence[Row]) -> Counter:
        return Counter(_key(row) for row in rows)

    added, gone = counted(now) - counted(shown), counted(shown) - counted(now)
    kept = []
    for row in wanted:
        if gone[_key(row)] > 0:
            gone[_key(row)] -= 1
        else:
            kept.append(row)
    for row in now:
        if added[_key(row)] > 0:
            added[_key(row)] -= 1
            kept.append(row)
    return kept


def _key(row: Row) -> tuple:
    return tuple(sorted((key, str(value)) for key, value in row.items()))
