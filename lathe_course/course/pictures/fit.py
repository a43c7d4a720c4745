"""Chapter 08: readings of a dial under load, and the line through them."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.chain.readings import Readings
from ...design.chapters.measured import INVENTED, fit_of
from ...design.evaluation import Evaluation
from ...machine.measured import GiveFit
from ...units import Compliance, Force, InputProblem, Length
from .axes import inside, label, shown
from .register import NothingToDraw, picture
from .style import INK, MUTED, PALETTE

_N, _UM, _GIVE = Force(), Length("µm"), Compliance()
WHICH = ("yours", "invented")


def chosen_rows(e: Evaluation, readings: str) -> Readings:
    """The learner's own readings of stiffness, or those invented for the course."""
    if readings not in WHICH:
        raise InputProblem.about("readings", f"readings are {' or '.join(map(repr, WHICH))}, not {readings!r}.")
    return e["stiffness_readings"] if readings == "yours" else INVENTED


def _fit(e: Evaluation, readings: str) -> tuple[Readings, GiveFit]:
    rows = chosen_rows(e, readings)
    try:
        return rows, fit_of(rows)
    except InputProblem as problem:
        raise NothingToDraw(str(problem)[0].upper() + str(problem)[1:]) from None


def _words(e: Evaluation, readings: str = "invented") -> str:
    rows, fit = _fit(e, readings)
    low, _, high = fit.range
    return (
        f"{'Invented readings' if readings == 'invented' else 'Your readings'}: {len(rows)} points of dial over load. The line through "
        f"{int(fit.used.sum())} of them rises {shown(e, fit.give, _GIVE)}, sure to between {shown(e, low, _GIVE)} and {shown(e, high, _GIVE)}; "
        f"worked out from the links it would be {e.central.shown('predicted_compliance')}. {' '.join(fit.remarks(e.design.system))}"
    ).strip()


@picture("Dial over load, and the line through the readings", _words, height=4.8, panels=((0.105, 0.15, 0.87, 0.81),))
def give_fit(e: Evaluation, axes: Axes, readings: str = "invented") -> None:
    """Readings going up and coming down, those set aside, the fitted lines, and the line of the prediction."""
    rows, fit = _fit(e, readings)
    force, sign = rows.column("force"), -1.0 if fit.turned else 1.0
    dial, off = sign * rows.column("dial"), rows.column("going") == "unloading"
    x, y = inside(e, force, _N), inside(e, dial, _UM)
    wide, tall = max(np.ptp(x), 1e-9), max(np.ptp(y), 1e-9)
    axes.set_xlim(x.min() - 0.05 * wide, x.max() + 0.06 * wide)
    axes.set_ylim(min(y.min(), 0) - 0.06 * tall, y.max() + 0.30 * tall)
    ends = np.array([force.min(), force.max()])
    start = fit.heights[0] if np.isfinite(fit.heights[0]) else fit.heights[1]
    for height, style, colour in zip(fit.heights, ("-", "--"), (PALETTE["blue"], PALETTE["orange"])):
        if np.isfinite(height):
            axes.plot(inside(e, ends, _N), inside(e, height + fit.give * ends, _UM), color=colour, ls=style, lw=2.5)
    predicted = e.central["predicted_compliance"]
    if np.isfinite(predicted):
        axes.plot(inside(e, ends, _N), inside(e, start + predicted * ends, _UM), color=MUTED, ls=":", lw=2)
    for way, marker, colour, words in (
        (False, "^", PALETTE["blue"], "load put on"),
        (True, "v", PALETTE["orange"], "load taken off"),
    ):
        here = (off == way) & fit.used
        axes.plot(x[here], y[here], marker, color=colour, ms=9, markeredgecolor="white", zorder=5, clip_on=False, label=words)
    aside = ~fit.used
    if aside.any():
        axes.plot(
            x[aside], y[aside], "x", color=PALETTE["red"], ms=11, markeredgewidth=3, zorder=6, clip_on=False, label="set aside"
        )
    handles, names = axes.get_legend_handles_labels()
    axes.legend(handles, names, loc="lower right", frameon=False, handletextpad=0.3, borderaxespad=0.2)
    low, likely_give, high = fit.range
    unit = units.unit_text(_GIVE, e.design.system)
    low, likely_give, high = (units.number(inside(e, one, _GIVE)) for one in (low, likely_give, high))
    said = (
        f"{'invented readings' if readings == 'invented' else 'your readings'}: slope {likely_give} {unit}, sure to {low} … {high}\n"
        f"dotted: worked out from the links, {e.central.shown('predicted_compliance')}"
    )
    axes.text(0.012, 0.98, said, transform=axes.transAxes, ha="left", va="top", color=INK)
    axes.set_xlabel(label("pull", _N, e), labelpad=1)
    axes.set_ylabel(label("dial", _UM, e))
    axes.locator_params(axis="both", nbins=7)
