"""Tables of a learner's own: CSV files beside the design file, for any spreadsheet.

A ``Sheet`` names its columns once; from that come the headings, the reading with every fault
told by line, and the writing.  Headings may stand in any order and in either way of writing
(``hours low [h]``, ``hours_low``); a unit in a heading is honoured.  A file is laid once and
never overwritten: from then on it is the learner's.
"""

from __future__ import annotations

import difflib
import os
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from ... import units
from ...nearest import did_you_mean
from ...problems import tellable
from ...ranges import Range
from ...units import InputProblem, Kind
from ...written import beyond_reason, read_written
from . import whole_file
from .csv_text import CsvText, Unreadable, decode, figure, write

_ENDS = Range._fields
_UNIT = re.compile(r"^(?P<name>[^\[\(]*?)\s*(?:[\[\(]\s*(?P<unit>[^\]\)]*)\s*[\]\)])?\s*$")


class SheetProblem(InputProblem):
    """A sheet cannot be used; the sentences name its lines."""

    def __init__(self, path: Path | str, problems: list[tuple[str, str]], what: str = "cannot be used"):
        self.path = path
        super().__init__(problems, heading=f"The sheet {path} {what}:")


@dataclass(frozen=True)
class Column:
    """One column, or three of a range.  A text has no kind.

    ``needed`` columns may not be left out or empty; ``kept`` ones may be empty, but not left out, for without them the rows mean something else.
    """

    name: str
    kind: Kind | None = None
    ranged: bool = False
    needed: bool = False
    kept: bool = False
    default: Any = ""
    options: tuple[str, ...] = ()
    figures_in_text: bool = False  # figures stand inside the text, perhaps with decimal commas

    @property
    def headings(self) -> tuple[str, ...]:
        """'hours low [h]', 'hours likely [h]', 'hours high [h]', or the one name."""
        unit = f" [{self.kind.unit}]" if self.kind is not None and self.kind.unit else ""
        name = self.name.replace("_", " ")
        return tuple(f"{name} {end}{unit}" for end in _ENDS) if self.ranged else (name + unit,)

    @property
    def keys(self) -> tuple[str, ...]:
        return tuple(f"{self.name}_{end}" for end in _ENDS) if self.ranged else (self.name,)


@dataclass(frozen=True)
class Sheet:
    """A table: its name in files, what it is for, its columns; ``key`` columns together name a row, none where rows may be alike."""

    name: str
    about: tuple[str, ...]
    columns: tuple[Column, ...]
    key: tuple[str, ...]

    @property
    def headings(self) -> tuple[str, ...]:
        return tuple(heading for column in self.columns for heading in column.headings)


@dataclass(frozen=True)
class Row:
    """One row: its line in the file, figures in SI and texts by column, and what stands in columns nobody knows."""

    line: int
    values: Mapping[str, Any]
    extra: Mapping[str, str]


@dataclass(frozen=True)
class Rows:
    """A sheet that was read, with remarks on what was odd but harmless."""

    sheet: Sheet
    where: str
    rows: tuple[Row, ...]
    remarks: tuple[str, ...]

    def at(self, line: int) -> str:
        """'parts.csv, line 12'."""
        return f"{self.where}, line {line}"


# --- reading ------------------------------------------------------------------------------------------
def read_sheet(path: str | os.PathLike[str], sheet: Sheet) -> Rows:
    """The rows of a file; SheetProblem names everything that is wrong with it, line by line."""
    path = Path(path).expanduser()
    try:
        raw = path.read_bytes()
    except OSError as problem:
        raise SheetProblem(path, [("file", f"{whole_file.in_words(problem, reading=True)}.")], "cannot be read") from None
    return read_rows(raw, sheet, path.name, path)


