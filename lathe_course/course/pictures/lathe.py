"""The lathe that the decisions describe, from the side and from the end, to scale."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

import numpy as np
from matplotlib.axes import Axes
from matplotlib.collections import PolyCollection

from ...design.chapters.hand_rest import over_bed
from ...design.drawn.arrangement import Arrangement, arrange
from ...design.drawn.views import VIEWS, Face, faces, layers
from ...design.evaluation import Evaluation
from ...design.jobs import Job
from ...units import Length
from .axes import middle, parted, shown, wrapped
from .drawing import METAL, box, dimension, disc, scale_bar, to_scale
from .register import picture
from .style import FONT_SIZE, HATCH, INK, MUTED, PALETTE, pale, text_size

_MM = Length("mm")
_WORK = {"facecolor": "none", "edgecolor": PALETTE["blue"], "linestyle": "--", "linewidth": 2}
_MISFIT = {"facecolor": "none", "edgecolor": PALETTE["red"], "linestyle": "--", "linewidth": 2, "hatch": HATCH["no"]}


def _largest(jobs: list[Job], field: str) -> Job | None:
    return max(jobs, key=lambda job: getattr(job, field), default=None)


def _works(e: Evaluation) -> dict[str, tuple[Job, bool, str, str]]:
    """Disc, shaft and longest piece of the list: the job, whether it fits, and in words what it must clear or not."""
    jobs = list(e["jobs"])
    shafts = [job for job in jobs if not over_bed(job, e["hand_rest"])]
    found = {
        "largest disc": (
            _largest([job for job in jobs if job.is_disc], "diameter"),
            "disc_clears_bed",
            "clears the bed",
            "hits the bed",
        ),
        "largest shaft": (_largest(shafts, "diameter"), "shaft_clears_slide", "clears the cross-slide", "hits the cross-slide"),
        "longest job": (_largest(jobs, "length"), "length_suffices", "goes between the centres", "is too long"),
    }
    return {what: (job, e.findings[finding].status != "fails", yes, no) for what, (job, finding, yes, no) in found.items() if job}


def _words(e: Evaluation) -> str:
    told = [
        f"Side and end view of the lathe, to scale: centre height {e.shown('centre_height')}, {e.shown('between_centres')} between centres, "
        f"{e.shown('swing_over_bed')} swing over the bed and {e.shown('swing_over_slide')} over the cross-slide, "
        f"on a bed of the form {e['bed_form']}, {e.shown('bed_width')} wide and {e.shown('bed_height')} high."
    ]
    for what, (job, fits, yes, no) in _works(e).items():
        size = job.length if what == "longest job" else job.diameter
        told.append(f"The {what}, {job.name} of {shown(e, size, _MM)}, {yes if fits else no}.")
    return " ".join(told)


@picture(
    "The lathe your decisions describe, drawn to scale",
    _words,
    height=5.6,
    panels=((0.01, 0.52, 0.98, 0.47), (0.01, 0.01, 0.46, 0.49), (0.49, 0.01, 0.50, 0.49)),
)
def lathe_to_scale(e: Evaluation, axes: tuple[Axes, Axes, Axes]) -> None:
    """Side view, end view, and what of the jobs fits."""
    works, arrangement = _works(e), arrange(e)
    _side_view(e, axes[0], arrangement, works)
    circles = _end_view(e, axes[1], arrangement, works)
    _list(e, axes[1], axes[2], circles, works)


def paint_faces(axes: Axes, painted: Sequence[Face], stand_out: Collection[str] = ()) -> None:
    """Outlines, furthest first: grey as metal; parts that stand out in colour, with a wider edge."""
    outlines, fills, widths = [], [], []
    for face, outline, times, filled in layers(painted):
        out = face.part in stand_out
        outlines.append(outline)
        fills.append("none" if not filled else pale(PALETTE["orange"], 0.6) if out else "white" if stand_out else METAL)
        widths.append(times * (0.6 if not filled else 1.8 if out else 1.2 if face.known else 0.6))
    axes.add_collection(PolyCollection(outlines, facecolors=fills, edgecolors=INK, linewidths=widths, zorder=2), autolim=False)


def bounds(painted: Sequence[Face]) -> tuple[np.ndarray, np.ndarray]:
    """Least and greatest place of a view, m."""
    return np.min([face.outline.min(axis=0) for face in painted], axis=0), np.max(
        [face.outline.max(axis=0) for face in painted], axis=0
    )


#: what the side view leaves out, and the end view, which looks from the carriage to the headstock
_NOT_BESIDE = ("bench", "controller")
_NOT_AT_END = (
    *_NOT_BESIDE,
    "motor",
    "motor mount",
    "belt",
    "driving pulley",
    "countershaft",
    "tailstock",
    "barrel",
    "centre",
    "tailstock screw",
    "clamp of the tailstock",
    "back gear",
    "spindle pulley",
    "banjo",
    "change gears",
    "feed motor",
)


def _side_view(e: Evaluation, axes: Axes, arrangement: Arrangement, works: Mapping[str, tuple[Job, bool, str, str]]) -> None:
    s, painted = arrangement.sizes, faces(arrangement, VIEWS["front"], _NOT_BESIDE)
    high, low = s.centre_height, bounds(painted)[0]
    work = works.get("longest job")
    most = bounds(painted)[1]
    end = max(most[0], s.point + work[0].length) if work else most[0]
    per_point = to_scale(axes, (low[0], low[1]), (end, most[1]), (8, 26, 92, 24))
    paint_faces(axes, painted)
    # the longest job between the centres
    if work:
        job, fits, *_ = work
        box(
            axes,
            s.point,
            high - job.diameter / 2,
            s.point + job.length,
            high + job.diameter / 2,
            zorder=4,
            **(_WORK if fits else _MISFIT),
        )
    # centre line, dimensions, names
    axes.plot([low[0], end + 20 * per_point], [high, high], color=MUTED, lw=1, ls=(0, (12, 3, 2, 3)), zorder=6)
    ways = end + 14 * per_point
    axes.plot([s.bed_end, ways + 6 * per_point], [0, 0], color=MUTED, lw=1)
    dimension(axes, (ways, 0), (ways, high), f"centre\nheight\n{e.shown('centre_height')}", per_point)
    below = axes.get_ylim()[0] + 12 * per_point
    for x in (s.point, s.tail_point):
        axes.plot([x, x], [below - 6 * per_point, high], color=MUTED, lw=1, zorder=6)
    dimension(axes, (s.point, below), (s.tail_point, below), f"between centres {e.shown('between_centres')}", per_point)
    if (s.point - axes.get_xlim()[0]) / per_point > 150:
        scale_bar(axes, e, axes.get_xlim()[0] + 4 * per_point, below, per_point, 80)
    names = {"headstock": "headstock", "chuck": "chuck", "carriage": "toolpost", "tailstock": "tailstock"}
    spots = {}
    for name, part in names.items():
        (left, _, _), (right, _, up) = arrangement.extent(part)
        spots[name] = ((left + right) / 2, up)
    top = axes.get_ylim()[1] - 9 * per_point
    left, right = axes.get_xlim()
    places = parted([x for x, _ in spots.values()], [(text_size(name)[0] + 14) * per_point for name in spots], left, right)
    for (name, (x, y)), place in zip(spots.items(), places):
        axes.text(place, top, name, ha="center", va="center")
        axes.plot([place, x], [top - 9 * per_point, y], color=MUTED, lw=0.8, zorder=6)


def _end_view(
    e: Evaluation, axes: Axes, arrangement: Arrangement, works: Mapping[str, tuple[Job, bool, str, str]]
) -> dict[str, tuple[float, float]]:
    """Draws it; gives for each circle a point on it, in points on the figure."""
    high, over_slide = arrangement.sizes.centre_height, middle(e, "swing_over_slide")
    painted = faces(arrangement, VIEWS["from the tailstock"], _NOT_AT_END)
    low, most = bounds(painted)
    widest = max([2 * high] + [works[what][0].diameter for what in ("largest disc", "largest shaft") if what in works])
    per_point = to_scale(
        axes, (min(low[0], -widest / 2), low[1]), (max(most[0], widest / 2), max(most[1], high + widest / 2)), (6, 26, 6, 4)
    )
    paint_faces(axes, painted)
    circles = {"swing over bed": 2 * high, "swing over slide": over_slide}
    disc(axes, 0, high, 2 * high, facecolor="none", linewidth=1.6, zorder=4)
    disc(axes, 0, high, over_slide, facecolor="none", linewidth=1.6, linestyle=":", zorder=4)
    for what in ("largest disc", "largest shaft"):
        if what in works:
            job, fits, *_ = works[what]
            disc(axes, 0, high, job.diameter, zorder=4, **(_WORK if fits else _MISFIT))
            circles[what] = job.diameter
    axes.plot([-0.12 * high, 0.12 * high], [high, high], color=MUTED, lw=1)
    axes.plot([0, 0], [0.88 * high, 1.12 * high], color=MUTED, lw=1)
    scale_bar(axes, e, axes.get_xlim()[0] + 8 * per_point, axes.get_ylim()[0] + 12 * per_point, per_point, 80)
    angles = np.radians([62, 28, 8, -14])
    return {
        name: tuple(axes.transData.transform((size / 2 * np.cos(angle), high + size / 2 * np.sin(angle))))
        for (name, size), angle in zip(circles.items(), angles)
    }


def _list(
    e: Evaluation,
    view: Axes,
    axes: Axes,
    circles: Mapping[str, tuple[float, float]],
    works: Mapping[str, tuple[Job, bool, str, str]],
) -> None:
    """Names of the circles beside the end view, with leaders, and whether the jobs fit."""
    axes.set_axis_off()
    left, bottom, wide, tall = axes.bbox.bounds
    axes.set_xlim(0, wide)
    axes.set_ylim(0, tall)
    said = {
        "swing over bed": f"swing over the bed {e.shown('swing_over_bed')}",
        "swing over slide": f"over the cross-slide {e.shown('swing_over_slide')}",
    }
    for what, (job, fits, yes, no) in works.items():
        size = job.length if what == "longest job" else job.diameter
        figure = shown(e, size, _MM).replace(" ", "\N{NO-BREAK SPACE}")
        said[what] = f"{'✓' if fits else '✗'} {what}: {job.name}, {figure}, {yes if fits else no}"
    y = tall - 4
    for what, words in said.items():
        bad = words.startswith("✗")
        weight = "bold" if bad else "normal"
        text = wrapped(words, wide - 26, weight=weight)
        height = text_size(text)[1]
        axes.text(20, y, text, ha="left", va="top", color=PALETTE["red"] if bad else INK, weight=weight, linespacing=1.2)
        if what in circles:
            x1, y1 = circles[what]
            axes.plot([x1 - left, 16], [y1 - bottom, y - FONT_SIZE * 0.6], color=MUTED, lw=0.8, clip_on=False)
        y -= height + 7
