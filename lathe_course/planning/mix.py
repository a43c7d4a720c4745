"""The best mix of ways: one way for each part, so that a wish is met as well as can be.

A wish is a sum of money, own hours and the longest lead time, each with a weight, under
bounds on any of them.  Tools and machines that only some ways call for are bought once if one of these is
chosen, so parts cannot be decided one by one: it is an integer programme, and the solver
proves its answer.  Nothing here knows parts or prices; ``plan`` makes the choices of them.

Beside this module only ``cutting`` uses scipy.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

import numpy as np

from ..units import InputProblem
from .solver_output import quiet

WEEKS_IN_A_MONTH = 52 / 12
#: sums closer than this (money, hours, weeks, months) are alike, and what was not wished for decides between them
_ALIKE = 0.01
#: largest cost given to the solver
_MAGNIFIED = 1e6
#: a bound may be missed by this share, for the last digit of a sum is not to decide
_SLACK = 1e-9


#: a way that is no way: the thing does not come at all
NONE = "not bought"


@dataclass(frozen=True)
class Choice:
    """One open way of one part or thing, in figures: money, what comes back of it when it is sold again, own hours, weeks of waiting.

    ``calls`` are sets of things, of each of which one at least must come.  ``sort`` is "part", or "tool" or "machine" for what is bought beside.
    """

    part: str
    how: str
    money: float
    hours: float
    weeks: float = 0.0
    calls: tuple[frozenset[str], ...] = ()
    borrowed: bool = False
    stage: str = ""
    back: float = 0.0
    sort: str = "part"


@dataclass(frozen=True)
class Wish:
    """What is to be least: weights of money in the end, own hours and the longest lead [EUR, EUR/h, EUR/week], and what must not be passed.

    ``company`` is what an hour on a borrowed machine is worth beyond one at one's own bench [EUR/h].
    """

    money: float = 0.0
    hours: float = 0.0
    lead: float = 0.0
    company: float = 0.0
    most_money: float = np.inf
    most_hours: float = np.inf
    most_weeks: float = np.inf


@dataclass(frozen=True)
class Choices:
    """All that can be chosen, and what comes on top whatever is chosen.  A thing that need not come has a way called ``NONE``."""

    choices: tuple[Choice, ...]
    fixed_money: float = 0.0
    fixed_hours: float = 0.0

    def __post_init__(self) -> None:
        strange = {thing for one in self.choices for call in one.calls for thing in call} - {one.part for one in self.choices}
        if strange:
            raise ValueError(f"called for, and not to be had: {', '.join(sorted(strange))}")

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
        """The sums of one choice for each part; what these call for and is not among them comes by its cheapest way.

        Not proven to be the best of anything.  A tool that nothing calls for does not come.
        """
        asked = {one.part: one for one in chosen}
        made = {part: one for part, one in asked.items() if one.sort != "tool" or self._always(part)}
        for part, ones in self.of_part.items():
            if part not in made and (ones[0].sort == "part" or self._always(part)):
                made[part] = min((one for one in ones if one.how != NONE), key=lambda one: one.money)
        for call in dict.fromkeys(call for one in made.values() for call in one.calls):
            if not any(thing in made and made[thing].how != NONE for thing in call):
                wanted = [one for thing in sorted(call) for one in self.of_part[thing] if one.how != NONE]
                told = [asked[thing] for thing in sorted(call) if thing in asked and asked[thing].how != NONE]
                one = min(told or wanted, key=lambda one: one.money - one.back)
                made[one.part] = one
        for part, ones in self.of_part.items():
            if part not in made:
                made[part] = next(one for one in ones if one.how == NONE)
        chosen = tuple(made[part] for part in self.parts)
        return Mix(
            chosen,
            self.fixed_money + sum(one.money for one in chosen),
            sum(one.back for one in chosen),
            self.fixed_hours + sum(one.hours for one in chosen),
            max((one.weeks for one in chosen), default=0.0),
        )

    def _always(self, part: str) -> bool:
        return all(one.how != NONE for one in self.of_part[part])

    def picked(self, hows: dict[str, str]) -> Mix:
        """The sums of ways named part by part; InputProblem names what is missing or not open.

        Of two ways with one name, one by a machine that is not bought does not count.
        """
        problems, chosen = [], []
        for part, ones in self.of_part.items():
            found = [one for one in ones if one.how == hows.get(part) and self._called_for(one, hows)]
            if found:
                chosen.append(found[0])
            elif ones[0].sort == "part":
                problems.append(
                    (
                        part,
                        f"the {part} cannot be had {hows[part]!r} here." if part in hows else f"no way is chosen for the {part}.",
                    )
                )
        if problems:
            raise InputProblem(problems)
        return self.mix(chosen)

    def _called_for(self, one: Choice, hows: dict[str, str]) -> bool:
        """Does some machine come that this choice calls for, or can it be got as a matter of course?"""
        return all(
            any(self.of_part[thing][0].sort == "tool" or hows.get(thing, NONE) != NONE for thing in call) for call in one.calls
        )

    # --- as arrays ------------------------------------------------------------------------------------
    @functools.cached_property
    def _columns(self) -> dict[str, np.ndarray]:
        found = {
            name: np.array([getattr(one, name) for one in self.choices], float)
            for name in ("money", "back", "hours", "weeks", "borrowed")
        }
        return found | {"cost": found["money"] - found["back"]}

    @functools.cached_property
    def _most(self) -> dict[str, float]:
        """No mix differs from another by more than this."""
        figure = self._columns
        return {
            "money": np.abs(figure["cost"]).sum(),
            "hours": np.abs(figure["hours"]).sum(),
            "lead": figure["weeks"].max(initial=0.0),
        }

    @functools.cached_property
    def _rows(self) -> tuple[np.ndarray, np.ndarray]:
        """One way for each part: (parts, ways); a way calls for things: (calls, ways), at most zero."""
        place = {part: row for row, part in enumerate(self.parts)}
        one_each = np.zeros((len(place), len(self.choices)))
        for column, one in enumerate(self.choices):
            one_each[place[one.part], column] = 1
        coming = {
            part: [column for column, one in enumerate(self.choices) if one.part == part and one.how != NONE]
            for part in self.parts
        }
        calls = [(column, call) for column, one in enumerate(self.choices) for call in one.calls]
        called = np.zeros((len(calls), len(self.choices)))
        for row, (column, call) in enumerate(calls):
            called[row, column] = 1
            for thing in call:
                called[row, coming[thing]] = -1
        return one_each, called


@dataclass(frozen=True)
class Mix:
    """One way for each part and thing, and the sums: money paid, what comes back of it, own hours, longest lead in weeks."""

    chosen: tuple[Choice, ...]
    money: float
    back: float
    hours: float
    weeks: float
    proven: bool = False

    @functools.cached_property
    def hows(self) -> dict[str, str]:
        """The way of each part, of each tool that comes, and of each machine that is for sale."""
        return {one.part: one.how for one in self.chosen if one.sort != "tool" or one.how != NONE}

    @property
    def cost(self) -> float:
        """Money in the end: what is paid, less what comes back."""
        return self.money - self.back

    @property
    def things(self) -> frozenset[str]:
        """What is bought beside the parts and could have been left."""
        return frozenset(one.part for one in self.chosen if one.sort != "part" and one.how != NONE)

    @property
    def bought_machines(self) -> tuple[str, ...]:
        return tuple(one.part for one in self.chosen if one.sort == "machine" and one.how != NONE)

    @property
    def on_the_lathe(self) -> dict[str, str]:
        """Stage of the lathe itself for each part made on it."""
        return {one.part: one.stage for one in self.chosen if one.stage}

    @property
    def borrowed_hours(self) -> float:
        return sum(one.hours for one in self.chosen if one.borrowed)

    def counts(self) -> dict[str, int]:
        """How many parts come by each way."""
        hows = [one.how for one in self.chosen if one.sort == "part"]
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
    for name, most in choices._most.items():  # what is not wished for decides between mixes that are alike
        weights[name] = weights[name] or _ALIKE / max(most, 1.0)
    if not wish.lead and (wish.money or wish.hours):
        weights["lead"] = 0.0  # the longest lead makes the search slower, so only where it is asked for
    return _solve(choices, weights, wish)


def soonest(choices: Choices, hours_per_month: float, money_per_month: float, wish: Wish | None = None) -> Mix | None:
    """The mix after which hours, money and the longest lead have all come in first, at steady rates; None if bounds forbid it.

    Raises InputProblem for a rate of zero or less.
    """
    for name, rate in (("hours", hours_per_month), ("money", money_per_month)):
        if not rate > 0:
            raise InputProblem.about(name, f"with no {name} a month nothing ever gets done; it must be more than zero.")
    rates = {"money": 1 / money_per_month, "hours": 1 / hours_per_month, "lead": 1 / WEEKS_IN_A_MONTH}
    weights = {name: _ALIKE / max(most, 1.0) for name, most in choices._most.items()}
    return _solve(choices, weights, wish or Wish(), rates)


def _solve(choices: Choices, weights: dict[str, float], wish: Wish, rates: dict[str, float] | None = None) -> Mix | None:
    """Least weighted sum; with ``rates`` least months.  Columns: ways, then the lead and the months if these count."""
    from scipy.optimize import Bounds, milp

    if not choices.choices:
        raise InputProblem.about("ways", "there is no way to choose from; no part of the list can be had.")
    figure, ways = choices._columns, len(choices.choices)
    lead, last = ways, ways + 1
    width = ways + (2 if rates else 1 if weights["lead"] else 0)
    sums = {name: _wide(figure[name][None, :], width)[0] for name in ("money", "cost", "hours")}

    one_each, called = choices._rows
    rows = [(_wide(one_each, width), 1.0, 1.0), (_wide(called, width), -np.inf, 0.0)]
    bounds = {"money": wish.most_money - choices.fixed_money, "hours": wish.most_hours - choices.fixed_hours}
    rows += [
        (sums[name][None, :], -np.inf, most + _SLACK * max(1.0, abs(most))) for name, most in bounds.items() if np.isfinite(most)
    ]
    upper = np.ones(width)
    upper[:ways][figure["weeks"] > wish.most_weeks * (1 + _SLACK)] = 0
    cost = weights["money"] * sums["cost"] + weights["hours"] * sums["hours"]
    cost[:ways] -= wish.company * figure["hours"] * figure["borrowed"]
    if width > lead:  # the lead is at least the weeks of every way chosen
        weeks = _wide(one_each * figure["weeks"], width)
        weeks[:, lead] = -1
        rows.append((weeks, -np.inf, 0.0))
        cost[lead], upper[lead] = weights["lead"], figure["weeks"].max()
        sums["lead"] = np.eye(1, width, lead)[0]
    if rates:  # the months are at least those that money, hours and lead take
        cost[last], upper[last] = 1.0, np.inf
        for name, fixed in (("money", choices.fixed_money), ("hours", choices.fixed_hours), ("lead", 0.0)):
            row = sums[name] * rates[name]
            row[last] = -1
            rows.append((row[None, :], -np.inf, -fixed * rates[name]))
    whole = np.zeros(width)
    whole[:ways] = 1
    # the solver stops at a millionth of the cost, which is not to hide what decides between mixes that are alike
    with quiet():
        made = milp(
            cost * _MAGNIFIED / (np.abs(cost).max() or 1.0),
            integrality=whole,
            bounds=Bounds(0, upper),
            options={"mip_rel_gap": 0.0},
            constraints=[_constraint(*row) for row in rows if len(row[0])],
        )
    if made.status == 2:  # proven that nothing keeps the bounds
        return None
    if made.status != 0:
        raise RuntimeError(f"the solver gave up before its answer was proven: {made.message}")
    chosen = tuple(choices.choices[column] for column in np.flatnonzero(made.x[:ways] > 0.5))
    taken = np.zeros(ways)
    taken[np.flatnonzero(made.x[:ways] > 0.5)] = 1
    return Mix(
        chosen,
        choices.fixed_money + float(taken @ figure["money"]),
        float(taken @ figure["back"]),
        choices.fixed_hours + float(taken @ figure["hours"]),
        float((taken * figure["weeks"]).max(initial=0.0)),
        proven=True,
    )


def _constraint(matrix: np.ndarray, low: float, high: float):
    from scipy.optimize import LinearConstraint

    size = np.abs(matrix).max() or 1.0
    return LinearConstraint(matrix / size, low / size, high / size)


def _wide(matrix: np.ndarray, width: int) -> np.ndarray:
    return np.pad(matrix, ((0, 0), (0, width - matrix.shape[1])))


# --- money against hours --------------------------------------------------------------------------------
def frontier(
    choices: Choices, step: float = 2.0, wish: Wish | None = None, progress: Callable[[float], None] | None = None
) -> tuple[Mix, ...]:
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
