"""Chapter 08: what the tool feels: the budget of give, the error it leaves, and the cut that stays quiet."""
from ...machine import finish, forces, rigidity
from ...ranges import Range
from ...tables import table
from ...units import Compliance, FeedPerTurn, Force, Length, Ratio
from ..parts_of_chain import Decision, Figure, Limit, node, result

CHAPTER = "08"
TOP = ("topslide", "solid block")
SUPPORTS = ("chuck alone", "chuck and centre", "between centres")
#: centre height for which the table of links holds
_REFERENCE = 0.075

DECISIONS = [
    Decision("tolerance", "tolerance to hold", "Which total tolerance on a diameter must it hold?", CHAPTER, Length("µm", above=0), 5, 100, 1, movable=False),
    Decision("top_of_slide", "what carries the toolpost", "Does the toolpost stand on a topslide or on a solid block?", CHAPTER, options=TOP),
    Decision("tool_shank", "tool shank", "How thick is the square shank of the tool?", CHAPTER, Length("mm", above=0), 6, 25, 1),
    Decision("tool_overhang", "overhang of the tool", "How far does the tool stand out of the post?", CHAPTER, Length("mm", above=0), 5, 60, 1),
    Decision("nose_radius", "nose radius of the tool", "How round is the tip of the tool?", CHAPTER, Length("mm", above=0), 0.1, 2, 0.1),
    Decision("finish_depth", "depth of the finishing cut", "How deep is the last cut?", CHAPTER, Length("mm", above=0), 0.05, 0.5, 0.05),
    Decision("finish_feed", "feed of the finishing cut", "At which feed is the last cut taken?", CHAPTER, FeedPerTurn("mm/rev", above=0), 0.02, 0.3, 0.01),
    Decision("work_diameter", "diameter of the slimmest precise work", "How thick is the slimmest piece that must come out true?", CHAPTER, Length("mm", above=0), 3, 120, 1, movable=False),
    Decision("work_length", "free length of that work", "How far does that slimmest piece stand out, or how long is it between its supports?", CHAPTER, Length("mm", above=0), 5, 600, 5, movable=False),
    Decision("work_support", "holding of that work", "How is that slimmest piece held?", CHAPTER, options=SUPPORTS),
]


def _link(name):
    return lambda: table("links")[name]["sideways"]


FIGURES = [
    Figure("chuck_link", "nose and chuck", Compliance(), CHAPTER, "common_practice, table of links", lookup=_link("nose and chuck")),
    Figure("headstock_link", "headstock and its joint", Compliance(), CHAPTER, "common_practice, table of links", lookup=_link("headstock joint")),
    Figure("saddle_link", "saddle on the ways", Compliance(), CHAPTER, "common_practice, table of links", lookup=_link("saddle")),
    Figure("cross_slide_link", "cross-slide", Compliance(), CHAPTER, "common_practice, table of links", lookup=_link("cross-slide")),
    Figure("top_link", "topslide or block", Compliance(), CHAPTER, "common_practice, table of links",
           lookup=lambda top_of_slide: table("links")[top_of_slide]["sideways"]),
    Figure("toolpost_link", "toolpost and clamping", Compliance(), CHAPTER, "common_practice, table of links", lookup=_link("toolpost")),
    Figure("radial_share", "force along the radius over the cutting force", Ratio("%"), CHAPTER, value=Range(20, 40, 80)),
    Figure("error_share", "share of the tolerance the machine may take", Ratio("%"), CHAPTER, value=30.0),
    Figure("force_change", "share of the last cut's force that changes from piece to piece", Ratio("%"), CHAPTER, value=Range(20, 40, 80)),
    Figure("damping", "damping ratio", Ratio(), CHAPTER, value=Range(0.02, 0.035, 0.05)),
    Figure("direction_factor", "direction factor of chatter", Ratio(), CHAPTER, value=Range(0.3, 0.4, 0.5)),
]


def _at_size(figure: str, name: str, label: str, row: str):
    exponent = table("links")[row]["size_exponent"]

    def body(link, centre_height):
        return rigidity.link_compliance_at_size.si(link, centre_height / _REFERENCE, exponent)
    body.__name__, body.__doc__ = name, "The figure of the table carried over to this centre height: a larger machine of one shape is stiffer."
    return result(Compliance(), label, CHAPTER, source="common_practice, table of links", link=figure)(body)


@result(Compliance(), "give of the whole machine at the tool, sideways", CHAPTER, source="definition, links in a row add their give")
def machine_compliance(spindle_compliance, chuck_give, headstock_give, bed_compliance, saddle_give, cross_slide_give, top_give, toolpost_give):
    """Every link between work and tool gives; in a row the gives add."""
    return (spindle_compliance + chuck_give + headstock_give + bed_compliance + saddle_give + cross_slide_give + top_give + toolpost_give)


@result(Compliance(), "give of the work", CHAPTER, source="shigley, Table A-9")
def work_compliance(work_length, work_diameter, work_support, steel_modulus):
    """Per unit of force, at the worst place along the work, steel taken."""
    one = (1.0, work_length)
    if work_support == "chuck alone":
        return rigidity.chuck_deflection.si(*one, work_diameter, steel_modulus)
    if work_support == "chuck and centre":
        return rigidity.worst_chuck_and_centre_deflection.si(*one, work_diameter, steel_modulus)
    return rigidity.centres_deflection.si(*one, work_length / 2, work_diameter, steel_modulus)


@result(Compliance(), "give of machine and work together", CHAPTER, source="definition, links in a row add their give")
def loop_compliance(machine_compliance, work_compliance):
    """Machine and work in a row."""
    return machine_compliance + work_compliance


