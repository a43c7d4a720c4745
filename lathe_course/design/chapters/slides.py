"""Chapter 09, first part: what carries the tool: saddle, cross-slide, and the stack from the ways up to the tool."""

import functools

import numpy as np

from ...machine import rigidity, slides
from ...ranges import Range, as_figure
from ...tables import table
from ...units import Compliance, Count, Force, Length, Mass, Ratio, Stress, Torque
from ..chain.entries import Column, Decision, Figure, Limit, node, result
from ..chain.fitted import by_way

CHAPTER = "09"
SLIDES = tuple(table("slides"))
#: m/s²
GRAVITY = 9.81
#: the saddle for which the table of links holds: guide length and width of the bed over centre height, and the tool this share of the
#: length beside its middle
_LINK_GUIDE, _LINK_BED, _LINK_OFFSET = 1.6, 1.6, 0.2


DECISIONS = [
    Decision("slide_kind", "kind of slideways", "On what kind of slideways does the saddle run?", CHAPTER, options=SLIDES),
    Decision(
        "saddle_length",
        "guide length of the saddle",
        "How long is the saddle where it is guided, along the bed? (on bars or rails: over both bushes or carriages)",
        CHAPTER,
        Length("mm", above=0),
        40,
        250,
        5,
    ),
    Decision(
        "guide_width",
        "width of the saddle's guide",
        "How wide is the guide that steers the saddle? (both edges of the bed, or one narrow strip, bar or rail of it)",
        CHAPTER,
        Length("mm", above=0),
        10,
        250,
        5,
    ),
    Decision(
        "way_width",
        "width of one slideway",
        "How wide is each of the two faces that carry the saddle? (a bar: its thickness)",
        CHAPTER,
        Length("mm", above=0),
        5,
        60,
        1,
    ),
    Decision(
        "push_offset",
        "distance of the saddle's push from its guide",
        "How far beside the guide is the saddle pushed, by leadscrew or handwheel?",
        CHAPTER,
        Length("mm", at_least=0),
        0,
        200,
        5,
    ),
    Decision(
        "tool_beside_saddle",
        "distance of the tool from the middle of the saddle",
        "How far beside the middle of the saddle does the tool cut, along the bed?",
        CHAPTER,
        Length("mm", at_least=0),
        0,
        100,
        5,
    ),
    Decision(
        "cross_slide_length",
        "guide length of the cross-slide",
        "How long is the cross-slide where it is guided?",
        CHAPTER,
        Length("mm", above=0),
        30,
        250,
        5,
    ),
    Decision(
        "cross_slide_travel",
        "travel of the cross-slide",
        "How far does the cross-slide travel from end to end?",
        CHAPTER,
        Length("mm", above=0),
        20,
        250,
        5,
    ),
    Decision(
        "gib_thickness",
        "thickness of the gib",
        "How thick is the gib strip of the cross-slide?",
        CHAPTER,
        Length("mm", above=0),
        1,
        10,
        0.5,
    ),
    Decision(
        "top_height",
        "height of topslide or block",
        "How high is what stands on the cross-slide, up to the seat of the toolpost?",
        CHAPTER,
        Length("mm", above=0),
        5,
        80,
        1,
    ),
]


def _friction(slide_kind, making, skill, bed_form):
    """The range of the table, whose spread is that of oil and cleanness, as the saddle is fitted."""
    return by_way(
        "slide_friction",
        table("slides")[slide_kind]["friction"],
        making,
        "slide_friction",
        skill,
        spread_stays=True,
        bed_form=bed_form,
    )


FIGURES = [
    Figure(
        "slide_friction",
        "friction of the saddle on its slideways",
        Ratio(),
        CHAPTER,
        ("common_practice, table of slides", "common_practice, table of making"),
        lookup=_friction,
    ),
    Figure(
        "start_over_moving",
        "friction at the start over friction while moving",
        Ratio(),
        CHAPTER,
        "common_practice, table of slides",
        lookup=Column("slides", "slide_kind", "start_over_moving"),
    ),
    Figure(
        "way_pressure_limit",
        "pressure the slideways bear for long",
        Stress("N/mm²"),
        CHAPTER,
        "acherkan, pressure on slideways",
        lookup=Column("slides", "slide_kind", "pressure", missing=0.0),
    ),
    Figure(
        "slide_give",
        "give of the saddle on its kind of slideways over that on flat ones",
        Ratio(),
        CHAPTER,
        "common_practice, table of slides",
        lookup=Column("slides", "slide_kind", "give"),
    ),
    Figure("gib_height", "height of the gib strip", Length("mm"), CHAPTER, value=Range(6, 9, 14)),
    Figure("rail_rating", "load rating of one rail carriage, from its paper", Force("kN"), CHAPTER, value=Range(4, 7, 12)),
    Figure(
        "rail_rated_distance",
        "distance that rating is counted for",
        Length("km"),
        CHAPTER,
        "iso_14728, basic rating life",
        value=100.0,
    ),
]


