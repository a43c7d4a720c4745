"""Chapters 01 and 02: months by hours and by money, and what size alone decides."""
from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.evaluation import Evaluation, evaluate
from ...machine.cutting_speeds import preferred
from ...ranges import Range
from ...units import Length, Mass, Money, Months
from ..style import INK, PALE, PALETTE, filled, pale
from .axes import inside, label, likely, middle, shown
from .register import picture

_MM, _KG, _EUR, _MONTHS = Length("mm"), Mass("kg"), Money(), Months()


# --- hours and money ----------------------------------------------------------------------------------
def _months(e: Evaluation) -> dict[tuple[str, str], Any]:
    """Months by ('can' or 'should', 'hours' or 'money'), numbers or arrays over the draws."""
    return {(mood, thing): np.asarray(e[f"estimated_{thing}"]) / e[there]
            for mood, there_all in (("can", ("useful_hours", "money_can")), ("should", ("useful_hours_should", "money_should")))
            for thing, there in zip(("hours", "money"), there_all)}


def _ends(e: Evaluation) -> dict[tuple[str, str], tuple[float, float, float]]:
    """Low end, likely figure and high end of each: the likely one is what the findings speak of."""
    low_high = {key: np.quantile(np.atleast_1d(value), (0.1, 0.9)) for key, value in _months(e).items()}
    return {key: (float(low_high[key][0]), float(value), float(low_high[key][1])) for key, value in _months(e.central).items()}


def _hours_words(e: Evaluation) -> str:
    ends = _ends(e)
    told = []
    for mood in ("can", "should"):
        hours, money = ends[mood, "hours"], ends[mood, "money"]
        rules = "hours" if hours[1] >= money[1] else "money"
        told.append(f"At what you {mood} spend the hours last {units.number(hours[1], 2)} months and the money {units.number(money[1], 2)}, so {rules} decide"
                    f"{'s' if rules == 'money' else ''}")
    return f"Months the build lasts, by hours and by money. {'. '.join(told)}. Your patience ends after {e.shown('patience')}."


@picture("How many months the hours and the money ask for", _hours_words, panels=((0.155, 0.15, 0.82, 0.74),))
def hours_and_money(e: Evaluation, axes: Axes) -> None:
    """Four bars, by hours and by money, as you can and as you should, against patience."""
    patience = middle(e, "patience")
    ends = _ends(e)
    axes.set_xlim(0, 1.28 * max(patience, max(high for *_, high in ends.values())))
    axes.set_ylim(-0.75, 5.2)
    rows = {("can", "hours"): 4.0, ("can", "money"): 3.0, ("should", "hours"): 1.0, ("should", "money"): 0.0}
    there = {"can": ("useful_hours", "money_can"), "should": ("useful_hours_should", "money_should")}
    for (mood, thing), y in rows.items():
        low, mid, high = ends[mood, thing]
        colour, hatch = (PALETTE["blue"], "") if thing == "hours" else (PALETTE["orange"], "//")
        axes.barh(y, mid, 0.74, **filled(colour, hatch))
        if high > low:
            axes.plot([low, high], [y, y], "|-", color=INK, lw=1.8, ms=11)
        other = ends[mood, "money" if thing == "hours" else "hours"][1]
        axes.annotate(f"{units.number(mid, 2)}{', decides' if mid >= other else ''}", (max(mid, high), y), xytext=(8, 0), textcoords="offset points", ha="left",
                      va="center", weight="bold" if mid >= other else "normal", bbox={"facecolor": "white", "edgecolor": "none", "pad": 1})
    for mood, y in (("can", 4.72), ("should", 1.72)):
        axes.text(0, y, f" what you {mood} spend: {e.shown(there[mood][0], 2)} useful, {e.shown(there[mood][1])}", ha="left", va="center", color=INK,
                  bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.5}, zorder=4)
    axes.axvline(patience, color=PALETTE["red"], ls="--", lw=2, zorder=1)
    axes.annotate(f"patience {e.shown('patience')}", (patience, 1), xycoords=("data", "axes fraction"), xytext=(0, 6), textcoords="offset points",
                  ha="center" if patience < 0.8 * axes.get_xlim()[1] else "right", va="bottom", color=INK, annotation_clip=False)
    axes.set_yticks(list(rows.values()), [f"by {thing}" for _, thing in rows])
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel("months until it runs" + ("; line: middle four fifths of the draws" if e.draws else ""))


