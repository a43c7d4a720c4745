"""A second program for the box of a controller: heat balance of air, wall and room by free convection and radiation."""

import pytest
from evidence import agrees, vouches
from later import Later

from lathe_course.design.lathe import LATHE
from lathe_course.machine import enclosure

brentq = Later("scipy.optimize", "brentq")

#: W/(m²·K⁴); painted sheet
STEFAN, PAINTED = 5.670e-8, 0.9
ROOM = 298.15


def passed(warm, cold, high):
    """Heat from a warm to a cold face or air [K] for each square metre: still air along an upright plate so high [m], and radiation."""
    convection = 1.42 * ((warm - cold) / high) ** 0.25 * (warm - cold)
    return convection + PAINTED * STEFAN * (warm**4 - cold**4)


@vouches(
    "box_rise",
    evidence="second program",
    source="incropera, free convection of a plate in still air, and radiation, solved for the air in the box",
    because="the books' rule for still air is good to a quarter, and a box has a top and a bottom",
)
@pytest.mark.parametrize(("heat", "surface", "high"), [(18.5, 0.5, 0.3), (10.0, 0.25, 0.25), (40.0, 0.8, 0.4)])
def test_air_in_a_box_warms_until_its_wall_passes_the_heat(heat, surface, high):
    wall = brentq(lambda t: passed(t, ROOM, high) - heat / surface, ROOM + 1e-6, ROOM + 100)
    inside = brentq(lambda t: passed(t, wall, high) - heat / surface, wall + 1e-6, wall + 100)
    middle = LATHE.figures["heat_passed"].value.likely
    agrees(enclosure.box_rise.si(heat, surface, middle), inside - ROOM, rel=0.25)
