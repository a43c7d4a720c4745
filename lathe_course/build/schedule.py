"""When it is done: many builds at once, each with its own luck.

One pair of hands (or several, told as hours a month) works on one task at a time.  A task can
begin when those it waits for are done and what it needs has arrived: what is bought or made
outside is ordered as soon as the money is there, and comes after its lead time.  Among
the tasks that can begin earliest the hands take the one that stands first in the order
of preference.  All builds go through this side by side: arrays have shape (builds, tasks).
"""
from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from ..units import InputProblem
from .network import Network

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

    def longest_gap(self) -> np.ndarray:
        """The longest stretch without anything finished, in months, shape (builds,)."""
        ends = np.sort(np.concatenate([np.zeros((len(self.done), 1)), self.done], axis=-1), axis=-1)
        with np.errstate(invalid="ignore"):
            return np.nan_to_num(np.diff(ends, axis=-1), nan=0.0, posinf=np.inf).max(axis=-1)


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
    arrived = ordered + lead
    ends, worked = means.calendar.worked()
    begun, done = np.full((builds, tasks), np.inf), np.full((builds, tasks), np.inf)
    # what a task still waits for: counted down, and the latest moment of what it had to wait for so far
    followers = np.zeros((tasks, tasks), bool)
    for task, waits in enumerate(work.network.before):
        followers[list(waits), task] = True
    left = np.broadcast_to(followers.sum(axis=0), (builds, tasks)).astype(np.int16)
    ready = arrived.copy()
    clock, row = np.zeros(builds), np.arange(builds)
    # preference settles what could begin at the same moment; a hair of a month, far below what matters
    hair = np.asarray(work.order, float).argsort().argsort() * 1e-9
    open_ = np.ones((builds, tasks), bool)
    for _ in range(tasks):
        start = np.where(open_ & (left == 0), np.maximum(ready, clock[:, None]) + hair, np.inf)
        task = start.argmin(axis=1)
        begin = np.maximum(ready[row, task], clock)
        need = hours[row, task]
        with np.errstate(invalid="ignore"):
            until = np.interp(np.interp(begin, ends, worked) + need / a_month, worked, ends, right=np.inf)
            machine = begin + np.where(evenings[row, task] > 0, need * evenings[row, task] / borrowed, 0.0)
        # without work of its own nothing moves: a month away must not hold it up
        finish = np.where(need > 0, np.maximum(until, machine), begin)
        finish = np.where(begin < HORIZON, finish, np.inf)
        begun[row, task], done[row, task] = begin, finish
        # waiting for the borrowed machine leaves the hands free; their own hours are gone
        clock = np.where(need > 0, np.where(np.isfinite(until), until, HORIZON), clock)
        open_[row, task] = False
        follows = followers[task]
        left -= follows
        ready = np.where(follows, np.maximum(ready, finish[:, None]), ready)
    return Schedule(work.network, ordered, begun, done, money)


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
