"""How high the spindle should stand for whoever works at it.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

from ..formula import SI, formula
from ..units import Length, Ratio


@formula(
    r"h = r H + b",
    source=("winter, body segment lengths after Drillis and Contini", "common_practice, soles of work shoes"),
    limits="standing upright, upper arm hanging down; people differ by some centimetres, so measure where you can",
    rises_with=("stature", "shoes", "ratio"),
)
def elbow_from_stature(
    stature: Annotated[SI, Length("mm", "H", above=0, valid=(1400, 2100))],
    shoes: Annotated[SI, Length("mm", "b", at_least=0)] = 25.0,
    ratio: Annotated[SI, Ratio("", "r", above=0, below=1)] = 0.630,
) -> Annotated[SI, Length("mm", "h")]:
    """Height of the elbow above the floor, from the height of a person and the soles of their shoes."""
    return ratio * stature + shoes
