"""Chapter 13: what each partner puts in, and what belongs to each."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ...design.evaluation import Evaluation
from ...units import HoursRate, MoneyRate, Ratio
from .axes import shortened, shown
from .register import picture
from .style import HATCH, PALETTE, filled, on_white

_HOURS, _MONEY, _SHARE = HoursRate("h/month"), MoneyRate("EUR/month"), Ratio("%")
_COLOURS = ("blue", "orange", "green", "purple", "sky", "red")
_HATCHES = ("", HATCH["judged"], HATCH["no"], "..", "\\\\", "++")
_ALONE = "all who build"
#: names written beside the bars at most; more partners than these keep their numbers
_NAMED = 6


def _rows(e: Evaluation) -> tuple[list[str], dict[str, np.ndarray]]:
    """Names, and the hours, money and shares of each."""
    kept = e["partners_readings"]
    if not kept:
        return [_ALONE], {
            "hours": np.array([float(e["hours_counted_on"])]),
            "money": np.array([float(e["money_can"])]),
            "what is put in": np.array([1.0]),
        }
    return [row["name"] for row in kept], {
        "hours": kept.column("hours"),
        "money": kept.column("money"),
        "what is put in": np.atleast_1d(e["partner_shares"]),
    }


def _words(e: Evaluation) -> str:
    e = e.central
    names, sums = _rows(e)
    each = "; ".join(
        f"{name} {shown(e, hours, _HOURS)}, {shown(e, money, _MONEY)}, {shown(e, share, _SHARE, 2)}"
        for name, hours, money, share in zip(names, *sums.values())
    )
    return f"Hours and money of each who builds, and the share of what is put in: {each}."


@picture("What each who builds puts in, and the share that follows", _words, height=3.6, panels=((0.20, 0.36, 0.77, 0.60),))
def partner_shares(e: Evaluation, axes: Axes) -> None:
    """Three bars parted among the partners: hours, money, and what is put in when hours count at the agreed rate."""
    e = e.central
    names, sums = _rows(e)
    axes.set_xlim(0, 100)
    axes.set_ylim(2.6, -0.6)
    axes.set_axis_off()
    units = {"hours": _HOURS, "money": _MONEY, "what is put in": _SHARE}
    room = axes.bbox.width / 100
    for row, (what, values) in enumerate(sums.items()):
        axes.text(-1.5, row, what, ha="right", va="center", weight="bold" if row == 2 else "normal")
        total, start = float(values.sum()), 0.0
        for place, value in enumerate(values):
            wide = 100 * float(value) / total if total > 0 else 100 / len(values)
            axes.barh(row, wide, left=start, height=0.62, **filled(PALETTE[_COLOURS[place % 6]], _HATCHES[place % 6]))
            said = f"{place + 1}: {shown(e, value, units[what], 2)}"
            short = said if wide * room > 8.5 * len(said) + 8 else str(place + 1)
            if wide * room > 14:
                axes.text(start + wide / 2, row, short, ha="center", va="center", bbox=on_white(1.0))
            start += wide
    shown_names = [f"{place}: {name}" for place, name in enumerate(names[:_NAMED], 1)] + (
        [f"and {len(names) - _NAMED} more"] if len(names) > _NAMED else []
    )
    half = (len(shown_names) + 1) // 2
    for place, name in enumerate(shown_names):
        axes.text(
            -0.24 + 0.63 * (place // half),
            -0.12 - 0.13 * (place % half),
            shortened(name, 0.60 * axes.bbox.width),
            transform=axes.transAxes,
            ha="left",
            va="top",
        )