# --- size against all -----------------------------------------------------------------------------------
_SHOWN = (("estimated_mass", "mass", _KG), ("months_can", "months, as you can", _MONTHS), ("estimated_money", "money", _EUR),
          ("used_price", "used, to buy", _EUR))


def _sweep(e: Evaluation) -> tuple[np.ndarray, Evaluation]:
    """Centre heights, and the design worked out over them with likely figures; other lengths as decided."""
    decision = e.chain.decisions["centre_height"]
    own = middle(e, "centre_height")
    heights = np.linspace(min(decision.low * decision.kind.factor, own), max(decision.high * decision.kind.factor, own), 46)
    return heights, evaluate(e.design.trying(centre_height=heights))


def _range(e: Evaluation, swept: Evaluation, name: str) -> Range | None:
    """Low, likely and high of a rough figure over the sweep; None for one that is certain or the learner's own."""
    if name == "months_can":
        hours, money = (_range(e, swept, part) for part in ("estimated_hours", "estimated_money"))
        if hours is None or money is None:
            return None
        return Range(*(np.maximum(h / swept["useful_hours"], m / swept["money_can"]) for h, m in zip(hours, money)))
    if name in e.design.figures:
        return None
    figure = e.chain.figures[name]
    found = figure.standard(*(swept[name] for name in figure.inputs))
    return found if isinstance(found, Range) else None


def _all_words(e: Evaluation) -> str:
    own = likely(e)
    told = ", ".join(f"{words} {shown(e, own[name], kind, 2)}" for name, words, kind in _SHOWN)
    return (f"Four small charts over centre height, with {e.shown('between_centres')} between centres: mass, months, money and the price of a used lathe. "
            f"At your {e.shown('centre_height')}: {told}. Mass grows fastest. These are rough figures of the trade, with their ranges shaded.")


@picture("What the centre height alone decides", _all_words, height=5.0,
         panels=((0.10, 0.60, 0.37, 0.33), (0.60, 0.60, 0.37, 0.33), (0.10, 0.13, 0.37, 0.33), (0.60, 0.13, 0.37, 0.33)))
def size_against_all(e: Evaluation, axes: tuple[Axes, ...]) -> None:
    """Mass, months, money and used price over centre height, preferred sizes on the axis."""
    heights, swept = _sweep(e)
    own = likely(e)
    x = inside(e, heights, _MM)
    sizes = np.unique(preferred(np.geomspace(x[0], x[-1], 200), "R10"))
    sizes = sizes[(sizes >= x[0] * 0.999) & (sizes <= x[-1] * 1.001)]
    for index, (one, (name, words, kind)) in enumerate(zip(axes, _SHOWN)):
        curve = inside(e, np.broadcast_to(swept[name], heights.shape), kind)
        found = _range(e, swept, name)
        if found is not None:
            one.fill_between(x, inside(e, found.low, kind), inside(e, found.high, kind), facecolor=pale(PALETTE["blue"], 0.2), lw=0)
        one.plot(x, curve, color=PALETTE["blue"])
        at, value = inside(e, own["centre_height"], _MM), inside(e, own[name], kind)
        one.plot([at], [value], "o", color=INK, markeredgecolor="white", zorder=4)
        one.plot([at, at], [0, value], ls=":", lw=1.5, color=INK)
        one.set_xlim(x[0], x[-1])
        one.set_ylim(0, 1.12 * max(curve.max(), inside(e, found.high.max(), kind) if found is not None else 0.0))
        unit = units.unit_text(kind, e.design.system)
        said = f"{words}: {units.number(value, 2)}" if kind is _MONTHS else f"{words} ({unit}): {units.number(value, 2)}"
        one.text(0, 1.06, said, transform=one.transAxes, ha="left", va="bottom", weight="bold")
        one.locator_params(axis="y", nbins=4)
        # lines and letters in place of ticks, which cost a millisecond each
        one.set_xticks([])
        one.vlines(sizes, 0, 1, transform=one.get_xaxis_transform(), color=PALE, lw=1, zorder=0)
        for size in sizes:
            one.text(size, -0.05, units.number(size), transform=one.get_xaxis_transform(), ha="center", va="top")
        if index >= 2:
            one.set_xlabel(label("centre height", _MM, e) + (", R10 sizes marked" if index == 2 else ""), labelpad=20)
