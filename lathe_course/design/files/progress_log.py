"""The log of a build as a CSV file beside the design file: read with tolerance, and only ever added to.

``lathe.log.csv`` lies beside ``lathe.toml``.  A line that cannot be used is told by its number and
left out; the rest counts.  The course writes at the end of the file and nowhere else: in its
delimiter, its order of columns and its decimal mark, whatever a spreadsheet made of it.
"""

from __future__ import annotations

import csv
import io
import os
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date as Date
from importlib.resources import files
from pathlib import Path
from typing import Any

from ... import units
from ...nearest import nearest_or_all, nearest_or_stop
from ...planning.log import (
    ACCEPTED,
    ASKED,
    BEGUN,
    CANCELLED,
    DELIVERED,
    HOURS,
    KINDS,
    MISSED,
    MONEY,
    MOVING,
    NO_LOG,
    NOTE,
    ORDERED,
    WISHED,
    WITHDRAWN,
    Entry,
    Log,
    Order,
    in_order,
    open_order,
    split_names,
)
from ...problems import tellable
from ...units import InputProblem, LabourTime, Money, Months
from ...written import beyond_reason, read_written
from ..design import Design
from . import whole_file
from .csv_text import CsvText, Unreadable, cell_text, decode, figure, write
from .sheets import Column, Sheet, SheetProblem, read_rows

LOG = Sheet(
    "log",
    (
        "The log of the build, one line for each thing that happened. Lines are only added; to set one right, add another.",
        "what: " + ", ".join(KINDS) + ".",
        "amount: hours, money or months, by what it is. To take back 3 hours too many, add a line with -3.",
        "part: a part, a tool, or a task such as 'layout and sums', called as in the plan; 'tools' for those that are not named. words: anything worth keeping.",
        "vendor, due, receipt: of orders and payments; a receipt is the name of a file beside this one.",
    ),
    (
        Column("date"),
        Column("what"),
        Column("amount"),
        Column("part"),
        Column("words"),
        Column("vendor"),
        Column("due"),
        Column("receipt"),
    ),
    (),
)

_KIND = {HOURS: LabourTime(), MONEY: Money(), ASKED: Money(at_least=0), ORDERED: Money(at_least=0), MOVING: Months(at_least=0)}
_OF_A_PART = (ACCEPTED, WITHDRAWN, ASKED, ORDERED, DELIVERED, CANCELLED)
#: a line dated further from all others than this is taken for a slip of the pen
_LONGEST_SILENCE = 24.0
_ISO = re.compile(r"^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$")
_DOTS = re.compile(r"^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})$")
_SLASH = re.compile(r"^(\d{1,2})[/-](\d{1,2})[/-](\d{4})$")


def log_path(design: str | os.PathLike[str]) -> Path:
    """Where the log of a design lies: lathe.log.csv beside lathe.toml."""
    design = Path(design).expanduser()
    return design.with_name(f"{design.stem}.log.csv")


def invented_log(demo: str = "boat_shed") -> Log:
    """The log of a demo; invented, like the demo itself."""
    raw = files("lathe_course.design.demos").joinpath(f"{demo}.log.csv").read_bytes()
    return read_log(raw, None, f"{demo}.log.csv")


