"""Chapter 06, beside the chuck: collets for small work, and how true it runs when it is held a second time."""

import numpy as np

from ...machine.drive import beside
from ...machine.holding import CHUCK, CHUCK_AND_CENTRE
from ...ranges import Range
from ...tables import table
from ...units import Count, Length, Ratio
from ..chain.entries import Column, Decision, Figure, Limit, result

CHAPTER = "06"
COLLETS = NONE, IN_TAPER, IN_CHUCK = tuple(table("collets"))

DECISIONS = [Decision("collets", "collets", "Which collets hold small work?", CHAPTER, options=COLLETS)]

FIGURES = [
    Figure(
        "collet_class",
        "run-out of a bar in its collet",
        Length("mm"),
        CHAPTER,
        "iso_15488_told, Table 4",
        lookup=Column("collets", "collets", "off"),
    ),
    Figure("jaws_runout", "run-out of a bar in the jaws of a scroll chuck", Length("mm"), CHAPTER, value=Range(0.02, 0.05, 0.1)),
]


@result(Length("mm"), "thickest work that a collet holds", CHAPTER, source="common_practice, table of collets")
def collet_room(collets, taper_diameter, chuck_diameter):
    """Half the taper they are drawn into, or a fifth of the chuck in whose place they stand; nothing without collets."""
    row = table("collets")[collets]
    return row["share"] * (taper_diameter if row["of"] == "taper" else chuck_diameter)


@result(Length("mm"), "thickest bar that passes with a collet drawn home", CHAPTER, source="definition")
def collet_bar(collets, collet_room, bar_room):
    """What collet, bore and nose let through; nothing where a drawbar fills the bore."""
    return np.minimum(collet_room, bar_room) if table("collets")[collets]["bar"] == "yes" else 0.0 * collet_room


def held_in_collets(jobs, collet_room, collet_bar) -> np.ndarray:
    """Which jobs a collet holds, with jobs as the last axis: round work of the chuck that is no thicker, and whose bar passes if it must."""
    in_chuck = np.array([job.holding in (CHUCK, CHUCK_AND_CENTRE) for job in jobs], bool) & ~jobs.discs & ~jobs.wood
    thick, bar = jobs.column("diameter"), jobs.column("bar")
    return in_chuck & (thick <= beside(collet_room) + 1e-9) & (bar <= beside(collet_bar) + 1e-9)


@result(Count(), "jobs that a collet holds", CHAPTER, source="definition")
def collet_jobs(jobs, collet_room, collet_bar):
    """Of the list."""
    return held_in_collets(jobs, collet_room, collet_bar).sum(axis=-1) + 0.0


@result(Ratio("%"), "share of the turning hours in collets", CHAPTER, source="definition")
def collet_share(jobs, collet_room, collet_bar):
    """Jobs that a collet holds, by their hours."""
    share = jobs.column("share")
    return (held_in_collets(jobs, collet_room, collet_bar) * share).sum(axis=-1) / share.sum()


@result(Count(), "sets of collets", CHAPTER, source="definition")
def collet_sets(collets):
    """One or none."""
    return float(collets != NONE)


@result(
    Length("mm"),
    "run-out of work in the chuck, held a second time",
    CHAPTER,
    source="definition, errors of unlike direction in squares",
)
def chuck_runout(nose_as_made, jaws_runout):
    """The nose under the chuck, and its jaws."""
    return np.hypot(nose_as_made, jaws_runout)


@result(
    Length("mm"), "run-out of small work, held a second time", CHAPTER, source="definition, errors of unlike direction in squares"
)
def small_runout(collets, taper_as_made, nose_as_made, collet_class, chuck_runout):
    """In a collet: the taper it sits in, or the nose under its chuck, and the collet itself. Without collets, that of the chuck."""
    if collets == NONE:
        return chuck_runout
    return np.hypot(taper_as_made if table("collets")[collets]["of"] == "taper" else nose_as_made, collet_class)


@result(Ratio(), "how many times truer a collet takes small work back than the chuck does", CHAPTER, source="definition")
def collet_gain(chuck_runout, small_runout):
    """A taper or a nose that runs out itself leaves little of it."""
    return chuck_runout / small_runout


RESULTS = [collet_room, collet_bar, collet_jobs, collet_share, collet_sets, chuck_runout, small_runout, collet_gain]

LIMITS = [
    Limit(
        "collets_have_work",
        "there is work for the collets",
        CHAPTER,
        "collet_jobs",
        "at least",
        "collet_sets",
        "Of the jobs on the list {value} can be held in the collets; {limit} at least should be.",
        comfort=0.0,
        source="definition",
        asked="collet_sets",
        unasked="No collets are wished.",
        opened_by="a set of collets",
        clear="The collets have work on the list.",
    ),
    Limit(
        "collets_run_truer",
        "collets take small work back truer than the chuck does",
        CHAPTER,
        "collet_gain",
        "at least",
        2.0,
        "A collet takes small work back {value} times as true as the chuck does; {limit} times is what it is bought for. "
        "What must run truer still is turned at one setting, or between centres.",
        comfort=0.2,
        source=("iso_15488_told, Table 4", "definition, errors of unlike direction in squares"),
        asked="collet_jobs",
        unasked="No work of the list is held in a collet.",
        opened_by="collets, and work on the list that is small enough for them",
        caution="Close no collet on nothing or on a bar of the wrong size: it springs out of shape, or lets the work go at speed. A thin bar that stands out behind "
        "the spindle whips: guide it in a tube.",
    ),
]
