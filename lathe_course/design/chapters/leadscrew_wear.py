"""Chapter 09, last part but one: how leadscrew and half nuts wear in the years the lathe is kept, and what that makes of its threads."""

import numpy as np

from ...machine import screws, threads, wear
from ...ranges import Range
from ...tables import table
from ...units import Length, Ratio, Speed, Stress
from ..chain.entries import Column, Decision, Figure, Limit, node, result
from .screws import BY_HAND
from .threads import FLANKS

CHAPTER = "09"
NUTS = tuple(table("leadscrew_nuts"))
_HOUR = 3600.0
#: a nut whose thread has lost a quarter of its thickness, which is half a pitch, is told to be done; common practice, no source
_DONE = 0.25 / 2


DECISIONS = [
    Decision(
        "leadscrew_nut", "half nuts of the leadscrew", "What are the half nuts of the leadscrew made of?", CHAPTER, options=NUTS
    )
]

FIGURES = [
    Figure(
        "nut_wear_coefficient",
        "coefficient of wear of the half nuts, clean and oiled",
        Ratio(),
        CHAPTER,
        "common_practice, table of half nuts",
        lookup=Column("leadscrew_nuts", "leadscrew_nut", "coefficient"),
    ),
    Figure(
        "nut_hardness",
        "hardness of the half nuts",
        Stress("N/mm²"),
        CHAPTER,
        "common_practice, table of half nuts",
        lookup=Column("leadscrew_nuts", "leadscrew_nut", "hardness"),
    ),
    Figure(
        "screw_grit", "wear with the chips that reach the screw over that of a clean one", Ratio(), CHAPTER, value=Range(1, 4, 15)
    ),
    Figure(
        "half_nut_lengths", "length of the half nuts in diameters of the leadscrew", Ratio(), CHAPTER, value=Range(1.5, 2, 2.8)
    ),
    Figure(
        "threading_share",
        "share of the hours of a job with a thread in which the thread is cut",
        Ratio("%"),
        CHAPTER,
        value=Range(5, 15, 30),
    ),
    Figure(
        "feeding_share", "share of the turning hours in which the feed is engaged", Ratio("%"), CHAPTER, value=Range(10, 25, 50)
    ),
    Figure(
        "worn_share", "share of the length between centres on which most is turned", Ratio("%"), CHAPTER, value=Range(15, 30, 60)
    ),
    Figure(
        "screw_over_nut",
        "wear of the screw over that of its nut, face for face",
        Ratio(),
        CHAPTER,
        "common_practice, table of half nuts",
        lookup=Column("leadscrew_nuts", "leadscrew_nut", "screw_over_nut"),
    ),
]


@result(Speed("m/min"), "speed of the carriage while it is fed, on average", CHAPTER, source="definition")
def carriage_pace(rough_feed_had, slowest_wanted, fastest_wanted):
    """The roughing feed at the speed half way, in ratios, between the slowest and the fastest that the jobs ask for."""
    return rough_feed_had * np.sqrt(slowest_wanted * fastest_wanted) / (2 * np.pi)


@result(Length("m"), "way of the carriage on its leadscrew while the lathe is kept", CHAPTER, source="definition")
def screwed_travel(
    jobs, threading, feed_drive, hours_of_use, threading_share, feeding_share, carriage_pace, slowest_speed, coarsest_pitch
):
    """Threads at the slowest speed, and the feed where anything but a hand draws the carriage; a carriage wound by hand goes by its rack."""
    shares = jobs.column("share")
    threaded = float(shares[jobs.column("pitch") > 0].sum() / shares.sum())
    threads = threaded * threading_share * slowest_speed * coarsest_pitch / (2 * np.pi) * (threading == "yes")
    return hours_of_use * _HOUR * (threads + feeding_share * carriage_pace * (feed_drive != BY_HAND))


@result(Length("mm"), "length of the half nuts", CHAPTER)
def half_nut_length(leadscrew_diameter, half_nut_lengths):
    """In proportion to the screw."""
    return leadscrew_diameter * half_nut_lengths


@result(Ratio(), "coefficient of wear of the half nuts with the chips that reach them", CHAPTER, source="definition")
def gritty_coefficient(nut_wear_coefficient, screw_grit):
    """A cover and a brush keep it near that of the clean screw."""
    return nut_wear_coefficient * screw_grit


