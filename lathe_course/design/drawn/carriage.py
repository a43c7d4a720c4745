"""Saddle, apron, slides, toolpost and what drives the carriage along."""

from __future__ import annotations

from ..chapters.parting import WAITING
from .bed import shoes
from .headstock import feed_end
from .sizes import Sizes
from .solids import Solid, box, cylinder, prism


def carriage_solids(s: Sizes) -> list[Solid]:
    """All that moves along the bed with the tool, and its leadscrew."""
    return [*_saddle(s), *_cross_slide(s), *_top(s), *_rear_post(s), *_apron(s), *_leadscrew(s)]


def _ends(s: Sizes, share: float = 1.0) -> tuple[float, float]:
    return s.saddle_middle - share * s.saddle_length / 2, s.saddle_middle + share * s.saddle_length / 2


def _saddle(s: Sizes) -> list[Solid]:
    ends, side = _ends(s), s.half + s.lip
    found = [box("saddle", ends, (-side, side), (0.0, s.saddle_top)), *shoes(s, "saddle", *ends)]
    if not s.on_bars and not s.profiled:  # keep plates and gibs beside the bed
        deep = 0.6 * (
            s.wall if s.bed_form in ("channel", "closed box", "filled box") else min(s.bed_height, 0.3 * s.centre_height)
        )
        deep = max(deep, 0.06 * s.centre_height)
        if s.slide_kind == "dovetail":  # the undercut is seen at the end of the saddle
            found += [
                prism(
                    "saddle",
                    0,
                    ends,
                    [(one * s.half, 0), (one * side, 0), (one * side, -deep), (one * (s.half + 0.35 * s.lip), -deep)][::one],
                    known=False,
                )
                for one in (-1, 1)
            ]
        else:
            found += [box("saddle", ends, sorted((one * s.half, one * side)), (-deep, 0.0), known=False) for one in (-1, 1)]
    # the dovetail on which the cross-slide runs, as long as what guides it and as wide as leaves room for the gib
    wide, rise = _dovetail(s)
    y = _slide_y(s)
    ends = (max(y[0], -side), min(y[1], side))
    if ends[0] < ends[1]:
        x = s.saddle_middle
        found.append(
            prism(
                "saddle",
                1,
                ends,
                [
                    (x - 0.5 * wide + 0.3 * rise, s.saddle_top),
                    (x + 0.5 * wide - 0.3 * rise, s.saddle_top),
                    (x + 0.5 * wide, s.saddle_top + rise),
                    (x - 0.5 * wide, s.saddle_top + rise),
                ],
                known=False,
            )
        )
    return found


def _dovetail(s: Sizes) -> tuple[float, float]:
    """Width at its top and height of the dovetail under the cross-slide."""
    return 0.34 * s.saddle_length, 0.45 * (s.slide_height - s.saddle_top)


def _wheel(s: Sizes) -> tuple[float, float]:
    """Height and diameter of the handwheel of the cross screw."""
    return (s.saddle_top + _dovetail(s)[1] + s.slide_height) / 2, max(1.3 * s.dial_diameter, 0.55 * s.centre_height)


def _post_half(s: Sizes) -> float:
    return 1.4 * s.tool_shank


def _slide_y(s: Sizes) -> tuple[float, float]:
    """Front and rear end of the cross-slide: its middle under the toolpost."""
    middle = s.tip[1] - s.tool_overhang - _post_half(s)
    return middle - s.cross_slide_length / 2, middle + s.cross_slide_length / 2


