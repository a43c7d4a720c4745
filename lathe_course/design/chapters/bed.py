"""Chapter 07: what holds head and tool apart: form, section and metal of the bed, its feet, and the headstock's joint."""

import numpy as np

from ...machine import bed, joints, sections, supports
from ...machine.bed_forms import FORMS, section
from ...ranges import Range
from ...tables import table
from ...units import (
    Angle,
    Area,
    Compliance,
    Density,
    Force,
    Kind,
    Length,
    Mass,
    MassPerLength,
    Money,
    Ratio,
    SecondMoment,
    Stress,
)
from ..chain.entries import Column, Decision, Figure, Limit, node, result
from ..chain.fitted import REFITTED, by_way
from .place import APART, BENCH, HOMES

CHAPTER = "07"
#: bolts that hold the headstock, one near each corner
_BOLTS = 4
#: area of the thread of an M10 bolt, m²
_M10 = 58e-6
BED_MATERIALS = tuple(table("bed_materials"))
BOLTS = tuple(table("bolts"))
#: no joint bears, and leaves of the stiffness, more than this
_MOST_SHARE = 0.95
#: how much more a foot moves where the machine changes its place; common practice
_BEDDING_IN = dict(zip(HOMES, (1.0, 1.3, 2.0)))
FEET = ("three feet", "four feet standing free", "four feet bolted down")

_PRICE = Kind("price of a kilogram", "EUR/kg", example="3 EUR/kg")
_PRICE_PER_LENGTH = Kind("price of a metre", "EUR/m", example="500 EUR/m")

DECISIONS = [
    Decision("bed_form", "form of the bed", "Which form has the bed?", CHAPTER, options=tuple(FORMS)),
    Decision("bed_width", "width of the bed", "How wide is the bed over all?", CHAPTER, Length("mm", above=0), 40, 250, 5),
    Decision("bed_height", "height of the bed", "How high is the bed?", CHAPTER, Length("mm", above=0), 10, 200, 5),
    Decision("bed_wall", "wall of the bed", "How thick are the walls of the bed?", CHAPTER, Length("mm", above=0), 2, 40, 1),
    Decision(
        "bed_material", "material of the bed", "Of which material is the bed?", CHAPTER, options=BED_MATERIALS, movable=False
    ),
    Decision("feet", "feet of the bed", "On what does the bed stand?", CHAPTER, options=FEET),
    Decision("joint_bolt", "size of the headstock's bolts", "Which bolts hold the headstock?", CHAPTER, options=BOLTS),
    Decision(
        "fixing_spacing",
        "spacing of the headstock's fixings",
        "How far apart along the bed are the front and rear fixings of the headstock?",
        CHAPTER,
        Length("mm", above=0),
        30,
        300,
        5,
    ),
]


def _stand_change(stands_on, home):
    """Wood moves with the air, steel with its screws; what is set up in a new place again and again never stops bedding itself in."""
    ends = (0.005, 0.015, 0.05) if stands_on == BENCH else (0.004, 0.01, 0.03)
    return Range(*(1e-3 * _BEDDING_IN[home] * end for end in ends))


def _joint_share(bed_form, making, skill, moved_as):
    """What the form leaves, as its ways are joined to it; taken apart and screwed together again, a little less."""
    more = (Range(*(1 / end for end in reversed(REFITTED))),) if moved_as == APART else ()
    return by_way(
        "bed_joint_share",
        table("bed_forms")[bed_form]["joint_share"],
        making,
        "bed_joint_share",
        skill,
        more,
        most=_MOST_SHARE,
        bed_form=bed_form,
    )


