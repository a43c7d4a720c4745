"""The best mix of ways: one way for each part, so that a wish is met as well as can be.

A wish is a sum of money, own hours and the longest lead time, each with a weight, under
bounds on any of them.  Tools that only some ways call for are bought once if one of these is
chosen, so parts cannot be decided one by one: it is an integer programme, and the solver
proves its answer.  Nothing here knows parts or prices; ``plan`` makes the choices of them.

scipy is used in this module only.
"""
from __future__ import annotations

import functools
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace

import numpy as np

from ..units import InputProblem
from .quiet import quiet

__all__ = ["Choice", "Choices", "Mix", "Wish", "best", "cheapest_by_hours", "frontier", "soonest"]

WEEKS_IN_A_MONTH = 52 / 12
#: sums closer than this (EUR, hours, weeks, months) are alike, and what was not wished for decides between them
_ALIKE = 0.01
#: largest cost given to the solver
_MAGNIFIED = 1e6
#: a bound may be missed by this share, for the last digit of a sum is not to decide
_SLACK = 1e-9


@dataclass(frozen=True)
class Choice:
    """One open way of one part, in figures: money, own hours, weeks of waiting; ``tools`` that must be bought for it."""

    part: str
    how: str
    money: float
    hours: float
    weeks: float = 0.0
    tools: frozenset[str] = frozenset()
    borrowed: bool = False
    stage: str = ""


@dataclass(frozen=True)
class Wish:
    """What is to be least: weights of money, own hours and the longest lead [EUR, EUR/h, EUR/week], and what must not be passed.

    ``company`` is what an hour on a borrowed machine is worth beyond one at one's own bench [EUR/h].
    """

    money: float = 0.0
    hours: float = 0.0
    lead: float = 0.0
    company: float = 0.0
    most_money: float = np.inf
    most_hours: float = np.inf
    most_weeks: float = np.inf
    most_borrowed_hours: float = np.inf


@dataclass(frozen=True)
class Choices:
    """All that can be chosen, and what comes on top whatever is chosen."""

    choices: tuple[Choice, ...]
    tools: dict[str, float] = field(default_factory=dict)
    fixed_money: float = 0.0
    fixed_hours: float = 0.0

    def __post_init__(self) -> None:
        strange = {tool for one in self.choices for tool in one.tools} - set(self.tools)
        if strange:
            raise ValueError(f"tools without a price: {', '.join(sorted(strange))}")

    @functools.cached_property
    def parts(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(one.part for one in self.choices))

    @functools.cached_property
    def of_part(self) -> dict[str, tuple[Choice, ...]]:
        found: dict[str, list[Choice]] = {}
        for one in self.choices:
            found.setdefault(one.part, []).append(one)
        return {part: tuple(ones) for part, ones in found.items()}

    def mix(self, chosen: Iterable[Choice]) -> Mix:
        """The sums of any one choice for each part; not proven to be the best of anything."""
        chosen = tuple(chosen)
        tools = frozenset().union(*(one.tools for one in chosen))
        return Mix(chosen, tools, self.fixed_money + sum(one.money for one in chosen) + sum(self.tools[tool] for tool in tools),
                   self.fixed_hours + sum(one.hours for one in chosen), max((one.weeks for one in chosen), default=0.0))

    def picked(self, hows: dict[str, str]) -> Mix:
        """The sums of ways named part by part; InputProblem names what is missing or not open."""
        problems, chosen = [], []
        for part, ones in self.of_part.items():
            found = [one for one in ones if one.how == hows.get(part)]
            if found:
                chosen.append(found[0])
            else:
                problems.append((part, f"the {part} cannot be had {hows[part]!r} here." if part in hows else f"no way is chosen for the {part}."))
        if problems:
            raise InputProblem(problems)
        return self.mix(chosen)

    # --- as arrays ------------------------------------------------------------------------------------
    @functools.cached_property
    def _columns(self) -> dict[str, np.ndarray]:
        return {name: np.array([getattr(one, name) for one in self.choices], float) for name in ("money", "hours", "weeks", "borrowed")}

    @functools.cached_property
    def _most(self) -> dict[str, float]:
        """No mix differs from another by more than this."""
        figure = self._columns
        return {"money": np.abs(figure["money"]).sum() + sum(self.tools.values()), "hours": np.abs(figure["hours"]).sum(),
                "lead": figure["weeks"].max(initial=0.0)}

    @functools.cached_property
    def _rows(self) -> tuple[np.ndarray, np.ndarray]:
        """One way for each part: (parts, ways); a way calls for its tools: (calls, ways + tools), at most zero."""
        place = {part: row for row, part in enumerate(self.parts)}
        one_each = np.zeros((len(place), len(self.choices)))
        for column, one in enumerate(self.choices):
            one_each[place[one.part], column] = 1
        names = list(self.tools)
        calls = [(column, names.index(tool)) for column, one in enumerate(self.choices) for tool in sorted(one.tools)]
        called = np.zeros((len(calls), len(self.choices) + len(names)))
        for row, (column, tool) in enumerate(calls):
            called[row, column], called[row, len(self.choices) + tool] = 1, -1
        return one_each, called


