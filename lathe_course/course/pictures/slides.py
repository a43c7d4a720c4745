"""Chapter 09: the saddle pushed beside its guide, the layers up to the tool, the dial laid flat."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.evaluation import Evaluation
from ...machine.slides import push_needed
from ...units import Force, Length
from .axes import inside, label, middle, parted, shown
from .drawing import METAL, box, dimension, disc, to_scale
from .register import picture
from .style import FONT_SIZE, HATCH, INK, LINES, MUTED, PALE, PALETTE, filled, on_white

_MM, _N = Length("mm"), Force()
#: push over resistance at which the curve of the push is cut off
_DEAR = 4.0


def _arrow(axes: Axes, start: tuple[float, float], end: tuple[float, float], colour: str, width: float = 2.5) -> None:
    axes.annotate(
        "",
        end,
        start,
        arrowprops={"arrowstyle": "-|>", "color": colour, "lw": width, "shrinkA": 0, "shrinkB": 0},
        zorder=6,
        annotation_clip=False,
    )


# --- saddle ------------------------------------------------------------------------------------------
def _jams(e: Evaluation) -> bool:
    return middle(e, "saddle_length") <= middle(e, "jam_free_length")


def _push_words(e: Evaluation) -> str:
    told = (
        f"The saddle from above, guided over {e.shown('saddle_length')} on a guide {e.shown('guide_width')} wide, pushed {e.shown('push_offset')} beside it. "
        f"It jams where the guide is {e.shown('jam_free_length')} long. "
    )
    if _jams(e):
        return told + "Yours jams: no push moves it."
    return (
        told
        + f"In the roughing cut it resists with {e.shown('saddle_resistance')}, and a push of {e.shown('push_needed')} moves it."
    )


@picture(
    "The saddle, pushed from one side", _push_words, height=5.2, panels=((0.01, 0.36, 0.98, 0.63), (0.115, 0.105, 0.80, 0.21))
)
def saddle_push(e: Evaluation, axes: tuple[Axes, Axes]) -> None:
    """Saddle and guide from above with the forces on them, and what the push costs over the length of the guide."""
    _from_above(e, axes[0])
    _push_curve(e, axes[1])


def _from_above(e: Evaluation, axes: Axes) -> None:
    length, guide, offset = (middle(e, name) for name in ("saddle_length", "guide_width", "push_offset"))
    half, side = length / 2, guide / 2
    low = -max(offset, side) - 0.12 * length
    per_point = to_scale(axes, (-1.05 * length, low), (1.05 * length, side + 0.1 * length), (118, 40, 118, 52))
    left, right = axes.get_xlim()
    box(axes, left + 112 * per_point, -side, right - 112 * per_point, side, facecolor=PALE, edgecolor=MUTED, zorder=1)
    reach = max(offset, side) + 0.08 * length
    box(axes, -half, -reach, half, side + 0.05 * length, facecolor=METAL, alpha=0.8, zorder=2)
    axes.plot([-half, half], [0, 0], color=MUTED, lw=1, ls=(0, (12, 3, 2, 3)), zorder=3)
    # the push, what resists, and the two ends that are pressed
    push = 46 * per_point
    _arrow(axes, (-half - push, -offset), (-half, -offset), PALETTE["blue"], 3)
    axes.text(
        -half - push - 4 * per_point,
        -offset,
        f"push {e.shown('push_needed')}" if not _jams(e) else "push",
        ha="right",
        va="center",
    )
    _arrow(axes, (half + push, 0), (half, 0), PALETTE["red"], 3)
    axes.text(half + push + 4 * per_point, 0, f"resists\n{e.shown('saddle_resistance')}", ha="left", va="center")
    if offset > 0:
        press = 26 * per_point
        # the push turns the saddle, and the edges of the guide turn it back
        for x, sign in ((-half, 1), (half, -1)):
            _arrow(axes, (x, sign * side), (x, sign * (side + press)), PALETTE["purple"], 2)
            axes.plot([x], [sign * side], "s", color=PALETTE["purple"], ms=7, zorder=7)
    floor = axes.get_ylim()[0] + 11 * per_point
    dimension(axes, (-half, floor), (half, floor), f"guided over {e.shown('saddle_length')}", per_point)
    axes.text(
        left + 4 * per_point,
        axes.get_ylim()[1] - 3 * per_point,
        f"guide {e.shown('guide_width')} wide, pushed {e.shown('push_offset')} beside its middle",
        ha="left",
        va="top",
    )
    axes.text(
        right - 4 * per_point, axes.get_ylim()[1] - 3 * per_point, "squares: where it presses", ha="right", va="top", color=MUTED
    )


def _push_curve(e: Evaluation, axes: Axes) -> None:
    friction, offset, length, jam = (
        middle(e, name) for name in ("slide_friction", "push_offset", "saddle_length", "jam_free_length")
    )
    decision = e.chain.decisions["saddle_length"]
    most = max(decision.high * decision.kind.factor, 1.2 * length, 1.5 * jam)
    start = max(jam * _DEAR / (_DEAR - 1), 0.02 * most)
    lengths = np.linspace(start, most, 200)
    x = inside(e, lengths, _MM)
    axes.set_xlim(0, x[-1])
    axes.set_ylim(0.9, _DEAR)
    axes.plot(x, push_needed.si(1.0, friction, offset, lengths), color=LINES[0][0])
    axes.set_xlabel(label("guide length of the saddle", _MM, e), labelpad=1)
    axes.set_yticks([1, 2, 3, 4])
    axes.set_yticklabels(["×1", "×2", "×3", "×4"])
    at = inside(e, jam, _MM)
    if at > 0:
        axes.axvspan(0, at, **filled(PALETTE["red"], HATCH["no"]))
    here = inside(e, length, _MM)
    axes.axvline(here, color=MUTED, ls=":", lw=1.5)
    said = f"yours {e.shown('saddle_length')}"
    right = here < 0.55 * x[-1]
    axes.annotate(
        said,
        (here, 0.97),
        xycoords=("data", "axes fraction"),
        xytext=(5 if right else -5, 0),
        textcoords="offset points",
        ha="left" if right else "right",
        va="top",
        bbox=on_white(1),
    )
    if not _jams(e):
        axes.plot(
            [here],
            [float(push_needed.si(1.0, friction, offset, length))],
            "o",
            color=INK,
            markeredgecolor="white",
            zorder=5,
            clip_on=False,
        )
    words = "push over what resists"
    axes.annotate(
        words,
        (1.0, 0.62),
        xycoords="axes fraction",
        xytext=(-4, 0),
        textcoords="offset points",
        ha="right",
        va="center",
        color=MUTED,
        bbox=on_white(1),
    )
    if at > 0:
        axes.annotate(
            f"hatched: jams below {e.shown('jam_free_length')}",
            (1.0, 0.36),
            xycoords="axes fraction",
            xytext=(-4, 0),
            textcoords="offset points",
            ha="right",
            va="center",
            color=MUTED,
            bbox=on_white(1),
        )


# --- stack -------------------------------------------------------------------------------------------
def _layers(e: Evaluation) -> list[tuple[str, str]]:
    """Name in the chain and what the layer is called, from the ways up."""
    top = "topslide and swivel" if e["top_of_slide"] == "topslide" else "solid block"
    return [
        ("slide_height", "saddle and cross-slide"),
        ("top_height", top),
        ("toolpost_floor", "floor of the toolpost"),
        ("tool_shank", "shank of the tool"),
    ]


def _stack_words(e: Evaluation) -> str:
    layers = ", ".join(f"{words} {e.shown(name)}" for name, words in _layers(e))
    missing = middle(e, "centre_height") - middle(e, "tool_height")
    end = "exactly on it" if abs(missing) < 1e-6 else f"{shown(e, abs(missing), _MM)} {'below' if missing > 0 else 'above'} it"
    return f"Layers from the slideways up to the tool: {layers}. The tool tip stands {e.shown('tool_height')} high, the centre line {e.shown('centre_height')}: the tip is {end}."


@picture("From the slideways up to the tool", _stack_words, height=3.5, panels=((0.01, 0.01, 0.98, 0.98),))
def height_stack(e: Evaluation, axes: Axes) -> None:
    """The layers to scale, the centre line, and what is missing or too much."""
    height, tip = middle(e, "centre_height"), middle(e, "tool_height")
    top = max(height, tip)
    wide = 1.1 * top
    per_point = to_scale(axes, (-0.9 * top, -0.1 * top), (wide, 1.12 * top), (100, 4, 235, 6))
    left = axes.get_xlim()[0]
    box(axes, -0.85 * top, -0.1 * top, wide, 0, facecolor=PALE, edgecolor=MUTED, hatch="//")
    axes.text(wide + 8 * per_point, -0.05 * top, "slideways", ha="left", va="center", color=MUTED)
    # work on the centre line, the tool at its side
    radius = 0.28 * top
    disc(axes, -0.45 * top, height, 2 * radius, facecolor="white", hatch="..")
    axes.plot([-0.9 * top, wide + 4 * per_point], [height, height], color=MUTED, lw=1.2, ls=(0, (12, 3, 2, 3)), zorder=7)
    floor, places, words = 0.0, [], []
    shares = (1.0, 0.72, 0.5, 0.0)
    for (name, what), share, hatch in zip(_layers(e), shares, ("///", "", "\\\\\\", "xx")):
        high = middle(e, name)
        if name == "tool_shank":
            box(axes, -0.45 * top + radius, floor, 0.62 * wide, floor + high, hatch=hatch, zorder=5)
        else:
            box(axes, wide / 2 * (1 - share) + 0.08 * top, floor, wide / 2 * (1 + share), floor + high, hatch=hatch, zorder=4)
        places.append(floor + high / 2)
        words.append(f"{what} {e.shown(name)}")
        floor += high
    for place, at, text in zip(parted(places, 1.35 * FONT_SIZE * per_point, 0.0, 1.05 * top), places, words):
        axes.plot([wide + 2 * per_point, wide + 14 * per_point], [at, place], color=MUTED, lw=0.8)
        axes.text(wide + 17 * per_point, place, text, ha="left", va="center")
    up = left + 88 * per_point
    axes.plot([up - 4 * per_point, -0.85 * top], [height, height], color=MUTED, lw=0.8)
    dimension(axes, (up, 0), (up, height), f"centre\nheight\n{e.shown('centre_height')}", per_point, "left")
    missing = height - tip
    if abs(missing) < 1e-6:
        said = "the tip stands on the centre line"
    elif missing > 0:
        said = f"shims {shown(e, missing, _MM)}"
    else:
        said = f"too high by {shown(e, -missing, _MM)}"
    axes.text(
        0.62 * wide,
        top + 3 * per_point,
        said,
        ha="center",
        va="bottom",
        weight="bold",
        color=INK if missing >= 0 else PALETTE["red"],
    )


# --- dial --------------------------------------------------------------------------------------------
#: lines of the dial that are drawn, and points from one to the next
_LINES_DRAWN, _APART = 24, 21.0


def _engraved(e: Evaluation) -> str:
    what, _, unit = e["dial_reads"].partition(" in ")
    return f"{what}, in {'millimetres' if unit == 'mm' else unit}"


def _numbers(e: Evaluation, step: float) -> tuple[list[str], int]:
    """Engraved numbers of the lines drawn, and every which line carries one."""
    unit = units.si_factor("mm" if e["dial_reads"].endswith("mm") else "in")
    every = 5 if middle(e, "dial_divisions") % 5 == 0 else 4 if middle(e, "dial_divisions") % 4 == 0 else 5
    return [f"{units.number(step * line / unit, 4)}" for line in range(0, _LINES_DRAWN + 1, every)], every


def _dial_words(e: Evaluation) -> str:
    return (
        f"A dial of {e.shown('dial_divisions')} divisions on a screw of {e.shown('cross_screw_pitch')} pitch, engraved as the {_engraved(e)}. "
        f"One division moves the tool {e.shown('dial_step_on_radius')} and takes {e.shown('dial_step_on_diameter')} off the diameter. "
        f"On turning back, the first {e.shown('backlash_in_divisions')} divisions move nothing."
    )


@picture("The dial of the cross screw, laid flat", _dial_words, height=3.6, panels=((0.01, 0.01, 0.98, 0.98),))
def dial_laid_flat(e: Evaluation, axes: Axes) -> None:
    """Lines and numbers as they are engraved, the play on turning back, and what one division does to the work."""
    axes.set_axis_off()
    axes.set_xlim(0, axes.bbox.width)
    axes.set_ylim(0, axes.bbox.height)
    start, floor, tall = 28.0, 118.0, 62.0
    end = start + _LINES_DRAWN * _APART
    box(axes, start - 12, floor, end + 12, floor + tall + 34)
    numbers, every = _numbers(e, middle(e, "dial_step"))
    for line in range(_LINES_DRAWN + 1):
        x = start + line * _APART
        axes.plot(
            [x, x], [floor, floor + (tall if line % every == 0 else 0.55 * tall)], color=INK, lw=1.6 if line % every == 0 else 1.0
        )
    for place, text in enumerate(numbers):
        axes.text(start + place * every * _APART, floor + tall + 5, text, ha="center", va="bottom")
    play = min(middle(e, "backlash_in_divisions"), float(_LINES_DRAWN)) * _APART
    axes.fill_between([start, start + play], floor - 16, floor - 2, **filled(PALETTE["orange"], "//"))
    axes.text(
        start - 12,
        floor - 19,
        f"play on turning back: {e.shown('backlash_in_divisions')} divisions, {e.shown('cross_backlash')}",
        ha="left",
        va="top",
    )
    axes.text(
        axes.bbox.width / 2,
        axes.bbox.height - 4,
        f"engraved as the {_engraved(e)}; {e.shown('dial_divisions')} divisions round",
        ha="center",
        va="top",
        weight="bold",
    )
    axes.text(start - 12, 66, f"one division moves the tool by {e.shown('dial_step_on_radius')}", ha="left", va="center")
    axes.text(
        start - 12,
        44,
        f"and takes {e.shown('dial_step_on_diameter')} off the diameter, for both sides lose it",
        ha="left",
        va="center",
    )
    axes.text(
        start - 12,
        20,
        f"true spacing of the lines on a dial of {e.shown('dial_diameter')}: {e.shown('dial_spacing')}",
        ha="left",
        va="center",
        color=MUTED,
    )