FIGURES = [
    Figure(
        "bed_modulus",
        "elastic modulus of the bed",
        Stress("GPa"),
        CHAPTER,
        "shigley, Table A-5",
        lookup=Column("materials", "bed_material", "elastic_modulus"),
    ),
    Figure(
        "bed_shear_modulus",
        "shear modulus of the bed",
        Stress("GPa"),
        CHAPTER,
        "shigley, Table A-5",
        lookup=Column("materials", "bed_material", "shear_modulus"),
    ),
    Figure(
        "bed_density",
        "density of the bed",
        Density(),
        CHAPTER,
        "shigley, Table A-5",
        lookup=Column("materials", "bed_material", "density"),
    ),
    Figure("fill_ratio", "elastic modulus of a bonded fill over that of steel", Ratio(), CHAPTER, value=Range(0.05, 0.1, 0.15)),
    Figure("fill_density", "density of the fill", Density(), CHAPTER, value=Range(2000.0, 2300.0, 2500.0)),
    Figure(
        "bed_joint_share",
        "share of the ideal stiffness that joints and slots leave",
        Ratio(),
        CHAPTER,
        ("common_practice, table of bed forms", "common_practice, table of making"),
        lookup=_joint_share,
    ),
    Figure(
        "way_height",
        "height of profiled rails above their base",
        Length("mm"),
        CHAPTER,
        "common_practice, table of bed forms",
        lookup=Column("bed_forms", "bed_form", "way_height"),
    ),
    Figure(
        "way_mass",
        "mass of a metre of profiled rails, a pair",
        MassPerLength(),
        CHAPTER,
        "common_practice, table of bed forms",
        lookup=Column("bed_forms", "bed_form", "way_mass"),
    ),
    Figure(
        "way_price",
        "price of a metre of profiled rails, a pair",
        _PRICE_PER_LENGTH,
        CHAPTER,
        "common_practice, table of bed forms",
        lookup=Column("bed_forms", "bed_form", "way_price"),
    ),
    Figure(
        "bed_metal_price",
        "price of a kilogram of the bed, were it steel",
        _PRICE,
        CHAPTER,
        "common_practice, table of bed forms",
        lookup=Column("bed_forms", "bed_form", "metal_price"),
    ),
    Figure(
        "bed_price_ratio",
        "price of a kilogram of the bed over that of steel",
        Ratio(),
        CHAPTER,
        "common_practice, table of bed materials",
        lookup=Column("bed_materials", "bed_material", "price_ratio"),
    ),
    Figure("fill_price", "price of a kilogram of fill", _PRICE, CHAPTER, value=Range(3.0, 6.0, 10.0)),
    Figure(
        "stand_change",
        "how far one foot of four rises or sinks after levelling",
        Length("mm"),
        CHAPTER,
        "common_practice, what wood and steel do in a week",
        lookup=_stand_change,
    ),
    Figure(
        "weight_place",
        "place of the machine's weight, from the pair of feet towards the single one",
        Ratio(),
        CHAPTER,
        value=Range(0.25, 0.35, 0.45),
    ),
    Figure(
        "bolt_diameter",
        "diameter of the headstock's bolts",
        Length("mm"),
        CHAPTER,
        "iso_898",
        lookup=Column("bolts", "joint_bolt", "diameter"),
    ),
    Figure(
        "bolt_pitch",
        "pitch of the headstock's bolts",
        Length("mm"),
        CHAPTER,
        "iso_898",
        lookup=Column("bolts", "joint_bolt", "pitch"),
    ),
    Figure("bolt_proof", "proof stress of a bolt of class 8.8", Stress("N/mm²"), CHAPTER, "iso_898, proof stress", value=580.0),
    Figure(
        "bolt_share", "share of the proof stress that tightening by hand reaches", Ratio(), CHAPTER, value=Range(0.4, 0.6, 0.75)
    ),
    Figure(
        "torque_factor",
        "torque over pull and diameter of a bolt",
        Ratio(),
        CHAPTER,
        "shigley, bolt torque",
        value=Range(0.15, 0.2, 0.25),
    ),
    Figure(
        "joint_exponent",
        "exponent of the approach of two faces",
        Ratio(),
        CHAPTER,
        "koenigsberger_tlusty, flat joints",
        value=Range(0.4, 0.5, 0.6),
    ),
    Figure(
        "joint_shear_ratio",
        "stiffness of a joint against sliding over that against pressing",
        Ratio(),
        CHAPTER,
        value=Range(0.25, 0.4, 0.7),
    ),
]


# --- section, length, mass, price --------------------------------------------------------------------------
@result(None, "section of the bed", CHAPTER)
def bed_section(bed_form, bed_width, bed_height, bed_wall, fill_ratio):
    """Area, second moments and torsion constant of the form, from the formulas of chapter 07."""
    return section(bed_form, bed_width, bed_height, bed_wall, fill_ratio)


def _of_section(name, key, kind, label):
    def body(bed_section):
        return bed_section[key]

    return result(kind, label, CHAPTER, name=name, says=f"{label.capitalize()}, from its section.")(body)


@result(Length("mm"), "length of bed between headstock and tool", CHAPTER, source="own_work, loop from headstock to tool")
def loop_length(bearing_span, spindle_overhang, cut_reach):
    """From the middle of the headstock along the bed to the tool."""
    return bearing_span / 2 + spindle_overhang + cut_reach


