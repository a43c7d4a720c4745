"""Chapter 09: the tailstock: its barrel, its clamp and its taper, and the room it leaves the saddle."""

import math

import numpy as np

from ...machine import joints, tailstock
from ...ranges import Range
from ...tables import table
from ...units import Angle, Count, Force, Length, Ratio, Stress, Torque
from ..chain.entries import Column, Decision, Figure, Limit, node, result

CHAPTER = "09"
#: the widest bore a barrel is reckoned with, over its diameter: a taper as wide as its barrel would leave nothing of it, and no figure
_THINNEST = 0.98
#: coarse threads: diameter and pitch, m
_COARSE = np.array([(row["diameter"], row["pitch"]) for row in table("threads").values() if row["series"] == "coarse"]).T


DECISIONS = [
    Decision(
        "barrel_diameter",
        "diameter of the tailstock barrel",
        "How thick is the barrel of the tailstock?",
        CHAPTER,
        Length("mm", above=0),
        10,
        60,
        1,
    ),
    Decision(
        "barrel_overhang",
        "overhang of the tailstock barrel",
        "How far does the barrel stand out when it works?",
        CHAPTER,
        Length("mm", above=0),
        10,
        150,
        5,
    ),
    Decision(
        "tailstock_base",
        "base of the tailstock",
        "How long is the base of the tailstock along the bed?",
        CHAPTER,
        Length("mm", above=0),
        30,
        250,
        5,
    ),
    Decision(
        "clamp_screw",
        "clamping screw of the tailstock",
        "How thick is the screw that clamps the tailstock?",
        CHAPTER,
        Length("mm", above=0),
        5,
        20,
        1,
        preferred=(5, 6, 8, 10, 12, 16, 20),
    ),
    Decision(
        "clamp_screws",
        "number of clamping screws",
        "How many screws clamp the tailstock?",
        CHAPTER,
        Count("", at_least=1, at_most=6, whole=True),
        1,
        6,
        1,
    ),
]

FIGURES = [
    Figure(
        "tailstock_taper_large",
        "large diameter of the tailstock taper",
        Length("mm"),
        CHAPTER,
        "iso_296, Morse tapers",
        lookup=Column("tapers", "tailstock_taper", "large_diameter"),
    ),
    Figure(
        "tailstock_taper_small",
        "small diameter of the tailstock taper",
        Length("mm"),
        CHAPTER,
        "iso_296, Morse tapers",
        lookup=Column("tapers", "tailstock_taper", "small_diameter"),
    ),
    Figure(
        "taper_half_angle",
        "half the angle of the tailstock taper",
        Angle("deg"),
        CHAPTER,
        "iso_296, Morse tapers",
        lookup=lambda tailstock_taper: math.atan(table("tapers")[tailstock_taper]["rate"] / 2),
    ),
    Figure("taper_friction", "friction in the tailstock taper", Ratio(), CHAPTER, value=Range(0.08, 0.12, 0.2)),
    Figure("clamp_torque", "torque of a hand on the clamping handle", Torque(), CHAPTER, value=Range(8, 15, 25)),
    Figure("clamp_friction", "friction of the tailstock on the bed", Ratio(), CHAPTER, value=Range(0.1, 0.15, 0.2)),
]


@result(Length("mm"), "pitch of the clamping screw", CHAPTER, source="iso_261, coarse series")
def clamp_pitch(clamp_screw):
    """The coarse thread of its diameter."""
    return np.interp(clamp_screw, *_COARSE)


@result(Stress("N/mm²"), "stress in the clamping screw", CHAPTER, source="iso_898, proof stress")
def clamp_stress(clamp_pull, clamp_area):
    """Its pull over the area of its thread; the twist of tightening comes on top."""
    return clamp_pull / clamp_area


@result(Force(), "pull of all clamping screws", CHAPTER, source="shigley, bolt torque")
def clamp_force(clamp_pull, clamp_screws):
    """Each screw pulled with the same torque."""
    return clamp_pull * clamp_screws


@result(Length("mm"), "from the nose to the rear end of a saddle that stands clear of the chuck", CHAPTER, source="definition")
def saddle_reach(
    jaws_front,
    chuck_diameter,
    centre_height,
    slide_height,
    saddle_length,
    tool_beside_saddle,
    tool_shank,
    bearing_end,
    spindle_overhang,
):
    """What is low enough passes under the chuck: the saddle, and perhaps its cross-slide, but no toolpost, and nothing passes the headstock.

    The cross-slide is as wide as 0.62 of the saddle is long, the saddle as high as 0.45 of both; a toolpost is 2.8 shanks wide and its slide a little more.
    """
    under = centre_height - chuck_diameter / 2
    beside = np.where(
        0.45 * slide_height >= under,
        saddle_length / 2,
        np.where(slide_height >= under, 0.31 * saddle_length, 0.0 * saddle_length),
    )
    middle = jaws_front + np.maximum(beside, tool_beside_saddle + 1.15 * 1.4 * tool_shank)
    return np.maximum(middle, bearing_end - spindle_overhang + saddle_length / 2) + saddle_length / 2


@result(
    Length("mm"),
    "from the nose to the tailstock, its barrel drawn in",
    CHAPTER,
    source="common_practice, proportions of the list",
)
def tail_reach_in(near_reach, between_centres, tailstock_taper_large, centre_height):
    """To the points at their farthest, the exposed point, which is about as long as it is thick, and a little of the barrel."""
    return near_reach + between_centres + tailstock_taper_large + 0.05 * centre_height


