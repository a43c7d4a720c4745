"""Settling a draft: what fails is mended by sweeps over decisions, and what is stouter than it needs to be is trimmed.

Unlike ``mending``, which keeps close to what a learner has chosen, this starts from sizes that nobody has chosen yet: any
value of any drafted decision may be taken, the one that leaves least failing in the whole machine first, and
pairs that pull on each other are swept together where one alone does not do it.
"""

from __future__ import annotations

import functools
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

import numpy as np

from ...tables import table
from ..chain.entries import NOT_FAILING
from ..chain.luck import DRAWS
from ..design import Design
from ..evaluation import Evaluation, evaluate
from ..lathe import LATHE

#: what only the wish, the jobs or the place settles, and what mends a finding on paper alone
_HELD = frozenset(
    {
        "centre_height",
        "between_centres",
        "spindle_bore",
        "spindle_taper",
        "tailstock_taper",
        "slowest_speed",
        "fastest_speed",
        "speed_steps",
        "edge_state",
        "give_from",
        "work_support",
        "threading",
        "skill",
        "moved_as",
        "practice_thread",
        "feet",
        "chuck_jaws",
    }
)


@dataclass(frozen=True)
class Task:
    """Findings that are to hold, and the decisions that may be moved for it."""

    findings: tuple[str, ...]
    moved: tuple[str, ...]

    @functools.cached_property
    def wanted(self) -> frozenset[str]:
        """The figures that the findings rest on."""
        return frozenset(source for name in self.findings for source in LATHE.inputs_of(name))


#: the machine itself, chapters 02 to 09; how long it may be is for the place to say
MACHINE = Task(
    tuple(name for name, limit in LATHE.limits.items() if "02" <= limit.chapter <= "09" and name != "length_is_there"),
    tuple(
        name
        for name, one in LATHE.decisions.items()
        if one.movable and "02" <= one.chapter <= "09" and name not in _HELD and not one.free_text
    ),
)
#: where it stands and how it gets there, and that it can be set true
PLACE = Task(
    (
        "lift_within_guidance",
        "goes_through_door",
        "goes_round_corner",
        "bench_stays_level",
        "bench_bears_it",
        "noise_within_dose",
        "spindle_at_elbow",
        "set_true_enough",
    ),
    (
        "lifted_by",
        "lift_from",
        "bench_span",
        "bearers",
        "bearer_height",
        "grinding_hours",
        "bench_height",
        "riser_height",
        "acceptance_class",
    ),
)
#: what pulls on each other so much that one alone is of little use
_TOGETHER = (
    ("finish_feed", "nose_radius"),
    ("spindle_diameter", "depth_of_cut"),
    ("bearing_span", "spindle_overhang"),
    ("chuck_diameter", "cut_reach"),
    ("driven_pulley_1", "driving_pulley_1"),
    ("bearing_kind", "cold_end_play"),
    ("motor_power", "belt_tension"),
    ("bed_height", "depth_of_cut"),
    ("finish_depth", "finish_feed"),
    ("bed_form", "depth_of_cut"),
    ("bearing_kind", "spindle_diameter"),
)
#: sizes that are trimmed, what weighs and costs most first
NAMED_SIZES = (
    "bed_wall",
    "bed_height",
    "bed_width",
    "spindle_diameter",
    "bearing_span",
    "saddle_length",
    "cross_slide_length",
    "way_width",
    "tailstock_base",
    "barrel_diameter",
    "leadscrew_diameter",
    "cross_screw_diameter",
    "motor_power",
    "clamp_screw",
    "tool_shank",
)
#: a step down must save so much of mass, hours or money to be worth it
_WORTH, _COSTS = 0.01, ("parts_mass", "own_hours", "charged_total")
_RANK = {"holds": 2, "tight": 1, "fails": 0}
_ROUNDS, _GRID = 40, 24
#: in the choice among changes: a hair that counts as none, what a change costs for its size, and what another option costs, which opens the list of parts anew
_HAIR, _CHANGE, _OPTION = 1e-6, 0.03, 0.15
#: what is asked of the lathe is given up only where no size of it helps, and gears are cut only where pulleys do not reach
_DEARER = {"depth_of_cut": 0.4, "largest_drill": 0.4, "back_gear_ratio": 0.4}
#: no size is trimmed below this share of its usual proportion: other builds lie within a fifth of it (table of sizing)
_LEAST = 0.8
#: room below which the draws may speak against the middling figures
_CLOSE = 0.1


