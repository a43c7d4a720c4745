"""Chapter 16: hours earned against worked and planned, and the forecast as a fan from any month of the log."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes
from matplotlib.ticker import MaxNLocator

from ... import units
from ...design.asked.on_course import YOURS, at_month, share_at, whose
from ...design.evaluation import Evaluation
from ...planning.log import HOURS
from .axes import Places
from .calendar import FEW
from .register import picture
from .style import INK, MUTED, PALETTE, filled, on_white


# --- earned against plan -----------------------------------------------------------------------------------
def _lines(e: Evaluation, until: float) -> dict[str, tuple[np.ndarray, np.ndarray]]:
    """Months and hours of what was planned, worked and earned, each as steps."""
    log, plan = e.design.log, np.asarray(e["plan_hours"], float)
    done = np.asarray(e["build_schedule"].done[0], float)
    months = np.linspace(0, until, 240)
    found = {"planned": (months, ((done <= months[:, None]) * plan).sum(axis=1))}
    if log:
        now = np.unique(np.concatenate([[0.0], [log.months_to(entry.date) for entry in log.entries]]))
        found["worked"] = now, np.array([log.booked_between(HOURS, -1.0, month) for month in now])
        earned = [float((plan * _accepted(e, month)).sum()) for month in now]
        found["earned"] = now, np.array(earned)
    return found


def _accepted(e: Evaluation, month: float) -> np.ndarray:
    """Which nodes were accepted by a month."""
    times = e.design.log.until(month).accepted
    names = [name.removeprefix("task: ") for name in e["build_layout"].network.names]
    parts = set(e["build_layout"].parts)
    return np.array(
        [name in times and (node in parts or name not in parts) for node, name in zip(e["build_layout"].network.names, names)]
    )


def _earned_words(evaluation: Evaluation, log: str = YOURS) -> str:
    e = whose(evaluation, log)
    if not e.design.log:
        return f"The plan alone, for no log is kept yet: {e.shown('hours_budget')} of own hours, all to be earned by month {units.number(e['months_to_finish'])}."
    return (
        f"Hours against months: by today, month {units.number(e['log_months'])}, {e.shown('hours_worked')} are worked and {e.shown('hours_earned')} earned, "
        f"where {e.shown('hours_due')} were to be earned, of {e.shown('hours_budget')} in all."
    )


@picture("Hours planned, worked and earned", _earned_words, height=4.6, panels=((0.12, 0.16, 0.85, 0.79),))
def earned_against_plan(evaluation: Evaluation, axes: Axes, log: str = YOURS) -> None:
    """Steps of hours that were to be earned, that were worked, and that are earned; a part half finished earns nothing."""
    e = whose(evaluation, log)
    gone, plan_end = float(e["log_months"]), float(e["months_to_finish"])
    until = gone * 1.35 if gone else (plan_end if np.isfinite(plan_end) else 60.0)
    lines = _lines(e, until)
    axes.set_xlim(0, until * 1.02)
    axes.set_ylim(0, max(hours.max() for _, hours in lines.values()) * 1.15 + 1)
    places, looks = Places(axes), {"planned": (MUTED, "--"), "worked": (PALETTE["red"], "-."), "earned": (PALETTE["blue"], "-")}
    for name, (months, hours) in lines.items():
        colour, style = looks[name]
        axes.step(months, hours, where="post", color=colour, ls=style, lw=2.6 if name == "earned" else 2.0, zorder=3)
        places.keep_off(months[::6], hours[::6], radius=4)
    if gone:
        axes.axvline(gone, color=INK, lw=1, zorder=1)
        places.keep_off(np.full(25, gone), np.linspace(*axes.get_ylim(), 25), radius=3)
        places.tell((gone, axes.get_ylim()[1] * 0.02), "today", 6, 0)
    for name, (months, hours) in lines.items():
        spot = int(0.88 * (len(months) - 1)) if name == "planned" else len(months) - 1
        label = f"{name}{'' if name == 'planned' else f', {hours[-1]:.0f} h'}"
        places.put(months[spot], hours[spot], label, gap=12, bbox=on_white(1.5), zorder=5)
    axes.xaxis.set_major_locator(MaxNLocator(8, integer=True))
    axes.set_xlabel("months from the beginning")
    axes.set_ylabel("own hours (h)")
    axes.grid(axis="y")


# --- the fan ---------------------------------------------------------------------------------------------------
def _fan(evaluation: Evaluation, log: str, month: float | None) -> tuple[Evaluation, np.ndarray, tuple[float, float, float]]:
    e = at_month(whose(evaluation, log), month, FEW)
    ends = np.atleast_1d(np.asarray(e["months_to_go"], float)) + float(e["log_months"])
    return e, ends, tuple(float(end) for end in np.quantile(ends, (0.1, 0.5, 0.9), method="nearest"))


def _month(value: float) -> str:
    return units.number(value, 2) if np.isfinite(value) else "no month at all"


def _fan_words(evaluation: Evaluation, log: str = YOURS, month: float | None = None) -> str:
    e, ends, (low, middle, high) = _fan(evaluation, log, month)
    patience = float(np.median(e["patience"]))
    seen = (
        f"Seen from month {units.number(e['log_months'], 2)}, with {np.median(e['share_done']):.0%} earned"
        if e.design.log
        else "Seen before the first day"
    )
    return (
        f"{seen}: half of such builds are done by month {_month(middle)}, a tenth by {_month(low)}, nine tenths by {_month(high)}; "
        f"{(ends <= patience).mean():.0%} by month {units.number(patience)}, where patience ends."
    )


@picture("The forecast from a month of the log", _fan_words, height=4.8, panels=((0.115, 0.15, 0.865, 0.80),))
def forecast_fan(evaluation: Evaluation, axes: Axes, log: str = YOURS, month: float | None = None) -> None:
    """What is earned until then, and from there the middle of many builds with the span of four fifths of them."""
    e, _, (low, middle, high) = _fan(evaluation, log, month)
    whole = whose(evaluation, log)
    gone, patience = float(e["log_months"]), float(np.median(e["patience"]))
    last = next((end for end in (high, middle, low) if np.isfinite(end)), 2 * patience)
    until = max(last, patience, float(whole["log_months"])) * 1.08 + 1
    axes.set_xlim(0, until)
    axes.set_ylim(0, 112)
    months = np.linspace(gone, until, 160)
    share = 100 * share_at(e, months)
    bottom, half, top = np.quantile(share, (0.1, 0.5, 0.9), axis=0, method="nearest")
    axes.fill_between(months, bottom, top, step="post", zorder=2, **filled(PALETTE["blue"]))
    axes.step(months, half, where="post", color=PALETTE["blue"], zorder=3)
    if e.design.log:
        back, plan = e.design.log, np.median(np.atleast_2d(e["plan_hours"]), axis=0)
        known = np.unique([0.0, *back.accepted.values(), gone])
        axes.step(
            known,
            [100 * float((plan * _accepted(e, one)).sum() / plan.sum()) for one in known],
            where="post",
            color=INK,
            lw=2.8,
            zorder=4,
        )
        axes.axvline(gone, color=INK, lw=1, zorder=1)
    axes.axvline(patience, color=PALETTE["red"], ls="--", lw=2, zorder=1)
    places = Places(axes)
    for edge in (bottom, half, top):
        places.keep_off(months[::5], edge[::5], radius=4)
    places.keep_off(np.full(25, patience), np.linspace(0, 110, 25), radius=4)
    places.tell(
        (patience, 3.0),
        "patience ends",
        -6 if patience > 0.75 * until else 6,
        0,
        ha="right" if patience > 0.75 * until else "left",
        bbox=on_white(1.5),
        zorder=5,
    )
    if np.isfinite(middle):
        places.put(
            middle,
            100,
            f"done by month {middle:.0f},\nfour fifths of builds {_month(low)} to {_month(high)}",
            gap=14,
            bbox=on_white(1.5),
            zorder=6,
        )
    axes.set_yticks([0, 25, 50, 75, 100])
    axes.xaxis.set_major_locator(MaxNLocator(8, integer=True))
    axes.set_xlabel("months from the beginning")
    axes.set_ylabel("work earned (% of the plan)")
    axes.grid(axis="y")
