"""Questions as they stand in the files of ``exercises/``, read and held against the formulas.

A file ``03_cutting_speeds.toml`` holds ``[[question]]`` tables.  Every question has ``id``,
``level``, ``text`` with ``{placeholders}`` and ``[question.draws]`` (see ``draws``).  Then it is
one of three sorts:

* a **figure** is asked: ``formula``, or ``work`` as a list of ``{name, formula, takes}`` whose
  results feed the later ones, or neither if ``asks`` names a figure drawn from a table; ``unit``;
  ``tolerance`` (a share, 0.01 if nothing is said, a figure such as "0.5 %" of a quoted per cent, or "range" for anything
  within a table's low and high) and ``reason``; ``own`` maps figures to decisions or results, and then the learner's own design
  gives them where it can;
* one of several **cases** is asked: ``cases`` sets of numbers, ``case`` as the text of each, and
  ``picks`` the "smallest" or "largest" result;
* one of several **changes** to a design is asked: ``design`` (a demo), ``result`` (of the chain), ``changes`` as a list of
  ``{decision = text}`` in which ``{place}`` is drawn, and ``picks``; each change is worked out through the whole chain;
  with ``own``, changes told from where a design stands ("1.2 times"), and ``own_text`` it is asked of the learner's own design;
* one **decision of a design** is asked: ``design`` (a demo), ``finding``, ``options``; the draws are
  decisions.  The answer is the lever that turns the finding and makes no other fail.

``[[question.slips]]`` have ``name``, ``help`` and ``steps`` (see ``slips``), or the keys of their only step.  Numbers are drawn so that
the answer and all slips lie apart; ``also`` lists ways in the same form that are known only where the numbers happen to tell them apart.
"""

from __future__ import annotations

import functools
import itertools
import math
import os
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from .... import units
from ....design.files.toml_text import Damaged, decode
from ....design.files.whole_file import in_words
from ....formula import Formula
from ....nearest import nearest_or_stop
from ....units import InputProblem, Kind, read
from ...folder.workspace import design_path, material
from . import slips as slips_
from .draws import Candidate, candidates
from .every_formula import every_formula
from .shapes import misshapen

LEVELS = ("recall", "use", "judge")
PICKS, RANGE = ("smallest", "largest"), "range"
_PLACE = re.compile(r"\{(\w+)\}")
_OWN_ID = re.compile(r"^\d\d\.own\w{0,20}$")
_NAME = re.compile(r"^(\d\d)_.*\.toml$")
_COMMON = {"id", "level", "text", "draws", "slips", "hint", "ascending", "kinds", "after", "read"}
_SORTS = {
    "figure": {"formula", "work", "asks", "unit", "tolerance", "reason", "own", "also"},
    "cases": {"formula", "work", "asks", "cases", "case", "picks"},
    "changes": {"design", "result", "changes", "picks", "own", "own_text"},
    "design": {"design", "finding", "options", "replies"},
}
#: keys whose value goes into the Question as it stands
_AS_TOLD = (
    "id",
    "level",
    "text",
    "hint",
    "after",
    "asks",
    "unit",
    "tolerance",
    "reason",
    "cases",
    "case",
    "picks",
    "design",
    "finding",
    "replies",
    "result",
    "read",
    "own",
    "own_text",
)
_OF_A_SLIP = {"name", "help", "steps", "picks"}
USUAL_TOLERANCE = {"tolerance": 0.01, "reason": "three figures that matter and π taken as 3.14 stay well within 1 %"}
_REPLIES = {"breaks", "no lever", "larger"}


@dataclass(frozen=True)
class Slip:
    """A mistake worth recognising: its name, what to say, and how it comes about."""

    name: str
    help: str
    steps: tuple[slips_.Step, ...]
    picks: str = ""  # for cases: the end that is picked, if it is not the question's


@dataclass(frozen=True)
class WorkStep:
    """One formula on the way to the answer; ``takes`` maps its inputs to figures of other names."""

    name: str
    formula: Formula
    takes: Mapping[str, str]

    def run(self, figures: Mapping[str, Any]) -> Any:
        """The result in SI from figures in SI."""
        return self.formula.si(**self.inputs(figures))

    def inputs(self, figures: Mapping[str, Any]) -> dict[str, Any]:
        """The formula's inputs in SI; a default where the question has no such figure."""
        given = {}
        for parameter, kind in self.formula.inputs.items():
            source = self.takes.get(parameter, parameter)
            given[parameter] = figures[source] if source in figures else self.formula.defaults[parameter] * kind.factor
        return given


