"""Heat: how far parts grow.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

from ..formula import SI, formula
from ..units import Expansion, Length, TemperatureRise

Rise = Annotated[SI, TemperatureRise("K", "T", at_least=0, at_most=1000)]
Spread = Annotated[SI, Expansion("µm/(m·K)", r"\beta", above=0, at_most=1000)]


@formula(
    r"u = \beta l T",
    source="shigley, Table 3-3",
    limits="warmed evenly and free to grow; mean expansion near room temperature",
    rises_with=("expansion", "length", "temperature_rise"),
)
def thermal_growth(
    expansion: Spread, length: Annotated[SI, Length("mm", "l", at_least=0, at_most=1e5)], temperature_rise: Rise
) -> Annotated[SI, Length("µm", "u")]:
    """How much longer or thicker a piece is when it is warmer."""
    return expansion * length * temperature_rise
