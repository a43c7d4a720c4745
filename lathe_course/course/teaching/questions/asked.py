"""A question with the numbers of one learner.

The answer is worked out when it is needed and never kept, so it stands in no repr and no
notebook.  All three sorts show ``text`` and ``options``; the checker asks the rest.
"""

from __future__ import annotations

import functools
import itertools
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

import numpy as np

from ....formula import Formula
from ....ranges import Range, likely
from ....units import InputProblem, Kind, read, shown
from ....working import Working
from .common import Asked, Common
from .data import RANGE, Question, Slip, fill, question
from .draws import normalised, pick
from .slips import Calculation, wrong_value
from .usual import usual_slips

if TYPE_CHECKING:
    from .behind import Behind

DRAWS = 2000  # so many sets of numbers are tried before a question counts as faulty
APART = 1.25  # half the distance, in tolerances, between two answers that must be told apart
CASES_APART = 1.15  # ratio between the best and the next of several cases
LEVERS_APART = 1.25  # the same for the sizes of two changes that both cure a design
LETTERS = "ABCDEF"
OWN_DRAWS = 40  # so many are tried with figures of the learner's own design
_OWN = "With figures of your own design, as it stands: {}."
_OWN_CHANGES = "Asked of your own design, as it stands."
_DRAWN = "Your own design gives no numbers here: {}. These are made up."


# --- a figure is asked ------------------------------------------------------------------------------
@dataclass(frozen=True, repr=False)
class AskedFigure(Common):
    """One figure is asked, or anything within a range of a table."""

    question: Question
    name: str
    figures: Mapping[str, float | Range]
    words: Mapping[str, str]
    note: str = ""

    @property
    def text(self) -> str:
        return fill(self.question.text, self.words)

    @property
    def kind(self) -> Kind:
        return self.question.kinds[self.question.asks]

    def value(self, slip: Slip | None = None) -> Range:
        """The answer in SI, or what a slip makes of it; low and high differ if a figure is a range."""
        steps = slip.steps if slip else ()
        if not any(isinstance(figure, Range) for figure in self.figures.values()):
            return Range(*[_run(self.question, dict(self.figures), steps, self.kind)] * 3)
        ends = [
            _run(self.question, {n: f[end] if isinstance(f, Range) else f for n, f in self.figures.items()}, steps, self.kind)
            for end in range(3)
        ]
        return Range(min(ends), ends[1], max(ends))

    @property
    def tolerance(self) -> float:
        """Half the width of what is taken, as a share; a width told as a figure becomes a share of the answer."""
        told = self.question.tolerance
        if isinstance(told, float):
            return told
        return 0.0 if told == RANGE else float(read(told, self.kind, "tolerance")) / abs(self.value().likely)

    def accepted(self, slip: Slip | None = None, tolerances: float = 1.0) -> tuple[float, float]:
        """The SI figures taken for the answer, or for a slip: lowest and highest."""
        value = self.value(slip)
        share = tolerances * self.tolerance
        ends = sorted(end * side for end in (value.low, value.high) for side in (1 - share, 1 + share))
        return ends[0] - 1e-12 * abs(ends[0]), ends[-1] + 1e-12 * abs(ends[-1])

    @functools.cached_property
    def usual(self) -> tuple[tuple[Slip, float], ...]:
        """The other ways of the question and the usual slips with what they come to, SI, whatever the sign.

        Those that come to the answer, or to exactly the same as one before them, are left out.
        """
        found: list[tuple[Slip, float]] = []
        taken = [abs(self.value(slip).likely) for slip in self.question.slips]
        low, high = self.accepted(None, APART)
        for slip in (*self.question.also, *usual_slips(self.question)):
            try:
                with np.errstate(all="ignore"):
                    value = abs(self.value(slip).likely)
            except (ArithmeticError, TypeError, ValueError, InputProblem):  # TypeError: a root of less than nothing
                continue  # this way leads nowhere with these numbers
            if (
                not (np.isfinite(value) and value)
                or low <= value <= high
                or any(abs(value - other) <= 1e-9 * other for other in taken)
            ):
                continue
            taken.append(value)
            found.append((slip, value))
        return tuple(found)

    def sound(self) -> bool:
        """The figures rise as they must, and the answer and all slips are told apart."""
        found = _worked(self.question, self.figures)
        pairs = itertools.chain(*(itertools.pairwise(names) for names in self.question.ascending))
        rising = all(found[lower] < found[higher] for lower, higher in pairs)
        spans = sorted(self.accepted(slip, APART) for slip in (None, *self.question.slips))
        return rising and all(a[1] < b[0] for a, b in itertools.pairwise(spans))

    def doubts(self) -> list[str]:
        """Sentences on figures for which a formula was not made."""
        figures = _worked(self.question, self.figures)
        return [sentence for step in self.question.work for sentence in step.formula.doubts(step.inputs(figures))]

    def workings(self) -> list[Working]:
        found = {name: likely(figure) for name, figure in _worked(self.question, self.figures).items()}
        return [Working.of(step.formula, step.inputs(found)) for step in self.question.work]

    def same_answer(self, other: Asked) -> bool:
        return isinstance(other, AskedFigure) and overlap(self.accepted(None, 2 * APART), other.accepted(None, 2 * APART))


