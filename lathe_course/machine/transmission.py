"""What belts, gears and bearings between motor and spindle leave of the power.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

from ..formula import SI, formula
from ..units import Count, Ratio


@formula(
    r"\eta = \eta_b^{x}\, \eta_g^{y}\, \eta_s",
    source=("machinerys_handbook, efficiency of a train is the product of its stages", "shigley, belts and gear trains"),
    limits="each stage at about full load; at part load a belt and cold grease take a larger share",
    rises_with=("belt_efficiency", "gear_efficiency", "bearing_efficiency"),
    falls_with=("belt_stages", "gear_pairs"),
)
def stages_efficiency(
    belt_efficiency: Annotated[SI, Ratio("%", r"\eta_b", above=0, at_most=100)],
    belt_stages: Annotated[SI, Count("", "x", at_least=0, at_most=10)],
    gear_efficiency: Annotated[SI, Ratio("%", r"\eta_g", above=0, at_most=100)],
    gear_pairs: Annotated[SI, Count("", "y", at_least=0, at_most=10)],
    bearing_efficiency: Annotated[SI, Ratio("%", r"\eta_s", above=0, at_most=100)],
) -> Annotated[SI, Ratio("%", r"\eta")]:
    """Share of the motor's power that comes through belt stages, pairs of gears and the bearings of the spindle, one behind the other."""
    return belt_efficiency**belt_stages * gear_efficiency**gear_pairs * bearing_efficiency
