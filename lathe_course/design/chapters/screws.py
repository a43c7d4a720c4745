"""Chapter 09, first part continued: screws that move the tool, and their dials."""

import numpy as np

from ...machine import rigidity, screws, slides
from ...ranges import Range
from ...tables import table
from ...units import Angle, Count, Density, Force, Length, Pitch, Ratio, RotationalSpeed, Stiffness, Stress, Torque
from ..chain.entries import Column, Decision, Figure, Limit, node, result
from ..chain.fitted import by_way, error_by_way
from ..chain.luck import Fitted
from .slides import GRAVITY

CHAPTER = "09"
#: what draws the carriage in a plain cut where nothing else does
BY_HAND = "by hand"
NUTS = tuple(table("nuts"))
#: pitches one can buy as screws: trapezoidal, and 20, 12, 10, 8 to the inch; below 1 mm fine threads that a die cuts, such as M5 x 0.5 and M6 x 0.75 (ISO 261)
PITCHES = (0.5, 0.75, 1.0, 1.25, 1.27, 1.5, 2.0, 25.4 / 12, 2.5, 2.54, 3.0, 3.175, 4.0, 5.0)
DIVISIONS = (20, 24, 25, 30, 32, 40, 48, 50, 60, 64, 75, 80, 100, 120, 125, 127, 150, 160, 200, 250)
DIALS = ("radius in mm", "diameter in mm", "radius in inches", "diameter in inches")
#: steps a person reads without doing sums, in m
_MM = np.array([0.005, 0.01, 0.02, 0.025, 0.05, 0.1, 0.2, 0.25]) * 1e-3
_INCH = np.array([0.0002, 0.00025, 0.0005, 0.001, 0.002, 0.0025, 0.005, 0.01]) * 25.4e-3
#: room for a line of a dial, m, and the smallest and largest dial over the centre height; common practice
_LINE_ROOM, _DIALS = 1.02e-3, (0.5, 1.1)
#: what the last digit of a sum leaves
_DUST = 1e-9


def dial_steps(pitch: float, divisions: float) -> tuple[float, float]:
    """A step of a dial of so many divisions on a screw of this pitch [m], on the radius and on the diameter."""
    return screws.dial_step_on_radius.si(pitch, divisions), screws.dial_step_on_diameter.si(pitch, divisions)


def round_steps(dial_reads: str) -> np.ndarray:
    """Steps that a dial of this kind can be read by without sums, m, rising."""
    return _MM if dial_reads.endswith("mm") else _INCH


DECISIONS = [
    Decision(
        "cross_screw_diameter",
        "diameter of the cross screw",
        "How thick is the screw of the cross-slide, over its crests?",
        CHAPTER,
        Length("mm", above=0),
        6,
        25,
        1,
    ),
    Decision(
        "cross_screw_pitch",
        "pitch of the cross screw",
        "Which pitch has the screw of the cross-slide?",
        CHAPTER,
        Pitch("mm", above=0),
        0.5,
        5,
        0.25,
        preferred=PITCHES,
    ),
    Decision("cross_nut", "nut of the cross screw", "What nut does the cross screw run in?", CHAPTER, options=NUTS),
    Decision(
        "dial_divisions",
        "divisions of the cross-slide dial",
        "How many divisions has the dial of the cross screw?",
        CHAPTER,
        Count("", at_least=1, at_most=1000, whole=True),
        20,
        250,
        1,
        preferred=DIVISIONS,
    ),
    Decision(
        "dial_reads",
        "what the cross-slide dial reads",
        "Does the dial of the cross screw read the radius or the diameter, and in what?",
        CHAPTER,
        options=DIALS,
    ),
    Decision(
        "leadscrew_diameter",
        "diameter of the leadscrew",
        "How thick is the leadscrew, over its crests?",
        CHAPTER,
        Length("mm", above=0),
        6,
        40,
        1,
    ),
]


def _nut_friction(cross_nut, making, skill):
    """The range of the table, whose spread is that of oil and load, as the nut stands in line with its slide."""
    return by_way("nut_friction", table("nuts")[cross_nut]["friction"], making, "nut_friction", skill, spread_stays=True)