def _cross_slide(s: Sizes) -> list[Solid]:
    """Two cheeks and a top over the dovetail, the gib on one side, and at the front its screw with the dial."""
    (front, rear), x, (wide, rise) = _slide_y(s), s.saddle_middle, _dovetail(s)
    low, over, half = s.saddle_top, s.saddle_top + rise, 0.31 * s.saddle_length
    y, gib = (front, rear), min(s.gib_thickness, 0.5 * (half - wide / 2))
    slant = 0.3 * rise
    left = x - wide / 2
    found = [
        box("cross-slide", (x - half, x + half), y, (over, s.slide_height)),
        prism("cross-slide", 1, y, [(x - half, low), (left + slant - gib, low), (left - gib, over), (x - half, over)]),
        prism("cross-slide", 1, y, [(x + wide / 2 - slant, low), (x + half, low), (x + half, over), (x + wide / 2, over)]),
        prism("gib", 1, y, [(left + slant - gib, low), (left + slant, low), (left, over), (left - gib, over)]),
    ]
    # the screw comes out at the front of the slide, in front of the apron
    high, wheel = _wheel(s)
    radius = max(s.dial_diameter, wheel) / 2
    outside = min(front, _apron_front(s) if high - radius < s.saddle_top else front)
    plate = outside - 0.05 * s.centre_height
    dial = 0.18 * s.dial_diameter
    found += [
        cylinder(
            "cross screw",
            1,
            (plate - dial - 0.15 * s.centre_height, min(rear, front + 0.5 * s.cross_slide_length)),
            (x, high),
            min(s.cross_screw_diameter, 0.9 * (s.slide_height - over)),
        ),
        box("cross-slide", (x - 0.6 * half, x + 0.6 * half), (plate, front), (over, s.slide_height), known=False),
        cylinder("dial", 1, (plate - dial, plate), (x, high), s.dial_diameter),
        cylinder("handwheels", 1, (plate - dial - 0.1 * s.centre_height, plate - dial), (x, high), wheel, known=False),
    ]
    return found


def _top(s: Sizes) -> list[Solid]:
    """Topslide or block, toolpost with its screws, and the tool."""
    tip, half, x = s.tip, _post_half(s), s.tip[0]
    y = (tip[1] - s.tool_overhang - 2 * half, tip[1] - s.tool_overhang)
    middle, low, high = sum(y) / 2, s.slide_height, s.slide_height + s.top_height
    right = max(s.saddle_middle + 0.31 * s.saddle_length, x + 1.3 * half)
    if s.top_of_slide == "topslide":
        swivel = low + 0.4 * s.top_height
        centre = (x + s.saddle_middle) / 2
        found = [
            cylinder("topslide", 2, (low, swivel), (centre, middle), 2.3 * half, known=False),
            box("topslide", (x - half, right), (middle - 0.8 * half, middle + 0.8 * half), (swivel, high)),
            cylinder(
                "topslide", 0, (right, right + 0.7 * half), (middle, (swivel + high) / 2), 0.35 * (high - swivel), known=False
            ),
            cylinder("handwheels", 0, (right + 0.7 * half, right + half), (middle, (swivel + high) / 2), 1.6 * half, known=False),
        ]
        if (swivel + high) / 2 - 0.8 * half < low:  # the crank turns beside the cross-slide, not in it
            found = [
                one
                if one.part != "handwheels"
                else cylinder(
                    "handwheels",
                    0,
                    (one.low, one.high),
                    (middle, (swivel + high) / 2),
                    max(1.9 * ((swivel + high) / 2 - low), 0.4 * half),
                    known=False,
                )
                for one in found
            ]
    else:
        found = [box("solid block", (x - 1.1 * half, right), (middle - half, middle + half), (low, high))]
    found += _post(s, (x, middle), y, high)
    shank = s.tool_shank
    found += [
        box(
            "tool", (x - shank / 2, x + shank / 2), (y[0] + 0.3 * half, tip[1] - 0.6 * s.tool_overhang), (tip[2] - shank, tip[2])
        ),
        prism(
            "tool",
            2,
            (tip[2] - shank, tip[2]),
            [
                (x - shank / 2, tip[1] - 0.6 * s.tool_overhang),
                (x + shank / 2, tip[1] - 0.6 * s.tool_overhang),
                (x - 0.3 * shank, tip[1]),
            ],
        ),
    ]
    return found