@dataclass(frozen=True, repr=False, eq=False)
class Question:
    """One question before it is put to anybody."""

    id: str
    level: str
    text: str
    sort: str
    draws: Mapping[str, Sequence[Candidate]]
    slips: tuple[Slip, ...] = ()
    also: tuple[Slip, ...] = ()  # ways that are known too, with numbers that tell them from the answer and the slips
    hint: str = ""
    after: str = ""  # said when the answer is right
    ascending: tuple[tuple[str, ...], ...] = ()  # names of figures that must rise in this order
    kinds: Mapping[str, Kind] = field(default_factory=dict)
    work: tuple[WorkStep, ...] = ()
    asks: str = ""
    unit: str = ""
    tolerance: float | str = 0.0
    reason: str = ""
    cases: int = 0
    case: str = ""
    picks: str = "smallest"
    design: str = ""
    finding: str = ""
    options: tuple[str, ...] = ()
    replies: Mapping[str, str] = field(default_factory=dict)
    result: str = ""
    changes: tuple[Mapping[str, str], ...] = ()
    own: Any = ()  # what the learner's own design gives: figure -> name in the chain; or changes of it
    own_text: str = ""  # the text where changes are those of the own design
    read: str = ""  # where in the chapter to look again; else the formulas are named

    @property
    def chapter(self) -> str:
        return self.id.partition(".")[0]

    @property
    def decisions(self) -> frozenset[str]:
        """Drawn names that are decisions of the demo design; the others are words."""
        return frozenset(self.draws) - set(_PLACE.findall(self.finding)) if self.sort == "design" else frozenset()

    def __repr__(self) -> str:
        return f"<question {self.id}, {self.level}>"


def fill(text: str, words: Mapping[str, str]) -> str:
    """``text`` with each {name} replaced."""
    return _PLACE.sub(lambda place: words[place[1]], text)


# --- finding questions ------------------------------------------------------------------------------
OWN_FILE = "my_questions.toml"  # beside the design file; read as data, and nothing in it is ever run
_LARGEST = 500_000  # bytes; far more than anybody writes by hand


def chapters() -> list[str]:
    """Chapters that have exercises."""
    return sorted(match[1] for path in material("exercises").glob("*.toml") if (match := _NAME.match(path.name)))


@functools.cache
def _shipped(chapter: str) -> dict[str, Question]:
    found = sorted(material("exercises").glob(f"{chapter}_*.toml")) if re.fullmatch(r"\d\d", chapter) else []
    if not found:
        raise InputProblem.about(
            "chapter", f"There are no exercises for chapter {chapter!r}; there are some for {', '.join(chapters())}."
        )
    return {question.id: question for question in read_questions(found[0])}


def questions(chapter: str, folder: Path | None = None) -> dict[str, Question]:
    """The questions of a chapter by id, in the order of the file; then those of one's own working folder.

    A file of one's own that is faulty adds nothing; ``own_trouble`` says why.
    """
    return {**_shipped(chapter), **{id: one for id, one in _own(folder)[0].items() if one.chapter == chapter}}


def own_trouble(folder: Path | None = None) -> tuple[str, ...]:
    """What is wrong with the questions in one's own working folder, as sentences."""
    return _own(folder)[1]


def own_path(folder: Path | None = None) -> Path | None:
    """Where the questions of one's own lie, whether or not there are any; None outside of a working folder."""
    design = design_path(folder or ".")
    return design.with_name(OWN_FILE) if design else None


def _own(folder: Path | None) -> tuple[Mapping[str, Question], tuple[str, ...]]:
    path = own_path(folder)
    try:
        told = path.stat() if path and os.path.lexists(path) else None
    except OSError as problem:
        return {}, (f"{OWN_FILE} cannot be read: {in_words(problem, reading=True)}.",)
    if told is None:
        return {}, ()
    if told.st_size > _LARGEST:
        return {}, (f"{OWN_FILE} is larger than a file of questions can be, and was left alone.",)
    return _read_own(path, told.st_mtime_ns, told.st_size)


