"""Second programs for wear: junctions that shed half balls by chance, and a helix walked in short steps."""

import numpy as np
from evidence import agrees, vouches

from lathe_course.machine import wear


@vouches(
    "worn_depth",
    evidence="second program",
    source="archard, junctions that carry by their hardness, each parting after its own width",
    because="a chance of one in fifty is drawn for some million junctions",
)
def test_junctions_that_shed_half_balls_wear_as_force_and_way_over_hardness():
    """Junctions of many widths carry the load between them; each slides its own width and then, one in fifty, leaves a half ball in the dirt."""
    chance, hardness, area, pressure, way = np.random.default_rng(4), 1e9, 4e-6, 1.5e6, 0.02
    keeps, shed, share = chance.uniform(1e-6, 9e-6, 400), 0.0, 1 / 50
    radius = keeps * np.sqrt(pressure * area / (hardness * np.pi * np.sum(keeps**2)))  # together they carry just the force
    for one in radius:
        parted = chance.binomial(int(way / (2 * one)), share)
        shed += parted * 2 / 3 * np.pi * one**3
    # a half ball of 2/3 π r³ over 2 r of way, from a spot that carries H π r²: a third of the chance is the coefficient
    agrees(wear.worn_depth.si(share / 3, pressure, way, hardness), shed / area, rel=2e-2)


@vouches("thread_sliding", evidence="second program", source="geometry_in_space, a helix walked in short steps")
def test_a_flank_slides_as_far_as_its_helix_is_long():
    for lead, diameter, travel in ((3e-3, 12.5e-3, 0.5), (25.4e-3 / 6, 18e-3, 0.1), (20e-3, 30e-3, 0.3)):
        turn = np.linspace(0, 2 * np.pi * travel / lead, 400_001)
        points = np.array([diameter / 2 * np.cos(turn), diameter / 2 * np.sin(turn), lead * turn / (2 * np.pi)])
        walked = np.sqrt((np.diff(points) ** 2).sum(axis=0)).sum()
        agrees(wear.thread_sliding.si(travel, lead, diameter), walked, rel=1e-6)
