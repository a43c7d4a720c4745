"""What others learned the hard way, held against one design.

A *lesson* belongs to a finding that would have told it beforehand, and names the decision that
brings it about; or, where no figure can tell, it is a question whose answer is kept as a note.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

import numpy as np

from ... import units
from ...planning.feasible import OpenWay
from ...problems import must_be_known
from ...ranges import likely
from ...tables import table
from ..chain.entries import NOT_FAILING
from ..design import Design
from ..evaluation import Evaluation, Finding, evaluate
from .ways_told import way_told, ways_told

LARGER, SMALLER = "larger", "smaller"
_WAY_OF = "way of "
#: most values tried on the way to where a lesson begins
_MOST = 80
#: standings of a lesson, the one that asks most first
STANDINGS = ("fails", "tight", "holds", "question", "answered", "not asked")


@dataclass(frozen=True)
class Lesson:
    """One lesson.  ``finding`` or ``question`` may be empty, not both.

    ``decision`` and ``wrong`` say what brings it about: a decision that grows larger or smaller,
    or an option of it; ``part`` stands in place of the decision where it is the way of a part.
    """

    name: str
    told: str
    finding: str
    decision: str
    part: str
    wrong: str
    question: str
    beside: tuple[str, ...]  # decisions and results to look at with the question
    chapter: str  # where the question belongs; of a finding the chain knows
    watch: str  # the finding that tells it from the log once the build runs, or nothing
    source: str


def _lessons() -> Mapping[str, Lesson]:
    found = {}
    for name, row in table("lessons").items():
        part = row["decision"].removeprefix(_WAY_OF) if row["decision"].startswith(_WAY_OF) else ""
        found[name] = Lesson(
            name,
            row["told"],
            row["finding"],
            "" if part else row["decision"],
            part,
            row["wrong"],
            row["question"],
            tuple(row["beside"].split()),
            row["chapter"],
            row["watch"],
            row["source"],
        )
    return MappingProxyType(found)


#: every lesson by name
LESSONS: Mapping[str, Lesson] = _lessons()


def lesson_called(name: str) -> Lesson:
    """The lesson of this name; InputProblem with the nearest if there is none."""
    must_be_known(name, LESSONS, "lesson")
    return LESSONS[name]


def note_of(name: str) -> str:
    """Under which key the answer to a lesson's question is kept among the notes of a design."""
    return f"lesson: {name}"


# --- held against a design ---------------------------------------------------------------------------
@dataclass(frozen=True)
class Told:
    """A lesson held against one design.

    ``standing`` is the verdict of its finding, or "question" or "answered", or "not asked" where the design has
    no part the lesson could happen to.
    """

    lesson: Lesson
    standing: str
    sentence: str  # the finding's sentence, or the question
    finding: Finding | None  # None where the question stands
    answer: str = ""
    beside: tuple[tuple[str, str], ...] = ()  # label and value of what to look at
    watched: Finding | None = None  # what the log says of it, where there is one

    @property
    def chapter(self) -> str:
        return self.finding.chapter if self.finding else self.lesson.chapter


def told(evaluation: Evaluation, name: str) -> Told:
    """One lesson held against a design, and against the log of its build where that says something."""
    lesson, e = lesson_called(name), evaluation.central
    planned = _told_of_plan(e, lesson)
    if not lesson.watch:
        return planned
    found = e.findings[lesson.watch]
    if found.status == "open":
        return planned
    worse = found.status != "holds" and STANDINGS.index(found.status) < STANDINGS.index(planned.standing)
    return replace(planned, watched=found, standing=found.status if worse else planned.standing)


def _told_of_plan(e: Evaluation, lesson: Lesson) -> Told:
    if lesson.part:
        return _told_of_part(e, lesson)
    if lesson.finding:
        found = e.findings[lesson.finding]
        if not lesson.question or found.status != "open":
            return Told(lesson, "not asked" if found.status == "open" else found.status, found.sentence, found)
    answer = e.design.notes.get(note_of(lesson.name), "").strip()
    beside = tuple((e.chain.part(one).label, e.shown(one)) for one in lesson.beside)
    return Told(lesson, "answered" if answer else "question", lesson.question, None, answer, beside)


