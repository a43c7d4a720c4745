"""A tool that a hand holds on a rest: a lever with the edge at its short arm.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

from ..formula import SI, formula
from ..units import Force, Length

Push = Annotated[SI, Force("N", "F", at_least=0)]
Gap = Annotated[SI, Length("mm", "g", at_least=0)]
Handle = Annotated[SI, Length("mm", "L", above=0)]


@formula(
    r"F_h = F\, \frac{g}{L}",
    source="meriam, moments about the edge of the rest",
    limits="at rest, or in a steady cut; a tool that is snatched has the weight of the arm against it as well",
    rises_with=("edge_force", "gap"),
    falls_with=("handle",),
)
def handle_pull(edge_force: Push, gap: Gap, handle: Handle) -> Annotated[SI, Force("N", "F_h")]:
    """What a hand must hold at the handle, so that the edge does not dip."""
    return edge_force * gap / handle


@formula(
    r"R = F\, \frac{L + g}{L}",
    source="meriam, forces on a lever",
    limits="at rest, or in a steady cut; a tool that is snatched has the weight of the arm against it as well",
    rises_with=("edge_force", "gap"),
    falls_with=("handle",),
)
def hand_rest_load(edge_force: Push, gap: Gap, handle: Handle) -> Annotated[SI, Force("N", "R")]:
    """What lies on the rest: the push at the edge, and what the hand adds at the other end."""
    return edge_force * (handle + gap) / handle
