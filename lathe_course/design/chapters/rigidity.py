"""Chapter 08: what the tool feels: the budget of give, sideways and upright, and the give of the work itself; what it leaves on the work is ``errors``."""

import numpy as np

from ...machine import errors, joints, rigidity, spindle
from ...machine.holding import CENTRES, CHUCK, CHUCK_AND_CENTRE, FACEPLATE, HOLDINGS
from ...ranges import Range
from ...tables import table
from ...units import Angle, Compliance, FeedPerTurn, Length, Ratio, Stress
from ..chain.entries import Column, Decision, Figure, node, result
from ..chain.fitted import REFITTED, by_way
from .place import APART, WHOLE

CHAPTER = "08"
TOP = ("topslide", "solid block")
POSTS = tuple(table("toolposts"))
SUPPORTS = HOLDINGS
#: centre height for which the table of links holds
_REFERENCE = 0.075

DECISIONS = [
    Decision(
        "tolerance",
        "tolerance to hold",
        "Which total tolerance on a diameter must it hold?",
        CHAPTER,
        Length("µm", above=0),
        5,
        100,
        1,
        movable=False,
    ),
    Decision(
        "top_of_slide",
        "what carries the toolpost",
        "Does the toolpost stand on a topslide or on a solid block?",
        CHAPTER,
        options=TOP,
    ),
    Decision("toolpost_kind", "kind of toolpost", "What clamps the tool?", CHAPTER, options=POSTS),
    Decision("tool_shank", "tool shank", "How thick is the square shank of the tool?", CHAPTER, Length("mm", above=0), 6, 25, 1),
    Decision(
        "tool_overhang",
        "overhang of the tool",
        "How far does the tool stand out of the post?",
        CHAPTER,
        Length("mm", above=0),
        5,
        60,
        1,
    ),
    Decision(
        "nose_radius", "nose radius of the tool", "How round is the tip of the tool?", CHAPTER, Length("mm", above=0), 0.1, 2, 0.1
    ),
    Decision(
        "finish_depth", "depth of the finishing cut", "How deep is the last cut?", CHAPTER, Length("mm", above=0), 0.05, 0.5, 0.05
    ),
    Decision(
        "finish_feed",
        "feed of the finishing cut",
        "At which feed is the last cut taken?",
        CHAPTER,
        FeedPerTurn("mm/rev", above=0),
        0.02,
        0.3,
        0.01,
    ),
    Decision(
        "work_diameter",
        "diameter of the slimmest precise work",
        "How thick is the slimmest piece that must come out true?",
        CHAPTER,
        Length("mm", above=0),
        3,
        120,
        1,
        movable=False,
    ),
    Decision(
        "work_length",
        "free length of the slimmest work",
        "How far does that slimmest piece stand out, or how long is it between its supports?",
        CHAPTER,
        Length("mm", above=0),
        5,
        600,
        5,
        movable=False,
    ),
    Decision("work_support", "how the slimmest work is held", "How is that slimmest piece held?", CHAPTER, options=SUPPORTS),
]


#: name of the link's figure -> its row in the table, and its words; the topslide's row is decided
LINKS = {
    "chuck": ("nose and chuck", "nose and chuck"),
    "headstock": ("headstock joint", "headstock and joint"),
    "saddle": ("saddle", "the saddle"),
    "cross_slide": ("cross-slide", "the cross-slide"),
    "top": ("", "topslide or block"),
    "toolpost": ("toolpost", "toolpost and clamping"),
}
#: places along the work at which its give is looked at, as shares of the free length
PLACES = np.linspace(0, 1, 33)
_TABLE = "common_practice, table of links"
_MADE = (_TABLE, "common_practice, table of making")


def _lookup(name, row, way, figure):
    """The range of the table, as the parts behind the link are made; what is bolted gives a little more once it was taken apart."""
    moves = f"{name}_give"

    def told(making, skill, row, more=(), **choices):
        return by_way(figure, table("links")[row][way], making, moves, skill, more, **choices)

    if name == "saddle":
        return lambda making, skill, bed_form: told(making, skill, row, bed_form=bed_form)
    if name == "headstock":
        return lambda making, skill, moved_as: told(making, skill, row, () if moved_as == WHOLE else (REFITTED,))
    if name == "top":
        return lambda making, skill, top_of_slide, moved_as: told(
            making, skill, top_of_slide, (REFITTED,) if moved_as == APART else (), top_of_slide=top_of_slide
        )
    if name == "toolpost":
        return lambda making, skill, toolpost_kind, moved_as: told(
            making, skill, row, (REFITTED,) if moved_as == APART else (), toolpost_kind=toolpost_kind
        )
    return lambda making, skill: told(making, skill, row)


