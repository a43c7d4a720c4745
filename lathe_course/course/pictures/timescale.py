"""Chapter 12: milestones as a fan over the calendar, and the odds of being done by a date."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.asked.outlook import month_name
from ...design.evaluation import Evaluation
from .axes import Places, wrapped
from .calendar import FEW, calendar_axis
from .register import NothingToDraw, picture
from .style import INK, MUTED, PALETTE, filled, on_white

#: the two plans, by the hours and money they have
_CAN, _SHOULD = "with what you can spend", "with what you should spend"
_NEVER = "At what you can spend half of these builds never end. The page of the budget says what stops them."


def _ends(months: np.ndarray) -> tuple[float, float, float]:
    return tuple(float(end) for end in np.quantile(np.atleast_1d(months), (0.1, 0.5, 0.9), method="nearest"))


def _patience(e: Evaluation) -> float:
    return float(np.median(e["patience"]))


# --- milestones ----------------------------------------------------------------------------------------------
def _reached(evaluation: Evaluation) -> tuple[Evaluation, dict[str, tuple[float, float, float]]]:
    """Each milestone with the months by which a tenth, half and nine tenths of builds reach it, the earliest first."""
    e = evaluation.drawn(FEW)
    plan = e["build_schedule"]
    found = {name: _ends(plan.done_by((node,))) for name, node in e["build_layout"].milestones.items()}
    if not all(np.isfinite(middle) for _, middle, _ in found.values()):
        raise NothingToDraw(_NEVER)
    return e, dict(sorted(found.items(), key=lambda one: one[1][1]))


def _fan_words(evaluation: Evaluation) -> str:
    e, found = _reached(evaluation)
    told = "; ".join(
        f"{name} {month_name(e, middle)}, month {units.number(middle)} (in four fifths of builds {units.number(low, 2)} to {units.number(high, 2)})"
        for name, (low, middle, high) in found.items()
    )
    return (
        f"When each milestone is reached, the middle of many builds: {told}. Patience ends in month {units.number(_patience(e))}."
    )


@picture("Milestones over the calendar", _fan_words, height=5.1, panels=((0.235, 0.235, 0.745, 0.745),))
def milestone_fan(evaluation: Evaluation, axes: Axes) -> None:
    """A bar for each milestone from the tenth to the nine tenths of builds, the middle marked; patience as a line."""
    e, found = _reached(evaluation)
    rows, patience = np.arange(len(found)), _patience(e)
    latest = [high if np.isfinite(high) else middle * 1.5 for _, middle, high in found.values()]
    end = max(*latest, patience) * 1.08 + 1
    axes.set_ylim(len(found) - 0.4, -0.9)
    calendar_axis(e, axes, end)
    axes.axvline(patience, color=PALETTE["red"], ls="--", lw=2)
    left = patience > 0.8 * end
    axes.annotate(
        "patience ends",
        (patience, -0.62),
        xytext=(-6 if left else 6, 0),
        textcoords="offset points",
        ha="right" if left else "left",
        va="center",
        bbox=on_white(1.5),
    )
    for row, (low, middle, _), high in zip(rows, found.values(), latest):
        axes.barh(row, high - low, 0.5, left=low, zorder=2, **filled(PALETTE["blue"]))
        axes.plot([middle], [row], "D", ms=8, color=INK, zorder=3)
    axes.set_yticks(rows, [wrapped(name, 130) for name in found], linespacing=1.0)
    axes.tick_params(axis="y", length=0)
    axes.grid(axis="x")


# --- odds ----------------------------------------------------------------------------------------------------
def _both(evaluation: Evaluation) -> tuple[Evaluation, dict[str, np.ndarray]]:
    """The end of each build, as one can and as one should, the earliest first."""
    e = evaluation.drawn(FEW)
    ends = {
        words: np.sort(np.broadcast_to(np.asarray(e[name], float), (e.draws,)))
        for words, name in ((_CAN, "months_to_finish"), (_SHOULD, "months_to_finish_should"))
    }
    if not np.isfinite(ends[_CAN][e.draws // 2]):
        raise NothingToDraw(_NEVER)
    return e, ends


def _odds_words(evaluation: Evaluation) -> str:
    e, ends = _both(evaluation)
    patience, told = _patience(e), []
    for words, months in ends.items():
        low, middle, high = _ends(months)
        span = f"a tenth of builds is done by month {units.number(low)}, half by {units.number(middle)}, nine tenths by {units.number(high)}"
        told.append(
            f"{words}, {span}, and {(months <= patience).mean():.0%} by month {units.number(patience)}, where patience ends"
        )
    single = float(evaluation.central["months_to_finish"])
    tail = f" The plan at middling figures ends in month {units.number(single)}." if np.isfinite(single) else ""
    return f"Odds of being done by a month: {'; '.join(told)}.{tail}"


@picture("Odds of being done by a month", _odds_words, height=4.8, panels=((0.115, 0.255, 0.865, 0.715),))
def finish_odds(evaluation: Evaluation, axes: Axes) -> None:
    """The share of builds that are done by each month, as one can and as one should, with patience and the plan at middling figures."""
    e, ends = _both(evaluation)
    patience, single = _patience(e), float(evaluation.central["months_to_finish"])
    last = [float(months[np.isfinite(months)][-1]) for months in ends.values() if np.isfinite(months).any()]
    end = max(*last, patience) * 1.05 + 1
    axes.set_ylim(0, 113)
    calendar_axis(e, axes, end)
    share = 100 * np.arange(1, e.draws + 1) / e.draws
    axes.axvline(patience, color=PALETTE["red"], ls="--", lw=2)
    places = Places(axes)
    for (words, months), (colour, style) in zip(ends.items(), ((PALETTE["blue"], "-"), (PALETTE["green"], "-."))):
        there = np.isfinite(months)
        axes.step(months[there], share[there], where="post", color=colour, ls=style, zorder=3)
        if there.any():
            places.keep_off(months[there][::40], share[there][::40], radius=5)
    odds = float((ends[_CAN] <= patience).mean())
    axes.plot([patience], [100 * odds], "o", ms=10, color=PALETTE["red"], markeredgecolor="white", zorder=6)
    places.put(patience, 100 * odds, f"{odds:.0%} by the end of patience", gap=12, weight="bold", bbox=on_white(1.5), zorder=6)
    if single < end:
        likely = 100 * float((ends[_CAN] <= single).mean())
        axes.plot([single], [likely], "D", ms=9, color=INK, zorder=6)
        places.keep_off(single, likely, radius=8)
        places.put(single, likely, f"plan at middling figures, {likely:.0f}%", gap=12, bbox=on_white(1.5), zorder=6)
    places.keep_off(np.full(20, patience), np.linspace(0, 110, 20), radius=4)
    for (words, months), at in zip(ends.items(), (0.75, 0.3)):
        spot = int(at * e.draws)
        if np.isfinite(months[spot]):
            places.put(months[spot], share[spot], words, gap=12, bbox=on_white(1.5), zorder=5)
    axes.set_yticks([0, 25, 50, 75, 100])
    axes.set_ylabel("builds that are done (of a hundred)", color=INK)
    axes.grid(axis="y")
    axes.spines["bottom"].set_color(MUTED)
