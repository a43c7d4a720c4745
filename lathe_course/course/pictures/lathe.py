"""The lathe that the decisions describe, from the side and from the end, to scale."""
from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes

from ...design.evaluation import Evaluation
from ...design.jobs import Job
from ...units import Length
from .axes import middle, parted, shown, text_size, wrapped
from .bed_shapes import paint, pieces, total_height
from .drawing import box, dimension, disc, scale_bar, shape, to_scale
from .register import picture
from .style import FONT_SIZE, HATCH, INK, MUTED, PALETTE

_MM = Length("mm")
_WORK = {"facecolor": "none", "edgecolor": PALETTE["blue"], "linestyle": "--", "linewidth": 2}
_MISFIT = {"facecolor": "none", "edgecolor": PALETTE["red"], "linestyle": "--", "linewidth": 2, "hatch": HATCH["no"]}


@dataclass(frozen=True)
class _Line:
    """Places along the bed in metres, from the rear end of the headstock."""

    head: float             # length of the headstock
    nose: float
    chuck_end: float
    point: float            # of the centre in the headstock
    tail_point: float
    tail_end: float
    cut: float
    bed_start: float
    bed_end: float

    @classmethod
    def of(cls, e: Evaluation) -> _Line:
        """Bearings, overhang and centres from the decisions; what nobody decided in proportion to the centre height."""
        high, reach = middle(e, "centre_height"), middle(e, "cut_reach")
        seat = 0.25 * high                                       # half the length of a bearing seat and its cover
        front = seat + middle(e, "bearing_span")
        nose = front + middle(e, "spindle_overhang")
        head = min(front + seat, nose)
        point = nose + 0.45 * high
        tail_point = point + middle(e, "between_centres")
        tail_end = tail_point + 1.7 * high
        bed_stop = tail_end + 0.1 * high
        return cls(head, nose, nose + 0.75 * reach, point, tail_point, tail_end, nose + reach,
                   min(bed_stop - middle(e, "bed_length"), 0.3 * head), bed_stop)


def _largest(jobs: list[Job], field: str) -> Job | None:
    return max(jobs, key=lambda job: getattr(job, field), default=None)


def _works(e: Evaluation) -> dict[str, tuple[Job, bool, str, str]]:
    """Disc, shaft and longest piece of the list: the job, whether it fits, and in words what it must clear or not."""
    jobs = list(e["jobs"])
    shafts = [job for job in jobs if not job.is_disc]
    found = {"largest disc": (_largest([job for job in jobs if job.is_disc], "diameter"), "disc_clears_bed", "clears the bed", "hits the bed"),
             "largest shaft": (_largest(shafts, "diameter"), "shaft_clears_slide", "clears the cross-slide", "hits the cross-slide"),
             "longest job": (_largest(jobs, "length"), "length_suffices", "goes between the centres", "is too long")}
    return {what: (job, e.findings[finding].status != "fails", yes, no) for what, (job, finding, yes, no) in found.items() if job}


def _words(e: Evaluation) -> str:
    told = [f"Side and end view of the lathe, to scale: centre height {e.shown('centre_height')}, {e.shown('between_centres')} between centres, "
            f"{e.shown('swing_over_bed')} swing over the bed and {e.shown('swing_over_slide')} over the cross-slide, "
            f"on a bed of the form {e['bed_form']}, {e.shown('bed_width')} wide and {e.shown('bed_height')} high."]
    for what, (job, fits, yes, no) in _works(e).items():
        size = job.length if what == "longest job" else job.diameter
        told.append(f"The {what}, {job.name} of {shown(e, size, _MM)}, {yes if fits else no}.")
    return " ".join(told)


@picture("The lathe your decisions describe, drawn to scale", _words, height=5.6,
         panels=((0.01, 0.52, 0.98, 0.47), (0.01, 0.01, 0.46, 0.49), (0.49, 0.01, 0.50, 0.49)))
def lathe_to_scale(e: Evaluation, axes: tuple[Axes, Axes, Axes]) -> None:
    """Side view, end view, and what of the jobs fits."""
    works = _works(e)
    _side_view(e, axes[0], works)
    circles = _end_view(e, axes[1], works)
    _list(e, axes[1], axes[2], circles, works)


def _bed_below(e: Evaluation) -> float:
    """From the ways down to the underside of the bed, m."""
    return total_height(e["bed_form"], middle(e, "bed_height"), middle(e, "bed_wall"), middle(e, "way_height"))


