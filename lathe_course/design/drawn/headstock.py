"""Headstock, spindle, bearings, back gear and chuck of the arrangement."""

from __future__ import annotations

import numpy as np

from .sizes import Sizes
from .solids import Solid, arm, box, cylinder, prism


def pulley_steps(s: Sizes) -> list[tuple[float, float, float, float]]:
    """For each step of the belt: where it begins and ends along the spindle, and the diameters of driven and driving pulley.

    The slowest step, which pulls hardest, sits next to the headstock; the others stand behind it.
    """
    wide = s.pulley_stack / s.belt_step_count
    at = s.rear_bearing - s.pulley_overhang
    pulleys = s.figures["belt_pulleys"]
    found = []
    for number in range(int(s.belt_step_count)):
        driven, driving = float(pulleys["driven"][number]), float(pulleys["driving"][number])
        middle = at - number * wide
        found.append((middle - wide / 2, middle + wide / 2, driven, driving))
    return found


def bearing_cover(s: Sizes) -> float:
    """Diameter of a bearing's cover: within the headstock, and clear of the bed."""
    return min(1.25 * s.bearing_outside, 2 * (s.head_top - s.centre_height), 2 * s.head_half, 1.96 * s.centre_height)


def spindle_end(s: Sizes) -> float:
    """Rear end of the spindle."""
    return -s.spindle_length


def feed_end(s: Sizes) -> float:
    """Rear end of the leadscrew, where wheels or a motor turn it: behind the bed and the steps of the pulley."""
    return min(s.bed_start, s.head_rear, pulley_steps(s)[-1][0]) - 0.3 * s.centre_height


def headstock_solids(s: Sizes) -> list[Solid]:
    """From the bed up to the work."""
    return [*_body(s), *_spindle(s), *_back_gear(s), *_chuck(s)]


def _body(s: Sizes) -> list[Solid]:
    wide, foot = (-s.head_half, s.head_half), []
    if s.head_half < s.half:  # a foot as wide as the bed
        foot = [
            box(
                "headstock",
                (s.head_rear, s.head_front),
                (-s.half, s.half),
                (s.seat, s.seat + 0.14 * s.centre_height),
                known=False,
            )
        ]
    return [*foot, box("headstock", (s.head_rear, s.head_front), wide, (s.seat, s.head_top))]


def _spindle(s: Sizes) -> list[Solid]:
    axis, high = (0.0, s.centre_height), s.centre_height
    found = [cylinder("spindle", 0, (spindle_end(s), 0.0), axis, s.spindle_diameter)]
    for x in (s.rear_bearing, s.front_bearing):
        found.append(cylinder("bearings", 0, (x - s.bearing_width / 2, x + s.bearing_width / 2), axis, s.bearing_outside))
    cover, thick = bearing_cover(s), s.bearing_end - s.wall_beside
    outside = [(s.head_front, min(s.head_front + thick, 0.0), 1)]
    room = s.head_rear - pulley_steps(s)[0][1]
    outside.append((s.head_rear, s.head_rear - min(thick, max(room, 0.0)), -1))
    for face, end, side in outside:
        if (end - face) * side > 1e-4:
            found.append(cylinder("bearing covers", 0, (face, end), axis, cover, known=False))
    for begin, end, driven, _ in pulley_steps(s):
        if driven > 0:
            found.append(cylinder("spindle pulley", 0, (begin, end), axis, driven))
    last = min(begin for begin, *_ in pulley_steps(s))
    if last - 0.1 * high > spindle_end(s):
        found.append(cylinder("spindle nut", 0, (last - 0.1 * high, last), axis, 1.35 * s.spindle_diameter, known=False))
    return found


