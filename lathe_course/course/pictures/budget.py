"""Chapter 11: what the money goes to, and money wanted against money there, month by month."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.asked.outlook import bills, month_name, purse_of, told_node
from ...design.evaluation import Evaluation
from ..shown.money import amount, euros, money_name, split_of
from .axes import Places, demand, wrapped
from .calendar import FEW, calendar_axis
from .register import NothingToDraw, picture
from .style import INK, PALETTE, filled, on_white, pale


# --- what it goes to ---------------------------------------------------------------------------------------
def _split(evaluation: Evaluation) -> tuple[Evaluation, dict[str, np.ndarray]]:
    e = evaluation.drawn(FEW)
    return e, {words: np.broadcast_to(np.asarray(value, float), (e.draws,)) for words, value in split_of(e).items()}


def _split_words(evaluation: Evaluation) -> str:
    e, parts = _split(evaluation)
    told = ", ".join(f"{words} {euros(e, float(value.mean()))}" for words, value in parts.items())
    low, high = np.quantile(e["cash_total"], (0.1, 0.9))
    return f"What the money goes to, on average: {told}. Together {euros(e, float(np.mean(e['cash_total'])))}, in four fifths of builds {euros(e, low, 2)} to {euros(e, high, 2)}."


@picture("What the money goes to", _split_words, height=4.4, panels=((0.29, 0.16, 0.68, 0.81),))
def money_goes_to(evaluation: Evaluation, axes: Axes) -> None:
    """A bar for each sort of spending, with the range of four fifths of builds."""
    e, parts = _split(evaluation)
    rows = np.arange(len(parts))
    parts = {words: amount(e, value) for words, value in parts.items()}
    spans = [np.quantile(value, (0.1, 0.9)) for value in parts.values()]
    demand(e, spans)
    most = max(*(high for _, high in spans), 1.0)
    axes.set_ylim(len(parts) - 0.45, -0.55)
    axes.set_xlim(0, most * 1.17)
    for row, value, (low, high) in zip(rows, parts.values(), spans):
        axes.barh(row, value.mean(), 0.66, **filled(PALETTE["blue"]))
        axes.plot([low, high], [row, row], "|-", color=INK, lw=1.6, ms=9)
        axes.annotate(
            units.number(round(float(value.mean()))), (high, row), xytext=(8, 0), textcoords="offset points", va="center"
        )
    axes.set_yticks(rows, [wrapped(words, 160) for words in parts], linespacing=1.0)
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel(f"money ({money_name(e)})")


# --- money wanted against money there ------------------------------------------------------------------------
_STEPS = 120
#: width and height of the legend in points
_LEGEND = (230, 66)


def _paid_by(when: np.ndarray, money: np.ndarray, months: np.ndarray) -> np.ndarray:
    """Money due until each month, shape (builds, months)."""
    order = np.argsort(when, axis=-1)
    month, sums = np.take_along_axis(when, order, -1), np.cumsum(np.take_along_axis(money, order, -1), axis=-1)
    places = np.stack([np.searchsorted(row, months, side="right") for row in month])
    return np.take_along_axis(np.concatenate([np.zeros((len(sums), 1)), sums], axis=-1), places, -1)


def _fan_words(evaluation: Evaluation) -> str:
    e = evaluation.central
    one = purse_of(e)
    if not np.isfinite(one.empty[0]):
        told = "At likely prices the purse pays every bill in time"
    else:
        told = (
            f"At likely prices the purse is empty in month {units.number(one.empty[0], 2)}, {month_name(e, one.empty[0])}, when the bill of "
            f"“{told_node(e['build_work'].network.names[int(one.bill[0])])}” comes; at the worst {euros(e, one.deepest[0])} are missing"
        )
    return (
        f"Money due if all is ordered as the hands want it, {euros(e, e['cash_total'])} at likely prices, against what was put by, {euros(e, e['savings'])}, and what the months "
        f"bring, {euros(e, e['money_can'])} of what you can spend and {euros(e, e['money_should'])} of what you should. {told}."
    )


@picture("Money wanted, and money there", _fan_words, height=5.0, panels=((0.125, 0.24, 0.85, 0.73),))
def money_fan(evaluation: Evaluation, axes: Axes) -> None:
    """Bills as they would come if money kept nobody waiting, with their range, against the purse."""
    e = evaluation.drawn(FEW)
    when, money = bills(e)
    if not np.isfinite(when).all():
        raise NothingToDraw("With so few hours the work never ends, and so its bills have no months.")
    end = float(np.quantile(when.max(axis=-1), 0.9)) + 1.0
    months = np.linspace(0.0, end, _STEPS)
    paid = _paid_by(*np.broadcast_arrays(when, amount(e, money)), months)
    low, middle, high = np.quantile(paid, (0.1, 0.5, 0.9), axis=0)
    saved = amount(e, float(np.median(e["savings"])))
    purses = [saved + amount(e, float(np.median(e[f"money_{name}"]))) * months for name in ("can", "should")]
    top = max(high[-1], *(min(line[-1], 1.6 * high[-1]) for line in purses)) * 1.3
    axes.set_ylim(0, top)
    calendar_axis(e, axes, end)
    axes.fill_between(
        months, low, high, step="post", facecolor=pale(PALETTE["orange"], 0.4), edgecolor=PALETTE["orange"], lw=0.8, zorder=1
    )
    axes.step(months, middle, where="post", color=PALETTE["red"], lw=2.2, zorder=3, label="bills, as the hands want it")
    for line, colour, style, words in zip(purses, (PALETTE["blue"], PALETTE["green"]), ("--", "-."), ("can", "should")):
        axes.plot(months, line, color=colour, ls=style, zorder=2, label=f"money there, of what you {words} spend")
    axes.set_ylabel(f"money, added up ({money_name(e)})")
    axes.legend(loc="upper left", frameon=False, borderaxespad=0.2, handlelength=2.6)
    one = purse_of(evaluation.central)
    if one.empty[0] < end:
        box = axes.bbox
        places = Places(axes, [(box.x0, box.y1 - _LEGEND[1], box.x0 + _LEGEND[0], box.y1)])
        for line in (middle, *purses):
            places.keep_off(months[::4], np.minimum(line[::4], top), radius=4)
        at = one.empty[0], min(saved + amount(e, float(np.median(e["money_can"]))) * one.empty[0], top)
        axes.plot(*[[v] for v in at], "D", ms=10, color=PALETTE["red"], markeredgecolor="white", markeredgewidth=1.5, zorder=6)
        places.keep_off(*at, radius=9)
        places.put(*at, f"empty in {month_name(e, one.empty[0])}", gap=12, weight="bold", bbox=on_white(1.5), zorder=7)
    axes.grid(axis="y")