@dataclass
class Settled:
    """A design on the way: its evaluation, what was moved and for which finding, and the room asked beyond zero where the draws lean."""

    now: Evaluation
    free: frozenset[str]
    task: Task
    because: dict[str, str] = field(default_factory=dict)
    lean: dict[str, float] = field(default_factory=dict)
    #: what came of trying values, until something is moved or more room is asked: most decisions lie behind several findings
    tried: dict[tuple, Any] = field(default_factory=dict)

    @property
    def design(self) -> Design:
        return self.now.design

    def may_move(self, name: str) -> bool:
        return name in self.free and name in self.task.moved

    def move(self, finding: str, **values: Any) -> None:
        self.now = evaluate(self.design.trying(**values), earlier=self.now, wanted=self.task.wanted)
        self.because |= dict.fromkeys(values, finding)
        self.tried.clear()

    def ask(self, finding: str, room: float) -> None:
        """Ask for so much room beyond zero."""
        self.lean[finding] = room
        self.tried.clear()

    def left(self) -> dict[str, float]:
        """Findings that fail, with their margins less what the draws lean."""
        return {name: margin - self.lean.get(name, 0.0) for name, margin in failing(self.now, self.task, self.lean).items()}

    def scores(self, here: Mapping[str, Any], values: Mapping[str, Any]) -> Any:
        """The score with some decisions at other values, which may be arrays; ``here`` is what ``shortfalls`` tells of the design as it is."""
        key = tuple((name, value.tobytes() if isinstance(value, np.ndarray) else value) for name, value in values.items())
        if key not in self.tried:
            touched = frozenset().union(*map(LATHE.downstream, values))
            tried = evaluate(self.design.trying(**values), earlier=self.now, wanted=self.task.wanted)
            self.tried[key] = score({**here, **self.shortfalls(tried, [name for name in self.task.findings if name in touched])})
        return self.tried[key]

    def shortfalls(self, e: Evaluation, findings: Iterable[str]) -> dict[str, Any]:
        """What each finding adds to the score: much where it fails, and a little where it is tight."""
        limits = [LATHE.limits[name] for name in findings]
        asked = [limit for limit in limits if limit.asks(e.values_si)]
        margins = np.broadcast_arrays(0.0, *LATHE.margins(e.values_si, [limit.name for limit in asked]).values())[1:]
        lean, comfort = (
            np.array(each, float).reshape(-1, *np.ones(np.ndim(margins[0]) if margins else 0, int))
            for each in ([self.lean.get(limit.name, 0.0) for limit in asked], [limit.comfort for limit in asked])
        )
        short = lean - np.array(margins, float)
        short[np.isnan(short)] = 20.0
        little = 0.02 * np.minimum(np.maximum((short + comfort) / np.where(comfort > 0, comfort, np.inf), 0.0), 1.0)
        found = np.where(short > -NOT_FAILING, 1.0 + 2 * np.minimum(short, 10.0), little)
        return dict.fromkeys((limit.name for limit in limits), 0.0) | dict(zip((limit.name for limit in asked), found))


def score(shortfalls: Mapping[str, Any]) -> Any:
    """How much fails, and a little for what is tight: an array where one of them is."""
    total: Any = np.zeros(())
    for one in shortfalls.values():
        total = total + one
    return total