def _post(s: Sizes, middle: tuple[float, float], y: tuple[float, float], high: float) -> list[Solid]:
    """The toolpost by its kind: what lies under the tool first, then what clamps it."""
    x, half, tip, shank = middle[0], _post_half(s), s.tip[2], s.tool_shank
    seat = high + s.toolpost_floor + s.tool_packing
    sides, over = (x - half, x + half), tip + 0.5 * shank
    found = [box("toolpost", sides, y, (high, seat))]
    if s.toolpost_kind == "clamp and shims":  # a bar over the tool that stands on its heel, and one stud
        found += [
            box("toolpost", (x - 0.8 * half, x + 0.8 * half), (y[0], y[0] + 0.3 * half), (seat, tip), known=False),
            box("toolpost", (x - 0.8 * half, x + 0.8 * half), y, (tip, over), known=False),
            cylinder("toolpost", 2, (over, over + 0.9 * shank), middle, 0.8 * shank, known=False),
        ]
    elif s.toolpost_kind == "quick-change post":  # a post behind, a holder before it with its height screw, a handle
        found += [
            box("toolpost", sides, (y[0], y[0] + 0.9 * half), (seat, over), known=False),
            box("toolpost", (x - 0.7 * half, x + 0.7 * half), (y[0] + 0.9 * half, y[1]), (tip, over), known=False),
            cylinder("toolpost", 2, (over, over + 1.2 * shank), (x, y[1] - 0.4 * half), 0.3 * shank, known=False),
            cylinder("toolpost", 2, (over, over + 0.5 * shank), (x, y[0] + 0.45 * half), 0.8 * half, known=False),
            cylinder("toolpost", 0, (x, x + 2.2 * half), (y[0] + 0.45 * half, over + 0.35 * shank), 0.25 * shank, known=False),
        ]
    else:
        found += [
            box("toolpost", sides, y, (tip, over), known=False),
            box("toolpost", sides, (y[0] + 0.9 * half, y[1] - 0.9 * half), (seat, tip), known=False),
            *(
                cylinder(
                    "toolpost",
                    2,
                    (over, over + 0.6 * shank),
                    (x + one * 0.6 * half, middle[1] + other * 0.6 * half),
                    0.5 * shank,
                    known=False,
                )
                for one in (-1, 1)
                for other in (-1, 1)
            ),
        ]
    return found


def _rear_post(s: Sizes) -> list[Solid]:
    """The toolpost behind the work, with the blade upside down: its edge at centre height, its back above."""
    if not s.has("rear toolpost"):
        return []
    x, shank, over = s.tip[0], s.tool_shank, s.centre_height + s.blade_height
    edge = s.tip[1] + s.parting_diameter + WAITING
    face = edge + s.parting_reach
    back = face + 1.5 * shank
    return [
        box("rear toolpost", (x - 1.2 * shank, x + 1.2 * shank), (face, back), (s.slide_height, over + 0.3 * shank), known=False),
        cylinder("rear toolpost", 2, (over + 0.3 * shank, over + 0.8 * shank), (x, (face + back) / 2), 0.7 * shank, known=False),
        box(
            "parting blade",
            (x - s.parting_width / 2, x + s.parting_width / 2),
            (edge, back - 0.2 * shank),
            (s.centre_height, over),
        ),
    ]


# --- apron and leadscrew --------------------------------------------------------------------------------
def _apron_back(s: Sizes) -> float:
    return -(s.half + s.lip)


def _apron_front(s: Sizes) -> float:
    """In front of the leadscrew where that runs in front of the bed."""
    thick = 0.28 * s.centre_height
    back = _apron_back(s)
    if s.screw_y < -s.half:
        return min(back - thick, s.screw_y - s.leadscrew_diameter - 0.13 * s.centre_height)
    return back - thick