@functools.lru_cache(maxsize=4)
def _read_own(path: Path, changed: int, size: int) -> tuple[Mapping[str, Question], tuple[str, ...]]:
    try:
        return {one.id: one for one in read_questions(path)}, ()
    except InputProblem as problem:
        return {}, tuple(sentence for _, sentence in problem.problems)


def question(id: str, folder: Path | None = None) -> Question:
    """The question with this id, such as '03.2'."""
    known = questions(id.partition(".")[0], folder)
    if id not in known:
        raise InputProblem.about(
            "question", f"There is no question {id!r}; chapter {id.partition('.')[0]} has {', '.join(known)}."
        )
    return known[id]


# --- reading a file ---------------------------------------------------------------------------------
def read_questions(path: Path) -> list[Question]:
    """Questions of one file. Raises InputProblem with everything that is wrong in it."""
    try:
        told = decode(path.read_bytes()).plain
    except OSError as problem:
        raise InputProblem.about("file", f"{path.name} cannot be read: {in_words(problem, reading=True)}.") from None
    except Damaged as damage:
        raise InputProblem.about(
            "file", f"{path.name}, line {damage.line}{f', {damage.key}' if damage.key else ''}: {damage.sentence}."
        ) from None
    problems: list[tuple[str, str]] = []
    made: list[Question] = []
    entries = told.get("question", [])
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        raise InputProblem.about("file", f"{path.name} must hold tables that begin with [[question]].")
    for entry in entries:
        name = id if isinstance(id := entry.get("id"), str) else "without an id"
        try:
            made.append(_question(entry))
        except InputProblem as problem:
            problems += [(name, f"Question {name}: {sentence}") for _, sentence in problem.problems]
        except KeyError as missing:  # a name for which there is nothing in another place
            problems.append((name, f"Question {name}: it leans on {missing.args[0]!r}, which is not there."))
    ids = [one.id for one in made]
    problems += [(id, f"Question {id} stands twice.") for id in sorted({id for id in ids if ids.count(id) > 1})]
    if _NAME.match(path.name):
        problems += [
            (id, f"Question {id} does not belong in {path.name}.") for id in ids if id.partition(".")[0] != path.name[:2]
        ]
    else:  # of one's own, for any chapter that has exercises
        problems += [
            (id, f"Question {id}: its name begins with a chapter, a point, and 'own', such as '05.own1'.")
            for id in ids
            if not (_OWN_ID.match(id) and id[:2] in chapters())
        ]
    if not made and not problems:
        problems.append(("file", f"{path.name} holds no questions."))
    if problems:
        raise InputProblem(problems)
    return made


def _question(told: Mapping[str, Any]) -> Question:
    sort = "changes" if "changes" in told else "design" if "design" in told else "cases" if "cases" in told else "figure"
    unknown = [key for key in told if key not in _COMMON | _SORTS[sort]]
    problems = [f"{key!r} is not known here; did you put it in the wrong table?" for key in unknown]
    problems += [f"{key!r} is missing." for key in ("id", "level", "text", "draws") if key not in told]
    if problems := problems or misshapen(told):
        raise InputProblem([("question", sentence) for sentence in problems])
    if sort == "figure" and "tolerance" not in told:
        told = {**told, **USUAL_TOLERANCE}
    given = {key: told[key] for key in _AS_TOLD if key in told}
    work = _work(told)
    found = Question(
        **given,
        sort=sort,
        work=work,
        draws={name: candidates(name, draw) for name, draw in told["draws"].items()},
        slips=tuple(_slip(slip) for slip in told.get("slips", ())),
        also=tuple(_slip(slip) for slip in told.get("also", ())),
        ascending=tuple(tuple(names) for names in told.get("ascending", ())),
        options=tuple(told.get("options", ())),
        changes=tuple(told.get("changes", ())),
        kinds=_kinds(told, work),
    )
    if not found.asks and work:
        object.__setattr__(found, "asks", work[-1].name)
    problems = [
        *_faults(found),
        *{"figure": _figure_faults, "cases": _cases_faults, "design": _design_faults, "changes": _changes_faults}[sort](found),
    ]
    if problems:
        raise InputProblem([("question", sentence) for sentence in problems])
    return found


def _slip(told: Mapping[str, Any]) -> Slip:
    """A slip; one of a single step may give it without the list around it."""
    step = {key: value for key, value in told.items() if key not in _OF_A_SLIP}
    return Slip(
        told.get("name", ""),
        told.get("help", ""),
        tuple(told.get("steps", ())) or ((step,) if step else ()),
        told.get("picks", ""),
    )


