"""What a thread comes to whose pitch a train of wheels misses: its drift in a nut, and the play that uses up."""

from __future__ import annotations

import math
from typing import NamedTuple

from ...machine.threads import diameter_equivalent, external_depth, nut_misfit, play_allowance, whitworth_depth

#: angle between the flanks of metric and unified threads, rad
FLANKS = math.radians(60)


class Misfit(NamedTuple):
    """All in m."""

    drift: float  # over the nut
    used: float  # of the play, on the diameter
    play: float  # of a usual fit
    longest_nut: float  # that the play alone serves


def drift(error: float, length: float) -> float:
    """How far a thread whose pitch is out by a share has run off over a length [m]."""
    return float(nut_misfit.si(abs(error), length))


def turns_lost(error: float, pitch: float, nut: float) -> tuple[float, float]:
    """Turns of a thread in a nut, and how many of them an error of pitch, a share, loses over it."""
    return nut / pitch, drift(error, nut) / pitch


def misfit(error: float, pitch: float, nut: float) -> Misfit:
    """What an error of pitch, a share, comes to in a nut of this length [m]."""
    off, play = drift(error, nut), float(play_allowance.si(pitch))
    return Misfit(off, float(diameter_equivalent.si(off, FLANKS)), play, play / float(diameter_equivalent.si(abs(error), FLANKS)))


def depths_of(pitch: float) -> tuple[float, float]:
    """Depth [m] of an outside thread of 60 and of 55 degrees."""
    return float(external_depth.si(pitch)), float(whitworth_depth.si(pitch))
