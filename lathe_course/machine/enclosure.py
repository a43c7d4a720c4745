"""The box of a controller: how warm it grows inside.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

from ..formula import SI, formula
from ..units import Area, Kind, Power, TemperatureRise


def HeatPassed(symbol: str = "") -> Kind:
    """Heat that a wall passes for each square metre and degree."""
    return Kind("heat passed by a wall", "W/(m²·K)", symbol, example="5 W/(m²·K)", above=0)


@formula(
    r"\Delta T = \frac{P}{k A}",
    source=("incropera, overall heat transfer", "definition"),
    limits="still air in and round a closed box; A without the side on a wall, and without what hangs full of dust; "
    "warmest at the top, where it is a few degrees more",
    rises_with=("heat",),
    falls_with=("surface", "heat_passed"),
)
def box_rise(
    heat: Annotated[SI, Power("W", "P", at_least=0)],
    surface: Annotated[SI, Area("m²", "A", above=0)],
    heat_passed: Annotated[SI, HeatPassed("k")],
) -> Annotated[SI, TemperatureRise("K", r"\Delta T")]:
    """How much warmer than the room it grows inside a closed box, once it has been on for an hour or two."""
    return heat / (heat_passed * surface)