# --- loads -------------------------------------------------------------------------------------------
@result(Mass("kg"), "mass of the carriage", CHAPTER, source="common_practice, table of parts, drivers and laws")
def carriage_mass(parts_list, part_masses):
    """Saddle, cross-slide and what stands on them, and the apron with what is in it, added up from the parts."""
    return as_figure(part_masses["finished"] @ _travelling(parts_list))


@functools.lru_cache(maxsize=64)
def _travelling(parts_list) -> np.ndarray:
    return np.array([float(_travels(part)) for part in parts_list])


def _travels(part) -> bool:
    """Does it ride on the carriage?  What is as long as the bed, and what holds it, stays behind."""
    return part.group in ("saddles", "carriage") or part.name in ("apron", "rack pinion and handwheel gear", "half nuts")


@result(Force(), "load on the slideways in the roughing cut", CHAPTER, source="definition")
def way_load(carriage_mass, cutting_force):
    """Weight of the carriage and the cutting force, which presses the tool down."""
    return carriage_mass * GRAVITY + cutting_force


@result(Length("mm"), "distance between the middles of the two slideways", CHAPTER)
def way_spacing(bed_width, way_width):
    """Across the bed; ways that would meet are taken as a tenth of its width apart."""
    return np.maximum(bed_width - way_width, bed_width / 10)


@result(Torque(), "couple that tips the saddle along the bed", CHAPTER, source="meriam, couples")
def pitch_couple(cutting_force, tool_beside_saddle, feed_force, centre_height):
    """The cut presses beside the middle, and the feed pushes at centre height: both tip the saddle the same way at worst."""
    return cutting_force * tool_beside_saddle + feed_force * centre_height


@result(Torque(), "couple that tips the saddle across the bed", CHAPTER, source="meriam, couples")
def roll_couple(cutting_force, torque_diameter, rough_radial_force, centre_height):
    """The cut presses half the work's diameter in front of the axis, and the radial force pushes out at centre height: both press the front way."""
    return cutting_force * torque_diameter / 2 + rough_radial_force * centre_height


@result(Count(), "slideways that hold the saddle down by its weight alone", CHAPTER)
def loose_ways(slide_kind):
    """Two where it lies on flat faces or on a ridge; bars, rails and dovetails hold it from below as well."""
    return 2.0 if slide_kind in ("flat ways with gibs", "V ways") else 0.0


@result(Force(), "pull of the keep plate in the roughing cut", CHAPTER, source="meriam, couples")
def keep_plate_pull(way_load, roll_couple, way_spacing):
    """What is missing of weight and cut to hold the rear of the saddle down; none where they suffice."""
    return np.maximum(roll_couple / way_spacing - way_load / 2, 0.0)


@result(Force(), "load on the slideways in the finishing cut", CHAPTER, source="definition")
def finish_way_load(carriage_mass, finish_force):
    """Weight of the carriage and the cutting force."""
    return carriage_mass * GRAVITY + finish_force


@result(Torque(), "couple that tips the saddle across the bed in the finishing cut", CHAPTER, source="meriam, couples")
def finish_roll_couple(finish_force, work_diameter, finish_radial_force, centre_height):
    """As in the roughing cut, on the slimmest precise work."""
    return finish_force * work_diameter / 2 + finish_radial_force * centre_height


@result(Length("mm"), "offset of the load on the slideways, along the bed", CHAPTER, source="meriam, couples")
def way_load_offset(pitch_couple, way_load):
    """Where the load would have to act to tip the saddle as the couple does."""
    return pitch_couple / way_load


@result(Force(), "load on the front slideway", CHAPTER, source="meriam, couples")
def front_way_load(way_load, roll_couple, way_spacing):
    """Half the load, and what the couple across the bed adds; what it takes off the rear way, or lifts, the keep plate bears."""
    return way_load / 2 + roll_couple / way_spacing


@result(Length("mm"), "offset of the load on the front slideway", CHAPTER, source="definition, an even bed of springs")
def front_way_offset(pitch_couple, front_way_load):
    """Two ways alike take half of the couple along the bed each."""
    return pitch_couple / (2 * front_way_load)


