"""Chapter 06, third part: the chuck, its grip, and how fast it may turn."""

import numpy as np

from ...machine import cutting_speeds, workholding
from ...ranges import Range
from ...tables import table
from ...units import Count, Density, Force, Length, Mass, Ratio, RotationalSpeed, Stress
from ..chain.entries import Decision, Figure, Limit, node, result

CHAPTER = "06"
#: chuck for which grip and mass of the jaws are told
_CHUCK_OF = 0.1

DECISIONS = [
    Decision(
        "chuck_diameter",
        "diameter of the chuck",
        "How large is the largest chuck it will carry?",
        CHAPTER,
        Length("mm", above=0, at_most=1000),
        40,
        200,
        5,
        preferred=(50, 65, 80, 100, 125, 160, 200),
    ),
    Decision(
        "chuck_top_speed",
        "top speed stamped on the chuck",
        "What top speed is stamped on the chuck, or told by its maker?",
        CHAPTER,
        RotationalSpeed("rpm", above=0),
        800,
        6000,
        100,
        movable=False,
    ),
    Decision(
        "chuck_jaws", "number of chuck jaws", "How many jaws has it?", CHAPTER, Count("", above=0, at_most=6, whole=True), 2, 6, 1
    ),
]

FIGURES = [
    Figure("chuck_length_ratio", "length of the chuck over its diameter", Ratio(), CHAPTER, value=Range(0.5, 0.6, 0.75)),
    Figure("chuck_fill", "share of the chuck that is metal", Ratio("%"), CHAPTER, value=Range(65, 75, 85)),
    Figure("jaw_mass_reference", "mass of one jaw of a 100 mm chuck", Mass(), CHAPTER, value=Range(0.10, 0.15, 0.25)),
    Figure(
        "jaw_radius_ratio", "middle of a jaw's mass over the chuck's diameter", Ratio(), CHAPTER, value=Range(0.25, 0.32, 0.40)
    ),
    Figure("grip_reference", "grip of a 100 mm chuck, key pulled by hand", Force("N"), CHAPTER, value=Range(4000, 8000, 15000)),
    Figure("jaw_friction", "friction between jaws and work", Ratio(), CHAPTER, value=Range(0.10, 0.15, 0.25)),
    Figure("held_share", "diameter held over diameter turned", Ratio("%"), CHAPTER, value=Range(40, 70, 100)),
    Figure(
        "iron_density",
        "density of grey cast iron",
        Density(),
        CHAPTER,
        "shigley, Table A-5",
        lookup=lambda: table("materials")["grey cast iron"]["density"],
    ),
]


@result(Length("mm"), "length of the chuck", CHAPTER, source="common_practice, proportions of small chucks")
def chuck_length(chuck_diameter, chuck_length_ratio):
    """From the nose to the face of the chuck."""
    return chuck_diameter * chuck_length_ratio


@result(Length("mm"), "from the nose to the front of the jaws", CHAPTER, source="common_practice, proportions of small chucks")
def jaws_front(chuck_length, chuck_diameter):
    """Jaws stand out from the face of the chuck by an eighth of its diameter or so."""
    return chuck_length + 0.12 * chuck_diameter


@result(Mass("kg"), "mass of the chuck", CHAPTER, source="common_practice, proportions of small chucks")
def chuck_mass(chuck_diameter, chuck_length, chuck_fill, chuck_density):
    """A cylinder of its size, less the hollows."""
    return np.pi / 4 * chuck_diameter**2 * chuck_length * chuck_fill * chuck_density


@result(Mass("kg"), "mass of one jaw", CHAPTER, source="common_practice, shape alike at every size")
def jaw_mass(chuck_diameter, jaw_mass_reference):
    """Grown with the cube of the chuck's diameter."""
    return jaw_mass_reference * (chuck_diameter / _CHUCK_OF) ** 3


@result(Length("mm"), "radius of a jaw's mass", CHAPTER)
def jaw_radius(chuck_diameter, jaw_radius_ratio):
    """How far out the middle of a jaw's mass runs."""
    return chuck_diameter * jaw_radius_ratio


@result(Force("N"), "grip of the chuck at rest", CHAPTER, source="common_practice, grown with the square of the chuck's diameter")
def static_grip(chuck_diameter, grip_reference):
    """All jaws together, the key pulled as hard as a hand pulls."""
    return grip_reference * (chuck_diameter / _CHUCK_OF) ** 2


@result(Ratio("%"), "share of the grip left at top speed", CHAPTER)
def grip_left(grip_at_speed, static_grip):
    """What turning leaves of the grip the key put on."""
    return grip_at_speed / static_grip