@result(Length("mm"), "height of the tool above the line of twist", CHAPTER)
def twist_lever(centre_height, bed_section, way_height):
    """Centre height above the ways, and how deep below them the line lies about which the bed twists."""
    return centre_height + way_height + bed_section["shear_centre"]


@result(Length("mm"), "spacing of bars or rails", CHAPTER)
def bar_spacing(bed_section):
    """Between the middles of two bars or rails; zero for a bed of one piece."""
    return np.maximum(bed_section["spacing"], 0.0)


@result(SecondMoment(), "second moment sideways of bars or rails, were they tied along their length", CHAPTER)
def bed_if_tied(bed_form, bed_width, bed_height, bed_wall, bar_spacing):
    """What a plate or ribs between them could make of the two; nothing for other forms."""
    if bed_form == "two round bars":
        return sections.pair_of_bars_tied_moment.si(bed_height, bar_spacing)
    if bed_form == "two flat rails":
        return sections.pair_of_rails_tied_moment.si(bed_wall, bed_height, bar_spacing)
    return 0.0 * bed_width


@result(Length("mm"), "what stands in a row along the bed", CHAPTER, source="common_practice, proportions of the list")
def along_bed(headstock_length, bearing_span, spindle_overhang, tail_reach_in, barrel_out, tailstock_base):
    """Headstock, nose, longest work, and the foot of the tailstock, of which a tenth may stand over the end of the bed."""
    return (headstock_length + bearing_span) / 2 + spindle_overhang + tail_reach_in + barrel_out + 0.9 * tailstock_base


@result(Length("mm"), "length of the bed", CHAPTER, source="common_practice, headstock, chuck and tailstock beside the work")
def bed_length(between_centres, centre_height, along_bed):
    """Between centres, and the feet of headstock and tailstock in proportion to the centre height; longer where what stands along it takes more."""
    return np.maximum(between_centres + 4.5 * centre_height, along_bed)


@result(Length("mm"), "from the slideways to the underside of the bed", CHAPTER, source="definition")
def bed_depth(bed_form, bed_height, bed_wall, way_height):
    """Height of the bed; profiled rails stand on top of it, and the plate under round bars is as thick as the wall."""
    return bed_height + way_height + (bed_wall if bed_form == "round bars on a plate" else 0.0)


@result(Mass("kg"), "mass of the bed by itself, with its fill", CHAPTER)
def bed_mass(bed_section, bed_density, fill_density, way_mass, bed_length):
    """Metal, fill and profiled rails of the section over the length of the bed; end plates, feet and a plate on top come on top."""
    per_length = bed.bed_mass_per_length.si
    metal, fill = per_length(bed_section["area"], bed_density), per_length(bed_section["fill_area"], fill_density)
    return bed.bed_mass.si(metal + fill + way_mass, bed_length)


@result(Money(), "stock bought for the bed", CHAPTER, source="common_practice, table of bed forms")
def bed_price(bed_section, bed_density, fill_density, bed_metal_price, bed_price_ratio, fill_price, way_price, bed_length):
    """Metal, fill and profiled rails as bought; machining and scraping come on top."""
    metal = bed_section["area"] * bed_density * bed_metal_price * bed_price_ratio
    return bed_length * (metal + bed_section["fill_area"] * fill_density * fill_price + way_price)


# --- give between headstock and tool --------------------------------------------------------------------------
@result(
    Compliance(),
    "give of the bed at the tool",
    CHAPTER,
    source="common_practice, bolted and slotted beds fall short of the ideal",
)
def bed_compliance(bed_compliance_ideal, bed_joint_share):
    """The give of an ideal bed, and what bolts, slots and thin end plates add to it."""
    return bed_compliance_ideal / bed_joint_share


@result(
    Compliance(),
    "give of the bed at the tool, up and down",
    CHAPTER,
    source="common_practice, bolted and slotted beds fall short of the ideal",
)
def bed_upright_compliance(bed_upright_ideal, bed_joint_share):
    """The same up and down, where nothing twists."""
    return bed_upright_ideal / bed_joint_share


@result(Angle("mrad"), "twist of the bed under the roughing cut", CHAPTER, source="shigley, torsion of a bar")
def bed_cut_twist(bar_spacing, cutting_force, twist_lever, loop_length, bed_shear_modulus, bed_torsion):
    """Of a bed of one piece, from headstock to tool; none of two bars or rails, which tilt in place of it."""
    return np.where(
        bar_spacing > 0, 0.0, bed.twist_angle.si(cutting_force * twist_lever, loop_length, bed_shear_modulus, bed_torsion)
    )[()]


