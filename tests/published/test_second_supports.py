"""Second programs for feet: beams of our own, a search by scipy, and a frame in space by PyNite."""

import numpy as np
import pytest
from beam_elements import Beam, ladder
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import supports

FEModel3D = Later("Pynite", "FEModel3D")
brentq = Later("scipy.optimize", "brentq")
minimize_scalar = Later("scipy.optimize", "minimize_scalar")

E, G = 207e9, 79.3e9
EI = E * 5e-7


def lying(share):
    """A metre of bed on two feet: points along it, sag and slope there."""
    overhang = (1 - share) / 2
    points = ladder(0, overhang, 0.5, 1 - overhang, 1, steps=40)
    moved = Beam(points, EI).pin(overhang).pin(1 - overhang).under(spread=100.0)
    return points, moved[0::2], moved[1::2]


@vouches("least_sag_spacing", evidence="second program", source="finite_elements, our own, and the root found by scipy")
def test_least_sag_is_where_ends_and_middle_sag_alike():
    def apart(share):
        _, sag, _ = lying(share)
        return sag[0] - sag[len(sag) // 2]

    agrees(supports.least_sag_spacing.si(1.0), brentq(apart, 0.5, 0.6), abs=1e-5)


def four_feet(torsion, lift=0.0):
    """PyNite frame in mm and N of a bed on two stiff cross arms, each with a foot at either end; one foot is lifted."""
    length, width = 400.0, 120.0
    made = FEModel3D()
    made.add_material("steel", E / 1e6, G / 1e6, 0.3, 0.0)
    made.add_section("bed", 2256.0, 5e6, 2e6, torsion)
    made.add_section("arm", 1e6, 1e12, 1e12, 1e12)
    for end, x in (("head", 0.0), ("tail", length)):
        made.add_node(end, x, 0, 0)
        for side, z in (("front", width / 2), ("back", -width / 2)):
            made.add_node(f"{end} {side}", x, 0, z)
            made.add_member(f"{end} {side}", end, f"{end} {side}", "steel", "arm")
            made.def_support(f"{end} {side}", support_DY=True)
    made.add_member("bed", "head", "tail", "steel", "bed")
    made.def_support("head", support_DX=True, support_DZ=True, support_RY=True)
    if lift:
        made.def_node_disp("tail front", "DY", lift)
    return made


@vouches(
    "foot_twist", evidence="second program", source="finite_elements, PyNite, a bed bolted down on four feet with one lifted"
)
def test_a_lifted_foot_twists_a_bolted_bed():
    made = four_feet(torsion=3e6, lift=0.3)
    made.analyze(check_statics=False)
    twist = made.nodes["tail"].RX["Combo 1"] - made.nodes["head"].RX["Combo 1"]
    agrees(supports.foot_twist.si(0.3e-3, 0.12), abs(twist), rel=1e-3)


@vouches(
    "twist_by_weight", evidence="second program", source="finite_elements, PyNite, the lift at which one foot no longer carries"
)
def test_own_weight_twists_a_free_bed_only_so_far():
    torsion, weight = 2e4, 200.0

    def carried(lift):
        made = four_feet(torsion, lift)
        for end in ("head", "tail"):
            made.add_node_load(end, "FY", -weight / 2)
        made.analyze(check_statics=False)
        return min(made.nodes[f"{end} {side}"].RxnFY["Combo 1"] for end in ("head", "tail") for side in ("front", "back"))

    lift = brentq(carried, 0.01, 20.0)
    found = supports.twist_by_weight.si(weight, 0.12, 0.4, G, torsion * 1e-12)
    agrees(found, lift / 120.0, rel=1e-3)


@vouches("twist_on_diameter", evidence="second program", source="definition, a tool turned about a line by a rotation matrix")
def test_a_twist_moves_the_tool_sideways_and_shows_twice():
    lever, twist = 0.115, 1e-3
    turned = np.array([[np.cos(twist), -np.sin(twist)], [np.sin(twist), np.cos(twist)]]) @ [0.0, lever]
    agrees(supports.twist_on_diameter.si(lever, twist), 2 * abs(turned[0]), rel=1e-5)


@vouches("three_feet_push", evidence="second program", source="definition, forces on three feet solved as equations")
@pytest.mark.parametrize("place", [0.2, 0.4])
def test_push_that_lifts_a_foot_of_three(place):
    """The push at which the far foot of the pair carries nothing any more."""
    width, spacing, weight, height = 0.12, 0.4, 300.0, 0.15
    feet = np.array([[0, -width / 2], [0, width / 2], [spacing, 0]])
    across = np.array([0.0, 1.0])  # straight sideways, over the line between the pair's foot and the single one

    def loads(push):
        moment = weight * np.array([place * spacing, 0.0]) + push * height * across
        return np.linalg.solve(np.vstack([np.ones(3), feet.T]), [weight, *moment])

    tips = brentq(lambda push: loads(push)[0], 0.0, weight)
    assert np.all(loads(tips)[1:] > 0)
    agrees(supports.three_feet_push.si(weight, width, place, height), tips, rel=1e-9)
