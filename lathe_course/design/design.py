"""A design is a value: the learner's decisions, figures and jobs.  A change makes a new one."""

from __future__ import annotations

import datetime
import functools
import math
import weakref
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any

import numpy as np

from .. import units
from ..nearest import nearest_or_stop
from ..planning.log import NO_LOG, Log
from ..planning.making import Making
from ..problems import must_be_known
from ..units import SYSTEMS, InputProblem
from .at_hand import read_machines, tells_machines
from .building import Building, building_of, note_of, ways_of_demo
from .chain.graph import Chain
from .chain.readings import Readings, joined, tidied
from .jobs import Job, Jobs
from .making import making_of
from .money import own_money
from .origins import DEMO, DRAFT, YOURS, demo_written, line_of, origin_of
from .remarks import Remark


@dataclass(frozen=True)
class Choice:
    """One decision as it stands: value in SI, how it was written, why, when, what stood before, and whether it is the draft's, the demo's or yours."""

    value: Any
    written: Any
    reason: str = ""
    decided: str = ""
    earlier: tuple[Choice, ...] = ()
    origin: str = YOURS


@dataclass(frozen=True)
class Design:
    """Everything a learner has settled.  ``chain`` says what can be settled and what follows."""

    chain: Chain
    choices: Mapping[str, Choice]
    figures: Mapping[str, Choice] = field(default_factory=lambda: MappingProxyType({}))
    jobs: Jobs = Jobs()  # noqa: RUF009  a list that nothing changes
    name: str = ""
    system: str = "mm"
    started_from: str = ""
    guesses: Mapping[str, Mapping[str, str]] = field(default_factory=lambda: MappingProxyType({}))
    notes: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    readings: Mapping[str, Readings] = field(default_factory=lambda: MappingProxyType({}))  # by sheet; none is left out
    ways: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))  # part -> the way chosen for it
    wish: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))  # answers that are no decision, as written
    sheets: Building | None = None  # the learner's own lists of parts, shop and prices; None: those of the course
    log: Log = NO_LOG  # what happened in the build so far
    remarks: tuple[Remark, ...] = ()  # what a mentor said of decisions; nothing is worked out from it
    held: Making | None = field(default=None, compare=False, repr=False)  # how parts are made, while a decision is only tried

    def __post_init__(self) -> None:
        # figures are shown in the learner's own money, which the decision on it names
        object.__setattr__(self, "system", _in_own_money(self.system, self.choices))

    # --- making -----------------------------------------------------------------------------------
    @classmethod
    def from_written(cls, chain: Chain, written: Mapping[str, Any]) -> Design:
        """A design from the plain mapping a design file holds; all problems are reported together.

        ``written`` has ``decisions`` and ``figures`` (name -> {value, reason, decided, origin, earlier}),
        ``jobs`` (a list of mappings), ``readings`` (sheet -> a list of mappings), ``name``, ``system``,
        ``started_from``, ``guesses``, ``notes``, ``remarks`` (a list of mappings).
        Raises InputProblem.
        """
        problems: list[tuple[str, str]] = []
        # the money first, for others may be written in it
        demo = demo_written(str(written.get("started_from", ""))).get("decisions", {})
        money = cls._choices(
            chain.decisions,
            {name: entry for name, entry in written.get("decisions", {}).items() if name == MONEY},
            "decision",
            problems,
            demo=demo,
        )
        shown = _in_own_money(str(written.get("system", "mm")), money)
        others = {name: entry for name, entry in written.get("decisions", {}).items() if name != MONEY}
        found = money | cls._choices(chain.decisions, others, "decision", problems, shown, demo)
        choices = {name: found[name] for name in (*written.get("decisions", {}), *found) if name in found}
        figures = cls._choices(chain.figures, written.get("figures", {}), "figure", problems, shown)
        complained_of = {name for name, _ in problems}
        missing = [name for name in chain.decisions if name not in choices and name not in complained_of]
        problems += [(name, f"the decision {name} is missing; {chain.decisions[name].question}") for name in missing]
        jobs = []
        for index, job in enumerate(written.get("jobs", ())):
            try:
                jobs.append(Job.read(job))
            except InputProblem as problem:
                problems += [(f"jobs.{index}.{field}", sentence) for field, sentence in problem.problems]
        if not written.get("jobs"):
            problems.append(
                ("jobs", "the list of jobs is empty; a lathe is drawn round the parts it must make, so give at least one.")
            )
        elif jobs and sum(job.share for job in jobs) == 0:
            problems.append(("jobs", "no job has a share of the turning hours; give each its share, such as share = 0.25."))
        readings = cls._readings(chain, written.get("readings", {}), problems)
        try:
            read_machines(str(written.get("wish", {}).get(MACHINES_TICKED, "")))
        except InputProblem as problem:
            problems += problem.problems
        system = written.get("system", "mm")
        if system not in SYSTEMS:
            problems.append(("system", f"the system {system!r} is not known; write 'mm' or 'inch'."))
        if problems:
            raise InputProblem(problems)
        return cls(
            chain,
            MappingProxyType(choices),
            MappingProxyType(figures),
            Jobs(jobs),
            str(written.get("name", "")),
            system,
            str(written.get("started_from", "")),
            MappingProxyType({k: dict(v) for k, v in written.get("guesses", {}).items()}),
            MappingProxyType(dict(written.get("notes", {}))),
            MappingProxyType(readings),
            MappingProxyType(dict(written.get("ways", {}))),
            MappingProxyType(dict(written.get("wish", {}))),
            remarks=tuple(Remark.read(one) for one in written.get("remarks", ())),
        )

    @staticmethod
    def _readings(chain: Chain, written: Mapping[str, Any], problems: list) -> dict[str, Readings]:
        problems += [
            (f"readings.{name}", f"there is no sheet of readings called {name!r}{nearest_or_stop(name, chain.sheets)}")
            for name in written
            if name not in chain.sheets
        ]
        found = {}
        for name, sheet in chain.sheets.items():
            try:
                found[name] = sheet.read(written.get(name, ()))
            except InputProblem as problem:
                problems += [(f"readings.{name}.{place}", sentence) for place, sentence in problem.problems]
        return found

    @staticmethod
    def _choices(
        known: Mapping[str, Any],
        written: Mapping[str, Any],
        what: str,
        problems: list,
        system: str = "mm",
        demo: Mapping[str, Any] = MappingProxyType({}),
    ) -> dict[str, Choice]:
        found = {}
        for name, entry in written.items():
            if name not in known:
                problems.append((name, f"there is no {what} called {name!r}{nearest_or_stop(name, known)}"))
                continue
            entry = entry if isinstance(entry, Mapping) and "value" in entry else {"value": entry}
            try:
                earlier = []
                for old in entry.get("earlier", ()):
                    try:
                        earlier.append(
                            Choice(
                                _read(known[name], old["value"], system),
                                old["value"],
                                str(old.get("reason", "")),
                                str(old.get("decided", "")),
                            )
                        )
                    except (InputProblem, KeyError, TypeError):
                        continue  # history is shown, never computed with: a broken line of it is no problem
                found[name] = Choice(
                    _read(known[name], entry["value"], system),
                    entry["value"],
                    str(entry.get("reason", "")),
                    str(entry.get("decided", "")),
                    tuple(earlier),
                    origin_of(entry, demo.get(name)),
                )
            except InputProblem as problem:
                problems += [(name, sentence) for _, sentence in problem.problems]
        return found

    def written(self) -> dict[str, Any]:
        """The plain mapping a design file holds."""

        def entry(choice: Choice, earlier: bool = True) -> dict[str, Any]:
            made = {"value": choice.written}
            if choice.reason:
                made["reason"] = choice.reason
            if choice.decided:
                made["decided"] = choice.decided
            if earlier and choice.earlier:
                made["earlier"] = [entry(old, False) for old in choice.earlier]
            return made

        demo = demo_written(self.started_from).get("decisions", {})

        def decision(name: str, choice: Choice) -> dict[str, Any]:
            made = entry(choice)
            line = line_of(choice.origin, made, demo.get(name))
            return made | {"origin": line} if line else made

        return {
            "name": self.name,
            "system": str(self.system),
            "started_from": self.started_from,
            "decisions": {name: decision(name, choice) for name, choice in self.choices.items()},
            "figures": {name: entry(choice) for name, choice in self.figures.items()},
            "jobs": [dict(job.written) for job in self.jobs],
            "guesses": {k: dict(v) for k, v in self.guesses.items()},
            "notes": dict(self.notes),
            **({"ways": dict(self.ways)} if self.ways else {}),
            **({"wish": dict(self.wish)} if self.wish else {}),
            **({"remarks": [one.written for one in self.remarks]} if self.remarks else {}),
            "readings": {name: rows.written for name, rows in self.readings.items() if rows},
        }

    # --- changing ---------------------------------------------------------------------------------
    def with_(self, because: str = "", decided: str | None = None, **changes: Any) -> Design:
        """A new design with some decisions or figures changed, as text such as ``centre_height="80 mm"``.

        The value that stood before is kept as history.  All problems are reported together.
        Raises InputProblem with all that cannot be read.
        """
        problems: list[tuple[str, str]] = []
        choices, figures = dict(self.choices), dict(self.figures)
        system = self.system
        for name, given in sorted(
            changes.items(), key=lambda one: one[0] != MONEY
        ):  # the money first, for others may be written in it
            group, known = (choices, self.chain.decisions) if name in self.chain.decisions else (figures, self.chain.figures)
            if name not in known:
                hint = nearest_or_stop(name, [*self.chain.decisions, *self.chain.figures])
                problems.append((name, f"there is no decision called {name!r}{hint}"))
                continue
            try:
                value = _read(known[name], given, system)
            except InputProblem as problem:
                problems += problem.problems
                continue
            if name == MONEY:
                system = _in_own_money(system, {MONEY: Choice(value, given)})
            given = _as_written(given, known[name])
            before = group.get(name)
            history = (
                (*before.earlier, replace(before, earlier=()))
                if before and before.written != given
                else (before.earlier if before else ())
            )
            when = decided if decided is not None else datetime.date.today().isoformat()
            group[name] = Choice(
                value, given, because or (before.reason if before and before.written == given else ""), when, history
            )
        if problems:
            raise InputProblem(problems)
        return replace(self, choices=MappingProxyType(choices), figures=MappingProxyType(figures), held=None)

    def drafted(self, values: Mapping[str, Any], reasons: Mapping[str, str]) -> Design:
        """A new design with decisions as a draft proposes them, each with its reason; what is the learner's own stays.

        Raises InputProblem for a value that cannot be, as ``with_`` does.
        """
        free = {name: given for name, given in values.items() if self.origin(name) != YOURS}
        made = self.with_(decided="", **free)
        choices = dict(made.choices)
        for name in free:
            choices[name] = replace(choices[name], reason=reasons.get(name, ""), earlier=self.choices[name].earlier, origin=DRAFT)
        return replace(made, choices=MappingProxyType(choices))

    def undecided(self, names: Iterable[str]) -> Design:
        """A new design in which these decisions are no longer the learner's but free to be drafted; what stood is kept as history."""
        choices = dict(self.choices)
        for name in names:
            before = choices[name]
            if before.origin == YOURS:
                choices[name] = Choice(
                    before.value, before.written, earlier=(*before.earlier, replace(before, earlier=())), origin=DRAFT
                )
        return replace(self, choices=MappingProxyType(choices))

    def with_readings(
        self, sheet: str, rows: Iterable[Mapping[str, Any]], shown: Iterable[Mapping[str, Any]] | None = None
    ) -> Design:
        """A new design with the rows of a sheet as wished.

        ``shown`` are the rows that the learner had before them; what was added to the sheet
        since then, in another notebook, is kept.  Raises InputProblem with all that is wrong.
        """
        must_be_known(sheet, self.chain.sheets, "sheet of readings", most=2)
        now = self.readings[sheet].written if sheet in self.readings else []
        wanted = tidied(rows)
        self.chain.sheets[sheet].read(wanted)  # complaints count the rows as the learner sees them
        if shown is not None:
            wanted = joined(now, tidied(shown), wanted)
        found = self.chain.sheets[sheet].read(
            {key: _as_written(value, self.chain.sheets[sheet].fields[key]) for key, value in row.items()} for row in wanted
        )
        return replace(self, readings=MappingProxyType({**self.readings, sheet: found}))

    def trying(self, **si_values: Any) -> Design:
        """A new design with decisions at SI values (numbers or arrays), for a slider or a search; no history, and parts made as they are here."""
        choices = dict(self.choices)
        for name, value in si_values.items():
            if name not in self.chain.decisions:
                raise KeyError(name)
            choices[name] = Choice(value, None)
        return replace(self, choices=MappingProxyType(choices), held=self.making if self._made_counts else None)

    def made(self, making: Making) -> Design:
        """The same design with its parts made so, to see what the machine would be; its money and hours stay."""
        return replace(self, held=making)

    def guess(self, chapter: str, question: str, answer: str) -> Design:
        """A new design that remembers a guess."""
        guesses = {k: dict(v) for k, v in self.guesses.items()}
        guesses.setdefault(chapter, {})[question] = answer
        return replace(self, guesses=MappingProxyType(guesses))

    def note(self, key: str, text: str) -> Design:
        """A new design with a note in the learner's words."""
        return replace(self, notes=MappingProxyType({**self.notes, key: text}))

    def with_remark(self, decision: str, who: str, when: str, words: str) -> Design:
        """A new design that remembers what somebody said of a decision; InputProblem for an unknown one, or without a name or words."""
        return replace(self, remarks=(*self.remarks, Remark.given(decision, who, when, words, self.chain.decisions)))

    def remarks_on(self, decision: str) -> tuple[Remark, ...]:
        """What was said of a decision, in the order it was kept."""
        return tuple(one for one in self.remarks if one.decision == decision)

    def with_ways(self, **ways: str) -> Design:
        """A new design with other ways for some parts and things; which there are, the lists of the build say.

        Raises InputProblem for a part or a way that there is not.
        """
        problems: list[tuple[str, str]] = []
        for part, how in ways.items():
            try:
                self.building.check_way(part, how)
            except InputProblem as problem:
                problems += problem.problems
        if problems:
            raise InputProblem(problems)
        return replace(self, ways=MappingProxyType({**self.ways, **ways}), held=None)

    def with_log(self, log: Log) -> Design:
        """The same design with what happened in its build."""
        return replace(self, log=log)

    # --- reading ----------------------------------------------------------------------------------
    @property
    def course_building(self) -> Building:
        """The course's own lists with the machines ticked in the wish, or those of the demo where none was ticked."""
        return building_of("" if self.machines else self.started_from, self.machines)

    @property
    def machines(self) -> str:
        """The machines that were ticked, as written, or told as ticks are told in chapter 01; nothing where none was."""
        told = self.choices.get("at_hand")
        if told is not None and told.origin == YOURS and tells_machines(str(told.value)):
            return str(told.value)
        return self.wish.get(MACHINES_TICKED, "") or (str(told.value) if told is not None and told.origin == DRAFT else "")

    @property
    def untold_machines(self) -> str:
        """A sentence where the learner's own words on the machines at hand are such that nothing is worked out from them; else nothing."""
        told = self.choices.get("at_hand")
        if told is None or told.origin != YOURS or tells_machines(str(told.value)):
            return ""
        instead = f"what was ticked counts ({self.machines})" if self.machines else "machines of a demo stand in"
        return (
            f"“{told.value}” are words from which nothing can be worked out, so {instead}: tick your machines in chapter 00b, "
            "or write them as in 'hand tools + bench drill 13 mm'."
        )

    @functools.cached_property
    def building(self) -> Building:
        """What there is to build with, and the way chosen for each part."""
        lists = self.sheets or self.course_building
        demos = {} if self.sheets else ways_of_demo(self.started_from)  # in a shop of one's own no way is taken over unasked
        return lists.with_ways(
            self.ways, (part for part, how in self.ways.items() if demos.get(part) == how and note_of(part) not in self.notes)
        )

    @functools.cached_property
    def evaluations(self) -> weakref.WeakValueDictionary[int | None, Any]:
        """What ``evaluate`` made of it, by the number of draws, while it is in use: two that ask for the same share what they find out."""
        return weakref.WeakValueDictionary()

    @property
    def _made_counts(self) -> bool:
        return "making" in self.chain.given

    @functools.cached_property
    def making(self) -> Making:
        """How each part is made, resolved once: by the ways chosen, or those the list of parts would take."""
        return self.held or making_of(self)

    def __getitem__(self, name: str) -> Any:
        """SI value of a decision or of a figure the learner replaced."""
        return self.choices[name].value if name in self.choices else self.figures[name].value

    def given(self, making: bool = True) -> dict[str, Any]:
        """All that the chain takes from a design: decisions in SI, the jobs, and what was measured; how parts are made as well, unless that is to be found."""
        values = {name: choice.value for name, choice in self.choices.items()}
        values["jobs"] = self.jobs
        if "building" in self.chain.given:
            values["building"] = self.building
        if "log" in self.chain.given:
            values["log"] = self.log
        if making and self._made_counts:
            values["making"] = self.making
        for name, sheet in self.chain.sheets.items():
            values[sheet.chain_name] = self.readings.get(name, sheet.empty)
        return values

    def changed_from(self, other: Design) -> set[str]:
        """Names whose values differ between two designs."""

        def differs(a: Any, b: Any) -> bool:
            if a is b:
                return False
            return type(a) is not type(b) or not _same(a, b)

        names = {name for name in self.choices if differs(self.choices[name].value, other.choices[name].value)}
        for name in {*self.figures, *other.figures}:
            mine, theirs = self.figures.get(name), other.figures.get(name)
            if mine is None or theirs is None or differs(mine.value, theirs.value):
                names.add(name)
        if self.jobs != other.jobs:
            names.add("jobs")
        if "building" in self.chain.given and (
            self.sheets is not other.sheets
            or self.ways != other.ways
            or self.machines != other.machines
            or self.started_from != other.started_from
        ):
            names.add("building")
        if "log" in self.chain.given and self.log is not other.log:
            names.add("log")
        if self._made_counts and not self.making.alike(other.making):
            names.add("making")
        for name, sheet in self.chain.sheets.items():
            if self.readings.get(name, ()) != other.readings.get(name, ()):
                names.add(sheet.chain_name)
        return names

    def origin(self, name: str) -> str:
        """Where a decision comes from: 'draft', 'demo' or 'yours'."""
        return self.choices[name].origin

    def origin_of_way(self, part: str) -> str:
        """Where the way of a part comes from: none chosen is the draft's, one that stands as the demo has it and has no reason of its own the demo's."""
        if part not in self.ways:
            return DRAFT
        return DEMO if ways_of_demo(self.started_from).get(part) == self.ways[part] and note_of(part) not in self.notes else YOURS

    def replaced_figures(self) -> dict[str, Any]:
        """Figures the learner put in place of the course's, SI or Range."""
        return {name: choice.value for name, choice in self.figures.items()}


