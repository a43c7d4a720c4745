"""Second programs for the bed: frames in space by PyNite, beams of our own with shear, and the published support points."""

import numpy as np
import pytest
from beam_elements import Beam, ladder
from evidence import agrees, vouches
from later import Later

from lathe_course.machine import bed, bed_forms, sections

FEModel3D = Later("Pynite", "FEModel3D")
brentq = Later("scipy.optimize", "brentq")

E, G = 207e9, 79.3e9
BOX = bed_forms.section("closed box", 0.12, 0.08, 0.0063)
LOOP, LEVER = 0.2, 0.115
FORCE = 1000.0


def frame(**members):
    """Empty PyNite frame in mm and N with steel and a member ten thousand times stiffer."""
    made = FEModel3D()
    made.add_material("steel", E / 1e6, G / 1e6, 0.3, 7.85e-6)
    stiff = 1e4 * max(max(figures["lateral"], figures["vertical"], figures["torsion"]) for figures in members.values()) * 1e12
    made.add_section("rigid", 1e6, stiff, stiff, stiff)
    for name, figures in members.items():
        made.add_section(
            name, figures["area"] * 1e6, figures["lateral"] * 1e12, figures["vertical"] * 1e12, figures["torsion"] * 1e12
        )
    return made


def moved(made, node, direction):
    made.analyze(check_statics=False)
    return getattr(made.nodes[node], direction)["Combo 1"] / 1e3


@vouches(
    "bed_bending_stiffness",
    "pair_tilt_stiffness",
    "bed_sideways_compliance",
    evidence="second program",
    source="finite_elements, PyNite, a bed held at the headstock with the tool on a stiff arm",
)
def test_tool_on_an_arm_above_the_bed():
    """Along x the bed, up y, sideways z: pushed sideways at the tool, the bed bends and twists."""
    made = frame(bed=BOX)
    for name, place in (("headstock", (0, 0, 0)), ("saddle", (LOOP * 1e3, 0, 0)), ("tool", (LOOP * 1e3, LEVER * 1e3, 0))):
        made.add_node(name, *place)
    made.def_support("headstock", *[True] * 6)
    made.add_member("bed", "headstock", "saddle", "steel", "bed")
    made.add_member("arm", "saddle", "tool", "steel", "rigid")
    made.add_node_load("tool", "FZ", FORCE)
    bending = bed.bed_bending_stiffness.si(E, BOX["lateral"], LOOP)
    twist = bed.pair_tilt_stiffness.si(E, G, BOX["torsion"], BOX["vertical"], 0.0, LOOP, LEVER)
    give = moved(made, "tool", "DZ") / FORCE
    agrees(bed.bed_sideways_compliance.si(bending, np.inf, twist), give, rel=1e-3)
    agrees(1 / bending, made.nodes["saddle"].DZ["Combo 1"] / 1e3 / FORCE, rel=1e-3)
    agrees(1 / twist, made.nodes["saddle"].RX["Combo 1"] * LEVER / FORCE, rel=1e-3)


@vouches(
    "bed_shear_stiffness",
    "bed_vertical_compliance",
    "bed_bending_stiffness",
    evidence="second program",
    source="finite_elements, our own after Timoshenko",
)
@pytest.mark.parametrize("loop", [0.12, 0.3])
def test_short_high_bed_gives_in_shear_too(loop):
    beam = Beam(ladder(0, loop), E * BOX["vertical"], G * BOX["shear_vertical"]).clamp(0)
    give = beam.under(loads=[(loop, 1.0)])[-2]
    bending = bed.bed_bending_stiffness.si(E, BOX["vertical"], loop)
    shear = bed.bed_shear_stiffness.si(G, BOX["shear_vertical"], loop)
    agrees(bed.bed_vertical_compliance.si(bending, shear), give, rel=1e-7)


@vouches(
    "pair_tilt_stiffness",
    evidence="second program",
    source="finite_elements, PyNite, two bars with a stiff saddle free to slope on them",
)
@pytest.mark.parametrize(("diameter", "spacing"), [(0.025, 0.09), (0.04, 0.06)])
def test_two_bars_tilt(diameter, spacing):
    pair = bed_forms.section("two round bars", spacing + diameter, diameter, 0)
    one = {name: pair[name] / 2 for name in ("area", "vertical", "lateral", "torsion")}
    made = frame(bar=one)
    for side, z in (("left", -spacing / 2), ("right", spacing / 2)):
        made.add_node(f"{side} end", 0, 0, z * 1e3)
        made.add_node(side, LOOP * 1e3, 0, z * 1e3)
        made.def_support(f"{side} end", *[True] * 6)
        made.add_member(f"{side} bar", f"{side} end", side, "steel", "bar")
    made.add_node("saddle", LOOP * 1e3, 0, 0)
    made.add_node("tool", LOOP * 1e3, LEVER * 1e3, 0)
    for side in ("left", "right"):  # the saddle's bores leave each bar its own slope up and down, but turn it with the saddle
        made.add_member(f"{side} arm", "saddle", side, "steel", "rigid")
        made.def_releases(f"{side} arm", Rxj=True)
    made.def_support("saddle", support_RZ=True)  # with both bores free, nothing else keeps it from spinning
    made.add_member("post", "saddle", "tool", "steel", "rigid")
    made.add_node_load("tool", "FZ", FORCE)
    moved(made, "tool", "DZ")
    tilt = made.nodes["saddle"].RX["Combo 1"] * LEVER / FORCE
    found = bed.pair_tilt_stiffness.si(E, G, pair["torsion"], pair["vertical"], pair["spacing"], LOOP, LEVER)
    agrees(1 / found, tilt, rel=2e-3)


@vouches(
    "twist_angle",
    evidence="second program",
    source="finite_elements, sectionproperties for the section and PyNite for the bar",
    because="Bredt's torsion constant is 3 per cent low here",
)
def test_twist_of_a_box_under_50_newton_metres():
    from sectionproperties.analysis import Section
    from sectionproperties.pre.library import rectangular_hollow_section

    mesh = rectangular_hollow_section(d=80, b=40, t=3, r_out=0, n_r=1).create_mesh(mesh_sizes=[3])
    section = Section(mesh)
    section.calculate_geometric_properties()
    section.calculate_warping_properties()
    made = frame(box={"area": 684e-6, "lateral": 1.8e-7, "vertical": 5.6e-7, "torsion": section.get_j() * 1e-12})
    made.add_node("held", 0, 0, 0)
    made.add_node("free", 500, 0, 0)
    made.def_support("held", *[True] * 6)
    made.add_member("bar", "held", "free", "steel", "box")
    made.add_node_load("free", "MX", 50e3)
    made.analyze(check_statics=False)
    found = bed.twist_angle.si(50, 0.5, G, sections.box_torsion.si(0.04, 0.08, 0.003))
    agrees(found, made.nodes["free"].RX["Combo 1"], rel=0.03)


@vouches(
    "bed_mass_per_length",
    "bed_mass",
    evidence="published and seen",
    source="en_10219, mass a metre of a 60 x 40 x 2 box",
    because="the standard takes round corners, which lighten a box of sharp corners by 3 per cent",
)
def test_mass_of_a_box_as_the_standard_has_it():
    a_metre = bed.bed_mass_per_length.si(sections.box_area.si(0.06, 0.04, 0.002), 7850)
    agrees(a_metre, 2.93, rel=0.035)
    agrees(bed.bed_mass.si(a_metre, 2.0), 2 * 2.93, rel=0.035)