@result(Stress("N/mm²"), "highest pressure on plain slideways", CHAPTER, source="definition, an even bed of springs")
def way_pressure(pressed_face, way_pressure_limit):
    """Nothing where the saddle rolls: rolling carriages are judged by their rating in its place."""
    return np.where(way_pressure_limit > 0, pressed_face, 0.0)[()]


@result(Force(), "feed force of the roughing cut", CHAPTER, source="common_practice, feed force as a share")
def feed_force(cutting_force, feed_share):
    """What the tool pushes back along the bed."""
    return cutting_force * feed_share


@result(Force(), "resistance of the saddle in the roughing cut", CHAPTER, source="definition")
def saddle_resistance(feed_force, slide_friction, way_load):
    """The feed force, and the rubbing of the pressed ways."""
    return feed_force + slide_friction * way_load


# --- guiding -----------------------------------------------------------------------------------------
@result(Ratio(), "guide length of the saddle over the width of its guide", CHAPTER, source="slocum, length of a carriage")
def guide_ratio(saddle_length, guide_width):
    """A long narrow guide runs straight; a short wide one crabs like a drawer."""
    return saddle_length / guide_width


@result(Ratio(), "guide length of the saddle over the centre height", CHAPTER)
def guide_over_height(saddle_length, centre_height):
    """The cut pushes at centre height: the taller the machine, the longer the saddle must be to stand firm."""
    return saddle_length / centre_height


@result(Ratio(), "guide length over the length at which it jams", CHAPTER)
def jam_room(saddle_length, jam_free_length):
    """At one the saddle cannot be pushed at all; much friction or a push far beside the guide bring it down."""
    return np.minimum(saddle_length / np.maximum(jam_free_length, 1e-6), 100.0)


@result(
    Ratio(),
    "saddle's give over that of a reference saddle",
    CHAPTER,
    source="own_work, the table of links at another length and width",
)
def saddle_proportion(saddle_length, centre_height, guide_tilt, saddle_roll):
    """A longer saddle gives less; it tips along the bed under a tool beside its middle, and across it under a push at centre height.

    The table of links was judged for a saddle 1.6 centre heights long on a bed as wide, with the
    tool a fifth of the length beside its middle.  The two tips add to the sinking as a whole.
    """
    judged = slides.guide_tilt.si(_LINK_OFFSET, 1.0) + slides.guide_tilt.si(1.0, _LINK_BED) - 1
    return _LINK_GUIDE * centre_height / saddle_length * (guide_tilt + saddle_roll - 1) / judged


@result(
    Ratio("%"),
    "share of the cross-slide still guided at full reach",
    CHAPTER,
    source="definition, slide and slideways of one length",
)
def cross_engagement(cross_slide_length, cross_slide_travel):
    """Slide and ways are taken as equally long; at either end of the travel half of it hangs out."""
    return np.maximum(1 - cross_slide_travel / (2 * cross_slide_length), 0.0)


@result(Length("mm"), "travel that facing the largest disc needs", CHAPTER)
def facing_travel(largest_disc):
    """From the rim to the middle."""
    return largest_disc / 2


@result(
    Compliance(),
    "give that the gib of the cross-slide adds at the tool",
    CHAPTER,
    source=("shigley, Table A-9", "shigley, energy of a spring"),
)
def gib_give(gib_spacing, gib_height, gib_thickness, steel_modulus, centre_height, slide_height, cross_slide_length):
    """Pushed back at centre height the cross-slide tips over its length, and the last bay of the gib holds it down: a lever on a spring."""
    bay = slides.gib_deflection.si(1.0, gib_spacing, gib_height, gib_thickness, steel_modulus)
    return 1 / rigidity.lever_stiffness.si(
        1 / bay, np.maximum(centre_height - slide_height, 0.05 * centre_height) / cross_slide_length
    )


@result(Count(), "kinds of slideway that the bed does not offer", CHAPTER)
def missing_ways(bed_form, slide_kind):
    """One where the saddle runs on what the bed has not: balls want rails, bushes want bars, gibs want flat faces."""
    return 0.0 if slide_kind in table("bed_forms")[bed_form]["ways"].split(" + ") else 1.0


@result(Count(), "number of gib screws", CHAPTER, source="common_practice, three at least, and about one for each 30 mm")
def gib_screws(cross_slide_length):
    """One at each end and those between."""
    return np.maximum(np.round(cross_slide_length / 30e-3), 3.0)


@result(Length("mm"), "spacing of the gib screws", CHAPTER)
def gib_spacing(cross_slide_length, gib_screws):
    """The screws spread evenly over the length."""
    return cross_slide_length / gib_screws


