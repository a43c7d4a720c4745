"""What one asks of a drive beside the design: what a belt grips, where a belt one can buy sets the shafts, how fast a motor's field turns."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from ...machine import belts, motors
from ...ranges import Range
from ...tables import table
from ...units import InputProblem
from ..evaluation import Evaluation

#: turns a second of the usual mains, and poles of the usual motors
_MAINS, _POLES = (50, 60), (2, 4, 6)


def field_speeds() -> Mapping[int, tuple[float, ...]]:
    """By the hertz of the mains, how fast the field of a motor with 2, 4 and 6 poles turns, rad/s."""
    return {hertz: tuple(float(motors.synchronous_speed.si(2 * np.pi * hertz, poles)) for poles in _POLES) for hertz in _MAINS}


def belt_grip(kind: str) -> tuple[Range, Range]:
    """Friction that counts in the groove of a belt, and its tight over its slack strand at half a turn."""
    row = table("belts")[kind]
    friction = Range(*(float(belts.groove_friction.si(end, row["groove"])) for end in row["friction"]))
    return friction, Range(*(float(belts.euler_ratio.si(end, np.pi)) for end in friction))


def centres_for(evaluation: Evaluation, length: float) -> float:
    """How far apart [m] a belt of this length [m] sets the shafts of the first step; InputProblem where it does not go round."""
    e = evaluation.central
    given = {"large_diameter": float(e["driven_pulley_1"]), "small_diameter": float(e["driving_pulley_1"]), "belt_length": length}
    if broken := belts.centre_distance.broken(given):
        raise InputProblem([("belt", sentence) for sentence in broken])
    return float(belts.centre_distance.si(**given))
