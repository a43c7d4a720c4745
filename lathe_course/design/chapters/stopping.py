"""Chapter 05, third part: what stops the lathe in an emergency, whether it starts by itself, and what keeps hands from the chuck."""

import numpy as np

from ...machine import motors, stopping
from ...ranges import Range
from ...units import Count, Length, Speed, Torque
from ..chain.entries import Decision, Figure, Limit, node, result

CHAPTER = "05"
#: what starts and stops the motor, from the least to the most
STOPS = PLAIN, NO_VOLT, CUT_OFF, BRAKED = (
    "plain switch",
    "no-volt release",
    "emergency stop that cuts the mains",
    "emergency stop that brakes first",
)
GUARDS = UNWATCHED, WATCHED, LOCKED = ("shield without a switch", "shield with a switch", "shield locked until it stands")

DECISIONS = [
    Decision(
        "stop_gear", "kind of stop", "What stops the lathe, and keeps it off when the mains come back?", CHAPTER, options=STOPS
    ),
    Decision(
        "chuck_guard",
        "shield of the chuck",
        "What does the shield of the chuck do when somebody opens it?",
        CHAPTER,
        options=GUARDS,
    ),
]

FIGURES = [
    Figure(
        "hand_speed",
        "speed at which a hand comes",
        Speed("m/s"),
        CHAPTER,
        "iso_13855, interlocking guards without locking",
        value=1.6,
    ),
    Figure("shield_room", "way from the edge of the open shield to the chuck", Length("mm"), CHAPTER, value=Range(80, 150, 250)),
]


@result(Count(), "ways in which it starts by itself when the mains come back", CHAPTER)
def self_starts(stop_gear):
    """One with a plain switch that was left on; a no-volt release falls off with the mains and must be pressed anew."""
    return 1.0 if stop_gear == PLAIN else 0.0


@result(Count(), "stops that are missing within reach of knee or hip", CHAPTER, source="iso_13850, emergency stop")
def stops_missing(stop_gear):
    """One where there is no button that latches and can be struck without a look."""
    return 0.0 if stop_gear in (CUT_OFF, BRAKED) else 1.0


@result(Torque("N·m"), "torque that stops the spindle in an emergency", CHAPTER, source="iec_60204, stop categories")
def emergency_torque(plate_torque, top_reduction, brake_ratio, idle_share, drive_efficiency, stop_gear):
    """Where the mains are cut at once friction alone is left; a stop that brakes first lets the drive brake, and cuts then."""
    return plate_torque * top_reduction * ((brake_ratio if stop_gear == BRAKED else 0.0) + idle_share * (1 - drive_efficiency))


@result(
    Length("mm"), "way of a hand while the chuck still turns", CHAPTER, source="iso_13855, interlocking guards without locking"
)
def hand_reach(hand_way, chuck_guard):
    """From opening the shield; without end where its opening stops nothing, none where it is locked until the chuck stands."""
    return {UNWATCHED: np.inf, WATCHED: 1.0, LOCKED: 0.0}[chuck_guard] * hand_way


RESULTS = [
    self_starts,
    stops_missing,
    emergency_torque,
    node(
        motors.stopping_time,
        CHAPTER,
        name="emergency_time",
        label="time to rest after the emergency stop",
        inertia="turning_inertia",
        speed="drive_fastest",
        torque="emergency_torque",
    ),
    node(
        stopping.reach_while_stopping,
        CHAPTER,
        name="hand_way",
        label="way of a hand in the time the chuck takes to rest",
        stop="emergency_time",
    ),
    hand_reach,
]

LIMITS = [
    Limit(
        "stays_off",
        "stays off when the mains come back",
        CHAPTER,
        "self_starts",
        "at most",
        0.0,
        "Ways in which the spindle starts by itself when the mains come back: {value}, and {limit} is the most. A no-volt release falls off with the mains.",
        comfort=0.0,
        clear="After a power cut it stays off until somebody presses start.",
        source="iec_60204, unexpected start",
        caution="A controller may start by itself all the same, if its start command is still given: try it by drawing the plug, with the chuck empty and hands away.",
    ),
    Limit(
        "stop_within_reach",
        "an emergency stop within reach",
        CHAPTER,
        "stops_missing",
        "at most",
        0.0,
        "Emergency stops missing: {value}, and {limit} is the most. A hand that is caught cannot look for a switch.",
        comfort=0.0,
        clear="A button that latches can be struck by hand, hip or knee without a look.",
        source="iso_13850, emergency stop",
        caution="Put it where nobody leans over the chuck to reach it, and try it every month. How it is wired is for a licensed electrician and the local code.",
    ),
    Limit(
        "emergency_stop_soon",
        "the emergency stop is soon enough",
        CHAPTER,
        "emergency_time",
        "at most",
        "longest_stop",
        "After the emergency stop it turns on for {value} from top speed; {limit} is the bound that is usual for machines one stands at.",
        comfort=0.25,
    ),
    Limit(
        "hand_kept_out",
        "no hand reaches the turning chuck",
        CHAPTER,
        "hand_reach",
        "at most",
        "shield_room",
        "Between opening the shield and the chuck at rest a hand comes {value} far; from the edge of the shield to the chuck it is {limit}.",
        comfort=0.3,
        clear="The shield stays locked until the chuck stands.",
        never="Opening the shield stops nothing: only the habit of stopping first keeps a hand from the chuck.",
        source="iso_13855, interlocking guards without locking",
        caution="A switch alone stops no chuck in time: stop, wait until it stands, then open. Never leave the key in the chuck, and tie no switch down.",
    ),
]
