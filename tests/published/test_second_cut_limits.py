"""Second program for the depths at which a cut ends: chips counted in small pieces along a helix, forces put at points, work added up over a turn."""

import numpy as np
import pytest
from evidence import agrees, vouches
from scipy.optimize import brentq

from lathe_course.machine import cut_limits as c

MM = 1e-3


def pieces(depth, feed, pressure, diameter, count=4000):
    """Forces on the pieces of one turn, each at its place on the rim: points (count, 2) and forces (count, 2) on the work, N."""
    angle = (np.arange(count) + 0.5) * 2 * np.pi / count
    places = diameter / 2 * np.column_stack([np.cos(angle), np.sin(angle)])
    against = np.column_stack([np.sin(angle), -np.cos(angle)])  # the tool holds the turning work back
    return places, pressure * depth * feed * against


@vouches("depth_by_torque", evidence="second program", source="own_work, moments of the cut about the axis, added up over a turn")
@pytest.mark.parametrize(
    ("torque", "pressure", "feed", "diameter"),
    [(6.13, 2900e6, 0.1e-3, 60 * MM), (66.0, 2200e6, 0.3e-3, 190 * MM), (1.4, 1800e6, 0.05e-3, 8 * MM)],
)
def test_a_cut_stalls_the_spindle_where_its_moment_is_the_torque(torque, pressure, feed, diameter):
    def short(depth):
        places, forces = pieces(depth, feed, pressure, diameter)
        return -np.mean(places[:, 0] * forces[:, 1] - places[:, 1] * forces[:, 0]) - torque

    agrees(c.depth_by_torque.si(torque, pressure / 1.25, 1.25, feed, diameter), brentq(short, 1e-9, 1.0), rel=1e-9)


@vouches(
    "depth_by_power",
    evidence="second program",
    source="own_work, work of the cut added up over a turn",
    because="the turn is cut into straight pieces",
)
@pytest.mark.parametrize(("power", "pressure", "feed", "speed"), [(259.0, 2900e6, 0.1e-3, 0.3), (490.0, 2200e6, 0.3e-3, 0.5)])
def test_a_cut_takes_all_the_power_where_a_turn_takes_that_work(power, pressure, feed, speed):
    diameter = 40 * MM
    turn = np.pi * diameter / speed  # seconds

    def short(depth):
        places, forces = pieces(depth, feed, pressure, diameter)
        path = np.roll(places, -1, axis=0) - places  # what the rim moves while a piece is cut
        middle = (forces + np.roll(forces, -1, axis=0)) / 2
        return -np.sum(path * middle) / turn - power

    agrees(c.depth_by_power.si(power, pressure / 1.4, 1.4, feed, speed), brentq(short, 1e-9, 1.0), rel=1e-5)


@vouches("depth_by_quiet", evidence="second program", source="own_work, ends of the engaged edge by their coordinates")
@pytest.mark.parametrize("angle", [30.0, 45.0, 90.0, 95.0])
def test_the_depth_is_what_the_edge_spans_square_to_the_axis(angle):
    """An edge from the tip away, at its angle to the feed (which goes along x): its ends lie a depth apart in y."""
    tip = np.zeros(2)
    end = tip + 2.5 * MM * np.array([np.cos(np.radians(angle)), np.sin(np.radians(angle))])
    agrees(c.depth_by_quiet.si(np.hypot(*(end - tip)), np.radians(angle)), end[1] - tip[1], rel=1e-12)