@result(Ratio("%"), "share of the bed in the give of the machine", CHAPTER)
def bed_share(bed_compliance, bed_upright_compliance, predicted_compliance):
    """The bed's give, in the worse direction, over that of the whole machine, both worked out: a measured give scales them alike."""
    return np.maximum(bed_compliance, bed_upright_compliance) / predicted_compliance


_LOOP = {"loop_length": "loop_length"}
_SHEAR = {"shear_modulus": "bed_shear_modulus"}
STIFFNESS = [
    node(
        bed.bed_bending_stiffness,
        CHAPTER,
        name="bed_sideways_stiffness",
        label="stiffness of the bed in bending, sideways",
        elastic_modulus="bed_modulus",
        second_moment="bed_lateral_moment",
        **_LOOP,
    ),
    node(
        bed.bed_bending_stiffness,
        CHAPTER,
        name="bed_own_stiffness",
        label="stiffness of rails between ribs in bending, each for itself",
        elastic_modulus="bed_modulus",
        second_moment="bed_own_moment",
        **_LOOP,
    ),
    node(
        bed.bed_shear_stiffness,
        CHAPTER,
        name="bed_sideways_shear",
        label="stiffness of the bed in shear, sideways",
        shear_area="bed_shear_lateral",
        **_SHEAR,
        **_LOOP,
    ),
    node(
        bed.pair_tilt_stiffness,
        CHAPTER,
        name="bed_turning_stiffness",
        label="stiffness of the bed in twist or tilt, at the tool",
        elastic_modulus="bed_modulus",
        torsion_constant="bed_torsion",
        vertical_moment="bed_vertical_moment",
        spacing="bar_spacing",
        arm="twist_lever",
        **_SHEAR,
        **_LOOP,
    ),
    node(
        bed.bed_sideways_compliance,
        CHAPTER,
        name="bed_compliance_ideal",
        label="give of an ideal bed at the tool",
        bending_stiffness="bed_sideways_stiffness",
        shear_stiffness="bed_sideways_shear",
        twist_stiffness="bed_turning_stiffness",
        own_stiffness="bed_own_stiffness",
    ),
    bed_compliance,
    node(
        bed.bed_bending_stiffness,
        CHAPTER,
        name="bed_upright_stiffness",
        label="stiffness of the bed in bending, up and down",
        elastic_modulus="bed_modulus",
        second_moment="bed_vertical_moment",
        **_LOOP,
    ),
    node(
        bed.bed_shear_stiffness,
        CHAPTER,
        name="bed_upright_shear",
        label="stiffness of the bed in shear, up and down",
        shear_area="bed_shear_vertical",
        **_SHEAR,
        **_LOOP,
    ),
    node(
        bed.bed_vertical_compliance,
        CHAPTER,
        name="bed_upright_ideal",
        label="give of an ideal bed at the tool, up and down",
        bending_stiffness="bed_upright_stiffness",
        shear_stiffness="bed_upright_shear",
    ),
    bed_upright_compliance,
    bed_cut_twist,
    bed_share,
]


# --- feet ------------------------------------------------------------------------------------------------
@result(Angle("mrad"), "twist that a changing stand puts into the bed", CHAPTER)
def stand_twist(feet, forced_twist, weight_twist):
    """Nothing on three feet; on four free ones no more than the weight can press in; bolted down, all of it."""
    if feet == "three feet":
        return 0.0 * forced_twist
    return forced_twist if feet == "four feet bolted down" else np.minimum(forced_twist, weight_twist)


@result(Force(), "sideways push that tips the machine if nothing holds it down", CHAPTER)
def tipping_push(feet, machine_weight, bed_width, weight_place, bed_height, way_height, centre_height, riser_height):
    """A push at centre height, which a riser under the bed lifts; three feet tip sooner than four."""
    height = centre_height + way_height + bed_height + riser_height
    if feet == "three feet":
        return supports.three_feet_push.si(machine_weight, bed_width, weight_place, height)
    return machine_weight * bed_width / (2 * height)


STANDING = [
    node(
        supports.least_sag_spacing,
        CHAPTER,
        name="foot_spacing",
        label="distance between the feet of the bed",
        length="bed_length",
    ),
    node(bed.weight, CHAPTER, name="machine_weight", label="weight of the machine", mass="parts_mass"),
    node(
        supports.foot_twist,
        CHAPTER,
        name="forced_twist",
        label="twist of a bed that must follow its stand",
        lift="foot_change",
        foot_width="bed_width",
    ),
    node(
        supports.twist_by_weight,
        CHAPTER,
        name="weight_twist",
        label="twist that the machine's own weight can force",
        weight="machine_weight",
        foot_width="bed_width",
        shear_modulus="bed_shear_modulus",
        torsion_constant="bed_torsion",
    ),
    stand_twist,
    tipping_push,
]


