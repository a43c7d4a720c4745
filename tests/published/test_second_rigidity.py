"""Second programs for rigidity: PyNite for work and levers, our own beam for shanks and short work."""

import itertools

import numpy as np
import pytest
from beam_elements import Beam, ladder
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import rigidity as r

FEModel3D = Later("Pynite", "FEModel3D")
minimize_scalar = Later("scipy.optimize", "minimize_scalar")

E = 207e9
WORK = {"length": 0.1, "diameter": 0.02, "elastic_modulus": E}
FORCE = 200.0


def bar(positions, ends):
    """Solved PyNite bar of 20 x 100 mm in mm and N, deflection in m under the force at each position in turn.

    ``ends`` are the supports at chuck and tailstock: 'clamp', 'pin' or 'free'.
    """
    given = []
    inertia = np.pi * 20**4 / 64
    for x in positions:
        frame = FEModel3D()
        frame.add_material("steel", E / 1e6, 79.3e3, 0.3, 7.85e-6)
        frame.add_section("bar", np.pi * 100, inertia, inertia, 2 * inertia)
        places = sorted({0.0, x, 100.0})
        for place in places:
            frame.add_node(f"{place}", place, 0, 0)
        for a, b in itertools.pairwise(places):
            frame.add_member(f"{a}-{b}", f"{a}", f"{b}", "steel", "bar")
        frame.def_support("0.0", True, True, True, True, ends[0] == "clamp", ends[0] == "clamp")
        if ends[1] == "pin":
            frame.def_support("100.0", support_DY=True, support_DZ=True)
        frame.add_node_load(f"{x}", "FY", FORCE)
        frame.analyze(check_statics=False)
        given.append(frame.nodes[f"{x}"].DY["Combo 1"] / 1e3)
    return np.array(given)


@vouches("chuck_deflection", evidence="second program", source="finite_elements, PyNite, a clamped bar")
def test_bar_in_the_chuck():
    agrees(r.chuck_deflection.si(FORCE, **WORK), bar([100.0], ("clamp", "free"))[0], rel=1e-5)


@vouches("centres_deflection", evidence="second program", source="finite_elements, PyNite, a bar on two pins")
def test_bar_between_centres():
    positions = np.array([10.0, 25.0, 50.0, 80.0])
    agrees(r.centres_deflection.si(FORCE, 0.1, positions / 1e3, 0.02, E), bar(positions, ("pin", "pin")), rel=1e-5)


@vouches(
    "centres_deflection",
    evidence="published and seen",
    source="shigley_shaft, Example 7-5, weights moved to the middle of the span",
    because="printed to three figures",
)
@pytest.mark.parametrize(("weight", "position", "moved"), [(35, 7, 17.1), (55, 20, 46.1)])
def test_a_load_and_its_equal_at_mid_span(weight, position, moved):
    """Loads whose own deflections stand as the book's two weights do to theirs at the middle of a 31 inch shaft."""
    shaft = {"length": 31 * 0.0254, "diameter": 0.0254, "elastic_modulus": 207e9}
    own, middle = (r.centres_deflection.si(1.0, position=x * 0.0254, **shaft) for x in (position, 15.5))
    agrees(weight * own / middle, moved, abs=0.05)


@vouches(
    "chuck_and_centre_deflection",
    "worst_chuck_and_centre_deflection",
    evidence="second program",
    source="finite_elements, PyNite, a bar clamped at one end and pinned at the other",
)
def test_bar_in_the_chuck_and_on_a_centre():
    positions = np.array([10.0, 40.0, 58.6, 80.0])
    seen = bar(positions, ("clamp", "pin"))
    agrees(r.chuck_and_centre_deflection.si(FORCE, 0.1, positions / 1e3, 0.02, E), seen, rel=1e-5)
    agrees(r.worst_chuck_and_centre_deflection.si(FORCE, **WORK), seen.max(), rel=1e-4)


@vouches(
    "worst_chuck_and_centre_deflection", evidence="second program", source="definition, the worst place searched along the work"
)
def test_worst_place_along_the_work():
    worst = minimize_scalar(
        lambda x: -r.chuck_and_centre_deflection.si(FORCE, 0.1, x, 0.02, E),
        bounds=(0.01, 0.09),
        method="bounded",
        options={"xatol": 1e-9},
    )
    agrees(r.worst_chuck_and_centre_deflection.si(FORCE, **WORK), -worst.fun, rel=1e-9)
    agrees(worst.x / 0.1, 1 - 0.414, abs=1e-3)  # the place the handbook gives, from the other end


def test_short_work_gives_in_shear_as_the_limits_say():
    """6 per cent at three diameters in the chuck, 8 at five between centres."""
    ei, gaq = E * np.pi * 0.02**4 / 64, 79.3e9 * 0.886 * np.pi * 0.02**2 / 4
    for length, held, low in ((0.06, "chuck", 0.06), (0.02, "chuck", 0.35), (0.1, "centres", 0.08)):
        beam = Beam(ladder(0, length / 2, length), ei, gaq)
        if held == "chuck":
            real, found = beam.clamp(0).under([(length, 1.0)])[-2], r.chuck_deflection.si(1.0, length, 0.02, E)
        else:
            real = beam.pin(0).pin(length).under([(length / 2, 1.0)])[beam.at(length / 2)]
            found = r.centres_deflection.si(1.0, length, length / 2, 0.02, E)
        agrees(1 - found / real, low, abs=0.02)