def failing(e: Evaluation, task: Task = MACHINE, lean: Mapping[str, float] = MappingProxyType({})) -> dict[str, float]:
    """Findings of a task that fail, with their margins."""
    margins = LATHE.margins(e.values_si, task.findings)
    return {
        name: margin
        for name, margin in margins.items()
        if not margin - lean.get(name, 0.0) >= NOT_FAILING and LATHE.limits[name].asks(e.values_si)
    }


# --- mending ------------------------------------------------------------------------------------------------
def settled(design: Design, free: Iterable[str], task: Task = MACHINE) -> Settled:
    """Move decisions among ``free`` until no finding of the task fails, at middling figures and in half of the draws, or nothing more helps."""
    state = Settled(evaluate(design, wanted=task.wanted), frozenset(free), task)
    for _ in range(4):
        _mend(state)
        if not _leans(state):
            break
    return state


def _leans(state: Settled) -> bool:
    """Ask for more room where half of the draws fail though the middling figures do not."""
    drawn = evaluate(state.design, DRAWS, wanted=state.task.wanted)
    here, found = LATHE.margins(state.now.values_si, state.task.findings), False
    for name, margin in LATHE.margins(drawn.values_si, state.task.findings).items():
        if np.ndim(margin) and LATHE.limits[name].asks(state.now.values_si) and not np.median(margin) >= NOT_FAILING:
            asked = 1.1 * float(np.nan_to_num(here[name] - np.median(margin))) + 1e-6
            found = found or here[name] >= NOT_FAILING  # one that fails as it is needs no draws to tell it
            state.ask(name, asked if here[name] >= NOT_FAILING else state.lean.get(name, 0.0))
    return found


def _mend(state: Settled) -> None:
    given_up: set[str] = set()
    for _ in range(_ROUNDS):
        left = {name: margin for name, margin in state.left().items() if name not in given_up}
        if not left:
            return
        worst = min(left, key=lambda name: (-np.inf if np.isnan(left[name]) else left[name], name))
        best = _best_single(state, worst) or _best_pair(state, worst)
        if best is None:
            given_up.add(worst)
        else:
            state.move(worst, **best)
            given_up.clear()


def _best_single(state: Settled, finding: str) -> dict[str, Any] | None:
    """The value of one decision that lowers the score most; nothing where none lowers it."""
    here = state.shortfalls(state.now, state.task.findings)
    behind, bar, best = LATHE.upstream(finding), float(score(here)) - _HAIR, None
    for name in state.task.moved:
        if name not in behind or not state.may_move(name):
            continue
        part, stands = LATHE.decisions[name], state.design[name]
        for values in _tries(state, name):
            dear = _DEARER.get(name, _CHANGE)
            scores = state.scores(here, {name: values}) + (dear * _changes(values, stands) if part.numeric else _OPTION)
            at = int(np.argmin(scores))
            if np.ravel(scores)[at] < bar:
                bar, best = float(np.ravel(scores)[at]), {name: float(values[at]) if part.numeric else values}
    return best


def _tries(state: Settled, name: str) -> Iterator[Any]:
    """What may be tried of a decision: its values as one array, or each other option; one by one where figures below hold for one case only."""
    part = LATHE.decisions[name]
    if not part.numeric:
        yield from (option for option in part.options if option != state.design[name])
    elif any(LATHE.alone(name, finding) for finding in state.task.findings):
        yield from (np.array([value]) for value in part.values(12))
    else:
        yield part.values()


def _changes(values: np.ndarray, here: float) -> np.ndarray:
    return np.minimum(np.abs(np.log(np.maximum(values, 1e-9) / here)), 3.0) if here > 0 else np.zeros(len(values))


