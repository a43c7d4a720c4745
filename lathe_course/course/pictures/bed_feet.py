"""Chapter 07: the bed on its feet, twisted when one of them moves, and what that does to the tool."""

from __future__ import annotations

import textwrap

import numpy as np
from matplotlib.axes import Axes

from ...design.evaluation import Evaluation
from ...units import Angle, Length
from .axes import middle, shown
from .bed import _sound
from .drawing import METAL, round_down, shape, to_scale
from .register import picture
from .style import INK, MUTED, PALETTE, pale

_UM, _MM, _TWIST = Length("µm"), Length("mm"), Angle("mrad")
#: how far a step away from the viewer goes right and up on paper
_RIGHT, _UP = 0.55, 0.5
#: the bed's tail is turned by this at most, radians
_TURN = 0.22
#: letters of a bold line that fit across the picture, and the height of a line in points
_LETTERS, _LINE = 66, 17


def _words(e: Evaluation) -> str:
    _sound(e)
    if middle(e, "stand_twist") == 0:
        return f"The bed on three feet, {e.shown('foot_spacing')} apart: nothing that the stand does can twist it."
    return (
        f"The bed on {e['feet']}, {e.shown('foot_spacing')} apart. One foot moves by {e.shown('foot_change')} and twists the bed by "
        f"{shown(e, middle(e, 'stand_twist'), _TWIST)}; along the {_hurt(e)} the diameter changes by {e.shown('twist_error')}."
    )


def _hurt(e: Evaluation) -> str:
    """The job that the twist costs most, and how it is held."""
    jobs = e.design.jobs
    job = jobs[int(np.argmax(e.central["job_twists"] / jobs.column("tolerance")))]
    return f"{job.name} ({job.holding})"


class _Bed:
    """Points of the twisted bed on paper."""

    def __init__(self, e: Evaluation):
        self.length, self.width = middle(e, "bed_length"), middle(e, "bed_width")
        self.depth = middle(e, "bed_depth")
        self.high = middle(e, "centre_height")
        self.line = float(np.clip(self.high - middle(e, "twist_lever"), -2 * self.depth, self.depth))
        spacing = middle(e, "foot_spacing")
        self.feet = (self.length - spacing) / 2, (self.length + spacing) / 2
        twist = middle(e, "stand_twist")
        self.times = round_down(_TURN / twist) if twist > 0 else 0.0
        self.turn = self.times * twist

    def paper(self, x, across, up, turned: float = 1.0) -> np.ndarray:
        """Places along, across (away from the viewer) and up from the ways, as points on paper, shape (n, 2)."""
        x, across, up = np.broadcast_arrays(*(np.asarray(value, float) for value in (x, across, up)))
        angle = turned * self.turn * np.clip((x - self.feet[0]) / (self.feet[1] - self.feet[0]), 0, 1)
        side = np.cos(angle) * across - np.sin(angle) * (up - self.line)
        rise = self.line + np.sin(angle) * across + np.cos(angle) * (up - self.line)
        return np.column_stack([np.ravel(x + _RIGHT * side), np.ravel(rise + _UP * side)])


@picture("What a foot that moves does to the bed and to the tool", _words, height=4.0, panels=((0.01, 0.02, 0.98, 0.96),))
def bed_on_feet(e: Evaluation, axes: Axes) -> None:
    """The bed seen aslant on its feet, its twist exaggerated, and the tool carried along by it."""
    e = e.central
    _sound(e)
    bed = _Bed(e)
    half = bed.width / 2
    foot = 0.35 * min(bed.width, bed.high)
    low = -bed.depth - foot - _UP * half
    said = _said(e, bed)
    per_point = to_scale(
        axes,
        (-_RIGHT * half, low - 0.1 * foot),
        (bed.length + _RIGHT * half, bed.high + _UP * half),
        (16, 31 + _LINE * len(said), 16, 48),
    )
    _feet(axes, bed, e["feet"], foot, per_point)
    x = np.linspace(0, bed.length, 25)
    top = np.concatenate([bed.paper(x, -half, 0.0), bed.paper(x[::-1], half, 0.0)])
    front = np.concatenate([bed.paper(x, -half, 0.0), bed.paper(x[::-1], -half, -bed.depth)])
    end = bed.paper(bed.length, [-half, half, half, -half], [0.0, 0.0, -bed.depth, -bed.depth])
    shape(
        axes,
        np.concatenate([bed.paper([0, bed.length], -half, 0.0, 0.0), bed.paper([bed.length, 0], half, 0.0, 0.0)]),
        facecolor="none",
        edgecolor=MUTED,
        linestyle=":",
        zorder=6,
    )
    for corners, paint in ((end, "#aab4be"), (front, METAL), (top, "white")):
        shape(axes, corners, facecolor=paint)
    for place in x[::3]:
        across = bed.paper(place, [-half, half], 0.0)
        axes.plot(across[:, 0], across[:, 1], color=MUTED, lw=0.8, zorder=3)
    _work(e, axes, bed, per_point)
    _told(e, axes, bed, said, per_point)


