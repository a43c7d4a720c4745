"""Chapter 05: the belt itself: how far it lies round its pulleys, what it grips and pulls, and what it bends round.

Which belt it is and its pulleys are decided in ``drive``, for the speeds hang on them.
"""

import numpy as np

from ...machine import belts, drive
from ...units import Angle, Force, Length, MassPerLength, Ratio, Speed
from ..chain.entries import Column, Decision, Figure, Limit, node, result
from .drive import CHAPTER

DECISIONS = [
    Decision(
        "belt_tension",
        "tension of the belt",
        "How hard is each strand of the belt pulled at rest?",
        CHAPTER,
        Force("N", at_least=0),
        10,
        600,
        5,
    )
]

FIGURES = [
    Figure(
        "belt_friction",
        "friction of the belt",
        Ratio(),
        CHAPTER,
        ("hamrock", "v_belt_tests", "shigley_belts, flat belts", "common_practice"),
        lookup=Column("belts", "belt_kind", "friction"),
    ),
    Figure(
        "groove_angle",
        "angle of the groove",
        Angle("deg"),
        CHAPTER,
        "common_practice, table of belts",
        lookup=Column("belts", "belt_kind", "groove"),
    ),
    Figure(
        "belt_mass",
        "mass of the belt for its length",
        MassPerLength(),
        CHAPTER,
        "common_practice, table of belts",
        lookup=Column("belts", "belt_kind", "mass"),
    ),
    Figure(
        "belt_smallest",
        "smallest pulley the belt bends round",
        Length("mm"),
        CHAPTER,
        "common_practice, table of belts",
        lookup=Column("belts", "belt_kind", "smallest_pulley"),
    ),
    Figure(
        "belt_fastest",
        "fastest the belt may run",
        Speed("m/s"),
        CHAPTER,
        ("shigley_belts, V-belts", "common_practice"),
        lookup=Column("belts", "belt_kind", "fastest"),
    ),
]


@result(None, "the belt on each step", CHAPTER, source="shigley_belts")
def belt_on_steps(
    belt_pulleys, belt_centres, belt_tension, countershaft_ratio, motor_power, motor_speed, belt_mass, effective_friction
):
    """Wrap, speed and pull of the belt on each step with the motor at full torque, and which step is nearest to slipping."""
    one, other = belt_pulleys["driving"], belt_pulleys["driven"]
    wrap = belts.wrap_angle.si(np.fmax(one, other), np.fmin(one, other), drive.beside(belt_centres))
    shaft = drive.beside(motor_speed / countershaft_ratio)
    speed = belts.belt_speed.si(shaft, one)
    pull = drive.beside(motor_power) / speed
    grip = belts.belt_grip.si(
        drive.beside(belt_tension),
        belts.centrifugal_tension.si(drive.beside(belt_mass), speed),
        drive.beside(effective_friction),
        wrap,
    )
    reserve = grip / pull
    worst = np.argmin(np.where(np.isnan(reserve), np.inf, reserve), axis=-1)
    return {"wrap": wrap, "speed": speed, "pull": pull, "grip": grip, "worst": worst}


def _worst(name, belt_on_steps):
    worst = belt_on_steps["worst"]
    of_steps = np.broadcast_to(belt_on_steps[name], (*np.shape(worst), drive.STEPS))
    return np.take_along_axis(of_steps, drive.beside(worst), axis=-1)[..., 0]


@result(Angle("deg"), "wrap on the step nearest to slipping", CHAPTER)
def worst_wrap(belt_on_steps):
    """How far the belt lies round the smaller pulley there."""
    return _worst("wrap", belt_on_steps)


@result(Speed("m/s"), "belt speed on the step nearest to slipping", CHAPTER)
def worst_belt_speed(belt_on_steps):
    """How fast the belt runs there with the motor at the speed on its plate."""
    return _worst("speed", belt_on_steps)


@result(Force("N"), "pull of the motor on the belt", CHAPTER)
def worst_pull(belt_on_steps):
    """What the motor pulls with at the rim of that pulley at full torque."""
    return _worst("pull", belt_on_steps)


@result(Angle("deg"), "least wrap of the belt", CHAPTER)
def least_wrap(belt_on_steps):
    """The smallest angle over which the belt lies on any pulley."""
    return np.fmin.reduce(belt_on_steps["wrap"], axis=-1)


