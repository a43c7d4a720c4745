"""The section through the spindle: bearings, seats, nose and pulley cut along the axis."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence

import numpy as np
from matplotlib.patches import Circle, Polygon

from ...design.drawn.arrangement import Arrangement
from ...design.drawn.headstock import pulley_steps, spindle_end
from ...machine import bearings
from ...tables import table
from .paper import Paper, scale_for

_HATCH, _OTHER_WAY, _BUSH = "////", "\\\\\\\\", "xxxxxx"


def spindle_section(
    sheet: Paper, arrangement: Arrangement, shown: Callable[[str], str], room: tuple[float, float, float, float]
) -> int:
    """Draw it into ``room`` (left, bottom, right, top on paper, mm) at the largest usual scale that fits; gives the scale, 0 where none does."""
    s = arrangement.sizes
    c, high = sheet.capitals, s.centre_height
    first, last = spindle_end(s), max(s.cut_reach, s.chuck_end)
    deep = max(s.chuck_diameter / 2, s.largest_driven / 2, s.head_top - high, high)
    free = (12 * c, 15 * c)
    scale = scale_for(last - first, 2 * deep, (room[2] - room[0] - free[0], room[3] - room[1] - free[1]))
    if 1000 * (last - first) / scale > room[2] - room[0] - free[0] or 2000 * deep / scale > room[3] - room[1] - free[1]:
        return 0
    middle = np.array(
        [(room[0] + room[2]) / 2 + 3 * c - (first + last) / 2 * 1000 / scale, room[3] - 7.5 * c - deep * 1000 / scale]
    )

    def at(x: float, r: float) -> np.ndarray:
        return middle + np.array([x, r]) * 1000 / scale

    def cut(corners: Sequence[tuple[float, float]], hatch: str, width: float, both: bool = True, order: float = 3.0) -> None:
        """A cut face above the axis and, mirrored, below."""
        for side in (1, -1) if both else (1,):
            sheet.axes.add_patch(
                Polygon(
                    [at(x, side * r) for x, r in corners],
                    closed=True,
                    facecolor="white",
                    edgecolor="black",
                    lw=width * 72 / 25.4,
                    hatch=hatch,
                    joinstyle="miter",
                    zorder=order,
                )
            )

    _housing(s, arrangement, cut, sheet)
    half, bore = s.spindle_diameter / 2, min(s.spindle_bore, 0.94 * s.spindle_diameter) / 2
    large, small = min(s.taper_diameter / 2, 0.97 * half), min(s.taper_small_diameter / 2, 0.97 * half)
    inner = -(large - small) * 2 / table("tapers")[s.spindle_taper]["rate"]
    # the tube of the spindle, opened by the taper in its nose
    narrow = [(first, bore), (inner, bore), (inner, max(small, bore)), (0.0, max(large, bore)), (0.0, half), (first, half)]
    cut(narrow, _HATCH, sheet.wide)
    for x in (first, 0.0):
        sheet.line([at(x, -bore if x < 0 else -large), at(x, bore if x < 0 else large)], width=sheet.wide)
    for x in (inner,):
        sheet.line([at(x, -max(small, bore)), at(x, max(small, bore))], width=sheet.narrow)
    for x, sign in ((s.front_bearing, 1), (s.rear_bearing, -1)):
        _bearing(s, sheet, at, cut, scale, x, sign)
    for begin, end, driven, _ in pulley_steps(s):
        if driven / 2 > half:
            cut(_rim(s.belt_kind, begin, end, half, driven / 2), _OTHER_WAY, sheet.wide)
    for part in ("bearing covers", "spindle nut", "spindle flange", "backplate"):
        for solid in arrangement.parts.get(part, []):
            radius = (solid.bounds[1, 2] - solid.bounds[0, 2]) / 2
            hole = half if part != "bearing covers" else 1.04 * half
            if radius > hole:
                cut(
                    [
                        (solid.low, hole if part != "backplate" else 0.75 * half),
                        (solid.high, hole if part != "backplate" else 0.75 * half),
                        (solid.high, radius),
                        (solid.low, radius),
                    ],
                    _OTHER_WAY,
                    sheet.narrow,
                )
    # chuck and cut as neighbours: thin lines of two dots
    for solid in arrangement.parts["chuck"][:1]:
        radius = s.chuck_diameter / 2
        sheet.line(
            [
                at(solid.low, radius),
                at(solid.high, radius),
                at(solid.high, -radius),
                at(solid.low, -radius),
                at(solid.low, radius),
            ],
            "phantom",
        )
    sheet.line([at(s.cut_reach, -0.4 * s.chuck_diameter), at(s.cut_reach, 0.4 * s.chuck_diameter)], "phantom")
    over = 3 * scale / 1000
    sheet.line([at(first - over, 0.0), at(last + over, 0.0)], "centre")
    _sizes(s, sheet, at, shown, deep, scale)
    sheet.text(
        *at((first + last) / 2, 0.0) + np.array([0.0, -deep * 1000 / scale - 7.2 * c]),
        f"section through the spindle, 1 : {scale}",
        ha="center",
    )
    return scale


def _housing(s, arrangement: Arrangement, cut: Callable, sheet: Paper) -> None:
    """The headstock where it is cut: seats of the bearings, and a way through for the spindle between them."""
    high, seat = s.centre_height, s.bearing_outside / 2
    through = max(0.82 * seat, 0.52 * s.spindle_diameter)
    for solid in arrangement.parts["headstock"]:
        (x0, _, low), (x1, _, top) = solid.bounds
        if top - high < seat:  # a foot or floor below the spindle
            continue
        bores = sorted(
            (max(x0, x - s.bearing_width / 2), min(x1, x + s.bearing_width / 2))
            for x in (s.rear_bearing, s.front_bearing)
            if x - s.bearing_width / 2 < x1 and x + s.bearing_width / 2 > x0
        )
        edge = [(x0, through)]
        for begin, end in bores:
            edge += [(begin, through), (begin, seat), (end, seat), (end, through)]
        edge.append((x1, through))
        cut([*edge, (x1, top - high), (x0, top - high)], _OTHER_WAY, sheet.wide, both=False)
        cut(
            [*((x, -r) for x, r in edge), (x1, max(low, 0.0) - high), (x0, max(low, 0.0) - high)],
            _OTHER_WAY,
            sheet.wide,
            both=False,
        )


def _bearing(s, sheet: Paper, at: Callable, cut: Callable, scale: int, x: float, sign: int) -> None:
    """One bearing by its kind, above and below the axis; ``sign`` is 1 at the nose, -1 behind."""
    wide, inner, outer = s.bearing_width, s.spindle_diameter / 2, s.bearing_outside / 2
    left, right, ring = x - wide / 2, x + wide / 2, 0.3 * (outer - inner)
    contact = bearings.contact_of(s.bearing_kind)
    if contact == bearings.BUSH:
        cut([(left, inner), (right, inner), (right, outer), (left, outer)], _BUSH, sheet.wide, order=3.2)
        return
    cut([(left, inner), (right, inner), (right, outer), (left, outer)], "", sheet.wide, order=3.2)
    spread = sign if s.bearing_arrangement == "back to back" else -sign
    pitch = (inner + outer) / 2
    if contact == bearings.SLANTED_ROLLERS:
        # rollers whose thick ends face outwards back to back; a slanted pair has its lines of force apart at the axis
        lean = 0.28 * spread
        length, thick = 0.72 * wide, 0.30 * (outer - inner)
        along, across = np.array([np.cos(lean), np.sin(lean)]), np.array([-np.sin(lean), np.cos(lean)])
        grown = 1.2 if spread > 0 else 0.8
        corners = [
            np.array([x, pitch]) + one * along * length / 2 + other * across * thick / 2 * (grown if one > 0 else 2 - grown)
            for one, other in ((-1, -1), (1, -1), (1, 1), (-1, 1))
        ]
        cut([tuple(corner) for corner in corners], "", sheet.narrow, order=3.3)
        for side in (1, -1):  # line of force, square to the roller
            sheet.line([at(x, side * pitch), at(*(np.array([x, pitch]) - across * (pitch - 0.2 * inner)) * (1, side))], "centre")
        return
    balls = (x - wide / 4, x + wide / 4) if bearings.rows_of(s.bearing_kind) > 1 else (x,)
    size = min(0.62 * (outer - inner - 0.6 * ring), 0.8 * wide / len(balls))
    for ball in balls:
        for side in (1, -1):
            sheet.axes.add_patch(
                Circle(
                    at(ball, side * pitch),
                    size / 2 * 1000 / scale,
                    facecolor="white",
                    edgecolor="black",
                    lw=sheet.narrow * 72 / 25.4,
                    zorder=3.3,
                )
            )
            if contact == bearings.SLANTED_BALLS:
                lean = np.array([np.sin(0.44) * spread, np.cos(0.44)]) * 0.75 * (outer - inner)
                here = np.array([ball, pitch])
                sheet.line([at(*(here - lean / 2) * (1, side)), at(*(here + lean / 2) * (1, side))], "centre")
    if len(balls) > 1:
        for side in (1, -1):
            sheet.line([at(x, side * inner), at(x, side * outer)])


def _rim(kind: str, begin: float, end: float, inner: float, outer: float) -> list[tuple[float, float]]:
    """Half a step of a pulley with what its belt runs in; the diameter told is that on which the belt runs, at the middle of a groove."""
    wide, middle = end - begin, (begin + end) / 2
    deep = min(0.35 * wide, 0.5 * (outer - inner))
    if kind == "V-belt":
        groove = [
            (middle - 0.3 * wide, outer),
            (middle - 0.18 * wide, outer - deep),
            (middle + 0.18 * wide, outer - deep),
            (middle + 0.3 * wide, outer),
        ]
    elif kind == "ribbed belt":
        groove, ribs = [], np.linspace(begin + 0.1 * wide, end - 0.1 * wide, 6)
        for one, two in itertools.pairwise(ribs):
            groove += [(one, outer), ((one + two) / 2, outer - 0.5 * deep)]
        groove.append((ribs[-1], outer))
    elif kind == "round belt":
        turn = np.linspace(np.pi, 2 * np.pi, 9)
        groove = [(middle + 0.25 * wide * np.cos(one), outer + min(0.25 * wide, deep) * np.sin(one)) for one in turn]
    else:  # a flat belt keeps to the crown
        groove = [(begin + 0.1 * wide, outer - 0.02 * wide), (middle, outer), (end - 0.1 * wide, outer - 0.02 * wide)]
    return [(begin, inner), (begin, outer), *groove, (end, outer), (end, inner)]


def _sizes(s, sheet: Paper, at: Callable, shown: Callable[[str], str], deep: float, scale: int) -> None:
    """Dimensions of the section."""
    step = 2.9 * sheet.capitals
    low, top = at(0.0, -deep)[1], at(0.0, deep)[1]
    for name, start, end, row in (
        ("bearing_span", s.rear_bearing, s.front_bearing, low - 0.8 * step),
        ("spindle_overhang", s.front_bearing, 0.0, low - 0.8 * step),
        ("cut_reach", 0.0, s.cut_reach, low - 0.8 * step),
    ):
        here = at(start, 0.0)
        sheet.dimension(here, at(end, 0.0), shown(name), (0.0, row - here[1]), f"section-{name}")
    here = at(s.rear_bearing - s.pulley_overhang, 0.0)
    sheet.dimension(
        here, at(s.rear_bearing, 0.0), shown("pulley_overhang"), (0.0, top + 0.6 * step - here[1]), "section-pulley_overhang"
    )
    # diameters at the rear end of the spindle, and the taper told at the nose
    first = spindle_end(s)
    for name, row in (("spindle_diameter", 2.9), ("spindle_bore", 0.8)):
        size = getattr(s, name) / 2
        if size > 0:
            sheet.dimension(at(first, -size), at(first, size), "Ø " + shown(name), (-row * step, 0.0), f"section-{name}")
    inside = at(-0.3 * s.spindle_overhang, 0.0)
    tip = np.array([at(0.0, 0.0)[0] + 2, top + 0.6 * step])
    sheet.line([inside, tip, tip + np.array([sheet.width_of(s.spindle_taper) + 1, 0.0])])
    sheet.text(tip[0] + 0.5, tip[1] + 0.5, s.spindle_taper, va="bottom")
