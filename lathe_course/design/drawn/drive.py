"""Motor, pulleys, belt, countershaft, change gears, and what stands beside: controller, tray, switch, shield."""

from __future__ import annotations

import numpy as np

from ..chain.wheel_set import wheels_of
from .headstock import bearing_cover, feed_end, pulley_steps
from .sizes import Sizes
from .solids import Solid, arm, box, cylinder

#: height of the shaft over the feet of a motor by its rated output, W -> m: four-pole sizes of EN 50347, recalled from memory
_SHAFT_HEIGHT = ((90, 0.056), (180, 0.063), (370, 0.071), (750, 0.080), (1500, 0.090))
#: radius of a motor with magnets over that height: common practice, no source
_SLIM = {"direct current and controller": 0.7, "brushless on the mains": 0.6, "brushless on low voltage": 0.6}


def drive_solids(s: Sizes) -> list[Solid]:
    """The drive of the spindle, that of the leadscrew, and the controller."""
    return [*_spindle_drive(s), *_wheels(s), *_beside(s)]


def _motor_radius(s: Sizes) -> float:
    """As high as its shaft, nearly; one with magnets is slimmer: common practice, no source."""
    watt = s.motor_power
    frame = next((high for most, high in _SHAFT_HEIGHT if watt <= most), 0.1)
    return _SLIM.get(s.drive_kind, 0.9) * frame


def _axis(s: Sizes, clear: float) -> tuple[float, float]:
    """Where the driving shaft lies, y and z: as far from the spindle as was decided, as low behind as clears the machine, else up and over it."""
    reach, high = s.belt_centres, s.centre_height
    wall = max(s.half, s.head_half) + 0.06 * high
    for turn in np.radians(np.arange(-10, 91, 5)):
        y, z = reach * np.cos(turn), high + reach * np.sin(turn)
        if z - clear < s.bench + 0.05 * high:
            continue
        if pulley_steps(s)[0][1] > max(s.bed_start, s.head_rear):  # over bed or headstock: the lower strand clears their edge
            low, far = high - s.largest_driven / 2, z - s.largest_driving / 2
            if y > wall and low + (far - low) * wall / y < s.seat + 0.24 * high:
                continue
        if y - clear > wall or z - clear > s.head_top + 0.05 * high:
            return y, z
    return 0.0, high + reach


def driving_axis(s: Sizes) -> tuple[float, float]:
    """Where the shaft of the driving pulleys lies, y and z."""
    return _axis(s, max(s.largest_driving / 2, 0.0 if s.has("countershaft") else _motor_radius(s)))


def _spindle_drive(s: Sizes) -> list[Solid]:
    high, radius = s.centre_height, _motor_radius(s)
    steps = pulley_steps(s)
    rear, front = steps[-1][0], steps[0][1]
    counter = s.has("countershaft")
    y, z = driving_axis(s)
    found = [cylinder("driving pulley", 0, (begin, end), (y, z), driving) for begin, end, driven, driving in steps if driving > 0]
    found += _belt(s, steps[0][:2], (0.0, high), steps[0][2], (y, z), steps[0][3])
    shaft = 0.35 * radius
    if counter:
        # on a shaft of its own with two bearings behind the headstock; its motor stands behind it
        first, last = rear - 0.1 * high, front + 0.9 * high
        found.append(cylinder("countershaft", 0, (first - 0.3 * high, last), (y, z), shaft, known=False))
        for x in (front + 0.1 * high, last - 0.15 * high):
            found += _post(s, "countershaft", (x, x + 0.12 * high), y, z, 0.9 * shaft)
        small = 0.9 * radius
        large = small * s.countershaft_ratio
        wheel, width = first - 0.3 * high, 0.2 * high
        away = large / 2 + small / 2 + 0.4 * high
        my = max(y + away, y + s.largest_driving / 2 + radius + 0.1 * high, max(s.half, s.head_half) + radius + 0.1 * high)
        mz = max(z, s.bench + radius + 0.1 * high)
        found.append(cylinder("driving pulley", 0, (wheel, wheel + width), (y, z), large, known=False))
        found.append(cylinder("driving pulley", 0, (wheel, wheel + width), (my, mz), small, known=False))
        found += _belt(s, (wheel, wheel + width), (y, z), large, (my, mz), small)
        found += _motor(s, wheel + width + 0.08 * high, my, mz, radius, wheel)
    else:
        found += _motor(s, front + 0.08 * high, y, z, radius, rear)
    return found


