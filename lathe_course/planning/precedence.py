"""In which order the parts come, and from when on the half-built lathe can be used to make the rest.

Nobody keeps a list of the parts that may be turned on the lathe itself.  A stage needs the
parts that name it, and whatever those come after; where a part has a stand-in, the stand-in
takes its place.  Any other part may use the stage.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from ..units import InputProblem
from .network import order
from .parts import STAGES, PartsList


def stages_of(parts: PartsList) -> tuple[str, ...]:
    """The stages this lathe has: those that some part names, and all earlier ones."""
    named = [number for number, stage in enumerate(STAGES) if any(part.first_needed == stage for part in parts)]
    return STAGES[: max(named) + 1] if named else ()


def needed_for(parts: PartsList, stage: str) -> frozenset[str]:
    """Names of the parts that must exist before the lathe can do this, stand-ins used wherever there are any."""
    if stage not in stages_of(parts):
        return frozenset()
    until = STAGES[: STAGES.index(stage) + 1]
    found: set[str] = set()
    waiting = [part.name for part in parts if part.first_needed in until]
    while waiting:
        name = waiting.pop()
        if name not in found and not parts[name].stand_in:
            found.add(name)
            waiting += parts.after[name]
    return frozenset(found)


def needed(parts: PartsList) -> dict[str, frozenset[str]]:
    """``needed_for`` every stage the lathe has, in their order."""
    return {stage: needed_for(parts, stage) for stage in stages_of(parts)}


@dataclass(frozen=True)
class Moment:
    """One step of the work: a part, or a stage reached, with what is done by then."""

    name: str
    stage: bool
    stand_ins: tuple[str, ...] = ()


def order_of_work(
    parts: PartsList, on_the_lathe: Mapping[str, str] | None = None, tasks: Iterable[str] = ()
) -> tuple[Moment, ...]:
    """Parts and stages in an order that can be worked.

    ``on_the_lathe`` says which parts are made on which stage of the lathe itself.  What the
    first chips need comes first; the rest follows the order of ``tasks``, as far as it can.
    A stage tells on which stand-ins it runs.  Raises InputProblem where a part is to be made on a
    stage that needs it, or the parts go in a circle.
    """
    uses, stages = dict(on_the_lathe or {}), needed(parts)
    problems = [
        (
            name,
            f"the {name} cannot be made by {stage} on the lathe itself, for the lathe needs it for that; "
            "choose another way for it, or find a stand-in.",
        )
        for name, stage in uses.items()
        if name in stages.get(stage, {name})
    ]
    if problems:
        raise InputProblem(problems)
    reached = tuple(stages)
    rank = {
        part.name: next((number for number, stage in enumerate(reached) if part.name in stages[stage]), len(reached))
        for part in parts
    }
    graph: dict[str, set[str]] = {name: set(before) for name, before in parts.after.items()}
    for name, before in graph.items():
        if rank[name] < len(reached):  # what a stage waits for is made against the stand-ins
            before.difference_update({other for other in before if parts[other].stand_in})
        if name in uses:
            before.add(uses[name])
    for number, stage in enumerate(reached):
        graph[stage] = {*stages[stage], *reached[max(0, number - 1) : number]}
    steps = {task: number for number, task in enumerate(tasks)}
    keep = [
        *reached,
        *(part.name for part in sorted(parts, key=lambda part: (rank[part.name] > 0, steps.get(part.task, len(steps))))),
    ]
    done: set[str] = set()
    found = []
    for name in order(graph, keep):
        found.append(Moment(name, name in reached, _stand_ins(parts, name, done) if name in reached else ()))
        done.add(name)
    return tuple(found)


def _stand_ins(parts: PartsList, stage: str, done: set[str]) -> tuple[str, ...]:
    until = STAGES[: STAGES.index(stage) + 1]
    return tuple(part.name for part in parts if part.stand_in and part.first_needed in until and part.name not in done)