def read_rows(raw: bytes, sheet: Sheet, where: str, path: Path | str | None = None) -> Rows:
    """The rows of a file's bytes; ``where`` names it in sentences. Raises SheetProblem with all that is wrong, by line."""
    path = path or where
    try:
        text = decode(raw)
    except Unreadable as problem:
        raise SheetProblem(path, [("file", f"{problem}.")]) from None
    places, factors, problems, strange = _match(text, sheet)
    if problems:
        raise SheetProblem(path, [(name, f"line {text.heading_line}: {sentence}") for name, sentence in problems])
    rows: list[Row] = []
    seen: dict[tuple[Any, ...], int] = {}
    for line, cells in text.rows:
        wrong: list[tuple[str, str]] = []
        if any(cells[len(text.headings) :]):
            wrong.append(
                (
                    "row",
                    f"there are {len(cells)} cells where {len(text.headings)} were expected; a text with a "
                    f"{'comma' if text.delimiter == ',' else 'semicolon'} in it must stand in quotation marks.",
                )
            )
        cells = (*cells, *[""] * (len(text.headings) - len(cells)))
        values = {}
        for column in sheet.columns:
            try:
                values[column.name] = _value(
                    column,
                    [cells[places[key]] if key in places else "" for key in column.keys],
                    [factors.get(key) for key in column.keys],
                    text.decimal_comma,
                )
            except InputProblem as problem:
                wrong += problem.problems
        problems += [(name, f"line {line}: {sentence}") for name, sentence in wrong]
        key = tuple(values.get(name, "") for name in sheet.key)
        if sheet.key and key in seen and not wrong:
            problems.append(
                (str(key[0]), f"line {line}: {': '.join(map(str, key))} stands on line {seen[key]} already; keep one of the two.")
            )
        seen.setdefault(key, line)
        rows.append(Row(line, values, {heading: cells[place] for heading, place in strange.items()}))
    if problems:
        raise SheetProblem(path, problems)
    remarks = [f"{where}: {remark}" for remark in text.remarks]
    remarks += [f"{where}: the column {heading!r} is not known and stays unused." for heading in strange if heading]
    return Rows(sheet, where, tuple(rows), tuple(map(tellable, remarks)))


def _plain(heading: str) -> tuple[str, str]:
    """Name and unit of a heading: 'Hours, low (h)' is 'hours_low' and 'h'."""
    found = _UNIT.match(heading.strip())
    name, unit = (found["name"], found["unit"] or "") if found else (heading, "")
    return re.sub(r"[\s_,;:-]+", "_", name.strip().lower()).strip("_"), unit.strip()


def _match(text: CsvText, sheet: Sheet) -> tuple[dict[str, int], dict[str, float], list[tuple[str, str]], dict[str, int]]:
    """Place of each key in a row, SI per unit of its heading, what is wrong with the headings, and headings nobody knows."""
    kinds = {key: column for column in sheet.columns for key in column.keys}
    places: dict[str, int] = {}
    factors: dict[str, float] = {}
    strange: dict[str, int] = {}
    problems = []
    for place, heading in enumerate(text.headings):
        key, unit = _plain(heading)
        if key not in kinds:
            strange[heading] = place
        elif key in places:
            problems.append((key, f"the heading {heading!r} stands twice; take one away."))
        else:
            places[key] = place
            column = kinds[key]
            if unit and column.kind is not None:
                try:
                    factors[key] = units.read(f"1 {unit}", column.kind.unlimited, f"the unit of {heading!r}")
                except InputProblem as problem:
                    problems += problem.problems
    titles = {key: heading for column in sheet.columns for key, heading in zip(column.keys, column.headings)}
    for column in sheet.columns:
        for key in column.keys:
            if key in places:
                continue
            # a heading that was only misspelt is told, for what stands below it would be lost
            demanded = column.needed or column.kept
            near = difflib.get_close_matches(key, [_plain(one)[0] for one in strange], n=1, cutoff=0.6 if demanded else 0.75)
            like = next((one for one in strange if near and _plain(one)[0] == near[0]), "")
            if demanded or like:
                hint = (
                    f"; {like!r} comes nearest, is it meant?"
                    if like
                    else "; its cells may be empty, but the heading must stand there."
                    if column.kept
                    else "."
                )
                problems.append((key, f"there is no column {titles[key]!r}{hint}"))
    if len(strange) == len(text.headings):
        problems = [
            ("headings", f"none of its headings is known; the first row must name the columns: {', '.join(sheet.headings)}.")
        ]
    return places, factors, problems, strange