def _belt(
    s: Sizes, x: tuple[float, float], one: tuple[float, float], diameter: float, other: tuple[float, float], other_diameter: float
) -> list[Solid]:
    """The two free strands of a belt, straight between the points where it leaves its pulleys."""
    here, there = np.array(one), np.array(other)
    apart = np.linalg.norm(there - here)
    lean = (diameter - other_diameter) / 2 / apart
    if not (diameter > 0 and other_diameter > 0 and abs(lean) < 1):
        return []
    way = (there - here) / apart
    across, thick = np.array([-way[1], way[0]]), 0.03 * s.centre_height
    middle, wide = sum(x) / 2, 0.3 * (x[1] - x[0])
    found = []
    for side in (-1, 1):
        normal = lean * way + side * np.sqrt(1 - lean**2) * across  # square to the strand, the same at both pulleys
        start, end = here + diameter / 2 * normal, there + other_diameter / 2 * normal
        found.append(arm("belt", (middle - wide, middle + wide), start, end, thick))
    return found


def _motor(s: Sizes, begin: float, y: float, z: float, radius: float, shaft_end: float) -> list[Solid]:
    """The motor with its shaft through the pulleys, its terminal box, and what it stands on."""
    long = 2.4 * radius
    found = [
        cylinder("motor", 0, (begin, begin + long), (y, z), 2 * radius, known=False),
        cylinder("motor", 0, (shaft_end - 0.02 * s.centre_height, begin), (y, z), 0.3 * radius, known=False),
        box(
            "motor",
            (begin + 0.6 * long, begin + 0.95 * long),
            (y - 0.4 * radius, y + 0.4 * radius),
            (z + radius, z + 1.4 * radius),
            known=False,
        ),
    ]
    return found + _post(s, "motor mount", (begin + 0.1 * long, begin + 0.9 * long), y, z, radius)


def _post(s: Sizes, part: str, x: tuple[float, float], y: float, z: float, radius: float) -> list[Solid]:
    """What holds a shaft or motor at its place: a post from the bench behind, or brackets on the headstock below."""
    wall, thick = max(s.half, s.head_half), 0.12 * s.centre_height
    if y - 0.6 * radius > wall:
        return [box(part, x, (y - 0.6 * radius, y + 0.6 * radius), (s.bench, z - radius), known=False)]
    inside = (max(x[0], s.head_rear), min(x[1], s.head_front))
    low = (inside[0], inside[0] + thick) if inside[1] - inside[0] < thick else inside
    found = [
        box(
            part,
            low,
            (max(y - 0.6 * radius, -s.head_half), s.head_half),
            (s.head_top, s.head_top + 0.4 * max(z - radius - s.head_top, 0.0)),
            known=False,
        )
    ]
    return found + [
        box(
            part,
            (min(low[0], x[0]), max(low[1], x[1])),
            (min(y - 0.6 * radius, 0.0), y + 0.6 * radius),
            (s.head_top + 0.4 * max(z - radius - s.head_top, 0.0), z - radius),
            known=False,
        )
    ]