FIGURES = [
    *(
        Figure(
            f"{name}_link",
            f"give of {words}, reference lathe",
            Compliance(),
            CHAPTER,
            _MADE,
            lookup=_lookup(name, row, "sideways", f"{name}_link"),
        )
        for name, (row, words) in LINKS.items()
    ),
    *(
        Figure(
            f"{name}_upright",
            f"give of {words} up and down, reference lathe",
            Compliance(),
            CHAPTER,
            _MADE,
            lookup=_lookup(name, row, "upright", f"{name}_upright"),
        )
        for name, (row, words) in LINKS.items()
    ),
    Figure(
        "tailstock_link",
        "give of the tailstock without its barrel, reference lathe",
        Compliance(),
        CHAPTER,
        _MADE,
        lookup=_lookup("tail", "tailstock", "sideways", "tailstock_link"),
    ),
    Figure(
        "post_give",
        "give of the kind of toolpost over that of a four-way block",
        Ratio(),
        CHAPTER,
        "common_practice, table of toolposts",
        lookup=Column("toolposts", "toolpost_kind", "give"),
    ),
    Figure(
        "post_back",
        "how far out a tool comes back to its place",
        Length("µm"),
        CHAPTER,
        "common_practice, table of toolposts",
        lookup=Column("toolposts", "toolpost_kind", "back"),
    ),
    Figure(
        "work_modulus",
        "elastic modulus of the work",
        Stress("GPa"),
        CHAPTER,
        "shigley, Table A-5",
        lookup=Column("materials", "work_material", "elastic_modulus"),
    ),
    Figure(
        "seat_share", "share of the headstock's give that is its seat on the bed", Ratio("%"), CHAPTER, value=Range(40, 60, 80)
    ),
]


def _at_size(figure: str, name: str, label: str, row: str):
    exponent = table("links")[row]["size_exponent"]

    def body(link, centre_height):
        """The figure of the table carried over to this centre height: a larger machine of one shape is stiffer."""
        return rigidity.link_compliance_at_size.si(link, centre_height / _REFERENCE, exponent)

    return result(Compliance(), label, CHAPTER, name=name, source=_TABLE, link=figure)(body)


@result(
    Compliance(), "give of the saddle", CHAPTER, source=("common_practice, table of links", "own_work, another length and width")
)
def saddle_give(saddle_at_size, saddle_proportion, slide_give):
    """What chapter 09 makes of the saddle: its kind of ways; longer it gives less, on a narrow bed or under a tool beside its middle more."""
    return saddle_at_size * saddle_proportion * slide_give


@result(Compliance(), "give of nose and chuck", CHAPTER, source="common_practice, a larger chuck on the same nose")
def chuck_give(chuck_at_size, chuck_diameter, chuck_jaws, centre_height, nose_seat):
    """Half is the joint at the nose, which tips the more the longer the chuck; half body and jaws, stiffer in a larger chuck and with more jaws.

    The table was judged for three jaws, a bolted flange and a chuck four thirds of the centre height.  Springs
    evenly round the work give as one over their number.
    """
    larger = chuck_diameter / (4 / 3 * centre_height)
    return chuck_at_size * (nose_seat * larger**2 / 2 + 3 / (2 * chuck_jaws * larger))


@result(
    Compliance(),
    "give of headstock and joint",
    CHAPTER,
    source=("common_practice, table of links", "koenigsberger_tlusty, flat joints"),
)
def headstock_give(headstock_at_size, seat_share, seat_proportion):
    """The body as the table has it, and its seat as bolts, width and fixings make it."""
    return headstock_at_size * (1 - seat_share + seat_share * seat_proportion)


@result(Compliance(), "give of the cross-slide", CHAPTER, source="definition, links in a row add their give")
def cross_slide_give(cross_slide_at_size, gib_give):
    """Ways, screw and nut as the table has them, and the gib strip that bends between its screws."""
    return cross_slide_at_size + gib_give


@result(Compliance(), "give of toolpost and clamping", CHAPTER, source="common_practice, table of toolposts")
def toolpost_give(toolpost_at_size, post_give):
    """That of a four-way block, times what the kind makes of it."""
    return toolpost_at_size * post_give


@result(
    Ratio(),
    "tailstock base's give over that of the reference lathe",
    CHAPTER,
    source="own_work, a rigid tailstock on an even bed of springs",
)
def tail_proportion(tailstock_base, barrel_overhang, bed_width, centre_height, joint_shear_ratio):
    """A base that is short for what stands out before it swings, and bears on less; the table was judged for one 1.27 centre heights long on a bed 1.6 wide."""

    def give(length, width, out):
        return joints.headstock_joint_compliance.si(
            length * width, joint_shear_ratio, width, length, centre_height, length / 2 + out
        )

    h = centre_height
    return give(tailstock_base, bed_width, barrel_overhang) / give(1.27 * h, 1.6 * h, 0.8 * h)


