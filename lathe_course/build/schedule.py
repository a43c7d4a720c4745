"""When it is done: many builds at once, each with its own luck.

One pair of hands (or several, told as hours a month) works on one task at a time.  A task can
begin when those it waits for are done and what it needs has arrived: what is bought or made
outside is ordered as soon as the money is there, and comes after its lead time.  Among
the tasks that can begin earliest the hands take the one that stands first in the order
of preference.  All builds go through this side by side: arrays have shape (builds, tasks).
"""
from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from ..units import InputProblem
from .network import Network
from .one_build import one_build

__all__ = ["Calendar", "Means", "Schedule", "Work", "schedule"]

#: months a schedule looks ahead; a build that is not done by then is counted as never done
HORIZON = 600


@dataclass(frozen=True)
class Calendar:
    """The year as it is: share of a usual month's hours in each month, January first."""

    share: tuple[float, ...] = (1.0,) * 12
    first: int = 1                                   # month in which the build begins, 1 to 12

    def __post_init__(self) -> None:
        if len(self.share) != 12 or min(self.share) < 0:
            raise InputProblem([("share", "a calendar needs twelve shares of a usual month, none below zero.")])
        if max(self.share) == 0:
            raise InputProblem([("share", "every month of the calendar is away; leave at least one in which there is work.")])

    def worked(self) -> tuple[np.ndarray, np.ndarray]:
        """Ends of months 0, 1, ... and usual months worked until then."""
        year = np.roll(np.asarray(self.share, float), 1 - self.first)
        return np.arange(HORIZON + 1.0), np.concatenate([[0.0], np.cumsum(np.tile(year, HORIZON // 12))])


@dataclass(frozen=True)
class Work:
    """What is to be done.  Arrays have shape (tasks,) or (builds, tasks); the order is that of ``network``.

    ``hours`` are own hours, ``money`` is due when the task's goods or outside work are ordered, ``lead``
    is the months from the order until they are there, ``evenings`` the share of the hours that needs a borrowed machine.
    ``order`` ranks the tasks: where several could be done or paid, the lowest comes first.
    """

    network: Network
    hours: np.ndarray
    money: np.ndarray
    lead: np.ndarray
    evenings: np.ndarray
    order: np.ndarray


@dataclass(frozen=True)
class Means:
    """What there is to do it with; numbers or arrays of shape (builds,)."""

    hours: np.ndarray | float                        # a usual month
    money: np.ndarray | float                        # a month
    saved: np.ndarray | float = 0.0                  # at the start
    borrowed: np.ndarray | float = np.inf            # hours a month on borrowed machines
    calendar: Calendar = Calendar()


@dataclass(frozen=True)
class Schedule:
    """Times in months from the start, shape (builds, tasks); infinite where never reached."""

    network: Network
    ordered: np.ndarray
    begun: np.ndarray
    done: np.ndarray
    money: np.ndarray

    @property
    def end(self) -> np.ndarray:
        """When everything is done, shape (builds,)."""
        return self.done.max(axis=-1)

    def done_by(self, tasks: tuple[str, ...]) -> np.ndarray:
        """When the last of some tasks is done, shape (builds,)."""
        places = [self.network.names.index(name) for name in tasks]
        return self.done[:, places].max(axis=-1)

    def spent(self, months: np.ndarray) -> np.ndarray:
        """Money ordered for until each of some months, shape (builds, months)."""
        months = np.asarray(months, float)
        return ((self.ordered[:, None, :] <= months[:, None] + 1e-9) * self.money[:, None, :]).sum(axis=-1)

    def longest_gap(self, tasks: Iterable[str] | None = None) -> np.ndarray:
        """The longest stretch without anything finished, or without any of some tasks, in months, shape (builds,)."""
        done = self.done if tasks is None else self.done[:, [self.network.names.index(name) for name in tasks]]
        with np.errstate(invalid="ignore"):                # two that are never reached
            return np.nan_to_num(np.diff(np.sort(done, axis=-1), axis=-1, prepend=0.0), nan=0.0, posinf=np.inf).max(axis=-1)


def schedule(work: Work, means: Means) -> Schedule:
    """Go through all builds side by side.

    Raises InputProblem where no build could ever end: no hours, or money due and none coming.
    """
    tasks = len(work.network.names)
    shapes = [np.shape(one)[:-1] for one in (work.hours, work.money, work.lead, work.evenings)] + [
        np.shape(one) for one in (means.hours, means.money, means.saved, means.borrowed)]
    builds = np.broadcast_shapes((1,), *shapes)[0]
    hours, money, lead, evenings = (np.broadcast_to(np.asarray(one, float), (builds, tasks)) for one in (work.hours, work.money, work.lead, work.evenings))
    a_month, income, saved, borrowed = (np.broadcast_to(np.asarray(one, float), (builds,)) for one in (means.hours, means.money, means.saved, means.borrowed))
    _possible(hours, a_month, money, income, saved, evenings, borrowed)

    ordered = _orders(money, income, saved, work.order)
    one_after_the_other = _alone if builds == 1 and np.isfinite(ordered + lead + hours + evenings).all() else _side_by_side
    begun, done = one_after_the_other(work, hours, ordered + lead, evenings, a_month, borrowed, *means.calendar.worked())
    return Schedule(work.network, ordered, begun, done, money)


def _alone(work: Work, hours, arrived, evenings, a_month, borrowed, ends, worked) -> tuple[np.ndarray, np.ndarray]:
    """A single build; arrays come in and go out with one row."""
    found = one_build(work.network, np.argsort(work.order, kind="stable").tolist(), hours[0].tolist(), arrived[0].tolist(), evenings[0].tolist(),
                      float(a_month[0]), float(borrowed[0]), ends.tolist(), worked.tolist())
    return tuple(np.array([times]) for times in found)


def _side_by_side(work: Work, hours, arrived, evenings, a_month, borrowed, ends, worked) -> tuple[np.ndarray, np.ndarray]:
    """Begin and end of every task; in each round every build takes one more task in hand.

    Columns stand in the order of preference, so that of tasks that could begin at the same moment the first is taken.
    """
    builds, tasks = hours.shape
    columns = np.argsort(work.order, kind="stable")
    hours, evenings = hours[:, columns], evenings[:, columns]
    followers, waits = _followers(work.network, columns)
    ready = np.concatenate([arrived[:, columns], np.zeros((builds, 1))], axis=1)          # one column more, for followers there are none of
    left = np.tile(np.append(waits, tasks), (builds, 1))
    free = np.where(left == 0, ready, np.inf)                                            # could begin then; infinite while it waits, or is done
    begun, done = np.full((builds, tasks), np.inf), np.full((builds, tasks), np.inf)
    clock, row, start = np.zeros(builds), np.arange(builds), np.empty_like(free)
    for _ in range(tasks):
        np.maximum(free, clock[:, None], out=start)
        task = start.argmin(axis=1)
        begin, need, share = start[row, task], hours[row, task], evenings[row, task]
        with np.errstate(invalid="ignore"):
            until = np.interp(np.interp(begin, ends, worked) + need / a_month, worked, ends, right=np.inf)
            machine = begin + np.where(share > 0, need * share / borrowed, 0.0)
        # without work of its own nothing moves: a month away must not hold it up
        finish = np.where(need > 0, np.maximum(until, machine), begin)
        finish = np.where(begin < HORIZON, finish, np.inf)
        # where nothing can begin any more the first one comes up again, and is left as it is
        begun[row, task], done[row, task] = np.minimum(begun[row, task], begin), np.minimum(done[row, task], finish)
        # waiting for the borrowed machine leaves the hands free; their own hours are gone
        clock = np.where(need > 0, np.where(np.isfinite(until), until, HORIZON), clock)
        free[row, task] = np.inf
        after = followers[task]
        after = after[:, :np.max((after < tasks).sum(axis=1), initial=0)]
        rows = row[:, None]
        left[rows, after] -= 1
        ready[rows, after] = np.maximum(ready[rows, after], finish[:, None])
        free[rows, after] = np.where(left[rows, after] == 0, ready[rows, after], np.inf)
    back = np.argsort(columns)
    return begun[:, back], done[:, back]


def _followers(network: Network, columns: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """What waits for each task, filled up with one number beyond the last; and how many each task waits for."""
    place = {int(task): column for column, task in enumerate(columns)}
    tasks = len(columns)
    lists: list[list[int]] = [[] for _ in range(tasks)]
    waits = np.zeros(tasks, int)
    for task, before in enumerate(network.nearest_before):
        waits[place[task]] = len(before)
        for other in before:
            lists[place[other]].append(place[task])
    filled = np.full((tasks, max((len(one) for one in lists), default=0) or 1), tasks)
    for column, one in enumerate(lists):
        filled[column, :len(one)] = one
    return filled, waits


def _orders(money: np.ndarray, income: np.ndarray, saved: np.ndarray, order: np.ndarray) -> np.ndarray:
    """When each task is paid for: in the order of preference, each as soon as the money is there."""
    first = np.argsort(order, kind="stable")
    due = np.cumsum(money[:, first], axis=1)
    short = np.maximum(due - saved[:, None], 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        when = np.where(short > 0, short / income[:, None], 0.0)
    # what costs nothing waits for no money
    when = np.where(money[:, first] > 0, when, 0.0)
    found = np.empty_like(when)
    found[:, first] = when
    return found


def _possible(hours, a_month, money, income, saved, evenings, borrowed) -> None:
    problems = []
    if np.any((a_month <= 0) & (hours.sum(axis=1) > 0)):
        problems.append(("hours", "With no hours a month the build never ends; say how many hours a month there are."))
    never = (income <= 0) & (money.sum(axis=1) > saved + 1e-9)
    if np.any(never):
        worst = int(np.argmax(never))
        problems.append(("money", f"{money[worst].sum():.0f} EUR are needed and {saved[worst]:.0f} EUR are saved, with nothing coming in; "
                                  "say how much money a month there is, or choose ways that cost less."))
    if np.any((borrowed <= 0) & ((evenings * hours).sum(axis=1) > 0)):
        problems.append(("borrowed", "Some parts need a borrowed machine and there are no hours on one; choose another way for them, or find evenings."))
    if problems:
        raise InputProblem(problems)
