"""The tests of a finished lathe: in which order they are made, and how far each may be out.

A limit comes from the class the learner chose, carried over to the length that was measured,
and from what the learner's own tolerance leaves to the machine.  The tighter of the two counts.
"""

from __future__ import annotations

import functools
import graphlib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ... import units
from ...machine import alignment, holding
from ...tables import table
from ...units import Kind, Length, Slope
from ..jobs import Jobs

CLASSES = ("toolroom", "general", "hobby")
#: no test is asked to be closer than this, after the clause on other measuring lengths
LEAST = 5e-6
#: nor a level than half a division of a sensitive one, 0.02 mm in a metre: common practice
LEAST_LEVEL = 1e-5


@dataclass(frozen=True)
class Test:
    """One test, as the table has it, in SI."""

    name: str
    number: int
    limits: Mapping[str, float]  # by class
    over: float | None  # length the limits hold for; None where they hold as they stand
    sense: str  # "either", "plus" (may lie that way only) or "total" (a run-out)
    copies: float | None  # how many times it comes out on the diameter of the work
    along: bool  # whether it grows along the work
    held: str  # "chuck" if it is the spindle's axis, "centre" if the tailstock's place, that the work follows
    reading: str  # how its readings are laid out, see ``tested``
    leans_on: tuple[str, ...]
    instrument: str
    set_up: str
    failing: str
    source: str

    def set_up_in(self, system: str) -> str:
        """How it is set up, in the learner's units."""
        return self.set_up.format(over=units.shown(self.over, Length(), system) if self.over else "")

    @property
    def kind(self) -> Kind:
        """What its result is shown in."""
        return Slope() if self.reading == "level ends" else Length("µm")

    @property
    def read_in(self) -> Kind:
        """What its readings are."""
        return Slope() if self.reading.startswith("level") else Length("mm")


def _test(name: str, row: Mapping[str, Any]) -> Test:
    leans_on = tuple(part.strip() for part in row["leans_on"].split("+") if part.strip())
    return Test(
        name,
        int(row["number"]),
        {one: row[one] for one in CLASSES},
        row["over"],
        row["sense"],
        row["copies"],
        row["along"] == "yes",
        row["held"],
        row["reading"],
        leans_on,
        row["instrument"],
        row["set_up"],
        row["failing"],
        row["source"],
    )


#: every test by name, in the order of the table
TESTS: dict[str, Test] = {name: _test(name, row) for name, row in table("acceptance").items()}


@functools.cache
def in_order() -> tuple[str, ...]:
    """The tests so that each comes after those it leans on; where nothing speaks against it, as in the table."""
    sorter = graphlib.TopologicalSorter({name: test.leans_on for name, test in TESTS.items()})
    sorter.prepare()
    place, found, ready = {name: number for number, name in enumerate(TESTS)}, [], []
    while sorter.is_active():
        ready = sorted([*ready, *sorter.get_ready()], key=place.__getitem__)
        first = ready.pop(0)
        found.append(first)
        sorter.done(first)
    return tuple(found)


#: what some tests look at, which not every lathe has: a decision and its option
_ONLY = {
    "topslide level": ("top_of_slide", "topslide"),
    "slip of the screw": ("threading", "yes"),
    "lead of the screw": ("threading", "yes"),
}


def called_for(values: Any) -> tuple[str, ...]:
    """The tests of this lathe, in their order: none of a topslide it has not, nor of a screw that cuts no thread."""
    return tuple(name for name in in_order() if name not in _ONLY or values[_ONLY[name][0]] == _ONLY[name][1])


@functools.cache
def leaning_on(name: str) -> frozenset[str]:
    """Every test that ``name`` leans on, at first or second hand."""
    direct = TESTS[name].leans_on
    return frozenset(direct).union(*(leaning_on(one) for one in direct))


@dataclass(frozen=True)
class Work:
    """One piece that sets limits of its own: SI, and how it is held."""

    name: str
    tolerance: Any
    length: Any
    holding: str


@dataclass(frozen=True)
class Allowed:
    """How far a test may be out, in SI: by class, by the work that asks most of it, and how often that work copies the error."""

    by_class: float
    by_work: float | None = None
    work: Work | None = None
    copies: float = 1.0
    wished: float | None = None  # what that work would ask if it could be read

    @property
    def limit(self) -> float:
        return self.by_class if self.by_work is None else min(self.by_class, self.by_work)

    @property
    def from_work(self) -> bool:
        """Whether the own work asks for more than the class does."""
        return self.by_work is not None and self.by_work < self.by_class

    @property
    def beyond_reading(self) -> bool:
        """Whether the work asks for more than anybody reads in a shed."""
        return self.from_work and self.wished is not None and self.wished < self.by_work * (1 - 1e-9)


def works(tolerance: Any, work_length: Any, work_support: str, jobs: Jobs) -> list[Work]:
    """The slimmest precise work, and every job."""
    return [
        Work("slimmest work", tolerance, work_length, work_support),
        *(Work(job.name, job.tolerance, job.length, job.holding) for job in jobs),
    ]


def reach(test: Test, work: Work, foot_spacing: Any, twist_unevenness: Any) -> Any:
    """Share of what a test finds that comes out on a piece of work, by how it is held."""
    if test.held:
        return (holding.side_reach if test.held == "chuck" else holding.offset_reach)(work.holding)
    if test.reading == "level ends":
        return holding.twist_reach(work.holding, holding.even_share.si(foot_spacing, work.length, twist_unevenness))
    return 1.0


def allowed(test: Test, values: Mapping[str, Any], over: float | None = None) -> Allowed:
    """What is allowed of ``test`` measured ``over`` a length, in m; without it, over the length of the table.

    ``values`` are those of a worked-out design, single figures in SI.  A twist is allowed as a
    slope, everything else as a length.
    """
    measured = over or test.over
    limit = test.limits[values["acceptance_class"]]
    slope = test.reading == "level ends"
    if slope:
        by_class = limit / test.over  # a level reads the same over any length
        measured = over or values["between_centres"]
    elif test.over is None:
        by_class = limit
    else:
        by_class = alignment.tolerance_at_length.si(limit, test.over, measured, LEAST)
    if test.copies is None:
        return Allowed(float(by_class))
    asked = [
        (float(wish(test, work, copies, values["error_share"], measured, values["twist_lever"])), work, copies)
        for work in works(*(values[name] for name in ("tolerance", "work_length", "work_support", "jobs")))
        if (copies := test.copies * float(reach(test, work, values["foot_spacing"], values["twist_unevenness"]))) > 0
    ]
    if not asked:
        return Allowed(float(by_class))
    wished, work, copies = min(asked, key=lambda one: one[0])
    return Allowed(float(by_class), max(wished, LEAST_LEVEL if slope else LEAST), work, copies, wished)


def wish(test: Test, work: Work, copies: Any, share: Any, measured: Any, lever: Any) -> Any:
    """How far a test may be out for one piece of work, whether that can be read or not; SI, arrays broadcast."""
    found = alignment.tolerance_from_work.si(
        work.tolerance, share, copies, measured if test.along else work.length, work.length, 0.0
    )
    return found / lever if test.reading == "level ends" else found  # the tool moves by the lever times the twist