def _backlash(cross_nut, making, skill):
    """Play of the nut by its kind and way, of an old one its own; slip between the thrust faces comes one after the other, and so adds as it is."""
    old, slip = (
        error_by_way("cross_backlash", Range(0.0, 0.0, 0.0), making, "cross_backlash", skill, acts=(acts,))
        for acts in ("instead", "adds straight")
    )
    play = old if old.high else by_way("cross_backlash", table("nuts")[cross_nut]["backlash"], making, "cross_backlash", skill)
    ends = (one + more for one, more in zip(play, slip))
    return Fitted(*ends, luck=play.luck) if isinstance(play, Fitted) else Range(*ends)


FIGURES = [
    Figure(
        "nut_friction",
        "friction of screw and nut",
        Ratio(),
        CHAPTER,
        ("shigley, Table 8-5", "common_practice, table of making"),
        lookup=_nut_friction,
    ),
    Figure(
        "cross_backlash",
        "backlash of the cross screw",
        Length("mm"),
        CHAPTER,
        ("common_practice, table of nuts", "common_practice, table of making"),
        lookup=_backlash,
    ),
    Figure(
        "nut_pressure_limit",
        "pressure the nut bears for long",
        Stress("N/mm²"),
        CHAPTER,
        "shigley, Table 8-4",
        lookup=Column("nuts", "cross_nut", "pressure"),
    ),
    Figure("nut_lengths", "length of the nut over the diameter of the cross screw", Ratio(), CHAPTER, value=Range(1.2, 1.8, 2.5)),
    Figure(
        "collar_ratio",
        "mean diameter of the thrust collar over the diameter of the cross screw",
        Ratio(),
        CHAPTER,
        value=Range(1.1, 1.4, 1.8),
    ),
    Figure("setting_share", "share of the tolerance that setting the dial may take", Ratio("%"), CHAPTER, value=50.0),
    Figure(
        "screw_flank_angle",
        "angle of the flanks of a trapezoidal thread",
        Angle("deg"),
        CHAPTER,
        "iso_2904, basic profile",
        value=15.0,
    ),
    Figure("gib_preload", "press of the gib on the cross-slide", Force(), CHAPTER, value=Range(20, 60, 150)),
    Figure(
        "cross_seat_stiffness",
        "stiffness of nut, thrust seat and bracket of the cross screw",
        Stiffness(),
        CHAPTER,
        value=Range(5, 15, 40),
    ),
    Figure("screw_yield", "yield strength of a screw", Stress("N/mm²"), CHAPTER, value=Range(300, 400, 550)),
    Figure(
        "screw_density",
        "density of a screw",
        Density(),
        CHAPTER,
        "shigley, Table A-5",
        lookup=lambda: table("materials")["mild steel"]["density"],
    ),
    # one end clamped, the other in a short bush; books advise to count 1.2 where the clamped end is not clamped beyond doubt
    Figure(
        "buckling_factor",
        "effect of the leadscrew's ends on its buckling load",
        Ratio(),
        CHAPTER,
        "shigley, end conditions of columns",
        value=Range(1.2, 1.6, 2.0),
    ),
    Figure(
        "whirl_root",
        "effect of the leadscrew's ends on its whirling speed",
        Ratio(),
        CHAPTER,
        "shigley, critical speeds of shafts",
        value=3.9266,
    ),
]


# --- cross screw -------------------------------------------------------------------------------------
@result(Length("mm"), "clearance in the thread of the cross screw", CHAPTER, source="iso_2904, basic dimensions")
def cross_screw_clearance(cross_screw_pitch):
    """Between the crests of one and the roots of the other; it goes with the pitch."""
    return screws.trapezoidal_clearance(cross_screw_pitch)


@result(Force(), "friction of the cross-slide without a cut", CHAPTER, source="definition")
def cross_rubbing(carriage_mass, gib_preload, slide_friction):
    """Half the carriage rests on the cross-slide, and the gib presses: both rub, with the friction of plain ways at least a tenth."""
    return np.maximum(slide_friction, 0.1) * (carriage_mass / 2 * GRAVITY + gib_preload)


@result(Force(), "thrust of the cross screw in the roughing cut", CHAPTER, source="definition")
def cross_thrust(rough_radial_force, cross_rubbing, slide_friction, cutting_force):
    """The push of the work along the radius, and the rubbing of the slide pressed down by the cut."""
    return rough_radial_force + cross_rubbing + np.maximum(slide_friction, 0.1) * cutting_force


