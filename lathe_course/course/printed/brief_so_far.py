"""The section of the brief on what was decided, changed and logged so far: at most half a page, whatever has happened."""

from __future__ import annotations

import textwrap

from ... import units
from ...design.asked.on_course import day_told, to_order
from ...design.building import building_of, note_of, ways_of_demo
from ...design.design import Choice, Design
from ...design.evaluation import Evaluation
from ...design.origins import YOURS
from ...planning.log import CHANGED
from ...ranges import Range

#: entries of each of the three lists, lines of the last, letters of a row, which stands on one line, and names in it
_MOST, _LINES, _LETTERS, _NAMES = 5, 7, 100, 3
SO_FAR = "What was decided, changed and logged"
_TABLES = {
    "parts": "parts and ways",
    "machines": "machines",
    "items": "equipment",
    "tasks": "tasks",
    "prices": "prices",
    "bars": "bars",
}


def besides_decisions(design: Design) -> list[str]:
    """What the builder has written beside decisions: own tables, ways of parts, a log."""
    course = building_of(design.started_from)
    tables = [
        words
        for name, words in _TABLES.items()
        if design.sheets is not None and getattr(design.sheets, name) != getattr(course, name)
    ]
    taken = ways_of_demo(design.started_from)
    ways = sum(taken.get(part) != how or note_of(part) in design.notes for part, how in design.ways.items())
    return [
        *([f"{'tables' if len(tables) > 1 else 'a table'} of their own ({', '.join(tables)})"] if tables else []),
        *([f"the way of {ways} part{'s' if ways > 1 else ''}"] if ways else []),
        *(
            [f"a log of {len(design.log)} line{'s' if len(design.log) > 1 else ''}, the last of {design.log.entries[-1].date}"]
            if design.log
            else []
        ),
    ]


def so_far_lists(e: Evaluation) -> list[tuple[str, list[str]]]:
    """What was decided last, what was changed last, and how the build stands by its log: headings with rows, none where nothing has happened."""
    lists = (("Decided last", _decided(e)), ("Changed last", _changed(e)), ("The build so far", _logged(e.central)))
    return [(title, [_short(row) for row in rows]) for title, rows in lists if rows]


def _short(row: str) -> str:
    return textwrap.shorten(row, _LETTERS, placeholder=" …")


def _told(e: Evaluation, name: str, choice: Choice) -> str:
    """What was chosen, a figure in the learner's units, a range by both its ends."""
    kind, value = e.chain.part(name).kind, choice.value
    if kind is None or isinstance(value, str):
        return str(choice.written)
    ends = (value.low, value.high) if isinstance(value, Range) else (value,)
    return " to ".join(units.shown(float(end), kind, e.design.system) for end in ends)


def _kept(e: Evaluation) -> list[tuple[str, Choice]]:
    """Decisions the builder has settled, the last first."""
    ones = [
        (name, choice)
        for name, choice in {**e.design.choices, **e.design.figures}.items()
        if choice.origin == YOURS and choice.decided
    ]
    return sorted(ones, key=lambda one: one[1].decided, reverse=True)


def _decided(e: Evaluation) -> list[str]:
    kept = _kept(e)
    rows = [
        f"{choice.decided}: {e.chain.part(name).label}, {_told(e, name, choice)}"
        + (f" ({choice.reason})" if choice.reason else "")
        for name, choice in kept[:_MOST]
    ]
    more = [f"and {len(kept) - _MOST} more before"] if len(kept) > _MOST else []
    return rows + more + ([f"Beside decisions: {'; '.join(besides)}."] if (besides := besides_decisions(e.design)) else [])


def _changed(e: Evaluation) -> list[str]:
    """What stood otherwise before, the last change first; a draft or a demo that gave way is no change of mind."""
    moved = [
        (name, choice, [one for one in choice.earlier if one.origin == YOURS and one.decided and one.written != choice.written])
        for name, choice in _kept(e)
    ]
    moved = [(name, choice, before) for name, choice, before in moved if before]
    rows = [
        f"{choice.decided}: {e.chain.part(name).label}, {' → '.join(_told(e, name, one) for one in (*before, choice))}"
        + (f" ({choice.reason})" if choice.reason else "")
        for name, choice, before in moved[:_MOST]
    ]
    return rows + ([f"and {len(moved) - _MOST} more before"] if len(moved) > _MOST else [])


def _logged(e: Evaluation) -> list[str]:
    log = e.design.log
    if not log:
        return []
    open_orders = [one for one in log.orders if one.delivered is None]
    late = [f"{one.part} by {one.late(log.today)} days" for one in log.late_orders]
    soon = [name for name, _, latest in to_order(e) if latest <= 1.0]
    owed = f"; {e.shown('money_owed')} owed for orders" if e["money_owed"] > 0 else ""
    return [
        f"{day_told(log.begun)} to {day_told(log.today)}: worked {e.shown('hours_worked')}, earned {e.shown('hours_earned')} of {e.shown('hours_budget')}, "
        f"spent {e.shown('money_spent')}{owed}.",
        f"Accepted: {_names(list(log.accepted))}.",
        *([f"Begun: {_names(list(log.open_items))}."] if log.open_items else []),
        *(
            [f"On order: {_names([one.part for one in open_orders])}." + (f" Late: {_names(late)}." if late else "")]
            if open_orders
            else []
        ),
        *([f"To order within a month: {_names(soon)}."] if soon else []),
        *(f"{entry.date}: {entry.what}, {entry.words}" for entry in reversed(log.of(CHANGED))),
    ][:_LINES]


def _names(names: list[str]) -> str:
    return ", ".join(names[:_NAMES]) + (f" and {len(names) - _NAMES} more" if len(names) > _NAMES else "") if names else "nothing"
