"""Chapter 17: is it true, and what is to be corrected."""

import functools

import numpy as np

from ...machine import alignment, holding
from ...tables import table
from ...units import Duration, Length, Ratio, RotationalSpeed, TemperatureRise
from ..chain.entries import Decision, Figure, node, result
from ..chain.readings import Field, Sheet
from ..measured.acceptance import CLASSES, LEAST, LEAST_LEVEL, TESTS, reach, wish, works
from ..measured.readings_judged import WHEN

CHAPTER = "17"

SHEETS = [
    Sheet(
        "alignment",
        "the test sheet",
        {
            "test": Field("which test", options=tuple(TESTS)),
            "when": Field("before or after you corrected it", options=WHEN),
            "readings": Field("the readings of one go with their units, parted by semicolons"),
            "over": Field("length the readings are apart; left out, that of the limit", Length("mm", above=0), optional=True),
            "remark": Field("anything odd", optional=True),
        },
        "One row is one go at one test; make three and the odd one shows. Plus is up, or towards the tool; "
        "an indicator whose plunger is pressed in reads plus. How each test is read stands in the order of tests above.",
    ),
    Sheet(
        "run_in",
        "run-in of the spindle",
        {
            "speed": Field("speed of the spindle", RotationalSpeed("rpm", above=0)),
            "time": Field("since this speed began", Duration("min", at_least=0)),
            "rise": Field("housing above the room", TemperatureRise("K")),
            "remark": Field("noise, smell, grease that comes out", optional=True),
        },
        "Feel of a hand is not enough: a cheap thermometer on the housing of the front bearing, every ten minutes.",
    ),
]

DECISIONS = [
    Decision(
        "acceptance_class",
        "class of the alignment tests",
        "By which class of limits will you test the finished lathe?",
        CHAPTER,
        options=CLASSES,
    )
]

#: over which the limits of the axis hold, in mm
_BAR = 150.0

FIGURES = [
    Figure(
        "axis_class_limit",
        "limit of the class for the axis sideways",
        Length("µm"),
        CHAPTER,
        "common_practice, table of tests",
        lookup=lambda acceptance_class: table("acceptance")["axis sideways"][acceptance_class],
    ),
    Figure(
        "tailstock_class_limit",
        "limit of the class for a bar between centres, in 100 mm",
        Length("µm"),
        CHAPTER,
        "common_practice, table of tests",
        lookup=lambda acceptance_class: table("acceptance")["bar between centres"][acceptance_class],
    ),
]


def _tightest(test, work_list, error_share, measured, lever, foot_spacing, twist_unevenness, least, otherwise):
    """What the work that asks most allows of a test, never closer than ``least``; ``otherwise`` where none feels it."""
    asked = [
        wish(test, work, test.copies * felt, error_share, measured, lever)
        for work in work_list
        if np.max(felt := reach(test, work, foot_spacing, twist_unevenness)) > 0
    ]
    return np.maximum(functools.reduce(np.minimum, asked), least) if asked else otherwise


@result(
    Length("µm"),
    "limit that your work sets for the axis",
    CHAPTER,
    source=("definition", "common_practice, share of the tolerance left to the machine"),
)
def axis_work_limit(tolerance, work_length, work_support, jobs, error_share, axis_class_limit):
    """Over 150 mm, by the piece that asks most: all of the axis' swing in the chuck, a fifth with a centre, none between centres.

    Where every piece turns between centres the class alone sets it.
    """
    return _tightest(
        TESTS["axis sideways"],
        works(tolerance, work_length, work_support, jobs),
        error_share,
        _BAR * 1e-3,
        1.0,
        1.0,
        0.0,
        LEAST,
        axis_class_limit,
    )


@result(Ratio(), "share of the spindle axis' error that shows on the slimmest work", CHAPTER, source="shigley, Table A-9")
def axis_reach(work_support):
    """All in the chuck, a fifth with a centre, none between centres."""
    return holding.side_reach(work_support)


@result(Length("µm"), "taper from a tailstock at the limit of its class", CHAPTER)
def offset_taper(work_support, work_length, tailstock_class_limit):
    """Along the slimmest work, as the bar between centres shows it in 100 mm; nothing where no centre holds it."""
    return holding.offset_reach(work_support) * tailstock_class_limit * work_length / TESTS["bar between centres"].over


@result(Length("µm"), "taper that alignments at the limit of their class turn into your slimmest work", CHAPTER)
def taper_at_class_limit(axis_taper, offset_taper):
    """Axis and tailstock, each at its limit and both the same way, as far as the holding lets them through."""
    return axis_taper + offset_taper


@result(alignment.level_taper.inputs["level_difference"], "twist of the bed that your work allows", CHAPTER, source="definition")
def level_work_limit(
    tolerance,
    error_share,
    between_centres,
    work_length,
    work_support,
    jobs,
    twist_lever,
    foot_spacing,
    twist_unevenness,
    acceptance_class,
):
    """Difference of level between both centres that takes the machine's share of the tolerance, on the piece that feels it most."""
    test = TESTS["level across"]
    return _tightest(
        test,
        works(tolerance, work_length, work_support, jobs),
        error_share,
        between_centres,
        twist_lever,
        foot_spacing,
        twist_unevenness,
        LEAST_LEVEL,
        test.limits[acceptance_class] / test.over,
    )


@result(Length("µm"), "lift of a foot that takes the allowed twist of the bed away", CHAPTER)
def finest_lift(feet, level_work_limit, bed_width, foot_spacing, between_centres):
    """Nothing on three feet: they cannot twist the bed, nor straighten it."""
    return alignment.foot_lift.si(level_work_limit, bed_width, foot_spacing, between_centres) * (feet != "three feet")


RESULTS = [
    axis_work_limit,
    axis_reach,
    node(
        alignment.taper_from_axis,
        CHAPTER,
        name="axis_taper",
        label="taper from an axis at the limit of its class",
        fixed={"measured_length": _BAR},
        axis_error="axis_class_limit",
        work_length="work_length",
        reach_of_error="axis_reach",
    ),
    offset_taper,
    taper_at_class_limit,
    node(
        alignment.shim_thickness,
        CHAPTER,
        name="finest_shim",
        label="shim that corrects an axis error just beyond the limit of your work",
        fixed={"measured_length": _BAR},
        axis_error="axis_work_limit",
        fixing_spacing="fixing_spacing",
    ),
    level_work_limit,
    finest_lift,
]