def _back_gear(s: Sizes) -> list[Solid]:
    """Two pairs of wheels over a shaft in front above the spindle, behind the pulley; each pair gives the root of the ratio."""
    if not s.has("back gear"):
        return []
    high, step = s.centre_height, np.sqrt(s.back_gear_ratio)
    last = min(begin for begin, *_ in pulley_steps(s)) - 0.1 * high
    room = last - spindle_end(s)
    wide = 0.16 * room
    shaft = 0.3 * s.spindle_diameter  # runs past the pulley to the headstock
    apart = max(
        0.62 * s.spindle_diameter * (1 + step), s.largest_driven / 2 + 0.03 * high + 0.6 * shaft
    )  # past the belt on its pulley
    small = apart / (1 + step)  # radius of the smaller wheel
    y, z = -apart * np.sin(0.7), high + apart * np.cos(0.7)
    found = []
    for place, mine, other in ((last - 1.3 * wide, small, apart - small), (last - 2.5 * wide, apart - small, small)):
        found.append(cylinder("back gear", 0, (place, place + wide), (0.0, high), 2 * mine, known=False))
        found.append(cylinder("back gear", 0, (place, place + wide), (y, z), 2 * other, known=False))
    found.append(cylinder("back gear", 0, (last - 2.5 * wide, s.head_rear), (y, z), shaft, known=False))
    # its bearing, on an arm of the headstock where it lies beside that
    place = np.array([y, z])
    near = np.clip(place, (-0.9 * s.head_half, s.seat + 0.3 * high), (0.9 * s.head_half, s.head_top - 0.06 * high))
    out = place - near if np.linalg.norm(place - near) > 1e-6 else np.array([0.0, 1.0])
    return [
        *found,
        arm("back gear", (s.head_rear, s.head_rear + 0.1 * high), near, place + shaft * out / np.linalg.norm(out), 2 * shaft),
    ]


def _nose(s: Sizes, thick: float, plate: float) -> list[Solid]:
    """What holds the backplate on the spindle, as far as it is seen: flange, screws of the lock, or the end of the drawbar."""
    axis, high = (0.0, s.centre_height), s.centre_height
    if s.has("spindle flange"):
        room = s.spindle_overhang - s.bearing_end  # before the cover of the front bearing
        deep = min(0.3 * s.spindle_overhang, max(0.7 * room, s.nose_room - s.bearing_end))
        return [cylinder("spindle flange", 0, (-deep, 0.0), axis, min(2.2 * s.spindle_diameter, plate), known=False)]
    if s.has("chuck lock"):
        across = 0.5 * thick
        return [
            cylinder(
                "chuck lock",
                1,
                sorted((side * (plate / 2 - 0.1 * across), side * (plate / 2 + across))),
                (thick / 2, high),
                across,
                known=False,
            )
            for side in (-1, 1)
        ]
    if s.has("chuck shank and drawbar"):
        end = spindle_end(s)
        return [
            cylinder("drawbar", 0, (end - 0.05 * high, end), axis, 1.3 * s.spindle_diameter, known=False),
            cylinder("drawbar", 0, (end - 0.2 * high, end - 0.05 * high), axis, 0.5 * s.spindle_diameter, known=False),
        ]
    return []


def _chuck(s: Sizes) -> list[Solid]:
    axis = (0.0, s.centre_height)
    thick = 0.2 * s.chuck_length
    plate = 0.92 * s.chuck_diameter
    found = [
        cylinder("backplate", 0, (0.0, thick), axis, plate, known=False),
        cylinder("chuck", 0, (thick, s.chuck_length), axis, s.chuck_diameter),
        *_nose(s, thick, plate),
    ]
    jaws = int(s.chuck_jaws)
    inner, outer = 0.16 * s.chuck_diameter, 0.46 * s.chuck_diameter
    wide = min(0.075 * s.chuck_diameter, 0.8 * inner * np.tan(np.pi / jaws))
    for turn in np.pi / 2 + 2 * np.pi * np.arange(jaws) / jaws:
        along, across = np.array([np.cos(turn), np.sin(turn)]), np.array([-np.sin(turn), np.cos(turn)])
        corners = [axis + r * along + side * wide * across for r, side in ((inner, -1), (outer, -1), (outer, 1), (inner, 1))]
        found.append(prism("chuck", 0, (s.chuck_length, s.chuck_end), corners, known=False))
    return found
