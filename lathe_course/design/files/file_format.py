"""The format of a design file: which keys it has, and how older formats are brought forward.

A key nobody knows is no fault: it may be a spelling mistake or a learner's own remark.  It
is reported, stays in the file and does nothing.  A key of the wrong shape is a fault.
"""

from __future__ import annotations

import datetime
import difflib
from collections.abc import Callable, Collection, Iterable, Mapping, MutableMapping
from typing import Any

from ...nearest import nearest_or_stop
from ..chain.graph import Chain
from ..jobs import JOB_FIELDS
from ..origins import ADDED, DEMO, DRAFT, NOT_OF_A_DEMO, YOURS, demo_written, opened, origin_of
from ..remarks import REMARK_FIELDS
from .toml_edit import Document, Writer

#: raise by one when the structure changes or a decision is added, and say in _FORWARD what older files lack
FORMAT = 6

Place = tuple[str | int, ...]
_TEXTS = ("name", "system", "started_from")
_TOP = ("format", *_TEXTS, "decisions", "figures", "jobs", "ways", "wish", "guesses", "notes", "remarks", "readings")
_ENTRY = ("value", "reason", "decided", "origin", "earlier")
_RANGE = ("low", "likely", "high")
_KEPT = "It stays in the file and does nothing."
#: what was a decision up to a format, and is worked out or the same for all since
_NOW_WORKED_OUT = {
    1: ("full_power_speed",),
    4: ("foot_share", "joint_bolts", "dial_diameter", "leadscrew_ends", "nut_length", "toolpost_floor", "pulley_overhang"),
    5: ("gib_screws", "banjo_reach", "bearer_width"),
}


# --- older formats ----------------------------------------------------------------------------------
def format_of(plain: Mapping[str, Any]) -> int | None:
    """The format a file says it has; 0 if it says nothing, None if what it says is not a format."""
    found = plain.get("format", 0)
    return found if isinstance(found, int) and not isinstance(found, bool) and found >= 0 else None


def _reasons_beside_decisions(document: Document, writer: Writer) -> None:
    """Format 0 had flat decisions, ``centre_height = "75 mm"``, and their reasons in a table [reasons]."""
    decisions, reasons = document.get("decisions"), document.get("reasons")
    if not isinstance(decisions, MutableMapping) or not isinstance(reasons, MutableMapping):
        return
    for name in list(decisions):
        reason = reasons.get(name)
        if isinstance(reason, str) and not isinstance(decisions[name], Mapping):
            writer.put(decisions, name, {"value": decisions[name], "reason": reason})
            del reasons[name]
    if not reasons:
        del document["reasons"]


def _the_whole_machine(document: Document, writer: Writer) -> None:
    """Format 1 knew no drive, slides, threads or commissioning; their decisions are taken from the demo.

    The slowest speed at full power was decided then and is worked out from the drive now.
    """
    _to_notes(document, writer, _NOW_WORKED_OUT[1])


def _to_notes(document: Document, writer: Writer, names: Iterable[str]) -> None:
    """What the learner had written about decisions that are none any more becomes notes."""
    decisions = document.get("decisions")
    for name in names:
        if isinstance(decisions, MutableMapping) and name in decisions:
            old = decisions[name]
            if _own(old):
                _to_note(document, writer, old, name)
            del decisions[name]


def _own(old: Any) -> bool:
    """Did the learner write it: a bare value, or one with a reason or a date that no draft gave?"""
    if not isinstance(old, Mapping) or "value" not in old:
        return True
    origin = str(old.get("origin", ""))
    return not origin.startswith((DRAFT, DEMO)) and (origin == YOURS or "reason" in old or "decided" in old)


def _to_note(document: Document, writer: Writer, old: Any, name: str) -> None:
    value, reason = (old.get("value", old), old.get("reason")) if isinstance(old, Mapping) else (old, None)
    said = f"{_said(value)}, decided in an older version of the course{f', because: {reason}' if reason else ''}"
    notes = document.get("notes")
    if notes is None:
        writer.put(document, "notes", {name: said})
    elif isinstance(notes, MutableMapping) and name not in notes:
        writer.put(notes, name, said)


def _said(value: Any) -> str:
    """A value as one reads it; a range by its three ends."""
    return ", ".join(f"{end} {value[end]}" for end in _RANGE if end in value) if isinstance(value, Mapping) else str(value)


def _more_decisions(document: Document, writer: Writer) -> None:
    """Format 2 lacked decisions only; they are taken from the demo."""


