"""How work is held, and which errors of the machine reach it.

Whatever holds the work settles what its axis is.  In a chuck, or on a faceplate, that is the
spindle's own axis.  Between centres it is the line from centre to centre, whatever the spindle
points at.  In a chuck with a centre the work is held fast at one end and carried at the other:
it takes the direction of the spindle at the chuck and ends where the centre stands.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated, Any

import numpy as np

from ..formula import SI, formula, possible
from ..units import Length, Ratio

CHUCK, CHUCK_AND_CENTRE, CENTRES, FACEPLATE = "chuck alone", "chuck and centre", "between centres", "faceplate"
#: ways to hold work, from the shortest to the longest reach of the holding
HOLDINGS = (CHUCK, CHUCK_AND_CENTRE, CENTRES, FACEPLATE)
#: what is left of a side error at the worst place where a chuck holds one end fast and a centre the other: at 1 - 1/√3 of the length
BOW = 1 / (3 * np.sqrt(3))
#: lengths over the diameter up to which work is proposed for a faceplate, for the chuck alone, and for chuck and centre: common practice
_FLAT, _SHORT, _LONG = 0.25, 4.0, 10.0


def holding_for(length: float, diameter: float) -> str:
    """A proposal by length over diameter: common practice, no source.  A learner may write another."""
    ratio = length / diameter
    return FACEPLATE if ratio < _FLAT else CHUCK if ratio <= _SHORT else CHUCK_AND_CENTRE if ratio <= _LONG else CENTRES


def side_reach(holding: str) -> float:
    """Share of a spindle axis' swing over the length of the work that comes out on it."""
    return {CHUCK: 1.0, FACEPLATE: 1.0, CHUCK_AND_CENTRE: BOW, CENTRES: 0.0}[holding]


def offset_reach(holding: str) -> float:
    """Share of a tailstock's offset that comes out on the work: all of it, at a centre."""
    return 1.0 if holding in (CHUCK_AND_CENTRE, CENTRES) else 0.0


@formula(
    r"y = e \frac{x}{l}\left(1 - \frac{x}{l}\right)\left(1 - \frac{x}{2 l}\right)",
    source="shigley, Table A-9, a beam held at one end and carried at the other",
    limits="round bar of one diameter, chuck and centre rigid; largest, 0.19 of the error, at 0.42 of the length from the chuck",
    rises_with=("error",),
    requires={
        "The position must lie on the work, between 0 and its length.": lambda length, position: position <= length * (1 + 1e-9)
    },
)
def bow_at(
    error: Annotated[SI, Length("µm", "e", at_least=0)],
    position: Annotated[SI, Length("mm", "x", at_least=0)],
    length: Annotated[SI, Length("mm", "l", above=0)],
) -> Annotated[SI, Length("µm", "y")]:
    """How far work in chuck and centre stands off the line of the tool, if the two differ by an error at the far end.

    The chuck points past the centre by the error, or the tail end of a bed twists away by it: the
    centre brings the bar back, and what is left is a bow.
    """
    along = position / length
    return possible(along <= 1 + 1e-9, error * along * (1 - along) * (1 - along / 2))


@formula(
    r"g = (1 - u) \min\left(\frac{s}{l},\, 1\right)",
    source=("definition", "common_practice, a bed never twists quite evenly"),
    limits="feet and work about the same middle; nothing twists beyond the feet",
    rises_with=("foot_spacing",),
    falls_with=("work_length", "unevenness"),
)
def even_share(
    foot_spacing: Annotated[SI, Length("mm", "s", above=0)],
    work_length: Annotated[SI, Length("mm", "l", above=0)],
    unevenness: Annotated[SI, Ratio("%", "u", at_least=0, at_most=100)],
) -> Annotated[SI, Ratio("%", "g")]:
    """Share of the twist along the work that is even: the tailstock rolls with the saddle for so much of it.

    Work longer than the feet stand apart has ends where nothing twists, and between them it twists the more.
    """
    return (1 - unevenness) * np.minimum(foot_spacing / work_length, 1.0)


def twist_reach(holding: str, even: Any) -> Any:
    """Share of a bed's twist along the work that comes out on its diameter; ``even`` is the share of the twist that is even, 0 to 1, arrays broadcast.

    All of it in the chuck; with a centre at the far end a fifth of what is even, as a bow;
    between centres only what is uneven, for an even twist takes the tail centre along with the tool.
    """
    lost = {CHUCK: 0.0, FACEPLATE: 0.0, CHUCK_AND_CENTRE: 1 - BOW, CENTRES: 1.0}[holding]
    return 1 - lost * np.asarray(even)[()]
