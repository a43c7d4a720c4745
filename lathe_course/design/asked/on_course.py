"""A running build looked at month by month: whose log it is, the forecast as it was, and the order of what is left."""

from __future__ import annotations

import functools
from dataclasses import dataclass, replace
from datetime import date as Date
from datetime import timedelta

import numpy as np

from ...nearest import nearest_or_all
from ...planning.log import DAYS_A_MONTH
from ...units import InputProblem
from ..chapters.timescale import MONTHS
from ..demos import demo
from ..evaluation import Evaluation, evaluate
from ..files.progress_log import invented_log
from .outlook import told_node

YOURS, INVENTED, ASLEEP = "yours", "invented", "asleep"
#: whose invented log it is: one that goes on, and one that falls asleep
_DEMOS = {INVENTED: "boat_shed", ASLEEP: "cabin"}


def whose(evaluation: Evaluation, log: str) -> Evaluation:
    """The design with its own log ('yours'), or a demo with its invented one ('invented', 'asleep'), without draws."""
    if log != YOURS and log not in _DEMOS:
        raise InputProblem.about("log", f"there is no log called {log!r}; {nearest_or_all(log, (YOURS, *_DEMOS))}")
    return evaluation.central if log == YOURS else _demo_with_log(_DEMOS[log], evaluation.design.system)


@functools.cache
def _demo_with_log(name: str, system: str) -> Evaluation:
    return evaluate(replace(demo(name), system=system).with_log(invented_log(name)))


def at_month(e: Evaluation, month: float | None, draws: int) -> Evaluation:
    """The build as it stood so many months after its beginning, with draws; without a month as it stands."""
    log = e.design.log
    if month is None or month >= log.months:
        return e.drawn(draws)
    known = e.drawn(draws)
    return evaluate(e.design.with_log(log.until(month)), draws, known)


@dataclass(frozen=True)
class Forecast:
    """What the log told at some month: months in all that a tenth, half and nine tenths of builds take, and the share earned."""

    month: float
    low: float
    middle: float
    high: float
    share: float


def forecasts(e: Evaluation, draws: int, step: int = 1) -> tuple[Forecast, ...]:
    """The forecast month by month up to today; of the plan alone where there is no log."""
    months = [*range(step, int(e["log_months"]) + 1, step)]
    if not months or e["log_months"] - months[-1] > 0.5:
        months.append(None)
    found = []
    for month in months:
        then = at_month(e, month, draws)
        gone = float(then["log_months"])
        low, middle, high = (
            gone + float(end) for end in np.quantile(np.atleast_1d(then["months_to_go"]), (0.1, 0.5, 0.9), method="nearest")
        )
        found.append(Forecast(gone, low, middle, high, float(np.median(then["share_done"]))))
    return tuple(found)


def share_at(e: Evaluation, months: np.ndarray) -> np.ndarray:
    """Share of the work that each build has earned by some months from the beginning, as it goes on from today; shape (builds, months)."""
    plan = np.asarray(e["plan_hours"], float)
    when = np.where(e["log_standing"].accepted, 0.0, e["log_months"] + e["rest_schedule"].done)
    return ((when[:, None, :] <= np.asarray(months, float)[:, None] + 1e-9) * plan).sum(axis=-1) / plan.sum()


def called(node: str) -> str:
    """A part or task as the log calls it."""
    return told_node(node)


def next_in_hand(e: Evaluation, most: int) -> list[tuple[str, float, float, float, bool]]:
    """What is taken in hand next: name, months from the beginning at which it begins and ends, hours, and whether it is begun."""
    plan, hours = e["rest_schedule"], np.asarray(e["rest_work"].hours, float)
    left = [
        place for place in np.argsort(plan.begun[0], kind="stable") if hours[place] > 0 and not e["log_standing"].accepted[place]
    ]
    return [
        (
            called(plan.network.names[place]),
            e["log_months"] + plan.begun[0, place],
            e["log_months"] + plan.done[0, place],
            hours[place],
            bool(e["log_standing"].open[place]),
        )
        for place in left[:most]
    ]


def month_called(e: Evaluation, months: float) -> str:
    """'March 2025', so many months after the beginning of the log; 'never' where it never comes."""
    if not np.isfinite(months):
        return "never"
    log = e.design.log
    if not log:
        return f"month {months:.0f}"
    day = log.begun + timedelta(days=round(months * DAYS_A_MONTH))
    return f"{MONTHS[day.month - 1]} {day.year}"


def day_told(day: Date) -> str:
    """'3 Mar 2025', which no line parts."""
    return f"{day.day}\u00a0{MONTHS[day.month - 1][:3]}\u00a0{day.year}"


def to_order(e: Evaluation) -> list[tuple[str, float, float]]:
    """What costs money, is not accepted and not on order, the most pressing first: name, months from today at which it is taken in hand and at which it is to be ordered."""
    plan, work, standing = e["rest_schedule"], e["rest_work"], e["log_standing"]
    begun = plan.begun[0]
    money, lead = (np.broadcast_to(one, plan.begun.shape)[0] for one in (work.money, work.lead))
    on_order = {order.part for order in e.design.log.orders if order.delivered is None}
    latest = begun - np.where(np.isfinite(lead), lead, 0.0)  # what can never be had is never to be ordered
    return [
        (name, float(begun[place]), float(latest[place]))
        for place in np.argsort(latest, kind="stable")
        if money[place] > 0 and not standing.accepted[place] and (name := called(plan.network.names[place])) not in on_order
    ]
