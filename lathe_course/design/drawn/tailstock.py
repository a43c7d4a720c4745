"""Tailstock of the arrangement: at the end of its way, the barrel out no more than the saddle needs."""

from __future__ import annotations

from .bed import shoes
from .sizes import Sizes
from .solids import Solid, box, cone, cylinder


def tailstock_solids(s: Sizes) -> list[Solid]:
    """Foot, body, barrel with its centre, screw and handwheel, and the nuts of its clamp."""
    high, axis = s.centre_height, (0.0, s.centre_height)
    ends, foot = (s.tail_front, s.tail_end), 0.3 * high
    front, rear = s.tail_front, s.tail_front + 0.85 * s.tailstock_base
    half = (
        min(max(0.9 * s.barrel_diameter, 0.3 * high), 0.48 * s.bed_width)
        if s.barrel_diameter < 0.5 * s.bed_width
        else 0.9 * s.barrel_diameter
    )
    top = high + max(0.75 * s.barrel_diameter, 0.25 * high)
    found = [
        box("tailstock", ends, (-s.half, s.half), (0.0, foot)),
        box("tailstock", (front, rear), (-half, half), (foot, top), known=False),
    ]
    found += shoes(s, "tailstock", *ends)
    face, length = s.barrel_face, min(s.barrel_length, 0.9 * (rear - s.barrel_face))
    found.append(cylinder("barrel", 0, (face, face + length), axis, s.barrel_diameter))
    found.append(cone("centre", 0, face, s.tail_point, axis, s.tailstock_taper_large))
    screw, wheel = 0.35 * s.barrel_diameter, 0.7 * high
    found.append(cylinder("tailstock screw", 0, (face + 0.5 * length, rear + 0.3 * high), axis, screw, known=False))
    found.append(cylinder("tailstock screw", 0, (rear + 0.18 * high, rear + 0.3 * high), axis, wheel, known=False))
    found.append(
        cylinder(
            "tailstock screw", 0, (rear + 0.3 * high, rear + 0.55 * high), (0.0, high + 0.4 * wheel), 0.12 * high, known=False
        )
    )
    # nuts of the clamp on the foot in front of the body, or beside it behind
    count, size = int(s.clamp_screws), 1.7 * s.clamp_screw
    room = (s.half - half) if s.half - half > size else 0.0
    if room:
        step = s.tailstock_base / (count + 1)
        found += [
            cylinder(
                "clamp of the tailstock",
                2,
                (foot, foot + 0.8 * s.clamp_screw),
                (front + (number + 1) * step, -half - room / 2),
                min(size, 0.9 * step),
            )
            for number in range(count)
        ]
    else:
        found += [
            cylinder(
                "clamp of the tailstock",
                1,
                (-s.half - 1.2 * s.clamp_screw, -s.half),
                (front + (number + 1) * s.tailstock_base / (count + 1), foot / 2),
                min(size, 0.9 * foot, 0.9 * s.tailstock_base / (count + 1)),
            )
            for number in range(count)
        ]
    return found
