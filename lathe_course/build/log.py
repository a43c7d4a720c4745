"""The log of a running build: what was worked, paid, accepted and changed, line by line.

Nothing here is ever rewritten: what was wrong is set right by a line of its own.  The clock is
never asked either; "today" is the date of the last line.
"""
from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date as Date
from datetime import timedelta

__all__ = ["ACCEPTED", "BEGUN", "CHANGED", "DAYS_A_MONTH", "HOURS", "KINDS", "MISSED", "MONEY", "MOVING", "NOTE", "NO_LOG", "WITHDRAWN", "Entry", "Log", "in_order"]

DAYS_A_MONTH = 365.25 / 12
BEGUN, HOURS, MONEY, ACCEPTED, WITHDRAWN = "build begun", "hours", "money", "part accepted", "acceptance withdrawn"
CHANGED, MISSED, MOVING, NOTE = "specification changed", "session missed", "move planned", "note"
#: what a line can be -> what stands in its amount and its part
KINDS = {BEGUN: "no amount", HOURS: "amount: hours worked; part: what on", MONEY: "amount: money paid; part: what for", ACCEPTED: "part: which one is done and proved",
         WITHDRAWN: "part: which one must be done again after all", CHANGED: "words: what was changed", MISSED: "no amount",
         MOVING: "amount: months from the date until you move house, 0 if it is called off", NOTE: "words"}


@dataclass(frozen=True)
class Entry:
    """One line.  ``amount`` is in hours, in money or in months, by ``what``; None where the line has none."""

    date: Date
    what: str
    amount: float | None = None
    part: str = ""
    words: str = ""
    line: int = 0


@dataclass(frozen=True, eq=False)
class Log:
    """The lines that can be used, by date; two logs are alike only if they are the same.

    ``problems`` are sentences on lines that were left out, ``remarks`` on what was odd but harmless.
    """

    entries: tuple[Entry, ...] = ()
    problems: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    as_of: Date | None = None           # a later day than that of the last line, where one looks back

    def __bool__(self) -> bool:
        return bool(self.entries)

    def __len__(self) -> int:
        return len(self.entries)

    # --- time ---------------------------------------------------------------------------------------
    @property
    def begun(self) -> Date:
        """The day of the first line."""
        return self.entries[0].date

    @property
    def today(self) -> Date:
        """The day of the last line, or the day from which one looks back."""
        return self.as_of or self.entries[-1].date

    def months_to(self, day: Date) -> float:
        """Months from the beginning to a day."""
        return (day - self.begun).days / DAYS_A_MONTH

    @property
    def months(self) -> float:
        """Months from the beginning to today; 0 while there is no log."""
        return self.months_to(self.today) if self else 0.0

    def until(self, months: float) -> Log:
        """The log as it stood so many months after the beginning."""
        kept = () if not self else tuple(entry for entry in self.entries if self.months_to(entry.date) <= months + 1e-9)
        return Log(kept, as_of=min(self.begun + timedelta(days=round(months * DAYS_A_MONTH)), self.today)) if kept else NO_LOG

    # --- what stands in it ----------------------------------------------------------------------------
    def of(self, *whats: str) -> tuple[Entry, ...]:
        return tuple(entry for entry in self.entries if entry.what in whats)

    @functools.cached_property
    def accepted(self) -> dict[str, float]:
        """Part or task -> months at which it was accepted; what was withdrawn is not among them."""
        found: dict[str, float] = {}
        for entry in self.of(ACCEPTED, WITHDRAWN):
            if entry.what == ACCEPTED:
                found[entry.part] = self.months_to(entry.date)
            else:
                found.pop(entry.part, None)
        return found

    def sums(self, what: str) -> dict[str, float]:
        """Part or task -> hours or money booked to it; under "" what is booked to none."""
        found: dict[str, float] = {}
        for entry in self.of(what):
            found[entry.part] = found.get(entry.part, 0.0) + (entry.amount or 0.0)
        return found

    def total(self, what: str) -> float:
        return sum(self.sums(what).values())

    def first_paid(self) -> dict[str, float]:
        """Part or task -> months at which something was first paid for it."""
        found: dict[str, float] = {}
        for entry in self.of(MONEY):
            found.setdefault(entry.part, self.months_to(entry.date))
        return found

    def booked_between(self, what: str, low: float, high: float) -> float:
        """Hours or money booked after ``low`` and up to ``high`` months from the beginning."""
        return sum(entry.amount or 0.0 for entry in self.of(what) if low < self.months_to(entry.date) <= high + 1e-9)

    @property
    def open_items(self) -> tuple[str, ...]:
        """What has hours booked to it and is not accepted, in the order in which it was begun."""
        return tuple(part for part, hours in self.sums(HOURS).items() if part and hours > 0 and part not in self.accepted)

    @property
    def missed_running(self) -> int:
        """Sessions missed since hours were last worked."""
        count = 0
        for entry in self.of(HOURS, MISSED):
            count = count + 1 if entry.what == MISSED else 0
        return count

    def changes_since(self, months: float) -> int:
        """Changes of the specification after so many months."""
        return sum(self.months_to(entry.date) > months + 1e-9 for entry in self.of(CHANGED))

    @property
    def months_to_move(self) -> float | None:
        """Months from today to the move that is planned; None where none is, or it was called off."""
        planned = self.of(MOVING)
        if not planned or not planned[-1].amount:
            return None
        return planned[-1].amount - (self.today - planned[-1].date).days / DAYS_A_MONTH


def in_order(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Lines by date; those of one day in the order in which they were written."""
    return tuple(sorted(entries, key=lambda entry: (entry.date, entry.line)))


NO_LOG = Log()