# --- rails -------------------------------------------------------------------------------------------
@result(Force(), "load on the busiest rail carriage", CHAPTER, source="meriam, a stiff plate on four equal springs")
def rail_load(way_load, pitch_couple, roll_couple, saddle_length, way_spacing):
    """Four carriages at the corners of the saddle: a quarter of the load each, and both couples on the one next to the cut."""
    return way_load / 4 + pitch_couple / (2 * saddle_length) + roll_couple / (2 * way_spacing)


@result(Length("km"), "travel a rail carriage is asked for", CHAPTER, source="common_practice, ten years of a hobby")
def rail_travel(slide_kind):
    """Ten years of evenings come to some hundred kilometres; nothing where the saddle does not run on rails."""
    return 300e3 if slide_kind == "profiled rails" else 0.0


# --- stack -------------------------------------------------------------------------------------------
@result(Length("mm"), "floor of the toolpost", CHAPTER, source="common_practice, table of toolposts")
def toolpost_floor(toolpost_kind, tool_shank):
    """Metal under the tool, by the kind of toolpost and the height of the shank."""
    return table("toolposts")[toolpost_kind]["floor"] * tool_shank


@result(Length("mm"), "height of the tool tip above the slideways, without shims", CHAPTER, source="definition, layers added")
def tool_height(slide_height, top_height, toolpost_floor, tool_shank):
    """Cross-slide, topslide or block, floor of the toolpost, shank of the tool: each layer added."""
    return slide_height + top_height + toolpost_floor + tool_shank


@result(Length("mm"), "height missing under the tool, for shims or a height screw", CHAPTER, source="definition")
def tool_packing(centre_height, tool_height):
    """What is missing up to the centre line; nothing where the tool already stands too high."""
    return np.maximum(centre_height - tool_height, 0.0)


@result(Length("mm"), "height that the toolpost makes up under the tool", CHAPTER, source="common_practice, table of toolposts")
def packing_room(toolpost_kind, tool_shank):
    """A few shims, or the way of the screw that lifts a holder."""
    row = table("toolposts")[toolpost_kind]
    return row["shims"] + row["screw"] * tool_shank


RESULTS = [
    carriage_mass,
    way_load,
    way_spacing,
    pitch_couple,
    roll_couple,
    loose_ways,
    keep_plate_pull,
    finish_way_load,
    finish_roll_couple,
    node(
        slides.hold_down,
        CHAPTER,
        name="finish_hold",
        label="how firmly the saddle is held down in the finishing cut",
        load="finish_way_load",
        spacing="way_spacing",
        couple="finish_roll_couple",
    ),
    way_load_offset,
    front_way_load,
    front_way_offset,
    node(
        slides.peak_way_pressure,
        CHAPTER,
        name="pressed_face",
        label="pressure under the end of the saddle next to the cut",
        load="front_way_load",
        fixed={"faces": 1},
        face_width="way_width",
        guide_length="saddle_length",
        load_offset="front_way_offset",
    ),
    way_pressure,
    feed_force,
    saddle_resistance,
    guide_ratio,
    guide_over_height,
    node(slides.jam_free_length, CHAPTER, label="guide length at which the saddle jams", friction="slide_friction"),
    jam_room,
    node(
        slides.push_needed,
        CHAPTER,
        label="push that moves the saddle in the roughing cut",
        resistance="saddle_resistance",
        friction="slide_friction",
        guide_length="saddle_length",
    ),
    node(
        slides.guide_tilt,
        CHAPTER,
        label="tilt of the saddle along the bed",
        load_offset="tool_beside_saddle",
        guide_length="saddle_length",
    ),
    node(
        slides.guide_tilt,
        CHAPTER,
        name="saddle_roll",
        label="tilt of the saddle across the bed",
        load_offset="centre_height",
        guide_length="bed_width",
    ),
    saddle_proportion,
    cross_engagement,
    facing_travel,
    gib_screws,
    gib_spacing,
    gib_give,
    missing_ways,
    node(
        slides.gib_deflection,
        CHAPTER,
        label="bending of the gib between two screws",
        load="feed_force",
        spacing="gib_spacing",
        elastic_modulus="steel_modulus",
    ),
    rail_load,
    node(
        slides.rail_life,
        CHAPTER,
        label="life of a rail carriage",
        rating="rail_rating",
        load="rail_load",
        rated_distance="rail_rated_distance",
    ),
    node(
        slides.rail_rating_at,
        CHAPTER,
        name="rail_rating_at_100_km",
        label="rating of the rail carriage, told for 100 km",
        rating="rail_rating",
        rated_distance="rail_rated_distance",
        fixed={"other_distance": 100.0},
    ),
    rail_travel,
    tool_height,
    tool_packing,
    packing_room,
    toolpost_floor,
]