@dataclass(frozen=True)
class Mix:
    """One way for each part, the tools bought for them, and the sums: money, own hours, longest lead in weeks."""

    chosen: tuple[Choice, ...]
    tools: frozenset[str]
    money: float
    hours: float
    weeks: float
    proven: bool = False

    @functools.cached_property
    def hows(self) -> dict[str, str]:
        """The way of each part."""
        return {one.part: one.how for one in self.chosen}

    @property
    def on_the_lathe(self) -> dict[str, str]:
        """Stage of the lathe itself for each part made on it."""
        return {one.part: one.stage for one in self.chosen if one.stage}

    @property
    def borrowed_hours(self) -> float:
        return sum(one.hours for one in self.chosen if one.borrowed)

    def counts(self) -> dict[str, int]:
        """How many parts come by each way."""
        hows = list(self.hows.values())
        return {how: hows.count(how) for how in dict.fromkeys(hows)}

    def months(self, hours_per_month: float, money_per_month: float) -> float:
        """Until hours, money and the longest lead have all come in."""
        return max(self.hours / hours_per_month, self.money / money_per_month, self.weeks / WEEKS_IN_A_MONTH)

    def changes(self, other: Mix) -> dict[str, tuple[str, str]]:
        """Parts that come by another way in ``other``: before and after."""
        return {part: (how, other.hows[part]) for part, how in self.hows.items() if other.hows.get(part, how) != how}


# --- solving ------------------------------------------------------------------------------------------
def best(choices: Choices, wish: Wish) -> Mix | None:
    """The mix that meets the wish best, proven; None if no mix keeps its bounds.

    Among mixes that are alike in what is wished for, the one with less money, hours and lead
    is taken.  Raises InputProblem if there is nothing to choose from.
    """
    weights = {"money": wish.money, "hours": wish.hours, "lead": wish.lead}
    for name, most in choices._most.items():            # what is not wished for decides between mixes that are alike
        weights[name] = weights[name] or _ALIKE / max(most, 1.0)
    if not wish.lead and (wish.money or wish.hours):
        weights["lead"] = 0.0                           # the longest lead makes the search slower, so only where it is asked for
    return _solve(choices, weights, wish)


def soonest(choices: Choices, hours_per_month: float, money_per_month: float, wish: Wish | None = None) -> Mix | None:
    """The mix after which hours, money and the longest lead have all come in first, at steady rates; None if bounds forbid it."""
    for name, rate in (("hours", hours_per_month), ("money", money_per_month)):
        if not rate > 0:
            raise InputProblem([(name, f"with {rate:g} {'h' if name == 'hours' else 'EUR'} a month nothing ever gets done; it must be more than zero.")])
    rates = {"money": 1 / money_per_month, "hours": 1 / hours_per_month, "lead": 1 / WEEKS_IN_A_MONTH}
    weights = {name: _ALIKE / max(most, 1.0) for name, most in choices._most.items()}
    return _solve(choices, weights, wish or Wish(), rates)


