"""Chapter 08, the shaking part: when the roughing cut starts to sing."""

import numpy as np

from ...machine import chatter, forces, rigidity
from ...ranges import Range
from ...tables import table
from ...units import Angle, Mass, Ratio, Stiffness
from ..chain.entries import Figure, Limit, node, result
from .forces import of_edge

CHAPTER = "08"
#: below this another way of shaking takes over, so the factor is not let fall further: common practice
_LEAST_FACTOR = 0.05


def _damping(bed_form, bed_material):
    """Of the form of the bed, and of what it is made of."""
    form, metal = table("bed_forms")[bed_form]["damping"], table("bed_materials")[bed_material]["damping_factor"]
    return Range(*(one * other for one, other in zip(form, metal)))


FIGURES = [
    Figure(
        "damping",
        "damping ratio of the machine",
        Ratio(),
        CHAPTER,
        ("common_practice, table of bed forms", "mineral_lathe_bed, against cast iron"),
        lookup=_damping,
    ),
    Figure("sway_angle", "slope of the line along which the machine vibrates", Angle("deg"), CHAPTER, value=Range(-15, 0, 15)),
    Figure("swaying_share", "share of the machine's mass that vibrates", Ratio("%"), CHAPTER, value=Range(5, 12, 30)),
    Figure(
        "process_damping",
        "rubbing of the flank for each width and speed",
        Stiffness("N/µm"),
        CHAPTER,
        "tyler_schmitz, order of size in steel",
        lookup=of_edge("process_damping"),
    ),
]


@result(
    Mass("kg"),
    "vibrating mass of the machine",
    CHAPTER,
    source="common_practice, headstock and carriage move, bed and stand hardly",
)
def swaying_mass(parts_mass, swaying_share):
    """What moves when the machine sways at the tool."""
    return parts_mass * swaying_share


@result(
    Ratio(), "direction factor of chatter", CHAPTER, source=("tlusty, direction of the sway", "common_practice, a least factor")
)
def direction_factor(sway_factor):
    """Share of force and sway that acts on the chip, whether it thins or thickens it; never below a twentieth, for then another way of shaking takes over."""
    return np.clip(np.abs(sway_factor), _LEAST_FACTOR, 2.0)


RESULTS = [
    node(chatter.sway_direction_factor, CHAPTER, name="sway_factor", label="share of force and vibration that acts on the chip"),
    direction_factor,
    swaying_mass,
    node(
        chatter.cutting_stiffness,
        CHAPTER,
        label="rise of the cutting force with the thickness of the chip, for each width",
        specific_force="specific_cutting_force",
        condition="cut_condition",
    ),
    node(
        rigidity.stiffness_of,
        CHAPTER,
        name="loop_stiffness",
        label="stiffness of machine and work together",
        compliance="loop_compliance",
    ),
    node(
        chatter.natural_frequency,
        CHAPTER,
        name="sway_frequency",
        label="vibration frequency of the machine",
        stiffness="machine_stiffness",
        mass="swaying_mass",
    ),
    node(chatter.chatter_free_width, CHAPTER, label="widest chip that stays quiet", stiffness="loop_stiffness"),
    # the width that a limit of chatter is told for is that of the edge as set, without the nose
    node(
        forces.chip_width,
        CHAPTER,
        name="main_edge_width",
        label="width of the chip along the main edge",
        entering_angle="entering_angle",
    ),
    node(
        chatter.chatter_free_width,
        CHAPTER,
        name="stout_work_width",
        label="widest chip that stays quiet on stout work",
        stiffness="machine_stiffness",
    ),
    node(
        chatter.slow_speed_width,
        CHAPTER,
        label="widest chip that stays quiet at this cutting speed",
        frequency="sway_frequency",
        stiffness="loop_stiffness",
    ),
]

LIMITS = [
    Limit(
        "cut_stays_quiet",
        "the roughing cut stays quiet",
        CHAPTER,
        "chatter_free_width",
        "at least",
        "main_edge_width",
        "On the slimmest precise work a chip up to {value} wide stays quiet; the roughing cut makes {limit} along the main edge.",
        comfort=0.3,
        caution="When you hear chatter, stop feeding: it loosens work in the chuck and breaks tools.",
    )
]