#: the decision that names the learner's money, and what it is worth
MONEY = "currency"
#: the answer of the wish that names the machines at hand
MACHINES_TICKED = "machines"


def _read(part: Any, given: Any, system: str) -> Any:
    """What was written, read by a decision or figure; sums may stand in the learner's own money."""
    return part.read(units.in_lists_money(given, part.kind, system) if part.kind else given)


def _in_own_money(system: str, choices: Mapping[str, Choice]) -> str:
    if MONEY not in choices:
        return system
    name, rate = own_money(choices[MONEY].value)
    return units.System(str(system), name, rate)


def _as_written(given: Any, part: Any) -> Any:
    """What a learner gave as text, number or range of these: what a design file can hold and give back unchanged."""
    if isinstance(given, Mapping) or (isinstance(given, (list, tuple)) and len(given) == 3):
        ends = given if isinstance(given, Mapping) else dict(zip(("low", "likely", "high"), given))
        return {end: _as_written(ends[end], part) for end in ("low", "likely", "high")}
    if hasattr(given, "magnitude") and hasattr(given, "units"):
        text = f"{float(given.magnitude)!r} {given.units:~P}".strip()
        value = units.read(given, part.kind)
        try:
            exact = math.isclose(units.read(text, part.kind), value, rel_tol=1e-12)
        except InputProblem:
            exact = False
        return text if exact else f"{value / part.kind.factor!r} {part.kind.unit}".strip()
    return given.item() if isinstance(given, np.generic) else given


def _same(a: Any, b: Any) -> bool:
    try:
        return bool(a == b)
    except ValueError:  # arrays
        return a.shape == b.shape and bool((a == b).all())
