"""Looking ahead with one design: the same build with one thing made easy, the purse beside the bills, and what held the work up."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from ...planning import three_point
from ...planning.cash import Purse, as_wanted, purse
from ...planning.schedule import Calendar, Means, Schedule, Work, schedule
from ..chapters.budget import PRICE_SPREAD
from ..chapters.timescale import MONTHS
from ..evaluation import Evaluation

#: hours or money a month that keep nobody waiting
PLENTY = 1e9


# --- the same build with something made easy -----------------------------------------------------------------
def with_eased(
    e: Evaluation,
    *,
    hours: float = 1.0,
    money: float = 1.0,
    waits: float = 1.0,
    evenings: float = 1.0,
    away: bool = True,
    should: bool = False,
) -> Schedule:
    """The build again: hours and money a month times a factor, waits and borrowed machines' hours times a factor, months away or none.

    ``PLENTY`` as the factor of hours or money makes it no object.  ``should`` takes what one
    should spend in place of what one can.
    """
    work: Work = e["build_work"]
    plan = "should" if should else "can"
    calendar = e["calendar"] if away else Calendar(first=e["calendar"].first)
    saved = e["savings"] if money < PLENTY else PLENTY
    means = Means(e[f"build_hours_{plan}"] * hours, e[f"money_{plan}"] * money, saved, e["machine_hours"], calendar)
    had = np.isfinite(work.lead)
    return schedule(
        replace(work, lead=np.where(had, np.where(had, work.lead, 0.0) * waits, np.inf), evenings=work.evenings * evenings), means
    )


def longest_chain(e: Evaluation, date: float) -> tuple[tuple[str, ...], float, float, float]:
    """The textbook's chain: the longest through the network, its mean and its spread in months, and the odds it gives of being done by a month.

    Every part is taken to have a pair of hands of its own, and no money is waited for; mean
    and spread of each step are those of the draws.
    """
    work = e["build_work"]
    # what can never be had is left out: its chain has no end
    steps = np.asarray(
        np.where(np.isfinite(work.lead), work.lead, 0.0) + work.hours / np.asarray(e["build_hours_can"], float)[..., None]
    )
    mean = steps.mean(axis=0)
    chain = work.network.longest_chain(mean)
    places = [work.network.names.index(name) for name in chain]
    whole, spread = float(mean[places].sum()), float(np.sqrt(steps[:, places].var(axis=0).sum()))
    return chain, whole, spread, float(three_point.odds_by.si(date, whole, spread))


# --- the purse -----------------------------------------------------------------------------------------------
def bills(e: Evaluation) -> tuple[np.ndarray, np.ndarray]:
    """When each bill comes if everything is ordered as the hands want it, and its money; shape (builds, bills)."""
    hands = with_eased(e, money=PLENTY)
    return as_wanted(hands, e["build_work"].lead), hands.money


def purse_of(e: Evaluation, *, should: bool = False) -> Purse:
    """The purse of a design beside those bills."""
    return purse(*bills(e), e["savings"], e["money_should" if should else "money_can"])


def likely_money(e: Evaluation) -> float:
    """The sum of every likely figure: what a list of parts comes to that somebody adds up on paper."""
    columns, growth, central = e["part_columns"], e.central["part_growth"], e.central
    parts = sum(
        float((getattr(columns, figure).likely * growth[figure] * central[f"{figure}_local"]).sum())
        for figure in ("material", "outside", "carriage")
    )
    money, things = central["item_money"]["money"] / (1 + central["thing_again"][0]), central["item_money"]["things"]
    ends = np.array([item.money for item in things], float).reshape(-1, 3)
    mean = ends.mean(axis=1)
    return (
        parts * float(central["price_level"])
        + float(central["fees_money"])
        + float((money * np.where(mean > 0, ends[:, 1] / np.where(mean > 0, mean, 1.0), 1.0)).sum())
    )


# --- the calendar --------------------------------------------------------------------------------------------
def month_name(e: Evaluation, months: float) -> str:
    """'May of year 2', so many months from the start; 'never' beyond all planning."""
    if not np.isfinite(months):
        return "never"
    since = e["calendar"].first - 1 + int(months + 1e-9)
    return f"{MONTHS[since % 12]} of year {since // 12 + 1}"


def told_node(name: str) -> str:
    """A part or task of the network as it is called among people."""
    return name.removeprefix("task: ")


# --- what held the work up -----------------------------------------------------------------------------------
@dataclass(frozen=True)
class Held:
    """One link of the chain that ends with the last task: from when to when, and what kept it."""

    name: str
    why: str  # "hands", "borrowed machine", "delivery" or "money"
    begins: float
    ends: float


def held_up(e: Evaluation) -> tuple[Held, ...]:
    """From the start to the end without a gap: what each thing waited for last, with every figure at its middling value.

    A thing begins when what is before it is done, when the hands are free, or when what it needs
    has come, whichever is last.  What came late waited for its delivery, and before that for the
    money; the chain ends there, for everything paid earlier had its part in that.
    """
    e = e.central
    plan, work = e["build_schedule"], e["build_work"]
    begun, done, ordered = plan.begun[0], plan.done[0], plan.ordered[0]
    if not np.isfinite(plan.end[0]):
        return ()
    hours, lead = (np.broadcast_to(one, plan.begun.shape)[0] for one in (work.hours, work.lead))
    free = _hands_free(e, begun, hours)
    same = 1e-6
    chain: list[Held] = []
    here, until = int(done.argmax()), float(done.max())
    while True:
        start = begun[here]
        if until > start + same:
            chain.append(
                Held(plan.network.names[here], "hands" if free[here] > until - same else "borrowed machine", float(start), until)
            )
        until = float(start)
        if start < same:
            break
        after = [other for other in plan.network.before[here] if abs(done[other] - start) < same]
        busy = [other for other in np.flatnonzero(hours > 0) if abs(free[other] - start) < same and begun[other] < start - same]
        if not (after or busy):
            if lead[here] > same:
                chain.append(Held(plan.network.names[here], "delivery", float(ordered[here]), until))
            if ordered[here] > same:
                chain.append(Held(plan.network.names[here], "money", 0.0, float(ordered[here])))
            break
        here = int((busy or after)[0])
    return tuple(reversed(chain))


def _hands_free(e: Evaluation, begun: np.ndarray, hours: np.ndarray) -> np.ndarray:
    """When the hands are done with each thing; a borrowed machine may take longer over it."""
    ends, worked = e["calendar"].worked()
    return np.where(
        hours > 0, np.interp(np.interp(begun, ends, worked) + hours / float(e["build_hours_can"]), worked, ends), begun
    )


def hands_time(e: Evaluation) -> dict[str, float]:
    """What the hands did until the end, in months: at work, idle for money, idle for what was on its way; every figure at its middling value.

    Months away count where they fall.
    """
    e = e.central
    plan, work = e["build_schedule"], e["build_work"]
    begun, ordered = plan.begun[0], plan.ordered[0]
    hours = np.broadcast_to(work.hours, plan.begun.shape)[0]
    free = _hands_free(e, begun, hours)
    found, clock = {"at work": 0.0, "idle for money": 0.0, "idle for deliveries and machines": 0.0}, 0.0
    for task in sorted(np.flatnonzero(hours > 0), key=lambda one: begun[one]):
        money = min(max(float(ordered[task]) - clock, 0.0), max(float(begun[task]) - clock, 0.0))
        found["idle for money"] += money
        found["idle for deliveries and machines"] += max(float(begun[task]) - clock, 0.0) - money
        found["at work"] += float(free[task] - begun[task])
        clock = max(clock, float(free[task]))
    return found


def scatter_of_their_own(e: Evaluation) -> float:
    """How far all money paid would scatter if every thing had luck of its own and no level of prices carried them all; without draws."""
    shared = float(e["cash_total"]) * PRICE_SPREAD
    return float(np.sqrt(max(float(e["cash_spread"]) ** 2 - shared**2, 0.0)))