@vouches(
    "end_support_compliance",
    evidence="second program",
    source="finite_elements, our own, a stiff bar on two springs",
    because="the bar is stiff, not rigid",
)
@pytest.mark.parametrize("share", [0.0, 0.25, 0.5, 1.0])
def test_stiff_bar_on_two_springs(share):
    points = ladder(0, 0.25, 0.5, 1.0)
    beam = Beam(points, 1e12).spring(0, 20e6).spring(1, 10e6)
    agrees(r.end_support_compliance.si(share, 1.0, 20e6, 10e6), beam.under([(share, 1.0)])[beam.at(share)], rel=1e-4)


@vouches(
    "lever_stiffness",
    evidence="second program",
    source="finite_elements, PyNite, a stiff lever on a pivot and a spring",
    because="the lever is stiff, not rigid",
)
@pytest.mark.parametrize("ratio", [2.0, 0.5])
def test_spring_on_a_lever(ratio):
    frame = FEModel3D()
    frame.add_material("stiff", 207e3, 79.3e3, 0.3, 0)
    frame.add_section("lever", 1e4, 1e8, 1e8, 1e8)
    spring, end = 100.0, 100.0 * ratio
    for name, x in (("pivot", 0.0), ("spring", spring), ("end", end)):
        frame.add_node(name, x, 0, 0)
    names = ["pivot", *sorted(("spring", "end"), key={"spring": spring, "end": end}.get)]
    for a, b in itertools.pairwise(names):
        frame.add_member(a + b, a, b, "stiff", "lever")
    frame.def_support("pivot", True, True, True, True, True, False)
    frame.def_support_spring("spring", "DY", 100e3)  # 100 N/µm
    frame.add_node_load("end", "FY", 100)
    frame.analyze(check_statics=False)
    agrees(r.lever_stiffness.si(100e6, ratio), 100 / (frame.nodes["end"].DY["Combo 1"] / 1e3), rel=0.01)


@vouches(
    "series_stiffness",
    "compliance_of",
    "stiffness_of",
    evidence="second program",
    source="shigley, springs in series, equilibrium solved as a system",
)
@pytest.mark.parametrize(("first", "second"), [(130e6, 114e6), (10e6, 900e6)])
def test_two_springs_one_behind_the_other(first, second):
    middle, end = np.linalg.solve([[first + second, -second], [-second, second]], [0.0, 50.0])
    agrees(r.series_stiffness.si(first, second), 50.0 / end, rel=1e-12)
    agrees(r.compliance_of.si(first), middle / 50.0, rel=1e-12)
    agrees(r.stiffness_of.si(middle / 50.0), first, rel=1e-12)


@vouches("tool_overhang_stiffness", evidence="second program", source="finite_elements, our own, a clamped shank")
def test_shank_in_the_toolpost():
    width, height, out = 0.01, 0.012, 0.025
    beam = Beam(ladder(0, out), E * width * height**3 / 12).clamp(0)
    agrees(r.tool_overhang_stiffness.si(out, width, height, E), 1 / beam.under([(out, 1.0)])[-2], rel=1e-7)


@vouches("shank_nod", evidence="second program", source="finite_elements, our own, a clamped shank")
def test_a_shank_nods():
    width, height, out = 0.01, 0.012, 0.025
    slope = Beam(ladder(0, out), E * width * height**3 / 12).clamp(0).under([(out, 1.0)])[-1]
    agrees(r.shank_nod.si(out, width, height, E), slope * height / 2, rel=1e-7)


@vouches("shank_push_compliance", evidence="second program", source="finite_elements, PyNite, a bar pushed along itself")
def test_a_shank_pushed_along_itself():
    frame = FEModel3D()
    frame.add_material("steel", E / 1e6, 79.3e3, 0.3, 7.85e-6)
    frame.add_section("shank", 120, 10 * 12**3 / 12, 12 * 10**3 / 12, 2000)
    frame.add_node("post", 0, 0, 0)
    frame.add_node("tip", 25, 0, 0)
    frame.add_member("shank", "post", "tip", "steel", "shank")
    frame.def_support("post", True, True, True, True, True, True)
    frame.add_node_load("tip", "FX", 1000)
    frame.analyze(check_statics=False)
    agrees(r.shank_push_compliance.si(0.025, 0.01, 0.012, E), frame.nodes["tip"].DX["Combo 1"] / 1e3 / 1000, rel=1e-6)


def test_the_give_along_the_work_is_the_sum_of_bar_and_holding():
    """A bar on springs at both ends, all at once, against holding and bending added."""
    head, tail, length, positions = 1 / 8e6, 1 / 4e6, 0.1, np.array([0.02, 0.05, 0.09])
    ei = E * np.pi * 0.02**4 / 64
    beam = Beam(ladder(0, 0.02, 0.05, 0.09, length), ei).spring(0, 1 / head).spring(length, 1 / tail)
    seen = [beam.under([(x, 1.0)])[beam.at(x)] for x in positions]
    assert r.give_along_work("between centres", positions, head, tail, length, 0.02, E) == pytest.approx(seen, rel=1e-6)
    assert r.give_along_work("chuck alone", length, head, tail, length, 0.02, E) == pytest.approx(
        head + r.chuck_deflection.si(1, length, 0.02, E)
    )
    held = r.give_along_work("chuck and centre", np.array([0.0, length]), head, tail, length, 0.02, E)
    assert held == pytest.approx([head, tail])
