"""The work, task by task: which come after which, and whose hours they take."""

from __future__ import annotations

import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from ..nearest import nearest_or_all, nearest_or_stop
from ..ranges import Range
from ..tables import table
from ..units import InputProblem
from .network import order
from .parts import STAGES, PartsList


@dataclass(frozen=True)
class Task:
    """One task.  ``hours`` is None where it takes the hours of its parts; ``opens`` the stage of the lathe it leads to, if any."""

    name: str
    after: tuple[str, ...]
    hours: Range | None
    opens: str = ""
    milestone: str = ""
    source: str = ""


def task_of(row: Mapping[str, Any], name: str) -> Task:
    """A task of a row of figures and texts, such as the table ``tasks`` has.

    Raises InputProblem for a stage of the lathe that there is not.
    """
    after = tuple(filter(None, (one.strip() for one in row["after"].split("+"))))
    if row["opens"] and row["opens"] not in STAGES:
        raise InputProblem.about(
            name,
            f"the task {name!r} opens {row['opens']!r}, which is no stage of the lathe; {nearest_or_all(row['opens'], STAGES)}",
        )
    return Task(name, after, row["hours"], row["opens"], row["milestone"], row["source"])


@functools.cache
def course_tasks() -> tuple[Task, ...]:
    """The tasks of the course, in an order that can be worked."""
    return in_order(task_of(row, name) for name, row in table("tasks").items())


def in_order(tasks: Iterable[Task]) -> tuple[Task, ...]:
    """Tasks so that each stands after those it needs; InputProblem names what is unknown, or a circle."""
    by_name = {task.name: task for task in tasks}
    strange = [
        (task.name, f"the task {task.name!r} comes after {one!r}, which is no task{nearest_or_stop(one, by_name)}")
        for task in by_name.values()
        for one in task.after
        if one not in by_name
    ]
    if strange:
        raise InputProblem(strange)
    return tuple(by_name[name] for name in order({task.name: task.after for task in by_name.values()}))


def parts_of_tasks(tasks: Iterable[Task], parts: PartsList) -> dict[str, tuple[str, ...]]:
    """Names of the parts of each task; InputProblem names a part whose task there is not."""
    found: dict[str, tuple[str, ...]] = {task.name: () for task in tasks}
    strange = [
        (part.name, f"the {part.name} belongs to the task {part.task!r}, which is no task{nearest_or_stop(part.task, found)}")
        for part in parts
        if part.task not in found
    ]
    if strange:
        raise InputProblem(strange)
    for part in parts:
        found[part.task] = (*found[part.task], part.name)
    return found