def _value(column: Column, cells: list[str], factors: list[float | None], decimal_comma: bool) -> Any:
    name = column.name.replace("_", " ")
    if not any(cells):
        if column.needed:
            raise InputProblem.about(column.name, f"{name} is empty; it is needed.")
        return column.default
    if column.kind is None:
        return _text(column, cells[0])
    found = [
        None if not cell else _figure(column, column.kind, cell, factor, decimal_comma) for cell, factor in zip(cells, factors)
    ]
    if not column.ranged:
        return found[0]
    low, likely, high = found
    if likely is None:
        raise InputProblem.about(column.name, f"{name} has no likely figure; write it between low and high.")
    made = Range(likely if low is None else low, likely, likely if high is None else high)
    if not made.low <= made.likely <= made.high:
        ends = ", ".join(units.shown(end, column.kind) for end in made)
        raise InputProblem.about(column.name, f"{name}: low, likely and high must rise in this order; found {ends}.")
    return made


def _text(column: Column, cell: str) -> str:
    if column.figures_in_text:
        cell = re.sub(r"(?<=\d),(?=\d)", ".", cell)
    if column.options:
        by_lower = {option.lower(): option for option in column.options}
        if cell.lower() not in by_lower:
            offer = did_you_mean(cell, column.options) or f"choose one of {', '.join(column.options)}."
            raise InputProblem.about(column.name, f"{column.name.replace('_', ' ')} is {cell!r}; {offer}")
        return by_lower[cell.lower()]
    return cell


def _figure(column: Column, kind: Kind, cell: str, factor: float | None, decimal_comma: bool) -> float:
    name = column.name.replace("_", " ")
    try:
        si = figure(cell, decimal_comma) * (kind.factor if factor is None else factor)
    except Unreadable as problem:
        if re.search(r"[^\W\d_]|[€%]", cell):  # a figure with its own unit beside it
            return read_written(re.sub(r"(?<=\d),(?=\d)", ".", cell), kind, name)
        raise InputProblem.about(column.name, f"{name}: {problem}.") from None
    if complaint := units.out_of_range(si, kind):
        raise InputProblem.about(column.name, f"{name} {cell} {complaint}.")
    if slip := beyond_reason(si):
        raise InputProblem.about(column.name, f"{name} {cell} {slip}")
    return si


# --- writing ------------------------------------------------------------------------------------------
def lay_sheet(path: str | os.PathLike[str], sheet: Sheet, rows: Iterable[Mapping[str, Any]]) -> Path:
    """Write a new file; SheetProblem if there is one already, for what a learner has written is never overwritten.

    ``rows`` hold figures in SI, Ranges and texts by the name of the column.
    """
    return lay_sheets({Path(path).expanduser(): (sheet, rows)})[0]


def lay_sheets(sheets: Mapping[Path, tuple[Sheet, Iterable[Mapping[str, Any]]]]) -> tuple[Path, ...]:
    """Write several new files of one folder that belong together: all of them, or none.

    Raises SheetProblem for a name that is taken, and if the disk refuses.
    """
    first = next(iter(sheets))
    if not os.path.isdir(first.parent):
        raise SheetProblem(first, [("file", f"there is no folder {first.parent}; make it first.")], "was not laid")
    raw = {
        path: write(sheet.headings, [_cells(sheet, row) for row in rows], sheet.about) for path, (sheet, rows) in sheets.items()
    }
    try:
        with whole_file.one_writer(first):
            whole_file.lay_whole(raw)
    except FileExistsError:
        taken = [path.name for path in sheets if os.path.lexists(path)]
        one = "there is one already" if taken == [first.name] else f"{', '.join(taken)}: there already"
        raise SheetProblem(
            first,
            [("file", f"{one}, and never overwritten; change what is there, or give it another name to begin anew.")],
            "was not laid",
        ) from None
    except OSError as problem:
        raise SheetProblem(first, [("file", f"{whole_file.in_words(problem)}.")], "was not laid") from None
    except whole_file.Busy:
        raise SheetProblem(first, [("file", "another notebook is writing it; try again in a moment.")], "was not laid") from None
    return tuple(sheets)


def _cells(sheet: Sheet, row: Mapping[str, Any]) -> Sequence[str]:
    cells: list[str] = []
    for column in sheet.columns:
        value = row.get(column.name)
        if column.kind is None:
            cells.append("" if value is None else str(value))
        elif column.ranged:
            cells += [""] * 3 if value is None else [_number(end, column.kind) for end in value]
        else:
            cells.append("" if value is None else _number(value, column.kind))
    return cells


def _number(si: float, kind: Kind) -> str:
    """A figure in the unit of its heading, with the digits that matter."""
    return f"{si / kind.factor:.6g}"
