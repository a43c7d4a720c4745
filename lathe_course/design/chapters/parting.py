"""Chapter 08, last part: parting off a bar: from where, how wide a blade, and whether the lathe turns slowly enough for it to stay quiet."""

import numpy as np

from ...machine import chatter, forces, rigidity
from ...ranges import Range
from ...units import FeedPerTurn, Length, Ratio, RotationalSpeed, Torque
from ..chain.entries import Decision, Figure, Limit, node, result

CHAPTER = "08"
FRONT, BEHIND, BACKWARDS, SAWN = PARTINGS = ("in front", "behind", "in front and backwards", "sawn off")
#: least width of a chip that the direction of the sway is counted with, as for any cut
_LEAST, _MOST = 0.05, 2.0
#: room of the blade beyond the middle of the bar, and between bar and the blade that waits behind, m
_BEYOND, WAITING = 2e-3, 5e-3

DECISIONS = [
    Decision(
        "parting_from", "where work is parted off", "From where is finished work parted off the bar?", CHAPTER, options=PARTINGS
    ),
    Decision(
        "parting_width",
        "width of the parting blade",
        "How wide is the parting blade?",
        CHAPTER,
        Length("mm", "b", above=0, at_most=20),
        1,
        4,
        0.5,
        asked_if=("parting_from", (FRONT, BEHIND, BACKWARDS)),
    ),
]

FIGURES = [
    Figure("parting_feed", "feed of the parting blade", FeedPerTurn("mm/rev"), CHAPTER, value=Range(0.05, 0.06, 0.10)),
    Figure("blade_height_ratio", "height of a parting blade over its width", Ratio(), CHAPTER, value=Range(5, 6.5, 8)),
]


@result(Length("mm"), "thickest bar that is parted off", CHAPTER, source="definition")
def parting_diameter(jobs, spindle_bore, parting_from):
    """The thickest bar on the list; without one, the thickest that the spindle lets through. Nothing where it is sawn off."""
    bar = float(jobs.column("bar").max())
    return 0.0 * spindle_bore if parting_from == SAWN else bar + 0.0 * spindle_bore if bar > 0 else spindle_bore


@result(Length("mm"), "reach of the parting blade", CHAPTER, source="definition, half the bar and a little beyond")
def parting_reach(parting_diameter):
    """From its holder to its edge."""
    return np.where(parting_diameter > 0, parting_diameter / 2 + _BEYOND, 0.0)[()]


@result(Ratio(), "reach of the parting blade in widths", CHAPTER)
def blade_slenderness(parting_reach, parting_width):
    """A thin blade that reaches far wanders sideways."""
    return parting_reach / parting_width


@result(Length("mm"), "height of the parting blade", CHAPTER, source="common_practice, blades as they are ground and sold")
def blade_height(parting_width, blade_height_ratio):
    """So high that it hardly bends under the cut."""
    return parting_width * blade_height_ratio


@result(Length("µm"), "how far the parting blade bends down", CHAPTER, source="shigley, Table A-9")
def blade_dip(parting_force, parting_reach, parting_width, blade_height, steel_modulus):
    """Force over the stiffness of the blade alone; what carries it gives as well."""
    reach = np.maximum(parting_reach, 1e-4)
    dip = parting_force / rigidity.tool_overhang_stiffness.si(reach, parting_width, blade_height, steel_modulus)
    return np.where(parting_reach > 0, dip, 0.0)[()]


@result(Torque("N·m"), "torque that parting off asks", CHAPTER, source="definition")
def parting_torque(parting_force, parting_diameter):
    """At the skin of the bar, where it is most."""
    return parting_force * parting_diameter / 2


@result(
    Ratio(),
    "share of force and sway that acts on the parting chip",
    CHAPTER,
    source=("tlusty, direction of the sway", "common_practice, a least factor"),
)
def parting_direction(thrust_share, sway_angle, parting_from):
    """The blade's whole thrust lies along the radius. Upside down the cut lifts the tool where it pressed it down, so the line of the sway counts the other way."""
    turned = sway_angle if parting_from == FRONT else -sway_angle
    return np.clip(np.abs(chatter.sway_direction_factor.si(thrust_share, turned)), _LEAST, _MOST)


@result(
    RotationalSpeed("rpm"),
    "spindle speed up to which parting off stays quiet",
    CHAPTER,
    source="definition, cutting speed at the skin of the bar",
)
def parting_turns(parting_quiet_speed, parting_diameter):
    """It gets quieter as the blade goes in, for the skin it cuts grows slower."""
    return np.where(parting_diameter > 0, 2 * parting_quiet_speed / np.maximum(parting_diameter, 1e-6), 0.0)[()]


