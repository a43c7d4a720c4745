"""Chapter 13, continued: how high it stands against the elbow of whoever works at it."""

import numpy as np

from ...units import Length
from ..chain.entries import Decision, Limit, result

CHAPTER = "13"

DECISIONS = [
    Decision(
        "elbow_height",
        "height of the worker's elbow",
        "How high above the floor is the elbow of whoever will work at it, in shoes?",
        CHAPTER,
        Length("mm", above=0),
        850,
        1300,
        5,
        movable=False,
    ),
    Decision(
        "bench_height",
        "height of the bench",
        "How high is the top of the bench or stand?",
        CHAPTER,
        Length("mm", above=0),
        500,
        1100,
        10,
    ),
    Decision(
        "riser_height",
        "height of what stands between bench and bed",
        "How high is what stands between bench and bed: feet, blocks, a chip tray?",
        CHAPTER,
        Length("mm", at_least=0),
        0,
        400,
        5,
    ),
]


@result(Length("mm"), "height of the spindle above the floor", CHAPTER)
def spindle_height(bench_height, riser_height, bed_depth, centre_height):
    """Bench, riser, bed and centre height on top of each other."""
    return bench_height + riser_height + bed_depth + centre_height


@result(Length("mm"), "height of the elbow above the spindle", CHAPTER)
def elbow_above_spindle(elbow_height, spindle_height):
    """How far the spindle lies below the elbow; minus where it stands above."""
    return elbow_height - spindle_height


@result(Length("mm"), "distance of the spindle from elbow height", CHAPTER)
def off_the_elbow(elbow_above_spindle):
    """How far the spindle is from the height of the elbow, up or down."""
    return np.abs(elbow_above_spindle)


@result(Length("mm"), "riser that would bring the spindle to the elbow", CHAPTER)
def riser_wanted(riser_height, elbow_above_spindle):
    """The riser with which the spindle stands at the elbow; minus where the bench itself is too high."""
    return riser_height + elbow_above_spindle


RESULTS = [spindle_height, elbow_above_spindle, off_the_elbow, riser_wanted]

LIMITS = [
    Limit(
        "spindle_at_elbow",
        "spindle near elbow height",
        CHAPTER,
        "off_the_elbow",
        "at most",
        100.0,
        "The spindle stands {value} from the height of your elbow; up to {limit} it can be worked at for an evening without a bent back or raised shoulders.",
        comfort=0.5,
        source=("common_practice, spindle at the height of the elbow", "kroemer_grandjean, light work a little below the elbow"),
        caution="A bench that is raised tips more easily: bolt it down, and lift the machine onto it with a hoist or as many hands as the lifting rules ask.",
    )
]
