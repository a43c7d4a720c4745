"""Chapter 02: how big, how fine; what lathes of the size were said to take, and what a used one would."""

import numpy as np

from ...planning import first_estimate as estimate
from ...ranges import Range, as_figure
from ...tables import table
from ...units import LabourTime, Length, Money, Ratio
from ..chain.entries import Decision, Figure, Limit, node, result
from .hand_rest import clears_bed_only

CHAPTER = "02"
TAPERS = tuple(table("tapers"))


def _estimate(figure):
    """Lookup of one figure of what is said of lathes of the size."""
    return lambda said_of_the_size: said_of_the_size[figure]


DECISIONS = [
    Decision(
        "centre_height",
        "centre height",
        "How high are the centres above the slideways?",
        CHAPTER,
        Length("mm", above=0, at_most=400),
        40,
        130,
        5,
    ),
    Decision(
        "between_centres",
        "between centres",
        "How long a piece fits between the centres?",
        CHAPTER,
        Length("mm", above=0, at_most=3000),
        100,
        700,
        25,
    ),
    Decision(
        "slide_height",
        "height of the cross-slide above the slideways",
        "How high above the slideways is the top of the cross-slide, where the work must clear it?",
        CHAPTER,
        Length("mm", above=0),
        10,
        70,
        1,
    ),
    Decision(
        "spindle_bore",
        "spindle bore",
        "How thick a bar shall pass through the spindle?",
        CHAPTER,
        Length("mm", at_least=0),
        0,
        40,
        1,
    ),
    Decision("spindle_taper", "spindle taper", "Which Morse taper in the spindle nose?", CHAPTER, options=TAPERS, movable=False),
    Decision(
        "tailstock_taper", "tailstock taper", "Which Morse taper in the tailstock barrel?", CHAPTER, options=TAPERS, movable=False
    ),
    Decision("left_out", "features left out on purpose", "What is left out, and why?", CHAPTER, free_text=True),
]

FIGURES = [
    Figure("disc_clearance", "room kept round a disc", Length("mm"), CHAPTER, value=3.0),
    Figure("used_price", "price of a used lathe of the size", Money(), CHAPTER, lookup=_estimate("used_price")),
    Figure("used_hours", "hours to bring a used lathe into order", LabourTime(), CHAPTER, lookup=_estimate("used_hours")),
    Figure("hours_kept", "share of promised hours that are kept", Ratio("%"), CHAPTER, value=Range(55, 75.0, 95.0)),
    Figure("talk_loss", "share of hours lost to talk per further person", Ratio("%"), CHAPTER, value=Range(5.0, 10.0, 20.0)),
    Figure("beyond_bed", "machine length beyond the bed, in centre heights", Ratio(), CHAPTER, value=Range(2.5, 3.5, 4.5)),
]


@result(None, "what is said of lathes of the size", CHAPTER, source="common_practice, table of sizes")
def said_of_the_size(centre_height, between_centres):
    """Mass, hours and money of building, price and hours of a used one, from the size alone: an outside look, on which no finding of the build rests."""
    return estimate.first_estimate(centre_height, between_centres)


@result(Length("mm"), "swing over the bed", CHAPTER)
def swing_over_bed(centre_height):
    """The largest diameter that turns over the ways."""
    return 2 * centre_height


@result(Length("mm"), "swing over the cross-slide", CHAPTER)
def swing_over_slide(centre_height, slide_height):
    """The largest diameter that turns over the cross-slide: most work must clear it, not the bed."""
    return np.maximum(2 * (centre_height - slide_height), 0.0)


@result(Length("mm"), "swing the largest disc needs", CHAPTER)
def disc_swing(largest_disc, disc_clearance):
    """The largest disc with room kept all round."""
    return largest_disc + 2 * disc_clearance


@result(Length("mm"), "bore the thickest bar needs", CHAPTER)
def bar_bore(thickest_bar):
    """The thickest bar and a millimetre to let it slide; 0 where no bar must pass."""
    return np.where(thickest_bar > 0, thickest_bar + 1e-3, 0.0)