def _best_pair(state: Settled, finding: str) -> dict[str, Any] | None:
    """The best values of two decisions together, swept as a grid."""
    here = state.shortfalls(state.now, state.task.findings)
    behind, bar, best = LATHE.upstream(finding), float(score(here)) - _HAIR, None
    for one, other in _TOGETHER:
        if not state.may_move(one) or not state.may_move(other) or not {one, other} & behind:
            continue
        part, second = LATHE.decisions[one], _coarse(LATHE.decisions[other].values())
        if part.numeric:
            firsts, seconds = (grid.ravel() for grid in np.meshgrid(_coarse(part.values()), second, indexing="ij"))
            tries = [({one: firsts, other: seconds}, firsts)]
        else:
            tries = [({one: option, other: second}, None) for option in _tries(state, one)]
        for values, firsts in tries:
            scores = state.scores(here, values) + _OPTION / 2
            at = int(np.argmin(scores))
            if scores[at] < bar:
                bar, best = (
                    float(scores[at]),
                    {one: values[one] if firsts is None else float(firsts[at]), other: float(values[other][at])},
                )
    return best


def _coarse(values: np.ndarray) -> np.ndarray:
    return values[:: max(1, len(values) // _GRID)]


# --- trimming -----------------------------------------------------------------------------------------------
def verdicts(e: Evaluation) -> dict[str, str]:
    """Verdict of each finding of the machine that is asked."""
    margins = LATHE.margins(e.values_si, MACHINE.findings)
    return {name: LATHE.limits[name].status(margin) for name, margin in margins.items() if LATHE.limits[name].asks(e.values_si)}


def trim(e: Evaluation, free: Iterable[str]) -> tuple[Evaluation, dict[str, str]]:
    """Each named size stepped down as long as no verdict of the machine gets worse and the step saves something; ``e`` is worked out whole.

    Returns the evaluation, and for each size the finding that would turn with one step more, if one would.
    """
    free, stopped, looked_at = frozenset(free), {}, MACHINE.wanted | {*_COSTS}
    whole = e
    for _ in range(3):
        moved = False
        for name in NAMED_SIZES:
            while name in free and (down := one_down(e, name)) is not None:
                tried = evaluate(e.design.trying(**{name: down}), earlier=e, wanted=looked_at)
                stopped[name] = worse(e, tried) or (_drawn_worse(e, tried) if saves(e, tried) else "")
                if stopped[name] or not saves(e, tried):
                    break
                e, moved = tried, True
        if not moved:
            break
    return evaluate(e.design, earlier=whole), {name: finding for name, finding in stopped.items() if finding}


def one_down(e: Evaluation, name: str) -> float | None:
    """The next smaller value one can have, as long as it is not far below the usual proportion."""
    values, rows, least = LATHE.decisions[name].values(), table("sizing"), 0.0
    if name in rows and (row := rows[name])["of"]:
        least = _LEAST * (row["share"] * e.design[row["of"]] + (row["plus"] or 0.0))
    lower = values[(values < float(e.design[name]) * (1 - 1e-9)) & (values >= least * (1 - 1e-9))]
    return float(lower[-1]) if lower.size else None


def worse(e: Evaluation, tried: Evaluation) -> str:
    """The first finding of the machine whose verdict is worse than before, at middling figures; nothing where none is."""
    before, after = verdicts(e), verdicts(tried)
    return next((name for name, verdict in after.items() if _RANK[verdict] < _RANK[before.get(name, "holds")]), "")


def _drawn_worse(e: Evaluation, tried: Evaluation) -> str:
    """The first finding that half of the draws would turn, looked at where there is little room."""
    close = [name for name in failing(tried, MACHINE, dict.fromkeys(MACHINE.findings, _CLOSE)) if name not in failing(e)]
    if not close:
        return ""
    margins = LATHE.margins(
        evaluate(tried.design, DRAWS, wanted={source for name in close for source in LATHE.inputs_of(name)}).values_si, close
    )
    return next((name for name in close if not np.median(margins[name]) >= NOT_FAILING), "")


def saves(e: Evaluation, tried: Evaluation) -> bool:
    """Does it save a hundredth of mass, hours or money?"""
    return any(float(tried[name]) < float(e[name]) * (1 - _WORTH) for name in _COSTS)