@result(Length("mm"), "diameter the work is held by", CHAPTER, source="common_practice, held over turned")
def held_diameter(torque_diameter, held_share):
    """The work that asks most torque is often held by a smaller part of it."""
    return torque_diameter * held_share


@result(Ratio(), "torque of the grip over torque of the cut", CHAPTER)
def grip_reserve(grip_torque, torque_needed):
    """How many times the torque of the roughing cut the jaws hold at top speed."""
    return np.where(torque_needed > 0, grip_torque / np.maximum(torque_needed, 1e-12), 99.0)[()]


#: Poisson's ratio of grey cast iron, shigley, Table A-5
_IRON_POISSON = 0.21


@result(Stress("N/mm²"), "stress in a grey iron faceplate of the chuck's size", CHAPTER, source="shigley, rotating rings")
def faceplate_stress(iron_density, chuck_diameter, spindle_diameter, fastest_speed):
    """As large as the chuck, bored for the spindle, at the top speed."""
    return workholding.disc_bore_stress.si(
        iron_density, _IRON_POISSON, chuck_diameter, np.minimum(spindle_diameter, 0.9 * chuck_diameter), fastest_speed
    )


RESULTS = [
    chuck_length,
    jaws_front,
    chuck_mass,
    jaw_mass,
    jaw_radius,
    static_grip,
    node(
        workholding.grip_at_speed,
        CHAPTER,
        label="grip of the chuck at top speed",
        jaw_count="chuck_jaws",
        spindle_speed="fastest_speed",
    ),
    node(
        workholding.jaw_force_loss,
        CHAPTER,
        name="jaw_loss",
        label="grip that one jaw loses at top speed",
        spindle_speed="fastest_speed",
    ),
    faceplate_stress,
    grip_left,
    held_diameter,
    node(workholding.grip_torque, CHAPTER, label="torque at which the work slips", friction="jaw_friction", grip="grip_at_speed"),
    grip_reserve,
    node(
        cutting_speeds.surface_speed,
        CHAPTER,
        name="rim_speed",
        label="rim speed of the chuck",
        spindle_speed="fastest_speed",
        diameter="chuck_diameter",
    ),
    node(
        workholding.rim_stress,
        CHAPTER,
        label="stress in a grey iron rim of the chuck's size",
        density="iron_density",
        diameter="chuck_diameter",
        spindle_speed="fastest_speed",
    ),
]

LIMITS = [
    Limit(
        "chuck_not_overrun",
        "the chuck bears the top speed",
        CHAPTER,
        "fastest_speed",
        "at most",
        "chuck_top_speed",
        "You want {value} at the top; the chuck is stamped for {limit}.",
        comfort=0.0,
        caution="Never run a chuck above its stamp, nor use one without a stamp until its rating is known; no home-cast chuck bodies. "
        "Never leave the key in, and spin by hand first.",
    ),
    Limit(
        "rim_slow_enough",
        "the chuck's rim turns slowly enough",
        CHAPTER,
        "rim_speed",
        "at most",
        1200.0,
        "At top speed the rim of the chuck runs at {value}; grey iron is kept to {limit}.",
        comfort=0.2,
        source="common_practice, 20 m/s for grey iron where handbooks let whole wheels run at 30",
        caution="Stand out of the plane of the chuck when it first runs up.",
    ),
    Limit(
        "grip_survives_speed",
        "the chuck keeps its grip at top speed",
        CHAPTER,
        "grip_left",
        "at least",
        33.3,
        "At top speed {value} of the grip is left; at least {limit} must be.",
        comfort=0.5,
        source="vdi_3106, a third of the grip at rest",
        caution="Long, heavy or thin-walled work wants a centre, a steady or a lower speed, whatever the sum says.",
    ),
    Limit(
        "work_held",
        "the chuck holds the work",
        CHAPTER,
        "grip_reserve",
        "at least",
        2.0,
        "The jaws hold {value} times the torque of the roughing cut; {limit} is asked.",
        comfort=0.5,
        caution="Work that slips climbs out of the jaws. Grip on clean metal, deep in the jaws, and try the key once more.",
    ),
    Limit(
        "cut_beyond_chuck",
        "the cut lies beyond the chuck",
        CHAPTER,
        "cut_reach",
        "at least",
        "chuck_length",
        "The cut is reckoned {value} from the nose; the chuck alone reaches {limit}.",
        comfort=0.0,
        source="definition, length of the chuck",
    ),
]
