"""Chapter 06: the spindle bent by the cut, and what the bearing span does to it."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.evaluation import Evaluation, evaluate
from ...machine.spindle import bent_line
from ...units import Force, Length, Stiffness
from .axes import inside, label, middle, shown
from .drawing import METAL, box, dimension, round_down, shape, to_scale
from .register import NothingToDraw, picture
from .style import INK, LINES, MUTED, PALETTE, filled, on_white, text_size

_MM, _UM, _N, _STIFF = Length("mm"), Length("µm"), Force(), Stiffness()
#: how high a bent spindle stands beside its diameter, at most
_BOW = 1.1


def deflected(e: Evaluation, x: np.ndarray) -> np.ndarray:
    """How far the axis of the spindle moves under the cutting force, m, at ``x`` metres from the rear bearing.

    At the cut this is the give that the chain works out.
    """
    fed = (
        "cutting_force",
        "spindle_overhang",
        "bearing_span",
        "cut_reach",
        "spindle_diameter",
        "spindle_bore",
        "front_stiffness_at_size",
        "rear_stiffness_at_size",
        "steel_modulus",
        "steel_shear_modulus",
    )
    return bent_line(x, *(middle(e, name) for name in fed))


def _sound(e: Evaluation) -> None:
    if not middle(e, "spindle_bore") < middle(e, "spindle_diameter"):
        raise NothingToDraw(
            f"A bore of {e.shown('spindle_bore')} leaves nothing of a spindle {e.shown('spindle_diameter')} thick."
        )


def _shares(e: Evaluation) -> tuple[float, float]:
    """Give of shaft and of bearings at the cut under the roughing cut, m."""
    force = middle(e, "cutting_force")
    return force * middle(e, "shaft_compliance"), force * middle(e, "bearing_compliance")


# --- bent --------------------------------------------------------------------------------------------
def _bent_words(e: Evaluation) -> str:
    _sound(e)
    shaft, bearings = _shares(e)
    return (
        f"The spindle, {e.shown('spindle_diameter')} thick on bearings {e.shown('bearing_span')} apart, bent by the roughing cut of "
        f"{e.shown('cutting_force')}. At the cut it gives {shown(e, shaft + bearings, _UM)}: {shown(e, shaft, _UM)} by the shaft, "
        f"{shown(e, bearings, _UM)} by the bearings. The span at which the nose gives least is {e.shown('best_span')}."
    )


@picture(
    "The spindle under the roughing cut, bent far more than it really is",
    _bent_words,
    panels=((0.01, 0.31, 0.98, 0.68), (0.03, 0.15, 0.94, 0.12)),
)
def bent_spindle(e: Evaluation, axes: tuple[Axes, Axes]) -> None:
    """The spindle to scale, its bow magnified, and the two shares of its give."""
    _sound(e)
    _bent(e, axes[0])
    _split(e, axes[1])


def _bent(e: Evaluation, axes: Axes) -> None:
    span, over, reach, outer = (middle(e, name) for name in ("bearing_span", "spindle_overhang", "cut_reach", "spindle_diameter"))
    nose, cut, tail = span + over, span + over + reach, -0.5 * outer
    x = np.linspace(tail, nose, 80)
    bow = deflected(e, x)
    most = float(deflected(e, np.array([cut]))[0])
    times = round_down(_BOW * outer / most)
    half = outer / 2
    seat, high = 0.55 * outer, 0.62 * outer
    top = high + half + times * most
    best = middle(e, "best_span")
    per_point = to_scale(
        axes,
        (min(tail, span - best) - 0.1 * outer, -half - high - 0.15 * outer),
        (cut + 0.2 * outer, top + 0.1 * outer),
        (10, 44, 70, 26),
    )
    # as it stands without a cut
    shape(axes, [(tail, -half), (tail, half), (nose, half), (nose, -half)], facecolor="none", edgecolor=MUTED, linestyle="--")
    axes.plot([tail - 0.2 * outer, cut + 0.2 * outer], [0, 0], color=MUTED, lw=1, ls=(0, (12, 3, 2, 3)))
    for place in (0.0, span):
        for low, up in ((-half - high, -half), (half, half + high)):
            box(axes, place - seat / 2, low, place + seat / 2, up, hatch="xx", facecolor="white", edgecolor=MUTED, zorder=1)
    # bent
    bent = times * bow
    shape(
        axes,
        np.concatenate([np.column_stack([x, bent + half]), np.column_stack([x[::-1], bent[::-1] - half])]),
        facecolor=METAL,
        alpha=0.85,
        zorder=3,
    )
    axes.plot(x, bent, color=PALETTE["blue"], zorder=4)
    beyond = np.array([nose, cut])
    line = times * deflected(e, beyond)
    if reach > 0:
        rise = np.array([outer * 0.9, outer * 0.9])
        shape(
            axes,
            np.concatenate([np.column_stack([beyond, line + rise]), np.column_stack([beyond[::-1], line[::-1] - rise])]),
            facecolor="none",
            linestyle=":",
            zorder=3,
        )
        axes.plot(beyond, line, color=PALETTE["blue"], ls="--", zorder=4)
    # the force and how far it moves the work
    tip = line[1]
    axes.annotate(
        "",
        (cut, tip),
        (cut, tip - 46 * per_point),
        arrowprops={"arrowstyle": "-|>", "color": PALETTE["red"], "lw": 3, "shrinkA": 0, "shrinkB": 0},
        zorder=6,
    )
    axes.text(cut + 6 * per_point, tip - 34 * per_point, f"{e.shown('cutting_force')}\ncut", color=INK, va="center", ha="left")
    axes.text(cut + 6 * per_point, tip + 8 * per_point, f"gives\n{shown(e, most, _UM)}", va="bottom", ha="left", weight="bold")
    axes.text(
        axes.get_xlim()[0] + 6 * per_point,
        axes.get_ylim()[1] - 4 * per_point,
        f"bow drawn {times:,.0f} times too large".replace(",", " "),
        ha="left",
        va="top",
    )
    floor = -half - high
    low = floor - 12 * per_point
    dimension(axes, (0, low), (span, low), f"span {e.shown('bearing_span')}", per_point, "left")
    axes.plot([span - best], [low - 17 * per_point], "^", color=PALETTE["green"], clip_on=False)
    axes.plot([span - best, span], [low - 17 * per_point] * 2, color=PALETTE["green"], ls="--", lw=1.5)
    axes.text(span + 8 * per_point, low - 17 * per_point, f"best span {e.shown('best_span')}", ha="left", va="center")


def _split(e: Evaluation, axes: Axes) -> None:
    """One bar: shaft and bearings."""
    shares = dict(zip(("shaft", "bearings"), (inside(e, give, _UM) for give in _shares(e))))
    whole = sum(shares.values())
    axes.set_xlim(0, whole)
    axes.set_ylim(0, 1)
    axes.set_yticks([])
    axes.spines["left"].set_visible(False)
    said = ", ".join(f"{name} {units.number(give)}" for name, give in shares.items())
    axes.set_xlabel(f"{label('give at the cut', _UM, e)}: {said}", labelpad=1)
    axes.locator_params(axis="x", nbins=7)
    start = 0.0
    for (name, give), (colour, _), hatch in zip(shares.items(), LINES, ("", "//")):
        axes.barh(0.5, give, 0.9, left=start, **filled(colour, hatch))
        words = f"{name} {give / whole:.0%}"
        wide = give / whole * axes.bbox.width
        if text_size(words)[0] + 8 < wide:
            axes.text(start + give / 2, 0.5, words, ha="center", va="center", weight="bold", bbox=on_white(1))
        start += give


# --- span --------------------------------------------------------------------------------------------
def _spans(e: Evaluation) -> np.ndarray:
    decision = e.chain.decisions["bearing_span"]
    unit = decision.kind.factor
    best, chosen = middle(e, "best_span"), middle(e, "bearing_span")
    return np.geomspace(
        min(decision.low * unit, 0.6 * chosen, 0.6 * best), max(decision.high * unit, 1.3 * chosen, 1.3 * best), 120
    )


def _span_words(e: Evaluation) -> str:
    _sound(e)
    return (
        f"Stiffness over bearing span. At the chosen span of {e.shown('bearing_span')} the nose stands {e.shown('nose_stiffness')} "
        f"and the cut, further out, {shown(e, 1 / middle(e, 'spindle_compliance'), _STIFF)}. The nose is stiffest at {e.shown('best_span')}; "
        f"near that the curve is flat."
    )


@picture("How far apart the bearings should stand", _span_words, panels=((0.115, 0.15, 0.70, 0.82),))
def span_curve(e: Evaluation, axes: Axes) -> None:
    """Stiffness at the nose and at the cut over bearing span; best and chosen marked."""
    _sound(e)
    spans = _spans(e)
    plain = e.central  # a sweep and draws do not mix
    swept = evaluate(e.design.trying(bearing_span=spans), earlier=plain)
    curves = {"at the nose": 1 / swept["nose_compliance"], "at the cut": 1 / swept["spindle_compliance"]}
    x = inside(e, spans, _MM)
    axes.set_xlim(x[0], x[-1])
    top = 1.18 * max(inside(e, curve, _STIFF).max() for curve in curves.values())
    axes.set_ylim(0, top)
    axes.set_xlabel(label("bearing span", _MM, e))
    axes.set_ylabel(label("stiffness", _STIFF, e))
    chosen = middle(plain, "bearing_span")
    for (name, curve), (colour, style), mark in zip(curves.items(), LINES, ("o", "s")):
        y = inside(e, curve, _STIFF)
        axes.plot(x, y, color=colour, ls=style)
        axes.annotate(
            name, (x[-1], y[-1]), xytext=(6, 0), textcoords="offset points", ha="left", va="center", annotation_clip=False
        )
        here = float(np.interp(chosen, spans, curve))
        axes.plot([inside(e, chosen, _MM)], [inside(e, here, _STIFF)], mark, color=INK, markeredgecolor="white", zorder=5)
    for name, place, style, level, va in (
        ("chosen", chosen, ":", 0.01, "bottom"),
        ("best for the nose", middle(plain, "best_span"), "--", 0.995, "top"),
    ):
        at = inside(e, place, _MM)
        axes.axvline(at, color=MUTED, ls=style, lw=1.5)
        left = place < 0.6 * spans[-1]
        axes.annotate(
            f"{name} {shown(e, place, _MM)}",
            (at, level),
            xycoords=("data", "axes fraction"),
            xytext=(6 if left else -6, 0),
            textcoords="offset points",
            ha="left" if left else "right",
            va=va,
            bbox=on_white(1, 0.85),
        )
