"""Bed, ways, ribs, feet and bench of the arrangement."""

from __future__ import annotations

import numpy as np

from ...machine.bed_forms import RIB_SHARE
from .sizes import Sizes
from .solids import Solid, box, cylinder, prism


def _tube(s: Sizes, part: str, top: float, floor: bool = True) -> list[Solid]:
    """A rectangular tube as four walls, mitred so that no joint is seen along it; a channel where it has no floor."""
    along, half, low, t = (s.bed_start, s.bed_end), s.half, top - s.bed_height, s.wall
    inner, foot = half - t, low + t if floor else low
    walls = [[(-half, top), (-inner, top - t), (inner, top - t), (half, top)]]
    walls += [[(side * half, top), (side * half, low), (side * inner, foot), (side * inner, top - t)] for side in (-1, 1)]
    if floor:
        walls.append([(-half, low), (half, low), (inner, foot), (-inner, foot)])
    return [prism(part, 0, along, corners) for corners in walls]


def bed_solids(s: Sizes) -> list[Solid]:
    """Feet and bed, in whatever form."""
    along, h, t, half = (s.bed_start, s.bed_end), s.bed_height, s.wall, s.half
    form, top = s.bed_form, s.seat
    if form in ("closed box", "filled box", "profiled rails on a box"):
        bed = _tube(s, "bed", top)
        if form == "filled box":
            bed.append(box("fill of the bed", along, (-half + t, half - t), (-h + t, -t)))
    elif form == "channel":
        bed = _tube(s, "bed", top, floor=False)
    elif s.on_bars:
        bed = [cylinder("bed", 0, along, (side * s.bars_y, -h / 2), h) for side in (-1, 1)]
        if form == "round bars on a plate":
            bed.append(box("bed", along, (-half, half), (-h - s.bed_wall, -h)))
        else:  # blocks under the ends of the bars, clear of the shoes that run on them
            bed += [
                box(
                    "end blocks",
                    (end, end + side * min(0.2 * s.centre_height, 0.1 * s.bed_length)),
                    (-half, half),
                    (-h, -0.66 * h),
                    known=False,
                )
                for end, side in ((s.bed_start, 1), (s.bed_end, -1))
            ]
    elif s.on_rails:
        bed = [box("bed", along, sorted((side * half, side * (half - t))), (-h, 0)) for side in (-1, 1)]
        bed += _ribs(s)
    else:
        bed = [box("bed", along, (-half, half), (top - h, top))]
    return [*_feet(s), *bed]


def _ribs(s: Sizes) -> list[Solid]:
    """Between flat rails: end pieces, and ribs as the form has them."""
    t, h, inner, thick = s.wall, s.bed_height, s.half - s.wall, RIB_SHARE * s.wall
    ends = [
        box("ribs", (end, end + side * t), (-inner, inner), (-h, -0.1 * h), known=False)
        for end, side in ((s.bed_start, 1), (s.bed_end, -1))
    ]
    first, last = s.bed_start + t, s.bed_end - t
    if s.bed_form == "two flat rails":
        return ends
    pitch = 2 * inner + t  # one for every spacing of the rails
    if s.bed_form == "rails with cross ribs":
        places = np.arange(first + pitch - t, last - thick, pitch)
        return ends + [box("ribs", (x, x + thick), (-inner, inner), (-h, 0)) for x in places]
    ribs, x, up = ends, first, 1
    slant = thick / np.sqrt(2)  # half of what a rib at 45 degrees takes along the bed
    while x + 2 * inner + 2 * slant < last:
        low, high = (x + slant, x + slant + 2 * inner) if up > 0 else (x + slant + 2 * inner, x + slant)
        ribs.append(
            prism(
                "ribs", 2, (-h, 0), [(low - slant, -inner), (low + slant, -inner), (high + slant, inner), (high - slant, inner)]
            )
        )
        x, up = x + 2 * inner + 2 * slant, -up
    return ribs


def bench_below(s: Sizes, least: np.ndarray, most: np.ndarray) -> Solid:
    """The top of the bench, a little larger than what stands on it from ``least`` to ``most``."""
    beyond = 0.3 * s.centre_height
    return box(
        "bench",
        (least[0] - beyond, most[0] + beyond),
        (least[1] - beyond, most[1] + beyond),
        (s.bench - beyond, s.bench),
        known=False,
    )


def _feet(s: Sizes) -> list[Solid]:
    """As many feet as were decided, and what ties the sides of an open bed above them."""
    if not s.riser_height > 0:
        return []
    wide = 0.22 * s.bed_width
    beam = 0.35 * s.riser_height if s.open_below else 0.0
    found = [cylinder("feet", 2, (s.bench, s.under - beam), place, wide, known=False) for place in s.feet]
    if beam:
        for x in dict.fromkeys(x for x, _ in s.feet):
            found.append(box("feet", (x - wide / 2, x + wide / 2), (-s.half, s.half), (s.under - beam, s.under), known=False))
    if s.feet_kind == "four feet bolted down":
        found += [
            box(
                "feet",
                (x - wide, x + wide),
                (y - 0.6 * wide, y + 0.6 * wide),
                (s.bench, s.bench + 0.15 * s.riser_height),
                known=False,
            )
            for x, y in s.feet
        ]
    return found


def ways_solids(s: Sizes) -> list[Solid]:
    """What is worked on or screwed to the bed for slides to run on."""
    along, front = (s.bed_start, s.bed_end), s.head_front + 0.04 * s.centre_height
    if s.profiled and s.way_height > 0 and front < s.bed_end:
        wide = 1.1 * s.way_height
        return [
            box(
                "slideways",
                (front, s.bed_end),
                (side * s.bars_y - wide / 2, side * s.bars_y + wide / 2),
                (-s.way_height, -0.35 * s.way_height),
            )
            for side in (-1, 1)
        ]
    if s.on_bars or s.profiled:
        return []
    if s.slide_kind == "V ways":  # a ridge on each way, with its groove in whatever runs or stands on it
        wide = min(0.6 * s.way_width, 0.9 * s.wall if s.on_rails else s.half)
        high = min(0.35 * wide, 0.5 * s.saddle_top)
        return [
            prism("slideways", 0, along, [(y - wide / 2, 0), (y + wide / 2, 0), (y, high)], known=False)
            for y in (-s.ridge_y, s.ridge_y)
        ]
    return []


def shoes(s: Sizes, part: str, front: float, rear: float) -> list[Solid]:
    """What runs on round bars or profiled rails under a slide, down to below them."""
    if s.on_bars:
        deep, beside = 0.62 * s.bed_height, s.shoe
        found = []
        for side in (-1, 1):
            y, r = side * s.bars_y, s.bed_height / 2
            found += [
                box(part, (front, rear), sorted((y + one * r, y + one * (r + beside))), (-deep, 0.0), known=False)
                for one in (-1, 1)
                if abs(y + one * (r + beside)) >= beside
            ]
        return found
    if s.profiled and s.way_height > 0:
        h, wide = s.way_height, 1.1 * s.way_height
        found = []
        for side in (-1, 1):
            y = side * s.bars_y
            found.append(box(part, (front, rear), (y - s.shoe, y + s.shoe), (-0.35 * h, 0.0), known=False))
            found += [
                box(part, (front, rear), sorted((y + one * wide / 2, y + one * s.shoe)), (-0.8 * h, -0.35 * h), known=False)
                for one in (-1, 1)
            ]
        return found
    return []