def _work(told: Mapping[str, Any]) -> tuple[WorkStep, ...]:
    steps = [{"name": "answer", "formula": told["formula"]}] if "formula" in told else list(told.get("work", ()))
    for step in steps:
        if step["formula"] not in every_formula():
            raise InputProblem.about(
                "formula", f"there is no formula {step['formula']!r}{nearest_or_stop(step['formula'], every_formula())}"
            )
    return tuple(WorkStep(step["name"], every_formula()[step["formula"]], step.get("takes", {})) for step in steps)


def _kinds(told: Mapping[str, Any], work: Sequence[WorkStep]) -> dict[str, Kind]:
    """The kind of each figure: as told, else as the first formula that takes it says."""
    kinds = {}
    for name, factory in told.get("kinds", {}).items():
        if not callable(getattr(units, factory, None)) or not factory[:1].isupper():
            raise InputProblem.about("kinds", f"{factory!r} is not a kind of figure.")
        kinds[name] = getattr(units, factory)()
    for step in work:
        for parameter, kind in step.formula.inputs.items():
            kinds.setdefault(step.takes.get(parameter, parameter), kind)
        kinds[step.name] = step.formula.output
    return kinds


# --- what can be wrong with a question --------------------------------------------------------------
def _drawn(question: Question) -> dict[str, list[Any]]:
    """Every value each drawn name can take."""
    found: dict[str, list[Any]] = {}
    for row in itertools.chain(*question.draws.values()):
        for name, value in row.items():
            found.setdefault(name, []).append(value)
    return found


def _faults(question: Question) -> list[str]:
    said = []
    drawn = _drawn(question)
    if question.level not in LEVELS:
        said.append(f"the level {question.level!r} is none of {', '.join(LEVELS)}.")
    said += [
        f"the text has {{{place}}}, which is not drawn."
        for place in _PLACE.findall(question.text + question.case)
        if place not in drawn and (question.sort, place) != ("design", "finding_says")
    ]
    said += [
        f"the slip without a name or help stands at place {number}."
        for number, slip in enumerate((*question.slips, *question.also), 1)
        if not slip.name or not slip.help
    ]
    if question.sort in ("figure", "cases"):
        known = set(drawn)
        for step in question.work:
            wanted = {step.takes.get(p, p) for p in step.formula.inputs if p not in step.formula.defaults or p in step.takes}
            said += [
                f"{step.formula.title} needs {name!r}, which is neither drawn nor worked out." for name in sorted(wanted - known)
            ]
            said += [f"{step.formula.title} has no input {name!r}." for name in step.takes if name not in step.formula.inputs]
            known.add(step.name)
        for slip in (*question.slips, *question.also):
            said += [f"the slip {slip.name!r} {fault}." for fault in slips_.faults(slip.steps, question.kinds, drawn, known)]
        said += [
            f"'ascending' names {name!r}, which is no figure."
            for names in question.ascending
            for name in names
            if name not in question.kinds
        ]
        for name, values in drawn.items():
            if name in question.kinds:
                for value in values:
                    said += _misfits(read, value, question.kinds[name], name) if isinstance(value, str) else []
    return said


def _misfits(reader: Callable[..., Any], *given: Any) -> list[str]:
    """What a reader says against what it is given."""
    try:
        reader(*given)
    except InputProblem as problem:
        return [sentence for _, sentence in problem.problems]
    return []


def _figure_faults(question: Question) -> list[str]:
    if question.asks not in question.kinds:
        return [f"what is asked, {question.asks!r}, is no figure of the question."]
    said = _own_figure_faults(question)
    if question.unit:
        said += _misfits(read, f"1 {question.unit}", question.kinds[question.asks], "unit")
    elif question.kinds[question.asks].sort != "plain":
        said.append("the unit asked for is missing.")
    if isinstance(question.tolerance, str) and question.tolerance != RANGE:
        said += _misfits(read, question.tolerance, question.kinds[question.asks], "tolerance")
    elif question.tolerance != RANGE and not 0 < question.tolerance < 0.05:
        said.append(f"the tolerance must be a share between 0 and 0.05, a figure, or {RANGE!r}; it is {question.tolerance!r}.")
    if not question.reason:
        said.append("the tolerance has no reason.")
    return said


