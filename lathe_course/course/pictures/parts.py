"""Chapter 10: money against own hours, over all mixes of ways of which none is better in both."""

from __future__ import annotations

from matplotlib.axes import Axes

from ...design.asked.mixes import choices_here, frontier_here, mix_here, mixes_here
from ...design.evaluation import Evaluation
from ...planning.mix import Mix
from ...units import InputProblem
from ..shown.money import amount, euros, money_name
from .register import NothingToDraw, picture
from .style import INK, MARKERS, MUTED, PALETTE

_YOURS = "yours"


def _mixes(e: Evaluation, step: float) -> tuple[tuple[Mix, ...], dict[str, Mix]]:
    """The frontier, and the mixes that are named; NothingToDraw where some part cannot be had."""
    try:
        choices = choices_here(e)
    except InputProblem as problem:
        raise NothingToDraw(f"There is no mix to draw: {problem}") from None
    own = mix_here(e, choices)
    return frontier_here(e, step), ({_YOURS: own} if own else {}) | mixes_here(e, choices)


def _words(e: Evaluation, step: float = 10.0) -> str:
    e = e.central
    line, named = _mixes(e, step)
    told = "; ".join(f"{name}: {euros(e, mix.cost)} and {mix.hours:.0f} h" for name, mix in named.items())
    return (
        f"Money in the end against own hours for {len(line)} mixes of ways, from {euros(e, line[0].cost)} and {line[0].hours:.0f} h to {euros(e, line[-1].cost)}"
        f" and {line[-1].hours:.0f} h; none of them is beaten in both. {told}."
    )


@picture("What an hour less costs in money", _words, height=5.2, panels=((0.115, 0.125, 0.865, 0.855),))
def money_against_hours(e: Evaluation, axes: Axes, step: float = 10.0) -> None:
    """Each proven mix as a point, own hours to the right, money upward; your mix and the best of each wish marked."""
    e = e.central
    line, named = _mixes(e, step)
    hours, money = [mix.hours for mix in line], [amount(e, mix.cost) for mix in line]
    axes.step(hours, money, where="post", color=MUTED, lw=1.2, zorder=1)
    axes.plot(hours, money, ls="none", marker=".", color=MUTED, ms=7, zorder=2)
    colours = (INK, *(PALETTE[name] for name in ("blue", "red", "green", "purple")))
    for (name, mix), marker, colour in zip(named.items(), MARKERS, colours if _YOURS in named else colours[1:]):
        axes.plot(
            mix.hours,
            amount(e, mix.cost),
            ls="none",
            marker=marker,
            ms=12 if name == _YOURS else 10,
            mfc="none" if name != _YOURS else colour,
            mec=colour,
            mew=2.2,
            label=f"{name}: {euros(e, mix.cost)}, {mix.hours:.0f} h",
            zorder=3,
        )
    span = max(money) - min(money) or 1.0
    axes.set_ylim(min(money) - 0.08 * span, max(money) + 0.06 * span)
    axes.set_xlabel("own hours (h)")
    axes.set_ylabel(f"money in the end ({money_name(e)})")
    axes.grid(True)
    axes.legend(
        loc="upper right",
        frameon=True,
        facecolor="white",
        edgecolor="none",
        framealpha=1.0,
        title="every point: no mix beats it in both",
    )
