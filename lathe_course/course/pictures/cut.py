"""Chapter 04: where the force of the cut comes from, and what else pushes."""

from __future__ import annotations

import numpy as np
from matplotlib.axes import Axes

from ... import units
from ...design.evaluation import Evaluation
from ...tables import table
from ...units import Area, Force, Length
from .axes import bare, inside, label, middle, shown, whiskers
from .drawing import dimension, shape, to_scale
from .register import picture
from .style import INK, MUTED, PALETTE, filled

_MM, _N, _AREA = Length("mm"), Force(), Area()


# --- force ----------------------------------------------------------------------------------------------
def _force_words(e: Evaluation) -> str:
    low, _, high = whiskers(e, "cutting_force")
    spread = f", {shown(e, low, _N, 2)} to {shown(e, high, _N, 2)} in four fifths of the draws" if high > low else ""
    sure = e.central
    return (
        f"The chip before it is cut: {sure.shown('depth_of_cut')} deep at {sure.shown('feed')}, under an entering angle of {sure.shown('entering_angle')} "
        f"and a nose of {sure.shown('nose_radius')}, in the mean {sure.shown('chip_thickness')} thick and {sure.shown('chip_width')} wide. Times {sure.shown('specific_cutting_force')} and a condition of "
        f"{sure.shown('cut_condition')} this makes {sure.shown('cutting_force')}{spread}."
    )


@picture(
    "From the chip to the force",
    _force_words,
    height=5.0,
    panels=((0.01, 0.36, 0.55, 0.63), (0.57, 0.36, 0.42, 0.63), (0.15, 0.13, 0.82, 0.19)),
)
def force_build_up(e: Evaluation, axes: tuple[Axes, Axes, Axes]) -> None:
    """The chip magnified, the sum beside it, and the force as an arrow."""
    sure = e.central  # medians of draws do not multiply to each other, middling figures do
    _chip(sure, axes[0])
    _sum(sure, axes[1])
    _arrows(e, sure, axes[2])


def _chip(e: Evaluation, axes: Axes) -> None:
    """Seen from above: the nose at the bottom, the edge sloping by the entering angle above it, the work below."""
    feed, depth, angle = (
        middle(e, "feed") / units.si_factor("mm/rev", "feed") * 1e-3,
        middle(e, "depth_of_cut"),
        middle(e, "entering_angle"),
    )
    edge = _edge(depth, middle(e, "nose_radius"), angle)
    lean = edge[-1, 0]
    chip = np.vstack([edge, edge[::-1] + (feed, 0)])
    wide = max(feed + lean, 0.45 * depth)
    per_point = to_scale(axes, (-0.15 * wide, -0.32 * depth), (max(feed + lean, wide) * 1.05, depth * 1.12), (96, 58, 84, 26))
    left, right = axes.get_xlim()
    times = 1 / (per_point * 72 / 0.0254)
    floor = axes.get_ylim()[0] + 18 * per_point
    # the work: cut surface to the left of the chip, uncut to its right
    shape(
        axes,
        [
            (left + 90 * per_point, floor),
            (right - 6 * per_point, floor),
            (right - 6 * per_point, depth),
            *edge[::-1],
            (left + 90 * per_point, 0),
        ],
        facecolor="#eceff2",
        edgecolor=MUTED,
        linewidth=1,
    )
    shape(axes, chip, **filled(PALETTE["blue"], "//"), zorder=3)
    axes.plot(*edge.T, color=PALETTE["red"], lw=3.5, zorder=4)
    x = left + 82 * per_point
    axes.plot([x - 5 * per_point, 0], [0, 0], color=MUTED, lw=0.8)
    axes.plot([x - 5 * per_point, lean], [depth, depth], color=MUTED, lw=0.8)
    dimension(axes, (x, 0), (x, depth), f"depth\n{e.shown('depth_of_cut')}", per_point, "left")
    low = -8 * per_point
    axes.annotate(
        "",
        (0, low),
        (feed, low),
        arrowprops={"arrowstyle": "|-|,widthA=0.25,widthB=0.25", "lw": 1.2, "shrinkA": 0, "shrinkB": 0},
        zorder=5,
    )
    axes.text(
        feed / 2,
        low - 8 * per_point,
        f"feed {shown(e, feed, _MM)}",
        ha="left" if feed / per_point < 90 else "center",
        va="top",
        zorder=5,
    )
    side = np.array([feed + lean / 2, depth / 2])
    axes.annotate(
        f"width\n{e.shown('chip_width')}\nmean thickness\n{e.shown('chip_thickness')}",
        side,
        xytext=(18, 0),
        textcoords="offset points",
        ha="left",
        va="center",
        bbox={"facecolor": "#eceff2", "edgecolor": "none", "pad": 1},
        zorder=6,
    )
    axes.text(
        left + 4 * per_point,
        axes.get_ylim()[1] - 4 * per_point,
        f"from above, {units.number(times, 2)} times as large; thick: the edge",
        ha="left",
        va="top",
    )
    axes.text(
        (left + right) / 2 + 40 * per_point,
        axes.get_ylim()[0] + 2 * per_point,
        "the work, turning",
        ha="center",
        va="bottom",
        color=MUTED,
    )


