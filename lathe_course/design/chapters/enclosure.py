"""Chapter 05, last part: the box of the controller, and what must be asked of an electrician before it is connected."""

from ...machine import enclosure
from ...ranges import Range
from ...tables import table
from ...units import Area, Count, Power, Ratio, TemperatureRise
from ..chain.entries import Decision, Figure, Limit, node, result

CHAPTER = "05"
BARE, CLOSED, APART = BOXES = ("bare beside the lathe", "closed box", "bare behind a wall")
NOT_ASKED, SERVES, ANOTHER = LEAKAGE = ("not asked yet", "the one there serves", "another kind is needed")
#: drives that need no controller
_NONE = "single-phase motor"
_FED = tuple(kind for kind in table("drives") if kind != _NONE)

DECISIONS = [
    Decision(
        "controller_box",
        "box of the controller",
        "What keeps chips and dust off the controller?",
        CHAPTER,
        options=BOXES,
        asked_if=("drive_kind", _FED),
    ),
    Decision(
        "box_surface",
        "surface of the controller's box",
        "How large is the surface by which the box cools, without the side on the wall?",
        CHAPTER,
        Area("m²", above=0),
        0.05,
        1.0,
        0.05,
        asked_if=("controller_box", (CLOSED,)),
    ),
    Decision(
        "leakage_device",
        "earth-leakage device",
        "What did a licensed electrician say about the earth-leakage device before the controller?",
        CHAPTER,
        options=LEAKAGE,
        movable=False,
        asked_if=("drive_kind", _FED),
    ),
]

FIGURES = [
    Figure(
        "controller_loss_share",
        "share of the motor's power that the controller turns to heat",
        Ratio("%"),
        CHAPTER,
        value=Range(3, 5, 9),
    ),
    Figure(
        "heat_passed",
        "heat that the wall of the box passes",
        enclosure.HeatPassed(),
        CHAPTER,
        "incropera, free convection and radiation of a plate",
        value=Range(3.5, 4.7, 6.0),
    ),
    Figure(
        "allowed_box_rise", "rise from a warm room that the controller bears", TemperatureRise(), CHAPTER, value=Range(8, 12, 18)
    ),
]


@result(Power("W"), "heat of the controller in its box", CHAPTER, source="common_practice, loss of small controllers")
def box_heat(motor_power, controller_loss_share, controller_box, drive_kind):
    """At full power; none where it has no box, or where no controller is."""
    return controller_loss_share * motor_power * (controller_box == CLOSED and drive_kind != _NONE)


@result(Count(), "controllers that chips and dust reach", CHAPTER)
def controller_bare(controller_box, drive_kind):
    """One that stands bare where chips fly: they bridge its terminals, and iron dust does so unseen."""
    return float(controller_box == BARE and drive_kind != _NONE)


@result(Count(), "answers of an electrician about the earth-leakage device", CHAPTER)
def leakage_answered(leakage_device, drive_kind):
    """One once it was asked, or where no controller asks for another kind."""
    return float(leakage_device != NOT_ASKED or drive_kind == _NONE)


@result(Count(), "questions to a licensed electrician still open", CHAPTER)
def leakage_questions(leakage_answered):
    """Which kind of earth-leakage device belongs before the controller, until it was asked."""
    return 1.0 - leakage_answered


RESULTS = [
    box_heat,
    node(
        enclosure.box_rise,
        CHAPTER,
        name="controller_rise",
        label="how warm the box of the controller grows above the room",
        heat="box_heat",
        surface="box_surface",
    ),
    controller_bare,
    leakage_answered,
    leakage_questions,
]

LIMITS = [
    Limit(
        "controller_cool",
        "the controller keeps cool in its box",
        CHAPTER,
        "controller_rise",
        "at most",
        "allowed_box_rise",
        "At full power it grows {value} warmer in the box than in the room; from a warm room the controller bears {limit} more. A larger box, or ribs through its wall.",
        comfort=0.3,
        unasked="No controller stands in a closed box.",
        opened_by="a closed box for the controller",
        caution="Wait as long as its sheet tells before the box is opened: it holds a charge after the plug is out. Mains wiring is for a licensed electrician.",
    ),
    Limit(
        "controller_kept_clean",
        "no chips and dust in the controller",
        CHAPTER,
        "controller_bare",
        "at most",
        0.0,
        "Controllers within reach of chips and iron dust: {value}, and {limit} is the most. They bridge terminals, and the first sign may be a flash.",
        comfort=0.0,
        clear="Chips and dust do not reach the controller.",
        caution="Blow out no controller with air while it is connected, and take no vent near the chuck.",
    ),
    Limit(
        "leakage_settled",
        "the earth-leakage device was asked about",
        CHAPTER,
        "leakage_questions",
        "at most",
        0.0,
        "Questions to a licensed electrician still open: {value}, and {limit} is the most.",
        comfort=0.0,
        asked="leakage_answered",
        unasked="A controller can leak currents that the usual earth-leakage device trips on, or does not see. Which kind belongs before yours is a question to a licensed "
        "electrician, by its sheet and the local code, before it is connected.",
        opened_by="the answer of a licensed electrician",
        clear="An electrician has said which earth-leakage device belongs there, or no controller asks for another kind.",
        caution="Never take an earth-leakage device out because it trips.",
    ),
]
