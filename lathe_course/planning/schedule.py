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

#: months a schedule looks ahead; a build that is not done by then is counted as never done
HORIZON = 600
#: so many builds are quicker gone through one by one than side by side
_FEW = 40


@dataclass(frozen=True)
class Calendar:
    """The year as it is: share of a usual month's hours in each month, January first."""

    share: tuple[float, ...] = (1.0,) * 12
    first: int = 1  # month in which the build begins, 1 to 12

    def __post_init__(self) -> None:
        if len(self.share) != 12 or min(self.share) < 0:
            raise InputProblem.about("share", "a calendar needs twelve shares of a usual month, none below zero.")
        if max(self.share) == 0:
            raise InputProblem.about("share", "every month of the calendar is away; leave at least one in which there is work.")

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

    hours: np.ndarray | float  # a usual month
    money: np.ndarray | float  # a month
    saved: np.ndarray | float = 0.0  # at the start
    borrowed: np.ndarray | float = np.inf  # hours a month on borrowed machines
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
        """The longest stretch without anything finished, or without any of some tasks, in months, shape (builds,); the whole build where there are none."""
        tasks = None if tasks is None else tuple(tasks)
        if tasks == ():
            return self.end
        done = self.done if tasks is None else self.done[:, [self.network.names.index(name) for name in tasks]]
        with np.errstate(invalid="ignore"):  # two that are never reached
            return np.nan_to_num(np.diff(np.sort(done, axis=-1), axis=-1, prepend=0.0), nan=0.0, posinf=np.inf).max(axis=-1)


def schedule(work: Work, means: Means) -> Schedule:
    """Go through all builds side by side.

    Raises InputProblem where no build could ever end: no hours, or money due and none coming.
    """
    tasks = len(work.network.names)
    shapes = [np.shape(one)[:-1] for one in (work.hours, work.money, work.lead, work.evenings)] + [
        np.shape(one) for one in (means.hours, means.money, means.saved, means.borrowed)
    ]
    builds = np.broadcast_shapes((1,), *shapes)[0]
    hours, money, lead, evenings = (
        np.broadcast_to(np.asarray(one, float), (builds, tasks)) for one in (work.hours, work.money, work.lead, work.evenings)
    )
    a_month, income, saved, borrowed = (
        np.broadcast_to(np.asarray(one, float), (builds,)) for one in (means.hours, means.money, means.saved, means.borrowed)
    )
    _possible(hours, a_month, money, income, saved, evenings, borrowed)

    ordered = _orders(money, income, saved, work.order)
    each = _one_by_one if builds <= _FEW and np.isfinite(ordered + lead + hours + evenings).all() else _side_by_side
    begun, done = each(work, hours, ordered + lead, evenings, a_month, borrowed, *means.calendar.worked())
    return Schedule(work.network, ordered, begun, done, money)


def _one_by_one(work: Work, hours, arrived, evenings, a_month, borrowed, ends, worked) -> tuple[np.ndarray, np.ndarray]:
    """A few builds, each by itself; arrays come in and go out with a row for each."""
    columns, ends, worked = np.argsort(work.order, kind="stable").tolist(), ends.tolist(), worked.tolist()
    each = zip(hours.tolist(), arrived.tolist(), evenings.tolist(), a_month.tolist(), borrowed.tolist())
    found = [one_build(work.network, columns, *build, ends, worked) for build in each]
    begun, done = zip(*found)
    return np.array(begun), np.array(done)


