"""Chapter 09, last part: dividing a round into equal parts, for the lines of a dial and the teeth of wheels that are made here."""

import numpy as np

from ...machine import dividing as shares
from ...planning.parts import MAKE
from ...tables import table
from ...units import Count, Length, Ratio
from ..chain.entries import Column, Decision, Figure, Limit, node, result
from ..chain.wheel_set import wheels_of

CHAPTER = "09"
DIVIDINGS = tuple(table("dividing"))
#: diameter of the ring of holes over that of the pulley it is drilled in
_ON_PULLEY = 0.8

DECISIONS = [
    Decision("dividing", "means of dividing", "How is work on the spindle divided into equal parts?", CHAPTER, options=DIVIDINGS)
]
FIGURES = [
    Figure(
        "division_error",
        "how far a mark or hole of the dividing ring lies from its place",
        Length("mm"),
        CHAPTER,
        "common_practice, table of dividing",
        lookup=Column("dividing", "dividing", "error"),
    )
]


@result(Count(), "dials made here", CHAPTER, source="definition")
def dials_here(making):
    """One where the dials are made on this lathe, none where they are bought or made elsewhere."""
    one = making.part("dials", {})
    return float(one is not None and one.how == MAKE)


@result(Count(), "sets of change gears made here", CHAPTER, source="definition")
def wheels_here(making, threading, feed_drive):
    """One where the wheels are cut on this lathe, none where there are none or others cut them."""
    one = making.part("change gears", {"threading": threading, "feed_drive": feed_drive})
    return float(one is not None and one.how == MAKE)


@result(Count(), "things made here that want dividing", CHAPTER, source="definition")
def divided_here(dials_here, wheels_here):
    """Dials and wheels."""
    return dials_here + wheels_here


@result(
    Count(),
    "numbers wanted that cannot be divided",
    CHAPTER,
    source="definition, a ring divides what goes into its holes without rest",
)
def undivided(dividing, dial_divisions, change_wheels, dials_here, wheels_here):
    """Of the lines of the dial and the teeth of the wheels that are made here; where a ring is made for each number, none."""
    holes = table("dividing")[dividing]["holes"]
    if not holes:
        return 0.0 * dial_divisions
    wheels = sum(holes % teeth != 0 for teeth in set(wheels_of(change_wheels)))
    return np.where(np.mod(holes, dial_divisions) > 0, dials_here, 0.0) + wheels * wheels_here


@result(Length("mm"), "diameter of the dividing ring", CHAPTER, source="common_practice, table of dividing")
def ring_diameter(dividing, centre_height, largest_driven):
    """On a plate or drum about as large as the chuck, or on the pulley of the spindle."""
    at = table("dividing")[dividing]["at"]
    return _ON_PULLEY * largest_driven if at is None else at * centre_height


RESULTS = [
    dials_here,
    wheels_here,
    divided_here,
    undivided,
    ring_diameter,
    node(
        shares.carried_error,
        CHAPTER,
        name="line_error",
        label="how far a line of the dial is out of its place",
        error="division_error",
        diameter="dial_diameter",
        ring="ring_diameter",
    ),
    node(
        shares.carried_error,
        CHAPTER,
        name="tooth_error",
        label="how far a tooth of the largest change gear is out of its place",
        error="division_error",
        diameter="tip_diameter",
        ring="ring_diameter",
    ),
]


@result(Ratio("%"), "unevenness of the dial's lines", CHAPTER, source="definition, over the distance of two lines")
def line_unevenness(line_error, dial_diameter, dial_divisions):
    """How far a line is out, as a share of the distance from line to line."""
    return line_error * dial_divisions / (np.pi * dial_diameter)


RESULTS += [line_unevenness]

LIMITS = [
    Limit(
        "numbers_divide",
        "what is made here can be divided",
        CHAPTER,
        "undivided",
        "at most",
        0.0,
        "Of the dial and the wheels that are made here {value} cannot be divided.",
        comfort=0.0,
        source="definition, a ring divides what goes into its holes without rest",
        unasked="Neither dials nor change gears are made here.",
        opened_by="dials or change gears that are made here",
        asked="divided_here",
        clear="The lines of the dial and the teeth of the wheels that are made here can be divided.",
    ),
    Limit(
        "lines_even",
        "the lines of the dial are even",
        CHAPTER,
        "line_unevenness",
        "at most",
        10.0,
        "A line of the dial lies out of its place by {value} of the distance between two; {limit} is hardly seen.",
        comfort=0.3,
        unasked="The dials are not made here.",
        opened_by="dials that are made here",
        asked="dials_here",
    ),
    Limit(
        "teeth_even",
        "the teeth of the change gears are even",
        CHAPTER,
        "tooth_error",
        "at most",
        0.10,
        "A tooth of the largest wheel lies out of its place by {value}; past {limit} wheels growl and print on the thread.",
        comfort=0.3,
        unasked="The change gears are not made here.",
        opened_by="change gears that are made here",
        asked="wheels_here",
        caution="Lock the spindle by its detent with the plug drawn: a pin left in its hole breaks, or the belt does, when the motor starts.",
    ),
]