@result(Length("mm"), "mean diameter of the thrust collar", CHAPTER)
def collar_diameter(cross_screw_diameter, collar_ratio):
    """Where the shoulder of the cross screw rubs."""
    return cross_screw_diameter * collar_ratio


@result(Torque(), "torque at the cross handle in the roughing cut", CHAPTER, source="shigley, power screws")
def cross_torque(cross_thread_torque, cross_collar_torque):
    """Thread and collar together."""
    return cross_thread_torque + cross_collar_torque


@result(Length("mm"), "length of the cross nut", CHAPTER)
def cross_nut_length(cross_screw_diameter, nut_lengths):
    """A nut in proportion to its screw."""
    return cross_screw_diameter * nut_lengths


@result(Force(), "force that starts the cross-slide", CHAPTER, source="common_practice, table of slides")
def cross_start(cross_rubbing, start_over_moving):
    """A slide at rest holds harder than one that moves."""
    return cross_rubbing * start_over_moving


@result(
    Length("µm"), "smallest step of the cross-slide, on the diameter", CHAPTER, source="rabinowicz, stick-slip of a sprung slider"
)
def crawl_on_diameter(crawl_step):
    """What the slide jumps counts twice on the work."""
    return 2 * crawl_step


# --- dial --------------------------------------------------------------------------------------------
@result(Length("mm"), "what one division of the cross-slide dial is engraved as", CHAPTER)
def dial_step(dial_step_on_radius, dial_step_on_diameter, dial_reads):
    """The step on the radius or on the diameter, whichever the dial reads."""
    return dial_step_on_radius if dial_reads.startswith("radius") else dial_step_on_diameter


@result(Ratio("%"), "how far one division is from a round step", CHAPTER)
def dial_unevenness(dial_step, dial_reads):
    """Against the nearest step a person reads without sums; what is left creeps up over a turn."""
    steps = round_steps(dial_reads)
    off = np.min(np.abs(np.asarray(dial_step)[..., None] / steps - 1), axis=-1)
    return np.where(off < _DUST, 0.0, off)[()]


@result(
    Length("mm"),
    "half a division of the dial, on the diameter",
    CHAPTER,
    source="common_practice, half a division can be told by eye",
)
def dial_readable(dial_step_on_diameter):
    """What can be set by eye with this dial."""
    return dial_step_on_diameter / 2


@result(
    Length("mm"), "what the tolerance leaves to setting the dial", CHAPTER, source="common_practice, setting against tolerance"
)
def allowed_setting(tolerance, setting_share):
    """A share of the tolerance, as the give of the machine has one: measuring, heat and wear of the edge want theirs too."""
    return tolerance * setting_share


@result(Length("mm"), "diameter of the cross-slide dial", CHAPTER, source="common_practice, lines a millimetre apart")
def dial_diameter(dial_divisions, centre_height):
    """So large that its lines stand a millimetre apart, as far as hand and ways leave it."""
    return np.clip(dial_divisions * _LINE_ROOM / np.pi, *(share * centre_height for share in _DIALS))


@result(Length("mm"), "space from line to line on the dial", CHAPTER, source="definition")
def dial_spacing(dial_diameter, dial_divisions):
    """Round the dial, shared among its divisions."""
    return np.pi * dial_diameter / dial_divisions


@result(Ratio(), "divisions the handle turns before the slide moves", CHAPTER, source="definition")
def backlash_in_divisions(cross_backlash, dial_step_on_radius):
    """The backlash told in the lines of the dial."""
    return cross_backlash / dial_step_on_radius


# --- leadscrew ---------------------------------------------------------------------------------------
@result(Length("mm"), "clearance in the thread of the leadscrew", CHAPTER, source="iso_2904, basic dimensions")
def leadscrew_clearance(leadscrew_pitch):
    """Between the crests of one and the roots of the other; it goes with the pitch."""
    return screws.trapezoidal_clearance(leadscrew_pitch)


@result(Length("mm"), "free length of the leadscrew", CHAPTER)
def leadscrew_length(between_centres, saddle_length):
    """Between its bearings: the work, and the saddle that must clear it."""
    return between_centres + saddle_length


