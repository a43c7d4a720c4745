"""Chapter 09: the tailstock that a drill pushes back."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ...design.evaluation import Evaluation
from ...units import Force, Length
from .axes import inside, label, middle, shown
from .drawing import box, dimension, to_scale
from .register import picture
from .style import INK, MUTED, PALE, PALETTE, filled

_MM, _N = Length("mm"), Force()


def limits(e: Evaluation) -> dict[str, np.ndarray]:
    """Low, middle and high of the drill's thrust, and of the thrusts at which the tailstock slides and tips, N."""
    clamp, friction = np.asarray(e["clamp_force"]), np.asarray(e["clamp_friction"])
    arm = np.asarray(e["tailstock_base"]) / (2 * np.asarray(e["centre_height"]))
    told = {"the drill pushes": np.asarray(e["drilling_thrust"]), "slides back at": clamp * friction, "tips up at": clamp * arm}
    return {words: np.quantile(value, (0.1, 0.5, 0.9)) for words, value in told.items()}


def _words(e: Evaluation) -> str:
    thrusts = ", ".join(f"{words} {shown(e, float(middle_), _N)}" for words, (_, middle_, _) in limits(e).items())
    screws = f"{e.shown('clamp_screws')} screw" + ("" if middle(e, "clamp_screws") == 1 else "s")
    return (
        f"The tailstock from the side, {e.shown('tailstock_base')} long at its base and {e.shown('centre_height')} high to the centre, clamped by {screws} "
        f"of {e.shown('clamp_screw')}. Thrusts along the axis: {thrusts}."
    )


@picture(
    "The tailstock, pushed back by the drill", _words, height=5.0, panels=((0.01, 0.42, 0.98, 0.57), (0.21, 0.13, 0.73, 0.25))
)
def tailstock_held(e: Evaluation, axes: tuple[Axes, Axes]) -> None:
    """The tailstock to scale with the forces on it, and the thrusts it is asked for and bears."""
    _side(e, axes[0])
    _bars(e, axes[1])


def _side(e: Evaluation, axes: Axes) -> None:
    height, base, out, thick = (
        middle(e, name) for name in ("centre_height", "tailstock_base", "barrel_overhang", "barrel_diameter")
    )
    body, top = 0.72 * base, height + 0.85 * thick
    mouth = (base - body) / 2
    tip = mouth - out
    per_point = to_scale(axes, (min(tip, 0.0), -0.22 * height), (base, top), (96, 22, 96, 26))
    left, right = axes.get_xlim()
    box(axes, left + 90 * per_point, -0.22 * height, right - 90 * per_point, 0, facecolor=PALE, edgecolor=MUTED, hatch="//")
    box(axes, 0, 0, base, 0.35 * height)
    box(axes, mouth, 0.35 * height, mouth + body, top)
    box(axes, tip, height - thick / 2, mouth, height + thick / 2, hatch="///", zorder=3)
    axes.plot([tip - 10 * per_point, base + 8 * per_point], [height, height], color=MUTED, lw=1, ls=(0, (12, 3, 2, 3)), zorder=5)
    arrow = {"arrowstyle": "-|>", "lw": 3, "shrinkA": 0, "shrinkB": 0}
    axes.annotate("", (tip, height), (tip - 44 * per_point, height), arrowprops=arrow | {"color": PALETTE["red"]}, zorder=6)
    axes.text(tip - 48 * per_point, height, f"drill\n{e.shown('drilling_thrust')}", ha="right", va="center")
    axes.annotate("", (base / 2, 0), (base / 2, 0.62 * height), arrowprops=arrow | {"color": PALETTE["blue"]}, zorder=6)
    axes.text(base + 8 * per_point, 0.2 * height, f"clamped with\n{e.shown('clamp_force')}", ha="left", va="center")
    floor, roof = axes.get_ylim()[0] + 9 * per_point, axes.get_ylim()[1] - 10 * per_point
    dimension(axes, (0, floor), (base, floor), f"base {e.shown('tailstock_base')}", per_point)
    dimension(axes, (tip, roof), (mouth, roof), f"barrel out {e.shown('barrel_overhang')}", per_point)


def _bars(e: Evaluation, axes: Axes) -> None:
    told = limits(e)
    high = max(float(inside(e, value[2], _N)) for value in told.values())
    axes.set_xlim(0, 1.16 * high)
    axes.set_ylim(len(told) - 0.5, -0.5)
    axes.set_yticks(range(len(told)))
    axes.set_yticklabels(list(told))
    axes.set_xlabel(label("thrust along the axis", _N, e), labelpad=1)
    axes.locator_params(axis="x", nbins=6)
    for place, (value, colour, hatch) in enumerate(
        zip(told.values(), (PALETTE["red"], PALETTE["blue"], PALETTE["sky"]), ("xx", "", "//"))
    ):
        low, mid, top = (float(inside(e, one, _N)) for one in value)
        axes.barh(place, mid, 0.62, **filled(colour, hatch))
        if top > low:  # without draws there is no range to show
            axes.plot([low, top], [place, place], "|-", color=INK, lw=2, ms=9)
    drill = float(inside(e, told["the drill pushes"][1], _N))
    axes.axvline(drill, color=MUTED, ls=":", lw=1.5)
