"""Chapters 01 and 02: months by hours and by money, and what the size costs."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.evaluation import Evaluation, evaluate
from ...machine.cutting_speeds import preferred
from ...units import LabourTime, Length, Mass, Money
from .axes import demand, inside, label, middle, shown
from .register import picture
from .style import INK, PALE, PALETTE, filled, on_white

_MM, _KG, _EUR, _HOURS = Length("mm"), Mass("kg"), Money(), LabourTime()


# --- hours and money ----------------------------------------------------------------------------------
#: what asks for months: hours alone, money alone, and all together on the calendar
_ASKS = ("hours", "money", "in all")


def _months(e: Evaluation) -> dict[tuple[str, str], Any]:
    """Months by ('can' or 'should', one of ``_ASKS``), numbers or arrays over the draws."""
    found = {}
    for mood, ending in (("can", ""), ("should", "_should")):
        found[mood, "hours"] = np.asarray(e["own_hours"]) / e[f"build_hours_{mood}"]
        found[mood, "money"] = np.maximum(np.asarray(e["cash_total"]) - e["savings"], 0.0) / e[f"money_{mood}"]
        found[mood, "in all"] = np.asarray(e[f"months_to_finish{ending}"])
    return found


def _ends(e: Evaluation) -> dict[tuple[str, str], tuple[float, float, float]]:
    """Low end, likely figure and high end of each: the likely one is what the findings speak of."""
    low_high = {key: np.quantile(np.atleast_1d(value), (0.1, 0.9), method="nearest") for key, value in _months(e).items()}
    return {key: (float(low_high[key][0]), float(value), float(low_high[key][1])) for key, value in _months(e.central).items()}


def _in_words(months: float) -> str:
    return units.number(months, 2) if np.isfinite(months) else "never"


def _hours_words(e: Evaluation) -> str:
    ends = _ends(e)
    told = []
    for mood in ("can", "should"):
        hours, money, in_all = (ends[mood, what][1] for what in _ASKS)
        done = f"it is done after {_in_words(in_all)} months" if np.isfinite(in_all) else "it is never done"
        told.append(
            f"At what you {mood} spend the hours alone take {_in_words(hours)} months and the money alone {_in_words(money)}; with orders, waits and months away {done}"
        )
    return f"Months the build lasts, by hours, by money and in all. {'. '.join(told)}. Your patience ends after {e.shown('patience')}."


@picture("How many months the hours and the money ask for", _hours_words, height=4.6, panels=((0.155, 0.13, 0.82, 0.78),))
def hours_and_money(e: Evaluation, axes: Axes) -> None:
    """Six bars, by hours, by money and in all, as you can and as you should, against patience."""
    patience = middle(e, "patience")
    ends = _ends(e)
    finite = [high for *_, high in ends.values() if np.isfinite(high)]
    if not finite:
        demand(e, np.nan)
    axes.set_xlim(0, 1.28 * max(patience, *finite))
    axes.set_ylim(-0.75, 7.4)
    rows = {(mood, what): first - place for mood, first in (("can", 6.0), ("should", 2.0)) for place, what in enumerate(_ASKS)}
    look = {"hours": (PALETTE["blue"], ""), "money": (PALETTE["orange"], "//"), "in all": (PALETTE["green"], "..")}
    for (mood, what), y in rows.items():
        low, mid, high = ends[mood, what]
        colour, hatch = look[what]
        if not np.isfinite(mid):
            axes.text(0, y, " never", ha="left", va="center", weight="bold")
            continue
        axes.barh(y, mid, 0.74, **filled(colour, hatch))
        if np.isfinite(high) and high > low:
            axes.plot([low, high], [y, y], "|-", color=INK, lw=1.8, ms=11)
        axes.annotate(
            _in_words(mid),
            (max(mid, high) if np.isfinite(high) else mid, y),
            xytext=(8, 0),
            textcoords="offset points",
            ha="left",
            va="center",
            weight="bold" if what == "in all" else "normal",
            bbox=on_white(1),
        )
    for mood, y in (("can", 6.72), ("should", 2.72)):
        axes.text(
            0,
            y,
            f" what you {mood} spend: {e.shown(f'build_hours_{mood}', 2)} that reach it, {e.shown(f'money_{mood}')}",
            ha="left",
            va="center",
            color=INK,
            bbox=on_white(0.5),
            zorder=4,
        )
    axes.axvline(patience, color=PALETTE["red"], ls="--", lw=2, zorder=1)
    axes.annotate(
        f"patience {e.shown('patience')}",
        (patience, 1),
        xycoords=("data", "axes fraction"),
        xytext=(0, 6),
        textcoords="offset points",
        ha="center" if patience < 0.8 * axes.get_xlim()[1] else "right",
        va="bottom",
        color=INK,
        annotation_clip=False,
    )
    axes.set_yticks(list(rows.values()), [what if what == "in all" else f"by {what}" for _, what in rows])
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel("months until it is done" + ("; line: middle four fifths of the draws" if e.draws else ""))


# --- size against all -----------------------------------------------------------------------------------
_SHOWN = (
    ("parts_mass", "mass", _KG),
    ("own_hours", "own hours", _HOURS),
    ("cash_total", "money", _EUR),
    ("used_price", "used, to buy", _EUR),
)
_HEIGHTS = 9  # each takes an evaluation of its own, for other ways may be open there


def _sweep(e: Evaluation) -> tuple[np.ndarray, dict[str, np.ndarray]]:
    """Centre heights, and what is shown over them with middling figures; all else as it is."""
    decision = e.chain.decisions["centre_height"]
    own = middle(e, "centre_height")
    heights = np.linspace(min(decision.low * decision.kind.factor, own), max(decision.high * decision.kind.factor, own), _HEIGHTS)
    names = [name for name, *_ in _SHOWN]
    tried = [evaluate(e.design.trying(centre_height=height), earlier=e.central, wanted=names) for height in heights.tolist()]
    return heights, {name: np.array([one[name] for one in tried], float) for name in names}


def _all_words(e: Evaluation) -> str:
    own = e.central
    told = ", ".join(f"{words} {shown(e, own[name], kind, 2)}" for name, words, kind in _SHOWN)
    return (
        f"Four small charts over centre height, with {e.shown('between_centres')} between centres: mass, own hours, money and the price of a used lathe. "
        f"At your {e.shown('centre_height')}: {told}. Mass grows fastest. Mass, hours and money are added up from your parts and their ways."
    )


@picture(
    "What every millimetre of centre height costs",
    _all_words,
    height=5.0,
    panels=((0.10, 0.60, 0.37, 0.33), (0.60, 0.60, 0.37, 0.33), (0.10, 0.13, 0.37, 0.33), (0.60, 0.13, 0.37, 0.33)),
)
def size_against_all(e: Evaluation, axes: tuple[Axes, ...]) -> None:
    """Mass, hours, money and used price over centre height, preferred sizes on the axis."""
    heights, swept = _sweep(e)
    own = e.central
    demand(e, *(own[name] for name, *_ in _SHOWN))
    x = inside(e, heights, _MM)
    sizes = np.unique(preferred(np.geomspace(x[0], x[-1], 200), "R10"))
    sizes = sizes[(sizes >= x[0] * 0.999) & (sizes <= x[-1] * 1.001)]
    at = inside(e, own["centre_height"], _MM)
    for index, (one, (name, words, kind)) in enumerate(zip(axes, _SHOWN)):
        curve, value = inside(e, swept[name], kind), inside(e, own[name], kind)
        one.plot(x, curve, color=PALETTE["blue"])
        one.plot([at], [value], "o", color=INK, markeredgecolor="white", zorder=4)
        one.plot([at, at], [0, value], ls=":", lw=1.5, color=INK)
        one.set_xlim(x[0], x[-1])
        one.set_ylim(0, 1.12 * max(*curve[np.isfinite(curve)], value, 1e-9))
        unit = units.unit_text(kind, e.design.system)
        one.text(
            0, 1.06, f"{words} ({unit}): {units.number(value, 2)}", transform=one.transAxes, ha="left", va="bottom", weight="bold"
        )
        one.locator_params(axis="y", nbins=4)
        # lines and letters in place of ticks, which cost a millisecond each
        one.set_xticks([])
        one.vlines(sizes, 0, 1, transform=one.get_xaxis_transform(), color=PALE, lw=1, zorder=0)
        for size in sizes:
            one.text(size, -0.05, units.number(size), transform=one.get_xaxis_transform(), ha="center", va="top")
        if index >= 2:
            one.set_xlabel(label("centre height", _MM, e) + (", preferred sizes marked" if index == 2 else ""), labelpad=20)
