"""What a chain is made of: decisions, figures, results and limits.

A *decision* is something the learner settles.  A *figure* is something nobody decides but
which is known only roughly: a table figure, a price, a joint's give.  A *result* is worked
out; its parameter names are decisions, figures or other results.  A *limit* holds one
result against another and becomes a finding.
"""

from __future__ import annotations

import functools
import inspect
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ... import units
from ...formula import Formula, parameters
from ...ranges import Range
from ...tables import table
from ...units import InputProblem, Kind
from ...written import read_written

#: margin from which a finding does not fail: a hair below zero, for the last digit of a sum is not to decide
NOT_FAILING = -1e-9
#: margins are not told beyond this
MOST_MARGIN = 9.99


@dataclass(frozen=True)
class Decision:
    """Something the learner settles.

    A number has a ``kind``, a sensible range ``low`` to ``high`` and a ``step`` (in the unit
    of the kind), or ``preferred`` values.  A choice has ``options`` in place of these.  A
    ``free_text`` may have a ``reader``, which writes it evenly or refuses it in a sentence, and
    then an ``example`` of what it takes.
    ``low`` and ``high`` are what makes sense here, not what physics allows: going past them
    is allowed with a word of warning, see ``doubt``, unless ``kind`` itself forbids it.
    """

    name: str
    label: str
    question: str
    chapter: str
    kind: Kind | None = None
    low: float = 0.0
    high: float = 0.0
    step: float = 0.0
    preferred: tuple[float, ...] = ()
    options: tuple[str, ...] = ()
    free_text: bool = False
    reader: Callable[[Any], str] | None = None
    example: str = ""
    movable: bool = True  # may a lever propose to change it? (a material cannot be wished away)
    asked_if: tuple[str, tuple[str, ...]] = ("", ())  # another decision, and its options with which this one counts at all

    @property
    def numeric(self) -> bool:
        return self.kind is not None

    def values(self, most: int = 400) -> np.ndarray:
        """The values worth trying, SI, rising: the preferred ones, or low to high by steps.

        Raises TypeError for a decision that is a choice.
        """
        if self.kind is None:
            raise TypeError(f"{self.name} is a choice, not a number")
        if self.preferred:
            return np.array(self.preferred, float) * self.kind.factor
        count = round((self.high - self.low) / self.step) + 1
        stride = max(1, -(-count // most))
        return (self.low + self.step * np.arange(0, count, stride)) * self.kind.factor

    def doubt(self, si: Any, system: str = "mm") -> str:
        """A sentence if a value (SI, or a range of them) lies beyond what makes sense here; else nothing."""
        if self.kind is None:
            return ""
        low, high = self.low * self.kind.factor, self.high * self.kind.factor
        slack = 1e-9 * max(abs(low), abs(high))
        if np.all(np.asarray(si) >= low - slack) and np.all(np.asarray(si) <= high + slack):
            return ""
        ends = [units.shown(end, self.kind, system) for end in (low, high)]
        return f"{self.label} lies beyond {ends[0]} to {ends[1]}, which is what makes sense for a small lathe; look at it twice."

    def read(self, given: Any) -> Any:
        """What the learner wrote, as SI number, Range or option; InputProblem if it cannot be."""
        if self.kind is None and isinstance(given, (Mapping, list)):
            raise InputProblem.about(
                self.name,
                f"{self.label} is a list or table; one text is needed{', one of: ' + ', '.join(self.options) if self.options else ''}.",
            )
        if self.free_text:
            return self.reader(given) if self.reader else str(given)
        if self.kind is None:
            if given in self.options:
                return given
            raise InputProblem.about(self.name, f"{self.label} cannot be {given!r}; choose one of: {', '.join(self.options)}.")
        return _read_figure(given, self.kind, self.name)


@dataclass(frozen=True)
class Column:
    """A look-up of a figure: what a table has under a heading, in the row that a decision names; ``missing`` where it says nothing."""

    table: str
    decision: str
    heading: str
    missing: float | None = None

    def __call__(self, row: str) -> Any:
        found = table(self.table)[row][self.heading]
        return self.missing if found is None else found


@dataclass(frozen=True)
class Figure:
    """A figure nobody decides: looked up in a ``Column`` or by a ``lookup`` whose parameters are decisions, or a
    constant ``value`` in the unit of ``kind``.  Either may be a Range.  A learner may put a
    figure of their own in its place."""

    name: str
    label: str
    kind: Kind
    chapter: str
    source: str | tuple[str, ...] = "common_practice"
    value: Range | float | None = None
    lookup: Column | Callable[..., Range | float] | None = None

    @functools.cached_property
    def inputs(self) -> tuple[str, ...]:
        if isinstance(self.lookup, Column):
            return (self.lookup.decision,)
        return parameters(self.lookup) if self.lookup else ()

    def standard(self, *values: Any) -> Range | float:
        """The figure the course starts from, in SI."""
        return self._constant if self.lookup is None else self.lookup(*values)

    @functools.cached_property
    def _constant(self) -> Range | float:
        if isinstance(self.value, Range):
            return Range(*(v * self.kind.factor for v in self.value))
        assert self.value is not None, f"{self.name} has neither a figure nor a way to look it up"
        return self.value * self.kind.factor

    def read(self, given: Any) -> Any:
        return _read_figure(given, self.kind, self.name)


def _read_figure(given: Any, kind: Kind, name: str) -> float | Range:
    if isinstance(given, Range) or (isinstance(given, (list, tuple)) and len(given) == 3):
        given = dict(zip(("low", "likely", "high"), given))
    if isinstance(given, dict) or hasattr(given, "keys"):
        missing = [end for end in ("low", "likely", "high") if end not in given]
        if missing:
            raise InputProblem.about(
                name,
                f"{name.replace('_', ' ')} is a range without {' and '.join(missing)}; "
                f"a range needs low, likely and high, each with its unit.",
            )
        found = Range(*(read_written(given[end], kind, f"{name} ({end})") for end in ("low", "likely", "high")))
        if not found.low <= found.likely <= found.high:
            raise InputProblem.about(
                name,
                f"{name.replace('_', ' ')}: low, likely and high must rise in this order; "
                f"found {', '.join(units.shown(v, kind) for v in found)}.",
            )
        return found
    found = read_written(given, kind, name)
    if np.ndim(found):
        raise InputProblem.about(
            name,
            f"{name.replace('_', ' ')} is a list; one figure is needed, for example {kind.example!r}, "
            "or a range with low, likely and high.",
        )
    return found


@dataclass(frozen=True)
class Result:
    """A worked-out figure.  ``body`` takes SI values in the order of ``inputs``.

    A ``single`` one picks things (which ways are open, say) and so holds for one case at a time;
    given a row of cases it takes the middle one.  Where it picks by another result alone, ``single`` names that:
    cases in which that result is the same may be worked out together.
    """

    name: str
    label: str
    kind: Kind | None
    chapter: str
    body: Callable[..., Any]
    inputs: tuple[str, ...]
    formula: Formula | None = None
    renamed: dict[str, str] = field(default_factory=dict)  # parameter of the formula -> name in the chain
    source: tuple[str, ...] = ()
    fixed: dict[str, float] = field(default_factory=dict)  # parameter of the formula -> the SI value it is held at
    single: bool | str = False
    says: str = ""  # what it is, where its body does not say so

    @property
    def explanation(self) -> str:
        """First sentence of what the result is."""
        doc = self.formula.summary if self.formula else (self.says or inspect.getdoc(self.body) or self.label)
        return doc.split("\n\n")[0].replace("\n", " ")


def result(
    kind: Kind | None,
    label: str,
    chapter: str,
    *,
    name: str = "",
    says: str = "",
    source: str | tuple[str, ...] = "definition",
    single: bool | str = False,
    **renamed: str,
) -> Callable[[Callable], Result]:
    """Make a Result of a plain function in SI; its parameter names are names in the chain.

    Keywords rename: ``@result(..., force="cutting_force")`` feeds ``cutting_force`` to ``force``.  A body that serves several
    results gives each its ``name``, and what it ``says`` where that is not the same for all.
    """

    def make(body: Callable) -> Result:
        inputs = tuple(renamed.get(p, p) for p in parameters(body))
        return Result(
            name or body.__name__,
            label,
            kind,
            chapter,
            body,
            inputs,
            source=(source,) if isinstance(source, str) else source,
            single=single,
            says=says,
        )

    return make


def node(
    formula: Formula, chapter: str, *, name: str = "", label: str = "", fixed: Mapping[str, float] | None = None, **renamed: str
) -> Result:
    """Put a formula into the chain as it is; keywords say which name in the chain feeds which input.

    ``fixed`` holds inputs at one value, in the workshop unit of the input.  An input with a
    default that is neither fed nor fixed stays at its default.
    Raises TypeError at import for an input that the formula has not.
    """
    unknown = [key for key in (*renamed, *(fixed or {})) if key not in formula.inputs]
    if unknown:
        raise TypeError(f"{formula.name} has no input {', '.join(unknown)}")
    held = {p: value for p, value in {**formula.defaults, **(fixed or {})}.items() if p not in renamed}
    feeds = {p: renamed.get(p, p) for p in formula.inputs if p not in held}
    spare = {p: value * formula.inputs[p].factor for p, value in held.items()}
    parameters = list(feeds)
    if parameters == list(formula.inputs):
        body = formula.si
    else:

        def body(*values: Any) -> Any:
            return formula.si(**dict(zip(parameters, values)), **spare)

    return Result(
        name or formula.name,
        label or formula.title,
        formula.output,
        chapter,
        body,
        tuple(feeds.values()),
        formula,
        feeds,
        formula.source,
        spare,
    )


@dataclass(frozen=True)
class Limit:
    """Holds one result against one limit; evaluated it becomes a finding.

    ``limit`` is a name in the chain or a number in the unit of the value.  ``comfort`` is the
    margin, as a share of the limit, above which the finding *holds*; between zero and comfort
    it is *tight*; below zero it *fails*.  ``says`` is a sentence with {value} and {limit};
    ``unasked`` stands in its place where the question does not arise, or there is nothing to hold
    against it yet: the finding is then *open*, and ``opened_by`` says what would bring an answer.
    It is asked if ``asked``, a name in the chain, is more than zero; without one, if the demand is.
    ``clear`` stands in the place of the sentence where nothing is left to hold against it, the demand being
    zero all the same, ``never`` where the value is infinite: what is waited for never comes.
    """

    name: str
    label: str
    chapter: str
    value: str
    sense: str  # "at least" or "at most"
    limit: str | float
    says: str
    comfort: float = 0.15
    caution: str = ""
    source: str | tuple[str, ...] = "common_practice"
    unasked: str = ""
    opened_by: str = ""
    asked: str = ""
    clear: str = ""
    never: str = ""
    told_in: tuple[str, ...] = ()  # chapters that show it as well, though it is kept and counted in its own

    def __post_init__(self) -> None:
        if self.asked and not self.unasked or bool(self.unasked) != bool(self.opened_by):
            raise ValueError(
                f"limit {self.name}: what may not be asked needs a sentence for it (unasked) and what would bring an answer (opened_by)"
            )
        if self.sense not in ("at least", "at most"):
            raise ValueError(f"limit {self.name}: sense must be 'at least' or 'at most'")

    def margin(self, value: Any, limit: Any) -> Any:
        """Room as a share: 0.2 means a fifth to spare, -0.2 a fifth too little.

        Numbers or arrays.  At most ``MOST_MARGIN`` either way, which is also what a demand of
        zero leaves.  NaN where value or limit is NaN.
        """
        have, want = (value, limit) if self.sense == "at least" else (limit, value)
        if not (np.ndim(have) or np.ndim(want)):
            if want > 0:
                return min(float(have / want) - 1, MOST_MARGIN)
            return float("nan") if np.isnan(have) or np.isnan(want) else MOST_MARGIN if have >= want else -MOST_MARGIN
        have, want = np.asarray(have, float), np.asarray(want, float)
        with np.errstate(all="ignore"):
            if (want > 0).all():  # so it is nearly always, and a slider waits for it
                return np.maximum(np.minimum(have / want - 1, MOST_MARGIN), -MOST_MARGIN)
            room = np.where(want > 0, have / want - 1, np.where(have >= want, MOST_MARGIN, -MOST_MARGIN))
        return np.where(np.isnan(have) | np.isnan(want), np.nan, np.clip(room, -MOST_MARGIN, MOST_MARGIN))

    def asks(self, values: Mapping[str, Any]) -> bool:
        """Is the question asked, with these values of the chain?  One that can always be asked always is."""
        if not self.unasked:
            return True
        if self.asked:
            return bool(np.all(np.asarray(values[self.asked]) > 0))
        demand = self.limit if self.sense == "at least" else self.value
        return bool(np.any(np.asarray(values[demand]) != 0)) if isinstance(demand, str) else demand != 0

    def status(self, margin: float) -> str:
        """The verdict; a margin that is not a number fails."""
        if margin >= self.comfort + NOT_FAILING:
            return "holds"
        return "tight" if margin >= NOT_FAILING else "fails"