def _edge(depth: float, nose: float, angle: float) -> np.ndarray:
    """The engaged edge from the deepest point of the nose upwards, pairs (along, up), m."""
    on_nose = min(depth, nose * (1 - np.cos(angle)))
    turned = np.linspace(0, np.arccos(1 - on_nose / nose), 30)
    arc = nose * np.column_stack([np.sin(turned), 1 - np.cos(turned)])
    return np.vstack([arc, (arc[-1, 0] + (depth - on_nose) / np.tan(angle), depth)])


def _sum(e: Evaluation, axes: Axes) -> None:
    bare(axes)
    area = middle(e, "chip_thickness") * middle(e, "chip_width")
    rows = (
        ("thickness × width", shown(e, area, _AREA)),
        ("× force per area", e.shown("specific_cutting_force")),
        ("× condition of tool", e.shown("cut_condition", 2)),
        ("= cutting force", e.shown("cutting_force")),
    )
    for index, (words, figure) in enumerate(rows):
        y = 0.80 - 0.17 * index
        last = index == len(rows) - 1
        axes.text(0.0, y, words, transform=axes.transAxes, ha="left", va="center", weight="bold" if last else "normal")
        axes.text(1.0, y, figure, transform=axes.transAxes, ha="right", va="center", weight="bold" if last else "normal")
    axes.plot([0, 1], [0.375, 0.375], transform=axes.transAxes, color=INK, lw=1)
    axes.text(0.0, 0.96, e["work_material"], transform=axes.transAxes, ha="left", va="center", color=MUTED)


def _arrows(e: Evaluation, sure: Evaluation, axes: Axes) -> None:
    forces = {"downwards": ("cutting_force", PALETTE["red"]), "outwards": ("rough_radial_force", PALETTE["blue"])}
    ends = {words: whiskers(e, name) for words, (name, _) in forces.items()}
    top = 1.22 * max(max(sure[name], high) for (name, _), (*_, high) in zip(forces.values(), ends.values()))
    axes.set_xlim(0, inside(e, top, _N))
    axes.set_ylim(-0.6, 1.6)
    for y, (words, (name, colour)) in zip((1, 0), forces.items()):
        low, _, high = (inside(e, end, _N) for end in ends[words])
        force = sure[name]
        mid = inside(e, force, _N)
        axes.annotate(
            "",
            (mid, y),
            (0, y),
            arrowprops={"arrowstyle": "-|>,head_width=0.5,head_length=0.8", "color": colour, "lw": 5, "shrinkA": 0, "shrinkB": 0},
        )
        if high > low:
            axes.plot([low, high], [y - 0.33] * 2, "|-", color=INK, lw=1.5, ms=8)
        axes.annotate(
            shown(e, force, _N),
            (max(mid, high), y),
            xytext=(8, 0),
            textcoords="offset points",
            ha="left",
            va="center",
            weight="bold",
        )
    axes.set_yticks([1, 0], list(forces))
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel(label("force", _N, e) + ("; thin line: four fifths of the draws" if e.draws else ""), labelpad=1)
    axes.locator_params(axis="x", nbins=7)


# --- tools, and the drill ---------------------------------------------------------------------------------
def tool_forces(e: Evaluation) -> list[tuple[str, float, float, float]]:
    """The roughing cut with each tool of the table, and the thrust of the largest drill: words, low, likely and high force, N."""
    sure = e.central
    printed = sure["cutting_force"] / sure["cut_condition"]
    rows = [
        (", ".join(name.split(", ")[:2]), *(printed * end for end in row["factor"]))
        for name, row in table("tool_conditions").items()
    ]
    low, _, high = whiskers(e, "drilling_thrust")
    return [*rows, (f"thrust of the drill, {sure.shown('largest_drill')}", low, sure["drilling_thrust"], high)]


def _tools_words(e: Evaluation) -> str:
    each = "; ".join(f"{name} {shown(e, mid, _N, 2)}" for name, _, mid, _ in tool_forces(e))
    return (
        f"The roughing cut in {e['work_material']} with different tools, and the thrust of the largest drill beside it: {each}."
    )


@picture("What the tool makes of the same cut", _tools_words, height=4.4, panels=((0.40, 0.16, 0.56, 0.82),))
def force_by_tool(e: Evaluation, axes: Axes) -> None:
    """A bar for each tool with its range, the drill at the foot."""
    rows = tool_forces(e)
    sure = e.central
    axes.set_ylim(len(rows) - 0.4, -0.6)
    top = 1.28 * max(high for *_, high in rows)
    axes.set_xlim(0, inside(e, top, _N))
    for y, (name, low, mid, high) in enumerate(rows):
        mine = name.startswith(sure["tool_material"])
        paint = filled(PALETTE["red"], "xx") if y == len(rows) - 1 else filled(PALETTE["blue"], "//") if mine else filled(MUTED)
        axes.barh(y, inside(e, mid, _N), height=0.56, **paint)
        if high > low:
            axes.plot([inside(e, low, _N), inside(e, high, _N)], [y, y], "|-", color=INK, lw=1.5, ms=9)
        axes.annotate(
            shown(e, mid, _N, 2),
            (inside(e, max(mid, high), _N), y),
            xytext=(7, 0),
            textcoords="offset points",
            ha="left",
            va="center",
            weight="bold" if mine else "normal",
        )
    axes.set_yticks(
        range(len(rows)), [name + (" (yours)" if name.startswith(sure["tool_material"]) else "") for name, *_ in rows]
    )
    axes.tick_params(axis="y", length=0)
    axes.set_xlabel(label("force", _N, e) + "; thin line: how sure", labelpad=1)
    axes.locator_params(axis="x", nbins=6)
