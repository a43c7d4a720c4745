"""Changes carried into a TOML document without touching anything else in it.

Everything here works on plain dicts and on a document that keeps comments alike; a
*writer* makes the values of either.  The plain one says what must come out, the other is
what is written, and the file is saved only if both agree.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Mapping, MutableMapping, Sequence
from typing import Any

import tomlkit
from tomlkit.items import AoT, InlineTable, Whitespace

Document = MutableMapping[str, Any]


class PlainWriter:
    """Writes into plain dicts and lists."""

    def put(self, target: Document, key: str, value: Any) -> None:
        target[key] = copy.deepcopy(value)

    def append(self, target: list, values: Sequence[Any]) -> None:
        target.extend(copy.deepcopy(list(values)))

    def group(self, target: Document, key: str) -> None:
        """An empty table that is to hold tables."""
        target[key] = {}

    def tables(self, target: Document, key: str, items: list[tuple[Any, Mapping[str, Any]]]) -> None:
        """A list of tables: each an item that is there already, or None and the mapping for a new one."""
        target[key] = [dict(new) if there is None else there for there, new in items]


class TomlWriter:
    """Writes into a document of tomlkit, in the layout a person would choose."""

    def put(self, target: Document, key: str, value: Any) -> None:
        if isinstance(value, Mapping) and key not in target and not isinstance(target, InlineTable):
            target[key] = self._table(value)
        else:
            target[key] = self._value(value)

    def append(self, target: Any, values: Sequence[Any]) -> None:
        for value in values:
            target.append(self._value(value))
        target.multiline(True)

    def group(self, target: Document, key: str) -> None:
        target[key] = tomlkit.table(is_super_table=True)

    def tables(self, target: Document, key: str, items: list[tuple[Any, Mapping[str, Any]]]) -> None:
        if key in target and not isinstance(target[key], AoT):  # written as [ {…}, {…} ]
            rows: Any = tomlkit.array().multiline(True)
            rows.extend(self._value(new) if there is None else there for there, new in items)
        else:
            rows = tomlkit.aot()
            for there, new in items:
                row = self._table(new) if there is None else there
                while row.value.body and isinstance(row.value.body[-1][1], Whitespace):
                    row.value.body.pop()  # tomlkit puts a blank line between rows by itself
                rows.append(row)
            if items:
                rows[-1].add(tomlkit.nl())
        target[key] = rows

    def _table(self, value: Mapping[str, Any]) -> Any:
        nested = bool(value) and all(isinstance(part, Mapping) for part in value.values())
        table = tomlkit.table(is_super_table=nested)
        for key, part in value.items():
            table[key] = self._table(part) if nested else self._value(part)
        if not nested:
            table.add(tomlkit.nl())
        return table

    def _value(self, value: Any) -> Any:
        if isinstance(value, str):
            # a line break right behind the opening quotes would be dropped by the reader
            return tomlkit.string(value, multiline="\n" in value and not value.startswith("\n"))
        if isinstance(value, Mapping):
            made = tomlkit.inline_table()
            for key, part in value.items():
                # an inline table is meant to stay on one line, so its texts do
                made[key] = tomlkit.string(part) if isinstance(part, str) else self._value(part)
            return made
        if isinstance(value, (list, tuple)):
            listed = tomlkit.array()
            for part in value:
                listed.append(self._value(part))
            return listed.multiline(any(isinstance(part, Mapping) for part in value))
        return value


Writer = PlainWriter | TomlWriter


def merge(target: Document, before: Mapping[str, Any], after: Mapping[str, Any], writer: Writer) -> None:
    """Carry what differs between ``before`` and ``after`` into ``target``; the rest stays as it is."""
    for key in before:
        if key not in after and key in target:
            del target[key]
    for key, new in after.items():
        old: Any = before.get(key)
        there: Any = target.get(key)
        if new == old and key in before:
            continue
        if key in ("jobs", "remarks") and _is_rows(new) and _is_rows(old or [{}]):
            _merge_rows(target, key, old or [], new, writer)
        elif key == "readings" and isinstance(new, Mapping) and all(map(_is_rows, new.values())):
            _merge_sheets(target, key, old or {}, new, writer)
        elif isinstance(new, list) and isinstance(there, list) and new[: len(old or [])] == (old or []):
            writer.append(there, new[len(old or []) :])
        elif all(isinstance(part, Mapping) for part in (old, new, there)) and ("value" in there or "value" not in new):
            merge(there, old, new, writer)
            if not there:  # an empty table would only stand in the way
                del target[key]
        elif new or not isinstance(new, (Mapping, list)):
            writer.put(target, key, new)


def _is_rows(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(row, Mapping) for row in value)


def _merge_sheets(target: Document, key: str, old: Mapping[str, list], new: Mapping[str, list], writer: Writer) -> None:
    """Lists of rows under one heading."""
    if new and key not in target:
        writer.group(target, key)
    sheets = target.get(key, {})
    for name in {**old, **new}:
        if name not in new:
            sheets.pop(name, None)
        elif new[name] != old.get(name, []):
            _merge_rows(sheets, name, old.get(name, []), new[name], writer)
    if not sheets and key in target:
        del target[key]


def _merge_rows(target: Document, key: str, old: list[Mapping], new: list[Mapping], writer: Writer) -> None:
    """Rows keep their comments: in place while only their contents changed, else each goes with its row."""
    there = target.get(key) or []
    if len(there) != len(old):
        writer.tables(target, key, [(None, after) for after in new])
        return
    origin = _origins(old, new)
    for index, after in zip(origin, new):
        if index is not None:
            merge(there[index], old[index], after, writer)
    if origin != list(range(len(old))):
        writer.tables(target, key, [(None if index is None else there[index], after) for index, after in zip(origin, new)])


def _origins(old: list[Mapping], new: list[Mapping]) -> list[int | None]:
    """For each new row, which of the old it was: by name where rows have names, else by their contents and order."""
    was, is_now = ([row.get("name") for row in rows] for rows in (old, new))
    if any(was) or any(is_now):
        if len(was) == len(is_now) and all(a == b or b not in was for a, b in zip(was, is_now)):
            return list(range(len(was)))  # renamed at most
        places = {name: index for index, name in enumerate(was)}
        return [places.pop(name, None) for name in is_now]
    left = list(range(len(old)))
    origin: list[int | None] = [None] * len(new)

    def find(alike: Callable[[Mapping, Mapping], bool]) -> None:
        for index, row in enumerate(new):
            if origin[index] is None:
                found = origin[index] = next((other for other in left if alike(old[other], row)), None)
                if found is not None:
                    left.remove(found)

    find(lambda a, b: a == b)
    find(lambda a, b: any(a.get(key) == value for key, value in b.items()))  # changed in part
    for index in [index for index, found in enumerate(origin) if found is None][: len(left) if len(old) == len(new) else 0]:
        origin[index] = left.pop(0)  # changed altogether, in its place
    return origin


def same(a: Any, b: Any) -> bool:
    """Whether two plain documents say the same; unlike ==, 'not a number' is the same as itself."""
    if isinstance(a, dict) and isinstance(b, dict):
        return a.keys() == b.keys() and all(same(a[key], b[key]) for key in a)
    if isinstance(a, list) and isinstance(b, list):
        return len(a) == len(b) and all(map(same, a, b))
    return type(a) is type(b) and (a == b or (a != a and b != b))  # noqa: PLR0124  what is not a number
