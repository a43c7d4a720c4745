"""What a learner's readings say: each test of the sheet worked out and held against what is allowed.

A row of the sheet is one go at one test.  Several rows of the same test are goes at the same
thing: their middle counts, and one that stands far from the others is told and left out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ... import units
from ...machine import alignment
from ...units import InputProblem, Length
from ..evaluation import Evaluation
from .acceptance import TESTS, Allowed, Test, allowed, leaning_on

WHEN = ("before", "after")
#: what an indicator in the shed cannot tell from nothing; an error the wrong way by less than this is none
DUST = 1e-6
#: a test within its limit by less than this share is tight
COMFORT = 0.15
#: a go this many times the usual scatter from the middle does not belong to the others
_FAR = 5.0
_LENGTH = Length("µm")
#: what four readings a quarter turn apart are called, and the differences of eight with the bar turned half round
QUARTERS = ("at_0", "at_90", "at_180", "at_270")
HALVES = ("along", "across", "turned_along", "turned_across")


# --- how readings are laid out ------------------------------------------------------------------------
@dataclass(frozen=True)
class Layout:
    """How many readings a go has, what they are, and how they become one figure."""

    counts: tuple[int, ...]  # allowed numbers of readings; (2, 0) means two or more
    says: str  # what to write, for the form and for complaints
    reduce: Callable[[np.ndarray, float], tuple[float, dict[str, float]]]

    def takes(self, count: int) -> bool:
        return count in self.counts or (0 in self.counts and count >= self.counts[0])


def _ends(values: np.ndarray, over: float) -> tuple[float, dict[str, float]]:
    return values[1] - values[0], {"first": values[0], "second": values[1]}


def _face(values: np.ndarray, over: float) -> tuple[float, dict[str, float]]:
    return values[0] - values[1], {}


def _level_steps(values: np.ndarray, over: float) -> tuple[float, dict[str, float]]:
    heights = alignment.level_heights(values, over / len(values))
    return float(max(heights, key=abs)), {}


def _sweep(values: np.ndarray, over: float) -> tuple[float, dict[str, float]]:
    if len(values) == 1:
        return abs(values[0]), {}
    return alignment.run_out.si(*values), dict(zip(QUARTERS, values))


def _reversal(values: np.ndarray, over: float) -> tuple[float, dict[str, float]]:
    if len(values) < 8:
        return _sweep(values, over)
    four = dict(zip(HALVES, (values[0] - values[2], values[1] - values[3], values[4] - values[6], values[5] - values[7])))
    return alignment.spindle_run_out.si(**four), {**four, "bar": alignment.bar_run_out.si(**four)}


def _collars(values: np.ndarray, over: float) -> tuple[float, dict[str, float]]:
    parts = {"first": values[-2], "second": values[-1]}
    if len(values) == 4:
        parts["flexed"] = (values[1] - values[0]) - (values[3] - values[2])
    return values[-1] - values[-2], parts


def _turn(values: np.ndarray, over: float) -> tuple[float, dict[str, float]]:
    parts = {}
    if len(values) >= 8:
        found = alignment.lobes(values)[2 : len(values) // 2]  # the once-a-turn is set-up, the fastest is scatter
        parts = {"lobes": float(np.argmax(found) + 2), "lobed": float(np.max(found))}
    return float(np.ptp(values)), parts


LAYOUTS: dict[str, Layout] = {
    "ends": Layout((2,), "two readings: near the headstock; further out", _ends),
    "face": Layout((2,), "two readings: at the edge; in the middle", _face),
    "level ends": Layout(
        (2,), "two levels: near the headstock; at the tailstock end (plus where the tool's side is high)", _ends
    ),
    "level steps": Layout(
        (2, 0), "two or more levels, step by step from the headstock; each step as long as the level", _level_steps
    ),
    "sweep": Layout((1, 4), "the swing of the needle over a turn, or four readings a quarter turn apart", _sweep),
    "reversal": Layout((1, 4, 8), "four readings a quarter turn apart, and four more with the bar turned half round", _reversal),
    "single": Layout((1,), "one reading: what was travelled less what was wanted", lambda values, over: (values[0], {})),
    "collars": Layout(
        (2, 4), "two diameters: at the chuck; further out; and both again after a pass without a new setting", _collars
    ),
    "turn": Layout((2, 0), "diameters round the work, or eight and more indicator readings evenly round it", _turn),
}


def asked_for(test: Test) -> str:
    """What to write into the sheet for a test."""
    if test.name == "tailstock height":
        return "two readings: at the headstock; at the tailstock"
    if test.name == "bar between centres":
        return "two diameters: near the headstock; near the tailstock"
    return LAYOUTS[test.reading].says


# --- one test -------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class Tested:
    """One test before or after correction, worked out: SI, in the sign of the sheet."""

    test: Test
    when: str
    value: float
    goes: tuple[float, ...]
    over: float | None
    allowed: Allowed
    parts: Mapping[str, float] = field(default_factory=dict)
    notes: tuple[str, ...] = ()

    @property
    def wrong_way(self) -> bool:
        """An error that may lie one way only, and lies the other."""
        return self.test.sense == "plus" and self.value < -DUST

    @property
    def margin(self) -> float:
        """Room as a share of what was found; minus where it is out."""
        if self.wrong_way:
            return -1.0
        size = max(abs(self.value), 1e-12)
        return float(min(self.allowed.limit / size - 1, 9.99))

    @property
    def status(self) -> str:
        return "fails" if self.margin < -1e-9 else "tight" if self.margin < COMFORT else "holds"

    @property
    def mark(self) -> str:
        return {"holds": "✓", "tight": "≈", "fails": "✗"}[self.status]


@dataclass(frozen=True)
class TestSheet:
    """Every test that was made, by name and by when, and what could not be read."""

    tested: Mapping[tuple[str, str], Tested]
    problems: tuple[str, ...] = ()

    def last(self, name: str) -> Tested | None:
        """The latest of a test."""
        return self.tested.get((name, "after")) or self.tested.get((name, "before"))

    def standing_on(self, name: str) -> list[str]:
        """Tests that fail as they stand and that this one leans on: to be mended first."""
        return [one for one in TESTS if one in leaning_on(name) and (found := self.last(one)) and found.status == "fails"]

    @property
    def once_only(self) -> list[str]:
        return list(dict.fromkeys(name for (name, _), found in self.tested.items() if len(found.goes) == 1))


def _figures(written: str, test: Test) -> np.ndarray:
    """The readings of one go, in SI; InputProblem with every one that cannot be read."""
    problems, found = [], []
    for number, part in enumerate([part.strip() for part in str(written).split(";") if part.strip()], 1):
        try:
            found.append(float(units.read(part, test.read_in, f"reading {number}")))
        except InputProblem as problem:
            problems += problem.problems
    if problems:
        raise InputProblem(problems)
    return np.array(found)


def _go(row: Any, test: Test, over: float) -> tuple[float, dict[str, float]]:
    """One row as a figure and its parts."""
    values = _figures(row["readings"], test)
    layout = LAYOUTS[test.reading]
    if not layout.takes(len(values)):
        had = "no reading" if not len(values) else "one reading" if len(values) == 1 else f"{len(values)} readings"
        tells = "tells nothing yet" if len(values) < 2 else "cannot be told apart"
        raise InputProblem.about("readings", f"{had} {tells}; write {asked_for(test)}, parted by semicolons.")
    value, parts = layout.reduce(values, over)
    if test.sense == "total" and len(values) == 1 and values[0] < 0:
        parts["negative"] = 1.0
    return float(value), parts


def judged(evaluation: Evaluation) -> TestSheet:
    """Every test the learner made, on a design as it stands (likely figures)."""
    values, system = evaluation.central, evaluation.design.system
    problems: list[str] = []
    goes: dict[tuple[str, str], list[tuple[float, dict[str, float], float | None]]] = {}
    for number, row in enumerate(evaluation["alignment_readings"], 1):
        test = TESTS[row["test"]]
        over = row["over"]
        if over is not None and test.over is None:
            problems.append(
                f"Row {number}, {test.name}: this test has no length, so {units.shown(over, Length(), system)} is not used."
            )
            over = None
        try:
            value, parts = _go(row, test, over or test.over or 0.0)
        except InputProblem as problem:
            problems += [f"Row {number}, {test.name}: {sentence}" for _, sentence in problem.problems]
        else:
            goes.setdefault((test.name, row["when"]), []).append((value, parts, over))
    found: dict[tuple[str, str], Tested] = {}
    for (name, when), several in goes.items():
        found[name, when] = _joined(TESTS[name], when, several, values, system)
    return TestSheet({key: _with_sign(key, found, system) for key in found}, tuple(problems))


def _joined(
    test: Test, when: str, goes: Sequence[tuple[float, dict[str, float], float | None]], values: Mapping[str, Any], system: str
) -> Tested:
    """Several goes at one test as one."""
    figures = np.array([value for value, *_ in goes])
    kept, notes = _without_outliers(figures, test, system)
    middle = float(np.median(figures[kept]))
    nearest = min(np.flatnonzero(kept), key=lambda at: abs(figures[at] - middle))
    _, parts, over = goes[nearest]
    if any("negative" in parts for _, parts, _ in goes):
        notes.append("A run-out has no sign; the minus is taken as a slip of the pen.")
    may = allowed(test, values, over)
    if len({over for *_, over in goes}) > 1:
        notes.append("The goes were made over different lengths; the middle one is taken as it stands.")
    if may.beyond_reading:
        notes.append(
            f"The {may.work.name} would ask for {units.shown(may.wished, test.kind, system, 2)}, closer than anybody reads in a shed: "
            "test over a longer length, or turn the work itself and measure it."
        )
    spread = np.ptp(figures[kept]) if kept.any() else 0.0
    if kept.sum() > 1 and spread > may.limit / 2:
        notes.append(
            f"The goes differ by {units.shown(spread, test.kind, system)}, more than half of what is allowed: "
            "what moves between them? Look for a chip, a loose clamp, a warm bar."
        )
    return Tested(test, when, middle, tuple(figures), over, may, parts, tuple(notes))


def _without_outliers(figures: np.ndarray, test: Test, system: str) -> tuple[np.ndarray, list[str]]:
    """Which goes belong together, and sentences on those that do not.  With fewer than three nothing can be said."""
    kept = np.ones(len(figures), bool)
    if len(figures) < 3:
        return kept, []
    middle = np.median(figures)
    scatter = max(1.4826 * float(np.median(np.abs(figures - middle))), DUST if test.reading != "level ends" else 2e-6)
    kept = np.abs(figures - middle) <= _FAR * scatter
    notes = []
    for number in np.flatnonzero(~kept):
        said = units.shown(figures[number], test.kind, system)
        if abs(figures[number] + middle) <= _FAR * scatter:
            notes.append(
                f"Go {number + 1}, {said}, has the size of the others and the other sign: "
                "was the indicator turned round, or the order of the places? It is left out."
            )
        else:
            notes.append(
                f"Go {number + 1}, {said}, stands far from the others, about {units.shown(middle, test.kind, system)}: "
                "look for a chip or a slip, and read again. It is left out."
            )
    return kept, notes


def _with_sign(key: tuple[str, str], found: Mapping[tuple[str, str], Tested], system: str) -> Tested:
    """A test with what others say of its sign: the collars of the axis, the first set of the second."""
    name, when = key
    mine, notes = found[key], []
    collars = found.get(("collars", when))
    if name == "axis sideways" and collars is not None:
        swing = -collars.value / 2 / (collars.over or collars.test.over) * (mine.over or mine.test.over)
        if mine.value * swing < 0 and min(abs(mine.value), abs(swing)) > max(mine.allowed.limit / 2, 3 * DUST):
            notes.append(
                f"The collars speak of {units.shown(swing, _LENGTH, system)} over the same length, the other way round. "
                "One sign is turned: press the plunger by hand and see which way the needle goes."
            )
    before = found.get((name, "before"))
    if (
        when == "after"
        and before is not None
        and before.status == "fails"
        and mine.status == "fails"
        and mine.test.sense != "total"
    ):
        ratio = mine.value / before.value if before.value else 0.0
        if 1.6 <= ratio <= 2.6:
            notes.append("About twice what it was: the correction went the wrong way. Take it out and put it on the other side.")
        elif ratio <= -0.5:
            notes.append("It has gone over to the other side: less of the same correction will do.")
    return (
        mine
        if not notes
        else Tested(mine.test, mine.when, mine.value, mine.goes, mine.over, mine.allowed, mine.parts, (*mine.notes, *notes))
    )
