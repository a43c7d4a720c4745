"""Builds of others: a sheet the learner fills by asking, beside a set that was invented for the course.

The two are never counted together.  Nothing is told from fewer than five builds.
"""

from __future__ import annotations

import functools
import os
import statistics
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

from ...planning.parts import HOWS
from ...tables import table
from ...units import Count, InputProblem, Kind, LabourTime, Length, Money, Months
from .build_files import sheet_path
from .sheets import Column, Rows, Sheet, lay_sheet, read_sheet

#: how a build stands
FINISHED, STOPPED, RUNNING = ENDS = ("finished", "stopped", "under way")
#: fewer builds than this tell nothing
FEWEST = 5

_MONTHS, _HOURS, _MONEY = Months("months", at_least=0), LabourTime("h", at_least=0), Money(at_least=0)
#: what of a build is planned and then turns out otherwise -> its kind
FIGURES: dict[str, Kind] = {"months": _MONTHS, "hours": _HOURS, "money": _MONEY}
#: what the ways of others are asked for -> the parts of the list, the first that a design has
PLACES: dict[str, tuple[str, ...]] = {
    "bed": ("bed plate", "bed channel", "bed rails", "bed bars", "bed box"),
    "headstock": ("headstock body",),
    "spindle": ("spindle",),
}

SHEET = Sheet(
    "builds",
    (
        "Builds of others, one a row: ask whoever has built a lathe, or has stopped building one. A word is enough for the builder.",
        f"ended: {', '.join(ENDS)}. The ways of bed, headstock and spindle: {'; '.join(HOWS)}.",
        "planned is what they believed at the start, taken and spent is what it came to, or has come to so far. Leave empty what nobody knows.",
        "Write nothing that the builder would not want to read in your file.",
    ),
    (
        Column("builder", needed=True),
        Column("centre_height", Length("mm", above=0), needed=True),
        Column("between_centres", Length("mm", above=0), default=None),
        Column("bed_form"),
        *(Column(f"{place}_way", options=HOWS) for place in PLACES),
        Column("months_planned", _MONTHS, default=None),
        Column("months_taken", _MONTHS, default=None),
        Column("hours_planned", _HOURS, default=None),
        Column("hours_taken", _HOURS, default=None),
        Column("money_planned", _MONEY, default=None),
        Column("money_spent", _MONEY, default=None),
        Column("people", Count(at_least=1), default=None),
        Column("ended", needed=True, options=ENDS),
        Column("why"),
        Column("again"),
        Column("not_again"),
        Column("source", default="told to me"),
    ),
    ("builder",),
)


@dataclass(frozen=True)
class Build:
    """One build that somebody told of.  Figures in SI; None where nobody knows."""

    builder: str
    centre_height: float
    between_centres: float | None
    bed_form: str
    bed_way: str
    headstock_way: str
    spindle_way: str
    months_planned: float | None
    months_taken: float | None
    hours_planned: float | None
    hours_taken: float | None
    money_planned: float | None
    money_spent: float | None
    people: float | None
    ended: str
    why: str
    again: str
    not_again: str
    source: str

    def planned(self, what: str) -> float | None:
        """Months, hours or money as they were planned."""
        return getattr(self, f"{what}_planned")

    def came_to(self, what: str) -> float | None:
        """Months, hours or money as they turned out, or have so far."""
        return getattr(self, "money_spent" if what == "money" else f"{what}_taken")

    def overrun(self, what: str) -> float | None:
        """What it came to over what was planned."""
        planned, found = self.planned(what), self.came_to(what)
        return found / planned if planned and found is not None else None

    def way(self, place: str) -> str:
        return getattr(self, f"{place}_way")


# --- where they come from ----------------------------------------------------------------------------
@functools.cache
def demo_builds() -> tuple[Build, ...]:
    """The invented set of the course: it shows what a survey can tell, and proves nothing."""
    return tuple(
        Build(builder=name, **{key: row[key] for key in Build.__dataclass_fields__ if key != "builder"})
        for name, row in table("builds").items()
    )


def survey_path(design: str | os.PathLike[str]) -> Path:
    """Where the survey of a design lies: lathe.builds.csv beside lathe.toml."""
    return sheet_path(design, SHEET.name)


def read_survey(design: str | os.PathLike[str]) -> tuple[tuple[Build, ...], tuple[str, ...]]:
    """The learner's own builds, and remarks on what was odd in the sheet; none where there is no sheet.

    Raises InputProblem, by line, for a sheet that cannot be used.
    """
    path = survey_path(design)
    if not os.path.lexists(path):
        return (), ()
    rows = read_sheet(path, SHEET)
    return tuple(Build(**row.values) for row in rows.rows), (*rows.remarks, *_odd(rows))


def _odd(rows: Rows) -> Iterable[str]:
    """What may be right, but should be looked at twice."""
    for row in rows.rows:
        for what in FIGURES:
            found = Build(**row.values).overrun(what)
            if found is not None and not 0.1 <= found <= 10:
                yield f"{rows.at(row.line)}: {what} came to {found:.2g} times what was planned; is a figure in another unit?"


def lay_survey(design: str | os.PathLike[str]) -> Path:
    """Lay an empty survey beside a design file; SheetProblem if there is one, for it is never overwritten."""
    return lay_sheet(survey_path(design), SHEET, ())


# --- what they tell ----------------------------------------------------------------------------------
@dataclass(frozen=True)
class Summary:
    """How many say something, and the middle, the lowest and the highest of what they say."""

    count: int
    middle: float
    low: float
    high: float


def summary(builds: Iterable[Build], figure: Callable[[Build], float | None]) -> Summary | None:
    """The spread of one figure over those builds that tell it; None from fewer than five."""
    known = [value for build in builds if (value := figure(build)) is not None]
    if len(known) < FEWEST:
        return None
    return Summary(len(known), statistics.median(known), min(known), max(known))


def counted(builds: Iterable[Build], word: Callable[[Build], str]) -> list[tuple[str, int]]:
    """How many builds say which word, the most common first; nothing from fewer than five that say one."""
    words = Counter(said for build in builds if (said := word(build)))
    return words.most_common() if words.total() >= FEWEST else []


def ways_of(builds: Iterable[Build], place: str, ended: str = FINISHED) -> dict[str, int]:
    """How many builds that ended so got a place by which way; nothing from fewer than five.

    Raises InputProblem for a place that the survey does not ask for.
    """
    if place not in PLACES:
        raise InputProblem.about(place, f"the survey does not ask for the way of {place!r}; it asks for {', '.join(PLACES)}.")
    return dict(counted((build for build in builds if build.ended == ended), lambda build: build.way(place)))