def _told_of_part(e: Evaluation, lesson: Lesson) -> Told:
    """What is told of one part only: other parts that cannot be had are other lessons."""
    found = e.findings[lesson.finding]
    chosen = next((one for one in e["ways_chosen"] if one.way.part == lesson.part), None)
    if chosen is None:
        return Told(lesson, "not asked", f"Your design has no {lesson.part}.", found)
    head = f"The {lesson.part} is to be got this way: {chosen.way.how}"
    if chosen.open:
        return Told(lesson, "holds", f"{head}. Nothing is missing for it.", found)
    return Told(lesson, "fails", f"{head}. {_missing(way_told(e, chosen), e.design.system)}", found)


def _missing(way: OpenWay, system: str) -> str:
    if not way.lacks:
        return "It is not open to you."
    return f"It needs {'; '.join(lack.told(system) for lack in way.lacks)}."


def told_all(evaluation: Evaluation) -> tuple[Told, ...]:
    """All lessons held against a design, those that fail first."""
    return tuple(sorted((told(evaluation, name) for name in LESSONS), key=lambda one: STANDINGS.index(one.standing)))


# --- what brings it about -----------------------------------------------------------------------------
@dataclass(frozen=True)
class Tipping:
    """The nearest change that would bring a lesson about: the finding's sentence there, and what moves."""

    what: str  # label of the decision, or 'the headstock body'
    here: str
    there: str
    sentence: str

    def __str__(self) -> str:
        return f"With {self.what} {self.there} in place of {self.here}: {self.sentence}"


def tipping(design: Design, name: str) -> Tipping | None:
    """How far a design is from a lesson.

    None where it fails already, where only a question tells it, or where the decision alone does not bring
    it about within what is sensible.
    """
    lesson, here = lesson_called(name), evaluate(design)
    if not lesson.finding or told(here, name).standing in ("fails", "not asked"):
        return None
    if lesson.part:
        return _other_way(design, here, lesson)
    decision = design.chain.decisions[lesson.decision]
    value = _first_failing(design, here, lesson, _towards(design, lesson))
    if value is None:
        return None
    found = evaluate(design.trying(**{lesson.decision: value}), earlier=here).findings[lesson.finding]
    there = units.shown(value, decision.kind, design.system) if decision.numeric else value
    return Tipping(decision.label, here.shown(lesson.decision), there, found.sentence)


def _first_failing(design: Design, here: Evaluation, lesson: Lesson, values: list[float] | list[str]) -> float | str | None:
    """The first of some values of the lesson's decision with which its finding fails."""

    def margins(value: Any) -> Any:
        tried = evaluate(design.trying(**{lesson.decision: value}), earlier=here)
        return design.chain.margins(tried.values_si)[lesson.finding]

    if (
        values
        and isinstance(values[0], float)
        and not (lesson.decision in design.chain.one_by_one or design.chain.picked_by(lesson.decision))
    ):
        found = np.broadcast_to(margins(np.array(values)), len(values))
        return next((value for value, margin in zip(values, found) if not margin >= NOT_FAILING), None)
    return next((value for value in values if not margins(value) >= NOT_FAILING), None)


def _towards(design: Design, lesson: Lesson) -> list[float] | list[str]:
    """Values of the decision, from here the wrong way."""
    if lesson.wrong not in (LARGER, SMALLER):
        return [lesson.wrong]
    decision, here = design.chain.decisions[lesson.decision], float(likely(design[lesson.decision]))
    values = decision.values(_MOST)
    return values[values > here].tolist() if lesson.wrong == LARGER else values[values < here][::-1].tolist()


def _other_way(design: Design, here: Evaluation, lesson: Lesson) -> Tipping | None:
    """The way that is not open for the lesson's part, with what is missing for it."""
    ways = {one.way.how: one for one in ways_told(here).of(lesson.part)}
    wrong = ways.get(lesson.wrong)
    chosen = next(one.way.how for one in here["ways_chosen"] if one.way.part == lesson.part)
    if wrong is None or wrong.open or not wrong.lacks:
        return None
    return Tipping(f"the {lesson.part}", f"“{chosen}”", f"“{lesson.wrong}”", _missing(wrong, design.system))