@result(Compliance(), "give of the tailstock", CHAPTER, source="definition, links in a row add their give")
def tail_give(tail_at_size, tail_proportion, barrel_compliance):
    """Body, base and lock as the table has them for such a base, and the barrel bent as far as it stands out."""
    return tail_at_size * tail_proportion + barrel_compliance


# --- the budget ------------------------------------------------------------------------------------
@result(
    Compliance(),
    "give of the whole machine at the tool, sideways, as worked out",
    CHAPTER,
    source="definition, links in a row add their give",
)
def predicted_compliance(
    spindle_compliance,
    chuck_give,
    headstock_give,
    bed_compliance,
    saddle_give,
    cross_slide_give,
    top_give,
    toolpost_give,
    shank_compliance,
):
    """Every link between work and tool gives; in a row the gives add."""
    return (
        spindle_compliance
        + chuck_give
        + headstock_give
        + bed_compliance
        + saddle_give
        + cross_slide_give
        + top_give
        + toolpost_give
        + shank_compliance
    )


@result(
    Compliance(),
    "give of the whole machine at the tool, up and down",
    CHAPTER,
    source="definition, links in a row add their give",
)
def upright_compliance(
    spindle_compliance,
    bed_upright_compliance,
    tool_stiffness,
    centre_height,
    chuck_upright,
    headstock_upright,
    saddle_upright,
    cross_slide_upright,
    top_upright,
    toolpost_upright,
    post_give,
    slide_give,
):
    """The same links pressed down by the cut; spindle and bearings give alike both ways, the tool's shank bends only this way."""
    judged = (
        chuck_upright
        + headstock_upright
        + saddle_upright * slide_give
        + cross_slide_upright
        + top_upright
        + toolpost_upright * post_give
    )
    at_size = rigidity.link_compliance_at_size.si(judged, centre_height / _REFERENCE, 1.0)
    return spindle_compliance + bed_upright_compliance + 1 / tool_stiffness + at_size


@result(Angle(), "angle of the cut's push, from sideways towards upright", CHAPTER)
def force_angle(radial_share):
    """The cutting force presses down, the force along the radius pushes out: the push lies between."""
    return np.arctan(1 / radial_share)


# --- the work ----------------------------------------------------------------------------------------
@result(Compliance(), "give of the work", CHAPTER, source="shigley, Table A-9")
def work_compliance(work_length, work_diameter, work_support, work_modulus):
    """Per unit of force, at the worst place along the work, which is of the hardest material."""
    one = (1.0, work_length)
    if work_support in (CHUCK, FACEPLATE):
        return rigidity.chuck_deflection.si(*one, work_diameter, work_modulus)
    if work_support == CHUCK_AND_CENTRE:
        return rigidity.worst_chuck_and_centre_deflection.si(*one, work_diameter, work_modulus)
    return rigidity.centres_deflection.si(*one, work_length / 2, work_diameter, work_modulus)


@result(
    Ratio(),
    "give taken over the give worked out",
    CHAPTER,
    source="own_work, one ratio over all links that the force ran through",
)
def give_scale(machine_compliance, predicted_compliance):
    """One while the give is worked out; measured, every link it ran through gives more or less in this proportion."""
    return machine_compliance / predicted_compliance


@result(Compliance(), "give of the headstock's side under the chuck", CHAPTER, source="definition, links in a row add their give")
def chuck_side_give(spindle_compliance, chuck_give, headstock_give, give_scale):
    """Spindle, chuck and headstock."""
    return (spindle_compliance + chuck_give + headstock_give) * give_scale


@result(Compliance(), "give of the headstock's side", CHAPTER, source="definition, links in a row add their give")
def head_give(work_support, chuck_side_give, centre_side_give, plate_side_give):
    """What the near end of the work is held by: chuck, centre or faceplate."""
    return {CENTRES: centre_side_give, FACEPLATE: plate_side_give}.get(work_support, chuck_side_give)