# --- reading -------------------------------------------------------------------------------------------
def read_log(
    raw: bytes, known: Iterable[str] | None, where: str = "the log", today: Date | None = None, folder: Path | None = None
) -> Log:
    """The log that a file's bytes hold; ``known`` are the parts, tools and tasks there are, None to take any.

    ``today`` is the day it is read, if it shall count; without it the day of the last line stands for today.  ``folder`` is
    where receipts lie.  SheetProblem only where the file as a whole cannot be read, such as for a heading that is missing.
    """
    if not raw.strip():
        return NO_LOG
    rows = read_rows(raw, LOG, where)
    for needed in ("date", "what"):
        if rows.rows and not any(row.values[needed] for row in rows.rows):
            strange = ", ".join(repr(heading) for heading in rows.rows[0].extra if heading)
            raise SheetProblem(
                where,
                [(needed, f"there is no column {needed!r} with anything in it" + (f"; is {strange} meant?" if strange else "."))],
            )
    slashes = _slashes(row.values["date"] for row in rows.rows)
    names = None if known is None else {name.lower(): name for name in known}
    problems: list[tuple[int, str]] = []
    found = []
    for row in rows.rows:
        try:
            found.append(_entry(row.line, row.values, names, slashes))
        except InputProblem as problem:
            problems += [(row.line, sentence) for _, sentence in problem.problems]
    if today is not None:
        problems += [(entry.line, _still_to_come(entry.date, today)) for entry in found if entry.date > today]
        found = [entry for entry in found if entry.date <= today]
    found = _sensible(found, problems)
    told = tuple(tellable(f"{where}, line {line}: {sentence}") for line, sentence in sorted(problems))
    missing = tuple(
        tellable(f"{where}, line {entry.line}: {_no_receipt(entry.receipt)} The line counts all the same.")
        for entry in found
        if folder is not None and not _lies_there(entry.receipt, folder)
    )
    return Log(in_order(found), told, rows.remarks + missing, today if found else None)


def _still_to_come(day: Date, today: Date) -> str:
    return f"{day} is still to come, for today is {today}; a log holds what has happened. Is the year right, and the clock of this computer?"


def _no_receipt(name: str) -> str:
    return f"the receipt {name!r} does not lie beside the log; put the file there, or write the name it has."


def _lies_there(receipt: str, folder: Path) -> bool:
    """Is it the name of a file in the folder, or below it?"""
    if not receipt:
        return True
    name = Path(receipt)
    return not name.is_absolute() and ".." not in name.parts and os.path.isfile(folder / name)


def _slashes(dates: Iterable[str]) -> str:
    """How dates such as 3/9/2024 are meant in this file: day first, month first, or unknown."""
    pairs = [(int(found[1]), int(found[2])) for one in dates if (found := _SLASH.match(one.strip()))]
    first, second = (any(pair[place] > 12 for pair in pairs) for place in (0, 1))
    return "day first" if first and not second else "month first" if second and not first else ""


def read_date(text: str, slashes: str = "") -> Date:
    """A date as people and spreadsheets write it; InputProblem where it is none, or could be two."""
    text = text.strip()
    text = re.sub(r"[T ]\d{1,2}:\d{2}.*$", "", text)
    try:
        if found := _ISO.match(text):
            return Date(*map(int, found.groups()))
        if found := _DOTS.match(text):
            return Date(*map(int, reversed(found.groups())))
        if found := _SLASH.match(text):
            first, second, year = map(int, found.groups())
            if first == second or slashes == "day first":
                return Date(year, second, first)
            if slashes == "month first":
                return Date(year, first, second)
            raise InputProblem.about(
                "date", f"the date {text!r} can be read in two ways; write year-month-day, such as {year}-{second:02}-{first:02}."
            )
    except InputProblem:
        raise
    except ValueError:
        raise InputProblem.about("date", f"there is no such day as {text!r}; write year-month-day, such as 2024-03-09.") from None
    raise InputProblem.about("date", f"{text!r} is no date; write year-month-day, such as 2024-03-09.")


def _entry(line: int, values: Mapping[str, str], names: Mapping[str, str] | None, slashes: str) -> Entry:
    """One line read; InputProblem with all that is wrong with it."""
    problems: list[tuple[str, str]] = []
    day, amount, part = Date.min, None, ""
    what = values["what"].lower()
    if what not in KINDS:
        problems.append(("what", f"{values['what']!r} is nothing that the log knows; {nearest_or_all(what, KINDS)}"))
    try:
        day = read_date(values["date"], slashes)
    except InputProblem as problem:
        problems += problem.problems
    if what in _KIND and (values["amount"] or what != ORDERED):
        try:
            amount = _counted(_amount(values["amount"], what), what)
        except InputProblem as problem:
            problems += problem.problems
    if what in (HOURS, MONEY, *_OF_A_PART):
        part = values["part"]
        if not part and what in _OF_A_PART:
            problems.append(("part", f"a line “{what}” needs its part."))
        if part and names is not None:
            part = _named(part, names, problems)
    if what == WISHED and names is not None:
        values = dict(values, words="; ".join(_named(name, names, problems) for name in split_names(values["words"])))
    due = None
    if values["due"] and what == ORDERED:
        try:
            due = read_date(values["due"], slashes)
        except InputProblem as problem:
            problems += [("due", f"due: {sentence}") for _, sentence in problem.problems]
    if due is not None and due < day:
        problems.append(("due", f"it was ordered on {day} and cannot be due before that, on {due}."))
    if problems:
        raise InputProblem(problems)
    return Entry(day, what, amount, part, values["words"], line, values["vendor"], due, values["receipt"])