@result(RotationalSpeed(), "fastest speed of the leadscrew", CHAPTER, source="definition")
def leadscrew_speed(fastest_speed, feed, feed_drive, leadscrew_pitch, slowest_speed, coarsest_pitch):
    """At the fastest spindle speed with the roughing feed, if it is not wound by hand, or in the coarsest thread at the slowest, whichever is more."""
    return np.maximum(fastest_speed * feed * (feed_drive != BY_HAND), slowest_speed * coarsest_pitch) / leadscrew_pitch


@result(Count(), "number of leadscrews of the lathe", CHAPTER, source="definition")
def leadscrew_count(threading, feed_drive):
    """One where threads are cut or anything but a hand draws the carriage, else none."""
    return float(threading == "yes" or feed_drive != BY_HAND)


_CROSS = {"lead": "cross_screw_pitch", "pitch_diameter": "cross_pitch_diameter", "flank_angle": "screw_flank_angle"}
RESULTS = [
    node(
        screws.thread_pitch_diameter,
        CHAPTER,
        name="cross_pitch_diameter",
        label="pitch diameter of the cross screw",
        major_diameter="cross_screw_diameter",
        pitch="cross_screw_pitch",
    ),
    cross_screw_clearance,
    node(
        screws.thread_core_diameter,
        CHAPTER,
        name="cross_screw_core",
        label="core of the cross screw",
        major_diameter="cross_screw_diameter",
        pitch="cross_screw_pitch",
        clearance="cross_screw_clearance",
    ),
    node(
        screws.lead_angle,
        CHAPTER,
        label="lead angle of the cross screw",
        lead="cross_screw_pitch",
        pitch_diameter="cross_pitch_diameter",
    ),
    cross_rubbing,
    cross_thrust,
    node(
        screws.raising_torque,
        CHAPTER,
        name="cross_thread_torque",
        label="torque in the thread of the cross screw",
        force="cross_thrust",
        friction="nut_friction",
        **_CROSS,
    ),
    collar_diameter,
    node(
        screws.collar_torque,
        CHAPTER,
        name="cross_collar_torque",
        label="torque in the collar of the cross screw",
        force="cross_thrust",
        collar_friction="nut_friction",
        collar_diameter="collar_diameter",
    ),
    cross_torque,
    node(
        screws.screw_efficiency,
        CHAPTER,
        name="cross_efficiency",
        label="efficiency of the cross screw",
        force="cross_thrust",
        lead="cross_screw_pitch",
        torque="cross_torque",
    ),
    node(screws.self_locking_friction, CHAPTER, label="friction at which the cross screw still locks", **_CROSS),
    node(
        screws.lowering_torque,
        CHAPTER,
        name="cross_back_torque",
        label="torque that turns the cross screw back",
        force="cross_thrust",
        friction="nut_friction",
        **_CROSS,
    ),
    cross_nut_length,
    node(
        screws.nut_pressure,
        CHAPTER,
        label="pressure in the cross nut",
        force="cross_thrust",
        pitch_diameter="cross_pitch_diameter",
        nut_length="cross_nut_length",
    ),
    node(
        screws.screw_axial_stiffness,
        CHAPTER,
        name="cross_screw_stiffness",
        label="stiffness of the cross screw along its axis",
        core_diameter="cross_screw_core",
        length="cross_slide_travel",
        elastic_modulus="steel_modulus",
    ),
    node(
        rigidity.series_stiffness,
        CHAPTER,
        name="cross_feed_stiffness",
        label="stiffness between handle and cross-slide",
        first="cross_screw_stiffness",
        second="cross_seat_stiffness",
    ),
    cross_start,
    node(
        slides.crawl_step,
        CHAPTER,
        label="step in which the cross-slide crawls",
        starting_friction="cross_start",
        moving_friction="cross_rubbing",
        drive_stiffness="cross_feed_stiffness",
    ),
    crawl_on_diameter,
    node(
        screws.dial_step_on_radius,
        CHAPTER,
        label="one division of the dial, on the radius",
        pitch="cross_screw_pitch",
        divisions="dial_divisions",
    ),
    node(
        screws.dial_step_on_diameter,
        CHAPTER,
        label="one division of the dial, on the diameter",
        pitch="cross_screw_pitch",
        divisions="dial_divisions",
    ),
    dial_step,
    dial_unevenness,
    dial_readable,
    allowed_setting,
    dial_diameter,
    dial_spacing,
    backlash_in_divisions,
    leadscrew_clearance,
    node(
        screws.thread_core_diameter,
        CHAPTER,
        name="leadscrew_core",
        label="core of the leadscrew",
        major_diameter="leadscrew_diameter",
        pitch="leadscrew_pitch",
        clearance="leadscrew_clearance",
    ),
    leadscrew_length,
    leadscrew_speed,
    leadscrew_count,
    node(
        screws.screw_buckling_load,
        CHAPTER,
        name="leadscrew_buckling",
        label="thrust that buckles the leadscrew",
        core_diameter="leadscrew_core",
        length="leadscrew_length",
        elastic_modulus="steel_modulus",
        yield_strength="screw_yield",
        end_factor="buckling_factor",
    ),
    node(
        screws.whirling_speed,
        CHAPTER,
        name="leadscrew_whirl",
        label="speed at which the leadscrew whirls",
        end_root="whirl_root",
        core_diameter="leadscrew_core",
        length="leadscrew_length",
        elastic_modulus="steel_modulus",
        density="screw_density",
    ),
]

