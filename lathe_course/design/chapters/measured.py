"""Chapter 08, the measured part: the give read off the machine itself, beside the one worked out, and in its place."""

import functools

import numpy as np

from ...machine.measured import FEWEST, GiveFit, fit_give
from ...ranges import Range
from ...units import Compliance, Count, Force, InputProblem, Length, Ratio
from ..chain.entries import Decision, Figure, Limit, result
from ..chain.readings import Field, Readings, Sheet

CHAPTER = "08"
WORKED_OUT, MEASURED = "worked out", "measured"

SHEETS = [
    Sheet(
        "stiffness",
        "stiffness at the tool",
        {
            "force": Field("what the spring balance shows", Force("N", at_least=0)),
            "dial": Field("what the dial indicator shows", Length("µm")),
            "going": Field("was load being put on or taken off?", options=("loading", "unloading")),
            "remark": Field("anything odd, such as a slip", optional=True),
        },
        "Pull the tool away from a short stout bar in the chuck with a spring balance, level and at centre height. "
        "The dial stands on the toolpost and touches the bar where the hook pulls: on the bed it would read a part of the way the force runs. "
        "Go up in five or more steps and down again, and read at each.",
    )
]

DECISIONS = [
    Decision(
        "give_from",
        "whether the machine's give is worked out or measured",
        "Is the give of the machine worked out from its links, or measured?",
        CHAPTER,
        options=(WORKED_OUT, MEASURED),
    )
]


#: invented for this course, on a machine that nobody built: play at first, friction on the way down, and one slip of the hook
INVENTED = SHEETS[0].read(
    [
        {"force": f"{force} N", "dial": f"{dial} µm", "going": way, **({"remark": "the hook slipped"} if dial == 18 else {})}
        for way, pairs in (
            ("loading", ((0, 0), (20, 9), (40, 12.5), (60, 16.5), (80, 20), (100, 24))),
            ("unloading", ((80, 22.5), (60, 19), (40, 18), (20, 11.5), (0, 7.5))),
        )
        for force, dial in pairs
    ]
)


def fit_of(rows: Readings) -> GiveFit:
    """The give that rows of the sheet tell; InputProblem if they tell none."""
    return fit_give(rows.column("force"), rows.column("dial"), rows.column("going") == "unloading")


def _measured(stiffness_readings) -> Range | float:
    return _range_of(tuple((row["force"], row["dial"], row["going"]) for row in stiffness_readings))


@functools.lru_cache(maxsize=64)
def _range_of(rows: tuple) -> Range | float:
    """The give that rows of force, dial and way tell, 0 if they tell none; the same readings are fitted once."""
    if not rows:
        return 0.0
    force, dial, going = zip(*rows)
    try:
        return fit_give(force, dial, [way == "unloading" for way in going]).range
    except InputProblem:
        return 0.0


FIGURES = [
    Figure(
        "measured_compliance",
        "give measured at the tool (0: not measured)",
        Compliance(at_least=0),
        CHAPTER,
        "own_work, a line fitted to your readings",
        lookup=_measured,
    )
]


@result(
    Compliance(),
    "give of the whole machine at the tool, sideways",
    CHAPTER,
    source=("definition, links in a row add their give", "own_work, a line fitted to your readings"),
)
def machine_compliance(give_from, measured_compliance, predicted_compliance):
    """Worked out from the links; or measured, where you chose that and the readings tell it."""
    if give_from == WORKED_OUT:
        return predicted_compliance
    return np.where(measured_compliance > 0, measured_compliance, predicted_compliance)[()]


@result(Count(), "stiffness readings taken", CHAPTER)
def readings_taken(stiffness_readings, measured_compliance):
    """How many rows tell a give; 0 if together they do not."""
    rows = max(len(stiffness_readings), FEWEST)  # a give that was typed in stands for enough
    return np.where(measured_compliance > 0, float(rows), 0.0)[()]


@result(Count(), "stiffness readings that the design asks for", CHAPTER)
def readings_wanted(give_from):
    """Nothing is asked while the give is worked out."""
    return float(FEWEST) if give_from == MEASURED else 0.0


@result(Ratio(), "measured and worked-out give, the larger over the smaller", CHAPTER)
def apart(measured_compliance, predicted_compliance):
    """How far the sum of the links is from what was measured; 0 if nothing is."""
    ratio = measured_compliance / predicted_compliance
    return np.where(measured_compliance > 0, np.maximum(ratio, 1 / np.maximum(ratio, 1e-12)), 0.0)[()]


@result(Compliance(), "give worked out for the softest side of the machine alone, where one is measured", CHAPTER)
def softest_side(
    measured_compliance,
    spindle_compliance,
    chuck_give,
    headstock_give,
    bed_compliance,
    saddle_give,
    cross_slide_give,
    top_give,
    toolpost_give,
    shank_compliance,
):
    """The side of the headstock, the bed, or all that stands on it, whichever gives most; 0 if nothing is measured."""
    sides = (
        spindle_compliance + chuck_give + headstock_give,
        bed_compliance,
        saddle_give + cross_slide_give + top_give + toolpost_give + shank_compliance,
    )
    return np.where(measured_compliance > 0, functools.reduce(np.maximum, sides), 0.0)[()]


RESULTS = [machine_compliance, readings_taken, readings_wanted, apart, softest_side]

LIMITS = [
    Limit(
        "measured_give_stands",
        "the measured give stands on readings",
        CHAPTER,
        "readings_taken",
        "at least",
        "readings_wanted",
        "Readings that together tell a give: {value}; to go by them takes {limit}, and until then the give is worked out.",
        comfort=0.5,
        unasked="The give of the machine is worked out from its links, of which most are judged.",
        opened_by="readings of the give (chapter 08), and the choice to go by them",
        caution="Clamp the work and keep the spindle still while you pull, motor off at the plug; stand clear of the hook.",
    ),
    Limit(
        "parts_within_measured",
        "no side gives more than the whole as measured",
        CHAPTER,
        "softest_side",
        "at most",
        "measured_compliance",
        "The softest side of the machine alone was worked out to give {value}; the whole machine was measured to give {limit}. A part cannot give more than the whole.",
        comfort=0.2,
        source="definition, links in a row add their give",
        unasked="Nothing is measured yet, so no part can be held against the whole.",
        opened_by="readings of the give (chapter 08)",
        caution="Clamp the work and keep the spindle still while you pull, motor off at the plug; stand clear of the hook.",
    ),
    Limit(
        "prediction_agrees",
        "measured and worked-out give agree",
        CHAPTER,
        "apart",
        "at most",
        2.0,
        "Measured and worked-out give differ by a factor of {value}; past {limit} a link is not what was thought.",
        comfort=0.4,
        unasked="Nothing is measured yet, so the give rests on the table of links.",
        opened_by="readings of the give (chapter 08)",
        caution="Clamp the work and keep the spindle still while you pull, motor off at the plug; stand clear of the hook.",
    ),
]