def _solve(choices: Choices, weights: dict[str, float], wish: Wish, rates: dict[str, float] | None = None) -> Mix | None:
    """Least weighted sum; with ``rates`` least months.  Columns: ways, tools, then the lead and the months if these count."""
    from scipy.optimize import Bounds, milp

    if not choices.choices:
        raise InputProblem([("ways", "there is no way to choose from; no part of the list can be had.")])
    figure, ways, tools = choices._columns, len(choices.choices), len(choices.tools)
    lead, last = ways + tools, ways + tools + 1
    width = ways + tools + (2 if rates else 1 if weights["lead"] else 0)
    sums = {"money": np.zeros(width), "hours": np.zeros(width), "borrowed": np.zeros(width)}
    sums["money"][:lead] = (*figure["money"], *choices.tools.values())
    sums["hours"][:ways] = figure["hours"]
    sums["borrowed"][:ways] = figure["hours"] * figure["borrowed"]

    one_each, called = choices._rows
    rows = [(_wide(one_each, width), 1.0, 1.0), (_wide(called, width), -np.inf, 0.0)]
    bounds = {"money": wish.most_money - choices.fixed_money, "hours": wish.most_hours - choices.fixed_hours, "borrowed": wish.most_borrowed_hours}
    rows += [(sums[name][None, :], -np.inf, most + _SLACK * max(1.0, abs(most))) for name, most in bounds.items() if np.isfinite(most)]
    upper = np.ones(width)
    upper[:ways][figure["weeks"] > wish.most_weeks * (1 + _SLACK)] = 0
    cost = weights["money"] * sums["money"] + weights["hours"] * sums["hours"] - wish.company * sums["borrowed"]
    if width > lead:                            # the lead is at least the weeks of every way chosen
        weeks = _wide(one_each * figure["weeks"], width)
        weeks[:, lead] = -1
        rows.append((weeks, -np.inf, 0.0))
        cost[lead], upper[lead] = weights["lead"], figure["weeks"].max()
        sums["lead"] = np.eye(1, width, lead)[0]
    if rates:                                   # the months are at least those that money, hours and lead take
        cost[last], upper[last] = 1.0, np.inf
        for name, fixed in (("money", choices.fixed_money), ("hours", choices.fixed_hours), ("lead", 0.0)):
            row = sums[name] * rates[name]
            row[last] = -1
            rows.append((row[None, :], -np.inf, -fixed * rates[name]))
    whole = np.zeros(width)
    whole[:ways] = 1
    # the solver stops at a millionth of the cost, which is not to hide what decides between mixes that are alike
    with quiet():
        made = milp(cost * _MAGNIFIED / (np.abs(cost).max() or 1.0), integrality=whole, bounds=Bounds(0, upper), options={"mip_rel_gap": 0.0},
                    constraints=[_constraint(*row) for row in rows if len(row[0])])
    if made.status == 2:                        # proven that nothing keeps the bounds
        return None
    if made.status != 0:
        raise RuntimeError(f"the solver gave up before its answer was proven: {made.message}")
    taken = np.flatnonzero(made.x[:ways] > 0.5)
    return replace(choices.mix(choices.choices[column] for column in taken), proven=True)


def _constraint(matrix: np.ndarray, low: float, high: float):
    from scipy.optimize import LinearConstraint
    size = np.abs(matrix).max() or 1.0
    return LinearConstraint(matrix / size, low / size, high / size)


def _wide(matrix: np.ndarray, width: int) -> np.ndarray:
    return np.pad(matrix, ((0, 0), (0, width - matrix.shape[1])))


# --- money against hours --------------------------------------------------------------------------------
def frontier(choices: Choices, step: float = 2.0, wish: Wish | None = None,
             progress: Callable[[float], None] | None = None) -> tuple[Mix, ...]:
    """The mixes of which none is better in money and hours at once, from most hours to fewest.

    Each is proven.  The next has at least ``step`` fewer own hours; with a step of 0 no such
    mix is left out.  ``progress`` is called with the share done, 0 to 1.
    """
    bounds = wish or Wish()
    fewest = best(choices, replace(bounds, money=0.0, hours=1.0, lead=0.0))
    if fewest is None:
        return ()
    found: list[Mix] = []
    most = bounds.most_hours
    while True:
        mix = best(choices, replace(bounds, money=1.0, hours=0.0, lead=0.0, most_hours=most))
        if mix is None:
            break
        found.append(mix)
        if progress:
            whole = found[0].hours - fewest.hours
            progress(min(1.0, (found[0].hours - mix.hours) / whole) if whole > 0 else 1.0)
        most = mix.hours - max(step, _LEAST_STEP)
        if most < fewest.hours:
            if mix.hours <= fewest.hours + _LEAST_STEP:
                break
            most = fewest.hours
    if progress:
        progress(1.0)
    return tuple(found)


#: hours closer than this are the same
_LEAST_STEP = 0.01


def cheapest_by_hours(choices: Choices, most_hours: Iterable[float], wish: Wish | None = None) -> tuple[Mix | None, ...]:
    """The least money for each number of own hours; None where so few hours do not do."""
    return tuple(best(choices, replace(wish or Wish(), money=1.0, hours=0.0, lead=0.0, most_hours=most)) for most in most_hours)