LIMITS = [
    Limit(
        "guide_long_enough",
        "saddle's guide long for its width",
        CHAPTER,
        "guide_ratio",
        "at least",
        1.0,
        "The saddle is guided over {value} times the width of its guide; {limit} is the least, 1.5 is good.",
        comfort=0.5,
        source="slocum, length of a carriage",
    ),
    Limit(
        "saddle_stands_firm",
        "saddle long for the centre height",
        CHAPTER,
        "guide_over_height",
        "at least",
        1.0,
        "The saddle is {value} centre heights long; {limit} is the least, 1.4 is usual.",
        comfort=0.4,
    ),
    Limit(
        "saddle_slides_freely",
        "saddle slides freely",
        CHAPTER,
        "jam_room",
        "at least",
        1.0,
        "The guide is {value} times as long as one that jams; at {limit} it cannot be moved, three times is sound.",
        comfort=2.0,
        source="meriam, friction",
        caution="Keep fingers out from between saddle and chuck or tailstock: a carriage that sticks comes loose with a jerk.",
    ),
    Limit(
        "saddle_stays_down",
        "the saddle stays down in the finishing cut",
        CHAPTER,
        "finish_hold",
        "at least",
        1.0,
        "In the finishing cut weight and cut hold the rear of the saddle down {value} times as hard as the cut lifts it; below {limit} it hangs on its keep plate, "
        "and the size jumps by the clearance there.",
        comfort=0.5,
        source="meriam, couples",
        asked="loose_ways",
        unasked="Bars, rails and dovetails hold the saddle from below as well.",
        opened_by="a saddle that lies on flat or V ways",
        caution="Fit the keep plates before the first cut: a saddle that lifts in a roughing cut draws the tool in.",
    ),
    Limit(
        "bed_offers_ways",
        "the bed offers what the saddle runs on",
        CHAPTER,
        "missing_ways",
        "at most",
        0.0,
        "Kinds of slideway that this form of bed does not offer: {value}, and {limit} is the most. Gibs, V ways and dovetails want flat faces, bushes want bars, "
        "and balls want rails: change the form of the bed in chapter 07, or the slideways here.",
        comfort=0.0,
        clear="The saddle runs on what the form of the bed offers.",
    ),
    Limit(
        "ways_bear",
        "slideways bear the load",
        CHAPTER,
        "way_pressure",
        "at most",
        "way_pressure_limit",
        "The end of the saddle presses with {value}; the slideways bear about {limit}.",
        comfort=1.0,
        source="acherkan, pressure on slideways",
        unasked="Rolling carriages are judged by their rating.",
        opened_by="slides that rub on their slideways",
    ),
    Limit(
        "cross_slide_guided",
        "cross-slide guided at full reach",
        CHAPTER,
        "cross_engagement",
        "at least",
        50.0,
        "At full reach {value} of the cross-slide is guided; {limit} is the least, 60 % is usual.",
        comfort=0.2,
    ),
    Limit(
        "cross_slide_reaches",
        "cross-slide reaches across the largest disc",
        CHAPTER,
        "cross_slide_travel",
        "at least",
        "facing_travel",
        "The cross-slide travels {value}; facing the largest disc takes {limit}.",
        comfort=0.1,
    ),
    Limit(
        "gib_stiff_enough",
        "gib stiff enough between its screws",
        CHAPTER,
        "gib_deflection",
        "at most",
        5.0,
        "With the whole feed force on one bay the gib bends {value}; {limit} is felt as rock at the tool.",
        comfort=1.0,
    ),
    Limit(
        "rails_last",
        "rails last",
        CHAPTER,
        "rail_life",
        "at least",
        "rail_travel",
        "Nine of ten carriages run {value}; ten years of evenings ask for {limit}.",
        comfort=1.0,
        source="iso_14728, basic rating life",
        unasked="The saddle does not run on rolling carriages.",
        opened_by="rolling carriages under the saddle",
    ),
    Limit(
        "tool_not_above_centre",
        "the slides leave the tool at or below the centre line",
        CHAPTER,
        "tool_height",
        "at most",
        "centre_height",
        "The layers bring the tool to {value}; the centres stand at {limit}.",
        comfort=0.0,
    ),
    Limit(
        "packing_thin",
        "little is missing under the tool",
        CHAPTER,
        "tool_packing",
        "at most",
        "packing_room",
        "{value} is missing under the tool; the toolpost makes up {limit}, and shims beyond that are a soft pile.",
        comfort=0.0,
        clear="The layers come out at the centre line or above it.",
    ),
]
