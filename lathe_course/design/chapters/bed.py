"""Chapter 07: what holds head and tool apart.  The chapter comes later; its figures serve chapter 08 already."""
import numpy as np

from ...machine import bed
from ...machine.bed_forms import FORMS, section
from ...ranges import Range
from ...tables import table
from ...units import Area, Compliance, Density, Length, Mass, Ratio, SecondMoment, Stress
from ..parts_of_chain import Decision, Figure, Limit, node, result

CHAPTER = "07"
BED_MATERIALS = ("mild steel", "grey cast iron", "aluminium alloy")

DECISIONS = [
    Decision("bed_form", "form of the bed", "Which form has the bed?", CHAPTER, options=tuple(FORMS)),
    Decision("bed_width", "width of the bed", "How wide is the bed over all?", CHAPTER, Length("mm", above=0), 40, 250, 5),
    Decision("bed_height", "height of the bed", "How high is the bed?", CHAPTER, Length("mm", above=0), 10, 200, 5),
    Decision("bed_wall", "wall of the bed", "How thick are the walls of the bed?", CHAPTER, Length("mm", above=0), 2, 40, 1),
    Decision("bed_material", "material of the bed", "Of which material is the bed?", CHAPTER, options=BED_MATERIALS, movable=False),
]

FIGURES = [
    Figure("bed_modulus", "elastic modulus of the bed", Stress("GPa"), CHAPTER, "shigley, Table A-5", lookup=lambda bed_material: table("materials")[bed_material]["elastic_modulus"]),
    Figure("bed_shear_modulus", "shear modulus of the bed", Stress("GPa"), CHAPTER, "shigley, Table A-5", lookup=lambda bed_material: table("materials")[bed_material]["shear_modulus"]),
    Figure("bed_density", "density of the bed", Density(), CHAPTER, "shigley, Table A-5", lookup=lambda bed_material: table("materials")[bed_material]["density"]),
    Figure("fill_ratio", "elastic modulus of a bonded fill over that of steel", Ratio(), CHAPTER, value=Range(0.05, 0.1, 0.15)),
    Figure("fill_density", "density of the fill", Density(), CHAPTER, value=Range(2000.0, 2300.0, 2500.0)),
    Figure("bed_joint_share", "share of the ideal stiffness that joints and slots leave", Ratio(), CHAPTER, value=Range(0.5, 0.7, 0.9)),
]


@result(None, "section of the bed", CHAPTER)
def bed_section(bed_form, bed_width, bed_height, bed_wall, fill_ratio):
    """Area, second moments and torsion constant of the form, from the formulas of chapter 07."""
    return section(bed_form, bed_width, bed_height, bed_wall, fill_ratio)


def _of_section(name, key, kind, label):
    def body(bed_section):
        return bed_section[key]
    body.__name__, body.__doc__ = name, f"{label.capitalize()}, from its section."
    return result(kind, label, CHAPTER)(body)


@result(Length("mm"), "length of bed in the loop", CHAPTER, source="own_work, loop from headstock to tool")
def loop_length(bearing_span, spindle_overhang, cut_reach):
    """From the middle of the headstock along the bed to the tool."""
    return bearing_span / 2 + spindle_overhang + cut_reach


@result(Length("mm"), "lever from the line of twist up to the tool", CHAPTER)
def twist_lever(centre_height, bed_section):
    """Centre height, and how deep below the ways the line lies about which the bed twists."""
    return centre_height + bed_section["shear_centre"]


@result(Length("mm"), "spacing of bars or rails", CHAPTER)
def bar_spacing(bed_section):
    """Between the middles of two bars or rails; zero for a bed of one piece."""
    return np.maximum(bed_section["spacing"], 0.0)


@result(Length("mm"), "length of the bed", CHAPTER, source="common_practice, headstock, chuck and tailstock beside the work")
def bed_length(between_centres, centre_height):
    """Between centres, and the feet of headstock and tailstock in proportion to the centre height."""
    return between_centres + 4.5 * centre_height


@result(Mass("kg"), "mass of the bed", CHAPTER)
def bed_mass(bed_section, bed_density, fill_density, bed_length):
    """Metal and fill of the section over the length of the bed."""
    per_length = bed.bed_mass_per_length.si
    return bed.bed_mass.si(per_length(bed_section["area"], bed_density) + per_length(bed_section["fill_area"], fill_density), bed_length)


_LOOP = {"loop_length": "loop_length"}
RESULTS = [
    bed_section,
    _of_section("bed_vertical_moment", "vertical", SecondMoment(), "second moment of the bed, up and down"),
    _of_section("bed_lateral_moment", "lateral", SecondMoment(), "second moment of the bed, sideways"),
    _of_section("bed_torsion", "torsion", SecondMoment(), "torsion constant of the bed"),
    _of_section("bed_shear_vertical", "shear_vertical", Area(), "area in shear, up and down"),
    _of_section("bed_shear_lateral", "shear_lateral", Area(), "area in shear, sideways"),
    loop_length, twist_lever, bar_spacing, bed_length, bed_mass,
    node(bed.bed_bending_stiffness, CHAPTER, name="bed_sideways_stiffness", label="bed in bending, sideways", elastic_modulus="bed_modulus",
         second_moment="bed_lateral_moment", **_LOOP),
    node(bed.bed_shear_stiffness, CHAPTER, name="bed_sideways_shear", label="bed in shear, sideways", shear_modulus="bed_shear_modulus",
         shear_area="bed_shear_lateral", **_LOOP),
    node(bed.pair_tilt_stiffness, CHAPTER, name="bed_turning_stiffness", label="bed in twist or tilt, at the tool", elastic_modulus="bed_modulus",
         shear_modulus="bed_shear_modulus", torsion_constant="bed_torsion", vertical_moment="bed_vertical_moment", spacing="bar_spacing",
         lever="twist_lever", **_LOOP),
    node(bed.bed_sideways_compliance, CHAPTER, name="bed_compliance_ideal", label="give of an ideal bed at the tool",
         bending_stiffness="bed_sideways_stiffness", shear_stiffness="bed_sideways_shear", twist_stiffness="bed_turning_stiffness"),
]



@result(Compliance(), "give of the bed at the tool", CHAPTER, source="common_practice, bolted and slotted beds fall short of the ideal")
def bed_compliance(bed_compliance_ideal, bed_joint_share):
    """The give of an ideal bed, and what bolts, slots and thin end plates add to it."""
    return bed_compliance_ideal / bed_joint_share


RESULTS.append(bed_compliance)

LIMITS: list[Limit] = []