def _origins(document: Document, writer: Writer) -> None:
    """Format 3 said of no decision where it comes from, and knew no wish: what stands as the demo has it is the demo's, the rest the learner's, as now without a line."""


def _fewer_and_more(document: Document, writer: Writer) -> None:
    """Format 4 asked for sizes that decide nothing; they become notes, and what it did not ask is taken from the demo."""
    _to_notes(document, writer, _NOW_WORKED_OUT[4])


def _what_was_borrowed(document: Document, writer: Writer) -> None:
    """Format 5 took over what was said of a demo's own place, and asked for three sizes that follow from others."""
    _to_notes(document, writer, _NOW_WORKED_OUT[5])
    decisions, demo = document.get("decisions"), demo_written(str(document.get("started_from", ""))).get("decisions", {})
    if not isinstance(decisions, MutableMapping):
        return
    for name in NOT_OF_A_DEMO:
        entry = decisions.get(name)
        if isinstance(entry, Mapping) and "value" in entry and origin_of(entry, demo.get(name)) == DEMO:
            del decisions[name]  # and so it is missing, and opened as such


#: format -> the step from it to the next, on a plain dict or a document that keeps comments
_FORWARD: dict[int, Callable[[Document, Writer], None]] = {
    0: _reasons_beside_decisions,
    1: _the_whole_machine,
    2: _more_decisions,
    3: _origins,
    4: _fewer_and_more,
    5: _what_was_borrowed,
}


def bring_forward(document: Document, writer: Writer, chain: Chain, demo: Mapping[str, Any]) -> list[str]:
    """Turn a document of an older format into today's; returns the decisions it lacked, taken from ``demo`` but for those ``NOT_OF_A_DEMO``.

    A document of today's format, or of a newer one, is left as it is.
    """
    found = format_of(document)
    if found is None or found >= FORMAT:
        return []
    for step in range(found, FORMAT):
        _FORWARD[step](document, writer)
    document["format"] = FORMAT
    decisions = document.get("decisions")
    if not isinstance(decisions, MutableMapping):
        return []
    strange = [name for name in decisions if name not in chain.decisions]
    added = []
    for name in chain.decisions:
        # a misspelt decision is not a missing one: it is left for the reader to complain about
        if name in demo and name not in decisions and not difflib.get_close_matches(name, strange, n=1, cutoff=0.75):
            if name in NOT_OF_A_DEMO:
                writer.put(decisions, name, opened(name))
            else:
                value = demo[name]["value"] if isinstance(demo[name], Mapping) and "value" in demo[name] else demo[name]
                writer.put(decisions, name, {"value": value, "reason": ADDED})
            added.append(name)
    return added


# --- known, unknown, misshapen ----------------------------------------------------------------------
class Sifted:
    """What a file holds: ``known`` for a Design, ``remarks`` on what is ignored, ``problems`` of shape.

    Remarks and problems are lists of (place, sentence); a place is a path of keys.
    """

    def __init__(self) -> None:
        self.known: dict[str, Any] = {}
        self.remarks: list[tuple[Place, str]] = []
        self.problems: list[tuple[Place, str]] = []

    def spoilt(self, place: Place) -> bool:
        """Whether a problem of shape was already found at this place or around it."""
        return any(place[: len(found)] == found for found, _ in self.problems)

    def _unknown(self, place: Place, known: Iterable[str], what: str) -> None:
        self.remarks.append((place, f"{what} {place[-1]!r} is not known{nearest_or_stop(place[-1], known)} {_KEPT}"))


def sift(plain: Mapping[str, Any], chain: Chain) -> Sifted:
    """Sort a document of today's format into what a Design takes, what is ignored and what is misshapen."""
    sifted = Sifted()
    for key, value in plain.items():
        if key not in _TOP:
            sifted._unknown((key,), _TOP, "the key")
        elif key in _TEXTS:
            if isinstance(value, str):
                sifted.known[key] = value
            else:
                sifted.problems.append(
                    ((key,), f"this is a text in quotes, as in {key} = {'mm' if key == 'system' else 'boat_shed'!r}.")
                )
        elif key == "jobs":
            sifted.known[key] = _rows(("jobs",), value, JOB_FIELDS, sifted, "job")
        elif key == "remarks":
            sifted.known[key] = _rows(("remarks",), value, REMARK_FIELDS, sifted, "remark")
            for index, row in enumerate(sifted.known[key]):
                if (on := str(row.get("decision", ""))) not in chain.decisions:
                    sifted.remarks.append(
                        (
                            ("remarks", index),
                            f"the remark is on {on!r}, which is no decision{nearest_or_stop(on, chain.decisions)} {_KEPT}",
                        )
                    )
        elif key != "format":
            if not isinstance(value, Mapping):
                sifted.problems.append(((key,), f"this is a table; write its entries under a line [{key}]."))
            elif key in ("decisions", "figures"):
                sifted.known[key] = _entries(key, value, chain.decisions if key == "decisions" else chain.figures, sifted)
            elif key == "readings":
                sifted.known[key] = _readings(value, chain, sifted)
            else:
                sifted.known[key] = _words((key,), value, sifted, depth=2 if key == "guesses" else 1)
    return sifted


