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

from .. import units
from ..machine import alignment
from ..tables import table
from ..units import Kind, Length, Slope

__all__ = ["CLASSES", "TESTS", "Allowed", "Test", "allowed", "in_order", "leaning_on"]

CLASSES = ("toolroom", "general", "hobby")
#: no test is asked to be closer than this, after the clause on other measuring lengths
LEAST = 5e-6


@dataclass(frozen=True)
class Test:
    """One test, as the table has it, in SI."""

    name: str
    number: int
    limits: Mapping[str, float]         # by class
    over: float | None                  # length the limits hold for; None where they hold as they stand
    sense: str                          # "either", "plus" (may lie that way only) or "total" (a run-out)
    copies: float | None                # how many times it comes out on the diameter of the work
    along: bool                         # whether it grows along the work
    held: str                           # "chuck" or "centre" if it matters for work held that way only
    reading: str                        # how its readings are laid out, see ``tested``
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
    return Test(name, int(row["number"]), {one: row[one] for one in CLASSES}, row["over"], row["sense"], row["copies"],
                row["along"] == "yes", row["held"], row["reading"], leans_on, row["instrument"], row["set_up"], row["failing"], row["source"])


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


@functools.cache
def leaning_on(name: str) -> frozenset[str]:
    """Every test that ``name`` leans on, at first or second hand."""
    direct = TESTS[name].leans_on
    return frozenset(direct).union(*(leaning_on(one) for one in direct))


@dataclass(frozen=True)
class Allowed:
    """How far a test may be out, in SI: by class, by the learner's own work, and what an equal error would cost there."""

    by_class: float
    by_work: float | None

    @property
    def limit(self) -> float:
        return self.by_class if self.by_work is None else min(self.by_class, self.by_work)

    @property
    def from_work(self) -> bool:
        """Whether the own work asks for more than the class does."""
        return self.by_work is not None and self.by_work < self.by_class


def allowed(test: Test, values: Mapping[str, Any], over: float | None = None) -> Allowed:
    """What is allowed of ``test`` measured ``over`` a length, in m; without it, over the length of the table.

    ``values`` are those of a worked-out design, single figures in SI.  A twist is allowed as a
    slope, everything else as a length.
    """
    measured = over or test.over
    limit = test.limits[values["acceptance_class"]]
    slope = test.reading == "level ends"
    if slope:
        by_class = limit / test.over            # a level reads the same over any length
    elif test.over is None:
        by_class = limit
    else:
        by_class = alignment.tolerance_at_length.si(limit, test.over, measured, LEAST)
    if test.copies is None or not _matters(test, values["work_support"]):
        return Allowed(float(by_class), None)
    work = values["work_length"]
    if not test.along:
        measured = work
    elif slope:
        measured = over or values["between_centres"]
    by_work = alignment.tolerance_from_work.si(values["tolerance"], values["error_share"], test.copies, measured, work)
    if slope:
        by_work /= values["centre_height"]      # the tool moves by the height times the twist
    return Allowed(float(by_class), float(by_work))


def _matters(test: Test, support: str) -> bool:
    """Work in the chuck knows nothing of the tailstock, work between centres nothing of the headstock's axis."""
    return test.held == "" or support == "chuck and centre" or (test.held == "chuck") == (support == "chuck alone")