@result(Length("mm"), "from the nose to the tailstock, its barrel right out", CHAPTER, source="definition")
def tail_reach_out(tail_reach_in, barrel_overhang):
    """The barrel stands out over the saddle, and the point where it was."""
    return tail_reach_in + barrel_overhang


@result(Length("mm"), "how far the barrel stands out so that the saddle finds room", CHAPTER, source="definition")
def barrel_out(saddle_reach, tail_reach_in, barrel_overhang):
    """Nothing on a long lathe; on a short one as much as the saddle takes beyond the chuck, and no more than there is."""
    return np.clip(saddle_reach - tail_reach_in, 0.0, barrel_overhang)


@result(Ratio(), "overhang of the barrel in diameters", CHAPTER)
def barrel_ratio(barrel_overhang, barrel_diameter):
    """How many of its own diameters the barrel stands out."""
    return barrel_overhang / barrel_diameter


@result(Length("mm"), "wall of the barrel round its taper", CHAPTER)
def barrel_wall(barrel_diameter, tailstock_taper_large):
    """What is left of the barrel outside the large end of the taper."""
    return np.maximum((barrel_diameter - tailstock_taper_large) / 2, 0.0)


@result(Length("mm"), "bore with which the barrel gives", CHAPTER, source="definition")
def barrel_bore(barrel_diameter, tailstock_taper_large):
    """The large end of the taper, but that some skin of the barrel is left to bend: what a wider taper comes to, the wall round it tells."""
    return np.minimum(tailstock_taper_large, _THINNEST * barrel_diameter)


RESULTS = [
    node(
        tailstock.clamp_pull,
        CHAPTER,
        label="pull of one clamping screw",
        torque="clamp_torque",
        torque_factor="torque_factor",
        screw_diameter="clamp_screw",
    ),
    clamp_pitch,
    node(
        joints.bolt_stress_area,
        CHAPTER,
        name="clamp_area",
        label="area of the clamping screw's thread",
        diameter="clamp_screw",
        pitch="clamp_pitch",
    ),
    clamp_stress,
    clamp_force,
    node(
        tailstock.holding_thrust,
        CHAPTER,
        label="thrust the clamped tailstock holds",
        friction="clamp_friction",
        base_length="tailstock_base",
    ),
    saddle_reach,
    tail_reach_in,
    tail_reach_out,
    barrel_out,
    barrel_ratio,
    barrel_wall,
    barrel_bore,
    node(
        tailstock.barrel_compliance,
        CHAPTER,
        label="give of the tailstock barrel at its nose",
        overhang="barrel_overhang",
        diameter="barrel_diameter",
        bore="barrel_bore",
        elastic_modulus="steel_modulus",
    ),
    node(
        tailstock.taper_torque,
        CHAPTER,
        label="torque the tailstock taper holds",
        friction="taper_friction",
        thrust="drilling_thrust",
        large_diameter="tailstock_taper_large",
        small_diameter="tailstock_taper_small",
        half_angle="taper_half_angle",
    ),
]

LIMITS = [
    Limit(
        "barrel_short_enough",
        "tailstock barrel stands out little enough",
        CHAPTER,
        "barrel_ratio",
        "at most",
        2.5,
        "The barrel stands out {value} diameters; up to {limit} is sound.",
        comfort=0.0,
    ),
    Limit(
        "saddle_finds_room",
        "room for the saddle between chuck and tailstock",
        CHAPTER,
        "saddle_reach",
        "at most",
        "tail_reach_out",
        "A saddle that stands clear of the chuck ends {value} from the nose; the tailstock, with its point where the longest work ends and its barrel right out, begins at {limit}.",
        comfort=0.05,
    ),
    Limit(
        "barrel_has_wall",
        "wall left round the tailstock taper",
        CHAPTER,
        "barrel_wall",
        "at least",
        3.0,
        "{value} of wall is left round the taper of the barrel; {limit} is little, and a taper as wide as its barrel cuts it open: take a thicker barrel or the next smaller taper.",
        comfort=0.5,
    ),
    Limit(
        "tailstock_holds",
        "tailstock holds against the drill",
        CHAPTER,
        "holding_thrust",
        "at least",
        "drilling_thrust",
        "Clamped by hand the tailstock holds {value}; the largest drill pushes with {limit}.",
        comfort=0.5,
        source="meriam, friction",
        caution="Clear the flutes often and ease off before the drill breaks through: it snatches there.",
    ),
    Limit(
        "clamping_screw_bears",
        "clamping screw bears the hand that turns it",
        CHAPTER,
        "clamp_stress",
        "at most",
        "bolt_proof",
        "A hand puts {value} on the clamping screw; a good one bears {limit} for long.",
        comfort=0.5,
        source="iso_898, proof stress",
    ),
    Limit(
        "taper_holds_drill",
        "tailstock taper keeps the drill from turning",
        CHAPTER,
        "taper_torque",
        "at least",
        "drilling_torque",
        "Pressed home by the drill's own thrust the taper holds {value}; the drill turns with {limit}.",
        comfort=1.0,
        source="shigley, cone clutches, uniform wear",
        caution="A taper with chips or oil in it spins and is scored for good: wipe both before you seat a drill, and hold no drill by hand.",
    ),
]