def _named(name: str, names: Mapping[str, str], problems: list[tuple[str, str]]) -> str:
    """The part, tool or task of that name; what there is none of goes to ``problems``."""
    if name.lower() not in names:
        problems.append(("part", f"there is no part or task called {name!r}{nearest_or_stop(name.lower(), names, most=3)}"))
    return names.get(name.lower(), name)


def _amount(cell: str, what: str) -> float:
    kind = _KIND[what]
    if not cell:
        raise InputProblem.about("amount", f"a line “{what}” needs its amount, for example {kind.example!r}.")
    try:
        found = figure(cell)
    except Unreadable as problem:
        if not re.search(r"[^\W\d_]|€", cell):
            raise InputProblem.about("amount", f"the amount {problem}.") from None
        return read_written(re.sub(r"(?<=\d),(?=\d)", ".", cell), kind, "amount")
    if complaint := units.out_of_range(found, kind):
        raise InputProblem.about("amount", f"the amount {cell} {complaint}.")
    if slip := beyond_reason(found):
        raise InputProblem.about("amount", f"the amount {cell} {slip}")
    return found


def _counted(found: float, what: str) -> float:
    if what == HOURS and found == 0:
        raise InputProblem.about(
            "amount", f"0 hours say nothing; write how long was worked, or a line “{MISSED}” if nobody came."
        )
    return found


def _sensible(entries: list[Entry], problems: list[tuple[int, str]]) -> list[Entry]:
    """The lines that can be true together; the others go to ``problems``."""
    entries = _within_the_build(entries, problems)
    accepted: dict[str, Entry] = {}
    kept: list[Entry] = []
    hours: dict[Any, float] = {}
    orders: list[Order] = []
    for entry in in_order(entries):
        if entry.what in (ORDERED, DELIVERED, CANCELLED) and (said := _of_an_order(entry, orders)):
            problems.append((entry.line, said))
            continue
        if entry.what == ACCEPTED and entry.part in accepted:
            problems.append(
                (
                    entry.line,
                    f"“{entry.part}” was accepted already, on {accepted[entry.part].date}; this line counts for nothing. If it had to be "
                    f"made again, put “{WITHDRAWN}” before it.",
                )
            )
            continue
        if entry.what == WITHDRAWN and entry.part not in accepted:
            problems.append((entry.line, f"“{entry.part}” was not accepted by {entry.date}, so there is nothing to withdraw."))
            continue
        if entry.what in (HOURS, MONEY):
            key = (entry.what, entry.part)
            amount = entry.amount or 0.0
            if hours.get(key, 0.0) + amount < -1e-9:
                on = f"“{entry.part}”" if entry.part else "no part"
                problems.append(
                    (
                        entry.line,
                        f"{-amount:g} are taken back, but only {hours.get(key, 0.0):g} are booked to {on} by {entry.date}.",
                    )
                )
                continue
            hours[key] = hours.get(key, 0.0) + amount
        if entry.what == ACCEPTED:
            accepted[entry.part] = entry
        elif entry.what == WITHDRAWN:
            del accepted[entry.part]
        kept.append(entry)
    return kept