# --- change gears -----------------------------------------------------------------------------------------
def _wheels(s: Sizes) -> list[Solid]:
    """A train of three wheels from the first shaft down to the leadscrew, on its banjo; or the motor of the feed."""
    if not s.has("leadscrew"):
        return []
    y, z, d, high = s.screw_y, s.screw_z, s.leadscrew_diameter, s.centre_height
    end = feed_end(s)
    found = []
    if s.has("feed motor and its control"):
        found.append(
            box("feed motor", (end - 0.5 * high, end), (y - 1.3 * d, y + 1.3 * d), (z - 1.3 * d, z + 1.3 * d), known=False)
        )
    teeth = sorted(wheels_of(s.change_wheels)) if s.has("change gears") else []
    if not teeth:
        return found
    thick, screw = 0.12 * high, np.array([y, z])
    x = (end + 0.06 * high, end + 0.06 * high + thick)
    small = teeth[0] * s.wheel_module
    way = _way(s, 0.25 * d + 0.02 * high)
    first = screw + s.gear_centres * way
    found += [
        cylinder("change gears", 0, x, screw, s.wheel_diameter, known=False),
        cylinder("change gears", 0, x, first, small, known=False),
    ]
    stud = s.gear_centres - s.wheel_diameter / 2 - small / 2  # what is left for the wheel on the stud
    found.append(cylinder("change gears", 0, x, screw + (s.wheel_diameter + stud) / 2 * way, stud, known=False))
    found.append(
        arm("banjo", (x[1], x[1] + 0.5 * thick), screw - 0.9 * d * way, screw + (s.wheel_diameter + stud) / 2 * way, 1.2 * d)
    )
    # the shaft of the first wheel runs on to the headstock, or to a bracket on it
    found.append(cylinder("change gears", 0, (x[0], s.head_rear + 0.1 * high), first, 0.5 * d, known=False))
    near = np.clip(first, (-s.head_half, s.seat + 0.16 * high + 0.25 * d), (s.head_half, s.head_top))
    if (far := np.linalg.norm(first - near)) > 0.25 * d:
        out = (first - near) / far
        found.append(arm("change gears", (s.head_rear, s.head_rear + 0.1 * high), near, first + 0.6 * d * out, d))
    return found


def _way(s: Sizes, room: float) -> np.ndarray:
    """From the leadscrew towards the shaft of the first wheel: to the spindle, or as little aside as clears the pulley, the cover and the foot of the headstock."""
    screw, axis = np.array([s.screw_y, s.screw_z]), np.array([0.0, s.centre_height])
    low = s.seat + 0.16 * s.centre_height  # what holds it reaches the headstock above its foot
    clear = max(s.largest_driven, bearing_cover(s)) / 2 + room
    straight = np.arctan2(*(axis - screw)[::-1])
    for turn in np.radians(np.arange(0, 100, 5)):
        for side in (1, -1):  # first to the front, away from belt and motor
            way = np.array([np.cos(straight + side * turn), np.sin(straight + side * turn)])
            place = screw + s.gear_centres * way
            if np.linalg.norm(place - axis) > clear and place[1] > low + room:
                return way
    return (axis - screw) / np.linalg.norm(axis - screw)


# --- beside ---------------------------------------------------------------------------------------------------
def _beside(s: Sizes) -> list[Solid]:
    """Controller and emergency stop on the bench: out of the way of belts, wheels and chips."""
    high = s.centre_height
    found = []
    x, y = s.bed_end - 0.4 * high, s.half + 2.6 * high
    if s.has("inverter", "direct-current controller", "brushless controller"):
        found.append(box("controller", (x - 1.6 * high, x), (y, y + 1.2 * high), (s.bench, s.bench + 1.9 * high), known=False))
    if s.has("emergency stop and contactor", "emergency stop with braking relay"):
        # in front at the end of the tailstock, so that nobody leans over the chuck to reach it
        x, y, top = s.bed_end - 0.3 * high, -s.half - 2.2 * high, s.bench + 0.6 * high
        found.append(box("emergency stop", (x - 0.6 * high, x), (y - 0.3 * high, y + 0.3 * high), (s.bench, top), known=False))
        found.append(cylinder("emergency stop", 2, (top, top + 0.25 * high), (x - 0.3 * high, y), 0.4 * high, known=False))
    if s.has("coolant pump and tank"):
        x, deep = s.bed_end + 0.4 * high, 0.9 * high
        found.append(box("coolant tank", (x, x + 1.6 * high), (-deep, deep), (s.bench, s.bench + 0.9 * high), known=False))
        pump = (x + 0.8 * high, 0.0)
        found.append(cylinder("coolant tank", 2, (s.bench + 0.9 * high, s.bench + 1.5 * high), pump, 0.6 * high, known=False))
    return found
