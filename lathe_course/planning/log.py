"""The log of a running build: what was worked, paid, accepted and changed, line by line.

Nothing here is ever rewritten: what was wrong is set right by a line of its own.  The clock is
never asked either; "today" is the date of the last line, unless a day is given.  An order is told by
the lines that belong to it: a price asked, the order, its delivery, what was paid.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date as Date
from datetime import timedelta
from typing import Any

import numpy as np

DAYS_A_MONTH = 365.25 / 12
BEGUN, HOURS, MONEY, ACCEPTED, WITHDRAWN = "build begun", "hours", "money", "part accepted", "acceptance withdrawn"
CHANGED, MISSED, MOVING, NOTE = "specification changed", "session missed", "move planned", "note"
ASKED, ORDERED, DELIVERED, CANCELLED, WISHED = "price asked", "ordered", "delivered", "order cancelled", "order of work"
#: what a line can be -> what stands in its amount, its part and so on
KINDS = {
    BEGUN: "no amount",
    HOURS: "amount: hours worked; part: what on",
    MONEY: "amount: money paid; part: what for; vendor, receipt: the name of its file",
    ASKED: "amount: money; part: what for; vendor",
    ORDERED: "amount: money agreed, if known; part: what for; vendor; due: the day it was promised for",
    DELIVERED: "part: what came; vendor",
    CANCELLED: "part: what is not to come after all; vendor",
    ACCEPTED: "part: which one is done and proved",
    WITHDRAWN: "part: which one must be done again after all",
    CHANGED: "words: what was changed",
    MISSED: "no amount",
    WISHED: "words: parts and tasks in the order in which you want them, with ; between; no words: the order of the plan again",
    MOVING: "amount: months from the date until you move house, 0 if it is called off",
    NOTE: "words",
}
#: a place for the money of tools that are not named one by one
TOOLS = "tools"


@dataclass(frozen=True)
class Entry:
    """One line.  ``amount`` is in hours, in money or in months, by ``what``; None where the line has none.

    ``vendor``, ``due`` and ``receipt``, the name of a file, stand in lines of an order or a payment.
    """

    date: Date
    what: str
    amount: float | None = None
    part: str = ""
    words: str = ""
    line: int = 0
    vendor: str = ""
    due: Date | None = None
    receipt: str = ""


@dataclass(frozen=True)
class Order:
    """One order, gathered from its lines.  ``price`` is the money agreed, or asked before; None where neither was written down.

    It is settled once its price is paid, or something was paid when it had come: what was agreed may come out lower.
    """

    part: str
    vendor: str
    ordered: Date
    due: Date | None = None
    price: float | None = None
    delivered: Date | None = None
    paid: float = 0.0
    settled: bool = False
    receipts: tuple[str, ...] = ()

    @property
    def owed(self) -> float:
        """Money still to be paid for it."""
        return 0.0 if self.settled or self.price is None else max(self.price - self.paid, 0.0)

    def late(self, today: Date) -> int:
        """Days it is late; 0 where it has come, or no day was promised."""
        return max((today - self.due).days, 0) if self.due is not None and self.delivered is None else 0

    def to_come(self, today: Date) -> float:
        """Months until the day that was promised, 0 once it has come; what is late is taken to be as late again as it is already."""
        return 0.0 if self.delivered is not None or self.due is None else abs(months_between(today, self.due))


@dataclass(frozen=True, eq=False)
class Log:
    """The lines that can be used, by date; two logs are alike only if they are the same.

    ``problems`` are sentences on lines that were left out, ``remarks`` on what was odd but harmless.
    """

    entries: tuple[Entry, ...] = ()
    problems: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    as_of: Date | None = None  # a later day than that of the last line, where one looks back

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
        return months_between(self.begun, day)

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
        return planned[-1].amount - months_between(planned[-1].date, self.today)

    # --- orders -----------------------------------------------------------------------------------------
    @functools.cached_property
    def orders(self) -> tuple[Order, ...]:
        """Every order that was not cancelled, in the order of the lines; payments go to the order they name, else to the first of that part that is not settled."""
        found: list[Order] = []
        asked: dict[tuple[str, str], float | None] = {}

        def change(at: int | None, **changes: Any) -> None:
            if at is not None:
                found[at] = replace(found[at], **changes)

        for entry in self.entries:
            if entry.what == ASKED:
                asked[entry.part, entry.vendor.lower()] = entry.amount
            elif entry.what == ORDERED:
                price = asked.get((entry.part, entry.vendor.lower())) if entry.amount is None else entry.amount
                found.append(
                    Order(
                        entry.part, entry.vendor, entry.date, entry.due, price, receipts=(entry.receipt,) if entry.receipt else ()
                    )
                )
            elif entry.what == DELIVERED:
                at = open_order(found, entry)
                if at is not None:
                    price = found[at].price
                    change(at, delivered=entry.date, settled=price is not None and found[at].paid >= price)
            elif entry.what == CANCELLED and (at := open_order(found, entry)) is not None:
                del found[at]
            elif entry.what == MONEY and entry.part:
                at = next(
                    (
                        place
                        for place, one in enumerate(found)
                        if one.part == entry.part and not one.settled and _same_vendor(one, entry)
                    ),
                    None,
                )
                if at is not None:
                    one, paid = found[at], found[at].paid + (entry.amount or 0.0)
                    change(
                        at,
                        paid=paid,
                        settled=one.delivered is not None or (one.price is not None and paid >= one.price),
                        receipts=one.receipts + ((entry.receipt,) if entry.receipt else ()),
                    )
        return tuple(found)

    def wait_left(self, thing: str, usual: Any) -> Any:
        """Months until a tool or machine is there, by what is written of it; ``usual`` where it is not looked for yet.

        It has come once it was delivered, accepted, or paid for without an order.
        """
        if thing in self.accepted or TOOLS in self.accepted:
            return 0.0 * usual
        ones = [one for one in self.orders if one.part == thing]
        if not ones:
            return 0.0 * usual if self.sums(MONEY).get(thing, 0.0) > 0 else usual
        if all(one.delivered is not None or one.due is not None for one in ones):
            return 0.0 * usual + max(one.to_come(self.today) for one in ones)
        return np.maximum(usual - months_between(min(one.ordered for one in ones), self.today), 0.0)

    @property
    def late_orders(self) -> tuple[Order, ...]:
        """Orders past the day they were promised for, the latest first."""
        return tuple(sorted((one for one in self.orders if one.late(self.today)), key=lambda one: -one.late(self.today)))

    @property
    def wished_order(self) -> tuple[str, ...]:
        """Parts and tasks in the order in which the builders want them; empty where they go by the plan."""
        said = self.of(WISHED)
        return split_names(said[-1].words) if said else ()


def _same_vendor(one: Order, entry: Entry) -> bool:
    return not entry.vendor or entry.vendor.lower() == one.vendor.lower()


def open_order(orders: Sequence[Order], entry: Entry) -> int | None:
    """Place of the order that a line of delivery or cancelling means: the first of its part, and of its vendor if it names one, that has not come."""
    return next(
        (
            place
            for place, one in enumerate(orders)
            if one.part == entry.part and one.delivered is None and _same_vendor(one, entry)
        ),
        None,
    )


def split_names(words: str) -> tuple[str, ...]:
    """Names with ; between."""
    return tuple(filter(None, (name.strip() for name in words.split(";"))))


def months_between(first: Date, second: Date) -> float:
    """Months from one day to another; below zero backwards."""
    return (second - first).days / DAYS_A_MONTH


def in_order(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Lines by date; those of one day in the order in which they were written."""
    return tuple(sorted(entries, key=lambda entry: (entry.date, entry.line)))


NO_LOG = Log()