def _side_by_side(work: Work, hours, arrived, evenings, a_month, borrowed, ends, worked) -> tuple[np.ndarray, np.ndarray]:
    """Begin and end of every task; in each round every build takes one more task in hand.

    Rows are tasks, in the order of preference, so that of tasks that could begin at the same moment the first is taken.
    Builds go much the same way: in each round only the few rows that some build could take are looked at.
    """
    builds, tasks = hours.shape
    rows = np.argsort(work.order, kind="stable")
    hours, ready, evenings = (one.T[rows] for one in (hours, arrived, evenings))
    followers, waits = _followers(work.network, rows)
    left = np.repeat(waits[:, None], builds, axis=1)  # how many each still waits for
    free = np.where(left == 0, ready, np.inf)  # could begin then; infinite while it waits, or is done
    begun, done = np.full((tasks, builds), np.inf), np.full((tasks, builds), np.inf)
    year, clock, build = _Worked(ends, worked), np.zeros(builds), np.arange(builds)
    within = np.flatnonzero(waits == 0).tolist()
    while within:
        start = np.maximum(free[within], clock)
        begin = start.min(axis=0)
        task = np.full(builds, within[0])
        for one, could in zip(within[::-1], start[::-1]):
            np.copyto(task, one, where=could == begin)
        at = task * builds + build
        need, share = hours.take(at), evenings.take(at)
        with np.errstate(invalid="ignore"):
            until = year.when(year.until(begin) + need / a_month)
            machine = begin + np.where(share > 0, need * share / borrowed, 0.0)
        # without work of its own nothing moves: a month away must not hold it up
        finish = np.where(need > 0, np.maximum(until, machine), begin)
        finish = np.where(begin < HORIZON, finish, np.inf)
        # where nothing can begin any more the first one comes up again, and is left as it is
        begun.put(at, np.minimum(begun.take(at), begin))
        done.put(at, np.minimum(done.take(at), finish))
        # waiting for the borrowed machine leaves the hands free; their own hours are gone
        clock = np.where(need > 0, np.minimum(until, HORIZON), clock)
        free.put(at, np.inf)
        for one in within.copy():
            took = task == one
            if not took.any():
                continue
            for after in followers[one]:
                left[after] -= took
                np.maximum(ready[after], finish, out=ready[after], where=took)
                opened = took & (left[after] == 0)
                np.copyto(free[after], ready[after], where=opened)
                if after not in within and opened.any():
                    within.append(after)
            if not np.isfinite(free[one]).any():
                within.remove(one)
        within.sort()
    back = np.argsort(rows)
    return begun[back].T, done[back].T


class _Worked:
    """Months and usual months worked until then, both ways; as ``np.interp`` tells them, without its search, which many builds wait for."""

    def __init__(self, ends: np.ndarray, worked: np.ndarray):
        share = np.diff(worked)
        self.worked, self.share = worked, np.append(share, 0.0)
        months = np.flatnonzero(share > 0)  # those with work, and how much was worked before each
        self.before, self.begins, self.slope = np.append(worked[months], np.inf), ends[months], 1.0 / share[months]
        self.step = worked[-1] / HORIZON
        self.guess = np.maximum(np.searchsorted(self.before, self.step * (np.arange(HORIZON + 1) - 0.5), side="right") - 1, 0)

    def until(self, moment: np.ndarray) -> np.ndarray:
        """Worked until a moment; nothing more beyond the horizon."""
        moment = np.minimum(moment, HORIZON)
        month = moment.astype(int)
        return self.share.take(month) * (moment - month) + self.worked.take(month)

    def when(self, amount: np.ndarray) -> np.ndarray:
        """When an amount is worked; infinite beyond the horizon."""
        month = self.guess.take((np.minimum(amount, self.worked[-1]) / self.step).astype(int))
        while (later := amount >= self.before.take(month + 1)).any():
            month += later
        return np.where(
            amount <= self.worked[-1],
            self.slope.take(month) * (amount - self.before.take(month)) + self.begins.take(month),
            np.inf,
        )


def _followers(network: Network, rows: np.ndarray) -> tuple[list[list[int]], np.ndarray]:
    """What waits for each task, in the order of preference; and how many each task waits for."""
    place = np.argsort(rows).tolist()
    found: list[list[int]] = [[] for _ in place]
    waits = np.zeros(len(place), int)
    for task, before in enumerate(network.nearest_before):
        waits[place[task]] = len(before)
        for other in before:
            found[place[other]].append(place[task])
    return found, waits


def _orders(money: np.ndarray, income: np.ndarray, saved: np.ndarray, order: np.ndarray) -> np.ndarray:
    """When each task is paid for: in the order of preference, each as soon as the money is there."""
    first = np.argsort(order, kind="stable")
    money = money.T[first]
    short = np.maximum(np.cumsum(money, axis=0) - saved, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        when = np.where(short > 0, short / income, 0.0)
    # what costs nothing waits for no money
    found = np.empty_like(when)
    found[first] = np.where(money > 0, when, 0.0)
    return found.T


def _possible(hours, a_month, money, income, saved, evenings, borrowed) -> None:
    problems = []
    if np.any(idle := a_month <= 0) and np.any(hours[idle] > 0):
        problems.append(("hours", "With no hours a month the build never ends; say how many hours a month there are."))
    poor = income <= 0
    if np.any(poor) and np.any(never := poor & (money.sum(axis=1) > saved + 1e-9)):
        worst = int(np.argmax(never))
        problems.append(
            (
                "money",
                f"{money[worst].sum():.0f} EUR are needed and {saved[worst]:.0f} EUR are saved, with nothing coming in; "
                "say how much money a month there is, or choose ways that cost less.",
            )
        )
    if np.any(lone := borrowed <= 0) and np.any(evenings[lone] * hours[lone] > 0):
        problems.append(
            (
                "borrowed",
                "Some parts need a borrowed machine and there are no hours on one; choose another way for them, or find evenings.",
            )
        )
    if problems:
        raise InputProblem(problems)