def overlap(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return a[0] <= b[1] and b[0] <= a[1]


def _worked(question: Question, figures: Mapping[str, Any]) -> dict[str, Any]:
    """Figures with everything worked out on the way; a range of a table stands at its likely value."""
    found = {name: likely(figure) for name, figure in figures.items()}
    for step in question.work:
        found[step.name] = step.run(found)
    return found


def _run(question: Question, figures: dict[str, float], steps: tuple, output: Kind) -> float:
    def work(given: dict[str, float]) -> float:
        for step in question.work:
            if step.name not in given:
                given[step.name] = step.run(given)
        return given[question.asks]

    return float(wrong_value(Calculation(figures, question.kinds, output, work), steps))


# --- one of several cases is asked ------------------------------------------------------------------
@dataclass(frozen=True, repr=False)
class AskedCases(Common):
    """Which of several cases gives the smallest, or the largest, result?"""

    question: Question
    name: str
    cases: tuple[AskedFigure, ...]

    @property
    def text(self) -> str:
        return self.question.text

    @property
    def options(self) -> tuple[str, ...]:
        return tuple(fill(self.question.case, case.words) for case in self.cases)

    def chosen(self, slip: Slip | None = None) -> int:
        """Place of the case that is right, or that a slip leads to."""
        return self._order(slip)[0][1]

    def _order(self, slip: Slip | None) -> list[tuple[float, int]]:
        """Result and place of each case, the one that is picked first."""
        picks = (slip.picks if slip else "") or self.question.picks
        return sorted(((case.value(slip).likely, place) for place, case in enumerate(self.cases)), reverse=picks == "largest")

    def sound(self) -> bool:
        """Right and every slip pick cases of their own, each clear of the next."""
        orders = [self._order(slip) for slip in (None, *self.question.slips)]
        apart = [max(order[0][0], order[1][0]) / min(order[0][0], order[1][0]) for order in orders]
        places = {order[0][1] for order in orders}
        return min(apart) >= CASES_APART and len(places) == len(orders) and len(set(self.options)) == len(self.options)

    def reply(self, place: int) -> tuple[str, str]:
        """Name and help of the slip that leads to an option; empty if none does."""
        return next(((slip.name, slip.help) for slip in self.question.slips if self.chosen(slip) == place), ("", ""))

    def why(self) -> str:
        kind = self.cases[0].kind
        return "; ".join(f"{letter}: {shown(case.value().likely, kind)}" for letter, case in zip(LETTERS, self.cases))

    def workings(self) -> list[Working]:
        return self.cases[self.chosen()].workings()

    def same_answer(self, other: Asked) -> bool:
        return isinstance(other, AskedCases) and self.options == other.options


# --- one of several changes to a design is asked ----------------------------------------------------
@dataclass(frozen=True, repr=False)
class AskedChanges(Common):
    """Which of several changes to a design moves a result most?  The design is a demo, or ``own`` with changes told from where it stands."""

    question: Question
    name: str
    words: Mapping[str, str]
    own: Behind | None = None
    note: str = ""

    @functools.cached_property
    def behind(self) -> Behind:
        if self.own is not None:
            return self.own
        from .behind import behind_demo  # the whole lathe is read only if a question needs it

        return behind_demo(self.question.design)

    @functools.cached_property
    def changes(self) -> list[dict[str, str]]:
        told = self.question.changes if self.own is None else self.question.own
        filled = ({name: fill(text, self.words) for name, text in change.items()} for change in told)
        return [self.behind.changed(change) for change in filled]

    @functools.cached_property
    def text(self) -> str:
        return fill(self.question.text if self.own is None else self.question.own_text, self.words)

    @functools.cached_property
    def options(self) -> tuple[str, ...]:
        design = self.behind.design
        return tuple(
            ", and ".join(
                f"{design.chain.decisions[name].label}: {text} instead of {design.choices[name].written}"
                for name, text in change.items()
            )
            for change in self.changes
        )

    def values(self) -> list[float]:
        """The result after each change, SI."""
        return [self.behind.after(self.question.result, change) for change in self.changes]

    @property
    def before(self) -> float:
        return self.behind.after(self.question.result)

    def chosen(self, slip: Slip | None = None) -> int:
        """Place of the change after which the result is smallest or largest."""
        values = self.values()
        return values.index((min if self.question.picks == "smallest" else max)(values))

    def sound(self) -> bool:
        """Every change is one, no two are alike, and the right one moves clearly more than the next."""
        values, before = self.values(), self.before
        sign = -1 if self.question.picks == "smallest" else 1
        first, second, *_ = sorted((sign * (value - before) for value in values), reverse=True)
        written = [text.rpartition(" instead of ") for text in self.options]
        return (
            first > 0.005 * abs(before)
            and first >= CASES_APART * max(second, 0)
            and all(text.partition(": ")[2] != old for text, _, old in written)
        )

    def reply(self, place: int) -> tuple[str, str]:
        """What to say to a wrong option."""
        moved = (self.values()[place] - self.before) / abs(self.before or 1) * (-1 if self.question.picks == "smallest" else 1)
        if abs(moved) < 0.001:
            return "this does not move it", "Follow the figure upwards: does anything it is made of hang on this decision?"
        if moved < 0:
            return (
                "this moves it the other way",
                "Ask of each change first whether it raises or lowers what is asked, and only then how much.",
            )
        return (
            "this moves it less than another",
            "The direction is right. Which of the others goes in with a higher power, or holds the larger share?",
        )

    def why(self) -> str:
        kind = self.behind.design.chain.results[self.question.result].kind
        return f"as it is: {shown(self.before, kind)}; " + "; ".join(
            f"{letter}: {shown(value, kind)}" for letter, value in zip(LETTERS, self.values())
        )

    def workings(self) -> list[Working]:
        return []

    def same_answer(self, other: Asked) -> bool:
        return isinstance(other, AskedChanges) and self.words == other.words


# --- a decision of a design is asked ----------------------------------------------------------------
@dataclass(frozen=True, repr=False)
class AskedDesign(Common):
    """Which decision of a demo design cures a finding with the least change and spoils nothing?"""

    question: Question
    name: str
    words: Mapping[str, str]
    decisions: Mapping[str, str] = field(default_factory=dict)

    @functools.cached_property
    def design(self):
        from ....design.demos import demo  # the whole lathe is read only if a question needs it

        demo_design = demo(self.question.design)
        known = demo_design.chain.decisions
        return demo_design.trying(**{name: known[name].read(text) for name, text in self.decisions.items()})

    @functools.cached_property
    def _evaluation(self):
        from ....design.evaluation import evaluate

        return evaluate(self.design)

    @property
    def finding(self):
        return self._evaluation.findings[fill(self.question.finding, self.words)]

    @property
    def text(self) -> str:
        return fill(self.question.text, {**self.words, "finding_says": self.finding.sentence})

    @property
    def options(self) -> tuple[str, ...]:
        return tuple(self.design.chain.decisions[name].label for name in self.question.options)

    def levers(self) -> list[Any]:
        """For each option its lever, or None if it cannot turn the finding alone."""
        from ....design.asked.levers import levers

        found = {lever.decision: lever for lever in levers(self._evaluation, self.finding.name, most=100)}
        return [found.get(name) for name in self.question.options]

    def chosen(self, slip: Slip | None = None) -> int:
        """Place of the option whose lever spoils nothing and moves least."""
        sizes = [lever.change if lever and not lever.breaks else float("inf") for lever in self.levers()]
        return sizes.index(min(sizes))

    def sound(self) -> bool:
        if self.finding.status != "fails":
            return False
        first, second, *_ = sorted(lever.change if lever and not lever.breaks else float("inf") for lever in self.levers())
        return first < float("inf") and second >= LEVERS_APART * first

    def reply(self, place: int) -> tuple[str, str]:
        """What to say to a wrong option."""
        lever, replies = self.levers()[place], self.question.replies
        if lever is None:
            return "it does not mend this", replies["no lever"]
        if lever.breaks:
            return "it spoils something else", replies["breaks"]
        return "it moves further than it need", replies["larger"]

    def why(self) -> str:
        found = zip(self.options, self.levers())
        return "; ".join(str(lever) if lever else f"{label}: cannot mend it alone" for label, lever in found)

    def workings(self) -> list[Working]:
        return list(self._evaluation.workings(self.finding.rule.value))

    def formulas(self) -> tuple[Formula, ...]:
        return tuple(working.formula for working in self.workings())

    def same_answer(self, other: Asked) -> bool:
        return isinstance(other, AskedDesign) and self.words == other.words


# --- putting a question to somebody -----------------------------------------------------------------
def asked(id: str, name: str = "", again: int = 0, behind: Behind | None = None) -> Asked:
    """The question ``id`` with the numbers of a learner; ``again`` counts how often it came back with new ones.

    ``behind`` is the learner's own design; questions that can take figures from it do, the first time they are put.
    """
    found = question(id)
    return _asked(found, normalised(name), again, behind if found.own else None)


@functools.lru_cache(maxsize=1024)
def _asked(question: Question, person: str, again: int, behind: Behind | None) -> Asked:
    return ask_of(question, person, again=again, behind=behind)


def ask_of(
    question: Question, name: str = "", unlike: Asked | None = None, again: int = 0, behind: Behind | None = None
) -> Asked:
    """A question with the numbers of a learner; with ``unlike``, other numbers and another answer; with ``behind``, figures of that design."""
    person = normalised(name)
    seed = f"{person}|{question.chapter}|{question.id}" + (f"|again {again}" if again else "") + ("|example" if unlike else "")
    note = ""
    if question.own and not unlike and not again:
        found, note = _of_design(question, person, seed, behind)
        if found is not None:
            return found
    for attempt in range(DRAWS):
        found = _draw(question, person, f"{seed}|{attempt}")
        if found.sound() and not (unlike and found.same_answer(unlike)):
            return replace(found, note=note) if note else found
    raise InputProblem.about(
        question.id,
        f"Question {question.id} has no numbers that keep its answer and its slips apart; widen its draws or take a slip out.",
    )


def _draw(question: Question, name: str, seed: str) -> Asked:
    if question.sort == "cases":
        return AskedCases(question, name, tuple(_figure(question, name, f"{seed}|{case}") for case in range(question.cases)))
    if question.sort == "changes":
        return AskedChanges(question, name, _row(question, seed))
    if question.sort == "design":
        words = _row(question, seed)
        return AskedDesign(question, name, words, {name: text for name, text in words.items() if name in question.decisions})
    return _figure(question, name, seed)


# --- with figures of the learner's own design -------------------------------------------------------
def _of_design(question: Question, person: str, seed: str, behind: Behind | None) -> tuple[Asked | None, str]:
    """The question on a design, or None with a sentence on why its numbers are drawn."""
    if behind is None:
        return None, ""
    changes = question.sort == "changes"
    names = [question.result] if changes else list(question.own.values())
    if not any(behind.own(name) for name in names):
        return None, _DRAWN.format("nothing behind it is yours yet")
    try:
        texts = {} if changes else {figure: behind.figure(name, question.kinds[figure]) for figure, name in question.own.items()}
        told = _OWN_CHANGES if changes else _OWN.format("; ".join(dict.fromkeys(behind.label(name) for name in names)))
        for attempt in range(OWN_DRAWS):
            one = f"{seed}|own|{attempt}"
            found = (
                AskedChanges(question, person, _row(question, one), behind, told)
                if changes
                else replace(_figure(question, person, one, texts), note=told)
            )
            if found.sound() and not (isinstance(found, AskedFigure) and found.doubts()):
                return found, ""
    except InputProblem as problem:
        return None, _DRAWN.format("; ".join(sentence for _, sentence in problem.problems).rstrip("."))
    return None, _DRAWN.format(
        "none of the changes stands out on it"
        if changes
        else "with its figures the answer and the usual slips lie too near each other, or a formula was not made for them"
    )


def _row(question: Question, seed: str) -> dict[str, Any]:
    """One candidate of every draw."""
    found: dict[str, Any] = {}
    for label, rows in question.draws.items():
        found.update(rows[pick(f"{seed}|{label}", len(rows))])
    return found


def _figure(question: Question, name: str, seed: str, own: Mapping[str, str] = MappingProxyType({})) -> AskedFigure:
    figures, words = {}, {}
    for key, value in (_row(question, seed) | own).items():
        kind = question.kinds.get(key)
        if kind is None:
            words[key] = value
        elif isinstance(value, str):
            figures[key], words[key] = read(value, kind, key), value
        else:
            figures[key] = value if question.tolerance == RANGE else likely(value)
            words[key] = shown(likely(value), kind)
    return AskedFigure(question, name, figures, words)