@result(
    RotationalSpeed("rpm"),
    "spindle speed to part off at",
    CHAPTER,
    source=("definition", "common_practice, a third of the speed at which a bar is turned"),
)
def parting_speed(parting_turns, cutting_speed, parting_diameter):
    """A third of the speed at which the bar is turned, and no faster than it stays quiet."""
    turned = np.where(parting_diameter > 0, 2 * cutting_speed / np.maximum(parting_diameter, 1e-6), 0.0)
    return np.minimum(parting_turns, turned / 3)[()]


@result(
    Length("mm"), "length of cross-slide that a rear toolpost asks", CHAPTER, source="definition, geometry of the cross-slide"
)
def rear_post_length(parting_from, parting_diameter, parting_reach, tool_overhang, tool_shank):
    """Its middle under the front toolpost; behind that front tool, bar, blade and rear post in a row. Nothing where none stands there."""
    if parting_from != BEHIND:
        return 0.0 * tool_shank
    behind = parting_diameter + WAITING + parting_reach + 1.5 * tool_shank
    return 2 * (1.4 * tool_shank + tool_overhang + behind)


RESULTS = [
    parting_diameter,
    parting_reach,
    blade_slenderness,
    blade_height,
    node(
        forces.specific_cutting_force,
        CHAPTER,
        name="parting_specific_force",
        label="specific cutting force of parting off",
        chip_thickness="parting_feed",
    ),
    node(
        forces.cutting_force,
        CHAPTER,
        name="parting_force",
        label="cutting force of parting off",
        specific_force="parting_specific_force",
        chip_width="parting_width",
        chip_thickness="parting_feed",
        condition="cut_condition",
    ),
    blade_dip,
    parting_torque,
    parting_direction,
    node(
        chatter.cutting_stiffness,
        CHAPTER,
        name="parting_slope",
        label="rise of the parting force with the thickness of the chip, for each width",
        specific_force="parting_specific_force",
        condition="cut_condition",
    ),
    node(
        chatter.quiet_speed,
        CHAPTER,
        name="parting_quiet_speed",
        label="cutting speed up to which parting off stays quiet",
        stiffness="machine_stiffness",
        cutting_stiffness="parting_slope",
        direction_factor="parting_direction",
        frequency="sway_frequency",
        chip_width="parting_width",
    ),
    parting_turns,
    parting_speed,
    rear_post_length,
]

_SAWN = {
    "unasked": "Nothing is parted off: work is sawn off.",
    "opened_by": "a blade that parts it off",
    "asked": "parting_diameter",
}
LIMITS = [
    Limit(
        "parting_stays_quiet",
        "the lathe turns slowly enough to part off quietly",
        CHAPTER,
        "drive_slowest",
        "at most",
        "parting_turns",
        "The spindle turns as slowly as {value}; on the thickest bar the parting blade stays quiet up to {limit}.",
        comfort=0.25,
        source="schmitz_smith, process damping",
        caution="A blade that chatters or grabs breaks, and its pieces fly: sharp and square, at centre height, close to the chuck, glasses on. "
        "Never part off between centres, nor catch the piece by hand.",
        **_SAWN,
    ),
    Limit(
        "blade_stout_enough",
        "the parting blade is wide enough for its reach",
        CHAPTER,
        "blade_slenderness",
        "at most",
        8.0,
        "The blade reaches out {value} times its width; past {limit} it wanders and jams.",
        comfort=0.0,
        **_SAWN,
    ),
    Limit(
        "torque_parts",
        "torque suffices to part off",
        CHAPTER,
        "low_speed_torque",
        "at least",
        "parting_torque",
        "At its slowest the spindle gives {value}; the parting blade asks {limit}.",
        comfort=0.25,
        **_SAWN,
    ),
    Limit(
        "rear_post_fits",
        "the cross-slide carries a toolpost behind the work",
        CHAPTER,
        "cross_slide_length",
        "at least",
        "rear_post_length",
        "The cross-slide is {value} long; tool, bar, blade and rear toolpost in a row ask {limit}.",
        comfort=0.05,
        source="definition, geometry of the cross-slide",
        unasked="No toolpost stands behind the work.",
        opened_by="parting off from behind",
        caution="The blade behind waits upside down where a hand reaches over the work: take it out of its post until it is wanted, and measure with the spindle at rest.",
    ),
]
