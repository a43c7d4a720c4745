"""Dividing: what of the error of a ring of holes reaches the work.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

from ..formula import SI, formula
from ..units import Length


@formula(
    r"e_w = e\, \frac{d}{D}",
    source="definition",
    limits="ring and work turn as one about one axis; play of the pin in its hole is not in it",
    rises_with=("error", "diameter"),
    falls_with=("ring",),
)
def carried_error(
    error: Annotated[SI, Length("mm", "e", at_least=0, at_most=100)],
    diameter: Annotated[SI, Length("mm", "d", above=0, at_most=5000)],
    ring: Annotated[SI, Length("mm", "D", above=0, at_most=5000)],
) -> Annotated[SI, Length("mm", "e_w")]:
    """How far a mark on the work is out of its place along its round, where a hole of the dividing ring is out along the ring."""
    return error * diameter / ring
