"""Wear: what sliding takes off two faces that are pressed together, and how far a nut slides on its screw.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula
from ..units import Length, Pitch, Ratio, Stress


@formula(
    r"w = \frac{K p s}{H}",
    source="archard, volume worn by sliding",
    limits="run in, and worn evenly; the coefficient is known to a power of ten, and grit in the oil lifts it by another",
    rises_with=("wear_coefficient", "pressure", "sliding"),
    falls_with=("hardness",),
)
def worn_depth(
    wear_coefficient: Annotated[SI, Ratio("", "K", at_least=0, at_most=1)],
    pressure: Annotated[SI, Stress("N/mm²", "p", at_least=0)],
    sliding: Annotated[SI, Length("m", "s", at_least=0)],
    hardness: Annotated[SI, Stress("N/mm²", "H", above=0)],
) -> Annotated[SI, Length("mm", "w")]:
    """Depth that sliding takes off the softer of two faces."""
    return wear_coefficient * pressure * sliding / hardness


@formula(
    r"s = T\, \frac{\sqrt{(\pi d_2)^2 + l^2}}{l}",
    source="geometry_in_space, one turn of a helix laid flat",
    limits="at the middle of the flanks",
    rises_with=("travel", "pitch_diameter"),
    falls_with=("lead",),
)
def thread_sliding(
    travel: Annotated[SI, Length("m", "T", at_least=0)],
    lead: Annotated[SI, Pitch("mm", "l", above=0)],
    pitch_diameter: Annotated[SI, Length("mm", "d_2", above=0)],
) -> Annotated[SI, Length("m", "s")]:
    """How far the flanks of a screw slide in its nut while the nut travels along it."""
    return travel * np.hypot(np.pi * pitch_diameter, lead) / lead