@result(
    None, "give of work and holding along the work", CHAPTER, source=("shigley, Table A-9", "definition, a bar on two springs")
)
def give_along(
    work_length,
    work_diameter,
    work_support,
    work_modulus,
    steel_modulus,
    head_give,
    tail_give,
    cut_reach,
    spindle_compliance,
    spindle_overhang,
    bearing_span,
    spindle_diameter,
    spindle_bore,
    steel_shear_modulus,
    front_stiffness_at_size,
    rear_stiffness_at_size,
    give_scale,
):
    """Per unit of force at places along the work, the first at the headstock's side; shape (places, ...).

    The spindle is felt with the longest arm at the free end of the work, which is where the cut was
    reckoned to be; nearer to the chuck it gives less.
    """
    tail = () if work_support in (CHUCK, FACEPLATE) else (tail_give,)  # a free end knows nothing of the tailstock
    deep = max(
        np.ndim(one)
        for one in (
            work_length,
            work_diameter,
            head_give,
            cut_reach,
            spindle_overhang,
            bearing_span,
            work_modulus,
            steel_modulus,
            give_scale,
            *tail,
        )
    )
    position = PLACES.reshape(-1, *[1] * deep) * work_length
    head = head_give
    if work_support == CHUCK:
        arm = {"overhang": spindle_overhang, "span": bearing_span, "reach": np.maximum(cut_reach - work_length + position, 0.0)}
        at_place = spindle.bearing_compliance.si(
            **arm, front_stiffness=front_stiffness_at_size, rear_stiffness=rear_stiffness_at_size
        ) + spindle.shaft_compliance.si(
            **arm, diameter=spindle_diameter, bore=spindle_bore, elastic_modulus=steel_modulus, shear_modulus=steel_shear_modulus
        )
        head = head_give + (at_place - spindle_compliance) * give_scale
    return rigidity.give_along_work(work_support, position, head, tail_give, work_length, work_diameter, work_modulus)


@result(Compliance(), "difference of give along the work", CHAPTER, source="own_work, give worked out at places along the work")
def give_difference(give_along):
    """Give at the softest place less that at the stiffest: a steady push leaves this shape on the work."""
    return give_along.max(axis=0) - give_along.min(axis=0)


@result(
    Compliance(),
    "give that work and tailstock add at the worst place",
    CHAPTER,
    source="own_work, give worked out at places along the work",
)
def holding_extra(give_along, chuck_side_give):
    """Over the give at the chuck, which the machine's own budget holds already; minus where a centre holds stiffer than the chuck."""
    return give_along.max(axis=0) - chuck_side_give


@result(Compliance(), "give of machine and work together", CHAPTER, source="definition, links in a row add their give")
def loop_compliance(machine_compliance, holding_extra):
    """Machine and work in a row, at the worst place along the work."""
    return machine_compliance + holding_extra


_SHANK = {
    "overhang": "tool_overhang",
    "shank_width": "tool_shank",
    "shank_height": "tool_shank",
    "elastic_modulus": "steel_modulus",
}
RESULTS = [
    _at_size("chuck_link", "chuck_at_size", "reference give of nose and chuck at this size", "nose and chuck"),
    chuck_give,
    _at_size("headstock_link", "headstock_at_size", "reference give of headstock and joint at this size", "headstock joint"),
    headstock_give,
    _at_size("saddle_link", "saddle_at_size", "reference give of the saddle at this size", "saddle"),
    saddle_give,
    _at_size("cross_slide_link", "cross_slide_at_size", "reference give of the cross-slide at this size", "cross-slide"),
    cross_slide_give,
    _at_size("top_link", "top_give", "give of topslide or block", "topslide"),
    _at_size("toolpost_link", "toolpost_at_size", "reference give of the toolpost at this size", "toolpost"),
    toolpost_give,
    _at_size("tailstock_link", "tail_at_size", "reference give of the tailstock at this size", "tailstock"),
    tail_proportion,
    tail_give,
    node(
        rigidity.shank_push_compliance, CHAPTER, name="shank_compliance", label="give of the tool's shank along itself", **_SHANK
    ),
    node(
        rigidity.tool_overhang_stiffness,
        CHAPTER,
        name="tool_stiffness",
        label="stiffness of the tool's shank, up and down",
        **_SHANK,
    ),
    node(rigidity.shank_nod, CHAPTER, label="dip of the tip into the work for each unit of the cutting force", **_SHANK),
    predicted_compliance,
    upright_compliance,
    force_angle,
    node(
        errors.directional_give,
        CHAPTER,
        name="give_along_push",
        label="give of the machine along the push of the cut",
        sideways="machine_compliance",
        upright="upright_compliance",
        angle="force_angle",
    ),
    work_compliance,
    give_scale,
    chuck_side_give,
    head_give,
    give_along,
    give_difference,
    holding_extra,
    loop_compliance,
    node(
        rigidity.stiffness_of,
        CHAPTER,
        name="machine_stiffness",
        label="stiffness of the machine at the tool",
        compliance="machine_compliance",
    ),
]