@result(Length("mm"), "wear at which half nuts are done", CHAPTER, source="common_practice, a quarter of the thread's thickness")
def nut_wear_allowed(leadscrew_pitch):
    """The thread is half a pitch thick."""
    return _DONE * leadscrew_pitch


@result(
    Length("µm"),
    "wear of the leadscrew where most is turned",
    CHAPTER,
    source=("archard, volume worn by sliding", "common_practice, screw over nut"),
)
def screw_worn(nut_worn, screw_over_nut, half_nut_length, worn_share, between_centres):
    """Each place of the screw meets the nut only while it passes: the longer the stretch, the less."""
    return nut_worn * screw_over_nut * half_nut_length / np.maximum(worn_share * between_centres, half_nut_length)


@result(Ratio("%"), "error of pitch where the worn stretch of the leadscrew ends", CHAPTER, source="definition")
def worn_pitch_error(screw_worn, worn_share, between_centres):
    """What is worn off in its middle is missed over the half of the stretch towards its end."""
    return screw_worn / (worn_share * between_centres / 2)


@result(
    Ratio("%"),
    "pitch error of the practice thread on a leadscrew that was worn for as long as the lathe is kept",
    CHAPTER,
    source="definition",
)
def late_pitch_error(whole_pitch_error, worn_pitch_error):
    """All in the same direction, which is the worst that can happen."""
    return whole_pitch_error + worn_pitch_error


RESULTS = [
    carriage_pace,
    screwed_travel,
    half_nut_length,
    gritty_coefficient,
    node(
        screws.thread_pitch_diameter,
        CHAPTER,
        name="leadscrew_pitch_diameter",
        label="pitch diameter of the leadscrew",
        major_diameter="leadscrew_diameter",
        pitch="leadscrew_pitch",
    ),
    node(
        wear.thread_sliding,
        CHAPTER,
        name="nut_sliding",
        label="way the half nuts slide on the leadscrew while the lathe is kept",
        travel="screwed_travel",
        lead="leadscrew_pitch",
        pitch_diameter="leadscrew_pitch_diameter",
    ),
    node(
        screws.nut_pressure,
        CHAPTER,
        name="half_nut_pressure",
        label="pressure in the half nuts",
        force="push_needed",
        pitch_diameter="leadscrew_pitch_diameter",
        nut_length="half_nut_length",
    ),
    node(
        wear.worn_depth,
        CHAPTER,
        name="nut_worn",
        label="wear of the half nuts while the lathe is kept",
        wear_coefficient="gritty_coefficient",
        pressure="half_nut_pressure",
        sliding="nut_sliding",
        hardness="nut_hardness",
    ),
    nut_wear_allowed,
    screw_worn,
    worn_pitch_error,
    late_pitch_error,
    node(
        threads.nut_misfit,
        CHAPTER,
        name="late_misfit",
        label="misfit over the length of the nut on a worn leadscrew",
        pitch_error="late_pitch_error",
        length="nut_length",
    ),
    node(
        threads.diameter_equivalent,
        CHAPTER,
        name="late_equivalent",
        label="play that the misfit uses up on a worn leadscrew",
        misfit="late_misfit",
        fixed=FLANKS,
    ),
]

LIMITS = [
    Limit(
        "half_nuts_last",
        "the half nuts last as long as the lathe is kept",
        CHAPTER,
        "nut_worn",
        "at most",
        "nut_wear_allowed",
        "In the years it is kept the half nuts lose {value}; at {limit}, a quarter of the thickness of their thread, a new pair is due. "
        "A longer nut, a thicker screw, a cover over it, or a feed that is wound by hand makes it less.",
        comfort=1.0,
        source="archard, volume worn by sliding",
        asked="leadscrew_count",
        unasked="The lathe has no leadscrew: it cuts no threads, and its feed is wound by hand.",
        opened_by="threads with a leadscrew, or a feed that is not wound by hand",
        caution="Half nuts that are worn, or not closed right home, jump out under load and let go in the middle of a thread: feel that they sit before each cut.",
    ),
    Limit(
        "worn_screw_cuts_true",
        "a thread cut on the worn leadscrew still goes into its nut",
        CHAPTER,
        "late_equivalent",
        "at most",
        "play_allowance",
        "Where the stretch that was used most ends, error and wear of the leadscrew together use up {value} of the play over a nut; a usual fit has {limit}.",
        comfort=0.5,
        source="iso_965_1, class 6g in 6H",
        asked="threads_cut",
        unasked="The lathe cuts no threads with a leadscrew.",
        opened_by="threads with a leadscrew",
    ),
]