def _of_an_order(entry: Entry, orders: list[Order]) -> str:
    """What is wrong with a line of an order, or nothing; ``orders`` are those before it, and are brought up to date."""
    at = open_order(orders, entry)
    from_whom = f" from {entry.vendor}" if entry.vendor else ""
    if entry.what == ORDERED:
        same = next(
            (
                one
                for one in orders
                if one.part == entry.part and one.delivered is None and one.vendor.lower() == entry.vendor.lower()
            ),
            None,
        )
        if same is not None:
            return (
                f"“{entry.part}” is on order{from_whom} already, since {same.ordered}; one order has one line. If the first was called off, put “{CANCELLED}” before this "
                "line; if more was ordered elsewhere, write from which vendor."
            )
        orders.append(Order(entry.part, entry.vendor, entry.date))
    elif at is None:
        came = entry.what == DELIVERED
        return (
            f"“{entry.part}”{from_whom} was not on order by {entry.date}, so nothing can {'have come' if came else 'be called off'}; a line “{ORDERED}” with its day comes first."
            + (" Is one of the two dates wrong?" if came else "")
        )
    elif not entry.vendor and len({one.vendor.lower() for one in orders if one.part == entry.part and one.delivered is None}) > 1:
        return f"“{entry.part}” is on order from more than one vendor; write which one this line means."
    elif entry.what == DELIVERED:
        orders[at] = replace(orders[at], delivered=entry.date)
    else:
        del orders[at]
    return ""


def _within_the_build(entries: list[Entry], problems: list[tuple[int, str]]) -> list[Entry]:
    """Lines not before the build began, and none far off all others."""
    starts = [entry for entry in entries if entry.what == BEGUN]
    for entry in starts[1:]:
        problems.append(
            (entry.line, f"the build began on line {starts[0].line} already, on {starts[0].date}; keep one of the two.")
        )
    kept = [entry for entry in entries if entry.what != BEGUN or entry is starts[0]]
    if starts:
        early = [entry for entry in kept if entry.date < starts[0].date]
        problems += [
            (
                entry.line,
                f"{entry.date} is before the start of the build, {starts[0].date}; set the date right, or the line “{BEGUN}”.",
            )
            for entry in early
        ]
        kept = [entry for entry in kept if entry.date >= starts[0].date]
    ordered = in_order(kept)
    for place in range(1, len(ordered)):
        before, after = ordered[place - 1], ordered[place]
        if (after.date - before.date).days > _LONGEST_SILENCE * 30.4375:
            problems += [
                (
                    entry.line,
                    f"{entry.date} is more than two years after every line before it ({before.date}); is the year right?"
                    f" If nothing was done for so long, say so in a “{NOTE}” dated in between.",
                )
                for entry in ordered[place:]
            ]
            return list(ordered[:place])
    return kept


def _plain(heading: str) -> str:
    """A heading without its unit."""
    return re.split(r"[\[(]", heading)[0].strip().lower()


def logged(design: Design, path: str | os.PathLike[str], today: Date | None = None) -> Design:
    """A design with the log that lies beside its file, as it stands on a day."""
    return design.with_log(LogBook(log_path(path), design.building.names).read(today))


