"""Chapter 08, beside the toolpost: what a hand lays its tool on, for wood and for curves in brass."""

import numpy as np

from ...machine import hand_rest as levers
from ...machine.drive import beside
from ...machine.holding import CENTRES, CHUCK_AND_CENTRE
from ...ranges import Range
from ...tables import table
from ...units import Area, Count, Force, Length, Stress
from ..chain.entries import Column, Decision, Figure, Limit, node, result

CHAPTER = "08"
RESTS = NONE, IN_POST, ON_BED = tuple(table("hand_rests"))


def over_bed(job, rest: str) -> bool:
    """Need this job not clear the cross-slide: a disc, or wood where the saddle stands out of its way?"""
    return job.is_disc or (job.is_wood and rest == ON_BED)


def clears_bed_only(jobs, rest: str) -> np.ndarray:
    """``over_bed`` for each job, shape (jobs,)."""
    return np.array([over_bed(job, rest) for job in jobs], bool)


DECISIONS = [
    Decision("hand_rest", "rest for tools held by hand", "What does a hand lay its tool on, for wood?", CHAPTER, options=RESTS)
]

FIGURES = [
    Figure(
        "rest_gap",
        "from the edge of the rest to the work",
        Length("mm"),
        CHAPTER,
        "common_practice, table of hand rests",
        lookup=Column("hand_rests", "hand_rest", "gap"),
    ),
    Figure(
        "handle_length", "from the edge of the rest to the hand at the handle", Length("mm"), CHAPTER, value=Range(200, 300, 400)
    ),
    Figure(
        "wood_force", "specific cutting force of hardwood in a coarse chip", Stress("N/mm²"), CHAPTER, value=Range(10, 20, 40)
    ),
    Figure("caught_chip", "chip that a tool held by hand takes when it digs in", Area("mm²"), CHAPTER, value=Range(3, 8, 20)),
]


@result(Count(), "pieces of wood among the jobs", CHAPTER, source="definition")
def wood_jobs(jobs):
    """They are turned with tools held by hand."""
    return float(jobs.wood.sum())


@result(Count(), "rests for tools held by hand", CHAPTER, source="definition")
def hand_rests(hand_rest):
    """One or none."""
    return float(hand_rest != NONE)


@result(Force("N"), "push at the edge of a tool that digs in", CHAPTER, source="definition, specific force times chip")
def caught_force(wood_force, caught_chip):
    """What stops it is the hand and the rest, not the feed: there is none."""
    return wood_force * caught_chip


@result(Count(), "rests that are clamped to the bed for wood", CHAPTER, source="definition")
def rest_clamped(hand_rest, wood_jobs):
    """One where wood is turned on a rest of its own."""
    return float(hand_rest == ON_BED) * (wood_jobs > 0)


@result(Force("N"), "push that the clamp of the rest holds", CHAPTER, source="meriam, friction")
def rest_hold(clamp_pull, clamp_friction):
    """One screw like that of the tailstock, pulled by hand."""
    return clamp_pull * clamp_friction


def _beside_the_slide(jobs, swing_over_slide, rest):
    """Which long wood would not clear the slide, with jobs as the last axis."""
    return clears_bed_only(jobs, rest) & ~jobs.discs & (jobs.column("diameter") > beside(swing_over_slide) + 1e-9)


@result(Count(), "pieces of wood that clear the bed and not the cross-slide", CHAPTER, source="definition")
def wood_over_bed(jobs, swing_over_slide, hand_rest):
    """For these the saddle goes to the end of the bed."""
    return _beside_the_slide(jobs, swing_over_slide, hand_rest).sum(axis=-1) + 0.0


@result(Length("mm"), "from the nose to the end of such wood", CHAPTER, source="definition")
def wood_reach(jobs, swing_over_slide, hand_rest, jaws_front):
    """The longest of it, held in the chuck; nothing where there is none."""
    long = np.where(_beside_the_slide(jobs, swing_over_slide, hand_rest), jobs.column("length"), 0.0).max(axis=-1)
    return np.where(long > 0, jaws_front + long, 0.0)[()]


@result(Length("mm"), "from the nose to the saddle that stands out of the way", CHAPTER, source="definition")
def saddle_parked(
    jobs, swing_over_slide, hand_rest, bed_length, headstock_length, bearing_span, spindle_overhang, tail_reach_out, saddle_length
):
    """At the end of the bed, the tailstock taken off; or before the tailstock, where a centre holds such wood."""
    centred = np.array([job.holding in (CENTRES, CHUCK_AND_CENTRE) for job in jobs], bool)
    at_centre = (_beside_the_slide(jobs, swing_over_slide, hand_rest) & centred).any(axis=-1)
    end = bed_length - (headstock_length + bearing_span) / 2 - spindle_overhang
    return np.where(at_centre, np.minimum(end, tail_reach_out), end)[()] - saddle_length


_LEVER = {"edge_force": "caught_force", "gap": "rest_gap", "handle": "handle_length"}
RESULTS = [
    wood_jobs,
    hand_rests,
    caught_force,
    node(levers.handle_pull, CHAPTER, label="pull of a tool that digs in, at its handle", **_LEVER),
    node(levers.hand_rest_load, CHAPTER, label="load on the rest of a tool that digs in", **_LEVER),
    rest_clamped,
    rest_hold,
    wood_over_bed,
    wood_reach,
    saddle_parked,
]

LIMITS = [
    Limit(
        "wood_has_a_rest",
        "wood has a rest for the tool",
        CHAPTER,
        "hand_rests",
        "at least",
        1.0,
        "Rests for a tool held by hand: {value}. The wood on the list of jobs asks for {limit}; without one it is only scraped with a tool in the toolpost.",
        comfort=0.0,
        source="common_practice, no source",
        asked="wood_jobs",
        unasked="No wood is on the list.",
        opened_by="wood on the list of jobs",
        clear="There is a rest for the tool.",
        caution="Never hold a tool by hand without a rest, and never on a rest that moves: set it close, below the middle of the work, turn the work once by hand, "
        "and move it only when the spindle stands. No gloves or loose sleeves; a face shield, and a mask against the dust.",
    ),
    Limit(
        "rest_stays_put",
        "the rest stays where it is clamped",
        CHAPTER,
        "rest_hold",
        "at least",
        "hand_rest_load",
        "The clamp of the rest holds {value}; a tool that digs in lays {limit} on it.",
        comfort=0.5,
        source="meriam, friction and levers",
        asked="rest_clamped",
        unasked="No rest is clamped to the bed for wood.",
        opened_by="wood on the list of jobs, and a rest on the bed for it",
    ),
    Limit(
        "saddle_out_of_way",
        "the bed is long enough for wood with the saddle beside it",
        CHAPTER,
        "saddle_parked",
        "at least",
        "wood_reach",
        "Pushed out of the way the saddle begins {value} from the nose; the wood that does not clear the cross-slide ends at {limit}.",
        comfort=0.05,
        source="definition, geometry of the bed",
        asked="wood_over_bed",
        unasked="All wood on the list clears the cross-slide, or no rest stands on the bed for it.",
        opened_by="wood that is thicker than the swing over the cross-slide, and a rest on the bed for it",
    ),
]
