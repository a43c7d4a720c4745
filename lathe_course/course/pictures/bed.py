"""Chapter 07: the bed's section and what it gives, and the forms twisted side by side."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.asked.bed_choice import Rival, rivals
from ...design.evaluation import Evaluation
from ...units import Angle, Compliance, Force, Length
from .axes import inside, label, middle, shown, wrapped
from .bed_shapes import paint, pieces
from .drawing import dimension, round_down, to_scale
from .register import NothingToDraw, picture
from .style import INK, LINES, MUTED, PALETTE, filled

_MM, _UM, _N, _GIVE, _TWIST = Length("mm"), Length("µm"), Force(), Compliance(), Angle("mrad")
#: the worst of the twisted sections is turned by this, radians
_TURN = 0.4
#: points kept above and below each of them
_NAMES, _FIGURE = 36.0, 28.0


def _sound(e: Evaluation) -> None:
    if not np.isfinite(middle(e, "bed_compliance")):
        raise NothingToDraw(
            f"A bed of the form {e['bed_form']} {e.shown('bed_width')} wide, {e.shown('bed_height')} high, with a wall of {e.shown('bed_wall')} cannot be made; "
            "take a thinner wall, or bars that leave room between them."
        )


def _shapes(e: Evaluation):
    return pieces(e["bed_form"], *(middle(e, name) for name in ("bed_width", "bed_height", "bed_wall", "way_height")))


# --- section and shares of give -------------------------------------------------------------------------
def _shares(e: Evaluation) -> dict[str, dict[str, float]]:
    """Give in m/N, sideways and up and down, by what causes it; together they are what the chain says."""
    share = middle(e, "bed_joint_share")
    twist = 1 / middle(e, "bed_turning_stiffness")
    sideways, upright = middle(e, "bed_compliance"), middle(e, "bed_upright_compliance")
    bend_up = 1 / middle(e, "bed_upright_stiffness")
    ideal, ideal_up = sideways * share, upright * share
    return {
        "sideways": {"twist": twist, "bending and shear": max(ideal - twist, 0.0), "joints and slots": sideways - ideal},
        "up and down": {"twist": 0.0, "bending and shear": max(ideal_up, bend_up), "joints and slots": upright - ideal_up},
    }


def _give_words(e: Evaluation) -> str:
    _sound(e)
    twist = _shares(e)["sideways"]["twist"]
    return (
        f"Section of the bed, of the form {e['bed_form']}, with the tool {shown(e, middle(e, 'twist_lever'), _MM)} above the line about which the bed twists. "
        f"It gives {e.shown('bed_compliance')} sideways, of which twist alone makes {shown(e, twist, _GIVE)}, and {e.shown('bed_upright_compliance')} up and down. "
        f"It weighs {e.shown('bed_mass')}."
    )


@picture(
    "The bed seen from its end, and what it gives at the tool",
    _give_words,
    panels=((0.01, 0.02, 0.40, 0.96), (0.545, 0.16, 0.44, 0.80)),
)
def bed_give(e: Evaluation, axes: tuple[Axes, Axes]) -> None:
    """The section with tool, push and line of twist; beside it the give by its causes."""
    e = e.central
    _sound(e)
    _section(e, axes[0])
    _causes(e, axes[1])


def _section(e: Evaluation, axes: Axes) -> None:
    width, high, arm = (middle(e, name) for name in ("bed_width", "centre_height", "twist_lever"))
    depth, line = middle(e, "bed_depth"), high - arm
    side = max(width / 2, 0.45 * high)
    per_point = to_scale(axes, (-side, min(-depth, line)), (side, high), (10, 24, 66, 24))
    paint(axes, _shapes(e))
    axes.plot([0, 0], [line, high], color=MUTED, lw=1, ls=(0, (6, 3)))
    axes.plot([0], [high], "o", color=INK)
    axes.annotate(
        "",
        (0, high),
        (-0.42 * high - 12 * per_point, high),
        arrowprops={"arrowstyle": "-|>", "color": PALETTE["red"], "lw": 3, "shrinkA": 0, "shrinkB": 4},
    )
    axes.text(0, high + 8 * per_point, "push at the tool", ha="center", va="bottom")
    axes.plot([0], [line], "x", color=PALETTE["red"], ms=11, mew=2.5, zorder=6)
    dimension(axes, (side + 12 * per_point, line), (side + 12 * per_point, high), f"arm\n{e.shown('twist_lever')}", per_point)
    axes.text(0, min(-depth, line) - 9 * per_point, "✕ line of twist", ha="center", va="top")


def _causes(e: Evaluation, axes: Axes) -> None:
    shares = _shares(e)
    totals = {way: inside(e, sum(parts.values()), _GIVE) for way, parts in shares.items()}
    axes.set_xlim(0, 1.28 * max(totals.values()))
    axes.set_ylim(-0.75, 2.55)
    for y, (way, parts) in zip((1.1, 0.0), shares.items()):
        start = 0.0
        for (name, give), (colour, _), hatch in zip(parts.items(), LINES, ("xx", "", "//")):
            size = inside(e, give, _GIVE)
            axes.barh(y, size, 0.6, left=start, **filled(colour, hatch))
            start += size
        axes.annotate(
            units.number(start), (start, y), xytext=(6, 0), textcoords="offset points", ha="left", va="center", weight="bold"
        )
    axes.set_yticks([1.1, 0.0], ["side-\nways", "up and\ndown"])
    axes.tick_params(axis="y", length=0)
    axes.locator_params(axis="x", nbins=5 if axes.get_xlim()[1] < 1e4 else 3)  # long figures need more room each
    axes.set_xlabel(label("give at the tool", _GIVE, e))
    top = 2.42
    for name, (colour, _), hatch in zip(shares["sideways"], LINES, ("xx", "", "//")):
        axes.barh(top, 0.07 * axes.get_xlim()[1], 0.2, left=0.02 * axes.get_xlim()[1], **filled(colour, hatch))
        axes.text(0.12 * axes.get_xlim()[1], top, name, ha="left", va="center")
        top -= 0.34


# --- forms side by side, twisted --------------------------------------------------------------------------
def _twist(e: Evaluation) -> float:
    """How far the bed turns under the whole cutting force pushed sideways at the tool, radians."""
    return middle(e, "cutting_force") / (middle(e, "bed_turning_stiffness") * middle(e, "twist_lever"))


def _alike(e: Evaluation, alike: str) -> list[Rival]:
    _sound(e)
    return rivals(e.central, alike)


def _twisted_words(e: Evaluation, alike: str = "weight") -> str:
    found = _alike(e, alike)
    told = "; ".join(
        f"{one.form} {shown(e, _twist(one.evaluation), _TWIST, 2)}" if one.evaluation else f"{one.form}: {one.why_not}"
        for one in found
    )
    what = e.shown("bed_mass") if alike == "weight" else e.shown("bed_price")
    return f"Beds of every form at equal {alike}, {what} as yours, and how far each turns under the cut of {e.shown('cutting_force')} pushed sideways: {told}."


@picture("Beds of equal weight or price, twisted by the same cut", _twisted_words, height=7.0, panels=((0.01, 0.01, 0.98, 0.98),))
def beds_twisted(e: Evaluation, axes: Axes, alike: str = "weight") -> None:
    """Every form made alike to the own bed, drawn to one scale and turned by one exaggeration."""
    found = _alike(e, alike)
    wide, tall = axes.bbox.width, axes.bbox.height
    axes.set_xlim(0, wide)
    axes.set_ylim(0, tall)
    axes.set_axis_off()
    columns, rows = 4, 3
    cell, row = wide / columns, tall / rows
    made = [one.evaluation for one in found if one.evaluation]
    times = round_down(_TURN / max(_twist(one) for one in made))
    reach = max(middle(one, "bed_depth") for one in made), max(middle(one, "bed_width") for one in made)
    scale = min(
        (row - _NAMES - _FIGURE - 6) / (reach[0] + np.sin(_TURN) * reach[1]),
        (cell - 14) / (np.cos(_TURN) * reach[1] + np.sin(_TURN) * reach[0]),
    )
    for number, one in enumerate(found):
        left, top = (number % columns) * cell, tall - (number // columns) * row
        _one_bed(e, axes, one, (left + cell / 2, top), (cell, row), scale, times)
    left, top = (columns - 1) * cell, tall - (rows - 1) * row
    what = e.shown("bed_mass") if alike == "weight" else e.shown("bed_price")
    words = f"each {what}; twist drawn {times:,.0f} times too large".replace(",", " ")
    axes.text(left + cell / 2, top - row / 2, wrapped(words, cell - 16), ha="center", va="center", color=MUTED)


def _one_bed(
    e: Evaluation, axes: Axes, one: Rival, place: tuple[float, float], size: tuple[float, float], scale: float, times: float
) -> None:
    x, top = place
    cell, row = size
    weight = "bold" if one.own else "normal"
    axes.text(
        x,
        top - 5,
        wrapped(f"{one.form}, yours" if one.own else one.form, cell - 8, weight=weight),
        ha="center",
        va="top",
        weight=weight,
        linespacing=1.0,
    )
    if one.evaluation is None:
        axes.text(x, top - 0.55 * row, wrapped(one.why_not, cell - 20), ha="center", va="center", color=MUTED)
        return
    bed = one.evaluation
    depth = middle(bed, "bed_depth")
    middle_y = top - _NAMES - (row - _NAMES - _FIGURE) / 2
    shapes, at = _shapes(bed), (x, middle_y + scale * depth / 2)
    paint(axes, shapes, at, scale, facecolor="none", hatch="", edgecolor=MUTED, linestyle=":")
    about = float(np.clip(middle(bed, "centre_height") - middle(bed, "twist_lever"), -depth, 0.0))  # kept within the drawing
    paint(axes, shapes, at, scale, turned=-min(times * _twist(bed), 1.2 * _TURN), about=about)
    axes.text(x, top - row + 11, shown(e, _twist(bed), _TWIST, 2), ha="center", va="bottom", weight=weight)