def _side_view(e: Evaluation, axes: Axes, works: Mapping[str, tuple[Job, bool, str, str]]) -> None:
    at = _Line.of(e)
    high, slide, bed = middle(e, "centre_height"), middle(e, "slide_height"), _bed_below(e)
    work = works.get("longest job")
    end = max(at.bed_end, at.point + work[0].length) if work else at.bed_end
    per_point = to_scale(axes, (min(at.bed_start, 0.0), -max(bed, 0.5 * high)), (end, 1.6 * high), (8, 26, 92, 24))
    # bed, headstock, tailstock
    box(axes, at.bed_start, -bed, at.bed_end, 0)
    if e["bed_form"] in ("two round bars", "two flat rails"):
        for end in (at.bed_start, at.bed_end):
            box(axes, end - 0.08 * high, -bed * 1.15, end + 0.08 * high, 0)
    box(axes, 0, 0, at.head, high + max(0.75 * middle(e, "spindle_diameter"), 0.3 * high))
    box(axes, at.tail_point + 0.85 * high, 0, at.tail_end, 1.3 * high)
    barrel = 0.17 * high
    box(axes, at.tail_point + 0.3 * high, high - barrel, at.tail_point + 0.85 * high, high + barrel)
    shape(axes, [(at.tail_point, high), (at.tail_point + 0.3 * high, high + 0.1 * high), (at.tail_point + 0.3 * high, high - 0.1 * high)])
    # spindle nose and chuck; the centre in the headstock stands behind the chuck
    radius, chuck = middle(e, "spindle_diameter") / 2, 0.58 * high
    box(axes, at.head, high - radius, at.nose, high + radius)
    box(axes, at.nose, high - chuck, at.chuck_end, high + chuck)
    for low, top in ((0.25, 0.5), (-0.5, -0.25)):
        box(axes, at.chuck_end, high + low * high, at.chuck_end + 0.15 * high, high + top * high)
    # the longest job between the centres
    if work:
        job, fits, *_ = work
        box(axes, at.point, high - job.diameter / 2, at.point + job.length, high + job.diameter / 2, zorder=4, **(_WORK if fits else _MISFIT))
    # carriage, cross-slide, toolpost
    middle_x, half = at.cut + 0.45 * high, 0.6 * high
    box(axes, middle_x - half, -0.45 * high, middle_x + half, 0.45 * slide, zorder=5)
    box(axes, middle_x - 0.6 * half, 0.45 * slide, middle_x + 0.6 * half, slide, zorder=5)
    box(axes, middle_x - 0.35 * half, slide, middle_x + 0.35 * half, max(high * 1.08, slide + 0.2 * high), zorder=5)
    # centre line, dimensions, names
    axes.plot([-0.1 * high, end + 20 * per_point], [high, high], color=MUTED, lw=1, ls=(0, (12, 3, 2, 3)), zorder=6)
    ways = end + 14 * per_point
    axes.plot([at.bed_end, ways + 6 * per_point], [0, 0], color=MUTED, lw=1)
    dimension(axes, (ways, 0), (ways, high), f"centre\nheight\n{e.shown('centre_height')}", per_point)
    below = axes.get_ylim()[0] + 12 * per_point
    for x in (at.point, at.tail_point):
        axes.plot([x, x], [below - 6 * per_point, high], color=MUTED, lw=1, zorder=6)
    dimension(axes, (at.point, below), (at.tail_point, below), f"between centres {e.shown('between_centres')}", per_point)
    if at.point / per_point > 150:
        scale_bar(axes, e, axes.get_xlim()[0] + 4 * per_point, below, per_point, 80)
    names = {"headstock": (at.head * 0.45, high * 1.2), "chuck": ((at.nose + at.chuck_end) / 2, high + chuck),
             "carriage": (middle_x, high * 1.08), "tailstock": (at.tail_end - 0.4 * high, 1.3 * high)}
    top = axes.get_ylim()[1] - 9 * per_point
    left, right = axes.get_xlim()
    places = parted([x for x, _ in names.values()], [(text_size(name)[0] + 14) * per_point for name in names], left, right)
    for (name, (x, y)), place in zip(names.items(), places):
        axes.text(place, top, name, ha="center", va="center")
        axes.plot([place, x], [top - 9 * per_point, y], color=MUTED, lw=0.8, zorder=6)


def _end_view(e: Evaluation, axes: Axes, works: Mapping[str, tuple[Job, bool, str, str]]) -> dict[str, tuple[float, float]]:
    """Draws it; gives for each circle a point on it, in points on the figure."""
    high, slide, width = (middle(e, name) for name in ("centre_height", "slide_height", "bed_width"))
    bed = _bed_below(e)
    over_slide = middle(e, "swing_over_slide")
    widest = max([2 * high] + [works[what][0].diameter for what in ("largest disc", "largest shaft") if what in works])
    saddle = 0.5 * max(width * 1.15, 0.9 * high)
    side = max(widest / 2, saddle)
    per_point = to_scale(axes, (-side, -max(bed, 0.3 * high)), (side, high + widest / 2), (6, 26, 6, 4))
    paint(axes, pieces(e["bed_form"], width, middle(e, "bed_height"), middle(e, "bed_wall"), middle(e, "way_height")))
    box(axes, -saddle, 0, saddle, 0.45 * slide)
    box(axes, -saddle * 0.95, 0.45 * slide, saddle * 0.95, slide)
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
    return {name: tuple(axes.transData.transform((size / 2 * np.cos(angle), high + size / 2 * np.sin(angle))))
            for (name, size), angle in zip(circles.items(), angles)}


def _list(e: Evaluation, view: Axes, axes: Axes, circles: Mapping[str, tuple[float, float]],
          works: Mapping[str, tuple[Job, bool, str, str]]) -> None:
    """Names of the circles beside the end view, with leaders, and whether the jobs fit."""
    axes.set_axis_off()
    left, bottom, wide, tall = axes.bbox.bounds
    axes.set_xlim(0, wide)
    axes.set_ylim(0, tall)
    said = {"swing over bed": f"swing over the bed {e.shown('swing_over_bed')}",
            "swing over slide": f"over the cross-slide {e.shown('swing_over_slide')}"}
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
