"""Heat: how far parts grow.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from ..formula import formula
from ..units import Expansion, Length, TemperatureRise

__all__ = ["thermal_growth"]

Rise = TemperatureRise("K", "T", at_least=0, at_most=1000)
Spread = Expansion("µm/(m·K)", r"\beta", above=0, at_most=1000)


@formula(
    r"u = \beta l T",
    source="shigley, Table 3-3",
    limits="warmed evenly and free to grow; mean expansion near room temperature",
    rises_with=("expansion", "length", "temperature_rise"),
)
def thermal_growth(expansion: Spread, length: Length("mm", "l", at_least=0, at_most=1e5), temperature_rise: Rise) -> Length(
    "µm", "u"
):
    """How much longer or thicker a piece is when it is warmer."""
    return expansion * length * temperature_rise
