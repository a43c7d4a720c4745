"""Chapter 08, the shaking part: when the roughing cut starts to sing."""
import numpy as np

from ...machine import chatter
from ...ranges import Range
from ...units import Angle, Mass, Ratio, Stiffness
from ..parts_of_chain import Figure, Limit, node, result

CHAPTER = "08"
#: below this another way of shaking takes over, so the factor is not let fall further: common practice
_LEAST_FACTOR = 0.05

FIGURES = [
    Figure("damping", "damping ratio", Ratio(), CHAPTER, value=Range(0.02, 0.035, 0.05)),
    Figure("sway_angle", "line along which the machine sways, above level", Angle("deg"), CHAPTER, value=Range(-15, 0, 15)),
    Figure("swaying_share", "share of the machine's mass that sways", Ratio("%"), CHAPTER, value=Range(5, 12, 30)),
    Figure("process_damping", "rubbing of the flank for each width and speed", Stiffness("N/µm"), CHAPTER, "tyler_schmitz, order of size in steel",
           value=Range(0.0, 0.1, 0.3)),
]


@result(Mass("kg"), "mass that sways", CHAPTER, source="common_practice, headstock and carriage move, bed and stand hardly")
def swaying_mass(estimated_mass, swaying_share):
    """What moves when the machine sways at the tool."""
    return estimated_mass * swaying_share


@result(Ratio(), "direction factor of chatter", CHAPTER, source=("tlusty, direction of the sway", "common_practice, a least factor"))
def direction_factor(sway_factor):
    """Share of force and sway that thins the chip; never below a twentieth, for then another way of shaking takes over."""
    return np.clip(sway_factor, _LEAST_FACTOR, 2.0)


_MACHINE = {"stiffness": "machine_stiffness", "cutting_stiffness": "specific_cutting_force"}
RESULTS = [
    node(chatter.sway_direction_factor, CHAPTER, name="sway_factor", label="share of force and sway that acts on the chip"),
    direction_factor, swaying_mass,
    node(chatter.natural_frequency, CHAPTER, name="sway_frequency", label="frequency at which the machine sways", stiffness="machine_stiffness",
         mass="swaying_mass"),
    node(chatter.chatter_free_width, CHAPTER, label="widest chip that stays quiet", **_MACHINE),
    node(chatter.slow_speed_width, CHAPTER, label="widest chip that stays quiet at this cutting speed", frequency="sway_frequency", **_MACHINE),
]

LIMITS = [
    Limit("cut_stays_quiet", "the roughing cut stays quiet", CHAPTER, "chatter_free_width", "at least", "chip_width",
          "A chip up to {value} wide stays quiet; the roughing cut makes {limit}.", comfort=0.3,
          caution="When it sings, stop feeding: chatter loosens work in the chuck and breaks tools."),
]
DECISIONS: list = []