@result(Angle("deg"), "most wrap of the belt on a smaller pulley", CHAPTER)
def most_wrap(belt_on_steps):
    """On the step whose pulleys are most alike: there the belt pulls the shafts hardest."""
    return np.fmax.reduce(belt_on_steps["wrap"], axis=-1)


@result(Speed("m/s"), "fastest belt speed", CHAPTER)
def top_belt_speed(belt_on_steps, motor_high):
    """On the largest driving pulley, with the motor at its fastest."""
    return np.fmax.reduce(belt_on_steps["speed"], axis=-1) * motor_high


@result(Length("mm"), "how much shorter the usual rule makes the belt", CHAPTER, source="machinerys_handbook, length of belts")
def belt_rule_short(belt_length, driven_pulley_1, driving_pulley_1, belt_centres):
    """The belt as it lies, less the usual rule without angles."""
    return belt_length - belts.usual_belt_length.si(driven_pulley_1, driving_pulley_1, belt_centres)


@result(Length("mm"), "smallest pulley in use", CHAPTER)
def smallest_pulley(belt_pulleys):
    """Driving or driven, on any step."""
    return np.fmin(np.fmin.reduce(belt_pulleys["driving"], axis=-1), np.fmin.reduce(belt_pulleys["driven"], axis=-1))


@result(Length("mm"), "free strand of the belt on step 1", CHAPTER)
def belt_strand(belt_centres, driving_pulley_1, driven_pulley_1):
    """Straight length between the two pulleys, where a finger or a spring balance presses."""
    return np.sqrt(np.maximum(belt_centres**2 - ((driven_pulley_1 - driving_pulley_1) / 2) ** 2, 0.0))


RESULTS = [
    node(
        belts.groove_friction,
        CHAPTER,
        name="effective_friction",
        label="friction that counts in the groove",
        friction="belt_friction",
    ),
    belt_on_steps,
    worst_wrap,
    worst_belt_speed,
    worst_pull,
    node(
        belts.centrifugal_tension,
        CHAPTER,
        label="belt tension lost to centrifugal force",
        mass_per_length="belt_mass",
        belt_speed="worst_belt_speed",
    ),
    node(
        belts.belt_grip,
        CHAPTER,
        label="pull the belt can take",
        tension="belt_tension",
        groove_friction="effective_friction",
        wrap="worst_wrap",
    ),
    least_wrap,
    most_wrap,
    top_belt_speed,
    smallest_pulley,
    belt_strand,
    belt_rule_short,
    node(
        belts.belt_shaft_pull,
        CHAPTER,
        name="belt_pull",
        label="pull of the belt on the spindle",
        tension="belt_tension",
        wrap="most_wrap",
    ),
    node(
        belts.belt_deflection,
        CHAPTER,
        name="belt_give",
        label="deflection of the belt under 10 N",
        fixed={"push": 10.0},
        strand="belt_strand",
        tension="belt_tension",
    ),
]

LIMITS = [
    Limit(
        "belt_lies_round",
        "the belt wraps far enough round its pulleys",
        CHAPTER,
        "least_wrap",
        "at least",
        120.0,
        "The belt lies round the smaller pulley by {value}; below {limit} it slips early.",
        comfort=0.1,
    ),
    Limit(
        "belt_holds",
        "the belt does not slip",
        CHAPTER,
        "belt_grip",
        "at least",
        "worst_pull",
        "The belt takes {value} before it slips; the motor pulls with {limit}.",
        comfort=0.3,
        caution="Change and tighten belts with the mains plug drawn. Fingers go where the belt runs on to the pulley: cover it.",
    ),
    Limit(
        "belt_bends",
        "pulleys large enough for the belt",
        CHAPTER,
        "smallest_pulley",
        "at least",
        "belt_smallest",
        "The smallest pulley is {value}; this belt bends round {limit}.",
        comfort=0.0,
    ),
    Limit(
        "belt_slow_enough",
        "the belt runs slowly enough",
        CHAPTER,
        "top_belt_speed",
        "at most",
        "belt_fastest",
        "The belt runs at up to {value}; its kind bears {limit}.",
        comfort=0.2,
    ),
]
