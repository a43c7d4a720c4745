"""The chain: one graph from decisions to findings, read from the signatures.

Nothing here knows lathes.  A chain is made of decisions, figures, results and limits; it
works out everything in one pass of plain SI numbers, or of arrays when draws are asked for.
"""

from __future__ import annotations

import functools
import graphlib
from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np

from ...ranges import Range, middling, sample
from .entries import MOST_MARGIN, Decision, Figure, Limit, Result
from .luck import Fitted, Luck, fractions
from .readings import Sheet


class ChainError(Exception):
    """The chain itself is wrong: a name nobody provides, a name used twice, or a circle."""


def _by_name(parts: Iterable[Any], kind: str) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for part in parts:
        if part.name in found:
            raise ChainError(f"there are two {kind}s called {part.name!r}; give one of them another name.")
        found[part.name] = part
    return found


class Chain:
    """Decisions, figures, results and limits, put in order once."""

    def __init__(
        self,
        decisions: Iterable[Decision],
        figures: Iterable[Figure],
        results: Iterable[Result],
        limits: Iterable[Limit] = (),
        given: Iterable[str] = (),
        sheets: Iterable[Sheet] = (),
        luck: Mapping[str, Luck] = {},
    ):
        self.decisions = _by_name(decisions, "decision")
        self.figures = _by_name(figures, "figure")
        self.results = _by_name(results, "result")
        self.limits = _by_name(limits, "limit")
        self.luck = luck  # what the draws of a figure share with those of others
        self.sheets = _by_name(sheets, "sheet of readings")
        # names that a design provides as they are: its list of jobs, and what the learner measured
        self.given = (*given, *(sheet.chain_name for sheet in self.sheets.values()))
        self._check_names()
        self._order = self._sort()
        self._steps = [(name, *self._step(name)) for name in self._order]

    # --- building ---------------------------------------------------------------------------------
    def inputs_of(self, name: str) -> tuple[str, ...]:
        """What ``name`` is worked out from; nothing for a decision."""
        if name in self.results:
            return self.results[name].inputs
        if name in self.figures:
            return self.figures[name].inputs
        if name in self.limits:
            limit = self.limits[name]
            return tuple(one for one in (limit.value, limit.limit, limit.asked) if isinstance(one, str) and one)
        return ()

    def _check_names(self) -> None:
        seen: dict[str, str] = {}
        for kind, names in (
            ("decision", self.decisions),
            ("figure", self.figures),
            ("result", self.results),
            ("limit", self.limits),
            ("given", self.given),
        ):
            for name in names:
                if name in seen:
                    raise ChainError(f"{name!r} is both a {seen[name]} and a {kind}; give one of them another name.")
                seen[name] = kind
        self._known = seen
        for name in (*self.figures, *self.results, *self.limits):
            for wanted in self.inputs_of(name):
                if wanted not in seen or seen[wanted] == "limit":
                    raise ChainError(f"{name!r} needs {wanted!r}, which is neither a decision, a figure nor a result.")

    def _sort(self) -> list[str]:
        graph = {name: self.inputs_of(name) for name in (*self.figures, *self.results)}
        try:
            order = graphlib.TopologicalSorter(graph).static_order()
            return [name for name in order if name in graph]
        except graphlib.CycleError as circle:
            raise ChainError(f"these need each other in a circle: {' → '.join(reversed(circle.args[1]))}.") from None

    def _step(self, name: str) -> tuple[Any, tuple[str, ...]]:
        part = self.figures.get(name) or self.results[name]
        return ((part.lookup or part.standard) if isinstance(part, Figure) else part.body), part.inputs

    # --- the graph ---------------------------------------------------------------------------------
    @functools.cached_property
    def _downstream(self) -> dict[str, frozenset[str]]:
        below: dict[str, set[str]] = {name: set() for name in self._known}
        for name in (*self.limits, *reversed(self._order)):
            for source in self.inputs_of(name):
                below[source] |= {name} | below[name]
        # limits first, then results in reverse order: each is complete when it is handed upward
        return {name: frozenset(names) for name, names in below.items()}

    def downstream(self, name: str) -> frozenset[str]:
        """Every result, figure and limit that ``name`` has a part in."""
        return self._downstream[name]

    @functools.cached_property
    def _singles(self) -> dict[str, bool | str]:
        return {name: one.single for name, one in self.results.items() if one.single}

    @functools.cache  # noqa: B019  a chain lives as long as the course
    def singles_between(self, decision: str, limit: str = "") -> frozenset[str]:
        """Results that hold for one case only and stand below a decision; with ``limit``, between the two."""
        below = self._downstream[decision]
        return frozenset(name for name in self._singles if name in below and (not limit or limit in self._downstream[name]))

    @functools.cache  # noqa: B019
    def told_apart(self, decision: str) -> list[list[str]]:
        """All limits, those together between which and a decision the same results hold for one case only; those first that have none."""
        found: dict[frozenset[str], list[str]] = {}
        for name in self.limits:
            found.setdefault(self.singles_between(decision, name), []).append(name)
        return [found[singles] for singles in sorted(found, key=len)]

    @functools.cache  # noqa: B019
    def picked_by(self, decision: str, limit: str = "") -> tuple[str, ...]:
        """Results by which cases of a decision may be worked out in groups; nothing where they must be tried one by one or need no groups."""
        between = self.singles_between(decision, limit)
        singles = [single for name, single in self._singles.items() if name in between]
        named = [one for one in singles if isinstance(one, str)]
        return tuple(dict.fromkeys(named)) if len(named) == len(singles) else ()

    def alone(self, decision: str, limit: str = "") -> bool:
        """Must a decision be tried one value at a time, because a result below it holds for one case only and tells no groups?"""
        return bool(self.singles_between(decision, limit)) and not self.picked_by(decision, limit)

    @functools.cached_property
    def rests_on_picks(self) -> frozenset[str]:
        """Limits below a result that picks by another, such as the ways of the parts: a little luck may pick otherwise there."""
        picking = {name for name, one in self.results.items() if isinstance(one.single, str)}
        return frozenset(name for name in self.limits if self.upstream(name) & picking)

    @functools.cached_property
    def one_by_one(self) -> frozenset[str]:
        """Decisions that must be tried one value at a time."""
        return frozenset(name for name in self.decisions if self.alone(name))

    @functools.cache  # noqa: B019
    def upstream(self, name: str) -> frozenset[str]:
        """Every decision, figure and result that has a part in ``name``."""
        return frozenset(other for other, names in self._downstream.items() if name in names)

    def pushes_on(self, decision: str) -> dict[str, list[str]]:
        """Results, looked-up figures and limits to look at again when ``decision`` moves, by chapter, in the order of working out."""
        found: dict[str, list[str]] = {}
        below = self.downstream(decision)
        for name in (*self._order, *self.limits):
            if name in below:
                found.setdefault(self.part(name).chapter, []).append(name)
        return dict(sorted(found.items()))

    def part(self, name: str) -> Decision | Figure | Result | Limit:
        """The decision, figure, result or limit of this name."""
        for group in (self.results, self.decisions, self.figures, self.limits):
            if name in group:
                return group[name]
        raise KeyError(name)

    # --- working it out ----------------------------------------------------------------------------
    def work_out(
        self,
        given: Mapping[str, Any],
        figures: Mapping[str, Any] = {},
        draws: int | None = None,
        earlier: Mapping[str, Any] | None = None,
        changed: Iterable[str] = (),
        wanted: frozenset[str] | None = None,
    ) -> dict[str, Any]:
        """Every value by name, in SI; with ``wanted`` only these and what they rest on.

        ``given`` holds the decisions (and other names a design provides), ``figures`` those the
        learner replaced.  With ``draws`` every Range becomes an array of that length; without,
        its middling value, which as many draws exceed as fall short of.  With ``earlier`` only what lies below ``changed`` is worked out again.
        """
        values: dict[str, Any] = {}
        for name, value in given.items():
            values[name] = self._settle(name, value, draws) if isinstance(value, Range) else value
        if "draws" in self.given:
            values["draws"] = draws  # a body that draws for each row of a table asks how often
        steps = self._steps if wanted is None else self._steps_to(wanted)
        if earlier is not None:
            same, steps = self._parted(wanted, frozenset(changed))
            values.update((name, earlier[name]) for name in same)
        # a shape that cannot exist gives NaN and fails its findings; numpy need not warn of it as well
        with np.errstate(all="ignore"):
            for name, body, inputs in steps:
                value = figures[name] if name in figures else body(*[values[i] for i in inputs])
                values[name] = self._settle(name, value, draws) if isinstance(value, Range) else value
        return values

    @functools.cache  # noqa: B019
    def _steps_to(self, wanted: frozenset[str]) -> list[tuple[str, Any, tuple[str, ...]]]:
        """The steps that lead to some figures, in their order."""
        needed = wanted.union(*(self.upstream(name) for name in wanted))
        return [step for step in self._steps if step[0] in needed]

    @functools.lru_cache(maxsize=4096)  # noqa: B019
    def _parted(self, wanted: frozenset[str] | None, changed: frozenset[str]) -> tuple[tuple[str, ...], list[Any]]:
        """Names of figures that stay as they were when ``changed`` changes, and the steps that are to be taken again."""
        stale = frozenset().union(*(self._downstream[name] | {name} for name in changed))
        steps = self._steps if wanted is None else self._steps_to(wanted)
        return tuple(step[0] for step in steps if step[0] not in stale), [step for step in steps if step[0] in stale]

    def _settle(self, name: str, value: Range, draws: int | None) -> Any:
        if draws is None:
            return middling(value)
        return sample(value, fractions(name, draws, value.luck if isinstance(value, Fitted) else self.luck.get(name, ())))

    def margins(self, values: Mapping[str, Any], names: Iterable[str] | None = None) -> dict[str, Any]:
        """Margin of every limit, or of some, from worked-out values; the most there is where nothing is asked."""
        return {name: self._margin(self.limits[name], values) for name in (self.limits if names is None else names)}

    def _margin(self, limit: Limit, values: Mapping[str, Any]) -> Any:
        margin = limit.margin(values[limit.value], self.limit_value(limit, values))
        if limit.asked and not np.all(asked := np.asarray(values[limit.asked]) > 0):
            return np.where(asked, margin, MOST_MARGIN)[()]
        return margin

    def limit_value(self, limit: Limit, values: Mapping[str, Any]) -> Any:
        """The limit itself in SI."""
        kind: Any = getattr(self.part(limit.value), "kind", None)
        return values[limit.limit] if isinstance(limit.limit, str) else limit.limit * kind.factor