def _apron(s: Sizes) -> list[Solid]:
    """A plate in front of the saddle, down past the leadscrew, with its handwheel."""
    ends, front, high = _ends(s, 0.84), _apron_front(s), s.centre_height
    thick = 0.12 * high
    low = max(-max(0.8 * high, -s.screw_z + 1.2 * s.leadscrew_diameter), s.bench + 0.05 * high)
    plate = (front, front + thick)
    found = [
        box("apron", ends, plate, (low, s.saddle_top), known=False),
        box("apron", ends, (front + thick, _apron_back(s)), (0.25 * s.saddle_top, s.saddle_top), known=False),
    ]
    x, y, top = (
        s.saddle_middle - 0.2 * s.saddle_length,
        (front - 0.14 * high, front),
        min(_wheel(s)[0] - _wheel(s)[1] / 2, 0.0) - 0.03 * high,
    )
    wheel = max(min(0.7 * high, 0.5 * s.saddle_length, 0.95 * (top - low)), 0.1 * high)
    z = top - wheel / 2
    found += [
        cylinder("handwheels", 1, y, (x, z), wheel, known=False),
        cylinder("handwheels", 1, (front - 0.4 * high, front - 0.14 * high), (x - 0.36 * wheel, z), 0.1 * high, known=False),
    ]
    return found


def _leadscrew(s: Sizes) -> list[Solid]:
    """The screw with its half nuts, between brackets as far apart as its free length; and what turns it."""
    if not s.has("leadscrew"):
        return []
    y, z, d, high = s.screw_y, s.screw_z, s.leadscrew_diameter, s.centre_height
    in_front = y + d / 2 < -s.half
    wide = 0.16 * high
    end = s.bed_end - wide if s.on_bars else min(s.head_front + s.leadscrew_length, s.bed_end - wide)
    start = s.bed_start + wide if s.on_bars else max(end - s.leadscrew_length, s.bed_start + wide)
    rear = feed_end(s) if s.has("gear banjo", "feed motor and its control") else start - wide
    found = [cylinder("leadscrew", 0, (rear, end + wide), (y, z), d)]
    for x in (start - wide, end):
        if in_front:
            hub, arm = (z - 0.9 * d, z + 0.9 * d), (z - 0.9 * d, z + 0.9 * d)
            if s.on_bars:  # below the shoes to the block or plate that holds the bars
                hub, arm = (
                    (min(hub[0], -s.bed_depth), hub[1]),
                    (
                        -s.bed_depth,
                        max(-0.66 * s.bed_height, 0.3 * s.bed_height - s.bed_depth)
                        if s.bed_form == "two round bars"
                        else -s.bed_height,
                    ),
                )
            found += [
                box("leadscrew brackets", (x, x + wide), (y - 0.9 * d, min(y + 0.9 * d, -s.half)), hub, known=False),
                box("leadscrew brackets", (x, x + wide), (min(y + 0.9 * d, -s.half - 1e-3), -s.half), arm, known=False),
            ]
        else:
            found.append(
                box("leadscrew brackets", (x, x + wide), (y - 0.9 * d, y + 0.9 * d), (z - 0.9 * d, z + 0.9 * d), known=False)
            )
            reach = s.half - s.wall if s.on_rails else s.bars_y - 0.4 * s.bed_height if s.on_bars else s.half
            found += [
                box(
                    "leadscrew brackets",
                    (x, x + wide),
                    sorted((y + one * 0.9 * d, one * reach)),
                    (z - 0.5 * d, z + 0.5 * d),
                    known=False,
                )
                for one in (-1, 1)
                if one * reach * one > one * y + 0.9 * d
            ]
    if s.has("half nuts"):
        x, long = s.saddle_middle + 0.15 * s.saddle_length, min(0.3 * s.saddle_length, 3 * d)
        if in_front:  # behind the plate of the apron
            found.append(
                box(
                    "half nuts",
                    (x - long / 2, x + long / 2),
                    (_apron_front(s) + 0.12 * high, min(y + 0.9 * d, -s.half - 1e-3)),
                    (z - 0.9 * d, z + 0.9 * d),
                    known=False,
                )
            )
        else:  # hung from the saddle
            found.append(
                box("half nuts", (x - long / 2, x + long / 2), (y - 0.9 * d, y + 0.9 * d), (z - 0.9 * d, 0.0), known=False)
            )
    return found