@result(Ratio("%"), "share of the turning hours whose jobs fit", CHAPTER)
def share_that_fits(jobs, hand_rest, swing_over_slide, swing_over_bed, between_centres, spindle_bore, disc_clearance):
    """The share of the turning hours whose jobs fit this size."""

    def per_job(value):
        return np.asarray(value, float)[..., None]

    diameter = jobs.column("diameter")
    swing = np.where(
        clears_bed_only(jobs, hand_rest), per_job(swing_over_bed) - 2 * per_job(disc_clearance), per_job(swing_over_slide)
    )
    passes = (jobs.column("bar") == 0) | (jobs.column("bar") < per_job(spindle_bore))
    fits = (diameter <= swing + 1e-9) & (jobs.column("length") <= per_job(between_centres) + 1e-9) & passes
    share = jobs.column("share")
    return as_figure((fits * share).sum(axis=-1) / share.sum())


@result(Length("mm"), "length of the whole machine", CHAPTER, source="common_practice, from three typical sizes")
def machine_length(bed_length, centre_height, beyond_bed):
    """The bed, and in proportion to the centre height what stands out over its ends: spindle, drive and its cover, and the wheel of the tailstock."""
    return bed_length + beyond_bed * centre_height


@result(Money(), "cost of buying used, with your hours counted", CHAPTER, source="own_work, money plus hours at their worth")
def used_total(used_price, used_hours, hour_price):
    """Price, and the hours of putting it in order as hours endured."""
    return used_price + used_hours * hour_price


@result(Length("mm"), "large diameter of the spindle taper", CHAPTER)
def taper_diameter(spindle_taper):
    """Diameter of the Morse taper at its gauge line."""
    return table("tapers")[spindle_taper]["large_diameter"]


@result(Length("mm"), "small diameter of the spindle taper", CHAPTER)
def taper_small_diameter(spindle_taper):
    """Diameter of the Morse taper at its small end: a larger bore shortens the seat."""
    return table("tapers")[spindle_taper]["small_diameter"]


RESULTS = [
    said_of_the_size,
    swing_over_bed,
    swing_over_slide,
    disc_swing,
    bar_bore,
    share_that_fits,
    machine_length,
    used_total,
    node(
        estimate.price_of_learning,
        CHAPTER,
        label="what an hour of building experience costs",
        build_money="charged_total",
        build_hours="own_hours",
    ),
    taper_diameter,
    taper_small_diameter,
]

LIMITS = [
    Limit(
        "shaft_clears_slide",
        "the largest shaft clears the cross-slide",
        CHAPTER,
        "swing_over_slide",
        "at least",
        "largest_shaft",
        "{value} turns over the cross-slide; the largest shaft on the list is {limit}.",
        comfort=0.1,
        unasked="No piece on the list is long enough to reach over the cross-slide.",
        opened_by="a long piece on the list of jobs",
    ),
    Limit(
        "disc_clears_bed",
        "the largest disc clears the bed",
        CHAPTER,
        "swing_over_bed",
        "at least",
        "disc_swing",
        "{value} turns over the bed; the largest disc needs {limit}.",
        comfort=0.05,
    ),
    Limit(
        "length_suffices",
        "the longest job fits between the centres",
        CHAPTER,
        "between_centres",
        "at least",
        "longest_job",
        "{value} fits between the centres; the longest job is {limit}.",
        comfort=0.05,
    ),
    Limit(
        "bar_passes",
        "the thickest bar passes through the spindle",
        CHAPTER,
        "bar_room",
        "at least",
        "bar_bore",
        "Nose and bore let {value} through; the thickest bar needs {limit}.",
        comfort=0.0,
        unasked="No bar on the list must pass through the spindle.",
        opened_by="a bar on the list that must pass",
        caution="A bar that sticks out behind the spindle whips: support it in a tube, and stay within its length.",
    ),
    Limit(
        "bore_spares_taper",
        "the bore leaves the spindle taper whole",
        CHAPTER,
        "spindle_bore",
        "at most",
        "taper_small_diameter",
        "The bore is {value}; the small end of the spindle taper is {limit}.",
        comfort=0.0,
        source="iso_296, small end of the taper",
    ),
    Limit(
        "length_is_there",
        "the place is long enough",
        CHAPTER,
        "machine_length",
        "at most",
        "space_length",
        "It will be about {value} long; {limit} is free.",
        comfort=0.1,
    ),
]
