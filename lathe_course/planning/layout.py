"""The work of a build, laid out: every part and every task, with what each waits for.

A part waits for the parts it comes after and for the planning and setting up before its task.
A task waits for the tasks before it and for their parts.  A part made on the half-built lathe
waits until the lathe can do that; its stand-in serves till then, so that nothing that leads to the
lathe waits for it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from .network import Network
from .parts import STAGES, PartsList
from .precedence import needed
from .tasks import Task, in_order, parts_of_tasks


def node_of(task: str) -> str:
    """What a task is called among the nodes of a network, where a part may bear the same name."""
    return f"task: {task}"


@dataclass(frozen=True)
class Layout:
    """Parts and tasks as one network."""

    network: Network
    parts: tuple[str, ...]  # nodes that are parts, in the order of the list
    tasks: tuple[Task, ...]  # those with hours or parts of their own
    planning: tuple[str, ...]  # tasks before anything is made: planning, ordering, setting up
    stages: Mapping[str, str]  # stage of the half-built lathe -> node from which on it is there

    @property
    def milestones(self) -> dict[str, str]:
        """Milestone -> its node, in the order of the tasks."""
        return {task.milestone: node_of(task.name) for task in self.tasks if task.milestone}

    def places(self, nodes: Iterable[str]) -> list[int]:
        """Where some nodes stand in the arrays of the network."""
        at = {name: place for place, name in enumerate(self.network.names)}
        return [at[name] for name in nodes]


def layout(parts: PartsList, tasks: Iterable[Task], on_the_lathe: Mapping[str, str] | None = None) -> Layout:
    """Lay out the parts of a list and the tasks between them.

    ``on_the_lathe`` names the stage of the half-built lathe for each part made on it.  Raises
    InputProblem for names that are not there, and for what waits for itself in a circle.
    """
    tasks, uses = in_order(tasks), dict(on_the_lathe or {})
    by_name = {task.name: task for task in tasks}
    until = needed(parts)
    opens = {task.opens: task.name for task in tasks if task.opens in until}
    early = frozenset().union(*until.values())
    before = _all_before(by_name)
    of_task = parts_of_tasks(tasks, parts)
    # what is done before the lathe can do anything, and belongs to no part: planning, ordering, setting up
    planning = {
        name
        for name, parts_of in of_task.items()
        if not parts_of
        and by_name[name].hours
        and not opens.keys() & {by_name[name].opens}
        and not any(of_task[other] for other in before[name])
    }

    after: dict[str, list[str]] = {}
    for part in parts:
        waits = [other for other in parts.after[part.name] if not (part.name in early and parts[other].stand_in)]
        waits += [node_of(name) for name in by_name if name in planning and name in before[part.task]]
        if uses.get(part.name) in opens:
            waits.append(node_of(opens[uses[part.name]]))
        after[part.name] = waits
    reached = _stages_behind(parts, after, uses)

    def comes_later(part: str, task: str) -> bool:
        """Does the part wait, by itself or by another, for a stage of the lathe that this task leads to?"""
        opener = opens.get(reached[part])
        return opener is not None and (task == opener or task in before[opener])

    last = next(
        (task.name for task in tasks if all(name in before[task.name] for name, parts_of in of_task.items() if parts_of)), ""
    )
    for task in tasks:
        waits = [part for part in of_task[task.name] if not comes_later(part, task.name)]
        for name in task.after:
            if not of_task[name]:
                waits.append(node_of(name))
            elif not of_task[task.name] or task.opens in opens:
                waits += [part for part in of_task[name] if not comes_later(part, task.name)]
        if task.opens in opens:
            waits += sorted(until[task.opens])
            waits += [node_of(opens[stage]) for stage in STAGES[: STAGES.index(task.opens)] if stage in opens]
        if task.name == last:
            waits += [part.name for part in parts]
        after[node_of(task.name)] = waits
    real = tuple(task for task in tasks if task.hours or of_task[task.name])
    return Layout(
        Network.of(after),
        tuple(part.name for part in parts),
        real,
        tuple(task.name for task in tasks if task.name in planning),
        {stage: node_of(name) for stage, name in opens.items()},
    )


def _all_before(tasks: Mapping[str, Task]) -> dict[str, frozenset[str]]:
    """For each task, in their order, all that must be done before it, however far back."""
    found: dict[str, frozenset[str]] = {}
    for task in tasks.values():
        found[task.name] = frozenset(task.after).union(*(found[other] for other in task.after))
    return found


def _stages_behind(parts: PartsList, after: Mapping[str, list[str]], uses: Mapping[str, str]) -> dict[str, str]:
    """The latest stage of the lathe that each part waits for, by itself or by another part; "" for none."""
    rank = {"": 0} | {stage: number for number, stage in enumerate(STAGES, start=1)}
    network = Network.of({part.name: [other for other in after[part.name] if other in parts.by_name] for part in parts})
    found: dict[str, str] = {}
    for name, waits in zip(network.names, network.before):
        found[name] = max((uses.get(name, ""), *(found[network.names[other]] for other in waits)), key=rank.__getitem__)
    return found