# --- joint of headstock and bed ------------------------------------------------------------------------------
@result(
    Length("mm"),
    "length of face held by the headstock's bolts",
    CHAPTER,
    source="definition, second moment of two rows and of an even face",
)
def joint_grip(fixing_spacing):
    """Two rows of bolts hold against swinging like an even face the root of three times as long as they stand apart."""
    return np.sqrt(3.0) * fixing_spacing


@result(
    Ratio(),
    "headstock seat's give over that of the reference lathe",
    CHAPTER,
    source=("koenigsberger_tlusty, flat joints", "own_work, the table of links at another seat"),
)
def seat_proportion(
    bed_width, bearing_span, joint_grip, centre_height, loop_length, bolt_stress_area, joint_exponent, joint_shear_ratio
):
    """Harder bolts press the faces closer, a broad seat rocks less, and fixings far apart swing less.

    The table of links was judged for four M10 on a machine of 75 mm, in proportion at other
    sizes: a seat 1.6 centre heights wide and 1.47 long, its fixings 1.2 apart, the cut 2.13 away.
    Faces and tightening are taken alike on both, so their doubt is not counted twice.
    """

    def give(width, length, grip, reach, bolts):
        stiffness = (width * length) ** joint_exponent * bolts ** (1 - joint_exponent)
        return joints.headstock_joint_compliance.si(stiffness, joint_shear_ratio, width, grip, centre_height, reach)

    h = centre_height
    usual = give(1.6 * h, 1.467 * h, np.sqrt(3.0) * 1.2 * h, 2.133 * h, _BOLTS * _M10 * (h / 0.075) ** 2)
    return give(bed_width, bearing_span, joint_grip, loop_length, _BOLTS * bolt_stress_area) / usual


@result(Ratio(), "base of the headstock over the centre height squared", CHAPTER, source="common_practice, base of a headstock")
def base_ratio(bed_width, bearing_span, centre_height):
    """How broadly the headstock sits for its height."""
    return bed_width * bearing_span / centre_height**2


JOINT = [
    node(
        joints.bolt_stress_area,
        CHAPTER,
        label="stress area of one bolt of the headstock",
        diameter="bolt_diameter",
        pitch="bolt_pitch",
    ),
    node(
        joints.bolt_preload,
        CHAPTER,
        label="pull of one bolt of the headstock",
        stress_area="bolt_stress_area",
        proof_stress="bolt_proof",
        share="bolt_share",
    ),
    node(
        joints.tightening_torque,
        CHAPTER,
        label="tightening torque of the headstock's bolts",
        preload="bolt_preload",
        diameter="bolt_diameter",
    ),
    joint_grip,
    base_ratio,
    seat_proportion,
]

RESULTS = [
    bed_section,
    _of_section("bed_vertical_moment", "vertical", SecondMoment(), "second moment of the bed, up and down"),
    _of_section("bed_lateral_moment", "lateral", SecondMoment(), "second moment of the bed, sideways"),
    _of_section(
        "bed_own_moment", "own_lateral", SecondMoment(), "second moment of rails between ribs, sideways, each for itself"
    ),
    _of_section("bed_torsion", "torsion", SecondMoment(), "torsion constant of the bed"),
    _of_section("bed_shear_vertical", "shear_vertical", Area(), "area in shear, up and down"),
    _of_section("bed_shear_lateral", "shear_lateral", Area(), "area in shear, sideways"),
    loop_length,
    twist_lever,
    bar_spacing,
    bed_if_tied,
    along_bed,
    bed_length,
    bed_depth,
    bed_mass,
    bed_price,
    *STIFFNESS,
    *STANDING,
    *JOINT,
]

LIMITS = [
    Limit(
        "bed_stiff_enough",
        "the bed is not the weak link",
        CHAPTER,
        "bed_share",
        "at most",
        100 / 3,
        "The bed takes {value} of the whole machine's give; at a tenth it is good enough, past {limit} it is a weak link.",
        comfort=7 / 3,
    ),
    Limit(
        "base_broad_enough",
        "headstock sits broadly enough",
        CHAPTER,
        "base_ratio",
        "at least",
        2.0,
        "The headstock's base is {value} times the centre height squared; {limit} is the usual least.",
        comfort=0.1,
    ),
]
