"""Stopping in time: how far a hand comes while something still turns.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

from ..formula import SI, formula
from ..units import Duration, Length, Speed


@formula(
    r"S = K\,T",
    source=("iso_13855, interlocking guards without locking", "iso_13855_told, interlocking guards without guard locking"),
    limits="hand or body that comes at walking pace once the guard is open; what fingers reach through an opening is added; T runs from opening the guard to rest",
    rises_with=("hand_speed", "stop"),
)
def reach_while_stopping(
    hand_speed: Annotated[SI, Speed("m/s", "K", at_least=0)], stop: Annotated[SI, Duration("s", "T", at_least=0)]
) -> Annotated[SI, Length("mm", "S")]:
    """How far a hand comes between opening a guard and standstill: nearer than this a guard without a lock may not be."""
    return hand_speed * stop