# --- adding ----------------------------------------------------------------------------------------------
@dataclass
class LogBook:
    """The log of one design: a file, or in memory where there is no folder.  ``known``: the parts and tasks there are."""

    path: Path | None
    known: tuple[str, ...] | None = None
    raw: bytes = b""

    @property
    def where(self) -> str:
        return self.path.name if self.path is not None else "the log"

    def read(self, today: Date | None = None) -> Log:
        """The log as it stands, on a day if one is given; SheetProblem where the file as a whole cannot be read."""
        if self.path is not None:
            try:
                self.raw = self.path.read_bytes() if os.path.lexists(self.path) else b""
            except OSError as problem:
                raise SheetProblem(
                    self.path, [("file", f"{whole_file.in_words(problem, reading=True)}.")], "cannot be read"
                ) from None
        return read_log(self.raw, self.known, self.where, today, self.path.parent if self.path is not None else None)

    def append(
        self,
        date: str,
        what: str,
        amount: str = "",
        part: str = "",
        words: str = "",
        vendor: str = "",
        due: str = "",
        receipt: str = "",
        latest: Date | None = None,
    ) -> Log:
        """Add one line at the end, and nothing else; the log as it then stands.

        ``latest`` is the day after which nothing can have happened yet.  InputProblem tells what is
        wrong with the line, and then nothing is written.
        """
        values = {
            "date": date,
            "what": what,
            "amount": amount,
            "part": part,
            "words": words,
            "vendor": vendor,
            "due": due,
            "receipt": receipt,
        }
        values = {name: " ".join(value.split()) for name, value in values.items()}
        before = self.read()
        names = None if self.known is None else {name.lower(): name for name in self.known}
        entry = _entry(0, values, names, "")
        if latest is not None and entry.date > latest:
            raise InputProblem.about("date", _still_to_come(entry.date, latest))
        if self.path is not None and not _lies_there(entry.receipt, self.path.parent):
            raise InputProblem.about("receipt", _no_receipt(entry.receipt))
        line = self._line(entry)
        after = read_log(self._joined(line), self.known, self.where)
        if new := [sentence for sentence in after.problems if sentence not in before.problems]:
            raise InputProblem([("line", sentence.partition(": ")[2]) for sentence in new])
        if self.path is None:
            self.raw = self._joined(line)
        else:
            self._write(self.path, line)
        return self.read()

    # --- bytes --------------------------------------------------------------------------------------------
    def _start(self) -> bytes:
        """What stands at the head of a new log."""
        return write(LOG.headings, (), LOG.about)

    def _joined(self, line: bytes) -> bytes:
        """The file with one line more; all that stood in it stands there still, byte for byte."""
        head = self.raw if self.raw.strip() else self._start()
        return head + (b"" if head.endswith(b"\n") else b"\n") + line

    def _line(self, entry: Entry) -> bytes:
        """One row in the file's own way of writing."""
        text = decode(self.raw) if self.raw.strip() else CsvText(LOG.headings, 1, (), ",", False)
        amount = "" if entry.amount is None else f"{entry.amount:.10g}"
        if text.delimiter != "," and self._decimal_comma(text):
            amount = amount.replace(".", ",")
        cells = {
            "date": entry.date.isoformat(),
            "what": entry.what,
            "amount": amount,
            "part": entry.part,
            "words": entry.words,
            "vendor": entry.vendor,
            "due": entry.due.isoformat() if entry.due else "",
            "receipt": entry.receipt,
        }
        headings = [_plain(heading) for heading in text.headings]
        if lost := [name for name, cell in cells.items() if cell and name not in headings]:
            raise InputProblem.about(
                lost[0],
                f"the log has no column {' or '.join(map(repr, lost))}, so that would be lost; in a spreadsheet write "
                f"{' and '.join(map(repr, lost))} at the end of its line of headings first.",
            )
        made = io.StringIO()
        csv.writer(made, delimiter=text.delimiter, lineterminator="\n").writerow(
            [cell_text(cells.get(heading, "")) for heading in headings]
        )
        if self.raw.startswith((b"\xff\xfe", b"\xfe\xff")):
            raise SheetProblem(
                self.path or self.where,
                [
                    (
                        "file",
                        "it is written in 16-bit letters, to which nothing can be added safely; "
                        "save it from the spreadsheet as “CSV UTF-8”.",
                    )
                ],
                "was left as it is",
            )
        try:
            self.raw.decode("utf-8")
            return made.getvalue().encode("utf-8")
        except UnicodeDecodeError:
            return made.getvalue().encode("cp1252", errors="replace")

    @staticmethod
    def _decimal_comma(text: CsvText) -> bool:
        place = next((place for place, heading in enumerate(text.headings) if _plain(heading) == "amount"), None)
        return place is not None and any("," in cells[place] for _, cells in text.rows if place < len(cells))

    def _write(self, path: Path, line: bytes) -> None:
        """Add to the end of the file; all that stands in it stays."""
        try:
            whole_file.add_line(path, line, self._start())
        except FileExistsError:
            raise SheetProblem(
                path,
                [("file", "it is a link to a file that holds no log; take the link away, and the log begins here.")],
                "could not be added to",
            ) from None
        except OSError as problem:
            raise SheetProblem(path, [("file", f"{whole_file.in_words(problem)}.")], "could not be added to") from None
        except whole_file.Busy:
            raise SheetProblem(
                path, [("file", "another notebook is writing it; try again in a moment.")], "could not be added to"
            ) from None
