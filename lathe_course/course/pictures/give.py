"""Chapter 08: the budget of give, link by link."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ...design.evaluation import Evaluation
from ...units import Compliance, Length
from .axes import inside, label, middle, shown, whiskers
from .register import NothingToDraw, picture
from .style import HATCH, INK, PALETTE, filled

_GIVE, _UM = Compliance(), Length("µm")
#: name in the chain -> words, and whether it is worked out or judged
LINKS = {
    "shaft_compliance": ("spindle shaft", True),
    "bearing_compliance": ("bearings", True),
    "chuck_give": ("nose and chuck", False),
    "headstock_give": ("headstock", False),
    "bed_compliance": ("bed", True),
    "saddle_give": ("saddle", False),
    "cross_slide_give": ("cross-slide", False),
    "top_give": ("", False),
    "toolpost_give": ("toolpost", False),
    "shank_compliance": ("tool shank", True),
    "holding_extra": ("work", True),
}


def _links(e: Evaluation) -> list[tuple[str, str, bool, float]]:
    """Name, words, worked out or judged, and give, the softest first."""
    found = [(name, words or e["top_of_slide"], modelled, middle(e, name)) for name, (words, modelled) in LINKS.items()]
    impossible = [words for _, words, _, give in found if not np.isfinite(give)]
    if impossible:
        raise NothingToDraw(
            f"As it stands there can be no {' and no '.join(impossible)} like this; "
            f"look at the bore, the walls and the width of the bed."
        )
    return sorted(found, key=lambda link: -link[3])


def _words(e: Evaluation) -> str:
    links = _links(e)
    whole = sum(give for *_, give in links)
    first = ", ".join(f"{words} {shown(e, give, _GIVE)} ({give / whole:.0%})" for _, words, _, give in links[:4])
    sure = e.central  # the force as the tables tell it: the bars may be drawn, the axis is not
    force = middle(sure, "rough_radial_force")
    return (
        f"Give of every link between work and tool, softest first: {first}, then smaller ones. Together {shown(e, whole, _GIVE)}, "
        f"which the radial force of the roughing cut, {sure.shown('rough_radial_force')}, turns into {shown(e, whole * force, _UM)}."
    )


@picture("Where the give between work and tool comes from", _words, height=4.8, panels=((0.195, 0.135, 0.755, 0.715),))
def give_budget(e: Evaluation, axes: Axes) -> None:
    """A bar for each link, with spread if there are draws, and its share."""
    links = _links(e)
    whole = sum(give for *_, give in links)
    rows = np.arange(len(links))[::-1]
    ends = [whiskers(e, name) for name, *_ in links]
    top = max(max(inside(e, high, _GIVE), inside(e, give, _GIVE)) for (_, _, high), (*_, give) in zip(ends, links))
    axes.set_xlim(0, 1.16 * top)
    axes.set_ylim(-0.6, len(links) - 0.4)
    paint = {True: filled(PALETTE["blue"]), False: filled(PALETTE["orange"], HATCH["judged"])}
    for modelled, painted in paint.items():  # all bars of a kind in one go: each go costs as much as ten bars
        bars = [(row, inside(e, give, _GIVE)) for row, (_, _, kind, give) in zip(rows, links) if kind == modelled]
        axes.barh(*zip(*bars), 0.72, **painted)
    for row, (*_, give), (low, _, high) in zip(rows, links, ends):
        at = inside(e, max(give, high), _GIVE)
        if high > low:
            axes.plot([inside(e, low, _GIVE), inside(e, high, _GIVE)], [row, row], "|-", color=INK, lw=1.6, ms=9)
        axes.annotate(
            f"{give / whole:.0%}" if give > 0.005 * whole else "<1%",
            (at, row),
            xytext=(6, 0),
            textcoords="offset points",
            ha="left",
            va="center",
            weight="bold",
        )
    axes.set_yticks(rows, [words for _, words, *_ in links])
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel(f"{label('give', _GIVE, e)}; per cent: of machine and work together", labelpad=2)
    axes.locator_params(axis="x", nbins=7)
    sure = e.central
    force = middle(sure, "rough_radial_force")
    ratio = inside(e, force, _UM) / inside(e, 1.0, _GIVE)
    second = axes.secondary_xaxis("top", functions=(lambda x: x * ratio, lambda x: x / ratio))
    second.set_xlabel(
        label(f"under {sure.shown('rough_radial_force')}, the radial force of the roughing cut", _UM, e), labelpad=5
    )
    second.locator_params(axis="x", nbins=7)
    for modelled, y, words in ((True, 0.145, "worked out"), (False, 0.06, "judged from practice")):
        axes.barh(y, 0.05, 0.055, left=0.60, transform=axes.transAxes, **paint[modelled])
        axes.text(0.67, y, words, transform=axes.transAxes, ha="left", va="center")