@result(Force(), "cutting force of the last cut", CHAPTER, source="kienzle, law of the cutting force")
def finish_force(kc11, exponent, finish_feed, finish_depth, entering_angle, cut_condition):
    """The law of the cutting force for the finishing cut."""
    thickness = forces.chip_thickness.si(finish_feed, entering_angle)
    width = forces.chip_width.si(finish_depth, entering_angle)
    return forces.cutting_force.si(forces.specific_cutting_force.si(kc11, thickness, exponent), width, thickness, cut_condition)


@result(Force(), "change of the radial force on the last cut", CHAPTER, source="common_practice, what uneven stock and a dulling tool change")
def changing_force(finish_force, radial_share, force_change):
    """A steady push can be dialled out; what changes from piece to piece cannot."""
    return finish_force * radial_share * force_change


@result(Length("µm"), "error the machine may leave", CHAPTER, source="common_practice, machine error against tolerance")
def allowed_error(tolerance, error_share):
    """The machine's share of the tolerance; the rest is for measuring, heat and the hand."""
    return tolerance * error_share


RESULTS = [
    _at_size("chuck_link", "chuck_give", "nose and chuck at this size", "nose and chuck"),
    _at_size("headstock_link", "headstock_give", "headstock and joint at this size", "headstock joint"),
    _at_size("saddle_link", "saddle_give", "saddle at this size", "saddle"),
    _at_size("cross_slide_link", "cross_slide_give", "cross-slide at this size", "cross-slide"),
    _at_size("top_link", "top_give", "topslide or block at this size", "topslide"),
    _at_size("toolpost_link", "toolpost_give", "toolpost at this size", "toolpost"),
    machine_compliance, work_compliance, loop_compliance,
    node(forces.radial_force, CHAPTER, name="rough_radial_force", label="force along the radius in the roughing cut", share="radial_share"),
    finish_force,
    node(forces.radial_force, CHAPTER, name="finish_radial_force", label="force along the radius in the last cut", cutting_force="finish_force",
         share="radial_share"),
    changing_force, allowed_error,
    node(rigidity.stiffness_of, CHAPTER, name="machine_stiffness", label="stiffness of the machine at the tool", compliance="machine_compliance"),
    node(rigidity.size_error, CHAPTER, name="size_error", label="error on the diameter that give leaves", force="changing_force", compliance="loop_compliance"),
    # even a steady push shows along the work: it gives at its worst place and hardly at its holding
    node(rigidity.size_error, CHAPTER, name="shape_error", label="difference in diameter along the work", force="finish_radial_force",
         compliance="work_compliance"),
    node(rigidity.tool_overhang_stiffness, CHAPTER, name="tool_stiffness", label="stiffness of the tool's shank, up and down",
         overhang="tool_overhang", shank_width="tool_shank", shank_height="tool_shank", elastic_modulus="steel_modulus"),
    node(rigidity.chatter_free_width, CHAPTER, label="widest chip that stays quiet", stiffness="machine_stiffness", cutting_stiffness="specific_cutting_force"),
    node(finish.ideal_roughness, CHAPTER, label="roughness Ra that feed and nose leave", feed="finish_feed"),
]


@result(Ratio(), "overhang of the tool in shanks", CHAPTER)
def overhang_ratio(tool_overhang, tool_shank):
    """How many shank heights the tool stands out."""
    return tool_overhang / tool_shank


@result(Ratio(), "free length of the work in diameters", CHAPTER)
def work_slenderness(work_length, work_diameter):
    """Slender work bends before the machine does."""
    return work_length / work_diameter


@result(Ratio(), "free length that the way of holding bears, in diameters", CHAPTER, source="common_practice, free length of the work")
def slenderness_limit(work_support):
    """About 4 diameters from the chuck alone, 10 with a centre; beyond that a steady."""
    return 4.0 if work_support == "chuck alone" else 10.0


RESULTS += [overhang_ratio, work_slenderness, slenderness_limit]

LIMITS = [
    Limit("size_held", "size held", CHAPTER, "size_error", "at most", "allowed_error",
          "Give leaves an error of {value} on the diameter; the tolerance leaves {limit} to the machine.", comfort=0.3),
    Limit("shape_held", "shape held along the work", CHAPTER, "shape_error", "at most", "allowed_error",
          "Bending leaves the work {value} thicker in one place than in another; the tolerance leaves {limit} to the machine.", comfort=0.3),
    Limit("cut_stays_quiet", "the roughing cut stays quiet", CHAPTER, "chatter_free_width", "at least", "chip_width",
          "A chip up to {value} wide stays quiet; the roughing cut makes {limit}.", comfort=0.3,
          caution="When it sings, stop feeding: chatter loosens work in the chuck and breaks tools."),
    Limit("finish_fine_enough", "finish fine enough", CHAPTER, "ideal_roughness", "at most", "finest_roughness",
          "Feed and nose leave Ra {value} at best; the finest job asks for {limit}.", comfort=0.5, source="boothroyd_knight"),
    Limit("tool_short_enough", "tool short enough", CHAPTER, "overhang_ratio", "at most", 1.5,
          "The tool stands out {value} shanks; up to {limit} is sound.", comfort=0.0),
    Limit("work_stout_enough", "work stout enough for its holding", CHAPTER, "work_slenderness", "at most", "slenderness_limit",
          "The work stands out {value} diameters; held like this {limit} is the usual end.", comfort=0.1,
          caution="Long work can bend out of the chuck at speed: use a centre or a steady, and start slowly."),
    Limit("tolerance_is_met", "the tolerance of the jobs is met", CHAPTER, "tolerance", "at most", "tightest_tolerance",
          "You plan to hold {value}; the tightest job asks for {limit}.", comfort=0.0),
]