def _feet(axes: Axes, bed: _Bed, feet: str, high: float, per_point: float) -> None:
    half, (head, tail) = bed.width / 2, bed.feet
    places = [(head, half), (tail, 0.0) if feet == "three feet" else (tail, half), (head, -half)] + (
        [] if feet == "three feet" else [(tail, -half)]
    )
    for x, across in places:
        tip = bed.paper(x, across, -bed.depth, 0.0)[0]
        corners = [tip, tip + (-0.45 * high, -high), tip + (0.45 * high, -high)]
        if across < 0:
            shape(axes, corners, facecolor=pale(PALETTE["orange"]))
        else:  # behind the front of the bed
            shape(axes, corners, facecolor="none", linestyle=(0, (3, 2)), edgecolor=MUTED, zorder=9)
        if feet == "four feet bolted down" and across < 0:
            axes.plot([tip[0]] * 2, [tip[1] - high - 7 * per_point, tip[1] - 0.3 * high], color=INK, lw=3)
    if feet != "three feet":
        moved = bed.paper(tail, -half, -bed.depth, 0.0)[0] - (0, high)
        axes.annotate(
            "",
            moved - (0, 22 * per_point),
            moved - (0, 2 * per_point),
            arrowprops={"arrowstyle": "-|>", "color": PALETTE["red"], "lw": 3, "shrinkA": 0, "shrinkB": 0},
        )


def _work(e: Evaluation, axes: Axes, bed: _Bed, per_point: float) -> None:
    """The axis of the spindle, straight from the headstock, and the tool where the bed takes it."""
    start = min(bed.feet[0], 0.3 * bed.length)
    far = min(start + middle(e, "between_centres"), bed.length)
    axis = bed.paper([0.0, far], 0.0, bed.high, 0.0)
    axes.plot(axis[:, 0], axis[:, 1], color=INK, lw=1.5, ls=(0, (12, 3, 2, 3)), zorder=7)
    for x, colour, mark in ((start, PALETTE["blue"], "s"), (far, PALETTE["red"], "D")):
        post = bed.paper(x, 0.0, [0.0, bed.high])
        axes.plot(post[:, 0], post[:, 1], color=colour, lw=2, zorder=7)
        axes.plot([post[1, 0]], [post[1, 1]], mark, color=colour, ms=8, zorder=8)
    axes.text(axis[0, 0], axis[0, 1] + 8 * per_point, "axis of the spindle", ha="left", va="bottom")


def _said(e: Evaluation, bed: _Bed) -> list[str]:
    """What becomes of the diameter, in as many lines as the name of the job asks for."""
    if not bed.turn:
        return ["the diameter stays the same from end to end"]
    return textwrap.wrap(f"diameter changes by {e.shown('twist_error')} along the {_hurt(e)}", _LETTERS)


def _told(e: Evaluation, axes: Axes, bed: _Bed, said: list[str], per_point: float) -> None:
    left, _ = axes.get_xlim()
    low, high = axes.get_ylim()
    if bed.turn:
        first = f"{e['feet']}; one moves by {e.shown('foot_change')}"
        last = (
            f"twist {shown(e, middle(e, 'stand_twist'), _TWIST)}, drawn {f'{bed.times:,.0f}'.replace(',', ' ')} times too large"
        )
    else:
        first, last = "three feet; one may move as it likes", "no twist"
    axes.text(left + 6 * per_point, high - 4 * per_point, first, ha="left", va="top")
    axes.text(left + 6 * per_point, low + (3 + _LINE * len(said)) * per_point, last, ha="left", va="bottom", color=MUTED)
    axes.text(left + 6 * per_point, low + 3 * per_point, "\n".join(said), ha="left", va="bottom", weight="bold")
