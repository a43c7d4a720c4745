"""Second programs for threads: circles laid between lines, a linear programme for screw and nut."""

import numpy as np
import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import threads as t

brentq = Later("scipy.optimize", "brentq")
linprog = Later("scipy.optimize", "linprog")
LineString = Later("shapely", "LineString")
Point = Later("shapely", "Point")

MM = 1e-3
#: diameter and pitch in mm, angle between the flanks in degrees
THREADS = [(10, 1.5, 60), (16, 2, 60), (12.7, 25.4 / 12, 55), (3, 0.5, 60)]


def groove(pitch_radius: float, pitch: float, angle: float) -> LineString:
    """Both flanks of one groove, drawn from far outside down to the sharp point and up again."""
    slope = 1 / np.tan(np.radians(angle) / 2)
    deep = pitch / 4 * slope
    return LineString(
        [(-pitch, pitch_radius - deep + pitch * slope), (0, pitch_radius - deep), (pitch, pitch_radius - deep + pitch * slope)]
    )


@pytest.mark.parametrize("diameter, pitch, angle", THREADS)
@vouches(
    "over_wires", "measuring_wire", evidence="second program", source="own_work, circles between lines", because="root finding"
)
def test_a_wire_laid_between_two_flanks(diameter, pitch, angle):
    """A circle is lowered into a drawn groove until it touches; the micrometer reads over the wires."""
    flank, pitch_diameter = np.radians(angle), diameter - 0.65 * pitch
    wire = float(t.measuring_wire.si(pitch, flank))
    for size in (wire, 1.15 * wire):
        lines = groove(pitch_diameter / 2, pitch, angle)
        height = brentq(
            lambda y, size=size, lines=lines: lines.distance(Point(0, y)) - size / 2,
            pitch_diameter / 2,
            pitch_diameter / 2 + 5 * pitch,
        )
        agrees(t.over_wires.si(pitch_diameter, size, pitch, flank), 2 * (height + size / 2), rel=1e-6)
    height = brentq(lambda y: lines.distance(Point(0, y)) - wire / 2, pitch_diameter / 2, pitch_diameter / 2 + 5 * pitch)
    touching = lines.interpolate(lines.project(Point(1e-9, height)))
    agrees(touching.y, pitch_diameter / 2, rel=1e-5)


@pytest.mark.parametrize("angle", [60, 55])
@vouches("nut_misfit", "diameter_equivalent", evidence="second program", source="own_work, linear programme", because="solver")
def test_how_thin_a_screw_must_be_to_enter_a_nut_of_another_pitch(angle):
    """Turn for turn both flanks must clear the nut; a linear programme finds the least thinning and the best place along it."""
    turns, pitch, error = 9, 2 * MM, 0.002
    slope = np.tan(np.radians(angle) / 2)
    drift = error * pitch * np.arange(turns)
    # unknown: place along the nut, and thinning on the radius; |drift - place| <= thinning x slope
    rows = np.vstack(
        [np.column_stack([-np.ones(turns), -slope * np.ones(turns)]), np.column_stack([np.ones(turns), -slope * np.ones(turns)])]
    )
    solved = linprog([0, 1e3], A_ub=rows * 1e3, b_ub=np.concatenate([-drift, drift]) * 1e3, bounds=[(None, None), (0, None)])
    misfit = t.nut_misfit.si(error, pitch * (turns - 1))
    agrees(t.diameter_equivalent.si(misfit, np.radians(angle)), 2 * solved.x[1], rel=1e-6)


@pytest.mark.parametrize("angle", [29.5, 27.5, 10])
@vouches("flank_infeed", evidence="second program", source="own_work, lines that cross")
def test_the_way_of_a_slide_set_aslant(angle):
    """The line along which the swung slide travels is crossed with the line of full depth."""
    depth = 0.1
    way = LineString([(0, 0), (np.sin(np.radians(angle)), -np.cos(np.radians(angle)))])
    agrees(
        t.flank_infeed.si(depth, np.radians(angle)),
        Point(0, 0).distance(way.intersection(LineString([(-9, -depth), (9, -depth)]))),
        rel=1e-9,
    )


@pytest.mark.parametrize("pitch, angle", [(1.5, 60), (25.4 / 19, 55)])
@vouches("triangle_height", "external_depth", "whitworth_depth", evidence="second program", source="own_work, lines that cross")
def test_the_triangle_between_three_flanks(pitch, angle):
    """Flanks a pitch apart are crossed: the sharp triangle, of which the standards cut off known shares."""
    slope = 1 / np.tan(np.radians(angle) / 2)
    left, right = (LineString([(x - 9 * side, -9 * slope), (x + 9 * side, 9 * slope)]) for x, side in ((0, 1), (pitch, -1)))
    height = left.intersection(right).y
    agrees(t.triangle_height.si(pitch, np.radians(angle)), height, rel=1e-9)
    agrees(
        t.external_depth.si(pitch) if angle == 60 else t.whitworth_depth.si(pitch),
        height * (17 / 24 if angle == 60 else 2 / 3),
        rel=1e-9,
    )