_NO_SCREW = {
    "asked": "leadscrew_count",
    "unasked": "The lathe has no leadscrew: it cuts no threads, and its feed is wound by hand.",
    "opened_by": "threads with a leadscrew, or a feed that is not wound by hand",
}

LIMITS = [
    Limit(
        "cross_screw_locks",
        "cross screw stays where it is put",
        CHAPTER,
        "nut_friction",
        "at least",
        "self_locking_friction",
        "Screw and nut rub with {value}; below {limit} the cut pushes the tool back by itself.",
        comfort=0.3,
        source="shigley, power screws",
    ),
    Limit(
        "nut_lasts",
        "nut of the cross screw lasts",
        CHAPTER,
        "nut_pressure",
        "at most",
        "nut_pressure_limit",
        "The cut presses with {value} on the flanks of the nut; it bears about {limit}.",
        comfort=1.0,
        source="shigley, Table 8-4",
    ),
    Limit(
        "little_backlash",
        "little backlash in the cross screw",
        CHAPTER,
        "cross_backlash",
        "at most",
        0.25,
        "The handle turns by {value} of travel before the slide moves; beyond {limit} the cut pulls the tool in.",
        comfort=1.5,
        caution="A slide with play can be drawn into the work, above all in brass and with a parting tool: take up the play and clamp what need not move.",
    ),
    Limit(
        "slide_moves_finely",
        "cross-slide can be moved finely",
        CHAPTER,
        "crawl_on_diameter",
        "at most",
        "tolerance",
        "Wound slowly, the cross-slide jumps by {value} on the diameter; the tolerance is {limit}.",
        comfort=1.0,
    ),
    Limit(
        "dial_reads_round",
        "cross-slide dial reads in round steps",
        CHAPTER,
        "dial_unevenness",
        "at most",
        0.1,
        "One division is {value} away from a step one can read; up to {limit} a whole turn stays true to half a line.",
        comfort=0.0,
    ),
    Limit(
        "dial_fine_enough",
        "cross-slide dial fine enough",
        CHAPTER,
        "dial_readable",
        "at most",
        "allowed_setting",
        "Half a division takes {value} off the diameter; the tolerance leaves {limit} to setting the dial.",
        comfort=0.3,
    ),
    Limit(
        "dial_legible",
        "cross-slide dial legible",
        CHAPTER,
        "dial_spacing",
        "at least",
        0.8,
        "The lines stand {value} apart; below {limit} nobody reads them at arm's length.",
        comfort=0.25,
    ),
    Limit(
        "leadscrew_straight",
        "leadscrew stays straight under its thrust",
        CHAPTER,
        "leadscrew_buckling",
        "at least",
        "push_needed",
        "The leadscrew buckles at {value}; the carriage asks for {limit}.",
        comfort=2.0,
        source="shigley, columns after Euler and Johnson",
        **_NO_SCREW,
        caution="Never engage the feed towards the chuck without a stop or a hand on the handle that ends it: the screw is stronger than the tool.",
    ),
    Limit(
        "leadscrew_quiet",
        "leadscrew turns below its whirling speed",
        CHAPTER,
        "leadscrew_whirl",
        "at least",
        "leadscrew_speed",
        "The leadscrew whirls at {value}; it turns at {limit} at most.",
        comfort=0.5,
        source="shigley, critical speeds of shafts",
        **_NO_SCREW,
    ),
]
