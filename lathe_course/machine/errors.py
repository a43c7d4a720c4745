"""What give leaves on the work: size, shape along it, and roundness.

No ``from __future__ import annotations`` here: the decorator reads the annotations.
"""

from typing import Annotated

import numpy as np

from ..formula import SI, formula
from ..units import Angle, Compliance, Force, Length, Ratio, Stiffness

Push = Annotated[SI, Force("N", "F", at_least=0)]
Give = Annotated[SI, Compliance("µm/kN", "c", at_least=0)]


@formula(
    r"\Delta d = 2 y",
    source="definition",
    limits="deflection along the radius, straight away from the tool",
    rises_with=("deflection",),
)
def diameter_error(deflection: Annotated[SI, Length("µm", "y", at_least=0)]) -> Annotated[SI, Length("µm", r"\Delta d")]:
    """How much too large the diameter turns out when tool and work part by a deflection."""
    return 2 * deflection


@formula(
    r"\Delta d = 2 F c",
    source="definition",
    limits="steady force along the radius, on the last cut",
    rises_with=("force", "compliance"),
)
def size_error(force: Push, compliance: Give) -> Annotated[SI, Length("µm", r"\Delta d")]:
    """How much too large the diameter turns out from the give of the whole chain."""
    return 2 * force * compliance


@formula(
    r"\Delta d = \sqrt{d^2 + 4 z^2} - d",
    source="definition",
    limits="tool above or below the centre by a distance, at the same reading of the dial",
    rises_with=("height",),
    falls_with=("diameter",),
)
def height_error(
    height: Annotated[SI, Length("mm", "z", at_least=0)], diameter: Annotated[SI, Length("mm", "d", above=0)]
) -> Annotated[SI, Length("µm", r"\Delta d")]:
    """How much too large the diameter turns out when the tip stands above or below the centre."""
    twice = 2 * height
    return twice**2 / (np.hypot(diameter, twice) + diameter)  # the difference itself would lose its digits


@formula(
    r"y = h \varphi",
    source="definition",
    limits="small angles; the saddle rolls about the line of the bed's twist",
    rises_with=("arm", "twist_angle"),
)
def roll_error(
    arm: Annotated[SI, Length("mm", "h", above=0)], twist_angle: Annotated[SI, Angle("deg", r"\varphi", at_least=0)]
) -> Annotated[SI, Length("µm", "y")]:
    """How far the tool moves along the radius when the saddle rolls by an angle, as on a twisted bed."""
    return arm * twist_angle


@formula(
    r"c = c_s \cos^2\theta + c_u \sin^2\theta",
    source="shigley, springs at right angles",
    limits="give sideways and upright independent of each other; movement along the push alone",
    rises_with=("sideways", "upright"),
)
def directional_give(
    sideways: Annotated[SI, Compliance("µm/kN", "c_s", at_least=0)],
    upright: Annotated[SI, Compliance("µm/kN", "c_u", at_least=0)],
    angle: Annotated[SI, Angle("deg", r"\theta", at_least=-90, at_most=90)],
) -> Annotated[SI, Compliance("µm/kN", "c")]:
    """Give along a push that is neither sideways nor upright; ``angle`` counts from sideways."""
    return sideways * np.cos(angle) ** 2 + upright * np.sin(angle) ** 2


# --- roundness --------------------------------------------------------------------------------------------
@formula(
    r"s = \frac{F}{a}",
    source="kienzle, force in proportion to the width of the chip",
    limits="straight edge, so that the force grows in step with the depth",
    rises_with=("force",),
    falls_with=("depth",),
)
def force_per_depth(force: Push, depth: Annotated[SI, Length("mm", "a", above=0)]) -> Annotated[SI, Stiffness("N/mm", "s")]:
    """How much the force along the radius grows with each unit of depth."""
    return force / depth


@formula(
    r"\epsilon = \frac{c s}{1 + c s}",
    source=("schmitz_smith, cut with a steady deflection", "koenigsberger_tlusty, copying of the stock's error"),
    limits="slow against the machine's own frequency; no chatter",
    rises_with=("compliance", "force_per_depth"),
)
def copying_factor(
    compliance: Give, force_per_depth: Annotated[SI, Stiffness("N/mm", "s", at_least=0)]
) -> Annotated[SI, Ratio("", r"\epsilon")]:
    """Share of the stock's run-out, or of any step in it, that a pass leaves on the work.

    Where more is to be cut the force is larger, the tool stands further back, and so the work
    comes out with the stock's own shape in small.
    """
    return compliance * force_per_depth / (1 + compliance * force_per_depth)


@formula(
    r"\Delta r = F c q",
    source="definition",
    limits="the part that gives unevenly turns with the work; steady force",
    rises_with=("force", "compliance", "unevenness"),
)
def uneven_give_error(
    force: Push, compliance: Give, unevenness: Annotated[SI, Ratio("%", "q", at_least=0, at_most=200)]
) -> Annotated[SI, Length("µm", r"\Delta r")]:
    """Difference of radius round the work where what holds it gives more one way than another.

    ``unevenness`` is the softest give less the stiffest, over their mean.  Only what turns
    with the work counts: a machine softer sideways than upright still turns round.
    """
    return force * compliance * unevenness