def _own_figure_faults(question: Question) -> list[str]:
    """What is wrong with the figures that the learner's own design is to give."""
    if not question.own:
        return []
    from ....design.lathe import LATHE

    if not isinstance(question.own, Mapping):
        return ["'own' is a table, such as own = { diameter = \"spindle_diameter\" }."]
    known, said = [*LATHE.decisions, *LATHE.figures, *LATHE.results], []
    for figure, name in question.own.items():
        kind = LATHE.part(name).kind if name in known else None
        if figure not in question.draws or figure not in question.kinds:
            said.append(f"'own' names {figure!r}, which is no figure that is drawn.")
        elif name not in known:
            said.append(f"there is no decision, figure or result {name!r}{nearest_or_stop(name, known)}")
        elif kind is None or not _alike(kind, question.kinds[figure]):
            said.append(f"{name!r} is not of the same kind as {figure!r}.")
    return said


def _alike(kind: Kind, other: Kind) -> bool:
    """Whether one unit of a kind is the same figure, SI, for another: a pitch is a length, hours of work are no seconds."""
    try:
        return math.isclose(
            float(read(f"{max(1, kind.at_least or 0)} {kind.unit}".strip(), other)), max(1, kind.at_least or 0) * kind.factor
        )
    except InputProblem:
        return False


def _cases_faults(question: Question) -> list[str]:
    said = [
        f"the text has {{{place}}}, but each case draws its own; put it into 'case'." for place in _PLACE.findall(question.text)
    ]
    if not (isinstance(question.cases, int) and 2 <= question.cases <= 6):
        said.append(f"'cases' must be a whole number from 2 to 6; it is {question.cases!r}.")
    if not question.case:
        said.append("the text of a case is missing.")
    if question.asks not in question.kinds:
        said.append("there is nothing to compare; give a formula.")
    said += [
        f"'picks' must be one of {', '.join(PICKS)}; it is {ends!r}."
        for ends in (question.picks, *(slip.picks for slip in question.slips if slip.picks))
        if ends not in PICKS
    ]
    return said


def _design_faults(question: Question) -> list[str]:
    said = []
    if len(question.options) < 2:
        said.append("'options' must name at least two decisions.")
    if set(question.replies) != _REPLIES:
        said.append(f"'replies' must hold {', '.join(sorted(_REPLIES))}.")
    if not question.finding:
        said.append("'finding' is missing.")
    return said


def _changes_faults(question: Question) -> list[str]:
    from ....design.demos import demo

    try:
        chain = demo(question.design).chain
    except InputProblem as problem:
        return [str(problem)]
    said, drawn = [], _drawn(question)
    if not 2 <= len(question.changes) <= 6:
        said.append(f"'changes' must hold from 2 to 6 changes; it holds {len(question.changes)}.")
    if question.result not in chain.results:
        said.append(f"there is no result {question.result!r}{nearest_or_stop(question.result, chain.results)}")
    elif chain.results[question.result].kind is None:
        said.append(f"the result {question.result!r} is no figure.")
    if question.picks not in PICKS:
        said.append(f"'picks' must be one of {', '.join(PICKS)}; it is {question.picks!r}.")
    if bool(question.own) != bool(question.own_text):
        said.append(
            "'own' and 'own_text' belong together: changes told from where a design stands, and the text that asks of them."
        )
    said += [
        f"there is no decision {name!r}{nearest_or_stop(name, chain.decisions)}"
        for change in question.own
        for name in change
        if name not in chain.decisions
    ]
    said += [
        f"'own' has {{{place}}}, which is not drawn."
        for change in question.own
        for text in change.values()
        for place in _PLACE.findall(text)
        if place not in drawn
    ]
    for change in question.changes:
        for name, text in change.items():
            if name not in chain.decisions:
                said.append(f"there is no decision {name!r}{nearest_or_stop(name, chain.decisions)}")
                continue
            places = list(_PLACE.findall(text))
            said += [f"the change of {name} has {{{place}}}, which is not drawn." for place in places if place not in drawn]
            if all(place in drawn for place in places):
                for value in drawn[places[0]] if len(places) == 1 else [""] if not places else []:
                    said += _misfits(chain.decisions[name].read, fill(text, {places[0]: value}) if places else text)
    return said
