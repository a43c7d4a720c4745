"""What a learner tried, kept beside the design file: one line a try, only ever added to.

``my-lathe/design.exercises.csv`` holds day, name, question, round, how the answer stood and by which
slip.  The text of a right answer is not kept, so that no answer can be read there.  The file stays in
the folder; a mentor sees it when it is handed over.
"""

from __future__ import annotations

import csv
import datetime
import functools
import io
import os
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from ....design.files import whole_file
from ....design.files.csv_text import cell_text, write
from ....design.files.progress_log import read_date
from ....design.files.sheets import Column, Sheet, SheetProblem, read_rows
from ....problems import InputProblem, tellable
from .draws import normalised

TRIES = Sheet(
    "exercises",
    (
        "What was tried in the exercises, one line a try. Lines are only added.",
        "round: 0 with the first numbers, then 1, 2 ... each time a question came back. given: what was written; empty where it was right.",
        "It stays in this folder unless you hand it over.",
    ),
    (Column("date"), Column("name"), Column("question"), Column("round"), Column("stands"), Column("slip"), Column("given")),
    (),
)

FIRST_REST = 3  # days until a question that went wrong comes back; each time it is right the rest doubles
AT_ONCE = 5  # so many come back together at most


@dataclass(frozen=True)
class Try:
    """One answer: when, whose, to which question in which round, how it stood."""

    day: datetime.date
    name: str
    question: str
    again: int
    stands: str
    slips: tuple[str, ...] = ()
    given: str = ""


@dataclass(frozen=True)
class Standing:
    """How a learner stands with one question: tries that count, slips by name in their order, and when it was right in each round."""

    question: str
    tries: int
    right: tuple[datetime.date, ...]
    slips: tuple[str, ...]

    @property
    def sign(self) -> str:
        return "✓" if self.right else "✗" if self.tries else "·"


def tries_path(design: Path) -> Path:
    """Where the tries of a folder lie: design.exercises.csv beside design.toml."""
    return design.with_name(f"{design.stem}.exercises.csv")


# --- reading and adding -----------------------------------------------------------------------------
def read_tries(path: Path) -> tuple[list[Try], tuple[str, ...]]:
    """The tries of a file, and sentences on what could not be read; nothing is lost by that, the lines stay where they are."""
    if not os.path.lexists(path):
        return [], ()
    try:
        told = path.stat()
    except OSError as problem:
        return [], (f"{path.name} cannot be read: {whole_file.in_words(problem, reading=True)}.",)
    found, said = _read(path, told.st_mtime_ns, told.st_size)
    return list(found), said


@functools.lru_cache(maxsize=8)
def _read(path: Path, changed: int, size: int) -> tuple[tuple[Try, ...], tuple[str, ...]]:
    try:
        raw = path.read_bytes() if os.path.isfile(path) else b""
        rows = read_rows(raw, TRIES, path.name).rows if raw.strip() else ()
    except SheetProblem as problem:
        return (), tuple(sentence for _, sentence in problem.problems)
    except OSError as problem:
        return (), (f"{path.name} cannot be read: {whole_file.in_words(problem, reading=True)}.",)
    found, said = [], []
    for row in rows:
        cells = row.values
        try:
            slips = tuple(part for part in cells["slip"].split(" | ") if part)
            found.append(
                Try(
                    read_date(cells["date"]),
                    cells["name"],
                    cells["question"],
                    _round(cells["round"]),
                    cells["stands"],
                    slips,
                    cells["given"],
                )
            )
        except InputProblem as problem:
            said.append(tellable(f"{path.name}, line {row.line}: {problem}"))
    return tuple(found), tuple(said)


def _round(cell: str) -> int:
    """How often the question had come back by then."""
    if not re.fullmatch(r"[0-9]{0,6}", cell):
        raise InputProblem.about("round", f"the round is {cell!r}; it is a whole number, 0 for the first numbers.")
    return int(cell or 0)


def keep(path: Path, tried: Try) -> None:
    """Add one line at the end of the file. Raises InputProblem where that cannot be done."""
    made = io.StringIO()
    given = "" if tried.stands == "right" else " ".join(tried.given.split())[:60]
    csv.writer(made, lineterminator="\n").writerow(
        map(
            cell_text,
            (tried.day.isoformat(), tried.name, tried.question, str(tried.again), tried.stands, " | ".join(tried.slips), given),
        )
    )
    try:
        whole_file.add_line(path, made.getvalue().encode("utf-8"), write(TRIES.headings, (), TRIES.about))
    except FileExistsError:
        raise InputProblem.about(
            "file", f"{path.name} is a link to nothing; take the link away, and your tries are kept here."
        ) from None
    except OSError as problem:
        raise InputProblem.about("file", f"your try could not be kept in {path.name}: {whole_file.in_words(problem)}.") from None
    except whole_file.Busy:
        raise InputProblem.about("file", f"another notebook is writing {path.name}; try again in a moment.") from None


# --- what follows from it ---------------------------------------------------------------------------
def standing(tries: Iterable[Try], name: str, ids: Sequence[str]) -> dict[str, Standing]:
    """How a learner stands with each question of ``ids``."""
    own = _of(tries, name)
    found = {}
    for id in ids:
        mine = [one for one in own if one.question == id and one.stands in ("near", "slip", "wrong", "right")]
        right: dict[int, datetime.date] = {}
        for one in mine:
            if one.stands == "right":
                right.setdefault(one.again, one.day)
        found[id] = Standing(
            id, len(mine), tuple(right[again] for again in sorted(right)), tuple(slip for one in mine for slip in one.slips)
        )
    return found


def due(tries: Iterable[Try], name: str, today: datetime.date) -> list[tuple[str, int]]:
    """Questions that should come back today, with the round: those that went wrong before they were right, oldest first.

    After the first time right a question rests ``FIRST_REST`` days, and twice as long after each further one.
    """
    own = _of(tries, name)
    waiting = []
    for id in dict.fromkeys(one.question for one in own):
        mine = [one for one in own if one.question == id]
        rounds = {one.again for one in mine if one.stands == "right"}
        missed = any(one.stands in ("near", "slip", "wrong") for one in mine)
        if rounds and missed:
            last = max(one.day for one in mine if one.stands == "right")
            back = last + datetime.timedelta(days=FIRST_REST * 2 ** min(len(rounds) - 1, 8))
            if back <= today:
                waiting.append((back, id, max(rounds) + 1))
    return [(id, again) for _, id, again in sorted(waiting)[:AT_ONCE]]


def _of(tries: Iterable[Try], name: str) -> list[Try]:
    person = normalised(name)
    return [one for one in tries if normalised(one.name) == person]
