"""Chapter 08: the widest quiet chip over the speed of the spindle."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.evaluation import Evaluation
from ...machine import chatter
from ...units import Length, RotationalSpeed
from .axes import inside, label, log_axis, middle, shown
from .register import NothingToDraw, picture
from .style import HATCH, INK, PALETTE, filled, on_white, pale

_MM, _RPM = Length("mm"), RotationalSpeed()
#: below this share of the sway's frequency the lobes stand so close that only their lower ends matter
_MERGED = 1 / 14
_POINTS = 700


def border(e: Evaluation) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Spindle speeds [rad/s], and the widest quiet chip [m] from the lobes, and from a slow cut on the slimmest precise work.

    NothingToDraw if the machine has no stiffness to speak of, or its speeds do not rise.
    """
    slowest, fastest = middle(e, "slowest_speed"), middle(e, "fastest_speed")
    machine = {
        "stiffness": middle(e, "loop_stiffness"),
        "damping": middle(e, "damping"),
        "cutting_stiffness": middle(e, "cutting_stiffness"),
        "direction_factor": middle(e, "direction_factor"),
    }
    own = middle(e, "sway_frequency")
    if not np.all(np.isfinite([*machine.values(), own])):
        raise NothingToDraw("As it stands the machine cannot be built: look at the bore, the walls and the width of the bed.")
    if not 0 < slowest < fastest:
        raise NothingToDraw(
            f"The slowest speed, {e.shown('slowest_speed')}, must be less than the fastest, {e.shown('fastest_speed')}."
        )
    speed = np.geomspace(slowest, fastest, _POINTS)
    least = float(chatter.chatter_free_width.si(**machine))
    parted = speed > own * _MERGED
    lobes = np.full(_POINTS, least)
    if parted.any():
        lobes[parted] = chatter.quiet_width(speed[parted], own, **machine)
    slow = chatter.slow_speed_width.si(
        **machine,
        process_damping=middle(e, "process_damping"),
        frequency=own,
        cutting_speed=speed * middle(e, "work_diameter") / 2,
    )
    return speed, lobes, slow


def _best(e: Evaluation) -> tuple[float, float]:
    """The speed at which the widest chip stays quiet, and that width."""
    speed, lobes, slow = border(e)
    width = np.maximum(lobes, slow)
    best = int(np.argmax(np.where(speed > middle(e, "sway_frequency") * _MERGED, width, 0.0)))
    return float(speed[best]), float(width[best])


def _words(e: Evaluation) -> str:
    sure = e.central
    speed, width = _best(sure)
    return (
        f"Widest quiet chip over spindle speed. Up to {sure.shown('chatter_free_width')} stays quiet at any speed on the slimmest precise work; the roughing cut makes "
        f"{sure.shown('main_edge_width')}. The machine vibrates at {sure.shown('sway_frequency')}. Between the lobes, at {shown(sure, speed, _RPM)}, up to "
        f"{shown(sure, width, _MM)} stays quiet; at low speed the rubbing flank lets more pass."
    )


@picture("How wide a chip stays quiet at which speed", _words, height=4.6, panels=((0.115, 0.15, 0.86, 0.80),))
def chatter_lobes(e: Evaluation, axes: Axes) -> None:
    """The border between quiet and singing, the width that is quiet at any speed, and the roughing cut."""
    e = e.central
    speed, lobes, slow = border(e)
    width = np.maximum(lobes, slow)  # each is a width that stays quiet, so the larger of the two does
    least, cut = middle(e, "chatter_free_width"), middle(e, "main_edge_width")
    top = 3.2 * max(least, cut)
    rpm, mm = inside(e, speed, _RPM), np.minimum(inside(e, width, _MM), inside(e, top, _MM))
    log_axis(axes, "x", rpm[0], rpm[-1])
    high = inside(e, top, _MM)
    axes.set_ylim(0, high)
    axes.fill_between(rpm, mm, high, facecolor="#f6f1ee", edgecolor=pale(PALETTE["red"], 0.4), hatch=HATCH["no"], lw=0, zorder=0)
    axes.plot(rpm, mm, color=INK, lw=2)
    axes.fill_between(rpm, 0, inside(e, least, _MM), lw=0, **filled(PALETTE["blue"]), zorder=1)
    axes.axhline(inside(e, cut, _MM), color=PALETTE["red"], ls="--", lw=2, zorder=4)
    white = on_white(1.5, 0.9)
    lower, upper = sorted((least, cut))
    for width, words, x in (
        (cut, f"roughing cut {e.shown('main_edge_width')}", 0.42),
        (least, f"quiet at any speed: {e.shown('chatter_free_width')}", 0.015),
    ):
        above = width == upper or lower < 0.12 * top  # the lower one's words go below its line, if there is room
        axes.annotate(
            words,
            (x, inside(e, width, _MM)),
            xycoords=("axes fraction", "data"),
            xytext=(0, 4 if above else -4),
            textcoords="offset points",
            ha="left",
            va="bottom" if above else "top",
            bbox=white,
            zorder=6,
        )
    axes.text(0.985, 0.965, "chatter", transform=axes.transAxes, ha="right", va="top", weight="bold", bbox=white)
    axes.text(
        0.015,
        0.965,
        f"vibrates at {units.shown(middle(e, 'sway_frequency'), RotationalSpeed('Hz'), e.design.system)}",
        transform=axes.transAxes,
        ha="left",
        va="top",
        bbox=white,
    )
    axes.set_xlabel(label("spindle speed", _RPM, e), labelpad=1)
    axes.set_ylabel(label("width of chip", _MM, e))
    axes.locator_params(axis="y", nbins=6)