def _entries(group: str, entries: Mapping[str, Any], known: Mapping[str, Any], sifted: Sifted) -> dict[str, Any]:
    found = {}
    for name, entry in entries.items():
        place = (group, name)
        if name not in known:
            sifted._unknown(place, known, f"the {group[:-1]}")
        elif not isinstance(entry, Mapping) or all(end in entry for end in _RANGE):
            found[name] = {"value": entry}
        elif "value" not in entry:
            sifted.problems.append((place, f"the {group[:-1]} has no value; add a line {_example(known[name])}."))
            for key in entry:
                if key not in _ENTRY:
                    sifted._unknown((*place, key), _ENTRY, "the key")
        else:
            found[name] = _entry(place, entry, sifted)
    return found


def _example(part: Any) -> str:
    """A line that would do for this decision or figure."""
    value = part.kind.example if part.kind is not None else part.options[0] if part.options else "…"
    return f'value = "{value}"'


def _entry(place: Place, entry: Mapping[str, Any], sifted: Sifted) -> dict[str, Any]:
    found = {}
    for key, value in entry.items():
        if key not in _ENTRY:
            sifted._unknown((*place, key), _ENTRY, "the key")
        elif key == "earlier":
            if not isinstance(value, list):
                sifted.problems.append(((*place, key), 'earlier values are a list, as in earlier = [ { value = "80 mm" } ].'))
            else:
                found[key] = [
                    {part: _text(said) for part, said in old.items()} if isinstance(old, Mapping) else old for old in value
                ]
        elif key != "value" and _word(value) is None:
            sifted.problems.append(((*place, key), f"the {key} is a text in quotes."))
        else:
            found[key] = _text(value)
    return found


def _word(value: Any) -> str | None:
    """A text, number or date as text; None for a list or table."""
    return None if isinstance(value, (Mapping, list)) else str(_text(value))


def _text(value: Any) -> Any:
    """A TOML date as text; anything else as it is."""
    return value.isoformat() if isinstance(value, (datetime.date, datetime.time)) else value


def _readings(sheets: Mapping[str, Any], chain: Chain, sifted: Sifted) -> dict[str, list[dict[str, Any]]]:
    found = {}
    for name, rows in sheets.items():
        place = ("readings", name)
        if name not in chain.sheets:
            sifted._unknown(place, chain.sheets, "the sheet of readings")
        else:
            found[name] = _rows(place, rows, chain.sheets[name].fields, sifted, "reading")
    return found


def _rows(place: Place, rows: Any, fields: Collection[str], sifted: Sifted, what: str) -> list[dict[str, Any]]:
    """A list of tables, such as the jobs; keys that are no field of theirs are remarked on and left out."""
    header = f"[[{'.'.join(map(str, place))}]]"
    if not isinstance(rows, list):
        sifted.problems.append((place, f"{what}s are a list; begin each with a line {header}."))
        return []
    found: list[Any] = []
    for index, row in enumerate(rows):
        if not isinstance(row, Mapping):
            sifted.problems.append(((*place, index), f"a {what} is a table of its own; begin it with a line {header}."))
            found.append({})  # keeps the count of those that follow
            continue
        for key in row:
            if key not in fields:
                sifted._unknown((*place, index, key), fields, f"{what} {str(row.get('name', index + 1))!r}: the key")
        found.append({key: _text(value) for key, value in row.items() if key in fields})
    return found


def _words(place: Place, table: Mapping[str, Any], sifted: Sifted, depth: int) -> dict[str, Any]:
    """A table of texts, or of such tables for ``depth`` 2."""
    found: dict[str, Any] = {}
    for key, value in table.items():
        if depth > 1 and isinstance(value, Mapping):
            found[key] = _words((*place, key), value, sifted, depth - 1)
        elif depth > 1:
            sifted.problems.append(
                ((*place, key), "guesses stand under the number of their chapter; write them under a line such as [guesses.03].")
            )
        elif _word(value) is None:
            sifted.problems.append(((*place, key), "this is a text in quotes."))
        else:
            found[key] = _word(value)
    return found
